//! What an entry or a line can say, by name.

use serde::Serialize;

use super::change::What;

macro_rules! fields {
    ($($name:ident: $words:literal, $is_set:literal, $what:ident;)*) => {
        /// In the order in which differences of one line are told.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
        #[serde(rename_all = "snake_case")]
        pub enum Field { $($name,)* }

        impl Field {
            pub const ALL: &'static [Field] = &[$(Field::$name,)*];

            /// As a reader is told of it.
            pub fn words(self) -> &'static str {
                match self { $(Field::$name => $words,)* }
            }

            /// Whether the order of its words means nothing.
            pub fn is_set(self) -> bool {
                match self { $(Field::$name => $is_set,)* }
            }

            /// What it is to change it.
            pub fn what(self) -> What {
                match self { $(Field::$name => What::$what,)* }
            }
        }
    };
}

fields! {
    // Of a line.
    Act: "what is done", false, Act;
    Actor: "who does it", false, Role;
    Wearer: "on whom", false, Role;
    Object: "what it is done to", false, Item;
    Fresh: "a fresh one", false, Act;
    AsFarAs: "as far as", false, Act;
    Grip: "by which part", false, Grip;
    InsideOut: "rolled inside out", false, Grip;
    TogetherWith: "together with", true, Item;
    Into: "where it goes", false, Container;
    Cleaner: "what it is cleaned with", false, Cleaner;
    CleanedFor: "for how long", false, Time;
    Second: "to or from what", false, Item;
    Tool: "with which tool", false, Grip;
    Condition: "when it is done", true, Condition;
    Confirms: "what is confirmed", false, Hold;
    IfNot: "what happens if it is not so", false, Hold;
    PrintAs: "how it is printed", false, Reworded;
    Say: "what is said", false, Reworded;
    LookFor: "what is looked for", false, Reworded;
    StopIf: "when to stop", false, Reworded;
    Caution: "the caution", false, Reworded;
    Warning: "the warning", false, Reworded;
    Danger: "the danger", false, Reworded;
    Because: "the reason", false, Reason;
    Takes: "how long it takes", false, Time;
    // Of a sequence or contingency.
    OfLevel: "the level", false, Level;
    At: "the place", false, Place;
    Event: "what happens", false, Contingency;
    Endings: "what follows", false, Contingency;
    // Of a level and its kit.
    Against: "the hazards", true, Level;
    Routes: "the routes", true, Level;
    Wears: "what is worn", true, KitList;
    KeepCovered: "what is kept covered", true, Coverage;
    Assume: "what is assumed", false, Level;
    Margins: "how near the hazard may come", true, Margin;
    Stay: "the longest stay", false, Time;
    Needs: "what the level needs", true, Level;
    Forbids: "what the level forbids", true, Level;
    // Of the choice of level.
    Lines: "which answers give which level", false, Choice;
    Outranks: "which level outranks which", true, Choice;
    Asked: "the words of the question", false, Choice;
    // Of an item.
    Printed: "the printed name", false, Reworded;
    Covers: "what it covers", true, Coverage;
    GoesOver: "what it goes over", true, Item;
    TucksInto: "what it is tucked into", true, Item;
    HoldsDown: "what it holds down", true, Item;
    ConnectsTo: "what it connects to", true, Item;
    Grips: "the parts to take hold of", false, Grip;
    Meets: "the standards that it meets", false, Item;
    FitTest: "the fit test", false, Item;
    SingleUse: "single use", false, Item;
    ReusedAfter: "how it is made ready again", false, Item;
    GoesTo: "where it ends", false, Container;
    Sharp: "sharp", false, Item;
    RunsFor: "how long it runs", false, Time;
    Room: "the room that it takes", false, Item;
    WornBeneath: "worn beneath the kit", false, Item;
    Pairs: "pairs", false, Item;
    Sizes: "sizes", false, Item;
    Picture: "the drawing", false, Item;
    // Of what cleans.
    ForHands: "for hands", false, Cleaner;
    ForSurfaces: "for surfaces", false, Cleaner;
    Strength: "the strength", false, Strength;
    Substance: "the substance", false, Cleaner;
    WetFor: "how long it stays wet", false, Strength;
    NotOnSoil: "not on visible soil", false, Cleaner;
    Worth: "how many touches it is worth", false, Strength;
    // Of containers, surfaces, places and roles.
    Purpose: "what it is for", false, Container;
    Holds: "how much it holds", false, Container;
    Laid: "laid out", false, Place;
    StartsClean: "clean at the start", false, Place;
    StartsContaminated: "contaminated at the start", false, Place;
    PlaceKind: "what kind of place it is", false, Place;
    Helps: "who is helped", true, Role;
    Watches: "who watches", false, Role;
    Leads: "who leads", false, Role;
    SpreadsBy: "how it spreads", true, Level;
    // Of exceptions, printing, sources and document control.
    Accepted: "the reason for accepting it", false, Exception;
    Until: "until when", false, Exception;
    Paper: "the paper", false, Printing;
    ReadFrom: "from how far it is read", false, Printing;
    Copies: "the copies", false, Printing;
    Laminated: "laminated", false, Printing;
    BothSides: "both sides", false, Printing;
    Title: "the title", false, DocumentControl;
    From: "who published it", false, DocumentControl;
    Dated: "its date", false, DocumentControl;
    Page: "its page", false, DocumentControl;
    Link: "the link", false, DocumentControl;
    Site: "the site", false, DocumentControl;
    Edition: "the edition", false, DocumentControl;
    Owner: "the owner", false, DocumentControl;
    ApprovedBy: "the approval", false, DocumentControl;
    ApprovalNeeds: "how many people are to approve it", false, DocumentControl;
    InForceFrom: "in force from", false, DocumentControl;
    ReviewBy: "review by", false, DocumentControl;
    WithdrawnOn: "withdrawn on", false, DocumentControl;
    Replaces: "the edition that it replaces", false, DocumentControl;
    Language: "the language", false, DocumentControl;
    IsPolicy: "a policy of its own", false, DocumentControl;
}
