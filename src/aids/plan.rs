//! What is to be printed. All text is final: the typesetter chooses where it stands and adds none of its own.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::compare::sides;
use crate::policy::PaperSize;

#[derive(Clone, Debug, Serialize)]
pub struct PrintPlan {
    pub aids: Vec<Aid>,
    /// What the policy asks for and this edition does not make, each a sentence with its place in the policy.
    pub not_made: Vec<String>,
}

impl PrintPlan {
    /// What all of its aids are marked with.
    pub fn marking(&self) -> Option<Marking> {
        self.aids.first().and_then(|aid| aid.marking.clone())
    }
}

/// One aid: one PDF.
#[derive(Clone, Debug, Serialize)]
pub struct Aid {
    /// Without ending; lower case letters, digits and hyphens; no two aids of a plan share one.
    pub file: String,
    pub layout: Layout,
    /// BCP 47.
    pub language: String,
    pub right_to_left: bool,
    pub paper: PaperSize,
    /// The paper lies on its long edge.
    pub sideways: bool,
    pub both_sides: bool,
    pub laminated: bool,
    /// As a picture for a screen too.
    #[serde(skip)]
    pub pictured: bool,
    /// Millimetres from which it is to be read; none for hand-held aids.
    pub read_from_mm: Option<u32>,
    /// What it is: `Taking off`.
    pub title: String,
    /// What kind of aid: `Observer card`.
    pub kind: String,
    /// Who holds it or where it hangs: `12 copies for exit lobby`.
    pub copies: Vec<String>,
    /// The same as numbers.
    #[serde(skip)]
    pub quantities: Vec<Quantity>,
    pub control: Control,
    /// What every face is marked with; none where the edition is in force.
    pub marking: Option<Marking>,
    /// The hospital's own drawings that the aid shows, by the keys of its pictograms.
    #[serde(skip)]
    pub drawings: BTreeMap<String, String>,
    /// The files of the policy, each by its name alone, to go into the PDF.
    #[serde(skip)]
    pub sources: Vec<SourceFile>,
    pub body: Body,
    pub labels: Labels,
    /// The place in the policy that asked for it: `side-room.ppe line 12`, for messages.
    pub asked_at: String,
}

/// So many copies for one place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quantity {
    pub count: u32,
    pub place: Option<String>,
}

/// That an edition is not to be followed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Marking {
    /// `DRAFT`, across the face and in a band above its title.
    pub word: String,
    /// Why, each a sentence.
    pub reasons: Vec<String>,
    /// The same in the program's own language, where the aid speaks another.
    pub original: Vec<String>,
}

impl Marking {
    /// The reasons as they are told to whoever prints.
    pub fn told(&self) -> &[String] {
        if self.original.is_empty() { &self.reasons } else { &self.original }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Layout {
    Card,
    Poster,
    KitList,
    WalkChart,
    /// Logs, records and forms: what is printed and what is left to be filled in.
    Form,
    DoorSign,
    AreaPlan,
    ChoicePoster,
    /// Two editions, for those who sign.
    Review,
}

#[derive(Clone, Debug, Serialize)]
pub struct SourceFile {
    pub name: String,
    pub text: String,
}

/// Document control, on every face.
#[derive(Clone, Debug, Serialize)]
pub struct Control {
    pub policy: String,
    pub site: String,
    pub level: String,
    /// The place where the sequence happens; empty for aids that belong to none.
    pub place: String,
    /// `Edition 4`
    pub edition: String,
    /// `In force from 1 December 2026`
    pub in_force: String,
    /// `Review by 1 June 2027`
    pub review: String,
    /// `Owner: …`
    pub owner: String,
    /// `Approved by … on …`, or `Not approved`
    pub approval: String,
    /// First eight hexadecimal digits of the SHA-256 of the policy's meaning.
    pub fingerprint: String,
    /// What the square code beside this holds, and what is read aloud in its place.
    pub code: String,
    pub code_alt: String,
    /// `2026-12-01`, for the PDF's metadata; none where the policy has no date.
    pub date: Option<String>,
    pub caution: String,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Body {
    Steps(Steps),
    Kit(Kit),
    Chart(Box<Chart>),
    Form(Form),
    Sign(Sign),
    Area(Area),
    Choice(Choice),
    Review(Box<Review>),
}

#[derive(Clone, Debug, Serialize)]
pub struct Steps {
    /// One line under the title; may be empty.
    pub intro: String,
    pub bands: Vec<Band>,
    /// One line for each item worn, for the strip at the side of a poster; in the order in which they come off (or go on).
    pub layers: Vec<Layer>,
    /// True where lines begin at a step (putting on), false where they end at one.
    pub putting_on: bool,
    /// How a drill goes on after its last step: `Then carry on where you stopped.` None for sequences.
    pub endings: Vec<String>,
}

/// A part of the sequence.
#[derive(Clone, Debug, Serialize)]
pub struct Band {
    /// Empty for steps before the first part.
    pub title: String,
    pub rows: Vec<Row>,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Row {
    Step(StepRow),
    Hold(HoldRow),
}

#[derive(Clone, Debug, Serialize)]
pub struct StepRow {
    pub number: u32,
    /// Hand cleaning is a quiet row.
    pub quiet: bool,
    /// Another's step, on a card that tells it only so that its reader knows the place: to be set small.
    pub brief: bool,
    /// The act, one imperative: `Take off the apron by its ties`.
    pub act: String,
    /// The rest of it: `Roll it inside out. Into the orange clinical waste bag.` May be empty.
    pub detail: String,
    /// Who acts, where it is not the one who dresses or undresses: `Helper`; `You` for the acts of the card's own
    /// reader. Empty otherwise.
    pub who: String,
    /// `Only if the apron is soiled`. Empty: always.
    pub when: String,
    /// A key of the pictogram table, and its alternative text.
    pub pictogram: Option<Pictogram>,
    pub say: Vec<String>,
    pub look_for: Vec<String>,
    pub stop_if: Vec<String>,
    pub signals: Vec<SignalPanel>,
    pub because: Vec<String>,
    /// Items still on after the step and all items of the kit; none for aids that do not show it.
    pub still_on: Option<StillOn>,
    /// `hand rub, 30 seconds` for quiet rows.
    pub quiet_detail: String,
}

#[derive(Clone, Debug, Serialize)]
pub struct Pictogram {
    pub key: String,
    pub alt: String,
}

#[derive(Clone, Debug, Serialize)]
pub struct StillOn {
    pub on: u32,
    pub of: u32,
    /// `6 still on`
    pub words: String,
}

#[derive(Clone, Debug, Serialize)]
pub struct SignalPanel {
    pub signal: SignalWord,
    pub word: String,
    pub text: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum SignalWord {
    Danger,
    Warning,
    Caution,
}

#[derive(Clone, Debug, Serialize)]
pub struct HoldRow {
    /// `Clear to start`
    pub title: String,
    /// `Observer confirms:` and what, one for each who confirms.
    pub confirms: Vec<Confirm>,
    /// `If not, go back to step 3, Arrive.` May be empty.
    pub if_not: String,
    pub when: String,
    pub say: Vec<String>,
    pub look_for: Vec<String>,
    pub stop_if: Vec<String>,
    pub signals: Vec<SignalPanel>,
}

#[derive(Clone, Debug, Serialize)]
pub struct Confirm {
    /// `Observer confirms:`, `You confirm:`
    pub who: String,
    pub what: String,
}

/// One line of the strip.
#[derive(Clone, Debug, Serialize)]
pub struct Layer {
    pub name: String,
    /// The step's number at which it goes on; none: from the beginning.
    pub from: Option<u32>,
    /// The step's number at which it comes off; none: to the end.
    pub to: Option<u32>,
}

#[derive(Clone, Debug, Serialize)]
pub struct Kit {
    pub intro: String,
    pub roles: Vec<KitOfRole>,
    /// What else is needed: cleaners and containers.
    pub supplies: Vec<KitRow>,
    pub supplies_title: String,
}

#[derive(Clone, Debug, Serialize)]
pub struct KitOfRole {
    pub role: String,
    pub rows: Vec<KitRow>,
}

#[derive(Clone, Debug, Serialize)]
pub struct KitRow {
    pub name: String,
    /// `1`, `2 pairs`, spares included
    pub count: String,
    /// `EN 149 FFP3 · single use · sizes S, M, L`
    pub detail: String,
    pub pictogram: Option<Pictogram>,
}

/// How near the hazard comes: a row for each step, a lane for each stretch of skin and each of the own clothes.
#[derive(Clone, Debug, Serialize)]
pub struct Chart {
    /// What the figures are, over how many cases.
    pub intro: String,
    /// Only those with lanes.
    pub people: Vec<ChartPerson>,
    pub bands: Vec<ChartBand>,
    /// Beneath the steps: the nearest of each lane as planned, after one slip and after two; and what the level asks.
    pub sums: Vec<ChartSum>,
    /// Where the hazard comes nearer than the level allows.
    pub signals: Vec<SignalPanel>,
    /// By which touches it comes nearest, and what it never reaches; a sentence each.
    pub notes: Vec<String>,
    pub key: ChartKey,
}

#[derive(Clone, Debug, Serialize)]
pub struct ChartPerson {
    pub name: String,
    pub lanes: Vec<Lane>,
}

#[derive(Clone, Debug, Serialize)]
pub struct Lane {
    /// `Hands`, `Eyes, nose, mouth`, `Scrubs`
    pub name: String,
    /// The least touches that the level allows; none where it asks nothing.
    pub margin: Option<u16>,
    /// Whatever is outermost on the hands, which may be kit: what the person touches with.
    pub is_outermost: bool,
}

/// A part of the sequence.
#[derive(Clone, Debug, Serialize)]
pub struct ChartBand {
    pub title: String,
    pub rows: Vec<ChartRow>,
}

#[derive(Clone, Debug, Serialize)]
pub struct ChartRow {
    /// Empty for a hold.
    pub number: String,
    pub who: String,
    /// `Take off long apron`, or the hold's title.
    pub act: String,
    /// Not done in every case.
    pub sometimes: bool,
    pub is_hold: bool,
    /// False for a step that no case comes to: its cells say nothing.
    pub is_played: bool,
    /// One for each person.
    pub marks: Vec<ChartMark>,
    /// One for each lane of everybody, in order.
    pub cells: Vec<ChartCell>,
}

#[derive(Clone, Debug, Serialize)]
pub struct ChartMark {
    pub mark: Mark,
    /// The mark in words.
    pub alt: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Mark {
    None,
    /// Hands are cleaned.
    Hands,
    /// Kit is wiped or sprayed.
    Kit,
    On,
    Off,
    Change,
}

#[derive(Clone, Debug, Serialize)]
pub struct ChartCell {
    /// Touches away; none: out of reach.
    pub touches: Option<u16>,
    /// The same after one slip.
    pub slipped: Option<u16>,
    /// `3`, or the sign for what is out of reach.
    pub words: String,
    /// Not as after the step before.
    pub changed: bool,
    /// Nearer than the level allows.
    pub near: bool,
    /// The nearest approach to the person.
    pub ringed: bool,
}

#[derive(Clone, Debug, Serialize)]
pub struct ChartSum {
    pub label: String,
    pub cells: Vec<ChartCell>,
}

/// What the signs mean; empty where the chart has none of that sign.
#[derive(Clone, Debug, Serialize)]
pub struct ChartKey {
    pub tide: String,
    pub outermost: String,
    pub slipped: String,
    pub margin: String,
    pub near: String,
    pub ring: String,
    pub far: String,
    pub far_sign: String,
    pub sometimes: String,
    pub marks: Vec<ChartMark>,
}

/// What is filled in by hand.
#[derive(Clone, Debug, Serialize)]
pub struct Form {
    pub intro: String,
    pub sections: Vec<FormSection>,
}

#[derive(Clone, Debug, Serialize)]
pub struct FormSection {
    /// Empty for the lines above the first section.
    pub title: String,
    /// How it is filled in. May be empty.
    pub note: String,
    /// A table where there are columns.
    pub columns: Vec<FormColumn>,
    pub rows: Vec<FormRow>,
    /// Its rows are parted neither from one another nor from what stands above them.
    pub bound: bool,
}

impl FormSection {
    /// Whether anything stands above its rows.
    pub fn has_head(&self) -> bool {
        !self.title.is_empty() || !self.columns.is_empty()
    }
}

/// A column of a table.
#[derive(Clone, Debug, Serialize)]
pub struct FormColumn {
    /// May be empty, for a date to be written.
    pub label: String,
    pub holds: FormCell,
    /// Its width against the others of its table; a column to tick is as narrow as its label.
    pub share: u8,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum FormCell {
    /// The words of the row.
    Words,
    /// A box to tick.
    Tick,
    /// Room to write.
    Blank,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum FormRow {
    /// Side by side, each with room to write.
    Fields(Vec<FormField>),
    /// Boxes to tick, side by side as far as there is room.
    Ticks(Vec<String>),
    /// A row of a table.
    Entry(FormEntry),
}

#[derive(Clone, Debug, Serialize)]
pub struct FormField {
    pub label: String,
    /// What is known already; empty: a line to write on.
    pub value: String,
    pub share: u8,
    /// Room for several lines.
    pub tall: bool,
}

#[derive(Clone, Debug, Default, Serialize)]
pub struct FormEntry {
    /// The step's number.
    pub number: String,
    pub words: String,
    /// Beneath the words, or what stands in a second column of words.
    pub detail: String,
    /// A hold.
    pub is_hold: bool,
    /// Stands out above the words. May be empty.
    pub mark: String,
}

/// At the door: what is behind it and what to wear.
#[derive(Clone, Debug, Serialize)]
pub struct Sign {
    /// `STOP`
    pub stop: String,
    /// `Nobody goes in without this kit, put on in this order and checked.`
    pub rule: String,
    /// `Spreads by contact, splash`
    pub hazards: Vec<String>,
    pub wear_title: String,
    pub wear: Vec<SignKit>,
    /// What is to be known before going in: holds, the longest stay.
    pub before: Vec<String>,
    /// `Ask: Infection Prevention and Control Team`
    pub ask: String,
}

#[derive(Clone, Debug, Serialize)]
pub struct SignKit {
    pub role: String,
    /// In the order in which it goes on.
    pub items: Vec<SignItem>,
}

#[derive(Clone, Debug, Serialize)]
pub struct SignItem {
    pub name: String,
    pub pictogram: Option<Pictogram>,
}

/// The places and the ways between them.
#[derive(Clone, Debug, Serialize)]
pub struct Area {
    pub intro: String,
    /// In the order in which they are walked through.
    pub places: Vec<AreaPlace>,
    pub moves: Vec<AreaMove>,
    /// What the arrows mean.
    pub notes: Vec<String>,
}

#[derive(Clone, Debug, Serialize)]
pub struct AreaPlace {
    pub name: String,
    pub kind: AreaKind,
    /// `contaminated`
    pub kind_words: String,
    /// What happens there: `Taking off: steps 1 to 24`.
    pub sequences: Vec<String>,
    /// What stands there.
    pub things: Vec<SignItem>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum AreaKind {
    Clean,
    PuttingOn,
    TakingOff,
    Contaminated,
}

/// From one place to another, by their indices.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct AreaMove {
    pub from: usize,
    pub to: usize,
    /// The ways lead back, too.
    pub both: bool,
}

/// The choice of level, from top to bottom.
#[derive(Clone, Debug, Serialize)]
pub struct Choice {
    pub intro: String,
    pub rows: Vec<ChoiceRow>,
    /// `Yes`, `No`, `All of these`, `Otherwise`
    pub yes: String,
    pub no: String,
    pub all: String,
    pub otherwise: String,
    /// Which level outranks which: `Where in doubt, the higher: Transfer before Watch.`
    pub notes: Vec<String>,
}

/// One line of the decision table.
#[derive(Clone, Debug, Serialize)]
pub struct ChoiceRow {
    /// What is asked, and whether the answer is yes; none for the line that takes all others.
    pub asked: Vec<ChoiceAnswer>,
    pub level: String,
}

#[derive(Clone, Debug, Serialize)]
pub struct ChoiceAnswer {
    pub words: String,
    pub is_yes: bool,
}

/// Two editions for those who sign: what is weaker first and whole, then both side by side, then the signatures.
#[derive(Clone, Debug, Serialize)]
pub struct Review {
    /// `For the committee. Not to be followed on a ward.`
    pub purpose: String,
    /// What both editions say of themselves: `Fingerprint`, and that of each.
    pub editions: [String; 2],
    pub control: Vec<Told>,
    /// Both fingerprints, for the head of every face.
    pub fingerprints: String,
    pub headline: String,
    pub is_weaker: bool,
    pub counts: Vec<ReviewCount>,
    /// On the first face, where what weakens protection stands on it as a whole; and where some of it follows, with the
    /// braces to be filled. Empty where nothing weakens it.
    pub all_here: String,
    pub more_follow: String,
    pub sections: Vec<ReviewSection>,
    pub signing: Signing,
}

/// A line of a table with a column for each edition.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Told {
    pub label: String,
    pub both: [String; 2],
}

#[derive(Clone, Debug, Serialize)]
pub struct ReviewCount {
    pub number: usize,
    pub words: String,
}

#[derive(Clone, Debug, Serialize)]
pub struct ReviewSection {
    pub title: String,
    /// May be empty.
    pub note: String,
    /// A table where there are columns.
    pub columns: Vec<ReviewColumn>,
    pub rows: Vec<ReviewRow>,
    /// Tells how protection is weaker.
    pub is_weaker: bool,
    /// Begins on a new face.
    pub begins: bool,
}

#[derive(Clone, Debug, Serialize)]
pub struct ReviewColumn {
    pub label: String,
    /// Its width against the others of its table.
    pub share: u8,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ReviewRow {
    Point(ReviewPoint),
    Cells(ReviewCells),
    Pair(Box<ReviewPair>),
}

impl ReviewRow {
    /// In how many places protection is weaker by it.
    pub fn weaker(&self) -> usize {
        match self {
            ReviewRow::Point(point) => point.weaker,
            ReviewRow::Cells(cells) => cells.weaker,
            ReviewRow::Pair(_) => 0,
        }
    }
}

#[derive(Clone, Debug, Serialize)]
pub struct ReviewPoint {
    pub words: String,
    /// Beneath it: the rule that gave the weight, the policy's reason, the hazard's way.
    pub details: Vec<String>,
    pub weaker: usize,
}

#[derive(Clone, Debug, Serialize)]
pub struct ReviewCells {
    /// One for each column.
    pub cells: Vec<String>,
    /// Beneath them, over the whole width. May be empty.
    pub detail: String,
    pub weaker: usize,
}

/// A line of both editions, or of one.
#[derive(Clone, Debug, Serialize)]
pub struct ReviewPair {
    #[serde(flatten)]
    pub row: sides::Row,
    /// In the margin of each edition: `Taken out`. Empty where both say the same.
    pub marks: [String; 2],
    /// `Moved to step 7`, and what is added where that stands on another face, with the braces to be filled.
    pub moved: String,
    pub elsewhere: String,
}

/// Who has looked at it and stands by it.
#[derive(Clone, Debug, Serialize)]
pub struct Signing {
    pub title: String,
    /// What is signed.
    pub statement: Vec<String>,
    /// `Fingerprint of edition 3`, and the fingerprint.
    pub fingerprints: Vec<[String; 2]>,
    /// How to compare them.
    pub how: String,
    /// `Name`, `Role`, `Date`, `Signature`
    pub columns: [String; 4],
    /// `Consulted`, `Approved`, `Ratified`
    pub rows: Vec<String>,
    pub decisions: Vec<String>,
    pub fields: Vec<FormField>,
}

/// The words of the layout itself.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Labels {
    pub hold: String,
    pub say: String,
    pub look_for: String,
    pub stop_if: String,
    /// `Page {n} of {total}` and `Side {n} of {total}`, with the braces to be filled.
    pub page_of: String,
    pub side_of: String,
    pub fingerprint: String,
    pub item: String,
    pub count: String,
    pub check: String,
    pub continued: String,
}
