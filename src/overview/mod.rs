//! Where every policy of a hospital stands, and what is due first.
//!
//! In: checked policies with the word files beside them, a day. Out: an [`Overview`], and its faces: [`table`], sentences,
//! [`json`], [`csv`] and [`calendar`]. Must never judge a policy by anything but what the check and its own dates say.

pub mod calendar;
pub mod csv;
pub mod json;
mod sentences;
pub mod table;

use std::collections::BTreeMap;

use serde::Serialize;

use crate::aids::lacking;
use crate::findings::Tally;
use crate::policy::{Code, Day, Exception, Identity};
use crate::release::{Edition, Stage};
use crate::session::{Checked, Kept, State, answer};
use crate::translation::{Lacks, WordFile, translated};

/// Months before the review date from which a policy is reviewed: the procedural documents policy of a public hospital trust
/// asks for six.
const REVIEW_MONTHS: i32 = 6;

/// One policy that the hospital keeps.
pub struct Looked<'a> {
    pub file: &'a str,
    pub checked: &'a Checked,
    pub words: &'a [Words],
    /// The edition of this very text that the releases hold, where they were asked for.
    pub release: Option<&'a Edition>,
    /// Where the log of releases and the policy do not say the same, each a sentence.
    pub disagreements: Vec<String>,
}

/// A word file beside it.
pub struct Words {
    pub file: String,
    pub language: String,
    /// What it says, or why it cannot be read, a sentence.
    pub read: Result<WordFile, String>,
}

#[derive(Clone, Debug, Serialize)]
pub struct Overview {
    pub today: Day,
    /// Days within which an exception is said to lapse soon.
    pub soon_days: u32,
    /// What is due first comes first; superseded and withdrawn editions come last.
    pub policies: Vec<Entry>,
}

#[derive(Clone, Debug, Serialize)]
pub struct Entry {
    pub file: String,
    pub title: Option<String>,
    pub site: Option<String>,
    pub edition: Option<u32>,
    pub fingerprint: String,
    pub owner: Option<String>,
    pub state: State,
    /// Why it is in that state, each a sentence.
    pub why: Vec<String>,
    /// The review date has passed, an exception has lapsed, a translation is stale, something stands open at DANGER, or the log
    /// of releases says otherwise than the policy.
    pub needs_action: bool,
    /// The first day on which something is due; today where something stands open at DANGER.
    pub due: Option<Day>,
    pub review: Option<Review>,
    pub findings: Counts,
    /// Those that have lapsed or lapse soon.
    pub exceptions: Vec<Lapse>,
    pub translations: Vec<Translation>,
    /// What the log of releases says of it; none where no edition of this text is frozen, or nobody asked for releases.
    pub release: Option<Release>,
    /// Where that log and the policy do not say the same, each a sentence.
    pub disagreements: Vec<String>,
    #[serde(skip)]
    pub identity: Option<Identity>,
}

#[derive(Clone, Debug, Serialize)]
pub struct Review {
    pub by: Day,
    /// From this day on it can be reviewed.
    pub opens: Option<Day>,
    /// Fewer than none: overdue.
    pub days_left: i32,
}

/// Findings by signal word; those that the policy itself accepts are counted apart.
#[derive(Clone, Debug, Serialize)]
pub struct Counts {
    pub danger: usize,
    pub warning: usize,
    pub caution: usize,
    pub notice: usize,
    pub accepted: usize,
    #[serde(skip)]
    pub tally: Tally,
}

#[derive(Clone, Debug, Serialize)]
pub struct Lapse {
    pub finding: String,
    pub at: String,
    pub because: String,
    pub until: Day,
    /// Fewer than none: it has lapsed.
    pub days_left: i32,
}

#[derive(Clone, Debug, Serialize)]
pub struct Translation {
    pub file: String,
    pub language: String,
    #[serde(flatten)]
    pub lacks: Lacks,
    /// What it lacks, or why it cannot be read, each a sentence.
    pub why: Vec<String>,
}

/// An edition by the log of releases.
#[derive(Clone, Debug, Serialize)]
pub struct Release {
    pub folder: String,
    pub stage: Stage,
    pub since: Day,
    /// People who have signed it, and how many have to.
    pub signed: usize,
    pub needs: u32,
    /// The last time that it was reviewed and left as it is.
    pub reviewed_on: Option<Day>,
}

/// `soon`: days within which an exception is said to lapse soon. Files that policies share are left out.
pub fn overview(looked: &[Looked], today: Day, soon: u32) -> Overview {
    let mut editions: BTreeMap<Identity, Vec<Kept>> = BTreeMap::new();
    for looked in looked {
        if let Some(identity) = looked.checked.reading.policy.paper.identity() {
            editions.entry(identity).or_default().push(Kept { file: looked.file, checked: looked.checked });
        }
    }
    let policies = looked.iter().filter(|looked| looked.checked.reading.policy.paper.is_policy);
    let mut policies: Vec<Entry> = policies
        .map(|looked| {
            let identity = looked.checked.reading.policy.paper.identity();
            let alone = [Kept { file: looked.file, checked: looked.checked }];
            let kept = identity.as_ref().and_then(|identity| editions.get(identity));
            Entry::of(looked, kept.map_or(&alone[..], Vec::as_slice), today, soon)
        })
        .collect();
    policies.sort_by(|a, b| a.order().cmp(&b.order()));
    Overview { today, soon_days: soon, policies }
}

impl Overview {
    pub fn needs_action(&self) -> bool {
        self.policies.iter().any(|policy| policy.needs_action)
    }
}

impl Entry {
    fn of(looked: &Looked, editions: &[Kept], today: Day, soon: u32) -> Entry {
        let Looked { file, checked, words, release, .. } = *looked;
        let paper = &checked.reading.policy.paper;
        let stands = answer(&Code::of(paper, &checked.fingerprint), editions);
        let tally = Tally::of_all(&checked.findings);
        let exceptions = &checked.reading.policy.exceptions;
        let mut entry = Entry {
            file: file.to_owned(),
            title: paper.title.clone(),
            site: paper.site.clone(),
            edition: paper.edition,
            fingerprint: checked.fingerprint.clone(),
            owner: paper.owner.clone(),
            state: stands.state,
            why: stands.why,
            needs_action: false,
            due: None,
            review: paper.review_by.map(|by| Review::of(by, today)),
            findings: Counts::of(tally),
            exceptions: exceptions.iter().filter_map(|exception| Lapse::of(exception, today, soon)).collect(),
            translations: words.iter().map(|words| Translation::of(words, checked)).collect(),
            release: release.map(Release::of),
            disagreements: looked.disagreements.clone(),
            identity: paper.identity(),
        };
        if !entry.is_over() {
            entry.set_due(today);
        }
        entry
    }

    /// Nothing is due any more of an edition that no longer holds.
    pub fn is_over(&self) -> bool {
        matches!(self.state, State::Superseded | State::Withdrawn)
    }

    fn set_due(&mut self, today: Day) {
        let is_open = self.findings.danger > 0
            || !self.disagreements.is_empty()
            || self.translations.iter().any(|translation| translation.lacks.stale);
        let lapses = self.exceptions.iter().map(|exception| exception.until);
        let review = self.review.as_ref().map(|review| review.by);
        self.due = lapses.chain(review).chain(is_open.then_some(today)).min();
        self.needs_action = is_open
            || self.exceptions.iter().any(|exception| exception.days_left < 0)
            || self.review.as_ref().is_some_and(|review| review.days_left < 0);
    }

    fn order(&self) -> impl Ord {
        let is_undated = self.due.is_none();
        (self.is_over(), !self.needs_action, is_undated, self.due, self.title.clone(), self.file.clone())
    }
}

impl Release {
    fn of(edition: &Edition) -> Release {
        Release {
            folder: edition.folder.clone(),
            stage: edition.stage,
            since: edition.since,
            signed: edition.approvals.len(),
            needs: edition.needs,
            reviewed_on: edition.reviewed.as_ref().map(|reviewed| reviewed.on),
        }
    }
}

impl Review {
    fn of(by: Day, today: Day) -> Review {
        Review { by, opens: by.months_on(-REVIEW_MONTHS), days_left: today.days_until(by) }
    }
}

impl Counts {
    fn of(tally: Tally) -> Counts {
        use crate::findings::Signal::{Caution, Danger, Notice, Warning};
        Counts {
            danger: tally.of(Danger),
            warning: tally.of(Warning),
            caution: tally.of(Caution),
            notice: tally.of(Notice),
            accepted: tally.accepted,
            tally,
        }
    }
}

impl Lapse {
    fn of(exception: &Exception, today: Day, soon: u32) -> Option<Lapse> {
        let days_left = today.days_until(exception.until);
        let Exception { finding, at, because, until, .. } = exception;
        (i64::from(days_left) <= i64::from(soon)).then(|| Lapse {
            finding: finding.clone(),
            at: at.clone(),
            because: because.clone(),
            until: *until,
            days_left,
        })
    }
}

impl Translation {
    fn of(words: &Words, checked: &Checked) -> Translation {
        let (lacks, why) = match &words.read {
            Ok(file) => {
                let lacks = Lacks::of(file, &translated(&checked.reading.policy, file), &checked.fingerprint);
                (lacks, lacking(lacks))
            }
            Err(why) => (Lacks::default(), vec![why.clone()]),
        };
        Translation { file: words.file.clone(), language: words.language.clone(), lacks, why }
    }
}
