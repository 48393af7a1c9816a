//! The commands as a user meets them: exit statuses, standard output and error, wrong questions.

use assert_cmd::Command;
use serde_json::{Value, json};

fn trundle(args: &[&str]) -> (i32, String, String) {
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
        .args(args)
        .output()
        .expect("runs");
    (
        output.status.code().expect("an exit status"),
        String::from_utf8(output.stdout).expect("UTF-8"),
        String::from_utf8(output.stderr).expect("UTF-8"),
    )
}

fn remesh(sheet: &str, saw: &[&str], more: &[&str]) -> (i32, String, String) {
    let path = format!("movements/{sheet}.toml");
    let mut args = vec!["remesh", &path];
    for saw in saw {
        args.extend(["--saw", saw]);
    }
    args.extend(more);
    trundle(&args)
}

fn of_text(sheet: &str, saw: &[&str]) -> tasks::Remesh {
    let sheet = tasks::check(sheet.as_bytes()).expect("a good sheet");
    let movement = &sheet.movement;
    let saw = tasks::written::readings(movement, movement.seen_from(), saw);
    let saw = saw.expect("readings");
    tasks::remesh(sheet, &saw, None).expect("an answer")
}

fn object(remesh: &tasks::Remesh) -> Value {
    let movement = &remesh.sheet.movement;
    json!(report::json::LookAnswer::of(
        movement,
        &remesh.answer,
        remesh.from
    ))
}

fn answer(sheet: &str, saw: &[&str], more: &[&str]) -> Value {
    let (_, out, _) = remesh(sheet, saw, &[&["--json"], more].concat());
    serde_json::from_str(&out).expect("one JSON object and nothing else")
}

#[test]
fn the_object_has_the_keys_that_scripts_hold_on_to() {
    let answer = answer("schoolroom", &["slot=-1.2", "star=-10", "pin=-30"], &[]);
    assert_eq!(answer["answer"], 1);
    assert_eq!(answer["sheet"], "Wren Street schoolroom clock");
    assert_eq!(answer["cure"], "shift");
    let shift = &answer["shifts"][0];
    for (key, value) in [
        ("mesh", "second.wheel>third.pinion"),
        ("lift", "second"),
        ("way", "counterclockwise"),
        ("seen_from", "back"),
    ] {
        assert_eq!(shift[key], value);
    }
    assert_eq!(shift["teeth"], 2);
    assert_eq!(answer["shifts"][1]["lift"], "fourth");
    assert_eq!(answer["after"]["witnesses"][0]["id"], "slot");
    let slot = answer["after"]["witnesses"][0]["stands_deg"]
        .as_f64()
        .expect("a number");
    assert!((slot - -0.6 / 13.0).abs() < 1e-12, "{slot}");
    assert_eq!(answer["after"]["witnesses"][0]["spread_deg"], 0.1);
    assert!(answer["why"].as_str().expect("a sentence").ends_with('.'));
    assert!(answer["after_handled"].as_f64() < answer["after"]["in_window"].as_f64());
}

#[test]
fn seen_from_the_other_plate_only_the_way_differs() {
    let saw = ["slot=-1.2", "star=-10", "pin=-75"];
    let back = answer("schoolroom", &saw, &[]);
    let front = answer("schoolroom", &saw, &["--from", "front"]);
    assert_eq!(back["shifts"][0]["way"], "counterclockwise");
    assert_eq!(front["shifts"][0]["way"], "clockwise");
    assert_eq!(front["shifts"][0]["seen_from"], "front");
    assert_eq!(back["after"], front["after"]);
    assert_eq!(back["now"], front["now"]);
}

#[test]
fn what_was_not_read_is_null_and_named() {
    let answer = answer("schoolroom", &["star=-10"], &[]);
    assert_eq!(answer["unread"], serde_json::json!(["slot", "pin"]));
    assert!(answer["now"]["witnesses"][0]["stands_deg"].is_null());
    assert_eq!(answer["now"]["witnesses"][1]["stands_deg"], -10.0);
}

#[test]
fn a_windows_ends_are_in_it_as_they_are_written() {
    for (saw, cure) in [
        ("slot=1", "none needed"),
        ("slot=1.0000000000000000000000001", "shift"),
        ("slot=-1.0", "none needed"),
        ("star=6", "none needed"),
        ("star=6.0000001", "shift"),
        // A place alike, nine pins further.
        ("star=366", "none needed"),
    ] {
        assert_eq!(answer("schoolroom", &[saw], &[])["cure"], cure, "{saw}");
    }
    for (saw, cure) in [
        ("stop=-5", "none needed"),
        ("stop=-5.01", "no mesh"),
        ("stop=355", "none needed"),
    ] {
        assert_eq!(answer("lattice", &[saw], &[])["cure"], cure, "{saw}");
    }
}

#[test]
fn read_in_the_middle_both_sides_of_the_train_are_reached() {
    // The slot lies behind the arbor that is held, the stop before it; each by its own mesh, the outer one last.
    let answer = answer("quay", &["slot=-0.8", "lifts=-9.5", "stop=-60"], &[]);
    let lifts: Vec<&str> = (answer["shifts"].as_array().expect("shifts").iter())
        .map(|shift| shift["lift"].as_str().expect("an arbor"))
        .collect();
    assert_eq!(lifts, ["lifting", "warning"]);
}

#[test]
fn a_cam_of_two_notches_is_read_at_half_turns() {
    // Two blows a turn of the arbor that is held: the pins then go twice as far for a turn, and all else follows.
    let text = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../movements/schoolroom.toml"
    ))
    .expect("sample")
    .replace("blows_per_turn = 1 ", "blows_per_turn = 2 ")
    .replace("repeats = 9", "repeats = 18")
    .replace("repeats = 78", "repeats = 156")
    .replace("[-1.0, 1.0]", "[-0.5, 0.5]")
    .replace("[-8.0, 6.0]", "[-4.0, 3.0]");
    let sheet = sheet::read(text.as_bytes()).expect("good");
    assert!(sheet.warnings.is_empty(), "{:?}", sheet.warnings);
    let remesh = of_text(&text, &["slot=-0.6", "star=-5"]);
    let object = object(&remesh);
    assert_eq!(object["shifts"][0]["lift"], "second");
    assert_eq!(object["shifts"][0]["teeth"], 1);
    assert_eq!(object["after"]["witnesses"][1]["stands_deg"], 0.0);
}

#[test]
fn of_two_shifts_as_good_the_one_that_comes_first_by_the_rule() {
    // Half a cycle either way comes to the same places.
    let answer = answer("schoolroom", &["slot=2.31", "star=0", "pin=-75"], &[]);
    assert_eq!(answer["shifts"][0]["way"], "either");
    assert_eq!(answer["shifts"][0]["teeth"], 1);
    // Two ways as far from best, one tooth ahead or one back: ahead is said.
    let text = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../movements/lattice.toml"
    ))
    .expect("sample")
    .replace("[-5.0, 5.0]", "[-8.0, 8.0]");
    let remesh = of_text(&text, &["stop=-52.5"]);
    let object = object(&remesh);
    // Three teeth of 15 degrees, or four: as far off, so fewest teeth; of two arbors the one earlier on the sheet.
    assert_eq!(object["shifts"][0]["teeth"], 1);
    assert_eq!(object["shifts"][0]["mesh"], "two.wheel>three.pinion");
}

#[test]
fn outside_meshes_are_offered_before_plates_are_spread() {
    let answer = answer("halfpast", &["slot=1.1", "pins=0", "stop=-120"], &[]);
    assert_eq!(answer["shifts"][0]["lift"], "count");
    assert_eq!(answer["shifts"][0]["reached"], "outside");
    assert!(
        answer["cautions"].is_null(),
        "no plates, no caution about spreading them"
    );
}

#[test]
fn no_mesh_is_exit_three_with_the_nearest() {
    let (status, out, err) = remesh("lattice", &["stop=5.5"], &["--json"]);
    assert_eq!((status, err.contains("warning")), (3, true), "{err}");
    let answer: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(answer["cure"], "no mesh");
    assert_eq!(answer["shifts"], serde_json::json!([]));
    assert_eq!(answer["after"], answer["now"]);
    assert_eq!(answer["nearest"]["misses_by_deg"], 0.5);
    assert_eq!(answer["nearest"]["part_of_window"], 0.05);
    let (status, out, _) = remesh("lattice", &["stop=-99"], &["--json"]);
    let answer: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(status, 3);
    // -99 goes to 6 by seven teeth of 15, to -9 by six: the window is missed by 1.
    assert_eq!(answer["nearest"]["shifts"][0]["teeth"], 7);
    assert_eq!(answer["nearest"]["misses_by_deg"], 1.0);
}

#[test]
fn readings_are_said_as_they_look_by_teeth_and_on_the_clock_face() {
    let stands = |saw: &str, more: &[&str], at: usize| {
        answer("halfpast", &[saw], more)["now"]["witnesses"][at]["stands_deg"]
            .as_f64()
            .expect("a number")
    };
    for (saw, at, expected) in [
        ("slot=in", 0, 0.0),
        ("slot=edge-short", 0, -1.1),
        ("slot=edge-ahead", 0, 1.1),
        ("slot=rim", 0, 2.0),
        ("pins=-1tooth:second.wheel", 1, -360.0 / 70.0),
        ("pins=2teeth", 1, 720.0 / 70.0),
        // One tooth of the arbor that is held turns the second arbor by a tooth of it, seven leaves to seventy teeth.
        ("pins=7teeth:locking.pinion", 1, 0.0),
        ("pins=0.5teeth:locking.pinion", 1, 180.0 / 70.0),
    ] {
        assert!(
            (stands(saw, &[], at) - expected).abs() < 1e-9,
            "{saw}: {}",
            stands(saw, &[], at)
        );
    }
    // The great arbor runs counterclockwise from the back, the second clockwise, the locking arbor counterclockwise, the
    // warning arbor clockwise. Its arm stands at two; the pin at six is then a third of a turn past it, or two thirds short.
    assert!((stands("stop=6oclock", &[], 2) - -240.0).abs() < 1e-9);
    assert!((stands("stop=10oclock", &[], 2) - -120.0).abs() < 1e-9);
    assert!((stands("stop=9:30", &[], 2) - -135.0).abs() < 1e-9);
    // From the front the same place is seen mirrored: ten stands at two.
    assert!((stands("stop=2oclock", &["--from", "front"], 2) - -120.0).abs() < 1e-9);
}

#[test]
fn a_wrong_question_is_exit_two_with_nothing_on_standard_output() {
    let mut told = String::new();
    for (sheet, saw) in [
        ("schoolroom", &[][..]),
        ("schoolroom", &["slot"]),
        ("schoolroom", &["slto=1"]),
        ("schoolroom", &["wheel=1"]),
        ("schoolroom", &["slot=one"]),
        ("schoolroom", &["slot=1e3"]),
        ("schoolroom", &["slot=nan"]),
        ("schoolroom", &["slot=1~"]),
        ("schoolroom", &["slot=1~0"]),
        ("schoolroom", &["slot=1~-0.1"]),
        ("schoolroom", &["slot=1~1.1538461538461540"]),
        ("schoolroom", &["slot=1", "slot=2"]),
        ("schoolroom", &["slot=in"]),
        ("schoolroom", &["pin=4oclock"]),
        ("schoolroom", &["star=1tooth:second.weel"]),
        ("halfpast", &["stop=13oclock"]),
        ("halfpast", &["stop=4:75"]),
        ("halfpast", &["slot=3oclock"]),
        ("parlour", &["pins=1tooth:centre.wheel"]),
    ] {
        let (status, out, err) = remesh(sheet, saw, &["--json"]);
        assert_eq!((status, out.as_str()), (2, ""), "{saw:?}");
        told += &err;
    }
    insta::assert_snapshot!("questions", told);
    for args in [
        &["remesh"][..],
        &["remesh", "movements/quay.toml", "--from", "left"],
        &["wind"],
        &[],
    ] {
        let (status, out, err) = trundle(args);
        assert_eq!((status, out.as_str()), (2, ""), "{args:?}");
        assert!(!err.is_empty());
    }
    let (status, out, err) = trundle(&["train", "movements/quay.toml", "--per", "flye"]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(err.contains("did you mean `fly`?"), "{err}");
}

#[test]
fn a_file_that_is_not_there_is_exit_one() {
    for command in ["check", "train", "remesh"] {
        let (status, out, err) = trundle(&[command, "no/such/sheet.toml"]);
        assert_eq!((status, out.as_str()), (1, ""));
        assert!(err.contains("cannot read no/such/sheet.toml"), "{err}");
    }
    assert_eq!(trundle(&["check", "."]).0, 1, "a folder is no sheet");
}

#[test]
fn train_tells_the_same_to_people_and_to_scripts() {
    let (status, text, _) = trundle(&["train", "movements/schoolroom.toml"]);
    assert_eq!(status, 0);
    insta::assert_snapshot!("train", text);
    let (_, out, _) = trundle(&[
        "train",
        "movements/schoolroom.toml",
        "--json",
        "--per",
        "great",
    ]);
    let train: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(train["per"], "great");
    let fly = &train["arbors"][4];
    assert_eq!(fly["id"], "fly");
    // 90/10 · 72/8 · 56/7 · 48/6.
    assert_eq!(fly["turns"]["exact"], "5184");
    assert_eq!(fly["runs"]["back"], "clockwise");
    assert_eq!(fly["runs"]["front"], "counterclockwise");
    assert_eq!(
        train["no_witness_beyond"],
        serde_json::json!(["great.wheel>second.pinion", "fourth.wheel>fly.pinion"])
    );
}

/// A train of wheels of which no two have a count in common, with a witness at its end that must stand within `window` degrees: the
/// places that shifts lead to lie as dense as all counts together.
fn dense(wheels: usize, window_deg: &str) -> String {
    let prime = |n: &u16| (2..32).all(|by| !n.is_multiple_of(by));
    let counts: Vec<u16> = (500..1000).rev().filter(prime).collect();
    let mut sheet = format!(
        "sheet = 1\nname = \"dense\"\nseen_from = \"front\"\n[arbor.a0]\nruns = \"clockwise\"\nwheel = {}\n",
        counts[0]
    );
    for n in 1..wheels {
        sheet += &format!(
            "[arbor.a{n}]\npinion = {}\nwheel = {}\n[[mesh]]\ndriver = \"a{}.wheel\"\ndriven = \"a{n}.pinion\"\n",
            counts[2 * n - 1],
            counts[2 * n],
            n - 1
        );
    }
    sheet
        + &format!(
            "[strike]\ncounted_by = \"rack\"\nblows = \"hours\"\nread_at = \"a0\"\nblows_per_turn = 1\n\
             [[witness]]\nid = \"end\"\nsays = \"its mark\"\non = \"a{}\"\nrepeats = 1\n\
             window_deg = [-{window_deg}, {window_deg}]\nbest_deg = 0\n",
            wheels - 1
        )
}

/// More than a whole turn is right by the counts, and stays the answer to scripts; whoever has a wheel in hand is told to count again.
#[test]
fn more_than_a_whole_turn_is_no_advice() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheet = folder.path().join("dense.toml");
    let ask = |more: &[&str]| {
        let path = sheet.to_str().expect("a path");
        let args = [&["remesh", path, "--saw", "end=77~0.00001"], more].concat();
        trundle(&args)
    };
    std::fs::write(&sheet, dense(4, "0.0001")).expect("written");
    let (status, out, _) = ask(&["--json"]);
    let told: Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!((status, &told["cure"]), (0, &Value::from("shift")));
    let teeth = told["shifts"][0]["teeth"].as_i64().expect("a number");
    assert!(teeth > 1000, "{teeth}");
    let (_, out, _) = ask(&[]);
    assert!(out.contains("count the wheels on the sheet again"), "{out}");
    assert!(
        out.contains(&format!("{teeth} teeth")),
        "what follows from the counts: {out}"
    );
    for advice in ["ift the", "turn it", "hold the", "Caution", "done as said"] {
        assert!(!out.contains(advice), "{advice}: {out}");
    }
}
