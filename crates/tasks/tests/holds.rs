//! What was seen and done still holds after the sheet of a job was altered where nothing of it hangs on that; and a train beside the
//! strike need not be counted.

use book::Book;
use entries::LoggedTension;
use kinds::{CountState, Described};
use movement::Plate;
use sheet::SheetTable;
use sheet::edit::{SheetValue, TableAt};
use std::path::Path;
use tasks::{Ask, Desk, TimedJob};
use timing::Act;

const SCHOOLROOM: &str = include_str!("../../../movements/schoolroom.toml");

/// A going train beside it, as far as it was counted.
fn going(wheel: &str) -> String {
    format!(
        "\n[arbor.going_great]\nruns = \"clockwise\"\nwheel = {wheel}\n\n[arbor.centre]\npinion = 8\n\n\
         [[mesh]]\ndriver = \"going_great.wheel\"\ndriven = \"centre.pinion\"\n"
    )
}

fn desk(name: &str) -> Desk {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&path);
    std::fs::create_dir_all(&path).expect("a folder");
    Desk::of(
        Book::open(&path.join("bench.book")).expect("a book"),
        || None,
    )
}

fn saw(job: &TimedJob, said: &[&str]) -> Ask {
    let said: Vec<String> = said.iter().map(|said| (*said).to_owned()).collect();
    let movement = &job.timing.sheet.movement;
    Ask::Saw {
        readings: tasks::written::readings(movement, Plate::Back, &said).expect("good readings"),
        tension: LoggedTension::Tensioned,
    }
}

fn alter(desk: &Desk, id: book::JobId, text: &str) {
    let entries = desk.timed(id).expect("timed").timing.log.entries().len();
    let work = tasks::new_sheet(text).expect("good");
    desk.enter(id, entries, &work).expect("entered");
}

#[test]
fn what_was_read_holds_while_nothing_that_is_timed_is_otherwise() {
    let desk = desk("holds");
    let id = desk.put_on(SCHOOLROOM).expect("put on");
    let job = desk.timed(id).expect("timed");
    let all = saw(&job, &["slot=0", "star=0", "pin=-75"]);
    desk.tell(id, 0, &[all]).expect("entered");
    let done = |id| desk.timed(id).expect("timed").timing.advice.act.clone();
    assert_eq!(done(id), Act::Done);

    // Another train, half counted, then counted: neither is timed.
    for wheel in ["\"?\"", "96"] {
        alter(&desk, id, &format!("{SCHOOLROOM}{}", going(wheel)));
        assert_eq!(done(id), Act::Done, "{wheel}");
    }
    // A place on the plate.
    let placed = SCHOOLROOM.replace("[arbor.fly]\n", "[arbor.fly]\nat_mm = [10, 20]\n");
    assert_ne!(placed, SCHOOLROOM);
    alter(&desk, id, &format!("{placed}{}", going("96")));
    assert_eq!(done(id), Act::Done);
    // A count of the strike: what was read of it before was read of another.
    let other = format!("{placed}{}", going("96")).replace("wheel = 48", "wheel = 50");
    assert_ne!(other, format!("{placed}{}", going("96")));
    alter(&desk, id, &other);
    assert!(matches!(done(id), Act::Look(_)), "{:?}", done(id));
}

/// Of a sheet by which no window can be worked out any more nothing that was read can be used; the job is there all the same.
#[test]
fn what_an_altered_sheet_cannot_read_is_passed_over() {
    let desk = desk("passed over");
    let mut sheet =
        Described::begin("count wheel and cam", "Wren Street test", &[]).expect("begun");
    for place in sheet.places() {
        let counted = CountState::Counted(place.usual.expect("usual"));
        sheet.count(&place.id, counted).expect("there");
    }
    let id = desk.put_on(&sheet.text()).expect("put on");
    // A look counts for what is timed from the sheet before.
    let job = desk.timed(id).expect("timed");
    let movement = &job.timing.sheet.movement;
    let slot = movement.witnesses().next().expect("one").1.id.clone();
    let look = saw(&job, &[&format!("{slot}=0")]);
    desk.tell(id, 0, &[look]).expect("entered");
    assert_eq!(
        desk.timed(id)
            .expect("timed")
            .timing
            .recalled
            .newest
            .iter()
            .filter(|(_, read)| read.is_some())
            .count(),
        1
    );
    // A count wheel without room for its lever.
    let narrow = SheetValue::Decimal(quantity::fraction(1, 100));
    let slots = TableAt::Named(SheetTable::Track, "slots".to_owned());
    sheet.set(&slots, "slot_deg", &narrow).expect("set");
    alter(&desk, id, &sheet.text());
    let job = desk.timed(id).expect("there");
    assert!(!job.timing.sheet.movement.unjudged().is_empty());
}
