//! From trees to a [`Policy`]: every line is attached to what it belongs to, and every name to what it stands for.
//!
//! In: the sources and their trees, the file that was asked for first. Out: the policy, and a problem for each mistake.
//! Must never fail, tell of one mistake twice, or judge whether the procedure is a good one.

mod amounts;
mod branches;
mod conditions;
mod declare;
mod holds;
mod items;
mod levels;
mod names;
mod near;
mod outline;
mod paper;
mod prints;
mod sentences;
mod sequences;
mod titles;
mod wishes;

use std::collections::{BTreeMap, BTreeSet};

pub use near::{Near, near};

use crate::syntax::declared::Thing;
use crate::syntax::problem::{Problem, ProblemKind};
use crate::syntax::tree::{Name, Statement, Tree, What};
use crate::text::{Sources, Span};

use super::{Choice, FactId, Gap, GapOf, ItemId, LevelId, Policy, RoleId};
use names::{Names, Wanted};
use outline::{Block, Entry};
use titles::Titles;

/// The policy that the trees make up, as far as it can be told, and what could not be resolved. A step with a name that
/// stands for nothing is left out and noted among the policy's gaps.
pub fn resolve(sources: &Sources, trees: &[Tree]) -> (Policy, Vec<Problem>) {
    let outline = outline::outline(sources, trees);
    let mut resolution = Resolution::new(sources, outline.problems);
    for (line, names) in &outline.half {
        names.iter().for_each(|name| resolution.names.half_declare(name));
        resolution.policy.gaps.push(Gap { span: line.span, of: GapOf::Everything });
    }
    resolution.paper(&outline.paper, trees, &outline.blocks);
    resolution.names.open = !resolution.policy.paper.is_policy;
    resolution.notice_emptiness(trees);
    let declared = resolution.declare(&outline.blocks);
    resolution.fill(&outline.blocks, &declared);
    resolution.collect_puts_on(&outline.blocks);
    resolution.sequences(&outline.blocks);
    resolution.prints(&outline.blocks);
    resolution.policy.left_open = resolution.names.left_open.into_iter().collect();
    let mut problems = resolution.names.problems;
    problems.sort_by_key(|problem| problem.span);
    (resolution.policy, problems)
}

/// A title as it is compared: case and spacing make no difference to a reader.
pub fn folded_title(title: &str) -> String {
    titles::fold(title)
}

/// The work in hand.
struct Resolution<'a> {
    sources: &'a Sources,
    names: Names,
    titles: Titles,
    policy: Policy,
    /// Who puts what on, at which level: they own what they wear.
    puts_on: BTreeSet<(LevelId, RoleId, ItemId)>,
    /// The facts so far, by what they say.
    facts: BTreeMap<String, FactId>,
    /// Lines of document control that were read.
    read: BTreeSet<Span>,
}

impl<'a> Resolution<'a> {
    fn new(sources: &'a Sources, problems: Vec<Problem>) -> Resolution<'a> {
        Resolution {
            sources,
            names: Names::after(problems),
            titles: Titles::default(),
            policy: Policy::default(),
            puts_on: BTreeSet::new(),
            facts: BTreeMap::new(),
            read: BTreeSet::new(),
        }
    }

    /// A file that says nothing but notes has nothing in it that could be checked.
    fn notice_emptiness(&mut self, trees: &[Tree]) {
        let Some(main) = trees.first() else { return };
        if main.lines.iter().all(|line| matches!(line.what, What::Statement(Statement::Note))) {
            self.problem(ProblemKind::Empty, Span::new(main.source, 0, 0));
        }
    }

    fn problem(&mut self, kind: ProblemKind, span: Span) {
        self.names.push(kind, span);
    }

    /// A line that says again, or otherwise, what a line of its kind said before.
    fn again(&mut self, span: Span, first: Option<Span>) {
        let kind = ProblemKind::Again { line: outline::shown(self.sources, span) };
        let related = first.map(|first| (first, "The first one is here.".to_owned())).into_iter().collect();
        self.names.problems.push(Problem { kind, span, related });
    }

    /// The text as written, with single spaces.
    fn written(&self, span: Span) -> String {
        self.sources.text(span).split_whitespace().collect::<Vec<_>>().join(" ")
    }

    fn find(&mut self, name: &Name, wanted: Wanted) -> Option<usize> {
        self.names.find(name, wanted).map(|(_, index)| index)
    }

    /// A word from a fixed list; a slip of the keyboard is told and taken for what it most resembles.
    fn word<T>(
        &mut self,
        name: &Name,
        what: &'static str,
        known: &[&'static str],
        read: impl Fn(&str) -> Option<T>,
    ) -> Option<T> {
        let text = names::without_article(&name.text).unwrap_or(&name.text);
        if let Some(found) = read(text) {
            return Some(found);
        }
        let nearest = near(text, known.iter().copied());
        let kind = ProblemKind::Word {
            written: name.text.clone(),
            what,
            known: known.iter().map(|&word| word.to_owned()).collect(),
            near: nearest.map(|near| near.name.to_owned()),
        };
        self.problem(kind, name.span);
        let found = nearest.filter(|near| near.sure).and_then(|near| read(near.name));
        self.names.failed += usize::from(found.is_none());
        found
    }
}

/// For each block, the identifier that its name was given; none for later declarations of the same name.
type Declarations = Vec<Option<u16>>;

impl<'a> Resolution<'a> {
    /// Gives every declared name its identifier, before any use is looked at.
    fn declare(&mut self, blocks: &[Block]) -> Declarations {
        let mut declared = Vec::with_capacity(blocks.len());
        for block in blocks {
            let (kind, name) = match block.says {
                Statement::Source { name, .. } => (Thing::Source, name),
                Statement::Hazard(name) => (Thing::Hazard, name),
                Statement::Place { name, .. } => (Thing::Place, name),
                Statement::Role(name) => (Thing::Role, name),
                Statement::Item { name, .. } => (Thing::Item, name),
                Statement::Surface(name) => (Thing::Surface, name),
                Statement::Cleaner { name, .. } => (Thing::Cleaner, name),
                Statement::Container { name, .. } => (Thing::Container, name),
                Statement::Level { name, .. } => (Thing::Level, name),
                Statement::ChoiceOfLevel => {
                    self.declare_questions(block);
                    declared.push(None);
                    continue;
                }
                _ => {
                    declared.push(None);
                    continue;
                }
            };
            let shown = self.written(name.span);
            declared.push(self.names.declare(kind, name, shown));
        }
        declared
    }

    /// The questions get their identifiers in the order of all `ask` lines.
    fn declare_questions(&mut self, block: &Block) {
        for entry in &block.entries {
            let Entry::Says(_, Statement::Ask { name, question }) = entry else { continue };
            let shown = self.written(name.span);
            if self.names.declare(Thing::Question, name, shown).is_some() {
                let asked =
                    super::Question { name: self.written(name.span), words: question.text.clone(), span: name.span };
                self.policy.choice.get_or_insert_with(Choice::default).questions.push(asked);
            }
        }
    }

    /// Fills the tables in the order of the identifiers. A second declaration is looked through too, and then dropped.
    fn fill(&mut self, blocks: &[Block], declared: &Declarations) {
        for (block, id) in blocks.iter().zip(declared) {
            let first = id.is_some();
            let failed = self.names.failed;
            match block.says {
                Statement::Source { name, title } => self.source(block, name, title, first),
                Statement::Hazard(name) => self.hazard(block, name, first),
                Statement::Place { name, kind } => self.place(name, *kind, first),
                Statement::Role(name) => self.role(block, name, first),
                Statement::Item { name, printed } => self.item(block, name, printed.as_ref(), first),
                Statement::Surface(name) => self.surface(block, name, first),
                Statement::Cleaner { name, printed } => self.cleaner(block, name, printed.as_ref(), first),
                Statement::Container { name, printed } => self.container(block, name, printed.as_ref(), first),
                _ => continue,
            }
            self.note_gap(block, *id, failed);
        }
        for (block, id) in blocks.iter().zip(declared) {
            let failed = self.names.failed;
            match block.says {
                Statement::Level { name, against } => self.level(block, name, against, id.is_some()),
                Statement::Way(places) => self.way(block, places),
                _ => continue,
            }
            self.note_gap(block, *id, failed);
        }
        for block in blocks.iter().filter(|block| matches!(block.says, Statement::ChoiceOfLevel)) {
            let failed = self.names.failed;
            self.choice(block);
            self.note_gap(block, None, failed);
        }
    }

    /// Notes that something in a block could not be read, or stands for nothing: `failed` counts what did before it.
    fn note_gap(&mut self, block: &Block, id: Option<u16>, failed: usize) {
        let hole = block.entries.iter().any(|entry| matches!(entry, Entry::Hole(..)));
        if !hole && self.names.failed == failed {
            return;
        }
        let of = match (block.says, id) {
            (Statement::Source { .. }, _) => return,
            (Statement::ChoiceOfLevel, _) => GapOf::Choice,
            (Statement::Item { .. }, Some(id)) => GapOf::Item(ItemId(id)),
            (Statement::Level { .. }, Some(id)) => GapOf::Level(LevelId(id)),
            _ => GapOf::Everything,
        };
        self.policy.gaps.push(Gap { span: block.opener.span, of });
    }
}
