//! What a policy asks to be printed, once every pack is opened.
//!
//! In: the `print` statements. Out: single aids. An aid that a statement of its own asks for is not in a pack again.

use super::print::KINDS;
use super::{
    AidKind, Contingency, LevelId, PaperSize, PlaceId, PlaceKind, Policy, Print, RoleId, Sequence, SequenceId, Subject,
};

impl Policy {
    /// Every aid that is asked for, by statements of their own and by packs, in that order.
    pub fn aids_asked(&self) -> Vec<Print> {
        let is_pack = |print: &&Print| print.kind == AidKind::Pack;
        let mut asked: Vec<Print> = self.prints.iter().filter(|print| !is_pack(print)).cloned().collect();
        for pack in self.prints.iter().filter(is_pack) {
            for (kind, subject) in self.in_pack(pack.subject) {
                if !asked.iter().any(|print| print.kind == kind && print.subject == subject) {
                    asked.push(of_pack(pack, kind, subject));
                }
            }
        }
        asked
    }

    /// The aids of a pack, in the order of the table of kinds.
    fn in_pack(&self, of: Subject) -> Vec<(AidKind, Subject)> {
        let mut aids = match of {
            Subject::Level(level) => self.pack_of_level(level),
            Subject::Place(place) => self.pack_of_place(place),
            Subject::Role(role) => self.pack_of_role(role),
            Subject::Policy => (0..self.levels.len()).flat_map(|at| self.pack_of_level(LevelId::new(at))).collect(),
            Subject::Sequence(_) | Subject::Contingency(_) => Vec::new(),
        };
        let rank = |kind: AidKind| KINDS.iter().position(|row| row.kind == kind);
        aids.sort_by_key(|(kind, _)| rank(*kind));
        let mut once = Vec::with_capacity(aids.len());
        for aid in aids {
            if !once.contains(&aid) {
                once.push(aid);
            }
        }
        once
    }

    fn pack_of_level(&self, level: LevelId) -> Vec<(AidKind, Subject)> {
        let mut aids = self.of_whole_policy();
        aids.extend(
            [
                AidKind::DoorSign,
                AidKind::KitList,
                AidKind::TrolleyCheck,
                AidKind::EntryLog,
                AidKind::CompetenceRecord,
                AidKind::ObservationForm,
                AidKind::IncidentForm,
            ]
            .map(|kind| (kind, Subject::Level(level))),
        );
        for (id, sequence) in self.with_steps().filter(|(_, sequence)| sequence.level == level) {
            aids.push((AidKind::Poster, Subject::Sequence(id)));
            aids.extend(self.cards_of(id, sequence));
        }
        aids
    }

    /// What hangs or lies in a place: the aids of what happens there, and what is needed to go on from there.
    fn pack_of_place(&self, place: PlaceId) -> Vec<(AidKind, Subject)> {
        let mut aids = self.of_whole_policy();
        let kind = self.place(place).kind;
        if kind == PlaceKind::Clean || kind == PlaceKind::ForPuttingOn {
            aids.retain(|(kind, _)| *kind != AidKind::EventCard);
        } else {
            aids.retain(|(kind, _)| *kind != AidKind::ChoicePoster);
        }
        let here = |sequence: &Sequence| sequence.place == Some(place);
        for (id, sequence) in self.with_steps().filter(|(_, sequence)| here(sequence)) {
            aids.push((AidKind::Poster, Subject::Sequence(id)));
            aids.extend(self.cards_of(id, sequence));
            if kind == PlaceKind::ForPuttingOn {
                let of_level = [AidKind::DoorSign, AidKind::KitList, AidKind::TrolleyCheck, AidKind::EntryLog];
                aids.extend(of_level.map(|kind| (kind, Subject::Level(sequence.level))));
            }
        }
        aids
    }

    /// What a person in that role carries and is assessed by.
    fn pack_of_role(&self, role: RoleId) -> Vec<(AidKind, Subject)> {
        let mut aids: Vec<(AidKind, Subject)> =
            self.of_whole_policy().into_iter().filter(|(kind, _)| *kind == AidKind::EventCard).collect();
        for (id, sequence) in self.with_steps().filter(|(_, sequence)| sequence.has_part_for(role)) {
            aids.push((self.card_of(role), Subject::Sequence(id)));
            aids.push((AidKind::CompetenceRecord, Subject::Level(sequence.level)));
        }
        aids
    }

    /// The aids that belong to no level: the choice, the plan, and a card for each event.
    fn of_whole_policy(&self) -> Vec<(AidKind, Subject)> {
        let choice = self.choice.is_some().then_some((AidKind::ChoicePoster, Subject::Policy));
        let plan = (!self.places.is_empty()).then_some((AidKind::AreaPlan, Subject::Policy));
        let has_steps = |(_, drill): &(usize, &Contingency)| !drill.steps.is_empty();
        let events = self.contingencies.iter().enumerate().filter(has_steps);
        let events = events.map(|(at, _)| (AidKind::EventCard, Subject::Contingency(at)));
        choice.into_iter().chain(plan).chain(events).collect()
    }

    fn with_steps(&self) -> impl Iterator<Item = (SequenceId, &Sequence)> {
        let sequences = self.sequences.iter().enumerate().filter(|(_, sequence)| !sequence.steps.is_empty());
        sequences.map(|(at, sequence)| (SequenceId::new(at), sequence))
    }

    /// A card for each kind of role that has a part.
    fn cards_of(&self, id: SequenceId, sequence: &Sequence) -> Vec<(AidKind, Subject)> {
        let roles = (0..self.roles.len()).map(RoleId::new).filter(|&role| sequence.has_part_for(role));
        roles.map(|role| (self.card_of(role), Subject::Sequence(id))).collect()
    }

    fn card_of(&self, role: RoleId) -> AidKind {
        let role = self.role(role);
        match () {
            () if role.watches => AidKind::ObserverCard,
            () if !role.helps.is_empty() => AidKind::HelperCard,
            () => AidKind::WearerCard,
        }
    }
}

/// One aid as its pack asks for it. The paper of the pack is that of its posters; cards and forms keep their own.
fn of_pack(pack: &Print, kind: AidKind, subject: Subject) -> Print {
    let usual = kind.about().paper;
    let hangs = matches!(kind, AidKind::Poster | AidKind::DoorSign | AidKind::AreaPlan | AidKind::ChoicePoster);
    let is_card = usual == PaperSize::A6;
    Print {
        kind,
        subject,
        paper: if hangs { pack.paper } else { usual },
        read_from_mm: pack.read_from_mm.filter(|_| hangs),
        copies: pack.copies.clone(),
        laminated: pack.laminated && (hangs || is_card),
        both_sides: pack.both_sides && is_card,
        span: pack.span,
    }
}
