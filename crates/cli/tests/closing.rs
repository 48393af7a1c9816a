//! When it may be closed up: what was seen and done, from the command line, and what may then be said.

use assert_cmd::Command;
use serde_json::Value;
use std::path::{Path, PathBuf};

fn sample(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../movements/{name}.toml"))
}

struct Job {
    sheet: PathBuf,
    folder: tempfile::TempDir,
}

impl Job {
    fn of(sheet: PathBuf) -> Job {
        let folder = tempfile::tempdir().expect("a folder");
        Job { sheet, folder }
    }

    /// What is answered in words and as JSON to the same entries; they are entered once.
    fn ask(&self, more: &[&str]) -> (String, Value) {
        let log = self.folder.path().join("timing.jsonl");
        let run = |more: &[&str]| {
            let output = Command::cargo_bin("trundle")
                .expect("built")
                .arg("remesh")
                .arg(&self.sheet)
                .arg("--log")
                .arg(&log)
                .args(more)
                .output()
                .expect("runs");
            assert_eq!(output.status.code(), Some(0), "{more:?}: {output:?}");
            String::from_utf8(output.stdout).expect("UTF-8")
        };
        let text = run(more);
        let json = serde_json::from_str(&run(&["--json"])).expect("one JSON object");
        (text, json)
    }
}

fn look(readings: &[&'static str]) -> Vec<&'static str> {
    readings.iter().flat_map(|saw| ["--saw", *saw]).collect()
}

const BEST: [&str; 3] = ["slot=0", "star=0", "pin=-75"];

/// What no sentence may say of a movement that is not done.
fn tells_to_close_up(text: &str) -> bool {
    text.to_lowercase().contains("close up") && !text.contains("finger-tight")
}

#[test]
fn a_part_that_was_turned_is_looked_at_before_anything_is_closed() {
    for sheet in ["loft", "schoolroom", "quay"] {
        let (text, json) = Job::of(sample(sheet)).ask(&["--turned", "slot=1~0.5"]);
        assert_eq!(json["act"], "look", "{sheet}");
        let asked = json["look_at"].as_array().expect("a list").len();
        let witnesses = json["witnesses"].as_array().expect("a list").len();
        assert_eq!(asked, witnesses, "{sheet}: nothing was ever read");
        assert!(!tells_to_close_up(&text), "{text}");
    }
    let job = Job::of(sample("schoolroom"));
    let (text, json) = job.ask(&look(&BEST));
    assert_eq!(json["act"], "done");
    assert!(tells_to_close_up(&text), "{text}");
    let (text, json) = job.ask(&["--turned", "slot=1"]);
    assert_eq!(json["act"], "look");
    assert!(!tells_to_close_up(&text), "{text}");
}

#[test]
fn an_arbor_on_the_bench_goes_in_first() {
    for arbor in ["fourth", "great", "fly"] {
        let job = Job::of(sample("schoolroom"));
        job.ask(&look(&BEST));
        let (text, json) = job.ask(&["--out", arbor]);
        assert_eq!(json["act"], "put in", "{arbor}");
        assert_eq!(json["arbors"], serde_json::json!([arbor]));
        assert!(
            text.contains(&format!("Put the {arbor} arbor in")),
            "{text}"
        );
        assert!(!tells_to_close_up(&text), "{text}");
        // Once it is in, nothing that was seen before tells how it stands.
        let (_, json) = job.ask(&["--in", arbor]);
        assert_eq!(json["act"], "look", "{arbor}");
        assert_eq!(json["arbors"], serde_json::json!([]));
        assert_eq!(json["lacks"]["unread"].as_array().map(Vec::len), Some(3));
        let (_, json) = job.ask(&look(&BEST));
        assert_eq!(json["act"], "done", "{arbor}: {json}");
    }
    let (text, json) = Job::of(sample("parlour")).ask(&["--out", "gathering"]);
    assert_eq!(
        (&json["act"], &json["arbors"]),
        (&"put in".into(), &serde_json::json!(["gathering"]))
    );
    assert!(!tells_to_close_up(&text), "{text}");
}

#[test]
fn what_is_wrong_among_the_others_is_moved_while_an_arbor_is_out() {
    let job = Job::of(sample("schoolroom"));
    job.ask(&look(&["slot=-1.2", "star=-10", "pin=-75"]));
    // The fly meshes with nothing that is to be moved; the second is what would be.
    let (_, json) = job.ask(&["--out", "fly"]);
    assert_eq!(json["act"], "shift");
    let (_, json) = job.ask(&["--in", "fly", "--out", "second"]);
    assert_eq!(json["act"], "put in");
}

#[test]
fn a_lever_that_is_likelier_bent_is_the_headline() {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR")).join("../web/tests");
    let job = Job::of(tests.join("bench/another_train.toml"));
    let (text, json) = job.ask(&look(&["slot=2", "star=0", "pin=-75"]));
    assert_eq!(json["act"], "part");
    assert!(!tells_to_close_up(&text), "{text}");
    // Its counts cannot come out either, and that stands above everything.
    let mut lines = text.lines().skip(2);
    let first = lines.next().expect("what is told first");
    assert!(first.contains("count again"), "{text}");
    let headline = lines.next().expect("a headline");
    assert!(headline.contains("bent lever"), "{text}");
    let bent = |json: &Value| -> f64 {
        let all = json["bent"].as_array().expect("a list");
        all.iter().filter_map(|of| of["chance"].as_f64()).sum()
    };
    assert!(bent(&json) > 0.5, "{json}");
}

#[test]
fn a_lever_that_was_set_right_is_looked_at_and_done() {
    for set in ["slot=-1.15", "slot=-1.15~0.5", "slot=0~1.1"] {
        let job = Job::of(sample("schoolroom"));
        let odd = look(&["slot=1.15", "star=0", "pin=-75"]);
        job.ask(&odd);
        let (_, json) = job.ask(&odd);
        assert_eq!(json["act"], "part", "{set}");
        let (_, json) = job.ask(&["--bent", set]);
        assert_eq!(json["act"], "look", "{set}: {json}");
        let (_, json) = job.ask(&look(&BEST));
        assert_eq!(json["act"], "done", "{set}: {json}");
        // Set as badly as it was, it is still off.
        job.ask(&["--undo"]);
        job.ask(&odd);
        let (_, json) = job.ask(&odd);
        assert_ne!(json["act"], "done", "{set}: {json}");
    }
}

#[test]
fn a_shift_that_is_told_or_told_otherwise_is_looked_at() {
    let job = Job::of(sample("schoolroom"));
    job.ask(&look(&["slot=-1.2", "star=-10", "pin=-75"]));
    let (_, json) = job.ask(&["--done"]);
    assert_eq!(json["act"], "look");
    let (_, json) = job.ask(&look(&["slot=0", "star=0"]));
    assert_eq!(
        (&json["act"], &json["look_at"]),
        (&"look".into(), &serde_json::json!(["pin"])),
        "what moved in its train makes the pin unread"
    );
    let (_, json) = job.ask(&look(&["pin=-75"]));
    assert_eq!(json["act"], "done");
    let (_, json) = job.ask(&["--other-way"]);
    assert_ne!(json["act"], "done");
}

#[test]
fn a_slot_that_cannot_be_read_now_is_struck_on_to_first() {
    let job = Job::of(sample("schoolroom"));
    job.ask(&["--struck", "12"]);
    let (text, json) = job.ask(&look(&["star=0", "pin=-75"]));
    assert_eq!(json["look_at"], serde_json::json!(["slot"]));
    assert!(text.contains("Let it strike on to two"), "{text}");
    // Striking moves no mesh: what was read before still tells.
    let job = Job::of(sample("schoolroom"));
    job.ask(&look(&BEST));
    let (_, json) = job.ask(&["--struck", "12"]);
    assert_eq!(json["act"], "done");
}

#[test]
fn where_the_hold_alone_keeps_it_down_the_hours_prove_it() {
    let job = Job::of(sample("lattice"));
    let (text, json) = job.ask(&["--saw", "stop=0"]);
    assert_eq!(json["act"], "prove");
    assert_eq!(json["lacks"]["unsure"], true);
    assert!(text.contains("Close up finger-tight"), "{text}");
}

#[test]
fn trains_that_are_timed_one_after_the_other_must_all_be_in() {
    let job = Job::of(sample("quarters"));
    job.ask(&look(&["notes=0", "chime_pin=-90", "hour=0"]));
    let (text, json) = job.ask(&look(&["tail=0"]));
    assert_ne!(json["act"], "done", "{json}");
    assert!(!tells_to_close_up(&text), "{text}");
    let (_, json) = job.ask(&look(&["pin=-180"]));
    if json["act"] == "done" {
        assert!(json["in_window"].as_f64() >= Some(0.95), "{json}");
    } else {
        assert!(json["in_window"].as_f64() < Some(0.95), "{json}");
    }
    let (_, json) = job.ask(&look(&[
        "notes=0",
        "chime_pin=-90",
        "hour=0",
        "tail=0",
        "pin=-180",
    ]));
    assert_eq!(json["act"], "done", "{json}");
    let (_, json) = job.ask(&["--jumped", "quarter"]);
    assert_ne!(json["act"], "done", "{json}");
}

fn once(readings: &[&'static str]) -> (String, Value) {
    let run = |json: &[&str]| {
        let output = Command::cargo_bin("trundle")
            .expect("built")
            .arg("remesh")
            .arg(sample("schoolroom"))
            .args(look(readings))
            .args(json)
            .output()
            .expect("runs");
        assert_eq!(output.status.code(), Some(0), "{output:?}");
        String::from_utf8(output.stdout).expect("UTF-8")
    };
    let json = serde_json::from_str(&run(&["--json"])).expect("one JSON object");
    (run(&[]), json)
}

#[test]
fn without_a_log_what_was_not_read_is_named_and_nothing_is_closed() {
    let (text, json) = once(&["star=0"]);
    assert_eq!(json["cure"], "none needed");
    assert!(!tells_to_close_up(&text), "{text}");
    let why = json["why"].as_str().expect("a sentence");
    assert!(why.contains("slot and pin"), "{why}");
    let (text, json) = once(&["slot=0.99", "star=5.9", "pin=-56"]);
    assert_eq!(json["cure"], "none needed");
    assert!(!tells_to_close_up(&text), "{text}");
    let why = json["why"].as_str().expect("a sentence");
    assert!(why.contains("only just so, 2 in 10"), "{why}");
    let (text, json) = once(&["slot=-0.3", "star=-2", "pin=-75"]);
    assert_eq!(json["cure"], "none needed");
    assert!(tells_to_close_up(&text), "{text}");
    // In its window, where no meshing of a sound movement puts it.
    let (text, json) = once(&["slot=0.8", "star=0", "pin=-75"]);
    assert_eq!(
        (&json["cure"], &json["sound"]),
        (&"none needed".into(), &false.into())
    );
    assert!(!tells_to_close_up(&text), "{text}");
}

#[test]
fn a_sheet_that_names_nothing_to_look_at_is_not_closed_up() {
    let text = std::fs::read_to_string(sample("schoolroom")).expect("a sheet");
    let (blind, _) = text.split_once("[[witness]]").expect("witnesses");
    let folder = tempfile::tempdir().expect("a folder");
    let sheet = folder.path().join("blind.toml");
    std::fs::write(&sheet, blind).expect("written");
    let (text, json) = Job::of(sheet).ask(&["--struck", "3"]);
    assert_eq!(json["act"], "prove");
    assert!(!tells_to_close_up(&text), "{text}");
    assert!(text.contains("Close up finger-tight"), "{text}");
    assert!(!text.contains("in 100"), "{text}");
}

#[test]
fn a_train_that_cannot_come_out_is_counted_again_and_never_told_to_be_closed() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheet = folder.path().join("counted.toml");
    let sound = std::fs::read_to_string(sample("schoolroom")).expect("a sample");
    std::fs::write(&sheet, sound.replacen("wheel = 72", "wheel = 78", 1)).expect("written");
    let job = Job::of(sheet.clone());
    for _ in 0..3 {
        let (text, _) = job.ask(&look(&BEST));
        assert!(text.contains("cannot come out: count again"), "{text}");
        assert!(!tells_to_close_up(&text), "{text}");
    }
    let told = |command: &str, more: &[&str]| {
        let mut trundle = Command::cargo_bin("trundle").expect("built");
        let output = trundle.arg(command).arg(&sheet).args(more).output();
        String::from_utf8(output.expect("runs").stdout).expect("UTF-8")
    };
    let text = told("remesh", &look(&BEST));
    assert!(text.contains("count again before anything else"), "{text}");
    assert!(!tells_to_close_up(&text), "{text}");
    let text = told("check", &[]);
    assert!(text.contains("its counts cannot come out"), "{text}");
}

#[test]
fn a_part_that_was_turned_stands_where_it_was_turned_to() {
    let job = Job::of(sample("schoolroom"));
    job.ask(&look(&BEST));
    let (text, json) = job.ask(&["--turned", "slot=2"]);
    let places = json["witnesses"][0]["places"].as_array().expect("a list");
    let likeliest = (places.iter()).max_by(|a, b| {
        a["chance"]
            .as_f64()
            .partial_cmp(&b["chance"].as_f64())
            .expect("chances")
    });
    assert_eq!(likeliest.expect("a place")["deg"], 2.0, "{json}");
    assert!(text.contains("2° (out)"), "{text}");
}

#[test]
fn a_part_that_was_turned_otherwise_than_was_told_stands_where_it_was_seen() {
    let job = Job::of(sample("schoolroom"));
    job.ask(&look(&BEST));
    job.ask(&["--turned", "star=20"]);
    let (text, json) = job.ask(&look(&BEST));
    assert_eq!(json["act"], "done", "{text}");
    let places = json["witnesses"][1]["places"].as_array().expect("a list");
    for place in places.iter().filter(|p| p["chance"].as_f64() > Some(0.01)) {
        let deg = place["deg"].as_f64().expect("a number");
        assert!((-8.0..=6.0).contains(&deg), "all is said to be in: {json}");
    }
}

#[test]
fn a_log_takes_numbers_as_people_type_them() {
    let job = Job::of(sample("schoolroom"));
    let (_, json) = job.ask(&look(&["slot=−0,1~0,1", "star=0", "pin=-75°"]));
    assert_eq!(json["act"], "done", "{json}");
}

/// Whoever lifts an arbor at once, though a look is what is advised, is told what to mind all the same.
#[test]
fn a_shift_that_is_told_beside_a_look_has_its_caution() {
    let job = Job::of(sample("schoolroom"));
    let (text, json) = job.ask(&["--saw", "slot=1"]);
    assert_eq!(json["act"], "look");
    assert!(text.contains("If it must be now: lift "), "{text}");
    assert!(
        text.contains("Caution. Before the plates are spread"),
        "{text}"
    );
}
