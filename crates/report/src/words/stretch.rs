//! The test language: vowels twice, brackets round every message, and more at its end until it is long enough.

use std::borrow::Cow;

/// How much longer a message is at least, of its own length.
const LONGER: f64 = 0.4;

/// A stretch of a message with its vowels twice; marks are left alone.
pub(super) fn vowels(text: &str) -> Cow<'_, str> {
    let mut longer = String::with_capacity(2 * text.len());
    let mut mark = false;
    for c in text.chars() {
        mark = (mark || c == '<') && c != '>';
        longer.push(c);
        if !mark && "aeiouy".contains(c) {
            longer.push(c);
        }
    }
    Cow::Owned(longer)
}

/// A longer message in brackets, filled up with dashes until it is long enough. Messages within it have brackets of their
/// own, and are as long as they should be.
pub(super) fn bracketed(english: &str, longer: &str) -> String {
    let (plain, long) = (own(english), own(longer));
    let fill = (0..)
        .find(|fill| f64::from(*fill) + length(long) >= (1.0 + LONGER) * length(plain))
        .unwrap_or(0);
    let fill: String = (0..fill)
        .map(|i| if i % 8 == 0 { ' ' } else { '~' })
        .collect();
    format!("⟦{longer}{fill}⟧")
}

fn length(count: u32) -> f64 {
    f64::from(count)
}

/// Characters outside brackets and marks.
fn own(text: &str) -> u32 {
    let (mut depth, mut mark, mut own) = (0_u32, false, 0);
    for c in text.chars() {
        match c {
            '⟦' => depth += 1,
            '⟧' => depth = depth.saturating_sub(1),
            '<' => mark = true,
            '>' => mark = false,
            _ if depth == 0 && !mark => own += 1,
            _ => {}
        }
    }
    own
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_message_is_in_brackets_and_two_fifths_longer() {
        for english in ["Undo", "Hmm", "Press it on.", "x"] {
            let longer = bracketed(english, &vowels(english));
            assert!(longer.starts_with('⟦') && longer.ends_with('⟧'));
            let inside = longer.chars().count() - 2;
            assert!(5 * inside >= 7 * english.chars().count(), "{longer}");
        }
    }

    #[test]
    fn marks_stay_as_they_are() {
        assert_eq!(vowels("<m>up</m>"), "<m>uup</m>");
        assert_eq!(own("a <m>bc</m>"), 4);
        assert_eq!(own("a ⟦bc⟧ d"), 4);
    }
}
