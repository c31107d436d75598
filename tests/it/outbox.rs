//! Files for people to keep: whole or not at all, and never outside the folder asked for.
//! The ways of failing are the operating system's own (POSIX rename, resource limits, a full device).

use std::fs;

use anteroom::faces::outbox::{Outbox, clean};
use camino::Utf8Path;

fn names_in(folder: &Utf8Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn a_file_is_replaced_whole_and_nothing_else_is_left() {
    let folder = tempfile::tempdir().unwrap();
    let folder = Utf8Path::from_path(folder.path()).unwrap();
    let outbox = Outbox::open(&folder.join("made/for/it")).unwrap();
    let path = outbox.put("Taking off", "pdf", b"old").unwrap();
    assert_eq!(path, folder.join("made/for/it/taking-off.pdf"));
    assert_eq!(outbox.put("Taking off", "pdf", b"new").unwrap(), path);
    assert_eq!(fs::read(&path).unwrap(), b"new");
    assert_eq!(names_in(outbox.folder()), ["taking-off.pdf"]);
}

#[test]
fn a_link_in_the_folder_leads_nothing_outside() {
    let folder = tempfile::tempdir().unwrap();
    let folder = Utf8Path::from_path(folder.path()).unwrap();
    fs::write(folder.join("precious.pdf"), "precious").unwrap();
    let outbox = Outbox::open(&folder.join("out")).unwrap();
    std::os::unix::fs::symlink(folder.join("precious.pdf"), folder.join("out/card.pdf")).unwrap();
    outbox.put("card", "pdf", b"card").unwrap();
    assert_eq!(fs::read_to_string(folder.join("precious.pdf")).unwrap(), "precious");
    assert_eq!(fs::read_to_string(folder.join("out/card.pdf")).unwrap(), "card");
}

#[test]
fn names_from_a_policy_become_plain_file_names() {
    let cleaned = [
        ("../../etc/passwd", "etc-passwd"),
        ("/etc/shadow", "etc-shadow"),
        ("Taking off: “Suite 3”", "taking-off-suite-3"),
        ("..", "unnamed"),
        ("", "unnamed"),
        ("a\0b\nc", "a-b-c"),
        ("C:\\ward\\x.pdf", "c-ward-x-pdf"),
        ("العزل", "unnamed"),
    ];
    for (name, expected) in cleaned {
        assert_eq!(clean(name), expected, "{name:?}");
    }
    assert_eq!(clean(&"long name ".repeat(50)).len(), 79);
}

#[test]
fn what_cannot_be_written_is_known_beforehand() {
    let folder = tempfile::tempdir().unwrap();
    let folder = Utf8Path::from_path(folder.path()).unwrap();
    fs::write(folder.join("file"), "in the way").unwrap();
    assert_eq!(Outbox::open(&folder.join("file")).unwrap_err(), "a file of that name is in the way");
    assert_eq!(Outbox::open(&folder.join("file/within")).unwrap_err(), "a file of that name is in the way");
    assert!(Outbox::open(Utf8Path::new("/proc/anteroom")).is_err());
}
