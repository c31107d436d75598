//! The rows that every aid of a procedure is made of: holds, signal panels, tags, conditions; and their bands.
//!
//! In: a procedure and the reader for whom it is told. Out: bands of rows. Must never choose what a kind of aid shows.

use super::pattern::capital;
use super::pictograms;
use super::plan::{Band, Confirm, HoldRow, Row, SignalPanel, SignalWord, StepRow};
use super::procedure::Procedure;
use super::sentence;
use super::voice::Voice;
use super::words::{Words, say};
use super::worn::Worn;
use crate::policy::{Act, Because, Ending, Hold, IfNot, Policy, Prompts, RoleId, Step};
use crate::walk::Walk;

/// Everything that the rows of one aid are told from.
pub struct Telling<'a> {
    pub policy: &'a Policy,
    pub words: &'a Words,
    pub procedure: &'a Procedure<'a>,
    pub worn: Worn<'a>,
    /// Who holds the card; none for what hangs on a wall.
    pub reader: Option<RoleId>,
}

impl<'a> Telling<'a> {
    pub fn new(
        policy: &'a Policy,
        walk: &'a Walk,
        words: &'a Words,
        procedure: &'a Procedure<'a>,
        reader: Option<RoleId>,
    ) -> Telling<'a> {
        Telling { policy, words, procedure, worn: Worn::new(policy, walk, procedure), reader }
    }

    /// Speaking to one person, or to all.
    pub fn voice(&self, you: Option<RoleId>) -> Voice<'a> {
        let (level, principal) = (self.procedure.level, self.procedure.principal);
        Voice { policy: self.policy, words: self.words, level, principal, you, form: "" }
    }

    /// The line under the title: of procedures that somebody watches and reads aloud, or of others.
    pub fn intro(&self, watched: &str, alone: &str) -> String {
        match self.procedure.role(self.policy, |role| role.watches) {
            Some(observer) => say(&self.words.intro, watched, &[("observer", &self.policy.role(observer).name)]),
            None => say(&self.words.intro, alone, &[]),
        }
    }

    /// The bands, with a row for each step that `row` tells and for each hold.
    pub fn bands(&self, row: impl Fn(usize, &Step) -> Option<StepRow>) -> Vec<Band> {
        let mut bands = vec![Band { title: String::new(), rows: Vec::new() }];
        for (at, step) in self.procedure.steps.iter().enumerate() {
            for part in self.procedure.parts.iter().filter(|part| part.first == at) {
                bands.push(Band { title: part.title.clone(), rows: Vec::new() });
            }
            let told = match &step.act {
                Act::Hold(hold) => Some(Row::Hold(self.hold(step, hold))),
                _ => row(at, step).map(Row::Step),
            };
            if let (Some(band), Some(told)) = (bands.last_mut(), told) {
                band.rows.push(told);
            }
        }
        bands.retain(|band| !band.rows.is_empty());
        bands
    }

    /// A step with its number, act, actor, condition and signals, and nothing else yet.
    pub fn step(&self, at: usize, step: &Step, you: Option<RoleId>) -> StepRow {
        let voice = self.voice(you);
        let gloved = self.worn.gloved(step.actor, at);
        let quiet_detail = match &step.act {
            Act::CleanHands(with) => sentence::quiet_detail(&voice, with),
            _ => String::new(),
        };
        StepRow {
            number: step.number.or_else(|| self.procedure.number_at(at)).unwrap_or_default(),
            quiet: matches!(step.act, Act::CleanHands(_)),
            brief: false,
            act: sentence::act(&voice, step, gloved),
            detail: String::new(),
            who: self.who(step.actor),
            when: sentence::when(&voice, &step.guard),
            pictogram: pictograms::of_step(self.policy, self.words, step),
            say: Vec::new(),
            look_for: step.prompts.look_for.clone(),
            stop_if: step.prompts.stop_if.clone(),
            signals: self.signals(&step.prompts),
            because: Vec::new(),
            still_on: None,
            quiet_detail,
        }
    }

    /// The details of a step as one text: what exactly, then the words that the policy has for it, then the rest.
    pub fn detail(&self, at: usize, step: &Step, you: Option<RoleId>, own: &[String]) -> String {
        let voice = self.voice(you);
        let own = own.iter().map(|text| text.trim().to_string());
        let rest = sentence::details(&voice, step, at, &self.worn);
        sentence::named(&voice, step).into_iter().chain(own).chain(rest).collect::<Vec<_>>().join(" ")
    }

    /// What is looked for, as part of a detail: bare where the step is itself a check.
    pub fn look_for_in_line(&self, step: &Step) -> Vec<String> {
        let told = |text: &String| match step.act {
            Act::Check(_) => text.clone(),
            _ => say(&self.words.details, "look_for", &[("text", text)]),
        };
        step.prompts.look_for.iter().map(told).collect()
    }

    /// Nothing for the one who dresses or undresses, `You` for the reader's own acts, otherwise the role.
    fn who(&self, actor: RoleId) -> String {
        if actor == self.procedure.principal {
            String::new()
        } else if self.reader == Some(actor) {
            say(&self.words.hold, "you", &[])
        } else {
            capital(&self.policy.role(actor).name)
        }
    }

    fn hold(&self, step: &Step, hold: &Hold) -> HoldRow {
        let confirm = |(role, what): &(RoleId, String)| {
            let key = if self.reader == Some(*role) { "you_confirm" } else { "confirms" };
            let who = say(&self.words.hold, key, &[("person", &self.policy.role(*role).name)]);
            Confirm { who, what: what.clone() }
        };
        HoldRow {
            title: hold.title.clone(),
            confirms: hold.confirms.iter().map(confirm).collect(),
            if_not: hold.if_not.as_ref().map(|if_not| self.if_not(if_not)).unwrap_or_default(),
            when: sentence::when(&self.voice(None), &step.guard),
            say: step.prompts.say.clone(),
            look_for: step.prompts.look_for.clone(),
            stop_if: step.prompts.stop_if.clone(),
            signals: self.signals(&step.prompts),
        }
    }

    /// `If not, go back to Arrive (step 1).`
    fn if_not(&self, if_not: &IfNot) -> String {
        match if_not {
            IfNot::GoBack { title, step } => {
                let number = self.procedure.number_at(*step).unwrap_or(1).to_string();
                let whole = title.eq_ignore_ascii_case(self.procedure.title);
                let key = if whole { "begin_again" } else { "go_back" };
                say(&self.words.hold, key, &[("title", title), ("number", &number)])
            }
            IfNot::Start { title, .. } => say(&self.words.hold, "start", &[("title", title)]),
            IfNot::Nowhere => String::new(),
        }
    }

    /// Gravest first.
    fn signals(&self, prompts: &Prompts) -> Vec<SignalPanel> {
        let panels = [
            (SignalWord::Danger, "danger", &prompts.danger),
            (SignalWord::Warning, "warning", &prompts.warning),
            (SignalWord::Caution, "caution", &prompts.caution),
        ];
        let told = panels.into_iter().flat_map(|(signal, key, texts)| {
            let word = say(&self.words.signals, key, &[]);
            texts.iter().map(move |text| SignalPanel { signal, word: word.clone(), text: text.clone() })
        });
        told.collect()
    }

    /// `The suit comes off while the face is still covered. (World Health Organization, 2016)`
    pub fn because(&self, because: &Because) -> String {
        let source = because.citation.map(|id| {
            let citation = self.policy.citation(id);
            let from = citation.from.as_ref().unwrap_or(&citation.title);
            let dated = citation.dated.clone().unwrap_or_default();
            say(&self.words.details, "source", &[("from", from), ("dated", &dated)])
        });
        let slots = [("reason", because.reason.as_str()), ("source", source.as_deref().unwrap_or_default())];
        say(&self.words.details, "reason", &slots)
    }

    /// How a drill ends.
    pub fn endings(&self) -> Vec<String> {
        let told = |ending: &Ending| match ending {
            Ending::CarryOn => Some(say(&self.words.details, "carry_on", &[])),
            Ending::Start(id) => {
                let title = &self.policy.sequence(*id).title;
                Some(say(&self.words.details, "start", &[("title", title)]))
            }
            Ending::Nowhere => None,
        };
        self.procedure.endings.iter().filter_map(told).collect()
    }
}
