//! English: every sentence that is said, in one place.

pub mod bench;
pub mod cautions;
mod faults;
pub mod history;
pub mod labels;
mod log;
mod numbers;
mod refusals;
mod remesh;
pub mod strike;
mod train;

pub use faults::{Told, fault, good_sheet, misgiving, more_faults, warning};
pub use log::{
    PlaceChances, advice, bad_mesh, by_degrees_only, findings, log_fault, log_text, log_warning,
    no_shift_yet, not_out, nothing_advised, nothing_to_undo, order_text, other_sheet, put_in,
    recall_fault, too_many_places,
};
pub use numbers::{degrees, odds, teeth};
pub use refusals::{
    cannot_read, cannot_use, cannot_write, log_in_use, nothing_read, read_twice, reading_fault,
    said_fault, unknown_arbor,
};
pub use remesh::{caution, remesh_text, why};
pub use train::train_text;

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
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
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
