//! Which lines belong together: each opening line with the lines beneath it.
//!
//! In: the lines of all trees. Out: blocks in the order of the files, and a problem for each line that stands beneath
//! nothing that could take it. Must never look a name up.

use super::near::near;
use crate::syntax::problem::{Problem, ProblemKind};
use crate::syntax::tree::{Line, Statement, Tree, What};
use crate::text::{Sources, Span};

#[derive(Debug)]
pub struct Block<'a> {
    pub opener: &'a Line,
    pub says: &'a Statement,
    pub entries: Vec<Entry<'a>>,
}

#[derive(Clone, Copy, Debug)]
pub enum Entry<'a> {
    Says(&'a Line, &'a Statement),
    /// A line that could not be read, which seems to be a step, a branch or a prompt.
    Hole(&'a Line, Seems),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seems {
    Opener,
    Branch,
    EndOfBranch,
    Beneath,
    Step,
    /// What comes after a drill.
    Ending,
}

#[derive(Debug, Default)]
pub struct Outline<'a> {
    pub blocks: Vec<Block<'a>>,
    /// Lines of document control, each with whether it stands in the file that was asked for.
    pub paper: Vec<(&'a Line, &'a Statement, bool)>,
    pub problems: Vec<Problem>,
    /// Declarations that could not be read to the end, with the names that they would have declared.
    pub half: Vec<(&'a Line, Vec<String>)>,
}

const OPENERS: [&str; 16] = [
    "policy",
    "use",
    "source",
    "hazard",
    "place",
    "way",
    "role",
    "item",
    "surface",
    "cleaner",
    "container",
    "level",
    "choice",
    "sequence",
    "contingency",
    "print",
];
const BENEATH: [&str; 47] = [
    "from",
    "dated",
    "page",
    "link",
    "spreads",
    "helps",
    "watches",
    "leads",
    "covers",
    "goes",
    "tucks",
    "grip",
    "holds",
    "connects",
    "meets",
    "picture",
    "needs",
    "single",
    "reused",
    "sharp",
    "runs",
    "fills",
    "worn",
    "stands",
    "laid",
    "starts",
    "strength",
    "wet",
    "not",
    "worth",
    "keep",
    "assume",
    "stay",
    "even",
    "ask",
    "yes",
    "no",
    "say",
    "look",
    "stop",
    "caution",
    "warning",
    "danger",
    "because",
    "takes",
    "laminated",
    "both",
];

/// Groups the lines of all files; the first tree is the file that was asked for.
pub fn outline<'a>(sources: &Sources, trees: &'a [Tree]) -> Outline<'a> {
    let mut outline = Outline::default();
    for (at, tree) in trees.iter().enumerate() {
        let mut state = State::Nothing;
        // A link right after document control is the policy's own.
        let mut in_paper = false;
        for line in &tree.lines {
            match &line.what {
                What::Statement(Statement::Note) => {}
                What::Statement(says) if is_paper(says) || in_paper && matches!(says, Statement::Link(_)) => {
                    in_paper = true;
                    outline.paper.push((line, says, at == 0));
                }
                What::Statement(says) if is_opener(says) => {
                    in_paper = false;
                    outline.blocks.push(Block { opener: line, says, entries: Vec::new() });
                    state = State::Within { astray: false };
                }
                What::Statement(says) => outline.place(sources, line, says, &mut state),
                What::Hole => outline.place_hole(sources, line, &mut state),
            }
        }
    }
    outline
}

/// What the lines that follow belong to.
#[derive(Clone, Copy, PartialEq)]
enum State {
    Nothing,
    /// The last block; `astray`: the line before had no place in it and was told.
    Within {
        astray: bool,
    },
    /// An opener that could not be read, or lines that follow from one mistake: taken without a word.
    Swallow,
}

impl<'a> Outline<'a> {
    fn place(&mut self, sources: &Sources, line: &'a Line, says: &'a Statement, state: &mut State) {
        let told = match (*state, self.blocks.last_mut()) {
            (State::Swallow, _) => return,
            (State::Within { .. }, Some(block)) if takes(block.says, says) => {
                block.entries.push(Entry::Says(line, says));
                *state = State::Within { astray: false };
                return;
            }
            (State::Within { astray }, Some(block)) => {
                if block.entries.iter().any(|entry| matches!(entry, Entry::Hole(..))) {
                    *state = State::Swallow;
                    return;
                }
                astray
            }
            (_, _) => false,
        };
        if !told {
            let kind = ProblemKind::Astray { line: shown(sources, line.span), belongs: belongs(says) };
            self.problems.push(Problem { kind, span: line.span, related: Vec::new() });
        }
        *state = match *state {
            State::Within { .. } => State::Within { astray: true },
            _ => State::Swallow,
        };
    }

    fn place_hole(&mut self, sources: &Sources, line: &'a Line, state: &mut State) {
        let text = folded(sources.text(line.span));
        let seems = seems(&text);
        if seems == Seems::Opener {
            if !is_apart(&text) {
                self.half.push((line, half_declared(&text)));
            }
            *state = State::Swallow;
        } else if let (State::Within { .. }, Some(block)) = (*state, self.blocks.last_mut()) {
            block.entries.push(Entry::Hole(line, seems));
            if seems == Seems::Step && !matches!(block.says, Statement::Sequence { .. } | Statement::Contingency { .. })
            {
                *state = State::Swallow;
            }
        } else {
            *state = State::Swallow;
        }
    }
}

/// What an unreadable line seems to be, by its first word.
fn seems(text: &str) -> Seems {
    let mut words = text.split(' ');
    let first = words.next().unwrap_or_default();
    let second = words.next().unwrap_or_default();
    match first {
        "if" if second.starts_with("not") => return Seems::Beneath,
        "if" => return Seems::Branch,
        "otherwise" => return Seems::Beneath,
        "end" | "endif" => return Seems::EndOfBranch,
        "then" => return Seems::Ending,
        "part" | "hold" | "on" | "read" | "copies" | "two" | "for" => return Seems::Beneath,
        "accept" | "differ" | "differs" => return Seems::Opener,
        _ => {}
    }
    if OPENERS.contains(&first) {
        Seems::Opener
    } else if BENEATH.contains(&first) {
        Seems::Beneath
    } else if first.len() > 2 && near(first, OPENERS).is_some_and(|near| near.sure) {
        Seems::Opener
    } else if first.len() > 2 && near(first, BENEATH).is_some_and(|near| near.sure) {
        Seems::Beneath
    } else {
        Seems::Step
    }
}

/// Whether nothing that is checked depends on an unreadable opener.
fn is_apart(text: &str) -> bool {
    const APART: [&str; 7] = ["policy", "use", "source", "choice", "print", "accept", "differ"];
    let first = text.split(' ').next().unwrap_or_default();
    APART.contains(&first) || near(first, APART).is_some_and(|near| near.sure)
}

/// The name that an unreadable declaration would have declared: what stands between its first word and a quote or comma.
/// Where the name ends is not certain, so each run of words from its beginning may be it.
fn half_declared(text: &str) -> Vec<String> {
    let Some((first, rest)) = text.split_once(' ') else { return Vec::new() };
    if first == "sequence" || near(first, ["sequence"]).is_some_and(|near| near.sure) {
        return Vec::new();
    }
    let end = rest.find(['"', ',', '\u{201c}', '\u{201d}']).unwrap_or(rest.len());
    let words: Vec<&str> = rest[..end].split_whitespace().take(6).collect();
    (1..=words.len()).map(|length| words[..length].join(" ")).collect()
}

/// Lower case, single spaces.
pub fn folded(text: &str) -> String {
    text.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

fn is_paper(says: &Statement) -> bool {
    use Statement::*;
    matches!(
        says,
        Policy(_)
            | Site(_)
            | Edition(_)
            | Owner(_)
            | Approved { .. }
            | InForce(_)
            | ApprovalNeeds(_)
            | ReviewBy(_)
            | Withdrawn(_)
            | Replaces(_)
            | Language(_)
    )
}

fn is_opener(says: &Statement) -> bool {
    use Statement::*;
    matches!(
        says,
        Use(_)
            | Source { .. }
            | Hazard(_)
            | Place { .. }
            | Way(_)
            | Role(_)
            | Item { .. }
            | Surface(_)
            | Cleaner { .. }
            | Container { .. }
            | Level { .. }
            | ChoiceOfLevel
            | Sequence { .. }
            | Contingency { .. }
            | Print { .. }
            | Accept { .. }
            | Differ { .. }
    )
}

fn takes(opener: &Statement, says: &Statement) -> bool {
    use Statement::*;
    match opener {
        Source { .. } => matches!(says, From(_) | Dated(_) | Page(_) | Link(_)),
        Hazard(_) => matches!(says, SpreadsBy(_)),
        Role(_) => matches!(says, Helps(_) | Watches | Leads),
        Item { .. } => matches!(says, GoesTo(_)) || belongs(says) == "beneath an item",
        Surface(_) => matches!(says, StandsIn(_) | LaidIn(_) | StartsClean | StartsContaminated | GoesTo(_)),
        Cleaner { .. } => matches!(says, ContainerFor(_)) || belongs(says) == "beneath a cleaner",
        Container { .. } => matches!(says, ContainerFor(_) | StandsIn(_) | Holds(_)),
        Level { .. } => belongs(says) == "beneath a level",
        ChoiceOfLevel => belongs(says) == "beneath the choice of level",
        Sequence { .. } => !matches!(says, ThenCarryOn | ThenStart(_)) && is_of_steps(says),
        Contingency { .. } => !matches!(says, Part(_)) && is_of_steps(says),
        Print { .. } => belongs(says) == "beneath a print line",
        _ => false,
    }
}

fn is_of_steps(says: &Statement) -> bool {
    use Statement::*;
    matches!(
        says,
        Part(_)
            | Hold(_)
            | Confirms { .. }
            | IfNotGoBack(_)
            | IfNotStart(_)
            | If(_)
            | Otherwise
            | EndIf
            | ThenCarryOn
            | ThenStart(_)
            | Step(_)
    ) || says.is_prompt()
}

/// Where a line could stand, as the end of a sentence: "This line belongs …".
pub fn belongs(says: &Statement) -> &'static str {
    use Statement::*;
    match says {
        From(_) | Dated(_) | Page(_) => "beneath a source",
        Link(_) => "beneath a source or a policy line",
        SpreadsBy(_) => "beneath a hazard",
        Helps(_) | Watches | Leads => "beneath a role",
        Covers(_) | GoesOver(_) | TucksInto(_) | Grip(_) | HoldsDown(_) | ConnectsTo(_) | Meets(_) | Picture(_)
        | NeedsFitTest | SingleUse | ReusedAfter(_) | Sharp | RunsFor(_) | Fills(_) | WornBeneath | Pairs(_)
        | Sizes(_) => "beneath an item",
        GoesTo(_) => "beneath an item or a surface",
        StandsIn(_) => "beneath a surface or a container",
        LaidIn(_) | StartsClean | StartsContaminated => "beneath a surface",
        ForHands | ForSurfaces | Strength(_) | WetFor(_) | NotOnVisibleSoil | Worth(_) => "beneath a cleaner",
        ContainerFor(_) | Holds(_) => "beneath a container",
        Wears { .. }
        | KeepCovered(_)
        | AssumeFronts
        | AssumeEverything
        | KeepAway { .. }
        | StayNoLonger(_)
        | Needs(_)
        | Forbids(_) => "beneath a level",
        Ask { .. } | Gives { .. } | OtherwiseGives(_) | Outranks { .. } => "beneath the choice of level",
        OnPaper(_) | ReadFrom(_) | Copies { .. } | Laminated | BothSides => "beneath a print line",
        Part(_) => "inside a sequence",
        ThenCarryOn | ThenStart(_) => "at the end of a contingency",
        Confirms { .. } | IfNotGoBack(_) | IfNotStart(_) => "beneath a hold",
        Takes(_) | PrintAs(_) => "beneath a step",
        says if says.is_prompt() => "beneath a step or a hold",
        _ => "inside a sequence or a contingency",
    }
}

/// A line in short, to name it by.
pub fn shown(sources: &Sources, span: Span) -> String {
    const MOST: usize = 60;
    let text = sources.text(span).split_whitespace().collect::<Vec<_>>().join(" ");
    match text.char_indices().nth(MOST) {
        Some((end, _)) => format!("{} …", text[..end].trim_end()),
        None => text,
    }
}

/// A span that covers a block from its opening line to its last.
pub fn extent(block: &Block) -> Span {
    block.entries.iter().fold(block.opener.span, |so_far, entry| match entry {
        Entry::Says(line, _) | Entry::Hole(line, _) => so_far.to(line.span),
    })
}
