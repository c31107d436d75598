//! What is one line in the log: submitted, sent back, put in force, reviewed and left as it is, withdrawn.

use super::{Of, Place, Trust, refuse};
use crate::faces::archive::{self, Record};
use crate::faces::cli::{Ending, Screen, day};
use crate::policy::Day;
use crate::release::signature::NAMESPACE;
use crate::release::{Edition, Entry, Event, Signers};

/// Ask for the review and the signatures of a frozen edition
#[derive(clap::Args)]
pub struct Submit {
    #[command(flatten)]
    of: Of,
}

/// Send an edition under review back, with the reason; its signatures no longer count
#[derive(clap::Args)]
pub struct SendBack {
    #[command(flatten)]
    of: Of,
    /// The reason
    #[arg(long, value_name = "REASON")]
    because: String,
}

/// Put an approved edition in force; it takes the place of the one before it
#[derive(clap::Args)]
pub struct InForce {
    #[command(flatten)]
    of: Of,
    #[command(flatten)]
    trust: Trust,
}

/// Say that the edition in force was reviewed and is left as it is: only its review date moves
#[derive(clap::Args)]
pub struct Reviewed {
    #[command(flatten)]
    of: Of,
    /// Who reviewed it
    #[arg(long, value_name = "NAME")]
    by: String,
    /// By when it is to be reviewed next, as 2027-11-30
    #[arg(long, value_name = "DATE", value_parser = day)]
    review_by: Day,
    #[command(flatten)]
    trust: Trust,
}

/// Withdraw an edition, with the reason; nothing takes its place
#[derive(clap::Args)]
pub struct Withdraw {
    #[command(flatten)]
    of: Of,
    /// The reason
    #[arg(long, value_name = "REASON")]
    because: String,
}

impl Submit {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let taken = take(&self.of, "submitted", screen, |place| {
            place.is_whole(&Signers::default())?;
            Ok(vec![entry(&self.of, &place.name, Event::Submitted)])
        });
        let Some(place) = taken else { return Ending::CouldNotRun };
        let (folder, manifest) = match (place.folder(), archive::manifest(&place.folder())) {
            (folder, Ok((_, manifest))) => (folder, manifest),
            (_, Err(why)) => return refuse(&self.of, "submitted", &why, screen),
        };
        if !manifest.draft_because.is_empty() {
            let why = manifest.draft_because.join(" ");
            screen.say_line(&format!("{} is under review as a draft, and cannot be approved. {why}", manifest.policy));
            return Ending::Clear;
        }
        let people = if manifest.approval_needs == 1 {
            "1 person".to_owned()
        } else {
            format!("{} people", manifest.approval_needs)
        };
        screen.say_line(&format!("Under review. To be signed by {people}, each with their own key:"));
        screen.say_item(&format!("ssh-keygen -Y sign -n {NAMESPACE} -f KEY < {folder}/manifest.json > NAME.sig"));
        screen.say_line(&format!("Then, for each: anteroom release approve {folder} NAME.sig"));
        Ending::Clear
    }
}

impl SendBack {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let event = Event::SentBack { because: self.because.clone() };
        let taken = take(&self.of, "sent back", screen, |place| Ok(vec![entry(&self.of, &place.name, event)]));
        told(taken, screen, |edition| {
            format!("{} is a draft again. What is changed in it is frozen anew.", edition.name())
        })
    }
}

impl InForce {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let mut replaced = None;
        let taken = take(&self.of, "put in force", screen, |place| {
            let mut entries = Vec::new();
            if let Some(before) = place.record.history.in_force().filter(|before| before.folder != place.name) {
                replaced = Some(before.name());
                entries.push(entry(&self.of, &before.folder, Event::Superseded { by: place.name.clone() }));
            }
            entries.push(entry(&self.of, &place.name, Event::PutInForce));
            let mut tried = place.record.history.clone();
            entries.iter().try_for_each(|entry| tried.take(entry))?;
            may_hold(place, &self.trust, self.of.day())?;
            Ok(entries)
        });
        let ending = told(taken, screen, |edition| format!("{} is in force since {}.", edition.name(), edition.since));
        if let Some(before) = replaced.filter(|_| ending == Ending::Clear) {
            screen.say_line(&format!("It has superseded {before}: take down the copies of that."));
        }
        ending
    }
}

/// Whether the files are whole, the policy's own first day has come and its review date has not passed.
fn may_hold(place: &Place, trust: &Trust, today: Day) -> Result<(), String> {
    let signers = trust.read_for(place.edition()?, &place.releases())?;
    place.is_whole(&signers)?;
    let (_, manifest) = archive::manifest(&place.folder())?;
    match (manifest.in_force_from, manifest.review_by) {
        (Some(from), _) if from > today => Err(format!("its own line says that it holds from {from}")),
        (None, _) => Err("it has no line “in force from”, and its aids do not say from when they hold".to_owned()),
        (_, Some(by)) if by < today => Err(format!("its review date, {by}, has passed")),
        _ => Ok(()),
    }
}

impl Reviewed {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let event = Event::Reviewed { by: self.by.clone(), review_by: self.review_by };
        let taken = take(&self.of, "reviewed", screen, |place| {
            place.is_whole(&self.trust.read_for(place.edition()?, &place.releases())?)?;
            Ok(vec![entry(&self.of, &place.name, event)])
        });
        let releases = taken.as_ref().map(Place::releases);
        let ending = told(taken, screen, |edition| {
            format!("{} is reviewed and left as it is. Next review by {}.", edition.name(), self.review_by)
        });
        if let Some(releases) = releases {
            screen.say_line(&format!(
                "The policy's own line stays. To count with the new date: --releases {releases}, with status, check, print, issue \
                 and verify."
            ));
        }
        ending
    }
}

impl Withdraw {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let event = Event::Withdrawn { because: self.because.clone() };
        let taken = take(&self.of, "withdrawn", screen, |place| Ok(vec![entry(&self.of, &place.name, event)]));
        let ending = told(taken, screen, |edition| format!("{} is withdrawn since {}.", edition.name(), edition.since));
        if ending == Ending::Clear {
            screen.say_line(&format!(
                "So that its copies are known as withdrawn, write into the policy: withdrawn on {}",
                self.of.day()
            ));
        }
        ending
    }
}

fn entry(of: &Of, edition: &str, event: Event) -> Entry {
    Entry { day: of.day(), edition: edition.to_owned(), event }
}

/// Takes a step and writes it down; none where it is not taken, which has been told then.
fn take(
    of: &Of,
    done: &str,
    screen: &mut Screen,
    entries: impl FnOnce(&Place) -> Result<Vec<Entry>, String>,
) -> Option<Place> {
    let taken = || {
        let place = of.place()?;
        let entries = entries(&place)?;
        let record = Record::append(&place.record.folder, &entries)?;
        Ok(Place { record, name: place.name })
    };
    match taken() {
        Ok(place) => Some(place),
        Err(why) => {
            let why: String = why;
            refuse(of, done, &why, screen);
            None
        }
    }
}

fn told(place: Option<Place>, screen: &mut Screen, words: impl FnOnce(&Edition) -> String) -> Ending {
    let edition = place.as_ref().and_then(|place| place.edition().ok());
    let Some(edition) = edition else { return Ending::CouldNotRun };
    screen.say_line(&words(edition));
    Ending::Clear
}
