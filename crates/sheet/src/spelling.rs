//! Slips in how a number, a text or a name is written, and the right spelling.

use crate::fault::SpellingSlip;
use crate::written::is_name;
use std::ops::Range;
use toml::de::DeValue;

/// Quotes that an editor makes of straight ones.
const CURLY: [char; 9] = ['“', '”', '„', '‟', '«', '»', '‘', '’', '‚'];
/// Strokes that look like a minus.
const STROKES: [char; 5] = ['−', '–', '—', '‐', '‑'];

/// A slip in a line of TOML.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct LineSlip {
    /// Where it stands in the line.
    pub(crate) span: Range<usize>,
    /// What was written there.
    pub(crate) slip: SpellingSlip,
    /// What it should be.
    pub(crate) right: String,
}

/// What a line of TOML that breaks off was to be.
pub(crate) fn slip(line: &str) -> Option<LineSlip> {
    let line = uncommented(line);
    let (key, value) = line.split_once('=')?;
    let start = key.len() + 1;
    let from = start + value.len() - value.trim_start().len();
    let value = value.trim();
    let whole = from..from + value.len();
    let told = |slip, right: String| {
        Some(LineSlip {
            span: whole.clone(),
            slip,
            right,
        })
    };
    if value.contains(CURLY) {
        return told(SpellingSlip::Quotes, straight(value));
    }
    let quotes = value.matches(['"', '\'']).count();
    if quotes == 1 {
        let word = value.replace(['"', '\''], "");
        return told(SpellingSlip::Unclosed, format!("\"{}\"", word.trim()));
    }
    if quotes == 0 && value.starts_with(|c: char| c.is_ascii_alphabetic()) && words(value) {
        return told(SpellingSlip::Unquoted, format!("\"{value}\""));
    }
    // A number, or a list of them, with something in it that no number has.
    let mut slip = None;
    let right = match value.strip_prefix('[').and_then(|v| v.strip_suffix(']')) {
        Some(list) => {
            let parts: Vec<String> = (list.split(", "))
                .map(|part| {
                    let (found, right) = number(part)?;
                    slip = slip.or(found);
                    Some(right)
                })
                .collect::<Option<_>>()?;
            format!("[{}]", parts.join(", "))
        }
        None => {
            let (found, right) = number(value)?;
            slip = found;
            right
        }
    };
    told(slip?, right)
}

/// A value with straight quotes where an editor made others. What a text has in quotes within itself stays as it is.
fn straight(value: &str) -> String {
    if value.starts_with(['[', '{']) {
        return value.replace(CURLY, "\"");
    }
    let quote = |c: char| CURLY.contains(&c) || c == '"';
    let text = value.strip_prefix(quote).unwrap_or(value);
    let text = text.strip_suffix(quote).unwrap_or(text);
    format!("\"{}\"", text.replace('"', "'"))
}

/// A line without the remark at its end.
fn uncommented(line: &str) -> &str {
    let mut quoted = false;
    for (i, c) in line.char_indices() {
        match c {
            '"' => quoted = !quoted,
            '#' if !quoted => return &line[..i],
            _ => {}
        }
    }
    line
}

fn words(value: &str) -> bool {
    let word = |c: char| c.is_ascii_alphanumeric() || " _.'-".contains(c);
    value.chars().all(word) && !["true", "false", "nan", "inf"].contains(&value)
}

/// A number as TOML writes it, of one that is written as people write it; and the first slip in it, where there is one.
pub(crate) fn number(written: &str) -> Option<(Option<SpellingSlip>, String)> {
    let mut slip = None;
    let mut told = |found| slip = slip.or(Some(found));
    let mut text = written.trim().to_owned();
    if let Some(rest) = text.strip_prefix(STROKES) {
        text = format!("-{}", rest.trim_start());
        told(SpellingSlip::Minus);
    }
    let figures = |c: char| c.is_ascii_digit() || ".,-+_ ".contains(c);
    let alike = |c: char| "oOlI".contains(c);
    let end = text
        .find(|c: char| !figures(c) && !alike(c))
        .unwrap_or(text.len());
    let (head, tail) = text.split_at(end);
    let tail = tail.trim();
    if tail.starts_with('°') || tail.starts_with('º') {
        told(SpellingSlip::Degree);
    } else if !tail.is_empty() {
        const UNITS: [&str; 16] = [
            "mm", "cm", "um", "µm", "deg", "degrees", "g", "kg", "n", "nm", "turns", "turn", "s",
            "teeth", "tooth", "in",
        ];
        if !UNITS.contains(&tail.to_lowercase().as_str()) {
            return None;
        }
        // Another unit is another number.
        if ["cm", "kg", "in"].contains(&tail.to_lowercase().as_str()) {
            return None;
        }
        told(SpellingSlip::Unit);
    }
    let mut head = head.trim().to_owned();
    if head.contains(alike) {
        if !head.contains(|c: char| c.is_ascii_digit()) {
            return None;
        }
        head = head.replace(['o', 'O'], "0").replace(['l', 'I'], "1");
        told(SpellingSlip::Letter);
    }
    if head.contains(',') {
        if head.matches(',').count() > 1 || head.contains('.') {
            return None;
        }
        head = head.replace(',', ".");
        told(SpellingSlip::Comma);
    }
    if head.starts_with('.') || head.starts_with("-.") {
        head = head.replacen('.', "0.", 1);
    }
    if head.ends_with('.') {
        head.push('0');
    }
    head.parse::<f64>().ok()?;
    Some((slip, head))
}

/// The number that stands in a text, where it was to be one.
pub(crate) fn number_in(value: &DeValue<'_>) -> Option<String> {
    let text = value.as_str()?;
    number(text).map(|(_, right)| right)
}

/// The word that may have been meant.
pub(crate) fn near_word(text: &str, words: &[&'static str]) -> Option<String> {
    movement::near(&text.trim().to_lowercase(), words.iter().copied()).map(str::to_owned)
}

/// The two numbers of a list of four, where a comma was written for each point.
pub(crate) fn pair_in(value: &DeValue<'_>) -> Option<String> {
    let list = value.as_array()?;
    let whole: Vec<&str> = (list.iter())
        .map(|item| item.get_ref().as_integer().map(|n| n.as_str()))
        .collect::<Option<_>>()?;
    let [a, b, c, d] = whole[..] else {
        return None;
    };
    let fraction = |n: &str| n.bytes().all(|b| b.is_ascii_digit());
    (fraction(b) && fraction(d)).then(|| format!("[{a}.{b}, {c}.{d}]"))
}

/// The name that may have been meant by a text that is none: small letters, `_` for what stands between.
pub(crate) fn name_in(text: &str) -> Option<String> {
    let name: String = (text.trim().to_lowercase()).replace([' ', '-', '.'], "_");
    is_name(&name).then_some(name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_to_be_written() {
        for (line, slip_told, right_told) in [
            ("pivot_mm = 1,5", SpellingSlip::Comma, "1.5"),
            ("pivot_mm = 1,5   # by calliper", SpellingSlip::Comma, "1.5"),
            ("best_deg = −75.0", SpellingSlip::Minus, "-75.0"),
            ("best_deg = 1.2°", SpellingSlip::Degree, "1.2"),
            ("best_deg = −1,2°", SpellingSlip::Minus, "-1.2"),
            ("pivot_mm = 19mm", SpellingSlip::Unit, "19"),
            ("pivot_mm = 19 mm", SpellingSlip::Unit, "19"),
            ("wheel = 7O", SpellingSlip::Letter, "70"),
            (
                "window_deg = [−1.0, 1.0]",
                SpellingSlip::Minus,
                "[-1.0, 1.0]",
            ),
            (
                "window_deg = [-1.0°, 1.0°]",
                SpellingSlip::Degree,
                "[-1.0, 1.0]",
            ),
            (
                "name = “Wren Street”",
                SpellingSlip::Quotes,
                "\"Wren Street\"",
            ),
            (
                "name = “The “old” clock”",
                SpellingSlip::Quotes,
                "\"The “old” clock\"",
            ),
            (
                "name = \"Wren Street”",
                SpellingSlip::Quotes,
                "\"Wren Street\"",
            ),
            ("runs = clockwise", SpellingSlip::Unquoted, "\"clockwise\""),
            (
                "runs = \"clockwise",
                SpellingSlip::Unclosed,
                "\"clockwise\"",
            ),
        ] {
            let told = slip(line).map(|it| (it.slip, it.right));
            assert_eq!(told, Some((slip_told, right_told.to_owned())), "{line}");
        }
        for line in ["wheel = = 90", "[arbor.second", "x = 1.2.3", "x = 3 kg"] {
            assert_eq!(slip(line), None, "{line}");
        }
    }
}
