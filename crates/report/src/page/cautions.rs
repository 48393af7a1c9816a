//! What can hurt a hand or a part, in words.

use super::named;
use crate::{Locale, Units, say};
use tasks::ShiftDanger;

/// What to mind.
pub fn danger(locale: &Locale, danger: &ShiftDanger) -> String {
    let units = match locale.units() {
        Units::Millimetre => "mm",
        Units::Inch => "in",
    };
    match danger {
        ShiftDanger::Springs => say!(locale, "caution-springs"),
        ShiftDanger::LeverSprings => say!(locale, "caution-lever-springs"),
        ShiftDanger::EscapeTeeth => say!(locale, "caution-escape-teeth"),
        ShiftDanger::Fingers => say!(locale, "caution-fingers"),
        ShiftDanger::Runaway(arbors) => {
            let names: Vec<String> = (arbors.iter())
                .map(|arbor| say!(locale, "caution-runaway-arbor", arbor = named(arbor)))
                .collect();
            say!(locale, "caution-runaway", arbors = locale.either(&names))
        }
        ShiftDanger::Hook => say!(locale, "caution-hook"),
        ShiftDanger::Click => say!(locale, "caution-click"),
        ShiftDanger::Bending => say!(locale, "caution-bending"),
        ShiftDanger::Turning => say!(locale, "caution-turning"),
        ShiftDanger::LetDown => say!(locale, "caution-let-down"),
        ShiftDanger::Weight => say!(locale, "caution-weight"),
        ShiftDanger::Mercury => say!(locale, "caution-mercury", units = units),
        ShiftDanger::Luminous => say!(locale, "caution-luminous"),
        ShiftDanger::Ammonia => say!(locale, "caution-ammonia"),
        ShiftDanger::Solvents => say!(locale, "caution-solvents", units = units),
        ShiftDanger::OutOfCase => say!(locale, "caution-out-of-case"),
        ShiftDanger::HangingWeight => say!(locale, "caution-hanging-weight"),
    }
}
