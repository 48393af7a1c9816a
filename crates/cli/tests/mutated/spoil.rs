//! Bytes and lines spoiled as a bad card, a bad copy or somebody with bad intent would.

use fleet::Dice;
use rand::RngExt;

/// One of a list.
pub(crate) fn one<'a, T>(list: &'a [T], dice: &mut Dice) -> &'a T {
    &list[dice.random_range(0..list.len())]
}

/// A place in something so long; 0 in nothing.
pub(crate) fn place(long: usize, dice: &mut Dice) -> usize {
    if long == 0 {
        0
    } else {
        dice.random_range(0..long)
    }
}

/// Bytes with some flipped, cut off, doubled, left out, put in or written over.
pub(crate) fn bytes(good: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut spoilt = good.to_vec();
    for _ in 0..*one(&[1, 1, 1, 2, 3, 8], dice) {
        let at = place(spoilt.len(), dice);
        // Most of what can be misread stands at the beginning.
        let at = if dice.random_bool(0.4) { at % 128 } else { at }.min(spoilt.len());
        let to = (at + dice.random_range(0..64)).min(spoilt.len());
        match dice.random_range(0..8) {
            0..3 => {
                if let Some(byte) = spoilt.get_mut(at) {
                    *byte ^= 1 << dice.random_range(0..8);
                }
            }
            3 => {
                if let Some(byte) = spoilt.get_mut(at) {
                    *byte = *one(&[0, 1, 0x7f, 0x80, 0xfe, 0xff], dice);
                }
            }
            4 => spoilt.truncate(at),
            5 => {
                let again = spoilt[at..to].to_vec();
                spoilt.splice(at..at, again);
            }
            6 => drop(spoilt.drain(at..to)),
            _ => {
                let odd = *one(&[0_u8, 0xff, dice.random()], dice);
                spoilt[at..to].fill(odd);
            }
        }
    }
    spoilt
}

/// Numbers that nobody means.
pub(crate) const ODD_NUMBERS: [&str; 26] = [
    "0",
    "-1",
    "-0",
    "1",
    "2",
    "3",
    "7",
    "255",
    "65536",
    "4294967296",
    "9007199254740993",
    "9223372036854775807",
    "9223372036854775808",
    "-9223372036854775809",
    "18446744073709551616",
    "1e308",
    "1e400",
    "-1e400",
    "1e-400",
    "0.5",
    "1.0",
    "NaN",
    "Infinity",
    "0x10",
    "1_000",
    "00012",
];

/// Texts that nobody types: what hides, turns round, breaks out, or is no text.
pub(crate) const ODD_TEXTS: [&str; 18] = [
    "",
    " ",
    "\0",
    "\u{1}\u{7}\u{8}\u{1b}[31m",
    "\r\n\r\nSet-Cookie: a=b",
    "\u{202e}retsiger\u{202c}",
    "\u{200f}\u{200b}\u{2066}",
    "\u{feff}",
    "\u{fffd}\u{ffff}",
    "e\u{301}\u{301}\u{301}\u{301}",
    "👩‍🔧",
    "</textarea></title><script>alert(1)</script>",
    "\"'`><&amp;&#0;",
    "../../../etc/passwd",
    "{\"n\":1}",
    "%00%ff%zz",
    "{$name} { -brand }",
    "٣٫٥",
];

/// Lines left out, doubled, changed about, or with something odd in them; and no text at all any more.
pub(crate) fn lines(good: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut lines: Vec<Vec<u8>> = good
        .split_inclusive(|byte| *byte == b'\n')
        .map(<[u8]>::to_vec)
        .collect();
    if lines.is_empty() {
        return b"\n".to_vec();
    }
    for _ in 0..*one(&[1, 1, 2, 3], dice) {
        let (at, other) = (place(lines.len(), dice), place(lines.len(), dice));
        if lines.is_empty() {
            break;
        }
        match dice.random_range(0..10) {
            0 => drop(lines.remove(at)),
            1 => lines.insert(other, lines[at].clone()),
            2 => lines.swap(at, other),
            3 => lines[at] = number(&lines[at], dice),
            4 => lines[at] = bytes(&lines[at], dice),
            5 => lines[at] = text(&lines[at], dice),
            6 => lines[at] = [&lines[at][..lines[at].len() / 2], &lines[other]].concat(),
            7 => lines.insert(at, vec![b'x'; 1 << dice.random_range(10..22)]),
            8 => lines[at] = deep(&lines[at], dice),
            _ => lines[at].extend_from_slice(one::<&[u8]>(
                &[
                    &b"\xff\xfe\n"[..],
                    b"\xc3",
                    b"\0\n",
                    b"\r\n",
                    b"\xed\xa0\x80\n",
                ],
                dice,
            )),
        }
    }
    lines.concat()
}

/// A number in a line changed for an odd one.
fn number(line: &[u8], dice: &mut Dice) -> Vec<u8> {
    let digits: Vec<usize> = (0..line.len())
        .filter(|i| line[*i].is_ascii_digit())
        .collect();
    if digits.is_empty() {
        return line.to_vec();
    }
    let at = *one(&digits, dice);
    let is_part = |byte: &u8| byte.is_ascii_digit();
    let from = line[..at]
        .iter()
        .rposition(|byte| !is_part(byte))
        .map_or(0, |i| i + 1);
    let to = line[at..]
        .iter()
        .position(|byte| !is_part(byte))
        .map_or(line.len(), |i| at + i);
    let odd = if dice.random_bool(0.05) {
        "9".repeat(5000)
    } else {
        (*one(&ODD_NUMBERS, dice)).to_owned()
    };
    [&line[..from], odd.as_bytes(), &line[to..]].concat()
}

/// A text in quotes changed for an odd one, written as JSON has it.
fn text(line: &[u8], dice: &mut Dice) -> Vec<u8> {
    let quotes: Vec<usize> = (0..line.len()).filter(|i| line[*i] == b'"').collect();
    let Some(pair) = (quotes.len() > 1).then(|| place(quotes.len() - 1, dice)) else {
        return line.to_vec();
    };
    let (from, to) = (quotes[pair], quotes[pair + 1]);
    let odd = match dice.random_range(0..20) {
        0 => "w".repeat(1 << dice.random_range(10..21)),
        _ => (*one(&ODD_TEXTS, dice)).to_owned(),
    };
    let odd = serde_json::Value::from(odd).to_string();
    [&line[..from], odd.as_bytes(), &line[to + 1..]].concat()
}

/// Brackets within brackets, many thousand, somewhere in a line.
fn deep(line: &[u8], dice: &mut Dice) -> Vec<u8> {
    let at = place(line.len(), dice);
    let (open, close) = *one(&[("[", "]"), ("{\"a\":", "}")], dice);
    let many = *one(&[100, 127, 129, 100_000], dice);
    let inside = format!("{}1{}", open.repeat(many), close.repeat(many));
    [&line[..at], inside.as_bytes(), &line[at..]].concat()
}
