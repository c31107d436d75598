//! A word that is not in the fixed list it must come from.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, either, short, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Word;

impl Rule for Word {
    fn name(&self) -> Name {
        Name { family: "reading", word: "word" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("word.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Word { written, what, known, near } = &problem.kind else { continue };
            let quoted: Vec<String> = known.iter().take(MOST).map(|word| format!("“{word}”")).collect();
            let quoted: Vec<&str> = quoted.iter().map(String::as_str).collect();
            let fits = match (quoted.is_empty(), known.len() > MOST) {
                (true, _) => String::new(),
                (false, true) => format!(" Some that are: {} and others.", quoted.join(", ")),
                (false, false) => format!(" What fits is {}.", either(&quoted)),
            };
            let way_out = match near {
                Some(near) => format!("Write “{near}”, if that is what is meant."),
                None => "Choose one of the words that fit.".to_owned(),
            };
            let said = Said {
                title: format!("“{}” is not {what}", short(written)),
                message: format!("What is not understood is not checked.{fits}"),
                way_out,
            };
            findings.push(unread(self, problem, said));
        }
    }
}

/// So many words of the list are named.
const MOST: usize = 12;
