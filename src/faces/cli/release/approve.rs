//! `anteroom release approve EDITION SIGNATURE`: one person's signature on an edition.

use camino::Utf8PathBuf;

use super::{Of, Place, Trust, refuse};
use crate::faces::archive::{self, APPROVALS, Record};
use crate::faces::cli::{Ending, Screen};
use crate::faces::outbox::{self, Outbox};
use crate::faces::shelf::read_bytes;
use crate::policy::meaning::digest;
use crate::release::{Edition, Entry, Event, signature};

/// Take one person's signature on an edition under review
///
/// The person makes it with: ssh-keygen -Y sign -n anteroom-release -f KEY < EDITION/manifest.json > NAME.sig
#[derive(clap::Args)]
pub struct Approve {
    #[command(flatten)]
    of: Of,
    /// The file that ssh-keygen wrote
    signature: Utf8PathBuf,
    #[command(flatten)]
    trust: Trust,
}

impl Approve {
    pub fn run(self, screen: &mut Screen) -> Ending {
        match self.approve() {
            Ok((record, entry)) => {
                if let Some(edition) = record.history.edition(&entry.edition) {
                    tell(edition, &record.folder.join(&edition.folder), screen);
                }
                Ending::Clear
            }
            Err(why) => refuse(&self.of, "approved", &why, screen),
        }
    }

    fn approve(&self) -> Result<(Record, Entry), String> {
        let place = self.of.place()?;
        let signers = self.trust.read(&place.releases())?;
        place.is_whole(&signers)?;
        let (bytes, manifest) = archive::manifest(&place.folder())?;
        if !manifest.draft_because.is_empty() {
            return Err(format!("it is frozen as a draft. {}", manifest.draft_because.join(" ")));
        }
        let given = read_bytes(&self.signature, signature::LARGEST);
        let given = given.map_err(|why| format!("{} cannot be read: {why}", self.signature))?;
        let signed = signature::signed(&given, &bytes, &signers, self.of.day());
        let signed = signed.map_err(|why| format!("{} does not count: {why}", self.signature))?;
        let name = free_name(&place, signed.by.first().map_or("", String::as_str));
        let event = Event::Signed {
            by: signed.by,
            key: signed.key,
            sha256: digest(&given),
            signature: format!("{APPROVALS}/{name}.sig"),
        };
        let entry = Entry { day: self.of.day(), edition: place.name.clone(), event };
        // Tried before anything is written.
        place.record.history.clone().take(&entry)?;
        Outbox::open(&place.folder())?.folder_within(APPROVALS)?.put(&name, "sig", &given)?;
        let record = Record::append(&place.record.folder, std::slice::from_ref(&entry))?;
        Ok((record, entry))
    }
}

/// A name for the file that no other signature has.
fn free_name(place: &Place, person: &str) -> String {
    let stem = outbox::clean(person);
    let is_free = |name: &String| !place.folder().join(APPROVALS).join(format!("{name}.sig")).exists();
    let numbered = (2..10_000).map(|number| format!("{stem}-{number}"));
    std::iter::once(stem.clone()).chain(numbered).find(is_free).unwrap_or(stem)
}

fn tell(edition: &Edition, folder: &Utf8PathBuf, screen: &mut Screen) {
    let Some(last) = edition.approvals.last() else { return };
    screen.say_line(&format!("Signed by {}, key {}.", last.by.join(" or "), last.key));
    match edition.wanted() {
        0 => {
            screen.say_line(&format!("{} is approved.", edition.name()));
            screen.say_line(&format!("To put it in force: anteroom release in-force {folder}"));
        }
        1 => screen.say_line("One more person is to sign it."),
        more => screen.say_line(&format!("{more} more people are to sign it.")),
    }
}
