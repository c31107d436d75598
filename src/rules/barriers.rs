//! What a policy tells about how well its kit keeps a hazard out: by the standards that items meet, and by their words.
//!
//! In: items of a policy. Out: whether one is a respirator, fits tightly, resists fluid; who goes in to the hazard.
//! Must never take a thing for a barrier that the policy does not call one.

use crate::policy::{Act, Area, Item, ItemId, LevelId, PlaceKind, Policy, RoleId};

/// Standards of respirators that seal to the face: EN 149 (filtering facepieces), EN 140 and EN 136 (half and full masks),
/// EN 405 (valved half masks), EN 12942 (powered masks); 42 CFR 84 (the United States' N and P classes).
const TIGHT: [&str; 20] = [
    "en 149",
    "en149",
    "ffp2",
    "ffp3",
    "en 140",
    "en140",
    "en 136",
    "en136",
    "en 405",
    "en405",
    "en 12942",
    "en12942",
    "tm2",
    "tm3",
    "42 cfr 84",
    "n95",
    "n99",
    "n100",
    "p95",
    "p100",
];

/// Standards of loose-fitting powered devices: EN 12941.
const LOOSE: [&str; 4] = ["en 12941", "en12941", "th2", "th3"];

/// Standards of garments against liquids: EN 14126, EN 13795, EN 14605, EN 13034, ISO 16603 and 16604; ANSI/AAMI PB70.
const FLUID: [&str; 7] = ["14126", "13795", "14605", "13034", "pb70", "16603", "16604"];

fn meets(item: &Item, known: &[&str]) -> bool {
    item.meets.iter().any(|standard| {
        let standard = standard.to_lowercase();
        known.iter().any(|known| standard.contains(known))
    })
}

/// A respirator that seals to the face.
pub fn is_tight(item: &Item) -> bool {
    item.covers.has(Area::Nose) && item.covers.has(Area::Mouth) && meets(item, &TIGHT) && !meets(item, &LOOSE)
}

/// A respirator that meets a standard, or a hood with a blower.
pub fn is_respirator(policy: &Policy, id: ItemId) -> bool {
    let item = policy.item(id);
    let covers = item.covers.has(Area::Nose) && item.covers.has(Area::Mouth);
    let powered = item.connects_to.iter().any(|&other| policy.item(other).runs_for.is_some());
    covers && (meets(item, &TIGHT) || meets(item, &LOOSE) || powered)
}

pub fn resists_fluid(item: &Item) -> bool {
    let words = format!("{} {}", item.name, item.printed).to_lowercase();
    let says = ["fluid", "impermeable", "waterproof", "plastic", "splash", "liquid-tight"];
    meets(item, &FLUID) || says.iter().any(|word| words.contains(word))
}

/// Whether somebody goes to a contaminated place at a level. Where no sequence says who does: whoever neither helps nor
/// watches.
pub fn enters(policy: &Policy, level: LevelId, role: RoleId) -> bool {
    let contaminated = |place: crate::policy::PlaceId| policy.place(place).kind == PlaceKind::Contaminated;
    let mut went =
        policy.sequences_of(level).flat_map(|(_, sequence)| &sequence.steps).filter_map(|step| match step.act {
            Act::Go(place) if contaminated(place) => Some(step.actor),
            _ => None,
        });
    let goers: Vec<RoleId> = went.by_ref().collect();
    if goers.is_empty() {
        let role = policy.role(role);
        return role.helps.is_empty() && !role.watches;
    }
    goers.contains(&role)
}
