//! What may take long: it says how far it has come, an interrupt ends it with what was found, and a run that goes on is cut short.

mod crowd;

use crowd::{FOURTEEN_MARKS, SEEN};
use serde_json::Value;
use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, Command, Stdio};

fn root() -> std::path::PathBuf {
    std::path::PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
}

fn sample(name: &str) -> String {
    std::fs::read_to_string(root().join(format!("movements/{name}.toml"))).expect(name)
}

/// Begins a command, its sheet on standard input, nothing of it a terminal.
fn begin(sheet: &str, how: &[&str]) -> Child {
    let mut child = Command::new(assert_cmd::cargo::cargo_bin!("trundle"))
        .args(how)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it runs");
    let mut to = child.stdin.take().expect("a pipe");
    to.write_all(sheet.as_bytes()).expect("sent");
    child
}

/// Interrupts a command, and gives what it prints before it ends well.
fn interrupted(child: &mut Child) -> String {
    let interrupted = Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status()
        .expect("kill");
    assert!(interrupted.success());
    let mut out = String::new();
    let mut from = child.stdout.take().expect("a pipe");
    from.read_to_string(&mut out).expect("an answer");
    assert!(child.wait().expect("it ends").success());
    out
}

fn told(sheet: &str, how: &[&str]) -> (String, String, Option<i32>) {
    let output = begin(sheet, how).wait_with_output().expect("it ends");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    (
        text(output.stdout),
        text(output.stderr),
        output.status.code(),
    )
}

/// A tower's strike train with five counts lost and hardly anything that binds them: more sets than anybody can try.
const FIVE_LOST: &str = include_str!("../../web/tests/bench/five_lost.toml");

/// What is known of it all the same.
const ASKED: [&str; 4] = ["count", "-", "--must", "fly:third=10"];

#[test]
fn a_search_that_takes_long_says_so_far_and_an_interrupt_tells_what_was_found() {
    // What no counts fit, of very many: a search that finds some, or has few to try, is done in seconds on a fast machine.
    let how = [
        "count",
        "-",
        "--must",
        "fly:third=9.8765",
        "--most",
        "1000",
        "--longer",
        "1000",
        "--json",
    ];
    let mut child = begin(FIVE_LOST, &how);
    let mut says = BufReader::new(child.stderr.take().expect("a pipe"));
    // Two lines, so that it says it more than once; what it prints is small, so that neither waits for the other.
    for _ in 0..2 {
        let mut line = String::new();
        says.read_line(&mut line).expect("a line");
        assert!(line.starts_with("So far: "), "{line}");
    }
    let out = interrupted(&mut child);
    let object: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(object["ended"], "stopped");
    assert_eq!(object["cut_short"], true);
}

#[test]
fn a_search_for_a_shift_says_so_far_and_an_interrupt_tells_the_best_that_was_found() {
    let saw = SEEN.iter().flat_map(|saw| ["--saw", saw]);
    let how: Vec<&str> = ["remesh", "-", "--longer", "1000", "--json"]
        .into_iter()
        .chain(saw)
        .collect();
    let mut child = begin(FOURTEEN_MARKS, &how);
    let says = BufReader::new(child.stderr.take().expect("a pipe"));
    let mut so_far =
        (says.lines().map_while(Result::ok)).filter(|line| line.starts_with("So far: "));
    assert!(so_far.next().is_some() && so_far.next().is_some());
    let out = interrupted(&mut child);
    // None was found that does; that there is none is not said.
    let object: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(object["cure"], "not found");
    assert_eq!(object["cut_short"], true);
    assert!(object["nearest"].is_object(), "{}", object["nearest"]);
}

/// Every order of fourteen arbors, each followed through all that may be chosen, would be gone through for minutes.
#[test]
fn the_order_of_many_arbors_is_told_after_a_bounded_search() {
    let (out, _, status) = told(FOURTEEN_MARKS, &["order", "-", "--json"]);
    assert_eq!(status, Some(0));
    let object: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(object["steps"].as_array().map(Vec::len), Some(14), "{out}");
    assert_eq!(object["cut_short"], true);
    let (out, _, _) = told(FOURTEEN_MARKS, &["order", "-"]);
    assert!(out.contains("more orders than were compared"), "{out}");
}

#[test]
fn many_lost_counts_are_answered_as_far_as_it_goes() {
    let (out, _, status) = told(FIVE_LOST, &ASKED);
    assert_eq!(status, Some(0));
    assert!(
        out.contains("Not all counts from 6 to 144 teeth were tried"),
        "{out}"
    );
    assert!(
        out.contains(" sets fit so far, the likeliest of all first"),
        "{out}"
    );
    // Where steps bound it, the same is found on every machine.
    let json = [&ASKED[..], &["--json"]].concat();
    assert_eq!(told(FIVE_LOST, &json).0, told(FIVE_LOST, &json).0);
}

#[test]
fn a_strike_that_goes_on_is_cut_short_and_says_so() {
    let sheet = sample("parlour").replace("turn_s = 3600", "turn_s = 1");
    let (out, _, status) = told(&sheet, &["strike", "-"]);
    assert_eq!(status, Some(0));
    assert!(
        out.contains("So much goes on that only the first "),
        "{out}"
    );
    assert!(out.len() < 200_000, "{}", out.len());
    let (json, _, _) = told(&sheet, &["strike", "-", "--events", "--json"]);
    let object: Value = serde_json::from_str(&json).expect("JSON");
    let events = object["events"].as_array().expect("events").len();
    assert!((1..=20_000).contains(&events), "{events}");
    assert!(object["cut_short"].is_string(), "{}", object["cut_short"]);
    let (sound, _, _) = told(&sample("parlour"), &["strike", "-", "--json"]);
    let object: Value = serde_json::from_str(&sound).expect("JSON");
    assert!(object.get("cut_short").is_none());
}
