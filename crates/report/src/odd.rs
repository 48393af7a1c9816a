//! What is odd about a sheet that can be worked from all the same, in words.

use crate::en::{quoted, ratio, ticked};
use crate::{Locale, say};
use movement::Misgiving;
use quantity::{fraction, to_f64};
use sheet::keys::KeyUnit;
use sheet::{Odd, SheetWarning};

/// What is odd, and on which line of the sheet: a line each.
pub fn warnings(locale: &Locale, warnings: &[SheetWarning]) -> Vec<String> {
    (warnings.iter())
        .map(|warning| {
            let what = odd(locale, &warning.what);
            say!(locale, "odd-at", line = warning.spot.line, what = what)
        })
        .collect()
}

/// What is odd about a sheet.
pub(crate) fn odd(locale: &Locale, what: &Odd) -> String {
    let meant = |near: Option<&str>| match near {
        Some(near) => say!(locale, "odd-meant", near = ticked(near)),
        None => String::new(),
    };
    match what {
        Odd::Movement(what) => of_movement(locale, what),
        Odd::Unread { key, near } => say!(locale, "odd-unread", key = quoted(key)) + &meant(*near),
        Odd::Unmeshed {
            part,
            key,
            teeth,
            near,
        } => {
            let said = say!(
                locale,
                "odd-unmeshed",
                key = ticked(key),
                teeth = teeth.map_or(0, quantity::Teeth::get),
                part = ticked(part)
            );
            said + &match near {
                Some(_) => meant(*near),
                None => say!(locale, "odd-unmeshed-why"),
            }
        }
        Odd::NoPart { key, part, near } => {
            let (key, part) = (ticked(key), ticked(part));
            say!(locale, "odd-no-part", key = key, part = part) + &meant(near.as_deref())
        }
        Odd::Unusual {
            key,
            got,
            least,
            most,
        } => say!(
            locale,
            "odd-unusual",
            key = ticked(key),
            got = locale.decimal(to_f64(got), 4),
            least = locale.decimal(*least, 2),
            most = locale.decimal(*most, 2),
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

fn of_movement(locale: &Locale, what: &Misgiving) -> String {
    match what {
        Misgiving::NotWhole {
            witness,
            places,
            blow,
            period,
        } => say!(
            locale,
            "odd-not-whole",
            witness = ticked(witness),
            blow = locale.degrees(blow),
            places = locale.pointed(ratio(places)),
            period = locale.degrees(period)
        ),
        Misgiving::NoWindow { witness } => {
            say!(locale, "odd-no-window", witness = ticked(witness))
        }
        Misgiving::Doubtful { part, teeth } => {
            say!(
                locale,
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
            locale,
            "odd-wider",
            witness = ticked(witness),
            from = locale.degrees(from),
            to = locale.degrees(to),
            least = locale.degrees(&-allowed),
            most = locale.degrees(allowed),
            all = locale.degrees(&(allowed * &fraction(2, 1)))
        ),
    }
}
