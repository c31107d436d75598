//! The change slip: what people do otherwise than in the edition before, for each role, in the words of the aids.
//!
//! In: a comparison and both policies. Out: a [`Form`]. Must never leave out what is done otherwise, nor hide that it protects
//! less. What is no step is told as the comparison tells it, in English.

use super::plan::{Form, FormCell, FormColumn, FormEntry, FormRow, FormSection, Row};
use super::procedure::Procedure;
use super::rows::Telling;
use super::words::{Words, say};
use super::{forms, poster};
use crate::compare::change::{At, Edit};
use crate::compare::field::Field;
use crate::compare::{Change, Comparison, Weight};
use crate::policy::{Act, Policy, SequenceId, Step, Subject};
use crate::walk::Walk;

/// One edition as it is played; the old one in the names of the new.
pub struct Played<'a> {
    pub policy: &'a Policy,
    pub walk: &'a Walk,
}

pub fn form(words: &Words, comparison: &Comparison, old: &Played, new: &Played) -> Form {
    let slip = Slip { words, policy: new.policy, old: scripts(old, words), new: scripts(new, words) };
    let told = comparison.changes.iter().filter(|change| change.weight != Weight::Editorial);
    // A heading, and what is no line, is told in a sentence.
    let (of_lines, others): (Vec<&Change>, Vec<&Change>) = told.partition(|change| slip.has_line(change));
    let mut sections: Vec<FormSection> =
        slip.weaker(comparison).into_iter().chain(slip.by_role(&lines(&of_lines))).collect();
    let rows: Vec<FormRow> = others.into_iter().map(|change| slip.other(change)).collect();
    if !rows.is_empty() {
        sections.push(slip.section(slip.tell("also", &[]), rows));
    }
    let nothing = sections.is_empty().then(|| slip.tell("nothing", &[]));
    Form { intro: slip.intro().into_iter().chain(nothing).collect::<Vec<_>>().join("\n"), sections }
}

/// A sequence or contingency, as its poster tells it.
struct Script {
    title: String,
    /// For each line: none where it is the heading of a part.
    lines: Vec<Option<Line>>,
}

struct Line {
    number: Option<u32>,
    act: String,
    /// With what and how long hands are cleaned.
    quiet: String,
    detail: String,
    /// Who acts or confirms, by name.
    who: Vec<String>,
}

fn scripts(edition: &Played, words: &Words) -> Vec<Script> {
    let policy = edition.policy;
    let sequences = (0..policy.sequences.len()).map(|at| Subject::Sequence(SequenceId::new(at)));
    let drills = (0..policy.contingencies.len()).map(Subject::Contingency);
    let all = sequences.chain(drills).flat_map(|subject| Procedure::all_of(policy, subject));
    all.map(|procedure| script(edition, words, &procedure)).collect()
}

fn script(edition: &Played, words: &Words, procedure: &Procedure) -> Script {
    let telling = Telling::new(edition.policy, edition.walk, words, procedure, None);
    let rows = poster::steps(&telling).bands.into_iter().flat_map(|band| band.rows);
    let mut lines = Vec::new();
    for (at, (step, row)) in procedure.steps.iter().zip(rows).enumerate() {
        lines.extend(procedure.parts.iter().filter(|part| part.first == at).map(|_| None));
        lines.push(Some(line(edition.policy, words, step, row)));
    }
    Script { title: procedure.title.to_owned(), lines }
}

fn line(policy: &Policy, words: &Words, step: &Step, row: Row) -> Line {
    let name = |id| policy.role(id).name.clone();
    let who = match &step.act {
        Act::Hold(hold) => hold.confirms.iter().map(|(who, _)| name(*who)).collect(),
        _ => vec![name(step.actor)],
    };
    let sentences =
        |parts: &[&str]| parts.iter().filter(|part| !part.is_empty()).copied().collect::<Vec<_>>().join(" ");
    match row {
        Row::Step(row) => {
            let slots = [("actor", row.who.as_str()), ("act", row.act.as_str())];
            let act = if row.who.is_empty() { row.act.clone() } else { say(&words.voices, "say_to_other", &slots) };
            let detail = sentences(&[&row.when, &row.detail]);
            Line { number: step.number, act, quiet: row.quiet_detail, detail, who }
        }
        Row::Hold(row) => {
            let confirms: Vec<String> = row.confirms.iter().map(|each| format!("{} {}", each.who, each.what)).collect();
            let detail = sentences(&[&row.when, &confirms.join(" "), &row.if_not]);
            let act = format!("{} · {}", words.labels.hold, row.title);
            Line { number: None, act, quiet: String::new(), detail, who }
        }
    }
}

/// What changed about one line of both editions, or of one.
struct Changed<'a> {
    sequence: &'a str,
    old: Option<usize>,
    new: Option<usize>,
    has_moved: bool,
    changes: Vec<&'a Change>,
}

/// The changes of each line together, in the order of the new edition.
fn lines<'a>(changes: &[&'a Change]) -> Vec<Changed<'a>> {
    let mut all: Vec<Changed> = Vec::new();
    let mut add = |sequence, old, new, has_moved, change| {
        let same = |known: &&mut Changed| known.sequence == sequence && (known.old, known.new) == (old, new);
        match all.iter_mut().find(same) {
            Some(known) => {
                known.has_moved |= has_moved;
                known.changes.push(change);
            }
            None => all.push(Changed { sequence, old, new, has_moved, changes: vec![change] }),
        }
    };
    for &change in changes {
        let Some(at) = change.at() else { continue };
        let moves = change.edits.iter().filter_map(|edit| match edit {
            Edit::MoveLine { old, to, .. } => Some((*old, *to)),
            _ => None,
        });
        let mut has_moved = false;
        for (old, to) in moves {
            add(at.sequence.as_str(), Some(old), Some(to), true, change);
            has_moved = true;
        }
        if !has_moved {
            let place = |at: &Option<At>| at.as_ref().map(|at| at.line);
            add(at.sequence.as_str(), place(&change.before_at), place(&change.after_at), false, change);
        }
    }
    all.sort_by_key(|changed| changed.new.or(changed.old));
    all
}

struct Slip<'a> {
    words: &'a Words,
    policy: &'a Policy,
    old: Vec<Script>,
    new: Vec<Script>,
}

impl Slip<'_> {
    fn tell(&self, key: &str, slots: &[(&str, &str)]) -> String {
        say(&self.words.slip, key, slots)
    }

    fn owner(&self) -> &str {
        self.policy.paper.owner.as_deref().unwrap_or_default()
    }

    /// Of which policy, from when, and whom to ask.
    fn intro(&self) -> Vec<String> {
        let since = match self.policy.paper.in_force {
            Some(day) => self.tell("since", &[("date", &self.words.day(day))]),
            None => self.tell("no_date", &[]),
        };
        let ask = (!self.owner().is_empty()).then(|| say(&self.words.sign, "ask", &[("owner", self.owner())]));
        self.policy.paper.title.clone().into_iter().chain([since]).chain(ask).collect()
    }

    /// That it protects less, above all else.
    fn weaker(&self, comparison: &Comparison) -> Option<FormSection> {
        let weaker = comparison.counts.weakens;
        let marked = comparison.changes.iter().filter(|change| change.weight == Weight::Weakens).count();
        let mut told = vec![self.tell("weaker", &[("count", &weaker.to_string())])];
        if marked > 0 {
            told.push(self.tell("weaker_marked", &[("count", &marked.to_string())]));
        }
        if weaker > marked {
            told.push(self.tell("weaker_elsewhere", &[]));
        }
        let section = FormSection { note: told.join(" "), ..forms::section(self.tell("mark", &[]), Vec::new()) };
        (weaker > 0).then_some(section)
    }

    /// A section for each role and procedure; last what only roles did that the policy has no more.
    fn by_role(&self, lines: &[Changed]) -> Vec<FormSection> {
        let roles = self.policy.roles.iter().map(|role| Some(role.name.as_str())).chain([None]);
        let mut sections = Vec::new();
        for role in roles {
            for title in self.titles(lines) {
                let of = lines.iter().filter(|changed| changed.sequence == title);
                let rows: Vec<FormRow> = of.filter_map(|changed| self.row(changed, role)).collect();
                if !rows.is_empty() {
                    let heading = match role {
                        Some(role) => self.tell("role_in", &[("role", role), ("title", title)]),
                        None => title.to_owned(),
                    };
                    sections.push(self.section(heading, rows));
                }
            }
        }
        sections
    }

    fn has_line(&self, change: &Change) -> bool {
        let stands = |scripts: &[Script], at: &Option<At>| {
            at.as_ref().is_some_and(|at| find(scripts, &at.sequence, Some(at.line)).is_some())
        };
        stands(&self.old, &change.before_at) || stands(&self.new, &change.after_at)
    }

    fn titles<'l>(&self, lines: &'l [Changed]) -> Vec<&'l str> {
        let mut titles: Vec<&str> = Vec::new();
        for changed in lines {
            if !titles.contains(&changed.sequence) {
                titles.push(changed.sequence);
            }
        }
        titles.sort_by_key(|title| self.new.iter().position(|script| script.title == *title));
        titles
    }

    fn section(&self, title: String, rows: Vec<FormRow>) -> FormSection {
        let columns = vec![FormColumn { label: String::new(), holds: FormCell::Words, share: 1 }];
        forms::table(title, columns, rows)
    }

    /// What a line says to one role; none where it has no part in it.
    fn row(&self, changed: &Changed, role: Option<&str>) -> Option<FormRow> {
        let old = find(&self.old, changed.sequence, changed.old);
        let new = find(&self.new, changed.sequence, changed.new);
        let mut who = [old, new].into_iter().flatten().flat_map(|line| &line.who);
        let concerned = match role {
            Some(role) => who.any(|who| who == role),
            None => !who.any(|who| self.policy.roles.iter().any(|role| role.name == *who)),
        };
        if !concerned {
            return None;
        }
        let (line, words, mut details) = match (old, new) {
            (Some(old), None) => (old, self.tell("gone", &[("act", &old.act)]), Vec::new()),
            (None, Some(new)) => {
                (new, self.tell("new", &[("act", &new.act)]), vec![new.quiet.clone(), new.detail.clone()])
            }
            (Some(old), Some(new)) => (new, new.act.clone(), self.otherwise(changed, old, new)),
            (None, None) => return None,
        };
        let is_gone = new.is_none();
        if let (true, Some(number)) = (is_gone, line.number) {
            details.push(self.tell("moved", &[("number", &number.to_string())]));
        }
        let number = line.number.filter(|_| !is_gone).map_or_else(|| "–".to_owned(), |number| number.to_string());
        Some(self.entry(number, words, details, &changed.changes))
    }

    /// What is otherwise about a line that is in both.
    fn otherwise(&self, changed: &Changed, old: &Line, new: &Line) -> Vec<String> {
        let mut details = Vec::new();
        if changed.has_moved {
            details.push(match old.number {
                Some(number) => self.tell("moved", &[("number", &number.to_string())]),
                None => self.tell("moved_hold", &[]),
            });
        }
        let (prompts, acts): (Vec<&Change>, Vec<&Change>) = changed
            .changes
            .iter()
            .filter(|change| change.field.is_some())
            .partition(|change| change.field.is_some_and(|field| PROMPTS.contains(&field)));
        // As the aids print it; where they print both alike, as the policy says it.
        let texts = |line: &Line| [&line.act, &line.quiet, &line.detail].map(String::clone);
        let differs = texts(old).into_iter().zip(texts(new)).find(|(old, new)| old != new);
        match differs {
            _ if acts.is_empty() => {}
            Some((old, new)) => details.extend(self.becomes(&old, &new)),
            None => details.extend(acts.iter().flat_map(|change| self.of_change(change))),
        }
        details.extend(prompts.iter().flat_map(|change| self.of_change(change)));
        details
    }

    fn of_change(&self, change: &Change) -> Vec<String> {
        self.becomes(&change.before.join(" "), &change.after.join(" "))
    }

    fn becomes(&self, old: &str, new: &str) -> Vec<String> {
        match (old.is_empty(), new.is_empty()) {
            (true, true) => Vec::new(),
            (true, false) => vec![self.tell("new", &[("act", new)])],
            (false, true) => vec![self.tell("gone", &[("act", old)])],
            (false, false) => vec![self.tell("before", &[("text", old)]), self.tell("now", &[("text", new)])],
        }
    }

    /// A change of something else than a step.
    fn other(&self, change: &Change) -> FormRow {
        self.entry(String::new(), change.sentence.clone(), Vec::new(), &[change])
    }

    fn entry(&self, number: String, words: String, mut details: Vec<String>, changes: &[&Change]) -> FormRow {
        let is_weaker = changes.iter().any(|change| change.weight == Weight::Weakens);
        let reason = changes.iter().find_map(|change| change.reason.as_deref());
        match reason {
            Some(reason) => details.push(self.tell("reason", &[("reason", reason)])),
            None if is_weaker && !self.owner().is_empty() => {
                details.push(self.tell("no_reason", &[("owner", self.owner())]));
            }
            None => {}
        }
        let mark = if is_weaker { self.tell("mark", &[]) } else { String::new() };
        details.retain(|detail| !detail.is_empty());
        FormRow::Entry(FormEntry { number, words, detail: details.join("\n"), is_hold: false, mark })
    }
}

fn find<'s>(scripts: &'s [Script], title: &str, line: Option<usize>) -> Option<&'s Line> {
    scripts.iter().find(|script| script.title == title)?.lines.get(line?)?.as_ref()
}

/// What stands beneath a step in the policy's own words.
const PROMPTS: [Field; 7] =
    [Field::Say, Field::LookFor, Field::StopIf, Field::Caution, Field::Warning, Field::Danger, Field::Condition];
