//! Characters that mislead a reader: unseen ones, ones that turn the direction of reading, and letters of other scripts
//! that look like Latin ones.
//!
//! In: characters. Out: what they do and what they are called. Must never decide where they may stand.
//!
//! Sources: Unicode Standard Annex 9 (directional formatting characters), the Default_Ignorable_Code_Point property, and
//! Unicode Technical Standard 39, confusables, with whose data a test compares the table of twins.

/// What a character does to a reader.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Misleads {
    /// Nobody sees it.
    Hidden,
    /// It turns the direction of reading.
    Direction,
    /// It looks like this Latin letter.
    LooksLike(char),
}

pub fn misleads(c: char) -> Option<Misleads> {
    if c.is_ascii() {
        let control = c.is_ascii_control() && !matches!(c, '\t' | '\n' | '\r');
        return control.then_some(Misleads::Hidden);
    }
    match c {
        '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => {
            Some(Misleads::Direction)
        }
        '\u{85}' => None,
        '\u{80}'..='\u{9f}' => Some(Misleads::Hidden),
        _ if is_unseen(c) || is_private(c) => Some(Misleads::Hidden),
        _ => latin_twin(c).map(Misleads::LooksLike),
    }
}

/// The characters of a text that nobody sees or that turn the direction of reading, with their places. Not among them:
/// joiners between letters of scripts that are written with them, and what only chooses the look of a symbol.
pub fn unseen_in(text: &str) -> impl Iterator<Item = (usize, char, Misleads)> {
    let mut before = None;
    let mut characters = text.char_indices().peekable();
    std::iter::from_fn(move || {
        loop {
            let (at, c) = characters.next()?;
            let after = characters.peek().map(|(_, next)| *next);
            let left = before.replace(c);
            match misleads(c) {
                Some(what @ (Misleads::Hidden | Misleads::Direction)) if !is_needed(c, left, after) => {
                    return Some((at, c, what));
                }
                _ => {}
            }
        }
    })
}

fn is_needed(c: char, before: Option<char>, after: Option<char>) -> bool {
    match c {
        '\u{200c}' | '\u{200d}' => {
            before.is_some_and(is_joining) && after.is_none_or(|c| is_joining(c) || c.is_whitespace())
        }
        '\u{fe0e}' | '\u{fe0f}' => {
            before.is_some_and(|c| !c.is_ascii() && !c.is_alphanumeric() && misleads(c).is_none())
        }
        _ => false,
    }
}

/// Letters of the Arabic, Indic and South-East Asian scripts, whose shapes depend on their neighbours.
fn is_joining(c: char) -> bool {
    matches!(u32::from(c), 0x600..=0x8ff | 0x900..=0xdff | 0x1000..=0x109f | 0x1780..=0x17ff | 0x1800..=0x18af)
}

fn is_unseen(c: char) -> bool {
    matches!(c,
        '\u{ad}' | '\u{34f}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}' | '\u{180b}'..='\u{180f}'
        | '\u{200b}'..='\u{200d}' | '\u{2060}'..='\u{2065}' | '\u{206a}'..='\u{206f}' | '\u{3164}'
        | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{ffa0}' | '\u{fff0}'..='\u{fffb}' | '\u{1bca0}'..='\u{1bca3}'
        | '\u{1d173}'..='\u{1d17a}' | '\u{e0000}'..='\u{e0fff}')
}

fn is_private(c: char) -> bool {
    matches!(c, '\u{e000}'..='\u{f8ff}' | '\u{f0000}'..='\u{10ffff}')
}

/// Letters of other scripts with a Latin twin: first the letter, then its twin.
const TWINS: &str = "аaеeіiјjоoрpсcуyхxѕsԁdһhԛqԝwАAВBЕEЅSІIЈJКKМMНHОOРPСCТTУYХXԌGԚQԜWҮYӏl\
                     αaιiοoρpνvγyΑAΒBΕEΖZΗHΙIΚKΜMΝNΟOΡPΤTΥYΧXϲcϳjϹC\
                     օoսuհhոnցgզqՍUՕOՏSᎪAᏴBᏟCᎠDᎬEᏀGᎻHᎥiᎫJᏦKᏞLᎷMᏢPᏒRᏚSᎢTᏙVᎳWᏃZ\
                     ⅰiⅼlⅽcⅾdⅿmⅠIⅤVⅩXⅬLⅭCⅮDⅯMıiɑaɡgɩi\
                     ͿJσoυuϒYϜFϭoϱpϸpϺMЬbгrшwѡwѴVѵvүyҺhҽeӀlՠmաwգqյjռnւiքfᎡRᎩYᎽYᏂhᏏbᏔWᏕSᏧdᏳG";

/// The Latin letter that a letter of another script, or a letter in fancy dress, looks like.
pub fn latin_twin(c: char) -> Option<char> {
    let code = u32::from(c);
    match code {
        0..=0x130 => None,
        0xff21..=0xff3a => char::from_u32(code - 0xff21 + u32::from('A')),
        0xff41..=0xff5a => char::from_u32(code - 0xff41 + u32::from('a')),
        // Mathematical letters: thirteen alphabets of 26 capitals and 26 small letters.
        0x1d400..=0x1d6a3 => {
            let place = (code - 0x1d400) % 52;
            let base = if place < 26 { u32::from('A') } else { u32::from('a') - 26 };
            char::from_u32(base + place)
        }
        _ => {
            let mut letters = TWINS.chars();
            while let (Some(letter), Some(twin)) = (letters.next(), letters.next()) {
                if letter == c {
                    return Some(twin);
                }
            }
            None
        }
    }
}

/// What people call it, with its number: `right-to-left override (U+202E)`.
pub fn title(c: char) -> String {
    let name = match c {
        '\u{ad}' => "soft hyphen",
        '\u{200b}' => "zero-width space",
        '\u{200c}' => "zero-width non-joiner",
        '\u{200d}' => "zero-width joiner",
        '\u{2060}' => "word joiner",
        '\u{feff}' => "byte-order mark",
        '\u{200e}' => "left-to-right mark",
        '\u{200f}' => "right-to-left mark",
        '\u{61c}' => "Arabic letter mark",
        '\u{202a}' => "left-to-right embedding",
        '\u{202b}' => "right-to-left embedding",
        '\u{202c}' => "end of embedding or override",
        '\u{202d}' => "left-to-right override",
        '\u{202e}' => "right-to-left override",
        '\u{2066}' => "left-to-right isolate",
        '\u{2067}' => "right-to-left isolate",
        '\u{2068}' => "first strong isolate",
        '\u{2069}' => "end of isolate",
        '\u{fe00}'..='\u{fe0f}' => "variation selector",
        '\u{e0000}'..='\u{e007f}' => "tag character",
        _ if c.is_control() => "control character",
        _ if is_private(c) => "private character",
        _ => "invisible character",
    };
    format!("{name} (U+{:04X})", u32::from(c))
}

/// The script of a letter that has a Latin twin, as people call it.
pub fn script(c: char) -> &'static str {
    match u32::from(c) {
        0x370..=0x3ff => "Greek",
        0x400..=0x52f => "Cyrillic",
        0x530..=0x58f => "Armenian",
        0x13a0..=0x13ff => "Cherokee",
        0x2160..=0x217f => "Roman-numeral",
        0xff00..=0xff60 => "full-width",
        0x1d400..=0x1d7ff => "mathematical",
        _ => "look-alike",
    }
}
