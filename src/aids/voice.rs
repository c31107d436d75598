//! Whom a sentence speaks to, and how it names people and things to that person.
//!
//! In: names of a policy. Out: phrases: `the apron`, `your apron`, `the wearer’s apron`. Must never make a sentence.

use super::pattern::form;
use super::words::{Patterns, Words};
use crate::policy::{Dest, ItemId, Level, LevelId, PlaceId, Policy, RoleId, Target};

/// Of several levels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Share {
    Nowhere,
    Somewhere,
    Everywhere,
}

#[derive(Clone, Copy)]
pub struct Voice<'a> {
    pub policy: &'a Policy,
    pub words: &'a Words,
    pub level: Option<LevelId>,
    /// Whose kit the sequence is about.
    pub principal: RoleId,
    /// The one who is spoken to; none where the sentence stands on a wall for all.
    pub you: Option<RoleId>,
    /// The form in which the sentence takes its names; empty where it asks for none.
    pub form: &'a str,
}

/// What an item is called in a step: its name, or its printed name where the name only tells people apart within the
/// policy (`helper gown` is printed as "long-sleeved gown").
pub fn item_name(policy: &Policy, id: ItemId) -> String {
    let item = policy.item(id);
    if item.is_named_after_a_role(&policy.roles) { item.printed.clone() } else { item.name.clone() }
}

impl<'a> Voice<'a> {
    /// Naming things in the form that a pattern asks for in one of its slots.
    pub fn within(&self, table: &'a Patterns, key: &str, slot: &str) -> Voice<'a> {
        Voice { form: table.get(key).map(|pattern| form(pattern, slot)).unwrap_or_default(), ..*self }
    }

    pub fn item_name(&self, id: ItemId) -> String {
        item_name(self.policy, id)
    }

    pub fn role_name(&self, id: RoleId) -> &'a str {
        &self.policy.role(id).name
    }

    /// `the apron`, `your apron`, `the wearer’s apron`, `your own outer gloves`
    pub fn item(&self, id: ItemId, wearer: RoleId, actor: RoleId) -> String {
        let name = self.item_name(id);
        let nouns = &self.words.nouns;
        let another_has_it = actor != self.principal && self.wears(self.principal, id);
        let (kind, usual) = match () {
            () if self.you == Some(wearer) => ("your", &nouns.your),
            () if self.you == Some(actor) && wearer != actor => ("whose", &nouns.whose),
            () if wearer == actor && another_has_it => ("your_own", &nouns.your_own),
            () => ("the", &nouns.the),
        };
        let slots = [("name", name.as_str()), ("person", self.role_name(wearer))];
        self.words.noun(kind, usual, "item", self.form, &slots)
    }

    /// `the apron` whoever wears it, for sentences that have named the wearer already.
    pub fn the_item(&self, id: ItemId) -> String {
        self.the(&self.item_name(id))
    }

    pub fn the(&self, name: &str) -> String {
        self.words.noun("the", &self.words.nouns.the, "item", self.form, &[("name", name)])
    }

    pub fn the_place(&self, id: PlaceId) -> String {
        let name = &self.policy.place(id).name;
        self.words.noun("the_place", &self.words.nouns.the_place, "place", self.form, &[("name", name)])
    }

    pub fn fresh(&self, id: ItemId) -> String {
        let name = self.item_name(id);
        let nouns = &self.words.nouns;
        let usual = if self.words.is_many(&name) { &nouns.fresh_many } else { &nouns.fresh_one };
        self.words.noun("fresh", usual, "item", self.form, &[("name", &name)])
    }

    pub fn person(&self, id: RoleId, actor: RoleId) -> String {
        let nouns = &self.words.nouns;
        if id == actor {
            nouns.yourself.clone()
        } else if self.you == Some(id) {
            nouns.you.clone()
        } else {
            self.the_person(id)
        }
    }

    pub fn the_person(&self, id: RoleId) -> String {
        let slots = [("person", self.role_name(id))];
        self.words.noun("the_person", &self.words.nouns.the_person, "person", self.form, &slots)
    }

    pub fn target(&self, target: Target, actor: RoleId) -> String {
        match target {
            Target::Item { item, wearer } => self.item(item, wearer, actor),
            Target::Surface(id) => self.the(&self.policy.surface(id).name),
            Target::Container(id) => self.the(&self.policy.container(id).printed),
            Target::Person(id) => self.person(id, actor),
        }
    }

    pub fn dest(&self, dest: Dest) -> String {
        match dest {
            Dest::Container(id) => self.the(&self.policy.container(id).printed),
            Dest::Surface(id) => self.the(&self.policy.surface(id).name),
        }
    }

    /// `hands`, `your gloved hands`
    pub fn hands(&self, actor: RoleId, gloved: bool) -> &'a str {
        let nouns = &self.words.nouns;
        match (self.you == Some(actor), gloved) {
            (false, false) => &nouns.hands,
            (false, true) => &nouns.gloved_hands,
            (true, false) => &nouns.your_hands,
            (true, true) => &nouns.your_gloved_hands,
        }
    }

    /// `it` or `them`
    pub fn it(&self, many: bool) -> &'a str {
        if many { &self.words.nouns.it_many } else { &self.words.nouns.it_one }
    }

    /// `its`, or `the` of many things
    pub fn its(&self, many: bool) -> &'a str {
        if many { &self.words.nouns.its_many } else { &self.words.nouns.its_one }
    }

    pub fn is_many(&self, id: ItemId) -> bool {
        self.words.is_many(&self.item_name(id))
    }

    /// Whether an item belongs to a person's kit at the level; true where there is no level to ask.
    pub fn wears(&self, role: RoleId, item: ItemId) -> bool {
        self.level.is_none_or(|level| has(self.policy.level(level), role, item))
    }

    /// Whether the role wears `other` where it wears `item`, in the level that is told of or in those of the policy: in none,
    /// in some, in all.
    pub fn wears_with(&self, role: RoleId, item: ItemId, other: ItemId) -> Share {
        let levels = self.policy.levels.iter().enumerate();
        let levels = levels.filter(|(at, _)| self.level.is_none_or(|level| level.index() == *at));
        let with: Vec<bool> = levels
            .filter(|(_, level)| self.level.is_some() || has(level, role, item))
            .map(|(_, level)| has(level, role, other))
            .collect();
        match (with.contains(&true), with.contains(&false)) {
            (false, _) => Share::Nowhere,
            (true, true) => Share::Somewhere,
            (true, false) => Share::Everywhere,
        }
    }
}

fn has(level: &Level, role: RoleId, item: ItemId) -> bool {
    level.kit(role).is_some_and(|kit| kit.items.iter().any(|worn| worn.item == item))
}
