//! What witnesses and levers are called: by what the sheet says, or by what follows from it, and never by their names.

use assert_cmd::Command;
use serde_json::Value;

const ROOT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../..");

/// What each witness and lever of a sheet is taken for, in order.
fn taken(text: &str) -> [Vec<String>; 2] {
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .args(["train", "-", "--json"])
        .write_stdin(text)
        .output()
        .expect("runs");
    let told: Value = serde_json::from_slice(&output.stdout).expect("one object");
    ["witnesses", "levers"].map(|of| {
        let all = told[of].as_array().expect("a list").iter();
        all.map(|one| one["kind"].as_str().expect("a kind").to_owned())
            .collect()
    })
}

fn sample(name: &str) -> String {
    std::fs::read_to_string(format!("{ROOT}/movements/{name}.toml")).expect("a sample")
}

/// Every witness and lever called by a number.
fn renamed(text: &str) -> String {
    let (mut table, mut n) = ("", 0);
    let mut lines = Vec::new();
    for line in text.lines() {
        if line.starts_with('[') {
            table = line;
        }
        if ["[[witness]]", "[[lever]]"].contains(&table) && line.starts_with("id = ") {
            n += 1;
            lines.push(format!("id = \"a{n}\""));
        } else {
            lines.push(line.to_owned());
        }
    }
    lines.join("\n")
}

#[test]
fn what_they_are_follows_from_what_is_on_their_arbors() {
    let [witnesses, levers] = taken(&sample("schoolroom"));
    assert_eq!(witnesses, ["slot", "hammer tail", "locking pin"]);
    let arms = ["count lever", "drop lever", "locking arm"];
    let lifting = ["lifting lever", "lifting arm", "warning arm", "hammer tail"];
    assert_eq!(levers, [&arms[..], &lifting].concat());
    let [witnesses, levers] = taken(&sample("parlour"));
    assert_eq!(witnesses, ["hammer tail", "warning pin"]);
    assert_eq!(levers[..2], ["rack pin", "hook"]);
    let [witnesses, _] = taken(&sample("quarters"));
    // One note of a cylinder that has many is no tail between pins.
    let chime = ["slot", "plain", "locking pin"];
    assert_eq!(
        witnesses,
        [&["hammer tail", "warning pin"][..], &chime].concat()
    );
    // Without levers only a count wheel tells itself, by its many places.
    let text = sample("schoolroom");
    let bare = text.split("\n# Levers").next().expect("a text");
    let [witnesses, levers] = taken(bare);
    assert_eq!(witnesses, ["slot", "plain", "plain"]);
    assert!(levers.is_empty());
}

#[test]
fn no_name_says_what_a_thing_is() {
    let mut seen = 0;
    for sheet in std::fs::read_dir(format!("{ROOT}/movements")).expect("samples") {
        let path = sheet.expect("a sample").path();
        let text = std::fs::read_to_string(&path).expect("a text");
        if sheet::read(text.as_bytes()).is_ok() {
            seen += 1;
            assert_eq!(taken(&renamed(&text)), taken(&text), "{path:?}");
        }
    }
    assert!(seen > 10, "{seen} samples");
}

#[test]
fn what_a_sheet_says_stands() {
    let text = sample("parlour");
    let pallet = "[[witness]]\nid = \"gathers\"\nsays = \"the pallet\"\non = \"gathering\"\nrepeats = 1\nwindow_deg = [-90, 0]\nbest_deg = -45\n";
    let at = text.find("[[witness]]").expect("a witness");
    let with = format!("{}{pallet}\n{}", &text[..at], &text[at..]);
    let kinds = |text: &str| taken(text)[0].clone();
    assert_eq!(kinds(&with)[0], "gathering pallet");
    let told = with.replacen(
        "id = \"gathers\"",
        "id = \"gathers\"\nkind = \"stop_pin\"",
        1,
    );
    assert_eq!(kinds(&told)[0], "locking pin");
}

/// With its place and every word that may stand there.
#[test]
fn a_word_that_is_no_kind_is_a_fault() {
    let witness = ("repeats = 8", movement::WitnessKind::WORDS);
    let lever = ("feels = \"rack\"", movement::LeverKind::WORDS);
    for ((at, words), written, near) in [
        (witness, "\"hammer tale\"", Some("hammer tail")),
        (witness, "\"hour hand\"", None),
        (witness, "9", None),
        (lever, "\"cuont lever\"", Some("count lever")),
        (lever, "\"\"", None),
    ] {
        let text = sample("parlour").replacen(at, &format!("kind = {written}\n{at}"), 1);
        let line = text.lines().position(|line| line.starts_with("kind"));
        let output = Command::cargo_bin("trundle")
            .expect("built")
            .args(["check", "-"])
            .write_stdin(text)
            .output()
            .expect("runs");
        let err = String::from_utf8(output.stderr).expect("UTF-8");
        assert_eq!((output.status.code(), output.stdout.len()), (Some(2), 0));
        let place = format!("standard input:{}:8: got ", line.expect("written") + 1);
        assert!(err.contains(&place), "{err}");
        for word in words {
            assert!(err.contains(&format!("`\"{word}\"`")), "{word}: {err}");
        }
        let meant = near.map(|near| format!("did you mean `{near}`?"));
        assert!(meant.is_none_or(|meant| err.contains(&meant)), "{err}");
        assert_eq!(err.contains("did you mean"), near.is_some(), "{err}");
    }
}
