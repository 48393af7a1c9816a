//! Readings and sheets as people write them; nothing of what is echoed reaches a terminal as anything but letters.

use assert_cmd::Command;

fn trundle(args: &[&str], sheet: &str) -> (i32, String, String) {
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .args(args)
        .write_stdin(sheet)
        .output()
        .expect("runs");
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
    (
        output.status.code().expect("an exit status"),
        text(output.stdout),
        text(output.stderr),
    )
}

const SCHOOLROOM: &str = include_str!("../../../movements/schoolroom.toml");

#[test]
fn a_reading_is_taken_as_people_write_it() {
    let plain = trundle(
        &["remesh", "-", "--saw", "slot=-1.2~0.1", "--saw", "star=-10"],
        SCHOOLROOM,
    );
    assert_eq!(plain.0, 0, "{}", plain.2);
    for slot in ["slot=-1,2~0,1", "slot=−1.2°~0.1°", "slot=−1,2° ~0.1"] {
        let written = trundle(
            &["remesh", "-", "--saw", slot, "--saw", "star=−10°"],
            SCHOOLROOM,
        );
        assert_eq!(written, plain, "{slot}");
    }
    assert_eq!(
        trundle(&["remesh", "-", "--saw", "slot=1,2,3"], SCHOOLROOM).0,
        2
    );
}

#[test]
fn nothing_that_a_terminal_obeys_is_ever_printed() {
    let evil = "\u{1b}[31m\u{9b}2J\u{7}\u{202e}";
    let named = SCHOOLROOM.replace(
        "Wren Street schoolroom clock",
        &format!("Wren {}", "\\u001b[31m\\u009b\\u202e"),
    );
    let says = SCHOOLROOM.replace("the hammer tail between", "\\u001b]0;x\\u0007 between");
    let key = SCHOOLROOM.replace("wheel = 90", "\"\\u001b[2J\" = 90");
    let saw = format!("slot={evil}");
    let mesh = format!("{evil}=1");
    for (args, sheet) in [
        (vec!["check", "-"], named.as_str()),
        (vec!["train", "-"], &named),
        (vec!["train", "-", "--json"], &named),
        (vec!["train", "-", "--per", evil], SCHOOLROOM),
        (vec!["remesh", "-", "--saw", "slot=1", "--json"], &named),
        (vec!["remesh", "-", "--saw", &saw], SCHOOLROOM),
        (vec!["check", "-"], &says),
        (vec!["check", "-"], &key),
        (vec!["strike", "-", "--shift", &mesh], SCHOOLROOM),
        (vec!["check", evil], ""),
        (vec![evil], ""),
        (vec!["check", "-", evil], ""),
    ] {
        let (_, out, err) = trundle(&args, sheet);
        for text in [out, err] {
            let obeyed =
                |c: char| (c.is_control() && c != '\n') || ('\u{202a}'..='\u{202e}').contains(&c);
            assert!(!text.contains(obeyed), "{args:?}: {text:?}");
        }
    }
    let (status, out, _) = trundle(&["train", "-", "--json"], &named);
    assert_eq!(status, 0);
    serde_json::from_str::<serde_json::Value>(&out).expect("JSON all the same");
}

/// The schoolroom with a witness whose window nobody wrote, and without the levers from which it would follow.
fn without_pins_window() -> String {
    let levers = SCHOOLROOM
        .find("# Levers and tracks.")
        .expect("they are last");
    SCHOOLROOM[..levers].replace("window_deg = [-110.0, -55.0]\nbest_deg = -75.0\n", "")
}

#[test]
fn a_witness_without_a_window_is_known_by_name_and_not_judged() {
    let sheet = without_pins_window();
    assert_ne!(sheet, SCHOOLROOM);
    let (status, out, err) = trundle(&["check", "-"], &sheet);
    assert_eq!((status, err.as_str()), (0, ""));
    assert!(
        out.contains("3 witnesses") && out.contains("`pin` has no `window_deg`"),
        "{out}"
    );
    let (status, out, err) = trundle(&["remesh", "-", "--saw", "pin=-75"], &sheet);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(err.contains("`pin` has no `window_deg`"), "{err}");
    // What its window is not needed for is answered.
    let told = trundle(
        &["remesh", "-", "--saw", "slot=-1.2", "--saw", "star=-10"],
        &sheet,
    );
    assert!(told.0 == 0 && told.1.contains("two teeth"), "{told:?}");
    assert_eq!(trundle(&["train", "-"], &sheet).0, 0);
    // To close up would need it.
    let (status, out, err) = trundle(
        &["remesh", "-", "--saw", "slot=0", "--saw", "star=0"],
        &sheet,
    );
    assert_eq!((status, out.as_str()), (2, ""), "{err}");
    let folder = tempfile::tempdir().expect("a folder");
    let log = folder.path().join("log.jsonl");
    let log = log.to_str().expect("a path");
    let saw = [
        "remesh",
        "-",
        "--log",
        log,
        "--saw",
        "slot=0~0.05",
        "--saw",
        "star=0~0.5",
    ];
    let (status, out, _) = trundle(&saw, &sheet);
    assert!(status == 2 || !out.contains("close up"), "{out}");
}

#[test]
fn a_best_place_that_nobody_wrote_is_where_the_sheet_means_it() {
    let text = SCHOOLROOM.replace(
        "window_deg = [-8.0, 6.0]\nbest_deg = 0.0\n",
        "window_deg = [-8.0, 6.0]\n",
    );
    let sheet = sheet::read(text.as_bytes()).expect("good: its levers say how it strikes");
    let star = sheet.movement.find_witness("star").expect("there");
    assert!(sheet.movement.witness(star).best.is_zero());
}

#[test]
fn a_sheet_that_can_be_asked_nothing_is_refused_when_it_is_asked() {
    let sheet = include_str!("../../../movements/lattice.toml")
        .replace("window_deg = [-5.0, 5.0]\nbest_deg = 0.0\n", "");
    assert_eq!(trundle(&["check", "-"], &sheet).0, 0);
    for saw in [vec![], vec!["--saw", "stop=0"]] {
        let args: Vec<&str> = ["remesh", "-"].into_iter().chain(saw).collect();
        let (status, out, err) = trundle(&args, &sheet);
        assert_eq!((status, out.as_str()), (2, ""));
        assert!(err.contains("stop") && err.contains("window_deg"), "{err}");
    }
}

#[test]
fn a_train_that_cannot_come_out_is_told_with_the_likeliest_miscount() {
    let mut told = String::new();
    for (from, to) in [
        ("wheel = 72", "wheel = 71"),
        ("pinion = { teeth = 8,", "pinion = { teeth = 7,"),
        ("wheel = 52", "wheel = 51"),
        ("wheel = 72\n", "wheel = 78\n"),
        ("repeats = 9\n", "repeats = 8\n"),
    ] {
        let sheet = SCHOOLROOM.replacen(from, to, 1);
        assert_ne!(sheet, SCHOOLROOM, "{from}");
        let (status, out, _) = trundle(&["check", "-"], &sheet);
        assert_eq!(status, 0);
        let again: Vec<&str> = out
            .lines()
            .filter(|line| {
                line.contains("count again")
                    || line.contains("miscount")
                    || line.starts_with("No single")
            })
            .collect();
        told += &format!(
            "{}
  {}
",
            to.trim_end(),
            again.join("\n  ")
        );
    }
    insta::assert_snapshot!(told);
}

/// The arbor of a gravity escapement with three legs: six beats a turn, and no wheel to count.
#[test]
fn beats_of_a_turn_are_read_where_the_sheet_tells_them() {
    let sheet = "sheet = 1\nname = \"Quay Street turret clock\"\nseen_from = \"front\"\n[arbor.centre]\nruns = \"clockwise\"\nturn_s = 3600\nwheel = 120\n[arbor.second]\npinion = 12\nwheel = 100\n[arbor.escape]\npinion = 10\nbeats_per_turn = 6\n[[mesh]]\ndriver = \"centre.wheel\"\ndriven = \"second.pinion\"\n[[mesh]]\ndriver = \"second.wheel\"\ndriven = \"escape.pinion\"\n";
    let (status, out, err) = trundle(&["check", "-"], sheet);
    assert_eq!((status, err.as_str()), (0, ""));
    assert!(!out.contains("warning"), "{out}");
    let (_, out, _) = trundle(&["train", "-"], sheet);
    assert!(out.contains("beats an hour: 600"), "{out}");
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("turret.toml");
    std::fs::write(&path, sheet).expect("written");
    let (status, out, err) = trundle(&["pendulum", path.to_str().expect("a path")], "");
    assert!(
        status == 0 && out.contains("600 beats an hour"),
        "{out}{err}"
    );
    // A pendulum that does not go with it is told.
    let long = sheet.replace(
        "beats_per_turn = 6",
        "beats_per_turn = 6\npendulum_mm = 994",
    );
    assert!(
        trundle(&["check", "-"], &long)
            .1
            .contains("count again, or measure")
    );
}

/// A count wheel that a gathering pin moves on, a place at a blow.
#[test]
fn a_part_of_one_to_three_pins_turns_and_is_drawn() {
    for pins in [1, 2, 3] {
        let sheet = SCHOOLROOM
            .replace("count_pinion = 6\n", "")
            .replace(
                "wheel = 56",
                &format!("wheel = 56\ngather = {{ teeth = {pins}, form = \"pins\" }}"),
            )
            .replace("wheel = 52", &format!("wheel = {}", 78 * pins))
            .replace("second.count_pinion", "third.gather");
        let (status, out, err) = trundle(&["check", "-"], &sheet);
        assert_eq!((status, err.as_str()), (0, ""));
        assert!(
            !out.contains("warning") && !out.contains("count again"),
            "{out}"
        );
        let (status, out, _) = trundle(&["train", "-", "--json"], &sheet);
        assert!(status == 0 && out.contains("\"pins\""), "{out}");
        let folder = tempfile::tempdir().expect("a folder");
        let drawing = folder.path().join("oil.svg");
        let drawn = ["oil", "-", "--drawing", drawing.to_str().expect("a path")];
        let (status, _, err) = trundle(&drawn, &sheet);
        assert_eq!(status, 0, "{err}");
        let svg = std::fs::read_to_string(drawing).expect("drawn");
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{pins} pins");
        assert_eq!(trundle(&["strike", "-"], &sheet).0, 0);
    }
    let cut = SCHOOLROOM.replace("wheel = 56", "wheel = 56\ngather = 2");
    assert_eq!(trundle(&["check", "-"], &cut).0, 2);
}

#[test]
fn a_sheet_with_counts_missing_is_warned_of_as_well() {
    let sheet = SCHOOLROOM.replace("wheel = 72", "wheel = \"?\"\npivot = 5");
    let (status, out, _) = trundle(&["check", "-"], &sheet);
    assert!(
        status == 0 && out.contains("did you mean `pivot_mm`?"),
        "{out}"
    );
}
