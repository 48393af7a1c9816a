//! The one table of keys: the page of it, the README's list, and what is odd about a sheet that spells a key otherwise.

use assert_cmd::Command;
use sheet::SheetTable;
use sheet::keys::{ROWS, find};

fn house(path: &str) -> String {
    let path = format!("{}/../../{path}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"))
}

#[test]
fn the_page_of_keys_is_the_table() {
    let page = report::en::keys();
    if std::env::var_os("INSTA_UPDATE").is_some_and(|how| how == "always") {
        let path = format!("{}/../../docs/keys.md", env!("CARGO_MANIFEST_DIR"));
        std::fs::create_dir_all(std::path::Path::new(&path).parent().expect("a folder"))
            .expect("a folder");
        std::fs::write(path, &page).expect("written");
    }
    assert_eq!(house("docs/keys.md"), page);
    let told = Command::cargo_bin("trundle")
        .expect("built")
        .arg("keys")
        .output()
        .expect("runs");
    assert_eq!(String::from_utf8(told.stdout).expect("UTF-8"), page);
}

/// Each kind with all its words, and what it is called on both sides of the water.
#[test]
fn the_kinds_are_listed() {
    let told = Command::cargo_bin("trundle")
        .expect("built")
        .args(["keys", "--kinds"])
        .output()
        .expect("runs");
    let told = String::from_utf8(told.stdout).expect("UTF-8");
    let rows = (told.lines()).filter(|line| line.starts_with("| `") && !line.contains("`kind`"));
    let words = [movement::WitnessKind::WORDS, movement::LeverKind::WORDS].concat();
    for (row, word) in rows.clone().zip(&words) {
        assert!(row.starts_with(&format!("| `{word}` |")), "{row}");
    }
    assert_eq!(rows.count(), words.len());
    assert!(told.contains("| `locking pin` | `stop pin` | locking pin | stop pin |"));
}

/// What stands in ticks in the first column of the README's table of keys, and the table it is said to stand in.
#[test]
fn the_readme_lists_keys_that_there_are() {
    let readme = house("README.md");
    let from = readme.find("| key | meaning |").expect("the table");
    let mut seen = 0;
    for line in readme[from..]
        .lines()
        .skip(2)
        .take_while(|line| line.starts_with('|'))
    {
        let cell = line.split('|').nth(1).expect("a cell");
        for key in cell.split('`').skip(1).step_by(2) {
            let key = key.trim_matches(['[', ']']);
            if key.contains(['"', '…'])
                || ROWS
                    .iter()
                    .any(|row| row.key == key && row.table == SheetTable::Sheet)
            {
                continue;
            }
            seen += 1;
            let key = key.replace("wheel_outside", "PART_outside");
            assert!(
                ROWS.iter().any(|row| row.key == key),
                "{key} is no key of a sheet"
            );
        }
    }
    assert!(seen > 10, "{seen} keys");
    assert!(find(SheetTable::Arbor, "wheel_outside_mm").is_some());
}

const GOOD: &str = include_str!("../../../movements/mantel.toml");

fn odd(from: &str, to: &str) -> Vec<String> {
    assert!(GOOD.contains(from), "{from}");
    let text = GOOD.replacen(from, to, 1);
    let sheet = sheet::read(text.as_bytes()).unwrap_or_else(|faults| panic!("{to}: {faults:?}"));
    let told = sheet
        .warnings
        .iter()
        .map(|w| report::en::misgiving(&w.what));
    told.collect()
}

#[test]
fn what_is_spelled_otherwise_or_beyond_the_usual_is_warned_of() {
    let mut told = String::new();
    for (from, to) in [
        ("spring_width_mm = 19", "spring_widht_mm = 19"),
        ("spring_width_mm = 19", "spring_width_cm = 19"),
        ("spring_width_mm = 19", "spring_width_um = 19000"),
        ("spring_thick_mm = 0.40", "spring_thick_mm = 40"),
        ("pivot_mm = 0.9", "pivot = 5"),
        ("pivot_mm = 0.9", "weight = 900"),
        ("pivot_mm = 0.9", "rim_mm = 4"),
        ("pivot_mm = 0.9", "star = 12"),
        ("pivot_mm = 0.9", "wheel_outside_mm = 0.4"),
        ("pivot_mm = 0.9", "weel_outside_mm = 40"),
    ] {
        let odd = odd(from, to);
        assert!(!odd.is_empty(), "{to}");
        told += &format!("{to}\n  {}\n", odd.join("\n  "));
    }
    insta::assert_snapshot!(told);
}

/// Keys that the help of a command tells of are keys of a sheet.
#[test]
fn the_help_tells_of_keys_that_there_are() {
    let mut seen = 0;
    for command in ["power", "count", "pendulum", "remesh", "oil", "strike"] {
        let help = Command::cargo_bin("trundle")
            .expect("built")
            .args([command, "--help"])
            .output()
            .expect("runs");
        let help = String::from_utf8(help.stdout).expect("UTF-8");
        for word in help.split(|c: char| !(c.is_ascii_lowercase() || c == '_')) {
            if sheet::keys::KeyUnit::of(word).is_none() || word.starts_with('_') {
                continue;
            }
            seen += 1;
            let known =
                ROWS.iter().any(|row| row.key == word) || find(SheetTable::Arbor, word).is_some();
            assert!(known, "{command} --help tells of {word}");
        }
    }
    assert!(seen > 20, "{seen} keys");
}

/// A sheet's words are read the same by every command, and what is odd in them is said by every one, in its place.
#[test]
fn every_command_that_reads_a_sheet_says_what_is_odd_on_it() {
    let sheet = GOOD.replacen("spring_width_mm = 19", "spring_width_cm = 19", 1);
    let line = GOOD
        .lines()
        .position(|line| line.starts_with("spring_width_mm = 19"));
    let line = line.expect("a spring's width") + 1;
    let lost = GOOD.replacen("wheel = 78", "wheel = \"?\"", 1);
    assert_ne!(lost, GOOD);
    let lost = lost.replacen("spring_width_mm = 19", "spring_width_cm = 19", 1);
    for (command, sheet) in [
        ("train", &sheet),
        ("order", &sheet),
        ("remesh", &sheet),
        ("strike", &sheet),
        ("power", &sheet),
        ("oil", &sheet),
        ("oil", &lost),
        ("count", &lost),
        ("pendulum", &sheet),
    ] {
        let run = Command::cargo_bin("trundle")
            .expect("built")
            .args([command, "-"])
            .write_stdin(sheet.as_str())
            .output()
            .expect("runs");
        let told = String::from_utf8(run.stderr).expect("UTF-8");
        let odd = format!("standard input:{line}:");
        assert!(
            told.starts_with(&odd) && told.contains("`spring_width_mm`"),
            "{command}: {told}"
        );
    }
}
