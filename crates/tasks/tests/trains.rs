//! Trains that are timed one after the other: when one of them can be brought no further, the next is looked at.

use entries::LoggedTension;
use kinds::{CountState, Described, PlaceId, QuestionAnswer};
use movement::{HeldBy, Movement, Plate};
use quantity::Teeth;
use tasks::{Ask, TimingState, note};
use timing::{Act, Eye};

/// A sheet of a kind, these counts its own and the others as is usual, all its angles as usual.
fn counted(kind: &str, answers: &[(&str, QuestionAnswer)], counts: &[(&str, i64)]) -> String {
    let mut sheet = Described::begin(kind, "Wren Street test", answers).expect("begun");
    for place in sheet.places() {
        let PlaceId { arbor, part } = &place.id;
        let own = counts
            .iter()
            .find(|(id, _)| *id == format!("{arbor}.{part}"));
        let count = own.map_or_else(
            || place.usual.expect("usual"),
            |(_, count)| Teeth::new(*count).expect("teeth"),
        );
        sheet
            .count(&place.id, CountState::Counted(count))
            .expect("there");
    }
    sheet.text()
}

/// Quarters of a train of their own and a rack.
fn quarters() -> String {
    counted("quarters", &[], &[])
}

fn look(movement: &Movement, said: &[&str]) -> Ask {
    let said: Vec<String> = said.iter().map(|said| (*said).to_owned()).collect();
    Ask::Saw {
        readings: tasks::written::readings(movement, Plate::Back, &said).expect("good readings"),
        tension: LoggedTension::Tensioned,
    }
}

fn looked_at(state: &TimingState) -> Vec<&str> {
    let Act::Look(at) = &state.advice.act else {
        return Vec::new();
    };
    let movement = &state.sheet.movement;
    at.iter()
        .map(|id| movement.witness(*id).id.as_str())
        .collect()
}

/// Windows that are known from usual proportions alone leave a train to be proved, never done: that must not keep the other from
/// being looked at.
#[test]
fn a_train_that_is_left_to_prove_lets_the_next_be_looked_at() {
    let sheet = quarters();
    let begun = note(sheet.as_bytes(), None, &[], None, Eye::default()).expect("begun");
    let movement = &begun.sheet.movement;
    let strike = look(movement, &["tail=0", "pin=-180"]);
    let chime = look(movement, &["hour=0", "notes=0", "chime_pin=-72"]);

    let read = begun.tell(&[strike.clone(), strike]).expect("entered");
    let mut at = looked_at(&read);
    at.sort_unstable();
    assert_eq!(at, ["chime_pin", "hour", "notes"], "{:?}", read.advice);

    // With both trains read in, what is left is to prove them; with one tooth between them, to move it.
    let all = read.tell(&[chime.clone(), chime]).expect("entered");
    let settled = matches!(all.advice.act, Act::Prove | Act::Look(_));
    assert!(
        settled && all.advice.lacks.unread.is_empty(),
        "{:?}",
        all.advice
    );
    let out = look(movement, &["hour=18", "notes=0", "chime_pin=-72"]);
    let out = read.tell(&[out.clone(), out]).expect("entered");
    assert!(matches!(out.advice.act, Act::Shift(_)), "{:?}", out.advice);
}

/// A count wheel on its square that was seen on the rim, about half a place out, is put otherwise on its square before any plate is spread,
/// though read so roughly a shift of some teeth would bring it in too. Common practice, no source.
#[test]
fn a_count_wheel_on_the_rim_is_tried_on_its_square_first() {
    let held = [("count_held", QuestionAnswer::Choice("square".to_owned()))];
    let sheet = counted("count wheel outside", &held, &[]);
    let begun = note(sheet.as_bytes(), None, &[], None, Eye::default()).expect("begun");
    let movement = &begun.sheet.movement;
    // Places are four degrees apart.
    for (slot, turned) in [
        ("slot=1.6~0.5", true),
        ("slot=2~0.1", true),
        ("slot=1.3~0.1", false),
    ] {
        let read = begun
            .tell(&[look(movement, &[slot, "tail=0", "pin=-324"])])
            .expect("entered");
        assert_eq!(
            matches!(read.advice.act, Act::Turn(_)),
            turned,
            "{slot} {:?}",
            read.advice.act
        );
    }
}

/// A chime of one's own counts, whose cylinder and quarter wheel stand in tens of thousands of ways: it is timed all the same, and the
/// strike beside it. A quarter of a turn of the quarter wheel is twenty of its own teeth.
#[test]
fn a_chime_of_many_teeth_is_timed_and_the_strike_beside_it() {
    let counts = [
        ("chime_great.wheel", 100),
        ("cylinder.pinion", 10),
        ("cylinder.wheel", 80),
        ("cylinder.quarter_pinion", 40),
        ("quarter.wheel", 80),
        ("chime_locking.pinion", 16),
        ("chime_locking.wheel", 60),
        ("chime_warning.pinion", 6),
        ("chime_warning.wheel", 54),
        ("chime_fly.pinion", 6),
    ];
    let sheet = counted("quarters", &[], &counts);
    let begun = note(sheet.as_bytes(), None, &[], None, Eye::default()).expect("begun");
    let movement = &begun.sheet.movement;
    let strike = look(movement, &["tail=0", "pin=-180"]);
    let chime = look(movement, &["hour=90", "notes=0", "chime_pin=-72"]);
    let all = begun
        .tell(&[strike, chime.clone(), chime])
        .expect("entered");
    let Act::Shift(shifts) = &all.advice.act else {
        panic!("{:?}", all.advice);
    };
    let said: Vec<(String, i64)> = (shifts.iter())
        .map(|shift| (movement.mesh_name(shift.mesh), shift.teeth))
        .collect();
    assert_eq!(
        said,
        [("cylinder.quarter_pinion>quarter.wheel".to_owned(), 20)]
    );
}

/// A drum that is held by a screw is set as a whole, whatever wheel beside it would do the same. Common practice, no source.
#[test]
fn a_drum_on_its_screw_is_set_before_a_wheel_is_lifted() {
    let held = [("drum_held", QuestionAnswer::Choice("screw".to_owned()))];
    let sheet = counted("quarters", &held, &[]);
    let begun = note(sheet.as_bytes(), None, &[], None, Eye::default()).expect("begun");
    let movement = &begun.sheet.movement;
    let strike = look(movement, &["tail=0", "pin=-180"]);
    let out = look(movement, &["hour=0", "notes=108", "chime_pin=-72"]);
    let read = begun.tell(&[strike, out.clone(), out]).expect("entered");
    let Act::Turn(turns) = &read.advice.act else {
        panic!("{:?}", read.advice);
    };
    let [turn] = &turns[..] else {
        panic!("{turns:?}");
    };
    let on = &movement.arbor(turn.arbor).id;
    assert_eq!((&on[..], turn.by.degrees().to_f64()), ("cylinder", 108.0));
    assert_eq!(turn.held_by, HeldBy::Screw);
}

/// Quarters read a change on, every mesh as it should be: they are run on and read again, and nothing is lifted. A change turns the cylinder
/// by a fifth and the quarter wheel by a tenth, by the counts. What is out at a mesh is told as ever.
#[test]
fn a_sound_chime_that_was_read_at_another_change_is_run_on() {
    let begun = note(quarters().as_bytes(), None, &[], None, Eye::default()).expect("begun");
    let movement = &begun.sheet.movement;
    let strike = look(movement, &["tail=0", "pin=-180"]);
    let chime = look(movement, &["hour=36", "notes=72", "chime_pin=-72"]);
    let read = begun.tell(&[strike.clone(), chime]).expect("entered");
    let mut at = looked_at(&read);
    at.sort_unstable();
    assert_eq!(at, ["chime_pin", "hour", "notes"], "{:?}", read.advice);
    assert!(read.advice.shift_now.is_empty(), "{:?}", read.advice);
    let another = read.recalled.another_drop(movement).expect("another drop");
    assert_eq!(movement.arbor(another.arbor).id, "chime_locking");
    assert_eq!(another.more, 9);
    let out = look(movement, &["hour=36", "notes=0", "chime_pin=-72"]);
    let out = begun.tell(&[strike, out.clone(), out]).expect("entered");
    assert_eq!(out.recalled.another_drop(movement), None);
    assert!(matches!(out.advice.act, Act::Shift(_)), "{:?}", out.advice);
}

/// A tower's count wheel outside the plates one tooth off, which costs nothing to free, and all windows as usual: it is freed, and not
/// proved with its slot on the rim.
#[test]
fn what_is_plainly_out_is_never_proved_while_a_shift_brings_it_in() {
    let ring = [
        ("ring", QuestionAnswer::Choice("inside".to_owned())),
        ("lifters", QuestionAnswer::Count(9)),
    ];
    let counts = [
        ("barrel.ring", 100),
        ("barrel.count_drive", 36),
        ("lifting.pinion", 10),
        ("lifting.wheel", 72),
        ("locking.pinion", 8),
        ("locking.wheel", 60),
        ("warning.pinion", 6),
        ("warning.wheel", 50),
        ("fly.pinion", 8),
        ("count.wheel", 36),
    ];
    let sheet = counted("tower", &ring, &counts);
    let begun = note(sheet.as_bytes(), None, &[], None, Eye::default()).expect("begun");
    let movement = &begun.sheet.movement;
    let rim = look(movement, &["slot=1.5", "lifts=-5", "stop=-72"]);
    let mut read = begun;
    for _ in 0..4 {
        read = read.tell(std::slice::from_ref(&rim)).expect("entered");
        assert!(
            !(matches!(read.advice.act, Act::Prove) && read.advice.in_window.get() < 0.5),
            "{:?}",
            read.advice
        );
    }
}
