//! `anteroom issue FILE…`: numbered copies for the print room, its papers, and the register of where each copy is.

use std::collections::BTreeSet;

use camino::Utf8PathBuf;

use super::in_turn::{self, InTurn};
use super::when::When;
use super::{Ending, Screen, print};
use crate::aids::{self, plan::Aid, plan::PrintPlan};
use crate::faces::ledger;
use crate::faces::outbox::Outbox;
use crate::findings::PolicyReport;
use crate::policy::meaning::digest;
use crate::policy::{Day, PaperSize};
use crate::press::imposition::Flip;
use crate::press::papers::{self, Made};
use crate::press::register::Line;
use crate::press::{self, Job, Piece};

/// Issue numbered copies: sheets for the print room, its papers, and lines in the print register
///
/// Each policy has a folder of its own edition, with its aids, the sheets, a job ticket, a proof check, a delivery sheet and,
/// where copies of an older edition are still out, a recall sheet. A draft is proved only.
#[derive(clap::Args)]
pub struct Issue {
    /// Policy files
    #[arg(required = true, value_name = "FILE")]
    files: Vec<Utf8PathBuf>,
    /// Where the folders of the jobs go
    #[arg(long, value_name = "FOLDER", default_value = "out")]
    out: Utf8PathBuf,
    /// The paper from which smaller aids are cut
    #[arg(long, value_enum, ignore_case = true, default_value_t = Sheet::A4)]
    sheet: Sheet,
    /// The edge about which the printer turns a sheet to print its back
    #[arg(long, value_enum, default_value_t = Edge::Long)]
    flip: Edge,
    /// The register that the hospital keeps; without it, print-register.csv in the folder of --out
    #[arg(long, value_name = "FILE.csv")]
    register: Option<Utf8PathBuf>,
    /// Fingerprints of editions to recall beside the older ones of the same policy
    #[arg(long, value_name = "FINGERPRINT", num_args = 1..)]
    superseding: Vec<String>,
    #[command(flatten)]
    when: When,
}

#[derive(Clone, Copy, clap::ValueEnum)]
enum Sheet {
    #[value(name = "A4")]
    A4,
    #[value(name = "A3")]
    A3,
}

#[derive(Clone, Copy, clap::ValueEnum)]
enum Edge {
    Long,
    Short,
}

impl Issue {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let register = self.register.clone().unwrap_or_else(|| ledger::usual(&self.out));
        if let Err(why) = ledger::read(&register) {
            screen.remark(&format!("Nothing is issued: {register} cannot be read as a print register: {why}."));
            return Ending::CouldNotRun;
        }
        let Some(basis) = self.when.basis(screen) else { return Ending::CouldNotRun };
        let today = basis.today;
        let turn = InTurn { files: &self.files, out: &self.out, basis: &basis, done: "issued" };
        let folder = |outbox: &Outbox, policy: &PolicyReport, name: &str| {
            outbox.folder_within(&format!("{name}-{}", policy.checked.fingerprint))
        };
        turn.run(screen, folder, |policy, folder, screen| {
            Desk { asked: &self, register: &register, today, folder }.issue(policy, screen)
        })
    }

    fn paper(&self) -> PaperSize {
        match self.sheet {
            Sheet::A4 => PaperSize::A4,
            Sheet::A3 => PaperSize::A3,
        }
    }

    fn edge(&self) -> Flip {
        match self.flip {
            Edge::Long => Flip::Long,
            Edge::Short => Flip::Short,
        }
    }
}

/// Where one policy is issued.
struct Desk<'a> {
    asked: &'a Issue,
    register: &'a Utf8PathBuf,
    today: Day,
    folder: Outbox,
}

impl Desk<'_> {
    /// Whether everything was made and told.
    fn issue(&self, policy: &PolicyReport, screen: &mut Screen) -> bool {
        let checked = policy.checked;
        let plan = aids::plan(checked);
        if plan.aids.is_empty() || !checked.reading.policy.paper.is_policy {
            return print::print(policy, &plan, plan.marking(), &self.folder, screen).is_whole;
        }
        let mut is_whole = match self.folder.folder_within("aids") {
            Ok(aids) => print::print(policy, &plan, plan.marking(), &aids, screen).is_whole,
            Err(why) => {
                screen.remark(&format!("The aids of {} are not written: {why}.", policy.file));
                false
            }
        };
        let job = press::job(checked, plan, self.asked.paper(), self.asked.edge());
        if job.is_draft {
            screen.say_line("A draft is proved only: no copy is numbered, and none enters the register.");
        }
        job.left_out.iter().for_each(|sentence| screen.remark(sentence));
        is_whole &= job.left_out.is_empty();
        let made = self.sheets(&job, screen);
        is_whole &= made.len() == job.pieces.len();
        is_whole &= self.papers(&job, &made, screen);
        is_whole & self.enter(&job, &made, screen)
    }

    /// Sets and writes the sheets of each piece, each of which can fail alone.
    fn sheets(&self, job: &Job, screen: &mut Screen) -> Vec<Made> {
        let folder = match self.folder.folder_within("sheets") {
            Ok(folder) => folder,
            Err(why) => {
                screen.remark(&format!("No sheets are written: {why}."));
                return Vec::new();
            }
        };
        let (mut made, mut written) = (Vec::new(), BTreeSet::new());
        for (at, piece) in job.pieces.iter().enumerate() {
            let file = &piece.aid.file;
            let put = |(pdf, pages): (Vec<u8>, usize)| {
                let path = folder.put(file, "pdf", &pdf);
                path.map(|path| (path, digest(&pdf), pages)).map_err(|why| format!("{file}.pdf is not written: {why}."))
            };
            match sheets(piece).and_then(put) {
                Ok((path, sha256, pages)) => {
                    screen.say_line(&format!("{path}: {}", told(job, piece, pages)));
                    let name = print::file_name(path).unwrap_or_default();
                    made.push(Made { piece: at, file: format!("sheets/{name}"), pages, sha256 });
                    written.insert(name);
                }
                Err(why) => screen.remark(&format!("No sheets: {why}")),
            }
        }
        in_turn::tell_others(&folder, &["pdf"], &written, screen);
        made
    }

    /// Writes the papers; tells of the copies to be recalled.
    fn papers(&self, job: &Job, made: &[Made], screen: &mut Screen) -> bool {
        let recalled = self.recalled(job, screen);
        let wanted = [papers::delivery(job, made), papers::recall(job, &recalled)].into_iter().flatten();
        let issued = (!job.is_draft).then_some(self.today);
        let aids: Vec<Aid> =
            [papers::ticket(job, made, issued), papers::proof(job, made)].into_iter().chain(wanted).collect();
        let plan = PrintPlan { aids, not_made: Vec::new() };
        let (mut is_whole, mut written) = (true, BTreeSet::new());
        let put = |aid: &Aid, set: print::Printed| {
            let path = self.folder.put(&aid.file, "pdf", &set.pdf);
            path.map_err(|why| format!("{}.pdf is not written: {why}.", aid.file))
        };
        for (aid, put) in plan.aids.iter().zip(print::set(&plan, screen, &put)) {
            match put {
                Ok(path) => {
                    screen.say_line(&format!("{path}: {}", aid.kind));
                    written.extend(print::file_name(path));
                }
                Err(why) => {
                    screen.remark(&why);
                    is_whole = false;
                }
            }
        }
        in_turn::tell_others(&self.folder, &["pdf"], &written, screen);
        is_whole
    }

    /// What is to come back for this edition.
    fn recalled(&self, job: &Job, screen: &mut Screen) -> Vec<Line> {
        if job.is_draft {
            return Vec::new();
        }
        let Ok(register) = ledger::read(self.register) else { return Vec::new() };
        for print in self.asked.superseding.iter().filter(|print| !register.holds(print)) {
            screen.remark(&format!("{} holds no copy of {print}.", self.register));
        }
        if register.has_later(&job.edition()) {
            screen.remark(&format!("{} holds copies of a later edition that are still out.", self.register));
        }
        let recalled = register.recalled(&job.edition(), &self.asked.superseding);
        match recalled.len() {
            0 => {}
            1 => screen.say_line("One copy of an older edition is still out: take it down and destroy it."),
            many => screen
                .say_line(&format!("{many} copies of older editions are still out: take them down and destroy them.")),
        }
        recalled
    }

    /// A line in the register for each copy that was made.
    fn enter(&self, job: &Job, made: &[Made], screen: &mut Screen) -> bool {
        let pieces = made.iter().filter_map(|made| job.pieces.get(made.piece));
        let lines: Vec<Line> = pieces.flat_map(|piece| job.lines(piece, self.today)).collect();
        if lines.is_empty() {
            return true;
        }
        let all = lines.len();
        match ledger::add(self.register, lines) {
            Ok(0) => screen.say_line(&format!("{} holds these {all} copies already.", self.register)),
            Ok(1) => screen.say_line(&format!("{} holds 1 copy more.", self.register)),
            Ok(added) => screen.say_line(&format!("{} holds {added} copies more.", self.register)),
            Err(why) => {
                screen.remark(&format!(
                    "The copies are not in {}: {why}. Issue them again before they leave.",
                    self.register
                ));
                return false;
            }
        }
        true
    }
}

/// `Observer card, Taking off, 4 copies, 2 on a sheet, 10 pages`
fn told(job: &Job, piece: &Piece, pages: usize) -> String {
    let many = |count: usize, one: &str, many: &str| format!("{count} {}", if count == 1 { one } else { many });
    let copies = if job.is_draft { "a proof".to_string() } else { many(piece.copies.len(), "copy", "copies") };
    let up = if piece.grid.is_cut() {
        format!("{} on a sheet of {}", piece.grid.count(), job.sheet.word())
    } else {
        "uncut".into()
    };
    format!("{}, {copies}, {up}, {}", papers::name(&piece.aid), many(pages, "page", "pages"))
}

/// The sheets of a piece and their pages, or why there are none.
#[cfg(feature = "typeset")]
fn sheets(piece: &Piece) -> Result<(Vec<u8>, usize), String> {
    let aids = piece.copies.iter().map(|copy| piece.numbered(copy)).collect();
    let set = crate::typeset::typeset_all(&PrintPlan { aids, not_made: Vec::new() }, print::threads(), &|_, set| set);
    let copies: Result<Vec<_>, _> = set.into_iter().collect();
    let sheets = copies.and_then(|copies| crate::typeset::typeset_sheets(piece, &copies));
    sheets.map(|sheets| (sheets.pdf, sheets.pages)).map_err(|fault| fault.to_string())
}

#[cfg(not(feature = "typeset"))]
fn sheets(piece: &Piece) -> Result<(Vec<u8>, usize), String> {
    Err(format!("{}.pdf is not made: the typesetter was not built in.", piece.aid.file))
}
