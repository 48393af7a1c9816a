//! One line of text as a JSON object whose values are still as written, so that each can be told with its place.

use crate::{
    Day, Decimal, Digest, ExpectedField, Kept, KeptText, LogFault, LogFaultKind, LogPlace, Oclock,
};
use quantity::whole;
use serde::de::{Deserializer, MapAccess, Visitor};
use serde::{Deserialize, de::DeserializeOwned};
use serde_json::value::RawValue;
use std::fmt;
use std::ops::Range;

/// A line that is UTF-8 and JSON.
#[derive(Clone, Copy)]
pub(crate) struct Line<'a> {
    /// Without its end.
    pub(crate) text: &'a str,
    /// From 1.
    pub(crate) number: usize,
}

impl<'a> Line<'a> {
    /// Takes the end of the line from it, and sees whether it is JSON at all.
    pub(crate) fn new(bytes: &'a [u8], number: usize) -> Result<Line<'a>, LogFault> {
        let bytes = bytes.strip_suffix(b"\n").unwrap_or(bytes);
        let bytes = bytes.strip_suffix(b"\r").unwrap_or(bytes);
        let text = match str::from_utf8(bytes) {
            Ok(text) => text,
            Err(error) => {
                let good = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
                let place = LogPlace::Column {
                    line: number,
                    column: good.chars().count() + 1,
                };
                let what = LogFaultKind::NotUtf8;
                return Err(LogFault { place, what });
            }
        };
        if text.trim_ascii().is_empty() {
            return Err(Line::as_a_whole(number, LogFaultKind::Blank));
        }
        let line = Line { text, number };
        match serde_json::from_str::<&RawValue>(text) {
            Ok(_) => Ok(line),
            Err(error) => Err(line.not_json(text, &error)),
        }
    }

    /// The object that this line is.
    pub(crate) fn object(self) -> Result<Object<'a>, LogFault> {
        if !self.text.trim_ascii_start().starts_with('{') {
            return Err(Line::as_a_whole(self.number, LogFaultKind::NotAnObject));
        }
        Object::new(self, self.text)
    }

    /// The column at which `part`, a slice of this line's text, begins.
    fn column(self, part: &str) -> usize {
        let before = part.as_ptr().addr() - self.text.as_ptr().addr();
        self.text[..before].chars().count() + 1
    }

    /// The parser was given `text`, a slice of this line's; it counts in bytes, and stands on the one it could not take.
    fn not_json(self, text: &'a str, error: &serde_json::Error) -> LogFault {
        let byte = text.floor_char_boundary(error.column().saturating_sub(1));
        self.at(&text[byte..], LogFaultKind::NotJson)
    }

    /// A fault where `part`, a slice of this line's text, begins.
    fn at(self, part: &str, what: LogFaultKind) -> LogFault {
        let place = LogPlace::Column {
            line: self.number,
            column: self.column(part),
        };
        LogFault { place, what }
    }

    /// A fault of a field, told where `part` begins.
    fn at_field(self, part: &str, field: &str, what: LogFaultKind) -> LogFault {
        let place = LogPlace::Field {
            line: self.number,
            column: self.column(part),
            field: field.to_owned(),
        };
        LogFault { place, what }
    }

    /// A fault of the line as a whole.
    fn as_a_whole(number: usize, what: LogFaultKind) -> LogFault {
        let place = LogPlace::Line { line: number };
        LogFault { place, what }
    }
}

/// An object's members in order of writing, and which of them were asked for.
pub(crate) struct Object<'a> {
    line: Line<'a>,
    text: &'a str,
    left: Vec<(String, &'a RawValue)>,
    taken: Vec<&'static str>,
}

impl<'a> Object<'a> {
    fn new(line: Line<'a>, text: &'a str) -> Result<Object<'a>, LogFault> {
        let Members(left) =
            serde_json::from_str(text).map_err(|error| line.not_json(text, &error))?;
        Ok(Object {
            line,
            text,
            left,
            taken: Vec::new(),
        })
    }

    /// The member of this name, if there is one. What is never asked for is a stray.
    pub(crate) fn take(&mut self, field: &'static str) -> Option<Value<'a>> {
        self.taken.push(field);
        let found = self.left.iter().position(|(name, _)| name == field)?;
        Some(Value {
            line: self.line,
            field,
            text: self.left.remove(found).1.get(),
        })
    }

    /// The member of this name, which must be there.
    pub(crate) fn need(&mut self, field: &'static str) -> Result<Value<'a>, LogFault> {
        self.take(field)
            .ok_or_else(|| self.line.at_field(self.text, field, LogFaultKind::Missing))
    }

    /// Whether it says that it is of this kind.
    pub(crate) fn kind_is(&self, name: &str) -> bool {
        let kind = self.left.iter().find(|(field, _)| field == "kind");
        kind.is_some_and(|(_, kind)| serde_json::from_str(kind.get()).ok() == Some(name.to_owned()))
    }

    /// The object that stands in this field, if there is one.
    pub(crate) fn inner(&self, field: &'static str) -> Result<Option<Object<'a>>, LogFault> {
        let found = self.left.iter().find(|(name, _)| name == field);
        let value = found.map(|(_, value)| Value {
            line: self.line,
            field,
            text: value.get(),
        });
        value.map(Value::object).transpose()
    }

    /// The bytes of its line that hold this field's value.
    pub(crate) fn place(&self, field: &str) -> Option<Range<usize>> {
        let (_, value) = self.left.iter().find(|(name, _)| name == field)?;
        let start = value.get().as_ptr().addr() - self.line.text.as_ptr().addr();
        Some(start..start + value.get().len())
    }

    /// A fault of the object as a whole.
    pub(crate) fn fault(&self, what: LogFaultKind) -> LogFault {
        self.line.at(self.text, what)
    }

    /// Refuses what was never asked for, and what is there twice.
    pub(crate) fn finish(self) -> Result<(), LogFault> {
        let stray = self.left.first();
        stray.map_or(Ok(()), |(name, value)| Err(self.left_over(name, value)))
    }

    /// Refuses only what was asked for and is there twice; the rest may be whatever it is.
    pub(crate) fn finish_unknown(self) -> Result<(), LogFault> {
        let mut left = self.left.iter();
        let doubled = left.find(|(name, _)| self.taken.contains(&name.as_str()));
        doubled.map_or(Ok(()), |(name, value)| Err(self.left_over(name, value)))
    }

    fn left_over(&self, name: &str, value: &RawValue) -> LogFault {
        let doubled = self.taken.contains(&name);
        let what = if doubled {
            LogFaultKind::Doubled
        } else {
            LogFaultKind::Stray
        };
        self.line.at_field(value.get(), name, what)
    }
}

/// A member's value, as written.
#[derive(Clone, Copy)]
pub(crate) struct Value<'a> {
    line: Line<'a>,
    field: &'static str,
    text: &'a str,
}

impl<'a> Value<'a> {
    /// A fault of this value.
    pub(crate) fn fault(self, what: LogFaultKind) -> LogFault {
        self.line.at_field(self.text, self.field, what)
    }

    fn wrong(self, expected: ExpectedField) -> LogFault {
        let got = self.text.to_owned();
        self.fault(LogFaultKind::Wrong { got, expected })
    }

    fn read<T: DeserializeOwned>(self, expected: ExpectedField) -> Result<T, LogFault> {
        serde_json::from_str(self.text).map_err(|_| self.wrong(expected))
    }

    pub(crate) fn text(self) -> Result<String, LogFault> {
        self.read(ExpectedField::Text)
    }

    /// Text, or what a removal left of it.
    pub(crate) fn words(self) -> Result<KeptText, LogFault> {
        match self.text {
            "null" => Ok(Kept::Emptied),
            _ => self.text().map(Kept::Here),
        }
    }

    /// A picture's name, or what a removal left of it.
    pub(crate) fn picture(self) -> Result<Kept<Digest>, LogFault> {
        if self.text == "null" {
            return Ok(Kept::Emptied);
        }
        let text: String = self.read(ExpectedField::Digest)?;
        let digest = Digest::parse(&text);
        digest
            .map(Kept::Here)
            .ok_or_else(|| self.wrong(ExpectedField::Digest))
    }

    pub(crate) fn day(self) -> Result<Day, LogFault> {
        let text: String = self.read(ExpectedField::Day)?;
        Day::parse(&text).ok_or_else(|| self.wrong(ExpectedField::Day))
    }

    /// The words of a list that has at least one.
    pub(crate) fn names(self) -> Result<Vec<String>, LogFault> {
        let names: Vec<String> = self.read(ExpectedField::Names)?;
        if names.is_empty() {
            return Err(self.wrong(ExpectedField::Names));
        }
        Ok(names)
    }

    /// The one object that this is.
    pub(crate) fn object(self) -> Result<Object<'a>, LogFault> {
        if !self.text.starts_with('{') {
            return Err(self.wrong(ExpectedField::Object));
        }
        Object::new(self.line, self.text)
    }

    pub(crate) fn count(self) -> Result<u64, LogFault> {
        self.read(ExpectedField::Count)
    }

    pub(crate) fn hour(self) -> Result<u8, LogFault> {
        let hour = self.read(ExpectedField::Hour)?;
        if !(1..=12).contains(&hour) {
            return Err(self.wrong(ExpectedField::Hour));
        }
        Ok(hour)
    }

    /// So many hours, at least one.
    pub(crate) fn hours(self) -> Result<u16, LogFault> {
        let hours = self.read(ExpectedField::Hours)?;
        if hours == 0 {
            return Err(self.wrong(ExpectedField::Hours));
        }
        Ok(hours)
    }

    pub(crate) fn teeth(self) -> Result<i32, LogFault> {
        let teeth = self.read(ExpectedField::Teeth)?;
        if teeth == 0 {
            return Err(self.wrong(ExpectedField::Teeth));
        }
        Ok(teeth)
    }

    pub(crate) fn decimal(self) -> Result<Decimal, LogFault> {
        let text: String = self.read(ExpectedField::Decimal)?;
        Decimal::parse(&text).map_err(|_| self.wrong(ExpectedField::Decimal))
    }

    pub(crate) fn spread(self) -> Result<Decimal, LogFault> {
        let text: String = self.read(ExpectedField::Spread)?;
        Decimal::parse(&text)
            .ok()
            .filter(|spread| *spread.exact() > whole(0))
            .ok_or_else(|| self.wrong(ExpectedField::Spread))
    }

    pub(crate) fn oclock(self) -> Result<Oclock, LogFault> {
        let text: String = self.read(ExpectedField::Oclock)?;
        Oclock::parse(&text).ok_or_else(|| self.wrong(ExpectedField::Oclock))
    }

    pub(crate) fn one_of<T: Copy>(self, words: &[(&'static str, T)]) -> Result<T, LogFault> {
        let expected = || ExpectedField::OneOf(words.iter().map(|(word, _)| *word).collect());
        let got: String = self.read(expected())?;
        let found = words.iter().find(|(word, _)| *word == got);
        found
            .map(|(_, meant)| *meant)
            .ok_or_else(|| self.wrong(expected()))
    }

    /// The objects of a list that has at least one.
    pub(crate) fn list(self) -> Result<Vec<Object<'a>>, LogFault> {
        let items: Vec<&'a RawValue> =
            serde_json::from_str(self.text).map_err(|_| self.wrong(ExpectedField::List))?;
        if items.is_empty() {
            return Err(self.wrong(ExpectedField::List));
        }
        let object = |item: &'a RawValue| {
            let item = Value {
                text: item.get(),
                ..self
            };
            item.object()
        };
        items.into_iter().map(object).collect()
    }
}

/// An object's members, doubled ones too, each value as its own slice of the text.
struct Members<'a>(Vec<(String, &'a RawValue)>);

impl<'de> Deserialize<'de> for Members<'de> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct InOrder;
        impl<'de> Visitor<'de> for InOrder {
            type Value = Members<'de>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("an object")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
                let mut members = Vec::new();
                while let Some(member) = map.next_entry()? {
                    members.push(member);
                }
                Ok(Members(members))
            }
        }
        deserializer.deserialize_map(InOrder)
    }
}
