//! One value of each kind: what stands there if it is what was expected, or a fault and nothing.

use crate::fault::{Expected, Got, What};
use crate::raw::{Fields, Key, Reader, Value};
use quantity::{Bounds, Degrees, Exact, parse_number, whole};
use toml::de::DeValue;

impl Reader {
    pub(crate) fn text(&mut self, fields: &Fields<'_, '_>, key: &'static str) -> Option<String> {
        let value = self.need(fields, key)?;
        let words: Vec<String> = value
            .get_ref()
            .as_str()
            .unwrap_or("")
            .split(|c: char| c.is_control() || c.is_whitespace())
            .filter(|word| !word.is_empty())
            .map(str::to_owned)
            .collect();
        if words.is_empty() {
            self.value(key, value, Expected::Text);
            return None;
        }
        Some(words.join(" "))
    }

    pub(crate) fn id(&mut self, fields: &Fields<'_, '_>, key: &'static str) -> Option<String> {
        let value = self.need(fields, key)?;
        self.id_value(key, value)
    }

    pub(crate) fn id_value(&mut self, key: &str, value: &Value<'_>) -> Option<String> {
        match value.get_ref().as_str() {
            Some(id) if is_name(id) => Some(id.to_owned()),
            _ => {
                self.value(key, value, Expected::Name);
                None
            }
        }
    }

    /// A key that is a name of the writer's own: an arbor's id, or a part's.
    pub(crate) fn name(&mut self, key: &Key<'_>) {
        if !is_name(key.get_ref()) {
            let what = What::Value {
                key: String::new(),
                got: Got::Text(key.get_ref().to_string()),
                expected: Expected::Name,
                near: None,
            };
            self.fault(key.span(), what);
        }
    }

    pub(crate) fn arbor_part(&mut self, key: &str, value: &Value<'_>) -> Option<(String, String)> {
        let read = value.get_ref().as_str().and_then(|text| {
            let (arbor, part) = text.split_once('.')?;
            (is_name(arbor) && is_name(part)).then(|| (arbor.to_owned(), part.to_owned()))
        });
        if read.is_none() {
            self.value(key, value, Expected::ArborPart);
        }
        read
    }

    pub(crate) fn yes_no(&mut self, key: &str, value: &Value<'_>) -> Option<bool> {
        let read = value.get_ref().as_bool();
        if read.is_none() {
            self.value(key, value, Expected::YesNo);
        }
        read
    }

    pub(crate) fn word<T: Copy>(
        &mut self,
        key: &str,
        value: &Value<'_>,
        words: &'static [&'static str],
        meanings: &[(&str, T)],
    ) -> Option<T> {
        let read = value
            .get_ref()
            .as_str()
            .and_then(|text| meanings.iter().find(|(word, _)| *word == text));
        if read.is_none() {
            self.value(key, value, Expected::OneOf(words));
        }
        read.map(|(_, meaning)| *meaning)
    }

    /// A whole number in a range.
    pub(crate) fn bounded(&mut self, key: &str, value: &Value<'_>, bounds: Bounds) -> Option<u16> {
        let read = integer(value.get_ref()).and_then(|n| bounds.admit(n));
        if read.is_none() {
            self.value(key, value, Expected::Count(bounds));
        }
        read
    }

    pub(crate) fn number(
        &mut self,
        key: &str,
        value: &Value<'_>,
        expected: Expected,
        fits: impl Fn(&Exact) -> bool,
    ) -> Option<Exact> {
        let read = decimal(value.get_ref()).filter(fits);
        if read.is_none() {
            self.value(key, value, expected);
        }
        read
    }

    pub(crate) fn pair(&mut self, key: &str, value: &Value<'_>) -> Option<(Degrees, Degrees)> {
        let read = value.get_ref().as_array().and_then(|list| {
            let [from, to] = list.get(..)? else {
                return None;
            };
            Some((
                Degrees::deg(decimal(from.get_ref())?),
                Degrees::deg(decimal(to.get_ref())?),
            ))
        });
        if read.is_none() {
            self.value(key, value, Expected::Pair);
        }
        read
    }
}

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

pub(crate) fn is_name(text: &str) -> bool {
    text.len() <= movement::LONGEST_NAME
        && text.starts_with(|c: char| c.is_ascii_lowercase())
        && text
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_')
}

/// The known word that was probably meant.
pub(crate) fn near(got: &str, known: &[&'static str]) -> Option<&'static str> {
    movement::near(got, known.iter().copied())
}
