//! Where a question comes from: a command with its options, or a page with its fields. What is asked for is named so.

use crate::{Words, say};
use quantity::{DecimalError, Unwritten};
use tasks::Out;

/// In what words a question is answered, and by what names its parts are asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Voice {
    /// By the options of a command.
    Command(Words),
    /// By the fields of a page.
    Page(Words),
}

impl Voice {
    /// The words.
    pub fn words(&self) -> &Words {
        match self {
            Voice::Command(words) | Voice::Page(words) => words,
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
            Voice::Page(words) => format!("“{}”", field(words, name)),
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
            self.words(),
            "out-of-bounds",
            field = self.field(name),
            written = written,
            out = out
        )
    }

    /// That what was written for a part of a question is no measurement.
    pub(crate) fn unwritten(&self, name: &str, written: &str, why: &Unwritten) -> String {
        let words = self.words();
        let what = match why {
            Unwritten::Number(_) if written.trim().is_empty() => say!(words, "unwritten-nothing"),
            Unwritten::Number(DecimalError::TooLong) => say!(words, "unwritten-long"),
            Unwritten::Number(_) => say!(words, "unwritten-number"),
            Unwritten::Unit { got, units } => {
                let got = crate::en::quoted(got);
                match either(words, units) {
                    None => say!(words, "unwritten-no-unit", got = got),
                    Some(units) => say!(words, "unwritten-unit", got = got, units = units),
                }
            }
            Unwritten::NoUnit { units } => {
                let units = either(words, units).unwrap_or_default();
                say!(words, "unwritten-which-unit", units = units)
            }
            Unwritten::Comma => say!(words, "unwritten-comma"),
            Unwritten::TooMuch => say!(words, "unwritten-too-much"),
            Unwritten::Spread => say!(words, "unwritten-spread"),
        };
        let written = crate::en::quoted(written);
        say!(
            words,
            "unwritten",
            field = self.field(name),
            written = written,
            what = what
        )
    }
}

/// Units, one of which may stand there; nothing where none may.
fn either(words: &Words, units: &[&str]) -> Option<String> {
    let units: Vec<String> = (units.iter().filter(|u| !u.is_empty()))
        .map(|u| format!("`{u}`"))
        .collect();
    (!units.is_empty()).then(|| words.either(&units))
}

/// A field of the pages of sums as it is labelled, by the name of the option that asks for the same.
pub fn field(words: &Words, name: &str) -> String {
    say!(words, "field", field = name.to_owned())
}
