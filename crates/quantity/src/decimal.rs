//! Decimals taken exactly as they are written.

use crate::Exact;
use num_bigint::BigInt;
use num_traits::{One, Signed, pow};

/// Why a text is not a number this project takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum DecimalError {
    /// It does not read as a decimal at all.
    #[error("not a decimal number")]
    NotANumber,
    /// Infinity or NaN: no angle or length is either.
    #[error("not a finite number")]
    NotFinite,
    /// More figures than any measurement bears.
    #[error("a number with more figures than any measurement bears")]
    TooLong,
}

/// The longest a written number may be; a double printed in full has 17 figures, and nobody measures so finely.
const LONGEST: usize = 60;

/// A number so long that its exponent alone would fill a page is refused beyond this power of ten.
const LARGEST_EXPONENT: i64 = 30;

/// A number as people type it, as a plain decimal: a comma for its point, a printed minus, a degree sign behind it, a plus
/// before it.
///
/// ```
/// use quantity::plain_decimal;
/// assert_eq!(plain_decimal("−1,2°"), "-1.2");
/// ```
pub fn plain_decimal(typed: &str) -> String {
    let typed = typed.trim().trim_end_matches('°').trim_end();
    let typed = typed.strip_prefix('+').unwrap_or(typed);
    typed.replace(['−', '–'], "-").replace(',', ".")
}

/// Places behind the point with which a number bears two figures, as a spread is written: no measurement at a bench bears more. Twelve at
/// most.
///
/// ```
/// use quantity::two_figures;
/// assert_eq!([0.123_456, 12.345, 0.000_123_456].map(two_figures), [2, 0, 5]);
/// ```
pub fn two_figures(x: f64) -> usize {
    let places = 1.0 - x.abs().max(1e-9).log10().floor();
    let least = (0..12_u8).find(|p| f64::from(*p) >= places);
    usize::from(least.unwrap_or(12))
}

/// A plain decimal: an optional sign, digits, at most one point with digits on both sides or either. No exponent.
///
/// # Errors
/// Says in which way the text is no plain decimal.
///
/// ```
/// use quantity::{parse_decimal, fraction};
/// assert_eq!(parse_decimal("-1.20").unwrap(), fraction(-6, 5));
/// assert!(parse_decimal("1e3").is_err());
/// ```
pub fn parse_decimal(text: &str) -> Result<Exact, DecimalError> {
    let (negative, digits) = match text.as_bytes().first() {
        Some(b'-') => (true, &text[1..]),
        Some(b'+') => (false, &text[1..]),
        _ => (false, text),
    };
    if matches!(
        digits.to_ascii_lowercase().as_str(),
        "inf" | "infinity" | "nan"
    ) {
        return Err(DecimalError::NotFinite);
    }
    let (before, after) = digits.split_once('.').unwrap_or((digits, ""));
    let all_digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    if before.len() + after.len() == 0 || !all_digits(before) || !all_digits(after) {
        return Err(DecimalError::NotANumber);
    }
    if text.len() > LONGEST {
        return Err(DecimalError::TooLong);
    }
    let figures: BigInt = format!("{before}{after}")
        .parse()
        .map_err(|_| DecimalError::NotANumber)?;
    let value = Exact::new(figures, pow(BigInt::from(10), after.len()));
    Ok(if negative { -value } else { value })
}

/// A number as a plain decimal; nothing where it has no end, or none within twenty places.
///
/// ```
/// use quantity::{decimal_of, fraction};
/// assert_eq!(decimal_of(&fraction(-3, 16)).unwrap(), "-0.1875");
/// assert!(decimal_of(&fraction(1, 3)).is_none());
/// ```
pub fn decimal_of(number: &Exact) -> Option<String> {
    const PLACES: usize = 20;
    let ten = || BigInt::from(10);
    let ends = |places: &usize| (number * Exact::from_integer(pow(ten(), *places))).is_integer();
    let places = (0..=PLACES).find(ends)?;
    let figures = (number.abs() * Exact::from_integer(pow(ten(), places))).to_integer();
    let figures = format!(
        "{figures:0>width$}",
        figures = figures.to_string(),
        width = places + 1
    );
    let (before, after) = figures.split_at(figures.len() - places);
    let sign = if number.is_negative() { "-" } else { "" };
    let point = if places > 0 { "." } else { "" };
    Some(format!("{sign}{before}{point}{after}"))
}

/// A decimal that may carry an exponent (`1.5e-3`), as a sheet may write it.
///
/// # Errors
/// As [`parse_decimal`]; also for exponents beyond any measurement.
pub fn parse_number(text: &str) -> Result<Exact, DecimalError> {
    let Some((mantissa, exponent)) = text.split_once(['e', 'E']) else {
        return parse_decimal(text);
    };
    let mantissa = parse_decimal(mantissa)?;
    let exponent: i64 = exponent.parse().map_err(|_| DecimalError::NotANumber)?;
    if exponent.abs() > LARGEST_EXPONENT {
        return Err(DecimalError::TooLong);
    }
    let power = pow(
        BigInt::from(10),
        usize::try_from(exponent.abs()).unwrap_or(0),
    );
    Ok(if exponent < 0 {
        mantissa / Exact::new(power, BigInt::one())
    } else {
        mantissa * Exact::from_integer(power)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{fraction, whole};

    #[test]
    fn decimals_are_taken_as_written() {
        assert_eq!(parse_decimal("0.1"), Ok(fraction(1, 10)));
        assert_eq!(parse_decimal("+12"), Ok(whole(12)));
        assert_eq!(parse_decimal(".5"), Ok(fraction(1, 2)));
        assert_eq!(parse_decimal("5."), Ok(whole(5)));
        assert_eq!(parse_number("2.5e-1"), Ok(fraction(1, 4)));
        assert_eq!(parse_number("1E2"), Ok(whole(100)));
    }

    #[test]
    fn what_is_no_decimal_is_refused() {
        for bad in ["", "-", ".", "1.2.3", "1_000", "one", "--1", "1e", "٣"] {
            assert_eq!(parse_number(bad), Err(DecimalError::NotANumber), "{bad}");
        }
        assert_eq!(parse_decimal("nan"), Err(DecimalError::NotFinite));
        assert_eq!(parse_decimal("-inf"), Err(DecimalError::NotFinite));
        assert_eq!(parse_decimal(&"9".repeat(99)), Err(DecimalError::TooLong));
        assert_eq!(parse_number("1e999"), Err(DecimalError::TooLong));
    }
}
