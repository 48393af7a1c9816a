//! Pages that are bounded whatever the sheet says.

use crate::served::serve;

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
