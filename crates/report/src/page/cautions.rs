//! What can hurt a hand or a part, said where it arises. All of it is common practice, no source; local rules and
//! licensed practice come first.

use super::named;
use crate::{Units, Words, say};

/// A danger, and the part it lies in where it is not in all.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Danger {
    /// Springs under power as the plates are spread.
    Springs,
    /// Fingers between what may move.
    Fingers,
    /// Nuts and keys near the escape wheel's teeth.
    EscapeTeeth,
    /// Lever springs that bend or fly as the plate lifts.
    LeverSprings,
    /// Power in the train while these arbors are out.
    Runaway(Vec<String>),
    /// A spring turned off the hook of its arbor.
    Hook,
    /// The click and its rivet.
    Click,
    /// Bending what is hard.
    Bending,
    /// A spring that is wound, as strong as is said.
    LetDown,
    /// A weight on its cord.
    Weight,
    /// Mercury in a pendulum's jar.
    Mercury,
    /// Luminous dials and hands.
    Luminous,
    /// Ammonia in cleaning baths.
    Ammonia,
    /// Solvents that burn.
    Solvents,
    /// A movement that runs out of its case.
    OutOfCase,
    /// A weight that hangs while it runs.
    HangingWeight,
}

/// What to mind.
pub fn danger(words: &Words, danger: &Danger) -> String {
    let units = match words.units() {
        Units::Millimetre => "mm",
        Units::Inch => "in",
    };
    match danger {
        Danger::Springs => say!(words, "caution-springs"),
        Danger::LeverSprings => say!(words, "caution-lever-springs"),
        Danger::EscapeTeeth => say!(words, "caution-escape-teeth"),
        Danger::Fingers => say!(words, "caution-fingers"),
        Danger::Runaway(arbors) => {
            let names: Vec<String> = (arbors.iter())
                .map(|arbor| say!(words, "caution-runaway-arbor", arbor = named(arbor)))
                .collect();
            say!(words, "caution-runaway", arbors = words.either(&names))
        }
        Danger::Hook => say!(words, "caution-hook"),
        Danger::Click => say!(words, "caution-click"),
        Danger::Bending => say!(words, "caution-bending"),
        Danger::LetDown => say!(words, "caution-let-down"),
        Danger::Weight => say!(words, "caution-weight"),
        Danger::Mercury => say!(words, "caution-mercury", units = units),
        Danger::Luminous => say!(words, "caution-luminous"),
        Danger::Ammonia => say!(words, "caution-ammonia"),
        Danger::Solvents => say!(words, "caution-solvents", units = units),
        Danger::OutOfCase => say!(words, "caution-out-of-case"),
        Danger::HangingWeight => say!(words, "caution-hanging-weight"),
    }
}
