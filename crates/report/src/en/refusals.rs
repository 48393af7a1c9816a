//! What fails outside, on the command line, and what may be a slip there.

use super::{degrees, quoted};

/// A file that cannot be read.
pub fn cannot_read(name: &str, error: &str) -> String {
    format!("cannot read {name}: {error}")
}

/// A kind of strike is no file that could be written back.
pub fn no_file(kind: &str) -> String {
    format!(
        "{kind} is a kind of strike and no file; expected a sheet with `--in-place`, or the sheet on standard output"
    )
}

/// Output that cannot be written.
pub fn cannot_write(error: &str) -> String {
    format!("cannot write the answer: {error}")
}

/// A file that cannot be used.
pub fn cannot_use(name: &str, error: &str) -> String {
    format!("cannot use {name}: {error}")
}

/// That a file holds something that is not to be written over.
pub fn something_else() -> &'static str {
    "something else is in it, and it stays; choose another name for the drawing"
}

/// A log that another program has open.
pub fn log_in_use(name: &str) -> String {
    format!(
        "{name} is in use by another trundle; nothing was written; try again when that one is done"
    )
}

/// A reading that nobody reads so: it is answered, and may be a slip.
pub fn far_off(written: &str, reading: &timing::Reading) -> String {
    let turn = (reading.far_off.as_ref()).is_some_and(|far| far.turn);
    let off = if turn {
        "is more than a turn of its arbor"
    } else {
        "is more than two of its places off"
    };
    format!(
        "the reading {} {off}, and is taken as {}, the place alike that is nearest its best; has a point or a figure slipped?",
        quoted(written),
        degrees(&reading.stands)
    )
}
