//! From a policy to its view: one entry for each thing that it says.
//!
//! In: a policy. Out: a [`View`]. Must never leave out what is printed or checked: what the fingerprint rests on stands here too.

use std::collections::BTreeSet;

use super::field::Field;
use super::lines::{self, flag, texts};
use super::view::{Entry, Fields, Kind, Line, Value, View, Word};
use crate::policy::meaning::digest;
use crate::policy::{
    Answer, Assumption, Choice, Cleaner, Container, Ending, Hazard, Item, ItemId, Level, Lies, Paper, Policy, Print,
    RoleId, Shield, Subject, Surface,
};

pub fn view(policy: &Policy) -> View {
    let mut maker = Maker { policy, view: View::default(), taken: BTreeSet::new() };
    maker.sequences();
    maker.levels();
    maker.choice();
    policy.items.iter().for_each(|item| maker.item(item));
    policy.cleaners.iter().for_each(|cleaner| maker.cleaner(cleaner));
    policy.containers.iter().for_each(|container| maker.container(container));
    policy.surfaces.iter().for_each(|surface| maker.surface(surface));
    maker.people_and_places();
    maker.exceptions();
    maker.deviations();
    policy.prints.iter().for_each(|print| maker.print(print));
    maker.sources();
    maker.paper(&policy.paper);
    maker.view
}

struct Maker<'a> {
    policy: &'a Policy,
    view: View,
    taken: BTreeSet<(Kind, String)>,
}

type Told = Vec<(Field, Value)>;

impl Maker<'_> {
    /// A second thing of the same name is known by its number.
    fn add(&mut self, kind: Kind, name: Word, told: Told, lines: Vec<Line>) {
        let mut known = name;
        let first = known.clone();
        let mut number = 1;
        while !self.taken.insert((kind, known.key.clone())) {
            number += 1;
            known = Word { key: format!("{} ({number})", first.key), shown: format!("{} ({number})", first.shown) };
        }
        let mut fields = Fields::default();
        told.into_iter().for_each(|(field, value)| fields.set(field, value));
        self.view.entries.push(Entry { kind, name: known, fields, lines });
    }

    fn sequences(&mut self) {
        let policy = self.policy;
        for sequence in &policy.sequences {
            let told = vec![
                (Field::OfLevel, vec![Word::name(&policy.level(sequence.level).name)]),
                (Field::At, sequence.place.iter().map(|&id| Word::name(&policy.place(id).name)).collect()),
            ];
            let lines = lines::of(policy, &sequence.parts, &sequence.steps);
            self.add(Kind::Sequence, Word::text(sequence.title.clone()), told, lines);
        }
        for drill in &policy.contingencies {
            let endings = drill.endings.iter().map(|ending| match ending {
                Ending::CarryOn => "carry on".to_owned(),
                Ending::Start(id) => format!("start “{}”", policy.sequence(*id).title),
                Ending::Nowhere => "a title that nothing bears".to_owned(),
            });
            let told = vec![
                (Field::Event, vec![Word::name(&drill.event.words)]),
                (Field::Endings, endings.map(Word::text).collect()),
            ];
            let lines = lines::of(policy, &[], &drill.steps);
            self.add(Kind::Contingency, Word::text(drill.title.clone()), told, lines);
        }
    }

    fn levels(&mut self) {
        for level in &self.policy.levels {
            let told = self.level(level);
            self.add(Kind::Level, Word::name(&level.name), told, Vec::new());
        }
        for level in &self.policy.levels {
            for kit in &level.kits {
                let role = Word::name(&self.policy.role(kit.role).name);
                let level = Word::name(&level.name);
                let name = Word {
                    key: format!("{}: {}", level.key, role.key),
                    shown: format!("{} at {}", role.shown, level.shown),
                };
                let worn = kit.items.iter().map(|worn| {
                    let item = self.item_name(worn.item);
                    let count = if worn.pairs > 1 { format!("{} pairs ", worn.pairs) } else { String::new() };
                    Word { key: format!("{} x {}", worn.pairs, item.key), shown: format!("{count}{}", item.shown) }
                });
                let told = vec![(Field::Wears, worn.collect())];
                self.add(Kind::Kit, name, told, Vec::new());
            }
        }
    }

    fn level(&self, level: &Level) -> Told {
        let policy = self.policy;
        let by_hazard = |route| level.against_hazards.iter().any(|&id| policy.hazard(id).spreads_by.contains(route));
        let assume = level.assume.map(|assume| match assume {
            Assumption::Fronts => "fronts are contaminated",
            Assumption::EveryOutside => "every outside is contaminated",
        });
        let margins = level.margins.iter().map(|margin| {
            let shield = match margin.shield {
                Shield::Skin => "skin",
                Shield::Face => "face",
                Shield::Clothes => "clothes",
            };
            let after = match margin.slips {
                0 => "as planned".to_owned(),
                1 => "after one slip".to_owned(),
                slips => format!("after {slips} slips"),
            };
            Word::text(format!("{shield} {after}: {}", margin.touches))
        });
        let wishes = |forbids| {
            let those = level.wishes.iter().filter(move |wish| wish.forbids == forbids);
            those.map(|wish| Word::name(&wish.words)).collect()
        };
        vec![
            (Field::Against, names(level.against_hazards.iter().map(|&id| &policy.hazard(id).name))),
            (Field::Routes, level.routes.iter().filter(|r| !by_hazard(r)).map(|r| Word::text(r.word())).collect()),
            (Field::KeepCovered, level.keep_covered.iter().map(|area| Word::text(area.word())).collect()),
            (Field::Assume, texts(&assume)),
            (Field::Margins, margins.collect()),
            (Field::Stay, texts(&level.stay)),
            (Field::Needs, wishes(false)),
            (Field::Forbids, wishes(true)),
        ]
    }

    fn choice(&mut self) {
        let Some(choice) = &self.policy.choice else { return };
        for question in &choice.questions {
            let told = vec![(Field::Asked, vec![Word::text(question.words.clone())])];
            self.add(Kind::Question, Word::name(&question.name), told, Vec::new());
        }
        let level = |id| Word::name(&self.policy.level(id).name);
        let lines = choice.verdicts.iter().map(|verdict| {
            let gives = level(verdict.level);
            let when = answers(choice, &verdict.answers);
            Word {
                key: format!("{} gives {}", when.key, gives.key),
                shown: format!("{} gives {}", when.shown, gives.shown),
            }
        });
        let outranks = choice.outranks.iter().map(|&(higher, lower)| {
            let (higher, lower) = (level(higher), level(lower));
            Word {
                key: format!("{} | {}", higher.key, lower.key),
                shown: format!("{} over {}", higher.shown, lower.shown),
            }
        });
        let told = vec![(Field::Lines, lines.collect()), (Field::Outranks, outranks.collect())];
        self.add(Kind::Choice, Word::text("choice of level"), told, Vec::new());
    }

    fn item_name(&self, id: ItemId) -> Word {
        Word::name(&self.policy.item(id).name)
    }

    fn item(&mut self, item: &Item) {
        let policy = self.policy;
        let items = |ids: &[ItemId]| names(ids.iter().map(|&id| &policy.item(id).name));
        let grips = item.grips.iter().map(|grip| match grip.lies {
            Lies::ByCustom => grip.part.clone(),
            Lies::On(area) => format!("{} on {}", grip.part, area.word()),
        });
        let reuse = item.reused_after.as_ref().map(|reuse| {
            let cleaners: Vec<&str> = reuse.cleaners.iter().map(|&id| policy.cleaner(id).name.as_str()).collect();
            if cleaners.is_empty() {
                "used again".to_owned()
            } else {
                format!("used again after {}", cleaners.join(", "))
            }
        });
        let picture = item.picture.as_ref().map(|picture| picture.svg.as_deref().map_or("-".to_owned(), digest));
        let told = vec![
            (Field::Printed, printed(&item.name, &item.printed)),
            (Field::Covers, item.covers.iter().map(|area| Word::text(area.word())).collect()),
            (Field::GoesOver, items(&item.goes_over)),
            (Field::TucksInto, items(&item.tucks_into)),
            (Field::HoldsDown, items(&item.holds_down)),
            (Field::ConnectsTo, items(&item.connects_to)),
            (Field::Grips, grips.map(Word::text).collect()),
            (Field::Meets, item.meets.iter().cloned().map(Word::text).collect()),
            (Field::FitTest, flag(item.needs_fit_test)),
            (Field::SingleUse, flag(item.single_use)),
            (Field::ReusedAfter, reuse.iter().map(|reuse| Word::name(reuse)).collect()),
            (Field::GoesTo, item.goes_to.iter().map(|&id| Word::name(&policy.container(id).name)).collect()),
            (Field::Sharp, flag(item.sharp)),
            (Field::RunsFor, texts(&item.runs_for)),
            (Field::Room, texts(&item.millilitres.map(litres))),
            (Field::WornBeneath, flag(item.worn_beneath)),
            (Field::Pairs, texts(&item.pairs)),
            (Field::Sizes, item.sizes.iter().map(|size| Word::name(size)).collect()),
            (Field::Picture, texts(&picture)),
        ];
        self.add(Kind::Item, Word::name(&item.name), told, Vec::new());
    }

    fn cleaner(&mut self, cleaner: &Cleaner) {
        let told = vec![
            (Field::Printed, printed(&cleaner.name, &cleaner.printed)),
            (Field::ForHands, flag(cleaner.for_hands)),
            (Field::ForSurfaces, flag(cleaner.for_surfaces)),
            (Field::Strength, texts(&cleaner.strength_ppm.map(|ppm| format!("{ppm} ppm")))),
            (Field::Substance, texts(&cleaner.substance)),
            (Field::WetFor, texts(&cleaner.wet_for)),
            (Field::NotOnSoil, flag(cleaner.not_on_visible_soil)),
            (Field::Worth, texts(&cleaner.worth)),
        ];
        self.add(Kind::Cleaner, Word::name(&cleaner.name), told, Vec::new());
    }

    fn container(&mut self, container: &Container) {
        let told = vec![
            (Field::Printed, printed(&container.name, &container.printed)),
            (
                Field::Purpose,
                Some(&container.purpose_words).filter(|w| !w.is_empty()).map(|w| Word::name(w)).into_iter().collect(),
            ),
            (Field::At, container.place.iter().map(|&id| Word::name(&self.policy.place(id).name)).collect()),
            (Field::Holds, texts(&container.millilitres.map(litres))),
        ];
        self.add(Kind::Container, Word::name(&container.name), told, Vec::new());
    }

    fn surface(&mut self, surface: &Surface) {
        let told = vec![
            (Field::At, surface.place.iter().map(|&id| Word::name(&self.policy.place(id).name)).collect()),
            (Field::Laid, flag(surface.laid)),
            (Field::StartsClean, flag(surface.starts_clean)),
            (Field::StartsContaminated, flag(surface.starts_contaminated)),
            (Field::GoesTo, surface.goes_to.iter().map(|&id| Word::name(&self.policy.container(id).name)).collect()),
        ];
        self.add(Kind::Surface, Word::name(&surface.name), told, Vec::new());
    }

    fn people_and_places(&mut self) {
        let policy = self.policy;
        for role in &policy.roles {
            let helps = |ids: &[RoleId]| names(ids.iter().map(|&id| &policy.role(id).name));
            let told = vec![
                (Field::Helps, helps(&role.helps)),
                (Field::Watches, flag(role.watches)),
                (Field::Leads, flag(role.leads)),
            ];
            self.add(Kind::Role, Word::name(&role.name), told, Vec::new());
        }
        for place in &policy.places {
            let told = vec![(Field::PlaceKind, vec![Word::text(place.kind.words())])];
            self.add(Kind::Place, Word::name(&place.name), told, Vec::new());
        }
        for way in &policy.ways {
            let places: Vec<&str> = way.places.iter().map(|&id| policy.place(id).name.as_str()).collect();
            self.add(Kind::Way, Word::name(&places.join(" to ")), Vec::new(), Vec::new());
        }
        for Hazard { name, spreads_by, span: _ } in &policy.hazards {
            let told = vec![(Field::SpreadsBy, spreads_by.iter().map(|route| Word::text(route.word())).collect())];
            self.add(Kind::Hazard, Word::name(name), told, Vec::new());
        }
    }

    fn exceptions(&mut self) {
        for exception in &self.policy.exceptions {
            let finding = Word::name(&exception.finding);
            let name = Word {
                key: format!("{} at {}", finding.key, exception.at),
                shown: format!("{} at “{}”", finding.shown, exception.at),
            };
            let told = vec![
                (Field::Accepted, vec![Word::text(exception.because.clone())]),
                (Field::Until, vec![Word::text(exception.until.to_string())]),
            ];
            self.add(Kind::Exception, name, told, Vec::new());
        }
    }

    fn deviations(&mut self) {
        for deviation in &self.policy.deviations {
            let told = vec![(Field::Because, vec![lines::because(self.policy, &deviation.because)])];
            self.add(Kind::Deviation, Word::text(deviation.at.clone()), told, Vec::new());
        }
    }

    fn print(&mut self, print: &Print) {
        let policy = self.policy;
        let kind = print.kind.about().words[0];
        let of = match print.subject {
            Subject::Sequence(id) => Some(Word::text(policy.sequence(id).title.clone())),
            Subject::Contingency(at) => policy.contingencies.get(at).map(|drill| Word::text(drill.title.clone())),
            Subject::Level(id) => Some(Word::name(&policy.level(id).name)),
            Subject::Place(id) => Some(Word::name(&policy.place(id).name)),
            Subject::Role(id) => Some(Word::name(&policy.role(id).name)),
            Subject::Policy => None,
        };
        let name = match of {
            Some(of) => Word { key: format!("{kind} of {}", of.key), shown: format!("{kind} of {}", of.shown) },
            None => Word::text(kind),
        };
        let copies = print.copies.iter().map(|(count, place)| match place {
            Some(place) => format!("{count} for {place}"),
            None => count.to_string(),
        });
        let told = vec![
            (Field::Paper, vec![Word::text(print.paper.word())]),
            (Field::ReadFrom, texts(&print.read_from_mm.map(|mm| format!("{} metres", f64::from(mm) / 1000.0)))),
            (Field::Copies, copies.map(Word::text).collect()),
            (Field::Laminated, flag(print.laminated)),
            (Field::BothSides, flag(print.both_sides)),
        ];
        self.add(Kind::Print, name, told, Vec::new());
    }

    fn sources(&mut self) {
        for citation in &self.policy.citations {
            let told = vec![
                (Field::Title, vec![Word::text(citation.title.clone())]),
                (Field::From, texts(&citation.from)),
                (Field::Dated, texts(&citation.dated)),
                (Field::Page, texts(&citation.page)),
                (Field::Link, texts(&citation.link)),
            ];
            self.add(Kind::Source, Word::name(&citation.name), told, Vec::new());
        }
    }

    fn paper(&mut self, paper: &Paper) {
        let approval = paper.approval.as_ref().map(|approval| format!("{}, {}", approval.by, approval.on));
        let told = vec![
            (Field::Title, texts(&paper.title)),
            (Field::Site, texts(&paper.site)),
            (Field::Edition, texts(&paper.edition)),
            (Field::Owner, texts(&paper.owner)),
            (Field::ApprovedBy, texts(&approval)),
            (Field::ApprovalNeeds, texts(&paper.approval_needs)),
            (Field::InForceFrom, texts(&paper.in_force)),
            (Field::ReviewBy, texts(&paper.review_by)),
            (Field::WithdrawnOn, texts(&paper.withdrawn)),
            (Field::Replaces, texts(&paper.replaces)),
            (Field::Link, texts(&paper.link)),
            (Field::Language, paper.language.iter().map(|tag| Word::name(tag)).collect()),
            (Field::IsPolicy, flag(paper.is_policy)),
        ];
        self.add(Kind::Paper, Word::text("document control"), told, Vec::new());
    }
}

/// `yes to splash likely and no to airborne`; `otherwise` where nothing is asked.
pub(super) fn answers(choice: &Choice, answers: &[Answer]) -> Word {
    if answers.is_empty() {
        return Word::text("otherwise");
    }
    let mut told: Vec<String> = answers
        .iter()
        .map(|&(question, yes)| {
            let name = choice.questions.get(question.index()).map_or("", |question| question.name.as_str());
            format!("{} to {name}", if yes { "yes" } else { "no" })
        })
        .collect();
    let shown = told.join(" and ");
    told.sort_by_key(|answer| Word::name(answer).key);
    Word { key: Word::name(&told.join(" and ")).key, shown }
}

fn names<'n>(all: impl Iterator<Item = &'n String>) -> Value {
    all.map(|name| Word::name(name)).collect()
}

/// Nothing where the name itself is printed.
fn printed(name: &str, printed: &str) -> Value {
    if name == printed { Vec::new() } else { vec![Word::text(printed)] }
}

fn litres(millilitres: u64) -> String {
    format!("{} litres", millilitres as f64 / 1000.0)
}
