//! The policy does not say from when it holds or by when it is reviewed.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Undated;

impl Rule for Undated {
    fn name(&self) -> Name {
        Name { family: "paper", word: "undated" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("undated.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let paper = &brief.policy.paper;
        if !paper.is_policy {
            return;
        }
        let span = paper.place("policy");
        if paper.in_force.is_none() && !brief.wrote("in force from") {
            findings.push(plain(
                self,
                span,
                Said {
                    title: "The policy does not say from when it holds".to_owned(),
                    message: "Two editions can hang side by side, and nobody can tell which one to follow.".to_owned(),
                    way_out: "Write `in force from` and the date.".to_owned(),
                },
            ));
        }
        if paper.review_by.is_none() && !brief.wrote("review by") {
            findings.push(plain(
                self,
                span,
                Said {
                    title: "The policy has no review date".to_owned(),
                    message: "Steps stay on the wall long after the guidance behind them has changed.".to_owned(),
                    way_out: "Write `review by` and the date.".to_owned(),
                },
            ));
        }
    }
}
