//! Which combinations of answers give another level than before.
//!
//! In: both policies, the old one in the names of the new. Out: groups of combinations, each with the level before and after.
//! Must never leave a combination out without saying so.

use serde::Serialize;

use super::change::Weight;
use super::view::Word;
use crate::policy::{Choice, LevelId, Policy, QuestionId};

/// Questions of both editions together, beyond which the combinations are not gone through: 2^12 are 4,096.
const MOST_QUESTIONS: usize = 12;

/// Combinations that agree in these answers.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Combination {
    /// `yes to splash likely`; none where every combination is meant.
    pub answers: Vec<String>,
    /// None where no line fits.
    pub before: Option<String>,
    pub after: Option<String>,
    pub weight: Weight,
}

#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Chosen {
    pub combinations: Vec<Combination>,
    /// There are too many questions to go through.
    pub gave_up: bool,
}

struct Both<'a> {
    old: &'a Policy,
    new: &'a Policy,
    questions: Vec<Word>,
}

pub fn chosen(old: &Policy, new: &Policy) -> Chosen {
    let (Some(before), Some(after)) = (&old.choice, &new.choice) else { return Chosen::default() };
    let mut questions: Vec<Word> = Vec::new();
    for question in after.questions.iter().chain(&before.questions) {
        let name = Word::name(&question.name);
        if !questions.contains(&name) {
            questions.push(name);
        }
    }
    if questions.len() > MOST_QUESTIONS {
        return Chosen { combinations: Vec::new(), gave_up: true };
    }
    let both = Both { old, new, questions };
    let outcomes: Vec<(Option<Word>, Option<Word>)> = (0..1_u32 << both.questions.len())
        .map(|answers| (both.level(old, before, answers), both.level(new, after, answers)))
        .collect();
    let mut combinations = Vec::new();
    both.split(&outcomes, 0, 0, &mut Vec::new(), &mut combinations);
    Chosen { combinations, gave_up: false }
}

impl Both<'_> {
    /// Bit n of `answers`: yes to question n.
    fn level(&self, policy: &Policy, choice: &Choice, answers: u32) -> Option<Word> {
        let yes = |id: QuestionId| {
            let name = choice.questions.get(id.index()).map(|question| Word::name(&question.name));
            let at = self.questions.iter().position(|known| Some(known) == name.as_ref());
            at.is_some_and(|at| answers >> at & 1 == 1)
        };
        choice.line_for(yes).map(|line| Word::name(&policy.level(choice.verdicts[line].level).name))
    }

    /// Halves the combinations, question by question, until all of a group have the same outcome.
    fn split(
        &self,
        outcomes: &[(Option<Word>, Option<Word>)],
        question: usize,
        fixed: u32,
        answers: &mut Vec<String>,
        found: &mut Vec<Combination>,
    ) {
        let step = 1 << question;
        let group = || (fixed as usize..outcomes.len()).step_by(step);
        let first = &outcomes[fixed as usize];
        if group().all(|at| outcomes[at].0 == outcomes[at].1) {
            return;
        }
        if group().all(|at| outcomes[at] == *first) {
            let shown = |word: &Option<Word>| word.as_ref().map(|word| word.shown.clone());
            let weight = self.weight(first.0.as_ref(), first.1.as_ref());
            let answers = answers.clone();
            found.push(Combination { answers, before: shown(&first.0), after: shown(&first.1), weight });
            return;
        }
        for (bit, yes) in [(1 << question, "yes"), (0, "no")] {
            answers.push(format!("{yes} to {}", self.questions[question].shown));
            self.split(outcomes, question + 1, fixed | bit, answers, found);
            answers.pop();
        }
    }

    /// A level that the other outranks is lower, by either edition; no level at all is lowest.
    fn weight(&self, before: Option<&Word>, after: Option<&Word>) -> Weight {
        let (Some(before), Some(after)) = (before, after) else {
            return if after.is_none() { Weight::Weakens } else { Weight::Strengthens };
        };
        let outranks = |higher: &Word, lower: &Word| {
            [self.old, self.new].into_iter().any(|policy| {
                let find = |word: &Word| policy.levels.iter().position(|level| Word::name(&level.name) == *word);
                let (Some(higher), Some(lower)) = (find(higher), find(lower)) else { return false };
                let below = policy.choice.as_ref().map(|choice| choice.outranked_by(LevelId::new(higher)));
                below.is_some_and(|below| below.contains(&LevelId::new(lower)))
            })
        };
        match (outranks(before, after), outranks(after, before)) {
            (true, false) => Weight::Weakens,
            (false, true) => Weight::Strengthens,
            _ => Weight::ChangesPractice,
        }
    }
}
