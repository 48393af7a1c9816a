//! Sheets with one thing in them misspelled, as a hand or an editor does it: a key, its unit, a number.

use crate::Dice;
use crate::names::one;
use rand::RngExt;

/// What was misspelled, and how.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Misspelling {
    /// Two letters of a key changed about.
    KeySwapped,
    /// A letter of a key dropped.
    KeyDropped,
    /// A letter of a key doubled.
    KeyDoubled,
    /// A letter of a key struck beside.
    KeyBeside,
    /// A key with an `s` too much or too few.
    KeyPlural,
    /// A key with a hyphen for its underscore, or with none of either.
    KeyHyphen,
    /// A key with a capital.
    KeyCapital,
    /// A key with another unit, or without one.
    Unit,
    /// A number with a comma for its point.
    NumberComma,
    /// A number with its unit behind it, or a degree sign.
    NumberUnit,
    /// A number with a printed minus.
    NumberMinus,
    /// A number with a letter for a figure.
    NumberLetter,
    /// A number in quotes.
    NumberQuoted,
    /// A figure of a number dropped: another number.
    FigureDropped,
    /// Two figures of a number changed about: another number.
    FiguresSwapped,
    /// A figure of a number struck beside: another number.
    FigureBeside,
    /// The point of a number a place further: another number.
    PointMoved,
}

impl Misspelling {
    /// Slips after which something stands there that is no key, or no number.
    pub const OF_SPELLING: [Misspelling; 13] = [
        Misspelling::KeySwapped,
        Misspelling::KeyDropped,
        Misspelling::KeyDoubled,
        Misspelling::KeyBeside,
        Misspelling::KeyPlural,
        Misspelling::KeyHyphen,
        Misspelling::KeyCapital,
        Misspelling::Unit,
        Misspelling::NumberComma,
        Misspelling::NumberUnit,
        Misspelling::NumberMinus,
        Misspelling::NumberLetter,
        Misspelling::NumberQuoted,
    ];

    /// Slips after which another number stands there, which may be as good as the right one.
    pub const OF_FIGURES: [Misspelling; 4] = [
        Misspelling::FigureDropped,
        Misspelling::FiguresSwapped,
        Misspelling::FigureBeside,
        Misspelling::PointMoved,
    ];
}

/// A sheet with one slip in it.
#[derive(Debug, Clone)]
pub struct Misspelled {
    /// The whole sheet.
    pub text: String,
    /// The line as it should be.
    pub right: String,
    /// As it stands there.
    pub wrong: String,
    /// The key that was misspelled, or whose number was.
    pub key: String,
}

/// A copy of a sheet with such a slip in one place, where there is a place for it. `known` are the keys that a sheet can have;
/// what the writer named is left alone, its counts apart.
pub fn misspell(
    text: &str,
    slip: Misspelling,
    known: &[&str],
    dice: &mut Dice,
) -> Option<Misspelled> {
    let lines: Vec<&str> = text.split('\n').collect();
    let start = dice.random_range(0..lines.len());
    // From some line on, the first that such a slip can be made in.
    (0..lines.len())
        .map(|i| (start + i) % lines.len())
        .find_map(|at| {
            let right = lines[at];
            let (key, wrong) = of_line(right, slip, known, dice)?;
            let mut all = lines.clone();
            all[at] = &wrong;
            let text = all.join("\n");
            Some(Misspelled {
                text,
                right: right.to_owned(),
                key,
                wrong,
            })
        })
}

fn of_line(
    line: &str,
    slip: Misspelling,
    known: &[&str],
    dice: &mut Dice,
) -> Option<(String, String)> {
    if line.trim_start().starts_with('#') || line.trim().is_empty() {
        return None;
    }
    if Misspelling::OF_FIGURES.contains(&slip)
        || matches!(
            slip,
            Misspelling::NumberComma
                | Misspelling::NumberUnit
                | Misspelling::NumberMinus
                | Misspelling::NumberLetter
                | Misspelling::NumberQuoted
        )
    {
        return number(line, slip, dice);
    }
    // A heading, or the key of a line.
    let span = match line.strip_prefix('[') {
        Some(_) => {
            let from = line.find(|c: char| c.is_ascii_alphabetic())?;
            let many = line[from..]
                .find(|c: char| !is_key(c))
                .unwrap_or(line.len() - from);
            from..from + many
        }
        None => 0..line.find(" = ")?,
    };
    let key = line[span.clone()].to_owned();
    if !known.contains(&key.as_str()) {
        return None;
    }
    let wrong = of_key(&key, slip, dice)?;
    Some((
        key.clone(),
        format!("{}{wrong}{}", &line[..span.start], &line[span.end..]),
    ))
}

fn is_key(c: char) -> bool {
    c.is_ascii_alphanumeric() || c == '_' || c == '-'
}

/// What lies beside each key of a board, as most have them.
const BESIDE: [(char, &str); 26] = [
    ('a', "qsz"),
    ('b', "vn"),
    ('c', "xv"),
    ('d', "sfe"),
    ('e', "wrd"),
    ('f', "dgr"),
    ('g', "fht"),
    ('h', "gjy"),
    ('i', "uok"),
    ('j', "hku"),
    ('k', "jli"),
    ('l', "ko"),
    ('m', "n"),
    ('n', "bm"),
    ('o', "ipl"),
    ('p', "ol"),
    ('q', "wa"),
    ('r', "etf"),
    ('s', "adw"),
    ('t', "ryg"),
    ('u', "yij"),
    ('v', "cb"),
    ('w', "qes"),
    ('x', "zc"),
    ('y', "tuh"),
    ('z', "xa"),
];

fn beside(c: char, dice: &mut Dice) -> Option<char> {
    let near: Vec<char> = match c {
        '0'..='9' => {
            let n = c.to_digit(10)?;
            [n.checked_sub(1), Some(n + 1).filter(|n| *n < 10)]
                .into_iter()
                .flatten()
                .filter_map(|n| char::from_digit(n, 10))
                .collect()
        }
        _ => BESIDE
            .iter()
            .find(|(key, _)| *key == c)?
            .1
            .chars()
            .collect(),
    };
    Some(one(&near, dice))
}

fn of_key(key: &str, slip: Misspelling, dice: &mut Dice) -> Option<String> {
    let letters: Vec<char> = key.chars().collect();
    let at = dice.random_range(0..letters.len());
    let mut wrong = letters.clone();
    match slip {
        Misspelling::KeySwapped => {
            let at = at.min(letters.len().checked_sub(2)?);
            wrong.swap(at, at + 1);
        }
        Misspelling::KeyDropped => {
            wrong.remove(at);
        }
        Misspelling::KeyDoubled => wrong.insert(at, letters[at]),
        Misspelling::KeyBeside => wrong[at] = beside(letters[at], dice)?,
        Misspelling::KeyPlural => match letters.last() {
            Some('s') => {
                wrong.pop();
            }
            _ => wrong.push('s'),
        },
        Misspelling::KeyHyphen => {
            let at = letters.iter().position(|c| *c == '_')?;
            match dice.random_bool(0.5) {
                true => wrong[at] = '-',
                false => {
                    wrong.remove(at);
                }
            }
        }
        Misspelling::KeyCapital => wrong[at] = letters[at].to_ascii_uppercase(),
        Misspelling::Unit => {
            let (stem, unit) = key.rsplit_once('_')?;
            let others: &[&str] = match unit {
                "mm" => &["_cm", "_in", "_m", "_um", "_inch", ""],
                "deg" => &["_rad", "_degrees", "_turns", "_mm", ""],
                "g" => &["_kg", "_lb", "_oz", ""],
                "turns" => &["_turn", "_rev", "_deg", ""],
                "s" => &["_min", "_sec", "_h", ""],
                "teeth" => &["_tooth", "_mm", ""],
                _ => return None,
            };
            return Some(format!("{stem}{}", one(others, dice)));
        }
        _ => return None,
    }
    let wrong: String = wrong.into_iter().collect();
    (wrong != key && !wrong.is_empty()).then_some(wrong)
}

/// A slip in a number behind a key, or in one of a list.
fn number(line: &str, slip: Misspelling, dice: &mut Dice) -> Option<(String, String)> {
    let (key, value) = line.split_once(" = ")?;
    let value = value.split('#').next()?.trim_end();
    let start = key.len() + 3;
    if key == "sheet" || value.contains(['"', '\'']) && !value.contains('{') {
        return None;
    }
    let mut spans = Vec::new();
    let mut from = None;
    for (i, c) in value.char_indices().chain([(value.len(), ' ')]) {
        let figure = c.is_ascii_digit() || c == '.' || c == '-';
        match (from, figure) {
            (None, true) => from = Some(i),
            (Some(f), false) => {
                spans.push(f..i);
                from = None;
            }
            _ => {}
        }
    }
    spans.retain(|span| value[span.clone()].parse::<f64>().is_ok());
    if spans.is_empty() {
        return None;
    }
    let span = spans[dice.random_range(0..spans.len())].clone();
    let right = &value[span.clone()];
    let wrong = of_number(right, key, slip, dice)?;
    if wrong
        .parse::<f64>()
        .ok()
        .is_some_and(|n| Some(n) == right.parse::<f64>().ok())
    {
        return None;
    }
    let line = format!(
        "{}{wrong}{}",
        &line[..start + span.start],
        &line[start + span.end..]
    );
    Some((key.to_owned(), line))
}

fn of_number(right: &str, key: &str, slip: Misspelling, dice: &mut Dice) -> Option<String> {
    let figures: Vec<usize> = (right.char_indices())
        .filter(|(_, c)| c.is_ascii_digit())
        .map(|(i, _)| i)
        .collect();
    let mut letters: Vec<char> = right.chars().collect();
    let at = figures[dice.random_range(0..figures.len())];
    match slip {
        Misspelling::NumberComma => {
            right.contains('.').then_some(())?;
            return Some(right.replace('.', ","));
        }
        Misspelling::NumberUnit => {
            let unit = if key.ends_with("_deg") {
                "°"
            } else {
                key.rsplit_once('_').map_or("mm", |(_, unit)| unit)
            };
            return Some(format!("{right}{}{unit}", one(&["", " "], dice)));
        }
        Misspelling::NumberMinus => return right.strip_prefix('-').map(|n| format!("−{n}")),
        Misspelling::NumberLetter => {
            let at = figures
                .iter()
                .find(|at| matches!(letters[**at], '0' | '1'))?;
            letters[*at] = if letters[*at] == '0' { 'O' } else { 'l' };
        }
        Misspelling::NumberQuoted => return Some(format!("\"{right}\"")),
        Misspelling::FigureDropped => {
            (figures.len() > 1).then_some(())?;
            letters.remove(at);
        }
        Misspelling::FiguresSwapped => {
            let i = figures.iter().position(|f| *f == at)?;
            let other = *figures.get(i + 1)?;
            letters.swap(at, other);
        }
        Misspelling::FigureBeside => letters[at] = beside(letters[at], dice)?,
        Misspelling::PointMoved => {
            let tenth = dice.random_bool(0.5);
            let number: f64 = right.parse().ok()?;
            let moved = if tenth { number / 10.0 } else { number * 10.0 };
            return Some(format!("{moved}"));
        }
        _ => return None,
    }
    let wrong: String = letters.into_iter().collect();
    // A nought before a number, which no one would write, is no slip of figures.
    let plain = wrong.trim_start_matches('-');
    let odd = Misspelling::OF_FIGURES.contains(&slip)
        && (wrong.parse::<f64>().is_err()
            || plain.starts_with("00")
            || plain.starts_with('.')
            || (plain.starts_with('0') && plain.len() > 1 && !plain.starts_with("0."))
            || plain.ends_with('.'));
    (!odd).then_some(wrong)
}
