//! Every row of `KINDS.md`, made by a kind and its questions alone: it strikes what its row says, and every hour is good by the
//! seven points (common practice, no source).

use kinds::{CountState, Described, QuestionAnswer};
use strike::{End, points, strike};

struct Row {
    sheet: &'static str,
    kind: &'static str,
    choices: &'static [(&'static str, &'static str)],
    hours: u32,
    blows: u32,
}

const fn row(
    sheet: &'static str,
    kind: &'static str,
    choices: &'static [(&'static str, &'static str)],
    [hours, blows]: [u32; 2],
) -> Row {
    Row {
        sheet,
        kind,
        choices,
        hours,
        blows,
    }
}

const CAM: &str = "count wheel and cam";
const ROWS: [Row; 11] = [
    row("schoolroom", CAM, &[("halves", "none")], [12, 78]),
    row("halfpast", CAM, &[("halves", "halves")], [12, 90]),
    row(
        "quay",
        "tower",
        &[("halves", "halves"), ("ring", "inside"), ("fly", "clear")],
        [12, 90],
    ),
    row("wharf", CAM, &[("halves", "ten")], [12, 88]),
    row(
        "gallery",
        CAM,
        &[
            ("halves", "none"),
            ("count_moved", "train"),
            ("count_turns", "day"),
        ],
        [24, 156],
    ),
    row(
        "loft",
        CAM,
        &[("halves", "none"), ("stopped_by", "notch")],
        [12, 78],
    ),
    row(
        "vestry",
        CAM,
        &[("halves", "none"), ("notches", "two")],
        [12, 78],
    ),
    row("parlour", "rack", &[("going", "there")], [12, 78]),
    row("cutter", "ships bell", &[], [4, 36]),
    row("porter", CAM, &[("halves", "passing")], [12, 90]),
    row("quarters", "quarters", &[], [12, 78]),
];

fn made(row: &Row) -> Described {
    let choice =
        |(id, choice): &(&'static str, &str)| (*id, QuestionAnswer::Choice((*choice).to_owned()));
    let answers: Vec<(&str, QuestionAnswer)> = row.choices.iter().map(choice).collect();
    let begun = Described::begin(row.kind, row.sheet, &answers);
    let mut made = begun.unwrap_or_else(|fault| panic!("{}: {fault}", row.sheet));
    // All of it is usual: nothing but what the kind tells is put in.
    for place in made.places() {
        let usual = place.usual.expect("usual");
        let count = made.count(&place.id, CountState::Counted(usual));
        count.expect("there");
    }
    made
}

/// The table of the page itself: its rows, cycles and blows.
#[test]
fn every_row_of_the_page_is_here_as_it_stands_there() {
    let page = include_str!("../../../../KINDS.md");
    let rows: Vec<Vec<&str>> = (page.lines())
        .filter(|line| line.starts_with('|') && line.contains(" h |"))
        .map(|line| line.split('|').map(str::trim).collect())
        .collect();
    assert_eq!(rows.len(), ROWS.len());
    for (told, row) in rows.iter().zip(&ROWS) {
        assert_eq!(told[2], format!("`{}`", row.sheet));
        assert_eq!(told[3], format!("{} h", row.hours));
        assert_eq!(told[4], row.blows.to_string());
    }
}

#[test]
fn each_strikes_what_its_row_says_and_every_hour_is_good() {
    let page = include_str!("../../../../KINDS.md");
    for row in &ROWS {
        let text = made(row).text();
        let sheet = match sheet::read(text.as_bytes()) {
            Ok(sheet) => sheet,
            Err(faults) => panic!("{}: {faults:?}\n{text}", row.sheet),
        };
        let struck = strike(&sheet.movement, &[], false).expect("it can be run");
        assert_eq!(struck.end, End::SamePlace, "{}\n{text}", row.sheet);
        let wrong: Vec<String> = (struck.hours.iter())
            .flat_map(|hour| {
                points(hour)
                    .into_iter()
                    .map(move |p| format!("{} {p:?}", hour.minutes))
            })
            .collect();
        assert!(wrong.is_empty(), "{}: {wrong:#?}\n{text}", row.sheet);
        let blows: u32 = struck.hours.iter().map(|hour| hour.blows).sum();
        assert_eq!(blows, row.blows, "{}", row.sheet);
        let last = struck.hours.last().expect("hours");
        assert_eq!(last.minutes, row.hours * 60, "{}", row.sheet);
        // The moments that the page tells beside the drop.
        let line = page
            .lines()
            .find(|l| l.contains(&format!("`{}`", row.sheet)));
        let told = line.expect("a row").matches("; ").count();
        let moments = sheet.movement.moments().len();
        assert_eq!(moments, 1 + told, "{}", row.sheet);
    }
}
