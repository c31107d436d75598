//! Edits of different statements, one set of them by each of two people, give the text with all of them; what a line merge
//! can do comes out the same; nothing that a side wrote is lost. What is expected is made by carrying out both sets of
//! edits on the text itself; the line merge is `git merge-file`.

use std::collections::{BTreeMap, BTreeSet};

use anteroom::session;

use crate::independent::random_policy::Dice;
use crate::merge::{MARKS, line_merged, merged};

use super::{Written, random, written};

/// A step or an item with the lines beneath it, or any other line.
#[derive(Clone, Debug)]
struct Unit {
    text: String,
    kind: Kind,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Step,
    Item,
    Other,
}

fn units(text: &str) -> Vec<Unit> {
    let mut units: Vec<Unit> = Vec::new();
    let mut in_steps = false;
    for line in text.split_inclusive('\n') {
        let indent = line.len() - line.trim_start().len();
        if indent == 0 {
            in_steps = line.starts_with("sequence") || line.starts_with("contingency");
        }
        let word = line.split_whitespace().nth(1).unwrap_or_default();
        let verbs =
            ["takes", "puts", "cleans", "helps", "checks", "goes", "wipes", "sprays", "does", "pulls", "changes"];
        let is_step = in_steps && indent >= 2 && verbs.contains(&word);
        let kind = match () {
            () if is_step => Kind::Step,
            () if line.starts_with("item ") => Kind::Item,
            () => Kind::Other,
        };
        let is_beneath = |unit: &Unit| match unit.kind {
            Kind::Step => indent >= 4,
            Kind::Item => indent >= 2,
            Kind::Other => false,
        };
        match units.last_mut() {
            Some(last) if kind == Kind::Other && is_beneath(last) && !line.trim_start().starts_with("note") => {
                last.text += line;
            }
            _ => units.push(Unit { text: line.to_string(), kind }),
        }
    }
    units
}

#[derive(Clone, Debug)]
enum Edit {
    Reword(usize),
    Prompt(usize),
    TakeOut(usize),
    PutIn { after: usize },
    Move { from: usize, after: usize },
}

impl Edit {
    /// Statements that nobody else may have to do with.
    fn touches(&self) -> Vec<usize> {
        match *self {
            Edit::Reword(at) | Edit::Prompt(at) | Edit::TakeOut(at) => vec![at],
            Edit::PutIn { after } => vec![after, after + 1],
            Edit::Move { from, after } => vec![from - 1, from, from + 1, after, after + 1],
        }
    }
}

fn edited(units: &[Unit], edits: &[(usize, Edit)]) -> String {
    let mut texts: Vec<Option<String>> = units.iter().map(|unit| Some(unit.text.clone())).collect();
    let mut behind: BTreeMap<usize, String> = BTreeMap::new();
    for (mark, edit) in edits {
        match *edit {
            Edit::Reword(at) => {
                let text = texts[at].take().unwrap();
                let (first, rest) = text.split_once('\n').unwrap();
                texts[at] = Some(match first.strip_suffix(" seconds").and_then(|line| line.rsplit_once(' ')) {
                    Some((before, number)) => {
                        format!("{before} {} seconds\n{rest}", number.parse::<u32>().unwrap_or(30) + 7)
                    }
                    None if units[at].kind == Kind::Item => {
                        let name = first.split('"').next().unwrap().trim_end();
                        format!("{name} \"thing of kind {mark}\"\n{rest}")
                    }
                    None => format!("{first}\n    because \"Reason {mark}.\"\n{rest}"),
                });
            }
            Edit::Prompt(at) => {
                let line = match units[at].kind {
                    Kind::Item => format!("  meets \"Norm {mark}\"\n"),
                    _ => format!("    caution \"Mind {mark}.\"\n"),
                };
                texts[at].as_mut().unwrap().push_str(&line);
            }
            Edit::TakeOut(at) => texts[at] = None,
            Edit::PutIn { after } => {
                let new = match units[after].kind {
                    Kind::Item => format!("item act {mark}\n  covers hair\n"),
                    _ => format!("  wearer does \"New act {mark}\"\n    say \"Now {mark}.\"\n"),
                };
                behind.insert(after, new);
            }
            Edit::Move { from, after } => {
                let text = texts[from].take().unwrap();
                behind.insert(after, text);
            }
        }
    }
    let put_in = |at: usize| behind.get(&at).cloned().unwrap_or_default();
    texts.into_iter().enumerate().map(|(at, text)| text.unwrap_or_default() + &put_in(at)).collect()
}

/// Edits of steps and items, each of other statements than all the others; with marks that tell them apart.
fn edits(units: &[Unit], dice: &mut Dice, count: usize, moves: bool) -> Vec<(usize, Edit)> {
    let steps: Vec<usize> = (1..units.len() - 1).filter(|&at| units[at].kind != Kind::Other).collect();
    let is_only =
        |at: usize| units.iter().filter(|unit| unit.text.lines().next() == units[at].text.lines().next()).count() == 1;
    let mut taken = BTreeSet::new();
    let mut edits = Vec::new();
    for mark in 0..count * 4 {
        if steps.len() < 4 || edits.len() == count {
            break;
        }
        let at = steps[dice.below(steps.len())];
        let edit = match dice.below(if moves { 5 } else { 4 }) {
            0 => Edit::Reword(at),
            1 => Edit::Prompt(at),
            2 => Edit::TakeOut(at),
            3 => Edit::PutIn { after: at },
            _ => Edit::Move { from: at, after: steps[dice.below(steps.len())] },
        };
        if matches!(edit, Edit::Move { from, after } if units[from].kind != units[after].kind) {
            continue;
        }
        // Which of several that read alike was taken out or moved, no reader of both texts can tell.
        let is_told = match edit {
            Edit::TakeOut(at) | Edit::Move { from: at, .. } => is_only(at),
            _ => true,
        };
        let touched = edit.touches();
        let is_apart = touched.iter().collect::<BTreeSet<_>>().len() == touched.len();
        if is_told && is_apart && touched.iter().all(|at| !taken.contains(at)) {
            taken.extend(touched);
            edits.push((mark, edit));
        }
    }
    edits
}

/// Merges of each policy; more with `ANTEROOM_PROPERTIES`.
fn rounds() -> u64 {
    crate::independent::asked("ANTEROOM_PROPERTIES", 1)
}

/// Random ones laid out, so that what is beneath a statement is set in.
fn texts() -> Vec<(String, String)> {
    let tidy = |policy: Written| (policy.name.clone(), session::tidy(&policy.read(&policy.text)));
    let all = written().into_iter().map(|policy| (policy.name, policy.text)).chain(random(40).into_iter().map(tidy));
    all.filter(|(_, text)| text.is_ascii() && text.ends_with('\n')).collect()
}

/// Where two people take out neighbours, the blank line between groups may go with them.
fn without_blank_lines(text: &str) -> String {
    text.split_inclusive('\n').filter(|line| !line.trim().is_empty()).collect()
}

#[test]
fn edits_of_different_statements_are_all_kept() {
    let (mut merges, mut not_by_lines, mut alike) = (0, 0, 0);
    for (seed, (name, base)) in texts().iter().enumerate() {
        let units = units(base);
        for round in 0..rounds() {
            let mut dice = Dice::new(seed as u64 * 1000 + round);
            let all = edits(&units, &mut dice, 8, true);
            let (one, other) = all.split_at(all.len() / 2);
            let (ours, theirs, both) = (edited(&units, one), edited(&units, other), edited(&units, &all));
            if ours == *base || theirs == *base {
                continue;
            }
            let merge = merged(base, &ours, &theirs);
            let text = merge.text(&MARKS);
            assert_eq!(without_blank_lines(&text), without_blank_lines(&both), "{name}, round {round}: {all:?}");
            assert_eq!(merged(base, &theirs, &ours).text(&MARKS), text, "{name}: the sides change places");
            merges += 1;
            let (by_lines, is_clean) = line_merged(base, &ours, &theirs);
            not_by_lines += usize::from(!is_clean);
            alike += usize::from(is_clean && by_lines == text);
            assert!(!is_clean || by_lines == text, "{name}: git makes another text:\n{by_lines}");
        }
    }
    assert!(
        merges > 100 && not_by_lines > 20 && alike > 20,
        "{merges}, {not_by_lines} no line merge could, {alike} alike"
    );
}

/// Each line, and how often it stands there.
fn counted(text: &str) -> BTreeMap<&str, usize> {
    let mut counts = BTreeMap::new();
    text.lines().for_each(|line| *counts.entry(line).or_default() += 1);
    counts
}

/// Edits of the same statements too, so that there are conflicts.
#[test]
fn nothing_that_a_side_wrote_is_lost_and_the_sides_may_change_places() {
    let (mut clean, mut conflicts, mut reasons) = (0, 0, BTreeSet::new());
    for (seed, (name, base)) in texts().iter().enumerate() {
        let units = units(base);
        for round in 0..rounds() {
            let mut dice = Dice::new(seed as u64 * 1000 + round + 7_000_000);
            let ours = edited(&units, &edits(&units, &mut dice, 6, true));
            let theirs =
                edited(&units, &edits(&units, &mut dice, 6, true)).replace("act ", "deed ").replace("Mind", "Look");
            let (merge, mirrored) = (merged(base, &ours, &theirs), merged(base, &theirs, &ours));
            let text = merge.text(&MARKS);
            let (had, now) = (counted(base), counted(&text));
            for (line, count) in counted(&ours).into_iter().chain(counted(&theirs)) {
                let before = had.get(line).copied().unwrap_or(0);
                let after = now.get(line).copied().unwrap_or(0);
                assert!(count <= before || after >= count, "{name}, {round}: lost: {line}\n{text}");
            }
            assert_eq!(merge.is_clean(), mirrored.is_clean(), "{name}");
            if merge.is_clean() {
                assert_eq!(text, mirrored.text(&MARKS), "{name}");
                clean += 1;
            }
            let halves: Vec<_> = merge.conflicts().map(|conflict| (&conflict.ours, &conflict.theirs)).collect();
            let swapped: Vec<_> = mirrored.conflicts().map(|conflict| (&conflict.theirs, &conflict.ours)).collect();
            assert_eq!(halves, swapped, "{name}");
            conflicts += halves.len();
            reasons.extend(merge.conflicts().map(|conflict| format!("{:?}", conflict.why)));
            let (by_lines, is_clean) = line_merged(base, &ours, &theirs);
            assert!(
                !is_clean || !merge.is_clean() || by_lines == text,
                "{name}, {round}: git makes another text:\n{by_lines}\n---\n{text}"
            );
        }
    }
    assert!(clean > 10 && conflicts > 100 && reasons.len() >= 4, "{clean} clean, {conflicts} conflicts, {reasons:?}");
}

#[test]
fn a_side_that_changed_nothing_leaves_the_other_as_it_is() {
    for (seed, (_, base)) in texts().iter().enumerate() {
        let units = units(base);
        let changed = edited(&units, &edits(&units, &mut Dice::new(seed as u64), 5, true)).replace('\n', "\r\n");
        for (ours, theirs) in [(base, &changed), (&changed, base), (&changed, &changed)] {
            assert_eq!(merged(base, ours, theirs).text(&MARKS), changed);
        }
        // Only a blank line at the end differs: the longer way leads to the same.
        let laid_out = format!("{base}\n");
        let changed = changed.replace("\r\n", "\n");
        assert_eq!(merged(base, &laid_out, &changed).text(&MARKS), format!("{changed}\n"));
    }
}
