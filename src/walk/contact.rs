//! What each act touches: the contact table, in one place.
//!
//! A contact is two surfaces and a weight: 1 for a touch, 2 for a brush. Within a step the contacts happen in the order of
//! the table, so that a hand which takes a contaminated grip and then rolls the garment carries the hazard to its inside.
//! Common practice, no source, but for the rows that name one.

use super::body::{Body, Piece};
use super::parts::is_garment;
use super::surfaces::{Surface, Surfaces};
use crate::policy::{Area, Policy, RoleId};

pub const TOUCH: u16 = 1;
pub const BRUSH: u16 = 2;

pub type Contact = (Surface, Surface, u16);

/// Somebody with what they wear.
#[derive(Clone, Copy)]
pub struct Person<'a> {
    pub who: RoleId,
    pub body: &'a Body,
}

impl Person<'_> {
    /// The outermost layer on the hands, or the skin.
    pub fn hand(self) -> Surface {
        self.outermost(Area::Hands)
    }

    pub fn outermost(self, area: Area) -> Surface {
        match self.body.top(area) {
            Some(piece) => Surface::Front { who: self.who, piece },
            None => Surface::Skin { who: self.who, area },
        }
    }

    /// What is sat on: the back of the outermost layer.
    fn behind(self, area: Area) -> Surface {
        match self.body.top(area) {
            Some(piece) => Surface::Back { who: self.who, piece },
            None => Surface::Skin { who: self.who, area },
        }
    }

    fn beneath(self, piece: Piece, area: Area) -> Surface {
        match self.body.beneath(piece, area) {
            Some(piece) => Surface::Front { who: self.who, piece },
            None => Surface::Skin { who: self.who, area },
        }
    }
}

/// A piece goes on: before it is on. `new_areas`: where it comes to lie now.
pub fn putting_on(policy: &Policy, hand: Surface, wearer: Person, piece: Piece, new_areas: &[Area]) -> Vec<Contact> {
    let who = wearer.who;
    let (front, inside) = (Surface::Front { who, piece }, Surface::Inside { who, piece });
    let mut contacts = vec![(hand, front, TOUCH), (hand, inside, TOUCH)];
    for &area in new_areas {
        contacts.push((inside, wearer.outermost(area), TOUCH));
    }
    if new_areas.contains(&Area::Arms) && !new_areas.contains(&Area::Hands) {
        contacts.extend(sleeve_over_hand(wearer, piece));
    }
    for &lower in &wearer.body.worn {
        if policy.item(piece.item).goes_over.contains(&lower.item) {
            contacts.push((inside, Surface::Front { who, piece: lower }, BRUSH));
        }
    }
    contacts
}

/// A sleeve is drawn over the hand: its inside touches the hand, its outside brushes it.
fn sleeve_over_hand(wearer: Person, piece: Piece) -> [Contact; 2] {
    let who = wearer.who;
    [(Surface::Inside { who, piece }, wearer.hand(), TOUCH), (Surface::Front { who, piece }, wearer.hand(), BRUSH)]
}

/// How a piece comes off.
#[derive(Clone, Copy)]
pub struct Removal<'a> {
    pub piece: Piece,
    /// The part taken hold of, as written.
    pub grip: Option<&'a str>,
    pub inside_out: bool,
}

/// A piece comes off: while it is still on.
pub fn taking_off(policy: &Policy, surfaces: &Surfaces, hand: Surface, wearer: Person, how: Removal) -> Vec<Contact> {
    let (who, piece) = (wearer.who, how.piece);
    let item = policy.item(piece.item);
    let (front, inside) = (Surface::Front { who, piece }, Surface::Inside { who, piece });
    let areas = wearer.body.areas_of(piece);
    let mut contacts = Vec::new();
    let peels_itself = hand == front;
    if !peels_itself {
        contacts.push((hand, surfaces.grip(who, piece, how.grip), TOUCH));
    }
    if how.inside_out && is_garment(item) {
        contacts.push((hand, inside, TOUCH));
    }
    for &area in &areas {
        contacts.push((inside, wearer.beneath(piece, area), TOUCH));
    }
    // A peeled glove: its outside may brush what lies beneath. MS2 was found on 7 of 10 pairs of inner gloves after the
    // outer gloves came off (Casanova 2018, CID 66:945).
    if areas.contains(&Area::Hands) {
        contacts.push((front, wearer.beneath(piece, Area::Hands), BRUSH));
    }
    if areas.contains(&Area::Arms) && !areas.contains(&Area::Hands) {
        contacts.extend(sleeve_over_hand(wearer, piece));
    }
    // The hand that lifts something off the head brushes what that bares; so does a garment that is not rolled.
    for &area in &areas {
        let bared = wearer.beneath(piece, area);
        if area.is_head() {
            contacts.push((hand, bared, BRUSH));
        } else if is_garment(item) && !how.inside_out && area != Area::Hands {
            contacts.push((front, bared, BRUSH));
        }
    }
    contacts
}

/// What meets besides when a removal slips: the hand takes the worst outside part instead of the grip, a peeled glove's
/// outside meets the hand beneath. A slip is one step's; common practice, no source, on what slips look like.
pub fn slipping(hand: Surface, wearer: Person, piece: Piece) -> Vec<Contact> {
    let who = wearer.who;
    let front = Surface::Front { who, piece };
    let mut contacts = Vec::new();
    if hand != front {
        contacts.push((hand, front, TOUCH));
        contacts.push((hand, Surface::Back { who, piece }, TOUCH));
    }
    if wearer.body.areas_of(piece).contains(&Area::Hands) {
        contacts.push((front, wearer.beneath(piece, Area::Hands), TOUCH));
    }
    contacts
}

/// Comes off inside another garment, as gloves within the sleeves: no hand takes hold of it.
pub fn coming_with(wearer: Person, piece: Piece) -> Vec<Contact> {
    let who = wearer.who;
    let mut contacts = Vec::new();
    for area in wearer.body.areas_of(piece) {
        let bared = wearer.beneath(piece, area);
        contacts.push((Surface::Inside { who, piece }, bared, TOUCH));
        contacts.push((Surface::Front { who, piece }, bared, BRUSH));
    }
    contacts
}

/// Sitting and standing.
pub fn resting(person: Person) -> Vec<Contact> {
    [sitting(person), standing(person)].concat()
}

/// Sitting, and each change of what is worn while seated: the seat and what lies outermost there.
fn sitting(person: Person) -> Vec<Contact> {
    let Some(seat) = person.body.seat else { return Vec::new() };
    [Area::Trunk, Area::Legs].map(|area| (person.behind(area), Surface::Fixture(seat), TOUCH)).to_vec()
}

/// Standing on a sheet, and each change of what is on the feet.
fn standing(person: Person) -> Vec<Contact> {
    let Some(sheet) = person.body.stands_on else { return Vec::new() };
    vec![(person.outermost(Area::Feet), Surface::Fixture(sheet), TOUCH)]
}
