//! The page of kinds is held against the samples: each is run, and strikes what the page says.

use assert_cmd::Command;
use movement::Movement;
use serde_json::Value;
use std::collections::BTreeSet;

const ROOT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../..");

/// The rows of the first table, cell by cell.
fn rows() -> Vec<Vec<String>> {
    let page = std::fs::read_to_string(format!("{ROOT}/KINDS.md")).expect("the page");
    page.lines()
        .skip_while(|line| !line.starts_with("| kind | sheet |"))
        .take_while(|line| line.starts_with('|'))
        .filter(|line| line.contains('`'))
        .map(|line| {
            let cells = line.trim_matches('|').split('|');
            cells.map(|cell| cell.trim().to_owned()).collect()
        })
        .collect()
}

fn strike(args: &[&str]) -> Value {
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .current_dir(ROOT)
        .arg("strike")
        .args(args)
        .arg("--json")
        .output()
        .expect("runs");
    assert_eq!(output.status.code(), Some(0), "{args:?}: {output:?}");
    serde_json::from_slice(&output.stdout).expect("one object")
}

/// Moments with their witnesses, as the page writes them.
fn moments(movement: &Movement) -> String {
    let moments = movement.moments().iter().filter_map(|moment| {
        let read: Vec<&str> = movement
            .witnesses()
            .filter(|(_, witness)| movement.moment(witness.at).id == moment.id)
            .map(|(_, witness)| witness.id.as_str())
            .collect();
        (!read.is_empty()).then(|| format!("{}: {}", moment.id, read.join(", ")))
    });
    moments.collect::<Vec<_>>().join("; ")
}

#[test]
fn every_kind_strikes_what_its_row_says() {
    let mut named = BTreeSet::new();
    for row in rows() {
        let [kind, name, cycle, blows, told] = &row[..] else {
            panic!("five cells: {row:?}");
        };
        let name = name.trim_matches('`');
        named.insert(name.to_owned());
        let path = format!("movements/{name}.toml");
        let text = std::fs::read(format!("{ROOT}/{path}")).expect("a sample");
        let movement = sheet::read(&text).expect("good").movement;
        assert_eq!(&moments(&movement), told, "{kind}");
        let hours = movement.strike().expect("a strike").cycle_hours;
        assert_eq!(cycle, &format!("{hours} h"), "{kind}");
        let run = strike(&[&path]);
        assert_eq!(run["total"].to_string(), *blows, "{kind}");
        assert_eq!(run["end"], "same place", "{kind}");
        assert_eq!(run["before"], 0, "{kind}");
        for hour in run["hours"].as_array().expect("hours") {
            assert_eq!(hour["right"], true, "{kind}: {hour}");
        }
    }
    let samples: BTreeSet<String> = std::fs::read_dir(format!("{ROOT}/movements"))
        .expect("samples")
        .filter_map(|entry| Some(entry.ok()?.path().file_stem()?.to_str()?.to_owned()))
        .filter(|name| {
            let text = std::fs::read(format!("{ROOT}/movements/{name}.toml")).expect("a sample");
            sheet::read(&text).is_ok_and(|sheet| sheet.movement.works().is_some())
        })
        .collect();
    assert_eq!(named, samples, "every sample with levers is of some kind");
}

#[test]
fn the_object_has_what_scripts_hold_on_to() {
    let run = strike(&["movements/halfpast.toml"]);
    let first: Vec<(u64, bool, u64)> = run["hours"]
        .as_array()
        .expect("hours")
        .iter()
        .take(4)
        .map(|hour| {
            let number = |key: &str| hour[key].as_u64().expect("a number");
            (
                number("hour"),
                hour["half"].as_bool().expect("said"),
                number("blows"),
            )
        })
        .collect();
    assert_eq!(
        first,
        [(12, true, 1), (1, false, 1), (1, true, 1), (2, false, 2)]
    );
    let hour = &run["hours"][3];
    assert_eq!(hour["warning_turns"], 0.5);
    assert_eq!(hour["lock"]["fall"], 1.0);
    assert_eq!(hour["lock"]["lead_deg"], 120.0);
    assert_eq!(hour["lock"]["hammers"][0]["at_rest"], true);
    let slot = &hour["lock"]["margins"][0];
    assert_eq!(slot["lever"], "count_lever");
    // The slot is 2.2 wide, the tip 0.8: 0.7 either side of its middle as it drops.
    assert_eq!(slot["short_deg"], 0.7);
    assert_eq!(slot["short_teeth"], 0.14);
}

#[test]
fn events_carry_where_everything_stands() {
    let run = strike(&["movements/schoolroom.toml", "--events"]);
    let events = run["events"].as_array().expect("events");
    let blows = events.iter().filter(|event| event["what"] == "blow");
    assert_eq!(blows.count(), 78);
    for event in events {
        for arbor in ["great", "second", "third", "fourth", "fly", "count"] {
            assert!(event["arbors_deg"][arbor].is_number(), "{event}");
        }
        for arbor in ["levers", "lifting", "hammer"] {
            assert!(event["levers_deg"][arbor].is_number(), "{event}");
        }
    }
    let hours: Vec<f64> = events.iter().filter_map(|e| e["hours"].as_f64()).collect();
    assert!(hours.is_sorted());
    assert_eq!(events.len(), hours.len());
    assert!(
        strike(&["movements/schoolroom.toml"])
            .get("events")
            .is_none()
    );
}

#[test]
fn what_cannot_be_run_says_why() {
    let refused = |args: &[&str]| {
        let output = Command::cargo_bin("trundle")
            .expect("built")
            .current_dir(ROOT)
            .arg("strike")
            .args(args)
            .output()
            .expect("runs");
        assert_eq!(output.status.code(), Some(2), "{args:?}");
        assert!(output.stdout.is_empty());
        format!(
            "$ trundle strike {}\n{}",
            args.join(" "),
            String::from_utf8(output.stderr).expect("UTF-8")
        )
    };
    let sheet = "movements/schoolroom.toml";
    let mut told = String::new();
    for args in [
        &["movements/lattice.toml"][..],
        &["outside/sheets/moon.toml"],
        &[sheet, "--shift", "great.wheel:second.pinon=1"],
        &[sheet, "--shift", "great.wheel:second.pinion=one"],
        &[sheet, "--bend", "count_lover=1"],
        &[sheet, "--bend", "count_lever=up"],
        &[sheet, "--worn", "slots:0=1"],
        &[sheet, "--missing", "pegs"],
        &[sheet, "--slip", "count=1"],
        &[sheet, "--missing", "pins:99"],
        &[sheet, "--missing", "slots:1"],
        &[sheet, "--missing", "locking_pin:2"],
        &[sheet, "--worn", "slots:12=1"],
        &[sheet, "--worn", "pins=1"],
        &[sheet, "--worn", "slots=-1"],
        &["movements/parlour.toml", "--worn", "snail:7=5"],
        &["movements/parlour.toml", "--worn", "slots=5"],
        &[sheet, "--bend", "hammer=nan"],
        &[sheet, "--bend", "hammer=91"],
        &[sheet, "--bend", "rack=1"],
        &[sheet, "--slip", "cam=361"],
        &[sheet, "--shift", "great.wheel:second.pinion=91"],
        // Each by itself can be, together they cannot.
        &[
            sheet,
            "--shift=great.wheel:second.pinion=46",
            "--shift=great.wheel:second.pinion=45",
        ],
        &[sheet, "--bend=hammer=-46", "--bend=hammer=-45"],
        &[sheet, "--worn=slots=46", "--worn=slots:3=45"],
        &[sheet, "--slip=cam=200", "--slip=cam=161"],
    ] {
        told += &refused(args);
    }
    insta::assert_snapshot!("unfit", told);
}

/// What is put in twice at one part adds up, and is told as one.
#[test]
fn what_is_put_in_twice_is_both_together() {
    let twice = |sheet: &str, one: &str, other: &str, both: &str| {
        let path = format!("movements/{sheet}.toml");
        let good = strike(&[&path]);
        let apart = strike(&[&path, one, other]);
        assert_eq!(apart, strike(&[&path, both]), "{one} {other}");
        assert_ne!(apart, good, "{both} is seen");
    };
    let cam = [
        "--worn=cam:1=25.5",
        "--worn=cam:1=7.28",
        "--worn=cam:1=32.78",
    ];
    twice("halfpast", cam[0], cam[1], cam[2]);
    let bend = [
        "--bend=count_lever=3",
        "--bend=count_lever=-1",
        "--bend=count_lever=2",
    ];
    twice("schoolroom", bend[0], bend[1], bend[2]);
    let mesh = "--shift=second.wheel:third.pinion";
    let shift = [1, -3, -2].map(|teeth| format!("{mesh}={teeth}"));
    twice("schoolroom", &shift[0], &shift[1], &shift[2]);
    let slip = ["--slip=slots=4", "--slip=slots=3", "--slip=slots=7"];
    twice("schoolroom", slip[0], slip[1], slip[2]);
    twice(
        "schoolroom",
        "--missing=pins:1",
        "--missing=pins:1",
        "--missing=pins:1",
    );
}

/// What a bend does is said in the same words wherever it is asked.
#[test]
fn a_bend_is_told_in_the_same_words_everywhere() {
    let about = report::say!(report::Locale::default(), "bend-about");
    let kinds = std::fs::read_to_string(format!("{ROOT}/KINDS.md")).expect("the page");
    assert!(kinds.contains(&about));
    let help = Command::cargo_bin("trundle")
        .expect("built")
        .args(["strike", "--help"])
        .output()
        .expect("runs");
    let help = String::from_utf8(help.stdout).expect("UTF-8");
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(plain(&help).contains(&plain(&about)), "{help}");
}

#[test]
fn what_is_expected_is_told_by_the_status() {
    let status = |args: &[&str]| {
        let mut command = Command::cargo_bin("trundle").expect("built");
        command.current_dir(ROOT).arg("strike").args(args);
        command.output().expect("runs").status.code()
    };
    let (schoolroom, parlour) = ("movements/schoolroom.toml", "movements/parlour.toml");
    for (args, expected) in [
        (&[schoolroom][..], 0),
        (&[schoolroom, "--missing", "pins:4"], 4),
        // The number is right and the place is not good.
        (&[schoolroom, "--slip", "locking_pin=60"], 4),
        (&[parlour, "--slip", "warning_pin=178"], 4),
        (&[parlour, "--missing", "tail"], 4),
    ] {
        assert_eq!(status(args), Some(0), "{args:?}");
        assert_eq!(
            status(&[args, &["--expect"]].concat()),
            Some(expected),
            "{args:?}"
        );
    }
}

#[test]
fn a_point_that_does_not_hold_is_named_with_its_amount() {
    let run = strike(&["movements/parlour.toml", "--slip", "warning_pin=178"]);
    assert_eq!((&run["good"], &run["total"]), (&false.into(), &78.into()));
    let hour = &run["hours"][3];
    assert_eq!(hour["right"], false);
    assert_eq!(hour["judged"], serde_json::json!([1, 2, 3, 4, 6, 7]));
    let point = &hour["points"][0];
    assert_eq!(
        (&point["point"], &point["kind"]),
        (&4.into(), &"warning run".into())
    );
    assert_eq!(
        (&point["of"], &point["unit"]),
        (&"warning_arm".into(), &"turns".into())
    );
    let amount = point["amount"].as_f64().expect("a number");
    assert!((amount - 1.0 / 180.0).abs() < 1e-12);
    let why = run["why"].as_str().expect("said");
    assert!(!why.contains("It ends as it began"), "{why}");
}

#[test]
fn a_warning_of_a_quarter_turn_needs_no_shift() {
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .current_dir(ROOT)
        .args([
            "remesh",
            "movements/parlour.toml",
            "--saw",
            "pin=-90",
            "--json",
        ])
        .output()
        .expect("runs");
    let answer: Value = serde_json::from_slice(&output.stdout).expect("one object");
    assert_eq!(answer["cure"], "none needed");
}

#[test]
fn what_is_put_in_wrong_is_told_hour_by_hour() {
    let text = |args: &[&str]| {
        let output = Command::cargo_bin("trundle")
            .expect("built")
            .current_dir(ROOT)
            .arg("strike")
            .args(args)
            .output()
            .expect("runs");
        assert_eq!(output.status.code(), Some(0), "{args:?}");
        format!(
            "$ trundle strike {}\n{}\n",
            args.join(" "),
            String::from_utf8(output.stdout).expect("UTF-8")
        )
    };
    let schoolroom = "movements/schoolroom.toml";
    let quarters = "movements/quarters.toml";
    let mut told = String::new();
    for args in [
        &[schoolroom][..],
        &[schoolroom, "--shift", "second.wheel:third.pinion=-2"],
        &[schoolroom, "--bend", "count_lever=2"],
        &[schoolroom, "--worn", "slots:3=2.5"],
        &[schoolroom, "--missing", "pins:4"],
        &[schoolroom, "--slip", "cam=20"],
        &[schoolroom, "--slip", "locking_pin=60"],
        &[schoolroom, "--slip", "pins=-26"],
        &[schoolroom, "--bend", "drop_lever=5"],
        &[schoolroom, "--bend", "drop_lever=-5"],
        &[schoolroom, "--bend", "warning_arm=-30"],
        &[
            schoolroom,
            "--bend",
            "hammer=-4",
            "--bend",
            "lifting_wire=1",
        ],
        &["movements/parlour.toml", "--slip", "warning_pin=178"],
        &["movements/parlour.toml", "--slip", "pallet=-120"],
        &[
            "movements/parlour.toml",
            "--bend",
            "rack=2",
            "--bend",
            "rack_hook=1",
        ],
        &["movements/parlour.toml", "--bend", "rack_pin=2"],
        &["movements/parlour.toml", "--slip", "snail=16"],
        &[
            quarters,
            "--shift",
            "cylinder.quarter_pinion:quarter.wheel=4",
        ],
    ] {
        told += &text(args);
    }
    insta::assert_snapshot!("put_in", told);
}

/// Only a cycle that was run through is summed against what a whole one owes, and only of one is anything said of every hour.
#[test]
fn a_run_that_does_not_end_is_not_summed_as_if_it_had() {
    let (mut runaways, mut jams, mut whole, mut never) = (0, 0, 0, 0);
    for sheet in ["schoolroom", "parlour", "quarters", "mantel", "gallery"] {
        for wrong in [
            ["--bend", "drop_lever=-5"],
            ["--bend", "warning_arm=-30"],
            ["--bend", "count_lever=9"],
            ["--bend", "locking_arm=-9"],
            ["--bend", "locking_arm=2"],
            ["--bend", "rack=-9"],
            ["--bend", "rack=9"],
            ["--bend", "rack_hook=-9"],
            ["--slip", "snail=16"],
            ["--slip", "cam=20"],
            ["--missing", "tail"],
            ["--missing", "locking_pin"],
            ["--missing", "warning_pin"],
        ] {
            let output = Command::cargo_bin("trundle")
                .expect("built")
                .current_dir(ROOT)
                .args(["strike", &format!("movements/{sheet}.toml")])
                .args(wrong)
                .output()
                .expect("runs");
            if output.status.code() == Some(2) {
                continue; // This sheet has no such part.
            }
            let told = String::from_utf8(output.stdout).expect("UTF-8");
            let says = |words: &str| told.contains(words);
            let runs_on = says("runs on");
            let jam = says("t jams");
            let no_rest = says("As it was put together it d") && !says("before it came to rest");
            let which = format!("{sheet} {wrong:?}:\n{told}");
            assert_eq!(says(" blows, of "), !(runs_on || jam), "{which}");
            if runs_on || jam {
                assert!(!says("At every one") && !says("but once in it"), "{which}");
                assert!(!says("no end") && !says("\n0 blows"), "{which}");
                let far = says("It did not get ");
                assert_eq!(far, !no_rest, "{which}");
            }
            runaways += u32::from(runs_on);
            jams += u32::from(jam);
            never += u32::from(no_rest);
            whole += u32::from(!(runs_on || jam));
        }
    }
    assert!(
        runaways > 1 && jams > 1 && whole > 1 && never > 1,
        "{runaways} {jams} {whole} {never}"
    );
}
