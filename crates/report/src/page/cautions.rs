//! What can hurt a hand or a part, in words.

use super::named;
use crate::{Units, Words, say};
use tasks::ShiftDanger;

/// What to mind.
pub fn danger(words: &Words, danger: &ShiftDanger) -> String {
    let units = match words.units() {
        Units::Millimetre => "mm",
        Units::Inch => "in",
    };
    match danger {
        ShiftDanger::Springs => say!(words, "caution-springs"),
        ShiftDanger::LeverSprings => say!(words, "caution-lever-springs"),
        ShiftDanger::EscapeTeeth => say!(words, "caution-escape-teeth"),
        ShiftDanger::Fingers => say!(words, "caution-fingers"),
        ShiftDanger::Runaway(arbors) => {
            let names: Vec<String> = (arbors.iter())
                .map(|arbor| say!(words, "caution-runaway-arbor", arbor = named(arbor)))
                .collect();
            say!(words, "caution-runaway", arbors = words.either(&names))
        }
        ShiftDanger::Hook => say!(words, "caution-hook"),
        ShiftDanger::Click => say!(words, "caution-click"),
        ShiftDanger::Bending => say!(words, "caution-bending"),
        ShiftDanger::LetDown => say!(words, "caution-let-down"),
        ShiftDanger::Weight => say!(words, "caution-weight"),
        ShiftDanger::Mercury => say!(words, "caution-mercury", units = units),
        ShiftDanger::Luminous => say!(words, "caution-luminous"),
        ShiftDanger::Ammonia => say!(words, "caution-ammonia"),
        ShiftDanger::Solvents => say!(words, "caution-solvents", units = units),
        ShiftDanger::OutOfCase => say!(words, "caution-out-of-case"),
        ShiftDanger::HangingWeight => say!(words, "caution-hanging-weight"),
    }
}
