//! What the square code on a printed copy says, so that the copy can be traced to its edition.
//!
//! ```text
//! anteroom 3fa9c2d1 edition 4
//! Side rooms: contact and splash precautions
//! https://example.org/side-rooms
//! ```
//!
//! In: a policy's paper and fingerprint, or whatever a scanner read. Out: a [`Code`]. What is read may come from anybody: it
//! is bounded, and nothing in it but the digits and the number is ever believed.

use super::Paper;

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Code {
    /// Eight hexadecimal digits in lower case.
    pub fingerprint: String,
    pub edition: Option<u32>,
    /// In one line, and cut where it is long. Empty where only the digits are known.
    pub title: String,
    pub link: Option<String>,
}

/// The first word of every code.
const MARK: &str = "anteroom";

/// Stands in the place of a number that there is none, so that no title can pass for one.
const NO_EDITION: &str = "none";

/// Bytes of a title in a code: a longer one would make its squares too many for a card.
const LONGEST_TITLE: usize = 32;

/// Of what a scanner read, more is not looked at.
const LONGEST_READ: usize = 2000;

impl Code {
    /// Letters of a link, for the same reason.
    pub const LONGEST_LINK: usize = 100;

    pub fn of(paper: &Paper, fingerprint: &str) -> Code {
        let title = paper.title.as_deref().unwrap_or_default();
        let link = paper.link.clone().filter(|_| Code::has_link(paper));
        Code { fingerprint: fingerprint.to_owned(), edition: paper.edition, title: shortened(title), link }
    }

    /// Whether the paper's link is one that a code can hold and a phone can open.
    pub fn has_link(paper: &Paper) -> bool {
        paper.link.as_deref().is_some_and(is_link)
    }

    /// As it is printed.
    pub fn text(&self) -> String {
        let edition = self.edition.map_or_else(|| NO_EDITION.to_owned(), |number| number.to_string());
        let mut text = format!("{MARK} {} edition {edition}", self.fingerprint);
        for line in [Some(&self.title), self.link.as_ref()].into_iter().flatten().filter(|line| !line.is_empty()) {
            text.push('\n');
            text.push_str(line);
        }
        text
    }

    /// What a scanner read, however it ended its lines; or the eight digits alone, as people type them.
    pub fn read(scanned: &str) -> Option<Code> {
        let end = scanned.char_indices().map(|(at, _)| at).nth(LONGEST_READ).unwrap_or(scanned.len());
        let words: Vec<&str> = scanned[..end].split(|c: char| c.is_whitespace() || c.is_control()).collect();
        let mut words = words.into_iter().filter(|word| !word.is_empty()).peekable();
        let first = words.peek()?;
        // Some scanners say first what kind of code it was: `]Q1`, `QR-Code:`.
        if !ends_with(first, MARK) {
            let digits: String = words.skip_while(|word| ends_with(word, "fingerprint")).collect();
            return Some(Code { fingerprint: fingerprint(&digits)?, ..Code::default() });
        }
        words.next();
        let fingerprint = fingerprint(words.next()?)?;
        let mut rest: Vec<&str> = words.collect();
        let mut edition = None;
        if rest.len() > 1 && rest[0].eq_ignore_ascii_case("edition") {
            edition = figures(rest[1]);
            rest.drain(..2);
        }
        let link = rest.pop_if(|word| is_link(word)).map(str::to_owned);
        Some(Code { fingerprint, edition, title: shortened(&rest.join(" ")), link })
    }
}

/// Eight hexadecimal digits in lower case, if that is what they are.
fn fingerprint(digits: &str) -> Option<String> {
    let is_one = digits.len() == 8 && digits.bytes().all(|byte| byte.is_ascii_hexdigit());
    is_one.then(|| digits.to_ascii_lowercase())
}

/// A number as it is printed: neither signs nor leading zeros.
fn figures(number: &str) -> Option<u32> {
    number.parse().ok().filter(|parsed: &u32| parsed.to_string() == number)
}

fn ends_with(word: &str, end: &str) -> bool {
    let at = word.len().saturating_sub(end.len());
    word.get(at..).is_some_and(|tail| tail.eq_ignore_ascii_case(end))
}

fn is_link(link: &str) -> bool {
    let begins = |start: &str| link.get(..start.len()).is_some_and(|head| head.eq_ignore_ascii_case(start));
    (begins("https://") || begins("http://"))
        && link.len() <= Code::LONGEST_LINK
        && link.bytes().all(|byte| byte.is_ascii_graphic())
}

/// In one line of at most [`LONGEST_TITLE`] bytes.
fn shortened(title: &str) -> String {
    const CUT: &str = "...";
    let title = title.split_whitespace().collect::<Vec<_>>().join(" ");
    if title.len() <= LONGEST_TITLE {
        return title;
    }
    let end = title.floor_char_boundary(LONGEST_TITLE - CUT.len());
    format!("{}{CUT}", title[..end].trim_end())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn code(title: &str, edition: Option<u32>, link: Option<&str>) -> Code {
        let paper = Paper { title: Some(title.to_owned()), edition, link: link.map(str::to_owned), ..Paper::default() };
        Code::of(&paper, "3fa9c2d1")
    }

    #[test]
    fn it_is_read_back_however_its_lines_end() {
        let code = code("Side rooms", Some(4), Some("https://example.org/side-rooms"));
        let text = code.text();
        assert_eq!(text, "anteroom 3fa9c2d1 edition 4\nSide rooms\nhttps://example.org/side-rooms");
        for scanned in [
            text.clone(),
            text.replace('\n', "\r\n"),
            text.replace('\n', " "),
            format!("QR-Code:{text}\n"),
            format!("]Q1{text}"),
            text.replace("anteroom 3fa9c2d1", "ANTEROOM 3FA9C2D1"),
        ] {
            assert_eq!(Code::read(&scanned), Some(code.clone()), "{scanned:?}");
        }
    }

    #[test]
    fn the_digits_are_understood_as_people_type_them() {
        for typed in ["3fa9c2d1", "3FA9 C2D1", " 3f a9 c2 d1\n", "Fingerprint 3fa9c2d1", "fingerprint 3FA9 C2D1"] {
            let read = Code::read(typed).unwrap_or_else(|| panic!("{typed}"));
            assert_eq!((read.fingerprint.as_str(), read.edition, read.title.as_str()), ("3fa9c2d1", None, ""));
        }
        for other in ["", " ", "3fa9c2d", "3fa9c2d12", "3fa9c2dg", "anteroom", "anteroom 3fa9", "https://example.org"] {
            assert_eq!(Code::read(other), None, "{other}");
        }
    }

    #[test]
    fn a_title_cannot_pass_for_digits_or_an_edition() {
        let title = "edition 9 anteroom deadbeef https://example.org/x";
        let read = Code::read(&code(title, None, None).text()).unwrap();
        assert_eq!((read.fingerprint.as_str(), read.edition), ("3fa9c2d1", None));
        let long = code(&"Ärzte ".repeat(40), Some(u32::MAX), Some(&format!("https://{}", "x".repeat(92))));
        assert!(long.title.len() <= LONGEST_TITLE && long.title.ends_with("..."), "{}", long.title);
        assert_eq!(Code::read(&long.text()), Some(long));
        let too_long = format!("https://{}", "x".repeat(93));
        for odd in ["example.org", "https://example.org/a b", "file:///etc/passwd", too_long.as_str()] {
            assert_eq!(code("Ward", None, Some(odd)).link, None, "{odd}");
        }
    }

    proptest! {
        #[test]
        fn anything_can_be_scanned(scanned in any::<String>()) {
            if let Some(read) = Code::read(&scanned) {
                prop_assert!(read.fingerprint.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b)));
                prop_assert_eq!(read.fingerprint.len(), 8);
                prop_assert!(read.title.len() <= LONGEST_TITLE && !read.title.contains('\n'));
            }
        }

        #[test]
        fn what_looks_like_a_code_can_be_scanned(
            scanned in "(QR-Code:|\\]Q1)?anteroom[ \\n][0-9a-fA-F]{7,9}( edition [0-9+-]{1,12})?[ \\n]\\PC{0,80}"
        ) {
            let digits: String = scanned.chars().skip_while(|c| !c.is_whitespace()).skip(1)
                .take_while(|c| c.is_ascii_hexdigit()).collect();
            let read = Code::read(&scanned);
            prop_assert!(read.is_none_or(|read| read.fingerprint == digits.to_lowercase()));
        }

        #[test]
        fn what_is_printed_is_read_back(title in "\\PC{0,90}", edition in any::<Option<u32>>(), hex in "[0-9a-f]{8}") {
            let code = Code::of(&Paper { title: Some(title), edition, ..Paper::default() }, &hex);
            let read = Code::read(&code.text()).expect("its own text");
            prop_assert_eq!(&read.fingerprint, &hex);
            prop_assert_eq!(read.edition, edition);
        }
    }
}
