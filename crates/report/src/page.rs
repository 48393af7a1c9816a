//! What the bench page says and when, in no language: the sentences themselves are in the catalogue.

mod answer;
pub mod cautions;
pub mod describing;
mod findings;
mod good;
pub mod history;
mod kinds;
mod looks;
pub mod placing;
mod stood;
pub mod struck;
mod turned;
mod windows;

pub use answer::{
    Of, after, answer, drawing, expected, hold, how_to_read, how_to_read_at_rest, in_window_now,
    loose, may_be_bent, of_several, other_hand, question, seen_from, shift_sentences, strike_on,
    which_is_believed,
};
pub use findings::{findings, put_in, run_on, taken};
pub use kinds::{lever_called, lever_kind, witness_called, witness_kind, witness_named};
pub use looks::{LookChoice, LookRange, NotchStep, look_of, looks};
pub use stood::{how_it_stood, stood_right};
pub use turned::{
    hands_to_be_set, levers_made, moved_by_pins, part_called, turn_beneath, turn_sentences,
    turned_by,
};

pub use windows::{as_usual, bounded};

use movement::{ArborId, CountedBy, Movement, Plate, Turning};

/// An id of the sheet as a word.
pub fn named(id: &str) -> String {
    id.replace('_', " ")
}

fn arbor_name(movement: &Movement, arbor: ArborId) -> String {
    named(&movement.arbor(arbor).id)
}

/// A way round, as messages choose by it; nothing where both come to the same.
fn way(turning: Option<Turning>) -> &'static str {
    match turning {
        Some(Turning::Clockwise) => "clockwise",
        Some(Turning::Counterclockwise) => "counterclockwise",
        None => "either",
    }
}

/// What drops, as messages choose by it: the hook of a rack, or the lever of a count wheel.
pub fn drops(movement: &Movement) -> &'static str {
    let counted_by = movement.strike().map(|strike| strike.counted_by);
    match counted_by {
        Some(CountedBy::Rack) => "hook",
        _ => "lever",
    }
}

/// A plate, as messages choose by it.
pub fn plate_key(plate: Plate) -> &'static str {
    match plate {
        Plate::Front => "front",
        Plate::Back => "back",
    }
}
