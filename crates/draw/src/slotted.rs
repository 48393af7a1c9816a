//! A count wheel's slots: on the train a slotted band, close up a rim that slides under the lever's tip.

use crate::body::{self, ROUND};
use crate::figure::{Figure, Fitting, Shows};
use crate::glass::{CloseUp, GLASS, Motion, RIM, Stands};
use crate::ink::Ink;
use crate::look::{Widths, widths};
use crate::slots::Slots;
use crate::tooth::polar;
use kurbo::{Arc, BezPath, Point, Rect};
use std::f64::consts::TAU;

/// Rim of the slotted band of a count wheel, as a part of its wheel's root circle: the teeth stay in view around it,
/// and it in view through the crossings from behind.
const BAND: f64 = 0.93;
/// How many pitches of a count wheel's places are in sight.
const PITCHES: f64 = 1.5;
/// Depth of a slot, to be seen; a sheet does not give it.
const SLOT_DEPTH: f64 = 27.0;

/// The slots of a count wheel.
#[derive(Debug)]
pub(crate) struct Slotted(pub(crate) Slots);

impl Figure for Slotted {
    fn fitted(&self, base: f64, _: f64, on_disc: bool) -> (f64, f64) {
        match on_disc {
            true => (base, 0.16 * base),
            false => (BAND * base, 0.12 * base),
        }
    }

    fn shows(&self) -> Option<Shows> {
        Some(Shows::Counts)
    }

    fn arm(&self) -> Option<&'static str> {
        Some("count-lever")
    }

    fn rise(&self, _: f64) -> f64 {
        5.0
    }

    fn zero(&self, widths: &Widths) -> f64 {
        widths.middle
    }

    fn shape(&self, ink: &mut Ink, fitting: &Fitting, widths: &Widths, ahead: f64) {
        ink.path("brass", &band(&self.0, fitting, widths.slot, ahead));
    }

    /// Only the slots: the rest of it looks the same.
    fn ghost(&self, ink: &mut Ink, fitting: &Fitting, widths: &Widths, ahead: f64) {
        ink.path("", &bare(&self.0, fitting, widths.slot, ahead));
    }

    fn close_up(&self, glass: &mut CloseUp<'_>, stands: Stands) {
        let slots = &self.0;
        let widths = widths(glass.movement, glass.fitting.witness);
        let scale = 2.0 * GLASS / (PITCHES * widths.period);
        let along = glass.upright() * Point::new(scale * glass.ahead, 0.0);
        let motion = Motion::Slides(along.x, along.y);
        let half = widths.slot * scale / 2.0;
        // The middle of the slot that is read, at place 0; later places follow behind.
        let zero = glass.ahead * widths.middle * scale;
        let at = |p: i32| zero - glass.ahead * f64::from(p) * widths.period * scale;
        let total = i32::from(slots.places);
        let open = |p: i32| u16::try_from(p.rem_euclid(total)).is_ok_and(|p| slots.open(p));
        let reach = 3;
        let mut edges: Vec<(f64, f64)> = Vec::new();
        for p in (-reach..=reach).filter(|&p| open(p)) {
            let (from, to) = (at(p) - half, at(p) + half);
            let single = slots.cut.iter().all(|&(first, long)| {
                long == 1
                    || (p.rem_euclid(total) - i32::from(first)).rem_euclid(total) >= i32::from(long)
            });
            let pitch = widths.period * scale;
            edges.push(if single {
                (from, to)
            } else {
                // Within a long slot there is no land between places.
                (
                    from - (pitch / 2.0 - half).max(0.0),
                    to + (pitch / 2.0 - half).max(0.0),
                )
            });
        }
        edges.sort_by(|a, b| a.0.total_cmp(&b.0));
        let pitch = widths.period * scale;
        let ends = (f64::from(reach) + 0.5) * pitch;
        let (left, right) = (zero - ends, zero + ends);
        let mut rim = BezPath::new();
        rim.move_to((left, RIM));
        let mut lands = Vec::new();
        let mut from = left;
        for &(a, b) in &edges {
            rim.line_to((a, RIM));
            rim.line_to((a, RIM + SLOT_DEPTH));
            rim.line_to((b, RIM + SLOT_DEPTH));
            rim.line_to((b, RIM));
            lands.push((from, a));
            from = b;
        }
        lands.push((from, right));
        rim.line_to((right, RIM));
        rim.line_to((right, 2.2 * GLASS));
        rim.line_to((left, 2.2 * GLASS));
        rim.close_path();
        glass.open_moving("moving", &motion, stands.place);
        glass.ink.path("brass", &rim);
        let mut hatch = BezPath::new();
        for (a, b) in lands {
            slanted(&mut hatch, Rect::new(a, RIM, b, RIM + SLOT_DEPTH));
        }
        slanted(
            &mut hatch,
            Rect::new(left, RIM + SLOT_DEPTH, right, GLASS + 4.0),
        );
        glass.ink.path("hatch", &hatch);
        glass.close_both();
        if let Some(ghost) = stands.ghost {
            glass.open_moving("ghost", &motion, ghost);
            let mut slot = BezPath::new();
            slot.move_to((zero - half, RIM));
            slot.line_to((zero - half, RIM + SLOT_DEPTH));
            slot.line_to((zero + half, RIM + SLOT_DEPTH));
            slot.line_to((zero + half, RIM));
            glass.ink.path("", &slot);
            glass.close_both();
        }
        glass.open_upright();
        let tip = widths.tip * scale / 2.0;
        let round = 0.5 * tip.min(4.0);
        let mut path = BezPath::new();
        path.move_to((-tip, -1.3 * GLASS));
        path.line_to((-tip, RIM - 1.0 - round));
        path.quad_to((-tip, RIM - 1.0), (round - tip, RIM - 1.0));
        path.line_to((tip - round, RIM - 1.0));
        path.quad_to((tip, RIM - 1.0), (tip, RIM - 1.0 - round));
        path.line_to((tip, -1.3 * GLASS));
        path.close_path();
        glass.ink.path("steel", &path);
        for x in [-tip, tip] {
            let down = Point::new(x, RIM + SLOT_DEPTH + 7.0);
            glass.ink.line("dash", Point::new(x, RIM), down);
        }
        glass.runs(Point::new(0.0, 1000.0), 1000.0 - RIM - SLOT_DEPTH - 10.0);
        glass.ink.close("g");
    }
}

/// Strokes at 45° over a rectangle.
pub(crate) fn slanted(path: &mut BezPath, over: Rect) {
    const STEP: f64 = 5.0;
    if over.width() < 0.5 {
        return;
    }
    let mut c = ((over.x0 + over.y0) / STEP).ceil() * STEP;
    // A stroke is x + y = c, cut to the rectangle.
    while c < over.x1 + over.y1 {
        let from = Point::new((c - over.y1).max(over.x0), (c - over.x0).min(over.y1));
        let to = Point::new((c - over.y0).min(over.x1), (c - over.x1).max(over.y0));
        if (to.x - from.x) > 0.3 {
            path.move_to(from);
            path.line_to(to);
        }
        c += STEP;
    }
}

/// The angle of a count wheel's place, as a part of a turn from the place that is read, the way the wheel is seen to
/// run being `ahead`: later places follow behind.
fn place_angle(slots: &Slots, place: f64, ahead: f64) -> f64 {
    -ahead * place / f64::from(slots.places) * TAU
}

/// The slotted band of a count wheel about the origin, the slot that is read at three o'clock.
fn band(slots: &Slots, fitting: &Fitting, slot_deg: f64, ahead: f64) -> BezPath {
    let (radius, depth) = (fitting.radius, fitting.size);
    let mut path = BezPath::new();
    let half = slot_deg.to_radians() / 2.0;
    // In the order of places, angle running one way; the first rim begins where the first slot ends.
    let ends: Vec<(f64, f64)> = slots
        .cut
        .iter()
        .map(|&(first, long)| {
            let last = f64::from(first) + f64::from(long) - 1.0;
            (
                place_angle(slots, f64::from(first), ahead) + ahead * half,
                place_angle(slots, last, ahead) - ahead * half,
            )
        })
        .collect();
    let arc = |path: &mut BezPath, r: f64, from: f64, to: f64| {
        let arc = Arc::new(Point::ZERO, (r, r), from, to - from, 0.0);
        path.extend(arc.append_iter(ROUND));
    };
    for (i, &(from, to)) in ends.iter().enumerate() {
        if i == 0 {
            path.move_to(polar(radius, from));
        }
        path.line_to(polar(radius - depth, from));
        arc(&mut path, radius - depth, from, to);
        path.line_to(polar(radius, to));
        let next = match ends.get(i + 1) {
            Some(next) => next.0,
            None => ends[0].0 - ahead * TAU,
        };
        arc(&mut path, radius, to, next);
    }
    path.close_path();
    path.extend(body::disc((radius - 2.1 * depth).max(0.3 * radius)));
    path
}

/// The slots alone of a count wheel, each as its two sides and floor.
fn bare(slots: &Slots, fitting: &Fitting, slot_deg: f64, ahead: f64) -> BezPath {
    let (radius, depth) = (fitting.radius, fitting.size);
    let mut path = BezPath::new();
    let half = slot_deg.to_radians() / 2.0;
    for &(first, long) in &slots.cut {
        let from = place_angle(slots, f64::from(first), ahead) + ahead * half;
        let last = f64::from(first) + f64::from(long) - 1.0;
        let to = place_angle(slots, last, ahead) - ahead * half;
        let floor = radius - depth;
        path.move_to(polar(radius, from));
        path.line_to(polar(floor, from));
        path.extend(Arc::new(Point::ZERO, (floor, floor), from, to - from, 0.0).append_iter(ROUND));
        path.line_to(polar(radius, to));
    }
    path
}
