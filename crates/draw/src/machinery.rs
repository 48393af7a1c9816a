//! How the levers of a sheet lie: tracks and pins, lever arbors and their arms, each at height 0. All here is in the sheet's
//! own view.

use kurbo::{Point, Vec2};
use movement::{LeverArborId, LeverId, Shape, slots_of};
use quantity::{Degrees, to_f64};

/// What goes round: a track, or pins, and where its places come to what feels or stops them.
#[derive(Debug, Clone)]
pub(crate) struct Round {
    pub(crate) centre: Point,
    /// Of the rim, or of the pins' circle.
    pub(crate) radius: f64,
    /// From the middle to where place 0 is met.
    pub(crate) angle: f64,
    /// How far the bottom is below the rim.
    pub(crate) depth: f64,
}

/// One arm, as it lies at height 0.
#[derive(Debug, Clone)]
pub(crate) struct Arm {
    pub(crate) lever: LeverId,
    /// Where it bends, and its tip.
    pub(crate) knee: Point,
    pub(crate) tip: Point,
    /// How wide its tip is.
    pub(crate) width: f64,
}

/// One lever arbor.
#[derive(Debug, Clone)]
pub(crate) struct Pivot {
    pub(crate) arbor: LeverArborId,
    pub(crate) at: Point,
    /// Which way round lifts: 1 clockwise.
    pub(crate) sense: f64,
    pub(crate) arms: Vec<Arm>,
}

/// All of it.
#[derive(Debug, Clone, Default)]
pub(crate) struct Machinery {
    /// By track and by pin; nothing for one that is neither felt nor met.
    pub(crate) tracks: Vec<Option<Round>>,
    pub(crate) pins: Vec<Option<Round>>,
    pub(crate) pivots: Vec<Pivot>,
}

impl Machinery {
    /// Points that must be in the frame.
    pub(crate) fn points(&self) -> impl Iterator<Item = Point> {
        let rounds = self.tracks.iter().flatten().flat_map(|round| {
            let reach = Vec2::new(round.radius, round.radius);
            [round.centre - reach, round.centre + reach]
        });
        let arms = self.pivots.iter().flat_map(|pivot| &pivot.arms);
        (self.pivots.iter().map(|pivot| pivot.at))
            .chain(arms.flat_map(|arm| [arm.knee, arm.tip]))
            .chain(rounds)
    }
}

/// The heights of a track round one turn, from 0 to 1, at places in degrees, in their order; two at one place are a wall.
pub(crate) fn outline(shape: &Shape) -> Vec<(f64, f64)> {
    let deg = Degrees::to_f64;
    match shape {
        Shape::Notches { middles, cut } => slots(
            &middles.iter().map(|m| (deg(m), 0.0)).collect::<Vec<_>>(),
            deg(&cut.width),
            deg(&cut.ramp),
        ),
        Shape::Counts { counts, cut } => {
            let places: u16 = counts.iter().sum();
            let pitch = 360.0 / f64::from(places.max(1));
            let deg_of = |places: u16| f64::from(places) * pitch;
            let middles: Vec<_> = (slots_of(counts).iter())
                .map(|slot| (deg_of(slot.place), deg_of(slot.further)))
                .collect();
            slots(&middles, deg(&cut.width), deg(&cut.ramp))
        }
        Shape::Lobes {
            places,
            rise,
            hold,
            heights,
        } => {
            let (rise, hold) = (deg(rise), deg(hold));
            let mut points = Vec::new();
            for (n, place) in places.iter().enumerate() {
                let (at, high) = (deg(place), heights.get(n).map_or(1.0, to_f64));
                points.extend([
                    (at - hold - rise, 0.0),
                    (at - hold, high),
                    (at, high),
                    (at, 0.0),
                ]);
            }
            points
        }
        Shape::Steps { teeth, from, .. } => {
            let most = teeth.iter().map(to_f64).fold(1.0, f64::max);
            let width = 360.0 / f64::from(u16::try_from(teeth.len()).unwrap_or(1).max(1));
            let mut points = Vec::new();
            for (n, fall) in (0_u16..).zip(teeth) {
                let at = deg(from) + f64::from(n) * width;
                let high = 1.0 - to_f64(fall) / most;
                points.extend([(at, high), (at + width, high)]);
            }
            points
        }
        Shape::Outline(points) => points.iter().map(|(at, h)| (deg(at), to_f64(h))).collect(),
    }
}

/// Slots with their middles, each so much longer.
fn slots(middles: &[(f64, f64)], width: f64, ramp: f64) -> Vec<(f64, f64)> {
    let half = width / 2.0;
    (middles.iter())
        .flat_map(|(at, longer)| {
            [
                (at - half, 1.0),
                (at - half, 0.0),
                (at + longer + half, 0.0),
                (at + longer + half + ramp, 1.0),
            ]
        })
        .collect()
}
