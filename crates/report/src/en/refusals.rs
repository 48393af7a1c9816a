//! Why a question cannot be answered as it was put.

use super::numbers::decimal;
use super::{degrees, list, quoted};
use movement::Movement;
use timing::{ReadingFault, SaidFault};

/// A reading that cannot be taken apart.
pub fn said_fault(written: &str, fault: &SaidFault) -> String {
    let what = match fault {
        SaidFault::NoEquals => {
            "has no `=`; expected WITNESS=DEGREES, such as `slot=-1.2` or `slot=-1.2~0.1`"
                .to_owned()
        }
        SaidFault::UnknownWitness { got, near, all } => {
            let ids: Vec<String> = all.iter().map(|id| format!("`{id}`")).collect();
            let hint = match near {
                Some(near) => format!("did you mean `{near}`?"),
                None if all.is_empty() => "the sheet has no witness".to_owned(),
                None => format!("the sheet has {}", list(&ids)),
            };
            format!(
                "names {}, which is no witness of this sheet; {hint}",
                quoted(got)
            )
        }
        SaidFault::Unreadable { got } => format!(
            "has {} after `=`; expected degrees (`-1.2`), a look (`in`, `edge-short`, `edge-ahead`, `rim`), teeth (`-2teeth:second.wheel`) or an hour (`7:30oclock`)",
            quoted(got)
        ),
        SaidFault::BadSpread { got } => format!(
            "has {} after `~`; expected a plain decimal, one standard deviation in degrees",
            quoted(got)
        ),
        SaidFault::UnknownPart { got } => {
            format!(
                "counts teeth of {}; expected a part of this sheet, ARBOR.PART",
                quoted(got)
            )
        }
        SaidFault::BadHour { got } => format!(
            "has {}; expected an hour of the clock face such as `4oclock` or `7:30oclock`",
            quoted(got)
        ),
    };
    format!("the reading {} {what}", quoted(written))
}

/// A reading that says something that cannot be used.
pub fn reading_fault(written: &str, fault: &ReadingFault) -> String {
    let what = match fault {
        ReadingFault::Spread { got, most } => format!(
            "has a spread of {}°; expected more than 0 and less than {}°, a quarter of the way to the next place",
            decimal(*got, 9),
            decimal(most.to_f64(), 9)
        ),
        ReadingFault::NoLook => {
            "says how it looks, but the sheet has no `slot_deg` and `tip_deg` for it; say it in degrees".to_owned()
        }
        ReadingFault::NoHour => {
            "says an hour, but the sheet has no `arm_oclock` for it; say it in degrees".to_owned()
        }
        ReadingFault::NoTeeth => {
            "counts teeth, but no toothed part sits on its arbor; name one, as in `-2teeth:second.wheel`".to_owned()
        }
        ReadingFault::OtherTrain { part } => {
            format!("counts teeth of `{part}`, which is in another train")
        }
        ReadingFault::TooCoarse { spread, most } => format!(
            "is good only to {}° that way, and its places lie so near each other that {} is needed; say it in degrees",
            decimal(*spread, 2),
            degrees(most)
        ),
    };
    format!("the reading {} {what}", quoted(written))
}

/// An arbor that is not there.
pub fn unknown_arbor(movement: &Movement, got: &str) -> String {
    let ids: Vec<String> = movement
        .arbors()
        .map(|(_, a)| format!("`{}`", a.id))
        .collect();
    let hint = match movement::near(got, movement.arbors().map(|(_, a)| a.id.as_str())) {
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("the sheet has {}", list(&ids)),
    };
    format!("{} is no arbor of this sheet; {hint}", quoted(got))
}

/// The same witness twice in one look.
pub fn read_twice(id: &str) -> String {
    format!("`{id}` is read twice; expected each witness once in one look")
}

/// No reading at all.
pub fn nothing_read(movement: &Movement) -> String {
    let ids: Vec<String> = (movement.witnesses())
        .map(|(_, w)| format!("`--saw {}=…`", w.id))
        .collect();
    if ids.is_empty() {
        "no reading; the sheet has no witness that could be read".to_owned()
    } else {
        format!("no reading; expected at least one of {}", list(&ids))
    }
}

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
