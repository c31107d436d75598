//! The people who may sign, in the form of ssh's ALLOWED SIGNERS file (ssh-keygen(1)).
//!
//! In: the text of the file. Out: keys, whose they are, for what and from when to when. Must never guess at a line: one that
//! is not understood makes the whole file unusable.

use std::collections::BTreeSet;

use jiff::civil::{DateTime, Time};
use ssh_key::PublicKey;
use ssh_key::public::KeyData;

use crate::policy::Day;

#[derive(Clone, Debug, Default)]
pub struct Signers {
    signers: Vec<Signer>,
}

#[derive(Clone, Debug)]
pub struct Signer {
    pub principals: Vec<String>,
    pub key: KeyData,
    namespaces: Option<String>,
    after: Option<Moment>,
    before: Option<Moment>,
    /// The key signs certificates; signatures by certificates are not taken.
    is_authority: bool,
}

/// A time on the hospital's clock, or on that of UTC.
#[derive(Clone, Copy, Debug)]
struct Moment {
    time: DateTime,
    is_utc: bool,
}

/// Lines that one file may have.
const MOST: usize = 1_000;

impl Signers {
    /// `Err`: the line, from 1, and why it is not understood, a clause.
    pub fn read(text: &str) -> Result<Signers, (usize, String)> {
        let mut signers = Vec::new();
        for (at, line) in text.lines().enumerate() {
            let line = line.trim_start_matches([' ', '\t']).trim_end();
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            if at >= MOST {
                return Err((at + 1, format!("no more than {MOST} lines are read")));
            }
            signers.push(Signer::read(line).map_err(|why| (at + 1, why))?);
        }
        Ok(Signers { signers })
    }

    /// Those whose key it is.
    pub fn of<'a>(&'a self, key: &'a KeyData) -> impl Iterator<Item = &'a Signer> {
        self.signers.iter().filter(move |signer| !signer.is_authority && signer.key == *key)
    }

    /// Every name of the person whose key it is, in the order of the file: names on one line are one person's, and so are lines
    /// that share a key or a name, whatever the case of its letters.
    pub fn person(&self, key: &KeyData) -> Vec<String> {
        let folded = |name: &String| name.to_lowercase();
        let (mut names, mut keys) = (BTreeSet::new(), BTreeSet::from([key]));
        loop {
            let before = (names.len(), keys.len());
            for signer in &self.signers {
                if keys.contains(&signer.key) || signer.principals.iter().any(|name| names.contains(&folded(name))) {
                    keys.insert(&signer.key);
                    names.extend(signer.principals.iter().map(folded));
                }
            }
            if before == (names.len(), keys.len()) {
                break;
            }
        }
        let all = self.signers.iter().flat_map(|signer| &signer.principals);
        all.filter(|name| names.remove(&folded(name))).cloned().collect()
    }
}

impl Signer {
    fn read(line: &str) -> Result<Signer, String> {
        let (principals, rest) = field(line)?;
        let principals: Vec<String> = principals.split(',').map(str::to_owned).collect();
        if principals.iter().any(|name| name.trim().is_empty()) {
            return Err("it names nobody".to_owned());
        }
        let mut signer = Signer {
            principals,
            key: KeyData::Ed25519(ssh_key::public::Ed25519PublicKey([0; 32])),
            namespaces: None,
            after: None,
            before: None,
            is_authority: false,
        };
        let mut rest = rest;
        if key(rest).is_none() && !is_kind_of_key(rest) {
            let end = options_end(rest);
            signer.options(&rest[..end])?;
            rest = rest[end..].trim_start();
        }
        signer.key = key(rest).ok_or("its key is not understood")?;
        Ok(signer)
    }

    fn options(&mut self, text: &str) -> Result<(), String> {
        for option in outside_quotes(text, ',') {
            let (name, value) = option.split_once('=').map_or((option, None), |(name, value)| (name, Some(value)));
            let value =
                value.map(|value| within_quotes(value).ok_or(format!("what {name} says is to stand in quotes")));
            let value = value.transpose()?;
            let once = |is_new: bool| is_new.then_some(()).ok_or_else(|| format!("it says {name} twice"));
            match (name.to_ascii_lowercase().as_str(), value) {
                ("cert-authority", None) => self.is_authority = true,
                ("namespaces", Some(list)) => {
                    once(self.namespaces.is_none())?;
                    self.namespaces = Some(list.to_owned());
                }
                ("valid-after", Some(time)) => {
                    once(self.after.is_none())?;
                    self.after = Some(Moment::read(time)?);
                }
                ("valid-before", Some(time)) => {
                    once(self.before.is_none())?;
                    self.before = Some(Moment::read(time)?);
                }
                _ => return Err(format!("“{name}” is no option that is known")),
            }
        }
        Ok(())
    }

    /// Whether it stands for one person: a pattern may stand for many.
    pub fn is_person(&self) -> bool {
        !self.principals.iter().any(|name| name.contains(['*', '?', '!']))
    }

    pub fn may_sign(&self, namespace: &str) -> bool {
        self.namespaces.as_ref().is_none_or(|list| is_in(list, namespace))
    }

    /// Whether the key is good over the whole of a day: when in the day it was used, nobody can tell from a signature.
    pub fn is_good_on(&self, day: Day) -> bool {
        let (start, end) = (day.0.to_datetime(Time::midnight()), day.0.to_datetime(Time::constant(23, 59, 59, 0)));
        self.after.is_none_or(|after| after.latest().is_some_and(|after| start >= after))
            && self.before.is_none_or(|before| before.earliest().is_some_and(|before| end <= before))
    }
}

/// Hours by which a clock can be ahead of UTC, and behind it.
const AHEAD: i64 = 14;
const BEHIND: i64 = 12;

impl Moment {
    /// `YYYYMMDD`, `YYYYMMDDHHMM` or `YYYYMMDDHHMMSS`, and `Z` for UTC.
    fn read(text: &str) -> Result<Moment, String> {
        let wrong = || format!("“{text}” is no time that is understood");
        let (digits, is_utc) = text.strip_suffix('Z').map_or((text, false), |digits| (digits, true));
        if !digits.bytes().all(|byte| byte.is_ascii_digit()) || ![8, 12, 14].contains(&digits.len()) {
            return Err(wrong());
        }
        let part = |from: usize, to: usize| digits.get(from..to).map_or(Some(0), |part| part.parse::<i16>().ok());
        let small = |from: usize, to: usize| part(from, to).and_then(|part| i8::try_from(part).ok());
        let read = || {
            let time = (small(8, 10)?, small(10, 12)?, small(12, 14)?);
            DateTime::new(part(0, 4)?, small(4, 6)?, small(6, 8)?, time.0, time.1, time.2, 0).ok()
        };
        read().map(|time| Moment { time, is_utc }).ok_or_else(wrong)
    }

    /// The latest time that a clock in the hospital can show at this moment.
    fn latest(self) -> Option<DateTime> {
        self.moved(AHEAD)
    }

    fn earliest(self) -> Option<DateTime> {
        self.moved(-BEHIND)
    }

    fn moved(self, hours: i64) -> Option<DateTime> {
        if !self.is_utc {
            return Some(self.time);
        }
        self.time.checked_add(jiff::Span::new().try_hours(hours).ok()?).ok()
    }
}

/// The first field of a line, which may stand in quotes, and what follows it.
fn field(line: &str) -> Result<(&str, &str), String> {
    if let Some(inside) = line.strip_prefix('"') {
        let (field, rest) = inside.split_once('"').ok_or("a quotation mark in it is never closed")?;
        return Ok((field, rest.trim_start()));
    }
    line.split_once([' ', '\t']).map(|(field, rest)| (field, rest.trim_start())).ok_or("it holds no key".to_owned())
}

fn key(text: &str) -> Option<KeyData> {
    let mut parts = text.split_whitespace();
    let (kind, key) = (parts.next()?, parts.next()?);
    PublicKey::from_openssh(&format!("{kind} {key}")).ok().map(|key| key.key_data().clone())
}

fn is_kind_of_key(text: &str) -> bool {
    ["ssh-", "ecdsa-", "sk-"].iter().any(|kind| text.starts_with(kind))
}

fn options_end(text: &str) -> usize {
    let mut is_quoted = false;
    let mut letters = text.char_indices();
    let end = letters.find(|(_, letter)| {
        is_quoted ^= *letter == '"';
        !is_quoted && letter.is_whitespace()
    });
    end.map_or(text.len(), |(at, _)| at)
}

fn within_quotes(text: &str) -> Option<&str> {
    text.strip_prefix('"')?.strip_suffix('"').filter(|inside| !inside.contains('"'))
}

fn outside_quotes(text: &str, at: char) -> Vec<&str> {
    let mut is_quoted = false;
    text.split(|letter| {
        is_quoted ^= letter == '"';
        !is_quoted && letter == at
    })
    .collect()
}

/// A list of patterns of ssh_config(5): `*`, `?`, and `!` for what is never in it.
fn is_in(list: &str, word: &str) -> bool {
    let mut is_in = false;
    for pattern in list.split(',') {
        match pattern.strip_prefix('!') {
            Some(never) if fits(never.as_bytes(), word.as_bytes()) => return false,
            Some(_) => {}
            None => is_in |= fits(pattern.as_bytes(), word.as_bytes()),
        }
    }
    is_in
}

/// Goes back to the last `*` only, so that time stays bounded.
fn fits(pattern: &[u8], word: &[u8]) -> bool {
    let (mut at, mut seen, mut star) = (0, 0, None);
    while seen < word.len() {
        match pattern.get(at) {
            Some(b'*') => {
                star = Some((at, seen));
                at += 1;
            }
            Some(&letter) if letter == b'?' || letter == word[seen] => {
                at += 1;
                seen += 1;
            }
            _ => match star {
                Some((before, from)) => {
                    star = Some((before, from + 1));
                    (at, seen) = (before + 1, from + 1);
                }
                None => return false,
            },
        }
    }
    pattern[at..].iter().all(|&letter| letter == b'*')
}
