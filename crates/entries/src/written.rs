//! Numbers and hours as somebody said them: the text is kept beside what it means.

use quantity::{DecimalError, Degrees, Exact, fraction, parse_decimal};
use serde::{Serialize, Serializer};

/// A plain decimal as written, and its exact value. In a log it stands in quotation marks: a bare JSON number is
/// commonly read into floating point and printed again as another one, and -1.2 said must stay -1.2.
///
/// Two are equal when they were written alike; `-1.2` and `-1.20` are not the same words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Decimal {
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
        Ok(Decimal {
            text: text.to_owned(),
            value,
        })
    }

    /// As it was written.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Exactly what was written, in whatever it was said of.
    pub fn exact(&self) -> &Exact {
        &self.value
    }

    /// What was written, where it was said of degrees.
    pub fn degrees(&self) -> Degrees {
        Degrees::deg(self.value.clone())
    }
}

impl Serialize for Decimal {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.text)
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
