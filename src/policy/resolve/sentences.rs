//! The sentences of steps: who does what to whose item.
//!
//! In: one sentence. Out: the act, or none where a name in it stands for nothing; that name is told.

use super::Resolution;
use super::names::{CONTAINER, ITEM, SURFACE, TARGET};
use crate::policy::{
    Act, Area, CleanerId, ContainerId, Dest, ItemId, LevelId, RoleId, Seconds, SurfaceId, Target, With,
};
use crate::syntax::declared::Thing;
use crate::syntax::problem::ProblemKind;
use crate::syntax::tree::{Amount, Destination, Name, Removal, Verb};

/// Parts of the body that a garment can be half on to, and the uppermost area that it covers by then.
const LANDMARKS: [(&str, Area); 9] = [
    ("waist", Area::Legs),
    ("hips", Area::Legs),
    ("knees", Area::Legs),
    ("ankles", Area::Feet),
    ("elbows", Area::Arms),
    ("wrists", Area::Arms),
    ("chest", Area::Trunk),
    ("shoulders", Area::Trunk),
    ("chin", Area::Neck),
];

/// Who acts, and in which sequence's level; none in a contingency.
#[derive(Clone, Copy)]
pub(super) struct Doer {
    pub role: RoleId,
    pub level: Option<LevelId>,
}

impl Resolution<'_> {
    pub(super) fn act(&mut self, doer: Doer, verb: &Verb) -> Option<Act> {
        match verb {
            Verb::PutsOn { .. } | Verb::PullsUp { .. } | Verb::Changes { .. } | Verb::TakesOff { .. } => {
                self.dressing(doer, verb)
            }
            Verb::CleansHands { .. } | Verb::Wipes { .. } | Verb::Sprays { .. } => self.cleaning(doer, verb),
            Verb::StepsOnto(name) => self.surface_id(name).map(Act::StepOnto),
            Verb::StepsOff(name) => self.surface_id(name).map(Act::StepOff),
            Verb::SitsOn(name) => self.surface_id(name).map(Act::SitOn),
            Verb::Folds(name) => self.surface_id(name).map(Act::Fold),
            Verb::StandsUp => Some(Act::StandUp),
            Verb::GoesTo(place) => self.place_id(place).map(Act::Go),
            Verb::Does(words) => Some(Act::Other(words.text.clone())),
            _ => self.handling(doer, verb),
        }
    }

    fn dressing(&mut self, doer: Doer, verb: &Verb) -> Option<Act> {
        match verb {
            Verb::PutsOn { helped, item, fresh, as_far_as } => {
                let (wearer, item) = (self.worn_by(doer, helped), self.item_id(item));
                let reached = as_far_as.as_ref().map(|name| self.landmark(name));
                let as_far_as = match reached {
                    Some(area) => Some(area?),
                    None => None,
                };
                Some(Act::PutOn { wearer: wearer?, item: item?, fresh: *fresh, as_far_as })
            }
            Verb::PullsUp { helped, item } => {
                let (wearer, item) = (self.worn_by(doer, helped), self.item_id(item));
                Some(Act::PullUp { wearer: wearer?, item: item? })
            }
            Verb::Changes { helped, item } => {
                let (wearer, item) = (self.worn_by(doer, helped), self.item_id(item));
                Some(Act::Change { wearer: wearer?, item: item? })
            }
            Verb::TakesOff { helped, item, how } => {
                let (wearer, item) = (self.worn_by(doer, helped), self.item_id(item));
                self.removal(wearer, item, how)
            }
            _ => None,
        }
    }

    fn removal(&mut self, wearer: Option<RoleId>, item: Option<ItemId>, how: &Removal) -> Option<Act> {
        let others: Vec<Option<ItemId>> = how.together_with.iter().map(|name| self.item_id(name)).collect();
        let into = how.into.as_ref().map(|into| self.dest(into));
        let grip = item.and_then(|item| self.grip_of(item, how.by.as_ref()?));
        let into = match into {
            Some(dest) => Some(dest?),
            None => None,
        };
        Some(Act::TakeOff {
            wearer: wearer?,
            item: item?,
            grip,
            inside_out: how.inside_out.is_some(),
            together_with: others.into_iter().collect::<Option<Vec<_>>>()?,
            into,
        })
    }

    /// The part that is taken hold of. A slip of the keyboard in a part that the item lists is told and put right.
    fn grip_of(&mut self, item: ItemId, part: &Name) -> Option<String> {
        let listed: Vec<String> = self.policy.item(item).grips.iter().map(|grip| grip.part.clone()).collect();
        let text = super::names::without_article(&part.text).unwrap_or(&part.text);
        if listed.iter().any(|other| other == text) {
            return Some(text.to_owned());
        }
        match super::near(text, listed.iter().map(String::as_str)).filter(|near| near.sure) {
            Some(near) => {
                let kind = ProblemKind::Word {
                    written: part.text.clone(),
                    what: "a part that the item lists",
                    near: Some(near.name.to_owned()),
                    known: listed.clone(),
                };
                self.names.failed += 1;
                self.names.tell((format!("{} of {}", part.text, item.index()), "a part"), part.span, kind);
                Some(near.name.to_owned())
            }
            None => Some(text.to_owned()),
        }
    }

    fn cleaning(&mut self, doer: Doer, verb: &Verb) -> Option<Act> {
        match verb {
            Verb::CleansHands { cleaner, time } => self.with(cleaner, time.as_ref()).map(Act::CleanHands),
            Verb::Wipes { target, cleaner, time } => {
                let (target, with) = (self.target(doer, target), self.with(cleaner, time.as_ref()));
                Some(Act::Wipe { target: target?, with: with? })
            }
            Verb::Sprays { target, cleaner, time } => {
                let (target, with) = (self.target(doer, target), self.with(cleaner, time.as_ref()));
                Some(Act::Spray { target: target?, with: with? })
            }
            _ => None,
        }
    }

    /// A time whose unit does not fit is told, and the step goes on without a time.
    fn with(&mut self, cleaner: &Name, time: Option<&Amount>) -> Option<With> {
        let time: Option<Seconds> = time.and_then(|amount| self.seconds(amount));
        let cleaner: CleanerId = self.cleaner_id(cleaner)?;
        Some(With { cleaner, time })
    }

    fn handling(&mut self, doer: Doer, verb: &Verb) -> Option<Act> {
        match verb {
            Verb::Checks(name) => self.target(doer, name).map(Act::Check),
            Verb::SwitchesOn(name) => self.target(doer, name).map(Act::SwitchOn),
            Verb::SwitchesOff(name) => self.target(doer, name).map(Act::SwitchOff),
            Verb::Unties(name) => self.target(doer, name).map(Act::Untie),
            Verb::Opens(name) => self.target(doer, name).map(Act::Open),
            Verb::Closes(name) => self.target(doer, name).map(Act::Close),
            Verb::Puts { item, into } => {
                let (what, into) = (self.target(doer, item), self.dest(into));
                Some(Act::Put { what: what?, into: into? })
            }
            Verb::Connects { item, to } => {
                let (item, to) = (self.target(doer, item), self.target(doer, to));
                Some(Act::Connect { item: item?, to: to? })
            }
            Verb::Disconnects { item, from } => {
                let (item, from) = (self.target(doer, item), from.as_ref().map(|from| self.target(doer, from)));
                let from = match from {
                    Some(from) => Some(from?),
                    None => None,
                };
                Some(Act::Disconnect { item: item?, from })
            }
            Verb::Cuts { part, item, tool } => {
                let (item, tool) = (self.target(doer, item), tool.as_ref().map(|tool| self.item_id(tool)));
                let tool = match tool {
                    Some(tool) => Some(tool?),
                    None => None,
                };
                Some(Act::Cut { part: part.as_ref().map(|part| part.text.clone()), item: item?, tool })
            }
            Verb::Breaks { part, item } => {
                let item = self.target(doer, item)?;
                Some(Act::Break { part: part.as_ref().map(|part| part.text.clone()), item })
            }
            _ => None,
        }
    }

    fn worn_by(&mut self, doer: Doer, helped: &Option<Name>) -> Option<RoleId> {
        match helped {
            Some(helped) => self.role_id(helped),
            None => Some(doer.role),
        }
    }

    fn landmark(&mut self, name: &Name) -> Option<Area> {
        let text = super::names::without_article(&name.text).unwrap_or(&name.text);
        if let Some((_, area)) = LANDMARKS.into_iter().find(|(word, _)| *word == text) {
            return Some(area);
        }
        self.area(name)
    }

    fn surface_id(&mut self, name: &Name) -> Option<SurfaceId> {
        self.find(name, SURFACE).map(SurfaceId::new)
    }

    fn dest(&mut self, into: &Destination) -> Option<Dest> {
        let (name, first, other) = match into {
            Destination::Into(name) => (name, CONTAINER, SURFACE),
            Destination::Onto(name) => (name, SURFACE, CONTAINER),
        };
        let wanted = if self.names.peek(&name.text, first).is_none() && self.names.peek(&name.text, other).is_some() {
            other
        } else {
            first
        };
        let (kind, index) = self.names.find(name, wanted)?;
        Some(match kind {
            Thing::Surface => Dest::Surface(SurfaceId::new(index)),
            _ => Dest::Container(ContainerId::new(index)),
        })
    }

    pub(super) fn target(&mut self, doer: Doer, name: &Name) -> Option<Target> {
        let (kind, index) = self.names.find(name, TARGET)?;
        Some(match kind {
            Thing::Surface => Target::Surface(SurfaceId::new(index)),
            Thing::Container => Target::Container(ContainerId::new(index)),
            Thing::Role => Target::Person(RoleId::new(index)),
            _ => {
                let item = ItemId::new(index);
                Target::Item { item, wearer: self.whose(doer, item) }
            }
        })
    }

    /// Whose item a sentence means: the actor's own if the actor wears one at the level, otherwise that of the one other
    /// role that does, one whom the actor helps before others.
    fn whose(&self, doer: Doer, item: ItemId) -> RoleId {
        let levels = match doer.level {
            Some(level) => level.index()..level.index() + 1,
            None => 0..self.policy.levels.len(),
        };
        let wears = |role: RoleId| {
            levels.clone().map(LevelId::new).any(|level| {
                let kit = self.policy.level(level).kit(role);
                kit.is_some_and(|kit| kit.items.iter().any(|worn| worn.item == item))
                    || self.puts_on.contains(&(level, role, item))
            })
        };
        if wears(doer.role) {
            return doer.role;
        }
        let helps = &self.policy.role(doer.role).helps;
        let others = (0..self.policy.roles.len()).map(RoleId::new).filter(|&role| role != doer.role);
        helps.iter().copied().chain(others).find(|&role| wears(role)).unwrap_or(doer.role)
    }

    /// An item that is put on belongs to whoever it is put on.
    pub(super) fn note_puts_on(&mut self, level: LevelId, actor: &Name, verb: &Verb) {
        let (helped, item) = match verb {
            Verb::PutsOn { helped, item, .. } | Verb::Changes { helped, item } => (helped, item),
            _ => return,
        };
        let wearer = self.names.peek(&helped.as_ref().unwrap_or(actor).text, super::names::ROLE);
        if let (Some((_, wearer)), Some((_, item))) = (wearer, self.names.peek(&item.text, ITEM)) {
            self.puts_on.insert((level, RoleId::new(wearer), ItemId::new(item)));
        }
    }
}
