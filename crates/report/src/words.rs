//! Words: every sentence of the pages, in one catalogue a language, and how a page asks for them.
//!
//! A catalogue is a Fluent file (Project Fluent, syntax 1.0) under `words/`: `en.ftl` has every message, `de.ftl` those of the
//! timing page, and what it lacks is said in English. [`Locale`] is copied freely: a language, the trade words of one side of
//! the water, and the unit of lengths.
//!
//! ```
//! use report::{Lang, Length, Locale, Usage, say};
//! use quantity::Chance;
//!
//! let locale = Locale::of(Lang::English, Usage::British);
//! assert_eq!(say!(locale, "teeth", count = 2), "two teeth");
//! assert_eq!(locale.list(&["slot".to_owned(), "pin".to_owned()]), "slot and pin");
//! let german = Locale::of(Lang::German, Usage::British);
//! assert_eq!(german.odds(Chance::of(0.9)).replace('\u{a0}', " "), "9 von 10");
//! assert_eq!(german.length(Length::mm(0.254)), "0,25\u{a0}mm");
//! ```
//!
//! - `say!(locale, "key", name = value, …)` is a message as text; `runs!` is the same as a [`Sentence`], in which `<m>…</m>`
//!   of the message marks what is to be moved, or which way. So whoever translates decides the order of locale.
//! - Where a key follows from data, `locale.say(key!("…"), args![…])`. Every key stands in one of these macros as a literal:
//!   a test reads them from the sources and compares them with the catalogue, both ways.
//! - Every message is given `$usage` (`british` or `american`). A value is a text or a number; numbers with a fraction go
//!   through [`Locale::decimal`] or [`Locale::degrees`] first, as their comma depends on the language.
//! - Names from a sheet, and what was typed, are never translated.
//!
//! [`Lang::Stretched`] is a language to test with: English, each message in brackets and at least 40 % longer.
//! What this does not do: it knows no dates, no money, and no writing from right to left.

mod key;
mod length;
mod sentence;
mod stretch;

pub use key::{Args, Key};
pub use length::Length;
pub use sentence::{Sentence, TextRun};

use crate::{args, key, say};
use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource};
use quantity::{Chance, Degrees};
use std::sync::LazyLock;
use unic_langid::LanguageIdentifier;

/// The languages the pages speak.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Lang {
    /// English.
    #[default]
    English,
    /// German, where it is translated.
    German,
    /// English made longer and put in brackets, to test with.
    Stretched,
}

/// Whose trade words English has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Usage {
    /// British.
    #[default]
    British,
    /// American.
    American,
}

/// What lengths are told in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Units {
    /// Millimetres.
    #[default]
    Millimetre,
    /// Inches, decimal.
    Inch,
}

/// In what words a page is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Locale {
    lang: Lang,
    usage: Usage,
    units: Units,
}

type Bundle = FluentBundle<FluentResource>;

static ENGLISH: LazyLock<Bundle> = LazyLock::new(|| bundle("en", EN));
static GERMAN: LazyLock<Bundle> = LazyLock::new(|| bundle("de", DE));
static STRETCHED: LazyLock<Bundle> = LazyLock::new(|| {
    let mut bundle = bundle("en", EN);
    bundle.set_transform(Some(stretch::vowels));
    bundle
});

const EN: &str = include_str!("../words/en.ftl");
const DE: &str = include_str!("../words/de.ftl");

fn bundle(lang: &str, text: &str) -> Bundle {
    let lang: LanguageIdentifier = lang.parse().unwrap_or_default();
    let mut bundle = FluentBundle::new_concurrent(vec![lang]);
    bundle.set_use_isolating(false);
    // A catalogue that does not parse, or names a message twice, is found by the tests; what is right in it is said.
    let read = FluentResource::try_new(text.to_owned()).unwrap_or_else(|(read, _)| read);
    bundle.add_resource_overriding(read);
    bundle
}

impl Locale {
    /// A language with its trade words; lengths in millimetres.
    pub const fn of(lang: Lang, usage: Usage) -> Locale {
        Locale {
            lang,
            usage,
            units: Units::Millimetre,
        }
    }

    /// The same with lengths told in another unit.
    pub const fn with(self, units: Units) -> Locale {
        Locale { units, ..self }
    }

    /// The language.
    pub fn lang(&self) -> Lang {
        self.lang
    }

    /// Whose trade words.
    pub fn usage(&self) -> Usage {
        self.usage
    }

    /// What lengths are told in.
    pub fn units(&self) -> Units {
        self.units
    }

    /// The language as a page names it (BCP 47).
    pub fn tag(&self) -> &'static str {
        match (self.lang, self.usage) {
            (Lang::English, Usage::British) => "en-GB",
            (Lang::English, Usage::American) => "en-US",
            (Lang::German, _) => "de",
            (Lang::Stretched, _) => "en-x-long",
        }
    }

    /// A message as text.
    pub fn say(&self, key: Key, args: Args<'_>) -> String {
        let mut args = args.into_values();
        args.set(
            "usage",
            match self.usage {
                Usage::British => "british",
                Usage::American => "american",
            },
        );
        match self.lang {
            Lang::English => {
                formatted(&ENGLISH, key, &args).unwrap_or_else(|| key.name().to_owned())
            }
            Lang::German => formatted(&GERMAN, key, &args)
                .or_else(|| formatted(&ENGLISH, key, &args))
                .unwrap_or_else(|| key.name().to_owned()),
            Lang::Stretched => {
                let english = formatted(&ENGLISH, key, &args).unwrap_or_default();
                let longer = formatted(&STRETCHED, key, &args).unwrap_or_default();
                stretch::bracketed(&english, &longer)
            }
        }
    }

    /// A message with the stretches that its `<m>…</m>` mark.
    pub fn runs(&self, key: Key, args: Args<'_>) -> Sentence {
        Sentence::marked(&self.say(key, args))
    }

    /// `a`, `a and b`, `a, b and c`.
    pub fn list(&self, items: &[String]) -> String {
        self.joined(items, key!("list-and"))
    }

    /// `a`, `a or b`, `a, b or c`.
    pub fn either(&self, items: &[String]) -> String {
        self.joined(items, key!("list-or"))
    }

    fn joined(&self, items: &[String], last: Key) -> String {
        match items {
            [] => String::new(),
            [one] => one.clone(),
            [rest @ .., one] => self.say(last, args![rest = rest.join(", "), last = one]),
        }
    }

    /// A number with at most so many places after the point, and no noughts at its end.
    pub fn decimal(&self, x: f64, places: usize) -> String {
        self.pointed(crate::en::decimal(x, places))
    }

    /// A number that is written with a point, as this language writes it.
    pub fn pointed(&self, number: String) -> String {
        match self.lang {
            Lang::German => number.replace('.', ","),
            Lang::English | Lang::Stretched => number,
        }
    }

    /// An angle in degrees, to a thousandth at most.
    pub fn degrees(&self, angle: &Degrees) -> String {
        format!("{}°", self.decimal(angle.to_f64(), 3))
    }

    /// A chance as odds that no line breaks; never certain, never impossible.
    pub fn odds(&self, chance: Chance) -> String {
        let p = chance.get();
        let (kind, count) = if p >= 0.995 {
            ("more", 99.0)
        } else if p >= 0.95 {
            ("hundred", (100.0 * p).round_ties_even())
        } else if p >= 0.095 {
            ("ten", (10.0 * p).round_ties_even())
        } else if p >= 0.005 {
            ("hundred", (100.0 * p).round_ties_even())
        } else {
            ("less", 1.0)
        };
        say!(self, "odds", kind = kind, count = count)
    }

    /// A length in the unit that was chosen, with as many figures as it bears.
    pub fn length(&self, length: Length) -> String {
        match self.units {
            Units::Millimetre => {
                let number = self.pointed(length.figures(1.0));
                say!(self, "length-millimetre", number = number)
            }
            Units::Inch => {
                let number = self.pointed(length.figures(Length::MM_IN_INCH));
                say!(self, "length-inch", number = number)
            }
        }
    }
}

fn formatted(bundle: &Bundle, key: Key, args: &FluentArgs<'_>) -> Option<String> {
    let pattern = bundle.get_message(key.name())?.value()?;
    let mut wrong = Vec::new();
    let said = bundle.format_pattern(pattern, Some(args), &mut wrong);
    debug_assert!(wrong.is_empty(), "{}: {wrong:?}", key.name());
    Some(said.into_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_has_its_and_at_its_end() {
        let locale = Locale::default();
        let items = |n: usize| -> Vec<String> {
            ["a", "b", "c"]
                .iter()
                .take(n)
                .map(|s| (*s).to_owned())
                .collect()
        };
        assert_eq!(locale.list(&items(0)), "");
        assert_eq!(locale.list(&items(1)), "a");
        assert_eq!(locale.list(&items(2)), "a and b");
        assert_eq!(locale.list(&items(3)), "a, b and c");
        assert_eq!(locale.either(&items(3)), "a, b or c");
    }

    #[test]
    fn german_has_a_comma_where_english_has_a_point() {
        let [english, german] =
            [Lang::English, Lang::German].map(|l| Locale::of(l, Usage::British));
        assert_eq!(english.decimal(-1.25, 2), "-1.25");
        assert_eq!(german.decimal(-1.25, 2), "-1,25");
        assert_eq!(german.decimal(1000.0, 2), "1000");
    }

    #[test]
    fn a_length_is_told_in_the_unit_that_was_chosen() {
        let locale = Locale::default();
        let inch = locale.with(Units::Inch);
        // 25.4 mm an inch.
        assert_eq!(locale.length(Length::mm(25.4)), "25\u{a0}mm");
        assert_eq!(inch.length(Length::mm(25.4)), "1\u{a0}in");
        assert_eq!(inch.length(Length::mm(2.0)), "0.079\u{a0}in");
        assert_eq!(inch.length(Length::mm(2.0).good_to(0.01)), "0.0787\u{a0}in");
    }

    #[test]
    fn every_message_of_the_test_language_is_in_brackets_and_longer() {
        let locale = Locale::of(Lang::Stretched, Usage::British);
        let english = Locale::default();
        for said in [
            (
                say!(english, "teeth", count = 2),
                say!(locale, "teeth", count = 2),
            ),
            (english.odds(Chance::of(0.5)), locale.odds(Chance::of(0.5))),
        ] {
            let (plain, long) = said;
            assert!(long.starts_with('⟦') && long.ends_with('⟧'), "{long}");
            let length = |text: &str| text.chars().count();
            assert!(5 * length(&long) >= 7 * length(&plain), "{plain}: {long}");
        }
    }
}
