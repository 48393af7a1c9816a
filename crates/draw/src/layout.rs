//! Where everything stands on the plate: arbors, teeth, levels, witnesses and levers.

use crate::fitting::{self, Fittings, bearer};
use crate::lever::{Stations, stations};
use crate::machinery::Machinery;
use crate::pitch::{Pitches, Sized, size};
use crate::place::{Footprint, place};
use crate::placed::{all_said, any_said, distances, placed};
use crate::standing::{Standing, standing};
use crate::{Mm, level, phase};
use kurbo::{Point, Rect};
use movement::{ArborId, MeshId, Movement, PartId};

/// A movement laid out upright, as seen from the plate its sheet is seen from: x to the right and y downward, in
/// millimetres.
#[derive(Debug, Clone)]
pub struct Layout {
    pub(crate) centres: Vec<Point>,
    pub(crate) pitches: Pitches,
    pub(crate) phases: Vec<f64>,
    pub(crate) levels: Vec<i32>,
    pub(crate) fittings: Fittings,
    pub(crate) stations: Stations,
    /// By arbor, the radius of the circle that holds its teeth, and of that which holds all that turns with it.
    pub(crate) toothed: Vec<f64>,
    pub(crate) outers: Vec<f64>,
    /// The levers as the sheet has them, where that is drawn.
    pub(crate) machinery: Option<Machinery>,
    /// What stands on the plates and in no train.
    pub(crate) standing: Vec<Standing>,
    /// Whether any arbor is where the sheet says.
    is_placed: bool,
}

/// Lays out every train of a movement, one beside the other.
///
/// `centres` are the centre distances that are known, of a mesh each; the first known in a set of meshing parts gives
/// all of them their module. An arbor that the sheet has a place for stands there, and what no measure tells follows from that.
/// The rest follows the habit of clocks. The same movement is always laid out alike.
pub fn layout(movement: &Movement, centres: &[(MeshId, Mm)]) -> Layout {
    let (pitches, centres) = stands(movement, centres);
    let fittings = fitting::fittings(movement, &pitches);
    let phases = phase::phases(movement, &pitches, &centres);
    let levels = level::levels(movement, &pitches, &centres);
    let toothed: Vec<f64> = movement.arbors().map(|(id, _)| pitches.outer(id)).collect();
    let outers: Vec<f64> = movement
        .arbors()
        .map(|(id, _)| toothed[id.index()].max(fittings.reach(id).unwrap_or(0.0)))
        .collect();
    let before = movement
        .arbors()
        .map(|(own, _)| {
            let level = bearer(&pitches, own).map_or(0, |p| levels[pitches.index(p.id)]);
            let mut before = vec![0.0_f64; centres.len()];
            for (part, _) in pitches
                .parts
                .iter()
                .zip(&levels)
                .filter(|(_, l)| **l < level)
            {
                let other = &mut before[part.id.arbor.index()];
                *other = other.max(part.outer());
            }
            before
        })
        .collect();
    let stations = stations(movement, &fittings, &centres, &outers, before);
    Layout {
        centres,
        pitches,
        phases,
        levels,
        fittings,
        stations,
        toothed,
        outers,
        machinery: None,
        standing: standing(movement),
        is_placed: any_said(movement),
    }
}

/// How large everything is, and where every arbor stands.
fn stands(movement: &Movement, centres: &[(MeshId, Mm)]) -> (Pitches, Vec<Point>) {
    let sized = || size(movement, &distances(movement, centres));
    if let Some(all) = all_said(movement) {
        return (sized(), all);
    }
    let mut pitches = size(movement, centres);
    let fittings = fitting::fittings(movement, &pitches);
    let footprints = footprints(movement, &pitches, &fittings);
    // Modules may follow from the places, and with them what sits on the wheels.
    let usual = place(movement, &mut pitches, &footprints);
    if any_said(movement) {
        let sized = sized();
        let stands = placed(movement, &sized, &usual);
        return (sized, stands);
    }
    (pitches, usual)
}

fn footprints(movement: &Movement, pitches: &Pitches, fittings: &Fittings) -> Vec<Footprint> {
    movement
        .arbors()
        .map(|(id, _)| {
            let bands = pitches.on(id).map(|p| (p.bore(), p.outer()));
            let fitted = fittings.reach(id).map(|r| (0.0, r));
            Footprint {
                bands: bands.chain(fitted).collect(),
                pinion: pitches
                    .on(id)
                    .map(Sized::outer)
                    .fold(f64::INFINITY, f64::min)
                    .min(1e3),
                witnessed: movement.witnesses().any(|(_, w)| w.on == id),
            }
        })
        .collect()
}

impl Layout {
    /// Whether any arbor stands where the sheet says, and not only as is usual.
    pub fn is_placed(&self) -> bool {
        self.is_placed
    }

    /// The middle of an arbor: to the right, and downward.
    pub fn centre(&self, arbor: ArborId) -> (Mm, Mm) {
        let at = self.centres[arbor.index()];
        (Mm::worked_out(at.x), Mm::worked_out(at.y))
    }

    /// The pitch radius of a part.
    pub fn pitch_radius(&self, part: PartId) -> Mm {
        Mm::worked_out(self.pitches.part(part).pitch_radius())
    }

    /// How deep a part lies, seen from the sheet's plate: 0 is nearest, less than 0 outside that plate.
    pub fn level(&self, part: PartId) -> i32 {
        self.levels[self.pitches.index(part)]
    }

    /// Whether the pitch circles of a mesh touch, to a thousandth of a millimetre. They do but where a loop of meshes
    /// cannot be laid flat in the sizes it has.
    pub fn touches(&self, movement: &Movement, mesh: MeshId) -> bool {
        const TOUCH: f64 = 1e-3;
        let mesh = movement.mesh(mesh);
        let [a, b] = [mesh.driver, mesh.driven].map(|p| self.centres[p.arbor.index()]);
        (a.distance(b) - self.pitches.distance(mesh)).abs() < TOUCH
    }

    /// Whether all is drawn to scale: the distance was measured at every mesh, and each is drawn as it was measured. Where
    /// measures of one train do not fit one module, or a loop cannot be laid flat, some are not.
    pub fn to_scale(&self, movement: &Movement, measured: &[(MeshId, Mm)]) -> bool {
        movement.meshes().len() > 0
            && movement.meshes().all(|(id, mesh)| {
                let [a, b] = [mesh.driver, mesh.driven].map(|p| self.centres[p.arbor.index()]);
                measured.iter().any(|(at, mm)| {
                    // A calliper over two arbors is good to a tenth of a millimetre: common practice, no source.
                    let off = (a.distance(b) - mm.mm()).abs();
                    *at == id && off <= f64::max(0.1, 0.005 * mm.mm())
                })
            })
    }

    /// The radius of the circle about an arbor that holds all that turns with it.
    pub(crate) fn outer(&self, arbor: ArborId) -> f64 {
        self.outers[arbor.index()]
    }

    /// The radius of the circle about an arbor that holds its teeth.
    pub(crate) fn toothed(&self, arbor: ArborId) -> f64 {
        self.toothed[arbor.index()]
    }

    /// The frame of all that turns, and of the levers.
    pub(crate) fn bounds(&self, movement: &Movement) -> Rect {
        let all = movement.arbors().map(|(id, _)| {
            let at = self.centres[id.index()];
            let reach = kurbo::Vec2::new(self.outer(id), self.outer(id));
            Rect::from_points(at - reach, at + reach)
        });
        let wheels = all
            .reduce(|a, b| a.union(b))
            .unwrap_or(Rect::new(0.0, 0.0, 10.0, 10.0));
        let wheels = (self.standing.iter()).fold(wheels, |frame, s| frame.union(s.frame()));
        match &self.machinery {
            Some(machinery) => machinery
                .points()
                .fold(wheels, |frame, p| frame.union_pt(p)),
            None => (self.stations.points()).fold(wheels, |frame, p| frame.union_pt(p)),
        }
    }
}
