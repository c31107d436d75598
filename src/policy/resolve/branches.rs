//! `if`, `otherwise` and `end if`: when the lines between them happen.
//!
//! In: the lines that open, turn and close a branch. Out: the guard of what stands between; a problem for each line that
//! opens or closes nothing.

use super::Resolution;
use super::sequences::{Beneath, Draft};
use crate::policy::Guard;
use crate::syntax::problem::ProblemKind;
use crate::syntax::tree::{Line, Statement};
use crate::text::Span;

pub(super) struct Branch {
    pub(super) opened: Span,
    pub(super) outer: Guard,
    pub(super) condition: Option<Guard>,
    pub(super) otherwise: bool,
    pub(super) now: Guard,
    /// Opened by a line that could not be read; whatever is wrong with it was told.
    pub(super) unread: bool,
}

impl Resolution<'_> {
    pub(super) fn branch(&mut self, draft: &mut Draft, line: &Line, says: &Statement) {
        draft.beneath = Beneath::Nothing;
        match says {
            Statement::If(condition) => {
                let outer = draft.guard();
                let condition = self.condition(condition);
                let inner = condition.as_ref().and_then(|inner| self.both(&outer, inner, line.span));
                let (condition, now) = (condition.filter(|_| inner.is_some()), inner.unwrap_or_else(|| outer.clone()));
                draft.branches.push(Branch {
                    opened: line.span,
                    outer,
                    condition,
                    otherwise: false,
                    now,
                    unread: false,
                });
            }
            Statement::Otherwise => match draft.branches.pop() {
                None => self.branch_fault(draft, "otherwise without if", line.span),
                Some(mut branch) => {
                    if branch.otherwise {
                        self.branch_fault(draft, "second otherwise", line.span);
                    } else {
                        let denied = branch.condition.as_ref().and_then(|guard| self.negated(guard, branch.opened));
                        let now = denied.and_then(|denied| self.both(&branch.outer, &denied, line.span));
                        branch.now = now.unwrap_or_else(|| branch.outer.clone());
                        branch.otherwise = true;
                    }
                    draft.branches.push(branch);
                }
            },
            _ => {
                if draft.branches.pop().is_none() {
                    self.branch_fault(draft, "end if without if", line.span);
                }
            }
        }
    }

    /// Which steps depend on what is in doubt from here on.
    fn branch_fault(&mut self, draft: &mut Draft, said: &'static str, span: Span) {
        self.problem(ProblemKind::Branch { said }, span);
        draft.gaps.push(span);
    }

    /// What is still open at the end was never closed.
    pub(super) fn close_branches(&mut self, draft: &mut Draft) {
        for branch in std::mem::take(&mut draft.branches) {
            if !branch.unread {
                self.branch_fault(draft, "if without end if", branch.opened);
            }
        }
    }
}
