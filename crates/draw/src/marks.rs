//! What a drawing is told to show: where witnesses and levers stand, which arbor is lifted, which is held.

use movement::{ArborId, LeverArborId, MeshId, WitnessId};
use quantity::Degrees;

/// Where witnesses stand, and how high levers are; witnesses each in degrees ahead of the place it is meant for. Those it does not name are unread.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Pose {
    stands: Vec<(WitnessId, Degrees)>,
    heights: Vec<Degrees>,
}

impl Pose {
    /// With one witness read, or read again.
    #[must_use]
    pub fn with(mut self, witness: WitnessId, place: Degrees) -> Pose {
        self.stands.retain(|s| s.0 != witness);
        self.stands.push((witness, place));
        self
    }

    /// With every lever arbor so high above where it comes to rest, in their order.
    #[must_use]
    pub fn lifted(mut self, heights: &[Degrees]) -> Pose {
        self.heights = heights.to_vec();
        self
    }

    /// How high a lever arbor is; nothing where that is not said.
    pub fn height(&self, arbor: LeverArborId) -> Option<&Degrees> {
        self.heights.get(arbor.index())
    }

    /// Where a witness stands; nothing where it is unread.
    pub fn of(&self, witness: WitnessId) -> Option<&Degrees> {
        self.stands
            .iter()
            .find(|s| s.0 == witness)
            .map(|(_, place)| place)
    }
}

/// Which way a lifted arbor goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LiftWay {
    /// Further on as it runs.
    Ahead,
    /// Back against its running.
    Back,
    /// Both ways come to the same places.
    Either,
}

/// One shift: the arbor beyond the mesh is lifted and turned so many teeth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lift {
    /// The mesh that is opened. Nothing is drawn for one that closes a loop, as it cannot be shifted alone.
    pub mesh: MeshId,
    /// How many teeth of the lifted part.
    pub teeth: u16,
    /// Which way.
    pub way: LiftWay,
}

/// A part that is turned on its arbor, the meshes left as they are.
#[derive(Debug, Clone, PartialEq)]
pub struct PartTurned {
    /// The arbor that it is on.
    pub at: ArborId,
    /// By how much, in degrees of that arbor, above 0.
    pub by: Degrees,
    /// Which way.
    pub way: LiftWay,
    /// The word for it in the reader's language: "a quarter"; it may be empty.
    pub says: String,
}

/// An arbor that is held while another is turned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hold {
    /// The arbor.
    pub at: ArborId,
    /// The word for it in the reader's language; it may be empty.
    pub says: String,
}

/// Words at an arbor, in the reader's language.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// The arbor.
    pub at: ArborId,
    /// Short lines, under its name.
    pub lines: Vec<String>,
    /// Whether the arbor is what the drawing is about.
    pub blue: bool,
}

impl Note {
    /// Adds a line to the words at an arbor, which may have some already.
    pub fn add(notes: &mut Vec<Note>, at: ArborId, line: String, blue: bool) {
        match notes.iter_mut().find(|note| note.at == at) {
            Some(note) => note.lines.push(line),
            None => notes.push(Note {
                at,
                lines: vec![line],
                blue,
            }),
        }
    }
}

/// What is marked on a drawing.
#[derive(Debug, Clone, Default)]
pub struct Marks<'a> {
    /// What is to be moved. Where there are several, each lifted arbor is told with its number, from 1.
    pub lifts: &'a [Lift],
    /// What is turned on its arbor, each with its arrow, after those of the lifts.
    pub turns: &'a [PartTurned],
    /// What is held, each arbor once.
    pub holds: &'a [Hold],
    /// Where witnesses will stand afterwards, dotted.
    pub after: Option<&'a Pose>,
}
