//! The lines of a choice while its questions are answered one by one, and the search over all answers.
//!
//! In: lines, each with the answers that it asks for. Out: the lines that are come to, each with answers that lead there.
//! Must never try the combinations one by one: what is left open after different answers is looked at once if it is alike.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::rc::Rc;

use crate::policy::{Answer, QuestionId};

/// How much may still be looked at.
pub struct Budget(u64);

impl Budget {
    pub fn new(most: u64) -> Budget {
        Budget(most)
    }

    /// False once it is used up.
    pub fn spend(&mut self, cost: usize) -> bool {
        self.0 = self.0.saturating_sub(cost as u64);
        self.0 > 0
    }

    pub fn is_spent(&self) -> bool {
        self.0 == 0
    }
}

/// What is still open, and goes on with the answer to one more question.
pub trait Open: Clone + Ord {
    /// Where the answers come to.
    type End: Ord + Clone;

    fn end(&self) -> Option<Self::End>;
    /// The question to answer next, where there is no end yet.
    fn next(&self) -> Option<QuestionId>;
    fn given(&self, answer: Answer) -> Self;
    fn size(&self) -> usize;
}

/// Lines that may still be the first to fit, in the order written, each with the answers that it still asks for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Lines(Vec<(usize, Rc<[Answer]>)>);

/// The line that is the first to fit, or none.
pub type Fit = Option<usize>;

impl Lines {
    /// The first `count` of the lines.
    pub fn of<'a>(lines: impl Iterator<Item = &'a [Answer]>) -> Lines {
        Lines(lines.map(Rc::from).enumerate().collect()).tidied()
    }

    /// Leaves out what cannot come to pass once the earlier lines have not fitted.
    fn tidied(self) -> Lines {
        let mut kept = Vec::with_capacity(self.0.len());
        // A line that asks for one answer only does not fit: so whoever comes further has given the other.
        let mut known: BTreeMap<QuestionId, bool> = BTreeMap::new();
        for (line, asks) in self.0 {
            let knows = |&(asked, _): &Answer| known.contains_key(&asked);
            if asks.iter().any(|(asked, yes)| known.get(asked).is_some_and(|known| known != yes)) {
                continue;
            }
            let asks = if asks.iter().any(knows) {
                asks.iter().copied().filter(|answer| !knows(answer)).collect()
            } else {
                asks
            };
            if let [(asked, yes)] = asks[..] {
                known.insert(asked, !yes);
            }
            let always = asks.is_empty();
            kept.push((line, asks));
            if always {
                break;
            }
        }
        Lines(kept)
    }
}

impl Open for Lines {
    type End = Fit;

    fn end(&self) -> Option<Fit> {
        match self.0.first() {
            None => Some(None),
            Some((line, asks)) => asks.is_empty().then_some(Some(*line)),
        }
    }

    fn next(&self) -> Option<QuestionId> {
        self.0.first().and_then(|(_, asks)| asks.first()).map(|&(asked, _)| asked)
    }

    fn given(&self, (asked, yes): Answer) -> Lines {
        let left = self.0.iter().filter(|(_, asks)| !asks.contains(&(asked, !yes))).map(|(line, asks)| {
            if asks.contains(&(asked, yes)) {
                (*line, asks.iter().copied().filter(|answer| answer.0 != asked).collect())
            } else {
                (*line, Rc::clone(asks))
            }
        });
        Lines(left.collect()).tidied()
    }

    fn size(&self) -> usize {
        1 + self.0.iter().map(|(_, asks)| 1 + asks.len()).sum::<usize>()
    }
}

/// The same answers, but for one question: no on the left, yes on the right.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Both(pub Lines, pub Lines);

impl Open for Both {
    type End = (Fit, Fit);

    /// What is the same on both sides stays the same: two `None`.
    fn end(&self) -> Option<(Fit, Fit)> {
        if self.0 == self.1 { Some((None, None)) } else { Some((self.0.end()?, self.1.end()?)) }
    }

    fn next(&self) -> Option<QuestionId> {
        self.0.next().or_else(|| self.1.next())
    }

    fn given(&self, answer: Answer) -> Both {
        Both(self.0.given(answer), self.1.given(answer))
    }

    fn size(&self) -> usize {
        self.0.size() + self.1.size()
    }
}

/// Every end that some answers lead to, with the fewest answers found that lead there, in the order in which they were given.
/// Stops at the first end that is not to `go_on`, and where the budget is spent.
pub fn ends<S: Open>(start: S, budget: &mut Budget, go_on: impl Fn(&S::End) -> bool) -> BTreeMap<S::End, Vec<Answer>> {
    let mut found = BTreeMap::new();
    let start = Rc::new(start);
    let mut seen = BTreeSet::from([Rc::clone(&start)]);
    let mut steps: Vec<(usize, Answer)> = Vec::new();
    let mut open = VecDeque::from([(start, usize::MAX)]);
    while let Some((state, came)) = open.pop_front() {
        if let Some(end) = state.end() {
            let stop = !go_on(&end);
            found.entry(end).or_insert_with(|| way(&steps, came));
            if stop {
                break;
            }
            continue;
        }
        let Some(asked) = state.next() else { continue };
        for yes in [false, true] {
            let next = Rc::new(state.given((asked, yes)));
            if !budget.spend(next.size()) {
                return found;
            }
            if seen.insert(Rc::clone(&next)) {
                steps.push((came, (asked, yes)));
                open.push_back((next, steps.len() - 1));
            }
        }
    }
    found
}

fn way(steps: &[(usize, Answer)], came: usize) -> Vec<Answer> {
    let mut answers = Vec::new();
    let mut at = came;
    while let Some(&(before, answer)) = steps.get(at) {
        answers.push(answer);
        at = before;
    }
    answers.reverse();
    answers
}

/// Leaves out of a case every answer that does not matter: whatever it is, the end is a wanted one.
pub fn least<S: Open>(
    start: &S,
    case: Vec<Answer>,
    budget: &mut Budget,
    wanted: impl Fn(&S::End) -> bool,
) -> Vec<Answer> {
    let mut case = case;
    let mut at = 0;
    while at < case.len() {
        let others = case.iter().enumerate().filter(|&(other, _)| other != at).map(|(_, &answer)| answer);
        let state = others.fold(start.clone(), |state, answer| {
            budget.spend(state.size());
            state.given(answer)
        });
        let holds = ends(state, budget, &wanted).keys().all(&wanted);
        if budget.is_spent() {
            break;
        }
        if holds {
            case.remove(at);
        } else {
            at += 1;
        }
    }
    case
}
