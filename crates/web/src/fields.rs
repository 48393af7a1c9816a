//! The fields of these pages: labelled, with the unit that is meant where none is written, and keeping what was typed.

use crate::desk::Whole;
use crate::form::Fields;
use maud::{Markup, html};
use report::{Locale, Units, Voice, field, say};

/// What is typed into a field.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// What has one unit or none.
    Plain,
    /// A length on the bench.
    Length,
    /// A height above the sea.
    Height,
    /// The mass of a bob.
    Heavy,
    /// The mass of a small weight.
    Light,
    /// A difference of warmth.
    Warmth,
    /// A run.
    Time,
    /// Several, one on a line, each with its own units.
    Lines,
}

impl Kind {
    /// The unit that is meant where none is written.
    fn unit(self, locale: &Locale) -> &'static str {
        match (self, locale.units()) {
            (Kind::Plain | Kind::Lines, _) => "",
            (Kind::Length, Units::Millimetre) => "mm",
            (Kind::Length, Units::Inch) => "in",
            (Kind::Height, _) => "m",
            (Kind::Heavy | Kind::Light, Units::Millimetre) => "g",
            (Kind::Heavy, Units::Inch) => "lb",
            (Kind::Light, Units::Inch) => "oz",
            (Kind::Warmth, Units::Millimetre) => "C",
            (Kind::Warmth, Units::Inch) => "F",
            (Kind::Time, _) => "days",
        }
    }
}

/// What is asked of a job.
pub(crate) struct Question<'a> {
    pub(crate) job: &'a Whole,
    pub(crate) fields: &'a Fields,
    /// Whether a page of another site leads here: then nothing is begun for it.
    pub(crate) foreign: bool,
}

impl Question<'_> {
    pub(crate) fn locale(&self) -> &Locale {
        &self.job.locale
    }

    pub(crate) fn voice(&self) -> Voice {
        Voice::Page(self.job.locale)
    }

    pub(crate) fn sheet(&self) -> &[u8] {
        self.job.sheet.as_bytes()
    }
}

/// A field: the name of the option that asks for the same, and what is typed there.
pub(crate) type Field = (&'static str, Kind);

/// What was typed, with these fields as they are written on a command line: with the unit that is meant, where none is written.
pub(crate) fn measured(locale: &Locale, typed: &Fields, fields: &[Field]) -> Fields {
    let with = |all: Fields, (name, kind): &Field| match typed.get(name) {
        Some(typed) => all.with(name, &with_unit(typed, kind.unit(locale))),
        None => all,
    };
    fields.iter().fold(typed.clone(), with)
}

/// A measurement with the unit that is meant, where none is written.
pub(crate) fn with_unit(written: &str, unit: &str) -> String {
    let (value, spread) = match written.split_once('~') {
        Some((value, spread)) => (value, Some(spread)),
        None => (written, None),
    };
    let value = value.trim_end();
    let bare = value.ends_with(|c: char| c.is_numeric() || matches!(c, '.' | ','));
    let unit = if bare { unit } else { "" };
    match spread {
        Some(spread) => format!("{value}{unit}~{spread}"),
        None => format!("{value}{unit}"),
    }
}

/// Fields as they stand in a form.
pub(crate) fn inputs(asked: &Question<'_>, fields: &[Field]) -> Markup {
    html! { @for field in fields { (input(asked, *field)) } }
}

fn input(asked: &Question<'_>, (name, kind): Field) -> Markup {
    let locale = asked.locale();
    let unit = kind.unit(locale);
    let label = field(locale, name);
    let label = if unit.is_empty() {
        label
    } else {
        say!(locale, "field-in", field = label, unit = unit)
    };
    let value = asked.fields.get(name);
    html! {
        label {
            span { (label) }
            @if kind == Kind::Lines { textarea name=(name) rows="3" spellcheck="false" { (value.unwrap_or_default()) } }
            @else { input type="text" name=(name) value=[value] maxlength="200" autocapitalize="off"; }
        }
    }
}

/// A choice of words: what each is called, and which is chosen where nothing is.
pub(crate) fn choice(
    asked: &Question<'_>,
    name: &str,
    options: &[(&str, String)],
    usual: &str,
) -> Markup {
    let chosen = asked.fields.get(name).unwrap_or(usual);
    html! {
        label {
            span { (field(asked.locale(), name)) }
            select name=(name) {
                @for (word, says) in options { option value=(word) selected[*word == chosen] { (says) } }
            }
        }
    }
}

/// Fields that are folded away until something stands in them.
pub(crate) fn folded(asked: &Question<'_>, name: &str, fields: &[Field], more: &Markup) -> Markup {
    let open = fields
        .iter()
        .any(|(name, _)| asked.fields.get(name).is_some());
    html! {
        details open[open] {
            summary { (name) }
            div.row { (inputs(asked, fields)) (more) }
        }
    }
}

/// A form that asks the same page again.
pub(crate) fn form(asked: &Question<'_>, heading: &str, within: &Markup) -> Markup {
    let locale = asked.locale();
    html! {
        section.ask aria-labelledby="ask" {
            h2 #ask { (heading) }
            form method="get" {
                (within)
                p.quiet { (say!(locale, "sum-how")) }
                button.primary { (say!(locale, "sum-ask")) }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::with_unit;

    #[test]
    fn a_unit_is_meant_where_none_is_written() {
        for (written, meant) in [
            ("9.06", "9.06in"),
            ("9.06~0.02", "9.06in~0.02"),
            ("230mm", "230mm"),
            ("230 mm~1", "230 mm~1"),
            ("19x0.4x1400", "19x0.4x1400in"),
            ("0.75x0.016x1400mm", "0.75x0.016x1400mm"),
            ("wide", "wide"),
            ("8 1/4", "8 1/4in"),
            ("8¼", "8¼in"),
            ("¼\"", "¼\""),
            ("2,51 2,53", "2,51 2,53in"),
        ] {
            assert_eq!(with_unit(written, "in"), meant);
        }
    }
}
