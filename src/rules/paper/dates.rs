//! Dates and edition numbers that cannot all be right.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Dates;

impl Rule for Dates {
    fn name(&self) -> Name {
        Name { family: "paper", word: "dates" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("dates.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let paper = &brief.policy.paper;
        let mut tell = |property: &str, other: &str, title: &str, message: &str, way_out: &str| {
            let span = paper.place(property);
            let said = Said { title: title.to_owned(), message: message.to_owned(), way_out: way_out.to_owned() };
            let mut finding = plain(self, span, said);
            finding.related.push((paper.place(other), "The other line is here.".to_owned()));
            findings.push(finding);
        };
        if let (Some(from), Some(review)) = (paper.in_force, paper.review_by)
            && review <= from
        {
            tell(
                "review by",
                "in force from",
                "The review date lies before the policy holds",
                "The policy is out of date on its first day. Its aids then print as drafts.",
                "Check both dates, and put the later one after `review by`.",
            );
        }
        if let (Some(from), Some(approval)) = (paper.in_force, &paper.approval)
            && from < approval.on
        {
            tell(
                "in force from",
                "approved by",
                "The policy holds before it was approved",
                "Staff follow steps that nobody has answered for yet.",
                "Check both dates, and let the policy hold from the approval or later.",
            );
        }
        if let (Some(from), Some(withdrawn)) = (paper.in_force, paper.withdrawn)
            && withdrawn <= from
        {
            tell(
                "withdrawn on",
                "in force from",
                "The policy is withdrawn before it holds",
                "Its aids then never hold, and print as withdrawn.",
                "Check both dates, or take the line `withdrawn on` out.",
            );
        }
        if let (Some(edition), Some(replaces)) = (paper.edition, paper.replaces)
            && replaces >= edition
        {
            tell(
                "replaces",
                "edition",
                "The edition replaces one that is not older",
                "People who compare two sheets keep the wrong one.",
                "Give this edition the higher number.",
            );
        }
    }
}
