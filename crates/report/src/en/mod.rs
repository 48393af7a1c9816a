//! English for the command line: what it alone says. What the page says too is in the catalogue, and comes from there.

pub mod book;
mod faults;
mod keys;
mod log;
mod numbers;
pub mod opening;
mod progress;
mod refusals;
mod remesh;
pub mod removal;
mod sheets;
pub mod strike;
mod train;
mod windows;

pub use faults::{fault, good_sheet, misgiving, more_faults, warning};
pub use keys::{keys, kinds, meaning};
pub use log::{PlaceChances, advice, findings, log_text, log_warning, order_text, put_in};
pub use numbers::{breaking, degrees, odds, teeth};
pub(crate) use numbers::{decimal, ratio};
pub use progress::{order_still, remesh_so_far, remesh_stopped, still_at_it};
pub use refusals::{
    cannot_read, cannot_use, cannot_write, far_off, log_in_use, no_file, something_else,
};
pub(crate) use remesh::capital;
pub use remesh::{caution, read_at_rest, remesh_text, turning_caution, why};
pub use sheets::strike_kinds;
pub use train::train_text;
pub use windows::windows;

use movement::{Plate, Turning};

/// A plate, as said.
pub fn plate(plate: Plate) -> &'static str {
    match plate {
        Plate::Front => "front",
        Plate::Back => "back",
    }
}

/// A way round, as said.
pub fn turning(turning: Turning) -> &'static str {
    match turning {
        Turning::Clockwise => "clockwise",
        Turning::Counterclockwise => "counterclockwise",
    }
}

/// `a`, `a and b`, `a, b and c`.
pub(crate) fn list(items: &[String]) -> String {
    crate::Locale::default().list(items)
}

/// A text with nothing in it that a terminal would obey, ends of lines apart; what it would obey is told by its number, as
/// JSON writes it.
pub fn harmless(text: &str) -> std::borrow::Cow<'_, str> {
    // Marks that turn the way of reading about can hide what stands there as well as a control character can.
    let obeyed = |c: char| {
        (c.is_control() && c != '\n')
            || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    if !text.contains(obeyed) {
        return text.into();
    }
    let mut shown = String::with_capacity(text.len());
    for c in text.chars() {
        match obeyed(c) {
            true => shown += &format!("\\u{:04x}", u32::from(c)),
            false => shown.push(c),
        }
    }
    shown.into()
}

/// What was written, in quotes, with nothing in it that a terminal would obey, and not too long.
pub(crate) fn quoted(text: &str) -> String {
    const LONGEST: usize = 60;
    let mut shown: String = text
        .chars()
        .take(LONGEST)
        .flat_map(|c| {
            let plain = !c.is_control();
            c.escape_debug()
                .filter(move |_| !plain)
                .chain(std::iter::once(c).filter(move |_| plain))
        })
        .collect();
    if text.chars().count() > LONGEST {
        shown.push('…');
    }
    format!("`{shown}`")
}

/// A word as it is to be written, in ticks.
pub(crate) fn ticked(word: &str) -> String {
    format!("`{word}`")
}

/// Several of them.
pub(crate) fn all_ticked<T: AsRef<str>>(all: &[T]) -> Vec<String> {
    all.iter().map(|word| ticked(word.as_ref())).collect()
}
