//! Sheets begun from a kind of strike and altered, on the command line.

mod ran;

use ran::ran;

fn run(args: &[&str], input: &str) -> (i32, String, String) {
    ran(env!("CARGO_MANIFEST_DIR"), args, input)
}

const SCHOOLROOM: &str = include_str!("../../../movements/schoolroom.toml");

/// Lines of one text that the other does not have.
fn only(one: &str, other: &str) -> Vec<String> {
    let there: Vec<&str> = other.lines().collect();
    let lines = one.lines().filter(|line| !there.contains(line));
    lines.map(str::to_owned).collect()
}

#[test]
fn the_kinds_are_listed_with_what_is_asked_of_them() {
    let (status, out, err) = run(&["sheet"], "");
    assert_eq!((status, err.as_str()), (0, ""));
    for said in [
        "rack: a rack and snail",
        "halves=passing: ",
        "(usual)",
        "runs=clockwise or",
    ] {
        assert!(out.contains(said), "{said}\n{out}");
    }
}

#[test]
fn a_sheet_is_begun_counted_and_checked() {
    let (status, begun, err) = run(
        &[
            "sheet",
            "count_wheel_and_cam",
            "--name",
            "Wren Street test",
            "--answer",
            "halves=none",
        ],
        "",
    );
    assert_eq!((status, err.as_str()), (0, ""));
    assert!(begun.contains("name = \"Wren Street test\""), "{begun}");
    assert!(begun.contains("halves = \"none\""), "{begun}");
    // Nothing that turns is worked from counts that are not there.
    let (status, ..) = run(&["train", "-"], &begun);
    assert_eq!(status, 2);
    let counts = [
        "great.wheel=90",
        "second.pinion=10",
        "second.wheel=72",
        "second.count_pinion=6",
        "third.pinion=8",
        "third.pinion=lantern",
        "third.wheel=56",
        "fourth.pinion=7",
        "fourth.wheel=48",
        "fly.pinion=6",
        "count.wheel=52",
    ];
    let mut args = vec!["sheet", "-"];
    for count in counts {
        args.extend(["--set", count]);
    }
    let (status, counted, err) = run(&args, &begun);
    assert_eq!((status, err.as_str()), (0, ""));
    assert!(
        counted.contains("pinion = { teeth = 8, form = \"lantern\" }"),
        "{counted}"
    );
    let (status, _, err) = run(&["check", "-"], &counted);
    assert_eq!((status, err.as_str()), (0, ""));
    let (status, struck, _) = run(&["strike", "-", "--expect"], &counted);
    assert_eq!(status, 0, "{struck}");
    assert!(struck.contains("78 blows, of 78"), "{struck}");
}

#[test]
fn only_what_is_set_is_altered() {
    let set = |what: &[&str]| {
        let mut args = vec!["sheet", "-"];
        args.extend(what);
        let (status, out, err) = run(&args, SCHOOLROOM);
        assert_eq!((status, err.as_str()), (0, ""), "{what:?}");
        (only(SCHOOLROOM, &out), only(&out, SCHOOLROOM))
    };
    let both = |one: &str, other: &str| (vec![one.to_owned()], vec![other.to_owned()]);
    assert_eq!(set(&[]), (vec![], vec![]));
    assert_eq!(
        set(&["--set", "great.wheel=?"]),
        both("wheel = 90", "wheel = \"?\"")
    );
    let doubtful = set(&["--set", "arbor.third.wheel=56?"]);
    assert_eq!(doubtful, both("wheel = 56", "wheel = \"56?\""));
    let blows = set(&["--set", "strike.blows=hours and halves"]);
    assert!(
        blows.1[0].starts_with("blows = \"hours and halves\""),
        "{blows:?}"
    );
    assert_eq!(
        set(&["--set", "count.held_by=square"]).1,
        ["held_by = \"square\""]
    );
    assert_eq!(
        set(&["--lost", "fly.pinion"]).1,
        ["pinion = \"?\"", "lost = [\"pinion\"]"]
    );
    let ramp = set(&["--set", "track.slots.ramp_deg=0.75"]);
    assert!(ramp.1[0].starts_with("ramp_deg = 0.75 "), "{ramp:?}");
    assert_eq!(
        set(&["--set", "mesh.second.wheel:third.pinion.lash_teeth=0.2"]).1,
        ["lash_teeth = 0.2"]
    );
}

#[test]
fn what_cannot_be_set_is_refused_and_the_file_stays() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("clock.toml");
    std::fs::write(&file, SCHOOLROOM).expect("written");
    let name = file.to_str().expect("a name");
    let refused = |what: &[&str], says: &str| {
        let mut args = vec!["sheet", name, "--in-place"];
        args.extend(what);
        let (status, out, err) = run(&args, "");
        assert_eq!((status, out.as_str()), (2, ""), "{what:?}");
        assert!(err.contains(says), "{what:?}: {err}");
        assert_eq!(std::fs::read_to_string(&file).expect("there"), SCHOOLROOM);
    };
    refused(&["--set", "second.whel=72"], "did you mean `wheel`");
    refused(&["--set", "secnd.wheel=72"], "did you mean `second`");
    refused(&["--set", "second.wheel"], "expected PLACE=VALUE");
    refused(&["--set", "second.wheel=many"], "expected PLACE=VALUE");
    refused(&["--set", "track.slot.slot_deg=2"], "no `slot`");
    refused(&["--set", "strike.blow=hours"], "`blow` is no key");
    refused(&["--set", "strike.blows=sometimes"], "clock.toml:");
    refused(&["--lost", "second.whel"], "did you mean `wheel`");
    refused(&["--answer", "halves=none"], "no question of this kind");
    let (status, out, err) = run(
        &["sheet", name, "--in-place", "--set", "great.wheel=96"],
        "",
    );
    assert_eq!((status, out.as_str(), err.as_str()), (0, "", ""));
    let now = std::fs::read_to_string(&file).expect("there");
    assert_eq!(only(&now, SCHOOLROOM), ["wheel = 96"]);
    // A kind is no file.
    let (status, out, _) = run(&["sheet", "rack", "--in-place"], "");
    assert_eq!((status, out.as_str()), (2, ""));
    let (status, out, _) = run(&["sheet", "no such kind or file"], "");
    assert_eq!((status, out.as_str()), (1, ""));
}
