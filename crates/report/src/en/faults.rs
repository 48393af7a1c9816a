//! The words of a sheet on the command line: its faults, its warnings, and that it is good.

use super::numbers::{decimal, ratio};
use super::{degrees, quoted, ticked};
use crate::{Told, Words};
use movement::Misgiving;
use quantity::{fraction, to_f64};
use sheet::keys::Unit;
use sheet::{Fault, Odd};

/// A fault in words.
pub fn fault(fault: &Fault) -> Told {
    crate::fault(&Words::default(), fault)
}

/// How many faults were left out.
pub fn more_faults(more: usize) -> String {
    crate::more_faults(&Words::default(), more)
}

/// What is odd about a sheet, in words.
pub fn misgiving(what: &Odd) -> String {
    let meant = |near: Option<&str>| match near {
        Some(near) => format!("; did you mean `{near}`?"),
        None => String::new(),
    };
    match what {
        Odd::Movement(what) => of_movement(what),
        Odd::Unread { key, near } => format!(
            "{} is kept as a measurement, and nothing here reads it{}",
            quoted(key),
            meant(*near)
        ),
        Odd::Unmeshed {
            part,
            key,
            teeth,
            near,
        } => format!(
            "{} was taken for a toothed part of {teeth} teeth, and nothing meshes with {}{}",
            ticked(key),
            ticked(part),
            match near {
                Some(_) => meant(*near),
                None =>
                    "; a `[[mesh]]` is missing, or it is a measurement, whose key ends in its unit"
                        .to_owned(),
            }
        ),
        Odd::NoPart { key, part, near } => format!(
            "{} is the size of a part {}, and there is none on this arbor{}",
            ticked(key),
            ticked(part),
            meant(near.as_deref())
        ),
        Odd::Unusual {
            key,
            got,
            least,
            most,
        } => format!(
            "{} for {}, taken as it is written; from {} to {}{} is usual: a point, a figure or the unit may be wrong",
            decimal(to_f64(got), 4),
            ticked(key),
            decimal(*least, 2),
            decimal(*most, 2),
            Unit::of(key).map_or("", unit)
        ),
    }
}

/// A unit behind a number.
pub(super) fn unit(unit: Unit) -> &'static str {
    match unit {
        Unit::Millimetre => " mm",
        Unit::Micrometre => " µm",
        Unit::Degree => "°",
        Unit::Gram => " g",
        Unit::Newton => " N",
        Unit::NewtonMetre => " N m",
        Unit::Turn => " turns",
        Unit::Second => " s",
        Unit::Tooth => " teeth",
    }
}

fn of_movement(what: &Misgiving) -> String {
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
        Misgiving::NoWindow { witness, levers } => format!(
            "`{witness}` has no `window_deg`, so nothing is said of where it stands{}",
            match levers {
                true => "",
                false => ", and no levers on the sheet tell how it strikes",
            }
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
        "{}: {}; {}, {}, {}, {}\n",
        movement.name(),
        if movement.comes_out() {
            "good"
        } else {
            "it can be read, but its counts cannot come out"
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
