//! The choice of level, played through for every combination of answers.
//!
//! In: a policy's choice. Out: an [`Assessment`]: what fits, what never fits, what turns on which answer, each with a case
//! that holds no answer too many. Must never take one combination for all, and says where it stopped before the end.

use std::collections::{BTreeMap, BTreeSet};

use super::answers::{Both, Budget, Fit, Lines, Open, ends, least};
use crate::policy::{Answer, Choice, GapOf, LevelId, Policy, QuestionId};

/// Lines and questions are told by their places in the policy's choice.
#[derive(Debug, Default)]
pub struct Assessment {
    pub questions: usize,
    /// The fewest answers to which no line fits.
    pub uncovered: Option<Vec<Answer>>,
    /// Lines that no combination comes to: earlier ones fit first.
    pub unreached: Vec<usize>,
    pub lowered: Vec<Lowered>,
    pub doubled: Vec<Doubled>,
    /// Questions of which no answer ever changes the level.
    pub idle: Vec<QuestionId>,
    /// For each level that a line gives: what it outranks.
    pub ranks: BTreeMap<LevelId, BTreeSet<LevelId>>,
    /// There is more to tell apart than is looked at: what is here stands, but more may be missing.
    pub gave_up: bool,
}

/// Yes in place of no to one question, all else alike, leads from a line to one whose level the first one's outranks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lowered {
    pub question: QuestionId,
    pub at_no: usize,
    pub at_yes: usize,
    /// The other answers that it takes.
    pub case: Vec<Answer>,
}

/// Two lines fit the same answers and give different levels, of which the first does not outrank the other; nor is the first
/// an exception to the other, that asks for all that the other asks for and more. The first of all lines to fit is `first`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Doubled {
    pub first: usize,
    pub later: usize,
    pub case: Vec<Answer>,
}

/// Answers looked at, over all questions and lines; a second or so at most.
const MOST_WORK: u64 = 6_000_000;

/// Nothing where no line gives a level, and where some line of the choice could not be read.
pub fn assess(policy: &Policy) -> Option<Assessment> {
    let choice = policy.choice.as_ref().filter(|choice| !choice.verdicts.is_empty())?;
    let unread = policy.gaps.iter().any(|gap| gap.of == GapOf::Choice);
    (policy.paper.is_policy && !unread).then(|| Play::new(choice).played())
}

struct Play<'a> {
    choice: &'a Choice,
    all: Lines,
    budget: Budget,
    assessment: Assessment,
}

impl<'a> Play<'a> {
    fn new(choice: &'a Choice) -> Play<'a> {
        let all = Lines::of(choice.verdicts.iter().map(|verdict| &verdict.answers[..]));
        let assessment = Assessment { questions: choice.questions.len(), ..Assessment::default() };
        Play { choice, all, budget: Budget::new(MOST_WORK), assessment }
    }

    fn played(mut self) -> Assessment {
        self.fits();
        self.ranks();
        for question in (0..self.choice.questions.len()).map(QuestionId::new) {
            self.turn(question);
        }
        for later in 0..self.choice.verdicts.len() {
            self.doubled(later);
        }
        self.assessment.gave_up = self.budget.is_spent();
        self.assessment
    }

    fn level(&self, line: usize) -> LevelId {
        self.choice.verdicts[line].level
    }

    fn fits(&mut self) {
        let found = ends(self.all.clone(), &mut self.budget, |_| true);
        if let Some(case) = found.get(&None) {
            self.assessment.uncovered = Some(least(&self.all, case.clone(), &mut self.budget, Fit::is_none));
        }
        if !self.budget.is_spent() {
            let lines = 0..self.choice.verdicts.len();
            self.assessment.unreached = lines.filter(|&line| !found.contains_key(&Some(line))).collect();
        }
    }

    fn ranks(&mut self) {
        for verdict in &self.choice.verdicts {
            if self.assessment.ranks.contains_key(&verdict.level) {
                continue;
            }
            if !self.budget.spend(self.choice.outranks.len()) {
                return;
            }
            self.assessment.ranks.insert(verdict.level, self.choice.outranked_by(verdict.level));
        }
    }

    /// In a circle nobody outranks anybody.
    fn outranks(&self, higher: LevelId, lower: LevelId) -> bool {
        let above = |one, other| self.assessment.ranks.get(one).is_some_and(|below| below.contains(other));
        above(&higher, &lower) && !above(&lower, &higher)
    }

    /// What turns on the answer to one question.
    fn turn(&mut self, question: QuestionId) {
        if !self.budget.spend(2 * self.all.size()) {
            return;
        }
        let start = Both(self.all.given((question, false)), self.all.given((question, true)));
        let found = ends(start.clone(), &mut self.budget, |_| true);
        let level = |fit: Fit| fit.map(|line| self.level(line));
        if !self.budget.is_spent() && found.keys().all(|&(no, yes)| level(no) == level(yes)) {
            self.assessment.idle.push(question);
        }
        let mut lowered = Vec::new();
        for (&end, case) in &found {
            let (Some(at_no), Some(at_yes)) = end else { continue };
            if self.outranks(self.level(at_no), self.level(at_yes)) {
                lowered.push((at_no, at_yes, case.clone()));
            }
        }
        for (at_no, at_yes, case) in lowered {
            let levels = (Some(self.level(at_no)), Some(self.level(at_yes)));
            let choice = self.choice;
            let level = |fit: Fit| fit.map(|line| choice.verdicts[line].level);
            let case = least(&start, case, &mut self.budget, |&(no, yes)| (level(no), level(yes)) == levels);
            self.assessment.lowered.push(Lowered { question, at_no, at_yes, case });
        }
    }

    /// The first line, if any, that fits together with a later one and gives another level.
    fn doubled(&mut self, later: usize) {
        let verdict = &self.choice.verdicts[later];
        if verdict.answers.is_empty() || self.assessment.unreached.contains(&later) {
            return;
        }
        for first in 0..later {
            let earlier = &self.choice.verdicts[first];
            let is_exception = verdict.answers.iter().all(|answer| earlier.answers.contains(answer));
            let clash = earlier.answers.iter().any(|&(asked, yes)| verdict.answers.contains(&(asked, !yes)));
            if !self.budget.spend(1 + earlier.answers.len() * verdict.answers.len()) {
                return;
            }
            if is_exception || clash || earlier.level == verdict.level || self.outranks(earlier.level, verdict.level) {
                continue;
            }
            let mut both = earlier.answers.clone();
            both.extend(verdict.answers.iter().filter(|answer| !earlier.answers.contains(answer)));
            let start = Lines::of(self.choice.verdicts[..=first].iter().map(|verdict| &verdict.answers[..]));
            self.budget.spend(start.size() * both.len());
            let start = both.iter().fold(start, |lines, &answer| lines.given(answer));
            let is_first = |fit: &Fit| *fit == Some(first);
            if let Some(rest) = ends(start.clone(), &mut self.budget, |fit| !is_first(fit)).remove(&Some(first)) {
                let rest = least(&start, rest, &mut self.budget, is_first);
                both.extend(rest);
                self.assessment.doubled.push(Doubled { first, later, case: both });
                return;
            }
        }
    }
}
