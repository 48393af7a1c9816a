//! The plan of a movement's oil, and its drawing to hang by the bench.

use crate::{QuestionFault, Refusal};
use movement::Movement;
use workshop::oil::{OilPlan, State, Surroundings, plan};

/// A movement and where its oil goes.
#[derive(Debug)]
pub struct Oiled {
    /// The movement.
    pub movement: Movement,
    /// What it is like.
    pub state: State,
    /// Parts whose counts are lost.
    pub lost: Vec<String>,
    /// What to do.
    pub plan: OilPlan,
}

/// Plans the oil of a sheet's movement.
///
/// # Errors
/// The sheet's faults, or that there is no such arbor among those worn.
pub fn oil(
    sheet: &[u8],
    state: State,
    room: Surroundings,
    worn: &[String],
) -> Result<Oiled, Refusal> {
    // Where a pivot is does not hang on a lost count.
    let (open, _) = crate::check_counts_apart(sheet)?;
    let movement = open.movement().clone();
    let blanks = open.blanks().iter().filter(|blank| blank.written.is_none());
    let lost = blanks.map(|blank| movement.part_name(blank.part)).collect();
    let worn = worn
        .iter()
        .map(|id| {
            let unknown = || QuestionFault::unknown_arbor(&movement, id);
            movement.find_arbor(id).ok_or_else(unknown)
        })
        .collect::<Result<Vec<_>, _>>()?;
    let plan = plan(&movement, state, room, &worn);
    Ok(Oiled {
        movement,
        state,
        lost,
        plan,
    })
}
