//! The tables of the walk, row by row: what each act touches, where a part lies, and how a surface is called. What they
//! say is the model's own (GUIDANCE.md A3 and A4 for the rows that name a source); here it is written a second time.

use anteroom::policy::{Area, ItemId, Policy, RoleId};
use anteroom::walk::Surface;
use anteroom::walk::body::{Body, Piece};
use anteroom::walk::contact::{self, BRUSH, Contact, Person, Removal, TOUCH};
use anteroom::walk::parts::{Lie, lies};
use anteroom::walk::surfaces::Surfaces;

use super::policy_of;

const KIT: &str = "policy \"Ward\"\nrole wearer\nitem gloves\ncovers hands\nitem gown\ncovers trunk, arms\ngoes over gloves\n\
    grip ties, cuff on legs\nitem mask\ncovers nose, mouth\ngrip ties\nitem long sleeves\ncovers arms, hands\nitem boots\n\
    covers feet\nsurface chair\nsurface mat\ncontainer bin\nfor waste\n";

const WHO: RoleId = RoleId(0);

struct Scene {
    policy: Policy,
    body: Body,
    surfaces: Surfaces,
}

impl Scene {
    fn wearing(names: &[&str]) -> Scene {
        let policy = policy_of(KIT);
        let mut body = Body::default();
        let all: Vec<_> = (0..policy.items.len()).map(|item| (WHO, ItemId::new(item), 1)).collect();
        let surfaces = Surfaces::new(&policy, &[WHO], &all, &[]);
        for name in names {
            body.put_on(&policy, piece(&policy, name), None);
        }
        Scene { policy, body, surfaces }
    }

    fn person(&self) -> Person<'_> {
        Person { who: WHO, body: &self.body }
    }

    fn front(&self, name: &str) -> Surface {
        Surface::Front { who: WHO, piece: piece(&self.policy, name) }
    }

    fn back(&self, name: &str) -> Surface {
        Surface::Back { who: WHO, piece: piece(&self.policy, name) }
    }

    fn inside(&self, name: &str) -> Surface {
        Surface::Inside { who: WHO, piece: piece(&self.policy, name) }
    }

    fn on(&self, name: &str) -> Vec<Contact> {
        let piece = piece(&self.policy, name);
        let areas: Vec<Area> = self.policy.item(piece.item).covers.iter().collect();
        contact::putting_on(&self.policy, self.person().hand(), self.person(), piece, &areas)
    }

    fn off(&self, name: &str, grip: Option<&str>, inside_out: bool) -> Vec<Contact> {
        let how = Removal { piece: piece(&self.policy, name), grip, inside_out };
        contact::taking_off(&self.policy, &self.surfaces, self.person().hand(), self.person(), how)
    }
}

fn piece(policy: &Policy, name: &str) -> Piece {
    let item = policy.items.iter().position(|item| item.name == name).unwrap();
    Piece { item: ItemId::new(item), copy: 0 }
}

fn skin(area: Area) -> Surface {
    Surface::Skin { who: WHO, area }
}

#[test]
fn what_goes_on_touches() {
    let scene = Scene::wearing(&["gloves"]);
    let (front, inside, hand) = (scene.front("gown"), scene.inside("gown"), scene.front("gloves"));
    // The hand takes the gown; its inside comes to lie on trunk and arms; the sleeve passes the hand; its edge lies over
    // that of the gloves.
    let gown = [
        (hand, front, TOUCH),
        (hand, inside, TOUCH),
        (inside, skin(Area::Trunk), TOUCH),
        (inside, skin(Area::Arms), TOUCH),
        (inside, hand, TOUCH),
        (front, hand, BRUSH),
        (inside, hand, BRUSH),
    ];
    assert_eq!(scene.on("gown"), gown);
    // Neither what covers no arms nor what covers the hands as well is drawn over them.
    let bare = Scene::wearing(&[]);
    assert!(bare.on("mask").iter().all(|contact| contact.2 == TOUCH), "{:?}", bare.on("mask"));
    assert!(bare.on("long sleeves").iter().all(|contact| contact.2 == TOUCH), "{:?}", bare.on("long sleeves"));
}

#[test]
fn what_comes_off_touches() {
    let scene = Scene::wearing(&["gloves", "gown"]);
    let (front, inside, hand) = (scene.front("gown"), scene.inside("gown"), scene.front("gloves"));
    let part = scene.surfaces.grip(WHO, piece(&scene.policy, "gown"), Some("ties"));
    assert!(matches!(part, Surface::Grip { .. }), "{part:?}");
    let sleeve = [(inside, hand, TOUCH), (front, hand, BRUSH)];
    let beneath = [(inside, skin(Area::Trunk), TOUCH), (inside, skin(Area::Arms), TOUCH)];
    let rolled: Vec<Contact> =
        [(hand, part, TOUCH), (hand, inside, TOUCH)].into_iter().chain(beneath).chain(sleeve).collect();
    assert_eq!(scene.off("gown", Some("ties"), true), rolled);
    // Not rolled, its front brushes what it bares.
    let brushes = [(front, skin(Area::Trunk), BRUSH), (front, skin(Area::Arms), BRUSH)];
    let pulled: Vec<Contact> = [(hand, part, TOUCH)].into_iter().chain(beneath).chain(sleeve).chain(brushes).collect();
    assert_eq!(scene.off("gown", Some("ties"), false), pulled);
    // A glove peels itself; its outside may brush the hand.
    let (front, inside) = (hand, scene.inside("gloves"));
    let peeled = [(inside, skin(Area::Hands), TOUCH), (front, skin(Area::Hands), BRUSH)];
    assert_eq!(scene.off("gloves", Some("cuff"), false), peeled);
    // The hand brushes what it bares on the head; a boot that is not rolled brushes nothing.
    let masked = Scene::wearing(&["mask", "boots"]);
    let brushed: Vec<Contact> = masked.off("mask", Some("ties"), true).into_iter().filter(|c| c.2 == BRUSH).collect();
    assert_eq!(brushed, [Area::Nose, Area::Mouth].map(|area| (skin(Area::Hands), skin(area), BRUSH)));
    assert!(!masked.off("mask", Some("ties"), true).contains(&(skin(Area::Hands), masked.inside("mask"), TOUCH)));
    assert!(masked.off("boots", None, false).iter().all(|contact| contact.2 == TOUCH));
    // Sleeves with hands in them are no sleeve drawn over a hand, and bare no hand by their front but as a glove does.
    let sleeved = Scene::wearing(&["long sleeves"]);
    let fronts = sleeved.off("long sleeves", None, false).into_iter().filter(|c| c.0 == sleeved.front("long sleeves"));
    let fronts: Vec<Contact> = fronts.collect();
    let front = sleeved.front("long sleeves");
    assert_eq!(fronts, [(front, skin(Area::Hands), BRUSH), (front, skin(Area::Arms), BRUSH)]);
}

#[test]
fn what_slips_comes_along_sits_and_stands_touches() {
    let scene = Scene::wearing(&["gloves", "gown", "boots"]);
    let (hand, person) = (scene.front("gloves"), scene.person());
    let gown = [(hand, scene.front("gown"), TOUCH), (hand, scene.back("gown"), TOUCH)];
    assert_eq!(contact::slipping(hand, person, piece(&scene.policy, "gown")), gown);
    let gloves = [(hand, skin(Area::Hands), TOUCH)];
    assert_eq!(contact::slipping(hand, person, piece(&scene.policy, "gloves")), gloves);
    let along = [(scene.inside("gloves"), skin(Area::Hands), TOUCH), (hand, skin(Area::Hands), BRUSH)];
    assert_eq!(contact::coming_with(person, piece(&scene.policy, "gloves")), along);
    assert!(contact::resting(person).is_empty());
    let [chair, mat] = [0, 1].map(anteroom::policy::SurfaceId::new);
    let body = Body { seat: Some(chair), stands_on: Some(mat), ..scene.body.clone() };
    let person = Person { who: WHO, body: &body };
    let (chair, mat) = (Surface::Fixture(chair), Surface::Fixture(mat));
    let rests =
        [(scene.back("gown"), chair, TOUCH), (skin(Area::Legs), chair, TOUCH), (scene.front("boots"), mat, TOUCH)];
    assert_eq!(contact::resting(person), rests);
}

/// Ties, headbands and straps lie on the hair, gown ties on the neck (GUIDANCE.md A4); a glove's cuff is its outside; an
/// `item` line may say otherwise, of that part alone.
#[test]
fn parts_lie_where_the_table_or_the_item_says() {
    let scene = Scene::wearing(&[]);
    let lie = |name: &str, part: &str| lies(part, scene.policy.item(piece(&scene.policy, name).item));
    assert_eq!(lie("mask", "ties"), Lie::On(Area::Hair));
    assert_eq!(lie("gown", "ties"), Lie::On(Area::Neck));
    assert_eq!(lie("gown", "cuff"), Lie::On(Area::Legs), "as the item says");
    assert_eq!(lie("boots", "ties"), Lie::On(Area::Legs));
    assert_eq!((lie("gloves", "cuff"), lie("gloves", "ties")), (Lie::Front, Lie::On(Area::Legs)));
    assert_eq!(lie("boots", "cuff"), Lie::On(Area::Legs));
    assert_eq!((lie("mask", "inside"), lie("mask", "tassel")), (Lie::Inside, Lie::Front));
}

#[test]
fn surfaces_are_called_as_people_call_them() {
    let scene = Scene::wearing(&[]);
    let words = |surface: Surface| scene.surfaces.words(&scene.policy, surface);
    assert_eq!(words(skin(Area::Hands)), "the wearer's bare hands");
    assert_eq!(words(skin(Area::Neck)), "the wearer's neck");
    assert_eq!(words(scene.front("gown")), "the front of the wearer's gown");
    assert_eq!(words(scene.front("mask")), "the front of the wearer's mask");
    assert_eq!(words(scene.front("gloves")), "the outside of the wearer's gloves");
    assert_eq!(words(scene.back("gown")), "the back of the wearer's gown");
    assert_eq!(words(scene.inside("boots")), "the inside of the wearer's boots");
    let ties = scene.surfaces.grip(WHO, piece(&scene.policy, "gown"), Some("ties"));
    assert_eq!(words(ties), "the ties of the wearer's gown");
    let Surface::Grip { piece, part, .. } = ties else { panic!("{ties:?}") };
    assert_eq!(scene.surfaces.part_name(piece.item, part), "ties");
    assert_eq!(words(Surface::Fixture(anteroom::policy::SurfaceId::new(0))), "the chair");
    assert_eq!(words(Surface::Container(anteroom::policy::ContainerId::new(0))), "the bin");
}
