//! Every fault a sheet can have, in words, with its place: one snapshot each. A fault that is added without a case here fails.

use assert_cmd::Command;
use std::collections::BTreeSet;

/// A good sheet, to be spoiled.
const GOOD: &str = r#"sheet = 1
name = "Wren Street exercise"
seen_from = "back"

[arbor.great]
runs = "clockwise"
wheel = 90

[arbor.second]
pinion = 10
wheel = 72

[arbor.third]
pinion = { teeth = 8, form = "lantern" }

[[mesh]]
driver = "great.wheel"
driven = "second.pinion"

[[mesh]]
driver = "second.wheel"
driven = "third.pinion"

[strike]
counted_by = "count wheel"
blows = "hours"
read_at = "third"
blows_per_turn = 1

[[witness]]
id = "star"
says = "the hammer tail between two pins"
on = "second"
repeats = 9
window_deg = [-8.0, 6.0]
best_deg = 0.0

[[track]]
id = "cam"
on = "third"
notches_deg = [17]
slot_deg = 40
ramp_deg = 10

[[track]]
id = "snail"
hours = 12
steps = [1, 2, 3]

[[track]]
id = "stars"
on = "second"
pins = 9
rise_deg = 15

[[pin]]
id = "stop"
on = "third"
at_deg = 75

[[lever]]
id = "drop_lever"
on = "levers"
feels = "cam"
lift_deg = 8

[[lever]]
id = "arm"
on = "levers"
stops = "stop"
below_deg = 4

[[lever]]
id = "wire"
on = "lifting"
lifts = "levers"

[rack]
snail = "snail"
teeth = 14
tooth_deg = 2
pallet = "stop"
hook = "levers"
free_deg = 4
"#;

/// What to write in place of what, and the fault it makes, by the name of its kind.
const SPOILED: &[(&str, &str, &str)] = &[
    // The text.
    ("Toml", "wheel = 90", "wheel = = 90"),
    ("Toml", "[arbor.second]", "[arbor.second"),
    ("Slip", "best_deg = 0.0", "best_deg = 0,5"),
    ("Slip", "[-8.0, 6.0]", "[−8.0, 6.0]"),
    ("Slip", "best_deg = 0.0", "best_deg = 0.0°"),
    ("Slip", "ramp_deg = 10", "ramp_deg = 10 deg"),
    ("Slip", "wheel = 90", "wheel = 9O"),
    (
        "Slip",
        "name = \"Wren Street exercise\"",
        "name = “Wren Street exercise”",
    ),
    ("Slip", "runs = \"clockwise\"", "runs = clockwise"),
    ("Slip", "seen_from = \"back\"", "seen_from = \"back"),
    ("Doubled", "wheel = 90", "wheel = 90\nwheel = 91"),
    ("Doubled", "[arbor.third]", "[arbor.second]"),
    (
        "UnknownKey",
        "read_at = \"third\"",
        "read_at = \"third\"\nblow = 3",
    ),
    ("UnknownKey", "seen_from", "sean_from"),
    ("UnknownKey", "[strike]", "[colour]\nred = 1\n[strike]"),
    ("UnknownKey", "runs = \"clockwise\"", "run = \"clockwise\""),
    ("UnknownKey", "form = \"lantern\"", "forms = \"lantern\""),
    ("Missing", "read_at = \"third\"\n", ""),
    ("Missing", "sheet = 1\n", ""),
    ("Missing", "id = \"star\"\n", ""),
    ("UnknownKey", "id = \"arm\"", "di = \"arm\""),
    (
        "Missing",
        "[strike]",
        "[[pillar]]\nid = \"top\"\nfixing = \"nut\"\n[strike]",
    ),
    ("Value", "sheet = 1", "sheet = 2"),
    ("Value", "wheel = 90", "wheel = 90\nspring_width_cm = 1.9"),
    ("Value", "wheel = 90", "wheel = 90\nturn = 3600"),
    ("Value", "wheel = 90", "wheel = 90\npivot-mm = 2"),
    ("Value", "wheel = 90", "wheel = 90\npivot_mm = \"1,5\""),
    ("Value", "wheel = 90", "wheel = 90\nat_mm = [40, 18, 2]"),
    ("Value", "wheel = 90", "wheel = 90\nat_mm = [40, \"18,5\"]"),
    ("Value", "wheel = 90", "wheel = 90\nheld_by = \"sqare\""),
    ("Value", "wheel = 90", "wheel = 90\nbeats_per_turn = 0"),
    (
        "Value",
        "{ teeth = 8, form = \"lantern\" }",
        "{ teeth = 3, form = \"lantern\" }",
    ),
    ("Value", "[1, 2, 3]", "[1, 2, \"3\"]"),
    ("Value", "[-8.0, 6.0]", "[-8,0, 6,0]"),
    ("Value", "wheel = 90", "wheel = 3"),
    ("Value", "wheel = 90", "wheel = 1001"),
    ("Value", "wheel = 90", "wheel = 90.5"),
    ("Value", "teeth = 8", "teeth = \"eight\""),
    ("Value", "\"back\"", "\"bck\""),
    ("Value", "\"clockwise\"", "\"right\""),
    ("Value", "[arbor.great]", "[arbor.Great]"),
    ("Value", "driver = \"great.wheel\"", "driver = \"great\""),
    (
        "Value",
        "driver = \"great.wheel\"",
        "driver = \"great.wheel\"\ninternal = 1",
    ),
    (
        "Value",
        "driver = \"great.wheel\"",
        "driver = \"great.wheel\"\nlash_teeth = 2.5",
    ),
    ("Value", "blows_per_turn = 1", "blows_per_turn = 0"),
    (
        "Value",
        "blows_per_turn = 1",
        "blows_per_turn = 1\nhold_deg = -1",
    ),
    ("Value", "repeats = 9", "repeats = 0"),
    ("Value", "best_deg = 0.0", "best_deg = nan"),
    ("Value", "[-8.0, 6.0]", "[-8.0]"),
    ("Value", "best_deg = 0.0", "best_deg = 0.0\narm_oclock = 13"),
    (
        "Value",
        "says = \"the hammer tail between two pins\"",
        "says = \"\"",
    ),
    ("Value", "wheel = 90", "wheel = 90\nspring_mm = \"long\""),
    ("Value", "wheel = 90", "wheel = 90\nturn_s = 0"),
    ("Value", "wheel = 90", "wheel = \"about 90?\""),
    (
        "Value",
        "driver = \"great.wheel\"",
        "driver = \"great.wheel\"\ncentre_mm = 0",
    ),
    ("Value", "[strike]", "[[strike]]"),
    ("Value", "[[witness]]", "[witness]"),
    // The movement.
    ("Uncounted", "wheel = 90", "wheel = \"?\""),
    (
        "Uncounted",
        "{ teeth = 8, form = \"lantern\" }",
        "{ teeth = \"?\", form = \"lantern\" }\nwheel = \"?\"\nother = \"?\"",
    ),
    (
        "DoubledWitness",
        "best_deg = 0.0\n",
        "best_deg = 0.0\n[[witness]]\nid = \"star\"\nsays = \"again\"\non = \"second\"\nrepeats = 9\nwindow_deg = [-8.0, 6.0]\nbest_deg = 0.0\n",
    ),
    (
        "DoubledMoment",
        "[strike]",
        "[[moment]]\nid = \"lock\"\narbor = \"third\"\nsays = \"locked\"\n[[moment]]\nid = \"lock\"\narbor = \"third\"\nsays = \"locked\"\n[strike]",
    ),
    (
        "DropIsGiven",
        "[strike]",
        "[[moment]]\nid = \"drop\"\narbor = \"third\"\nsays = \"dropped\"\n[strike]",
    ),
    (
        "UnknownArbor",
        "driver = \"great.wheel\"",
        "driver = \"graet.wheel\"",
    ),
    (
        "UnknownArbor",
        "read_at = \"third\"",
        "read_at = \"escape\"",
    ),
    (
        "UnknownPart",
        "driver = \"great.wheel\"",
        "driver = \"great.weel\"",
    ),
    ("MisspeltPart", "wheel = 90", "whel = 90"),
    (
        "UnknownPart",
        "wheel = 90",
        "wheel = 90\nheld_by = { weel = \"square\" }",
    ),
    (
        "DoubledId",
        "[strike]",
        "[[pivot]]\nid = \"great\"\n[strike]",
    ),
    (
        "DoubledId",
        "[strike]",
        "[[pillar]]\nid = \"top\"\nat_mm = [0, 1]\nfixing = \"pin\"\n[[pillar]]\nid = \"top\"\nat_mm = [1, 0]\nfixing = \"pin\"\n[strike]",
    ),
    ("UnknownMoment", "repeats = 9", "at = \"lock\"\nrepeats = 9"),
    (
        "OneArbor",
        "driven = \"third.pinion\"",
        "driven = \"second.pinion\"",
    ),
    (
        "MeshedTwice",
        "[strike]",
        "[[mesh]]\ndriver = \"third.pinion\"\ndriven = \"second.wheel\"\n[strike]",
    ),
    (
        "DrivenTwice",
        "[strike]",
        "[arbor.other]\nwheel = 50\n[[mesh]]\ndriver = \"other.wheel\"\ndriven = \"third.pinion\"\n[strike]",
    ),
    ("InNoMesh", "[strike]", "[arbor.fly]\npinion = 6\n[strike]"),
    (
        "TwoUndriven",
        "[strike]",
        "[arbor.other]\nwheel = 50\n[arbor.fourth]\npinion = 7\npipe = 10\n[[mesh]]\ndriver = \"other.wheel\"\ndriven = \"fourth.pinion\"\n[[mesh]]\ndriver = \"great.wheel\"\ndriven = \"fourth.pipe\"\n[strike]",
    ),
    (
        "NoneUndriven",
        "[strike]",
        "[[mesh]]\ndriver = \"third.pinion\"\ndriven = \"great.wheel\"\n[strike]",
    ),
    (
        "LoopOpen",
        "[strike]",
        "[arbor.fourth]\npinion = 9\npipe = 10\n[[mesh]]\ndriver = \"second.wheel\"\ndriven = \"fourth.pinion\"\n[[mesh]]\ndriver = \"great.wheel\"\ndriven = \"fourth.pipe\"\n[strike]",
    ),
    ("NoRuns", "runs = \"clockwise\"\n", ""),
    (
        "RunsContradict",
        "wheel = 72",
        "wheel = 72\nruns = \"clockwise\"",
    ),
    (
        "NoStrike",
        "[strike]\ncounted_by = \"count wheel\"\nblows = \"hours\"\nread_at = \"third\"\nblows_per_turn = 1\n",
        "",
    ),
    (
        "NotJoined",
        "on = \"second\"",
        "on = \"b\"\n[arbor.a]\nruns = \"clockwise\"\nwheel = 50\n[arbor.b]\npinion = 6\n[[mesh]]\ndriver = \"a.wheel\"\ndriven = \"b.pinion\"\n[[witness]]\nid = \"x\"\nsays = \"x\"\non = \"second\"",
    ),
    ("UpsideDown", "[-8.0, 6.0]", "[6.0, -8.0]"),
    ("UpsideDown", "[-8.0, 6.0]", "[0.0, 0.0]"),
    ("TooWide", "[-8.0, 6.0]", "[-28.0, 16.0]"),
    ("BestOutside", "best_deg = 0.0", "best_deg = 7.0"),
    (
        "SlotWithoutTip",
        "best_deg = 0.0",
        "best_deg = 0.0\ntip_deg = 1",
    ),
    (
        "SlotMisfit",
        "best_deg = 0.0",
        "best_deg = 0.0\nslot_deg = 1\ntip_deg = 2",
    ),
    // The works of the strike.
    ("NotOne", "on = \"third\"\nnotches_deg", "notches_deg"),
    ("NotOne", "pins = 9", "pins = 9\nplaces_deg = [0]"),
    ("NotOne", "below_deg = 4", "below_deg = 4\nabove_deg = 4"),
    ("NotOne", "lifts = \"levers\"\n", ""),
    ("OutOfPlace", "pins = 9", "pins = 9\nslot_deg = 4"),
    (
        "OutOfPlace",
        "lifts = \"levers\"",
        "lifts = \"levers\"\ntip_deg = 4",
    ),
    ("Missing", "slot_deg = 40\n", ""),
    ("UnknownKey", "notches_deg", "notches_dge"),
    ("Value", "pins = 9", "pins = 0"),
    ("Value", "[1, 2, 3]", "[]"),
    ("Value", "rise_deg = 15", "rise_deg = 0"),
    ("Value", "at_deg = 75", "at_deg = \"noon\""),
    ("Value", "hours = 12", "hours = 0"),
    ("Value", "free_deg = 4", "free_deg = 4\nenters_teeth = 1"),
    (
        "Value",
        "steps = [1, 2, 3]",
        "steps = [1, 2, 3]\nstar_minute = 60",
    ),
    (
        "Value",
        "blows_per_turn = 1",
        "blows_per_turn = 1\ncycle_hours = 25",
    ),
    ("Value", "lift_deg = 8", "lift_deg = 8\nlocks = 1"),
    ("Value", "lift_deg = 8", "lift_deg = 8\nstrikes = \"\""),
    ("Value", "[rack]", "[[rack]]"),
    ("Value", "[rack]", "[chime]\nnotes = [4, 0]\n[rack]"),
    ("Value", "notches_deg = [17]", "counts = [600, 500]"),
    (
        "Value",
        "pins = 9\nrise_deg = 15",
        "outline = [[0, 1], [10, 2]]",
    ),
    ("Value", "pins = 9", "pins = 9\nheights = [2]"),
    ("DoubledId", "id = \"arm\"", "id = \"drop_lever\""),
    ("UnknownId", "feels = \"cam\"", "feels = \"can\""),
    ("UnknownId", "stops = \"stop\"", "stops = \"pin\""),
    ("UnknownId", "lifts = \"levers\"", "lifts = \"hammer\""),
    (
        "UnknownArbor",
        "on = \"second\"\npins",
        "on = \"sceond\"\npins",
    ),
    ("NoRoom", "slot_deg = 40", "slot_deg = 360"),
    ("NoRoom", "rise_deg = 15", "rise_deg = 40"),
    ("NoRoom", "ramp_deg = 10", "ramp_deg = 321"),
    (
        "HeightsMiscounted",
        "pins = 9",
        "pins = 9\nheights = [1, 0.5]",
    ),
    (
        "OutlineBack",
        "pins = 9\nrise_deg = 15",
        "outline = [[0, 1], [20, 0.5], [10, 0]]",
    ),
    (
        "LiftsRound",
        "lifts = \"levers\"",
        "lifts = \"levers\"\n[[lever]]\nid = \"back\"\non = \"levers\"\nlifts = \"lifting\"",
    ),
    ("RackDriven", "lifts = \"levers\"", "lifts = \"rack\""),
    (
        "NoRack",
        "lifts = \"levers\"\n\n[rack]\nsnail = \"snail\"\nteeth = 14\ntooth_deg = 2\npallet = \"stop\"\nhook = \"levers\"\nfree_deg = 4\n",
        "feels = \"rack\"\nlift_deg = 3\n",
    ),
    ("NotASnail", "snail = \"snail\"", "snail = \"cam\""),
    ("NotASnail", "feels = \"cam\"", "feels = \"snail\""),
];

fn check(text: &[u8]) -> (i32, String, String) {
    run("check", text)
}

fn run(command: &str, text: &[u8]) -> (i32, String, String) {
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .args([command, "-"])
        .write_stdin(text)
        .output()
        .expect("runs");
    (
        output.status.code().expect("an exit status"),
        String::from_utf8(output.stdout).expect("UTF-8"),
        String::from_utf8(output.stderr).expect("UTF-8"),
    )
}

/// The kind's name, without a catch-all: a kind that is added must be named here, and then in `SPOILED`.
fn kind(what: &sheet::SheetFaultKind) -> &'static str {
    use movement::FlawKind as M;
    use sheet::SheetFaultKind as S;
    match what {
        S::TooLong { .. } => "TooLong",
        S::ManyKeys { .. } => "ManyKeys",
        S::NotUtf8 { .. } => "NotUtf8",
        S::Empty => "Empty",
        S::Toml { .. } => "Toml",
        S::Slip { .. } => "Slip",
        S::Doubled { .. } => "Doubled",
        S::UnknownKey { .. } => "UnknownKey",
        S::Missing { .. } => "Missing",
        S::Value { .. } => "Value",
        S::NotOne { .. } => "NotOne",
        S::OutOfPlace { .. } => "OutOfPlace",
        S::Movement(M::Uncounted { .. }) => "Uncounted",
        S::Movement(M::DoubledWitness { .. }) => "DoubledWitness",
        S::Movement(M::DoubledMoment { .. }) => "DoubledMoment",
        S::Movement(M::DropIsGiven) => "DropIsGiven",
        S::Movement(M::UnknownArbor { .. }) => "UnknownArbor",
        S::Movement(M::UnknownPart { .. }) => "UnknownPart",
        S::Movement(M::MisspeltPart { .. }) => "MisspeltPart",
        S::Movement(M::UnknownMoment { .. }) => "UnknownMoment",
        S::Movement(M::OneArbor { .. }) => "OneArbor",
        S::Movement(M::MeshedTwice { .. }) => "MeshedTwice",
        S::Movement(M::DrivenTwice { .. }) => "DrivenTwice",
        S::Movement(M::InNoMesh { .. }) => "InNoMesh",
        S::Movement(M::TwoUndriven { .. }) => "TwoUndriven",
        S::Movement(M::NoneUndriven { .. }) => "NoneUndriven",
        S::Movement(M::LoopOpen { .. }) => "LoopOpen",
        S::Movement(M::NoRuns { .. }) => "NoRuns",
        S::Movement(M::RunsContradict { .. }) => "RunsContradict",
        S::Movement(M::NoStrike) => "NoStrike",
        S::Movement(M::NotJoined { .. }) => "NotJoined",
        S::Movement(M::UpsideDown { .. }) => "UpsideDown",
        S::Movement(M::TooWide { .. }) => "TooWide",
        S::Movement(M::BestOutside { .. }) => "BestOutside",
        S::Movement(M::SlotWithoutTip) => "SlotWithoutTip",
        S::Movement(M::SlotMisfit { .. }) => "SlotMisfit",
        S::Movement(M::DoubledId { .. }) => "DoubledId",
        S::Movement(M::UnknownId { .. }) => "UnknownId",
        S::Movement(M::NoRoom { .. }) => "NoRoom",
        S::Movement(M::HeightsMiscounted { .. }) => "HeightsMiscounted",
        S::Movement(M::OutlineBack { .. }) => "OutlineBack",
        S::Movement(M::LiftsRound { .. }) => "LiftsRound",
        S::Movement(M::RackDriven) => "RackDriven",
        S::Movement(M::NoRack) => "NoRack",
        S::Movement(M::NotASnail { .. }) => "NotASnail",
        S::Movement(M::TooMany { .. }) => "TooMany",
    }
}

/// Every kind there is, as `kind` names them in this file.
fn all_kinds() -> BTreeSet<String> {
    let source = include_str!("faults.rs");
    source
        .lines()
        .filter_map(|line| line.trim().strip_prefix("S::"))
        .filter_map(|line| {
            Some(
                line.split_once("=> \"")?
                    .1
                    .trim_end_matches("\",")
                    .to_owned(),
            )
        })
        .collect()
}

/// As many arbors in a row as asked for.
fn long_train(arbors: usize) -> String {
    let mut text = GOOD.to_owned();
    let mut before = "third.wheel".to_owned();
    text = text.replace("form = \"lantern\" }", "form = \"lantern\" }\nwheel = 60");
    for i in 0..arbors {
        text += &format!(
            "[arbor.more{i}]\npinion = 8\nwheel = 60\n[[mesh]]\ndriver = \"{before}\"\ndriven = \"more{i}.pinion\"\n"
        );
        before = format!("more{i}.wheel");
    }
    text
}

/// A drawing takes the place of a drawing, and of nothing else: least of all of the sheet it is drawn from.
#[test]
fn a_drawing_is_written_over_nothing_but_a_drawing() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheet = folder.path().join("clock.toml");
    let text = include_str!("../../../movements/mantel.toml");
    std::fs::write(&sheet, text).expect("written");
    let notes = folder.path().join("notes.txt");
    std::fs::write(&notes, "bring the key").expect("written");
    let draw = |command: &str, into: &std::path::Path| {
        let mut trundle = assert_cmd::Command::cargo_bin("trundle").expect("built");
        let output = trundle
            .arg(command)
            .arg(&sheet)
            .arg("--drawing")
            .arg(into)
            .output();
        let output = output.expect("it runs");
        (
            output.status.code(),
            String::from_utf8_lossy(&output.stderr).into_owned(),
        )
    };
    for command in ["oil", "power", "pendulum"] {
        for into in [&sheet, &notes] {
            let (status, said) = draw(command, into);
            assert_eq!(status, Some(1), "{command}: {said}");
            assert!(said.contains("something else is in it"), "{said}");
        }
    }
    assert_eq!(std::fs::read_to_string(&sheet).expect("there"), text);
    assert_eq!(
        std::fs::read_to_string(&notes).expect("there"),
        "bring the key"
    );
    let drawing = folder.path().join("oil.svg");
    for command in ["oil", "power"] {
        assert_eq!(draw(command, &drawing).0, Some(0), "{command}");
    }
}

#[test]
fn the_good_sheet_is_good() {
    let (status, out, err) = check(GOOD.as_bytes());
    assert_eq!((status, err.as_str()), (0, ""));
    insta::assert_snapshot!(out, @"Wren Street exercise: good; 1 train, 3 arbors, 2 meshes, 1 witness");
}

#[test]
fn every_fault_is_told_in_its_place() {
    let mut told = String::new();
    let mut seen = BTreeSet::new();
    let mut cases: Vec<(&str, Vec<u8>)> = Vec::new();
    for (expected, from, to) in SPOILED {
        assert!(GOOD.contains(from), "{from} is not in the good sheet");
        cases.push((expected, GOOD.replacen(from, to, 1).into_bytes()));
    }
    cases.push(("Empty", b" \n".to_vec()));
    cases.push(("NotUtf8", [GOOD.as_bytes(), b"# caf\xe9\n"].concat()));
    cases.push((
        "TooLong",
        [GOOD.as_bytes(), &b"# \n".repeat(400_000)].concat(),
    ));
    cases.push(("TooMany", long_train(250).into_bytes()));
    let many: String = (0..60_000).map(|n| format!("part{n} = 8\n")).collect();
    cases.push((
        "ManyKeys",
        (GOOD.to_owned() + "[arbor.more]\n" + &many).into_bytes(),
    ));
    for (expected, text) in cases {
        let faults = sheet::read(&text).expect_err(expected);
        let kinds: Vec<&str> = faults.told.iter().map(|fault| kind(&fault.what)).collect();
        assert!(kinds.contains(&expected), "{expected} among {kinds:?}");
        seen.insert(expected.to_owned());
        // A sheet with counts missing is good as far as it goes: only what needs them refuses it.
        let command = if expected == "Uncounted" {
            "train"
        } else {
            "check"
        };
        let (status, out, err) = run(command, &text);
        assert_eq!((status, out.as_str()), (2, ""), "{expected}");
        told += &format!("--- {expected}\n{err}\n");
    }
    assert_eq!(seen, all_kinds());
    insta::assert_snapshot!("faults", told);
}

#[test]
fn faults_come_all_at_once_in_order_of_place_and_no_more_than_a_hundred() {
    let spoiled = GOOD
        .replace("wheel = 90", "wheel = 2")
        .replace("repeats = 9", "repeats = -9")
        .replace("read_at = \"third\"", "read_at = \"thrid\"");
    let faults = sheet::read(spoiled.as_bytes()).expect_err("three faults");
    let lines: Vec<usize> = faults.told.iter().map(|fault| fault.spot.line).collect();
    assert_eq!(lines, [7, 27, 34]);
    let many = GOOD.to_owned() + &"[[mesh]]\n".repeat(90);
    let faults = sheet::read(many.as_bytes()).expect_err("many");
    assert_eq!((faults.told.len(), faults.more), (100, 80));
    let (_, _, err) = check(many.as_bytes());
    assert!(
        err.trim_end()
            .ends_with("and 80 more faults, told once these are mended"),
        "{err}"
    );
}

#[test]
fn what_stands_behind_a_slip_is_told_too_and_a_misspelt_part_at_its_own_line() {
    let sheet = GOOD
        .replace("runs = \"clockwise\"", "runs = clockwise")
        .replace("wheel = 90", "whel = 90")
        .replace("best_deg = 0.0", "best_deg = 0,5")
        .replace("\"count wheel\"", "\"count weel\"");
    let faults = sheet::read(sheet.as_bytes()).expect_err("faults");
    let line = |what: &str| 1 + sheet.lines().position(|line| line == what).expect("there");
    let told: Vec<(usize, &str)> = (faults.told.iter())
        .map(|fault| (fault.spot.line, kind(&fault.what)))
        .collect();
    let expected = [
        (line("runs = clockwise"), "Slip"),
        (line("whel = 90"), "MisspeltPart"),
        (line("counted_by = \"count weel\""), "Value"),
        (line("best_deg = 0,5"), "Slip"),
    ];
    assert_eq!(told, expected, "{sheet}");
    let (_, _, says) = check(sheet.as_bytes());
    assert!(says.contains("did you mean `wheel`?"), "{says}");
    // Spelt as nothing else is, the mesh is what is misspelt.
    let sheet = GOOD.replacen("great.wheel", "great.whel", 1);
    let faults = sheet::read(sheet.as_bytes()).expect_err("faults");
    let told: Vec<&str> = faults.told.iter().map(|fault| kind(&fault.what)).collect();
    assert_eq!(told, ["UnknownPart"]);
}

#[test]
fn one_slip_is_one_fault() {
    for (_, from, to) in SPOILED.iter().filter(|case| case.0 == "UnknownArbor") {
        let faults = sheet::read(GOOD.replacen(from, to, 1).as_bytes()).expect_err(to);
        assert_eq!(faults.told.len(), 1, "{to}: {faults:?}");
    }
}

#[test]
fn line_ends_and_byte_order_marks_make_no_difference() {
    let windows = format!("\u{feff}{}", GOOD.replace('\n', "\r\n"));
    assert_eq!(check(windows.as_bytes()).0, 0);
    let spoiled = windows.replace("wheel = 90", "wheel = 2");
    let faults = sheet::read(spoiled.as_bytes()).expect_err("a fault");
    assert_eq!(
        (faults.told[0].spot.line, faults.told[0].spot.column),
        (7, 9)
    );
    let first_line = format!("\u{feff}shet = 1\n{}", GOOD.replace("sheet = 1\n", ""));
    let faults = sheet::read(first_line.as_bytes()).expect_err("a fault");
    assert_eq!(faults.told[0].spot.column, 1);
}

#[test]
fn columns_are_counted_in_characters() {
    let text = GOOD.replace(
        "on = \"second\"",
        "on = \"second\"\nslot_deg = { \"ä€😀\" = 1 }",
    );
    let faults = sheet::read(text.as_bytes()).expect_err("a fault");
    assert_eq!(faults.told[0].spot.column, 12);
    let text = GOOD.replace("says = \"the hammer", "x = 1 # ä\nsays = \"the hämmer");
    assert!(sheet::read(text.as_bytes()).is_err());
}

#[test]
fn monstrous_input_is_refused_and_not_swallowed() {
    let deep = format!("{GOOD}\ndeep = {}1{}\n", "[".repeat(1000), "]".repeat(1000));
    let (status, _, err) = check(deep.as_bytes());
    assert_eq!(status, 2, "{err}");
    let tables = format!("{GOOD}\n[{}]\n", vec!["a"; 1000].join("."));
    assert_eq!(check(tables.as_bytes()).0, 2);
    let long = vec![b'a'; 50_000_000];
    let (status, _, err) = check(&long);
    assert_eq!(status, 2);
    assert!(err.contains("more than 1024 KiB"), "{err}");
}

#[test]
fn a_count_in_doubt_is_taken_as_written_and_warned_of() {
    let text = GOOD.replace("wheel = 90", "wheel = \"90?\"");
    let sheet = sheet::read(text.as_bytes()).expect("good");
    assert_eq!(sheet.warnings.len(), 1);
    assert_eq!(sheet.warnings[0].spot.line, 7);
    insta::assert_snapshot!(
        report::en::misgiving(&sheet.warnings[0].what),
        @"`great.wheel` is doubtful, and is taken as 90"
    );
}

#[test]
fn a_sheet_with_counts_missing_is_checked_as_far_as_it_goes() {
    let open = GOOD.replace("wheel = 72", "wheel = \"?\"");
    let (status, out, err) = check(open.as_bytes());
    assert_eq!((status, err.as_str()), (0, ""));
    insta::assert_snapshot!(out, @"Wren Street exercise: no count for second.wheel; good as far as it goes. `trundle count` finds the counts that fit");
    // What else is wrong is told, and the missing count with it.
    let spoiled = open.replace("repeats = 9", "repeats = 0");
    let faults = sheet::read(spoiled.as_bytes()).expect_err("two faults");
    assert_eq!(faults.told.len(), 2, "{faults:?}");
    assert_eq!(
        sheet::read_open(spoiled.as_bytes())
            .expect_err("one fault")
            .told
            .len(),
        1
    );
}
