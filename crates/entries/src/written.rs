//! Numbers and hours as somebody said them: the text is kept beside what it means.

use jiff::civil::Date;
use quantity::{DecimalError, Degrees, Exact, fraction, parse_decimal};
use serde::{Serialize, Serializer};
use std::fmt;

/// A plain decimal as written, and its exact value. In a log it stands in quotation marks: a bare JSON number is
/// commonly read into floating point and printed again as another one, and -1.2 said must stay -1.2.
///
/// Two are equal when they were written alike; `-1.2` and `-1.20` are not the same words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Decimal(Box<Said>);

/// Apart, as an exact value is large and an entry may say several.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Said {
    text: String,
    value: Exact,
}

impl Decimal {
    /// A plain decimal, without exponent.
    ///
    /// # Errors
    /// As [`parse_decimal`].
    ///
    /// ```
    /// use entries::Decimal;
    /// let said = Decimal::parse("-1.20").unwrap();
    /// assert_eq!(said.text(), "-1.20");
    /// assert_eq!(*said.exact(), quantity::fraction(-6, 5));
    /// ```
    pub fn parse(text: &str) -> Result<Decimal, DecimalError> {
        let value = parse_decimal(text)?;
        let text = text.to_owned();
        Ok(Decimal(Box::new(Said { text, value })))
    }

    /// The same with the other sign.
    #[must_use]
    pub fn negated(&self) -> Decimal {
        let text = match self.0.text.strip_prefix('-') {
            Some(text) => text.to_owned(),
            None => format!("-{}", self.0.text.trim_start_matches('+')),
        };
        let value = -self.0.value.clone();
        Decimal(Box::new(Said { text, value }))
    }

    /// As it was written.
    pub fn text(&self) -> &str {
        &self.0.text
    }

    /// Exactly what was written, in whatever it was said of.
    pub fn exact(&self) -> &Exact {
        &self.0.value
    }

    /// What was written, where it was said of degrees.
    pub fn degrees(&self) -> Degrees {
        Degrees::deg(self.0.value.clone())
    }
}

impl Serialize for Decimal {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.0.text)
    }
}

/// A place on a clock face as written: `7:30`, or `7` for the full hour.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Oclock {
    text: String,
    minutes: u16,
}

impl Oclock {
    /// An hour from 1 to 12, with or without a colon and two figures of minutes; nothing for any other text.
    ///
    /// ```
    /// use entries::Oclock;
    /// assert_eq!(Oclock::parse("7:30").unwrap().hours(), quantity::fraction(15, 2));
    /// assert_eq!(Oclock::parse("12").unwrap().hours(), quantity::whole(0));
    /// assert_eq!(Oclock::parse("7.5"), None);
    /// ```
    pub fn parse(text: &str) -> Option<Oclock> {
        let (hour, minute) = text.split_once(':').unwrap_or((text, "00"));
        let figures = |text: &str| -> Option<u16> {
            let plain = text.bytes().all(|byte| byte.is_ascii_digit());
            text.parse().ok().filter(|_| plain)
        };
        let hours = figures(hour).filter(|h| hour.len() <= 2 && (1..=12).contains(h))?;
        let minutes = figures(minute).filter(|m| minute.len() == 2 && *m < 60)?;
        Some(Oclock {
            text: text.to_owned(),
            minutes: hours % 12 * 60 + minutes,
        })
    }

    /// As it was written.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Hours past twelve, from 0 up to but not 12.
    pub fn hours(&self) -> Exact {
        fraction(self.minutes.into(), 60)
    }
}

impl Serialize for Oclock {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.text)
    }
}

/// A day of the calendar as written, `2026-03-01`: year, month and day of ISO 8601 in figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day(Date);

impl Day {
    /// The first day of the calendar: for a clock that knows none.
    pub const FIRST: Day = Day(Date::constant(1, 1, 1));

    /// A day that there is in the calendar, from year 0001; nothing for any other text.
    ///
    /// ```
    /// use entries::Day;
    /// assert_eq!(Day::parse("2028-02-29").unwrap().to_string(), "2028-02-29");
    /// assert_eq!(Day::parse("1900-02-29"), None);
    /// assert_eq!(Day::parse("2026-2-9"), None);
    /// ```
    pub fn parse(text: &str) -> Option<Day> {
        let plain = |(at, byte): (usize, u8)| match at {
            4 | 7 => byte == b'-',
            _ => byte.is_ascii_digit(),
        };
        if text.len() != 10 || !text.bytes().enumerate().all(plain) {
            return None;
        }
        let year: i16 = text[..4].parse().ok().filter(|year| *year > 0)?;
        let month: i8 = text[5..7].parse().ok()?;
        let day: i8 = text[8..].parse().ok()?;
        Date::new(year, month, day).ok().map(Day)
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl Serialize for Day {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

/// What a picture is called by: the SHA-256 of its bytes in 64 small hexadecimal figures. It is made by whoever holds
/// the bytes.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Digest(String);

impl Digest {
    /// A digest; nothing for any other text.
    pub fn parse(text: &str) -> Option<Digest> {
        let figures = text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'));
        (text.len() == 64 && figures).then(|| Digest(text.to_owned()))
    }

    /// Its figures.
    pub fn text(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Digest {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Serialize for Digest {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.0)
    }
}
