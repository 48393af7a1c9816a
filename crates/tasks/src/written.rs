//! What is typed at the bench, taken apart: readings, teeth at a mesh, by how much something was bent or turned. A command and a page
//! are read alike, and refused alike.

use crate::Refusal;
use crate::question::QuestionFault;
use entries::{AtMesh, Decimal, LoggedReading, LoggedSight, Moved, Oclock, Sight};
use movement::{Movement, Plate, WitnessId};
use timing::{SaidFault, SaidReading, TipLook};

/// A reading: `slot=-1.2~0.1`, `slot=edge-short`, `star=-2teeth:second.wheel`, `star=-1quarter`,
/// `pin=9.5notch`, `pin=7:30oclock`, the last as seen from a plate. It is
/// kept as it was said.
///
/// # Errors
/// It cannot be read, or there is no such witness.
pub fn reading(movement: &Movement, from: Plate, written: &str) -> Result<LoggedReading, Refusal> {
    let (id, said) = parsed(movement, from, written)?;
    Ok(LoggedReading {
        witness: movement.witness(id).id.clone(),
        seen: seen(movement, id, written, &said)?,
    })
}

/// Several of them, of one look.
///
/// # Errors
/// As [`reading`], of the first that cannot be read.
pub fn readings<S: AsRef<str>>(
    movement: &Movement,
    from: Plate,
    written: &[S],
) -> Result<Vec<LoggedReading>, Refusal> {
    let each = written.iter();
    each.map(|written| reading(movement, from, written.as_ref()))
        .collect()
}

/// Teeth at a mesh: `DRIVER:DRIVEN=TEETH`, ahead positive.
///
/// # Errors
/// There is no such mesh, or that is no number of teeth.
pub fn at_mesh(movement: &Movement, written: &str) -> Result<AtMesh, Refusal> {
    let read = written.rsplit_once('=').and_then(|(mesh, teeth)| {
        let id = movement.find_mesh(mesh)?;
        let teeth: i32 = teeth.parse().ok().filter(|teeth| *teeth != 0)?;
        Some(AtMesh {
            mesh: movement.mesh_name(id),
            teeth,
        })
    });
    read.ok_or_else(|| Refusal::Question(QuestionFault::bad_mesh(movement, written)))
}

/// By how much a lever was bent, or a part turned: `WITNESS=DEG[~SPREAD]`.
///
/// # Errors
/// It is not in degrees, or there is no such witness.
pub fn moved(movement: &Movement, from: Plate, written: &str) -> Result<Moved, Refusal> {
    let (id, said) = parsed(movement, from, written)?;
    let SaidReading::Degrees(..) = said else {
        return Err(degrees_only(written));
    };
    let (deg, spread) = decimals(written)?;
    Ok(Moved {
        witness: movement.witness(id).id.clone(),
        deg,
        spread,
    })
}

fn parsed(
    movement: &Movement,
    from: Plate,
    written: &str,
) -> Result<(WitnessId, SaidReading), Refusal> {
    let said = |fault: SaidFault| {
        Refusal::Question(QuestionFault::said(movement, written.to_owned(), fault))
    };
    timing::parse(movement, from, written).map_err(said)
}

fn degrees_only(written: &str) -> Refusal {
    Refusal::Question(QuestionFault::DegreesOnly(written.to_owned()))
}

/// What stands after `=`.
fn value(written: &str) -> &str {
    written.split_once('=').map_or("", |(_, value)| value)
}

fn decimal(written: &str, text: &str) -> Result<Decimal, Refusal> {
    Decimal::parse(&quantity::plain_decimal(text)).map_err(|_| degrees_only(written))
}

/// The decimals after `=`, as they are written.
fn decimals(written: &str) -> Result<(Decimal, Option<Decimal>), Refusal> {
    let (deg, spread) = match value(written).split_once('~') {
        Some((deg, spread)) => (deg, Some(spread)),
        None => (value(written), None),
    };
    let spread = spread.map(|spread| decimal(written, spread));
    Ok((decimal(written, deg)?, spread.transpose()?))
}

/// What was said, kept as it was said.
fn seen(
    movement: &Movement,
    id: WitnessId,
    written: &str,
    said: &SaidReading,
) -> Result<LoggedSight, Refusal> {
    Ok(match said {
        SaidReading::Degrees(..) => {
            let (deg, spread) = decimals(written)?;
            LoggedSight::Number { deg, spread }
        }
        SaidReading::Look(look) => LoggedSight::Look {
            look: match look {
                TipLook::In => Sight::In,
                TipLook::EdgeShort => Sight::EdgeShort,
                TipLook::EdgeAhead => Sight::EdgeAhead,
                TipLook::Rim => Sight::Rim,
            },
        },
        SaidReading::Teeth(_, part) => {
            let count = value(written).split_once('t');
            let count = count.map_or(value(written), |(count, _)| count);
            let arbor = movement.witness(id).on;
            let largest = movement.parts(arbor).max_by_key(|(_, part)| part.teeth);
            let part = part.or(largest.map(|(id, _)| id));
            LoggedSight::Teeth {
                teeth: decimal(written, count)?,
                of: movement.part_name(part.ok_or_else(|| degrees_only(written))?),
            }
        }
        SaidReading::Quarters(_) => {
            let count = value(written).split_once('q');
            let count = count.map_or(value(written), |(count, _)| count);
            LoggedSight::Quarters {
                quarters: decimal(written, count)?,
            }
        }
        SaidReading::Notch(..) => {
            let (ran, spread) = match value(written).split_once('~') {
                Some((ran, spread)) => (ran, Some(spread)),
                None => (value(written), None),
            };
            let spread = spread.map(|spread| decimal(written, spread));
            LoggedSight::Notch {
                notch: decimal(written, ran.trim_end_matches("notch"))?,
                spread: spread.transpose()?,
            }
        }
        SaidReading::Oclock(hour, plate) => {
            // The log has hours and minutes; a half hour said as 4.5 is 4:30.
            let minutes = (hour * quantity::whole(60)).round().to_integer();
            let (hours, minutes) = (&minutes / 60i32, &minutes % 60i32);
            let oclock = Oclock::parse(&format!("{hours}:{minutes:02}"));
            LoggedSight::Clock {
                oclock: (oclock.or_else(|| Oclock::parse("12")))
                    .ok_or_else(|| degrees_only(written))?,
                from: match plate {
                    Plate::Front => entries::LoggedPlate::Front,
                    Plate::Back => entries::LoggedPlate::Back,
                },
            }
        }
    })
}
