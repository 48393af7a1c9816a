//! Numbers as the bench says them.

use crate::{Locale, say};
use quantity::{Chance, Degrees, Exact, to_f64};

/// An angle in degrees: as it is written if that is short, else to a thousandth.
pub fn degrees(angle: &Degrees) -> String {
    Locale::default().degrees(angle)
}

/// A number with at most so many places after the point, and no noughts at its end.
pub(crate) fn decimal(x: f64, places: usize) -> String {
    let mut text = format!("{x:.places$}");
    if text.contains('.') {
        text.truncate(text.trim_end_matches('0').trim_end_matches('.').len());
    }
    if text == "-0" { "0".to_owned() } else { text }
}

/// A ratio: a whole number as it is, another as a fraction with its decimal, a long one as a decimal.
pub(crate) fn ratio(x: &Exact) -> String {
    const LONGEST: usize = 12;
    let written = x.to_string();
    if x.is_integer() || written.len() > LONGEST {
        if x.is_integer() && written.len() <= LONGEST {
            written
        } else {
            format!("{:.6e}", to_f64(x))
        }
    } else {
        format!("{written} = {}", decimal(to_f64(x), 4))
    }
}

/// A count of teeth in words up to twelve.
pub fn teeth(count: i64) -> String {
    say!(Locale::default(), "teeth", count = count)
}

/// A chance as odds; never certain, never impossible.
pub fn odds(chance: Chance) -> String {
    breaking(&Locale::default().odds(chance))
}

/// A sentence as a terminal takes it, which breaks its lines where it likes.
pub fn breaking(said: &str) -> String {
    said.replace('\u{a0}', " ")
}
