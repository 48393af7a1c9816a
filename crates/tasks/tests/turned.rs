//! One turn of a part that several witnesses tell of is one thing that was done: it is taken back with one touch.

use entries::{EntryContent, EntryKind};
use tasks::{Ask, TimingState, note};
use timing::Eye;

/// A count wheel turned on its arbor takes both of its marks along.
fn sheet() -> String {
    let text = std::fs::read_to_string("../../movements/schoolroom.toml").expect("sample");
    let head = "[arbor.count]\n";
    let text = text.replace(head, &format!("{head}held_by = \"friction\"\n"));
    text + "\n[[witness]]\nid = \"dot\"\nsays = \"the dot of the count wheel\"\non = \"count\"\nrepeats = 78\n\
        window_deg = [-1, 1]\nbest_deg = 0\n"
}

fn turned(sheet: &str, moved: &[&str]) -> TimingState {
    let checked = tasks::check_timed(sheet.as_bytes()).expect("good");
    let movement = &checked.movement;
    let from = movement.seen_from();
    let told = |written: &&str| {
        let moved = tasks::written::moved(movement, from, written);
        Ask::Turned(moved.expect("a witness that there is"))
    };
    let asks: Vec<Ask> = moved.iter().map(told).collect();
    note(sheet.as_bytes(), None, &asks, None, Eye::default()).expect("told")
}

fn left(told: &TimingState) -> usize {
    let standing = told.log.standing();
    let turned =
        standing.filter(|entry| matches!(entry.told, EntryContent::Known(EntryKind::Turned(_))));
    turned.count()
}

#[test]
fn one_turn_is_taken_back_with_one_touch() {
    let sheet = sheet();
    let both = turned(&sheet, &["slot=1.8", "dot=1.8"]);
    assert_eq!(left(&both), 2);
    let undone = both.tell(&[Ask::Undo(None)]).expect("taken back");
    assert_eq!(left(&undone), 0);
    assert!(!undone.can_undo());
    // Turned twice, the second time alone is taken back; so is one of two turns that were not the same.
    let twice = turned(&sheet, &["slot=1.8", "dot=1.8", "slot=-1.8", "dot=-1.8"]);
    assert_eq!(
        left(&twice.tell(&[Ask::Undo(None)]).expect("taken back")),
        2
    );
    let apart = turned(&sheet, &["slot=1.8", "dot=4"]);
    assert_eq!(
        left(&apart.tell(&[Ask::Undo(None)]).expect("taken back")),
        1
    );
}
