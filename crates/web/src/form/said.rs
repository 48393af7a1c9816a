//! What a field says, read out of its text: types that are refused where it is no such thing, and what is passed over there.

use super::{LONGEST, plain};
use entries::{Day, Decimal, Kept};
use quantity::{DecimalError, Number, Unwritten, typed};
use serde::{Deserialize, Deserializer};
use std::str::FromStr;
use thiserror::Error;

/// A line of text, as long as a line may be.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(try_from = "String")]
pub(crate) struct Text(String);

impl Text {
    pub(crate) fn as_str(&self) -> &str {
        &self.0
    }
}

/// It is longer than is taken.
#[derive(Debug, Error)]
#[error("longer than {LONGEST} characters")]
pub(crate) struct TooLong;

impl TryFrom<String> for Text {
    type Error = TooLong;

    fn try_from(typed: String) -> Result<Text, TooLong> {
        match super::is_long(&typed) {
            true => Err(TooLong),
            false => Ok(Text(typed)),
        }
    }
}

impl From<Text> for Kept<String> {
    fn from(text: Text) -> Kept<String> {
        Kept::Here(text.0)
    }
}

/// A figure, as people type it: a decimal, or a fraction that is one. It is none where a comma may be two things.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(try_from = "String")]
pub(crate) struct Figure(Decimal);

impl TryFrom<String> for Figure {
    type Error = DecimalError;

    fn try_from(written: String) -> Result<Figure, DecimalError> {
        let read = typed::<Number>(&written);
        if let Err(Unwritten::Thousands { .. }) = read {
            return Err(DecimalError::NotANumber);
        }
        Decimal::parse(&plain(&written)).map(Figure).or_else(|why| {
            let exact = read.ok().filter(|read| read.each.len() == 1);
            let decimal = exact.and_then(|read| quantity::decimal_of(&read.mean));
            decimal.map_or(Err(why), |text| Decimal::parse(&text).map(Figure))
        })
    }
}

impl From<Figure> for Decimal {
    fn from(figure: Figure) -> Decimal {
        figure.0
    }
}

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(try_from = "String")]
pub(crate) struct OnDay(Day);

/// It is no day of the calendar.
#[derive(Debug, Error)]
#[error("no day of the calendar")]
pub(crate) struct NoDay;

impl TryFrom<String> for OnDay {
    type Error = NoDay;

    fn try_from(typed: String) -> Result<OnDay, NoDay> {
        Day::parse(&typed).map(OnDay).ok_or(NoDay)
    }
}

impl From<OnDay> for Day {
    fn from(day: OnDay) -> Day {
        day.0
    }
}

/// What was typed line by line, each line as it is written on a command line; blank ones are left out.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
#[serde(from = "String")]
pub(crate) struct Lines(pub(crate) Vec<String>);

impl From<String> for Lines {
    fn from(typed: String) -> Lines {
        let lines = typed.lines().map(plain);
        Lines(lines.filter(|line| !line.is_empty()).collect())
    }
}

/// What was typed line by line, as it stands there; blank lines are left out.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
#[serde(from = "String")]
pub(crate) struct AsTyped(pub(crate) Vec<String>);

impl From<String> for AsTyped {
    fn from(typed: String) -> AsTyped {
        let lines = typed.lines().map(|line| line.trim().to_owned());
        AsTyped(lines.filter(|line| !line.is_empty()).collect())
    }
}

/// A sheet as it was typed: browsers send each line's end as two characters.
pub(crate) fn sheet<'de, D: Deserializer<'de>>(said: D) -> Result<Option<String>, D::Error> {
    let typed = Option::<String>::deserialize(said)?;
    Ok(typed.map(|typed| typed.replace("\r\n", "\n") + "\n"))
}

/// A number that a page wrote itself: what is none was not written by it, and is as if nothing stood there.
pub(crate) fn number<'de, T: FromStr, D: Deserializer<'de>>(
    said: D,
) -> Result<Option<T>, D::Error> {
    let typed = Option::<String>::deserialize(said)?;
    Ok(typed.and_then(|typed| typed.parse().ok()))
}

/// One of some words, where another is as if nothing stood there.
pub(crate) fn lenient<'de, T: Deserialize<'de>, D: Deserializer<'de>>(
    said: D,
) -> Result<Option<T>, D::Error> {
    Ok(T::deserialize(said).ok())
}

/// Whether it says yes, and nothing else.
pub(crate) fn yes<'de, D: Deserializer<'de>>(said: D) -> Result<bool, D::Error> {
    let typed = Option::<String>::deserialize(said)?;
    Ok(typed.as_deref() == Some("yes"))
}
