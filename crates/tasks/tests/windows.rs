//! Sheets on which no window is written, only levers: asked as others are.

use entries::LoggedReading;
use movement::WindowSource;
use tasks::{QuestionFault, Refusal, WindowsTrouble, check, check_timed, digest, note, remesh};
use timing::{Cure, Eye};

fn sample(name: &str) -> String {
    let root = env!("CARGO_MANIFEST_DIR");
    std::fs::read_to_string(format!("{root}/../../movements/{name}.toml")).expect(name)
}

/// A sheet without what is written of windows and best places.
fn unwritten(name: &str) -> String {
    let text = sample(name);
    let kept = (text.lines())
        .filter(|line| !line.starts_with("window_deg") && !line.starts_with("best_deg"));
    kept.map(|line| format!("{line}\n")).collect()
}

fn readings(sheet: &sheet::Sheet, saw: &[&str]) -> Vec<LoggedReading> {
    let saw: Vec<String> = saw.iter().map(|said| (*said).to_owned()).collect();
    let from = sheet.movement.seen_from();
    tasks::written::readings(&sheet.movement, from, &saw).expect("good")
}

/// What is to be done, a mesh and its teeth ahead each.
fn shifts(text: &str, saw: &[&str]) -> Vec<(String, i64)> {
    let sheet = check_timed(text.as_bytes()).expect("good");
    let saw = readings(&sheet, saw);
    let answer = remesh(sheet, &saw, None).expect("answered");
    let name = |mesh| answer.sheet.movement.mesh_name(mesh);
    match &answer.answer.cure {
        Cure::NoneNeeded => Vec::new(),
        Cure::Shift(shifts) => (shifts.iter())
            .map(|shift| (name(shift.mesh), shift.signed()))
            .collect(),
        cure => panic!("a shift cures it: {cure:?}"),
    }
}

/// The readings of the contract's worked answers (`docs/contract`): the same shifts follow from windows that were worked out. Where two
/// shifts bring all in, spreads are said: they follow from the widths of the windows otherwise, and those are not the same.
#[test]
fn the_same_is_answered_where_windows_are_worked_out() {
    for (name, saw) in [
        ("schoolroom", &["slot=-0.3", "star=-2", "pin=-75"][..]),
        ("schoolroom", &["slot=-1.2", "star=-10", "pin=-75"]),
        ("schoolroom", &["slot=-1.2", "star=-10", "pin=-30~1"]),
        ("schoolroom", &["slot=2.31", "star=0", "pin=-75"]),
        ("schoolroom", &["slot=1.15~0.02", "star=0~0.1", "pin=-75"]),
        ("quay", &["slot=-0.8", "lifts=-9.5", "stop=-180", "vane=10"]),
        ("quay", &["slot=1.4", "lifts=0", "stop=-180", "vane=0"]),
        ("quay", &["slot=0", "lifts=0", "stop=-180", "vane=80"]),
    ] {
        let (written, worked_out) = (sample(name), unwritten(name));
        assert_eq!(shifts(&worked_out, saw), shifts(&written, saw), "{saw:?}");
    }
}

#[test]
fn witnesses_stand_in_the_order_of_the_sheet() {
    // The middle one of three is written.
    let text = sample("schoolroom");
    let text = text
        .replace("window_deg = [-1.0, 1.0]  ", "# ")
        .replace("window_deg = [-110.0, -55.0]", "");
    let sheet = check_timed(text.as_bytes()).expect("good");
    let told: Vec<_> = (sheet.movement.witnesses())
        .map(|(_, w)| (w.id.as_str(), w.source == WindowSource::Written))
        .collect();
    assert_eq!(told, [("slot", false), ("star", true), ("pin", false)]);
    assert!(sheet.movement.unjudged().is_empty());
    let raw = check(text.as_bytes()).expect("good");
    assert_eq!(raw.movement.unjudged().len(), 2);
    // A log goes by what was counted, however the windows came about.
    assert_eq!(digest(&raw.movement), digest(&sheet.movement));
}

#[test]
fn a_log_is_begun_and_gone_on_with() {
    let text = unwritten("parlour");
    let sheet = check_timed(text.as_bytes()).expect("good");
    let saw = tasks::Ask::Saw {
        readings: readings(&sheet, &["pins=-30", "pin=-180"]),
        tension: entries::LoggedTension::Tensioned,
    };
    let begun = note(text.as_bytes(), None, &[saw], None, Eye::default()).expect("entered");
    let log = begun.log.text().as_bytes();
    let further = note(text.as_bytes(), Some(log), &[], None, Eye::default()).expect("read");
    assert_eq!(further.advised().len(), 1);
    assert!(further.unfounded().is_none());
}

#[test]
fn works_that_do_not_strike_right_are_told_of() {
    let wrong = unwritten("schoolroom").replace("first_deg = 25 ", "first_deg = 5 ");
    let sheet = check_timed(wrong.as_bytes()).expect("good as a sheet");
    let saw = vec!["slot=0".to_owned()];
    let from = sheet.movement.seen_from();
    let refused = tasks::written::readings(&sheet.movement, from, &saw).expect_err("no windows");
    let Refusal::Question(QuestionFault::NoWindows { of, why }) = refused else {
        panic!("{refused:?}");
    };
    assert_eq!(of, ["slot", "star", "pin"]);
    let why = why.expect("there are levers");
    let (minutes, point) = (Some(60), 2);
    assert_eq!(why, WindowsTrouble::Wrong { minutes, point });
}
