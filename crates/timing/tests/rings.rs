//! Rings of meshes as arbors go in: where the last closes only where all of them fit, and where it may not close at all.

use movement::Movement;
use timing::{OrderStep, order};

/// Three arbors in a ring: the great drives the third over the second, and by itself with `round` teeth and `leaves`, which come to
/// the same.
fn ring(second: (u16, u16), round: (u16, u16)) -> Movement {
    let ((wheel, pinion), (round, leaves)) = (second, round);
    let text = format!(
        r#"
sheet = 1
name = "Three in a ring"
seen_from = "front"

[arbor.great]
runs = "clockwise"
wheel = 60
round = {round}

[arbor.second]
pinion = 20
wheel = {wheel}

[arbor.third]
pinion = {pinion}
round = {leaves}

[[mesh]]
driver = "great.wheel"
driven = "second.pinion"

[[mesh]]
driver = "second.wheel"
driven = "third.pinion"

[[mesh]]
driver = "great.round"
driven = "third.round"
internal = true

[strike]
counted_by = "rack"
blows = "hours"
read_at = "great"
blows_per_turn = 1

[[witness]]
id = "tail"
says = "a mark on the third"
on = "third"
repeats = 1
window_deg = [-8.0, 8.0]
best_deg = 0.0
"#
    );
    sheet::read(text.as_bytes()).expect("a good sheet").movement
}

/// Each arbor with whether it closes a ring, and whether it may have to come out again.
fn steps(movement: &Movement) -> Vec<(String, bool, bool)> {
    let all: Vec<_> = movement.arbors().map(|(id, _)| id).collect();
    let told = |step: &OrderStep| {
        let arbor = movement.arbor(step.arbor).id.clone();
        (arbor, step.ring, step.ring_later)
    };
    order(movement, &all).steps.iter().map(told).collect()
}

/// Teeth at the three meshes are off by a, b and c where a/60 + b/120 = c/48: whatever a is, the third goes in somewhere; with an
/// odd c first, the second would go in nowhere.
#[test]
fn a_ring_is_closed_where_it_always_can_be() {
    let movement = ring((40, 20), (48, 8));
    let told = steps(&movement);
    let said: Vec<_> = told
        .iter()
        .map(|(arbor, ring, later)| (arbor.as_str(), *ring, *later))
        .collect();
    assert_eq!(
        said,
        [
            ("great", false, false),
            ("second", false, false),
            ("third", true, false)
        ]
    );
}

/// Here a/60 + b/150 = c/90: whichever mesh is closed first, some teeth leave the others none.
#[test]
fn a_ring_that_may_not_close_is_told_where_it_begins() {
    let movement = ring((50, 25), (90, 15));
    let told = steps(&movement);
    assert_eq!(
        told.iter().filter(|(.., later)| *later).count(),
        1,
        "{told:?}"
    );
    assert_eq!(
        told.iter().filter(|(_, ring, _)| *ring).count(),
        1,
        "{told:?}"
    );
    assert!(told[1].2 && told[2].1, "{told:?}");
}

/// The third goes in at every second leaf of its eight, one of which has its tail at its best: both its meshes are chosen for that.
#[test]
fn what_closes_a_ring_is_set_by_all_its_meshes() {
    let movement = ring((40, 20), (48, 8));
    let all: Vec<_> = movement.arbors().map(|(id, _)| id).collect();
    let steps = order(&movement, &all).steps;
    let last = steps.last().expect("the third");
    let tail = movement.find_witness("tail").expect("tail");
    let set: Vec<_> = last
        .settles
        .iter()
        .map(|s| (s.witness, s.at.len()))
        .collect();
    assert_eq!(set, [(tail, 2)]);
    assert!(last.later.is_empty() && last.check.is_empty());
}
