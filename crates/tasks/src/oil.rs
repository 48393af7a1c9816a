//! The plan of a movement's oil, and its drawing to hang by the bench.

use crate::Refusal;
use draw::{Drawing, Note, View, layout, noted, poster};
use movement::Movement;
use report::Words;
use workshop::oil::{Plan, Room, State, Where, plan};

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
    pub plan: Plan,
}

/// Plans the oil of a sheet's movement.
///
/// # Errors
/// The sheet's faults, or that there is no such arbor among those worn.
pub fn oil(sheet: &[u8], state: State, room: Room, worn: &[String]) -> Result<Oiled, Refusal> {
    // Where a pivot is does not hang on a lost count.
    let open = sheet::read_open(sheet)?;
    let movement = open.movement().clone();
    let blanks = open.blanks().iter().filter(|blank| blank.written.is_none());
    let lost = blanks.map(|blank| movement.part_name(blank.part)).collect();
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
        lost,
        plan,
    })
}

impl Oiled {
    /// The drawing to hang by the bench, with what its numbers mean beneath.
    pub fn poster(&self, words: &Words) -> Drawing {
        let lines = report::oil::under_the_drawing(words, &self.movement, &self.plan);
        let heading = report::oil::heading(words, &self.movement);
        poster(&self.drawing(words), &heading, &lines)
    }

    /// The movement with the number of its step at each place.
    pub fn drawing(&self, words: &Words) -> Drawing {
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
                | Where::Stud(a)
                | Where::Lifting(a) => a,
                Where::Pallets(part) => part.arbor,
                Where::Levers | Where::Hammers(_) | Where::Crutch | Where::Tips => continue,
            };
            let line = report::oil::on_the_drawing(words, i + 1, step);
            match notes.iter_mut().find(|note| note.at == at) {
                Some(note) => note.lines.push(line),
                None => notes.push(Note {
                    at,
                    lines: vec![line],
                    blue: false,
                }),
            }
        }
        let laid = layout(movement, &crate::centres(movement, None));
        noted(movement, &laid, View::of_sheet(movement), &notes)
    }
}
