//! What a policy means, as one canonical text, and the fingerprint of that text.
//!
//! In: a policy. Out: a text that is the same for two policies that say the same, however they are laid out, in whatever
//! case their names are written and in whatever order things are declared where order means nothing; and that differs
//! with every word that is printed or checked. Must never hold a place in the text, an identifier's number or a note.

use sha2::{Digest, Sha256};

use super::meaning_of_steps::{contingency, sequence};
use super::{
    Because, Choice, Citation, Cleaner, Container, Deviation, Exception, Hazard, Item, Level, Lies, Paper, Policy,
    Print, Role, Subject, Surface, Way,
};

/// The first eight hexadecimal digits of the SHA-256 (FIPS 180-4) of the policy's meaning.
pub fn fingerprint(policy: &Policy) -> String {
    digest(meaning(policy))[..8].to_owned()
}

/// The SHA-256 of a text or a file in lower-case hexadecimal digits.
pub fn digest(bytes: impl AsRef<[u8]>) -> String {
    Sha256::digest(bytes.as_ref()).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// One line for each thing that the policy says. Tables whose order means nothing are sorted.
pub fn meaning(policy: &Policy) -> String {
    let mut text = String::from("anteroom meaning 1\n");
    let mut section = |mut lines: Vec<String>, sorted: bool| {
        if sorted {
            lines.sort();
        }
        for line in lines {
            text.push_str(&line);
            text.push('\n');
        }
    };
    section(vec![paper(&policy.paper)], false);
    // Said only where a line says it: an edition without the line keeps the fingerprint that it had before there was one.
    let needs = |people: u32| line("approval needs", [people.to_string()]);
    section(policy.paper.approval_needs.into_iter().map(needs).collect(), false);
    section(policy.citations.iter().map(citation).collect(), true);
    section(policy.hazards.iter().map(hazard).collect(), true);
    section(
        policy.places.iter().map(|place| line("place", [folded(&place.name), place.kind.words().to_owned()])).collect(),
        true,
    );
    section(policy.ways.iter().map(|way| self::way(policy, way)).collect(), true);
    section(policy.roles.iter().map(|role| self::role(policy, role)).collect(), true);
    section(policy.items.iter().map(|item| self::item(policy, item)).collect(), true);
    section(policy.surfaces.iter().map(|surface| self::surface(policy, surface)).collect(), true);
    section(policy.cleaners.iter().map(cleaner).collect(), true);
    section(policy.containers.iter().map(|container| self::container(policy, container)).collect(), true);
    section(policy.levels.iter().map(|level| self::level(policy, level)).collect(), true);
    section(policy.choice.iter().flat_map(|choice| self::choice(policy, choice)).collect(), false);
    section(policy.sequences.iter().map(|each| sequence(policy, each)).collect(), false);
    section(policy.contingencies.iter().map(|each| contingency(policy, each)).collect(), true);
    section(policy.prints.iter().map(|print| self::print(policy, print)).collect(), true);
    section(policy.exceptions.iter().map(exception).collect(), true);
    section(policy.deviations.iter().map(|each| deviation(policy, each)).collect(), true);
    text
}

/// A line of fields that nothing in a field can imitate: each field is quoted.
pub(super) fn line(kind: &str, fields: impl IntoIterator<Item = String>) -> String {
    let mut line = kind.to_owned();
    for field in fields {
        line.push_str(" | ");
        for c in field.chars() {
            match c {
                '|' => line.push_str("\\|"),
                '\\' => line.push_str("\\\\"),
                '\n' => line.push_str("\\n"),
                '\r' => line.push_str("\\r"),
                c => line.push(c),
            }
        }
    }
    line
}

/// A name outside quotes: case and spacing mean nothing.
pub(crate) fn folded(name: &str) -> String {
    name.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

pub(super) fn maybe(value: &Option<impl ToString>) -> String {
    value.as_ref().map(ToString::to_string).unwrap_or_else(|| "-".to_owned())
}

pub(super) fn yes(flag: bool) -> String {
    if flag { "yes" } else { "no" }.to_owned()
}

/// A list whose order means something, as one field.
pub(super) fn list(parts: impl IntoIterator<Item = String>) -> String {
    line("list", parts)
}

/// A list whose order means nothing.
pub(super) fn set(parts: impl IntoIterator<Item = String>) -> String {
    let mut parts: Vec<String> = parts.into_iter().collect();
    parts.sort();
    line("set", parts)
}

fn paper(paper: &Paper) -> String {
    // Withdrawing an edition changes nothing that it says: its copies on the walls keep their fingerprint, and are known by it.
    let Paper {
        title,
        site,
        edition,
        owner,
        approval,
        approval_needs: _,
        in_force,
        review_by,
        withdrawn: _,
        replaces,
        link,
        language,
        spans: _,
        is_policy,
    } = paper;
    let approval = approval.as_ref().map(|approval| list([approval.by.clone(), approval.on.to_string()]));
    let fields = [
        maybe(title),
        maybe(site),
        maybe(edition),
        maybe(owner),
        maybe(&approval),
        maybe(in_force),
        maybe(review_by),
        maybe(replaces),
        maybe(&language.as_ref().map(|language| folded(language))),
        yes(*is_policy),
    ];
    line("paper", fields.into_iter().chain(link.clone()))
}

fn citation(citation: &Citation) -> String {
    let Citation { name, title, from, dated, page, link, span: _ } = citation;
    line("source", [folded(name), title.clone(), maybe(from), maybe(dated), maybe(page), maybe(link)])
}

fn hazard(hazard: &Hazard) -> String {
    let Hazard { name, spreads_by, span: _ } = hazard;
    line("hazard", [folded(name), set(spreads_by.iter().map(|route| route.word().to_owned()))])
}

fn way(policy: &Policy, way: &Way) -> String {
    line("way", way.places.iter().map(|&place| folded(&policy.place(place).name)))
}

fn role(policy: &Policy, role: &Role) -> String {
    let Role { name, helps, watches, leads, span: _ } = role;
    let helps = set(helps.iter().map(|&id| folded(&policy.role(id).name)));
    line("role", [folded(name), helps, yes(*watches), yes(*leads)])
}

fn item(policy: &Policy, item: &Item) -> String {
    let Item {
        name,
        printed,
        covers,
        goes_over,
        tucks_into,
        holds_down,
        connects_to,
        grips,
        meets,
        picture,
        needs_fit_test,
        single_use,
        reused_after,
        goes_to,
        sharp,
        runs_for,
        millilitres,
        worn_beneath,
        pairs,
        sizes,
        span: _,
    } = item;
    let items = |ids: &[super::ItemId]| set(ids.iter().map(|&id| folded(&policy.item(id).name)));
    let grips = grips.iter().map(|grip| match grip.lies {
        Lies::ByCustom => grip.part.clone(),
        Lies::On(area) => format!("{} on {}", grip.part, area.word()),
    });
    let reuse =
        reused_after.as_ref().map(|reuse| set(reuse.cleaners.iter().map(|&id| folded(&policy.cleaner(id).name))));
    let goes_to = goes_to.map(|id| folded(&policy.container(id).name));
    let mut told = vec![
        folded(name),
        printed_words(name, printed),
        set(covers.iter().map(|area| area.word().to_owned())),
        items(goes_over),
        items(tucks_into),
        items(holds_down),
        items(connects_to),
        list(grips),
        list(meets.iter().cloned()),
        yes(*needs_fit_test),
        yes(*single_use),
        maybe(&reuse),
        maybe(&goes_to),
        yes(*sharp),
        maybe(runs_for),
        maybe(millilitres),
        yes(*worn_beneath),
        maybe(pairs),
        list(sizes.iter().map(|size| folded(size))),
    ];
    // A policy that names no drawing means what it always did.
    told.extend(picture.as_ref().map(|picture| maybe(&picture.svg.as_deref().map(digest))));
    line("item", told)
}

/// The printed words where they are quoted in the policy; the folded name where they are the name itself.
fn printed_words(name: &str, printed: &str) -> String {
    if name == printed { folded(name) } else { printed.to_owned() }
}

fn surface(policy: &Policy, surface: &Surface) -> String {
    let Surface { name, place, laid, starts_clean, starts_contaminated, goes_to, span: _ } = surface;
    let place = place.map(|id| folded(&policy.place(id).name));
    let goes_to = goes_to.map(|id| folded(&policy.container(id).name));
    line(
        "surface",
        [folded(name), maybe(&place), yes(*laid), yes(*starts_clean), yes(*starts_contaminated), maybe(&goes_to)],
    )
}

fn cleaner(cleaner: &Cleaner) -> String {
    let Cleaner {
        name,
        printed,
        for_hands,
        for_surfaces,
        strength_ppm,
        substance,
        wet_for,
        not_on_visible_soil,
        worth,
        span: _,
    } = cleaner;
    line(
        "cleaner",
        [
            folded(name),
            printed_words(name, printed),
            yes(*for_hands),
            yes(*for_surfaces),
            maybe(strength_ppm),
            maybe(substance),
            maybe(wet_for),
            yes(*not_on_visible_soil),
            maybe(worth),
        ],
    )
}

fn container(policy: &Policy, container: &Container) -> String {
    let Container { name, printed, purpose: _, purpose_words, place, millilitres, span: _ } = container;
    let place = place.map(|id| folded(&policy.place(id).name));
    line(
        "container",
        [folded(name), printed_words(name, printed), folded(purpose_words), maybe(&place), maybe(millilitres)],
    )
}

fn level(policy: &Policy, level: &Level) -> String {
    let Level { name, against_hazards, routes, kits, keep_covered, assume, margins, stay, wishes, span: _, extent: _ } =
        level;
    let kits = kits.iter().map(|kit| {
        let items = kit.items.iter().map(|worn| format!("{} x {}", worn.pairs, folded(&policy.item(worn.item).name)));
        list([folded(&policy.role(kit.role).name), list(items)])
    });
    let margins = margins.iter().map(|margin| format!("{:?} {} after {}", margin.shield, margin.touches, margin.slips));
    line(
        "level",
        [
            folded(name),
            set(against_hazards.iter().map(|&id| folded(&policy.hazard(id).name))),
            set(routes.iter().map(|route| route.word().to_owned())),
            set(kits),
            set(keep_covered.iter().map(|area| area.word().to_owned())),
            maybe(&assume.map(|assumption| format!("{assumption:?}"))),
            set(margins),
            maybe(stay),
            set(wishes.iter().filter(|wish| !wish.forbids).map(|wish| wish.words.clone())),
            set(wishes.iter().filter(|wish| wish.forbids).map(|wish| wish.words.clone())),
        ],
    )
}

/// The order of the questions is printed and the order of the verdicts decides.
fn choice(policy: &Policy, choice: &Choice) -> Vec<String> {
    let Choice { questions, verdicts, outranks, span: _, outrank_spans: _ } = choice;
    let mut lines: Vec<String> =
        questions.iter().map(|question| line("ask", [folded(&question.name), question.words.clone()])).collect();
    lines.extend(verdicts.iter().map(|verdict| {
        let answers = verdict.answers.iter().map(|(question, yes_to)| {
            let name = questions.get(question.index()).map(|question| folded(&question.name)).unwrap_or_default();
            format!("{} to {name}", yes(*yes_to))
        });
        line("gives", [set(answers), folded(&policy.level(verdict.level).name)])
    }));
    let ranks = outranks
        .iter()
        .map(|(higher, lower)| list([folded(&policy.level(*higher).name), folded(&policy.level(*lower).name)]));
    lines.push(line("outranks", [set(ranks)]));
    lines
}

fn print(policy: &Policy, print: &Print) -> String {
    let Print { kind, subject, paper, read_from_mm, copies, laminated, both_sides, span: _ } = print;
    let kind = format!("{kind:?}");
    let subject = match subject {
        Subject::Sequence(id) => list(["sequence".to_owned(), policy.sequence(*id).title.clone()]),
        Subject::Contingency(at) => {
            let title = policy.contingencies.get(*at).map(|each| each.title.clone());
            list(["contingency".to_owned(), title.unwrap_or_default()])
        }
        Subject::Level(id) => list(["level".to_owned(), folded(&policy.level(*id).name)]),
        Subject::Place(id) => list(["place".to_owned(), folded(&policy.place(*id).name)]),
        Subject::Role(id) => list(["role".to_owned(), folded(&policy.role(*id).name)]),
        Subject::Policy => "policy".to_owned(),
    };
    let copies = copies.iter().map(|(count, place)| list([count.to_string(), maybe(place)]));
    line(
        "print",
        [kind, subject, paper.word().to_owned(), maybe(read_from_mm), list(copies), yes(*laminated), yes(*both_sides)],
    )
}

fn exception(exception: &Exception) -> String {
    let Exception { finding, at, because, until, span: _, finding_span: _ } = exception;
    line("accept", [folded(finding), at.clone(), because.clone(), until.to_string()])
}

fn deviation(policy: &Policy, deviation: &Deviation) -> String {
    let Deviation { at, because: Because { reason, citation }, span: _ } = deviation;
    line("differ", [at.clone(), reason.clone(), maybe(&citation.map(|id| folded(&policy.citation(id).name)))])
}

#[cfg(test)]
mod tests {
    use super::{digest, line};

    /// FIPS 180-4; the example "abc" of the algorithm's published test values.
    #[test]
    fn the_digest_is_sha_256() {
        assert_eq!(digest("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }

    #[test]
    fn no_field_can_imitate_two() {
        let two = line("x", ["a".to_owned(), "b".to_owned()]);
        assert_ne!(two, line("x", ["a | b".to_owned()]));
        assert_ne!(two, line("x", ["a \\| b".to_owned()]));
    }
}
