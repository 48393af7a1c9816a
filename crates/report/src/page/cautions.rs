//! What can hurt a hand or a part, in words.

use super::named;
use crate::{Units, Words, say};
use tasks::Danger;

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
