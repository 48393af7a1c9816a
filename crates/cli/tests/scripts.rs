//! What scripts read beside one object: several sheets at once, an object a line.

use assert_cmd::Command;
use serde_json::Value;

const ROOT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../..");
const GOOD: &str = "movements/halfpast.toml";
const SCHOOLROOM: &str = "movements/schoolroom.toml";
const ATTIC: &str = "movements/attic.toml";

fn trundle(args: &[&str], input: &str) -> (i32, String, String) {
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .current_dir(ROOT)
        .args(args)
        .write_stdin(input)
        .output()
        .expect("runs");
    (
        output.status.code().expect("an exit status"),
        String::from_utf8(output.stdout).expect("UTF-8"),
        String::from_utf8(output.stderr).expect("UTF-8"),
    )
}

fn spoiled() -> String {
    let text = std::fs::read_to_string(format!("{ROOT}/{GOOD}")).expect("the sample");
    let spoiled = text.replacen("seen_from = \"back\"", "seen_from = \"bakc\"", 1);
    assert_ne!(spoiled, text);
    spoiled
}

/// An object a line.
fn objects(out: &str) -> Vec<Value> {
    let lines = out.lines();
    lines
        .map(|line| serde_json::from_str(line).expect("an object"))
        .collect()
}

#[test]
fn every_sheet_is_told_of_whatever_is_wrong_with_others() {
    let (status, out, err) = trundle(&["check", GOOD, SCHOOLROOM], "");
    assert_eq!((status, err.as_str()), (0, ""));
    let by_itself = [GOOD, SCHOOLROOM].map(|sheet| trundle(&["check", sheet], "").1);
    assert_eq!(out, by_itself.concat());
    let (status, faulty_out, faulty) = trundle(&["check", GOOD, "-", SCHOOLROOM], &spoiled());
    assert_eq!((status, &faulty_out), (2, &out));
    assert_eq!(faulty, trundle(&["check", "-"], &spoiled()).2);
    // One that cannot be read weighs more: it is not known whether it is good.
    let (status, same, err) = trundle(&["check", "none.toml", GOOD, "-", SCHOOLROOM], &spoiled());
    assert_eq!((status, &same), (1, &out));
    assert!(
        err.contains("cannot read none.toml") && err.ends_with(&faulty),
        "{err}"
    );
    assert_eq!(trundle(&["check"], "").0, 2, "no sheet at all");
}

#[test]
fn a_check_is_an_object_for_each_sheet() {
    let args = [
        "check",
        "--json",
        GOOD,
        "-",
        ATTIC,
        "movements/lattice.toml",
    ];
    let (status, out, err) = trundle(&args, &spoiled());
    assert_eq!((status, err.as_str()), (2, ""), "faults are the answer");
    let told = objects(&out);
    let of = |key: &str| told.iter().map(|one| one[key].clone()).collect::<Vec<_>>();
    assert_eq!(of("good"), [true, false, true, true]);
    assert_eq!(
        of("file"),
        [GOOD, "standard input", ATTIC, "movements/lattice.toml"]
    );
    assert_eq!(told[0]["sheet"], "Wren Street half-hour clock");
    assert!(told[1]["sheet"].is_null());
    // The same as is told to people.
    let text = trundle(&["check", "-"], &spoiled()).2;
    let fault = &told[1]["faults"][0];
    let place = format!("standard input:{}:{}: ", fault["line"], fault["column"]);
    let says = fault["says"].as_str().expect("words");
    assert!(text.starts_with(&(place + says + "\n")), "{text}");
    let hint = fault["hint"].as_str().expect("a hint");
    assert!(text.contains(hint), "{hint}");
    assert_eq!(told[1]["more_faults"], 0);
    assert!(!told[2]["missing"].as_array().expect("a list").is_empty());
    let odd = &told[3]["warnings"][0];
    let text = trundle(&["check", "movements/lattice.toml"], "").1;
    let place = format!("lattice.toml:{}:{}: warning: ", odd["line"], odd["column"]);
    assert!(
        text.contains(&(place + odd["says"].as_str().expect("words"))),
        "{text}"
    );
    // An unread one has no object.
    let (status, out, err) = trundle(&["check", "--json", "none.toml", GOOD], "");
    assert_eq!((status, objects(&out).len()), (1, 1));
    assert!(err.contains("cannot read none.toml"), "{err}");
}

#[test]
fn what_cannot_come_out_stands_in_the_object() {
    let text = std::fs::read_to_string(format!("{ROOT}/movements/mantel.toml")).expect("a sheet");
    let sheet = text.replacen("wheel = 84\nturn_s = 3600", "wheel = 85\nturn_s = 3600", 1);
    assert_ne!(sheet, text);
    let (status, out, _) = trundle(&["check", "--json", "-"], &sheet);
    let told = &objects(&out)[0];
    assert_eq!((status, &told["good"]), (0, &Value::Bool(true)));
    let said = trundle(&["check", "-"], &sheet).1;
    let lines = told["cannot_come_out"].as_array().expect("a list");
    for line in lines {
        assert!(said.contains(line.as_str().expect("words")), "{line}");
    }
    assert!(!lines.is_empty(), "{said}");
}
