//! Plain words for the grammar: what a rule is called in a message, how its token is printed, and an example of each sentence.
//!
//! In: rules of the grammar. Out: words for people. Must never let the name of a rule through; a test goes over them all.

use super::declared::{Declared, Thing};
use super::figures::whole;
use super::parse::Rule;
use super::tree::{Spelling, TokenKind};
use super::written::JOINER;

macro_rules! keywords {
    ($($rule:ident $word:literal,)*) => {
        /// The words of a keyword, in full.
        pub(super) fn keyword(rule: Rule) -> Option<&'static str> {
            match rule {
                $(Rule::$rule => Some($word),)*
                _ => None,
            }
        }

        fn in_quotes(rule: Rule) -> Option<&'static str> {
            match rule {
                $(Rule::$rule => Some(concat!("“", $word, "”")),)*
                _ => None,
            }
        }
    };
}

keywords! {
    kw_accept "accept", kw_after "after", kw_against "against", kw_and "and", kw_approved "approved", kw_are "are",
    kw_as "as", kw_at "at", kw_ask "ask", kw_assume "assume", kw_away "away", kw_back "back", kw_because "because",
    kw_beneath "beneath", kw_both "both", kw_breaks "breaks", kw_by "by", kw_carry "carry", kw_caution "caution",
    kw_change "change", kw_changes "changes", kw_checks "checks", kw_choice "choice", kw_clean "clean",
    kw_cleaner "cleaner", kw_cleans "cleans", kw_closes "closes", kw_confirms "confirms", kw_connects "connects",
    kw_container "container", kw_contaminated "contaminated", kw_contingency "contingency", kw_copies "copies",
    kw_covered "covered", kw_covers "covers", kw_cuts "cuts", kw_danger "danger", kw_dated "dated",
    kw_disconnects "disconnects", kw_does "does", kw_don "put on", kw_dons "puts on", kw_down "down",
    kw_edition "edition", kw_end "end", kw_endif "end if", kw_even "even", kw_every "every", kw_far "far",
    kw_fit "fit", kw_folds "folds", kw_for "for", kw_forbids "forbids", kw_force "force", kw_fresh "fresh",
    kw_from "from", kw_fronts "fronts", kw_gives "gives", kw_go "go", kw_goes "goes", kw_grip "grip",
    kw_hands "hands", kw_hazard "hazard", kw_helps "helps", kw_hold "hold", kw_holds "holds", kw_if "if",
    kw_in "in", kw_inside "inside", kw_into "into", kw_is "is", kw_item "item", kw_keep "keep", kw_laid "laid",
    kw_laminated "laminated", kw_language "language", kw_leads "leads", kw_level "level", kw_link "link",
    kw_longer "longer", kw_look "look", kw_meets "meets", kw_needs "needs", kw_no "no", kw_not "not", kw_of "of",
    kw_off "off", kw_on "on", kw_onto "onto", kw_opens "opens", kw_or "or", kw_otherwise "otherwise", kw_out "out",
    kw_outranks "outranks", kw_outside "outside", kw_over "over", kw_owner "owner", kw_page "page",
    kw_pairs "pairs", kw_part "part", kw_place "place", kw_policy "policy", kw_print "print", kw_pull "pull",
    kw_pulls "pulls", kw_put "put", kw_puts "puts", kw_putting "putting", kw_read "read", kw_remove "take off",
    kw_removes "takes off", kw_replaces "replaces", kw_reused "reused", kw_review "review", kw_role "role",
    kw_rolling "rolling", kw_runs "runs", kw_say "say", kw_sequence "sequence", kw_sharp "sharp", kw_sides "sides",
    kw_single "single", kw_single_use "single use", kw_site "site", kw_sits "sits", kw_sizes "sizes",
    kw_slips "slip", kw_soil "soil", kw_source "source", kw_sprays "sprays", kw_spreads "spreads",
    kw_stands "stands", kw_start "start", kw_starts "starts", kw_stay "stay", kw_steps "steps", kw_stop "stop",
    kw_strength "strength", kw_surface "surface", kw_surfaces "surfaces", kw_switches "switches", kw_take "take",
    kw_takes "takes", kw_taking "taking", kw_test "test", kw_than "than", kw_the "the",
    kw_then "then", kw_this "this", kw_to "to", kw_together "together", kw_touches "touches", kw_tucks "tucks",
    kw_unless "unless", kw_unties "unties", kw_until "until", kw_up "up", kw_use "use", kw_visible "visible",
    kw_warning "warning", kw_watches "watches", kw_way "way", kw_wears "wears", kw_when "when", kw_wet "wet", kw_wipes "wipes",
    kw_with "with", kw_worn "worn", kw_worth "worth", kw_yes "yes",
}

/// What would go on at a place, for a sentence: “by”, an item, the end of the line.
pub(super) fn wanted(rule: Rule) -> Option<&'static str> {
    in_quotes(rule).or_else(|| phrase(rule))
}

fn phrase(rule: Rule) -> Option<&'static str> {
    Some(match rule {
        Rule::EOI => "the end of the line",
        Rule::comma | Rule::and_comma => "a comma",
        Rule::quote => "words in double quotes",
        Rule::bare | Rule::bare_before_for | Rule::bare_before_when => "words in double quotes",
        Rule::kw_is_or_are => "“is” or “are”",
        Rule::kw_it => "“it”",
        Rule::filler_of | Rule::filler_that | Rule::filler_the | Rule::filler_to => return None,
        Rule::number => "a number",
        Rule::unit => "a unit, such as “seconds”",
        Rule::date_figures | Rule::day => "a date, such as “2 November 2026”",
        Rule::month => "a month, such as “November”",
        Rule::year => "a year of four figures",
        Rule::new_source
        | Rule::new_hazard
        | Rule::new_role
        | Rule::new_item
        | Rule::new_surface
        | Rule::new_cleaner
        | Rule::new_container
        | Rule::new_question
        | Rule::new_place
        | Rule::new_level => "a name",
        Rule::new_part => "a part that is taken hold of, such as “ties”",
        Rule::area | Rule::area_on => "a part of the body, such as “hands”",
        Rule::route => "a hazard or a route, such as “contact”",
        Rule::list_item
        | Rule::item_on
        | Rule::item_off
        | Rule::item_with
        | Rule::item_to
        | Rule::item_from
        | Rule::item_of
        | Rule::item_plain
        | Rule::thing_of => "an item",
        Rule::thing_into | Rule::target | Rule::target_plain => "an item or a surface",
        Rule::list_cleaner | Rule::cleaner_used => "a cleaner",
        Rule::size => "a size",
        Rule::tag => "a language, such as “en-GB”",
        Rule::dating => "a year or a date",
        Rule::paging => "a page number",
        Rule::purpose => "what it is for, such as “clinical waste”",
        Rule::house_rule => "a house rule by its name",
        Rule::substance => "a substance, such as “chlorine”",
        Rule::other_role | Rule::helped => "a role, such as “wearer”",
        Rule::doer => "who acts, such as “wearer”",
        Rule::container_name | Rule::container_off => "a container",
        Rule::surface_off | Rule::surface_plain => "a surface",
        Rule::place_name | Rule::place_plain | Rule::way_place => "a place",
        Rule::level_name | Rule::level_before_in => "a level",
        Rule::citation => "a source",
        Rule::paper => "a paper size, such as “A3”",
        Rule::question => "a question",
        Rule::shield => "“skin”, “face” or “clothes”",
        Rule::aid => "a kind of aid, such as “poster”",
        Rule::finding => "a finding by its two words",
        Rule::event_subject => "what happens, such as “gloves are torn”",
        Rule::event_state | Rule::state => "a state, such as “torn”",
        Rule::subject => "a condition, such as “gown is soiled”",
        Rule::part_off => "a part, such as “ties”",
        _ => return None,
    })
}

/// The kind of a leaf, and how tidying prints it.
pub(super) fn token(rule: Rule) -> (TokenKind, Spelling) {
    if let Some(word) = keyword(rule) {
        return (TokenKind::Keyword, Spelling::Word(word));
    }
    match rule {
        Rule::filler_of | Rule::filler_that | Rule::filler_the | Rule::filler_to => {
            (TokenKind::Keyword, Spelling::Word(""))
        }
        Rule::kw_is_or_are | Rule::kw_it => (TokenKind::Keyword, Spelling::Lower),
        Rule::unit => (TokenKind::Keyword, Spelling::Unit),
        Rule::month => (TokenKind::Keyword, Spelling::Month),
        Rule::quote | Rule::bare | Rule::bare_before_for | Rule::bare_before_when => {
            (TokenKind::Quote, Spelling::AsWritten)
        }
        Rule::number | Rule::day | Rule::year | Rule::date_figures => (TokenKind::Number, Spelling::AsWritten),
        Rule::comma | Rule::and_comma => (TokenKind::Comma, Spelling::AsWritten),
        _ => (TokenKind::Name, spelling(rule)),
    }
}

fn spelling(rule: Rule) -> Spelling {
    const ITEM: &[Thing] = &[Thing::Item];
    const THING: &[Thing] = &[Thing::Item, Thing::Surface, Thing::Container, Thing::Role];
    match rule {
        Rule::new_source | Rule::citation => Spelling::Declared(&[Thing::Source]),
        Rule::new_hazard | Rule::route => Spelling::Declared(&[Thing::Hazard]),
        Rule::new_role | Rule::other_role | Rule::helped => Spelling::Declared(&[Thing::Role]),
        Rule::new_surface | Rule::surface_off | Rule::surface_plain => Spelling::Declared(&[Thing::Surface]),
        Rule::new_cleaner | Rule::list_cleaner | Rule::cleaner_used => Spelling::Declared(&[Thing::Cleaner]),
        Rule::new_container | Rule::container_name | Rule::container_off => Spelling::Declared(&[Thing::Container]),
        Rule::new_question | Rule::question => Spelling::Declared(&[Thing::Question]),
        Rule::new_place | Rule::place_name | Rule::place_plain | Rule::way_place => Spelling::Declared(&[Thing::Place]),
        Rule::new_level | Rule::level_name | Rule::level_before_in => Spelling::Declared(&[Thing::Level]),
        Rule::doer => Spelling::Declared(&[Thing::Role, Thing::Level]),
        Rule::new_item | Rule::list_item | Rule::item_on | Rule::item_off | Rule::item_with | Rule::item_plain => {
            Spelling::Declared(ITEM)
        }
        Rule::item_to | Rule::item_from | Rule::item_of => Spelling::Declared(ITEM),
        Rule::thing_into | Rule::target | Rule::target_plain | Rule::thing_of => Spelling::Declared(THING),
        Rule::subject | Rule::event_subject => Spelling::Declared(&[
            Thing::Question,
            Thing::Item,
            Thing::Role,
            Thing::Surface,
            Thing::Container,
            Thing::Place,
        ]),
        Rule::paper => Spelling::Upper,
        Rule::tag | Rule::dating | Rule::paging | Rule::size | Rule::apart_on | Rule::apart_off => Spelling::AsWritten,
        _ => Spelling::Lower,
    }
}

/// A right example of the sentence that a rule reads.
pub(super) fn example(rule: Rule) -> Option<&'static str> {
    Some(match rule {
        Rule::policy => "policy \"Side rooms: contact precautions\"",
        Rule::site => "site \"Saltmarsh District Hospital\"",
        Rule::edition => "edition 2",
        Rule::owner => "owner \"Infection Prevention and Control Team\"",
        Rule::approved => "approved by \"Infection Control Committee\" on 2 November 2026",
        Rule::in_force => "in force from 1 December 2026",
        Rule::review_by => "review by 1 June 2027",
        Rule::replaces => "replaces edition 1",
        Rule::language => "language en-GB",
        Rule::uses => "use \"shared-stores.ppe\"",
        Rule::source => "source local audit \"Audit of glove use\"",
        Rule::from => "from \"World Health Organization\"",
        Rule::dated => "dated 2016",
        Rule::page => "page 14",
        Rule::link => "link \"https://example.org/audit\"",
        Rule::hazard => "hazard vomit and stool",
        Rule::spreads => "spreads by contact, splash",
        Rule::place => "place lobby is for putting on",
        Rule::way => "way corridor to lobby to bed space",
        Rule::role => "role wearer",
        Rule::helps => "helps wearer",
        Rule::watches => "watches",
        Rule::leads => "leads",
        Rule::item => "item gown \"long-sleeved gown\"",
        Rule::covers => "covers trunk, arms",
        Rule::goes => "goes to clinical waste",
        Rule::tucks => "tucks into boots",
        Rule::grip => "grip ties on neck, cuff",
        Rule::holds => "holds 60 litres",
        Rule::connects => "connects to blower",
        Rule::meets => "meets \"EN 14126\"",
        Rule::needs => "needs fit test",
        Rule::single => "single use",
        Rule::reused => "reused after chlorine wipe",
        Rule::sharp => "sharp",
        Rule::runs => "runs for 4 hours",
        Rule::worn => "worn beneath",
        Rule::counted => "12 copies for \"exit lobby\"",
        Rule::sizes => "sizes small, medium, large",
        Rule::surface => "surface floor sheet",
        Rule::stands => "stands in exit lobby",
        Rule::laid => "laid in exit lobby",
        Rule::starts => "starts clean",
        Rule::cleaner => "cleaner hand rub \"alcohol hand rub\"",
        Rule::for_purpose => "for clinical waste",
        Rule::strength => "strength 1000 ppm chlorine",
        Rule::wet => "wet for 1 minute",
        Rule::not_on => "not on visible soil",
        Rule::worth => "worth 3 touches",
        Rule::container => "container sharps box",
        Rule::level => "level Splash against contact, splash",
        Rule::keep => "keep skin 3 touches away",
        Rule::even => "even after one slip keep skin 2 touches away",
        Rule::assume => "assume fronts are contaminated",
        Rule::stay => "stay no longer than 60 minutes",
        Rule::house => "this level needs buddy check",
        Rule::choice => "choice of level",
        Rule::ask => "ask splash is likely \"Could body fluid splash?\"",
        Rule::answers => "yes to splash is likely gives Splash",
        Rule::sequence => "sequence \"Putting on\" for Splash, in lobby",
        Rule::contingency => "contingency \"A glove tears\" when gloves are torn",
        Rule::part => "part \"Face\"",
        Rule::hold => "hold \"Clear to go in\"",
        Rule::if_not => "if not, go back to \"Face\"",
        Rule::if_so => "if gown is soiled",
        Rule::otherwise => "otherwise",
        Rule::end_if => "end if",
        Rule::then => "then carry on",
        Rule::spoken => "wearer puts on gown",
        Rule::say => "say \"Lean forward.\"",
        Rule::look_for => "look for \"Tears and visible soiling.\"",
        Rule::stop_if => "stop if \"A glove is torn.\"",
        Rule::caution => "caution \"Sit down to step in.\"",
        Rule::warning => "warning \"The outside is contaminated.\"",
        Rule::danger => "danger \"Do not touch the front.\"",
        Rule::because => "because \"The glove lies over the sleeve.\"",
        Rule::takes => "takes 30 seconds",
        Rule::print => "print poster of \"Putting on\"",
        Rule::on_paper => "on A3",
        Rule::read_from => "read from 2 metres",
        Rule::laminated => "laminated",
        Rule::both => "both sides",
        Rule::accept => "accept order covered at \"Taking off\" because \"Trialled in May.\" until 1 June 2027",
        _ => return None,
    })
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
    (&["goes", "go", "moves", "walks"], "wearer goes to lobby"),
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

/// The example of the sentence that a verb makes.
pub(super) fn example_of_verb(verb: &str) -> Option<&'static str> {
    VERBS.iter().find(|(words, _)| words.contains(&verb)).map(|(_, example)| *example)
}

/// The words with which a line may begin, and the rule that then reads it.
const OPENERS: &[(&str, Rule)] = &[
    ("accept", Rule::accept),
    ("approved", Rule::approved),
    ("ask", Rule::ask),
    ("asks", Rule::ask),
    ("assume", Rule::assume),
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
    ("edition", Rule::edition),
    ("else", Rule::otherwise),
    ("end", Rule::end_if),
    ("end-if", Rule::end_if),
    ("endif", Rule::end_if),
    ("even", Rule::even),
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
    ("laid", Rule::laid),
    ("laminated", Rule::laminated),
    ("language", Rule::language),
    ("lead", Rule::leads),
    ("leads", Rule::leads),
    ("level", Rule::level),
    ("link", Rule::link),
    ("look", Rule::look_for),
    ("meets", Rule::meets),
    ("needs", Rule::needs),
    ("no", Rule::answers),
    ("not", Rule::not_on),
    ("on", Rule::on_paper),
    ("otherwise", Rule::otherwise),
    ("owner", Rule::owner),
    ("page", Rule::page),
    ("pages", Rule::page),
    ("part", Rule::part),
    ("place", Rule::place),
    ("policy", Rule::policy),
    ("print", Rule::print),
    ("read", Rule::read_from),
    ("replaces", Rule::replaces),
    ("reused", Rule::reused),
    ("review", Rule::review_by),
    ("role", Rule::role),
    ("runs", Rule::runs),
    ("say", Rule::say),
    ("sequence", Rule::sequence),
    ("sharp", Rule::sharp),
    ("single", Rule::single),
    ("single-use", Rule::single),
    ("site", Rule::site),
    ("size", Rule::sizes),
    ("sizes", Rule::sizes),
    ("source", Rule::source),
    ("spreads", Rule::spreads),
    ("stands", Rule::stands),
    ("starts", Rule::starts),
    ("stay", Rule::stay),
    ("stop", Rule::stop_if),
    ("strength", Rule::strength),
    ("surface", Rule::surface),
    ("takes", Rule::takes),
    ("then", Rule::then),
    ("this", Rule::house),
    ("tucks", Rule::tucks),
    ("use", Rule::uses),
    ("warning", Rule::warning),
    ("watch", Rule::watches),
    ("watches", Rule::watches),
    ("way", Rule::way),
    ("wet", Rule::wet),
    ("worn", Rule::worn),
    ("worth", Rule::worth),
    ("yes", Rule::answers),
];

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

pub(super) fn opened_by(word: &str) -> Option<Rule> {
    let at = OPENERS.binary_search_by(|(opener, _)| (*opener).cmp(word)).ok()?;
    Some(OPENERS[at].1)
}
