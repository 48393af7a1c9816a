//! Measurements as the bench says them: in millimetres or inches, with their spread, no more figures than it bears.

use super::numbers::decimal;
use super::{list, quoted};
use quantity::{
    DecimalError, Duration, Energy, Gravity, Known, Length, Mass, Measure, Number, Pace, Rate,
    Stress, Torque, Unwritten,
};

/// What lengths and weights are told in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum System {
    /// Millimetres and grams.
    #[default]
    Metric,
    /// Inches and pounds.
    Inch,
}

/// A value and its spread, both to the spread's first figure, or its second where the first is small; one without a
/// spread to five figures.
pub(crate) fn spread(value: f64, spread: f64, unit: &str) -> String {
    let first = |x: f64| x.abs().max(1e-12).log10().floor();
    let places = if spread > 0.0 {
        // Rounding a spread that begins with 1 or 2 to one figure would change it by up to a half.
        let small = spread / 10_f64.powf(first(spread)) < 2.95;
        f64::from(u8::from(small)) - first(spread)
    } else {
        4.0 - first(value)
    };
    // Where the spread is tens and hundreds, both are rounded to such.
    let places = places.clamp(-3.0, 8.0);
    let step = 10_f64.powf(-places);
    let after = (0_u8..=8)
        .rev()
        .find(|n| f64::from(*n) <= places)
        .unwrap_or(0);
    let rounded = |x: f64| {
        if spread > 0.0 {
            let text = format!("{:.*}", usize::from(after), (x / step).round() * step);
            // No nought has a sign.
            let nought = text.bytes().all(|b| matches!(b, b'-' | b'0' | b'.'));
            if nought {
                text.trim_start_matches('-').to_owned()
            } else {
                text
            }
        } else {
            decimal(x, usize::from(after))
        }
    };
    let unit = if unit.is_empty() {
        String::new()
    } else {
        format!(" {unit}")
    };
    if spread > 0.0 {
        format!("{} ± {}{unit}", rounded(value), rounded(spread))
    } else {
        format!("{}{unit}", rounded(value))
    }
}

fn known<Q: Measure>(x: &Known<Q>, of: impl Fn(Q) -> f64, unit: &str) -> String {
    spread(of(x.value), of(x.spread), unit)
}

impl System {
    /// A length.
    pub(crate) fn length(self, x: &Known<Length>) -> String {
        match self {
            System::Metric => known(x, Length::as_mm, "mm"),
            System::Inch => known(x, Length::as_inch, "in"),
        }
    }

    /// A mass.
    pub(crate) fn mass(self, x: &Known<Mass>) -> String {
        match self {
            System::Metric if x.value.as_kg().abs() >= 1.0 => known(x, Mass::as_kg, "kg"),
            System::Metric => known(x, Mass::as_g, "g"),
            System::Inch if x.value.as_lb().abs() >= 1.0 => known(x, Mass::as_lb, "lb"),
            System::Inch => known(x, Mass::as_oz, "oz"),
        }
    }

    /// A turning moment.
    pub(crate) fn torque(self, x: &Known<Torque>) -> String {
        // A pound's weight at an inch: 4.4482216 N at 25.4 mm.
        const POUND_INCH: f64 = 4.448_221_615_260_5 * 25.4;
        match self {
            System::Metric => known(x, Torque::as_n_mm, "N mm"),
            System::Inch => known(x, |t| t.as_n_mm() / POUND_INCH, "lb in"),
        }
    }
}

pub(crate) fn energy(x: &Known<Energy>) -> String {
    known(x, Energy::as_joules, "J")
}

pub(crate) fn pace(x: &Known<Pace>) -> String {
    known(x, Pace::as_per_hour, "an hour")
}

pub(crate) fn number(x: &Known<Number>, unit: &str) -> String {
    known(x, Number::as_plain, unit)
}

pub(crate) fn gravity(x: &Known<Gravity>) -> String {
    known(x, Gravity::as_m_per_s2, "m/s²")
}

pub(crate) fn stress(x: &Known<Stress>) -> String {
    known(x, Stress::as_mpa, "N/mm²")
}

/// A time: in seconds, hours or days.
pub(crate) fn time(x: &Known<Duration>) -> String {
    let value = x.value.as_s().abs();
    if value < 600.0 {
        known(x, Duration::as_s, "s")
    } else if value < 49.0 * 3600.0 {
        known(x, Duration::as_hours, "hours")
    } else {
        known(x, Duration::as_days, "days")
    }
}

/// A rate: gains or loses.
pub(crate) fn rate(x: &Known<Rate>) -> String {
    let s = x.value.as_s_per_day();
    let verb = if s < 0.0 { "loses" } else { "gains" };
    let (value, wide, unit) = if s.abs() >= 600.0 {
        (s.abs() / 60.0, x.spread.as_s_per_day() / 60.0, "min a day")
    } else {
        (s.abs(), x.spread.as_s_per_day(), "s a day")
    };
    format!("{verb} {}", spread(value, wide, unit))
}

/// Why something that was written is no measurement.
pub fn unwritten(option: &str, written: &str, why: &Unwritten) -> String {
    let what = match why {
        Unwritten::Number(DecimalError::TooLong) => {
            "more figures than any measurement bears".to_owned()
        }
        Unwritten::Number(_) => "no plain decimal in front of its unit".to_owned(),
        Unwritten::Unit { got, units } => {
            let units: Vec<String> = (units.iter().filter(|u| !u.is_empty()))
                .map(|u| format!("`{u}`"))
                .collect();
            if units.is_empty() {
                format!("the unit {}; a plain number is expected", quoted(got))
            } else {
                format!(
                    "the unit {}; expected {}",
                    quoted(got),
                    list(&units).replace(" and ", " or ")
                )
            }
        }
        Unwritten::Spread => {
            "no plain decimal after `~`, one standard deviation in the same unit".to_owned()
        }
    };
    format!("`{option}` {} has {what}", quoted(written))
}
