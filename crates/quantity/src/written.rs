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

/// A unit as it is written, and the quantity that is so many of it.
type Unit<Q> = (&'static str, fn(f64) -> Q);

/// A quantity that can be written with a unit.
pub trait Writable: Measure + 'static {
    /// Its units; the first is meant where none is written.
    const UNITS: &'static [Unit<Self>];
    /// How surely such a thing is measured where nothing is said, for [`Known::measured`].
    const USUAL: (f64, f64);
}

impl Writable for Length {
    const UNITS: &'static [Unit<Self>] = &[
        ("mm", Length::mm),
        ("in", Length::inch),
        ("m", Length::metres),
        ("cm", |cm| Length::mm(10.0 * cm)),
    ];
    /// A rule or a calliper in a hand (common practice, no source).
    const USUAL: (f64, f64) = (0.05, 0.002);
}
impl Writable for Mass {
    const UNITS: &'static [Unit<Self>] = &[
        ("g", Mass::g),
        ("kg", Mass::kg),
        ("lb", Mass::lb),
        ("oz", Mass::oz),
    ];
    /// A small balance for what is light, scales for what is heavy (common practice, no source).
    const USUAL: (f64, f64) = (0.02, 0.005);
}
impl Writable for Duration {
    const UNITS: &'static [Unit<Self>] = &[
        ("s", Duration::s),
        ("h", Duration::hours),
        ("days", Duration::days),
        ("min", |min| Duration::s(60.0 * min)),
    ];
    const USUAL: (f64, f64) = (0.0, 0.05);
}
impl Writable for Rate {
    const UNITS: &'static [Unit<Self>] = &[
        ("s/day", Rate::s_per_day),
        ("min/day", |min| Rate::s_per_day(60.0 * min)),
        ("s/week", |s| Rate::s_per_day(s * (1.0 / 7.0))),
    ];
    /// Against a good clock over a day or two (common practice, no source).
    const USUAL: (f64, f64) = (1.0, 0.0);
}
impl Writable for Pace {
    const UNITS: &'static [Unit<Self>] = &[
        ("/h", Pace::per_hour),
        ("/min", |beats| Pace::per_hour(60.0 * beats)),
    ];
    const USUAL: (f64, f64) = (0.0, 0.0);
}
impl Writable for Slant {
    const UNITS: &'static [Unit<Self>] = &[("deg", Slant::deg)];
    /// Half of what is read off a degree plate by eye (common practice, no source).
    const USUAL: (f64, f64) = (0.1, 0.0);
}
impl Writable for Warmth {
    const UNITS: &'static [Unit<Self>] = &[("C", Warmth::celsius), ("F", Warmth::fahrenheit)];
    const USUAL: (f64, f64) = (0.5, 0.0);
}
impl Writable for Number {
    const UNITS: &'static [Unit<Self>] = &[("", Number::plain)];
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
    let of = match Q::UNITS.iter().find(|(name, _)| *name == unit) {
        Some((_, of)) => *of,
        None if unit.is_empty() => Q::UNITS[0].1,
        None => {
            return Err(Unwritten::Unit {
                got: unit.to_owned(),
                units: Q::UNITS.iter().map(|(name, _)| *name).collect(),
            });
        }
    };
    let value = of(to_f64(&parse_decimal(number).map_err(Unwritten::Number)?));
    let Some(written) = spread else {
        return Ok(Known::measured(value, Q::USUAL));
    };
    let written = written.trim().trim_end_matches(unit);
    let spread = to_f64(&parse_decimal(written).map_err(|_| Unwritten::Spread)?);
    if spread < 0.0 {
        return Err(Unwritten::Spread);
    }
    Ok(Known::new(value, of(spread)))
}
