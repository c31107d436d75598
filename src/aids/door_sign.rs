//! The sign at the door: what is behind it, what to wear, what is checked first, whom to ask.
//!
//! In: a level. Out: a [`Sign`]. Must never show kit of those who do not go in.

use super::kit_list;
use super::pattern::capital;
use super::pictograms;
use super::plan::{Sign, SignItem, SignKit};
use super::procedure::Direction;
use super::voice::item_name;
use super::words::{Words, say};
use crate::policy::{Act, Kit, LevelId, Policy};

pub fn sign(policy: &Policy, words: &Words, level: LevelId) -> Sign {
    let tell = |key: &str, slots: &[(&str, &str)]| say(&words.sign, key, slots);
    let of_level = policy.level(level);
    let goes_in = |kit: &&Kit| {
        let role = policy.role(kit.role);
        !role.watches && role.helps.is_empty()
    };
    let mut kits: Vec<&Kit> = of_level.kits.iter().filter(goes_in).collect();
    if kits.is_empty() {
        kits = of_level.kits.iter().collect();
    }
    let wear = kits.iter().map(|kit| SignKit {
        role: capital(&policy.role(kit.role).name),
        items: kit_list::in_order(policy, level, kit.role, &kit.items)
            .into_iter()
            .map(|worn| SignItem {
                name: capital(&item_name(policy, worn.item)),
                pictogram: Some(pictograms::of_item(policy, words, worn.item)),
            })
            .collect(),
    });
    let owner = policy.paper.owner.clone().unwrap_or_default();
    Sign {
        stop: tell("stop", &[]),
        rule: tell("rule", &[]),
        hazards: hazards(policy, words, level),
        wear_title: tell("wear", &[]),
        wear: wear.collect(),
        before: before(policy, words, level),
        ask: if owner.is_empty() { String::new() } else { tell("ask", &[("owner", &owner)]) },
    }
}

fn hazards(policy: &Policy, words: &Words, level: LevelId) -> Vec<String> {
    let of_level = policy.level(level);
    let named = of_level.against_hazards.iter().map(|&id| capital(&policy.hazard(id).name));
    let routes: Vec<&str> = of_level
        .routes
        .iter()
        .map(|route| words.sign.get(&format!("route_{}", route.word())).map_or(route.word(), String::as_str))
        .collect();
    let spreads =
        (!routes.is_empty()).then(|| say(&words.sign, "spreads", &[("routes", &routes.join(&words.nouns.list_comma))]));
    named.chain(spreads).collect()
}

/// The holds of putting on, and the longest stay.
fn before(policy: &Policy, words: &Words, level: LevelId) -> Vec<String> {
    let on = policy.sequences_of(level).filter(|(_, sequence)| Direction::of(&sequence.steps) == Direction::PuttingOn);
    let holds = on.flat_map(|(_, sequence)| &sequence.steps).filter_map(|step| match &step.act {
        Act::Hold(hold) => {
            let who: Vec<&str> = hold.confirms.iter().map(|(role, _)| policy.role(*role).name.as_str()).collect();
            let who = who.join(&words.nouns.list_and);
            Some(say(&words.sign, "hold", &[("title", &hold.title), ("who", &who)]))
        }
        _ => None,
    });
    let stay = policy.level(level).stay.map(|time| say(&words.sign, "stay", &[("time", &words.duration(time))]));
    holds.chain(stay).collect()
}
