//! The other sums of an overhaul on the command line: what they say, what they draw, what they refuse.

mod ran;

use ran::ran;
use serde_json::Value;

const MANTEL: &str = "../../movements/mantel.toml";
const ATTIC: &str = "../../movements/attic.toml";

fn run(args: &[&str], input: &str) -> (i32, String, String) {
    ran(env!("CARGO_MANIFEST_DIR"), args, input)
}

fn said(args: &[&str]) -> String {
    let (status, out, err) = run(args, "");
    assert_eq!((status, err.as_str()), (0, ""), "{args:?}");
    out
}

fn refused(args: &[&str], input: &str) -> String {
    let (status, out, err) = run(args, input);
    assert_eq!((status, out.as_str()), (2, ""), "{args:?}");
    err
}

fn spoiled(from: &str, to: &str) -> String {
    let text = std::fs::read_to_string(MANTEL).expect("the sample");
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}

#[test]
fn counts_are_told() {
    insta::assert_snapshot!("count", said(&["count", ATTIC]));
    insta::assert_snapshot!(
        "count_inches",
        said(&["count", ATTIC, "--beats", "7488", "--units", "in", "--all"])
    );
    insta::assert_snapshot!("count_none", said(&["count", ATTIC, "--beats", "7000~1"]));
}

#[test]
fn power_is_told() {
    insta::assert_snapshot!("power", said(&["power", MANTEL]));
    insta::assert_snapshot!(
        "power_instead",
        said(&[
            "power",
            MANTEL,
            "--on",
            "going_great",
            "--instead",
            "19x0.45x1500mm",
            "--units",
            "in"
        ])
    );
    let lost: String = spoiled(
        "spring_width_mm = 19\nspring_thick_mm = 0.40\nspring_long_mm = 1400\n",
        "",
    );
    let (status, out, _) = run(&["power", "-", "--on", "going_great"], &lost);
    assert_eq!(status, 0);
    insta::assert_snapshot!("power_lost", out);
    let weight = lost.replacen(
        "barrel_inside_mm = 40\nbarrel_high_mm = 20\nspring_arbor_mm = 13.3\n",
        "weight_g = 5500\ndrum_mm = 48\ndouble_cord_mm = 1.6\nfall_mm = 1200\n",
        1,
    );
    let (status, out, _) = run(&["power", "-", "--on", "going_great"], &weight);
    assert_eq!(status, 0);
    insta::assert_snapshot!("power_weight", out);
}

#[test]
fn a_pendulum_is_told() {
    insta::assert_snapshot!("pendulum_nothing", said(&["pendulum"]));
    insta::assert_snapshot!(
        "pendulum",
        said(&[
            "pendulum",
            "--beats",
            "3600",
            "--latitude",
            "51.4769",
            "--half-arc",
            "2",
            "--arc-to",
            "2.5",
            "--rod",
            "brass",
            "--warmer",
            "10C",
            "--gains",
            "-12",
            "--nut-threads",
            "36",
            "--nut-divisions",
            "30",
            "--mass",
            "14lb",
            "--small",
            "1g",
            "--bob",
            "lead",
            "--pressure",
            "1013..980",
            "--moved-to",
            "0",
            "--units",
            "in",
        ])
    );
    insta::assert_snapshot!(
        "pendulum_pieces",
        said(&[
            "pendulum",
            "--part",
            "5.2kg@1000mm:disc=160mm",
            "--part",
            "0.4kg@0..1010mm",
            "--part",
            "30g@1015mm",
            "--beats",
            "3600",
        ])
    );
    insta::assert_snapshot!(
        "pendulum_torsion",
        said(&[
            "pendulum",
            "--ribbon",
            "0.5x0.1x150mm",
            "--disc",
            "300g@80mm",
            "--beats",
            "480"
        ])
    );
    insta::assert_snapshot!(
        "pendulum_sheet",
        said(&["pendulum", MANTEL, "--gains", "60"])
    );
    let hung = spoiled(
        "pendulum_g = 180",
        "pendulum_g = 180\nsuspension_mm = 8\nsuspension_wide_mm = 6\nsuspension_thick_mm = 0.08",
    );
    let (status, out, _) = run(&["pendulum", "-"], &hung);
    assert_eq!(status, 0);
    insta::assert_snapshot!("pendulum_suspension", out);
    let other = ["pendulum", "-", "--suspension-to", "6x0.06x8mm"];
    let (status, out, _) = run(&other, &hung);
    assert_eq!(status, 0);
    insta::assert_snapshot!("pendulum_other_strip", out);
    // Without all of it, or without what it bends under, nothing is told of it.
    for lost in ["suspension_thick_mm = 0.08", "pendulum_g = 180"] {
        let (status, out, _) = run(&other, &hung.replacen(lost, "", 1));
        assert_eq!(status, 0);
        assert!(!out.contains("upper chop"), "{out}");
        assert!(out.contains("suspension spring"), "{out}");
    }
}

#[test]
fn the_oil_is_told() {
    insta::assert_snapshot!("oil", said(&["oil", MANTEL]));
    insta::assert_snapshot!(
        "oil_running",
        said(&[
            "oil", MANTEL, "--state", "running", "--room", "dusty", "--worn", "escape", "--units",
            "in"
        ])
    );
    let worn = spoiled("pivot_mm = 0.9", "pivot_mm = 0.9\nhole_mm = 1.4");
    let (status, out, _) = run(&["oil", "-", "--state", "gummed"], &worn);
    assert_eq!(status, 0);
    assert!(out.contains("Look before you oil: the going third arbor's side shake is 0.500 ± 0.014 mm on a pivot of 0.900 ± 0.010 mm"), "{out}");
    assert!(
        out.contains("arbor alone between the plates") && out.contains("of 1905"),
        "{out}"
    );
    assert!(out.contains("clean it first"), "{out}");
}

#[test]
fn mercury_is_warned_of_where_it_is() {
    let out = said(&["pendulum", "--beats", "3600", "--bob", "mercury"]);
    assert!(
        out.contains("Caution. Mercury: never vacuum or sweep"),
        "{out}"
    );
    let out = said(&["pendulum", "--beats", "3600", "--bob", "lead"]);
    assert!(!out.contains("Caution"), "{out}");
}

/// Whatever cannot be is refused with the figures that stand against each other.
#[test]
fn what_cannot_be_is_said_with_both_figures() {
    let mut told = String::new();
    for (from, to) in [
        ("spring_long_mm = 1400", "spring_long_mm = 4000"),
        ("spring_arbor_mm = 13.3", "spring_arbor_mm = 41"),
        ("spring_width_mm = 19", "spring_width_mm = 20.5"),
        ("spring_opens_mm = 75", "spring_opens_mm = 16"),
        ("spring_long_mm = 1400\n", ""),
        ("spring_thick_mm = 0.40", "spring_thick_mm = 0"),
    ] {
        told += &refused(&["power", "-"], &spoiled(from, to));
    }
    for args in [
        &["pendulum", "--beats", "3600", "--length", "500mm"][..],
        &["pendulum", MANTEL, "--length", "12in~0.02"],
        &["pendulum", "--part", "1kg@-100mm", "--part", "100g@200mm"],
        &["pendulum", "--length", "0mm"],
        &["pendulum", "--length", "39.14ells"],
        &["pendulum", "--length", "39.14in~wide"],
        &["pendulum", "--rod", "wod"],
        &["pendulum", "--part", "1kg"],
        &["pendulum", MANTEL, "--suspension", "6x0.1x240mm"],
        &["pendulum", "--ribbon", "0.5x0.1"],
        &[
            "pendulum",
            "--ribbon",
            "5x0.1x10mm",
            "--disc",
            "300g@8mm",
            "--beats",
            "480",
        ],
        &["power", MANTEL, "--on", "escape"],
        &["power", MANTEL, "--instead", "19x0.4"],
        &["power", "../../movements/quay.toml"],
        &["count", MANTEL],
        &["count", ATTIC, "--must", "hour:escape=x"],
        &["count", ATTIC, "--least", "90", "--most", "10"],
        &["oil", MANTEL, "--worn", "escpe"],
    ] {
        told += &refused(args, "");
    }
    insta::assert_snapshot!("sums_refused", told);
}

/// How a strip has set is a guess until its free turns were counted: it is told how often it holds how much, and never that it
/// holds nothing. Counted, it is told as it is.
#[test]
fn a_spring_that_was_let_down_is_never_told_to_hold_nothing() {
    let lost = spoiled(
        "spring_width_mm = 19\nspring_thick_mm = 0.40\nspring_long_mm = 1400\n",
        "",
    );
    let thin = spoiled("spring_thick_mm = 0.40", "spring_thick_mm = 0.30");
    let soft = spoiled("spring_long_mm = 1400", "spring_long_mm = 900");
    let mantel = std::fs::read_to_string(MANTEL).expect("the sample");
    for sheet in [&mantel, &lost, &thin, &soft] {
        let (status, out, err) = run(&["power", "-"], sheet);
        assert_eq!((status, err.as_str()), (0, ""));
        for line in out.lines().filter(|line| line.contains("stored: ")) {
            assert!(
                line.contains("free turns were not counted, so treat it as wound"),
                "{line}"
            );
            let left = line.split("there is still ").nth(1).unwrap_or_default();
            let nothing = left.starts_with("about 0.00") || left.starts_with("about 0 ");
            let scattered =
                left.starts_with("about ") && left.contains("one such in twenty holds more than");
            let hardly = left.starts_with("less than 0.01 J in it");
            assert!(!nothing && (scattered || hardly), "{line}");
        }
    }
    let counted = spoiled(
        "spring_thick_mm = 0.40",
        "spring_thick_mm = 0.40\nspring_free_turns = 8",
    );
    let (_, out, _) = run(&["power", "-", "--on", "going_great"], &counted);
    assert!(
        out.contains("let down there is still 6.7 ± 1.1 J in it\n"),
        "{out}"
    );
    let (_, out, _) = run(&["power", "-", "--json"], &mantel);
    let object: Value = serde_json::from_str(&out).expect("JSON");
    for power in object["powers"].as_array().expect("two") {
        let spring = &power["spring"];
        assert!(
            spring["left_j"]["value"].as_f64().is_some_and(|j| j > 0.05),
            "{spring}"
        );
        assert!(
            spring["left_j_one_in_twenty"]
                .as_f64()
                .is_some_and(|j| j > 1.0),
            "{spring}"
        );
        assert_eq!(spring["free_turns_counted"], false);
    }
}

/// What stands against the sheet is said, and what was gone by.
#[test]
fn sums_that_contradict_the_sheet_say_so() {
    let out = said(&["count", ATTIC, "--runs", "30h"]);
    assert!(out.contains("do not agree: the great arbor's counts and `winding_turns` already give 8.00 ± 0.10 days, and a run of 30.0 ± 1.5 hours was asked for"), "{out}");
    assert!(!said(&["count", ATTIC, "--runs", "8d"]).contains("do not agree"));
    let weight = |turns: &str| {
        spoiled(
            "winding_turns = 5\nbarrel_inside_mm = 40\nbarrel_high_mm = 20\nspring_arbor_mm = 13.3\nspring_width_mm = 19\nspring_thick_mm = 0.40\nspring_long_mm = 1400\n",
            &format!(
                "winding_turns = {turns}\nweight_g = 5500\ndrum_mm = 48\ndouble_cord_mm = 1.6\nfall_mm = 1200\n"
            ),
        )
    };
    for (turns, used) in [
        ("5", "counted, which are fewer"),
        ("25", "given, which are fewer"),
    ] {
        let (_, out, _) = run(&["power", "-", "--on", "going_great"], &weight(turns));
        assert!(
            out.contains("and the fall gives 15.40 ± 0.16 turns: one of them is wrong")
                && out.contains(used),
            "{out}"
        );
    }
    let (_, out, _) = run(&["power", "-", "--on", "going_great"], &weight("15.4"));
    assert!(!out.contains("one of them is wrong"), "{out}");
    let (_, out, _) = run(
        &["power", "-", "--on", "going_great"],
        &spoiled("winding_turns = 5", "winding_turns = 12"),
    );
    assert!(
        out.contains("and the spring gives only 7.89 ± 0.28 turns"),
        "{out}"
    );
    // A stress that no spring bears comes of a wrong count or measure; one that a spring may bear is no contradiction.
    for (free, beyond) in [("2", true), ("11", false)] {
        let free = format!("spring_thick_mm = 0.40\nspring_free_turns = {free}");
        let sheet = spoiled("spring_thick_mm = 0.40", &free);
        let (_, out, _) = run(&["power", "-", "--on", "going_great"], &sheet);
        let told = out.contains("and springs that have set bear 1600 ± 200 N/mm²: the free turns, the thickness or the length is likely wrong, so count `spring_free_turns` again");
        assert_eq!(told, beyond, "{out}");
        let (_, out, _) = run(&["power", "-", "--on", "going_great", "--json"], &sheet);
        let object: Value = serde_json::from_str(&out).expect("JSON");
        let spring = &object["powers"][0]["spring"];
        assert_eq!(spring["overstressed"], beyond, "{spring}");
        assert_eq!(spring["bears_n_per_mm2"]["value"], 1600.0);
    }
    // A reading of more than a turn is answered, by the place alike, and named.
    let (status, out, err) = run(
        &[
            "remesh",
            "../../movements/schoolroom.toml",
            "--saw",
            "slot=400",
            "--saw",
            "star=0",
        ],
        "",
    );
    assert!(
        status == 0
            && !out.is_empty()
            && err.contains("the reading `slot=400` is more than a turn"),
        "{err}"
    );
    let taken = "slot was read as 400°, more than a turn of its arbor, and was taken as -1.538°";
    assert!(
        out.contains(taken) && err.contains("taken as -1.538°"),
        "{out}{err}"
    );
    assert!(!err.contains("star"), "{err}");
    // Stop work leaves turns in a spring: fewer than it gives is no contradiction.
    assert!(!said(&["power", MANTEL, "--on", "going_great"]).contains("one of them is wrong"));
    let out = said(&["power", MANTEL, "--on", "going_great", "--runs", "30days"]);
    assert!(out.contains("30.0 ± 1.5 days take 18.0 ± 0.9 turns, and it gives only 7.89 ± 0.28 turns: it does not run so long"), "{out}");
}

/// What follows from another strip is told of each state: never of half way by the torque wound up, nor the other way round.
#[test]
fn what_follows_of_another_strip_is_told_wound_up_and_half_way() {
    for (arbor, strip, follows) in [
        (
            "going_great",
            "19x0.6x900mm",
            "more wear on every pivot and pallet, and a wider swing",
        ),
        (
            "going_great",
            "19x0.3x1400mm",
            "a narrower swing, and it may stop",
        ),
        ("going_great", "19x0.4x1400mm", "nothing much follows"),
        (
            "going_great",
            "19x0.45x900mm",
            "half way it swings narrower, and it may stop before the winding is down",
        ),
        (
            "going_great",
            "19x0.45x900mm",
            "wound up it swings wide at first",
        ),
        (
            "going_great",
            "19x0.42x900mm",
            "wound up it goes much as now; half way it swings narrower",
        ),
        (
            "going_great",
            "19x0.35x1800mm",
            "wound up it swings narrower at first; half way it goes much as now",
        ),
        (
            "strike_great",
            "14x0.4x1200mm",
            "half way it has less than now, and may die in the long hours",
        ),
    ] {
        let out = said(&["power", MANTEL, "--on", arbor, "--instead", strip]);
        let told = out.split("In its place").nth(1).unwrap_or_default();
        let told = told
            .lines()
            .find(|line| line.contains("times what it is now, half way"));
        assert!(
            told.is_some_and(|told| told.contains(follows)),
            "{strip}: {told:?}"
        );
    }
}

/// However little is stored, a kilogram falls some way for it.
#[test]
fn a_small_spring_does_not_lift_a_kilogram_by_nothing() {
    let sheet = spoiled(
        "barrel_inside_mm = 40\nbarrel_high_mm = 20\nspring_arbor_mm = 13.3\nspring_width_mm = 19\nspring_thick_mm = 0.40\nspring_long_mm = 1400\n",
        "barrel_inside_mm = 9\nspring_arbor_mm = 3\nspring_width_mm = 1.5\nspring_thick_mm = 0.1\nspring_long_mm = 300\n",
    );
    let (status, out, err) = run(&["power", "-", "--on", "going_great"], &sheet);
    assert_eq!((status, err.as_str()), (0, ""));
    assert!(out.contains("as a kilogram falling 10 mm"), "{out}");
}

/// What a hand in a hurry types: one clear error each, and never a sum of it.
#[test]
fn what_is_typed_in_a_hurry_is_refused() {
    let mut told = String::new();
    for (command, option, typed) in [
        (
            "count",
            "--runs",
            &[
                "",
                "8",
                "8dys",
                "8,500days",
                "-8days",
                "0days",
                "1e300days",
                "nan",
                "inf",
                "8days~9days",
                "8days~9",
                "9999999999days",
            ][..],
        ),
        (
            "count",
            "--beats",
            &["", "0", "-7488", "7488~7000", "7488bpm", "1e9"],
        ),
        ("power", "--runs", &["8", "-1d", "nan"]),
        (
            "power",
            "--instead",
            &[
                "",
                "19x0.4x",
                "0x0x0",
                "19x0.001x1400mm",
                "0.1x0.4x1400mm",
                "19x0.4x14mm",
                "19x0.4x1e9mm",
            ],
        ),
        (
            "pendulum",
            "--length",
            &[
                "",
                "1e9mm",
                "-5mm",
                "0.5mm",
                "1in~500in",
                "39,140in",
                "39.14",
                "infmm",
            ],
        ),
        ("pendulum", "--latitude", &["95", "-90.1", "51.5N", "north"]),
        ("pendulum", "--half-arc", &["0", "-2", "200", "NaN"]),
        ("pendulum", "--beats", &["0", "1", "99999999999"]),
        ("pendulum", "--gains", &["-86400", "12C"]),
        (
            "pendulum",
            "--part",
            &[
                "0g@1mm",
                "-1kg@100mm",
                "5kg@900mm:disc=",
                "5kg@900mm:disc=-4mm",
            ],
        ),
    ] {
        for typed in typed {
            let sheet = match command {
                "count" => Some(ATTIC),
                "power" => Some(MANTEL),
                _ => None,
            };
            let asked = format!("{option}={typed}");
            let mut args = vec![command];
            args.extend(sheet);
            args.push(&asked);
            if command == "power" {
                args.extend(["--on", "going_great"]);
            }
            let (status, out, err) = run(&args, "");
            // A length of 39.14 is in millimetres: said so, and not refused.
            if *typed == "39.14" {
                assert!(out.contains("39.1 ± 0.8 mm"), "{out}");
                continue;
            }
            assert_eq!((status, out.as_str()), (2, ""), "{args:?}: {err}");
            assert_eq!(err.lines().count(), 1, "{args:?}: {err}");
            told += &err;
        }
    }
    for args in [
        &["pendulum", "--latitude", "51.5", "--height", "100"][..],
        &["pendulum", "--latitude", "51.5", "--height", "-600m"],
        &[
            "pendulum",
            "--beats",
            "3600",
            "--bob",
            "lead",
            "--pressure",
            "0..0",
        ],
        &[
            "pendulum", "--beats", "3600", "--mass", "6kg", "--small", "1g", "--below", "5m",
        ],
        &[
            "power",
            "../../movements/schoolroom.toml",
            "--instead",
            "19x0.4x1400mm",
        ],
    ] {
        told += &refused(args, "");
    }
    told += &refused(
        &["power", "-", "--on", "going_great"],
        &spoiled("spring_thick_mm = 0.40", "spring_thick_mm = 0.001"),
    );
    told += &refused(
        &["power", "-", "--on", "going_great"],
        &spoiled(
            "spring_thick_mm = 0.40",
            "spring_thick_mm = 0.4\nspring_free_turns = 100",
        ),
    );
    insta::assert_snapshot!("sums_in_a_hurry", told);
}

/// Each value with its spread, and nothing that is no number.
#[test]
fn json_is_one_object_of_finite_numbers() {
    for args in [
        &["count", ATTIC, "--json"][..],
        &["power", MANTEL, "--json"],
        &[
            "power",
            MANTEL,
            "--json",
            "--instead",
            "19x0.45x1500mm",
            "--on",
            "going_great",
        ],
        &[
            "pendulum", MANTEL, "--json", "--gains", "60", "--rod", "steel",
        ],
        &["oil", MANTEL, "--json"],
    ] {
        let out = said(args);
        let object: Value =
            serde_json::from_str(&out).unwrap_or_else(|why| panic!("{args:?}: {why}"));
        assert_eq!(object["answer"], 1, "{args:?}");
        let mut spreads = 0;
        walk(&object, &mut |value| {
            if let Some(spread) = value.get("spread") {
                spreads += 1;
                let number = spread.as_f64().unwrap_or(f64::NAN);
                assert!(number.is_finite() && number >= 0.0, "{args:?}: {value}");
            }
        });
        assert!(spreads > 3, "{args:?}: {spreads} spreads");
    }
}

fn walk(value: &Value, each: &mut impl FnMut(&Value)) {
    each(value);
    match value {
        Value::Array(list) => list.iter().for_each(|v| walk(v, each)),
        Value::Object(map) => map.values().for_each(|v| walk(v, each)),
        _ => {}
    }
}

/// Each has its picture: a whole SVG file, with what it is about in it.
#[test]
fn each_has_its_picture() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("a.svg");
    let name = file.display().to_string();
    for (args, shows) in [
        (&["count", ATTIC][..], "wheel: 78, 77 or 79"),
        (&["power", MANTEL], "wound up, 20.7 coils"),
        (&["pendulum", MANTEL], "230 ± 5"),
        (&["pendulum", MANTEL, "--units", "in"], "in</text>"),
        (&["oil", MANTEL], "18 thin oil"),
    ] {
        said(&[args, &["--drawing", &name]].concat());
        let svg = std::fs::read_to_string(&file).expect("a drawing");
        assert!(
            svg.starts_with("<svg xmlns=") || svg.starts_with("<svg width="),
            "{args:?}"
        );
        assert!(svg.ends_with("</svg>"), "{args:?}");
        assert!(svg.contains(shows), "{args:?} shows {shows}");
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{args:?}");
    }
    // What hangs by the bench is to scale.
    assert!(
        std::fs::read_to_string(&file)
            .expect("a drawing")
            .contains("mm\" height=\"")
    );
    let (status, out, err) = run(&["oil", MANTEL, "--drawing", "/no/such/folder/a.svg"], "");
    assert_eq!((status, out.as_str()), (1, ""), "{err}");
}
