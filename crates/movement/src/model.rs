//! The movement itself: after the check there is no branch for "not found".

use crate::train::Tree;
use crate::{
    ArborId, Blows, Carrier, CountedBy, Frame, HeldBy, MeshAccess, MeshId, MeshSide, MomentId,
    Plate, PlatePoint, Reached, ToothForm, Turning, WindowSource, WitnessDrawing, WitnessId,
    WitnessKind, Works,
};
use quantity::{Degrees, Exact, Known, Measure, Repeats, Teeth, Tool, to_f64};

/// A toothed part of this movement.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct PartId {
    /// The arbor it is on.
    pub arbor: ArborId,
    pub(crate) part: usize,
}

/// A toothed part.
#[derive(Debug, Clone)]
pub struct Part {
    /// Its name on its arbor.
    pub name: String,
    /// Its count.
    pub teeth: Teeth,
    /// How its teeth are made.
    pub form: ToothForm,
    /// How it is held on its arbor, where the sheet says so.
    pub held_by: Option<HeldBy>,
}

/// An arbor with what sits on it.
#[derive(Debug, Clone)]
pub struct Arbor {
    /// Its id on the sheet.
    pub id: String,
    /// Its toothed parts in order of writing.
    pub parts: Vec<Part>,
    /// Its measurements by key, in order of writing.
    pub measured: Vec<(String, Exact)>,
    /// How surely some of them are known: one standard deviation by key, in the unit of the key.
    pub spreads: Vec<(String, Exact)>,
    /// Where it stands on the plate.
    pub at: Option<PlatePoint>,
    /// Beats in one turn of it, where its escapement does not give two for each tooth.
    pub beats_per_turn: Option<Exact>,
    /// How all that sits on it is held, where the sheet says it in one word: its marks too, not its toothed parts alone.
    pub all_held_by: Option<HeldBy>,
    /// Whether it has a small cock of its own, so that it comes out with the plates left together.
    pub cock: bool,
}

impl Arbor {
    /// The measurement written under `key`.
    pub fn measured(&self, key: &str) -> Option<&Exact> {
        written_under(&self.measured, key)
    }

    /// How surely that is known, where it is written beside it.
    pub fn spread(&self, key: &str) -> Option<&Exact> {
        written_under(&self.spreads, key)
    }

    /// The measurement with how surely it is known: as is written beside it, else as a tool measures. `of` makes the quantity of a number in
    /// the unit of the key.
    pub fn known<Q: Measure>(&self, key: &str, of: fn(f64) -> Q, tool: Tool) -> Option<Known<Q>> {
        let value = of(to_f64(self.measured(key)?));
        Some(match written_under(&self.spreads, key) {
            Some(spread) => Known::new(value, of(to_f64(spread))),
            None => Known::measured(value, tool),
        })
    }
}

fn written_under<'m>(measured: &'m [(String, Exact)], key: &str) -> Option<&'m Exact> {
    measured
        .iter()
        .find(|(k, _)| k == key)
        .map(|(_, value)| value)
}

/// Two parts in mesh.
#[derive(Debug, Clone)]
pub struct Mesh {
    /// The part that drives.
    pub driver: PartId,
    /// The part that is driven.
    pub driven: PartId,
    /// Whether it keeps the direction of turning.
    pub internal: bool,
    /// The whole free travel of the driven part with the driver held, in teeth.
    pub lash_teeth: Option<Exact>,
    /// What must be opened to shift it.
    pub reached: Reached,
    /// Its measurements by key, in order of writing.
    pub measured: Vec<(String, Exact)>,
    /// How surely some of them are known: one standard deviation by key, in the unit of the key.
    pub spreads: Vec<(String, Exact)>,
}

impl Mesh {
    /// The measurement written under `key`.
    pub fn measured(&self, key: &str) -> Option<&Exact> {
        written_under(&self.measured, key)
    }

    /// How surely that is known, where it is written beside it.
    pub fn spread(&self, key: &str) -> Option<&Exact> {
        written_under(&self.spreads, key)
    }

    /// The part on one side.
    pub fn part(&self, side: MeshSide) -> PartId {
        match side {
            MeshSide::Driver => self.driver,
            MeshSide::Driven => self.driven,
        }
    }
}

/// The strike.
#[derive(Debug, Clone)]
pub struct Strike {
    /// What counts the blows.
    pub counted_by: CountedBy,
    /// What is struck.
    pub blows: Blows,
    /// The arbor that is held at the drop; all else is read against it.
    pub read_at: ArborId,
    /// Blows in one turn of `read_at`.
    pub blows_per_turn: Exact,
    /// How surely `read_at` is held, one standard deviation.
    pub hold: Option<Degrees>,
    /// Hours after which the whole works stand as they did.
    pub cycle_hours: u16,
    /// How fast it strikes, where that was measured.
    pub pace: Option<StrikePace>,
}

/// How fast it strikes, as it was measured.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StrikePace {
    /// From blow to blow.
    pub blow: MeasuredSeconds,
    /// How long the lever that locks the train falls; nothing where nobody measured it.
    pub fall: Option<MeasuredSeconds>,
}

/// Seconds that were measured.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MeasuredSeconds {
    /// How many; more than none.
    pub is: Exact,
    /// One standard deviation; nought where none is told.
    pub spread: Exact,
}

/// An instant of the cycle at which some witness is judged.
#[derive(Debug, Clone)]
pub struct Moment {
    /// Its id on the sheet.
    pub id: String,
    /// The arbor that counts as fixed then.
    pub arbor: ArborId,
    /// What it is, in the sheet's words.
    pub says: String,
}

/// How wide slot and tip are, so that a reading can be said as it looks.
#[derive(Debug, Clone)]
pub struct SlotWidths {
    /// Width of the slot, in degrees of the witness's arbor.
    pub slot: Degrees,
    /// Width of the lever's tip, in the same degrees.
    pub tip: Degrees,
}

/// A part whose place at its moment shows whether the train is timed.
#[derive(Debug, Clone)]
pub struct Witness {
    /// Its id on the sheet.
    pub id: String,
    /// What it is, in the sheet's words.
    pub says: String,
    /// The arbor it is on.
    pub on: ArborId,
    /// What it is: what the sheet says, or what follows from its arbor.
    pub kind: WitnessKind,
    /// Whether it is the sheet that says so.
    pub kind_told: bool,
    /// Alike places in a turn of its arbor.
    pub repeats: Repeats,
    /// The first place in which it may stand.
    pub from: Degrees,
    /// The last place in which it may stand.
    pub to: Degrees,
    /// Where it is meant to stand.
    pub best: Degrees,
    /// Where its window comes from.
    pub source: WindowSource,
    /// The moment it is judged at.
    pub at: MomentId,
    /// Slot and tip, where the sheet gives them.
    pub look: Option<SlotWidths>,
    /// The hour at which its place 0 stands, as seen from the sheet's plate.
    pub arm_oclock: Option<Exact>,
}

impl Witness {
    /// The angle after which its places repeat.
    pub fn period(&self) -> Degrees {
        period(self.repeats)
    }

    /// The whole width of its window; never nothing.
    pub fn width(&self) -> Degrees {
        &self.to - &self.from
    }

    /// Whether it is a count wheel's slot and any single one of them will do, so that its tip stands over a slot or over the land
    /// beside it.
    pub fn is_any_slot(&self) -> bool {
        self.kind.looks == WitnessDrawing::Slots && self.repeats.get() > 1
    }

    /// Whether some place alike to `place` is in its window, ends included.
    pub fn admits(&self, place: &Degrees) -> bool {
        let period = self.period();
        let turns = (place.exact() - self.from.exact()) / period.exact();
        let above = Degrees::deg((&turns - turns.floor()) * period.exact());
        above <= self.width()
    }
}

/// A witness whose window nobody wrote: it is known by name, and where it stands is not judged.
#[derive(Debug, Clone)]
pub struct Unjudged {
    /// Its id on the sheet.
    pub id: String,
    /// What it is, in the sheet's words.
    pub says: String,
    /// The arbor it is on.
    pub on: ArborId,
    /// What it is: what the sheet says, or what follows from its arbor.
    pub kind: WitnessKind,
    /// Whether it is the sheet that says so.
    pub kind_told: bool,
    /// Alike places in a turn of its arbor.
    pub repeats: Repeats,
    /// Where it is meant to stand, where that is written.
    pub best: Option<Degrees>,
    /// The moment it is judged at.
    pub at: MomentId,
    /// Slot and tip, where the sheet gives them.
    pub look: Option<SlotWidths>,
    /// The hour at which its place 0 stands, as seen from the sheet's plate.
    pub arm_oclock: Option<Exact>,
    /// Its place among all witnesses of the sheet.
    pub(crate) place: usize,
}

impl Unjudged {
    /// The angle after which its places repeat.
    pub fn period(&self) -> Degrees {
        period(self.repeats)
    }
}

/// The angle after which so many alike places repeat.
fn period(repeats: Repeats) -> Degrees {
    Degrees::deg(Exact::new(360.into(), repeats.get().into()))
}

/// A movement in which everything refers to something that is there.
#[derive(Debug, Clone)]
pub struct Movement {
    pub(crate) name: String,
    pub(crate) seen_from: Plate,
    pub(crate) arbors: Vec<Arbor>,
    pub(crate) meshes: Vec<Mesh>,
    pub(crate) strike: Option<Strike>,
    pub(crate) moments: Vec<Moment>,
    pub(crate) witnesses: Vec<Witness>,
    pub(crate) unjudged: Vec<Unjudged>,
    pub(crate) works: Option<Works>,
    pub(crate) frame: Frame,
    pub(crate) tree: Tree,
    /// Parts that nobody counted.
    pub(crate) uncounted: Vec<PartId>,
}

impl Movement {
    /// What the clock is called.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The plate that directions on its sheet are seen from.
    pub fn seen_from(&self) -> Plate {
        self.seen_from
    }

    /// The strike, where the sheet has one.
    pub fn strike(&self) -> Option<&Strike> {
        self.strike.as_ref()
    }

    /// Whether a part was counted. In a movement that was checked it was; in one that was read for its strike alone some beside it may
    /// not be, and their numbers mean nothing.
    pub fn is_counted(&self, part: PartId) -> bool {
        !self.uncounted.contains(&part)
    }

    /// Whether every part was counted.
    pub fn is_all_counted(&self) -> bool {
        self.uncounted.is_empty()
    }

    /// The same without a count for these.
    pub(crate) fn without_counts(self, uncounted: Vec<PartId>) -> Movement {
        Movement { uncounted, ..self }
    }

    /// The arbors that what strikes or is timed hangs on: those of moments, witnesses, tracks and pins.
    pub fn struck_by(&self) -> Vec<ArborId> {
        let mut by: Vec<ArborId> = self.moments.iter().map(|moment| moment.arbor).collect();
        by.extend(self.witnesses.iter().map(|witness| witness.on));
        by.extend(self.unjudged.iter().map(|witness| witness.on));
        if let Some(works) = &self.works {
            by.extend(works.tracks().filter_map(|(_, track)| match track.carrier {
                Carrier::Arbor(on) => Some(on),
                Carrier::Hours(_) => None,
            }));
            by.extend(works.pins().map(|(_, pin)| pin.on));
        }
        by.sort_unstable();
        by.dedup();
        by
    }

    /// Levers and tracks, where the sheet has them.
    pub fn works(&self) -> Option<&Works> {
        self.works.as_ref()
    }

    /// Plates, pillars and the pivots of levers.
    pub fn frame(&self) -> &Frame {
        &self.frame
    }

    /// Every arbor in sheet order.
    pub fn arbors(&self) -> impl ExactSizeIterator<Item = (ArborId, &Arbor)> {
        self.arbors.iter().enumerate().map(|(i, a)| (ArborId(i), a))
    }

    /// Every mesh in sheet order.
    pub fn meshes(&self) -> impl ExactSizeIterator<Item = (MeshId, &Mesh)> {
        self.meshes.iter().enumerate().map(|(i, m)| (MeshId(i), m))
    }

    /// Witnesses without a window, in sheet order: none of them is among [`Movement::witnesses`].
    pub fn unjudged(&self) -> &[Unjudged] {
        &self.unjudged
    }

    /// Every witness that has a window, in sheet order.
    pub fn witnesses(&self) -> impl ExactSizeIterator<Item = (WitnessId, &Witness)> {
        self.witnesses
            .iter()
            .enumerate()
            .map(|(i, w)| (WitnessId(i), w))
    }

    /// Every moment; the drop first, where there is a strike.
    pub fn moments(&self) -> &[Moment] {
        &self.moments
    }

    /// One arbor.
    pub fn arbor(&self, id: ArborId) -> &Arbor {
        &self.arbors[id.0]
    }

    /// One mesh.
    pub fn mesh(&self, id: MeshId) -> &Mesh {
        &self.meshes[id.0]
    }

    /// One part.
    pub fn part(&self, id: PartId) -> &Part {
        &self.arbors[id.arbor.0].parts[id.part]
    }

    /// Every part of one arbor.
    pub fn parts(&self, arbor: ArborId) -> impl Iterator<Item = (PartId, &Part)> {
        self.arbors[arbor.0]
            .parts
            .iter()
            .enumerate()
            .map(move |(part, p)| (PartId { arbor, part }, p))
    }

    /// One witness.
    pub fn witness(&self, id: WitnessId) -> &Witness {
        &self.witnesses[id.0]
    }

    /// One moment.
    pub fn moment(&self, id: MomentId) -> &Moment {
        &self.moments[id.0]
    }

    /// The arbor with this id.
    pub fn find_arbor(&self, id: &str) -> Option<ArborId> {
        self.arbors.iter().position(|a| a.id == id).map(ArborId)
    }

    /// The witness with this id.
    pub fn find_witness(&self, id: &str) -> Option<WitnessId> {
        self.witnesses
            .iter()
            .position(|w| w.id == id)
            .map(WitnessId)
    }

    /// The part named `ARBOR.PART`.
    pub fn find_part(&self, name: &str) -> Option<PartId> {
        let (arbor, part) = name.split_once('.')?;
        let arbor = self.find_arbor(arbor)?;
        let found = self.parts(arbor).find(|(_, p)| p.name == part)?;
        Some(found.0)
    }

    /// The mesh named `ARBOR.PART>ARBOR.PART` or, as a command line writes it, `ARBOR.PART:ARBOR.PART`.
    pub fn find_mesh(&self, name: &str) -> Option<MeshId> {
        let name = name.replacen(':', ">", 1);
        (0..self.meshes.len())
            .map(MeshId)
            .find(|&id| self.mesh_name(id) == name)
    }

    /// `ARBOR.PART` as the sheet writes it.
    pub fn part_name(&self, id: PartId) -> String {
        format!("{}.{}", self.arbor(id.arbor).id, self.part(id).name)
    }

    /// `ARBOR.PART>ARBOR.PART`, driver first.
    pub fn mesh_name(&self, id: MeshId) -> String {
        let mesh = self.mesh(id);
        format!(
            "{}>{}",
            self.part_name(mesh.driver),
            self.part_name(mesh.driven)
        )
    }

    /// Whether a path of meshes joins two arbors.
    pub fn same_train(&self, a: ArborId, b: ArborId) -> bool {
        self.tree.train[a.0] == self.tree.train[b.0]
    }

    /// The number of trains, and for an arbor which one it is of.
    pub fn train_of(&self, arbor: ArborId) -> usize {
        self.tree.train[arbor.0]
    }

    /// How many trains the sheet has.
    pub fn trains(&self) -> usize {
        self.tree.trains
    }

    /// Turns of an arbor in one turn of the arbor its train is reckoned from, without direction.
    pub fn turns(&self, arbor: ArborId) -> &Exact {
        &self.tree.turns[arbor.0]
    }

    /// Which way an arbor turns when it runs, as seen from a plate.
    pub fn runs(&self, arbor: ArborId, from: Plate) -> Turning {
        let as_written = self.tree.runs[arbor.0];
        if from == self.seen_from {
            as_written
        } else {
            as_written.reversed()
        }
    }

    /// The arbor its train is seen from: `read_at`, or in a train without it the arbor of the first moment there, or
    /// the arbor that nothing drives.
    pub fn anchor(&self, arbor: ArborId) -> ArborId {
        ArborId(self.tree.anchor[self.tree.train[arbor.0]])
    }

    /// The side of a mesh that lies away from its train's anchor; nothing where the mesh closes a loop and cannot be
    /// shifted alone.
    pub fn far_side(&self, mesh: MeshId) -> Option<MeshSide> {
        self.tree.far[mesh.0]
    }

    /// The arbor on the far side of a mesh that can be shifted.
    pub fn far_arbor(&self, mesh: MeshId) -> Option<ArborId> {
        self.far_side(mesh)
            .map(|side| self.mesh(mesh).part(side).arbor)
    }

    /// What it takes to open a mesh.
    pub fn opened(&self, mesh: MeshId) -> MeshAccess {
        let mesh = self.mesh(mesh);
        let cock = |part: PartId| self.arbor(part.arbor).cock;
        match mesh.reached {
            Reached::Outside => MeshAccess::Outside,
            Reached::Plates if cock(mesh.driver) || cock(mesh.driven) => MeshAccess::Cock,
            Reached::Plates => MeshAccess::Plates,
        }
    }

    /// How many meshes lie between an arbor and the anchor of its train.
    pub fn distance(&self, arbor: ArborId) -> usize {
        self.tree.depth[arbor.0]
    }

    /// Whether an arbor lies on the far side of a mesh that can be shifted.
    pub fn beyond(&self, mesh: MeshId, arbor: ArborId) -> bool {
        self.far_arbor(mesh)
            .is_some_and(|far| self.tree.within(far.0, arbor.0))
    }
}
