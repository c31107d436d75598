//! A small world played the slow way: every procedure of five steps, step by step, on plain maps with names for keys.
//!
//! Written from the model's own tables in words (what a removal touches, what a brush is, where a part lies, what a rub is
//! worth), and sharing no code with the walk: two people, four items, a room, a lobby and a corridor. Where the walk and
//! this player differ, one of them is wrong. The tables are the project's own; no outside source.

use std::collections::{BTreeMap, BTreeSet};

use anteroom::policy::{Area, Policy, RoleId, Sequence};
use anteroom::walk::Surface;
use anteroom::walk::cast::Cast;
use anteroom::walk::event::What;
use anteroom::walk::play::Play;
use anteroom::walk::script::Script;

use super::{alone, policy_of};

/// What a step of the small world does, in the player's own words.
#[derive(Clone, Copy, Debug)]
enum Does {
    Off { item: &'static str, grip: &'static str, rolled: bool, by: usize },
    On { item: &'static str, by: usize },
    ChangeGloves,
    Rub { who: usize },
    Go { who: usize, to: &'static str },
}

struct Thing {
    name: &'static str,
    covers: &'static [&'static str],
    over: &'static str,
    /// The part that lies off the front, and on which area.
    part: (&'static str, &'static str),
}

const THINGS: [Thing; 4] = [
    Thing { name: "gown", covers: &["trunk", "arms"], over: "", part: ("ties", "neck") },
    Thing { name: "goggles", covers: &["eyes"], over: "", part: ("headband", "hair") },
    Thing { name: "hood", covers: &["hair", "neck"], over: "goggles", part: ("crown", "hair") },
    Thing { name: "gloves", covers: &["hands"], over: "gown", part: ("", "") },
];
const KEPT: [&str; 6] = ["hair", "eyes", "neck", "trunk", "arms", "hands"];
const HEAD: [&str; 3] = ["hair", "eyes", "neck"];
/// Touches: the level's margin.
const MARGIN: u32 = 3;
const PEOPLE: [&str; 2] = ["wearer", "helper"];

fn world(assume: &str, steps: &str) -> String {
    format!(
        "hazard stool\n  spreads by contact\n\
         place corridor is clean\nplace room is contaminated\nplace lobby is for taking off\n\
         way corridor to room to lobby to corridor\nway corridor to lobby to room to corridor\n\
         role wearer\nrole helper\n  helps wearer\n\
         cleaner hand rub\n  for hands\ncontainer bin\n  for waste\n\
         item gown\n  covers trunk, arms\n  grip ties, front\n  single use\n\
         item goggles\n  covers eyes\n  grip headband\n  single use\n\
         item hood\n  covers hair, neck\n  goes over goggles\n  grip crown\n  single use\n\
         item gloves\n  covers hands\n  goes over gown\n  single use\n\
         level Small against contact\n  wearer wears gown, goggles, hood, gloves\n\
         keep covered hair, eyes, neck, trunk, arms, hands\n  assume {assume}\n  keep skin {MARGIN} touches away\n\
         {steps}"
    )
}

/// The letters of a world: each step as the policy says it, and as the player does it.
fn letters(taking_off: bool) -> Vec<(&'static str, Does)> {
    let off = |item, grip, rolled, by| Does::Off { item, grip, rolled, by };
    let mut letters = vec![
        ("wearer takes off gloves by cuff into bin", off("gloves", "", false, 0)),
        ("wearer takes off gown by ties, rolling it inside out, into bin", off("gown", "ties", true, 0)),
        ("wearer cleans hands with hand rub for 30 seconds", Does::Rub { who: 0 }),
    ];
    letters.extend(if taking_off {
        vec![
            ("wearer takes off gown by front into bin", off("gown", "", false, 0)),
            ("wearer takes off goggles by headband into bin", off("goggles", "headband", false, 0)),
            ("wearer takes off hood by crown into bin", off("hood", "crown", false, 0)),
            ("helper helps wearer take off hood by crown into bin", off("hood", "crown", false, 1)),
            ("helper cleans hands with hand rub for 30 seconds", Does::Rub { who: 1 }),
            ("wearer changes gloves", Does::ChangeGloves),
        ]
    } else {
        vec![
            ("wearer puts on gown", Does::On { item: "gown", by: 0 }),
            ("wearer puts on gloves", Does::On { item: "gloves", by: 0 }),
            ("helper helps wearer put on hood", Does::On { item: "hood", by: 1 }),
            ("wearer goes to room", Does::Go { who: 0, to: "room" }),
            ("wearer goes to lobby", Does::Go { who: 0, to: "lobby" }),
            ("helper goes to room", Does::Go { who: 1, to: "room" }),
        ]
    });
    letters
}

/// What both players are asked: events as words, and the nearest that the hazard came to each skin.
#[derive(Debug, Default, PartialEq)]
struct Account {
    events: BTreeSet<String>,
    nearest: BTreeMap<String, u32>,
}

struct Slow {
    every_outside: bool,
    /// The wearer's kit, in the order in which it went on. The helper wears nothing.
    worn: Vec<usize>,
    place: [&'static str; 2],
    /// What was bare when the hazard last landed.
    bare: [Vec<&'static str>; 2],
    near: BTreeMap<String, u32>,
    /// Skin that a touch of the step in hand has brought within the margin, however near it was before.
    too_near: BTreeMap<String, u32>,
    account: Account,
}

const FAR: u32 = 1_000_000;

impl Slow {
    fn distance(&self, surface: &str) -> u32 {
        self.near.get(surface).copied().unwrap_or(FAR)
    }

    fn touch(&mut self, a: &str, b: &str, weight: u32) {
        let (at_a, at_b) = (self.distance(a), self.distance(b));
        for (surface, near) in [(a, at_b + weight), (b, at_a + weight)] {
            if surface.starts_with("skin") && near < MARGIN {
                let known = self.too_near.entry(surface.to_string()).or_insert(FAR);
                *known = near.min(*known);
            }
        }
        self.near.insert(a.to_string(), at_a.min(at_b + weight));
        self.near.insert(b.to_string(), at_b.min(at_a + weight));
    }

    fn covers(&self, thing: usize, area: &str) -> bool {
        THINGS[thing].covers.contains(&area)
    }

    fn outermost(&self, who: usize, area: &str) -> String {
        let top = self.worn.iter().rev().find(|&&thing| who == 0 && self.covers(thing, area));
        top.map_or(format!("skin {} {area}", PEOPLE[who]), |&thing| format!("front {}", THINGS[thing].name))
    }

    fn beneath(&self, thing: usize, area: &str) -> String {
        let on = self.worn.iter().position(|&other| other == thing).unwrap_or(self.worn.len());
        let below = self.worn[..on].iter().rev().find(|&&other| self.covers(other, area));
        below.map_or(format!("skin wearer {area}"), |&thing| format!("front {}", THINGS[thing].name))
    }

    fn put_on(&mut self, thing: usize, by: usize) {
        if self.worn.contains(&thing) {
            return;
        }
        let name = THINGS[thing].name;
        for side in ["front", "back", "inside", "part"] {
            self.near.remove(&format!("{side} {name}"));
        }
        let (hand, front, inside) = (self.outermost(by, "hands"), format!("front {name}"), format!("inside {name}"));
        self.touch(&hand, &front, 1);
        self.touch(&hand, &inside, 1);
        for area in THINGS[thing].covers {
            let lies_there = self.outermost(0, area);
            self.touch(&inside, &lies_there, 1);
        }
        if self.covers(thing, "arms") {
            self.sleeve(name);
        }
        for lower in self.worn.clone() {
            if THINGS[thing].over == THINGS[lower].name {
                self.touch(&inside, &format!("front {}", THINGS[lower].name), 2);
            }
        }
        self.worn.push(thing);
    }

    fn sleeve(&mut self, name: &str) {
        let hand = self.outermost(0, "hands");
        self.touch(&format!("inside {name}"), &hand, 1);
        self.touch(&format!("front {name}"), &hand, 2);
    }

    fn take_off(&mut self, step: usize, thing: usize, grip: &str, rolled: bool, by: usize) -> bool {
        let Some(on) = self.worn.iter().position(|&other| other == thing) else { return false };
        let name = THINGS[thing].name;
        let later = |&&other: &&usize| {
            let lies_over = THINGS[other].covers.iter().any(|area| self.covers(thing, area));
            lies_over || THINGS[other].over == name
        };
        if let Some(&by) = self.worn[on + 1..].iter().rev().find(later) {
            self.account.events.insert(format!("{step}: {} blocks {name}", THINGS[by].name));
        }
        let (front, inside) = (format!("front {name}"), format!("inside {name}"));
        let hand = self.outermost(by, "hands");
        if hand != front {
            let met =
                if grip == THINGS[thing].part.0 && !grip.is_empty() { format!("part {name}") } else { front.clone() };
            self.touch(&hand, &met, 1);
        }
        let is_garment = self.covers(thing, "trunk");
        if rolled && is_garment {
            self.touch(&hand, &inside, 1);
        }
        let bared: Vec<(&str, String)> =
            THINGS[thing].covers.iter().map(|&area| (area, self.beneath(thing, area))).collect();
        for (_, below) in &bared {
            self.touch(&inside, below, 1);
        }
        if self.covers(thing, "hands") {
            self.touch(&front, &bared[0].1, 2);
        }
        if self.covers(thing, "arms") {
            self.sleeve(name);
        }
        for (area, below) in &bared {
            if HEAD.contains(area) {
                self.touch(&hand, below, 2);
            } else if is_garment && !rolled {
                self.touch(&front, below, 2);
            }
        }
        self.worn.remove(on);
        true
    }

    /// The hazard lands on whatever is outermost where the level wants people covered.
    fn land(&mut self, who: usize, step: &str) {
        let bared = |area: &&str| self.outermost(who, area) == format!("skin {} {area}", PEOPLE[who]);
        let bare: Vec<&str> = KEPT.into_iter().filter(bared).collect();
        for area in bare.iter().filter(|area| !self.bare[who].contains(area)) {
            self.account.events.insert(format!("{step}: bare {} {area}", PEOPLE[who]));
        }
        self.bare[who] = bare;
        for area in KEPT {
            let surface = self.outermost(who, area);
            self.near.insert(surface.clone(), 0);
            if self.every_outside && surface.starts_with("front") {
                self.near.insert(surface.replace("front", "back"), 0);
            }
        }
        if self.every_outside && who == 0 {
            for (at, &thing) in self.worn.iter().enumerate() {
                let shielded = self.worn[at + 1..].iter().any(|&other| self.covers(other, THINGS[thing].part.1));
                if !shielded {
                    self.near.insert(format!("part {}", THINGS[thing].name), 0);
                }
            }
        }
    }

    fn step(&mut self, step: usize, does: Does) {
        let thing = |name: &str| THINGS.iter().position(|thing| thing.name == name).unwrap();
        match does {
            Does::Off { item, grip, rolled, by } => {
                if self.take_off(step, thing(item), grip, rolled, by) {
                    self.touch(&format!("front {item}"), "bin", 1);
                }
            }
            Does::On { item, by } => self.put_on(thing(item), by),
            Does::ChangeGloves => {
                if self.take_off(step, thing("gloves"), "", false, 0) {
                    self.put_on(thing("gloves"), 0);
                }
            }
            Does::Rub { who } => {
                let hand = self.outermost(who, "hands");
                if let Some(distance) = self.near.get_mut(&hand).filter(|distance| **distance < FAR) {
                    *distance += 3;
                }
            }
            Does::Go { who, to } => self.place[who] = to,
        }
        for who in 0..2 {
            if self.place[who] == "room" {
                self.land(who, &step.to_string());
            } else {
                self.bare[who].clear();
            }
        }
        for (surface, &distance) in self.near.iter().filter(|(surface, _)| surface.starts_with("skin")) {
            if distance < FAR {
                let known = self.account.nearest.entry(surface.clone()).or_insert(FAR);
                *known = distance.min(*known);
            }
        }
        for (surface, distance) in std::mem::take(&mut self.too_near) {
            self.account.events.insert(format!("{step}: {surface} at {distance}"));
        }
    }
}

fn slowly(steps: &[Does], start: &'static str, every_outside: bool) -> Account {
    let count = |wanted: fn(&Does) -> bool| steps.iter().filter(|does| wanted(does)).count();
    let (on, off) = (count(|does| matches!(does, Does::On { .. })), count(|does| matches!(does, Does::Off { .. })));
    let enters = steps.iter().any(|does| matches!(does, Does::Go { who: 0, to: "room" }));
    let dressed = on == 0 && off > 0;
    let mut slow = Slow {
        every_outside,
        worn: if dressed { vec![0, 1, 2, 3] } else { Vec::new() },
        place: [start; 2],
        bare: [Vec::new(), Vec::new()],
        near: BTreeMap::new(),
        too_near: BTreeMap::new(),
        account: Account::default(),
    };
    if off > 0 && off >= on && !enters && !slow.worn.is_empty() {
        slow.land(0, "meeting");
    }
    for (at, &does) in steps.iter().enumerate() {
        slow.step(at, does);
    }
    slow.account
}

/// What the walk tells of the same things.
fn walked(policy: &Policy) -> Account {
    let level = policy.sequences[0].level;
    let script = Script::new(policy, level);
    let cast = Cast::new(policy, level, &script);
    let seen = Play::new(policy, &script, &cast, Some(&alone())).run();
    let name = |who: RoleId| policy.role(who).name.as_str();
    let mut account = Account::default();
    for (key, sighting) in &seen.events {
        let step = key.step.map_or("meeting".to_string(), |at| at.step.to_string());
        let told = match &key.what {
            What::Blocked { item, by, .. } => format!("{} blocks {}", policy.item(*by).name, policy.item(*item).name),
            What::Bare { area, .. } => format!("bare {} {}", name(key.who), area.word()),
            What::Near { surface: Surface::Skin { who, area }, .. } => {
                format!("skin {} {} at {}", name(*who), area.word(), sighting.distance)
            }
            _ => continue,
        };
        account.events.insert(format!("{step}: {told}"));
    }
    for (&(slips, number), (sighting, _)) in &seen.nearest {
        if let (0, Surface::Skin { who, area }) = (slips, cast.surfaces.at(number)) {
            account.nearest.insert(format!("skin {} {}", name(who), Area::word(area)), u32::from(sighting.distance));
        }
    }
    account
}

/// Every way of choosing `length` letters.
fn each_choice(letters: usize, length: u32, check: impl Fn(&[usize])) {
    for number in 0..letters.pow(length) {
        let choice: Vec<usize> = (0..length).map(|place| number / letters.pow(place) % letters).collect();
        check(&choice);
    }
}

/// Whether some step changes nothing: taking off what is not on, putting on twice, going where one is. Such procedures are
/// no more than shorter ones; they are played at four steps, and passed over at five.
fn idles(steps: &[Does], start: &'static str) -> bool {
    let dressed = !steps.iter().any(|does| matches!(does, Does::On { .. }));
    let mut on: Vec<&str> = if dressed { THINGS.iter().map(|thing| thing.name).collect() } else { Vec::new() };
    let mut places = [start; 2];
    steps.iter().any(|does| match *does {
        Does::Off { item, .. } => {
            let was = on.len();
            on.retain(|&other| other != item);
            on.len() == was
        }
        Does::On { item, .. } => {
            let twice = on.contains(&item);
            on.push(item);
            twice
        }
        Does::ChangeGloves => !on.contains(&"gloves"),
        Does::Go { who, to } => std::mem::replace(&mut places[who], to) == to,
        Does::Rub { .. } => false,
    })
}

/// Both clean their hands first, so that everybody begins in the place of the sequence.
const BEGINNING: [(&str, Does); 2] = [
    ("wearer cleans hands with hand rub for 30 seconds", Does::Rub { who: 0 }),
    ("helper cleans hands with hand rub for 30 seconds", Does::Rub { who: 1 }),
];

fn compare_all(assume: &str, taking_off: bool, length: u32) {
    let letters: Vec<(&str, Does)> = BEGINNING.into_iter().chain(letters(taking_off)).collect();
    let begun = BEGINNING.len();
    let place = if taking_off { "lobby" } else { "corridor" };
    let lines: Vec<&str> = letters.iter().map(|(line, _)| *line).collect();
    let text = world(assume, &format!("sequence \"All\" for Small, in {place}\n{}\n", lines.join("\n")));
    let whole = policy_of(&text);
    assert_eq!(whole.sequences[0].steps.len(), letters.len(), "every letter is read");
    each_choice(letters.len() - begun, length, |chosen| {
        let choice: Vec<usize> = (0..begun).chain(chosen.iter().map(|letter| letter + begun)).collect();
        let does: Vec<Does> = choice.iter().map(|&letter| letters[letter].1).collect();
        if length > 4 && idles(&does, place) {
            return;
        }
        let steps = choice.iter().map(|&letter| whole.sequences[0].steps[letter].clone()).collect();
        let policy = Policy { sequences: vec![Sequence { steps, ..whole.sequences[0].clone() }], ..whole.clone() };
        let (fast, slow) = (walked(&policy), slowly(&does, place, assume.starts_with("every")));
        let said: Vec<&str> = choice.iter().map(|&letter| letters[letter].0).collect();
        assert_eq!(fast, slow, "the walk and the slow player differ on {said:#?}");
    });
}

#[test]
fn taking_off_agrees_with_the_slow_player() {
    compare_all("fronts are contaminated", true, 5);
}

#[test]
fn taking_off_agrees_where_every_outside_is_contaminated() {
    compare_all("every outside is contaminated", true, 4);
}

#[test]
fn putting_on_and_going_in_agrees_with_the_slow_player() {
    compare_all("fronts are contaminated", false, 5);
}

#[test]
fn going_in_agrees_where_every_outside_is_contaminated() {
    compare_all("every outside is contaminated", false, 4);
}
