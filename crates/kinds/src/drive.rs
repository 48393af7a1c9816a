//! How something of the works is moved by the train: on which arbor it sits, or which part drives the arbor that it is on.

use crate::kind::{AskedFor, Drive};
use crate::moved::moved;
use crate::places::unlist;
use crate::role::first;
use crate::train::{PartName, Trains};
use crate::works::works;
use crate::{DescribeFault, Kind, PlaceId};
use movement::ToothForm;
use quantity::Teeth;
use sheet::SheetTable;
use sheet::edit::{CountWritten, SheetText};

/// The part that an arbor is driven by, and its own that is driven.
fn driven(trains: &Trains, arbor: &str) -> Option<(PartName, PartName)> {
    let pair = trains.pairs.iter().find(|pair| pair.driven.0 == arbor)?;
    Some((pair.driver.clone(), pair.driven.clone()))
}

/// The arbor that what is moved sits on.
fn seat(text: &SheetText, drive: &Drive) -> Option<String> {
    first(&works(text), drive.of)?.on.clone()
}

/// The arbor of the train that moves it.
fn mover(text: &SheetText, trains: &Trains, drive: &Drive) -> Option<String> {
    match drive.by {
        Some(role) => first(&works(text), role)?.on.clone(),
        None => {
            let by = crate::train::read_at(text)?;
            trains.first_of(&by).cloned()
        }
    }
}

/// Whether an arbor has nothing to do but to carry this: it drives nothing, and nothing else is on it.
fn is_own(text: &SheetText, trains: &Trains, arbor: &str, drive: &Drive) -> bool {
    let drives = trains.pairs.iter().any(|pair| pair.driver.0 == arbor);
    let mut others = works(text).into_iter();
    let carries = others.any(|work| {
        let lever = work.at.sort() == SheetTable::Lever;
        work.on.as_deref() == Some(arbor) && !lever && work.role != drive.of
    });
    !drives && !carries && driven(trains, arbor).is_some()
}

/// Whether a text has it moved so.
pub(crate) fn is_driven(text: &SheetText, drive: &Drive) -> bool {
    let trains = Trains::of(text);
    let (Some(seat), Some(mover)) = (seat(text, drive), mover(text, &trains, drive)) else {
        return false;
    };
    match &drive.part {
        None => drive.by.is_none_or(|_| seat == mover) && !is_own(text, &trains, &seat, drive),
        Some(part) => {
            let by = driven(&trains, &seat).map(|(by, _)| by);
            let form = |by: &PartName| text.form(&by.0, &by.1) == Some(ToothForm::Pins);
            is_own(text, &trains, &seat, drive)
                && by.is_some_and(|by| by.0 == mover && form(&by) == part.pins)
        }
    }
}

/// The usual count of a part that moves something, where a choice of the kind tells it.
pub(crate) fn usual_drive(text: &SheetText, kind: &Kind, part: &PartName) -> Option<Teeth> {
    let trains = Trains::of(text);
    let choices = kind.questions.iter().filter_map(|asked| match &asked.asks {
        AskedFor::Choice { choices, .. } => Some(choices),
        _ => None,
    });
    let mut drives = choices.flatten().filter_map(|choice| choice.drive.as_ref());
    drives.find_map(|drive| {
        let by = driven(&trains, &seat(text, drive)?)?.0;
        let usual = drive.part.as_ref()?.usual;
        (by == *part && is_driven(text, drive)).then(|| Teeth::pins(usual.into()))?
    })
}

/// Makes a text have it moved so.
pub(crate) fn drive_by(text: &mut SheetText, drive: &Drive) -> Result<(), DescribeFault> {
    if is_driven(text, drive) {
        return Ok(());
    }
    let trains = Trains::of(text);
    let none = || DescribeFault::NoWork(drive.of);
    let seat = seat(text, drive).ok_or_else(none)?;
    let mover = mover(text, &trains, drive).ok_or_else(none)?;
    let own = is_own(text, &trains, &seat, drive);
    let Some(part) = &drive.part else {
        moved(text, &[drive.of], &mover)?;
        return drop_bare(text, &seat);
    };
    let wheel = match driven(&trains, &seat).filter(|_| own) {
        Some((_, wheel)) => {
            unmesh(text, &trains, &seat)?;
            wheel
        }
        None => {
            let fresh = (free("count", &text.arbors()), "wheel".to_owned());
            text.add_arbor(&fresh.0)?;
            text.add_part(&fresh.0, &fresh.1, CountWritten::Blank)?;
            moved(text, &[drive.of], &fresh.0)?;
            fresh
        }
    };
    let name = free(&part.name, &text.parts(&mover));
    text.add_part(&mover, &name, CountWritten::Blank)?;
    if part.pins {
        text.set_form(&mover, &name, ToothForm::Pins)?;
    }
    Ok(text.add_mesh([&mover, &name], [&wheel.0, &wheel.1])?)
}

/// Takes the mesh away by which an arbor is driven, and the part that drove it and nothing else.
fn unmesh(text: &mut SheetText, trains: &Trains, arbor: &str) -> Result<(), DescribeFault> {
    let Some((by, own)) = driven(trains, arbor) else {
        return Ok(());
    };
    let joined = |(arbor, part): &PartName| format!("{arbor}.{part}");
    text.remove_mesh(&joined(&by), &joined(&own))?;
    if !Trains::of(text).is_meshed(&by) {
        let [arbor, part] = [by.0.clone(), by.1.clone()];
        unlist(text, &PlaceId { arbor, part })?;
        text.remove_part(&by.0, &by.1)?;
    }
    Ok(())
}

/// Takes an arbor away that branches off a train and carries nothing any more.
pub(crate) fn drop_bare(text: &mut SheetText, arbor: &str) -> Result<(), DescribeFault> {
    let trains = Trains::of(text);
    let branches = |first: &String| trains.train(first).1.contains(&arbor);
    let drives = trains.pairs.iter().any(|pair| pair.driver.0 == arbor);
    let carries = works(text)
        .iter()
        .any(|work| work.on.as_deref() == Some(arbor));
    if drives || carries || !trains.firsts().into_iter().any(branches) {
        return Ok(());
    }
    unmesh(text, &trains, arbor)?;
    Ok(text.remove_arbor(arbor)?)
}

/// A name like this that is not taken.
fn free(name: &str, taken: &[String]) -> String {
    let mut free = name.to_owned();
    while taken.contains(&free) {
        free.push_str("_2");
    }
    free
}
