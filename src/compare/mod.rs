//! Two editions of a policy: what changed, what it does to people's protection, and who must act.
//!
//! In: two policies, checked. Out: a [`Comparison`], plain data for every face. Must never compare lines of text: steps are
//! matched by what they do, and a rename is one change.
//!
//! [`entries`] and [`lines`] lay a policy out as a [`view`]; [`names`] finds what was renamed, [`matching`] which step is which,
//! [`differences`] what differs; [`weights`] says what that does to protection and by which rule, [`telling`] puts it into a
//! sentence. [`consequences`] sets findings, margins, levels, times and kit of both editions beside one another, [`choosing`]
//! the levels given; [`acting`] says who must act, [`sides`] lays both editions out side by side.

use serde::Serialize;

pub mod acting;
pub mod change;
pub mod choosing;
pub mod consequences;
pub mod differences;
pub mod entries;
pub mod field;
pub mod json;
pub mod likeness;
pub mod lines;
pub mod matching;
pub mod names;
pub mod reasons;
pub mod report;
pub mod sides;
pub mod telling;
pub mod view;
pub mod weights;

pub use acting::Acting;
pub use change::{Change, Weight, What};
pub use consequences::{Consequences, Editions};
pub use sides::Sides;

use crate::overview::Words;
use crate::policy::Policy;
use crate::press::register::Register;
use crate::session::{Checked, Standing, standing};
use change::{Edit, Named, Rename};
use differences::Difference;
use view::{Kind, View};

#[derive(Clone, Debug, Serialize)]
pub struct Comparison {
    pub old: Edition,
    pub new: Edition,
    /// The gravest weight of all that changed, its consequences included; none where nothing did.
    pub weight: Option<Weight>,
    pub headline: String,
    /// How many changes and consequences weaken, strengthen, change practice and are editorial.
    pub counts: Counts,
    pub consequences: Consequences,
    /// What weakens protection first, then by weight, then in the order of the policy.
    pub changes: Vec<Change>,
    /// What the new policy gives reasons for departing at, where nothing departs.
    pub idle_reasons: Vec<String>,
    pub acting: Acting,
    pub sides: Vec<Sides>,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Counts {
    pub weakens: usize,
    pub strengthens: usize,
    pub changes_practice: usize,
    pub editorial: usize,
}

impl Counts {
    /// Each count with the words that follow it: `3`, `weaken protection`.
    pub fn told(&self) -> [(usize, &'static str); 4] {
        let told = [
            (self.weakens, "weakens protection", "weaken protection"),
            (self.strengthens, "strengthens it", "strengthen it"),
            (self.changes_practice, "changes practice", "change practice"),
            (self.editorial, "is editorial", "are editorial"),
        ];
        told.map(|(count, one, many)| (count, if count == 1 { one } else { many }))
    }
}

/// One side of the comparison.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Edition {
    /// As the person named it.
    pub file: String,
    pub title: Option<String>,
    pub site: Option<String>,
    pub edition: Option<u32>,
    pub owner: Option<String>,
    pub approved: Option<String>,
    pub in_force_from: Option<String>,
    pub review_by: Option<String>,
    pub fingerprint: String,
    /// `in force`, `a draft`
    pub standing: &'static str,
}

/// Compares two editions, or a local policy with a reference. `register`, `words`: what is known of copies and translations.
pub fn compare(
    (old_file, old): (&str, &Checked),
    (new_file, new): (&str, &Checked),
    register: Option<&Register>,
    words: &[Words],
) -> Comparison {
    let changed = changed(&old.reading.policy, &new.reading.policy);
    let Changed { renamed, renames, before, after, changes } = changed;
    let pairs = differences::pairs(&before, &after);
    let editions = Editions { old, new, renamed: &renamed, renames: &renames };
    let consequences = consequences::consequences(&editions, &pairs);
    let acting = acting::acting(&editions, (&before, &after), &changes, &consequences, register, words);
    let sides = sides::sides(&before, &after, &pairs, &changes);
    let counts = counts(&changes, &consequences);
    Comparison {
        old: edition(old_file, old),
        new: edition(new_file, new),
        weight: gravest(&counts),
        headline: telling::headline(&counts),
        counts,
        consequences,
        idle_reasons: reasons::idle(&new.reading.policy, &changes),
        changes,
        acting,
        sides,
    }
}

/// What differs in what two policies say, unchecked.
pub struct Changed {
    /// The old policy in the names of the new.
    pub renamed: Policy,
    pub renames: Vec<Rename>,
    pub before: View,
    pub after: View,
    /// What weakens protection first, then by weight, then in the order of the policy.
    pub changes: Vec<Change>,
}

pub fn changed(old: &Policy, new: &Policy) -> Changed {
    let after = entries::view(new);
    let (renamed, renames) = names::renamed(old, &after);
    let before = entries::view(&renamed);
    let pairs = differences::pairs(&before, &after);
    let mut differences: Vec<Difference> = renames.iter().map(of_rename).collect();
    differences.extend(differences::differences(&before, &after, &pairs));
    let context = weights::Context { old: &renamed, new };
    let weighed = differences.into_iter().map(|difference| {
        let (rule, weight) = weights::weigh(&difference, &context);
        telling::change(difference, rule, weight)
    });
    let mut changes: Vec<Change> = weighed.collect();
    reasons::give(new, &mut changes);
    changes.sort_by_key(|change| change.weight);
    Changed { renamed, renames, before, after, changes }
}

fn of_rename(rename: &Rename) -> Difference {
    let (kind, of) = match rename.of {
        Named::Entry(kind) => (kind, rename.to.shown.clone()),
        Named::Part(_) | Named::Hold(_) => (Kind::Sequence, rename.to.shown.clone()),
    };
    Difference {
        what: What::Renamed,
        kind,
        of,
        field: None,
        before: vec![rename.from.clone()],
        after: vec![rename.to.clone()],
        old: None,
        new: None,
        lines: 1,
        edits: vec![Edit::Rename(rename.clone())],
    }
}

fn edition(file: &str, checked: &Checked) -> Edition {
    let paper = &checked.reading.policy.paper;
    Edition {
        file: file.to_owned(),
        title: paper.title.clone(),
        site: paper.site.clone(),
        edition: paper.edition,
        owner: paper.owner.clone(),
        approved: paper.approval.as_ref().map(|approval| format!("{}, {}", approval.by, approval.on)),
        in_force_from: paper.in_force.map(|day| day.to_string()),
        review_by: paper.review_by.map(|day| day.to_string()),
        fingerprint: checked.fingerprint.clone(),
        standing: match standing(checked) {
            Standing::InForce => "in force",
            Standing::NotYet(_) => "not yet in force",
            Standing::Withdrawn(_) => "withdrawn",
            Standing::Draft(_) => "a draft",
        },
    }
}

fn counts(changes: &[Change], consequences: &Consequences) -> Counts {
    let mut counts = Counts::default();
    for weight in changes.iter().map(|change| change.weight).chain(consequences.weights()) {
        match weight {
            Weight::Weakens => counts.weakens += 1,
            Weight::Strengthens => counts.strengthens += 1,
            Weight::ChangesPractice => counts.changes_practice += 1,
            Weight::Editorial => counts.editorial += 1,
        }
    }
    counts
}

fn gravest(counts: &Counts) -> Option<Weight> {
    let all = [counts.weakens, counts.strengthens, counts.changes_practice, counts.editorial];
    Weight::ALL.into_iter().zip(all).find(|(_, count)| *count > 0).map(|(weight, _)| weight)
}
