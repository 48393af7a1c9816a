//! A sheet's text edited: what was asked for is there, and all else stands as it stood.

use movement::ToothForm;
use quantity::Teeth;
use sheet::SheetTable;
use sheet::edit::{CountWritten, EditFault, SheetText, SheetValue, TableAt};

fn schoolroom() -> SheetText {
    SheetText::new(include_str!("../../../movements/schoolroom.toml")).expect("TOML")
}

fn known(n: i64) -> CountWritten {
    CountWritten::Known(Teeth::new(n).expect("teeth"))
}

/// Lines of one text that the other does not have, and those of the other.
fn differ(text: &SheetText) -> (Vec<String>, Vec<String>) {
    let (before, after) = (schoolroom().text(), text.text());
    let only = |one: &str, other: &str| -> Vec<String> {
        let there: Vec<&str> = other.lines().collect();
        let lines = one.lines().filter(|line| !there.contains(line));
        lines.map(str::to_owned).collect()
    };
    (only(&before, &after), only(&after, &before))
}

#[test]
fn untouched_it_is_the_same_to_the_byte() {
    let text = include_str!("../../../movements/schoolroom.toml");
    assert_eq!(schoolroom().text(), text);
}

#[test]
fn a_count_is_set_and_the_form_and_all_remarks_stay() {
    let mut text = schoolroom();
    text.set_count("third", "pinion", CountWritten::Blank)
        .expect("there");
    let (gone, come) = differ(&text);
    assert_eq!(gone, [r#"pinion = { teeth = 8, form = "lantern" }"#]);
    assert_eq!(come, [r#"pinion = { teeth = "?", form = "lantern" }"#]);
    text.set_count("third", "pinion", known(9)).expect("there");
    assert_eq!(text.count("third", "pinion"), Some(known(9)));
    text.set_form("second", "count_pinion", ToothForm::Pins)
        .expect("there");
    assert_eq!(text.form("second", "count_pinion"), Some(ToothForm::Pins));
    assert_eq!(text.count("second", "count_pinion"), Some(known(6)));
}

#[test]
fn a_value_keeps_the_remark_beside_it() {
    let mut text = schoolroom();
    let at = TableAt::Named(SheetTable::Track, "slots".to_owned());
    let value = SheetValue::Decimal(quantity::fraction(3, 4));
    text.set(&at, "ramp_deg", &value).expect("there");
    let (_, come) = differ(&text);
    assert_eq!(
        come,
        ["ramp_deg = 0.75                  # the slope that lifts the lever out again"]
    );
}

#[test]
fn a_renamed_arbor_and_part_are_renamed_wherever_they_are_named() {
    let mut text = schoolroom();
    text.rename_arbor("second", "pins").expect("renamed");
    text.rename_part("pins", "wheel", "big").expect("renamed");
    let movement = sheet::read(text.text().as_bytes()).expect("good").movement;
    assert!(movement.arbors().any(|(_, arbor)| arbor.id == "pins"));
    assert!(movement.find_mesh("pins.big>third.pinion").is_some());
    let text = text.text();
    assert!(!text.contains("\"second"), "{text}");
    // In their places still.
    let at = |what: &str| text.find(what).expect(what);
    assert!(at("[arbor.great]") < at("[arbor.pins]") && at("[arbor.pins]") < at("[arbor.third]"));
    assert!(at("big = 72") < at("count_pinion = 6"));
}

#[test]
fn an_arbor_is_added_meshed_and_taken_away() {
    let mut text = schoolroom();
    text.add_arbor("extra").expect("added");
    text.add_part("extra", "pinion", known(8)).expect("added");
    text.add_mesh(["count", "wheel"], ["extra", "pinion"])
        .expect("added");
    sheet::read(text.text().as_bytes()).expect("good");
    text.remove_arbor("extra").expect("removed");
    assert_eq!(text.text(), schoolroom().text());
}

#[test]
fn what_cannot_be_is_refused_and_nothing_is_altered() {
    let mut text = schoolroom();
    let strike = TableAt::One(SheetTable::Strike);
    let one = SheetValue::Whole(1);
    let refused = [
        text.remove_arbor("second"),
        text.remove_part("second", "wheel"),
        text.add_arbor("third"),
        text.add_arbor("No name"),
        text.rename_arbor("secnd", "other"),
        text.set_count("second", "whel", known(8)),
        text.set(&strike, "blow_per_turn", &one),
        text.remove_mesh("great.wheel", "third.pinion"),
    ];
    assert!(refused.iter().all(Result::is_err), "{refused:?}");
    assert_eq!(text.text(), schoolroom().text());
    let Err(EditFault::NoArbor { near, .. }) = &refused[4] else {
        panic!("{:?}", refused[4]);
    };
    assert_eq!(near.as_deref(), Some("second"));
}

#[test]
fn what_an_editor_made_of_it_is_put_straight() {
    let plain = include_str!("../../../movements/schoolroom.toml");
    let spoiled = plain
        .replace(
            "name = \"Wren Street schoolroom clock\"",
            "name\u{a0}= “Wren Street schoolroom clock”",
        )
        .replace("window_deg = [-8.0, 6.0]", "window_deg = [−8.0, 6.0]");
    let spoiled = format!("\u{feff}{spoiled}");
    assert_eq!(SheetText::new(&spoiled).expect("TOML").text(), plain);
    // Between straight quotes and in remarks all is meant.
    let meant = plain.replace("schoolroom clock", "– “clock” –");
    assert_eq!(SheetText::new(&meant).expect("TOML").text(), meant);
}

#[test]
fn what_is_no_toml_is_told_where() {
    let text = "sheet = 1\nname = \"x\"\n[arbor.great\n";
    let Err(EditFault::Unreadable(faults)) = SheetText::new(text) else {
        panic!("taken");
    };
    assert_eq!(faults.told[0].spot.line, 3);
}
