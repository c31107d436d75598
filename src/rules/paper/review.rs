//! The date has passed by which the policy was to be reviewed.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Review;

impl Rule for Review {
    fn name(&self) -> Name {
        Name { family: "paper", word: "review" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("review.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let (Some(today), Some(review)) = (brief.today, brief.policy.paper.review_by) else { return };
        if today <= review {
            return;
        }
        findings.push(plain(
            self,
            brief.policy.paper.place("review by"),
            Said {
                title: "The review date has passed".to_owned(),
                message: format!(
                    "Steps may rest on guidance that has changed since. The review was due by {review}. Aids print as drafts."
                ),
                way_out: "Review the policy, then write the new date.".to_owned(),
            },
        ));
    }
}
