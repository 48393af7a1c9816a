//! Lays the levers of a sheet: each tip on its track, each arm at its pin, each lever arbor where all of its arms meet
//! what they should with the lift the sheet gives.
//!
//! A sheet tells heights, widths and places, and not where lever arbors are: these are put where an arm is a tangent to
//! what it feels, so that a lever that rises goes straight out of a slot. All here is in the sheet's own view.

use crate::figure::Shows;
use crate::fitting::bearer;
use crate::layout::Layout;
use crate::machinery::{Arm, Machinery, Pivot, Round};
use crate::pitch::Sized;
use crate::view::View;
use kurbo::{Circle, Line, ParamCurveNearest, Point, Rect, Vec2};
use movement::{
    ArborId, Carrier, Lever, LeverArborId, LeverId, Movement, PinId, Reach, Shape, TrackId,
};
use quantity::Degrees;
use std::f64::consts::{PI, TAU};

/// What an arm meets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Met {
    Track(TrackId),
    Pin(PinId),
}

/// A meeting of an arm with what it meets.
#[derive(Debug, Clone)]
struct Touch {
    lever: LeverId,
    met: Met,
    /// Its circle; the middle is not known for what the motion work carries, until it is laid.
    centre: Option<Point>,
    radius: f64,
    /// 1 where rising takes the tip outward, −1 where it takes it in.
    outward: f64,
    /// Radians from place 0 to where the tip stands.
    further: f64,
    /// The height, in radians, at which the tip stands on the circle.
    level: f64,
    /// Width of the tip, in radians of what it meets.
    tip: f64,
}

/// The length an arm should have, in millimetres, where nothing else matters.
const ARM: f64 = 20.0;
/// The radius of what the motion work carries.
const MOTION: f64 = 7.0;
/// Steps of the search for a place, each way.
const GRID: u32 = 44;

struct Laying<'a> {
    movement: &'a Movement,
    layout: &'a Layout,
    frame: Rect,
    made: Machinery,
}

/// Lays the levers of a movement; nothing where the sheet has none.
pub(crate) fn machinery(movement: &Movement, layout: &Layout) -> Option<Machinery> {
    let works = movement.works()?;
    let mut laying = Laying {
        movement,
        layout,
        frame: layout.bounds(movement).inflate(6.0, 6.0),
        made: Machinery {
            tracks: vec![None; works.tracks().len()],
            pins: vec![None; works.pins().len()],
            pivots: Vec::new(),
        },
    };
    let mut arbors: Vec<(LeverArborId, Vec<Touch>)> = (works.lever_arbors())
        .map(|(id, _)| (id, laying.touches(id)))
        .collect();
    // What has most to meet has least choice.
    arbors.sort_by_key(|(_, touches)| {
        usize::MAX - touches.iter().filter(|t| t.centre.is_some()).count()
    });
    for (arbor, touches) in arbors {
        if !touches.is_empty() {
            laying.lay(arbor, &touches);
        }
    }
    Some(laying.made)
}

fn radians(angle: &Degrees) -> f64 {
    angle.to_f64().to_radians()
}

fn cross(a: Vec2, b: Vec2) -> f64 {
    a.x * b.y - a.y * b.x
}

fn wrapped(angle: f64) -> f64 {
    (angle + PI).rem_euclid(TAU) - PI
}

impl Laying<'_> {
    fn touches(&self, arbor: LeverArborId) -> Vec<Touch> {
        let Some(works) = self.movement.works() else {
            return Vec::new();
        };
        let on_arbor = works.levers().filter(|(_, lever)| lever.on == arbor);
        on_arbor
            .filter_map(|(id, lever)| self.on_track(id, lever).or_else(|| self.at_pin(id, lever)))
            .collect()
    }

    fn on_track(&self, id: LeverId, lever: &Lever) -> Option<Touch> {
        let (feels, track) = (lever.feels()?, lever.track()?);
        let (on, radius) = match self.movement.works()?.track(track).carrier {
            Carrier::Arbor(on) => (Some(on), self.track_radius(track, on)),
            Carrier::Hours(_) => (None, MOTION),
        };
        Some(Touch {
            lever: id,
            met: Met::Track(track),
            centre: on.map(|on| self.layout.centres[on.index()]),
            radius,
            outward: 1.0,
            further: 0.0,
            level: radians(&feels.lift),
            tip: radians(&feels.tip),
        })
    }

    fn at_pin(&self, id: LeverId, lever: &Lever) -> Option<Touch> {
        let stops = lever.stops()?;
        let on = self.movement.works()?.pin(stops.pin).on;
        let (outward, level) = match &stops.reach {
            Reach::Below(height) => (1.0, radians(height)),
            Reach::Above(height) => (-1.0, radians(height)),
        };
        Some(Touch {
            lever: id,
            met: Met::Pin(stops.pin),
            centre: Some(self.layout.centres[on.index()]),
            radius: self.pin_radius(on),
            outward,
            further: self.ahead(on) * radians(&stops.further),
            level,
            tip: 0.0,
        })
    }

    fn ahead(&self, on: ArborId) -> f64 {
        View::of_sheet(self.movement).ahead(self.movement, on)
    }

    /// Where what sits on an arbor is drawn, where a witness or the cam shows it too.
    fn fitted(&self, on: ArborId, shows: Shows) -> Option<f64> {
        let mut all = self.layout.fittings.all.iter();
        all.find(|fitting| fitting.on == on && fitting.what.shows() == Some(shows))
            .map(|fitting| fitting.radius)
    }

    fn wheel(&self, on: ArborId) -> f64 {
        bearer(&self.layout.pitches, on).map_or(8.0, Sized::outer)
    }

    fn track_radius(&self, track: TrackId, on: ArborId) -> f64 {
        let Some(works) = self.movement.works() else {
            return MOTION;
        };
        let wheel = self.wheel(on);
        // A further track of one kind on the same arbor lies further in.
        let before = works.tracks().take_while(|(id, _)| *id != track);
        let inward = before
            .filter(|(_, t)| t.carrier == Carrier::Arbor(on))
            .count();
        let inward = 0.86_f64.powi(i32::try_from(inward).unwrap_or(0));
        match &works.track(track).shape {
            Shape::Counts { .. } => self
                .fitted(on, Shows::Counts)
                .unwrap_or(0.8 * wheel * inward),
            Shape::Lobes { .. } => self
                .fitted(on, Shows::Lobes)
                .unwrap_or(0.74 * wheel * inward),
            shape => {
                let steps = matches!(shape, Shape::Steps { .. });
                let snail = self.fitted(on, Shows::Steps).filter(|_| steps);
                let cam = self.layout.fittings.cam.filter(|cam| cam.on == on);
                let cam = cam.map_or(0.5 * wheel, |cam| cam.radius);
                snail.unwrap_or(cam * inward)
            }
        }
    }

    fn pin_radius(&self, on: ArborId) -> f64 {
        self.fitted(on, Shows::Pin).unwrap_or(0.78 * self.wheel(on))
    }

    fn round(&self, met: Met) -> Option<&Round> {
        match met {
            Met::Track(id) => self.made.tracks[id.index()].as_ref(),
            Met::Pin(id) => self.made.pins[id.index()].as_ref(),
        }
    }

    /// Where a tip stands on its circle for a lever arbor at a place: the tangent on the side where rising is right.
    fn tangent(at: Point, circle: Circle, side: f64) -> Option<f64> {
        let away = at - circle.center;
        let far = away.hypot();
        if far <= 1.05 * circle.radius {
            return None;
        }
        let open = (circle.radius / far).acos();
        [1.0, -1.0]
            .into_iter()
            .map(|way| away.atan2() + way * open)
            .find(|angle| {
                let out = Vec2::from_angle(*angle);
                side * cross(circle.center + circle.radius * out - at, out) > 0.0
            })
    }

    /// How unseemly a lever arbor is at a place.
    fn cost(&self, at: Point, sense: f64, touches: &[Touch]) -> f64 {
        let mut cost = 0.0;
        for (id, _) in self.movement.arbors() {
            let clear = self.layout.outer(id) + 3.0 - at.distance(self.layout.centres[id.index()]);
            cost += 1.5 * clear.max(0.0);
        }
        for pivot in &self.made.pivots {
            cost += 12.0 * (11.0 - at.distance(pivot.at)).max(0.0);
        }
        let mut stands: Vec<(Point, f64)> = Vec::new();
        for touch in touches {
            let round = self.round(touch.met);
            let Some(centre) = round.map(|round| round.centre).or(touch.centre) else {
                continue;
            };
            let side = sense * touch.outward;
            let Some(angle) = Laying::tangent(at, Circle::new(centre, touch.radius), side) else {
                cost += 400.0;
                continue;
            };
            if let Some(round) = round {
                cost += 150.0 * wrapped(angle - touch.further - round.angle).powi(2);
            }
            let tip = centre + touch.radius * Vec2::from_angle(angle);
            let long = at.distance(tip);
            cost += 0.3 * (long - ARM).abs();
            cost += 8.0 * (touch.level * long - 0.4 * touch.radius).max(0.0);
            let arm = Line::new(at, tip);
            for &middle in &self.layout.centres {
                let near = arm.nearest(middle, 1e-3).distance_sq.sqrt();
                cost += 3.0 * (4.5 - near).max(0.0);
            }
            for (_, there) in stands.iter().filter(|(other, _)| *other == centre) {
                cost += 10.0 * (0.8 - wrapped(angle - there).abs()).max(0.0);
            }
            stands.push((centre, angle));
        }
        cost + 0.05 * at.distance(self.frame.center())
    }

    /// Finds a place for a lever arbor, and lays its arms.
    fn lay(&mut self, arbor: LeverArborId, touches: &[Touch]) {
        let mut best = (f64::INFINITY, self.frame.origin(), 1.0);
        for i in 0..=GRID {
            for j in 0..=GRID {
                let part = |n: u32| f64::from(n) / f64::from(GRID);
                let at = Point::new(
                    self.frame.x0 + self.frame.width() * part(i),
                    self.frame.y0 + self.frame.height() * part(j),
                );
                for sense in [1.0, -1.0] {
                    let cost = self.cost(at, sense, touches);
                    if cost < best.0 {
                        best = (cost, at, sense);
                    }
                }
            }
        }
        let (_, at, sense) = best;
        let mut arms = Vec::new();
        for touch in touches {
            let centre = self
                .round(touch.met)
                .map(|round| round.centre)
                .or(touch.centre);
            let centre = centre.unwrap_or_else(|| self.beside(at, sense, touch.radius));
            arms.push(self.arm(at, sense, touch, centre));
        }
        self.made.pivots.push(Pivot {
            arbor,
            at,
            sense,
            arms,
        });
    }

    /// A free place beside a lever arbor for what the motion work carries.
    fn beside(&self, at: Point, sense: f64, radius: f64) -> Point {
        const AROUND: u32 = 48;
        let mut best = (f64::INFINITY, at);
        for i in 0..AROUND {
            let along = Vec2::from_angle(TAU * f64::from(i) / f64::from(AROUND));
            let out = sense * Vec2::new(-along.y, along.x);
            let centre = at + 0.8 * ARM * along - radius * out;
            let mut cost = 0.1 * centre.distance(self.frame.center());
            for (id, _) in self.movement.arbors() {
                let near = centre.distance(self.layout.centres[id.index()]);
                cost += (self.layout.outer(id) + radius + 2.0 - near).max(0.0);
            }
            for pivot in &self.made.pivots {
                cost += 2.0 * (radius + 6.0 - centre.distance(pivot.at)).max(0.0);
            }
            if cost < best.0 {
                best = (cost, centre);
            }
        }
        best.1
    }

    /// Lays one arm, and with it what it meets, if nothing else has met that before.
    fn arm(&mut self, at: Point, sense: f64, touch: &Touch, centre: Point) -> Arm {
        let radius = touch.radius;
        let met = self.round(touch.met).cloned();
        let angle = match &met {
            Some(round) => round.angle + touch.further,
            None => Laying::tangent(at, Circle::new(centre, radius), sense * touch.outward)
                .unwrap_or_else(|| (at - centre).atan2()),
        };
        let out = Vec2::from_angle(angle);
        let long = at.distance(centre + radius * out);
        let depth = (touch.level * long).min(0.6 * radius);
        let rests = radius - touch.outward * depth;
        match touch.met {
            Met::Track(id) => {
                let round = &mut self.made.tracks[id.index()];
                let depth = round.as_ref().map_or(depth, |round| round.depth.max(depth));
                *round = Some(Round {
                    centre,
                    radius,
                    angle: angle - touch.further,
                    depth,
                });
            }
            Met::Pin(id) => {
                self.made.pins[id.index()].get_or_insert(Round {
                    centre,
                    radius,
                    angle: angle - touch.further,
                    depth: 0.0,
                });
            }
        }
        Arm {
            lever: touch.lever,
            knee: centre + (rests.max(radius) + 3.5) * out,
            tip: centre + rests * out,
            width: (touch.tip * radius).clamp(1.2, 0.8 * radius),
        }
    }
}
