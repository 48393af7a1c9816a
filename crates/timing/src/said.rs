//! A reading as a line of text: `slot=-1.2~0.1`, `slot=edge-short`, `star=-2teeth:second.wheel`, `star=-1quarter`, `pin=7:30oclock`,
//! `pin=9.5notch`.

use crate::reading::{SaidReading, TipLook};
use entries::{LoggedReading, LoggedSight, Sight};
use movement::{Movement, Plate, WitnessId};
use quantity::{Degrees, Exact, fraction, parse_decimal, plain_decimal, whole};

/// What is wrong with a reading as it was written.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SaidFault {
    /// There is no `=` in it.
    #[error("no `=` in a reading")]
    NoEquals,
    /// No witness has this id.
    #[error("no witness `{got}`, expected one of: {}", all.join(", "))]
    UnknownWitness {
        /// What was written.
        got: String,
        /// What may have been meant.
        near: Option<String>,
        /// All there are.
        all: Vec<String>,
    },
    /// This witness has no window on the sheet: a reading of it cannot be judged.
    #[error("no window for witness `{id}`")]
    NoWindow {
        /// Its id.
        id: String,
    },
    /// What stands after `=` is none of the ways to say a reading.
    #[error("`{got}` is no reading")]
    Unreadable {
        /// What was written.
        got: String,
    },
    /// The spread after `~` is no plain decimal.
    #[error("`{got}` is no spread")]
    BadSpread {
        /// What was written.
        got: String,
    },
    /// The part after `teeth:` is not on the sheet.
    #[error("no part `{got}`")]
    UnknownPart {
        /// What was written.
        got: String,
    },
    /// No hour of a clock face.
    #[error("`{got}` is no hour of a clock face")]
    BadHour {
        /// What was written.
        got: String,
    },
}

/// Takes a written reading apart. `from` is the plate looked at, which a clock-face reading needs.
///
/// # Errors
/// Says what cannot be read.
pub fn parse(
    movement: &Movement,
    from: Plate,
    text: &str,
) -> Result<(WitnessId, SaidReading), SaidFault> {
    let (id, value) = text.split_once('=').ok_or(SaidFault::NoEquals)?;
    let witness = witness(movement, id)?;
    Ok((witness, value_of(movement, from, value)?))
}

fn witness(movement: &Movement, id: &str) -> Result<WitnessId, SaidFault> {
    if movement.unjudged().iter().any(|w| w.id == id) {
        return Err(SaidFault::NoWindow { id: id.to_owned() });
    }
    movement
        .find_witness(id)
        .ok_or_else(|| SaidFault::UnknownWitness {
            got: id.to_owned(),
            near: movement::near(id, movement.witnesses().map(|(_, w)| w.id.as_str()))
                .map(str::to_owned),
            all: movement.witnesses().map(|(_, w)| w.id.clone()).collect(),
        })
}

fn value_of(movement: &Movement, from: Plate, value: &str) -> Result<SaidReading, SaidFault> {
    let unreadable = || SaidFault::Unreadable {
        got: value.to_owned(),
    };
    match value {
        "in" => return Ok(SaidReading::Look(TipLook::In)),
        "edge-short" => return Ok(SaidReading::Look(TipLook::EdgeShort)),
        "edge-ahead" => return Ok(SaidReading::Look(TipLook::EdgeAhead)),
        "rim" => return Ok(SaidReading::Look(TipLook::Rim)),
        _ => {}
    }
    let (count, part) = match value.split_once(':') {
        Some((count, part)) if count.ends_with("teeth") || count.ends_with("tooth") => {
            (count, Some(part))
        }
        _ => (value, None),
    };
    if let Some(teeth) = (count.strip_suffix("teeth")).or_else(|| count.strip_suffix("tooth")) {
        let teeth = parse_decimal(&plain_decimal(teeth)).map_err(|_| unreadable())?;
        let part = part.map(|name| {
            movement
                .find_part(name)
                .ok_or_else(|| SaidFault::UnknownPart {
                    got: name.to_owned(),
                })
        });
        return Ok(SaidReading::Teeth(teeth, part.transpose()?));
    }
    if let Some(quarters) =
        (value.strip_suffix("quarters")).or_else(|| value.strip_suffix("quarter"))
    {
        let quarters = parse_decimal(&plain_decimal(quarters)).map_err(|_| unreadable())?;
        return Ok(SaidReading::Quarters(quarters));
    }
    let face = value.strip_suffix("oclock");
    if face.is_some() || value.contains(':') {
        let hour = hour(face.unwrap_or(value)).ok_or_else(|| SaidFault::BadHour {
            got: value.to_owned(),
        })?;
        return Ok(SaidReading::Oclock(hour, from));
    }
    let (degrees, spread) = match value.split_once('~') {
        Some((degrees, spread)) => (degrees, Some(spread)),
        None => (value, None),
    };
    let notch = degrees.strip_suffix("notch");
    let degrees = notch.unwrap_or(degrees);
    let degrees = Degrees::parse(&plain_decimal(degrees)).map_err(|_| unreadable())?;
    let spread = spread.map(|spread| {
        parse_decimal(&plain_decimal(spread)).map_err(|_| SaidFault::BadSpread {
            got: spread.to_owned(),
        })
    });
    let spread = spread.transpose()?;
    Ok(match notch {
        Some(_) => SaidReading::Notch(degrees, spread),
        None => SaidReading::Degrees(degrees, spread),
    })
}

/// `4`, `4.5` or `4:30` as hours of a clock face, 0 to 12.
fn hour(text: &str) -> Option<Exact> {
    let (hours, minutes) = text.split_once(':').unwrap_or((text, "0"));
    let minutes = parse_decimal(minutes).ok()?;
    let hour = parse_decimal(&plain_decimal(hours)).ok()? + &minutes * fraction(1, 60);
    let fits = hour >= whole(0) && hour <= whole(12) && minutes >= whole(0) && minutes < whole(60);
    fits.then_some(hour)
}

/// What a log keeps of a reading, as it was said.
///
/// # Errors
/// The part whose teeth were counted, where there is none of that name.
pub fn reading_as_said<'s>(
    movement: &Movement,
    seen: &'s LoggedSight,
) -> Result<SaidReading, &'s str> {
    Ok(match seen {
        LoggedSight::Number { deg, spread } => SaidReading::Degrees(
            deg.degrees(),
            spread.as_ref().map(|spread| spread.exact().clone()),
        ),
        LoggedSight::Look { look } => SaidReading::Look(match look {
            Sight::In => TipLook::In,
            Sight::EdgeShort => TipLook::EdgeShort,
            Sight::EdgeAhead => TipLook::EdgeAhead,
            Sight::Rim => TipLook::Rim,
        }),
        LoggedSight::Teeth { teeth, of } => {
            let part = movement.find_part(of).ok_or(of.as_str())?;
            SaidReading::Teeth(teeth.exact().clone(), Some(part))
        }
        LoggedSight::Quarters { quarters } => SaidReading::Quarters(quarters.exact().clone()),
        LoggedSight::Notch { notch, spread } => SaidReading::Notch(
            notch.degrees(),
            spread.as_ref().map(|spread| spread.exact().clone()),
        ),
        LoggedSight::Clock { oclock, from } => SaidReading::Oclock(
            oclock.hours(),
            match from {
                entries::LoggedPlate::Front => Plate::Front,
                entries::LoggedPlate::Back => Plate::Back,
            },
        ),
    })
}

/// The witness that a reading is of.
///
/// # Errors
/// There is none of that name, or it has no window.
pub fn of_witness(movement: &Movement, reading: &LoggedReading) -> Result<WitnessId, SaidFault> {
    witness(movement, &reading.witness)
}

/// A reading as it is written.
pub fn written(reading: &LoggedReading) -> String {
    let value = match &reading.seen {
        LoggedSight::Number { deg, spread: None } => deg.text().to_owned(),
        LoggedSight::Number {
            deg,
            spread: Some(spread),
        } => format!("{}~{}", deg.text(), spread.text()),
        LoggedSight::Look { look } => match look {
            Sight::In => "in",
            Sight::EdgeShort => "edge-short",
            Sight::EdgeAhead => "edge-ahead",
            Sight::Rim => "rim",
        }
        .to_owned(),
        LoggedSight::Teeth { teeth, of } => {
            let one = matches!(teeth.text(), "1" | "-1");
            let teeth_or_tooth = if one { "tooth" } else { "teeth" };
            format!("{}{teeth_or_tooth}:{of}", teeth.text())
        }
        LoggedSight::Quarters { quarters } => {
            let one = matches!(quarters.text(), "1" | "-1");
            format!(
                "{}{}",
                quarters.text(),
                if one { "quarter" } else { "quarters" }
            )
        }
        LoggedSight::Notch { notch, spread } => {
            let spread = (spread.as_ref()).map_or_else(String::new, |s| format!("~{}", s.text()));
            format!("{}notch{spread}", notch.text())
        }
        LoggedSight::Clock { oclock, .. } => {
            format!("{}oclock", oclock.text().trim_end_matches(":00"))
        }
    };
    format!("{}={value}", reading.witness)
}
