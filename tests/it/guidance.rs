//! Which guidance holds at which kit, and the rules of the house: each contested order is off until a level says so, in a
//! plain sentence. The tables are rows of the project's evidence (C1 to C14, U3); sources stand beside each check.

use anteroom::findings::Signal;
use anteroom::policy::Day;
use anteroom::session::Checked;

use crate::policies::{checked, checked_text};

fn today() -> Day {
    Day::new(2026, 12, 2).unwrap()
}

/// A published order with further lines in its level, or other lines changed; what the kit declares comes along.
fn with(file: &str, changes: &[(&str, &str)]) -> Checked {
    let read = |name: &str| std::fs::read_to_string(format!("tests/published/{name}.ppe")).unwrap();
    let mut text = read(file);
    for kit in ["general-kit", "vhf-kit"] {
        text = text.replace(&format!("use \"{kit}.ppe\"\n"), &read(kit));
    }
    for (from, to) in changes {
        assert!(text.contains(from), "{file}: {from}");
        text = text.replacen(from, to, 1);
    }
    let checked = checked_text(&text, today());
    assert!(checked.reading.problems.is_empty(), "{file}: {:?}", checked.reading.problems);
    checked
}

fn told(checked: &Checked, name: &str) -> Vec<(Signal, String)> {
    let of_rule = checked.findings.iter().filter(|finding| finding.name.to_string() == name);
    of_rule.map(|finding| (finding.signal, finding.sentence.clone())).collect()
}

/// Each contested order by the row of the evidence: a sentence that the published order keeps, and one that it breaks.
#[test]
fn a_contested_order_holds_only_where_a_level_asks_for_it() {
    let rows = [
        // C1, eye protection before the gown: CDC example 1; after it: Australia.
        ("d1", "house order", "needs eye protection off before gown", "forbids eye protection off before gown"),
        ("d12", "house order", "needs gown off before eye protection", "needs eye protection off before gown"),
        // C2, gloves before the gown: CDC example 1; with it: UHB. Both at once counts as either.
        ("d1", "house order", "needs gloves off before gown", "needs gown off before gloves"),
        ("d11", "house order", "needs gown off before gloves", ""),
        // C3, outer gloves before the gown: CDC 2015.
        ("d4", "house order", "needs outer gloves off before gown", "needs gown off before outer gloves"),
        // C4, apron before outer gloves: CDC 2015 [M]; after them: CDC for West Africa.
        ("d4", "house order", "needs apron off before outer gloves", "needs outer gloves off before apron"),
        ("d7", "house order", "needs outer gloves off before apron", "needs apron off before outer gloves"),
        // C5, inner gloves very last: WHO [M]; before goggles and mask: CDC for West Africa.
        ("d21", "house last", "needs inner gloves off last", "needs boots off last"),
        ("d7", "house last", "needs mask off last", "needs inner gloves off last"),
        // C6, boots after the coverall: CDC for West Africa. Cap: before the goggles there.
        ("d7", "house order", "needs coverall off before boots", "needs boots off before coverall"),
        ("d7", "house order", "needs cap off before goggles", "needs goggles off before cap"),
        // U10, gloves last in putting on: CDC general.
        ("d1", "house last", "needs gloves on last", "needs mask on last"),
        // Kit checked before it goes on: Italy (N10). D1 checks nothing.
        ("n10", "house checked", "needs gown checked first", "needs goggles checked first"),
        // C14: CDC neither promotes tape nor discourages it.
        ("d1", "house taping", "forbids taping", "needs taping"),
    ];
    for (file, rule, kept, broken) in rows {
        let asks = |wish: &str| {
            let line = format!("  keep face 3 touches away\n  this level {wish}\n");
            with(file, &[("  keep face 3 touches away\n", &line)])
        };
        assert_eq!(told(&with(file, &[]), rule), [], "{file} without a wish");
        assert_eq!(told(&asks(kept), rule), [], "{file}: {kept}");
        if !broken.is_empty() {
            assert_eq!(told(&asks(broken), rule).len(), 1, "{file}: {broken}");
        }
    }
}

/// The same step at the two kinds of level: hands between gown and face (U3: strong, beyond dispute against haemorrhagic
/// fevers), and gloves that are cleaned while they are on (C9: asked for there, ruled out in daily care).
#[test]
fn what_holds_depends_on_the_kit() {
    let rub = "  wearer cleans hands with hand rub for 30 seconds\n";
    let gown = |bin: &str| format!("  wearer takes off gown by ties, rolling it inside out, into waste {bin}\n");
    let (ward, isolation) = (gown("at the doorway"), gown("in the anteroom"));
    let ward = with("d12", &[(&format!("{ward}{rub}"), &ward)]);
    let isolation = with("d21", &[(&format!("{isolation}{rub}"), &isolation)]);
    let signals = |checked: &Checked, name: &str| -> Vec<Signal> {
        told(checked, name).into_iter().map(|(signal, _)| signal).collect()
    };
    assert_eq!(signals(&ward, "hygiene face"), [Signal::Warning], "D12, Australia");
    assert_eq!(signals(&isolation, "hygiene face"), [Signal::Danger], "D21, WHO [M]");
    for file in ["d4", "d5", "d6", "d7", "d17", "d18", "d19", "d20", "d21", "d22"] {
        let checked = checked(&format!("tests/published/{file}.ppe"), today());
        assert_eq!(
            told(&checked, "hygiene gloved"),
            [],
            "{file}: gloved hands are cleaned against haemorrhagic fevers"
        );
    }
    // In a drill too: gloves that are torn come off before hands are cleaned.
    let end = "sequence \"Putting on\"";
    let drill = |steps: &str| {
        let lines = format!("contingency \"A glove tears\" when gloves are torn\n{steps}  then carry on\n{end}");
        told(&with("d12", &[(end, &lines)]), "hygiene gloved").len()
    };
    let gloves_off = "  wearer takes off gloves by cuff into waste at the doorway\n";
    assert_eq!(drill(&format!("{rub}{gloves_off}{rub}  wearer puts on fresh gloves\n")), 1);
    assert_eq!(drill(&format!("{gloves_off}{rub}  wearer puts on fresh gloves\n")), 0);
    // Double gloves whose backs count as clean are of neither kind: guidance for either is silent.
    let fronts = ("assume every outside is contaminated", "assume fronts are contaminated");
    let unseen = ("  wearer goes to anteroom\n  observer checks wearer\n", "  wearer goes to anteroom\n");
    let neither = with("d21", &[fronts, unseen]);
    for name in ["hygiene gloved", "hold inspection", "role observer", "place shared"] {
        assert_eq!(told(&neither, name), [], "{name}");
    }
}

/// U13 and U14: CDC training modules, 2014 [S]: inspected before entering the doffing area and at the inner gloves; an observer
/// reads and watches. U18: Victoria, CDC on bird flu, Nebraska [S]: separate places and one direction. In daily care none of
/// them is asked for: D1 to D3 and D9 to D15 inspect nothing and share the doorway.
#[test]
fn at_a_high_consequence_level_somebody_looks_and_places_are_apart() {
    let arrive = "  wearer goes to anteroom\n  observer checks wearer\n";
    let unseen = with("d21", &[(arrive, "  wearer goes to anteroom\n")]);
    assert_eq!(told(&unseen, "hold inspection").len(), 1);
    assert_eq!(told(&unseen, "role observer").len(), 1);
    let alone = with("d21", &[(arrive, "  wearer goes to anteroom\n  wearer checks wearer\n")]);
    assert_eq!(told(&alone, "hold inspection"), []);
    assert_eq!(told(&alone, "role observer").len(), 1);
    let gloves = with("d21", &[("  wearer checks inner gloves\n", "")]);
    let last = "wearer takes off inner gloves by cuff into waste in the anteroom".to_owned();
    assert_eq!(told(&gloves, "hold inspection"), [(Signal::Warning, last)]);
    let robing = "in robing room\n  wearer goes to robing room\n";
    let shared = with("d21", &[(robing, "in anteroom\n  wearer goes to robing room\n  wearer goes to anteroom\n")]);
    assert_eq!(told(&shared, "place shared").len(), 1);
    let back = with("d21", &[("way robing room to anteroom\n", "way robing room to anteroom to patient room\n")]);
    assert_eq!(told(&back, "place shared").len(), 1, "from the taking off back to the hazard");
    let ward = with("d12", &[(robing, "in doorway\n  wearer goes to robing room\n  wearer goes to anteroom\n")]);
    assert_eq!(told(&ward, "place shared"), []);
}

/// U7: rolled inside out, away from the body: CDC, PHE, Australia, Korea [S3]. In other words it counts too. U9: gloves over the
/// cuff (N1, N4), inner gloves under it (N9).
#[test]
fn a_garment_is_rolled_and_a_cuff_lies_beneath_the_glove() {
    let rolled = (", rolling it inside out, into waste at the doorway", " into waste at the doorway");
    let loose = with("d12", &[rolled]);
    assert_eq!(told(&loose, "touch rolling").len(), 1);
    let line = "  wearer takes off gown by ties, rolling it inside out, into waste at the doorway\n";
    let said =
        "  wearer takes off gown by ties into waste at the doorway\n    say \"Fold it inwards, away from you.\"\n";
    assert_eq!(told(&with("d12", &[(line, said)]), "touch rolling"), []);
    let beneath = with("n1", &[("  goes over gown\n", "")]);
    assert_eq!(told(&beneath, "cover cuff"), [], "no edge at all is told by the gap");
    let under = with("n1", &[("  goes over gown\n", "  tucks into gown\n")]);
    assert_eq!(told(&under, "cover cuff").len(), 1);
    let over = ("item inner gloves\n  covers hands\n", "item inner gloves\n  covers hands\n  goes over gown\n");
    let inner = with("d21", &[over, ("legs\n  goes over inner gloves\n", "legs\n")]);
    assert_eq!(told(&inner, "cover cuff").len(), 1);
}

/// U12: CDC, HSE, Australia: a seal check whenever a tight-fitting respirator goes on, before the hazard is met.
#[test]
fn a_gap_at_the_sleeve_says_nothing_of_the_seal() {
    let asked = |title: &str, words: &str| {
        let hold = ("hold \"Seal\"", format!("hold \"{title}\""));
        let confirms = ("No air escapes when the wearer breathes out hard.", words);
        told(&with("n1", &[(hold.0, &hold.1), confirms]), "kit seal").len()
    };
    assert_eq!(asked("Face", "Nothing gapes, and the goggles are sealed in their bag."), 1);
    assert_eq!(asked("Face", "No gap shows between glove and sleeve."), 1);
    assert_eq!(asked("Face", "No gap shows at the nose or the cheeks."), 0);
    assert_eq!(asked("Seal", "It sits."), 0);
    let inside = "  wearer goes to patient room\n";
    let hold = "  hold \"Seal\"\n    colleague confirms \"No air escapes when the wearer breathes out hard.\"\n    if not, go back to \"Face\"\n";
    let late = with("d10", &[(hold, ""), (inside, &format!("{inside}{hold}"))]);
    assert_eq!(told(&late, "kit seal").len(), 1, "beside the hazard it is too late");
}

/// U13: an inspection looks at the kit. CDC, observer page 18 [S], has the observer look at the container besides.
#[test]
fn an_open_bin_is_no_inspection() {
    let asked = |words: &str| {
        let arrive = "  wearer goes to anteroom\n  observer checks wearer\n";
        let hold = format!(
            "  wearer goes to anteroom\n  observer opens waste in the anteroom\n  hold \"Start\"\n    observer confirms \"{words}\"\n    if not, go back to \"Taking off\"\n"
        );
        told(&with("d21", &[(arrive, &hold)]), "hold inspection").len()
    };
    assert_eq!(asked("The container is open and has room."), 1);
    assert_eq!(asked("Nothing is torn, and nothing wet is left."), 0);
}

/// CDC training modules, 2014 [S]: those who help follow the same rules; N8: a second person for the last look.
#[test]
fn whoever_helps_is_looked_at_before_the_first_touch() {
    let look = "  observer checks helper\n";
    for file in ["a3-gown", "d4", "d17", "d18", "d20"] {
        assert_eq!(told(&with(file, &[]), "role unready"), [], "{file}");
        assert_eq!(told(&with(file, &[(look, "")]), "role unready").len(), 1, "{file}");
    }
    let early = (
        "  helper puts on helper gloves\n  observer checks helper\n",
        "  observer checks helper\n  helper puts on helper gloves\n",
    );
    assert_eq!(told(&with("d4", &[early]), "role unready").len(), 1, "before the last item");
    let ready = "  hold \"Start\"\n    observer confirms \"The helper is ready.\"\n    if not, go back to \"Taking off\"\n  helper disconnects";
    let asked = with("d4", &[(look, ""), ("  helper disconnects", ready)]);
    assert_eq!(told(&asked, "role unready"), [], "asked in the other sequence");
    let behind = ready.replace("is ready", "stands behind");
    let asked = with("d4", &[(look, ""), ("  helper disconnects", &behind)]);
    assert_eq!(told(&asked, "role unready").len(), 1, "where the helper stands says nothing of the kit");
}

/// First aid after an exposure: CDC 2015 [M]; post-exposure prophylaxis guidelines of WHO and ILO, 2007, from memory.
#[test]
fn after_an_exposure_something_is_washed_and_somebody_is_told() {
    let end = "sequence \"Putting on\"";
    let after = |event: &str, steps: &str| {
        let drill = format!(
            "contingency \"Event\" when {event}\n  wearer goes to doorway\n{steps}  then start \"Taking off\"\n{end}"
        );
        let found = with("d12", &[(end, &drill)]);
        let of_rule = found.findings.iter().filter(|finding| finding.name.to_string() == "drill exposure");
        of_rule.map(|finding| finding.title.clone()).collect::<Vec<_>>()
    };
    let (rinse, call) = ("  wearer does \"Rinse the eyes\"\n", "  wearer does \"Report it at once\"\n");
    let rub = "  wearer cleans hands with hand rub for 30 seconds\n";
    let both = format!("{rinse}{call}");
    assert_eq!(after("face is splashed", ""), ["No first aid after a possible exposure"]);
    assert_eq!(after("face is splashed", rub), ["No first aid after a possible exposure"]);
    assert_eq!(after("face is splashed", rinse), ["Nobody is told of a possible exposure"]);
    assert_eq!(after("face is splashed", call), ["Nothing is washed after a possible exposure"]);
    assert_eq!(after("face is splashed", &both), Vec::<String>::new());
    // Where clean air is lost there is nothing to wash; Victoria [S]: a breach is assessed.
    let respirator = "contingency \"Event\" when respirator slips\n  wearer goes to doorway\n";
    let slips = |steps: &str| {
        let drill = format!("{respirator}{steps}  then start \"Taking off\"\n{end}");
        told(&with("d10", &[(end, &drill)]), "drill exposure").len()
    };
    assert_eq!((slips(""), slips(rinse), slips(call)), (1, 1, 0));
    assert_eq!(after("gown is torn", ""), Vec::<String>::new(), "no exposure of face or blood");
}
