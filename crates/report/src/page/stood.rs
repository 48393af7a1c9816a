//! How all stood while it struck right: how far from an edge of its window.

use super::witness_named;
use crate::{Locale, say};
use movement::Movement;
use timing::{HowStood, StoodAt, StoodRight};

/// A sentence for each witness that was read so.
pub fn stood_right(locale: &Locale, movement: &Movement, stood: &StoodRight) -> Vec<String> {
    let each = stood.each.iter();
    each.map(|at| how_it_stood(locale, movement, at)).collect()
}

/// No more than it is, to two figures: in whole degrees, tenths or hundredths.
fn at_least(locale: &Locale, degrees: f64) -> String {
    let places = match degrees {
        d if d >= 10.0 => 0,
        d if d >= 1.0 => 1,
        _ => 2,
    };
    let tens = 10f64.powi(places);
    let told = (degrees * tens).floor() / tens;
    format!(
        "{}°",
        locale.decimal(told, usize::try_from(places).unwrap_or_default())
    )
}

/// How far from an edge one stood.
pub fn how_it_stood(locale: &Locale, movement: &Movement, at: &StoodAt) -> String {
    let name = witness_named(locale, movement, at.witness);
    match &at.told {
        HowStood::Inside(by) => {
            let degrees = at_least(locale, by.to_f64());
            say!(locale, "stood-inside", name = name, degrees = degrees)
        }
        HowStood::NearAnEdge => say!(locale, "stood-near", name = name),
        HowStood::Outside => say!(locale, "stood-outside", name = name),
        HowStood::CannotTell => say!(locale, "stood-cannot-tell", name = name),
    }
}
