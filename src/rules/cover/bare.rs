//! An area that the level keeps covered is bare where the hazard is.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Area, ItemId, LevelId, RoleId};
use crate::rules::telling::{Said, capital, listed, played_at, the_item, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Bare;

impl Rule for Bare {
    fn name(&self) -> Name {
        Name { family: "cover", word: "bare" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("bare.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for gathered in gather(brief) {
            findings.push(brief.finding(self, gathered.run, gathered.event, said(brief, &gathered)));
        }
    }
}

/// What one person has bare at first in one case, and whether it is so by taking off where the hazard is.
struct Gathered<'a> {
    run: &'a Run,
    event: &'a Event,
    bare: Vec<(Area, bool)>,
    by_removal: bool,
}

/// One mistake each: the first moment at which each area is bare, areas of one cause together.
fn gather<'a>(brief: &Brief<'a>) -> Vec<Gathered<'a>> {
    let mut events: Vec<(&Run, &Event)> = brief.events().filter(|(_, event)| is_bare(event).is_some()).collect();
    events.sort_by_key(|(run, event)| {
        (run.level, event.case.failing.len(), played_at(run, event.step), event.case.facts.len())
    });
    let mut seen: Vec<(LevelId, RoleId, Area, &Event)> = Vec::new();
    let mut gathered: Vec<Gathered> = Vec::new();
    for (run, event) in events {
        let Some((area, clothes)) = is_bare(event) else { continue };
        let known = seen.iter().any(|&(level, who, earlier_area, earlier)| {
            (level, who, earlier_area) == (run.level, event.who, area) && event.case.is_within(&earlier.case)
        });
        if known || is_half_on(brief, run, event, area) || is_out_of_place(brief, run, event, area) {
            continue;
        }
        seen.push((run.level, event.who, area, event));
        let by_removal = event.step.is_some_and(|at| matches!(brief.step(at).act, Act::TakeOff { .. }));
        let same = |group: &&mut Gathered| {
            group.run.level == run.level
                && (group.event.who, group.by_removal) == (event.who, by_removal)
                && (by_removal || group.event.case == event.case)
        };
        match gathered.iter_mut().find(same) {
            Some(group) => group.bare.push((area, clothes)),
            None => gathered.push(Gathered { run, event, bare: vec![(area, clothes)], by_removal }),
        }
    }
    gathered
}

fn is_bare(event: &Event) -> Option<(Area, bool)> {
    match event.what {
        What::Bare { area, clothes, .. } => Some((area, clothes)),
        _ => None,
    }
}

/// Half on, and left so: that is told instead.
fn is_half_on(brief: &Brief, run: &Run, event: &Event, area: Area) -> bool {
    run.events.iter().any(|other| {
        let What::LeftHalfOn { item } = other.what else { return false };
        other.who == event.who && other.step == event.step && brief.policy.item(item).covers.has(area)
    })
}

/// The kit for it goes on where the hazard is, or somebody takes off where no step has sent them: the rules of places name
/// the step that is to move.
fn is_out_of_place(brief: &Brief, run: &Run, event: &Event, area: Area) -> bool {
    let takes_off = event.step.is_some_and(|at| matches!(brief.step(at).act, Act::TakeOff { .. }));
    run.events.iter().filter(|other| other.who == event.who).any(|other| match other.what {
        What::PutOnInContaminated { item, .. } => !takes_off && brief.policy.item(item).covers.has(area),
        What::NotHere { .. } => other.step.map(|at| at.sequence) == event.step.map(|at| at.sequence),
        _ => false,
    })
}

fn said(brief: &Brief, gathered: &Gathered) -> Said {
    let (policy, event) = (brief.policy, gathered.event);
    let who = the_role(policy, event.who);
    let mut areas: Vec<Area> = gathered.bare.iter().map(|&(area, _)| area).collect();
    areas.sort();
    if [Area::Eyes, Area::Nose, Area::Mouth].iter().all(|area| areas.contains(area)) {
        areas.retain(|area| !area.is_face());
        areas.push(Area::Face);
        areas.sort();
    }
    let words = area_words(&areas);
    let are = if areas.len() == 1 && !is_many(areas[0]) { "is" } else { "are" };
    let place = match event.what {
        What::Bare { place: Some(place), .. } => format!("in the {}", policy.place(place).name),
        _ => "where the hazard is".to_string(),
    };
    let only_clothes = gathered.bare.iter().all(|&(_, clothes)| clothes);
    let title = if only_clothes {
        "Own clothes lie open to the hazard".to_string()
    } else if areas.len() > MOST_NAMED {
        format!("{} body areas are bare where the hazard is", areas.len())
    } else {
        format!("{} {are} bare where the hazard is", capital(&words))
    };
    let clothes =
        if gathered.bare.iter().any(|&(_, clothes)| clothes) { " Own clothes do not count as cover." } else { "" };
    let message = if gathered.by_removal {
        format!("The hazard still lands on {who} {place}. Kit comes off there and bares the {words}.{clothes}")
    } else {
        let them = if are == "are" { "them" } else { "it" };
        format!(
            "The hazard lands on {who}'s {words} {place}. The level keeps {them} covered, and nothing lies over {them}.{clothes}"
        )
    };
    Said { title, message, way_out: way_out(brief, gathered, &areas, &words) }
}

fn way_out(brief: &Brief, gathered: &Gathered, areas: &[Area], words: &str) -> String {
    let (policy, event) = (brief.policy, gathered.event);
    if gathered.by_removal {
        return "Go to a place that is for taking off first; it can be the spot inside the door.".to_string();
    }
    if !event.case.is_every() {
        return format!("Put on something that covers the {words} in this case too, or say that nobody goes in.");
    }
    let kit = policy.level(gathered.run.level).kit(event.who);
    let listed_items = kit.map(|kit| kit.items.as_slice()).unwrap_or_default().iter().map(|worn| worn.item);
    let fits = |item: &ItemId| {
        let item = policy.item(*item);
        !item.worn_beneath && areas.iter().any(|&area| item.covers.has(area))
    };
    let fitting: Vec<String> = listed_items.filter(fits).map(|item| the_item(policy, item)).collect();
    let who = the_role(policy, event.who);
    if fitting.is_empty() {
        format!("Give {who} something that covers the {words}, and the step that puts it on.")
    } else {
        format!("Add the step that puts on {} before {who} goes in.", listed(&fitting))
    }
}

/// More areas than this are counted, not named.
const MOST_NAMED: usize = 3;

/// `hands`, `eyes and mouth`, `hair, face and 3 areas more`
fn area_words(areas: &[Area]) -> String {
    let mut words: Vec<String> = areas.iter().take(MOST_NAMED).map(|area| area.word().to_string()).collect();
    if areas.len() > MOST_NAMED {
        words.truncate(MOST_NAMED - 1);
        words.push(format!("{} areas more", areas.len() + 1 - MOST_NAMED));
    }
    listed(&words)
}

fn is_many(area: Area) -> bool {
    area.word().ends_with('s') || area == Area::Feet
}
