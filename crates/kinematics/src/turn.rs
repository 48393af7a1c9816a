//! What can be turned on its arbor by what holds it, and how far that moves each witness.
//!
//! A part that is held by a square, friction, a screw or a collet is a joint in the train: turned there, what lies on one side of
//! it goes on against what lies on the other, and every mesh stays as it is. A joint on a loop of meshes cannot be turned alone.

use movement::{ArborId, Carrier, HeldBy, Movement, PartId, WitnessId};
use quantity::{Exact, whole};

/// What is turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TurnedThing {
    /// A toothed part.
    Part(PartId),
    /// What carries the marks of an arbor all of whose parts are held alike: its count wheel, its cam, its pins.
    Marks(ArborId),
}

impl TurnedThing {
    /// `ARBOR.PART`, as the sheet writes it; marks by the first track, pins or witness of their arbor.
    pub fn name(&self, movement: &Movement) -> String {
        let arbor = match *self {
            TurnedThing::Part(part) => return movement.part_name(part),
            TurnedThing::Marks(arbor) => arbor,
        };
        let on_it = |carrier: &Carrier<ArborId>| *carrier == Carrier::Arbor(arbor);
        let works = movement.works();
        let track = works.and_then(|works| works.tracks().find(|(_, t)| on_it(&t.carrier)));
        let pin = works.and_then(|works| works.pins().find(|(_, pin)| pin.on == arbor));
        let witness = movement.witnesses().find(|(_, w)| w.on == arbor);
        let name = (track.map(|(_, track)| &track.id))
            .or(pin.map(|(_, pin)| &pin.id))
            .or(witness.map(|(_, witness)| &witness.id));
        let id = &movement.arbor(arbor).id;
        name.map_or_else(|| id.clone(), |name| format!("{id}.{name}"))
    }
}

/// Something that can be turned against the rest of its arbor.
#[derive(Debug, Clone)]
pub struct Turnable {
    /// What.
    pub thing: TurnedThing,
    /// The arbor that it is on.
    pub arbor: ArborId,
    /// What holds it there.
    pub held_by: HeldBy,
    /// Whether it is the rest of the arbor that lies away from the arbor its train is seen from, so that the marks go and the teeth
    /// of the part stay.
    pub teeth_stay: bool,
    /// For each witness, degrees of its own arbor that it goes ahead where what lies away from the arbor its train is seen from is
    /// turned one degree ahead.
    moves: Vec<Exact>,
}

impl Turnable {
    /// How far a witness goes ahead for one degree.
    pub fn moves(&self, witness: WitnessId) -> &Exact {
        &self.moves[witness.index()]
    }

    /// How many witnesses it moves.
    pub fn moves_how_many(&self) -> usize {
        self.moves
            .iter()
            .filter(|moves| **moves != whole(0))
            .count()
    }

    /// The witnesses that it moves, in sheet order.
    pub fn moved<'a>(&'a self, movement: &'a Movement) -> impl Iterator<Item = WitnessId> + 'a {
        let all = movement.witnesses().map(|(id, _)| id);
        all.filter(|id| *self.moves(*id) != whole(0))
    }
}

/// Everything that can be turned on its arbor and moves some witness, in sheet order; marks after the toothed parts of their arbor.
///
/// What moves what follows from the meshes: a joint parts its train in two, and a witness is moved that lies on one side with the
/// arbor of its moment on the other,
///
/// # Formula
/// by `φ·|dθ_w/dθ_A|`, φ degrees of the turned arbor A; ahead if the witness lies away from the arbor its train is seen from, back if
/// its moment's arbor does. The marks of an arbor (what its witnesses show, what is felt at its moment) go
/// - by themselves, where the sheet tells how what carries them is held;
/// - else with a part so held that is in no mesh, for else it would be turned for nothing;
/// - else, where one word says how all on the arbor is held and several of its parts are in mesh, by themselves;
/// - else with the arbor, against whatever part is turned.
pub fn turnables(movement: &Movement) -> Vec<Turnable> {
    let joints = Joints::of(movement);
    (0..joints.held.len())
        .filter_map(|joint| joints.turnable(joint))
        .collect()
}

fn can_be_turned(held: Option<HeldBy>) -> Option<HeldBy> {
    held.filter(|held| *held != HeldBy::Pressed)
}

/// A movement as pieces that turn as one: each arbor, and what can be turned on it.
struct Joints<'m> {
    movement: &'m Movement,
    /// What is held, and by what.
    held: Vec<(TurnedThing, ArborId, HeldBy)>,
    /// Pieces that a mesh joins.
    meshes: Vec<[usize; 2]>,
    /// The piece that carries the marks of each arbor.
    marks: Vec<usize>,
}

impl<'m> Joints<'m> {
    fn of(movement: &'m Movement) -> Joints<'m> {
        let arbors = movement.arbors().len();
        let mut joints = Joints {
            movement,
            held: Vec::new(),
            meshes: Vec::new(),
            marks: (0..arbors).collect(),
        };
        for (id, arbor) in movement.arbors() {
            let (in_mesh, loose): (Vec<PartId>, Vec<PartId>) =
                (movement.parts(id).map(|(part, _)| part)).partition(|part| {
                    let ends = |mesh: &movement::Mesh| [mesh.driver, mesh.driven].contains(part);
                    movement.meshes().any(|(_, mesh)| ends(mesh))
                });
            let mut own = None;
            for (part, it) in movement.parts(id) {
                if let Some(held) = can_be_turned(it.held_by) {
                    if loose.contains(&part) {
                        own.get_or_insert(arbors + joints.held.len());
                    }
                    joints.held.push((TurnedThing::Part(part), id, held));
                }
            }
            // What carries the marks may be told to be held by itself, whatever holds the teeth.
            let marks = movement.works().and_then(|works| works.marks_held_by(id));
            if own.is_none()
                && let Some(held) = can_be_turned(marks)
            {
                own = Some(arbors + joints.held.len());
                joints.held.push((TurnedThing::Marks(id), id, held));
            }
            if own.is_none()
                && in_mesh.len() > 1
                && let Some(held) = can_be_turned(arbor.all_held_by)
            {
                own = Some(arbors + joints.held.len());
                joints.held.push((TurnedThing::Marks(id), id, held));
            }
            if let Some(own) = own {
                joints.marks[id.index()] = own;
            }
        }
        joints.meshes = (movement.meshes())
            .map(|(_, mesh)| [mesh.driver, mesh.driven].map(|part| joints.piece(part)))
            .collect();
        joints
    }

    /// The piece that a toothed part is of.
    fn piece(&self, part: PartId) -> usize {
        let own = (self.held.iter()).position(|(thing, ..)| *thing == TurnedThing::Part(part));
        own.map_or(part.arbor.index(), |n| self.marks.len() + n)
    }

    /// The pieces that hang together with one if a joint is taken apart.
    fn together(&self, with: usize, without: usize) -> Vec<bool> {
        let arbors = self.marks.len();
        let joints = (self.held.iter().enumerate())
            .filter(|(n, _)| *n != without)
            .map(|(n, (_, arbor, _))| [arbor.index(), arbors + n]);
        let links: Vec<[usize; 2]> = joints.chain(self.meshes.iter().copied()).collect();
        let mut touching = vec![Vec::new(); arbors + self.held.len()];
        for [a, b] in links {
            touching[a].push(b);
            touching[b].push(a);
        }
        let mut together = vec![false; touching.len()];
        let mut open = vec![with];
        while let Some(piece) = open.pop() {
            if !std::mem::replace(&mut together[piece], true) {
                open.extend(&touching[piece]);
            }
        }
        together
    }

    fn turnable(&self, joint: usize) -> Option<Turnable> {
        let movement = self.movement;
        let (thing, arbor, held_by) = self.held[joint];
        let near = self.together(movement.anchor(arbor).index(), joint);
        let own = near[self.marks.len() + joint];
        if own == near[arbor.index()] {
            return None;
        }
        let far = |arbor: ArborId| !near[self.marks[arbor.index()]];
        let moves: Vec<Exact> = (movement.witnesses())
            .map(|(_, witness)| {
                let moment = movement.moment(witness.at).arbor;
                let moved = far(witness.on);
                if !movement.same_train(witness.on, arbor) || moved == far(moment) {
                    return whole(0);
                }
                let turns = movement.turns(witness.on) / movement.turns(arbor);
                if moved { turns } else { turns * whole(-1) }
            })
            .collect();
        let some = moves.iter().any(|moves| *moves != whole(0));
        some.then_some(Turnable {
            thing,
            arbor,
            held_by,
            teeth_stay: own,
            moves,
        })
    }
}
