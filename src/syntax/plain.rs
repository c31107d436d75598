//! Plain words for the grammar: what a rule is called in a message, and how its token is printed.
//!
//! In: rules of the grammar. Out: words for people. Must never let the name of a rule through; a test goes over them all.

use super::declared::Thing;
use super::parse::Rule;
use super::tree::{Spelling, TokenKind};

macro_rules! keywords {
    ($($rule:ident $word:literal,)*) => {
        /// The words of a keyword, in full.
        pub(super) fn keyword(rule: Rule) -> Option<&'static str> {
            match rule {
                $(Rule::$rule => Some($word),)*
                _ => None,
            }
        }

        /// A word of the language in quotes.
        pub(super) fn quoted(word: &str) -> Option<&'static str> {
            let all: &[(&str, &'static str)] = &[$(($word, concat!("“", $word, "”")),)*];
            all.iter().find(|(known, _)| *known == word).map(|(_, quoted)| *quoted)
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
    kw_accept "accept", kw_after "after", kw_against "against", kw_and "and", kw_approval "approval", kw_approved "approved", kw_are "are",
    kw_as "as", kw_at "at", kw_ask "ask", kw_assume "assume", kw_away "away", kw_back "back", kw_because "because",
    kw_beneath "beneath", kw_both "both", kw_breaks "breaks", kw_by "by", kw_carry "carry", kw_caution "caution",
    kw_change "change", kw_changes "changes", kw_checks "checks", kw_choice "choice", kw_clean "clean",
    kw_cleaner "cleaner", kw_cleans "cleans", kw_closes "closes", kw_confirms "confirms", kw_connects "connects",
    kw_container "container", kw_contaminated "contaminated", kw_contingency "contingency", kw_copies "copies",
    kw_covered "covered", kw_covers "covers", kw_cuts "cuts", kw_danger "danger", kw_dated "dated",
    kw_differ "differ", kw_disconnects "disconnects", kw_does "does", kw_don "put on", kw_doffing "taking off", kw_donning "putting on", kw_dons "puts on", kw_down "down",
    kw_edition "edition", kw_end "end", kw_endif "end if", kw_enters "goes to", kw_even "even", kw_every "every", kw_far "far",
    kw_fit "fit", kw_folds "folds", kw_for "for", kw_forbids "forbids", kw_force "force", kw_fresh "fresh",
    kw_from "from", kw_fronts "fronts", kw_gives "gives", kw_go "go", kw_goes "goes", kw_grip "grip",
    kw_hands "hands", kw_hazard "hazard", kw_helps "helps", kw_hold "hold", kw_holds "holds", kw_if "if",
    kw_in "in", kw_inside "inside", kw_into "into", kw_is "is", kw_item "item", kw_keep "keep", kw_laid "laid",
    kw_laminated "laminated", kw_language "language", kw_leads "leads", kw_level "level", kw_link "link",
    kw_longer "longer", kw_look "look", kw_meets "meets", kw_needs "needs", kw_no "no", kw_not "not", kw_not_short "not", kw_of "of",
    kw_off "off", kw_on "on", kw_onto "onto", kw_opens "opens", kw_or "or", kw_otherwise "otherwise", kw_out "out",
    kw_outranks "outranks", kw_outside "outside", kw_over "over", kw_owner "owner", kw_page "page",
    kw_pairs "pairs", kw_part "part", kw_people "people", kw_person "person", kw_place "place", kw_policy "policy", kw_picture "picture", kw_print "print", kw_pull "pull",
    kw_pulls "pulls", kw_put "put", kw_puts "puts", kw_putting "putting", kw_read "read", kw_remove "take off",
    kw_removes "takes off", kw_replaces "replaces", kw_reused "reused", kw_review "review", kw_role "role",
    kw_rolling "rolling", kw_fills "fills", kw_runs "runs", kw_say "say", kw_sequence "sequence", kw_sharp "sharp", kw_sides "sides",
    kw_single "single", kw_single_use "single use", kw_site "site", kw_sits "sits", kw_sizes "sizes",
    kw_slips "slip", kw_soil "soil", kw_source "source", kw_sprays "sprays", kw_spreads "spreads",
    kw_stands "stands", kw_start "start", kw_starts "starts", kw_stay "stay", kw_steps "steps", kw_stop "stop",
    kw_strength "strength", kw_surface "surface", kw_surfaces "surfaces", kw_switches "switches", kw_take "take",
    kw_takes "takes", kw_taking "taking", kw_test "test", kw_than "than", kw_the "the",
    kw_then "then", kw_this "this", kw_to "to", kw_together "together", kw_touches "touches", kw_tucks "tucks",
    kw_unless "unless", kw_unties "unties", kw_until "until", kw_up "up", kw_use "use", kw_visible "visible",
    kw_warning "warning", kw_watches "watches", kw_way "way", kw_wears "wears", kw_when "when", kw_wet "wet", kw_wipes "wipes",
    kw_with "with", kw_withdrawn "withdrawn", kw_worn "worn", kw_worth "worth", kw_yes "yes",
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
        Rule::house_rule => "a rule of the house, such as “goggles off before gown”",
        Rule::substance => "a substance, such as “chlorine”",
        Rule::other_role | Rule::helped => "a role, such as “wearer”",
        Rule::doer => "who acts, such as “wearer”",
        Rule::container_name | Rule::container_off => "a container",
        Rule::surface_off | Rule::surface_plain => "a surface",
        Rule::place_name | Rule::place_plain | Rule::way_place => "a place",
        Rule::level_name | Rule::level_before_in => "a level",
        Rule::print_of => "a level, a place or a role",
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
        Rule::print_of => Spelling::Declared(&[Thing::Level, Thing::Place, Thing::Role]),
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

#[cfg(test)]
mod tests {
    use super::super::parse::{Rule, rules};
    use super::super::seems::example;
    use super::{keyword, wanted};

    const GRAMMAR: &str = include_str!("../../grammar/policy.pest");

    /// Silent rules never reach a message, nor do whole sentences, fillers, and ways of writing that are put right.
    fn is_never_wanted(rule: Rule, name: &str) -> bool {
        let silent = GRAMMAR
            .lines()
            .any(|line| line.strip_prefix(name).is_some_and(|rest| rest.trim_start().starts_with("= _{")));
        silent || example(rule).is_some() || name.starts_with("filler_") || name.starts_with("apart_")
    }

    #[test]
    fn every_rule_of_the_grammar_has_plain_words() {
        let mut looked_at = 0;
        for &rule in rules() {
            let name = format!("{rule:?}");
            if is_never_wanted(rule, &name) {
                continue;
            }
            let words = wanted(rule).unwrap_or_default();
            assert!(!words.is_empty(), "{name} has no plain words");
            assert!(!words.contains('_'), "{name} lets its name through: {words}");
            let spells_itself = keyword(rule).is_some() || words.starts_with('“');
            assert!(!name.starts_with("kw_") || spells_itself, "{name}: {words}");
            looked_at += 1;
        }
        assert!(looked_at > 200, "only {looked_at} rules were looked at");
    }
}
