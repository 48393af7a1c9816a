//! Pages that are bounded whatever the sheet says.

use crate::served::{ask, serve};

const PARLOUR: &str = include_str!("../../../../movements/parlour.toml");

/// Numbers and events of the table of a strike.
fn table(sheet: &str) -> (usize, usize, String) {
    let served = serve(&[sheet]);
    let table = served.get("/job/1/strike/table");
    assert_eq!(table.status, 200, "{}", table.body);
    let table: serde_json::Value = serde_json::from_str(&table.body).expect("JSON");
    let columns = [&table["arbors"], &table["levers"]];
    let columns = columns
        .iter()
        .flat_map(|all| all.as_object().expect("columns").values());
    let numbers: usize = columns
        .chain([&table["hours"], &table["seconds"]])
        .map(|column| column.as_array().expect("numbers").len())
        .sum();
    let events = table["events"].as_array().expect("events").len();
    (numbers, events, served.get("/job/1/strike").body)
}

#[test]
fn the_running_strike_of_a_mistyped_sheet_is_shown_as_far_as_it_goes_and_says_so() {
    let (numbers, events, page) = table(PARLOUR);
    assert!(numbers > 1_000 && events > 200, "{numbers}, {events}");
    assert!(!page.contains("So much goes on"), "it is shown whole");
    for seconds in ["1", "0.001"] {
        let sheet = PARLOUR.replace("turn_s = 3600", &format!("turn_s = {seconds}"));
        assert_ne!(sheet, PARLOUR);
        let (numbers, events, page) = table(&sheet);
        assert!(
            numbers <= 2 * strike::bounds::MOST_PLACES_SHOWN,
            "{numbers}"
        );
        assert!(events <= strike::bounds::MOST_EVENTS, "{events}");
        assert!(
            page.contains(&format!(
                "So much goes on that only the first {events} events are shown"
            )),
            "it says so"
        );
        assert!(page.len() < 8 << 20, "{}", page.len());
    }
}

/// A tower's strike train with five counts lost and hardly anything that binds them.
const FIVE_LOST: &str = include_str!("five_lost.toml");

/// A page of the search, that asks for more patience than anybody has, for what no counts fit, of very many: one that finds some, or has
/// few to try, is done in seconds on a fast machine.
const SEARCH: &str = "/job/1/counts?must=fly%3Athird%3D9.8765&most=1000&longer=1000";

#[test]
fn a_search_for_counts_that_takes_long_says_so_far_and_stops_when_it_is_told_to() {
    let served = serve(&[FIVE_LOST]);
    let page = served.get(SEARCH);
    assert_eq!(page.status, 200, "{}", page.body);
    assert_eq!(page.header("refresh"), Some("2"), "{}", page.head);
    assert!(page.body.contains("So far: "), "{}", page.body);
    // It goes on where it was, and is not begun anew.
    let steps = |page: &str| -> f64 {
        let (_, after) = page.split_once("So far: ").expect("so far");
        let (number, _) = after.split_once(" million").unwrap_or(("0", ""));
        number.parse().unwrap_or(0.0)
    };
    let further = served.get(SEARCH).body;
    assert!(steps(&further) > steps(&page.body), "{further}");
    // While it goes on, the train of another page is told all the same.
    assert_eq!(served.get("/job/1/way").status, 200);
    let fields = [
        ("must", "fly:third=9.8765"),
        ("most", "1000"),
        ("longer", "1000"),
    ];
    let stopped = served.post("/job/1/counts/stop", &fields);
    assert_eq!(stopped.status, 303, "{}", stopped.body);
    let to = stopped.header("location").expect("its page").to_owned();
    let mut told = served.get(&to);
    for _ in 0..20 {
        if told.header("refresh").is_none() {
            break;
        }
        told = served.get(&to);
    }
    assert!(told.header("refresh").is_none(), "it ended");
    assert!(
        told.body.contains("It was stopped before all counts"),
        "{}",
        told.body
    );
}

#[test]
fn a_search_that_is_cut_short_offers_to_go_on() {
    let served = serve(&[FIVE_LOST]);
    let ask = "/job/1/counts?must=fly%3Athird%3D10";
    let mut page = served.get(ask);
    for _ in 0..20 {
        if page.header("refresh").is_none() {
            break;
        }
        page = served.get(ask);
    }
    assert!(
        page.body
            .contains("Not all counts from 6 to 144 teeth were tried"),
        "{}",
        page.body
    );
    assert!(page.body.contains("longer=10"), "{}", page.body);
    // Few counts are found at once, and nothing is said of going on.
    let page = served.get("/job/1/counts?must=fly%3Athird%3D10&least=8&most=9");
    assert!(page.header("refresh").is_none());
    assert!(!page.body.contains("longer="), "{}", page.body);
}

/// The page of the bounds tells each of them, with its figure and a reason, and nothing else.
#[test]
fn every_bound_is_told_with_its_reason() {
    let page = include_str!("../../../../docs/bounds.md");
    let rows: Vec<Vec<&str>> = (page.lines())
        .filter(|line| line.starts_with("| `"))
        .map(|line| line.trim_matches('|').split('|').map(str::trim).collect())
        .collect();
    let all = web::bounds::all();
    assert!(all.len() > 25, "{}", all.len());
    for (name, figure) in &all {
        let told: Vec<_> = rows
            .iter()
            .filter(|row| row[0] == format!("`{name}`"))
            .collect();
        let [row] = told[..] else {
            panic!("{name} is told {} times", told.len());
        };
        assert_eq!(row.len(), 4, "{name}");
        assert_eq!(row[1], figure.to_string(), "{name}");
        assert!(
            row[2].len() > 10 && row[3].len() > 10,
            "{name}: what for, and why"
        );
    }
    assert_eq!(rows.len(), all.len(), "nothing is told that is no bound");
}

#[test]
fn a_page_of_another_site_begins_no_search_and_stops_none() {
    let served = serve(&[FIVE_LOST]);
    let foreign = |address: &str| {
        let request = format!(
            "GET {address} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nSec-Fetch-Site: cross-site\r\nConnection: close\r\n\r\n",
            served.port
        );
        ask(served.v4(), &request)
    };
    let page = foreign(SEARCH);
    assert_eq!(page.status, 200, "{}", page.body);
    assert!(page.body.contains("nothing was begun"), "{}", page.body);
    assert_eq!(page.header("refresh"), None);
    assert!(served.get(SEARCH).body.contains("So far: "));
    // Another question about the same job would have stopped it.
    foreign("/job/1/counts?longer=10");
    let page = served.get(SEARCH);
    assert!(page.body.contains("So far: "), "{}", page.body);
    // What goes on may be looked at from anywhere.
    assert!(foreign(SEARCH).body.contains("So far: "));
}
