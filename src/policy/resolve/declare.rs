//! Sources, hazards, places, ways, roles, surfaces, cleaners and containers.
//!
//! In: their blocks. Out: the policy's tables, in the order of the identifiers.

use super::Resolution;
use super::names::{CLEANER, CONTAINER, PLACE, ROLE};
use super::outline::{Block, Entry};
use crate::policy::{
    Citation, Cleaner, CleanerId, Container, ContainerId, Hazard, Place, PlaceId, Purpose, Role, RoleId, Route,
    Surface, Way,
};
use crate::syntax::problem::ProblemKind;
use crate::syntax::tree::{Line, Name, PlaceKind, Quote, Statement};
use crate::text::Span;

pub(super) const ROUTES: [&str; 5] = ["contact", "splash", "droplet", "airborne", "sharps"];

/// The readable lines of a block.
pub(super) fn said<'b, 'a>(block: &'b Block<'a>) -> impl Iterator<Item = (&'a Line, &'a Statement)> + 'b {
    block.entries.iter().filter_map(|entry| match entry {
        Entry::Says(line, says) => Some((*line, *says)),
        Entry::Hole(..) => None,
    })
}

impl Resolution<'_> {
    /// Sets what may be said once, and tells of a second time.
    pub(super) fn once<T>(&mut self, slot: &mut Option<T>, seen: &mut Option<Span>, value: Option<T>, span: Span) {
        if seen.is_some() {
            self.again(span, *seen);
        } else {
            *seen = Some(span);
            *slot = value;
        }
    }

    pub(super) fn source(&mut self, block: &Block, name: &Name, title: &Quote, first: bool) {
        let mut citation = Citation {
            name: self.written(name.span),
            title: title.text.clone(),
            from: None,
            dated: None,
            page: None,
            link: None,
            span: block.opener.span,
        };
        let (mut from, mut dated, mut page, mut link) = (None, None, None, None);
        for (line, says) in said(block) {
            match says {
                Statement::From(quote) => self.once(&mut citation.from, &mut from, Some(quote.text.clone()), line.span),
                Statement::Dated(name) => {
                    let text = self.written(name.span);
                    self.once(&mut citation.dated, &mut dated, Some(text), line.span);
                }
                Statement::Page(name) => {
                    let text = self.written(name.span);
                    self.once(&mut citation.page, &mut page, Some(text), line.span);
                }
                Statement::Link(quote) => self.once(&mut citation.link, &mut link, Some(quote.text.clone()), line.span),
                _ => {}
            }
        }
        if first {
            self.policy.citations.push(citation);
        }
    }

    pub(super) fn hazard(&mut self, block: &Block, name: &Name, first: bool) {
        let mut spreads_by = Vec::new();
        for (_, says) in said(block) {
            let Statement::SpreadsBy(routes) = says else { continue };
            for route in routes {
                spreads_by.extend(self.word(route, "a way of spreading", &ROUTES, Route::from_word));
            }
        }
        spreads_by.sort();
        spreads_by.dedup();
        if first {
            self.policy.hazards.push(Hazard { name: self.written(name.span), spreads_by, span: block.opener.span });
        }
    }

    pub(super) fn place(&mut self, name: &Name, kind: PlaceKind, first: bool) {
        if first {
            self.policy.places.push(Place { name: self.written(name.span), kind, span: name.span });
        }
    }

    pub(super) fn place_id(&mut self, name: &Name) -> Option<PlaceId> {
        self.find(name, PLACE).map(PlaceId::new)
    }

    /// A place that is not known breaks the way in two.
    pub(super) fn way(&mut self, block: &Block, places: &[Name]) {
        let found: Vec<Option<PlaceId>> = places.iter().map(|name| self.place_id(name)).collect();
        for stretch in found.split(Option::is_none) {
            if stretch.len() > 1 {
                self.policy
                    .ways
                    .push(Way { places: stretch.iter().flatten().copied().collect(), span: block.opener.span });
            }
        }
    }

    pub(super) fn role(&mut self, block: &Block, name: &Name, first: bool) {
        let mut role = Role {
            name: self.written(name.span),
            helps: Vec::new(),
            watches: false,
            leads: false,
            span: block.opener.span,
        };
        for (line, says) in said(block) {
            match says {
                Statement::Helps(helped) => match self.find(helped, ROLE).map(RoleId::new) {
                    Some(id) if role.helps.contains(&id) => self.again(line.span, None),
                    Some(id) => role.helps.push(id),
                    None => {}
                },
                Statement::Watches if role.watches => self.again(line.span, None),
                Statement::Watches => role.watches = true,
                Statement::Leads if role.leads => self.again(line.span, None),
                Statement::Leads => role.leads = true,
                _ => {}
            }
        }
        if first {
            self.policy.roles.push(role);
        }
    }

    pub(super) fn container_id(&mut self, name: &Name) -> Option<ContainerId> {
        self.find(name, CONTAINER).map(ContainerId::new)
    }

    pub(super) fn surface(&mut self, block: &Block, name: &Name, first: bool) {
        let mut surface = Surface {
            name: self.written(name.span),
            place: None,
            laid: false,
            starts_contaminated: false,
            starts_clean: false,
            goes_to: None,
            span: block.opener.span,
        };
        let (mut placed, mut starts, mut goes) = (None, None, None);
        for (line, says) in said(block) {
            match says {
                Statement::StandsIn(place) | Statement::LaidIn(place) => {
                    let found = self.place_id(place);
                    surface.laid = matches!(says, Statement::LaidIn(_)) && placed.is_none() || surface.laid;
                    self.once(&mut surface.place, &mut placed, found, line.span);
                }
                Statement::StartsClean | Statement::StartsContaminated => {
                    let mut contaminated = Some(surface.starts_contaminated);
                    self.once(&mut contaminated, &mut starts, Some(*says == Statement::StartsContaminated), line.span);
                    surface.starts_contaminated = contaminated.unwrap_or_default();
                    surface.starts_clean = !surface.starts_contaminated;
                }
                Statement::GoesTo(container) => {
                    let found = self.container_id(container);
                    self.once(&mut surface.goes_to, &mut goes, found, line.span);
                }
                _ => {}
            }
        }
        if first {
            self.policy.surfaces.push(surface);
        }
    }

    pub(super) fn cleaner_id(&mut self, name: &Name) -> Option<CleanerId> {
        self.find(name, CLEANER).map(CleanerId::new)
    }

    pub(super) fn cleaner(&mut self, block: &Block, name: &Name, printed: Option<&Quote>, first: bool) {
        let written = self.written(name.span);
        let mut cleaner = Cleaner {
            printed: printed.map_or_else(|| written.clone(), |quote| quote.text.clone()),
            name: written,
            for_hands: false,
            for_surfaces: false,
            strength_ppm: None,
            substance: None,
            wet_for: None,
            not_on_visible_soil: false,
            worth: None,
            span: block.opener.span,
        };
        let (mut strong, mut wet, mut worth, mut strength) = (None, None, None, None);
        for (line, says) in said(block) {
            match says {
                Statement::ForHands => cleaner.for_hands = true,
                Statement::ForSurfaces => cleaner.for_surfaces = true,
                Statement::ContainerFor(words) => {
                    let read = |word: &str| Some(word == "hands").filter(|_| word == "hands" || word == "surfaces");
                    match self.word(words, "what a cleaner is for", &["hands", "surfaces"], read) {
                        Some(true) => cleaner.for_hands = true,
                        Some(false) => cleaner.for_surfaces = true,
                        None => {}
                    }
                }
                Statement::NotOnVisibleSoil => cleaner.not_on_visible_soil = true,
                Statement::Strength(amount) => {
                    let found = self.strength(amount);
                    self.once(&mut strength, &mut strong, found, line.span);
                }
                Statement::WetFor(amount) => {
                    let found = self.seconds(amount);
                    self.once(&mut cleaner.wet_for, &mut wet, found, line.span);
                }
                Statement::Worth(count) => self.once(&mut cleaner.worth, &mut worth, Some(count.value), line.span),
                _ => {}
            }
        }
        (cleaner.strength_ppm, cleaner.substance) = match strength {
            Some((ppm, substance)) => (Some(ppm), substance),
            None => (None, None),
        };
        if first {
            self.policy.cleaners.push(cleaner);
        }
    }

    pub(super) fn container(&mut self, block: &Block, name: &Name, printed: Option<&Quote>, first: bool) {
        let written = self.written(name.span);
        let mut container = Container {
            printed: printed.map_or_else(|| written.clone(), |quote| quote.text.clone()),
            name: written,
            purpose: None,
            purpose_words: String::new(),
            place: None,
            millilitres: None,
            span: block.opener.span,
        };
        let (mut meant, mut placed, mut holds) = (None, None, None);
        for (line, says) in said(block) {
            match says {
                Statement::ContainerFor(words) => {
                    let purpose = self.purpose(words);
                    if meant.is_none() {
                        container.purpose_words = self.written(words.span);
                    }
                    self.once(&mut container.purpose, &mut meant, Some(purpose), line.span);
                }
                Statement::StandsIn(place) => {
                    let found = self.place_id(place);
                    self.once(&mut container.place, &mut placed, found, line.span);
                }
                Statement::Holds(amount) => {
                    let found = self.millilitres(amount);
                    self.once(&mut container.millilitres, &mut holds, found, line.span);
                }
                _ => {}
            }
        }
        if first {
            self.policy.containers.push(container);
        }
    }
}

impl Resolution<'_> {
    /// What a container is for. A slip of the keyboard in the word that decides is told and put right.
    fn purpose(&mut self, words: &Name) -> Purpose {
        let found = purpose(&words.text);
        if found != Purpose::Waste || words.text.contains("waste") {
            return found;
        }
        let slip =
            words.text.split(' ').find_map(|word| super::near(word, ["sharps", "reuse"]).filter(|near| near.sure));
        let Some(meant) = slip else { return found };
        let kind = ProblemKind::Word {
            written: words.text.clone(),
            what: "what a container is for",
            known: ["clinical waste", "sharps", "reuse"].map(str::to_owned).to_vec(),
            near: Some(meant.name.to_owned()),
        };
        self.problem(kind, words.span);
        purpose(meant.name)
    }
}

/// What a container is for, from the words after `for`: sharps and reuse by their own words, anything else is waste.
fn purpose(words: &str) -> Purpose {
    let has = |wanted: &[&str]| words.split(|c: char| !c.is_alphanumeric()).any(|word| wanted.contains(&word));
    if has(&["sharps", "sharp", "needles"]) {
        Purpose::Sharps
    } else if has(&["reuse", "reusable", "reused", "reprocessing", "decontamination", "laundry"]) {
        Purpose::Reuse
    } else {
        Purpose::Waste
    }
}

#[cfg(test)]
mod tests {
    use super::{Purpose, purpose};

    #[test]
    fn a_container_is_for_what_its_words_say() {
        assert_eq!(purpose("sharps"), Purpose::Sharps);
        assert_eq!(purpose("reuse"), Purpose::Reuse);
        assert_eq!(purpose("soft clinical waste"), Purpose::Waste);
        assert_eq!(purpose("infectious waste"), Purpose::Waste);
    }
}
