//! Small policies at random, as text: the same seed gives the same policy. They are no good procedures, nor need be: items
//! are put on twice, taken off by what is not there, wiped with too little, and left on.

use std::fmt::Write;

/// SplitMix64: Steele, Lea and Flood, OOPSLA 2014; constants from memory.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    pub fn throw(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    pub fn below(&mut self, end: usize) -> usize {
        (self.throw() % end.max(1) as u64) as usize
    }

    /// True in so many of a hundred.
    pub fn hits(&mut self, percent: u64) -> bool {
        self.throw() % 100 < percent
    }

    fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.below(from.len())]
    }

    fn one<'a>(&mut self, of: &[&'a str]) -> &'a str {
        of[self.below(of.len())]
    }

    fn some<'a>(&mut self, from: &[&'a str], percent: u64) -> Vec<&'a str> {
        from.iter().copied().filter(|_| self.hits(percent)).collect()
    }

    fn shuffled<T>(&mut self, mut of: Vec<T>) -> Vec<T> {
        for at in (1..of.len()).rev() {
            of.swap(at, self.below(at + 1));
        }
        of
    }
}

const AREAS: [&str; 11] = ["hair", "face", "eyes", "nose", "mouth", "neck", "trunk", "arms", "hands", "legs", "feet"];

/// Name, what it covers, and the parts by which it is taken hold of.
const ITEMS: [(&str, &str, &[&str]); 14] = [
    ("scrubs", "trunk, arms, legs", &["front", "back"]),
    ("gown", "trunk, arms", &["ties", "front", "back", "inside", "shoulders"]),
    ("coverall", "hair, neck, trunk, arms, legs", &["zip", "inside", "shoulders", "crown"]),
    ("apron", "trunk", &["ties", "neck strap", "front"]),
    ("goggles", "eyes", &["headband", "front", "side arms"]),
    ("visor", "face, eyes", &["headband", "sides", "front"]),
    ("mask", "nose, mouth", &["ties", "ear loops", "front"]),
    ("hood", "hair, face, eyes, nose, mouth, neck", &["crown", "rear edge", "front"]),
    ("gloves", "hands", &["cuff", "outside", "inside"]),
    ("outer gloves", "hands", &["cuff", "outside"]),
    ("boots", "feet, legs", &["heel", "inside"]),
    ("boot covers", "feet", &["elastic", "ties"]),
    ("blower", "", &["strap"]),
    ("long sleeves", "arms, hands", &["cuff", "string"]),
];

const STATES: [&str; 5] =
    ["hands are soiled", "hands are clean to see", "splash is likely", "helper is late", "floor is wet"];

struct Draft {
    dice: Dice,
    text: String,
    people: Vec<&'static str>,
    items: Vec<usize>,
    conditions: Vec<String>,
}

pub fn text(seed: u64) -> String {
    let mut dice = Dice(seed);
    let people = ["wearer", "helper", "observer"][..1 + dice.below(3)].to_vec();
    let chosen = dice.shuffled((0..ITEMS.len()).collect());
    let items: Vec<usize> = chosen[..2 + dice.below(6)].to_vec();
    let mut draft = Draft { dice, text: "policy \"Ward\"\n".into(), people, items, conditions: Vec::new() };
    draft.surroundings();
    draft.kit();
    draft.level();
    draft.choose_conditions();
    draft.sequences();
    draft.contingencies();
    draft.text
}

/// A kit that is on from the beginning, and a step for each item, or for two, that takes it off.
pub fn kit(dice: &mut Dice) -> String {
    let mut text =
        "policy \"Ward\"\nhazard stool\nspreads by contact\nplace lobby is for taking off\nrole wearer\n".to_string();
    let chosen = dice.shuffled((0..ITEMS.len()).collect());
    let names: Vec<&str> = chosen[..2 + dice.below(4)].iter().map(|&item| ITEMS[item].0).collect();
    for &name in &names {
        let covers = if dice.hits(60) { ITEMS.iter().find(|row| row.0 == name).map_or("", |row| row.1) } else { "" };
        let others: Vec<&str> = names.iter().copied().filter(|&other| other != name).collect();
        text += &format!("item {name}\n");
        if !covers.is_empty() {
            text += &format!("covers {covers}\n");
        }
        for (verb, percent) in [("goes over", 25), ("tucks into", 12), ("holds down", 12)] {
            let those = dice.some(&others, percent);
            if !those.is_empty() {
                text += &format!("{verb} {}\n", those.join(", "));
            }
        }
    }
    let worn = dice.shuffled(names);
    text += &format!("level Full against contact\nwearer wears {}\n", worn.join(", "));
    text += "sequence \"Taking off\" for Full, in lobby\n";
    let mut steps = dice.shuffled(worn).into_iter();
    while let Some(name) = steps.next() {
        let other = if dice.hits(15) { steps.next() } else { None };
        let together = other.map_or(String::new(), |other| format!(", together with {other}"));
        text += &format!("wearer takes off {name}{together}\n");
    }
    text
}

impl Draft {
    fn line(&mut self, line: impl AsRef<str>) {
        let _ = writeln!(self.text, "{}", line.as_ref());
    }

    fn one_line(&mut self, of: &[&str]) {
        let line = self.dice.one(of);
        self.line(line);
    }

    fn maybe(&mut self, percent: u64, line: impl AsRef<str>) {
        if self.dice.hits(percent) {
            self.line(line);
        }
    }

    fn surroundings(&mut self) {
        self.line("hazard stool\nspreads by contact");
        self.line("place corridor is clean\nplace room is contaminated\nplace lobby is for taking off");
        self.line("place kit room is for putting on");
        self.one_line(&[
            "way corridor to kit room to room to lobby to corridor",
            "way corridor to room to lobby to corridor\nway kit room to room",
            "way lobby to room to corridor to lobby",
        ]);
        self.line("role wearer");
        if self.people.contains(&"helper") {
            self.line("role helper\nhelps wearer");
        }
        if self.people.contains(&"observer") {
            self.line("role observer");
            self.maybe(60, "watches");
        }
        self.one_line(&["cleaner hand rub", "cleaner hand rub \"alcohol hand rub\""]);
        self.line("for hands");
        self.maybe(30, "not on visible soil");
        let strength = self.dice.one(&["50 % alcohol", "60 % alcohol", "70 % ethanol", "400 ppm chlorine"]);
        self.maybe(30, format!("strength {strength}"));
        self.maybe(15, "wet for 31 seconds");
        self.maybe(15, "worth 4 touches");
        self.line("cleaner soap and water\nfor hands");
        self.maybe(20, "for surfaces");
        self.line("cleaner wipe\nfor surfaces");
        let strength = self.dice.one(&["500 ppm chlorine", "1000 ppm chlorine", "30 % alcohol"]);
        self.maybe(50, format!("strength {strength}"));
        self.maybe(40, "wet for 1 minute");
        self.maybe(15, "worth 1 touches");
        self.maybe(20, "for hands");
        self.line("container bin\nfor waste");
        self.maybe(50, "stands in lobby");
        self.line("item scissors");
        self.line("surface chair");
        self.maybe(60, ["stands in lobby", "stands in room"][self.dice.0 as usize % 2]);
        self.maybe(40, ["starts clean", "starts contaminated"][self.dice.0 as usize % 2]);
        self.line("surface floor sheet\nlaid in lobby");
    }

    fn names(&self) -> Vec<&'static str> {
        self.items.iter().map(|&item| ITEMS[item].0).collect()
    }

    fn kit(&mut self) {
        for item in self.items.clone() {
            let (name, covers, parts) = ITEMS[item];
            let others: Vec<&str> = self.names().into_iter().filter(|&other| other != name).collect();
            self.line(format!("item {name}"));
            let odd = self.dice.some(&AREAS, 25).join(", ");
            let covers = if self.dice.hits(10) { odd } else { covers.to_string() };
            if !covers.is_empty() {
                self.line(format!("covers {covers}"));
            }
            for (verb, percent) in [("goes over", 30), ("tucks into", 6), ("holds down", 5), ("connects to", 5)] {
                let those = self.dice.some(&others, percent);
                if !those.is_empty() {
                    self.line(format!("{verb} {}", those.join(", ")));
                }
            }
            let mut grips = Vec::new();
            for part in self.dice.some(parts, 60) {
                let area = self.dice.one(&AREAS);
                grips.push(if self.dice.hits(20) { format!("{part} on {area}") } else { part.to_string() });
            }
            if !grips.is_empty() {
                self.line(format!("grip {}", grips.join(", ")));
            }
            self.one_line(&["single use", "single use", "sizes large", "reused after wipe"]);
            if name == "blower" && self.dice.hits(60) {
                self.line("runs for 4 hours");
            }
            if name == "scrubs" || self.dice.hits(3) {
                self.line("worn beneath");
            }
        }
    }

    fn level(&mut self) {
        self.line("choice of level\nask splash is likely \"Could it splash?\"\nyes to splash is likely gives Full");
        self.line("otherwise gives Full\nlevel Full against contact");
        for person in self.people.clone() {
            let percent = if person == "wearer" { 90 } else { 40 };
            let names = self.names();
            let worn = self.dice.some(&names, percent);
            let worn: Vec<String> = self
                .dice
                .shuffled(worn)
                .into_iter()
                .map(|name| if self.dice.hits(15) { format!("two pairs {name}") } else { name.to_string() })
                .collect();
            if !worn.is_empty() {
                self.line(format!("{person} wears {}", worn.join(", ")));
            }
        }
        let kept = self.dice.some(&AREAS, 50);
        if !kept.is_empty() && self.dice.hits(80) {
            self.line(format!("keep covered {}", kept.join(", ")));
        }
        let assumed = self.dice.one(&["fronts are contaminated", "every outside is contaminated"]);
        self.maybe(90, format!("assume {assumed}"));
        let away = 1 + self.dice.below(4);
        self.maybe(70, format!("keep skin {away} touches away"));
        self.maybe(30, "even after one slip keep skin 1 touches away");
    }

    fn choose_conditions(&mut self) {
        let item = *self.dice.pick(&self.items);
        let name = ITEMS[item].0;
        let mut all: Vec<String> = STATES.iter().map(|state| state.to_string()).collect();
        all.extend([format!("{name} is torn"), format!("{name} is soiled"), format!("{name} is supplied")]);
        let all = self.dice.shuffled(all);
        let count = *self.dice.pick(&[0, 1, 1, 2, 2, 3]);
        self.conditions = all.into_iter().take(count).collect();
    }

    fn sequences(&mut self) {
        let aside = self.dice.hits(35);
        if self.dice.hits(60) {
            self.sequence("Putting on", "kit room", 1, aside);
        }
        if self.dice.hits(10) {
            self.sequence("Between", "room", 0, aside);
        }
        self.sequence("Taking off", "lobby", 2, aside);
        if self.dice.hits(20) {
            self.sequence("Leaving", "lobby", 2, aside);
        }
        if aside {
            self.sequence("Possible exposure", "lobby", 0, false);
        }
    }

    /// In one policy of four: what may happen, a drill of one step to four, and what comes after it.
    fn contingencies(&mut self) {
        if !self.dice.hits(25) {
            return;
        }
        for number in 0..1 + self.dice.below(2) {
            let event = self.event();
            self.line(format!("contingency \"Event {number}\" when {event}"));
            self.maybe(30, "wearer goes to lobby");
            for _ in 0..1 + self.dice.below(3) {
                let names = self.names();
                let name = self.dice.one(&names);
                let step = match self.dice.below(8) {
                    0 | 1 => self.taking_off(name),
                    2 => self.putting_on(name),
                    3 => format!("wearer goes to {}", self.dice.one(&["lobby", "lobby", "corridor", "room"])),
                    4 => format!("wearer cleans hands with {}", self.dice.one(&["hand rub", "soap and water"])),
                    _ => self.anything(1),
                };
                let end = self.ending();
                self.line(format!("{step}{end}"));
            }
            self.maybe(10, format!("hold \"Event {number} hold\"\nwearer confirms \"It is so.\""));
            self.endings();
        }
    }

    fn event(&mut self) -> String {
        let item = ITEMS[*self.dice.pick(&self.items)].0;
        let (who, area) = (self.dice.one(&self.people), self.dice.one(&AREAS));
        match self.dice.below(14) {
            0..4 => format!("{item} {}", self.dice.one(&["is torn", "is split", "tears"])),
            4 | 5 => format!("{item} {}", self.dice.one(&["is soiled", "is splashed"])),
            6 => format!("{} is splashed", self.dice.one(&["face", "eyes", area])),
            7 => self.dice.one(&["hands are pricked", "needle-stick", "splash", "fire alarm"]).to_string(),
            8 if self.names().contains(&"blower") => "blower fails".to_string(),
            8 | 9 => format!("{item} {}", self.dice.one(&["fails", "stops", "slips"])),
            10 => format!("{who} is unwell"),
            11 => format!("{who} is splashed"),
            _ => format!("{who} {}", self.dice.one(&["is lost", "collapses"])),
        }
    }

    fn endings(&mut self) {
        let sequence = |text: &str, name: &&str| text.contains(&format!("sequence \"{name}\""));
        let all = ["Putting on", "Between", "Taking off", "Taking off", "Leaving", "Possible exposure"];
        let started: Vec<&str> = all.into_iter().filter(|name| sequence(&self.text, name)).collect();
        let carries_on = self.dice.hits(40);
        if !carries_on {
            for _ in 0..self.dice.below(3) {
                let title = self.dice.one(&started);
                if !self.text.ends_with(&format!("then start \"{title}\"\n")) {
                    self.line(format!("then start \"{title}\""));
                }
            }
        }
        if carries_on || self.dice.hits(10) {
            self.line("then carry on");
        }
    }

    /// `kind`: 0 handles no kit, 1 puts on, 2 takes off.
    fn sequence(&mut self, title: &str, place: &str, kind: usize, aside: bool) {
        self.line(format!("sequence \"{title}\" for Full, in {place}"));
        let mut steps: Vec<String> = Vec::new();
        let names = self.names();
        let order = self.dice.shuffled(names);
        for name in order {
            if kind > 0 && self.dice.hits(85) {
                steps.push(if kind == 1 { self.putting_on(name) } else { self.taking_off(name) });
            }
            if kind > 0 && self.dice.hits(8) {
                steps.push(if kind == 1 { self.putting_on(name) } else { self.taking_off(name) });
            }
            if self.dice.hits(45) {
                steps.push(self.anything(kind));
            }
        }
        if self.dice.hits(70) {
            let (place, where_to) = if kind == 1 { ("room", steps.len()) } else { ("lobby", 0) };
            steps.insert(where_to, format!("wearer goes to {place}"));
        }
        let mut part = None;
        let mut open = 0;
        let mut holds = 0;
        for step in steps {
            if open == 0 && self.dice.hits(15) {
                let name = format!("{title} part {}", part.map_or(0, |known: usize| known + 1));
                self.line(format!("part \"{name}\""));
                part = Some(part.map_or(0, |known| known + 1));
            }
            open = self.branch(open);
            let end = self.ending();
            self.line(format!("{step}{end}"));
            if open == 0 && holds < 2 && self.dice.hits(9) {
                self.hold(title, part, holds, aside);
                holds += 1;
            }
        }
        if open > 0 {
            self.line("end if");
        }
    }

    /// Opens, turns or closes a branch around the next step; what is open then: 0 nothing, 1 the first half, 2 the second.
    fn branch(&mut self, open: usize) -> usize {
        if self.conditions.is_empty() {
            return 0;
        }
        let condition = self.dice.pick(&self.conditions).clone();
        match open {
            0 if self.dice.hits(12) => {
                self.line(format!("if {condition}"));
                1
            }
            1 if self.dice.hits(30) => {
                self.line("otherwise");
                2
            }
            1 | 2 if self.dice.hits(40) => {
                self.line("end if");
                0
            }
            as_before => as_before,
        }
    }

    fn ending(&mut self) -> String {
        if self.conditions.is_empty() || !self.dice.hits(20) {
            return String::new();
        }
        let condition = self.dice.pick(&self.conditions).clone();
        let word = self.dice.one(&["if", "unless"]);
        let second = self.dice.pick(&self.conditions).clone();
        let joined = self.dice.one(&["and", "or"]);
        if second != condition && self.dice.hits(30) {
            format!(", {word} {condition} {joined} {second}")
        } else {
            format!(", {word} {condition}")
        }
    }

    fn hold(&mut self, title: &str, part: Option<usize>, number: usize, aside: bool) {
        self.line(format!("hold \"{title} hold {number}\"\nwearer confirms \"It is so.\""));
        if aside && self.dice.hits(50) {
            self.line("if not, start \"Possible exposure\"");
        } else if self.dice.hits(80) {
            let back = match part {
                Some(last) if self.dice.hits(70) => format!("{title} part {}", self.dice.below(last + 1)),
                _ => title.to_string(),
            };
            self.line(format!("if not, go back to \"{back}\""));
        }
    }

    fn helps(&mut self) -> bool {
        self.people.contains(&"helper") && self.dice.hits(20)
    }

    fn person(&mut self) -> &'static str {
        if self.dice.hits(70) { "wearer" } else { self.dice.one(&self.people) }
    }

    fn putting_on(&mut self, name: &str) -> String {
        let half = if self.dice.hits(8) { " as far as the waist" } else { "" };
        let fresh = if self.dice.hits(10) { "fresh " } else { "" };
        match self.helps() {
            true => format!("helper helps wearer put on {fresh}{name}"),
            false => format!("{} puts on {fresh}{name}{half}", self.person()),
        }
    }

    fn taking_off(&mut self, name: &'static str) -> String {
        let parts = ITEMS.iter().find(|(known, ..)| *known == name).map_or(&[][..], |(_, _, parts)| parts);
        let mut how = String::new();
        if self.dice.hits(80) {
            how += &format!(" by {}", self.dice.one(parts));
        }
        let rolled = self.dice.hits(30);
        if rolled {
            how += ", rolling it inside out,";
        }
        let other = {
            let names = self.names();
            self.dice.one(&names)
        };
        let together = other != name && self.dice.hits(12);
        if together {
            how = format!("{},{} together with {other},", how.trim_end_matches(','), "");
        }
        if self.dice.hits(80) {
            how += self.dice.one(&[" into bin", " into bin", " onto floor sheet"]);
        }
        let how = how.trim_end_matches(',').to_string();
        match self.helps() {
            true => format!("helper helps wearer take off {name}{how}"),
            false => format!("{} takes off {name}{how}", self.person()),
        }
    }

    fn anything(&mut self, kind: usize) -> String {
        let who = self.person();
        let name = {
            let names = self.names();
            self.dice.one(&names)
        };
        let other = {
            let names = self.names();
            self.dice.one(&names)
        };
        let seconds = *self.dice.pick(&[5, 10, 15, 16, 20, 30, 40, 60]);
        match self.dice.below(if kind == 0 { 15 } else { 19 }) {
            0 | 1 => format!("{who} cleans hands with hand rub for {seconds} seconds"),
            2 => format!("{who} cleans hands with soap and water for {seconds} seconds"),
            3 => format!("{who} cleans hands with hand rub"),
            4 => format!("{who} wipes {} with wipe for {seconds} seconds", self.dice.one(&[name, "chair"])),
            5 => format!("{who} sprays {name} with {}", self.dice.one(&["wipe", "soap and water"])),
            6 => format!("{who} goes to {}", self.dice.one(&["room", "lobby", "corridor", "kit room"])),
            7 => format!("{who} sits on chair"),
            8 => self.dice.one(&["wearer stands up", "wearer steps off floor sheet"]).to_string(),
            9 => format!("{who} steps onto floor sheet"),
            10 => format!("{who} checks wearer"),
            11 if name != other => {
                let verb = self.dice.one(&["connects {} to", "disconnects {} from"]);
                format!("{who} {} {other}", verb.replace("{}", name))
            }
            12 => format!("{who} {} {}", self.dice.one(&["opens", "closes"]), self.dice.one(&["bin", "chair", name])),
            13 => {
                let how =
                    self.dice.one(&["cuts front of {} with scissors", "cuts {} with scissors", "breaks ties of {}"]);
                format!("{who} {}", how.replace("{}", name))
            }
            14 => format!("{who} {} {name}", self.dice.one(&["unties", "switches on", "switches off"])),
            15 => format!("wearer changes {name}"),
            16 => format!("wearer pulls up {name}"),
            17 => format!("{who} puts {name} {}", self.dice.one(&["into bin", "onto chair"])),
            _ => format!("{who} folds floor sheet"),
        }
    }
}
