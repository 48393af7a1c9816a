//! What fails outside, on the command line, and what may be a slip there.

use super::quoted;

/// A file that cannot be read.
pub fn cannot_read(name: &str, error: &str) -> String {
    format!("cannot read {name}: {error}")
}

/// Output that cannot be written.
pub fn cannot_write(error: &str) -> String {
    format!("cannot write the answer: {error}")
}

/// A file that cannot be used.
pub fn cannot_use(name: &str, error: &str) -> String {
    format!("cannot use {name}: {error}")
}

/// A log that another program has open.
pub fn log_in_use(name: &str) -> String {
    format!(
        "{name} is in use by another trundle; nothing was written; try again when that one is done"
    )
}

/// A reading of more than a turn: it is answered, and may be a slip.
pub fn beyond_a_turn(written: &str) -> String {
    format!(
        "the reading {} is more than a turn of its arbor, and is taken for the place alike that is nearest its best; has a point or a figure slipped?",
        quoted(written)
    )
}
