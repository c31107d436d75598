//! Where each edition of one policy stands by its log.
//!
//! In: the entries of a log, one after the other. Out: the editions and their stages. Must never take an entry that could not
//! have happened.

use serde::Serialize;

use super::log::{Entry, Event, Log};
use super::stage::{Stage, Step};
use crate::policy::{Day, Identity};

/// Editions of one policy, and people who are to sign one.
const MOST_EDITIONS: usize = 1_000;
const MOST_PEOPLE: u32 = 100;

#[derive(Clone, Debug, Default)]
pub struct History {
    /// In the order in which they were frozen.
    pub editions: Vec<Edition>,
    last: Option<Day>,
}

#[derive(Clone, Debug, Serialize)]
pub struct Edition {
    /// The name of its folder.
    pub folder: String,
    pub policy: String,
    pub site: Option<String>,
    pub number: Option<u32>,
    pub fingerprint: String,
    /// The SHA-256 of its manifest.
    pub manifest: String,
    /// How many people are to sign it.
    pub needs: u32,
    pub stage: Stage,
    pub since: Day,
    pub approvals: Vec<Approval>,
    /// Signatures that no longer count, since the edition was sent back.
    pub set_aside: Vec<Approval>,
    /// The last time that it was reviewed and left as it is.
    pub reviewed: Option<Reviewed>,
}

/// One person's signature.
#[derive(Clone, Debug, Serialize)]
pub struct Approval {
    /// The principals of that person by the allowed signers.
    pub by: Vec<String>,
    pub key: String,
    pub on: Day,
    /// The file in the edition's folder, and its SHA-256.
    pub signature: String,
    pub sha256: String,
}

#[derive(Clone, Debug, Serialize)]
pub struct Reviewed {
    pub on: Day,
    pub by: String,
    pub review_by: Day,
}

impl Approval {
    /// One key is one person, whatever it is called; and one name is one person, whatever the key.
    pub fn is_same_person(&self, by: &[String], key: &str) -> bool {
        self.key == key || self.by.iter().any(|ours| by.iter().any(|theirs| ours.eq_ignore_ascii_case(theirs)))
    }
}

impl Edition {
    pub fn name(&self) -> String {
        self.number.map_or_else(|| self.policy.clone(), |number| format!("{}, edition {number}", self.policy))
    }

    pub fn identity(&self) -> Option<Identity> {
        let paper = crate::policy::Paper {
            title: Some(self.policy.clone()),
            site: self.site.clone(),
            ..crate::policy::Paper::default()
        };
        paper.identity()
    }

    /// Signatures that are still wanted.
    pub fn wanted(&self) -> usize {
        (self.needs as usize).saturating_sub(self.approvals.len())
    }

    fn step(&mut self, step: Step, day: Day) -> Result<(), String> {
        let stage = self.stage.after(step).ok_or_else(|| refusal(self, step))?;
        if stage != self.stage {
            self.since = day;
        }
        self.stage = stage;
        Ok(())
    }
}

/// `it is a draft, and only an approved edition is put in force`
fn refusal(edition: &Edition, step: Step) -> String {
    let only = match step {
        Step::Submit => "only a draft is submitted for review",
        Step::SendBack => "only an edition under review is sent back",
        Step::Approve => "only an edition under review is approved",
        Step::PutInForce => "only an approved edition is put in force",
        Step::Supersede => "only the edition in force is superseded",
        Step::Withdraw => "nothing is left of it to withdraw",
        Step::Review => "only the edition in force is reviewed and left as it is",
    };
    format!("{} is {}, and {only}", edition.folder, edition.stage.words())
}

impl History {
    /// `Err`: the line of the log, from 1, and why it could not have happened, a clause.
    pub fn of(log: &Log) -> Result<History, (usize, String)> {
        let mut history = History::default();
        for (at, entry) in log.entries.iter().enumerate() {
            history.take(entry).map_err(|why| (at + 1, why))?;
        }
        Ok(history)
    }

    pub fn edition(&self, folder: &str) -> Option<&Edition> {
        self.editions.iter().find(|edition| edition.folder == folder)
    }

    pub fn in_force(&self) -> Option<&Edition> {
        self.editions.iter().find(|edition| edition.stage == Stage::InForce)
    }

    pub fn identity(&self) -> Option<Identity> {
        self.editions.first()?.identity()
    }

    /// `Err`: why it cannot happen, a clause; nothing has changed then.
    pub fn take(&mut self, entry: &Entry) -> Result<(), String> {
        if let Some(last) = self.last.filter(|&last| entry.day < last) {
            return Err(format!("{} lies before the day of the last line of its log, {last}", entry.day));
        }
        if let Event::Frozen { fingerprint, manifest, needs, number, policy, site } = &entry.event {
            let edition = Edition {
                folder: entry.edition.clone(),
                policy: policy.clone(),
                site: site.clone(),
                number: *number,
                fingerprint: fingerprint.clone(),
                manifest: manifest.clone(),
                needs: *needs,
                stage: Stage::Draft,
                since: entry.day,
                approvals: Vec::new(),
                set_aside: Vec::new(),
                reviewed: None,
            };
            self.freeze(edition)?;
        } else {
            self.happen(entry)?;
        }
        self.last = Some(entry.day);
        Ok(())
    }

    fn freeze(&mut self, edition: Edition) -> Result<(), String> {
        if !is_plain(&edition.folder) {
            return Err("the folder that it names is none of an edition".to_owned());
        }
        if self.editions.len() >= MOST_EDITIONS {
            return Err(format!("no more than {MOST_EDITIONS} editions are kept in one log"));
        }
        if !(1..=MOST_PEOPLE).contains(&edition.needs) {
            return Err(format!("{} people are to sign it, and 1 to {MOST_PEOPLE} can", edition.needs));
        }
        if self.edition(&edition.folder).is_some() {
            return Err(format!("{} is frozen already", edition.folder));
        }
        if self.identity().is_some_and(|identity| edition.identity() != Some(identity)) {
            return Err("this is the log of a policy of another title or site".to_owned());
        }
        self.editions.push(edition);
        Ok(())
    }

    fn happen(&mut self, entry: &Entry) -> Result<(), String> {
        self.may_happen(entry)?;
        let Some(edition) = self.editions.iter_mut().find(|edition| edition.folder == entry.edition) else {
            return Err(format!("its log holds no edition {}", entry.edition));
        };
        match &entry.event {
            Event::Frozen { .. } => Ok(()),
            Event::Submitted => edition.step(Step::Submit, entry.day),
            Event::SentBack { .. } => {
                edition.step(Step::SendBack, entry.day)?;
                edition.set_aside.append(&mut edition.approvals);
                Ok(())
            }
            Event::Signed { by, key, sha256, signature } => {
                let approval = Approval {
                    by: by.clone(),
                    key: key.clone(),
                    on: entry.day,
                    signature: signature.clone(),
                    sha256: sha256.clone(),
                };
                approve(edition, approval, entry.day)
            }
            Event::PutInForce => edition.step(Step::PutInForce, entry.day),
            Event::Superseded { .. } => edition.step(Step::Supersede, entry.day),
            Event::Withdrawn { .. } => edition.step(Step::Withdraw, entry.day),
            Event::Reviewed { by, review_by } => {
                edition.step(Step::Review, entry.day)?;
                edition.reviewed = Some(Reviewed { on: entry.day, by: by.clone(), review_by: *review_by });
                Ok(())
            }
        }
    }

    /// What hangs on the other editions.
    fn may_happen(&self, entry: &Entry) -> Result<(), String> {
        match &entry.event {
            Event::PutInForce => match self.in_force().filter(|other| other.folder != entry.edition) {
                Some(other) => Err(format!("{} is still in force", other.folder)),
                None => Ok(()),
            },
            Event::Superseded { by } => {
                let (old, new) = (self.edition(&entry.edition), self.edition(by));
                let numbers = (old.and_then(|old| old.number), new.and_then(|new| new.number));
                match (new, numbers) {
                    (Some(new), _) if new.stage != Stage::Approved => Err(refusal(new, Step::PutInForce)),
                    (Some(new), (Some(old), Some(number))) if number <= old => Err(format!(
                        "{} does not have a higher number than edition {old}, which is in force",
                        new.folder
                    )),
                    (Some(_), _) => Ok(()),
                    (None, _) => Err(format!("its log holds no edition {by}")),
                }
            }
            Event::Reviewed { review_by, .. } if *review_by <= entry.day => {
                Err("the new review date is to lie after the day of the review".to_owned())
            }
            _ => Ok(()),
        }
    }
}

/// A name of letters, digits and hyphens, which leads to nowhere else.
fn is_plain(name: &str) -> bool {
    !name.is_empty() && name.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'-')
}

fn approve(edition: &mut Edition, approval: Approval, day: Day) -> Result<(), String> {
    let name = approval.signature.strip_prefix("approvals/").and_then(|name| name.strip_suffix(".sig"));
    if !name.is_some_and(is_plain) {
        return Err("the file that it names is none of a signature".to_owned());
    }
    if edition.stage != Stage::UnderReview {
        return Err(refusal(edition, Step::Approve));
    }
    if let Some(known) = edition.approvals.iter().find(|known| known.is_same_person(&approval.by, &approval.key)) {
        return Err(format!("{} has signed already, and one person counts once", known.by.join(" or ")));
    }
    edition.approvals.push(approval);
    if edition.wanted() == 0 { edition.step(Step::Approve, day) } else { Ok(()) }
}
