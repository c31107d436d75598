//! What is told of one policy, in sentences: the same on every face.
//!
//! In: an entry. Out: sentences. Must never leave out what needs somebody's action.

use super::{Entry, Lapse, Release, Review};
use crate::policy::Day;
use crate::release::Stage;
use crate::session::State;

impl Entry {
    /// `Side rooms, edition 3`
    pub fn name(&self) -> String {
        let title = self.title.as_deref().unwrap_or(&self.file);
        self.edition.map_or_else(|| title.to_owned(), |number| format!("{title}, edition {number}"))
    }

    /// What is told of it besides its name, state and review date, what needs action first.
    pub fn sentences(&self, today: Day) -> Vec<String> {
        let mut sentences = self.why.clone();
        sentences.extend(self.disagreements.iter().cloned());
        sentences.extend(self.release.as_ref().map(Release::sentence));
        if self.is_over() {
            return sentences;
        }
        let review = match &self.review {
            Some(review) => review.sentence(today, self.state),
            None => Some("No line says when it is to be reviewed.".to_owned()),
        };
        sentences.extend(review);
        sentences.extend(self.exceptions.iter().map(Lapse::sentence));
        let lacking = |translation: &super::Translation| {
            let file = translation.file.clone();
            translation.why.iter().map(move |why| format!("{file}: {why}")).collect::<Vec<_>>()
        };
        sentences.extend(self.translations.iter().flat_map(lacking));
        sentences.extend(self.findings.tally.sentences());
        sentences
    }
}

impl Release {
    /// `Released, in force since 1 October 2026; signed by 2 of 2.`
    fn sentence(&self) -> String {
        let (signed, needs) = (self.signed, self.needs);
        let stage = match self.stage {
            Stage::UnderReview => format!("under review since {}; {signed} of {needs} people have signed", self.since),
            stage => format!("{} since {}; signed by {signed} of {needs}", stage.words(), self.since),
        };
        let reviewed = self.reviewed_on.map(|day| format!("; reviewed on {day} and left as it is"));
        format!("In the log of releases it is {stage}{}.", reviewed.unwrap_or_default())
    }
}

impl Review {
    /// A draft says itself that the date has passed.
    fn sentence(&self, today: Day, state: State) -> Option<String> {
        match self.opens {
            _ if self.days_left < 0 && state == State::Draft => None,
            _ if self.days_left < 0 => Some(format!("The review date, {}, has passed.", self.by)),
            Some(opens) if opens <= today => Some(format!("Its review can begin: it is open since {opens}.")),
            Some(opens) => Some(format!("Its review opens on {opens}.")),
            None => None,
        }
    }

    /// `303 days left`, `12 days overdue`
    pub fn left(&self) -> String {
        match self.days_left {
            0 => "today".to_owned(),
            -1 => "1 day overdue".to_owned(),
            1 => "1 day left".to_owned(),
            over @ ..0 => format!("{} days overdue", over.unsigned_abs()),
            left => format!("{left} days left"),
        }
    }
}

impl Lapse {
    fn sentence(&self) -> String {
        let Lapse { finding, at, until, .. } = self;
        let when = match self.days_left {
            ..0 => format!("has lapsed: it ended on {until}"),
            0 => format!("ends today, on {until}"),
            1 => format!("lapses tomorrow: it ends on {until}"),
            left => format!("lapses in {left} days: it ends on {until}"),
        };
        format!("The exception for {finding} at “{at}” {when}.")
    }
}
