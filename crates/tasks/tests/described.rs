//! Sheets that are described by touches: like ones, lost counts worked out, and what does not alter what was counted.

use book::Book;
use entries::Work;
use kinds::{CountState, Described, PlaceId, QuestionAnswer};
use quantity::Teeth;
use sheet::SheetTable;
use sheet::edit::{SheetValue, TableAt};
use tasks::{CountAsk, Desk, begin_like, count, put_in_counts, same_train, worked_out};
use way::KnownSheet;

fn place(at: &str) -> PlaceId {
    let (arbor, part) = at.split_once('.').expect("ARBOR.PART");
    PlaceId {
        arbor: arbor.to_owned(),
        part: part.to_owned(),
    }
}

/// A sheet of a kind with all its counts as is usual.
fn counted(kind: &str) -> Described {
    let mut sheet = Described::begin(kind, "Wren Street test", &[]).expect("begun");
    for place in sheet.places() {
        let usual = place.usual.expect("usual");
        let put = sheet.count(&place.id, CountState::Counted(usual));
        put.expect("there");
    }
    sheet
}

fn state(sheet: &Described, at: &str) -> CountState {
    let places = sheet.counts();
    let found = places.iter().find(|known| known.id == place(at));
    found.expect("there").state
}

fn teeth(n: i64) -> Teeth {
    Teeth::new(n).expect("teeth")
}

#[test]
fn a_lost_count_is_worked_out_and_stands_in_doubt() {
    let text = include_str!("../../../movements/schoolroom.toml");
    let mut sheet = Described::read(text).expect("read");
    let lost = "count.wheel";
    sheet.count(&place(lost), CountState::Lost).expect("there");
    let found = count(sheet.text().as_bytes(), &CountAsk::default()).expect("searched");
    let counts = worked_out(&found, 0).expect("one fits");
    // 78 places of which nine go to a turn of the pinion of six: 78 x 6 / 9.
    assert_eq!(counts, [(place(lost), teeth(52))]);
    put_in_counts(&mut sheet, &counts).expect("there");
    assert_eq!(state(&sheet, lost), CountState::NotSure(teeth(52)));
    assert_eq!(worked_out(&found, found.found.fits.len()), None);
}

#[test]
fn a_like_clock_begins_with_its_counts_in_doubt_and_without_its_wear() {
    let mut worn = counted("rack");
    let at = TableAt::Arbor("fly".to_owned());
    let thick = SheetValue::Decimal(quantity::fraction(3, 2));
    for key in ["pivot_mm", "hole_mm"] {
        worn.set(&at, key, &thick).expect("set");
    }
    let like = begin_like(&worn.text(), "Old Quay clock", "Quay Street test").expect("begun");
    let text = like.text();
    assert!(text.contains("name = \"Quay Street test\""), "{text}");
    assert!(
        !text.contains("pivot_mm") && !text.contains("hole_mm"),
        "{text}"
    );
    assert!(
        like.counts()
            .iter()
            .all(|p| matches!(p.state, CountState::NotSure(_)))
    );
    assert_eq!(
        like.kind().map(|kind| &kind.id),
        worn.kind().map(|kind| &kind.id)
    );
    sheet::read_open(text.as_bytes()).expect("good but for doubt");
}

#[test]
fn the_same_train_is_found_by_counts_and_not_by_names() {
    let one = counted("rack");
    let mut other = counted("rack");
    for (n, arbor) in ["great", "pins", "pallet", "warning", "fly"]
        .iter()
        .enumerate()
    {
        other
            .rename_arbor(arbor, &format!("a{n}"))
            .expect("renamed");
    }
    let all = one.counts().len();
    assert_eq!(same_train(&one, &other), Some(all));
    // Half of it counted agrees as far as it goes; one count that differs is another train.
    let mut half = other.clone();
    for place in half.counts().into_iter().skip(4) {
        half.count(&place.id, CountState::NotCounted)
            .expect("there");
    }
    assert_eq!(same_train(&half, &one), Some(4));
    other
        .count(&place("a0.wheel"), CountState::Counted(teeth(96)))
        .expect("there");
    assert_eq!(same_train(&one, &other), None);
    assert_eq!(same_train(&one, &counted("quarters")), None);
    // Next to nothing counted is no train at all.
    let bare = Described::begin("rack", "Wren Street test", &[]).expect("begun");
    assert_eq!(same_train(&one, &bare), None);
}

/// Of a like clock every count is in doubt; one that is lost is worked out all the same, the others as they are written.
#[test]
fn a_lost_count_of_a_like_clock_is_worked_out_by_the_others_as_they_are_written() {
    let mut like = counted("count wheel and cam");
    let places = like.counts();
    for known in &places {
        let CountState::Counted(teeth) = known.state else {
            panic!("counted");
        };
        let put = like.count(&known.id, CountState::NotSure(teeth));
        put.expect("there");
    }
    let wheel = places.iter().find(|known| known.id == place("count.wheel"));
    let wheel = wheel.expect("a count wheel");
    like.count(&wheel.id, CountState::Lost).expect("there");
    let found = count(like.text().as_bytes(), &CountAsk::default()).expect("searched");
    assert_eq!(found.believed.len(), places.len() - 1);
    let counts = worked_out(&found, 0).expect("one fits");
    assert!(
        matches!(wheel.state, CountState::Counted(teeth) if counts == [(wheel.id.clone(), teeth)])
    );
}

/// What is asked, usual or lost says nothing of what was counted: a log stays with its sheet.
#[test]
fn what_was_asked_is_usual_or_lost_alters_nothing_that_was_counted() {
    let text = include_str!("../../../movements/schoolroom.toml");
    let before = sheet::read(text.as_bytes()).expect("good").movement;
    let mut sheet = Described::read(text).expect("read");
    let strike = TableAt::One(SheetTable::Strike);
    let slots = TableAt::Named(SheetTable::Track, "slots".to_owned());
    let list = |key: &str| SheetValue::List(vec![SheetValue::Text(key.to_owned())]);
    sheet
        .edit(|text| {
            let kind = SheetValue::Text("count wheel and cam".to_owned());
            text.set(&strike, "kind", &kind)?;
            let asked = vec![("lever".to_owned(), SheetValue::Text("?".to_owned()))];
            text.set(&strike, "asked", &SheetValue::Table(asked))?;
            text.set(&slots, "usual", &list("ramp_deg"))?;
            text.set(&TableAt::Arbor("fly".to_owned()), "lost", &list("pinion"))
        })
        .expect("edited");
    let after = sheet::read(sheet.text().as_bytes()).expect("good").movement;
    assert_eq!(tasks::digest(&before), tasks::digest(&after));
    assert_eq!(
        way::changes(KnownSheet::Counted(&before), KnownSheet::Counted(&after)),
        []
    );
}

#[test]
fn touches_are_entered_and_taken_back_and_the_same_train_is_found_in_the_book() {
    let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("described.book");
    for beside in ["", "-wal", "-shm"] {
        let _ = std::fs::remove_file(format!("{}{beside}", path.display()));
    }
    let desk = Desk::of(Book::open(&path).expect("a book"), || None);
    let put_on = |sheet: &Described| desk.put_on(&sheet.text()).expect("put on");
    let first = put_on(&counted("rack"));
    put_on(&counted("quarters"));
    let mut touched = counted("rack");
    let id = put_on(&touched);
    assert_eq!(desk.same_trains(id).expect("gone over"), [first]);
    let stood = desk.book.job(id).expect("there").sheet;
    let enter = |sheet: &Described| -> usize {
        let work: Work = tasks::new_sheet(&sheet.text()).expect("good");
        let entries = desk.whole(id, None).expect("there").entries();
        desk.enter(id, entries, &work).expect("entered")
    };
    touched
        .answer("lifters", &QuestionAnswer::Count(10))
        .expect("answered");
    enter(&touched);
    assert_eq!(desk.book.job(id).expect("there").sheet, touched.text());
    let whole = desk.whole(id, None).expect("there");
    let last = whole.state.log.standing().last().expect("an entry").n;
    desk.take_back(id, whole.entries(), last)
        .expect("taken back");
    assert_eq!(desk.book.job(id).expect("there").sheet, stood);
}

/// What is answered of a lever and of a cock stands on the sheet; where nobody knows, nothing does.
#[test]
fn a_soft_lever_and_a_cock_stand_on_the_sheet_as_they_were_answered() {
    let choice = |id: &str| QuestionAnswer::Choice(id.to_owned());
    for kind in ["count wheel and cam", "ships bell"] {
        let Ok(mut sheet) = Described::begin(kind, "Wren Street test", &[]) else {
            panic!("{kind} is a kind");
        };
        for (answer, made) in [
            (choice("soft"), Some("soft")),
            (choice("hard"), Some("hardened")),
            (QuestionAnswer::DontKnow, None),
            (QuestionAnswer::Usual, Some("soft")),
        ] {
            sheet.answer("lever", &answer).expect("asked");
            let text = sheet.text();
            let written = made.map(|made| format!("made = \"{made}\""));
            match written {
                Some(written) => assert!(text.contains(&written), "{answer:?}: {text}"),
                None => assert!(!text.contains("made ="), "{answer:?}: {text}"),
            }
            sheet::read_open(text.as_bytes()).expect("good but for counts");
        }
    }
    let mut sheet = counted("count wheel outside");
    for (answer, at) in [
        (choice("warning"), Some("warning pin")),
        (choice("locking"), Some("locking pin")),
        (choice("none"), None),
        (choice("warning"), Some("warning pin")),
        (QuestionAnswer::DontKnow, None),
    ] {
        sheet.answer("cock", &answer).expect("asked");
        let checked = sheet::read(sheet.text().as_bytes()).expect("good").movement;
        let cocks = checked.arbors().filter(|(_, arbor)| arbor.cock);
        let cocks: Vec<_> = cocks.map(|(id, _)| id).collect();
        assert_eq!(cocks.len(), usize::from(at.is_some()), "{answer:?}");
        let pinned = |stops: bool, arbor| {
            let works = checked.works().expect("levers");
            let locks = works.levers().filter_map(|(_, lever)| {
                let stops_at = lever.stops()?;
                let below = matches!(stops_at.reach, movement::Reach::Below(_));
                (below == stops).then(|| works.pin(stops_at.pin).on)
            });
            locks.into_iter().any(|on| on == arbor)
        };
        if let (Some(at), Some(cock)) = (at, cocks.first()) {
            assert!(pinned(at == "locking pin", *cock), "{answer:?}");
        }
    }
}
