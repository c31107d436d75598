//! The aids as data: every word that will be printed, in order, before any typesetting.
//!
//! In: a policy and its walk. Out: a [`PrintPlan`](plan::PrintPlan). Must never know how a page is set.

pub mod plan;
