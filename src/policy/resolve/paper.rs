//! Document control: the policy's own lines.
//!
//! In: the lines of document control of all files. Out: the paper. Only the file that was asked for may carry them.

use super::Resolution;
use super::outline::{Block, folded, shown};
use crate::policy::{Approval, Paper};
use crate::syntax::problem::ProblemKind;
use crate::syntax::tree::{Line, Statement, Tree, What};

impl Resolution<'_> {
    pub(super) fn paper(&mut self, lines: &[(&Line, &Statement, bool)], trees: &[Tree], blocks: &[Block]) {
        let has_policy_line = lines.iter().any(|(_, says, main)| *main && matches!(says, Statement::Policy(_)));
        let main = trees.first().map(|tree| tree.source);
        let has_procedure =
            blocks.iter().any(|block| Some(block.opener.span.source) == main && is_of_policies(block.says));
        self.policy.paper.is_policy = has_policy_line || has_procedure || self.has_policy_hole(trees);
        self.note_unread_paper(trees);
        let mut told_second_policy = false;
        for &(line, says, main) in lines {
            match (main, says) {
                (true, says) if has_policy_line || has_procedure => self.paper_line(line, says),
                (false, Statement::Policy(_)) if !told_second_policy => {
                    told_second_policy = true;
                    let first = self.policy.paper.span("policy");
                    self.again(line.span, first);
                }
                (true, _) => {
                    let kind =
                        ProblemKind::Astray { line: shown(self.sources, line.span), belongs: "beneath a policy line" };
                    self.problem(kind, line.span);
                    return;
                }
                (false, _) => {}
            }
        }
    }

    /// Whether the `policy` line stands there and could not be read.
    fn has_policy_hole(&self, trees: &[Tree]) -> bool {
        trees.first().is_some_and(|tree| {
            tree.lines.iter().any(|line| {
                matches!(line.what, What::Hole) && self.sources.text(line.span).to_lowercase().starts_with("policy")
            })
        })
    }

    /// A line of document control that could not be read is there all the same; nobody is told that it is missing.
    fn note_unread_paper(&mut self, trees: &[Tree]) {
        const PROPERTIES: [&str; 11] = [
            "policy",
            "site",
            "edition",
            "owner",
            "approved by",
            "approval needs",
            "in force from",
            "review by",
            "withdrawn on",
            "replaces",
            "language",
        ];
        let Some(main) = trees.first() else { return };
        for line in main.lines.iter().filter(|line| matches!(line.what, What::Hole)) {
            let text = folded(self.sources.text(line.span));
            let first = |words: &str| words.split(' ').next().unwrap_or_default().to_owned();
            let begins =
                super::near(&first(&text), PROPERTIES.map(|property| property.split(' ').next().unwrap_or_default()));
            let meant = PROPERTIES.into_iter().find(|property| {
                let word = first(property);
                text.starts_with(&format!("{word} ")) || begins.is_some_and(|near| near.sure && near.name == word)
            });
            if let Some(property) = meant.filter(|property| !self.policy.paper.wrote(property)) {
                self.policy.paper.spans.push((property, line.span));
            }
        }
    }

    fn paper_line(&mut self, line: &Line, says: &Statement) {
        let property = property(says);
        let first = self.policy.paper.spans.iter().find(|(name, _)| *name == property).map(|&(_, span)| span);
        if first.is_some_and(|first| self.read.contains(&first)) {
            return self.again(line.span, first);
        }
        self.read.insert(line.span);
        self.policy.paper.spans.push((property, line.span));
        let in_force = if let Statement::InForce(date) = says { self.day(date) } else { None };
        let review_by = if let Statement::ReviewBy(date) = says { self.day(date) } else { None };
        let withdrawn = if let Statement::Withdrawn(date) = says { self.day(date) } else { None };
        let approved = if let Statement::Approved { on, .. } = says { self.day(on) } else { None };
        let language = if let Statement::Language(name) = says { Some(self.written(name.span)) } else { None };
        let paper: &mut Paper = &mut self.policy.paper;
        match says {
            Statement::Policy(title) => paper.title = Some(title.text.clone()),
            Statement::Site(site) => paper.site = Some(site.text.clone()),
            Statement::Edition(count) => paper.edition = Some(count.value),
            Statement::Owner(owner) => paper.owner = Some(owner.text.clone()),
            Statement::Approved { by, .. } => {
                paper.approval = approved.map(|on| Approval { by: by.text.clone(), on });
            }
            Statement::ApprovalNeeds(count) => paper.approval_needs = Some(count.value),
            Statement::InForce(_) => paper.in_force = in_force,
            Statement::ReviewBy(_) => paper.review_by = review_by,
            Statement::Withdrawn(_) => paper.withdrawn = withdrawn,
            Statement::Link(link) => paper.link = Some(link.text.clone()),
            Statement::Replaces(count) => paper.replaces = Some(count.value),
            Statement::Language(_) => paper.language = language,
            _ => {}
        }
    }
}

fn property(says: &Statement) -> &'static str {
    match says {
        Statement::Policy(_) => "policy",
        Statement::Site(_) => "site",
        Statement::Edition(_) => "edition",
        Statement::Owner(_) => "owner",
        Statement::Approved { .. } => "approved by",
        Statement::ApprovalNeeds(_) => "approval needs",
        Statement::InForce(_) => "in force from",
        Statement::ReviewBy(_) => "review by",
        Statement::Withdrawn(_) => "withdrawn on",
        Statement::Link(_) => "link",
        Statement::Replaces(_) => "replaces",
        _ => "language",
    }
}

/// What only a policy has, and no file of shared items.
fn is_of_policies(says: &Statement) -> bool {
    matches!(
        says,
        Statement::Sequence { .. }
            | Statement::Contingency { .. }
            | Statement::Level { .. }
            | Statement::ChoiceOfLevel
            | Statement::Print { .. }
    )
}
