//! Steps, holds and headings as lines of fields.
//!
//! In: a sequence or contingency of a policy. Out: one [`Line`] for each step, hold and heading, in order. Must never leave
//! out a word that is printed or checked.

use super::field::Field;
use super::view::{Fields, Line, Word};
use crate::policy::{
    Act, Because, Dest, Fact, FactKind, Guard, Hold, IfNot, Part, Policy, Prompts, RoleId, Step, Target, With,
};

pub const HEADING: &str = "part";
pub const HOLD: &str = "hold";
pub const CLEANS_HANDS: &str = "cleans hands";
pub const WIPES: &str = "wipes";
pub const SPRAYS: &str = "sprays";
pub const CHECKS: &str = "checks";
pub const PUTS_ON: &str = "puts on";
pub const TAKES_OFF: &str = "takes off";
pub const GOES_TO: &str = "goes to";
pub const DOES: &str = "does";

pub fn of(policy: &Policy, parts: &[Part], steps: &[Step]) -> Vec<Line> {
    let teller = Teller { policy };
    let mut lines = Vec::with_capacity(steps.len() + parts.len());
    for at in 0..=steps.len() {
        lines.extend(parts.iter().filter(|part| part.first == at).map(heading));
        lines.extend(steps.get(at).map(|step| teller.line(step)));
    }
    lines
}

fn heading(part: &Part) -> Line {
    let mut fields = Fields::default();
    fields.set(Field::Act, vec![Word::text(HEADING)]);
    fields.set(Field::Object, vec![Word::text(part.title.clone())]);
    Line { fields, words: format!("part “{}”", part.title), number: None }
}

struct Teller<'a> {
    policy: &'a Policy,
}

impl Teller<'_> {
    fn line(&self, step: &Step) -> Line {
        let mut fields = Fields::default();
        let is_hold = matches!(step.act, Act::Hold(_));
        if !is_hold {
            fields.set(Field::Actor, vec![self.role(step.actor)]);
        }
        self.act(&step.act, &mut fields);
        self.prompts(&step.prompts, &mut fields);
        fields.set(Field::Condition, self.guard(&step.guard));
        Line { fields, words: step.words.split_whitespace().collect::<Vec<_>>().join(" "), number: step.number }
    }

    fn role(&self, id: RoleId) -> Word {
        Word::name(&self.policy.role(id).name)
    }

    fn item(&self, id: crate::policy::ItemId) -> Word {
        Word::name(&self.policy.item(id).name)
    }

    fn target(&self, target: &Target) -> Word {
        match *target {
            Target::Item { item, .. } => self.item(item),
            Target::Surface(id) => Word::name(&self.policy.surface(id).name),
            Target::Container(id) => Word::name(&self.policy.container(id).name),
            Target::Person(id) => self.role(id),
        }
    }

    fn act(&self, act: &Act, fields: &mut Fields) {
        let (verb, object, wearer) = self.core(act);
        fields.set(Field::Act, vec![Word::text(verb)]);
        fields.set(Field::Object, object.into_iter().collect());
        fields.set(Field::Wearer, wearer.map(|id| self.role(id)).into_iter().collect());
        match act {
            Act::PutOn { fresh, as_far_as, .. } => {
                fields.set(Field::Fresh, flag(*fresh));
                fields.set(Field::AsFarAs, as_far_as.iter().map(|area| Word::text(area.word())).collect());
            }
            Act::TakeOff { grip, inside_out, together_with, into, .. } => {
                fields.set(Field::Grip, texts(grip));
                fields.set(Field::InsideOut, flag(*inside_out));
                fields.set(Field::TogetherWith, together_with.iter().map(|&id| self.item(id)).collect());
                fields.set(Field::Into, into.iter().map(|into| self.dest(into)).collect());
            }
            Act::CleanHands(with) | Act::Wipe { with, .. } | Act::Spray { with, .. } => self.with(with, fields),
            Act::Put { into, .. } => fields.set(Field::Into, vec![self.dest(into)]),
            Act::Connect { to, .. } => fields.set(Field::Second, vec![self.target(to)]),
            Act::Disconnect { from, .. } => {
                fields.set(Field::Second, from.iter().map(|from| self.target(from)).collect());
            }
            Act::Cut { part, tool, .. } => {
                fields.set(Field::Grip, texts(part));
                fields.set(Field::Tool, tool.iter().map(|&id| self.item(id)).collect());
            }
            Act::Break { part, .. } => fields.set(Field::Grip, texts(part)),
            Act::Hold(hold) => self.hold(hold, fields),
            _ => {}
        }
    }

    /// What is done, to what, and to whom that belongs.
    fn core(&self, act: &Act) -> (&'static str, Option<Word>, Option<RoleId>) {
        let to = |verb, target: &Target| {
            let wearer = if let Target::Item { wearer, .. } = target { Some(*wearer) } else { None };
            (verb, Some(self.target(target)), wearer)
        };
        let onto = |verb, id| (verb, Some(Word::name(&self.policy.surface(id).name)), None);
        match act {
            Act::PutOn { wearer, item, .. } => (PUTS_ON, Some(self.item(*item)), Some(*wearer)),
            Act::PullUp { wearer, item } => ("pulls up", Some(self.item(*item)), Some(*wearer)),
            Act::Change { wearer, item } => ("changes", Some(self.item(*item)), Some(*wearer)),
            Act::TakeOff { wearer, item, .. } => (TAKES_OFF, Some(self.item(*item)), Some(*wearer)),
            Act::CleanHands(_) => (CLEANS_HANDS, None, None),
            Act::Wipe { target, .. } => to(WIPES, target),
            Act::Spray { target, .. } => to(SPRAYS, target),
            Act::Check(what) => to(CHECKS, what),
            Act::Go(id) => (GOES_TO, Some(Word::name(&self.policy.place(*id).name)), None),
            Act::Put { what, .. } => to("puts", what),
            Act::SwitchOn(what) => to("switches on", what),
            Act::SwitchOff(what) => to("switches off", what),
            Act::Connect { item, .. } => to("connects", item),
            Act::Disconnect { item, .. } => to("disconnects", item),
            Act::Cut { item, .. } => to("cuts", item),
            Act::Break { item, .. } => to("breaks", item),
            Act::Untie(what) => to("unties", what),
            Act::StepOnto(id) => onto("steps onto", *id),
            Act::StepOff(id) => onto("steps off", *id),
            Act::SitOn(id) => onto("sits on", *id),
            Act::StandUp => ("stands up", None, None),
            Act::Open(what) => to("opens", what),
            Act::Close(what) => to("closes", what),
            Act::Fold(id) => onto("folds", *id),
            Act::Other(words) => (DOES, Some(Word::text(words.clone())), None),
            Act::Hold(hold) => (HOLD, Some(Word::text(hold.title.clone())), None),
        }
    }

    fn dest(&self, dest: &Dest) -> Word {
        let (key, name) = match *dest {
            Dest::Container(id) => ("into", &self.policy.container(id).name),
            Dest::Surface(id) => ("onto", &self.policy.surface(id).name),
        };
        let name = Word::name(name);
        Word { key: format!("{key} {}", name.key), shown: format!("{key} {}", name.shown) }
    }

    fn with(&self, with: &With, fields: &mut Fields) {
        fields.set(Field::Cleaner, vec![Word::name(&self.policy.cleaner(with.cleaner).name)]);
        fields.set(Field::CleanedFor, texts(&with.time));
    }

    fn hold(&self, hold: &Hold, fields: &mut Fields) {
        let confirms = hold.confirms.iter().map(|(who, what)| {
            let who = self.role(*who);
            Word { key: format!("{}: {what}", who.key), shown: format!("{}: {what}", who.shown) }
        });
        fields.set(Field::Confirms, confirms.collect());
        let if_not = hold.if_not.as_ref().map(|if_not| match if_not {
            IfNot::GoBack { title, step: _ } => format!("go back to “{title}”"),
            IfNot::Start { title: _, sequence } => format!("start “{}”", self.policy.sequence(*sequence).title),
            IfNot::Nowhere => "a title that nothing bears".to_owned(),
        });
        fields.set(Field::IfNot, texts(&if_not));
    }

    fn guard(&self, guard: &Guard) -> Vec<Word> {
        if guard.is_always() {
            return Vec::new();
        }
        if guard.any.is_empty() {
            return vec![Word::text("never")];
        }
        let all = guard.any.iter().map(|all| {
            let mut claims: Vec<Word> =
                all.iter().map(|literal| self.fact(self.policy.fact(literal.fact), literal.holds)).collect();
            claims.sort_by(|a, b| a.key.cmp(&b.key));
            let join = |words: Vec<&str>| words.join(" and ");
            Word {
                key: join(claims.iter().map(|claim| claim.key.as_str()).collect()),
                shown: join(claims.iter().map(|claim| claim.shown.as_str()).collect()),
            }
        });
        all.collect()
    }

    fn fact(&self, fact: &Fact, holds: bool) -> Word {
        let key = match &fact.kind {
            FactKind::Asked(id) => {
                let question = self.policy.choice.as_ref().and_then(|choice| choice.questions.get(id.index()));
                format!("asked {}", question.map_or(String::new(), |question| Word::name(&question.name).key))
            }
            FactKind::Found { subject, state, .. } => {
                format!("found {} {}", Word::name(subject).key, Word::name(state).key)
            }
            FactKind::Supplied(id) => format!("supplied {}", self.item(*id).key),
        };
        let shown = crate::walk::telling::fact_words(fact, holds);
        Word { key: if holds { key } else { format!("not {key}") }, shown }
    }

    fn prompts(&self, prompts: &Prompts, fields: &mut Fields) {
        let Prompts { say, look_for, stop_if, caution, warning, danger, because, takes, print_as } = prompts;
        let lists = [
            (Field::Say, say),
            (Field::LookFor, look_for),
            (Field::StopIf, stop_if),
            (Field::Caution, caution),
            (Field::Warning, warning),
            (Field::Danger, danger),
        ];
        for (field, texts) in lists {
            fields.set(field, texts.iter().cloned().map(Word::text).collect());
        }
        fields.set(Field::Because, because.iter().map(|each| self::because(self.policy, each)).collect());
        fields.set(Field::Takes, texts(takes));
        fields.set(Field::PrintAs, texts(print_as));
    }
}

/// The reason, with its source.
pub(super) fn because(policy: &Policy, because: &Because) -> Word {
    match because.citation.map(|id| Word::name(&policy.citation(id).name)) {
        Some(source) => Word {
            key: format!("{} | {}", because.reason, source.key),
            shown: format!("{} ({})", because.reason, source.shown),
        },
        None => Word::text(because.reason.clone()),
    }
}

pub(super) fn flag(flag: bool) -> Vec<Word> {
    if flag { vec![Word::text("yes")] } else { Vec::new() }
}

pub(super) fn texts(value: &Option<impl ToString>) -> Vec<Word> {
    value.iter().map(|value| Word::text(value.to_string())).collect()
}
