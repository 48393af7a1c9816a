//! What a form sends: names and values, in the order of the page; and how they are sent along again.

use maud::{Markup, html};
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};
use report::{Locale, say};

mod read;
pub(crate) mod said;

/// What was typed into the fields of a form, or stands after the question mark of an address: kept to be shown again and sent along, and
/// to be [read](Fields::read).
#[derive(Debug, Clone, Default)]
pub(crate) struct Fields(Vec<(String, String)>);

impl Fields {
    pub(crate) fn of(sent: Vec<(String, String)>) -> Fields {
        Fields(sent)
    }

    /// The same, with something said besides.
    pub(crate) fn with(mut self, name: &str, value: &str) -> Fields {
        self.0.push((name.to_owned(), value.to_owned()));
        self
    }

    /// Those that are told apart by a part of their names, by what is left of them without it.
    pub(crate) fn part(&self, left: impl Fn(&str) -> Option<&str>) -> Fields {
        let of_it = self
            .all()
            .filter_map(|(name, value)| Some((left(name)?, value)));
        Fields(
            of_it
                .map(|(name, value)| (name.to_owned(), value.to_owned()))
                .collect(),
        )
    }

    /// All of them, as they were sent.
    pub(crate) fn all(&self) -> impl Iterator<Item = (&str, &str)> {
        (self.0.iter()).map(|(name, value)| (name.as_str(), value.as_str()))
    }

    /// The last under a name that says something.
    pub(crate) fn get(&self, name: &str) -> Option<&str> {
        let of_it = self.0.iter().rev().filter(|(n, _)| n == name);
        of_it
            .map(|(_, value)| value.trim())
            .find(|value| !value.is_empty())
    }

    /// Those of some fields in which something stands.
    pub(crate) fn filled<'f>(
        &'f self,
        names: impl IntoIterator<Item = &'f str>,
    ) -> impl Iterator<Item = (&'f str, &'f str)> {
        let filled = |name| Some((name, self.get(name)?));
        names.into_iter().filter_map(filled)
    }
}

/// All but the unreserved characters of RFC 3986, section 2.3.
const RESERVED: &AsciiSet = &NON_ALPHANUMERIC
    .remove(b'-')
    .remove(b'.')
    .remove(b'_')
    .remove(b'~');

/// Fields as the question of an address, its mark not with them.
pub(crate) fn query<'f>(fields: impl IntoIterator<Item = (&'f str, &'f str)>) -> String {
    let coded = |text| utf8_percent_encode(text, RESERVED);
    let fields = fields.into_iter();
    let pairs: Vec<String> = fields
        .map(|(name, value)| format!("{}={}", coded(name), coded(value)))
        .collect();
    pairs.join("&")
}

/// Fields that a form sends along unseen.
pub(crate) fn along<'f>(fields: impl IntoIterator<Item = (&'f str, &'f str)>) -> Markup {
    html! { @for (name, value) in fields { input type="hidden" name=(name) value=(value); } }
}

/// What was typed for a number, as it is written on sheets: a point for a comma, a plain minus, no sign for plus and no
/// degrees.
pub(crate) fn plain(typed: &str) -> String {
    quantity::plain_decimal(typed)
}

/// Whether it is a plain decimal and nothing else.
pub(crate) fn is_number(text: &str) -> bool {
    let digits = text.strip_prefix('-').unwrap_or(text);
    digits.bytes().any(|b| b.is_ascii_digit())
        && digits.bytes().all(|b| b.is_ascii_digit() || b == b'.')
}

/// A number as it is written in a field: with no more figures than it bears.
pub(crate) fn written(x: f64, places: usize) -> String {
    let text = format!("{x:.places$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    match text {
        "-0" | "" => "0".to_owned(),
        text => text.to_owned(),
    }
}

/// A field's label.
pub(crate) fn label(locale: &Locale, field: &str) -> String {
    match field {
        "clock" => say!(locale, "enter-clock"),
        "complaint" => say!(locale, "enter-complaint"),
        "owner" => say!(locale, "enter-owner"),
        "reach" => say!(locale, "enter-reach"),
        "to" => say!(locale, "enter-to"),
        "promised" => say!(locale, "enter-promised"),
        "what" => say!(locale, "enter-what"),
        "value" => say!(locale, "enter-value"),
        "unit" => say!(locale, "enter-unit"),
        "spread" => say!(locale, "enter-spread"),
        "part" => say!(locale, "enter-part"),
        "says" => say!(locale, "enter-says"),
        "place" => say!(locale, "enter-place"),
        "oil" => say!(locale, "enter-oil-kind"),
        "hours" => say!(locale, "enter-hours"),
        "rate" => say!(locale, "enter-rate"),
        "beat" => say!(locale, "enter-beat"),
        "arc" => say!(locale, "enter-arc"),
        "picture" => say!(locale, "enter-picture-file"),
        "when" => say!(locale, "enter-picture-when"),
        "by" => say!(locale, "way-by"),
        "teeth" => say!(locale, "lesson-teeth"),
        "way" => say!(locale, "lesson-way"),
        other => other.to_owned(),
    }
}

/// What is wrong with a form: the field by its name, and what was typed; nothing, where it has to say something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct FieldFault {
    pub(crate) field: String,
    pub(crate) got: String,
}

/// Characters that a line of text may have: as many as the page lets be typed, counted as browsers do, in UTF-16 (HTML, 4.10.18.3,
/// from memory).
pub(crate) const LONGEST: usize = 2000;

/// Whether a line is longer than is taken.
pub(crate) fn is_long(typed: &str) -> bool {
    typed.encode_utf16().count() > LONGEST
}

impl FieldFault {
    pub(crate) fn of(field: &str, got: &str) -> FieldFault {
        FieldFault {
            field: field.to_owned(),
            got: got.to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_taken_as_people_type_them() {
        for (typed, taken) in [
            (" +1,5° ", "1.5"),
            ("−1.2", "-1.2"),
            ("-1.2~0.1", "-1.2~0.1"),
            ("edge-short", "edge-short"),
        ] {
            assert_eq!(plain(typed), taken);
        }
        assert!(is_number("-1.25") && is_number("3"));
        assert!(!is_number("-") && !is_number("1.2~3") && !is_number("edge-short"));
    }

    #[test]
    fn an_address_takes_any_text() {
        let fields = [
            ("must", "fly:third=10"),
            ("says", "a b+c&d-.~_é\n"),
            ("all", ""),
        ];
        assert_eq!(
            query(fields),
            "must=fly%3Athird%3D10&says=a%20b%2Bc%26d-.~_%C3%A9%0A&all="
        );
        assert_eq!(query([]), "");
    }

    #[test]
    fn numbers_bear_no_noughts_at_their_end() {
        assert_eq!(written(-1.20004, 3), "-1.2");
        assert_eq!(written(-0.0001, 2), "0");
        assert_eq!(written(75.0, 1), "75");
    }
}
