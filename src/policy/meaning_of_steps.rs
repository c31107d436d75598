//! The part of a policy's meaning that lies in its sequences and contingencies.
//!
//! In: a sequence or contingency of a policy. Out: one line of the canonical text. The order of steps means everything.

use super::meaning::{folded, line, list, maybe, set, yes};
use super::{
    Act, Contingency, Dest, Ending, Event, Fact, FactKind, Guard, Hold, IfNot, Part, Policy, Prompts, RoleId, Sequence,
    Step, Target, With,
};

pub(super) fn sequence(policy: &Policy, sequence: &Sequence) -> String {
    let Sequence { title, level, place, parts, steps, span: _, extent: _ } = sequence;
    let place = place.map(|id| folded(&policy.place(id).name));
    let parts = parts.iter().map(|Part { title, first, span: _ }| list([title.clone(), first.to_string()]));
    line(
        "sequence",
        [
            title.clone(),
            folded(&policy.level(*level).name),
            maybe(&place),
            list(parts),
            list(steps.iter().map(|step| self::step(policy, step))),
        ],
    )
}

pub(super) fn contingency(policy: &Policy, contingency: &Contingency) -> String {
    let Contingency { title, event, steps, endings, is_whole: _, span: _, extent: _ } = contingency;
    let Event { words, item: _, area: _, role: _, state: _ } = event;
    let endings = endings.iter().map(|ending| match ending {
        Ending::CarryOn => "carry on".to_owned(),
        Ending::Start(id) => list(["start".to_owned(), policy.sequence(*id).title.clone()]),
        Ending::Nowhere => "nowhere".to_owned(),
    });
    line(
        "contingency",
        [title.clone(), folded(words), list(steps.iter().map(|step| self::step(policy, step))), list(endings)],
    )
}

/// The words as written are left out: their layout and case mean nothing, and the act says the rest.
fn step(policy: &Policy, step: &Step) -> String {
    let Step { number: _, actor, act, guard, prompts, words: _, span: _ } = step;
    line(
        "step",
        [role(policy, *actor), self::act(policy, act), self::guard(policy, guard), self::prompts(policy, prompts)],
    )
}

fn role(policy: &Policy, id: RoleId) -> String {
    folded(&policy.role(id).name)
}

fn guard(policy: &Policy, guard: &Guard) -> String {
    set(guard.any.iter().map(|all| {
        set(all.iter().map(|literal| {
            let prefix = if literal.holds { "" } else { "not " };
            format!("{prefix}{}", fact(policy, policy.fact(literal.fact)))
        }))
    }))
}

fn fact(policy: &Policy, fact: &Fact) -> String {
    match &fact.kind {
        FactKind::Asked(id) => {
            let question = policy.choice.as_ref().and_then(|choice| choice.questions.get(id.index()));
            format!("asked {}", question.map(|question| folded(&question.name)).unwrap_or_default())
        }
        FactKind::Found { item: _, subject, state } => format!("found {} {}", folded(subject), folded(state)),
        FactKind::Supplied(id) => format!("supplied {}", folded(&policy.item(*id).name)),
    }
}

fn target(policy: &Policy, target: &Target) -> String {
    match target {
        Target::Item { item, wearer } => format!("{} of {}", folded(&policy.item(*item).name), role(policy, *wearer)),
        Target::Surface(id) => folded(&policy.surface(*id).name),
        Target::Container(id) => folded(&policy.container(*id).name),
        Target::Person(id) => role(policy, *id),
    }
}

fn dest(policy: &Policy, dest: &Dest) -> String {
    match dest {
        Dest::Container(id) => format!("into {}", folded(&policy.container(*id).name)),
        Dest::Surface(id) => format!("onto {}", folded(&policy.surface(*id).name)),
    }
}

fn with(policy: &Policy, with: &With) -> String {
    list([folded(&policy.cleaner(with.cleaner).name), maybe(&with.time)])
}

fn act(policy: &Policy, act: &Act) -> String {
    let item = |id: &super::ItemId| folded(&policy.item(*id).name);
    let to = |name: &str, what: &Target| line(name, [target(policy, what)]);
    let onto = |name: &str, id: &super::SurfaceId| line(name, [folded(&policy.surface(*id).name)]);
    match act {
        Act::PutOn { wearer, item: what, fresh, as_far_as } => {
            let reached = as_far_as.map(|area| area.word());
            line("puts on", [role(policy, *wearer), item(what), yes(*fresh), maybe(&reached)])
        }
        Act::PullUp { wearer, item: what } => line("pulls up", [role(policy, *wearer), item(what)]),
        Act::Change { wearer, item: what } => line("changes", [role(policy, *wearer), item(what)]),
        Act::TakeOff { wearer, item: what, grip, inside_out, together_with, into } => line(
            "takes off",
            [
                role(policy, *wearer),
                item(what),
                maybe(grip),
                yes(*inside_out),
                set(together_with.iter().map(item)),
                maybe(&into.map(|into| dest(policy, &into))),
            ],
        ),
        Act::CleanHands(how) => line("cleans hands", [with(policy, how)]),
        Act::Wipe { target: what, with: how } => line("wipes", [target(policy, what), with(policy, how)]),
        Act::Spray { target: what, with: how } => line("sprays", [target(policy, what), with(policy, how)]),
        Act::Check(what) => to("checks", what),
        Act::Go(id) => line("goes to", [folded(&policy.place(*id).name)]),
        Act::Put { what, into } => line("puts", [target(policy, what), dest(policy, into)]),
        Act::SwitchOn(what) => to("switches on", what),
        Act::SwitchOff(what) => to("switches off", what),
        Act::Connect { item, to } => line("connects", [target(policy, item), target(policy, to)]),
        Act::Disconnect { item, from } => {
            line("disconnects", [target(policy, item), maybe(&from.map(|from| target(policy, &from)))])
        }
        Act::Cut { part, item: what, tool } => {
            line("cuts", [maybe(part), target(policy, what), maybe(&tool.as_ref().map(item))])
        }
        Act::Break { part, item } => line("breaks", [maybe(part), target(policy, item)]),
        Act::Untie(what) => to("unties", what),
        Act::StepOnto(id) => onto("steps onto", id),
        Act::StepOff(id) => onto("steps off", id),
        Act::SitOn(id) => onto("sits on", id),
        Act::StandUp => "stands up".to_owned(),
        Act::Open(what) => to("opens", what),
        Act::Close(what) => to("closes", what),
        Act::Fold(id) => onto("folds", id),
        Act::Other(words) => line("does", [words.clone()]),
        Act::Hold(hold) => self::hold(policy, hold),
    }
}

fn hold(policy: &Policy, hold: &Hold) -> String {
    let Hold { title, confirms, if_not } = hold;
    let confirms = confirms.iter().map(|(who, what)| list([role(policy, *who), what.clone()]));
    let way_out = match if_not {
        None => "-".to_owned(),
        Some(IfNot::GoBack { title: _, step }) => format!("go back to {step}"),
        Some(IfNot::Start { title: _, sequence }) => {
            list(["start".to_owned(), policy.sequence(*sequence).title.clone()])
        }
        Some(IfNot::Nowhere) => "nowhere".to_owned(),
    };
    line("hold", [title.clone(), list(confirms), way_out])
}

fn prompts(policy: &Policy, prompts: &Prompts) -> String {
    let Prompts { say, look_for, stop_if, caution, warning, danger, because, takes, print_as } = prompts;
    let quoted = |lines: &[String]| list(lines.iter().cloned());
    let because = because.iter().map(|because| {
        let source = because.citation.map(|id| folded(&policy.citation(id).name));
        list([because.reason.clone(), maybe(&source)])
    });
    line(
        "prompts",
        [
            quoted(say),
            quoted(look_for),
            quoted(stop_if),
            quoted(caution),
            quoted(warning),
            quoted(danger),
            list(because),
            maybe(takes),
            maybe(print_as),
        ],
    )
}
