//! The rules: each sees the policy, its walk and what could not be read, and tells its findings. None knows another.
//!
//! In: a [`Brief`]. Out: findings. Must never look at the text, a file, the clock or another rule's findings.
//! To add one: the rule's `.rs` and `.md` in its family's folder, one line in the list below, one line in CHANGELOG.md.

pub mod barriers;
pub mod choosing;
pub mod drills;
pub mod ends;
pub mod guards;
pub mod headings;
pub mod kits;
pub mod nearness;
pub mod shortfall;
pub mod telling;

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Day, Policy};
use crate::syntax::problem::Problem;
use crate::walk::Walk;

/// What a rule may look at.
pub struct Brief<'a> {
    pub problems: &'a [Problem],
    pub policy: &'a Policy,
    pub walk: &'a Walk,
    /// None where no date was given: rules about dates then say nothing.
    pub today: Option<Day>,
}

pub trait Rule: Sync {
    fn name(&self) -> Name;
    fn signal(&self) -> Signal;
    fn kind(&self) -> Kind;
    /// The rule's page: What this means, Why it matters, examples, When to accept it, Sources.
    fn page(&self) -> &'static str;
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>);
}

/// Declares the families, their modules and the list of all rules, from one line a rule.
macro_rules! families {
    ($($family:ident { $($module:ident $rule:ident)* })*) => {
        $(pub mod $family { $(pub mod $module;)* })*

        /// Every rule, family by family, in the order in which they are told.
        pub static ALL: &[&dyn Rule] = &[$($(&$family::$module::$rule,)*)*];
    };
}

families! {
    reading {
        line Line
        name Unknown
        kind OtherKind
        twice Twice
        astray Astray
        branch Branch
        title Title
        date Date
        unit Unit
        word Word
        lookalike LookAlike
        hidden Hidden
        direction Direction
        circle Circle
        file File
        again Again
        empty Empty
        oneself Oneself
        picture Picture
    }
    order {
        covered Covered
        tucked Tucked
        held Held
        connected Connected
        trapped Trapped
        repeated Repeated
        absent Absent
        beneath Beneath
        lingering Lingering
        half Half
        eyes Eyes
        respirator Respirator
    }
    cover {
        bare Bare
        gap Gap
        cuff Cuff
    }
    touch {
        near Near
        slip Slip
        barehand Barehand
        unclean Unclean
        front Front
        rolling Rolling
        helper Helper
    }
    hygiene {
        first First
        gloves Gloves
        face Face
        leaving Leaving
        last Last
        soiled Soiled
        short Short
        weak Weak
        unfit Unfit
        gloved Gloved
    }
    hold {
        absent Absent
        oneself Oneself
        late Late
        empty Empty
        certain Certain
        endless Endless
        inspection Inspection
    }
    role {
        watcher Watcher
        unasked Unasked
        elsewhere Elsewhere
        nobody Nobody
        stranded Stranded
        unkitted Unkitted
        unready Unready
        mistaken Mistaken
        observer Observer
        idle Idle
    }
    place {
        absent Absent
        way Way
        leaving Leaving
        donning Donning
        sequence Sequence
        respirator Respirator
        missing Missing
        apart Apart
        shared Shared
        ending Ending
        heading Heading
    }
    waste {
        small Small
        sharps Sharps
        nowhere Nowhere
        reusable Reusable
        elsewhere Elsewhere
        disagrees Disagrees
    }
    kit {
        route Route
        fluid Fluid
        fit Fit
        seal Seal
        unlisted Unlisted
        part Part
        unused Unused
        pairs Pairs
        idle Idle
    }
    choice {
        none NoLevel
        several Several
        unreachable Unreachable
        lower Lower
        circle Circle
        unasked Unasked
    }
    time {
        stay Stay
        battery Battery
        wet Wet
        aloud Aloud
        budget Budget
    }
    drill {
        missing Missing
        never Never
        open Open
        alone Alone
        airless Airless
        unfinished Unfinished
        unclean Unclean
        exposure Exposure
    }
    paper {
        missing Missing
        owner Owner
        approval Approval
        undated Undated
        dates Dates
        review Review
        uncited Uncited
        lapsed Lapsed
    }
    house {
        order Order
        last Last
        hands Hands
        spraying Spraying
        gloves Gloves
        taping Taping
        checked Checked
    }
}

/// The rule of a name, as a person types it: `order covered`, `order-covered`.
pub fn named(words: &str) -> Option<&'static dyn Rule> {
    let folded = words.to_lowercase().replace(['-', '_'], " ");
    let folded = folded.split_whitespace().collect::<Vec<_>>().join(" ");
    ALL.iter().copied().find(|rule| rule.name().to_string() == folded)
}
