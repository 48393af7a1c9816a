//! Sheets of which no window is written: the samples, and kinds with every count as is usual.

use kinds::{CountState, Described, Kind, QuestionAnswer};

/// Samples that strike.
pub(crate) const SAMPLES: [&str; 11] = [
    "schoolroom",
    "halfpast",
    "quay",
    "parlour",
    "wharf",
    "gallery",
    "loft",
    "vestry",
    "porter",
    "cutter",
    "quarters",
];

/// A sheet without its windows.
pub(crate) fn unwritten(text: &str) -> String {
    let kept = text
        .lines()
        .filter(|line| !line.starts_with("window_deg") && !line.starts_with("best_deg"));
    kept.map(|line| format!("{line}\n")).collect()
}

/// A kind with an answer to one of its questions, every count as is usual.
pub(crate) fn made(kind: &Kind, answer: Option<(&str, &str)>) -> Option<String> {
    let mut described = Described::begin(&kind.id, "Wren Street", &[]).ok()?;
    if let Some((question, choice)) = answer {
        let choice = QuestionAnswer::Choice(choice.to_owned());
        described.answer(question, &choice).ok()?;
    }
    // A usual count follows what is counted before it.
    while let Some(open) =
        (described.places().into_iter()).find(|place| place.state == CountState::NotCounted)
    {
        let usual = open.usual.expect("a usual count");
        described.count(&open.id, CountState::Counted(usual)).ok()?;
    }
    Some(described.text())
}
