//! The words of a sheet on the command line: its faults, its warnings, and that it is good.

use super::degrees;
use super::numbers::ratio;
use crate::{Told, Words};
use movement::Misgiving;
use quantity::fraction;
use sheet::Fault;

/// A fault in words.
pub fn fault(fault: &Fault) -> Told {
    crate::fault(&Words::default(), fault)
}

/// How many faults were left out.
pub fn more_faults(more: usize) -> String {
    crate::more_faults(&Words::default(), more)
}

/// What is odd about a sheet, in words.
pub fn misgiving(what: &Misgiving) -> String {
    match what {
        Misgiving::NotWhole {
            witness,
            places,
            blow,
            period,
        } => format!(
            "a blow moves `{witness}` {}, {} of its places of {}: no whole number, so it cannot show the same thing at every blow; count the teeth again",
            degrees(blow),
            ratio(places),
            degrees(period)
        ),
        Misgiving::Doubtful { part, teeth } => {
            format!("`{part}` is doubtful, and is taken as {teeth}")
        }
        Misgiving::WiderThanSlot {
            witness,
            allowed,
            from,
            to,
        } => format!(
            "the window of `{witness}` is {} to {}, but slot and tip allow only {} to {}: {} of play in all",
            degrees(from),
            degrees(to),
            degrees(&-allowed),
            degrees(allowed),
            degrees(&(allowed * &fraction(2, 1)))
        ),
    }
}

/// A warning, marked as one.
pub fn warning(what: &str) -> String {
    format!("warning: {what}")
}

/// That a sheet is good, and what is on it.
pub fn good_sheet(movement: &movement::Movement) -> String {
    let count = |n: usize, one: &str, many: &str| match n {
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    };
    format!(
        "{}: good; {}, {}, {}, {}\n",
        movement.name(),
        count(movement.trains(), "train", "trains"),
        count(movement.arbors().len(), "arbor", "arbors"),
        count(movement.meshes().len(), "mesh", "meshes"),
        count(movement.witnesses().len(), "witness", "witnesses")
    )
}
