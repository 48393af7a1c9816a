//! Tracks and pins of a train put on another arbor, with what is read at them.

use crate::role::StrikeWork;
use crate::works::works;
use crate::{DescribeFault, WorkRole};
use movement::WitnessDrawing;
use sheet::SheetTable;
use sheet::edit::{SheetText, SheetValue, TableAt};

/// Moves tracks and pins of a train onto another arbor, and what is read at them.
pub(crate) fn moved(
    text: &mut SheetText,
    roles: &[WorkRole],
    arbor: &str,
) -> Result<(), DescribeFault> {
    if !text.arbors().iter().any(|there| there == arbor) {
        return Err(sheet::edit::EditFault::NoArbor {
            got: arbor.to_owned(),
            near: None,
        }
        .into());
    }
    let to = SheetValue::Text(arbor.to_owned());
    let all = works(text);
    let own = |work: &&StrikeWork, role: WorkRole| {
        work.role == role && work.at.sort() != SheetTable::Lever
    };
    for (nth, role) in roles.iter().enumerate() {
        // What is told along with the first may not be there.
        if nth == 0 && !all.iter().any(|work| own(&work, *role)) {
            return Err(DescribeFault::NoWork(*role));
        }
        for work in all.iter().filter(|work| own(work, *role)) {
            let from = text.table(&work.at).and_then(|table| table.text("on"));
            text.set(&work.at, "on", &to)?;
            // A witness goes along that is of this, and no longer of anything on the arbor that it was on.
            let left = all.iter().any(|other| {
                let lever = other.at.sort() == SheetTable::Lever;
                other.on == from && !lever && other.at != work.at && !roles.contains(&other.role)
            });
            for nth in 0..text.tables(SheetTable::Witness).len() {
                let at = TableAt::Nth(SheetTable::Witness, nth);
                let on = text.table(&at).and_then(|table| table.text("on"));
                if from.is_some() && on == from && (!left || is_of(text, &at, *role)) {
                    text.set(&at, "on", &to)?;
                }
            }
        }
    }
    Ok(())
}

/// Whether a witness says that it is read at this.
pub(crate) fn is_of(text: &SheetText, witness: &TableAt, role: WorkRole) -> bool {
    let kind = text.table(witness).and_then(|table| table.text("kind"));
    let Some(kind) = kind.and_then(|kind| movement::WitnessKind::called(&kind)) else {
        return false;
    };
    match role {
        WorkRole::CountWheel => kind.looks == WitnessDrawing::Slots,
        WorkRole::Lifters => kind.looks == WitnessDrawing::Pins,
        WorkRole::LockingPin => kind.word() == "locking pin",
        WorkRole::WarningPin => kind.word() == "warning pin",
        WorkRole::PalletTail => kind.looks == WitnessDrawing::Stop,
        _ => false,
    }
}
