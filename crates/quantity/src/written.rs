//! Measurements as they are written: a number, its unit, and its spread if it is said: `39.14in~0.02`.

use crate::tools::{
    ARC_LEAST, LENGTH_LEAST, LENGTH_PART, MASS_LEAST, MASS_PART, RATE_LEAST, RUN_PART, WARMTH_LEAST,
};
use crate::{
    DecimalError, Duration, Known, Length, Mass, Measure, Number, Pace, Rate, Slant, Tool, Warmth,
    parse_decimal, to_f64,
};

/// Why what was written is no measurement.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unwritten {
    /// The number is none.
    #[error("the number cannot be read")]
    Number(#[source] DecimalError),
    /// The unit is none of those it may have.
    #[error("unknown unit `{got}`, expected one of: {}", .units.join(", "))]
    Unit {
        /// What was written.
        got: String,
        /// What may be.
        units: Vec<&'static str>,
    },
    /// No unit is written, and none can be meant.
    #[error("no unit, expected one of: {}", .units.join(", "))]
    NoUnit {
        /// What may be.
        units: Vec<&'static str>,
    },
    /// A comma stands in the number: it may be a point or part thousands.
    #[error("a comma in the number")]
    Comma,
    /// More than anything of a clock is.
    #[error("more than anything of a clock is")]
    TooMuch,
    /// A spread that is no number, or less than nothing.
    #[error("the spread is no number from 0")]
    Spread,
}

/// A unit as it is written, and the quantity that is so many of it.
type Unit<Q> = (&'static str, fn(f64) -> Q);

/// A quantity that can be written with a unit.
pub trait Writable: Measure + 'static {
    /// Its units; the first is meant where none is written, if one may be left out.
    const UNITS: &'static [Unit<Self>];
    /// Whether a unit may be left out.
    const BARE: bool = true;
    /// More than anything of a clock is, in the unit that sums are done in.
    const MOST: f64;
    /// How surely such a thing is measured where nothing is said, for [`Known::measured`].
    const USUAL: Tool;
}

impl Writable for Length {
    const UNITS: &'static [Unit<Self>] = &[
        ("mm", Length::mm),
        ("in", Length::inch),
        ("m", Length::metres),
        ("cm", |cm| Length::mm(10.0 * cm)),
    ];
    /// Ten kilometres: heights above the sea are lengths too.
    const MOST: f64 = 1e7;
    /// A rule or a calliper in a hand.
    const USUAL: Tool = Tool {
        least: LENGTH_LEAST.value,
        part: LENGTH_PART.value,
    };
}
impl Writable for Mass {
    const UNITS: &'static [Unit<Self>] = &[
        ("g", Mass::g),
        ("kg", Mass::kg),
        ("lb", Mass::lb),
        ("oz", Mass::oz),
    ];
    /// Ten tonnes.
    const MOST: f64 = 1e7;
    /// A small balance for what is light, scales for what is heavy.
    const USUAL: Tool = Tool {
        least: MASS_LEAST.value,
        part: MASS_PART.value,
    };
}
impl Writable for Duration {
    const UNITS: &'static [Unit<Self>] = &[
        ("days", Duration::days),
        ("d", Duration::days),
        ("day", Duration::days),
        ("h", Duration::hours),
        ("hours", Duration::hours),
        ("weeks", |weeks| Duration::days(7.0 * weeks)),
        ("min", |min| Duration::s(60.0 * min)),
        ("s", Duration::s),
    ];
    /// 8 may be days or hours.
    const BARE: bool = false;
    /// Ten years.
    const MOST: f64 = 3.2e8;
    const USUAL: Tool = Tool {
        least: 0.0,
        part: RUN_PART.value,
    };
}
impl Writable for Rate {
    const UNITS: &'static [Unit<Self>] = &[
        ("s/day", Rate::s_per_day),
        ("min/day", |min| Rate::s_per_day(60.0 * min)),
        ("s/week", |s| Rate::s_per_day(s * (1.0 / 7.0))),
    ];
    /// Half a day.
    const MOST: f64 = 43200.0;
    /// Against a good clock over a day or two.
    const USUAL: Tool = Tool {
        least: RATE_LEAST.value,
        part: 0.0,
    };
}
impl Writable for Pace {
    const UNITS: &'static [Unit<Self>] = &[
        ("/h", Pace::per_hour),
        ("/min", |beats| Pace::per_hour(60.0 * beats)),
    ];
    /// Three hundred a second.
    const MOST: f64 = 1e6;
    const USUAL: Tool = Tool {
        least: 0.0,
        part: 0.0,
    };
}
impl Writable for Slant {
    const UNITS: &'static [Unit<Self>] = &[("deg", Slant::deg), ("°", Slant::deg)];
    /// A turn.
    const MOST: f64 = 360.0;
    /// Half of what is read off a degree plate by eye.
    const USUAL: Tool = Tool {
        least: ARC_LEAST.value,
        part: 0.0,
    };
}
impl Writable for Warmth {
    const UNITS: &'static [Unit<Self>] = &[("C", Warmth::celsius), ("F", Warmth::fahrenheit)];
    /// Warmer than any room by far.
    const MOST: f64 = 200.0;
    const USUAL: Tool = Tool {
        least: WARMTH_LEAST.value,
        part: 0.0,
    };
}
impl Writable for Number {
    const UNITS: &'static [Unit<Self>] = &[("", Number::plain)];
    const MOST: f64 = 1e6;
    const USUAL: Tool = Tool {
        least: 0.0,
        part: 0.0,
    };
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
    if text.contains(',') {
        return Err(Unwritten::Comma);
    }
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '+' | '-')))
        .unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let unit = unit.trim();
    let power = unit.strip_prefix(['e', 'E']).unwrap_or_default();
    if number.is_empty() || power.starts_with(|c: char| c.is_ascii_digit() || "+-".contains(c)) {
        return Err(Unwritten::Number(DecimalError::NotANumber));
    }
    let number = to_f64(&parse_decimal(number).map_err(Unwritten::Number)?);
    let units = || Q::UNITS.iter().map(|(name, _)| *name).collect();
    let of = match Q::UNITS.iter().find(|(name, _)| *name == unit) {
        Some((_, of)) => *of,
        None if unit.is_empty() && Q::BARE => Q::UNITS[0].1,
        None if unit.is_empty() => return Err(Unwritten::NoUnit { units: units() }),
        None => {
            return Err(Unwritten::Unit {
                got: unit.to_owned(),
                units: units(),
            });
        }
    };
    let value = of(number);
    if value.base().abs() > Q::MOST {
        return Err(Unwritten::TooMuch);
    }
    let Some(written) = spread else {
        return Ok(Known::measured(value, Q::USUAL));
    };
    let written = written.trim().trim_end_matches(unit);
    let spread = of(to_f64(
        &parse_decimal(written).map_err(|_| Unwritten::Spread)?,
    ));
    if spread.base() < 0.0 || spread.base() > Q::MOST {
        return Err(Unwritten::Spread);
    }
    Ok(Known::new(value, spread))
}

#[cfg(test)]
mod tests {
    use super::*;
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
            ("1,5mm", "a comma in the number"),
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
