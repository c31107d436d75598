//! Which pictogram stands beside a step, an item or a container, and what it is called for those who cannot see it.
//!
//! In: an act or a thing of the policy. Out: a key of the drawings' table with its alternative text. Must never draw.

use std::collections::BTreeMap;

use super::plan::Pictogram;
use super::voice::item_name;
use super::words::{Words, say};
use crate::policy::{Act, Area, Areas, Cleaner, Container, Item, ItemId, Policy, Purpose, Step, Target};

/// The drawing of a step: the item that goes on or comes off, or the act.
pub fn of_step(policy: &Policy, words: &Words, step: &Step) -> Option<Pictogram> {
    match &step.act {
        Act::PutOn { item, .. } | Act::PullUp { item, .. } => Some(worn(policy, words, *item, "_on", "item_on")),
        Act::TakeOff { item, .. } => Some(worn(policy, words, *item, "_off", "item_off")),
        Act::Hold(_) => None,
        act => {
            let key = act_key(policy, words, act);
            Some(Pictogram { key: key.to_string(), alt: say(&words.alt, key, &[]) })
        }
    }
}

/// The drawing of an item on a list.
pub fn of_item(policy: &Policy, words: &Words, id: ItemId) -> Pictogram {
    worn(policy, words, id, "", "item")
}

/// The drawing of a container: by what it is for, and whether it is a bag or rigid.
pub fn of_container(words: &Words, container: &Container) -> Pictogram {
    let key = container_key(words, container);
    Pictogram { key: key.to_string(), alt: say(&words.alt, key, &[]) }
}

/// The drawing of a cleaner: by what it cleans, and how it is used as far as its name says.
pub fn of_cleaner(words: &Words, cleaner: &Cleaner) -> Pictogram {
    let named = format!("{} {}", cleaner.name, words.original(&cleaner.printed)).to_lowercase();
    let key = match () {
        () if cleaner.for_hands && words.is_soap(cleaner) => "hand_wash",
        () if cleaner.for_hands => "hand_rub",
        () if has_word(&named, &["spray"]) => "spray",
        () => "wipe",
    };
    Pictogram { key: key.to_string(), alt: say(&words.alt, key, &[]) }
}

/// The hospital's own drawing of an item, and its key.
fn own(policy: &Policy, id: ItemId) -> Option<(String, &str)> {
    let svg = policy.item(id).picture.as_ref()?.svg.as_deref()?;
    Some((format!("{OWN}{}", id.index()), svg))
}

/// How the keys of the hospital's own drawings begin.
const OWN: &str = "own";

/// All drawings of the hospital's own, by their keys.
pub fn all_own(policy: &Policy) -> BTreeMap<String, String> {
    let ids = (0..policy.items.len()).map(ItemId::new);
    ids.filter_map(|id| own(policy, id)).map(|(key, svg)| (key, svg.to_string())).collect()
}

fn worn(policy: &Policy, words: &Words, id: ItemId, ending: &str, alt: &str) -> Pictogram {
    let name = item_name(policy, id);
    let key = match own(policy, id) {
        Some((key, _)) => format!("{key}{ending}"),
        None => format!("{}{ending}", item_key(words, policy.item(id))),
    };
    Pictogram { key, alt: say(&words.alt, alt, &[("item", &name)]) }
}

fn act_key(policy: &Policy, words: &Words, act: &Act) -> &'static str {
    match act {
        Act::CleanHands(with) if words.is_soap(policy.cleaner(with.cleaner)) => "hand_wash",
        Act::CleanHands(_) => "hand_rub",
        Act::Change { .. } => "change",
        Act::Wipe { .. } => "wipe",
        Act::Spray { .. } => "spray",
        Act::Check(Target::Person(_)) => "look",
        Act::Check(_) => "check",
        Act::Go(_) => "go",
        Act::Put { into: crate::policy::Dest::Container(id), .. } => container_key(words, policy.container(*id)),
        Act::SwitchOn(_) | Act::SwitchOff(_) => "switch",
        Act::Connect { .. } => "connect",
        Act::Disconnect { .. } => "disconnect",
        Act::Cut { .. } => "cut",
        Act::Untie(_) => "untie",
        Act::StepOnto(_) => "step_onto",
        Act::StepOff(_) => "step_off",
        Act::SitOn(_) => "sit",
        Act::Open(_) => "open",
        Act::Close(_) => "close",
        Act::Fold(_) => "fold",
        Act::Other(text) if has_word(&words.original(text).to_lowercase(), &["call", "phone", "ring"]) => "call",
        _ => "other",
    }
}

fn container_key(words: &Words, container: &Container) -> &'static str {
    let words = format!("{} {}", container.name, words.original(&container.printed)).to_lowercase();
    match container.purpose {
        Some(Purpose::Sharps) => "sharps_box",
        Some(Purpose::Reuse) => "reuse_box",
        _ if has_word(&words, &["bin", "drum", "box", "rigid", "tub"]) => "bin",
        _ => "waste",
    }
}

/// By what the item covers first, then by its words and standards; one line a decision, the first that fits.
#[rustfmt::skip]
fn item_key(words: &Words, item: &Item) -> &'static str {
    let words = format!("{} {}", words.original(&item.name), words.original(&item.printed)).to_lowercase();
    let says = |wanted: &[&str]| has_word(&words, wanted);
    let covers = |area| item.covers.has(area);
    let breathes = covers(Area::Nose) || covers(Area::Mouth);
    let filters = item.needs_fit_test || item.meets.iter().any(|standard| filters_air(standard));
    match () {
        _ if item.worn_beneath                                   => "scrubs",
        _ if says(&["powered", "papr"]) && !item.covers.is_empty() => "powered_hood",
        _ if breathes && !item.connects_to.is_empty()            => "powered_hood",
        _ if item.covers.is_empty() && item.runs_for.is_some()   => "blower",
        _ if covers(Area::Hands) && says(&["inner"])             => "inner_gloves",
        _ if covers(Area::Hands) && says(&["outer"])             => "outer_gloves",
        _ if covers(Area::Hands)                                 => "gloves",
        _ if covers(Area::Trunk) && says(&["gown"])              => "gown",
        _ if covers(Area::Trunk) && covers(Area::Legs)           => "coverall",
        _ if covers(Area::Trunk) && covers(Area::Arms)           => "gown",
        _ if covers(Area::Trunk)                                 => "apron",
        _ if covers(Area::Feet) && says(&["cover", "covers", "overshoes", "overboots", "shoe"]) => "boot_covers",
        _ if covers(Area::Feet)                                  => "boots",
        _ if breathes && filters && item.single_use              => "respirator",
        _ if breathes && filters                                 => "reusable_respirator",
        _ if covers(Area::Face) && covers(Area::Eyes)            => "face_shield",
        _ if breathes && !covers(Area::Hair)                     => "mask",
        _ if covers(Area::Eyes) && says(&["shield", "visor"])    => "face_shield",
        _ if covers(Area::Eyes)                                  => "goggles",
        _ if covers(Area::Hair) && item.covers != Areas::of([Area::Hair]) => "hood",
        _ if covers(Area::Hair)                                  => "cap",
        _ if covers(Area::Face)                                  => "face_shield",
        _                                                        => "item",
    }
}

fn has_word(text: &str, wanted: &[&str]) -> bool {
    text.split(|c: char| !c.is_alphanumeric()).any(|word| wanted.contains(&word))
}

/// Standards of devices that filter what is breathed (EN 149, EN 140, EN 136, EN 143, 42 CFR 84): common practice.
fn filters_air(standard: &str) -> bool {
    let folded = standard.to_uppercase().replace(' ', "");
    ["EN149", "EN140", "EN136", "EN143", "FFP", "N95", "N99", "P100", "42CFR84"]
        .iter()
        .any(|mark| folded.contains(mark))
}
