//! Random procedures for the properties, as text: two who act, one who watches, seven items, six conditions, holds.

use proptest::prelude::*;

/// The names of everything that may be called otherwise.
pub struct Names(&'static [(&'static str, &'static str)]);

pub const WARD: Names = Names(&[
    ("WEARER", "wearer"),
    ("HELPER", "helper"),
    ("WATCHER", "observer"),
    ("SCRUBS", "scrubs"),
    ("LINERS", "inner gloves"),
    ("GOWN", "gown"),
    ("GLOVES", "gloves"),
    ("GOGGLES", "goggles"),
    ("MASK", "mask"),
    ("HOOD", "hood"),
    ("BLOWER", "blower"),
]);

pub const ELSEWHERE: Names = Names(&[
    ("WEARER", "first nurse"),
    ("HELPER", "porter"),
    ("WATCHER", "matron"),
    ("SCRUBS", "blues"),
    ("LINERS", "liners"),
    ("GOWN", "wrap"),
    ("GLOVES", "mitts"),
    ("GOGGLES", "blinkers"),
    ("MASK", "muffle"),
    ("HOOD", "cowl"),
    ("BLOWER", "fan"),
]);

impl Names {
    pub fn fill(&self, text: &str) -> String {
        self.0.iter().fold(text.to_string(), |text, (mark, name)| text.replace(mark, name))
    }
}

const WORLD: &str = "\
policy \"A small ward\"
hazard stool
  spreads by contact
place corridor is clean
place dressing room is for putting on
place room is contaminated
place lobby is for taking off
way corridor to dressing room to room to lobby to corridor
role WEARER
role HELPER
  helps WEARER
role WATCHER
  watches
cleaner hand rub
  for hands
  not on visible soil
cleaner soap and water
  for hands
cleaner wipe
  for surfaces
  strength 1000 ppm chlorine
  wet for 1 minute
container bin
  for waste
surface bench
  stands in lobby
item SCRUBS
  covers trunk, arms, legs
  worn beneath
item LINERS
  covers hands
  single use
item GOWN
  covers trunk, arms
  goes over LINERS
  grip ties
  single use
item GLOVES
  covers hands
  goes over GOWN
  single use
item GOGGLES
  covers eyes
  grip headband
  reused after wipe
item MASK
  covers nose, mouth
  grip straps
  single use
item BLOWER
  covers trunk
  reused after wipe
item HOOD
  covers hair, neck
  goes over MASK, GOGGLES, GOWN
  connects to BLOWER
  grip crown
  single use
";

/// Acts of somebody; `WHO` is the wearer or the helper.
const ACTS: [&str; 26] = [
    "WHO puts on LINERS",
    "WHO puts on GOWN",
    "WHO puts on GLOVES",
    "WHO puts on fresh GLOVES",
    "WHO puts on MASK",
    "WHO puts on GOGGLES",
    "WHO puts on HOOD",
    "WHO puts on BLOWER",
    "WHO changes GLOVES",
    "WHO takes off GLOVES by cuff into bin",
    "WHO takes off GOWN by ties, rolling it inside out, into bin",
    "WHO takes off GOWN by front, together with GLOVES",
    "WHO takes off MASK by straps into bin",
    "WHO takes off GOGGLES by headband onto bench",
    "WHO takes off HOOD by crown",
    "WHO takes off LINERS by cuff into bin",
    "WHO takes off BLOWER",
    "WHO cleans hands with hand rub for 30 seconds",
    "WHO cleans hands with hand rub for 10 seconds",
    "WHO cleans hands with soap and water for 40 seconds",
    "WHO wipes GOGGLES with wipe for 1 minute",
    "WHO connects HOOD to BLOWER",
    "WHO disconnects HOOD from BLOWER",
    "WHO sits on bench",
    "WHO goes to room",
    "WHO goes to lobby",
];

const HELP: [&str; 5] = [
    "HELPER helps WEARER put on HOOD",
    "HELPER helps WEARER take off GOWN by ties",
    "HELPER helps WEARER take off HOOD by crown, rolling it inside out, into bin",
    "WATCHER checks WEARER",
    "WATCHER helps WEARER take off GLOVES by cuff",
];

const CONDITIONS: [&str; 6] = [
    "GOWN is soiled",
    "GLOVES are torn",
    "hands are clean to see",
    "HOOD is supplied",
    "GOGGLES are supplied",
    "MASK is wet",
];

/// One line of a procedure, its roles and items still as marks.
pub fn act() -> impl Strategy<Value = String> {
    let alone = (0..ACTS.len(), prop::bool::weighted(0.8))
        .prop_map(|(at, wearer)| ACTS[at].replace("WHO", if wearer { "WEARER" } else { "HELPER" }));
    let together = (0..HELP.len()).prop_map(|at| HELP[at].to_string());
    prop_oneof![6 => alone, 1 => together]
}

fn conditional_act(facts: usize) -> impl Strategy<Value = String> {
    let when = prop::option::weighted(0.4, (0..facts, any::<bool>()));
    (act(), when).prop_map(|(act, when)| match when {
        Some((fact, true)) => format!("{act}, if {}", CONDITIONS[fact]),
        Some((fact, false)) => format!("{act}, unless {}", CONDITIONS[fact]),
        None => act,
    })
}

/// A line, or a hold that goes back to the beginning or starts the sequence of last resort.
#[derive(Clone, Debug)]
pub enum Line {
    Act(String),
    Hold { back: bool },
}

fn line(facts: usize) -> impl Strategy<Value = Line> {
    prop_oneof![
        12 => conditional_act(facts).prop_map(Line::Act),
        1 => any::<bool>().prop_map(|back| Line::Hold { back }),
    ]
}

fn told(lines: &[Line], title: &str, holds: &mut u32) -> String {
    let mut text = String::new();
    for line in lines {
        match line {
            Line::Act(act) => text.push_str(&format!("  {act}\n")),
            // More holds than this, and playing each case alone takes long.
            Line::Hold { .. } if *holds > 1 => {}
            Line::Hold { back } => {
                *holds += 1;
                let way = if *back { format!("go back to \"{title}\"") } else { "start \"Last resort\"".to_string() };
                text.push_str(&format!(
                    "  hold \"Hold {holds}\"\n    WATCHER confirms \"It is so.\"\n    if not, {way}\n"
                ));
            }
        }
    }
    text
}

/// A whole policy, its names still as marks.
pub fn policy(facts: usize) -> impl Strategy<Value = String> {
    let lines = || prop::collection::vec(line(facts), 2..14);
    (lines(), lines(), any::<bool>()).prop_map(|(on, off, every_outside)| {
        let assume = if every_outside { "every outside is contaminated" } else { "fronts are contaminated" };
        let mut holds = 0;
        let (on, off) = (told(&on, "Putting on", &mut holds), told(&off, "Taking off", &mut holds));
        format!(
            "{WORLD}level Full against contact
  WEARER wears SCRUBS, LINERS, GOWN, MASK, GOGGLES, BLOWER, HOOD, GLOVES
  HELPER wears SCRUBS, GOWN, GLOVES
  keep covered hands, trunk, arms, eyes, nose, mouth
  assume {assume}
  keep skin 3 touches away
  keep face 3 touches away
  even after one slip keep skin 2 touches away
sequence \"Putting on\" for Full, in dressing room
  WEARER puts on GOWN
{on}sequence \"Taking off\" for Full, in lobby
{off}  WEARER takes off GLOVES by cuff
sequence \"Last resort\" for Full, in lobby
  WEARER cleans hands with soap and water for 40 seconds
  WATCHER does \"Call for help\"
"
        )
    })
}

/// What happens; the first word of a state decides what it does.
const EVENTS: [&str; 9] = [
    "GLOVES are torn",
    "GLOVES are torn",
    "GOWN is torn",
    "GOWN is soiled",
    "face is splashed",
    "hands are pricked",
    "BLOWER fails",
    "WEARER is unwell",
    "HELPER collapses",
];

const ENDINGS: [&str; 6] = [
    "  then carry on\n",
    "  then carry on\n",
    "  then start \"Taking off\"\n",
    "  then start \"Last resort\"\n",
    "  then start \"Last resort\"\n  then start \"Taking off\"\n",
    "  then start \"Taking off\"\n  then start \"Last resort\"\n",
];

/// A policy in which something may happen.
pub fn policy_with_drills(facts: usize) -> impl Strategy<Value = String> {
    let drill = (0..EVENTS.len(), prop::collection::vec(conditional_act(facts), 1..4), 0..ENDINGS.len());
    (policy(facts), prop::collection::vec(drill, 1..3)).prop_map(|(policy, drills)| {
        drills.into_iter().enumerate().fold(policy, |text, (number, (event, steps, ending))| {
            let steps: String = steps.iter().map(|step| format!("  {step}\n")).collect();
            format!("{text}contingency \"Event {number}\" when {}\n{steps}{}", EVENTS[event], ENDINGS[ending])
        })
    })
}

/// A policy in which one act is done in a procedure without conditions: `lines` are the sequences.
pub fn plain(lines: &str) -> String {
    format!(
        "{WORLD}level Full against contact
  WEARER wears LINERS, GOWN, MASK, GOGGLES, BLOWER, HOOD, GLOVES
  HELPER wears GOWN, GLOVES, MASK, GOGGLES
  keep covered hands, trunk, arms, eyes, nose, mouth, hair, neck
  assume every outside is contaminated
  keep skin 3 touches away
{lines}"
    )
}
