//! Clocks that are like one another: a sheet begun from another one's, and the clocks that have the same train. And counts that
//! were lost, put in as they were worked out.

use crate::{Counted, Refusal};
use kinds::{CountPlace, CountState, DescribeFault, Described, PlaceId};
use quantity::Teeth;
use sheet::SheetTable;
use sheet::edit::{SheetValue, TableAt};

/// What was measured of one clock as it was worn, and says nothing of another.
const WORN: [&str; 3] = ["pivot_mm", "hole_mm", "end_shake_mm"];

/// A sheet begun from that of a like clock: its counts and works, and nothing of its wear. Each count stands in doubt until it was
/// counted on this clock too, or is taken as it is on `like`.
///
/// # Errors
/// The text cannot be taken apart, or `like` is empty.
pub fn begin_like(sheet: &str, like: &str, name: &str) -> Result<Described, Refusal> {
    let mut begun = Described::read(sheet)?;
    let at = TableAt::One(SheetTable::Sheet);
    begun.set(&at, "name", &SheetValue::Text(name.to_owned()))?;
    begun.edit(|text| {
        for arbor in text.arbors() {
            for key in WORN {
                text.unset(&TableAt::Arbor(arbor.clone()), key)?;
            }
        }
        Ok(())
    })?;
    begun.begin_as_on(like)?;
    Ok(begun)
}

/// So many counts have to agree before a train is thought to be the same: fewer are common to many.
const ALIKE: usize = 4;

/// How many counts of one sheet another has too, place by place from the great wheel up; nothing where any that both have differs,
/// one has more places than the other, or too few are counted. Names do not matter.
pub fn same_train(one: &Described, other: &Described) -> Option<usize> {
    let kinds = [one, other].map(|sheet| sheet.kind().map(|kind| &kind.id));
    let [mine, its] = [one, other].map(Described::counts);
    if kinds[0] != kinds[1] || mine.len() != its.len() {
        return None;
    }
    let mut agree = 0;
    for (mine, its) in mine.iter().zip(&its) {
        match (teeth(mine), teeth(its)) {
            (Some(mine), Some(its)) if mine == its => agree += 1,
            (Some(_), Some(_)) => return None,
            _ => {}
        }
    }
    (agree >= ALIKE).then_some(agree)
}

fn teeth(place: &CountPlace) -> Option<Teeth> {
    match place.state {
        CountState::Counted(teeth) | CountState::NotSure(teeth) => Some(teeth),
        CountState::NotCounted | CountState::Lost => None,
    }
}

/// The counts of one of the sets that fit, by their parts; nothing where there is no such set.
pub fn worked_out(counted: &Counted, nth: usize) -> Option<Vec<(PlaceId, Teeth)>> {
    let movement = counted.open.movement();
    let fit = counted.found.fits.get(nth)?;
    let blanks = counted.puzzle.blanks.iter();
    let each = blanks.zip(&fit.counts).map(|(blank, teeth)| {
        let id = PlaceId {
            arbor: movement.arbor(blank.part.arbor).id.clone(),
            part: movement.part(blank.part).name.clone(),
        };
        Some((id, Teeth::pins((*teeth).into())?))
    });
    each.collect()
}

/// Puts counts in that were worked out: they stand in doubt, for nobody counted them.
///
/// # Errors
/// No such part.
pub fn put_in_counts(
    sheet: &mut Described,
    counts: &[(PlaceId, Teeth)],
) -> Result<(), DescribeFault> {
    for (place, teeth) in counts {
        sheet.count(place, CountState::NotSure(*teeth))?;
    }
    Ok(())
}
