//! Which sentence a line seems to be, told by its first words or its verb, with a right example of each.
//!
//! In: a plain line. Out: the rule of the grammar that reads it. Must never read the line itself.

use super::declared::{Declared, Thing};
use super::figures::whole;
use super::parse::Rule;
use super::written::JOINER;

pub(super) fn openers() -> impl Iterator<Item = &'static str> {
    OPENERS.iter().map(|(word, _)| *word)
}

/// The words of a plain line, names joined.
pub(super) fn words(plain: &str) -> impl Iterator<Item = &str> {
    plain.split([' ', ',', '"']).filter(|word| !word.is_empty())
}

fn is_number(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_digit()) || whole(word).is_some()
}

fn is_verb(word: &str) -> bool {
    example_of_verb(word).is_some()
}

/// The rule of the sentence that a line seems to be, by its first words or its verb.
pub(super) fn seems(plain: &str, declared: &Declared) -> Option<Rule> {
    let mut words = words(plain);
    let first = words.next()?;
    let second = words.next();
    if first.contains(JOINER) || declared.is(Thing::Role, first) && second.is_some_and(is_verb) {
        return Some(Rule::spoken);
    }
    if let Ok(at) = OPENERS.binary_search_by(|(word, _)| word.cmp(&first)) {
        let rule = OPENERS[at].1;
        return Some(match (rule, second) {
            (Rule::if_so, Some("not")) => Rule::if_not,
            (Rule::hold, Some(number)) if is_number(number) => Rule::holds,
            _ => rule,
        });
    }
    if is_number(first) {
        return Some(Rule::counted);
    }
    let spoken = declared.is(Thing::Role, first) || is_verb(first) || second.is_some_and(is_verb) || words.any(is_verb);
    spoken.then_some(Rule::spoken)
}

/// Where a step begins before which somebody wrote `then`, which says nothing: steps are in order.
pub(super) fn after_then(plain: &str, declared: &Declared) -> Option<usize> {
    let rest = plain.strip_prefix("then")?.trim_start_matches([' ', ',']);
    let who = words(rest).next()?;
    let acts = who.contains(JOINER) || declared.is(Thing::Role, who);
    acts.then_some(plain.len() - rest.len())
}

pub(super) fn opened_by(word: &str) -> Option<Rule> {
    let at = OPENERS.binary_search_by(|(opener, _)| (*opener).cmp(word)).ok()?;
    Some(OPENERS[at].1)
}

/// The verbs of sentences: as the writer may begin them, as the language has them, and a right example.
pub(super) const VERBS: &[(&[&str], &str)] = &[
    (&["puts", "put", "dons", "don"], "wearer puts on gown"),
    (&["helps", "help"], "helper helps wearer put on gown"),
    (&["pulls", "pull"], "wearer pulls up coverall"),
    (&["changes", "change"], "wearer changes outer gloves"),
    (&["takes", "take", "removes", "remove", "doffs", "doff"], "wearer takes off gown by ties into clinical waste"),
    (&["cleans", "clean", "washes", "wash", "disinfects"], "wearer cleans hands with hand rub for 30 seconds"),
    (&["wipes", "wipe"], "helper wipes apron with chlorine wipe for 1 minute"),
    (&["sprays", "spray"], "helper sprays apron with chlorine spray"),
    (&["checks", "check"], "observer checks wearer"),
    (&["goes", "go", "moves", "walks", "enters", "enter"], "wearer goes to lobby"),
    (&["switches", "switch", "turns"], "wearer switches on blower"),
    (&["connects", "connect"], "helper connects hood to blower"),
    (&["disconnects", "disconnect"], "helper disconnects hood from blower"),
    (&["cuts", "cut"], "helper cuts ties of gown with scissors"),
    (&["breaks", "break"], "wearer breaks ties of apron"),
    (&["unties", "untie"], "helper unties gown"),
    (&["steps", "step"], "wearer steps onto floor sheet"),
    (&["sits", "sit"], "wearer sits on clean chair"),
    (&["stands", "stand"], "wearer stands up"),
    (&["opens", "open"], "helper opens bin lid"),
    (&["closes", "close"], "helper closes bin lid"),
    (&["folds", "fold"], "helper folds floor sheet"),
    (&["does", "do"], "observer does \"Call the infection-control lead\""),
    (&["confirms", "confirm"], "observer confirms \"No skin shows.\""),
    (&["wears", "wear"], "wearer wears gown, gloves"),
    (&["outranks"], "Splash outranks Contact"),
];

/// Verbs that people write and the language does not have: the example of the sentence that would say it.
const OTHER_VERBS: &[(&[&str], &str)] = &[
    (
        &["decontaminates", "sanitises", "sanitizes", "gels", "rubs", "cleanses", "performs"],
        "wearer cleans hands with hand rub for 30 seconds",
    ),
    (
        &["bins", "discards", "disposes", "drops", "throws", "peels", "rolls", "lifts", "slides", "strips"],
        "wearer takes off gown by ties into clinical waste",
    ),
    (&["inspects", "looks", "observes", "examines", "ensures", "verifies"], "observer checks wearer"),
    (&["enters", "leaves", "exits", "returns", "proceeds"], "wearer goes to lobby"),
    (
        &["tells", "asks", "calls", "informs", "reports", "notifies", "reads", "records", "waits"],
        "observer does \"Call the infection-control lead\"",
    ),
];

pub(super) fn example_of_other_verb(verb: &str) -> Option<&'static str> {
    OTHER_VERBS.iter().find(|(words, _)| words.contains(&verb)).map(|(_, example)| *example)
}

/// Words with which people begin a line and the language does not: the example of the line that would say it.
const HABITS: &[(&[&str], &str)] = &[
    (&["title"], "policy \"Side rooms: contact precautions\""),
    (&["hospital", "trust", "ward", "unit", "organisation"], "site \"Saltmarsh District Hospital\""),
    (&["version", "revision", "issue"], "edition 2"),
    (&["author"], "owner \"Infection Prevention and Control Team\""),
    (&["effective", "valid"], "in force from 1 December 2026"),
    (&["expires"], "review by 1 June 2027"),
    (&["reference", "ref"], "source local audit \"Audit of glove use\""),
    (&["virus", "infection", "pathogen", "organism"], "hazard vomit and stool"),
    (&["room", "area", "zone"], "place lobby is for putting on"),
    (&["person", "staff"], "role wearer"),
    (&["ppe", "equipment"], "item gown \"long-sleeved gown\""),
    (&["bin", "bag", "waste"], "container sharps box"),
    (&["taken", "removed", "grasp", "grasped", "held"], "grip ties on neck, cuff"),
    (&["disposable"], "single use"),
    (&["procedure", "section"], "sequence \"Putting on\" for Splash, in lobby"),
    (&["when"], "if gown is soiled"),
    (&["important", "nb"], "caution \"Sit down to step in.\""),
    (&["poster"], "print poster of \"Putting on\""),
    (&["a0", "a1", "a2", "a3", "a4", "a5", "a6", "a7"], "on A3"),
    (&["comment", "remark"], "note The drawings are with Estates."),
];

pub(super) fn example_of_habit(word: &str) -> Option<&'static str> {
    let marked = word.starts_with(['#', '/', ';']).then_some("note The drawings are with Estates.");
    HABITS.iter().find(|(words, _)| words.contains(&word)).map(|(_, example)| *example).or(marked)
}

/// The example of the sentence that a verb makes.
pub(super) fn example_of_verb(verb: &str) -> Option<&'static str> {
    VERBS.iter().find(|(words, _)| words.contains(&verb)).map(|(_, example)| *example)
}

/// A right example of the sentence that a rule reads.
const EXAMPLES: &[(Rule, &str)] = &[
    (Rule::policy, "policy \"Side rooms: contact precautions\""),
    (Rule::site, "site \"Saltmarsh District Hospital\""),
    (Rule::edition, "edition 2"),
    (Rule::owner, "owner \"Infection Prevention and Control Team\""),
    (Rule::approved, "approved by \"Infection Control Committee\" on 2 November 2026"),
    (Rule::approval, "approval needs 2 people"),
    (Rule::in_force, "in force from 1 December 2026"),
    (Rule::review_by, "review by 1 June 2027"),
    (Rule::withdrawn, "withdrawn on 1 June 2027"),
    (Rule::replaces, "replaces edition 1"),
    (Rule::language, "language en-GB"),
    (Rule::uses, "use \"shared-stores.ppe\""),
    (Rule::source, "source local audit \"Audit of glove use\""),
    (Rule::from, "from \"World Health Organization\""),
    (Rule::dated, "dated 2016"),
    (Rule::page, "page 14"),
    (Rule::link, "link \"https://example.org/audit\""),
    (Rule::hazard, "hazard vomit and stool"),
    (Rule::spreads, "spreads by contact, splash"),
    (Rule::place, "place lobby is for putting on"),
    (Rule::way, "way corridor to lobby to bed space"),
    (Rule::role, "role wearer"),
    (Rule::helps, "helps wearer"),
    (Rule::watches, "watches"),
    (Rule::leads, "leads"),
    (Rule::item, "item gown \"long-sleeved gown\""),
    (Rule::covers, "covers trunk, arms"),
    (Rule::goes, "goes to clinical waste"),
    (Rule::tucks, "tucks into boots"),
    (Rule::grip, "grip ties on neck, cuff"),
    (Rule::holds, "holds 60 litres"),
    (Rule::connects, "connects to blower"),
    (Rule::meets, "meets \"EN 14126\""),
    (Rule::picture, "picture \"our-boots.svg\""),
    (Rule::needs, "needs fit test"),
    (Rule::single, "single use"),
    (Rule::reused, "reused after chlorine wipe"),
    (Rule::sharp, "sharp"),
    (Rule::fills, "fills 6 litres"),
    (Rule::runs, "runs for 4 hours"),
    (Rule::worn, "worn beneath"),
    (Rule::counted, "12 copies for \"exit lobby\""),
    (Rule::sizes, "sizes small, medium, large"),
    (Rule::surface, "surface floor sheet"),
    (Rule::stands, "stands in exit lobby"),
    (Rule::laid, "laid in exit lobby"),
    (Rule::starts, "starts clean"),
    (Rule::cleaner, "cleaner hand rub \"alcohol hand rub\""),
    (Rule::for_purpose, "for clinical waste"),
    (Rule::strength, "strength 1000 ppm chlorine"),
    (Rule::wet, "wet for 1 minute"),
    (Rule::not_on, "not on visible soil"),
    (Rule::worth, "worth 3 touches"),
    (Rule::container, "container sharps box"),
    (Rule::level, "level Splash against contact, splash"),
    (Rule::keep, "keep skin 3 touches away"),
    (Rule::even, "even after one slip keep skin 2 touches away"),
    (Rule::assume, "assume fronts are contaminated"),
    (Rule::stay, "stay no longer than 60 minutes"),
    (Rule::house, "this level needs goggles off before gown"),
    (Rule::choice, "choice of level"),
    (Rule::ask, "ask splash is likely \"Could body fluid splash?\""),
    (Rule::answers, "yes to splash is likely gives Splash"),
    (Rule::sequence, "sequence \"Putting on\" for Splash, in lobby"),
    (Rule::contingency, "contingency \"A glove tears\" when gloves are torn"),
    (Rule::part, "part \"Face\""),
    (Rule::hold, "hold \"Clear to go in\""),
    (Rule::if_not, "if not, go back to \"Face\""),
    (Rule::if_so, "if gown is soiled"),
    (Rule::otherwise, "otherwise"),
    (Rule::end_if, "end if"),
    (Rule::then, "then carry on"),
    (Rule::spoken, "wearer puts on gown"),
    (Rule::say, "say \"Lean forward.\""),
    (Rule::look_for, "look for \"Tears and visible soiling.\""),
    (Rule::stop_if, "stop if \"A glove is torn.\""),
    (Rule::caution, "caution \"Sit down to step in.\""),
    (Rule::warning, "warning \"The outside is contaminated.\""),
    (Rule::danger, "danger \"Do not touch the front.\""),
    (Rule::because, "because \"The glove lies over the sleeve.\""),
    (Rule::takes, "takes 30 seconds"),
    (Rule::print, "print poster of \"Putting on\""),
    (Rule::on_paper, "on A3"),
    (Rule::read_from, "read from 2 metres"),
    (Rule::laminated, "laminated"),
    (Rule::both, "both sides"),
    (Rule::accept, "accept order covered at \"Taking off\" because \"Trialled in May.\" until 1 June 2027"),
    (Rule::differ, "differ at \"wearer puts on boots\" because \"Our suits have feet.\""),
];

pub(super) fn example(rule: Rule) -> Option<&'static str> {
    EXAMPLES.iter().find(|(known, _)| *known == rule).map(|(_, example)| *example)
}

/// The words with which a line may begin, and the rule that then reads it.
const OPENERS: &[(&str, Rule)] = &[
    ("accept", Rule::accept),
    ("accepts", Rule::accept),
    ("approval", Rule::approval),
    ("approved", Rule::approved),
    ("ask", Rule::ask),
    ("asks", Rule::ask),
    ("assume", Rule::assume),
    ("assumes", Rule::assume),
    ("because", Rule::because),
    ("both", Rule::both),
    ("caution", Rule::caution),
    ("choice", Rule::choice),
    ("cleaner", Rule::cleaner),
    ("connects", Rule::connects),
    ("container", Rule::container),
    ("contingency", Rule::contingency),
    ("cover", Rule::covers),
    ("covers", Rule::covers),
    ("danger", Rule::danger),
    ("dated", Rule::dated),
    ("differ", Rule::differ),
    ("differs", Rule::differ),
    ("edition", Rule::edition),
    ("else", Rule::otherwise),
    ("end", Rule::end_if),
    ("end-if", Rule::end_if),
    ("endif", Rule::end_if),
    ("even", Rule::even),
    ("fill", Rule::fills),
    ("fills", Rule::fills),
    ("for", Rule::for_purpose),
    ("from", Rule::from),
    ("goes", Rule::goes),
    ("grip", Rule::grip),
    ("grips", Rule::grip),
    ("hazard", Rule::hazard),
    ("helps", Rule::helps),
    ("hold", Rule::hold),
    ("holds", Rule::holds),
    ("if", Rule::if_so),
    ("in", Rule::in_force),
    ("item", Rule::item),
    ("keep", Rule::keep),
    ("keeps", Rule::keep),
    ("laid", Rule::laid),
    ("laminated", Rule::laminated),
    ("language", Rule::language),
    ("lead", Rule::leads),
    ("leads", Rule::leads),
    ("level", Rule::level),
    ("link", Rule::link),
    ("look", Rule::look_for),
    ("looks", Rule::look_for),
    ("meet", Rule::meets),
    ("meets", Rule::meets),
    ("need", Rule::needs),
    ("needs", Rule::needs),
    ("no", Rule::answers),
    ("not", Rule::not_on),
    ("on", Rule::on_paper),
    ("otherwise", Rule::otherwise),
    ("owner", Rule::owner),
    ("page", Rule::page),
    ("pages", Rule::page),
    ("part", Rule::part),
    ("picture", Rule::picture),
    ("pictures", Rule::picture),
    ("place", Rule::place),
    ("policy", Rule::policy),
    ("print", Rule::print),
    ("prints", Rule::print),
    ("read", Rule::read_from),
    ("replace", Rule::replaces),
    ("replaces", Rule::replaces),
    ("reused", Rule::reused),
    ("review", Rule::review_by),
    ("role", Rule::role),
    ("run", Rule::runs),
    ("runs", Rule::runs),
    ("say", Rule::say),
    ("says", Rule::say),
    ("sequence", Rule::sequence),
    ("sharp", Rule::sharp),
    ("single", Rule::single),
    ("single-use", Rule::single),
    ("site", Rule::site),
    ("size", Rule::sizes),
    ("sizes", Rule::sizes),
    ("source", Rule::source),
    ("spread", Rule::spreads),
    ("spreads", Rule::spreads),
    ("stands", Rule::stands),
    ("starts", Rule::starts),
    ("stay", Rule::stay),
    ("stays", Rule::stay),
    ("stop", Rule::stop_if),
    ("stops", Rule::stop_if),
    ("strength", Rule::strength),
    ("surface", Rule::surface),
    ("takes", Rule::takes),
    ("then", Rule::then),
    ("this", Rule::house),
    ("tuck", Rule::tucks),
    ("tucks", Rule::tucks),
    ("use", Rule::uses),
    ("warning", Rule::warning),
    ("watch", Rule::watches),
    ("watches", Rule::watches),
    ("way", Rule::way),
    ("wet", Rule::wet),
    ("withdrawn", Rule::withdrawn),
    ("worn", Rule::worn),
    ("worth", Rule::worth),
    ("yes", Rule::answers),
];
