//! The policy does not say what it is called, for which site it is, or which edition.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Missing;

impl Rule for Missing {
    fn name(&self) -> Name {
        Name { family: "paper", word: "missing" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("missing.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let paper = &brief.policy.paper;
        if !paper.is_policy {
            return;
        }
        let parts = [
            (paper.title.is_none() && !brief.wrote("policy"), "title", "policy \"…\""),
            (paper.site.is_none() && !brief.wrote("site"), "site", "site \"…\""),
            (paper.edition.is_none() && !brief.wrote("edition"), "edition", "edition 1"),
        ];
        let span = paper.place("policy");
        for (missing, what, line) in parts {
            if !missing {
                continue;
            }
            findings.push(plain(
                self,
                span,
                Said {
                    title: format!("The policy gives no {what}"),
                    message: format!(
                        "People cannot tell which sheet on the wall is the right one. Every printed face carries the {what}."
                    ),
                    way_out: format!("Write `{line}` near the top of the file."),
                },
            ));
        }
    }
}
