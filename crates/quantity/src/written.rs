//! Measurements as they are written: a number, its unit, and its spread if it is said: `39.14in~0.02`.

use crate::{
    DecimalError, Duration, Known, Length, Mass, Measure, Number, Pace, Rate, Slant, Warmth,
    parse_decimal, to_f64,
};

/// Why what was written is no measurement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unwritten {
    /// The number is none.
    Number(DecimalError),
    /// The unit is none of those it may have.
    Unit {
        /// What was written.
        got: String,
        /// What may be; the first is meant where nothing is written.
        units: Vec<&'static str>,
    },
    /// A spread that is no number, or less than nothing.
    Spread,
}

/// A quantity that can be written with a unit.
pub trait Writable: Measure {
    /// Units and how many base units each is; the first is meant where none is written.
    const UNITS: &'static [(&'static str, f64)];
    /// How surely such a thing is measured where nothing is said, for [`Known::measured`].
    const USUAL: (f64, f64);
}

impl Writable for Length {
    const UNITS: &'static [(&'static str, f64)] =
        &[("mm", 1.0), ("in", 25.4), ("m", 1000.0), ("cm", 10.0)];
    /// A rule or a calliper in a hand (common practice, no source).
    const USUAL: (f64, f64) = (0.05, 0.002);
}
impl Writable for Mass {
    const UNITS: &'static [(&'static str, f64)] = &[
        ("g", 1.0),
        ("kg", 1000.0),
        ("lb", 453.592_37),
        ("oz", 28.349_523_125),
    ];
    /// A small balance for what is light, scales for what is heavy (common practice, no source).
    const USUAL: (f64, f64) = (0.02, 0.005);
}
impl Writable for Duration {
    const UNITS: &'static [(&'static str, f64)] =
        &[("s", 1.0), ("h", 3600.0), ("days", 86400.0), ("min", 60.0)];
    const USUAL: (f64, f64) = (0.0, 0.05);
}
impl Writable for Rate {
    const UNITS: &'static [(&'static str, f64)] =
        &[("s/day", 1.0), ("min/day", 60.0), ("s/week", 1.0 / 7.0)];
    /// Against a good clock over a day or two (common practice, no source).
    const USUAL: (f64, f64) = (1.0, 0.0);
}
impl Writable for Pace {
    const UNITS: &'static [(&'static str, f64)] = &[("/h", 1.0), ("/min", 60.0)];
    const USUAL: (f64, f64) = (0.0, 0.0);
}
impl Writable for Slant {
    const UNITS: &'static [(&'static str, f64)] = &[("deg", 1.0)];
    /// Half of what is read off a degree plate by eye (common practice, no source).
    const USUAL: (f64, f64) = (0.1, 0.0);
}
impl Writable for Warmth {
    const UNITS: &'static [(&'static str, f64)] = &[("C", 1.0), ("F", 5.0 / 9.0)];
    const USUAL: (f64, f64) = (0.5, 0.0);
}
impl Writable for Number {
    const UNITS: &'static [(&'static str, f64)] = &[("", 1.0)];
    const USUAL: (f64, f64) = (0.0, 0.0);
}

/// Takes a measurement apart: a decimal, a unit, and after `~` one standard deviation in the same unit. Where no spread
/// is written, that of the usual tools of a bench is taken.
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
    let (text, spread) = match text.split_once('~') {
        Some((text, spread)) => (text, Some(spread)),
        None => (text, None),
    };
    let text = text.trim();
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '+' | '-')))
        .unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let unit = unit.trim();
    let times = match Q::UNITS.iter().find(|(name, _)| *name == unit) {
        Some((_, times)) => *times,
        None if unit.is_empty() => Q::UNITS[0].1,
        None => {
            return Err(Unwritten::Unit {
                got: unit.to_owned(),
                units: Q::UNITS.iter().map(|(name, _)| *name).collect(),
            });
        }
    };
    let value = Q::of(to_f64(&parse_decimal(number).map_err(Unwritten::Number)?) * times);
    let Some(written) = spread else {
        return Ok(Known::measured(value, Q::USUAL));
    };
    let written = written.trim().trim_end_matches(unit);
    let spread = to_f64(&parse_decimal(written).map_err(|_| Unwritten::Spread)?) * times;
    if spread < 0.0 {
        return Err(Unwritten::Spread);
    }
    Ok(Known::new(value, Q::of(spread)))
}
