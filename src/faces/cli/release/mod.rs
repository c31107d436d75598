//! `anteroom release …`: editions that are frozen, signed, put in force, withdrawn; one file for what needs more than a line
//! in the log.
//!
//! In: arguments. Out: folders of editions, lines in logs, and words about them. Must never touch a private key.

mod approve;
mod check;
mod freeze;
mod steps;

use camino::{Utf8Path, Utf8PathBuf};

use super::{Ending, Screen, day, today};
use crate::faces::archive::{self, Record};
use crate::policy::Day;
use crate::release::{Edition, Signers};

/// Freeze an edition, have it signed, and keep the log of what becomes of it
///
/// A signature shows that whoever holds the key signed these very bytes. It does not show that they were competent or had read
/// them. It is no qualified signature in law: what it counts for, the hospital's own rules say. Who can write to the list of
/// allowed signers decides who can sign. The log finds what was changed by mistake. Who can write to the folder can write a
/// whole log anew, so keep the hash of its last line elsewhere.
#[derive(clap::Args)]
pub struct Release {
    #[command(subcommand)]
    step: Step,
}

#[derive(clap::Subcommand)]
enum Step {
    Freeze(freeze::Freeze),
    Submit(steps::Submit),
    SendBack(steps::SendBack),
    Approve(approve::Approve),
    InForce(steps::InForce),
    Reviewed(steps::Reviewed),
    Withdraw(steps::Withdraw),
    Check(check::Check),
}

impl Release {
    pub fn run(self, screen: &mut Screen) -> Ending {
        match self.step {
            Step::Freeze(freeze) => freeze.run(screen),
            Step::Submit(submit) => submit.run(screen),
            Step::SendBack(send_back) => send_back.run(screen),
            Step::Approve(approve) => approve.run(screen),
            Step::InForce(in_force) => in_force.run(screen),
            Step::Reviewed(reviewed) => reviewed.run(screen),
            Step::Withdraw(withdraw) => withdraw.run(screen),
            Step::Check(check) => check.run(screen),
        }
    }
}

/// The edition that a step is taken with, and its day.
#[derive(clap::Args)]
struct Of {
    /// The folder of the edition, as freeze told it
    edition: Utf8PathBuf,
    /// The day on which it happens, as 2026-11-30; without it, today
    #[arg(long, value_name = "DATE", value_parser = day)]
    today: Option<Day>,
}

/// Where the people stand who may sign.
#[derive(clap::Args)]
struct Trust {
    /// The people who may sign, in the form that ssh calls ALLOWED SIGNERS; without it, allowed-signers in the folder of releases
    #[arg(long, value_name = "FILE")]
    signers: Option<Utf8PathBuf>,
}

impl Trust {
    /// `releases`: the folder of releases.
    fn read(&self, releases: &Utf8Path) -> Result<Signers, String> {
        let path = self.signers.clone().unwrap_or_else(|| releases.join(archive::SIGNERS));
        archive::signers(&path).map_err(|why| {
            format!("{path} cannot be used: {why}. A line of it names a person and their public key: ana@example.org ssh-ed25519 AAAA…")
        })
    }

    /// The same for an edition that nobody has signed: nobody is needed then.
    fn read_for(&self, edition: &Edition, releases: &Utf8Path) -> Result<Signers, String> {
        if edition.approvals.is_empty() { Ok(Signers::default()) } else { self.read(releases) }
    }
}

/// An edition with its log.
struct Place {
    record: Record,
    /// The name of its folder.
    name: String,
}

impl Of {
    fn day(&self) -> Day {
        self.today.unwrap_or_else(today)
    }

    fn place(&self) -> Result<Place, String> {
        let folder = self.edition.canonicalize_utf8().map_err(|_| "there is no such folder".to_owned())?;
        let (Some(name), Some(_)) = (folder.file_name(), folder.parent()) else {
            return Err("it is not the folder of an edition".to_owned());
        };
        // Named as the person named it, so that what is told can be read.
        let home =
            self.edition.parent().filter(|home| !home.as_str().is_empty() && self.edition.file_name() == Some(name));
        let home = home.map_or_else(|| self.edition.join(".."), Utf8Path::to_owned);
        let record = Record::read(&home).map_err(|fault| format!("{}: {}", fault.path, fault.why))?;
        if record.history.edition(name).is_none() {
            return Err("no log beside it tells of it".to_owned());
        }
        Ok(Place { record, name: name.to_owned() })
    }
}

impl Place {
    fn edition(&self) -> Result<&Edition, String> {
        self.record.history.edition(&self.name).ok_or_else(|| "no log beside it tells of it".to_owned())
    }

    fn folder(&self) -> Utf8PathBuf {
        self.record.folder.join(&self.name)
    }

    fn releases(&self) -> Utf8PathBuf {
        self.record
            .folder
            .parent()
            .filter(|parent| !parent.as_str().is_empty())
            .map_or_else(|| self.record.folder.join(".."), Utf8Path::to_owned)
    }

    /// `Err`: the first file that is not as it was frozen or signed.
    fn is_whole(&self, signers: &Signers) -> Result<(), String> {
        match self.record.faults_of(self.edition()?, signers).first() {
            None => Ok(()),
            Some(fault) => Err(format!("{}: {}", fault.path, fault.why)),
        }
    }
}

/// Tells why a step was not taken.
fn refuse(of: &Of, done: &str, why: &str, screen: &mut Screen) -> Ending {
    let stop = if why.ends_with(['.', '…', '?']) { "" } else { "." };
    screen.remark(&format!("{} is not {done}: {why}{stop}", of.edition));
    Ending::CouldNotRun
}
