//! `anteroom verify WORDS…`: whether a printed copy is still to be followed.

use camino::Utf8PathBuf;

use super::when::When;
use super::{Ending, Screen, policies};
use crate::faces::shelf;
use crate::findings::closing;
use crate::policy::Code;
use crate::release::disagreement::weigh;
use crate::session::{Answer, Kept, State, answer, copies, may_be_of};

/// Say whether a printed copy is of the edition in force
///
/// Give what a scanner read from the square code of the copy, or the eight digits of its fingerprint. Exit status: 0 in
/// force, 1 superseded, withdrawn, not yet in force, a draft or unknown, 2 could not tell.
#[derive(clap::Args)]
pub struct Verify {
    /// What the scanner read, or the eight digits, with or without spaces
    #[arg(required = true)]
    words: Vec<String>,
    /// The folder where the hospital keeps its policies, old editions too; folders within it are looked into
    #[arg(long = "in", value_name = "FOLDER", default_value = ".")]
    folder: Utf8PathBuf,
    /// One JSON object, for other programs; its schema: anteroom schema verify
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    when: When,
}

impl Verify {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let Some(code) = Code::read(&self.words.join(" ")) else {
            screen.remark("These words hold no fingerprint: give its eight digits, as they are printed at the foot.");
            return Ending::CouldNotRun;
        };
        let files = match shelf::policies_within(&self.folder) {
            Ok(files) if files.is_empty() => {
                screen.remark(&format!("{} holds no policy, a file whose name ends in .ppe.", self.folder));
                return Ending::CouldNotRun;
            }
            Ok(files) => files,
            Err(why) => {
                screen.remark(&format!("{} cannot be looked into: {why}.", self.folder));
                return Ending::CouldNotRun;
            }
        };
        let Some(basis) = self.when.basis(screen) else { return Ending::CouldNotRun };
        let known = policies::read(&files);
        let found = known.papers.iter().find(|known| known.fingerprint == code.fingerprint).map(|known| &known.paper);
        let of_same =
            |known: &&policies::Known| known.fingerprint == code.fingerprint || may_be_of(&code, found, &known.paper);
        let files: Vec<Utf8PathBuf> = known.papers.iter().filter(of_same).map(|known| known.file.clone()).collect();
        let checked = policies::check(&files, &basis);
        let kept: Vec<Kept> = checked.checked.iter().map(|(file, checked)| Kept { file, checked }).collect();
        let mut answer = answer(&code, &kept);
        if let Some(releases) = &basis.releases {
            weigh(&mut answer, releases.edition(&code.fingerprint));
        }
        let unread = [known.unread, checked.unread].concat();
        if self.json {
            screen.say(&copies::json::json(&answer, basis.today, &unread));
        } else {
            tell(&answer, screen);
        }
        screen.unread(&unread);
        match (answer.state, unread.as_slice()) {
            // What could not be read may be a later edition.
            (_, [_, ..]) => Ending::CouldNotRun,
            (State::InForce, []) => Ending::Clear,
            (_, []) => Ending::Grave,
        }
    }
}

fn tell(answer: &Answer, screen: &mut Screen) {
    let edition = answer.edition.map(|number| format!("edition {number}"));
    let of = [answer.title.clone(), edition, Some(format!("fingerprint {}", answer.fingerprint)), answer.file.clone()];
    screen.say_line(&format!("{}: {}", answer.state.word(), of.into_iter().flatten().collect::<Vec<_>>().join(", ")));
    answer.why.iter().for_each(|sentence| screen.say_line(sentence));
    if let Some(file) = answer.in_force_instead.as_ref().filter(|_| answer.state != State::Superseded) {
        screen.say_line(&format!("In force is {file}."));
    }
    screen.say_line(&answer.what_to_do);
    screen.say_line(closing::CAUTION);
}
