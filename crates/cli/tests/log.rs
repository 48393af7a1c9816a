//! The whole loop from the command line, with a log: looks, shifts, accidents, undo; and every way a log can be wrong.

use assert_cmd::Command;
use serde_json::Value;
use std::path::{Path, PathBuf};

const SHEET: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../movements/schoolroom.toml"
);

struct Job {
    folder: tempfile::TempDir,
}

impl Job {
    fn new() -> Job {
        Job {
            folder: tempfile::tempdir().expect("a folder"),
        }
    }

    fn path(&self) -> PathBuf {
        self.folder.path().join("timing.jsonl")
    }

    fn run(&self, more: &[&str]) -> (i32, String, String) {
        run(SHEET, &self.path(), more)
    }

    fn ask(&self, more: &[&str]) -> Value {
        let (status, out, err) = self.run(&[more, &["--json"]].concat());
        assert_eq!((status, err.as_str()), (0, ""), "{more:?}");
        serde_json::from_str(&out).expect("one JSON object and nothing else")
    }

    fn text(&self) -> String {
        std::fs::read_to_string(self.path()).expect("a log")
    }

    fn write(&self, text: &[u8]) {
        std::fs::write(self.path(), text).expect("written");
    }
}

fn run(sheet: &str, log: &Path, more: &[&str]) -> (i32, String, String) {
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .args(["remesh", sheet, "--log"])
        .arg(log)
        .args(more)
        .output()
        .expect("runs");
    (
        output.status.code().expect("an exit status"),
        String::from_utf8(output.stdout).expect("UTF-8"),
        String::from_utf8(output.stderr).expect("UTF-8"),
    )
}

const SHORT: [&str; 6] = [
    "--saw",
    "slot=-1.2",
    "--saw",
    "star=-10",
    "--saw",
    "pin=-75",
];

#[test]
fn the_whole_loop() {
    let job = Job::new();
    let first = job.ask(&SHORT);
    assert_eq!(first["act"], "shift");
    assert_eq!(
        (&first["shifts"][0]["lift"], &first["shifts"][0]["teeth"]),
        (&"second".into(), &2.into())
    );
    // It went the other way, and what is seen says so before anyone does.
    let second = job.ask(&["--done", "--saw", "slot=-2.3", "--saw", "star=-20"]);
    assert!(second["handled"][0]["other_way"].as_f64() > Some(0.9));
    assert_eq!(second["shifts"][0]["teeth"], 4);
    assert_eq!(second["openings"], 1);
    let third = job.ask(&[
        "--done", "--saw", "slot=0", "--saw", "star=0.5", "--saw", "pin=-75",
    ]);
    assert_eq!(third["act"], "done");
    assert!(third["in_window"].as_f64() > Some(0.98));
    // Taken back, one after the other, it is as it was.
    job.ask(&["--undo"]);
    job.ask(&["--undo"]);
    let again = job.ask(&[]);
    assert_eq!(
        (&again["act"], &again["witnesses"]),
        (&second["act"], &second["witnesses"])
    );
    assert_eq!(job.text().lines().count(), 8, "nothing is ever struck out");
}

#[test]
fn accidents_are_entered_and_reckoned_with() {
    let job = Job::new();
    job.ask(&SHORT);
    let jumped = job.ask(&["--jumped", "fourth"]);
    assert_eq!(
        (&jumped["act"], &jumped["look_at"][0]),
        (&"look".into(), &"pin".into())
    );
    let slipped = job.ask(&["--undo", "--slipped", "second.wheel:third.pinion=-1"]);
    assert_eq!(slipped["shifts"][0]["teeth"], 3);
    job.ask(&["--did", "second.wheel:third.pinion=1", "--other-way"]);
    job.ask(&["--out", "count"]);
    let (status, out, err) = job.run(&["--saw", "slot=0"]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(err.contains("while the count arbor is out"), "{err}");
    job.ask(&["--in", "count"]);
    job.ask(&["--bent", "slot=0.2~0.05", "--turned", "star=-1"]);
    let struck = job.ask(&["--struck", "12"]);
    assert_eq!(struck["witnesses"][0]["readable"], false);
    let before = job.text();
    let (status, out, err) = job.run(&["--saw", "slot=0"]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(
        err.contains("the long slot that serves twelve and one"),
        "{err}"
    );
    assert_eq!(job.text(), before, "what is refused is not entered");
    job.ask(&["--struck", "2", "--slack", "--saw", "slot=0"]);
    assert!(job.text().contains("\"tension\":\"slack\""));
}

#[test]
fn a_look_at_rest_is_brought_to_the_drop_by_what_the_pin_had_still_to_go() {
    // All as it is meant, 75 degrees of the pin further on: 8/56 of a turn of the third, 1/8 of 8/72 of that of the second, 6/52 of
    // that of the count wheel.
    let rest = ["--rest", "--saw", "slot=0.1202", "--saw", "star=1.0417"];
    let job = Job::new();
    let told = job.ask(&[&rest[..], &["--saw", "pin=9.375notch"]].concat());
    let text = job.text();
    assert!(text.contains(r#""tension":"at-rest""#), "{text}");
    assert!(
        text.contains(r#"{"witness":"pin","notch":"9.375"}"#),
        "{text}"
    );
    for (witness, best) in told["witnesses"]
        .as_array()
        .expect("a list")
        .iter()
        .zip([0.0, 0.0, -75.0])
    {
        let likeliest = witness["places"][0]["deg"].as_f64().expect("a number");
        assert!((likeliest - best).abs() < 1e-9, "{witness}");
    }
    // The pin lies on its arm, whatever is wrong: that is no reading of it, and is not entered.
    let (status, out, err) = job.run(&["--rest", "--saw", "pin=0"]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(err.contains("stands at its arm"), "{err}");
    let (status, _, err) = job.run(&["--saw", "pin=9.375notch"]);
    assert_eq!(status, 2);
    assert!(err.contains("only at rest"), "{err}");
    assert_eq!(job.text(), text, "what is refused is not entered");
}

#[test]
fn what_was_said_is_kept_as_it_was_said() {
    let job = Job::new();
    job.ask(&[
        "--saw",
        "slot=-1.20~0.10",
        "--saw",
        "star=-2teeth:second.wheel",
    ]);
    let text = job.text();
    assert!(
        text.contains(r#"{"witness":"slot","deg":"-1.20","spread":"0.10"}"#),
        "{text}"
    );
    assert!(
        text.contains(r#"{"witness":"star","teeth":"-2","of":"second.wheel"}"#),
        "{text}"
    );
    let sheet = concat!(env!("CARGO_MANIFEST_DIR"), "/../../movements/halfpast.toml");
    let job = Job::new();
    let (status, _, err) = run(
        sheet,
        &job.path(),
        &[
            "--saw",
            "slot=edge-short",
            "--saw",
            "stop=10:15",
            "--from",
            "back",
        ],
    );
    assert_eq!(status, 0, "{err}");
    let text = job.text();
    assert!(
        text.contains(r#"{"witness":"slot","look":"edge-short"}"#),
        "{text}"
    );
    assert!(
        text.contains(r#"{"witness":"stop","oclock":"10:15","from":"back"}"#),
        "{text}"
    );
}

#[test]
fn wrong_logs_are_refused_and_left_as_they_are() {
    let job = Job::new();
    job.ask(&SHORT);
    job.ask(&["--done"]);
    let good = job.text();
    let lines: Vec<&str> = good.lines().collect();
    let other = good.replacen("\"hash\":\"", "\"hash\":\"0", 1);
    let swapped = [lines[0], lines[2], lines[1], ""].join("\n");
    let taken_out = [lines[0], lines[2], ""].join("\n");
    let by_hand = good.replacen("\"teeth\":2", "\"teeth\":\"two\"", 1);
    let unknown = format!("{good}{}\n", r#"{"n":3,"kind":"polished","arbor":"great"}"#);
    let misnamed = good.replacen("second.wheel>third.pinion", "second.wheel>third.pinon", 1);
    let mut told = String::new();
    for text in [
        &other,
        &swapped,
        &taken_out,
        &by_hand,
        &unknown,
        &misnamed,
        "hello\n",
        "{}\n",
        "{\"trundle_log\":2,\"sheet\":\"x\",\"hash\":\"0\"}\n",
        "\u{1}\n",
        "{\"trundle_log\":1,\"she",
    ] {
        job.write(text.as_bytes());
        for more in [&[][..], &["--undo"]] {
            let (status, out, err) = job.run(more);
            assert_eq!((status, out.as_str()), (2, ""), "{text}");
            if more.is_empty() {
                told += &err;
            }
            assert_eq!(job.text(), text, "nothing lost");
        }
    }
    insta::assert_snapshot!("logs", told);
    job.write(&[good.as_bytes(), b"\xff\xfe\n"].concat());
    assert_eq!(job.run(&[]).0, 2);
}

#[test]
fn a_log_of_a_hundred_megabytes_is_refused_without_reading_it_all() {
    let job = Job::new();
    job.ask(&SHORT);
    let line = "{\"n\":2,\"kind\":\"struck\",\"hour\":3}\n".repeat(1000);
    let file = std::fs::OpenOptions::new()
        .append(true)
        .open(job.path())
        .expect("opened");
    let mut file = std::io::BufWriter::new(file);
    for _ in 0..(100_000_000 / line.len()) {
        std::io::Write::write_all(&mut file, line.as_bytes()).expect("written");
    }
    drop(file);
    let (status, _, err) = job.run(&["--struck", "4"]);
    assert_eq!(status, 2);
    assert!(err.contains("is this the right file?"), "{err}");
}

#[test]
fn a_torn_last_line_is_dropped_with_a_warning_and_what_follows_is_whole() {
    let job = Job::new();
    job.ask(&SHORT);
    let good = job.text();
    job.write(format!("{good}{{\"n\":2,\"kind\":\"stru").as_bytes());
    let (status, _, err) = job.run(&["--struck", "4"]);
    assert_eq!(status, 0);
    assert!(
        err.contains("line 3 of the log breaks off and was left out"),
        "{err}"
    );
    assert_eq!(
        job.text(),
        format!("{good}{{\"n\":2,\"kind\":\"struck\",\"hour\":4}}\n")
    );
}

#[test]
fn a_second_writer_is_told_so() {
    let job = Job::new();
    job.ask(&SHORT);
    let file = std::fs::File::open(job.path()).expect("opened");
    file.lock().expect("locked");
    let (status, out, err) = job.run(&["--done"]);
    assert_eq!((status, out.as_str()), (1, ""));
    assert!(err.contains("in use by another trundle"), "{err}");
    drop(file);
    job.ask(&["--done"]);
}

#[test]
fn files_that_cannot_be_used_are_exit_one() {
    for log in ["/no/such/folder/log.jsonl", "/proc/version/log.jsonl", "."] {
        let (status, out, err) = run(SHEET, Path::new(log), &["--struck", "3"]);
        assert_eq!((status, out.as_str()), (1, ""), "{err}");
        assert!(err.contains("cannot use"), "{err}");
    }
}

#[test]
fn wrong_entries_are_refused_and_make_no_file() {
    let mut told = String::new();
    for more in [
        &["--done"][..],
        &["--other-way"],
        &["--undo"],
        &["--undo", "7"],
        &["--jumped", "fouth"],
        &["--in", "fourth"],
        &["--did", "second.wheel:third.pinion=0"],
        &["--did", "second:third=1"],
        &["--bent", "slot=edge-short"],
        &["--slipped", "third.wheel:fourth.pinion=1.5"],
        &["--saw", "slot=one"],
    ] {
        let job = Job::new();
        let (status, out, err) = job.run(more);
        assert_eq!((status, out.as_str()), (2, ""), "{more:?}");
        assert!(!job.path().exists(), "{more:?}");
        told += &err;
    }
    insta::assert_snapshot!("entries", told);
}

#[test]
fn arbors_go_in_by_their_order() {
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .args(["order", SHEET])
        .output()
        .expect("runs");
    insta::assert_snapshot!("order", String::from_utf8_lossy(&output.stdout));
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .args(["order", SHEET, "--out", "fly", "--out", "fourth", "--json"])
        .output()
        .expect("runs");
    let order: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(order["steps"][0]["arbor"], "fourth");
    assert_eq!(order["steps"][0]["settles"][0]["best_deg"], -75.0);
    assert_eq!(order["steps"][1]["arbor"], "fly");
}

/// Whatever the sheet calls a moment, participle or not, it is told as the name of one.
#[test]
fn a_moment_is_told_by_its_name() {
    for (sheet, arbor, moment) in [
        ("quay", "warning", "warned"),
        ("quarters", "chime_locking", "chimed"),
    ] {
        let output = Command::cargo_bin("trundle")
            .expect("built")
            .args(["order", &SHEET.replace("schoolroom", sheet)])
            .output()
            .expect("runs");
        let told = String::from_utf8_lossy(&output.stdout);
        let held = format!("while the {arbor} arbor is held at the moment “{moment}”");
        assert!(told.contains(&held), "{told}");
        assert!(!told.contains(&format!("held at the {moment}")), "{told}");
    }
}

#[test]
fn trains_that_stand_in_too_many_ways_together_are_timed_one_after_the_other() {
    let sheet = SHEET.replace("schoolroom", "quarters");
    let folder = tempfile::tempdir().expect("a folder");
    let log = folder.path().join("timing.jsonl");
    let ask = |more: &[&str]| {
        let (status, out, err) = run(&sheet, &log, &[more, &["--json"]].concat());
        assert_eq!((status, err.as_str()), (0, ""), "{more:?}");
        serde_json::from_str::<Value>(&out).expect("one JSON object")
    };
    let asked = |said: &Value| said["look_at"].to_string();
    let chime = ["--saw", "notes=0", "--saw", "chime_pin=-90", "--saw"];
    let begun = ask(&[&chime[..], &["hour=9"]].concat());
    assert_eq!(begun["shifts"][0]["lift"], "quarter", "{begun}");
    ask(&["--done"]);
    let next = ask(&[&chime[..], &["hour=0"]].concat());
    // The chime is in time; the strike was not looked at yet.
    assert!(asked(&next).contains("tail"), "{next}");
    assert!(!asked(&next).contains("hour"), "{next}");
    let done = ask(&["--saw", "tail=0", "--saw", "pin=-180"]);
    assert_eq!(done["shifts"], serde_json::json!([]), "{done}");
    assert!(!asked(&done).contains("tail"), "{done}");
    let jumped = ask(&["--jumped", "quarter"]);
    assert!(asked(&jumped).contains("hour"), "{jumped}");
}

/// Short at slot and star, and the pin on the other side: two shifts.
const TWO: [&str; 6] = [
    "--saw",
    "slot=-1.2~0.05",
    "--saw",
    "star=-10~0.4",
    "--saw",
    "pin=-30~2",
];

/// Where a witness most likely stands, by the answer.
fn likeliest(answer: &Value, witness: &str) -> (f64, f64) {
    let all = answer["witnesses"].as_array().expect("witnesses");
    let one = all.iter().find(|w| w["id"] == witness).expect("it");
    let places = one["places"].as_array().expect("places");
    let pair = |p: &Value| {
        (
            p["deg"].as_f64().expect("deg"),
            p["chance"].as_f64().expect("chance"),
        )
    };
    places
        .iter()
        .map(pair)
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .expect("a place")
}

#[test]
fn of_several_shifts_each_can_be_told_apart() {
    let job = Job::new();
    let (_, text, _) = job.run(&TWO);
    for line in [
        "1. Lift the second arbor and turn it two teeth counterclockwise\n  open second.wheel with third.pinion; hold the third arbor still",
        "2. Lift the fourth arbor and turn it one tooth clockwise\n  open third.wheel with fourth.pinion; hold the third arbor still",
    ] {
        assert!(text.contains(line), "{text}");
    }
    let first = job.ask(&[]);
    assert_eq!(first["shifts"].as_array().map(Vec::len), Some(2));
    let (pin, _) = likeliest(&first, "pin");
    let before = job.text();

    // Both, whether a number follows or the sheet does.
    job.ask(&["--done"]);
    let last = |job: &Job| job.text().lines().last().expect("a line").to_owned();
    assert_eq!(
        last(&job),
        r#"{"n":2,"kind":"shift","meshes":[{"mesh":"second.wheel>third.pinion","teeth":2},{"mesh":"third.wheel>fourth.pinion","teeth":-1}]}"#
    );
    // The second went the other way: it stands as far on the other side, the first as it should.
    let other = job.ask(&["--other-way", "2"]);
    assert_eq!(
        last(&job),
        r#"{"n":3,"kind":"other_way","of":2,"mesh":"third.wheel>fourth.pinion"}"#
    );
    let (star, _) = likeliest(&other, "star");
    assert!(star.abs() < 0.01, "{other}");
    let (now, chance) = likeliest(&other, "pin");
    let moved = (now - pin).rem_euclid(360.0);
    assert!(
        (moved - 360.0 / 7.0).abs() < 0.01 && chance > 0.9,
        "{moved} {chance}"
    );
    let (status, out, err) = job.run(&["--other-way", "3"]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert_eq!(
        err,
        "trundle: there is no shift 3: they were numbered 1 to 2\n"
    );

    // Only the first: the pin stays where it was.
    job.write(before.as_bytes());
    let only = job.ask(&["--done", "1"]);
    assert_eq!(
        last(&job),
        r#"{"n":2,"kind":"shift","mesh":"second.wheel>third.pinion","teeth":2}"#
    );
    assert!((likeliest(&only, "pin").0 - pin).abs() < 0.01);
    assert!(likeliest(&only, "star").0.abs() < 0.01);
    job.write(before.as_bytes());
    job.ask(&["--done=2,1"]);
    assert!(last(&job).contains("meshes"));

    // What is seen after shows which of the two it was.
    job.write(before.as_bytes());
    let seen = job.ask(&[
        "--done", "--saw", "slot=0", "--saw", "star=0", "--saw", "pin=21",
    ]);
    let handled = &seen["handled"];
    assert!(handled[0]["as_said"].as_f64() > Some(0.9), "{handled}");
    assert_eq!(handled[1]["shift"], 2);
    assert!(handled[1]["other_way"].as_f64() > Some(0.5), "{handled}");
    let found = seen["findings"][0].as_str().expect("a finding");
    let named = "shift 2 (fourth arbor, third.wheel>fourth.pinion) having gone the other way";
    assert!(found.contains(named), "{found}");
}

/// Two shifts that were entered one by one are numbered as if they had been entered at once.
#[test]
fn shifts_in_several_entries_are_numbered_since_the_last_look() {
    let last = |job: &Job| job.text().lines().last().expect("a line").to_owned();
    let two = |job: &Job| {
        job.run(&TWO);
        job.ask(&["--done", "1"]);
        job.ask(&["--did", "third.wheel:fourth.pinion=-1"]);
    };
    for (which, of) in [("1", 2), ("2", 3)] {
        let job = Job::new();
        two(&job);
        job.ask(&["--other-way", which]);
        assert_eq!(
            last(&job),
            format!(r#"{{"n":4,"kind":"other_way","of":{of}}}"#)
        );
    }
    let job = Job::new();
    two(&job);
    let (status, _, err) = job.run(&["--other-way", "3"]);
    assert_eq!(
        (status, err.as_str()),
        (
            2,
            "trundle: there is no shift 3: they were numbered 1 to 2\n"
        )
    );
    // What is seen then tells of the second by its number; and a look ends the round.
    let seen = job.ask(&["--saw", "slot=0", "--saw", "star=0", "--saw", "pin=21"]);
    assert_eq!(seen["handled"][0]["shift"], 2, "{seen}");
    job.ask(&["--did", "third.wheel:fourth.pinion=1"]);
    let (status, _, err) = job.run(&["--other-way", "2"]);
    assert_eq!(
        (status, err.as_str()),
        (2, "trundle: there is no shift 2: it was one shift alone\n")
    );
}

/// A figure that may have slipped is answered, said as what it was taken on every face, and looked at again before it is closed up.
#[test]
fn what_was_said_far_off_is_looked_at_again_before_it_is_closed_up() {
    for (pin, off) in [
        ("645", "more than a turn of its arbor"),
        ("-795", "more than a turn of its arbor"),
    ] {
        let job = Job::new();
        let saw = format!("pin={pin}");
        let saw = ["--saw", "slot=0", "--saw", "star=0", "--saw", &saw];
        let (status, out, err) = job.run(&[&saw[..], &["--json"]].concat());
        assert_eq!(status, 0, "{err}");
        assert!(err.contains("and is taken as -75°"), "{err}");
        let far: Value = serde_json::from_str(&out).expect("JSON");
        assert_eq!(
            (&far["act"], &far["look_at"][0]),
            (&"look".into(), &"pin".into())
        );
        assert_eq!(far["lacks"]["far_off"][0], "pin");
        let told =
            format!("pin was read as {pin}°, {off}, and was taken as -75°: look at it again");
        assert!(
            far["findings"][0].as_str().expect("one").starts_with(&told),
            "{far}"
        );
        let (_, text, _) = job.run(&[]);
        assert!(
            text.contains(&told) && !text.contains("close up,"),
            "{text}"
        );
        let again = job.ask(&["--saw", "pin=-75"]);
        assert_eq!(again["act"], "done", "{again}");
        assert_eq!(again["lacks"]["far_off"].as_array().map(Vec::len), Some(0));
    }
    // A place of a slot some places on.
    let job = Job::new();
    let (_, out, err) = job.run(&["--saw", "slot=-12", "--saw", "star=0", "--saw", "pin=-75"]);
    assert!(
        err.contains("`slot=-12` is more than two of its places off"),
        "{err}"
    );
    assert!(
        out.contains(
            "slot was read as -12°, more than two of its places off, and was taken as 1.846°"
        ),
        "{out}"
    );
}

/// A count that was changed since the log was begun is told with what it was.
#[test]
fn a_sheet_counted_anew_is_refused_with_the_old_count() {
    let job = Job::new();
    job.ask(&SHORT);
    let sheet = std::fs::read_to_string(SHEET).expect("a sheet");
    let with = |from: &str, to: &str| {
        assert!(sheet.contains(from), "{from}");
        let path = job.folder.path().join("again.toml");
        std::fs::write(&path, sheet.replacen(from, to, 1)).expect("written");
        run(path.to_str().expect("a path"), &job.path(), &[])
    };
    for (from, to, says) in [
        ("wheel = 72", "wheel = 78", "second wheel 78, was 72."),
        ("wheel = 90", "wheel = 64", "great wheel 64, was 90."),
        (
            "count_pinion = 6",
            "count_pinion = 8",
            "second count pinion 8, was 6.",
        ),
    ] {
        let (status, out, err) = with(from, to);
        assert_eq!((status, out.as_str()), (2, ""));
        assert!(err.contains(says), "{err}");
        assert!(
            err.contains("the sheet was changed since the log went by it"),
            "{err}"
        );
    }
    // What a digest cannot tell is not made up.
    let (status, _, err) = with("window_deg = [-1.0, 1.0]", "window_deg = [-1.0, 1.1]");
    assert_eq!(status, 2);
    assert!(
        err.contains("the log is of another sheet") && !err.contains("Otherwise than before"),
        "{err}"
    );
}

#[test]
fn what_is_not_there_is_not_taken_back() {
    let job = Job::new();
    job.ask(&SHORT);
    let before = job.text();
    let (status, out, err) = job.run(&["--undo", "99"]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert_eq!(
        err,
        "trundle: there is no entry 99 in the log, which has 1\n"
    );
    assert_eq!(job.text(), before);
}

/// A word after `--done` that is no number is the sheet, as ever.
#[test]
fn the_sheet_may_follow_any_option() {
    let job = Job::new();
    job.ask(&SHORT);
    for option in ["--done", "--other-way", "--undo"] {
        let output = Command::cargo_bin("trundle")
            .expect("built")
            .args(["remesh", "--log"])
            .arg(job.path())
            .args([option, SHEET])
            .output()
            .expect("runs");
        assert_eq!(output.status.code(), Some(0), "{option}");
    }
}

/// The last reading out, and all readings together for in: the answer says which of the two it believes, and till when.
#[test]
fn a_reading_that_is_not_believed_is_told_as_that() {
    let job = Job::new();
    job.run(&["--saw", "slot=0", "--saw", "star=0", "--saw", "pin=-75"]);
    for nth in 1..=4 {
        let (_, said, _) = job.run(&["--saw", "pin=-50"]);
        assert!(
            said.contains("The last reading of pin is outside its window; all that was read, taken together, has everything in"),
            "{nth}: {said}"
        );
        assert!(
            said.contains("if no lever is bent and no part has slipped"),
            "{said}"
        );
        assert!(said.contains("believe it, and not the odds"), "{said}");
    }
    // By then a bent lever is likely enough to be said beside the odds that leave it out; in the end it is what to look for.
    let (_, said, _) = job.run(&["--saw", "pin=-50"]);
    assert!(
        said.contains("All in window now, if no lever is bent and no part has slipped: "),
        "{said}"
    );
    let part = (0..3).map(|_| job.ask(&["--saw", "pin=-50"])["act"].clone());
    assert!(part.into_iter().any(|act| act == "part"));
    // Where nothing was read outside, there is nothing to say of it.
    let other = Job::new();
    let (_, said, _) = other.run(&["--saw", "slot=0", "--saw", "star=0"]);
    assert!(
        said.contains("Look") && !said.contains("taken together"),
        "{said}"
    );
}
