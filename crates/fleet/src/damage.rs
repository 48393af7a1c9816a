//! Sheets damaged on purpose: as a slip of the pen, a bad copy, or a wrong idea of the form would.

use crate::Dice;
use crate::names::one;
use rand::RngExt;

/// A damaged copy of a sheet: one to three kinds of damage, of letters, words, lines, keys, values or tables. Some of
/// them do no harm.
pub fn mutate(text: &str, dice: &mut Dice) -> String {
    let mut text = text.to_owned();
    for _ in 0..one(&[1, 1, 2, 2, 3], dice) {
        text = match dice.random_range(0..12) {
            0 | 1 => letters(&text, dice),
            2 => words(&text, dice),
            3 | 4 => numbers(&text, dice),
            5 | 6 => lines(&text, dice),
            7 => keys(&text, dice),
            8 => values(&text, dice),
            9 | 10 => tables(&text, dice),
            _ => dress(&text, dice),
        };
    }
    text
}

const ABSURD: [&str; 17] = [
    "0",
    "-1",
    "1",
    "2",
    "6",
    "144",
    "360",
    "9999",
    "999999999999",
    "0.001",
    "1e-9",
    "1e9",
    "1e300",
    "nan",
    "inf",
    "\"?\"",
    "[]",
];

/// A copy with at most two values set to what nobody counts or measures.
pub fn absurd(text: &str, dice: &mut Dice) -> String {
    let mut lines: Vec<String> = text.split('\n').map(str::to_owned).collect();
    for _ in 0..dice.random_range(0..3) {
        let Some(at) = some(&keyed(&lines), dice) else {
            break;
        };
        let key = lines[at].split(" = ").next().unwrap_or_default();
        lines[at] = format!("{key} = {}", one(&ABSURD, dice));
    }
    lines.join("\n")
}

/// A copy with one byte changed, so that it may be no text at all any more.
pub fn flip_byte(text: &str, dice: &mut Dice) -> Vec<u8> {
    let mut bytes = text.as_bytes().to_vec();
    if !bytes.is_empty() {
        let at = dice.random_range(0..bytes.len());
        bytes[at] ^= dice.random_range(1..=255u8);
    }
    bytes
}

const ODD_LETTERS: [&str; 18] = [
    "\"", "'", "[", "]", "{", "}", "=", ".", "#", "\\", "\n", "\t", "\u{0}", "\u{feff}", "é", "٣",
    "0", "a",
];

fn letters(text: &str, dice: &mut Dice) -> String {
    let letters: Vec<char> = text.chars().collect();
    if letters.is_empty() {
        return one(&ODD_LETTERS, dice).to_owned();
    }
    let at = dice.random_range(0..letters.len());
    let head: String = letters[..at].iter().collect();
    let here = letters[at];
    let tail: String = letters[at + 1..].iter().collect();
    match dice.random_range(0..5) {
        0 => head + &tail,
        1 => format!("{head}{here}{here}{tail}"),
        2 => format!("{head}{}{here}{tail}", one(&ODD_LETTERS, dice)),
        3 => format!("{head}{}{tail}", dice.random_range('a'..='z')),
        _ => {
            let next: String = tail.chars().take(1).collect();
            format!("{head}{next}{here}{}", &tail[next.len()..])
        }
    }
}

/// The words of a text: where each begins and ends.
fn spans(text: &str, part_of: impl Fn(char) -> bool) -> Vec<std::ops::Range<usize>> {
    let mut spans = Vec::new();
    let mut start = None;
    for (i, c) in text.char_indices().chain([(text.len(), '\n')]) {
        match (start, part_of(c) && i < text.len()) {
            (None, true) => start = Some(i),
            (Some(from), false) => {
                spans.push(from..i);
                start = None;
            }
            _ => {}
        }
    }
    spans
}

fn replaced(text: &str, span: std::ops::Range<usize>, with: &str) -> String {
    format!("{}{with}{}", &text[..span.start], &text[span.end..])
}

fn some<T: Clone>(list: &[T], dice: &mut Dice) -> Option<T> {
    (!list.is_empty()).then(|| list[dice.random_range(0..list.len())].clone())
}

/// One word in the place of another, or the two changed about.
fn words(text: &str, dice: &mut Dice) -> String {
    let words = spans(text, |c| c.is_ascii_alphanumeric() || c == '_');
    let (Some(one), Some(other)) = (some(&words, dice), some(&words, dice)) else {
        return text.to_owned();
    };
    let (first, second) = if one.start <= other.start {
        (one, other)
    } else {
        (other, one)
    };
    let copied = replaced(text, second.clone(), &text[first.clone()]);
    if dice.random_bool(0.5) && first.end <= second.start {
        replaced(&copied, first, &text[second])
    } else {
        copied
    }
}

const ODD_NUMBERS: [&str; 24] = [
    "0",
    "-1",
    "1",
    "3",
    "4",
    "5",
    "6",
    "7",
    "8",
    "12",
    "78",
    "90",
    "1000",
    "1001",
    "360",
    "-360.5",
    "0.0001",
    "1e3",
    "1e999",
    "9223372036854775808",
    "nan",
    "-inf",
    "0x1f",
    "12_000",
];

fn numbers(text: &str, dice: &mut Dice) -> String {
    let numbers: Vec<_> = spans(text, |c| c.is_ascii_alphanumeric() || "._-".contains(c))
        .into_iter()
        .filter(|span| text[span.clone()].parse::<f64>().is_ok())
        .collect();
    let Some(span) = some(&numbers, dice) else {
        return text.to_owned();
    };
    let number = &text[span.clone()];
    let other = match (dice.random_range(0..3), number.parse::<i64>()) {
        (0, Ok(n)) => (n + dice.random_range(-2..=2)).to_string(),
        (1, Ok(n)) => n.saturating_mul(dice.random_range(0..=3)).to_string(),
        (1, Err(_)) => format!("{number}{}", dice.random_range(0..10)),
        _ => one(&ODD_NUMBERS, dice).to_owned(),
    };
    replaced(text, span, &other)
}

fn lines(text: &str, dice: &mut Dice) -> String {
    let mut lines: Vec<&str> = text.split('\n').collect();
    let at = dice.random_range(0..lines.len());
    let other = dice.random_range(0..lines.len());
    match dice.random_range(0..5) {
        0 => {
            lines.remove(at);
        }
        1 => lines.insert(other, lines[at]),
        2 => lines.swap(at, other),
        3 => {
            let moved = lines.remove(at);
            lines.insert(other.min(lines.len()), moved);
        }
        _ => lines.truncate(at.max(lines.len() / 2)),
    }
    lines.join("\n")
}

/// The lines with a key and a value, by number.
fn keyed(lines: &[String]) -> Vec<usize> {
    (0..lines.len())
        .filter(|&i| lines[i].contains(" = "))
        .collect()
}

fn of_lines(text: &str) -> Vec<String> {
    text.split('\n').map(str::to_owned).collect()
}

const ODD_KEYS: [&str; 10] = [
    "wheel", "pinion", "runs", "driver", "driven", "repeat", "window", "hold_deg", "\"\"", "a.b",
];

fn keys(text: &str, dice: &mut Dice) -> String {
    let mut lines = of_lines(text);
    if let Some(i) = some(&keyed(&lines), dice)
        && let Some((key, value)) = lines[i].split_once(" = ")
    {
        lines[i] = match dice.random_range(0..4) {
            0 => format!("{} = {value}", letters(key, dice)),
            1 => format!("{} = {value}", one(&ODD_KEYS, dice)),
            2 => format!("{key}_mm = {value}"),
            _ => format!("{key} = {value}\n{} = {value}", one(&ODD_KEYS, dice)),
        };
    }
    lines.join("\n")
}

const ODD_VALUES: [&str; 20] = [
    "true",
    "false",
    "\"\"",
    "\"clockwise\"",
    "\"counterclockwise\"",
    "\"outside\"",
    "\"front\"",
    "\"no.such\"",
    "[]",
    "[0, 1]",
    "[1.0, -1.0]",
    "[[[[[[[[]]]]]]]]",
    "{}",
    "{ teeth = 9 }",
    "{ teeth = 9, form = \"cut\" }",
    "0",
    "40",
    "-7.5",
    "1979-05-27",
    "'''many\nlines'''",
];

fn values(text: &str, dice: &mut Dice) -> String {
    let mut lines = of_lines(text);
    let keyed = keyed(&lines);
    let Some(i) = some(&keyed, dice) else {
        return text.to_owned();
    };
    let value = match some(&keyed, dice).and_then(|j| lines[j].split_once(" = ")) {
        Some((_, value)) if dice.random_bool(0.3) => value.to_owned(),
        _ => one(&ODD_VALUES, dice).to_owned(),
    };
    if let Some((key, _)) = lines[i].split_once(" = ") {
        lines[i] = format!("{key} = {value}");
    }
    lines.join("\n")
}

/// Whole tables left out, said twice, or in another order.
fn tables(text: &str, dice: &mut Dice) -> String {
    let mut tables: Vec<&str> = text.split("\n[").collect();
    if tables.len() < 3 {
        return text.to_owned();
    }
    // The head stays where it is: the keys of the sheet itself must come first.
    let at = dice.random_range(1..tables.len());
    let other = dice.random_range(1..tables.len());
    match dice.random_range(0..5) {
        0 => {
            tables.remove(at);
        }
        1 => tables.insert(other, tables[at]),
        2 => {
            let moved = tables.remove(at);
            tables.insert(other.min(tables.len()), moved);
        }
        _ => tables.swap(at, other),
    }
    tables.join("\n[")
}

/// What an editor does: line ends, marks, spaces, remarks. No harm in it.
fn dress(text: &str, dice: &mut Dice) -> String {
    match dice.random_range(0..5) {
        0 => text.replace('\n', "\r\n"),
        1 => format!("\u{feff}{text}"),
        2 => text.replace(" = ", "="),
        3 => text.replace('\n', "  # as counted\n"),
        _ => format!("\n\n{text}\n\n"),
    }
}
