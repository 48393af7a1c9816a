//! What a form sends: names and values, in the order of the page; and how they are sent along again.

use maud::{Markup, html};
use percent_encoding::{AsciiSet, NON_ALPHANUMERIC, utf8_percent_encode};
use report::{Words, say};

/// The fields of a form, or of what stands after the question mark of an address.
#[derive(Debug, Clone, Default)]
pub(crate) struct Fields(pub(crate) Vec<(String, String)>);

impl Fields {
    /// The last value under a name; nothing where it is empty.
    pub(crate) fn get(&self, name: &str) -> Option<&str> {
        (self.0.iter().rev())
            .find(|(n, _)| n == name)
            .map(|(_, value)| value.trim())
            .filter(|value| !value.is_empty())
    }

    /// Whether a name is there at all.
    pub(crate) fn has(&self, name: &str) -> bool {
        self.0.iter().any(|(n, _)| n == name)
    }

    /// Those of some fields in which something stands.
    pub(crate) fn filled<'f>(
        &'f self,
        names: impl IntoIterator<Item = &'f str>,
    ) -> impl Iterator<Item = (&'f str, &'f str)> {
        let filled = |name| Some((name, self.get(name)?));
        names.into_iter().filter_map(filled)
    }

    /// A whole number under a name.
    pub(crate) fn count(&self, name: &str) -> Option<usize> {
        self.get(name)?.parse().ok()
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

/// A sheet as it was typed: browsers send each line's end as two characters.
pub(crate) fn lines(typed: &str) -> String {
    typed.replace("\r\n", "\n") + "\n"
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
pub(crate) fn label(words: &Words, field: &str) -> String {
    match field {
        "clock" => say!(words, "enter-clock"),
        "complaint" => say!(words, "enter-complaint"),
        "owner" => say!(words, "enter-owner"),
        "reach" => say!(words, "enter-reach"),
        "to" => say!(words, "enter-to"),
        "promised" => say!(words, "enter-promised"),
        "what" => say!(words, "enter-what"),
        "value" => say!(words, "enter-value"),
        "unit" => say!(words, "enter-unit"),
        "spread" => say!(words, "enter-spread"),
        "part" => say!(words, "enter-part"),
        "says" => say!(words, "enter-says"),
        "place" => say!(words, "enter-place"),
        "oil" => say!(words, "enter-oil-kind"),
        "hours" => say!(words, "enter-hours"),
        "rate" => say!(words, "enter-rate"),
        "beat" => say!(words, "enter-beat"),
        "arc" => say!(words, "enter-arc"),
        "picture" => say!(words, "enter-picture-file"),
        "when" => say!(words, "enter-picture-when"),
        "by" => say!(words, "way-by"),
        "teeth" => say!(words, "lesson-teeth"),
        "way" => say!(words, "lesson-way"),
        other => other.to_owned(),
    }
}

/// What is wrong with a form: the field as it is labelled, and what was typed.
#[derive(Debug)]
pub(crate) struct FieldFault {
    pub(crate) field: &'static str,
    pub(crate) got: String,
    /// Whether it is longer than is taken, and nothing else.
    pub(crate) long: bool,
}

/// Characters that a line of text may have: as many as the page lets be typed, counted as browsers do, in UTF-16 (HTML, 4.10.18.3,
/// from memory).
pub(crate) const LONGEST: usize = 2000;

/// The texts that are entered.
const TEXTS: [&str; 11] = [
    "clock",
    "owner",
    "reach",
    "complaint",
    "what",
    "part",
    "says",
    "place",
    "oil",
    "to",
    "item",
];

/// That no text is longer than is taken.
pub(crate) fn short_enough(fields: &Fields) -> Result<(), FieldFault> {
    let long = |field: &&'static str| {
        let typed = fields.get(field).unwrap_or_default();
        typed.encode_utf16().count() > LONGEST
    };
    match TEXTS.into_iter().find(long) {
        Some(field) => Err(FieldFault {
            long: true,
            ..FieldFault::of(field, fields.get(field).unwrap_or_default())
        }),
        None => Ok(()),
    }
}

impl FieldFault {
    pub(crate) fn of(field: &'static str, got: &str) -> FieldFault {
        FieldFault {
            field,
            got: got.to_owned(),
            long: false,
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

    #[test]
    fn the_last_value_that_says_something_is_taken() {
        let fields = Fields(vec![
            ("a".to_owned(), "1".to_owned()),
            ("a".to_owned(), "2".to_owned()),
            ("b".to_owned(), " ".to_owned()),
        ]);
        assert_eq!(fields.get("a"), Some("2"));
        assert_eq!(fields.get("b"), None);
        assert!(fields.has("b") && !fields.has("c"));
        assert_eq!(fields.count("a"), Some(2));
    }
}
