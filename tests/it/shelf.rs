//! Policy files on disk: what is read, under which name, and what never is.
//! The bounds are this project's own decision; no outside source.

use std::fs;
use std::os::unix::fs::symlink;

use anteroom::faces::shelf::{FolderShelf, LARGEST};
use anteroom::session::Shelf;
use camino::{Utf8Path, Utf8PathBuf};

struct Ward {
    folder: tempfile::TempDir,
}

impl Ward {
    fn new(files: &[(&str, &str)]) -> Ward {
        let folder = tempfile::tempdir().unwrap();
        for (name, text) in files {
            let path = folder.path().join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, text).unwrap();
        }
        Ward { folder }
    }

    fn path(&self, name: &str) -> Utf8PathBuf {
        Utf8Path::from_path(self.folder.path()).unwrap().join(name)
    }

    fn shelf(&self, policy: &str) -> FolderShelf {
        FolderShelf::open(&self.path(policy)).unwrap().0
    }

    fn why_not(&self, policy: &str) -> String {
        FolderShelf::open(&self.path(policy)).err().unwrap()
    }
}

#[test]
fn a_used_file_is_seen_from_the_file_that_says_it() {
    let ward =
        Ward::new(&[("ward/policy.ppe", "policy"), ("ward/common/items.ppe", "items"), ("ward/places.ppe", "places")]);
    let shelf = ward.shelf("ward/policy.ppe");
    let (items, text) = shelf.fetch(ward.path("ward/policy.ppe").as_str(), "common/items.ppe").unwrap();
    assert_eq!((items.as_str(), text.as_str()), (ward.path("ward/common/items.ppe").as_str(), "items"));
    let (places, _) = shelf.fetch(&items, "../places.ppe").unwrap();
    assert_eq!(places, ward.path("ward/places.ppe").as_str());
    let (again, _) = shelf.fetch(&items, "..\\common\\..\\places.ppe").unwrap();
    assert_eq!(again, places, "two ways of writing one file give one name");
}

#[test]
fn nothing_outside_the_folder_of_the_policy_is_read() {
    let ward = Ward::new(&[("ward/policy.ppe", ""), ("other/secret.ppe", "secret"), ("wardrobe/near.ppe", "")]);
    symlink(ward.path("other/secret.ppe"), ward.path("ward/link.ppe")).unwrap();
    symlink(ward.path("other"), ward.path("ward/linked")).unwrap();
    let shelf = ward.shelf("ward/policy.ppe");
    let outside = ward.path("other/secret.ppe");
    for written in ["../other/secret.ppe", "link.ppe", "linked/secret.ppe", "../wardrobe/near.ppe", outside.as_str()] {
        let why = shelf.fetch(ward.path("ward/policy.ppe").as_str(), written).unwrap_err();
        assert_eq!(why, "it lies outside the folder of the policy", "{written}");
    }
}

#[test]
fn a_missing_file_is_told_with_the_name_that_comes_near() {
    let ward = Ward::new(&[("policy.ppe", ""), ("common-items.ppe", "")]);
    let shelf = ward.shelf("policy.ppe");
    let why = shelf.fetch(ward.path("policy.ppe").as_str(), "comon-items.ppe").unwrap_err();
    assert_eq!(why, "there is no such file; did you mean “common-items.ppe”?");
    assert_eq!(ward.why_not("polcy.ppe"), "there is no such file; did you mean “policy.ppe”?");
    assert_eq!(ward.why_not("elsewhere/roster.ppe"), "there is no such file");
}

#[test]
fn a_folder_a_pipe_and_a_device_are_refused_without_waiting() {
    let ward = Ward::new(&[("folder/policy.ppe", "")]);
    assert_eq!(ward.why_not("folder"), "it is a folder: name a policy file in it");
    let pipe = ward.path("pipe.ppe");
    assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    assert_eq!(ward.why_not("pipe.ppe"), "it is a pipe or a device, not a file");
    let device = FolderShelf::open(Utf8Path::new("/dev/zero")).err().unwrap();
    assert_eq!(device, "it is a pipe or a device, not a file");
}

#[test]
fn text_that_is_not_utf_8_is_told_with_its_place() {
    let ward = Ward::new(&[]);
    let why = |bytes: &[u8]| {
        fs::write(ward.path("policy.ppe"), bytes).unwrap();
        ward.why_not("policy.ppe")
    };
    // É in ISO 8859-1, which Windows editors of old call ANSI.
    assert_eq!(
        why(b"policy \"A\"\nsite \"H\xc9pital\"\n"),
        "line 2, column 8 holds a letter that is not saved as UTF-8: save the file again as UTF-8"
    );
    assert!(why(b"\xff\xfep\0o\0l\0").contains("UTF-16"));
    assert!(why(b"PK\x03\x04\x14\x00\xff").contains("word processor's document"));
    assert!(why(b"%PDF-1.7\n\xe2\xe3\xcf\xd3").contains("a PDF"));
}

#[test]
fn sizes_are_bounded_for_one_file_and_for_all_together() {
    let large = "note x\n".repeat(250_000);
    let names: Vec<String> = (0..6).map(|at| format!("large-{at}.ppe")).collect();
    let mut files = vec![("policy.ppe", "")];
    files.extend(names.iter().map(|name| (name.as_str(), large.as_str())));
    let ward = Ward::new(&files);
    let huge = fs::File::create(ward.path("huge.ppe")).unwrap();
    huge.set_len(50 * 1024 * 1024).unwrap();
    assert_eq!(ward.why_not("huge.ppe"), "it is too large for a policy: 50 MB, where 2 MB is the limit");
    assert!((large.len() as u64) < LARGEST);
    let shelf = ward.shelf("policy.ppe");
    let fetch = |name: &str| shelf.fetch(ward.path("policy.ppe").as_str(), name);
    assert!((0..10).all(|_| fetch(&names[0]).is_ok()), "the same file counts once");
    let why = names.iter().find_map(|name| fetch(name).err()).unwrap();
    assert_eq!(why, "the files of this policy together hold more than 8 MB");
    let why = (0..1000).find_map(|_| fetch("policy.ppe").err().filter(|why| why.contains("times"))).unwrap();
    assert_eq!(why, "this policy asks for files more than 500 times");
}
