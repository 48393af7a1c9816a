//! As it stood while it struck right: what a log tells of it, what it makes of windows that are known from usual proportions alone, and
//! when it is refused.

use entries::{LoggedTension, Work};
use kinds::{CountState, Described};
use movement::{Movement, Plate};
use tasks::{Ask, QuestionFault, Refusal, TimingState, check_timed, note};
use timing::{Act, Eye, HowStood};

/// A count wheel with a cam and pins, counted as is usual, all its angles as usual.
fn usual() -> String {
    let mut sheet =
        Described::begin("count wheel and cam", "Wren Street test", &[]).expect("begun");
    for place in sheet.places() {
        let counted = CountState::Counted(place.usual.expect("usual"));
        sheet.count(&place.id, counted).expect("there");
    }
    sheet.text()
}

fn readings(movement: &Movement, said: &[String]) -> Vec<entries::LoggedReading> {
    tasks::written::readings(movement, Plate::Back, said).expect("good readings")
}

/// Every witness read so far from its best towards an end of its window, 1 at that end: at rest, or as the lever drops.
fn at(movement: &Movement, off: f64, rest: bool) -> Vec<entries::LoggedReading> {
    let known = timing::Rest::of(movement);
    let said: Vec<String> = (movement.witnesses())
        .filter_map(|(id, witness)| {
            let half = witness.width().to_f64() / 2.0;
            let [from, to, best] =
                [&witness.from, &witness.to, &witness.best].map(|at| at.to_f64());
            let end = if off < 0.0 { from } else { to };
            // As far towards an end of the window; beyond it, half windows.
            let beyond = (off.abs() - 1.0).max(0.0) * off.signum() * half;
            let place = best + off.abs().min(1.0) * (end - best) + beyond;
            let spread = 0.1 * half;
            if !rest {
                return Some(format!("{}={place:.4}~{spread:.4}", witness.id));
            }
            match known.at_rest(id) {
                timing::StandsAtRest::Locks { turns } => {
                    let turns = quantity::to_f64(turns);
                    let place = quantity::Degrees::parse(&format!("{place:.4}")).unwrap();
                    let lead = known.lead(id, &place)?.to_f64();
                    let (notch, spread) = (lead / turns, spread / turns);
                    Some(format!("{}={notch:.4}notch~{spread:.4}", witness.id))
                }
                timing::StandsAtRest::Unknown => None,
                _ => {
                    let place = place + known.usually(movement, id).to_f64();
                    Some(format!("{}={place:.4}~{spread:.4}", witness.id))
                }
            }
        })
        .collect();
    readings(movement, &said)
}

fn told(sheet: &str, asks: &[Ask]) -> Result<TimingState, Refusal> {
    note(sheet.as_bytes(), None, asks, None, Eye::default())
}

fn looked(movement: &Movement) -> Ask {
    Ask::Saw {
        readings: at(movement, 0.0, false),
        tension: LoggedTension::Tensioned,
    }
}

fn stood(movement: &Movement, off: f64) -> Ask {
    Ask::Stood {
        readings: at(movement, off, true),
        hours: None,
    }
}

/// What is seen as the lever drops, twice, is all in; with usual proportions alone that is proved, and with one reading of each as it stood
/// it is done.
#[test]
fn one_reading_of_each_as_it_stood_and_usual_windows_are_good_enough_to_close_up_by() {
    let text = usual();
    let sheet = check_timed(text.as_bytes()).expect("good");
    let movement = &sheet.movement;
    let look = || looked(movement);
    let alone = told(&text, &[look(), look()]).expect("told");
    assert_eq!(alone.advice.act, Act::Prove, "{:?}", alone.advice.lacks);
    assert_eq!(alone.advice.lacks.usual.len(), movement.witnesses().len());
    let borne_out = told(&text, &[stood(movement, 0.0), look(), look()]).expect("told");
    assert!(
        borne_out.advice.lacks.usual.is_empty(),
        "{:?}",
        borne_out.advice
    );
    assert_eq!(borne_out.advice.act, Act::Done, "{:?}", borne_out.advice);
    assert!(borne_out.advice.in_window.get() < 1.0);
    // Only how it lay then: nothing was seen of how it stands now.
    let only = told(&text, &[stood(movement, 0.0)]).expect("told");
    assert!(only.recalled.last_look.is_empty());
    assert_eq!(only.advice.lacks.unread.len(), movement.witnesses().len());
    for at in &borne_out.stood.each {
        let inside = matches!(at.told, HowStood::Inside(_) | HowStood::NearAnEdge);
        assert!(inside, "{at:?}");
    }
}

/// A window goes after what stood in it near an edge, the ways the meshes may stand do not, and the log read again tells the same.
#[test]
fn a_window_goes_after_what_stood_near_its_edge() {
    let text = usual();
    let sheet = check_timed(text.as_bytes()).expect("good");
    let before = &sheet.movement;
    for off in [-1.0, 1.0] {
        let told = told(&text, &[stood(before, off)]).expect("told");
        let after = &told.sheet.movement;
        for at in &told.stood.each {
            let (then, now) = (before.witness(at.witness), after.witness(at.witness));
            let half = then.width().to_f64() / 2.0;
            let by = (&now.from - &then.from).to_f64() / half;
            assert!(
                by.signum() == off.signum() && by.abs() > 0.01,
                "{by} {at:?}"
            );
            assert_eq!(now.best, then.best);
            assert!((now.width().to_f64() - then.width().to_f64()).abs() < 1e-9);
            assert_eq!(at.told, HowStood::NearAnEdge, "{at:?}");
        }
        let log = told.log.text().as_bytes();
        let again = note(text.as_bytes(), Some(log), &[], None, Eye::default()).expect("read");
        assert_eq!(again.stood, told.stood);
        assert_eq!(again.advice, told.advice);
        // Taken back it is as if it had never been said.
        let undone = told.tell(&[Ask::Undo(None)]).expect("taken back");
        assert!(undone.stood.each.is_empty());
        assert_eq!(
            undone
                .sheet
                .movement
                .witness(told.stood.each[0].witness)
                .from,
            before.witness(told.stood.each[0].witness).from
        );
    }
}

#[test]
fn what_stood_far_outside_its_window_is_told_and_not_gone_by() {
    let text = usual();
    let sheet = check_timed(text.as_bytes()).expect("good");
    let movement = &sheet.movement;
    let told = told(&text, &[stood(movement, 2.4)]).expect("told");
    assert!(
        told.stood
            .each
            .iter()
            .any(|at| at.told == HowStood::Outside)
    );
    for at in told
        .stood
        .each
        .iter()
        .filter(|at| at.told == HowStood::Outside)
    {
        assert!(told.advice.lacks.usual.contains(&at.witness));
        let (then, now) = (movement.witness(at.witness), &told.sheet.movement);
        assert_eq!(now.witness(at.witness).from, then.from);
    }
}

/// Windows that are written stay where they are written.
#[test]
fn a_written_window_stays() {
    let text = std::fs::read_to_string("../../movements/schoolroom.toml").expect("sample");
    let sheet = check_timed(text.as_bytes()).expect("good");
    let told = told(&text, &[stood(&sheet.movement, 0.9)]).expect("told");
    assert_eq!(told.stood.each.len(), 3);
    assert!(told.stood.windows.is_empty());
    for (id, witness) in sheet.movement.witnesses() {
        let after = told.sheet.movement.witness(id);
        assert_eq!((&after.from, &after.to), (&witness.from, &witness.to));
    }
}

/// A lever that was bent since stands otherwise than it did; a sheet that counts otherwise is another train.
#[test]
fn it_tells_of_the_levers_and_counts_that_it_was_read_of() {
    let text = usual();
    let sheet = check_timed(text.as_bytes()).expect("good");
    let movement = &sheet.movement;
    let first = movement.witnesses().next().expect("one").1.id.clone();
    let set_right = Ask::SetRight(first.clone());
    let told = told(&text, &[stood(movement, 0.0), set_right]).expect("told");
    let of = |told: &TimingState| -> Vec<String> {
        let each = told.stood.each.iter();
        each.map(|at| told.sheet.movement.witness(at.witness).id.clone())
            .collect()
    };
    assert!(!of(&told).contains(&first) && !of(&told).is_empty());
    // The same counts in other words: still the same train. Another count: not.
    let enter = |told: &TimingState, text: &str| {
        let work = tasks::new_sheet(text).expect("good");
        let Work::Sheet { .. } = work else { panic!() };
        let added = tasks::enter(told.log.text().as_bytes(), &work, None).expect("entered");
        let log = told.log.text().to_owned() + &added;
        note(
            text.as_bytes(),
            Some(log.as_bytes()),
            &[],
            None,
            Eye::default(),
        )
        .expect("read")
    };
    let alike = enter(&told, &format!("# Looked over.\n{text}"));
    assert_eq!(of(&alike), of(&told));
    let mut other = Described::read(&text).expect("read");
    let fly = other
        .places()
        .into_iter()
        .find(|place| place.id.arbor == "fly")
        .expect("a fly");
    let more = CountState::Counted(quantity::Teeth::new(7).expect("teeth"));
    other.count(&fly.id, more).expect("there");
    assert!(of(&enter(&told, &other.text())).is_empty());
}

#[test]
fn after_anything_was_moved_it_is_refused() {
    let text = usual();
    let sheet = check_timed(text.as_bytes()).expect("good");
    let movement = &sheet.movement;
    let out = Ask::Out("fly".to_owned());
    let refused = told(&text, &[out, stood(movement, 0.0)]).expect_err("refused");
    assert!(
        matches!(refused, Refusal::Question(QuestionFault::NotAsItStood(1))),
        "{refused:?}"
    );
}
