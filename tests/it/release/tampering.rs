//! A changed byte anywhere is found, and the file named. What is changed is changed on disk, a byte at a time.

use std::fs;
use std::path::{Path, PathBuf};

use anteroom::faces::archive::{Record, signers};
use anteroom::policy::meaning::digest;
use anteroom::release::signature::signed;
use anteroom::release::{Entry, Event, History, Log, Manifest, Signers, Stage};
use proptest::prelude::*;

use super::{Ward, files_beneath, on, utf8, ward_of_ana};

struct Kept {
    ward: Ward,
    /// The policy's folder, and the edition's in it.
    home: PathBuf,
    edition: PathBuf,
    signers: Signers,
}

/// An edition in force, by a short policy so that every byte can be tried.
fn kept() -> Kept {
    let ward = ward_of_ana(&[]);
    let edition = ward.path().join(ward.in_force("2026-09-20", "2026-10-01"));
    let home = edition.parent().unwrap().to_owned();
    let signers = signers(utf8(&ward.path().join("releases/allowed-signers"))).expect("signers");
    Kept { ward, home, edition, signers }
}

impl Kept {
    /// What is told, as `path: why`.
    fn told(&self) -> Vec<String> {
        let record = match Record::read(utf8(&self.home)) {
            Ok(record) => record,
            Err(fault) => return vec![format!("{}: {}", fault.path, fault.why)],
        };
        let editions = record.history.editions.iter().flat_map(|edition| record.faults_of(edition, &self.signers));
        editions.chain(record.strays()).map(|fault| format!("{}: {}", fault.path, fault.why)).collect()
    }

    /// Every byte of a file, changed in its lowest bit, in its highest, and to a line break.
    fn every_byte_is_missed(&self, file: &Path, step: usize) {
        let good = fs::read(file).unwrap();
        let name = file.file_name().unwrap().to_str().unwrap();
        for at in (0..good.len()).step_by(step) {
            for to in [good[at] ^ 1, good[at] ^ 0x80, b'\n'] {
                let mut changed = good.clone();
                changed[at] = to;
                if changed == good {
                    continue;
                }
                fs::write(file, &changed).unwrap();
                let told = self.told();
                assert!(told.iter().any(|fault| fault.contains(name)), "{name}, byte {at} is {to}: {told:?}");
            }
            fs::write(file, &good[..at]).unwrap();
            assert!(!self.told().is_empty() || (at == 0 && name == "log.jsonl"), "{name}, cut at {at}");
        }
        fs::write(file, [&good[..], b" "].concat()).unwrap();
        assert!(self.told().iter().any(|fault| fault.contains(name)), "{name}, a byte more");
        fs::write(file, good).unwrap();
        assert_eq!(self.told(), Vec::<String>::new());
    }
}

#[test]
fn every_byte_of_a_manifest_counts() {
    let kept = kept();
    kept.every_byte_is_missed(&kept.edition.join("manifest.json"), 1);
}

#[test]
fn every_byte_of_a_signature_counts() {
    let kept = kept();
    kept.every_byte_is_missed(&kept.edition.join("approvals/ana-example-org.sig"), 1);
}

/// Of a log that ends earlier, nothing tells but the hash of its last line, kept elsewhere; so it is only changed here.
#[test]
fn every_byte_of_a_log_counts() {
    let kept = kept();
    let file = kept.home.join("log.jsonl");
    let good = fs::read(&file).unwrap();
    for at in 0..good.len() {
        for to in [good[at] ^ 1, good[at] ^ 0x80, b'\n', b' '] {
            let mut changed = good.clone();
            changed[at] = to;
            if changed != good {
                fs::write(&file, &changed).unwrap();
                let told = kept.told();
                assert!(told.iter().any(|fault| fault.contains("log.jsonl: it")), "byte {at} is {to}: {told:?}");
            }
        }
    }
    // A line taken out, doubled, or put in another place.
    let text = String::from_utf8(good).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines.len(), 4);
    for (at, order) in
        [&[1, 2, 3][..], &[0, 2, 3], &[0, 1, 3], &[0, 0, 1, 2, 3], &[0, 2, 1, 3], &[0, 1, 2, 3, 3]].iter().enumerate()
    {
        let changed: String = order.iter().map(|&line| format!("{}\n", lines[line])).collect();
        assert!(Log::read(&changed).is_err(), "order {at}");
    }
    assert_eq!(Log::read(&text).unwrap().text(), text);
}

#[test]
fn every_source_counts() {
    let kept = kept();
    for file in files_beneath(&kept.edition.join("sources")) {
        kept.every_byte_is_missed(&file, 501);
    }
}

#[test]
fn what_is_missing_added_or_a_link_is_named() {
    let kept = kept();
    let told = |why: &str| {
        let told = kept.told();
        assert!(told.len() == 1 && told[0].ends_with(why), "{why}: {told:?}");
    };
    let source = kept.edition.join("sources/common.ppe");
    let away = kept.ward.path().join("away");
    fs::rename(&source, &away).unwrap();
    told("sources/common.ppe: it is missing");
    std::os::unix::fs::symlink(&away, &source).unwrap();
    told("sources/common.ppe: it is a link or a device, not a file");
    fs::remove_file(&source).unwrap();
    fs::rename(&away, &source).unwrap();
    let added = kept.edition.join("prints/poster.pdf");
    fs::create_dir(kept.edition.join("prints")).unwrap();
    fs::write(&added, "%PDF").unwrap();
    told("prints/poster.pdf: it is no part of this edition");
    fs::remove_file(&added).unwrap();
    fs::remove_dir(kept.edition.join("prints")).unwrap();
    let stray = kept.home.join("edition-9-00000000");
    fs::create_dir(&stray).unwrap();
    told("edition-9-00000000: the log does not tell of it");
    fs::remove_dir(&stray).unwrap();
    let away = kept.ward.path().join("gone");
    fs::rename(&kept.edition, &away).unwrap();
    told("manifest.json: there is no such file");
    fs::rename(&away, &kept.edition).unwrap();
    assert_eq!(kept.told(), Vec::<String>::new());
    let (status, out, _) = kept.ward.run(&["release", "check"]);
    assert!(
        status == 0 && out.ends_with("Every file is as it was frozen, and every signature is on what was frozen.\n"),
        "{out}"
    );
    fs::write(&source, "changed").unwrap();
    let (status, out, _) = kept.ward.run(&["release", "check"]);
    assert!(status == 1 && out.contains("sources/common.ppe: it has changed since it was frozen.\n"), "{out}");
    // Nothing further is done with what has changed.
    let edition = kept.edition.strip_prefix(kept.ward.path()).unwrap().to_str().unwrap();
    let step = ["reviewed", edition, "--by", "Ana", "--review-by", "2028-01-01"];
    assert!(kept.ward.refused(&step, "2027-01-01").contains("it has changed since it was frozen"));
}

/// A log and a manifest written anew by somebody who knows how, with another text: the signature does not fit it.
#[test]
fn who_writes_everything_anew_lacks_the_signature() {
    let kept = kept();
    let path = kept.edition.join("manifest.json");
    let mut manifest = Manifest::read(&fs::read_to_string(&path).unwrap()).unwrap();
    let source = kept.edition.join("sources/side-rooms.ppe");
    let text = fs::read_to_string(&source).unwrap().replace("for 30 seconds", "for 3 seconds");
    fs::write(&source, &text).unwrap();
    for named in manifest.sources.iter_mut().filter(|named| named.path.ends_with("side-rooms.ppe")) {
        named.sha256 = digest(&text);
        named.bytes = text.len() as u64;
    }
    fs::write(&path, manifest.text()).unwrap();
    let mut log = Log::default();
    for mut entry in Log::read(&fs::read_to_string(kept.home.join("log.jsonl")).unwrap()).unwrap().entries {
        if let Event::Frozen { manifest: hash, .. } = &mut entry.event {
            *hash = digest(manifest.text());
        }
        log.add(entry);
    }
    fs::write(kept.home.join("log.jsonl"), log.text()).unwrap();
    let told = kept.told();
    assert!(
        told.len() == 1 && told[0].ends_with("ana-example-org.sig: it is not on this manifest as it is now"),
        "{told:?}"
    );
}

/// A log can name what it likes: nothing outside the edition's folder is read for it.
#[test]
fn a_log_leads_nowhere_else() {
    let kept = kept();
    let log = Log::read(&fs::read_to_string(kept.home.join("log.jsonl")).unwrap()).unwrap();
    for odd in ["..", "../x", "/etc", "a/b", "", "A", "a.b"] {
        let mut entry = log.entries[0].clone();
        entry.edition = odd.to_owned();
        assert!(History::default().take(&entry).is_err(), "{odd}");
    }
    for odd in ["approvals/../../x.sig", "../x.sig", "/etc/passwd", "approvals/x", "approvals/.sig"] {
        let mut history = History::default();
        log.entries[..2].iter().for_each(|entry| history.take(entry).unwrap());
        let Event::Signed { by, key, sha256, .. } = &log.entries[2].event else { panic!("a signature") };
        let (by, key, sha256) = (by.clone(), key.clone(), sha256.clone());
        let event = Event::Signed { by, key, sha256, signature: odd.to_owned() };
        assert!(history.take(&Entry { event, ..log.entries[2].clone() }).is_err(), "{odd}");
    }
}

proptest! {
    #[test]
    fn anything_can_be_read(bytes in prop::collection::vec(any::<u8>(), 0..400), text in "\\PC{0,200}") {
        let _ = signed(&bytes, b"x", &Signers::default(), on("2026-10-01"));
        for text in [String::from_utf8_lossy(&bytes).into_owned(), text] {
            let _ = (Signers::read(&text), Log::read(&text).is_ok(), Manifest::read(&text).is_ok());
            let pem = format!("-----BEGIN SSH SIGNATURE-----\n{text}\n-----END SSH SIGNATURE-----\n");
            let _ = signed(pem.as_bytes(), b"x", &Signers::default(), on("2026-10-01"));
        }
    }

    /// What a log could say, in any order: every entry is taken or refused, and what is refused changes nothing.
    #[test]
    fn anything_can_happen_in_a_log(steps in prop::collection::vec((0usize..8, 0usize..3, 0i8..4), 0..30)) {
        let (mut history, mut log) = (History::default(), Log::default());
        for (what, which, day) in steps {
            let day = on(&format!("2026-10-0{}", day + 1));
            let entry = Entry { day, edition: format!("edition-{which}"), event: event(what, which) };
            let before = format!("{history:?}");
            match history.take(&entry) {
                Ok(()) => log.add(entry),
                Err(_) => prop_assert_eq!(before, format!("{history:?}")),
            }
            let in_force = || history.editions.iter().filter(|edition| edition.stage == Stage::InForce);
            prop_assert!(in_force().count() <= 1 && in_force().all(|edition| edition.wanted() == 0));
        }
        let read = Log::read(log.text()).expect("its own text");
        prop_assert_eq!(format!("{:?}", History::of(&read).expect("taken before")), format!("{history:?}"));
    }
}

fn event(what: usize, which: usize) -> Event {
    let because = "Closed.".to_owned();
    match what {
        0 => Event::Frozen {
            fingerprint: format!("0000000{which}"),
            manifest: "0".repeat(64),
            needs: 1,
            number: Some(which as u32),
            policy: "Ward".to_owned(),
            site: None,
        },
        1 => Event::Submitted,
        2 => Event::SentBack { because },
        3 => Event::Signed {
            by: vec!["ana".to_owned()],
            key: "SHA256:x".to_owned(),
            sha256: "0".repeat(64),
            signature: "approvals/ana.sig".to_owned(),
        },
        4 => Event::PutInForce,
        5 => Event::Superseded { by: format!("edition-{}", (which + 1) % 3) },
        6 => Event::Withdrawn { because },
        _ => Event::Reviewed { by: "Ana".to_owned(), review_by: on("2027-10-01") },
    }
}
