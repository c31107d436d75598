//! The aids as data: every word that will be printed, in order, before any typesetting.
//!
//! In: a policy and its walk. Out: a [`PrintPlan`](plan::PrintPlan). Must never know how a page is set.

mod area_plan;
mod change_slip;
mod chart_lanes;
mod chart_notes;
mod choice_poster;
mod competence_record;
mod control;
mod door_sign;
mod entry_log;
mod event_card;
pub(crate) mod forms;
mod helper_card;
mod incident_form;
mod kit_list;
mod marking;
mod observation_form;
mod observer_card;
pub(crate) mod pattern;
mod pictograms;
pub mod plan;
mod poster;
mod procedure;
mod review_sheet;
mod rows;
mod sentence;
mod translation;
mod trolley_check;
mod voice;
mod walk_chart;
mod wearer_card;
mod words;
mod worn;

use crate::compare::{self, Comparison};
use crate::findings::closing::CAUTION;
use crate::policy::{AidKind, Code, LevelId, PaperSize, PlaceId, Policy, Print, RoleId, Seconds, SequenceId, Subject};
use crate::session::{Checked, Reason};
use crate::text::Span;
use crate::translation::{Allowed, WordFile};
use crate::walk::{Walk, times};
pub use kit_list::for_one_entry;
use plan::{Aid, Body, Control, Form, Layout, Marking, PrintPlan, Quantity, SourceFile};
use procedure::Procedure;
use rows::Telling;
use translation::Translation;
pub use translation::{Told, lacking};
use words::Words;
pub(crate) use words::{Patterns, say};

/// Every aid that the policy's `print` statements ask for, in the language of the policy.
pub fn plan(checked: &Checked) -> PrintPlan {
    let policy = &checked.reading.policy;
    let desk = Desk::of(checked);
    let language = desk.language;
    let mut plan = desk.plan();
    if !speaks(language) && !policy.prints.is_empty() {
        plan.not_made.push(say(&desk.english().not_made, "language", &[("language", language)]));
    }
    if policy.paper.link.is_some() && !Code::has_link(&policy.paper) && !policy.prints.is_empty() {
        plan.not_made.push(desk.link_left_out());
    }
    name_files(&mut plan.aids);
    plan
}

/// Marks every face of a plan as of an edition that another has replaced. `by`: the number of that other.
pub fn supersede(plan: &mut PrintPlan, by: Option<u32>) {
    for aid in &mut plan.aids {
        aid.marking = Some(marking::superseded(Words::of(&aid.language).0, by));
    }
}

/// The same aids by a word file, and what is to be told of it. Their files are named as those of the
/// policy's own language, with the tag of this one.
pub fn plan_in(checked: &Checked, language: &str, file: &WordFile) -> (PrintPlan, Told) {
    let translation = Translation::of(checked, language, file);
    let desk = Desk {
        checked,
        policy: &translation.policy,
        words: &translation.words,
        language,
        marking: translation.marking,
        translated_by: translation.signed,
        word_file: Some(&file.text),
    };
    let mut translated = desk.plan();
    let original = plan(checked);
    translated.not_made = original.not_made;
    for (aid, named) in translated.aids.iter_mut().zip(original.aids) {
        aid.file = format!("{}-{}", named.file, language.to_lowercase());
    }
    (translated, translation.told)
}

/// What a word file of this language can say of a name.
pub fn allowed_of(language: &str) -> Allowed<'static> {
    let agreement = &Words::of(language).0.agreement;
    Allowed { classes: &agreement.classes, forms: &agreement.forms }
}

/// Why an edition is a draft, a sentence in the program's own language.
pub fn draft_reason(reason: Reason) -> String {
    marking::reason_in(Words::english(), reason)
}

/// Whether the aids speak a language.
pub fn speaks(language: &str) -> bool {
    Words::of(language).1
}

/// The languages that the aids speak, as tags.
pub fn languages() -> Vec<&'static str> {
    Words::languages()
}

/// What is printed of two editions, as the new one asks for it.
pub fn plan_of_two(comparison: &Comparison, old: &Checked, new: &Checked) -> PrintPlan {
    PrintPlan { aids: vec![review_sheet(comparison, new), change_slip(comparison, old, new)], not_made: Vec::new() }
}

/// The change slip, in the language of the policy.
fn change_slip(comparison: &Comparison, old: &Checked, new: &Checked) -> Aid {
    let desk = Desk::of(new);
    let renamed = compare::changed(&old.reading.policy, &new.reading.policy).renamed;
    let before = change_slip::Played { policy: &renamed, walk: &old.walk };
    let after = change_slip::Played { policy: &new.reading.policy, walk: &new.walk };
    let form = change_slip::form(desk.words, comparison, &before, &after);
    let title = match new.reading.policy.paper.edition {
        Some(number) => say(&desk.words.slip, "title", &[("number", &number.to_string())]),
        None => say(&desk.words.slip, "title_unnumbered", &[]),
    };
    let about = About { title: &title, name: &comparison.new.file, level: None, place: None };
    let print = desk.of_kind(AidKind::ChangeSlip);
    Aid { file: "change-slip".to_owned(), ..desk.aid(&print, about, Layout::Form, Body::Form(form)) }
}

/// The review sheet of a new edition against an old one, as the new one asks for it; in English. It is read beside the policy and
/// says itself how the edition stands, so that nothing is written across it.
fn review_sheet(comparison: &Comparison, new: &Checked) -> Aid {
    let desk = Desk::of(new);
    let print = desk.of_kind(AidKind::ReviewSheet);
    let title = new.reading.policy.paper.title.clone().unwrap_or_default();
    let about = About { title: &title, name: &comparison.new.file, level: None, place: None };
    let body = Body::Review(Box::new(review_sheet::review(comparison)));
    let (words, _) = Words::of("en-GB");
    Aid {
        file: "review-sheet".to_owned(),
        marking: None,
        language: "en-GB".to_owned(),
        right_to_left: words.right_to_left,
        labels: words.labels.clone(),
        control: Control { caution: CAUTION.to_owned(), ..control::of(new, &new.reading.policy, words, None, None) },
        kind: desk.kind_in(words, AidKind::ReviewSheet),
        ..desk.aid(&print, about, Layout::Review, body)
    }
}

/// A paper that goes with the aids of a policy, to be filled in by hand: dressed and controlled as they are, in English.
pub fn paper(checked: &Checked, file: &str, kind: String, title: String, form: Form) -> Aid {
    let (words, _) = Words::of("en-GB");
    Aid {
        file: file.to_string(),
        layout: Layout::Form,
        language: "en-GB".to_string(),
        right_to_left: words.right_to_left,
        paper: PaperSize::A4,
        sideways: false,
        both_sides: false,
        laminated: false,
        pictured: false,
        read_from_mm: None,
        title,
        kind,
        copies: Vec::new(),
        quantities: Vec::new(),
        control: control::of(checked, &checked.reading.policy, words, None, None),
        marking: marking::of(checked, words, |_| Vec::new()),
        drawings: std::collections::BTreeMap::new(),
        sources: Vec::new(),
        body: Body::Form(form),
        labels: words.labels.clone(),
        asked_at: file.to_string(),
    }
}

/// How long it takes to read aloud what an observer's card of each sequence has to be read: all of its steps, whatever is
/// found. For the cards that are printed.
pub fn read_aloud(policy: &Policy, walk: &Walk) -> Vec<(SequenceId, Seconds)> {
    let (words, _) = Words::of(policy.paper.language.as_deref().unwrap_or("en-GB"));
    let asked = policy.aids_asked();
    let cards = asked.iter().filter(|print| print.kind == AidKind::ObserverCard);
    let procedures = cards.flat_map(|print| Procedure::all_of(policy, print.subject));
    let aloud = procedures.filter_map(|procedure| {
        let observer = procedure.role(policy, |role| role.watches);
        let telling = Telling::new(policy, walk, words, &procedure, observer);
        let texts = observer_card::read_aloud(&observer_card::steps(&telling));
        Some((procedure.sequence?, times::read_aloud(texts.iter().map(String::as_str))))
    });
    aloud.collect()
}

/// What one aid is about.
struct About<'a> {
    title: &'a str,
    /// What its file is named after, besides its kind.
    name: &'a str,
    level: Option<LevelId>,
    place: Option<PlaceId>,
}

impl<'a> About<'a> {
    fn procedure(procedure: &Procedure<'a>) -> About<'a> {
        let title = procedure.title;
        About { title, name: title, level: procedure.level, place: procedure.place }
    }
}

struct Desk<'a> {
    checked: &'a Checked,
    /// As it is printed: in its own words, or in those of a translation.
    policy: &'a Policy,
    words: &'a Words,
    language: &'a str,
    marking: Option<Marking>,
    /// Who answers for the translation; empty where there is none.
    translated_by: String,
    /// The text of the word file, where there is one.
    word_file: Option<&'a str>,
}

impl<'a> Desk<'a> {
    /// In the language of the policy.
    fn of(checked: &'a Checked) -> Desk<'a> {
        let policy = &checked.reading.policy;
        let language = policy.paper.language.as_deref().unwrap_or("en-GB");
        let (words, _) = Words::of(language);
        let is_unapproved = translation::are_own_words_unapproved(words);
        let unapproved = |words: &Words| is_unapproved.then(|| translation::own_words_unapproved(words));
        let marking = marking::of(checked, words, |words| unapproved(words).into_iter().collect());
        Desk { checked, policy, words, language, marking, translated_by: String::new(), word_file: None }
    }

    /// The statement that asks for a kind, or what it would be.
    fn of_kind(&self, kind: AidKind) -> Print {
        let asked = self.policy.prints.iter().find(|print| print.kind == kind).cloned();
        asked.unwrap_or_else(|| Print {
            kind,
            subject: Subject::Policy,
            paper: kind.about().paper,
            read_from_mm: None,
            copies: Vec::new(),
            laminated: false,
            both_sides: false,
            span: self.policy.paper.place("policy"),
        })
    }

    fn plan(&self) -> PrintPlan {
        let mut plan = PrintPlan { aids: Vec::new(), not_made: Vec::new() };
        for print in &self.policy.aids_asked() {
            match self.aids(print) {
                Ok(aids) => plan.aids.extend(aids),
                Err(why) => plan.not_made.push(why),
            }
        }
        plan
    }

    /// What is said to whoever prints is in the program's own language.
    fn english(&self) -> &'static Words {
        Words::english()
    }

    fn control(&self, about: &About) -> Control {
        let mut control = control::of(self.checked, self.policy, self.words, about.level, about.place);
        if !self.translated_by.is_empty() {
            control.approval = format!("{}. {}", control.approval, self.translated_by);
        }
        control
    }

    /// What one `print` statement asks for, or why it is not made.
    fn aids(&self, print: &Print) -> Result<Vec<Aid>, String> {
        match print.kind {
            AidKind::ChangeSlip | AidKind::ReviewSheet => {
                Err(self.not_made("two_editions", print, &self.kind_in(self.english(), print.kind)))
            }
            AidKind::Pack => Err(self.not_made("empty", print, &self.kind_in(self.english(), print.kind))),
            AidKind::KitList | AidKind::TrolleyCheck | AidKind::DoorSign | AidKind::EntryLog => self.of_levels(print),
            AidKind::CompetenceRecord | AidKind::ObservationForm => self.records(print),
            AidKind::IncidentForm => Ok(vec![self.incident_form(print)]),
            AidKind::AreaPlan => self.area_plan(print),
            AidKind::ChoicePoster => self.choice_poster(print),
            AidKind::WalkChart => self.charts(print),
            AidKind::EventCard => self.event_cards(print),
            AidKind::ObserverCard | AidKind::WearerCard | AidKind::HelperCard | AidKind::Poster => self.steps(print),
        }
    }

    /// The levels that an aid is of: the one named, or all.
    fn levels(&self, print: &Print) -> Vec<LevelId> {
        match print.subject {
            Subject::Level(level) => vec![level],
            Subject::Sequence(id) => vec![self.policy.sequence(id).level],
            Subject::Policy => (0..self.policy.levels.len()).map(LevelId::new).collect(),
            Subject::Contingency(_) | Subject::Place(_) | Subject::Role(_) => Vec::new(),
        }
    }

    fn level_title(&self, key: &str, level: LevelId) -> String {
        say(&self.words.intro, key, &[("level", &self.policy.level(level).name)])
    }

    /// One aid for each level.
    fn of_levels(&self, print: &Print) -> Result<Vec<Aid>, String> {
        let levels = self.levels(print);
        if levels.is_empty() {
            return Err(self.not_made("nothing", print, &self.kind_in(self.english(), print.kind)));
        }
        let aid = |level: LevelId| {
            let (policy, words) = (self.policy, self.words);
            let title = |key: &str| self.level_title(key, level);
            let (title, layout, body) = match print.kind {
                AidKind::TrolleyCheck => {
                    let form = trolley_check::form(policy, words, level);
                    (title("trolley_title"), Layout::Form, Body::Form(form))
                }
                AidKind::DoorSign => {
                    (title("level_title"), Layout::DoorSign, Body::Sign(door_sign::sign(policy, words, level)))
                }
                AidKind::EntryLog => {
                    (title("log_title"), Layout::Form, Body::Form(entry_log::form(policy, words, level)))
                }
                _ => (title("kit_title"), Layout::KitList, Body::Kit(kit_list::kit(policy, words, level))),
            };
            let name = &policy.level(level).name;
            let about = About { title: &title, name, level: Some(level), place: None };
            self.aid(print, about, layout, body)
        };
        Ok(levels.into_iter().map(aid).collect())
    }

    /// A record or a form for each level, or for one procedure.
    fn records(&self, print: &Print) -> Result<Vec<Aid>, String> {
        let groups: Vec<(Option<LevelId>, Vec<Procedure>)> = match print.subject {
            Subject::Sequence(_) | Subject::Contingency(_) => {
                vec![(None, Procedure::all_of(self.policy, print.subject))]
            }
            _ => {
                let of = |level| (Some(level), Procedure::all_of(self.policy, Subject::Level(level)));
                self.levels(print).into_iter().map(of).collect()
            }
        };
        let aid = |(level, procedures): (Option<LevelId>, Vec<Procedure>)| {
            let first = procedures.first()?;
            let title = level.map(|level| self.level_title("level_title", level)).unwrap_or_default();
            let tellings = procedures
                .iter()
                .map(|procedure| Telling::new(self.policy, &self.checked.walk, self.words, procedure, None));
            let about = match level {
                Some(level) => {
                    About { title: &title, name: &self.policy.level(level).name, level: Some(level), place: None }
                }
                None => About { title: first.title, name: first.title, level: first.level, place: first.place },
            };
            let control = self.control(&about);
            let form = match print.kind {
                AidKind::ObservationForm => observation_form::form(self.words, tellings),
                _ => competence_record::form(self.words, &control, tellings),
            };
            Some(self.aid(print, about, Layout::Form, Body::Form(form)))
        };
        let aids: Vec<Aid> = groups.into_iter().filter_map(aid).collect();
        if aids.is_empty() {
            Err(self.not_made("nothing", print, &self.kind_in(self.english(), print.kind)))
        } else {
            Ok(aids)
        }
    }

    fn incident_form(&self, print: &Print) -> Aid {
        let level = if let Subject::Level(level) = print.subject { Some(level) } else { None };
        let title = say(&self.words.intro, "incident_title", &[]);
        let name = level.map_or("", |level| self.policy.level(level).name.as_str());
        let form = incident_form::form(self.policy, self.words, level);
        self.aid(print, About { title: &title, name, level, place: None }, Layout::Form, Body::Form(form))
    }

    fn area_plan(&self, print: &Print) -> Result<Vec<Aid>, String> {
        if self.policy.places.is_empty() {
            return Err(self.not_made("places", print, &self.kind_in(self.english(), print.kind)));
        }
        let level = if let Subject::Level(level) = print.subject { Some(level) } else { None };
        let title = say(&self.words.intro, "plan_title", &[]);
        let name = level.map_or("", |level| self.policy.level(level).name.as_str());
        let body = Body::Area(area_plan::area(self.policy, self.words, level));
        Ok(vec![self.aid(print, About { title: &title, name, level, place: None }, Layout::AreaPlan, body)])
    }

    fn choice_poster(&self, print: &Print) -> Result<Vec<Aid>, String> {
        let Some(choice) = self.policy.choice.as_ref().filter(|choice| !choice.verdicts.is_empty()) else {
            return Err(self.not_made("choice", print, &self.kind_in(self.english(), print.kind)));
        };
        let title = say(&self.words.intro, "choice_title", &[]);
        let body = Body::Choice(choice_poster::choice(self.policy, self.words, choice));
        Ok(vec![self.aid(
            print,
            About { title: &title, name: "", level: None, place: None },
            Layout::ChoicePoster,
            body,
        )])
    }

    /// A card for one drill, or for each.
    fn event_cards(&self, print: &Print) -> Result<Vec<Aid>, String> {
        let drills: Vec<usize> = match print.subject {
            Subject::Contingency(at) => vec![at],
            _ => (0..self.policy.contingencies.len()).collect(),
        };
        let cards = drills.into_iter().flat_map(|at| Procedure::all_of(self.policy, Subject::Contingency(at)));
        let cards: Vec<Aid> = cards.filter_map(|drill| self.procedure(print, &drill)).collect();
        if cards.is_empty() {
            Err(self.not_made("empty", print, &self.kind_in(self.english(), print.kind)))
        } else {
            Ok(cards)
        }
    }

    fn steps(&self, print: &Print) -> Result<Vec<Aid>, String> {
        let kind = self.kind_in(self.english(), print.kind);
        if print.subject == Subject::Policy {
            return Err(self.not_made("policy", print, &kind));
        }
        let procedures = Procedure::all_of(self.policy, print.subject);
        if procedures.is_empty() {
            return Err(self.not_made("nothing", print, &kind));
        }
        let aids: Vec<Aid> = procedures.iter().filter_map(|procedure| self.procedure(print, procedure)).collect();
        if aids.is_empty() { Err(self.not_made("nobody", print, &kind)) } else { Ok(aids) }
    }

    /// A chart for each procedure that the walk plays.
    fn charts(&self, print: &Print) -> Result<Vec<Aid>, String> {
        if let Subject::Contingency(_) = print.subject {
            return Err(self.not_made("drill", print, &self.kind_in(self.english(), print.kind)));
        }
        let procedures = Procedure::all_of(self.policy, print.subject);
        let of_level = |procedure: &Procedure| procedure.level;
        if procedures.iter().filter_map(of_level).any(|level| self.checked.examined.unfinished.contains(&level)) {
            return Err(self.not_made("unread", print, &self.kind_in(self.english(), print.kind)));
        }
        let chart = |procedure: &Procedure| {
            let run = self.checked.walk.runs.iter().find(|run| Some(run.level) == procedure.level && !run.gave_up)?;
            let telling = Telling::new(self.policy, &self.checked.walk, self.words, procedure, None);
            let body = Body::Chart(Box::new(walk_chart::chart(&telling, run)?));
            Some(self.aid(print, About::procedure(procedure), Layout::WalkChart, body))
        };
        let aids: Vec<Aid> = procedures.iter().filter_map(chart).collect();
        if aids.is_empty() {
            Err(self.not_made("unplayed", print, &self.kind_in(self.english(), print.kind)))
        } else {
            Ok(aids)
        }
    }

    /// None where nobody takes the part of the card's reader.
    fn procedure(&self, print: &Print, procedure: &Procedure) -> Option<Aid> {
        let telling =
            |reader: Option<RoleId>| Telling::new(self.policy, &self.checked.walk, self.words, procedure, reader);
        let role = |is: fn(&crate::policy::Role) -> bool| procedure.role(self.policy, is);
        let (layout, mut steps) = match print.kind {
            AidKind::ObserverCard => (Layout::Card, observer_card::steps(&telling(role(|role| role.watches)))),
            AidKind::WearerCard => (Layout::Card, wearer_card::steps(&telling(Some(procedure.principal)))),
            AidKind::HelperCard => {
                let helper = role(|role| !role.helps.is_empty())?;
                (Layout::Card, helper_card::steps(&telling(Some(helper))))
            }
            AidKind::Poster => (Layout::Poster, poster::steps(&telling(None))),
            AidKind::EventCard => (Layout::Card, event_card::steps(&telling(None))),
            _ => return None,
        };
        if let Some(event) = procedure.event {
            let event = sentence::event(&telling(None).voice(None), event);
            let event = say(&self.words.intro, "drill", &[("event", &event)]);
            steps.intro = format!("{event} {}", steps.intro);
        }
        Some(self.aid(print, About::procedure(procedure), layout, Body::Steps(steps)))
    }

    fn aid(&self, print: &Print, about: About, layout: Layout, body: Body) -> Aid {
        Aid {
            file: about.name.to_string(),
            layout,
            sideways: matches!(print.kind, AidKind::EntryLog | AidKind::TrolleyCheck),
            language: self.language.to_string(),
            right_to_left: self.words.right_to_left,
            paper: print.paper,
            both_sides: print.both_sides,
            laminated: print.laminated,
            // A committee looks at a chart together.
            pictured: print.kind == AidKind::WalkChart,
            read_from_mm: print.read_from_mm,
            title: about.title.to_string(),
            kind: self.kind(print.kind),
            copies: print.copies.iter().map(|(count, place)| self.copies(*count, place.as_deref())).collect(),
            quantities: print
                .copies
                .iter()
                .map(|(count, place)| Quantity { count: *count, place: place.clone() })
                .collect(),
            control: self.control(&about),
            marking: self.marking.clone(),
            drawings: pictograms::all_own(self.policy),
            sources: self.sources(),
            body,
            labels: self.words.labels.clone(),
            asked_at: self.place(print),
        }
    }

    /// The policy as it was written, and the words that it is told in, so that an aid can be traced to them.
    fn sources(&self) -> Vec<SourceFile> {
        let mut sources: Vec<SourceFile> = Vec::new();
        for (at, (_, source)) in self.checked.reading.sources.iter().enumerate() {
            let base = source.name.rsplit(['/', '\\']).next().unwrap_or_default();
            // Two files of one name lie in two folders.
            let is_taken = sources.iter().any(|file| file.name == base);
            let name = if is_taken { format!("{at}-{base}") } else { base.to_string() };
            sources.push(SourceFile { name, text: source.text.clone() });
        }
        let stem = sources.first().map_or("", |policy| policy.name.trim_end_matches(".ppe"));
        let name = format!("{stem}.{}.words", self.language.to_lowercase());
        sources.extend(self.word_file.map(|text| SourceFile { name, text: text.to_owned() }));
        sources
    }

    /// `12 copies for exit lobby`
    fn copies(&self, count: u32, place: Option<&str>) -> String {
        let copies = say(&self.words.control, if count == 1 { "copy" } else { "copies_many" }, &[]);
        let slots =
            [("count", count.to_string()), ("copies", copies), ("place", place.unwrap_or_default().to_string())];
        say(&self.words.control, "copies", &slots.each_ref().map(|(slot, words)| (*slot, words.as_str())))
    }

    fn kind(&self, kind: AidKind) -> String {
        self.kind_in(self.words, kind)
    }

    fn kind_in(&self, words: &Words, kind: AidKind) -> String {
        let key = match kind {
            AidKind::ObserverCard => "observer_card",
            AidKind::WearerCard => "wearer_card",
            AidKind::HelperCard => "helper_card",
            AidKind::Poster => "poster",
            AidKind::KitList => "kit_list",
            AidKind::WalkChart => "walk_chart",
            AidKind::EventCard => "event_card",
            AidKind::ChoicePoster => "choice_poster",
            AidKind::TrolleyCheck => "trolley_check",
            AidKind::DoorSign => "door_sign",
            AidKind::AreaPlan => "area_plan",
            AidKind::EntryLog => "entry_log",
            AidKind::CompetenceRecord => "competence_record",
            AidKind::ObservationForm => "observation_form",
            AidKind::IncidentForm => "incident_form",
            AidKind::Pack => "pack",
            AidKind::ChangeSlip => "change_slip",
            AidKind::ReviewSheet => "review_sheet",
        };
        say(&words.kinds, key, &[])
    }

    fn not_made(&self, why: &str, print: &Print, kind: &str) -> String {
        let subject = match print.subject {
            Subject::Sequence(id) => self.policy.sequence(id).title.clone(),
            Subject::Contingency(at) => self.policy.contingencies.get(at).map(|d| d.title.clone()).unwrap_or_default(),
            Subject::Level(id) => self.policy.level(id).name.clone(),
            Subject::Place(id) => self.policy.place(id).name.clone(),
            Subject::Role(id) => self.policy.role(id).name.clone(),
            Subject::Policy => self.policy.paper.title.clone().unwrap_or_default(),
        };
        let (at, kind) = (self.place(print), pattern::small(kind));
        say(&self.english().not_made, why, &[("at", &at), ("kind", &kind), ("subject", &subject)])
    }

    fn link_left_out(&self) -> String {
        let at = self.line(self.policy.paper.place("link"));
        say(&self.english().not_made, "link", &[("at", &at), ("most", &Code::LONGEST_LINK.to_string())])
    }

    fn place(&self, print: &Print) -> String {
        self.line(print.span)
    }

    /// `side-room.ppe line 12`
    fn line(&self, span: Span) -> String {
        let sources = &self.checked.reading.sources;
        format!("{} line {}", sources.get(span.source).name, sources.start(span).line)
    }
}

/// Names each file after its kind and what it is of; where two would share a name, the level is added, and then a number.
fn name_files(aids: &mut [Aid]) {
    let mut taken = std::collections::BTreeSet::new();
    for aid in aids {
        let short = slug(&format!("{} {}", aid.kind, aid.file));
        let long = slug(&format!("{} {} {}", aid.kind, aid.file, aid.control.level));
        let numbered = (2..).map(|number| format!("{long}-{number}"));
        let free = [short, long.clone()].into_iter().chain(numbered).find(|name| !taken.contains(name));
        aid.file = free.unwrap_or(long);
        taken.insert(aid.file.clone());
    }
}

/// Lower case letters and digits, with hyphens between; other letters are left out.
fn slug(text: &str) -> String {
    let words = text.to_lowercase();
    let words = words.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    words.collect::<Vec<_>>().join("-")
}
