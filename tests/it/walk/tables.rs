//! The tables of the walk, row by row: what each act touches, where a part lies, and how a surface is called. What they
//! say is the model's own (GUIDANCE.md A3 and A4 for the rows that name a source); here it is written a second time.

use anteroom::policy::{Area, FactId, ItemId, LevelId, Policy, RoleId, SequenceId};
use anteroom::walk::body::{Body, Piece};
use anteroom::walk::cast::{Cast, is_face_mask, is_tight_respirator};
use anteroom::walk::contact::{self, BRUSH, Contact, Person, Removal, TOUCH};
use anteroom::walk::parts::{Lie, lies};
use anteroom::walk::script::Script;
use anteroom::walk::surfaces::Surfaces;
use anteroom::walk::telling::{case_words, step_name};
use anteroom::walk::{Case, StepRef, Strike, Surface, walk};

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

/// Of a level that asks for less of the face, of clothes and after a slip than of skin.
#[test]
fn margins_are_what_the_level_asks_of_each_surface() {
    let of = |lines: &str, surface: &dyn Fn(&Policy) -> Surface, slips: usize| {
        let policy = policy_of(&format!(
            "{KIT}item scrubs\ncovers trunk\nworn beneath\nhazard stool\nspreads by contact\nplace room is clean\nlevel Full against \
             stool\nwearer wears scrubs\n{lines}sequence \"On\" for Full, in room\nwearer puts on scrubs\n"
        ));
        let level = LevelId::new(0);
        Cast::new(&policy, level, &Script::new(&policy, level)).margin_after(surface(&policy), slips)
    };
    let clothes = |policy: &Policy| Surface::Front { who: WHO, piece: piece(policy, "scrubs") };
    let (hands, mouth) = (|_: &Policy| skin(Area::Hands), |_: &Policy| skin(Area::Mouth));
    let all = "keep skin 5 touches away\nkeep face 4 touches away\nkeep clothes 3 touches away\neven after one slip keep skin 2 \
               touches away\neven after two slips keep face 1 touch away\n";
    let each =
        |lines: &str, slips: usize| [of(lines, &hands, slips), of(lines, &mouth, slips), of(lines, &clothes, slips)];
    assert_eq!(each(all, 0), [Some(5), Some(4), Some(3)]);
    assert_eq!(each(all, 1), [Some(2), Some(2), Some(2)]);
    assert_eq!(each(all, 2), [None, Some(1), None]);
    assert_eq!(each("keep skin 5 touches away\n", 0), [Some(5), Some(5), Some(5)]);
    assert_eq!(each("keep face 4 touches away\nkeep clothes 3 touches away\n", 0), [None, Some(4), Some(3)]);
    let slips = "even after one slip keep clothes 3 touches away\neven after one slip keep face 4 touches away\n";
    assert_eq!(each(slips, 1), [None, Some(4), Some(3)]);
}

/// Whatever an act handles, listed or not, has a surface, and so has every part that it takes hold of.
#[test]
fn whatever_an_act_handles_has_a_surface() {
    let has = |act: &str, part: Option<&str>| {
        let policy = policy_of(&format!(
            "{KIT}item tin\nitem lamp\ncleaner wipe\nfor surfaces\nhazard stool\nspreads by contact\nplace room is clean\nlevel Full \
             against stool\nwearer wears mask\nsequence \"On\" for Full, in room\n{act}\n"
        ));
        let (level, piece) = (LevelId::new(0), piece(&policy, "tin"));
        let surfaces = Cast::new(&policy, level, &Script::new(&policy, level)).surfaces;
        let met = surfaces.grip(WHO, piece, part);
        surfaces.number(met).is_some() && matches!(met, Surface::Grip { .. }) == part.is_some()
    };
    let acts = [
        "puts on tin",
        "pulls up tin",
        "changes tin",
        "takes off tin",
        "takes off mask, together with tin",
        "wipes tin with wipe",
        "sprays tin with wipe",
        "puts tin into bin",
        "checks tin",
        "switches on tin",
        "switches off tin",
        "unties tin",
        "opens tin",
        "closes tin",
        "connects tin to lamp",
        "connects lamp to tin",
        "disconnects tin from lamp",
        "disconnects lamp from tin",
        "disconnects tin",
        "cuts tin",
        "cuts lamp with tin",
        "breaks tin",
    ];
    for act in acts {
        assert!(has(&format!("wearer {act}"), None), "{act}");
    }
    assert!(!has("wearer opens lamp", None));
    for act in ["takes off tin by ties", "cuts ties of tin", "breaks ties of tin", "unties tin"] {
        assert!(has(&format!("wearer {act}"), Some("ties")), "{act}");
    }
}

/// Half masks and filtering facepieces meet EN 140, 149 or 405, full masks EN 136; N95 is of 42 CFR 84. What covers eyes and
/// mouth without a seal is a visor, what runs or covers the hair a hood.
#[test]
fn masks_and_respirators_are_told_apart() {
    let of = |lines: &str| {
        let text = format!("policy \"Ward\"\nrole wearer\nitem blower\nruns for 4 hours\nitem it\n{lines}");
        let policy = policy_of(&text);
        (is_face_mask(&policy, ItemId::new(1)), is_tight_respirator(&policy, ItemId::new(1)))
    };
    let (nothing, mask, respirator) = ((false, false), (true, false), (true, true));
    assert_eq!(of("covers nose, mouth\n"), mask);
    assert_eq!(of("covers nose\n"), mask);
    assert_eq!(of("covers mouth\nmeets \"EN 14683\"\n"), mask);
    for standard in ["EN 140", "EN 149 FFP2", "en 149", "EN 405", "EN 136", "42 CFR 84 N95", "FFP3"] {
        assert_eq!(of(&format!("covers nose, mouth\nmeets \"{standard}\"\n")), respirator, "{standard}");
    }
    assert_eq!(of("covers nose, mouth\nneeds fit test\n"), respirator);
    assert_eq!(of("covers eyes, nose, mouth\nneeds fit test\n"), respirator);
    assert_eq!(of("covers eyes, nose, mouth\nmeets \"EN 136\"\n"), respirator);
    assert_eq!(of("covers eyes, nose, mouth\n"), nothing, "a visor");
    assert_eq!(of("covers eyes\nmeets \"EN 136\"\n"), nothing);
    assert_eq!(of("covers hair, nose, mouth\nneeds fit test\n"), nothing);
    assert_eq!(of("covers nose, mouth\nneeds fit test\nruns for 1 hour\n"), nothing);
    assert_eq!(of("covers nose, mouth\nneeds fit test\nconnects to blower\n"), nothing);
    let named = policy_of(
        "policy \"Ward\"\nrole wearer\nitem ffp3 mask\ncovers nose, mouth\nitem mask \"N95 mask\"\ncovers nose, mouth\n",
    );
    assert!([0, 1].into_iter().all(|item| is_tight_respirator(&named, ItemId::new(item))));
}

/// Of two pairs that hang on one thing, it hangs on as long as one is on.
#[test]
fn what_comes_off_leaves_the_rest_as_it_was() {
    let mut scene = Scene::wearing(&["gloves", "gown", "mask"]);
    let [gloves, gown, mask, boots] = ["gloves", "gown", "mask", "boots"].map(|name| piece(&scene.policy, name));
    let body = &mut scene.body;
    body.put_on(&scene.policy, Piece { copy: 1, ..gloves }, None);
    body.connect(gloves.item, mask.item);
    body.connect(gown.item, boots.item);
    body.half = vec![gown, mask];
    body.torn = vec![gown, gloves];
    body.take_off(Piece { copy: 1, ..gloves });
    assert!(body.is_connected(mask.item, gloves.item) && body.is_connected(gown.item, boots.item));
    assert_eq!(body.piece(gloves.item), Some(gloves));
    body.take_off(gloves);
    assert!(!body.is_connected(mask.item, gloves.item) && body.is_connected(gown.item, boots.item));
    assert_eq!((&body.half[..], &body.torn[..]), (&[gown, mask][..], &[gown][..]));
    assert_eq!((&body.worn[..], &body.taken[..]), (&[gown, mask][..], &[gloves.item][..]));
    assert_eq!((body.top(Area::Hands), body.top(Area::Trunk)), (None, Some(gown)));
    body.pull_up(&scene.policy, gown);
    assert_eq!((&body.half[..], &body.worn[..]), (&[mask][..], &[mask, gown][..]), "fully on only now");
    assert_eq!(body.stacks[Area::Trunk as usize], [gown]);
}

/// A case is within a wider one that names nothing besides.
#[test]
fn a_case_is_within_one_that_asks_for_less() {
    let at = |step: usize| StepRef { sequence: SequenceId::new(0), step };
    let strike = |step: usize| Some(Strike { contingency: 0, who: WHO, after: Some(at(step)), again: None });
    let every = Case::default();
    let wet = Case { facts: vec![(FactId::new(0), true)], ..every.clone() };
    let fails = Case { failing: vec![at(1)], ..every.clone() };
    let struck = Case { strike: strike(1), ..every.clone() };
    let all = Case { facts: wet.facts.clone(), failing: fails.failing.clone(), strike: struck.strike };
    for wider in [&every, &wet, &fails, &struck, &all] {
        assert!(all.is_within(wider) && wider.is_within(wider), "{wider:?}");
        assert_eq!(wider.is_every(), *wider == every);
        assert_eq!(every.is_within(wider), *wider == every, "{wider:?}");
    }
    assert!(!all.is_within(&Case { facts: vec![(FactId::new(0), false)], ..every.clone() }));
    assert!(!all.is_within(&Case { failing: vec![at(2)], ..every.clone() }));
    assert!(!all.is_within(&Case { strike: strike(2), ..every }));
}

/// Kit that no sequence puts on is on from the beginning, and whoever takes off without being sent in has met the hazard.
#[test]
fn who_is_dressed_and_has_met_the_hazard_unseen() {
    let of = |wears: &str, steps: &str| {
        let policy = policy_of(&format!(
            "{KIT}role helper\nhelps wearer\nitem scrubs\ncovers trunk\nworn beneath\nhazard stool\nspreads by contact\nplace \
             room is contaminated\nplace lobby is for taking off\nlevel Full against stool\n{wears}\n{steps}"
        ));
        let run = walk(&policy).runs.remove(0);
        let index = |people: Vec<RoleId>| people.into_iter().map(RoleId::index).collect::<Vec<usize>>();
        (index(run.dressed_unseen), index(run.met_unseen))
    };
    let off = "sequence \"Off\" for Full, in lobby\nwearer takes off mask by ties\n";
    let on = "sequence \"On\" for Full, in lobby\nwearer puts on mask\n";
    let into = "wearer goes to room\n";
    assert_eq!(of("wearer wears mask", off), (vec![0], vec![0]));
    assert_eq!(of("wearer wears mask", &format!("{on}{off}")), (vec![], vec![0]));
    assert_eq!(of("wearer wears mask", &format!("{on}{into}{off}")), (vec![], vec![]));
    assert_eq!(of("wearer wears mask", on), (vec![], vec![]));
    assert_eq!(of("wearer wears scrubs\nhelper wears mask, scrubs", off), (vec![1], vec![0]));
}

#[test]
fn steps_are_called_by_number_and_holds_by_title() {
    let policy = policy_of(&format!(
        "{KIT}hazard stool\nspreads by contact\nplace room is clean\nlevel Full against stool\nwearer wears mask\nsequence \"On\" for \
         Full, in room\nhold \"Ready\"\nwearer confirms \"Yes.\"\nwearer puts on mask\n"
    ));
    let name = |step: usize| step_name(&policy, StepRef { sequence: SequenceId::new(0), step });
    assert_eq!((name(0).as_str(), name(1).as_str()), ("the hold “Ready”", "step 1"));
    let case = Case { failing: vec![StepRef { sequence: SequenceId::new(0), step: 0 }], ..Case::default() };
    assert_eq!(case_words(&policy, &case), ["the hold “Ready” is not confirmed at first"]);
}
