//! Who takes part in a run, with what, from where; and what the level asks for.

use super::body::{Body, Piece};
use super::script::{Script, wearer_of};
use super::surfaces::{Surface, Surfaces};
use crate::policy::{
    Act, Area, Areas, Assumption, ItemId, Level, LevelId, PlaceId, PlaceKind, Policy, RoleId, SequenceId, Shield,
    SurfaceId, Target, Worn,
};

#[derive(Debug)]
pub struct Cast {
    pub level: LevelId,
    pub people: Vec<RoleId>,
    pub surfaces: Surfaces,
    /// By person: the areas on which the hazard can land.
    pub kept: Vec<Areas>,
    pub every_outside: bool,
    pub skin_margin: Option<u16>,
    pub face_margin: Option<u16>,
    pub clothes_margin: Option<u16>,
    /// What is to be kept away after how many slips, and how far.
    slip_margins: Vec<(Shield, usize, u16)>,
    /// By person: the last sequence in which something of theirs comes off.
    pub last_removal: Vec<Option<SequenceId>>,
    /// By person: the last sequence in which something goes on them.
    pub last_donning: Vec<Option<SequenceId>>,
    /// By person: whether the policy says how they put on.
    pub puts_on: Vec<bool>,
    /// By person: whether they go to any place of the hazard.
    pub goes_in: Vec<bool>,
    /// By person: helps nobody and does not watch, so that the hazard is met by them.
    pub meets: Vec<bool>,
    /// By person: wears kit and is never sent anywhere, so they are where each sequence happens.
    pub stays: Vec<bool>,
    /// The numbers of all skin and own clothes.
    pub guarded: Vec<usize>,
    /// Whether something may be played again: a hold leads elsewhere where it is not confirmed, or a drill does not carry on.
    pub plays_again: bool,
    /// What some step puts down, with whose it is.
    pub put_down: Vec<(RoleId, ItemId)>,
    starts_at: Vec<Option<PlaceId>>,
    /// What is worn from the beginning, in order.
    dressed: Vec<Vec<ItemId>>,
}

impl Cast {
    pub fn new(policy: &Policy, level_id: LevelId, script: &Script) -> Cast {
        let level = policy.level(level_id);
        let steps = script.all_steps(policy);
        let mut people: Vec<RoleId> = level.kits.iter().map(|kit| kit.role).collect();
        let with_drills: Vec<_> = steps.iter().copied().chain(script.drill_steps(policy)).collect();
        people.extend(with_drills.iter().flat_map(|(_, step)| [Some(step.actor), wearer_of(&step.act)]).flatten());
        people.sort();
        people.dedup();
        let per_person = |count: &dyn Fn(RoleId) -> bool| people.iter().map(|&who| count(who)).collect::<Vec<bool>>();
        let puts_on = per_person(&|who| {
            steps.iter().any(|(_, step)| matches!(step.act, Act::PutOn { wearer, .. } if wearer == who))
        });
        let goes_in = per_person(&|who| {
            steps.iter().any(|(_, step)| {
                step.actor == who
                    && matches!(step.act, Act::Go(place) if policy.place(place).kind == PlaceKind::Contaminated)
            })
        });
        let stays = per_person(&|who| {
            !policy.role(who).watches
                && !steps.iter().any(|(_, step)| step.actor == who && matches!(step.act, Act::Go(_)))
        });
        let meets = per_person(&|who| policy.role(who).helps.is_empty() && !policy.role(who).watches);
        let takes_off = |act: &Act, who| matches!(act, Act::TakeOff { wearer, .. } if *wearer == who);
        let puts_on_item = |act: &Act, who| matches!(act, Act::PutOn { wearer, .. } if *wearer == who);
        let last_of = |sequences: &[SequenceId], does: &dyn Fn(&Act, RoleId) -> bool| -> Vec<Option<SequenceId>> {
            let in_it = |id: SequenceId, who| policy.sequence(id).steps.iter().any(|step| does(&step.act, who));
            people.iter().map(|&who| sequences.iter().rev().copied().find(|&id| in_it(id, who))).collect()
        };
        let last_removal = last_of(&script.taking_off, &takes_off);
        let last_donning = last_of(&script.putting_on, &puts_on_item);
        let dressed: Vec<Vec<ItemId>> =
            people.iter().zip(&puts_on).map(|(&who, &puts_on)| dressed(policy, level, who, puts_on, script)).collect();
        let pieces = pieces(policy, level, &people, &with_drills, &dressed);
        let gripped: Vec<(ItemId, String)> = with_drills.iter().flat_map(|(_, step)| gripped(&step.act)).collect();
        let touches = |shield| level.margin(shield).map(|margin| margin.touches.min(1000) as u16);
        let surfaces = Surfaces::new(policy, &people, &pieces, &gripped);
        let guarded =
            surfaces.iter().filter(|(_, surface)| is_guarded(policy, *surface)).map(|(number, _)| number).collect();
        Cast {
            level: level_id,
            surfaces,
            guarded,
            kept: people.iter().map(|&who| kept(policy, level, who)).collect(),
            every_outside: level.assume == Some(Assumption::EveryOutside),
            skin_margin: touches(Shield::Skin),
            face_margin: touches(Shield::Face).or(touches(Shield::Skin)),
            clothes_margin: touches(Shield::Clothes).or(touches(Shield::Skin)),
            slip_margins: (level.margins.iter().filter(|margin| margin.slips > 0))
                .map(|margin| (margin.shield, margin.slips as usize, margin.touches.min(1000) as u16))
                .collect(),
            last_removal,
            last_donning,
            plays_again: !script.forking_holds().is_empty() || script.drills.iter().any(|drill| !drill.carries_on()),
            put_down: with_drills.iter().filter_map(|(_, step)| put_down(&step.act)).collect(),
            starts_at: people.iter().map(|&who| starts_at(policy, script, who)).collect(),
            people,
            puts_on,
            stays,
            goes_in,
            meets,
            dressed,
        }
    }

    pub fn is_guarded(&self, surface: usize) -> bool {
        self.guarded.binary_search(&surface).is_ok()
    }

    pub fn index(&self, who: RoleId) -> Option<usize> {
        self.people.iter().position(|&role| role == who)
    }

    /// What the level asks for after so many slips; without a slip, see [`Cast::margin`].
    pub fn margin_after(&self, surface: Surface, slips: usize) -> Option<u16> {
        if slips == 0 {
            return self.margin(surface);
        }
        let asked = |shield: Shield| {
            self.slip_margins
                .iter()
                .find(|(of, after, _)| (*of, *after) == (shield, slips))
                .map(|&(.., touches)| touches)
        };
        match surface {
            Surface::Skin { area, .. } if area.is_face() => asked(Shield::Face).or(asked(Shield::Skin)),
            Surface::Skin { .. } => asked(Shield::Skin),
            _ => asked(Shield::Clothes).or(asked(Shield::Skin)),
        }
    }

    pub fn margin(&self, surface: Surface) -> Option<u16> {
        match surface {
            Surface::Skin { area, .. } if area.is_face() => self.face_margin,
            Surface::Skin { .. } => self.skin_margin,
            _ => self.clothes_margin,
        }
    }

    /// Who puts nothing on in any sequence although the level lists kit for them.
    pub fn dressed_unseen(&self, policy: &Policy) -> Vec<RoleId> {
        let wears_kit = |items: &Vec<ItemId>| items.iter().any(|&item| !policy.item(item).worn_beneath);
        self.people.iter().zip(&self.dressed).filter(|(_, items)| wears_kit(items)).map(|(&who, _)| who).collect()
    }

    /// Who meets the hazard although no step sends them to it.
    pub fn met_unseen(&self, script: &Script) -> Vec<RoleId> {
        let unseen = |&person: &usize| self.meets[person] && !self.goes_in[person] && !script.taking_off.is_empty();
        (0..self.people.len()).filter(unseen).map(|person| self.people[person]).collect()
    }

    /// How many copies of an item the level lists for somebody.
    pub fn copies_listed(&self, policy: &Policy, who: RoleId, item: ItemId) -> usize {
        let listed = policy.level(self.level).kit(who).and_then(|kit| kit.items.iter().find(|worn| worn.item == item));
        listed.map_or(1, |worn| copies(worn.pairs))
    }

    pub fn dress(&self, policy: &Policy, bodies: &mut [Body]) {
        for (person, body) in bodies.iter_mut().enumerate() {
            body.place = self.starts_at[person];
            for &item in &self.dressed[person] {
                let copy = body.copies(item) as u8;
                body.put_on(policy, Piece { item, copy }, None);
            }
        }
    }

    pub fn contaminated_from_the_start(&self, policy: &Policy) -> Vec<usize> {
        let starts = |surface: &crate::policy::Surface| {
            surface.starts_contaminated
                || surface.place.is_some_and(|place| policy.place(place).kind == PlaceKind::Contaminated)
        };
        let fixtures = policy.surfaces.iter().enumerate().filter(|(_, surface)| starts(surface));
        fixtures.filter_map(|(at, _)| self.surfaces.number(Surface::Fixture(SurfaceId::new(at)))).collect()
    }
}

/// Skin and own clothes: what the margins are about.
pub fn is_guarded(policy: &Policy, surface: Surface) -> bool {
    match surface {
        Surface::Skin { .. } => true,
        Surface::Front { piece, .. } | Surface::Back { piece, .. } => policy.item(piece.item).worn_beneath,
        _ => false,
    }
}

/// Pairs of one item on one person at once.
const MOST_COPIES: u32 = 4;

fn copies(pairs: u32) -> usize {
    pairs.clamp(1, MOST_COPIES) as usize
}

/// Where the hazard can land on somebody: what the level keeps covered, or whatever their kit covers.
fn kept(policy: &Policy, level: &Level, who: RoleId) -> Areas {
    if !level.keep_covered.is_empty() {
        return level.keep_covered;
    }
    let items = level.kit(who).map(|kit| kit.items.as_slice()).unwrap_or_default();
    items
        .iter()
        .map(|worn| policy.item(worn.item))
        .filter(|item| !item.worn_beneath)
        .fold(Areas::NONE, |areas, item| areas.or(item.covers))
}

/// What somebody wears when the play begins: own clothes; and, where the policy tells only how to take off, all of the
/// kit, every pair of it, in the order in which the level lists it.
fn dressed(policy: &Policy, level: &Level, who: RoleId, puts_on: bool, script: &Script) -> Vec<ItemId> {
    let kit = level.kit(who).map(|kit| kit.items.as_slice()).unwrap_or_default();
    let (beneath, over): (Vec<_>, Vec<_>) = kit.iter().partition(|worn| policy.item(worn.item).worn_beneath);
    let pairs = |worn: &&Worn| vec![worn.item; copies(worn.pairs)];
    let mut items: Vec<ItemId> = beneath.iter().flat_map(pairs).collect();
    if !puts_on && !script.taking_off.is_empty() {
        items.extend(over.iter().flat_map(pairs));
    }
    items
}

/// The place of the sequence in which somebody first acts. Where that is to go there, the place before it: clean, if kit is
/// to be put on or they only help or watch; otherwise where the hazard is. None for somebody who never goes anywhere: they are
/// wherever they are needed.
fn starts_at(policy: &Policy, script: &Script, who: RoleId) -> Option<PlaceId> {
    let mut steps = script.entries.iter().filter_map(|entry| match entry {
        super::script::Entry::Step(at, step) if step.actor == who || wearer_of(&step.act) == Some(who) => {
            Some((at, *step))
        }
        _ => None,
    });
    let moves = script.entries.iter().any(|entry| {
        matches!(entry, super::script::Entry::Step(_, step) if step.actor == who && matches!(step.act, Act::Go(_)))
    });
    if !moves {
        return None;
    }
    let (at, first) = steps.next()?;
    let Act::Go(goal) = first.act else { return policy.sequence(at.sequence).place };
    let leads_there = |place: &PlaceId| {
        policy.ways.iter().any(|way| way.places.windows(2).any(|pair| pair[0] == *place && pair[1] == goal))
    };
    let comes_from_outside = policy.role(who).watches || !policy.role(who).helps.is_empty();
    if script.putting_on.contains(&at.sequence) || comes_from_outside {
        let places = (0..policy.places.len()).map(PlaceId::new);
        let clean = |place: &PlaceId| policy.place(*place).kind == PlaceKind::Clean;
        places.clone().filter(clean).find(leads_there).or(Some(goal))
    } else {
        // A wearer's taking off begins where the hazard is, or wherever one comes from.
        let places = (0..policy.places.len()).map(PlaceId::new);
        let contaminated = |place: &PlaceId| policy.place(*place).kind == PlaceKind::Contaminated;
        places.clone().filter(contaminated).find(leads_there).or(Some(goal))
    }
}

/// Every piece that somebody may wear or handle.
fn pieces(
    policy: &Policy,
    level: &Level,
    people: &[RoleId],
    steps: &[(super::event::StepRef, &crate::policy::Step)],
    dressed: &[Vec<ItemId>],
) -> Vec<(RoleId, ItemId, u8)> {
    let mut pieces: Vec<(RoleId, ItemId, u8)> = Vec::new();
    let mut add = |who: RoleId, item: ItemId, copies: u8| match pieces
        .iter_mut()
        .find(|(role, known, _)| (*role, *known) == (who, item))
    {
        Some(known) => known.2 = known.2.max(copies),
        None => pieces.push((who, item, copies)),
    };
    for kit in &level.kits {
        for worn in &kit.items {
            add(kit.role, worn.item, copies(worn.pairs) as u8);
        }
    }
    for (&who, items) in people.iter().zip(dressed) {
        for &item in items {
            add(who, item, 1);
        }
    }
    for (_, step) in steps {
        for (who, item) in handled(step.actor, &step.act) {
            if item.index() < policy.items.len() {
                add(who, item, 1);
            }
        }
    }
    pieces
}

/// The items that an act handles, with whose they are.
fn handled(actor: RoleId, act: &Act) -> Vec<(RoleId, ItemId)> {
    let of = |target: &Target| match target {
        Target::Item { item, wearer } => vec![(*wearer, *item)],
        _ => Vec::new(),
    };
    match act {
        Act::PutOn { wearer, item, .. } | Act::PullUp { wearer, item } | Act::Change { wearer, item } => {
            vec![(*wearer, *item)]
        }
        Act::TakeOff { wearer, item, together_with, .. } => {
            std::iter::once(*item).chain(together_with.iter().copied()).map(|item| (*wearer, item)).collect()
        }
        Act::Wipe { target, .. } | Act::Spray { target, .. } | Act::Put { what: target, .. } => of(target),
        Act::Check(target) | Act::SwitchOn(target) | Act::SwitchOff(target) | Act::Untie(target) => of(target),
        Act::Open(target) | Act::Close(target) => of(target),
        Act::Connect { item, to } => [of(item), of(to)].concat(),
        Act::Disconnect { item, from } => [of(item), from.as_ref().map(of).unwrap_or_default()].concat(),
        Act::Cut { item, tool, .. } => {
            let tool = tool.map(|tool| (actor, tool));
            of(item).into_iter().chain(tool).collect()
        }
        Act::Break { item, .. } => of(item),
        _ => Vec::new(),
    }
}

fn put_down(act: &Act) -> Option<(RoleId, ItemId)> {
    match act {
        Act::Put { what: Target::Item { item, wearer }, .. } => Some((*wearer, *item)),
        _ => None,
    }
}

/// The parts that an act takes hold of.
fn gripped(act: &Act) -> Vec<(ItemId, String)> {
    match act {
        Act::TakeOff { item, grip: Some(part), .. } => vec![(*item, part.clone())],
        Act::Cut { part: Some(part), item: Target::Item { item, .. }, .. }
        | Act::Break { part: Some(part), item: Target::Item { item, .. } } => vec![(*item, part.clone())],
        Act::Untie(Target::Item { item, .. }) => vec![(*item, "ties".to_string())],
        _ => Vec::new(),
    }
}

/// A mask or respirator that lies on the face: covers nose and mouth alone, or the eyes too where it seals (EN 136, fit
/// test), and hangs on no blower. Powered hoods come off in another order (CDC Ebola training modules, 2014).
pub fn is_face_mask(policy: &Policy, id: ItemId) -> bool {
    let item = policy.item(id);
    let seals = item.needs_fit_test || item.meets.iter().any(|words| words.to_uppercase().contains("EN 136"));
    let is_blower = |&other: &ItemId| policy.item(other).runs_for.is_some();
    (item.covers.has(Area::Mouth) || item.covers.has(Area::Nose))
        && (seals || !item.covers.has(Area::Eyes))
        && !item.covers.has(Area::Hair)
        && !item.connects_to.iter().any(is_blower)
        && item.runs_for.is_none()
}

/// A respirator that filters by its seal: by fit test, or by the standard it meets (EN 136, 140, 149 and 405; N95 of 42 CFR 84).
pub fn is_tight_respirator(policy: &Policy, item: ItemId) -> bool {
    let names_filter = |words: &String| {
        let words = words.to_uppercase();
        ["EN 136", "EN 140", "EN 149", "EN 405", "FFP2", "FFP3", "N95", "N99", "P2", "P3"]
            .iter()
            .any(|mark| words.contains(mark))
    };
    is_face_mask(policy, item)
        && (policy.item(item).needs_fit_test
            || policy.item(item).meets.iter().any(names_filter)
            || names_filter(&policy.item(item).printed)
            || names_filter(&policy.item(item).name))
}
