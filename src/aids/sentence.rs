//! The sentences of a step: what is done, how, and when.
//!
//! In: a step and the [`Voice`] in which it is told. Out: the act as one imperative, its details, its condition.
//! Must never leave out what the policy says of a step, nor add an act that it does not name.

use super::pattern::{capital, small};
use super::voice::{Share, Voice};
use super::words::say;
use super::worn::Worn;
use crate::policy::{
    Act, Area, Dest, Event, FactKind, Guard, ItemId, Literal, RoleId, Seconds, Step, SurfaceId, Target, With,
};

/// The act: one imperative. To the one who acts, `Take off your apron by its ties`; to the one who is acted on,
/// `Let the helper help you take off your hood`; to all, `Help the wearer take off the hood`.
pub fn act(voice: &Voice, step: &Step, gloved: bool) -> String {
    if let Some(printed) = &step.prompts.print_as {
        return printed.clone();
    }
    let Some(phrase) = phrase(voice, step, gloved) else {
        return match &step.act {
            Act::Other(text) => capital(text.trim()),
            _ => String::new(),
        };
    };
    let helped = helped(step);
    let key = match (voice.you.is_some_and(|you| you != step.actor), helped.is_some()) {
        (false, false) => return capital(&phrase),
        (false, true) => "help",
        (true, false) => "let",
        (true, true) => "let_help",
    };
    let within = |slot: &str| voice.within(&voice.words.voices, key, slot);
    let person = helped.map(|wearer| within("person").person(wearer, step.actor)).unwrap_or_default();
    let actor = within("actor").the_person(step.actor);
    capital(&say(&voice.words.voices, key, &[("actor", &actor), ("person", &person), ("act", &phrase)]))
}

/// What the observer says where the policy gives no words of its own: the act, spoken to the one who does it, so that
/// each step is read aloud. None for hand cleaning, whose row is read as it stands, and for what the speaker does alone.
pub fn spoken(voice: &Voice, step: &Step, speaker: Option<RoleId>) -> Option<String> {
    if Some(step.actor) == speaker {
        return match step.act {
            Act::Check(Target::Person(_)) => Some(say(&voice.words.voices, "say_check_person", &[])),
            Act::Check(target @ Target::Item { wearer, .. }) => {
                let voice = voice.within(&voice.words.voices, "say_check_item", "item");
                let item = Voice { you: Some(wearer), ..voice }.target(target, step.actor);
                Some(say(&voice.words.voices, "say_check_item", &[("item", &item)]))
            }
            _ => None,
        };
    }
    if matches!(step.act, Act::CleanHands(_) | Act::Hold(_)) {
        return None;
    }
    let to_the_actor = Voice { you: Some(step.actor), ..*voice };
    let mut told = act(&to_the_actor, step, false);
    if step.actor != voice.principal {
        let slots = [("actor", voice.role_name(step.actor)), ("act", &small(&told))];
        told = say(&voice.words.voices, "say_to_other", &slots);
    }
    let rolled = rolled(voice, step).map(|rolled| format!(" {rolled}")).unwrap_or_default();
    Some(format!("{told}.{rolled}"))
}

/// Putting on and taking off in the fewest words, for a chart: `Take off long apron`. None for other acts, and where the
/// policy has words of its own.
pub fn short(voice: &Voice, step: &Step) -> Option<String> {
    if step.prompts.print_as.is_some() {
        return None;
    }
    let name = |item: ItemId| voice.item_name(item);
    let (key, item, others) = match &step.act {
        Act::PutOn { item, .. } => ("put_on", *item, Vec::new()),
        Act::PullUp { item, .. } => ("pull_up", *item, Vec::new()),
        Act::Change { item, .. } => ("change", *item, Vec::new()),
        Act::TakeOff { item, together_with, .. } => {
            ("take_off", *item, together_with.iter().map(|&id| name(id)).collect())
        }
        _ => return None,
    };
    let others = voice.words.all_of(&others);
    Some(capital(&say(&voice.words.acts, key, &[("item", &name(item)), ("others", &others)])))
}

/// The rest of a step, a sentence each: `Roll it inside out.`, `Into the orange clinical waste bag.` What the policy's own
/// prompt says already is not said again.
pub fn details(voice: &Voice, step: &Step, at: usize, worn: &Worn) -> Vec<String> {
    let said = |detail: &str| voice.words.is_said(detail, &step.prompts.say);
    let mut told = Vec::new();
    match &step.act {
        Act::PutOn { as_far_as: Some(_), .. } => {}
        Act::PutOn { wearer, item, .. } | Act::PullUp { wearer, item } if !said("over") => {
            told.extend(edges(voice, *wearer, *item, at, worn));
        }
        Act::Change { item, .. } if !said("change") => {
            let key = if voice.is_many(*item) { "change_many" } else { "change_one" };
            told.push(say(&voice.words.details, key, &[]));
        }
        Act::TakeOff { into, .. } => {
            told.extend(rolled(voice, step));
            told.extend(into.map(|dest| destination(voice, dest)));
        }
        Act::Wipe { with, .. } | Act::Spray { with, .. } => told.push(cleaner(voice, with)),
        _ => {}
    }
    if let Some(time) = step.prompts.takes {
        told.push(say(&voice.words.details, "takes", &[("time", &voice.words.duration(time))]));
    }
    told
}

/// `Roll it inside out.`
pub fn rolled(voice: &Voice, step: &Step) -> Option<String> {
    let Act::TakeOff { item, inside_out: true, together_with, .. } = &step.act else { return None };
    let it = voice.it(voice.is_many(*item) || !together_with.is_empty());
    let silent = step.prompts.print_as.is_some() || voice.words.is_said("inside_out", &step.prompts.say);
    (!silent).then(|| say(&voice.words.details, "inside_out", &[("it", it)]))
}

/// `alcohol hand rub, 30 seconds`
pub fn quiet_detail(voice: &Voice, with: &With) -> String {
    let time = with.time.map(|time| voice.words.duration(time)).unwrap_or_default();
    let cleaner = &voice.policy.cleaner(with.cleaner).printed;
    say(&voice.words.details, "quiet", &[("cleaner", cleaner), ("time", &time)])
}

/// `Only if the apron is soiled`; empty where the step is always done.
pub fn when(voice: &Voice, guard: &Guard) -> String {
    if guard.is_always() || guard.any.is_empty() {
        return String::new();
    }
    let all = |all: &Vec<Literal>| {
        let told: Vec<String> = all.iter().map(|literal| fact(voice, *literal)).collect();
        voice.words.all_of(&told)
    };
    let any: Vec<String> = guard.any.iter().map(all).collect();
    say(&voice.words.when, "only_if", &[("facts", &voice.words.any_of(&any))])
}

/// Whom the actor helps, where the act is done on another.
fn helped(step: &Step) -> Option<RoleId> {
    super::procedure::dresses(&step.act).filter(|&wearer| wearer != step.actor)
}

/// The act as a phrase without its subject: `take off the apron by its ties`.
fn phrase(voice: &Voice, step: &Step, gloved: bool) -> Option<String> {
    let actor = step.actor;
    let acts = &voice.words.acts;
    let tell = |key: &str, slots: &[(&str, &str)]| Some(say(acts, key, slots));
    let item = |key: &str, target: &Target| voice.within(acts, key, "item").target(*target, actor);
    let to = |key: &str, target: &Target| tell(key, &[("item", &item(key, target))]);
    let other = |key: &str, target: &Target| other(&voice.within(acts, key, "other"), actor, target);
    let on = |key: &str, id: SurfaceId| to(key, &Target::Surface(id));
    match &step.act {
        Act::PutOn { .. } | Act::PullUp { .. } | Act::Change { .. } | Act::TakeOff { .. } => dressing(voice, step),
        Act::CleanHands(with) => {
            let soap = voice.words.is_soap(voice.policy.cleaner(with.cleaner));
            tell(if soap { "wash_hands" } else { "clean_hands" }, &[("hands", voice.hands(actor, gloved))])
        }
        Act::Wipe { target, .. } => to("wipe", target),
        Act::Spray { target, .. } => to("spray", target),
        Act::Check(target) => to("check", target),
        Act::Go(place) => tell("go", &[("place", &voice.within(acts, "go", "place").the_place(*place))]),
        Act::Put { what, into } => {
            let key = if matches!(into, Dest::Container(_)) { "put_into" } else { "put_onto" };
            let dest = voice.within(acts, key, "dest").dest(*into);
            tell(key, &[("item", &item(key, what)), ("dest", &dest)])
        }
        Act::SwitchOn(target) => to("switch_on", target),
        Act::SwitchOff(target) => to("switch_off", target),
        Act::Connect { item: what, to } => {
            tell("connect", &[("item", &item("connect", what)), ("other", &other("connect", to))])
        }
        Act::Disconnect { item: what, from } => {
            let other = from.as_ref().map(|from| other("disconnect", from)).unwrap_or_default();
            tell("disconnect", &[("item", &item("disconnect", what)), ("other", &other)])
        }
        Act::Cut { part, item: what, tool } => {
            let tool = tool.map(|tool| voice.within(acts, "cut", "tool").the_item(tool)).unwrap_or_default();
            tell("cut", &[("item", &part_of(voice, part, &item("cut", what))), ("tool", &tool)])
        }
        Act::Break { part, item: what } => tell("break", &[("item", &part_of(voice, part, &item("break", what)))]),
        Act::Untie(target) => to("untie", target),
        Act::StepOnto(id) => on("step_onto", *id),
        Act::StepOff(id) => on("step_off", *id),
        Act::SitOn(id) => on("sit_on", *id),
        Act::StandUp => tell("stand_up", &[]),
        Act::Open(target) => to("open", target),
        Act::Close(target) => to("close", target),
        Act::Fold(id) => on("fold", *id),
        Act::Other(_) | Act::Hold(_) => None,
    }
}

/// Putting on, pulling up, changing and taking off.
fn dressing(voice: &Voice, step: &Step) -> Option<String> {
    let actor = step.actor;
    let within = |key: &str, slot: &str| voice.within(&voice.words.acts, key, slot);
    // The sentence around a helped act names the wearer, so that the item needs only `the` or `your`.
    let named = |voice: Voice, item: ItemId, wearer: RoleId| {
        if wearer != actor && voice.you != Some(wearer) {
            voice.the_item(item)
        } else {
            voice.item(item, wearer, actor)
        }
    };
    let item = |key: &str, item: ItemId, wearer: RoleId| named(within(key, "item"), item, wearer);
    let (key, slots) = match &step.act {
        Act::PutOn { wearer, item: id, fresh, as_far_as } => {
            let name = if *fresh { within("put_on", "item").fresh(*id) } else { item("put_on", *id, *wearer) };
            let area = as_far_as.map(|area| reached(voice, step, area)).unwrap_or_default();
            ("put_on", vec![("item", name), ("area", area)])
        }
        Act::PullUp { wearer, item: id } => ("pull_up", vec![("item", item("pull_up", *id, *wearer))]),
        Act::Change { wearer, item: id } => ("change", vec![("item", item("change", *id, *wearer))]),
        Act::TakeOff { wearer, item: id, grip, together_with, .. } => {
            let others = within("take_off", "others");
            let others: Vec<String> = together_with.iter().map(|&other| named(others, other, *wearer)).collect();
            let its = voice.its(voice.is_many(*id)).to_string();
            // By what the helper takes it is not for the wearer to know.
            let let_happen = *wearer != actor && voice.you == Some(*wearer);
            let grip = grip.clone().filter(|_| !let_happen).unwrap_or_default();
            let others = voice.words.all_of(&others);
            let item = item("take_off", *id, *wearer);
            ("take_off", vec![("item", item), ("its", its), ("grip", grip), ("others", others)])
        }
        _ => return None,
    };
    let slots: Vec<(&str, &str)> = slots.iter().map(|(slot, words)| (*slot, words.as_str())).collect();
    Some(say(&voice.words.acts, key, &slots))
}

/// `the hips`: the part of the body in the policy's own word, which says more than the area that it stands for.
fn reached(voice: &Voice, step: &Step, area: Area) -> String {
    let written = step.words.to_lowercase();
    let own = written.split_once(" as far as ").map(|(_, rest)| rest.strip_prefix("the ").unwrap_or(rest).to_string());
    let own = own.and_then(|rest| rest.split([' ', ',']).next().map(str::to_string)).filter(|word| !word.is_empty());
    let own = own.filter(|_| voice.words.lexicon.is_empty());
    let word = own.unwrap_or_else(|| say(&voice.words.areas, area.word(), &[]));
    super::pattern::fill(&voice.words.nouns.area, &[("area", &word)])
}

/// The second thing of a sentence, whose wearer the first has named.
fn other(voice: &Voice, actor: RoleId, target: &Target) -> String {
    match target {
        Target::Item { item, .. } => voice.the_item(*item),
        target => voice.target(*target, actor),
    }
}

fn part_of(voice: &Voice, part: &Option<String>, item: &str) -> String {
    match part {
        Some(part) => super::pattern::fill(&voice.words.nouns.part_of, &[("part", part), ("item", item)]),
        None => item.to_string(),
    }
}

/// What exactly goes on: `Long-cuff nitrile gloves.` where the step calls them outer gloves.
pub fn named(voice: &Voice, step: &Step) -> Option<String> {
    let Act::PutOn { item, .. } = step.act else { return None };
    let printed = &voice.policy.item(item).printed;
    let differs = !printed.eq_ignore_ascii_case(&voice.item_name(item)) && step.prompts.print_as.is_none();
    differs.then(|| say(&voice.words.details, "named", &[("printed", printed)]))
}

/// `Over the gown.`, of what the wearer has on by then; `Over the gown, if worn.` of what is worn in some levels only.
fn edges(voice: &Voice, wearer: RoleId, id: ItemId, at: usize, worn: &Worn) -> Vec<String> {
    let item = voice.policy.item(id);
    let on = |other: ItemId| match worn.is_known() {
        true if worn.has_on(wearer, other, at) => Share::Everywhere,
        true => Share::Nowhere,
        false => voice.wears_with(wearer, id, other),
    };
    let it = voice.it(voice.is_many(id));
    let tell = |key: &str, items: &[ItemId], share: Share| {
        let voice = voice.within(&voice.words.details, key, "items");
        let names: Vec<String> =
            items.iter().filter(|&&other| on(other) == share).map(|&other| voice.the_item(other)).collect();
        let slots = [("it", it), ("items", &voice.words.all_of(&names))];
        (!names.is_empty()).then(|| say(&voice.words.details, key, &slots))
    };
    let told = [
        tell("over", &item.goes_over, Share::Everywhere),
        tell("over_if_worn", &item.goes_over, Share::Somewhere),
        tell("tucked", &item.tucks_into, Share::Everywhere),
        tell("tucked_if_worn", &item.tucks_into, Share::Somewhere),
    ];
    told.into_iter().flatten().collect()
}

fn destination(voice: &Voice, dest: Dest) -> String {
    let key = if matches!(dest, Dest::Container(_)) { "into" } else { "onto" };
    let named = voice.within(&voice.words.details, key, "dest").dest(dest);
    say(&voice.words.details, key, &[("dest", &named)])
}

/// `Chlorine wipe: keep wet for 1 minute.`, by the step's own time, or else the cleaner's.
fn cleaner(voice: &Voice, with: &With) -> String {
    let cleaner = voice.policy.cleaner(with.cleaner);
    let time = with.time.or(cleaner.wet_for).filter(|time| *time > Seconds(0));
    let time = time.map(|time| voice.words.duration(time)).unwrap_or_default();
    say(&voice.words.details, "cleaner", &[("cleaner", &cleaner.printed), ("time", &time)])
}

/// `the apron is soiled`, `boots are not supplied`
fn fact(voice: &Voice, literal: Literal) -> String {
    let fact = voice.policy.fact(literal.fact);
    let patterns = &voice.words.when;
    let not = if literal.holds { String::new() } else { say(patterns, "not", &[]) };
    if let Some(translated) = voice.words.lexicon.word(&fact.words) {
        let denied = || translated.forms.get("not").cloned();
        let not_so = || say(patterns, "not_so", &[("fact", &fact.words)]);
        return if literal.holds { fact.words.clone() } else { denied().unwrap_or_else(not_so) };
    }
    let (is, are) = (say(patterns, "is", &[]), say(patterns, "are", &[]));
    let (subject, verb, state) = match split(&fact.words, [&is, &are]) {
        Some(parts) => parts,
        None if literal.holds => return fact.words.clone(),
        None => return say(patterns, "not_so", &[("fact", &fact.words)]),
    };
    let item = match &fact.kind {
        FactKind::Found { item, .. } => *item,
        FactKind::Supplied(item) => Some(*item),
        FactKind::Asked(_) => None,
    };
    let subject = item.map(|item| voice.the_item(item)).unwrap_or_else(|| subject.to_string());
    say(patterns, "found", &[("subject", &subject), ("verb", verb), ("not", &not), ("state", state)])
}

/// What starts a drill: `the face is splashed`. As written in another language, or where it is not known what it befalls.
pub fn event(voice: &Voice, event: &Event) -> String {
    let item = event.item.map(|item| voice.policy.item(item).name.as_str());
    let role = event.role.map(|role| voice.role_name(role));
    let befallen = item.or(role).or(event.area.map(Area::word));
    match befallen {
        Some(name) if voice.words.original && event.words.starts_with(name) => voice.the(&event.words),
        _ => event.words.clone(),
    }
}

/// Around the first of the words that stands alone in a text: what stands before it, the word, and what comes after.
fn split<'t>(text: &'t str, words: [&'t str; 2]) -> Option<(&'t str, &'t str, &'t str)> {
    let found = words.into_iter().filter_map(|word| {
        let at = text.find(&format!(" {word} "))?;
        Some((at, word))
    });
    let (at, word) = found.min()?;
    Some((&text[..at], word, &text[at + word.len() + 2..]))
}
