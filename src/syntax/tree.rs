//! What the writer wrote: one [`Line`] a statement, in the order of the file, nothing resolved and nothing left out.

use super::declared::Thing;
use crate::text::{SourceId, Span};

#[derive(Clone, Debug)]
pub struct Tree {
    pub source: SourceId,
    pub lines: Vec<Line>,
}

/// One logical line: a line that ends in a comma goes on in the next.
#[derive(Clone, Debug)]
pub struct Line {
    /// From the first to the last character of the statement, bullets and list numbers left out.
    pub span: Span,
    /// The words, quotes, numbers and commas in order: what tidying prints.
    pub tokens: Vec<Token>,
    pub what: What,
}

#[derive(Clone, Debug, PartialEq)]
#[expect(clippy::large_enum_variant, reason = "nearly every line is a statement, and holes are few")]
pub enum What {
    Statement(Statement),
    /// A line that could not be read; its problem is told elsewhere.
    Hole,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Token {
    pub kind: TokenKind,
    pub span: Span,
    pub spelling: Spelling,
}

/// How tidying writes a token.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spelling {
    /// A word of the language, in full; nothing for a word that says nothing.
    Word(&'static str),
    /// In full, as its number calls for: `1 minute`.
    Unit,
    Month,
    Lower,
    Upper,
    AsWritten,
    /// As in its declaration, if it is one of these things; else as written.
    Declared(&'static [Thing]),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TokenKind {
    /// A word of the language: printed in lower case.
    Keyword,
    /// A name that the policy declares, or a free word.
    Name,
    /// Quoted text, quotes included: printed as it stands but for the quotes themselves.
    Quote,
    Number,
    Comma,
    /// The text of a note: printed as it stands.
    Note,
}

/// A name as it is compared: lower case, single spaces. The text as written is in the source.
#[derive(Clone, Debug, PartialEq)]
pub struct Name {
    pub text: String,
    pub span: Span,
}

/// Quoted text without its quotes.
#[derive(Clone, Debug, PartialEq)]
pub struct Quote {
    pub text: String,
    pub span: Span,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Date {
    pub year: i16,
    pub month: i8,
    pub day: i8,
    pub span: Span,
}

/// A number with a unit, in thousandths of that unit: `1.5 metres` is 1500 of `metres`. A time of several parts
/// (`1 minute 30 seconds`) is given in seconds. Whether the unit fits is for the resolver to say.
#[derive(Clone, Debug, PartialEq)]
pub struct Amount {
    pub thousandths: u64,
    /// The unit's words in lower case, a known unit in full and in the plural: `seconds`, `ppm chlorine`, `litres`, `%`.
    pub unit: String,
    pub span: Span,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Count {
    pub value: u32,
    pub span: Span,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Statement {
    // The policy's paper.
    Policy(Quote),
    Site(Quote),
    Edition(Count),
    Owner(Quote),
    Approved {
        by: Quote,
        on: Date,
    },
    ApprovalNeeds(Count),
    InForce(Date),
    ReviewBy(Date),
    Withdrawn(Date),
    Replaces(Count),
    Language(Name),
    Use(Quote),
    Note,

    // What the policy declares, and the properties that follow each.
    Source {
        name: Name,
        title: Quote,
    },
    From(Quote),
    Dated(Name),
    Page(Name),
    Link(Quote),

    Hazard(Name),
    SpreadsBy(Vec<Name>),

    Place {
        name: Name,
        kind: PlaceKind,
    },
    Way(Vec<Name>),

    Role(Name),
    Helps(Name),
    Watches,
    Leads,

    Item {
        name: Name,
        printed: Option<Quote>,
    },
    Covers(Vec<Name>),
    GoesOver(Vec<Name>),
    TucksInto(Vec<Name>),
    Grip(Vec<GripPart>),
    HoldsDown(Vec<Name>),
    ConnectsTo(Vec<Name>),
    Meets(Quote),
    /// `picture "our-boots.svg"`
    Picture(Quote),
    /// `needs fit test`
    NeedsFitTest,
    SingleUse,
    ReusedAfter(Vec<Name>),
    /// `goes to CONTAINER`, of items and surfaces
    GoesTo(Name),
    Sharp,
    RunsFor(Amount),
    /// `fills 6 litres`: the room that it takes in its container
    Fills(Amount),
    WornBeneath,
    /// `two pairs`, of an item
    Pairs(Count),
    Sizes(Vec<Name>),

    Surface(Name),
    /// `stands in PLACE`, of surfaces and containers
    StandsIn(Name),
    LaidIn(Name),
    StartsClean,
    StartsContaminated,

    Cleaner {
        name: Name,
        printed: Option<Quote>,
    },
    ForHands,
    ForSurfaces,
    Strength(Amount),
    WetFor(Amount),
    NotOnVisibleSoil,
    /// `worth N touches`: the policy's own figure for what a cleaner takes away
    Worth(Count),

    Container {
        name: Name,
        printed: Option<Quote>,
    },
    /// `for clinical waste`, `for sharps`, `for reuse`
    ContainerFor(Name),
    Holds(Amount),

    Level {
        name: Name,
        against: Vec<Name>,
    },
    Wears {
        role: Name,
        items: Vec<Worn>,
    },
    KeepCovered(Vec<Name>),
    AssumeFronts,
    AssumeEverything,
    KeepAway {
        what: Name,
        touches: Count,
        slips: u8,
    },
    StayNoLonger(Amount),
    Needs(Name),
    Forbids(Name),

    ChoiceOfLevel,
    Ask {
        name: Name,
        question: Quote,
    },
    Gives {
        answers: Vec<Answer>,
        level: Name,
    },
    OtherwiseGives(Name),
    Outranks {
        higher: Name,
        lower: Name,
    },

    // Sequences and contingencies.
    Sequence {
        title: Quote,
        level: Name,
        place: Option<Name>,
    },
    Contingency {
        title: Quote,
        event: Event,
    },
    Part(Quote),
    Hold(Quote),
    Confirms {
        role: Name,
        what: Quote,
    },
    IfNotGoBack(Quote),
    IfNotStart(Quote),
    If(Condition),
    Otherwise,
    EndIf,
    ThenCarryOn,
    ThenStart(Quote),
    Step(Sentence),

    // Lines beneath a step.
    Say(Quote),
    LookFor(Quote),
    StopIf(Quote),
    Caution(Quote),
    Warning(Quote),
    Danger(Quote),
    Because {
        reason: Quote,
        source: Option<Name>,
    },
    Takes(Amount),
    PrintAs(Quote),

    Print {
        kind: Name,
        of: Target,
    },
    OnPaper(Name),
    ReadFrom(Amount),
    Copies {
        count: Count,
        place: Option<Quote>,
    },
    Laminated,
    BothSides,

    Accept {
        finding: Name,
        at: Quote,
        because: Quote,
        until: Date,
    },
    Differ {
        at: Quote,
        because: Quote,
        source: Option<Name>,
    },
}

impl Statement {
    /// A line beneath a step, or beneath a hold where it fits one.
    pub fn is_prompt(&self) -> bool {
        use Statement::*;
        matches!(
            self,
            Say(_)
                | LookFor(_)
                | StopIf(_)
                | Caution(_)
                | Warning(_)
                | Danger(_)
                | Because { .. }
                | Takes(_)
                | PrintAs(_)
        )
    }

    /// A line that only a hold has beneath it.
    pub fn is_of_hold(&self) -> bool {
        matches!(self, Statement::Confirms { .. } | Statement::IfNotGoBack(_) | Statement::IfNotStart(_))
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlaceKind {
    Clean,
    Contaminated,
    ForPuttingOn,
    ForTakingOff,
}

/// `grip ties on legs`
#[derive(Clone, Debug, PartialEq)]
pub struct GripPart {
    pub part: Name,
    pub on: Option<Name>,
}

/// `two pairs inner gloves`
#[derive(Clone, Debug, PartialEq)]
pub struct Worn {
    pub pairs: Option<Count>,
    pub item: Name,
}

/// `yes to A`
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    pub yes: bool,
    pub question: Name,
}

/// `outer gloves are torn`: the subject, and what befalls it. `words` is the whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    pub words: Name,
    pub subject: Name,
    pub state: Name,
}

/// Alternatives of conjunctions: `A and B` is one alternative of two, `A or B` two of one.
#[derive(Clone, Debug, PartialEq)]
pub struct Condition {
    pub any: Vec<Vec<Claim>>,
    pub span: Span,
}

/// `gloves are torn`, `gown is not soiled`, or the name of a question.
#[derive(Clone, Debug, PartialEq)]
pub struct Claim {
    /// The claim without its `not`.
    pub words: Name,
    /// Before `is` or `are`, if one stands there.
    pub subject: Option<Name>,
    pub state: Option<Name>,
    pub denied: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Sentence {
    pub role: Name,
    pub verb: Verb,
    pub when: When,
}

#[derive(Clone, Debug, PartialEq)]
pub enum When {
    Always,
    If(Condition),
    Unless(Condition),
}

#[derive(Clone, Debug, PartialEq)]
pub enum Verb {
    /// `puts on ITEM`, `helps ROLE put on ITEM`; `fresh`, `as far as AREA`
    PutsOn {
        helped: Option<Name>,
        item: Name,
        fresh: bool,
        as_far_as: Option<Name>,
    },
    /// `pulls up ITEM`, `helps ROLE pull up ITEM`
    PullsUp {
        helped: Option<Name>,
        item: Name,
    },
    Changes {
        helped: Option<Name>,
        item: Name,
    },
    TakesOff {
        helped: Option<Name>,
        item: Name,
        how: Removal,
    },
    CleansHands {
        cleaner: Name,
        time: Option<Amount>,
    },
    Wipes {
        target: Name,
        cleaner: Name,
        time: Option<Amount>,
    },
    Sprays {
        target: Name,
        cleaner: Name,
        time: Option<Amount>,
    },
    Checks(Name),
    GoesTo(Name),
    Puts {
        item: Name,
        into: Destination,
    },
    SwitchesOn(Name),
    SwitchesOff(Name),
    Connects {
        item: Name,
        to: Name,
    },
    Disconnects {
        item: Name,
        from: Option<Name>,
    },
    /// `cuts PART of ITEM with ITEM`
    Cuts {
        part: Option<Name>,
        item: Name,
        tool: Option<Name>,
    },
    Breaks {
        part: Option<Name>,
        item: Name,
    },
    Unties(Name),
    StepsOnto(Name),
    StepsOff(Name),
    SitsOn(Name),
    StandsUp,
    Opens(Name),
    Closes(Name),
    Folds(Name),
    /// `does "…"`: anything else
    Does(Quote),
}

impl Verb {
    /// Who is helped, as written.
    pub fn helped(&self) -> Option<&Name> {
        match self {
            Verb::PutsOn { helped, .. }
            | Verb::PullsUp { helped, .. }
            | Verb::Changes { helped, .. }
            | Verb::TakesOff { helped, .. } => helped.as_ref(),
            _ => None,
        }
    }
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Removal {
    pub by: Option<Name>,
    pub inside_out: Option<Span>,
    pub together_with: Vec<Name>,
    pub into: Option<Destination>,
}

/// `into CONTAINER`, `onto SURFACE`
#[derive(Clone, Debug, PartialEq)]
pub enum Destination {
    Into(Name),
    Onto(Name),
}

/// What a `print` line is of: a sequence or contingency by its title, a level by its name, or nothing (`print area plan`).
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    Title(Quote),
    Name(Name),
    Nothing,
}
