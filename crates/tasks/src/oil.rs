//! The plan of a movement's oil, and its drawing to hang by the bench.

use crate::Refusal;
use draw::{Drawing, Note, View, layout, noted, poster};
use movement::Movement;
use report::en::System;
use workshop::oil::{Plan, Room, State, Where, plan};

/// A movement and where its oil goes.
#[derive(Debug)]
pub struct Oiled {
    /// The movement.
    pub movement: Movement,
    /// What it is like.
    pub state: State,
    /// What to do.
    pub plan: Plan,
}

/// Plans the oil of a sheet's movement.
///
/// # Errors
/// The sheet's faults, or that there is no such arbor among those worn.
pub fn oil(sheet: &[u8], state: State, room: Room, worn: &[String]) -> Result<Oiled, Refusal> {
    let movement = crate::check(sheet)?.movement;
    let worn = worn
        .iter()
        .map(|id| {
            let unknown = || Refusal::Question(report::Why::unknown_arbor(&movement, id));
            movement.find_arbor(id).ok_or_else(unknown)
        })
        .collect::<Result<Vec<_>, _>>()?;
    let plan = plan(&movement, state, room, &worn);
    Ok(Oiled {
        movement,
        state,
        plan,
    })
}

impl Oiled {
    /// The movement with a number at each arbor, and what the numbers mean beneath.
    pub fn drawing(&self, system: System) -> Drawing {
        let movement = &self.movement;
        let mut notes: Vec<Note> = Vec::new();
        for (i, step) in self.plan.steps.iter().enumerate() {
            let at = match step.place {
                Where::Coils(a)
                | Where::Barrel(a)
                | Where::Click(a)
                | Where::Pulley(a)
                | Where::Friction(a)
                | Where::Pivots(a)
                | Where::Lifting(a) => a,
                Where::Pallets(part) => part.arbor,
                Where::Levers | Where::Tips => continue,
            };
            let line = report::en::oil::on_the_drawing(i + 1, step);
            match notes.iter_mut().find(|note| note.at == at) {
                Some(note) => note.lines.push(line),
                None => notes.push(Note {
                    at,
                    lines: vec![line],
                    blue: false,
                }),
            }
        }
        let laid = layout(movement, &crate::centres(movement));
        let scene = noted(movement, &laid, View::of_sheet(movement), &notes);
        let lines = report::en::oil::under_the_drawing(movement, &self.plan, system);
        poster(&scene, &report::en::oil::heading(movement), &lines)
    }
}
