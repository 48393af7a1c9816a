//! Where a question comes from: a command with its options, or a page with its fields. What is asked for is named so.

use crate::{Locale, say};
use quantity::{DecimalError, Unwritten};
use tasks::Out;

/// In what words a question is answered, and by what names its parts are asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Voice {
    /// By the options of a command.
    Command(Locale),
    /// By the fields of a page.
    Page(Locale),
}

impl Voice {
    /// The words.
    pub fn locale(&self) -> &Locale {
        match self {
            Voice::Command(locale) | Voice::Page(locale) => locale,
        }
    }

    /// As messages choose by it.
    pub(crate) fn selector(&self) -> &'static str {
        match self {
            Voice::Command(_) => "option",
            Voice::Page(_) => "field",
        }
    }

    /// What a part of a question is called, by the name of its option.
    pub(crate) fn field(&self, name: &str) -> String {
        match self {
            Voice::Command(_) => format!("`--{name}`"),
            Voice::Page(locale) => format!("“{}”", field(locale, name)),
        }
    }

    /// That what was written for a part of a question is nothing of its kind.
    pub(crate) fn out_of_bounds(&self, name: &str, written: &str, out: Out) -> String {
        let out = match out {
            Out::Latitude => "latitude",
            Out::Height => "height",
            Out::Swing => "swing",
            Out::Beats => "beats",
            Out::Length => "length",
            Out::Run => "run",
            Out::Vague => "vague",
        };
        let written = crate::en::quoted(written);
        say!(
            self.locale(),
            "out-of-bounds",
            field = self.field(name),
            written = written,
            out = out
        )
    }

    /// That what was written for a part of a question is no measurement.
    pub(crate) fn unwritten(&self, name: &str, written: &str, why: &Unwritten) -> String {
        let locale = self.locale();
        let what = match why {
            Unwritten::Number(_) if written.trim().is_empty() => say!(locale, "unwritten-nothing"),
            Unwritten::Number(DecimalError::TooLong) => say!(locale, "unwritten-long"),
            Unwritten::Number(_) => say!(locale, "unwritten-number"),
            Unwritten::Unit { got, units } => {
                let got = crate::en::quoted(got);
                match either(locale, units) {
                    None => say!(locale, "unwritten-no-unit", got = got),
                    Some(units) => say!(locale, "unwritten-unit", got = got, units = units),
                }
            }
            Unwritten::NoUnit { units } => {
                let units = either(locale, units).unwrap_or_default();
                say!(locale, "unwritten-which-unit", units = units)
            }
            Unwritten::Thousands { point, whole } => say!(
                locale,
                "unwritten-thousands",
                point = point.as_str(),
                whole = whole.as_str()
            ),
            Unwritten::Apart => say!(locale, "unwritten-apart"),
            Unwritten::TooMuch => say!(locale, "unwritten-too-much"),
            Unwritten::Spread => say!(locale, "unwritten-spread"),
        };
        let written = crate::en::quoted(written);
        say!(
            locale,
            "unwritten",
            field = self.field(name),
            written = written,
            what = what
        )
    }
}

/// Units, one of which may stand there; nothing where none may.
fn either(locale: &Locale, units: &[&str]) -> Option<String> {
    let units: Vec<String> = (units.iter().filter(|u| !u.is_empty()))
        .map(|u| format!("`{u}`"))
        .collect();
    (!units.is_empty()).then(|| locale.either(&units))
}

/// A field of the pages of sums as it is labelled, by the name of the option that asks for the same.
pub fn field(locale: &Locale, name: &str) -> String {
    say!(locale, "field", field = name.to_owned())
}
