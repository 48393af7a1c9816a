//! The words of a sheet on the command line: its faults, its warnings, and that it is good.

use crate::{FaultText, Locale};
use sheet::keys::KeyUnit;
use sheet::{Fault, Odd};

/// A fault in words.
pub fn fault(fault: &Fault) -> FaultText {
    crate::fault(&Locale::default(), fault)
}

/// How many faults were left out.
pub fn more_faults(more: usize) -> String {
    crate::more_faults(&Locale::default(), more)
}

/// What is odd about a sheet, in words.
pub fn misgiving(what: &Odd) -> String {
    crate::odd::odd(&Locale::default(), what)
}

/// A unit behind a number.
pub(super) fn unit(unit: KeyUnit) -> &'static str {
    match unit {
        KeyUnit::Millimetre => " mm",
        KeyUnit::Micrometre => " µm",
        KeyUnit::Degree => "°",
        KeyUnit::Gram => " g",
        KeyUnit::Newton => " N",
        KeyUnit::NewtonMetre => " N m",
        KeyUnit::Turn => " turns",
        KeyUnit::Second => " s",
        KeyUnit::Tooth => " teeth",
    }
}

/// A warning, marked as one.
pub fn warning(what: &str) -> String {
    format!("warning: {what}")
}

/// That a sheet is good, and what is on it.
pub fn good_sheet(movement: &movement::Movement, strikes: bool) -> String {
    let count = |n: usize, one: &str, many: &str| match n {
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    };
    format!(
        "{}: {}; {}, {}, {}, {}\n",
        movement.name(),
        match (movement.comes_out(), strikes) {
            (true, true) => "good",
            (true, false) => "it can be read, but as it stands it does not strike right",
            (false, _) => "it can be read, but its counts cannot come out",
        },
        count(movement.trains(), "train", "trains"),
        count(movement.arbors().len(), "arbor", "arbors"),
        count(movement.meshes().len(), "mesh", "meshes"),
        count(
            movement.witnesses().len() + movement.unjudged().len(),
            "witness",
            "witnesses"
        )
    )
}
