//! Where windows are known from usual proportions alone it is never told that all is done.

use entries::LoggedTension;
use tasks::{Ask, check, check_timed, note};
use timing::{Act, Eye};

/// A sample without the windows that are written on it; where that is wished, with a figure of its works told to be as is usual.
fn sheet(usual: bool) -> String {
    let path = format!(
        "{}/../../movements/schoolroom.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    let text = std::fs::read_to_string(path).expect("a sample");
    let lines = text
        .lines()
        .filter(|line| !line.starts_with("window_deg") && !line.starts_with("best_deg"))
        .map(|line| match line {
            "slot_deg = 2.8" if usual => "slot_deg = 2.8\nusual = [\"slot_deg\"]",
            line => line,
        });
    lines.collect::<Vec<_>>().join("\n")
}

/// What is advised after so many good looks.
fn advised(text: &str, looks: usize) -> Act {
    let movement = check_timed(text.as_bytes()).expect("a good sheet").movement;
    let saw: Vec<Ask> = (0..looks)
        .map(|_| {
            let readings = ["slot=0~0.1", "star=0~1", "pin=-75~5"];
            let read = |said: &&str| {
                tasks::written::reading(&movement, movement.seen_from(), said).expect("a reading")
            };
            Ask::Saw {
                readings: readings.iter().map(read).collect(),
                tension: LoggedTension::Tensioned,
            }
        })
        .collect();
    let noted = note(text.as_bytes(), None, &saw, None, Eye::default()).expect("entered");
    noted.advice.act
}

#[test]
fn usual_proportions_alone_are_to_be_proved() {
    assert_eq!(advised(&sheet(false), 2), Act::Done);
    assert_eq!(advised(&sheet(true), 2), Act::Prove);
}

#[test]
fn what_is_told_to_be_usual_stands_beside_it() {
    let wrong = sheet(true).replace("usual = [\"slot_deg\"]", "usual = [\"rise_deg\"]");
    let faults = check(wrong.as_bytes()).expect_err("no such key there");
    assert_eq!(faults.told.len(), 1);
}
