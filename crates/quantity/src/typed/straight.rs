//! Signs that are printed in several ways, put straight before a number is read.

/// Blanks that stand between thousands, or between a number and its unit.
const THIN: [char; 3] = ['\u{2009}', '\u{202f}', '\u{2007}'];

/// With plain strokes, blanks and quotes; the thin blanks between thousands left out (SI Brochure, 9th ed., 5.4.4: figures may
/// be parted into threes by a thin space).
pub(super) fn straightened(text: &str) -> String {
    let signs: Vec<char> = text.trim().chars().collect();
    let mut straight = String::with_capacity(text.len());
    for (i, &sign) in signs.iter().enumerate() {
        match sign {
            thin if THIN.contains(&thin) => {
                if !parts_thousands(&signs, i) {
                    straight.push(' ');
                }
            }
            '\u{a0}' | '\t' | '\r' | '\n' => straight.push(' '),
            '−' | '–' | '‐' | '‑' => straight.push('-'),
            '⁄' | '∕' => straight.push('/'),
            '′' | '’' | '‘' => straight.push('\''),
            '″' | '”' | '“' => straight.push('"'),
            'º' | '˚' => straight.push('°'),
            other => straight.push(other),
        }
    }
    straight.replace("''", "\"")
}

/// Whether three figures and no more stand behind this place, and a figure before it.
fn parts_thousands(signs: &[char], at: usize) -> bool {
    let is_figure = |i: usize| signs.get(i).is_some_and(char::is_ascii_digit);
    let before = at.checked_sub(1).is_some_and(is_figure);
    before && (1..=3).all(|n| is_figure(at + n)) && !is_figure(at + 4)
}
