//! Lines written otherwise, lost, doubled or broken off: tidying and small habits change no finding, and whatever is lost,
//! the program answers.

use anteroom::session::{self, Checked, Reading};

use super::{gist, random, written};

/// What is told of the procedure, without places: tidying moves lines. What is told of the writing itself, tidying mends.
fn told(checked: &Checked) -> Vec<String> {
    let of_procedure = checked.findings.iter().filter(|finding| finding.name.family != "reading");
    let mut told: Vec<String> = of_procedure
        .map(|finding| {
            let words = (&finding.title, &finding.message, &finding.way_out, &finding.case, &finding.chain);
            format!("{} {words:?}", gist(finding))
        })
        .collect();
    told.sort();
    told
}

#[test]
fn tidying_changes_no_finding() {
    let mut findings = 0;
    for policy in written().iter().chain(&random(40)) {
        let checked = policy.check(&policy.text);
        let tidy = session::tidy(&checked.reading);
        let after = policy.check(&tidy);
        assert_eq!(told(&checked), told(&after), "{}\n{tidy}", policy.name);
        assert_eq!(checked.fingerprint, after.fingerprint, "{}: tidying keeps the meaning", policy.name);
        assert_eq!(session::tidy(&after.reading), tidy, "{}: what is tidy stays as it is", policy.name);
        findings += checked.findings.len();
    }
    assert!(findings > 400, "{findings} findings");
}

/// Bullets, full stops, capitals and no indentation, as people write lists.
fn as_people_write(text: &str) -> String {
    let mut out = String::new();
    let mut goes_on = false;
    for (at, line) in text.lines().map(str::trim).enumerate() {
        let is_plain = !line.is_empty() && !goes_on && !line.starts_with("note");
        goes_on = line.ends_with(',');
        let is_plain = is_plain && !goes_on;
        let mut letters = line.chars();
        match letters.next() {
            Some(first) if is_plain && at % 3 == 0 => {
                out += &format!("{}{}.\n", first.to_uppercase(), letters.as_str())
            }
            Some(_) if is_plain && at % 3 == 1 => out += &format!("• {line}\n"),
            _ => out += &format!("{line}\n"),
        }
    }
    out
}

#[test]
fn habits_of_writing_change_no_finding() {
    for policy in written().iter().chain(&random(20)) {
        let checked = policy.check(&policy.text);
        if !checked.reading.problems.is_empty() {
            continue;
        }
        let untidy = as_people_write(&policy.text);
        assert_eq!(told(&checked), told(&policy.check(&untidy)), "{}\n{untidy}", policy.name);
    }
}

/// The text with its line lost, doubled, or broken off in the middle.
fn damaged(lines: &[&str], at: usize, how: usize) -> String {
    let line = lines[at];
    let middle = line.char_indices().nth(line.chars().count() / 2).map_or(0, |(byte, _)| byte);
    let instead = match how {
        0 => vec![],
        1 => vec![line, line],
        _ => vec![&line[..middle]],
    };
    let all = lines[..at].iter().chain(&instead).chain(&lines[at + 1..]);
    all.flat_map(|line| [line, "\n"]).collect()
}

/// Every so manieth line of all policies in the ordinary test run; all of them with `ANTEROOM_EVERY_LINE=1`.
const STRIDE: usize = 83;

#[test]
fn a_line_lost_doubled_or_broken_off_is_answered() {
    let stride = if std::env::var_os("ANTEROOM_EVERY_LINE").is_some() { 1 } else { STRIDE };
    let (mut answered, mut alike) = (0, 0);
    for (number, policy) in written().iter().chain(&random(20)).enumerate() {
        let lines: Vec<&str> = policy.text.lines().collect();
        for at in (number % stride..lines.len()).step_by(stride) {
            for how in 0..3 {
                let checked = policy.check(&damaged(&lines, at, how));
                assert!(is_whole(&checked.reading), "{}, line {}, damage {how}", policy.name, at + 1);
                let doubtful = checked.walk.runs.iter().any(|run| run.is_doubtful());
                assert!(!doubtful, "{}, line {}, damage {how}: not the same when played alone", policy.name, at + 1);
                answered += 1;
                alike += usize::from(checked.findings.is_empty());
            }
        }
    }
    assert!(answered > 300 && alike * 2 < answered, "{answered} damaged policies, {alike} without a finding");
}

/// Every finding and every step stands somewhere in the text, at whole letters.
fn is_whole(reading: &Reading) -> bool {
    let steps = reading.policy.sequences.iter().flat_map(|sequence| &sequence.steps);
    let spans = reading.problems.iter().map(|problem| problem.span).chain(steps.map(|step| step.span));
    spans
        .into_iter()
        .all(|span| reading.sources.get(span.source).text.get(span.start as usize..span.end as usize).is_some())
}
