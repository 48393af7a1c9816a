//! What a word processor or a telephone makes of a text, put straight before it is read.
//!
//! Remarks and what stands between straight quotes are left as they are: there every letter is meant.

use std::borrow::Cow;
use toml_edit::DocumentMut;

/// Quotes that an editor makes of straight ones.
const DOUBLE: [char; 6] = ['“', '”', '„', '‟', '«', '»'];
/// The same of single ones.
const SINGLE: [char; 3] = ['‘', '’', '‚'];
/// Strokes that look like a minus.
const STROKES: [char; 5] = ['−', '–', '—', '‐', '‑'];
/// Blanks that are none to TOML.
const BLANKS: [char; 4] = ['\u{a0}', '\u{202f}', '\u{2007}', '\u{2009}'];

/// A sheet's text without a byte order mark and, where it cannot be read as it stands, with curly quotes, blanks of other
/// kinds and strokes for a minus put straight.
pub fn straightened(text: &str) -> Cow<'_, str> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    match text.parse::<DocumentMut>() {
        Ok(_) => Cow::Borrowed(text),
        Err(_) => Cow::Owned(text.split_inclusive('\n').map(line).collect()),
    }
}

/// Where a line has come to.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Within {
    Plain,
    Remark,
    /// Between straight quotes of this sort.
    Quoted(char),
    /// Behind a curly quote.
    Curly,
}

fn line(line: &str) -> String {
    let mut within = Within::Plain;
    let mut straight = String::with_capacity(line.len());
    for c in line.chars() {
        let (put, next) = match within {
            Within::Remark => (c, Within::Remark),
            Within::Quoted(end) if c == end => (c, Within::Plain),
            Within::Quoted(end) => (c, Within::Quoted(end)),
            Within::Curly if DOUBLE.contains(&c) || SINGLE.contains(&c) || c == '"' => {
                ('"', Within::Plain)
            }
            Within::Curly => (c, Within::Curly),
            Within::Plain if c == '#' => (c, Within::Remark),
            Within::Plain if c == '"' || c == '\'' => (c, Within::Quoted(c)),
            Within::Plain if DOUBLE.contains(&c) || SINGLE.contains(&c) => ('"', Within::Curly),
            Within::Plain if STROKES.contains(&c) => ('-', Within::Plain),
            Within::Plain if BLANKS.contains(&c) => (' ', Within::Plain),
            Within::Plain => (c, Within::Plain),
        };
        straight.push(put);
        within = next;
    }
    straight
}
