//! Where levers meet what they feel, and how they come there. Schematic: a sheet does not tell their true form.

use crate::figure::Fitting;
use crate::fitting::Fittings;
use kurbo::{Line, ParamCurveNearest, Point, Vec2};
use movement::{ArborId, Movement, WitnessId};
use quantity::to_f64;
use std::f64::consts::{PI, TAU};

/// Where a lever meets a wheel.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Station {
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

/// A tip that is to come to a wheel.
#[derive(Debug, Clone, Copy)]
struct Tip {
    on: ArborId,
    /// How far from the wheel's middle it stands.
    radius: f64,
    /// How far beyond that its arm bends.
    rise: f64,
}

/// What has its place already.
#[derive(Default)]
struct Placed {
    /// Wheels, each with an angle at which a tip stands.
    tips: Vec<(ArborId, f64)>,
    /// Arms from their pivot to where they bend.
    arms: Vec<Line>,
}

/// Around what the arms reach over.
struct Plate<'a> {
    movement: &'a Movement,
    centres: &'a [Point],
    outers: &'a [f64],
    /// For each arbor, how large the others are that lie before what it bears, seen from the sheet's plate.
    before: Vec<Vec<f64>>,
}

pub(crate) fn stations(
    movement: &Movement,
    fittings: &Fittings,
    centres: &[Point],
    outers: &[f64],
    before: Vec<Vec<f64>>,
) -> Stations {
    let plate = Plate {
        movement,
        centres,
        outers,
        before,
    };
    let mut targets: Vec<(ArborId, f64)> = fittings
        .all
        .iter()
        .filter(|f| f.what.arm().is_some())
        .map(|f| (f.on, f.radius))
        .collect();
    targets.extend(fittings.cam.map(|c| (c.on, c.radius)));
    let pivot = (!targets.is_empty()).then(|| plate.pivot(&targets));
    let mut placed = Placed::default();
    let cam = fittings.cam.map(|cam| {
        let tip = Tip {
            on: cam.on,
            radius: cam.radius,
            rise: 3.2,
        };
        let station = plate.station(tip, pivot, &placed);
        placed.tips.push((cam.on, station.angle));
        station
    });
    // The arms of the common arbor first; then hammer tails and wires, clear of those arms.
    let mut stand = |fitting: &Fitting| {
        let toward = pivot.filter(|_| fitting.what.arm().is_some());
        let beyond = plate.outers[fitting.on.index()] - fitting.radius;
        let tip = Tip {
            on: fitting.on,
            radius: fitting.radius,
            rise: fitting.what.rise(beyond),
        };
        let station = match clock_face_angle(movement, fitting.witness) {
            Some(angle) => plate.at(tip, angle),
            None => plate.station(tip, toward, &placed),
        };
        placed.tips.push((fitting.on, station.angle));
        if let Some(pivot) = toward {
            placed.arms.push(Line::new(pivot, station.elbow));
        }
        station
    };
    let mut witnesses: Vec<Option<Station>> = vec![None; fittings.all.len()];
    for common in [true, false] {
        for (i, fitting) in fittings.all.iter().enumerate() {
            if fitting.what.arm().is_some() == common {
                witnesses[i] = Some(stand(fitting));
            }
        }
    }
    let witnesses = witnesses.into_iter().flatten().collect();
    Stations {
        witnesses,
        cam,
        pivot,
    }
}

/// The place the sheet gives for a witness as on a clock face, as an angle.
pub(crate) fn clock_face_angle(movement: &Movement, witness: WitnessId) -> Option<f64> {
    let hour = movement.witness(witness).arm_oclock.as_ref()?;
    Some((to_f64(hour) / 12.0 * TAU - PI / 2.0).rem_euclid(TAU))
}

impl Plate<'_> {
    fn outer(&self, arbor: ArborId) -> f64 {
        self.outers[arbor.index()]
    }

    /// How deep a point of an arbor's own wheel lies under others: what is before it counts whole, what is behind it
    /// little.
    fn covered(&self, p: Point, own: ArborId) -> f64 {
        let depth = |other: usize, outer: f64| (outer - p.distance(self.centres[other])).max(0.0);
        (0..self.centres.len())
            .filter(|&other| other != own.index())
            .map(|other| {
                depth(other, self.before[own.index()][other])
                    + 0.1 * depth(other, self.outers[other])
            })
            .sum()
    }

    /// How near a straight arm comes to the middles of arbors, beyond what is seemly.
    fn crosses(&self, from: Point, to: Point) -> f64 {
        const SEEMLY: f64 = 4.5;
        let arm = Line::new(from, to);
        self.centres
            .iter()
            .map(|&c| (SEEMLY - arm.nearest(c, 1e-3).distance_sq.sqrt()).max(0.0))
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
                    .map(|(id, _)| (self.outer(id) + 3.5 - p.distance(centre(id))).max(0.0))
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

    fn at(&self, tip: Tip, angle: f64) -> Station {
        let centre = self.centres[tip.on.index()];
        let out = Vec2::from_angle(angle);
        Station {
            angle,
            tip: centre + out * tip.radius,
            elbow: centre + out * (tip.radius + tip.rise),
        }
    }

    /// The clearest place round a wheel for a tip to come in radially; towards the lever's pivot where it has one, and
    /// away from places of the same wheel that are taken and, where it has none, from arms.
    fn station(&self, tip: Tip, toward: Option<Point>, placed: &Placed) -> Station {
        const AROUND: u32 = 72;
        let on = tip.on;
        let centre = self.centres[on.index()];
        let mut best = (f64::INFINITY, self.at(tip, -PI / 2.0));
        for i in 0..AROUND {
            let angle = TAU * f64::from(i) / f64::from(AROUND);
            let station = self.at(tip, angle);
            let turn = |to: f64| (angle - to + PI).rem_euclid(TAU) - PI;
            let open = if toward.is_some() { 0.35 } else { 0.7 };
            let mut cost = open * self.covered(station.tip, on)
                + 0.15 * self.covered(station.elbow, on)
                + 6.0 * self.crosses(station.tip, station.elbow);
            match toward {
                Some(pivot) => {
                    cost += 5.0 * turn((pivot - centre).atan2()).powi(2);
                    cost += 10.0 * self.crosses(station.elbow, pivot);
                    cost += 0.05 * station.elbow.distance(pivot);
                }
                // With nothing to reach from, above is where a hammer is.
                None => {
                    cost += 0.25 * turn(-PI / 2.0).abs() + 0.3 * self.covered(station.elbow, on);
                    for arm in &placed.arms {
                        let near = arm.nearest(station.elbow, 1e-3).distance_sq.sqrt();
                        cost += (9.0 - near).max(0.0);
                    }
                }
            }
            for &(other, there) in &placed.tips {
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
