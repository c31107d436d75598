//! The wishes of a level: plain sentences that turn a rule of the house on.
//!
//! In: the words after `needs` or `forbids`. Out: what is asked, or a problem, so that nobody counts on a check that is not
//! made.

use super::Resolution;
use super::names::ITEM;
use crate::policy::{Asks, ItemId, Wish};
use crate::syntax::problem::ProblemKind;
use crate::syntax::tree::Name;

impl Resolution<'_> {
    pub(super) fn wish(&mut self, words: &Name, forbids: bool) -> Option<Wish> {
        let asks = match words.text.as_str() {
            "hands cleaned after every item" | "hand hygiene after every item" if !forbids => Asks::HandsAfterEveryItem,
            "spraying people" | "spraying" if forbids => Asks::NoSpraying,
            "cleaning gloved hands" | "hand rub on gloves" if forbids => Asks::BareHandsOnly,
            "taping" | "taping cuffs" | "tape on cuffs" => {
                if forbids {
                    Asks::NoTaping
                } else {
                    Asks::Taping
                }
            }
            _ => self.order_wish(words, forbids)?,
        };
        Some(Wish { words: words.text.clone(), forbids, asks, span: words.span })
    }

    /// `goggles off before gown`, `inner gloves off last`, `gown checked first`. To forbid an order of two is to ask for the other one.
    fn order_wish(&mut self, words: &Name, forbids: bool) -> Option<Asks> {
        for (between, asks) in [
            (" off before ", Asks::OffBefore as fn(ItemId, ItemId) -> Asks),
            (" on before ", Asks::OnBefore as fn(ItemId, ItemId) -> Asks),
        ] {
            if let Some((first, then)) = words.text.split_once(between) {
                let (first, then) = (self.wished_item(words, first), self.wished_item(words, then));
                let (first, then) = if forbids { (then?, first?) } else { (first?, then?) };
                return Some(asks(first, then));
            }
        }
        for (end, asks) in [
            (" off last", Asks::OffLast as fn(ItemId) -> Asks),
            (" on last", Asks::OnLast as fn(ItemId) -> Asks),
            (" checked first", Asks::CheckedFirst as fn(ItemId) -> Asks),
        ] {
            if let Some(item) = words.text.strip_suffix(end).filter(|_| !forbids) {
                return Some(asks(self.wished_item(words, item)?));
            }
        }
        let known: Vec<String> = if forbids { &Asks::FORBIDDEN[..] } else { &Asks::NEEDED[..] }
            .iter()
            .map(|&known| known.to_owned())
            .collect();
        let near = super::near(&words.text, known.iter().map(String::as_str)).map(|near| near.name.to_owned());
        let kind = ProblemKind::Word { written: words.text.clone(), what: "a rule of the house", known, near };
        self.problem(kind, words.span);
        None
    }

    fn wished_item(&mut self, words: &Name, item: &str) -> Option<ItemId> {
        let name = Name { text: item.trim().to_owned(), span: words.span };
        self.find(&name, ITEM).map(ItemId::new)
    }
}
