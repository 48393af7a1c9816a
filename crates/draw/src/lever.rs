//! Where levers meet what they feel, and how they come there. Schematic: a sheet does not tell their true form.

use crate::Witnessing;
use crate::fitting::Fittings;
use crate::pitch::Pitches;
use kurbo::{Line, ParamCurveNearest, Point, Vec2};
use movement::{ArborId, Movement, WitnessId};
use quantity::to_f64;
use std::f64::consts::{PI, TAU};

/// Where a lever meets a wheel.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Station {
    pub(crate) on: ArborId,
    /// From the wheel's middle to the place, radians clockwise from three o'clock.
    pub(crate) angle: f64,
    pub(crate) tip: Point,
    /// Where the arm bends, outside the wheel.
    pub(crate) elbow: Point,
}

/// The levers of a movement.
#[derive(Debug, Clone)]
pub(crate) struct Stations {
    /// By witness.
    pub(crate) witnesses: Vec<Station>,
    pub(crate) cam: Option<Station>,
    /// The arbor that the count lever, the drop lever and the locking arms are on.
    pub(crate) pivot: Option<Point>,
}

impl Stations {
    /// Points that must be in the frame.
    pub(crate) fn points(&self) -> impl Iterator<Item = Point> {
        self.witnesses
            .iter()
            .chain(&self.cam)
            .flat_map(|s| [s.tip, s.elbow])
            .chain(self.pivot)
    }
}

/// Whether a witness is felt by an arm on the common lever arbor.
pub(crate) fn on_common_arbor(what: &Witnessing) -> bool {
    matches!(what, Witnessing::Slots(_) | Witnessing::Stop)
}

/// Around what the arms reach over.
struct Plate<'a> {
    movement: &'a Movement,
    centres: &'a [Point],
    outers: Vec<f64>,
}

pub(crate) fn stations(
    movement: &Movement,
    pitches: &Pitches,
    fittings: &Fittings,
    centres: &[Point],
) -> Stations {
    let outers = movement
        .arbors()
        .map(|(id, _)| pitches.outer(id).max(fittings.reach(id).unwrap_or(0.0)))
        .collect();
    let plate = Plate {
        movement,
        centres,
        outers,
    };
    let mut targets: Vec<(ArborId, f64)> = fittings
        .all
        .iter()
        .filter(|f| on_common_arbor(&f.what))
        .map(|f| (f.on, f.radius))
        .collect();
    targets.extend(fittings.cam.map(|c| (c.on, c.radius)));
    let pivot = (!targets.is_empty()).then(|| plate.pivot(&targets));
    let mut taken: Vec<(ArborId, f64)> = Vec::new();
    let cam = fittings.cam.map(|cam| {
        let station = plate.station(cam.on, (cam.radius, 3.2), pivot, &taken);
        taken.push((cam.on, station.angle));
        station
    });
    let mut witnesses = Vec::new();
    for fitting in &fittings.all {
        let toward = pivot.filter(|_| on_common_arbor(&fitting.what));
        let rise = match fitting.what {
            Witnessing::Slots(_) => 5.0,
            Witnessing::Vane => 3.0,
            _ => (plate.outers[fitting.on.index()] - fitting.radius + 4.0).min(14.0),
        };
        let mut station = plate.station(fitting.on, (fitting.radius, rise), toward, &taken);
        if let Some(angle) = told(movement, fitting.witness) {
            station = plate.at(fitting.on, (fitting.radius, rise), angle);
        }
        taken.push((fitting.on, station.angle));
        witnesses.push(station);
    }
    Stations {
        witnesses,
        cam,
        pivot,
    }
}

/// The place the sheet gives for a witness as on a clock face, as an angle.
pub(crate) fn told(movement: &Movement, witness: WitnessId) -> Option<f64> {
    let hour = movement.witness(witness).arm_oclock.as_ref()?;
    Some((to_f64(hour) / 12.0 * TAU - PI / 2.0).rem_euclid(TAU))
}

impl Plate<'_> {
    fn outer(&self, arbor: ArborId) -> f64 {
        self.outers[arbor.index()]
    }

    /// How deep a point lies within wheels, other than those of one arbor.
    fn covered(&self, p: Point, but: Option<ArborId>) -> f64 {
        self.movement
            .arbors()
            .filter(|(id, _)| Some(*id) != but)
            .map(|(id, _)| (self.outer(id) - p.distance(self.centres[id.index()])).max(0.0))
            .sum()
    }

    /// How near a straight arm comes to the middles of arbors, beyond what is seemly.
    fn crosses(&self, from: Point, to: Point) -> f64 {
        let arm = Line::new(from, to);
        self.centres
            .iter()
            .map(|&c| (3.0 - arm.nearest(c, 1e-3).distance_sq.sqrt()).max(0.0))
            .sum()
    }

    /// A place for the lever arbor: outside the wheels, not far above what its arms must reach.
    fn pivot(&self, targets: &[(ArborId, f64)]) -> Point {
        let centre = |a: ArborId| self.centres[a.index()];
        let mut frame = kurbo::Rect::from_points(centre(targets[0].0), centre(targets[0].0));
        for &(on, _) in targets {
            let reach = Vec2::new(self.outer(on), self.outer(on));
            frame = frame.union(kurbo::Rect::from_points(
                centre(on) - reach,
                centre(on) + reach,
            ));
        }
        let frame = frame.inflate(7.0, 7.0);
        let mut best = (f64::INFINITY, frame.origin());
        const GRID: u32 = 36;
        for i in 0..=GRID {
            for j in 0..=GRID {
                let p = Point::new(
                    frame.x0 + frame.width() * f64::from(i) / f64::from(GRID),
                    frame.y0 + frame.height() * f64::from(j) / f64::from(GRID),
                );
                let reach: f64 = targets
                    .iter()
                    .map(|&(on, radius)| (p.distance(centre(on)) - radius).abs())
                    .sum();
                let inside: f64 = self
                    .movement
                    .arbors()
                    .map(|(id, _)| {
                        (self.outer(id) + 3.5 - p.distance(centre(id))).max(0.0)
                    })
                    .sum();
                let above: f64 = targets
                    .iter()
                    .map(|&(on, radius)| (p.y - centre(on).y + 0.75 * radius).max(0.0))
                    .sum();
                let lines: f64 = targets
                    .iter()
                    .map(|&(on, radius)| {
                        let c = centre(on);
                        let to = c + (p - c) / p.distance(c).max(1e-6) * radius;
                        self.crosses(p, to)
                    })
                    .sum();
                let cost = 0.6 * reach + 6.0 * inside + 1.2 * above + 4.0 * lines;
                if cost < best.0 {
                    best = (cost, p);
                }
            }
        }
        best.1
    }

    fn at(&self, on: ArborId, (radius, rise): (f64, f64), angle: f64) -> Station {
        let centre = self.centres[on.index()];
        let out = Vec2::from_angle(angle);
        Station {
            on,
            angle,
            tip: centre + out * radius,
            elbow: centre + out * (radius + rise),
        }
    }

    /// The clearest place round a wheel for a tip to come in radially; towards the lever's pivot where it has one, and
    /// away from places of the same wheel that are taken.
    fn station(
        &self,
        on: ArborId,
        reach: (f64, f64),
        toward: Option<Point>,
        taken: &[(ArborId, f64)],
    ) -> Station {
        const AROUND: u32 = 72;
        let centre = self.centres[on.index()];
        let mut best = (f64::INFINITY, self.at(on, reach, -PI / 2.0));
        for i in 0..AROUND {
            let angle = TAU * f64::from(i) / f64::from(AROUND);
            let station = self.at(on, reach, angle);
            let turn = |to: f64| (angle - to + PI).rem_euclid(TAU) - PI;
            let open = if toward.is_some() { 0.35 } else { 0.7 };
            let mut cost = open * self.covered(station.tip, Some(on))
                + 0.15 * self.covered(station.elbow, Some(on))
                + 6.0 * self.crosses(station.tip, station.elbow);
            match toward {
                Some(pivot) => {
                    cost += 5.0 * turn((pivot - centre).atan2()).powi(2);
                    cost += 6.0 * self.crosses(station.elbow, pivot);
                    cost += 0.05 * station.elbow.distance(pivot);
                }
                // With nothing to reach from, above is where a hammer is.
                None => cost += 0.6 * turn(-PI / 2.0).abs(),
            }
            for &(other, there) in taken {
                if other == on {
                    cost += 8.0 * (0.9 - turn(there).abs()).max(0.0);
                }
            }
            if cost < best.0 {
                best = (cost, station);
            }
        }
        best.1
    }
}
