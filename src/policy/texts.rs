//! Every text of a policy that an aid can print, with what it is.
//!
//! In: a policy. Out: each text in the policy's order, to be read or replaced. Must never pass by a text that is printed;
//! sources, standards, sizes and names of hospitals are printed as they stand in every language.

use super::{Act, IfNot, Item, Policy, Prompts, Role, Step};

/// What a text is, by the word that stands before it in a word file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum TextKind {
    Title,
    Team,
    Role,
    Level,
    Hazard,
    Place,
    Item,
    Grip,
    Surface,
    Container,
    Purpose,
    Cleaner,
    Substance,
    Fact,
    Question,
    Event,
    Does,
    PrintAs,
    Say,
    LookFor,
    StopIf,
    Caution,
    Warning,
    Danger,
    Because,
    Confirms,
    CopiesFor,
}

impl TextKind {
    #[rustfmt::skip]
    pub const ALL: [(TextKind, &'static str); 27] = [
        (TextKind::Title, "title"), (TextKind::Team, "team"), (TextKind::Role, "role"), (TextKind::Level, "level"),
        (TextKind::Hazard, "hazard"), (TextKind::Place, "place"), (TextKind::Item, "item"), (TextKind::Grip, "grip"),
        (TextKind::Surface, "surface"), (TextKind::Container, "container"), (TextKind::Purpose, "purpose"),
        (TextKind::Cleaner, "cleaner"), (TextKind::Substance, "substance"), (TextKind::Fact, "fact"),
        (TextKind::Question, "question"), (TextKind::Event, "event"), (TextKind::Does, "does"),
        (TextKind::PrintAs, "print as"), (TextKind::Say, "say"), (TextKind::LookFor, "look for"),
        (TextKind::StopIf, "stop if"), (TextKind::Caution, "caution"), (TextKind::Warning, "warning"),
        (TextKind::Danger, "danger"), (TextKind::Because, "because"), (TextKind::Confirms, "confirms"),
        (TextKind::CopiesFor, "copies for"),
    ];

    pub fn word(self) -> &'static str {
        TextKind::ALL[self as usize].1
    }

    /// Nouns stand within the sentences of the aids, and may need the forms of their language.
    pub fn is_noun(self) -> bool {
        self >= TextKind::Role && self <= TextKind::Substance
    }
}

impl Item {
    /// Whether the name only tells apart within the policy who wears it: `helper gown`. Aids print its printed name.
    pub fn is_named_after_a_role(&self, roles: &[Role]) -> bool {
        roles.iter().any(|role| self.name.strip_prefix(&role.name).is_some_and(|rest| rest.starts_with(' ')))
    }
}

type Each<'e> = dyn FnMut(TextKind, &mut String) + 'e;

/// Hands each text to `each`, which may replace it.
pub fn each(policy: &mut Policy, each: &mut Each) {
    let paper = &mut policy.paper;
    paper.title.iter_mut().for_each(|text| each(TextKind::Title, text));
    paper.owner.iter_mut().for_each(|text| each(TextKind::Team, text));
    paper.approval.iter_mut().for_each(|approval| each(TextKind::Team, &mut approval.by));
    let roles = policy.roles.clone();
    for item in &mut policy.items {
        let hidden = item.is_named_after_a_role(&roles);
        each(TextKind::Item, &mut item.printed);
        if hidden {
            item.name.clone_from(&item.printed);
        } else {
            each(TextKind::Item, &mut item.name);
        }
    }
    policy.roles.iter_mut().for_each(|role| each(TextKind::Role, &mut role.name));
    policy.levels.iter_mut().for_each(|level| each(TextKind::Level, &mut level.name));
    policy.hazards.iter_mut().for_each(|hazard| each(TextKind::Hazard, &mut hazard.name));
    policy.places.iter_mut().for_each(|place| each(TextKind::Place, &mut place.name));
    policy.surfaces.iter_mut().for_each(|surface| each(TextKind::Surface, &mut surface.name));
    for container in &mut policy.containers {
        each(TextKind::Container, &mut container.printed);
        each(TextKind::Purpose, &mut container.purpose_words);
    }
    for cleaner in &mut policy.cleaners {
        each(TextKind::Cleaner, &mut cleaner.printed);
        cleaner.substance.iter_mut().for_each(|text| each(TextKind::Substance, text));
    }
    policy.facts.iter_mut().for_each(|fact| each(TextKind::Fact, &mut fact.words));
    for question in policy.choice.iter_mut().flat_map(|choice| &mut choice.questions) {
        each(TextKind::Question, &mut question.words);
    }
    for sequence in &mut policy.sequences {
        each(TextKind::Title, &mut sequence.title);
        sequence.parts.iter_mut().for_each(|part| each(TextKind::Title, &mut part.title));
        sequence.steps.iter_mut().for_each(|step| of_step(step, each));
    }
    for drill in &mut policy.contingencies {
        each(TextKind::Title, &mut drill.title);
        each(TextKind::Event, &mut drill.event.words);
        drill.steps.iter_mut().for_each(|step| of_step(step, each));
    }
    for place in policy.prints.iter_mut().flat_map(|print| &mut print.copies).filter_map(|(_, place)| place.as_mut()) {
        each(TextKind::CopiesFor, place);
    }
}

fn of_step(step: &mut Step, each: &mut Each) {
    match &mut step.act {
        Act::TakeOff { grip: Some(part), .. } => each(TextKind::Grip, part),
        Act::Cut { part: Some(part), .. } | Act::Break { part: Some(part), .. } => each(TextKind::Grip, part),
        Act::Other(text) => each(TextKind::Does, text),
        Act::Hold(hold) => {
            each(TextKind::Title, &mut hold.title);
            hold.confirms.iter_mut().for_each(|(_, what)| each(TextKind::Confirms, what));
            if let Some(IfNot::GoBack { title, .. } | IfNot::Start { title, .. }) = &mut hold.if_not {
                each(TextKind::Title, title);
            }
        }
        _ => {}
    }
    of_prompts(&mut step.prompts, each);
}

fn of_prompts(prompts: &mut Prompts, each: &mut Each) {
    let Prompts { say, look_for, stop_if, caution, warning, danger, because, takes: _, print_as } = prompts;
    print_as.iter_mut().for_each(|text| each(TextKind::PrintAs, text));
    let lists = [
        (TextKind::Say, say),
        (TextKind::LookFor, look_for),
        (TextKind::StopIf, stop_if),
        (TextKind::Caution, caution),
        (TextKind::Warning, warning),
        (TextKind::Danger, danger),
    ];
    for (kind, texts) in lists {
        texts.iter_mut().for_each(|text| each(kind, text));
    }
    because.iter_mut().for_each(|because| each(TextKind::Because, &mut because.reason));
}
