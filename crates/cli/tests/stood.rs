//! As it stood while it struck right, from the command line: what is kept of it, what is told, and when it is refused.

use assert_cmd::Command;
use serde_json::Value;
use std::path::Path;

const SHEET: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../movements/schoolroom.toml"
);

fn run(log: &Path, more: &[&str]) -> (Option<i32>, String, String) {
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .args(["remesh", SHEET, "--log"])
        .arg(log)
        .args(more)
        .output()
        .expect("runs");
    (
        output.status.code(),
        String::from_utf8(output.stdout).expect("UTF-8"),
        String::from_utf8(output.stderr).expect("UTF-8"),
    )
}

/// All as it is meant, 75 degrees of the pin further on, as in the test of looks at rest.
const MEANT: [&str; 6] = [
    "--saw",
    "slot=0.1202",
    "--saw",
    "star=1.0417",
    "--saw",
    "pin=9.375notch~0.5",
];

#[test]
fn how_it_stood_is_kept_and_told_and_is_no_look_at_how_it_stands() {
    let folder = tempfile::tempdir().expect("a folder");
    let log = folder.path().join("timing.jsonl");
    let (status, out, err) = run(&log, &[&["--stood=12"], &MEANT[..], &["--json"]].concat());
    assert_eq!((status, err.as_str()), (Some(0), ""));
    let text = std::fs::read_to_string(&log).expect("a log");
    assert!(
        text.contains(r#""kind":"stood","hours":12,"readings":["#),
        "{text}"
    );
    let told: Value = serde_json::from_str(&out).expect("one object");
    let stood = told["stood"].as_array().expect("a list");
    assert_eq!(stood.len(), 3);
    for (stood, best) in stood.iter().zip([0.0, 0.0, -75.0]) {
        let at = stood["stood_deg"].as_f64().expect("a number");
        assert!((at - best).abs() < 1e-3, "{stood}");
        assert_eq!(stood["edge"], "inside");
        assert!(stood["inside_deg"].as_f64() > Some(0.0), "{stood}");
    }
    // Nothing was seen of how it stands now.
    assert_eq!(told["act"], "look");
    assert_eq!(told["lacks"]["unread"].as_array().map(Vec::len), Some(3));
    let (_, out, _) = run(&log, &[]);
    assert!(
        out.contains("While it struck right slot stood at least"),
        "{out}"
    );
    // What is not there is not told of.
    let (_, out, _) = run(&log, &["--undo", "--json"]);
    let told: Value = serde_json::from_str(&out).expect("one object");
    assert!(told.get("stood").is_none(), "{told}");
}

#[test]
fn it_is_refused_once_something_was_moved_and_says_since_when() {
    let folder = tempfile::tempdir().expect("a folder");
    let log = folder.path().join("timing.jsonl");
    let (status, ..) = run(&log, &["--out", "fly"]);
    assert_eq!(status, Some(0));
    let text = std::fs::read_to_string(&log).expect("a log");
    let (status, out, err) = run(&log, &[&["--stood"], &MEANT[..]].concat());
    assert_eq!((status, out.as_str()), (Some(2), ""));
    assert!(
        err.contains("since entry 1 it does not stand as it came"),
        "{err}"
    );
    assert_eq!(std::fs::read_to_string(&log).expect("a log"), text);
    // Nor without readings, or for no hours.
    for wrong in [&["--stood"][..], &[&["--stood=0"], &MEANT[..]].concat()] {
        let (status, ..) = run(&folder.path().join("other.jsonl"), wrong);
        assert_eq!(status, Some(2), "{wrong:?}");
    }
}
