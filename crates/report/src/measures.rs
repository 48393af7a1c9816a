//! Measurements as the bench says them: in millimetres or inches, with their spread, no more figures than it bears.

use crate::en::decimal;
use crate::{Locale, Units, say};
use quantity::{
    Duration, Energy, Gravity, Known, Length, Mass, Measure, Number, Pace, Rate, Slant, Stress,
    Torque, Warmth,
};

/// A value and its spread, both to the spread's first figure, or its second where the first is small; one without a
/// spread to five figures. Its spaces do not break.
pub(crate) fn spread(locale: &Locale, value: f64, spread: f64) -> String {
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
    if spread > 0.0 {
        locale.pointed(format!(
            "{}\u{a0}±\u{a0}{}",
            rounded(value),
            rounded(spread)
        ))
    } else {
        locale.pointed(rounded(value))
    }
}

/// A number with its unit, as messages choose by it.
pub(crate) fn measured(locale: &Locale, number: String, unit: &'static str) -> String {
    say!(locale, "measured", number = number, unit = unit)
}

fn value_with_spread<Q: Measure>(
    locale: &Locale,
    x: &Known<Q>,
    of: impl Fn(Q) -> f64,
    unit: &'static str,
) -> String {
    measured(locale, spread(locale, of(x.value), of(x.spread)), unit)
}

/// A length.
pub(crate) fn length(locale: &Locale, x: &Known<Length>) -> String {
    match locale.units() {
        Units::Millimetre => value_with_spread(locale, x, Length::as_mm, "mm"),
        Units::Inch => value_with_spread(locale, x, Length::as_inch, "in"),
    }
}

/// A mass.
pub(crate) fn mass(locale: &Locale, x: &Known<Mass>) -> String {
    match locale.units() {
        Units::Millimetre if x.value.as_kg().abs() >= 1.0 => {
            value_with_spread(locale, x, Mass::as_kg, "kg")
        }
        Units::Millimetre => value_with_spread(locale, x, Mass::as_g, "g"),
        Units::Inch if x.value.as_lb().abs() >= 1.0 => {
            value_with_spread(locale, x, Mass::as_lb, "lb")
        }
        Units::Inch => value_with_spread(locale, x, Mass::as_oz, "oz"),
    }
}

/// A turning moment.
pub(crate) fn torque(locale: &Locale, x: &Known<Torque>) -> String {
    // A pound's weight at an inch: 4.4482216 N at 25.4 mm.
    const POUND_INCH: f64 = 4.448_221_615_260_5 * 25.4;
    match locale.units() {
        Units::Millimetre => value_with_spread(locale, x, Torque::as_n_mm, "n-mm"),
        Units::Inch => value_with_spread(locale, x, |t| t.as_n_mm() / POUND_INCH, "lb-in"),
    }
}

pub(crate) fn energy(locale: &Locale, x: &Known<Energy>) -> String {
    value_with_spread(locale, x, Energy::as_joules, "j")
}

pub(crate) fn millijoules(locale: &Locale, x: &Known<Energy>) -> String {
    value_with_spread(locale, x, |e| 1000.0 * e.as_joules(), "mj")
}

pub(crate) fn pace(locale: &Locale, x: &Known<Pace>) -> String {
    value_with_spread(locale, x, Pace::as_per_hour, "an-hour")
}

/// A plain number.
pub(crate) fn number(locale: &Locale, x: &Known<Number>) -> String {
    spread(locale, x.value.as_plain(), x.spread.as_plain())
}

/// A number of something, as messages choose by it.
pub(crate) fn count_of(locale: &Locale, x: &Known<Number>, unit: &'static str) -> String {
    measured(locale, number(locale, x), unit)
}

pub(crate) fn gravity(locale: &Locale, x: &Known<Gravity>) -> String {
    value_with_spread(locale, x, Gravity::as_m_per_s2, "m-per-s2")
}

pub(crate) fn stress(locale: &Locale, x: &Known<Stress>) -> String {
    value_with_spread(locale, x, Stress::as_mpa, "n-per-mm2")
}

/// A time: in seconds, hours or days.
pub(crate) fn time(locale: &Locale, x: &Known<Duration>) -> String {
    let value = x.value.as_s().abs();
    if value < 600.0 {
        value_with_spread(locale, x, Duration::as_s, "s")
    } else if value < 49.0 * 3600.0 {
        value_with_spread(locale, x, Duration::as_hours, "hours")
    } else {
        value_with_spread(locale, x, Duration::as_days, "days")
    }
}

/// A long time: in years, where it comes to a fifth of one or more.
pub fn years(locale: &Locale, x: &Known<Duration>) -> String {
    let year = |d: Duration| d.as_days() / 365.25;
    if year(x.value) < 0.2 {
        time(locale, x)
    } else {
        value_with_spread(locale, x, year, "years")
    }
}

/// A rate: gains or loses.
pub(crate) fn rate(locale: &Locale, x: &Known<Rate>) -> String {
    let s = x.value.as_s_per_day();
    let (value, wide, unit) = if s.abs() >= 600.0 {
        (s.abs() / 60.0, x.spread.as_s_per_day() / 60.0, "min-a-day")
    } else {
        (s.abs(), x.spread.as_s_per_day(), "s-a-day")
    };
    let much = measured(locale, spread(locale, value, wide), unit);
    let way = if s < 0.0 { "loses" } else { "gains" };
    say!(locale, "rate", way = way, much = much)
}

/// An angle to one side, both figures with their sign.
pub(crate) fn slant(locale: &Locale, x: &Known<Slant>) -> String {
    let degrees = spread(locale, x.value.as_deg(), x.spread.as_deg());
    format!("{}°", degrees.replace("\u{a0}±", "°\u{a0}±"))
}

/// A difference of warmth, without its sign.
pub(crate) fn warmth(locale: &Locale, x: &Known<Warmth>) -> String {
    match locale.units() {
        Units::Millimetre => value_with_spread(locale, x, |w| w.as_celsius().abs(), "celsius"),
        Units::Inch => value_with_spread(locale, x, |w| w.as_fahrenheit().abs(), "fahrenheit"),
    }
}
