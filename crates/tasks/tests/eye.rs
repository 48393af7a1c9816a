//! How rough the readings of a book are: what its jobs show, and what the next job makes of its first look by it.

use entries::Work;
use tasks::{Ask, come_in, hidden_of, mistime, note, shown};
use timing::{Eye, Shown};

fn sheet() -> Vec<u8> {
    let path = format!(
        "{}/../../movements/schoolroom.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    std::fs::read(path).expect("a sample")
}

fn saw(readings: &[&str]) -> Ask {
    let sheet = tasks::check(&sheet()).expect("a good sheet");
    let movement = &sheet.movement;
    let readings = tasks::written::readings(movement, movement.seen_from(), readings);
    Ask::Saw {
        readings: readings.expect("readings"),
        tension: entries::LoggedTension::Tensioned,
    }
}

/// The log of a job in which this was told.
fn log(asks: &[Ask], eye: Eye) -> String {
    let noted = note(&sheet(), None, asks, None, eye).expect("a log");
    noted.log.text().to_owned()
}

/// One pin, read again and again far apart compared with the spread that is said.
fn scattered() -> Vec<Ask> {
    ["-75", "-50", "-95", "-62", "-99", "-72"]
        .iter()
        .map(|at| saw(&[&format!("pin={at}~3")]))
        .collect()
}

fn shows(log: &str) -> Vec<Shown> {
    shown(&sheet(), log.as_bytes())
}

/// What the first look of a job makes of it.
fn first_look(eye: Eye) -> f64 {
    let look = saw(&["slot=0.5~0.3", "star=1~0.5", "pin=-68~4"]);
    let noted = note(&sheet(), None, &[look], None, eye).expect("a log");
    noted.advice.in_window.get()
}

#[test]
fn a_first_look_is_believed_less_after_jobs_whose_looks_scattered() {
    let jobs: Vec<Shown> = (0..3)
        .flat_map(|_| shows(&log(&scattered(), Eye::default())))
        .collect();
    assert_eq!(jobs.len(), 3);
    let eye = Eye::after(&jobs);
    assert!(eye.times() > 1.5 * Eye::default().times(), "{eye:?}");
    let (fresh, after) = (first_look(Eye::default()), first_look(eye));
    assert!(after < fresh - 0.05, "{after} {fresh}");
}

#[test]
fn what_was_taken_back_shows_nothing() {
    let mut asks = scattered();
    asks.extend(scattered().iter().map(|_| Ask::Undo(None)));
    assert!(shows(&log(&asks, Eye::default())).is_empty());
    // One of several: as if it had never been told.
    let alike = ["-75", "-74", "-76"].map(|at| saw(&[&format!("pin={at}~3")]));
    let mut asks = alike.to_vec();
    asks.extend([saw(&["pin=-99~3"]), Ask::Undo(None)]);
    let alone = shows(&log(&alike, Eye::default()));
    assert_eq!(shows(&log(&asks, Eye::default())), alone);
    assert_ne!(shows(&log(&asks[..4], Eye::default())), alone);
}

#[test]
fn a_job_shows_the_same_whatever_was_expected_of_it() {
    let rough = Eye::after(&shows(&log(&scattered(), Eye::default())));
    assert_eq!(
        shows(&log(&scattered(), rough)),
        shows(&log(&scattered(), Eye::default()))
    );
    assert!(shows(&log(&[], rough)).is_empty());
    assert!(shows("no log").is_empty());
}

#[test]
fn a_lesson_tells_nothing_and_is_told_nothing() {
    let sheet_text = String::from_utf8(sheet()).expect("text");
    let movement = tasks::check(&sheet()).expect("it checks").movement;
    let hidden = mistime(&movement, 1, 1).expect("a lesson");
    let lesson = come_in("a lesson", &sheet_text, &Work::Lesson { hidden }, None).expect("begun");
    let look = [saw(&["slot=0.5~0.3", "star=1~0.5", "pin=-68~4"])];
    let told = |log: &str| {
        let noted = note(&sheet(), Some(log.as_bytes()), &look, None, Eye::default());
        noted.expect("a log").log
    };
    let lesson = told(lesson.text());
    assert!(hidden_of(&lesson).is_some());
    let lesson = lesson.text().to_owned();
    let plain = log(&look, Eye::default());
    assert!(shows(&lesson).is_empty() && !shows(&plain).is_empty());
    let rough = Eye::after(&shows(&log(&scattered(), Eye::default())));
    let in_window = |log: &str, eye: Eye| {
        let noted = note(&sheet(), Some(log.as_bytes()), &[], None, eye);
        noted.expect("a log").advice.in_window.get()
    };
    let usual = in_window(&lesson, Eye::default());
    assert!((in_window(&lesson, rough) - usual).abs() < 1e-12);
    assert!((in_window(&plain, rough) - usual).abs() > 1e-3);
}
