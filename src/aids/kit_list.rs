//! The kit list of a level: what to lay out for each role, and the cleaners and containers that its sequences use.
//!
//! In: a level. Out: its [`Kit`]. Must never list what the level's sequences do not use, nor leave out what they do.

use super::pattern::capital;
use super::pictograms;
use super::plan::{Kit, KitOfRole, KitRow};
use super::voice::item_name;
use super::words::{Words, say};
use crate::policy::{
    Act, Area, Cleaner, CleanerId, Container, ContainerId, Dest, ItemId, LevelId, Policy, RoleId, Step, Surface,
    SurfaceId, Target, Worn,
};

struct List<'a> {
    policy: &'a Policy,
    words: &'a Words,
    level: LevelId,
}

pub fn kit(policy: &Policy, words: &Words, level: LevelId) -> Kit {
    let list = List { policy, words, level };
    let roles = policy.level(level).kits.iter().map(|kit| KitOfRole {
        role: capital(&policy.role(kit.role).name),
        rows: in_order(policy, level, kit.role, &kit.items).into_iter().map(|worn| list.item(kit.role, worn)).collect(),
    });
    Kit {
        intro: say(&words.intro, "kit", &[]),
        roles: roles.collect(),
        supplies: list.supplies(),
        supplies_title: say(&words.kit, "supplies", &[]),
    }
}

/// How many of each item one entry takes, those that may be used up on the way included: the figures of the kit list.
pub fn for_one_entry(policy: &Policy, level: LevelId) -> Vec<(RoleId, ItemId, usize)> {
    let (words, _) = Words::of("en-GB");
    let list = List { policy, words, level };
    let kits = policy.level(level).kits.iter();
    let counted = |role, worn| {
        let (listed, spares) = list.counted(role, worn);
        (role, worn.item, listed + spares)
    };
    kits.flat_map(|kit| kit.items.iter().map(move |worn| (kit.role, worn)))
        .map(|(role, worn)| counted(role, worn))
        .collect()
}

impl<'a> List<'a> {
    fn steps(&self) -> impl Iterator<Item = &'a Step> {
        self.policy.sequences_of(self.level).flat_map(|(_, sequence)| &sequence.steps)
    }

    fn item(&self, role: RoleId, worn: &Worn) -> KitRow {
        let (listed, spares) = self.counted(role, worn);
        let mut detail = self.item_detail(worn.item);
        if spares > 0 {
            let slots = [("worn", listed.to_string()), ("spares", spares.to_string())];
            let slots = slots.each_ref().map(|(slot, words)| (*slot, words.as_str()));
            detail.insert(0, say(&self.words.kit, "spares", &slots));
        }
        KitRow {
            name: capital(&item_name(self.policy, worn.item)),
            count: self.count(worn, listed + spares),
            detail: detail.join(&say(&self.words.kit, "separator", &[])),
            pictogram: Some(pictograms::of_item(self.policy, self.words, worn.item)),
        }
    }

    /// `1`, `3 pairs`
    fn count(&self, worn: &Worn, number: usize) -> String {
        let item = self.policy.item(worn.item);
        let in_pairs = self.words.is_many(&item_name(self.policy, worn.item))
            && (item.covers.has(Area::Hands) || item.covers.has(Area::Feet));
        match (in_pairs, number) {
            (false, number) => number.to_string(),
            (true, 1) => say(&self.words.kit, "pair", &[]),
            (true, number) => say(&self.words.kit, "pairs", &[("count", &number.to_string())]),
        }
    }

    /// How many are worn, and how many more may be used up.
    fn counted(&self, role: RoleId, worn: &Worn) -> (usize, usize) {
        let listed = worn.pairs.max(self.policy.item(worn.item).pairs.unwrap_or(1)).max(1) as usize;
        (listed, self.spares(role, worn.item, listed))
    }

    /// How many more than listed a session can use up: those of every putting on and change, and one for each in a drill.
    fn spares(&self, role: RoleId, wanted: ItemId, listed: usize) -> usize {
        let uses_up = |step: &&Step| match step.act {
            Act::Change { wearer, item } | Act::PutOn { wearer, item, .. } => wearer == role && item == wanted,
            _ => false,
        };
        let drills = self.policy.contingencies.iter().flat_map(|drill| &drill.steps);
        self.steps().filter(uses_up).count().saturating_sub(listed) + drills.filter(uses_up).count()
    }

    /// `long-cuff nitrile gloves · EN 374 · single use · ends in orange clinical waste bag`
    fn item_detail(&self, id: ItemId) -> Vec<String> {
        let item = self.policy.item(id);
        let tell = |key: &str, slots: &[(&str, &str)]| say(&self.words.kit, key, slots);
        let mut told = Vec::new();
        if !item.printed.eq_ignore_ascii_case(&item_name(self.policy, id)) {
            told.push(item.printed.clone());
        }
        told.extend(item.meets.iter().cloned());
        if item.needs_fit_test {
            told.push(tell("fit_test", &[]));
        }
        if !item.sizes.is_empty() {
            let key = if item.sizes.len() == 1 { "size" } else { "sizes" };
            told.push(tell(key, &[("sizes", &item.sizes.join(&self.words.nouns.list_comma))]));
        }
        if let Some(time) = item.runs_for {
            told.push(tell("runs_for", &[("time", &self.words.duration(time))]));
        }
        if item.worn_beneath {
            told.push(tell("worn_beneath", &[]));
        }
        if item.single_use {
            told.push(tell("single_use", &[]));
        }
        if let Some(reuse) = &item.reused_after {
            let cleaners: Vec<String> =
                reuse.cleaners.iter().map(|&id| self.policy.cleaner(id).printed.clone()).collect();
            let key = if cleaners.is_empty() { "reused" } else { "reused_after" };
            told.push(tell(key, &[("cleaners", &self.words.all_of(&cleaners))]));
        }
        if let Some(container) = item.goes_to {
            told.push(tell("goes_to", &[("container", &self.policy.container(container).printed)]));
        }
        told
    }

    fn supplies(&self) -> Vec<KitRow> {
        let cleaners = (0..self.policy.cleaners.len()).map(CleanerId::new).filter_map(|id| {
            let uses = self.steps().filter(|step| uses_cleaner(&step.act, id)).count();
            (uses > 0).then(|| self.cleaner(self.policy.cleaner(id), uses))
        });
        let containers = (0..self.policy.containers.len()).map(ContainerId::new);
        let containers = containers.filter(|&id| self.uses_container(id));
        let containers = containers.map(|id| self.container(self.policy.container(id)));
        let surfaces = (0..self.policy.surfaces.len()).map(SurfaceId::new);
        let surfaces = surfaces.filter(|&id| self.steps().any(|step| uses_surface(&step.act, id)));
        let surfaces = surfaces.map(|id| self.surface(self.policy.surface(id)));
        cleaners.chain(containers).chain(surfaces).collect()
    }

    fn cleaner(&self, cleaner: &Cleaner, uses: usize) -> KitRow {
        let tell = |key: &str, slots: &[(&str, &str)]| say(&self.words.kit, key, slots);
        let mut told = Vec::new();
        told.extend(cleaner.for_hands.then(|| tell("for_hands", &[])));
        told.extend(cleaner.for_surfaces.then(|| tell("for_surfaces", &[])));
        told.extend(cleaner.strength_ppm.map(|ppm| self.strength(ppm, cleaner.substance.as_deref())));
        told.extend(cleaner.wet_for.map(|time| tell("wet_for", &[("time", &self.words.duration(time))])));
        told.extend(cleaner.not_on_visible_soil.then(|| tell("not_on_soil", &[])));
        let key = if uses == 1 { "once" } else { "times" };
        KitRow {
            name: capital(&cleaner.printed),
            count: tell(key, &[("count", &uses.to_string())]),
            detail: told.join(&tell("separator", &[])),
            pictogram: Some(pictograms::of_cleaner(self.words, cleaner)),
        }
    }

    fn strength(&self, ppm: u64, substance: Option<&str>) -> String {
        let substance = substance.unwrap_or_default();
        say(&self.words.kit, "strength_ppm", &[("ppm", &grouped(ppm)), ("substance", substance)])
    }

    fn container(&self, container: &Container) -> KitRow {
        let tell = |key: &str, slots: &[(&str, &str)]| say(&self.words.kit, key, slots);
        let mut told = Vec::new();
        if !container.purpose_words.is_empty() {
            told.push(tell("purpose", &[("words", &container.purpose_words)]));
        }
        if let Some(place) = container.place {
            told.push(tell("stands_in", &[("place", &self.policy.place(place).name)]));
        }
        if let Some(millilitres) = container.millilitres {
            let key = if millilitres == 1000 { "holds_one" } else { "holds" };
            told.push(tell(key, &[("litres", &thousandths(millilitres))]));
        }
        KitRow {
            name: capital(&container.printed),
            count: "1".to_string(),
            detail: told.join(&tell("separator", &[])),
            pictogram: Some(pictograms::of_container(self.words, container)),
        }
    }

    fn surface(&self, surface: &Surface) -> KitRow {
        let key = if surface.laid { "laid_in" } else { "stands_in" };
        let place = surface.place.map(|place| self.policy.place(place).name.clone());
        KitRow {
            name: capital(&surface.name),
            count: "1".to_string(),
            detail: place.map(|place| say(&self.words.kit, key, &[("place", &place)])).unwrap_or_default(),
            pictogram: None,
        }
    }

    /// Named by a step, or the end of an item of the level's kit.
    fn uses_container(&self, wanted: ContainerId) -> bool {
        let worn = self.policy.level(self.level).kits.iter().flat_map(|kit| &kit.items);
        let ends = worn.filter_map(|worn| self.policy.item(worn.item).goes_to).any(|id| id == wanted);
        let named = self.steps().any(|step| match &step.act {
            Act::TakeOff { into: Some(Dest::Container(id)), .. } => *id == wanted,
            Act::Put { what, into } => *into == Dest::Container(wanted) || *what == Target::Container(wanted),
            Act::Open(target) | Act::Close(target) | Act::Check(target) => *target == Target::Container(wanted),
            _ => false,
        });
        ends || named
    }
}

/// In the order of putting on; what is worn beneath comes first, what is never put on last.
pub fn in_order<'k>(policy: &Policy, level: LevelId, role: RoleId, items: &'k [Worn]) -> Vec<&'k Worn> {
    let steps: Vec<&Step> = policy.sequences_of(level).flat_map(|(_, sequence)| &sequence.steps).collect();
    let put_on = |wanted: ItemId| {
        steps
            .iter()
            .position(|step| matches!(step.act, Act::PutOn { wearer, item, .. } if wearer == role && item == wanted))
    };
    let mut items: Vec<&Worn> = items.iter().collect();
    items.sort_by_key(|worn| {
        if policy.item(worn.item).worn_beneath { 0 } else { put_on(worn.item).map_or(usize::MAX, |at| at + 1) }
    });
    items
}

fn uses_cleaner(act: &Act, wanted: CleanerId) -> bool {
    match act {
        Act::CleanHands(with) | Act::Wipe { with, .. } | Act::Spray { with, .. } => with.cleaner == wanted,
        _ => false,
    }
}

fn uses_surface(act: &Act, wanted: SurfaceId) -> bool {
    let is = |target: &Target| *target == Target::Surface(wanted);
    match act {
        Act::StepOnto(id) | Act::StepOff(id) | Act::SitOn(id) | Act::Fold(id) => *id == wanted,
        Act::TakeOff { into: Some(Dest::Surface(id)), .. } => *id == wanted,
        Act::Put { what, into } => is(what) || *into == Dest::Surface(wanted),
        Act::Wipe { target, .. } | Act::Spray { target, .. } => is(target),
        Act::Check(target) | Act::Open(target) | Act::Close(target) => is(target),
        _ => false,
    }
}

/// `10 000`, with thin spaces from five digits on, as ISO 80000-1 groups them.
fn grouped(number: u64) -> String {
    let digits = number.to_string();
    if digits.len() < 5 {
        return digits;
    }
    let mut out = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            out.push('\u{202f}');
        }
        out.push(digit);
    }
    out
}

/// `60`, `2.5`
fn thousandths(amount: u64) -> String {
    let whole = format!("{}.{:03}", amount / 1000, amount % 1000);
    whole.trim_end_matches('0').trim_end_matches('.').to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_written_without_idle_digits() {
        assert_eq!(thousandths(60_000), "60");
        assert_eq!(thousandths(2_500), "2.5");
        assert_eq!(grouped(5000), "5000");
        assert_eq!(grouped(10_000), "10\u{202f}000");
    }
}
