//! What is odd about a sheet that can be worked from all the same, in words.

use crate::en::{quoted, ratio, ticked};
use crate::{Words, say};
use movement::Misgiving;
use quantity::{fraction, to_f64};
use sheet::keys::KeyUnit;
use sheet::{Odd, SheetWarning};

/// What is odd, and on which line of the sheet: a line each.
pub fn warnings(words: &Words, warnings: &[SheetWarning]) -> Vec<String> {
    (warnings.iter())
        .map(|warning| {
            let what = odd(words, &warning.what);
            say!(words, "odd-at", line = warning.spot.line, what = what)
        })
        .collect()
}

/// What is odd about a sheet.
pub(crate) fn odd(words: &Words, what: &Odd) -> String {
    let meant = |near: Option<&str>| match near {
        Some(near) => say!(words, "odd-meant", near = ticked(near)),
        None => String::new(),
    };
    match what {
        Odd::Movement(what) => of_movement(words, what),
        Odd::Unread { key, near } => say!(words, "odd-unread", key = quoted(key)) + &meant(*near),
        Odd::Unmeshed {
            part,
            key,
            teeth,
            near,
        } => {
            let said = say!(
                words,
                "odd-unmeshed",
                key = ticked(key),
                teeth = teeth.map_or(0, quantity::Teeth::get),
                part = ticked(part)
            );
            said + &match near {
                Some(_) => meant(*near),
                None => say!(words, "odd-unmeshed-why"),
            }
        }
        Odd::NoPart { key, part, near } => {
            let (key, part) = (ticked(key), ticked(part));
            say!(words, "odd-no-part", key = key, part = part) + &meant(near.as_deref())
        }
        Odd::Unusual {
            key,
            got,
            least,
            most,
        } => say!(
            words,
            "odd-unusual",
            key = ticked(key),
            got = words.decimal(to_f64(got), 4),
            least = words.decimal(*least, 2),
            most = words.decimal(*most, 2),
            unit = KeyUnit::of(key).map_or("none", unit)
        ),
    }
}

/// A unit, as messages choose by it.
fn unit(unit: KeyUnit) -> &'static str {
    match unit {
        KeyUnit::Millimetre => "mm",
        KeyUnit::Micrometre => "um",
        KeyUnit::Degree => "deg",
        KeyUnit::Gram => "g",
        KeyUnit::Newton => "n",
        KeyUnit::NewtonMetre => "nm",
        KeyUnit::Turn => "turns",
        KeyUnit::Second => "s",
        KeyUnit::Tooth => "teeth",
    }
}

fn of_movement(words: &Words, what: &Misgiving) -> String {
    match what {
        Misgiving::NotWhole {
            witness,
            places,
            blow,
            period,
        } => say!(
            words,
            "odd-not-whole",
            witness = ticked(witness),
            blow = words.degrees(blow),
            places = words.pointed(ratio(places)),
            period = words.degrees(period)
        ),
        Misgiving::NoWindow { witness, levers } => {
            let levers = if *levers { "yes" } else { "no" };
            let witness = ticked(witness);
            say!(words, "odd-no-window", witness = witness, levers = levers)
        }
        Misgiving::Doubtful { part, teeth } => {
            say!(
                words,
                "odd-doubtful",
                part = ticked(part),
                teeth = teeth.get()
            )
        }
        Misgiving::WiderThanSlot {
            witness,
            allowed,
            from,
            to,
        } => say!(
            words,
            "odd-wider",
            witness = ticked(witness),
            from = words.degrees(from),
            to = words.degrees(to),
            least = words.degrees(&-allowed),
            most = words.degrees(allowed),
            all = words.degrees(&(allowed * &fraction(2, 1)))
        ),
    }
}
