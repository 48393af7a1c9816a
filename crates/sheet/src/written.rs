//! What is written at a place: a number exactly as it stands, whether it is a name, and how it is told where it is refused.

use crate::fault::Got;
use quantity::{Exact, parse_number, whole};
use toml::de::DeValue;

/// A whole number.
pub(crate) fn integer(value: &DeValue<'_>) -> Option<i64> {
    let integer = value.as_integer()?;
    i64::from_str_radix(integer.as_str(), integer.radix()).ok()
}

/// A whole or decimal number, exactly as written.
pub(crate) fn decimal(value: &DeValue<'_>) -> Option<Exact> {
    match value {
        DeValue::Float(float) => parse_number(float.as_str()).ok(),
        _ => integer(value).map(whole),
    }
}

/// As it is told.
pub(crate) fn got(value: &DeValue<'_>) -> Got {
    match value {
        DeValue::String(text) => Got::Text(text.to_string()),
        DeValue::Integer(integer) => Got::Written(integer.to_string()),
        DeValue::Float(float) => Got::Written(float.to_string()),
        DeValue::Boolean(yes) => Got::Written(yes.to_string()),
        DeValue::Datetime(date) => Got::Written(date.to_string()),
        DeValue::Array(list) => Got::List(list.len()),
        DeValue::Table(_) => Got::Table,
    }
}

/// Whether it is a name: a letter, then letters, figures and underscores.
pub(crate) fn is_name(text: &str) -> bool {
    text.len() <= movement::LONGEST_NAME
        && text.starts_with(|c: char| c.is_ascii_lowercase())
        && text
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
}
