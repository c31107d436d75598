//! What the event of a contingency does to people and their kit, and when it can happen: the table of events, in one place.
//!
//! In: an event as written. Out: a [`Happening`]. Common practice, no source, but for the rows that name one.

use super::body::{Body, Piece};
use crate::policy::{Area, Areas, Contingency, ItemId, Policy, RoleId};

/// What happens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Happening {
    /// From then on the outside of the item reaches through to what lies beneath.
    Tear(ItemId),
    /// The hazard comes to lie on the outside of the item.
    Soil(ItemId),
    /// The hazard comes to lie on whatever is outermost there.
    Splash(Areas),
    /// The hazard goes through everything to the skin.
    Pierce(Areas),
    /// What gives clean air, or something else that runs, gives no more.
    Fails(ItemId),
    /// Another mishap with an item: it touches nothing by itself.
    Mishap(ItemId),
    /// Can still act, and must come out.
    Unwell(RoleId),
    /// Lies unconscious, or is gone: acts no more.
    Lost(RoleId),
    /// None of these: it touches nothing by itself, and can happen whenever somebody has met the hazard.
    Other,
}

/// Of an item; each list stands in the language reference, word for word.
pub const TORN: [&str; 14] = [
    "torn",
    "tears",
    "ripped",
    "rips",
    "split",
    "splits",
    "punctured",
    "holed",
    "hole",
    "holes",
    "damaged",
    "cut",
    "leaking",
    "breached",
];
/// Of an item, an area or a person.
pub const SOILED: [&str; 7] = ["soiled", "splashed", "wet", "soaked", "contaminated", "sprayed", "dirty"];
/// Of skin or an area.
pub const PIERCED: [&str; 8] = ["pierced", "stuck", "pricked", "punctured", "cut", "scratched", "broken", "wounded"];
/// Of an item that runs, or that hangs on one.
pub const FAILING: [&str; 9] = ["fails", "failing", "failed", "stops", "stopped", "flat", "empty", "alarms", "dead"];
/// Of a person.
pub const LOST: [&str; 11] =
    ["lost", "gone", "absent", "missing", "called", "leaves", "collapses", "collapsed", "unconscious", "away", "falls"];

impl Happening {
    pub fn of(policy: &Policy, contingency: &Contingency) -> Happening {
        let event = &contingency.event;
        let words = event.words.to_lowercase();
        let first = event.state.split(' ').next().unwrap_or_default().to_lowercase();
        let is = |list: &[&str]| list.contains(&first.as_str());
        match (event.item, event.area, event.role) {
            (Some(item), ..) if is(&FAILING) => Happening::Fails(item),
            (Some(item), ..) if is(&TORN) => Happening::Tear(item),
            (Some(item), ..) if is(&SOILED) => Happening::Soil(item),
            (Some(item), ..) if policy.item(item).runs_for.is_some() => Happening::Fails(item),
            (Some(item), ..) => Happening::Mishap(item),
            (_, Some(area), _) if is(&PIERCED) => Happening::Pierce(Areas::of([area])),
            (_, Some(area), _) => Happening::Splash(whole(area)),
            (_, _, Some(role)) if is(&LOST) => Happening::Lost(role),
            (_, _, Some(_)) if is(&SOILED) => Happening::Splash(whole(Area::Face)),
            (_, _, Some(role)) => Happening::Unwell(role),
            // The hands are what a needle finds (common practice, no source).
            _ if words.contains("needle") || words.contains("sharps injury") || is(&PIERCED) => {
                Happening::Pierce(Areas::of([Area::Hands]))
            }
            _ if words.contains("splash") || words.contains("spray") => Happening::Splash(whole(Area::Face)),
            _ => Happening::Other,
        }
    }

    /// Whether it can happen to somebody as they are. `anyone_exposed`: the hazard has been met by somebody; `inside`:
    /// where the hazard is. Before anybody has met the hazard, nobody needs a drill: the hold finds it.
    pub fn can_happen(self, policy: &Policy, who: RoleId, body: &Body, anyone_exposed: bool, inside: bool) -> bool {
        let in_kit = body.worn.iter().any(|piece| !policy.item(piece.item).worn_beneath);
        match self {
            // What lies beneath something else cannot be seen to tear.
            Happening::Tear(item) | Happening::Soil(item) => anyone_exposed && outermost(body, item).is_some(),
            Happening::Fails(item) | Happening::Mishap(item) => anyone_exposed && body.piece(item).is_some(),
            Happening::Splash(_) | Happening::Pierce(_) => inside && body.exposed,
            Happening::Unwell(role) => role == who && in_kit && anyone_exposed,
            Happening::Lost(role) => role == who && anyone_exposed,
            Happening::Other => in_kit && body.exposed,
        }
    }
}

/// The piece of an item that lies outermost somewhere.
pub fn outermost(body: &Body, item: ItemId) -> Option<Piece> {
    body.piece(item).filter(|&piece| Area::ALL.into_iter().any(|area| body.top(area) == Some(piece)))
}

/// A splash to the face finds the eyes, the nose and the mouth, too.
fn whole(area: Area) -> Areas {
    match area {
        Area::Face => Areas::of([Area::Face, Area::Eyes, Area::Nose, Area::Mouth]),
        other => Areas::of([other]),
    }
}
