//! What the README shows, the program says. Transcripts stand in blocks marked `console`: a line with `$ `, and the answer
//! on a terminal of 100 columns without colour. `UPDATE_README=1` writes them anew.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::commands::told;

fn on_a_terminal(arguments: &str) -> String {
    let command = format!("{} {arguments}", env!("CARGO_BIN_EXE_anteroom"));
    let mut script = Command::new("script");
    script.args(["-qec", &command, "/dev/null"]).current_dir(env!("CARGO_MANIFEST_DIR")).stdin(Stdio::null());
    script.env("TERM", "xterm").env("NO_COLOR", "1").env("COLUMNS", "100");
    let (_, out, _) = told(script.output().unwrap());
    out.replace("\r\n", "\n").lines().map(str::trim_end).collect::<Vec<_>>().join("\n").trim_end().to_string()
}

#[test]
fn transcripts_are_what_the_program_says() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md");
    let readme = fs::read_to_string(&path).unwrap();
    let mut parts: Vec<String> = readme.split("```console\n").map(str::to_string).collect();
    assert!(parts.len() > 1, "the README has a transcript");
    for part in &mut parts[1..] {
        let (block, rest) = part.split_once("```").unwrap();
        let command = block.lines().next().unwrap();
        let arguments =
            command.strip_prefix("$ anteroom ").unwrap_or_else(|| panic!("not a command of ours: {command}"));
        let answer = on_a_terminal(arguments);
        *part = format!("{command}\n{answer}\n```{rest}");
    }
    let told = parts.join("```console\n");
    if std::env::var_os("UPDATE_README").is_some() {
        fs::write(&path, &told).unwrap();
    }
    assert!(readme == told, "the README is out of date: UPDATE_README=1 cargo test transcripts\n{told}");
}

#[test]
fn every_command_is_in_the_table_and_every_picture_is_there() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let readme = fs::read_to_string(root.join("README.md")).unwrap();
    let help = on_a_terminal("--help");
    let commands: Vec<&str> = help
        .lines()
        .skip_while(|line| !line.starts_with("Commands:"))
        .skip(1)
        .take_while(|line| !line.is_empty())
        .filter_map(|line| line.strip_prefix("  ")?.split_whitespace().next().filter(|_| !line.starts_with("   ")))
        .collect();
    assert!(commands.len() >= 8, "{help}");
    for command in commands {
        assert!(readme.contains(&format!("| `anteroom {command}")), "{command} is not in the README's table");
    }
    let pictures: Vec<&str> =
        readme.split("](tests/pictures/").skip(1).map(|rest| rest.split(')').next().unwrap()).collect();
    assert!(pictures.len() >= 3, "the tour has pictures");
    for picture in pictures {
        let about = fs::metadata(root.join("tests/pictures").join(picture));
        assert!(about.is_ok_and(|about| about.len() < 300_000), "{picture} is missing or too large");
    }
}
