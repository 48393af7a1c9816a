//! Measurements as people type them: `2,51`, `8 1/4`, `2 3/16 in`, `¼"`, `2° 30'`, `2 lb 3 oz`, `39.14in~0.02`, and several of one thing,
//! `2.51 2.53 2.50`, of which mean and spread are taken.
//!
//! What was meant is never guessed where it may be two things: a comma before three figures is asked about.

mod grammar;
mod straight;

use crate::several::{MeanSpread, mean_spread};
use crate::written::{Unwritten, Writable, WrittenUnit};
use crate::{DecimalError, Exact, Known, to_f64, whole};
use grammar::Measure;
use num_traits::Signed;

/// What was typed of one thing.
#[derive(Debug, Clone, PartialEq)]
pub struct Typed<Q> {
    /// Each measure of it, exactly, in the unit that sums are done in.
    pub each: Vec<Exact>,
    /// Their mean, exactly.
    pub mean: Exact,
    /// The same as a quantity, with its spread.
    pub known: Known<Q>,
    /// Whence the spread.
    pub spread_from: SpreadFrom,
}

/// Whence the spread of what was typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpreadFrom {
    /// It was typed.
    Said,
    /// From several measures.
    Several,
    /// That of the usual tools of a bench.
    Usual,
}

/// The longest that is read of one thing, in characters: some twenty measures.
pub const MOST_TYPED: usize = 200;

/// Measures of one thing that lie apart by more than such a part of their mean are not of one thing.
const APART: (i64, i64) = (1, 4);

/// What was typed of one thing; where no unit is typed the first of the quantity's is meant.
///
/// # Errors
/// As [`typed_in`]; or a unit is lacking, and none can be meant.
///
/// ```
/// use quantity::{Length, fraction, typed};
/// let hole = typed::<Length>("2 3/16 in").unwrap();
/// assert_eq!(hole.mean, fraction(889, 16)); // 55.5625 mm
/// ```
pub fn typed<Q: Writable>(text: &str) -> Result<Typed<Q>, Unwritten> {
    read(text, if Q::BARE { Q::UNITS.first() } else { None })
}

/// The same, with the unit that is meant where none is typed, by its word.
///
/// # Errors
/// What was typed is no measure of this quantity, or may be two things.
pub fn typed_in<Q: Writable>(text: &str, unit: &str) -> Result<Typed<Q>, Unwritten> {
    let meant = unit_of::<Q>(unit).ok_or_else(|| unknown::<Q>(unit))?;
    read(text, Some(meant))
}

fn read<Q: Writable>(
    text: &str,
    meant: Option<&'static WrittenUnit>,
) -> Result<Typed<Q>, Unwritten> {
    if text.chars().count() > MOST_TYPED {
        return Err(Unwritten::Number(DecimalError::TooLong));
    }
    let straight = straight::straightened(text);
    let (said, spread) = match straight.split_once('~') {
        Some((said, spread)) => (said, Some(spread)),
        None => (straight.as_str(), None),
    };
    let measures = grammar::measures(said)?;
    // A unit that is typed once, behind the last, goes for those before it that have none.
    let last = measures.last().and_then(Measure::unit);
    let last = last.map(|unit| known_unit::<Q>(unit)).transpose()?;
    let meant = last.or(meant).ok_or_else(|| Unwritten::NoUnit {
        units: words::<Q>(),
    })?;
    let mut each = Vec::new();
    let mut step = whole(0);
    for measure in &measures {
        let (sum, its_step) = sum_of::<Q>(measure, meant)?;
        if to_f64(&sum).abs() > Q::MOST {
            return Err(Unwritten::TooMuch);
        }
        each.push(sum);
        step = its_step.max(step);
    }
    if Q::ONE_SIGN && are_apart(&each) {
        return Err(Unwritten::Apart);
    }
    let MeanSpread { mean, spread: of } = mean_spread(&each, &step);
    let value = Q::of(to_f64(&mean));
    let (known, spread_from) = match spread {
        Some(typed) => (
            Known::new(value, typed_spread::<Q>(typed, meant)?),
            SpreadFrom::Said,
        ),
        None if each.len() > 1 => (Known::new(value, Q::of(of)), SpreadFrom::Several),
        None => (Known::measured(value, Q::USUAL), SpreadFrom::Usual),
    };
    Ok(Typed {
        each,
        mean,
        known,
        spread_from,
    })
}

/// A spread from nought, in its own unit or in that of the number before it.
fn typed_spread<Q: Writable>(typed: &str, meant: &WrittenUnit) -> Result<Q, Unwritten> {
    let amount = match &grammar::measures(typed).map_err(|_| Unwritten::Spread)?[..] {
        [Measure { first, then }] if then.is_empty() => first.clone(),
        _ => return Err(Unwritten::Spread),
    };
    let unit = match &amount.unit {
        Some(unit) => known_unit::<Q>(unit).map_err(|_| Unwritten::Spread)?,
        None => meant,
    };
    let spread = to_f64(&(amount.number * unit.times()));
    if !(0.0..=Q::MOST).contains(&spread) {
        return Err(Unwritten::Spread);
    }
    Ok(Q::of(spread))
}

/// So much in all, and how finely its last figure goes.
fn sum_of<Q: Writable>(
    measure: &Measure,
    meant: &'static WrittenUnit,
) -> Result<(Exact, Exact), Unwritten> {
    let first = match &measure.first.unit {
        Some(unit) => known_unit::<Q>(unit)?,
        None => meant,
    };
    let mut sum = measure.first.number.abs() * first.times();
    let mut step = &measure.first.step * first.times();
    let mut before = first;
    for amount in &measure.then {
        let unit = known_unit::<Q>(amount.unit.as_deref().unwrap_or_default())?;
        let part = &amount.number * unit.times();
        // What comes behind is a part of one of what stands before: 30' of a degree, 3 oz of a pound.
        if unit.times() >= before.times() || part >= before.times() || part.is_negative() {
            return Err(Unwritten::Number(DecimalError::NotANumber));
        }
        sum += part;
        step = &amount.step * unit.times();
        before = unit;
    }
    let sum = if measure.first.negative { -sum } else { sum };
    Ok((sum, step))
}

fn are_apart(each: &[Exact]) -> bool {
    let (Some(least), Some(most)) = (each.iter().min(), each.iter().max()) else {
        return false;
    };
    // Of two the smaller is what the other is held against.
    (most - least) * whole(APART.1) > least.abs() * whole(APART.0)
}

/// A unit by one of its words; a large letter may stand for a small one where nothing else is called so.
pub(crate) fn unit_of<Q: Writable>(word: &str) -> Option<&'static WrittenUnit> {
    let called = |word: &str| Q::UNITS.iter().find(|unit| unit.is_called(word));
    called(word).or_else(|| called(&word.to_lowercase()))
}

fn known_unit<Q: Writable>(word: &str) -> Result<&'static WrittenUnit, Unwritten> {
    if matches!(word, "e" | "E") {
        return Err(Unwritten::Number(DecimalError::NotANumber));
    }
    unit_of::<Q>(word).ok_or_else(|| unknown::<Q>(word))
}

fn unknown<Q: Writable>(word: &str) -> Unwritten {
    Unwritten::Unit {
        got: word.to_owned(),
        units: words::<Q>(),
    }
}

fn words<Q: Writable>() -> Vec<&'static str> {
    Q::UNITS.iter().map(|unit| unit.word).collect()
}

impl Measure {
    /// The unit at its end.
    fn unit(&self) -> Option<&str> {
        // Of what is put together of several units the first counts, and it has one.
        self.first.unit.as_deref()
    }
}

/// A measurement as it is written ([`typed`]): a number, a unit, and after `~` one standard deviation. Where no spread is written, it is
/// that of several measures, or of the usual tools of a bench.
///
/// # Errors
/// What was written wrongly.
///
/// ```
/// use quantity::{Known, Length, parse_known};
/// let rod: Known<Length> = parse_known("39.14in~0.02").unwrap();
/// assert!((rod.value.as_mm() - 994.156).abs() < 1e-9);
/// assert!((rod.spread.as_mm() - 0.508).abs() < 1e-9);
/// assert!(parse_known::<Length>("39.14 ells").is_err());
/// ```
pub fn parse_known<Q: Writable>(text: &str) -> Result<Known<Q>, Unwritten> {
    typed(text).map(|typed| typed.known)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Length;
    use std::error::Error;

    /// A fault with all that lies behind it, as whoever builds on this crate sees it.
    fn chain(fault: &dyn Error) -> String {
        let behind = fault.source().map(chain);
        behind.map_or_else(|| fault.to_string(), |behind| format!("{fault}: {behind}"))
    }

    #[test]
    fn what_is_no_measurement_says_why() {
        for (text, says) in [
            ("ell", "the number cannot be read: not a decimal number"),
            ("1.2.3in", "the number cannot be read: not a decimal number"),
            ("3ell", "unknown unit `ell`, expected one of: mm, in, m, cm"),
            ("1,500mm", "`1.500` or `1500`"),
            ("5mm 8mm", "measures that are not of one thing"),
            ("1mm~-1", "the spread is no number from 0"),
        ] {
            let fault = parse_known::<Length>(text).expect_err(text);
            assert_eq!(chain(&fault), says, "{text}");
        }
        let units = vec!["s", "min"];
        let bare = Unwritten::NoUnit { units }.to_string();
        assert_eq!(bare, "no unit, expected one of: s, min");
        let long = DecimalError::TooLong.to_string();
        assert_ne!(long, DecimalError::NotFinite.to_string());
    }
}
