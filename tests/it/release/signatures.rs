//! Signatures that ssh-keygen (OpenSSH) makes, taken or not by it and by us.

use std::fs;

use anteroom::release::Signers;
use anteroom::release::signature::{NAMESPACE, signed};

use super::{Ward, on, verify};

/// The kinds of keys, and what `ssh-keygen -t` asks for.
const KINDS: [(&str, &[&str]); 3] =
    [("ana", &["ed25519"]), ("ben", &["ecdsa", "-b", "256"]), ("cem", &["rsa", "-b", "3072"])];

/// What it is, the allowed signers, the message, the signature, and whether it is to be taken.
type Case<'a> = (&'a str, String, &'a [u8], &'a [u8], bool);

const MANIFEST: &[u8] = b"{\n\"edition\":3\n}\n";

/// Whether we take it, and whether ssh-keygen does over the whole of the day, in UTC.
fn both(ward: &Ward, allowed: &str, principal: &str, day: &str, message: &[u8], signature: &[u8]) -> (bool, bool) {
    fs::write(ward.path().join("allowed"), allowed).unwrap();
    let ours = Signers::read(allowed).is_ok_and(|signers| {
        signed(signature, message, &signers, on(day)).is_ok_and(|signed| signed.by.iter().any(|name| name == principal))
    });
    let moments = ["000000", "120000", "235959"].map(|time| format!("{}{time}", day.replace('-', "")));
    (ours, moments.iter().all(|moment| verify(ward.path(), principal, moment, message, signature)))
}

#[test]
fn what_one_takes_the_other_takes() {
    let ward = Ward::new(&[]);
    let day = "2026-09-22";
    for (name, kind) in KINDS {
        ward.key(name, kind);
        let (good, other) = (ward.sign(name, NAMESPACE, MANIFEST), ward.sign(name, "file", MANIFEST));
        let key = ward.public(name);
        let who = format!("{name}@example.org");
        let cases: [Case; 21] = [
            ("plain", format!("{who} {key}\n"), MANIFEST, &good, true),
            ("among others", format!("# Team\n\n  zoe@example.org,{who} {key} a remark\n"), MANIFEST, &good, true),
            ("another purpose", format!("{who} {key}\n"), MANIFEST, &other, false),
            ("changed", format!("{who} {key}\n"), b"{\n\"edition\":4\n}\n", &good, false),
            ("cut short", format!("{who} {key}\n"), &MANIFEST[1..], &good, false),
            ("somebody else", format!("zoe@example.org {key}\n"), MANIFEST, &good, false),
            ("nobody", "# Nobody.\n".into(), MANIFEST, &good, false),
            ("for this", format!("{who} namespaces=\"{NAMESPACE}\" {key}\n"), MANIFEST, &good, true),
            ("for many", format!("{who} namespaces=\"git,anteroom-*\" {key}\n"), MANIFEST, &good, true),
            ("for something else", format!("{who} namespaces=\"file,git\" {key}\n"), MANIFEST, &good, false),
            ("for all but this", format!("{who} namespaces=\"*,!anteroom-release\" {key}\n"), MANIFEST, &good, false),
            ("expired", format!("{who} valid-before=\"20260922\" {key}\n"), MANIFEST, &good, false),
            ("expires tomorrow", format!("{who} valid-before=\"20260923\" {key}\n"), MANIFEST, &good, true),
            ("expires at noon", format!("{who} valid-before=\"202609221159\" {key}\n"), MANIFEST, &good, false),
            ("from today", format!("{who} valid-after=\"20260922\" {key}\n"), MANIFEST, &good, true),
            ("from tomorrow", format!("{who} valid-after=\"20260923\" {key}\n"), MANIFEST, &good, false),
            ("from noon", format!("{who} Valid-After=\"20260922120001\" {key}\n"), MANIFEST, &good, false),
            (
                "both",
                format!("{who} valid-after=\"20260101\",valid-before=\"20270101\" {key}\n"),
                MANIFEST,
                &good,
                true,
            ),
            ("without quotes", format!("{who} valid-after=20260101 {key}\n"), MANIFEST, &good, false),
            ("an authority", format!("{who} cert-authority {key}\n"), MANIFEST, &good, false),
            ("an unknown option", format!("{who} no-such-thing {key}\n"), MANIFEST, &good, false),
        ];
        for (case, allowed, message, signature, is_good) in cases {
            let taken = both(&ward, &allowed, &who, day, message, signature);
            assert_eq!(taken, (is_good, is_good), "{name}, {case}: ours, ssh-keygen's");
        }
        // One that has expired and one that has not: either line is enough.
        let two = format!("{who} valid-before=\"20250101\" {key}\n{who} {key}\n");
        assert_eq!(both(&ward, &two, &who, day, MANIFEST, &good), (true, true), "{name}");
    }
}

/// A byte of the signature changed: whatever we take, ssh-keygen takes too.
#[test]
fn no_changed_signature_is_taken_that_ssh_keygen_would_not_take() {
    let ward = Ward::new(&[]);
    ward.key("ana", &["ed25519"]);
    let good = ward.sign("ana", NAMESPACE, MANIFEST);
    let allowed = format!("ana@example.org {}\n", ward.public("ana"));
    fs::write(ward.path().join("allowed"), &allowed).unwrap();
    let signers = Signers::read(&allowed).unwrap();
    let takes = |signature: &[u8]| signed(signature, MANIFEST, &signers, on("2026-09-22"));
    assert_eq!(takes(&good).unwrap().by, ["ana@example.org"]);
    for at in 0..good.len() {
        for to in [good[at] ^ 1, b'A', b'\n', 0xff] {
            let mut changed = good.clone();
            changed[at] = to;
            if changed != good && takes(&changed).is_ok() {
                let theirs = verify(ward.path(), "ana@example.org", "20260922", MANIFEST, &changed);
                assert!(theirs, "byte {at} is {to}: {}", String::from_utf8_lossy(&changed));
            }
        }
        assert!(takes(&good[..at]).is_err() || at + 1 == good.len(), "cut at {at}");
    }
}

#[test]
fn why_a_signature_does_not_count_is_told() {
    let ward = Ward::new(&[]);
    ward.key("ana", &["ed25519"]);
    ward.key("ben", &["ecdsa", "-b", "384"]);
    ward.key("cem", &["rsa", "-b", "1024"]);
    let key = ward.public("ana");
    let told = |allowed: &str, name: &str, namespace: &str| {
        let signature = ward.sign(name, namespace, MANIFEST);
        signed(&signature, MANIFEST, &Signers::read(allowed).unwrap(), on("2026-09-22")).unwrap_err()
    };
    let allowed = format!("ana@example.org {key}\n");
    assert_eq!(told(&allowed, "ana", "git"), "it was made for another purpose; sign with: -n anteroom-release");
    assert!(told(&allowed, "ben", NAMESPACE).starts_with("its key is of a kind that is not taken"));
    // NIST SP 800-131A: RSA keys of fewer than 2048 bits are no longer to be used.
    assert_eq!(told(&allowed, "cem", NAMESPACE), "its RSA key has 1024 bits, and no fewer than 2048 are taken");
    let pattern = told(&format!("*@example.org {key}\n"), "ana", NAMESPACE);
    assert!(pattern.ends_with("a pattern is not one person"), "{pattern}");
    let late = told(&format!("ana@example.org valid-before=\"20260801\" {key}\n"), "ana", NAMESPACE);
    assert_eq!(late, "by the allowed signers its key is not valid over the whole of 22 September 2026");
    let nothing = signed(b"-----BEGIN SSH SIGNATURE-----\n", MANIFEST, &Signers::default(), on("2026-09-22"));
    assert_eq!(nothing.unwrap_err(), "it is no signature that ssh-keygen makes");
}

#[test]
fn a_line_of_the_allowed_signers_that_is_not_understood_is_told() {
    let key = "ssh-ed25519 AAAAC3NzaC1lZDI1NTE5AAAAIAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA";
    for (line, why) in [
        ("ana@example.org", "it holds no key"),
        ("ana@example.org ssh-ed25519 AAAA", "its key is not understood"),
        ("\"ana ssh-ed25519", "a quotation mark in it is never closed"),
        (&format!("ana@example.org valid-before=\"tomorrow\" {key}"), "“tomorrow” is no time that is understood"),
        (&format!("ana@example.org valid-before=\"20261131\" {key}"), "“20261131” is no time that is understood"),
        (
            &format!("ana@example.org valid-after=\"20260101\",valid-after=\"20260102\" {key}"),
            "it says valid-after twice",
        ),
        (&format!("ana@example.org namespaces=\"a\",namespaces=\"b\" {key}"), "it says namespaces twice"),
        (&format!("ana@example.org touch {key}"), "“touch” is no option that is known"),
        (&format!(",ana@example.org {key}"), "it names nobody"),
    ] {
        assert_eq!(Signers::read(&format!("# Team\n{line}\n")).unwrap_err(), (2, why.to_owned()), "{line}");
    }
    assert!(Signers::read(&format!("\"Ana Lind\",ana@example.org {key}\n")).is_err(), "quotes hold the whole field");
    assert!(Signers::read(&format!("\"Ana Lind,ana@example.org\" {key}\n")).is_ok());
    // Every pair of quotes, commas and spaces can stand anywhere.
    for letters in ["\"", "\"\"", ",", "=", " ", "\t", "a=\"", "!*?", "Z", "\u{0}"] {
        for at in 0..60 {
            let mut line = format!("ana@example.org valid-before=\"20261101Z\" {key}");
            line.insert_str(at, letters);
            let _ = Signers::read(&line);
        }
    }
}

/// UTC in the allowed signers: the hospital's clock may be up to 14 hours ahead of it and 12 behind.
#[test]
fn a_time_in_utc_holds_wherever_the_hospital_is() {
    let ward = Ward::new(&[]);
    ward.key("ana", &["ed25519"]);
    let (signature, key) = (ward.sign("ana", NAMESPACE, MANIFEST), ward.public("ana"));
    let takes = |option: &str| {
        let (name, time) = option.split_once('=').unwrap();
        let signers = Signers::read(&format!("ana@example.org {name}=\"{time}\" {key}\n")).unwrap();
        signed(&signature, MANIFEST, &signers, on("2026-09-22")).is_ok()
    };
    for (option, is_good) in [
        ("valid-after=20260921Z", true),
        ("valid-after=202609211000Z", true),
        ("valid-after=202609211001Z", false),
        ("valid-after=20260922", true),
        ("valid-before=20260923Z", false),
        ("valid-before=202609231159Z", false),
        ("valid-before=202609231200Z", true),
        ("valid-before=20260923", true),
    ] {
        assert_eq!(takes(option), is_good, "{option}");
    }
}
