//! What scripts read beside one object: several sheets at once, an object a line, and tables.

mod ran;

use ran::ran;
use serde_json::Value;

const ROOT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../..");
const GOOD: &str = "movements/halfpast.toml";
const SCHOOLROOM: &str = "movements/schoolroom.toml";
const ATTIC: &str = "movements/attic.toml";

fn trundle(args: &[&str], input: &str) -> (i32, String, String) {
    ran(ROOT, args, input)
}

fn spoiled() -> String {
    let text = std::fs::read_to_string(format!("{ROOT}/{GOOD}")).expect("the sample");
    let spoiled = text.replacen("seen_from = \"back\"", "seen_from = \"bakc\"", 1);
    assert_ne!(spoiled, text);
    spoiled
}

/// An object a line.
fn objects(out: &str) -> Vec<Value> {
    let lines = out.lines();
    lines
        .map(|line| serde_json::from_str(line).expect("an object"))
        .collect()
}

/// Rows of cells, by the rule of RFC 4180.
fn rows(out: &str) -> Vec<Vec<String>> {
    let (mut rows, mut row, mut cell) = (Vec::new(), Vec::new(), String::new());
    let (mut quoted, mut chars) = (false, out.chars().peekable());
    while let Some(c) = chars.next() {
        match c {
            '"' if quoted && chars.next_if_eq(&'"').is_some() => cell.push('"'),
            '"' => quoted = !quoted,
            ',' if !quoted => row.push(std::mem::take(&mut cell)),
            '\r' if !quoted => {
                assert_eq!(chars.next(), Some('\n'));
                row.push(std::mem::take(&mut cell));
                rows.push(std::mem::take(&mut row));
            }
            c => cell.push(c),
        }
    }
    assert!(row.is_empty() && cell.is_empty(), "a row that breaks off");
    let wide = rows.first().map_or(0, Vec::len);
    assert!(rows.iter().all(|row: &Vec<String>| row.len() == wide));
    rows
}

/// The cells of a column.
fn column<'a>(rows: &'a [Vec<String>], name: &str) -> Vec<&'a str> {
    let at = rows[0].iter().position(|cell| cell == name);
    let at = at.unwrap_or_else(|| panic!("no column {name} among {:?}", rows[0]));
    rows[1..].iter().map(|row| row[at].as_str()).collect()
}

#[test]
fn every_sheet_is_told_of_whatever_is_wrong_with_others() {
    let (status, out, err) = trundle(&["check", GOOD, SCHOOLROOM], "");
    assert_eq!((status, err.as_str()), (0, ""));
    let by_itself = [GOOD, SCHOOLROOM].map(|sheet| trundle(&["check", sheet], "").1);
    assert_eq!(out, by_itself.concat());
    let (status, faulty_out, faulty) = trundle(&["check", GOOD, "-", SCHOOLROOM], &spoiled());
    assert_eq!((status, &faulty_out), (2, &out));
    assert_eq!(faulty, trundle(&["check", "-"], &spoiled()).2);
    // One that cannot be read weighs more: it is not known whether it is good.
    let (status, same, err) = trundle(&["check", "none.toml", GOOD, "-", SCHOOLROOM], &spoiled());
    assert_eq!((status, &same), (1, &out));
    assert!(
        err.contains("cannot read none.toml") && err.ends_with(&faulty),
        "{err}"
    );
    assert_eq!(trundle(&["check"], "").0, 2, "no sheet at all");
}

#[test]
fn a_check_is_an_object_for_each_sheet() {
    let args = [
        "check",
        "--json",
        GOOD,
        "-",
        ATTIC,
        "movements/lattice.toml",
    ];
    let (status, out, err) = trundle(&args, &spoiled());
    assert_eq!((status, err.as_str()), (2, ""), "faults are the answer");
    let told = objects(&out);
    let of = |key: &str| told.iter().map(|one| one[key].clone()).collect::<Vec<_>>();
    assert_eq!(of("good"), [true, false, true, true]);
    assert_eq!(
        of("file"),
        [GOOD, "standard input", ATTIC, "movements/lattice.toml"]
    );
    assert_eq!(told[0]["sheet"], "Wren Street half-hour clock");
    assert!(told[1]["sheet"].is_null());
    // The same as is told to people.
    let text = trundle(&["check", "-"], &spoiled()).2;
    let fault = &told[1]["faults"][0];
    let place = format!("standard input:{}:{}: ", fault["line"], fault["column"]);
    let says = fault["says"].as_str().expect("words");
    assert!(text.starts_with(&(place + says + "\n")), "{text}");
    let hint = fault["hint"].as_str().expect("a hint");
    assert!(text.contains(hint), "{hint}");
    assert_eq!(told[1]["more_faults"], 0);
    assert!(!told[2]["missing"].as_array().expect("a list").is_empty());
    let odd = &told[3]["warnings"][0];
    let text = trundle(&["check", "movements/lattice.toml"], "").1;
    let place = format!("lattice.toml:{}:{}: warning: ", odd["line"], odd["column"]);
    assert!(
        text.contains(&(place + odd["says"].as_str().expect("words"))),
        "{text}"
    );
    // An unread one has no object.
    let (status, out, err) = trundle(&["check", "--json", "none.toml", GOOD], "");
    assert_eq!((status, objects(&out).len()), (1, 1));
    assert!(err.contains("cannot read none.toml"), "{err}");
}

#[test]
fn what_cannot_come_out_stands_in_the_object() {
    let (status, out, _) = trundle(&["check", "--json", "movements/lattice.toml"], "");
    let told = &objects(&out)[0];
    assert_eq!((status, &told["good"]), (0, &Value::Bool(true)));
    let said = trundle(&["check", "movements/lattice.toml"], "").1;
    let lines = told["cannot_come_out"].as_array().expect("a list");
    for line in lines {
        assert!(said.contains(line.as_str().expect("words")), "{line}");
    }
    assert!(!lines.is_empty(), "{said}");
}

/// The table has what the object has, hour by hour.
#[test]
fn a_strike_is_a_table_of_its_hours() {
    for (sheet, put_in) in [
        (SCHOOLROOM, None),
        (SCHOOLROOM, Some("--bend=drop_lever=5")),
        ("movements/parlour.toml", None),
        ("movements/quarters.toml", None),
    ] {
        let args = [&["strike", sheet][..], put_in.as_slice()].concat();
        let (status, out, err) = trundle(&[&args[..], &["--csv"]].concat(), "");
        assert_eq!(status, 0, "{err}");
        let told = trundle(&[&args[..], &["--json"]].concat(), "").1;
        let told: Value = serde_json::from_str(&told).expect("JSON");
        let hours = told["hours"].as_array().expect("hours");
        let table = rows(&out);
        assert_eq!(table.len(), hours.len() + 1, "{args:?}");
        for key in ["hour", "minute", "blows", "expected", "early"] {
            let ours: Vec<String> = hours.iter().map(|hour| hour[key].to_string()).collect();
            assert_eq!(column(&table, key), ours, "{key}");
        }
        for (cell, hour) in column(&table, "right").iter().zip(hours) {
            assert_eq!(*cell == "yes", hour["right"] == true);
        }
        for (cell, hour) in column(&table, "rack_teeth").iter().zip(hours) {
            assert_eq!(cell.parse().ok(), hour["rack"]["teeth"].as_f64(), "{cell}");
        }
        for (cell, hour) in column(&table, "lead_deg").iter().zip(hours) {
            let lock = [&hour["lock"], &hour["chime_lock"]].into_iter();
            let mut lock = lock.filter(|lock| lock.is_object());
            let lead = lock.next().and_then(|lock| lock["lead_deg"].as_f64());
            assert_eq!(cell.parse().ok(), lead, "{cell}");
        }
    }
}

#[test]
fn a_strike_is_a_table_of_its_events_too() {
    let (status, out, err) = trundle(&["strike", SCHOOLROOM, "--csv", "--events"], "");
    assert_eq!((status, err.as_str()), (0, ""));
    let blows = rows(&out);
    let blows = column(&blows, "what");
    assert_eq!(blows.iter().filter(|what| **what == "blow").count(), 78);
}

#[test]
fn what_a_table_leaves_out_is_said_beside_it() {
    let runaway = [
        "strike",
        "movements/parlour.toml",
        "--missing=tail",
        "--csv",
    ];
    let (status, out, err) = trundle(&runaway, "");
    assert_eq!((status, rows(&out).len()), (0, 1));
    assert!(err.contains("runs on"), "{err}");
    let (status, _, _) = trundle(&[&runaway[..], &["--expect"]].concat(), "");
    assert_eq!(status, 4);
    let (status, out, err) = trundle(&["count", ATTIC, "--beats", "7000~1", "--csv"], "");
    assert_eq!((status, rows(&out).len()), (0, 1));
    assert!(!err.is_empty());
}

#[test]
fn the_sets_that_fit_are_a_table() {
    let args = [
        "count",
        ATTIC,
        "--beats",
        "7488",
        "--must",
        "hour:centre=1/12~0.001",
    ];
    let (status, out, err) = trundle(&[&args[..], &["--csv"]].concat(), "");
    assert_eq!((status, err.as_str()), (0, ""));
    let told = trundle(&[&args[..], &["--json"]].concat(), "").1;
    let told: Value = serde_json::from_str(&told).expect("JSON");
    let (table, fits) = (rows(&out), told["fits"].as_array().expect("sets"));
    assert_eq!(table.len(), fits.len() + 1);
    for unknown in told["unknown"].as_array().expect("counts") {
        let part = unknown["part"].as_str().expect("a part");
        let ours: Vec<String> = (fits.iter())
            .map(|fit| fit["counts"][part].to_string())
            .collect();
        assert_eq!(column(&table, part), ours);
    }
    for (cell, fit) in column(&table, "chance").iter().zip(fits) {
        assert_eq!(cell.parse().ok(), fit["chance"].as_f64());
    }
    for (cell, fit) in column(&table, "beats_per_hour").iter().zip(fits) {
        let of = |one: &&Value| one["what"] == "beats an hour";
        let beats = fit["comes_out"].as_array().expect("a list").iter().find(of);
        assert_eq!(cell.parse().ok(), beats.expect("beats")["is"].as_f64());
    }
}

/// What somebody wrote on a sheet neither breaks a row nor is obeyed.
#[test]
fn a_cell_is_what_it_says() {
    let text = std::fs::read_to_string(format!("{ROOT}/{SCHOOLROOM}")).expect("the sample");
    let bell = "strikes = \"a \\\"gong\\\", cracked\\u001b[31m\"";
    let sheet = text.replacen("strikes = \"the bell\"", bell, 1);
    assert_ne!(sheet, text);
    let (status, out, err) = trundle(&["strike", "-", "--csv", "--events"], &sheet);
    assert_eq!((status, err.as_str()), (0, ""));
    assert!(!out.contains('\u{1b}'));
    let table = rows(&out);
    let blow = column(&table, "says")
        .into_iter()
        .find(|says| says.contains("blow"));
    assert_eq!(blow, Some("a blow on a \"gong\", cracked [31m"));
}

#[test]
fn a_table_or_an_object_is_asked_for() {
    for command in ["strike", "count"] {
        let (status, out, _) = trundle(&[command, ATTIC, "--csv", "--json"], "");
        assert_eq!((status, out.as_str()), (2, ""), "one or the other");
    }
}
