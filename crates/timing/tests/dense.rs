//! Two marks on one arbor whose windows hardly overlap: of a quarter of a million places a sliver brings both in.

use timing::{Cure, Hands, answer, parse, read};

const SHEET: &str = r#"
sheet = 1
name = "Quay Street stair clock"
seen_from = "back"

[arbor.first]
runs = "clockwise"
wheel = 40

[arbor.second]
pinion = 5
wheel = 64

[arbor.slow]
pinion = 283
wheel = 90

[arbor.idle]
pinion = 10
wheel = 65

[arbor.last]
pinion = 14

[arbor.between]
pinion = 8

[arbor.held]
pinion = { teeth = 8, form = "lantern" }

[[mesh]]
driver = "first.wheel"
driven = "second.pinion"
internal = true

[[mesh]]
driver = "second.pinion"
driven = "slow.pinion"

[[mesh]]
driver = "slow.wheel"
driven = "idle.pinion"

[[mesh]]
driver = "idle.wheel"
driven = "between.pinion"

[[mesh]]
driver = "between.pinion"
driven = "last.pinion"

[[mesh]]
driver = "second.wheel"
driven = "held.pinion"
reached = "outside"

[strike]
counted_by = "count wheel"
blows = "hours and halves"
read_at = "held"
blows_per_turn = 1

[[witness]]
id = "stop"
says = "a mark"
on = "first"
repeats = 8
window_deg = [-11.68, 17.52]
best_deg = 0.0

[[witness]]
id = "lifts"
says = "a mark"
on = "first"
repeats = 8
window_deg = [-3.76, 5.64]
best_deg = 0.0

[[witness]]
id = "tail"
says = "a mark"
on = "last"
repeats = 1
window_deg = [-57.6, 14.4]
best_deg = 0.0
"#;

#[test]
fn a_sliver_is_not_passed_over() {
    let movement = sheet::read(SHEET.as_bytes())
        .expect("a good sheet")
        .movement;
    let readings: Vec<_> = ["stop=22.295", "lifts=1.4", "tail=-152.672"]
        .into_iter()
        .map(|saw| {
            let (id, said) = parse(&movement, movement.seen_from(), saw).expect(saw);
            read(&movement, id, &said).expect(saw)
        })
        .collect();
    // The two stay 20.895 degrees apart, so that they are in together in 0.385 of their 45 degrees only.
    let answer = answer(&movement, &readings, Hands::default());
    let Cure::Shift(shifts) = answer.cure else {
        panic!("one mesh outside does: {:?}", answer.cure);
    };
    assert_eq!((shifts.len(), shifts[0].teeth), (1, 121));
    assert_eq!(
        movement.mesh_name(shifts[0].mesh),
        "second.wheel>held.pinion"
    );
    for standing in &answer.after.witnesses {
        assert!(movement.witness(standing.witness).admits(&standing.stands));
    }
}
