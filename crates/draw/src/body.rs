//! The bodies of wheels: teeth with crossings cut out, rings, lanterns; and the shapes of what sits on them.

use crate::pitch::Sized;
use crate::tooth::{Shape, outline, polar, trundle};
use kurbo::{Arc, BezPath, Circle, Point, Shape as _};
use std::f64::consts::{PI, TAU};

/// How finely circles are turned into curves, in millimetres.
pub(crate) const ROUND: f64 = 0.004;

/// How the inside of a wheel is cut.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Crossing {
    /// Radius of the solid middle.
    pub(crate) hub: f64,
    /// How far in the rim must come to bear pins.
    pub(crate) rim: Option<f64>,
}

pub(crate) fn disc(radius: f64) -> BezPath {
    Circle::new(Point::ZERO, radius).to_path(ROUND)
}

/// A toothed part about the origin, a tooth's middle at three o'clock.
pub(crate) fn body(part: &Sized, crossing: Crossing) -> BezPath {
    let m = part.module;
    match part.shape {
        Shape::Lantern => {
            let mut path = BezPath::new();
            for i in 0..part.teeth {
                let at = polar(
                    part.pitch_radius(),
                    TAU * f64::from(i) / f64::from(part.teeth),
                );
                path.extend(Circle::new(at, trundle() * m).to_path(ROUND));
            }
            path.extend(disc(part.pitch_radius() * 0.34));
            path
        }
        Shape::Ring => {
            let mut path = outline(&part.tooth, part.teeth, m);
            path.extend(disc(part.outer()));
            path
        }
        Shape::Leaf => outline(&part.tooth, part.teeth, m),
        Shape::Wheel | Shape::Escape => {
            let mut path = outline(&part.tooth, part.teeth, m);
            let root = part.tooth.root * m;
            let plain = root - (1.7 * m).max(0.075 * root);
            let rim = crossing.rim.unwrap_or(plain).min(plain);
            path.extend(windows(crossing.hub, rim));
            path
        }
    }
}

/// The openings between the arms of a wheel.
fn windows(hub: f64, rim: f64) -> BezPath {
    let mut path = BezPath::new();
    if rim < 4.5 || hub > 0.72 * rim {
        return path;
    }
    let arms = if rim < 24.0 { 4 } else { 5 };
    let half = 0.035 * rim + 0.35;
    for i in 0..arms {
        let from = TAU * f64::from(i) / f64::from(arms);
        let to = from + TAU / f64::from(arms);
        let (inner, outer) = ((half / hub).min(0.6).asin(), (half / rim).asin());
        let far = Arc::new(
            Point::ZERO,
            (rim, rim),
            from + outer,
            to - from - 2.0 * outer,
            0.0,
        );
        let near = Arc::new(
            Point::ZERO,
            (hub, hub),
            to - inner,
            from - to + 2.0 * inner,
            0.0,
        );
        path.move_to(polar(rim, from + outer));
        path.extend(far.append_iter(ROUND));
        path.line_to(polar(hub, to - inner));
        path.extend(near.append_iter(ROUND));
        path.close_path();
    }
    path
}

/// Slanted strokes over the metal of a ring, as brass that is cut through is drawn.
pub(crate) fn hatching(inner: f64, outer: f64) -> BezPath {
    let mut path = BezPath::new();
    let strokes = 150;
    let lean = (outer - inner) / outer;
    for i in 0..strokes {
        let angle = TAU * f64::from(i) / f64::from(strokes);
        path.move_to(polar(inner, angle));
        path.line_to(polar(outer, angle + lean));
    }
    path
}

/// The cam about the origin: the edge that the drop lever falls from at three o'clock, the notch behind it as it is
/// seen to run.
pub(crate) fn cam(radius: f64, notches: u16, ahead: f64) -> BezPath {
    let mut path = BezPath::new();
    let step = TAU / f64::from(notches.max(1));
    let floor = (0.55_f64).min(0.34 * step);
    let ramp = 0.5 * floor;
    for i in 0..notches.max(1) {
        let edge = -ahead * step * f64::from(i);
        if i == 0 {
            path.move_to(polar(radius, edge));
        }
        path.line_to(polar(0.66 * radius, edge - ahead * 0.06));
        let low = Arc::new(
            Point::ZERO,
            (0.66 * radius, 0.66 * radius),
            edge - ahead * 0.06,
            -ahead * (floor - 0.06),
            0.0,
        );
        path.extend(low.append_iter(ROUND));
        let up = edge - ahead * (floor + ramp);
        path.line_to(polar(radius, up));
        let high = Arc::new(
            Point::ZERO,
            (radius, radius),
            up,
            -ahead * (step - floor - ramp),
            0.0,
        );
        path.extend(high.append_iter(ROUND));
    }
    path.close_path();
    path
}

/// The two vanes of a fly about the origin, lying from nine to three o'clock.
pub(crate) fn vane(length: f64, half_width: f64) -> BezPath {
    let mut path = BezPath::new();
    let neck = 0.22 * length;
    for side in [1.0, -1.0] {
        path.move_to((side * neck, -half_width));
        path.line_to((side * length, -half_width));
        path.line_to((side * length, half_width));
        path.line_to((side * neck, half_width));
        path.close_path();
    }
    let bar = 0.28 * half_width;
    path.move_to((-neck, -bar));
    path.line_to((neck, -bar));
    path.line_to((neck, bar));
    path.line_to((-neck, bar));
    path.close_path();
    path
}

/// A narrow bar along a radius, rounded where it ends inward, and widening to where it is broken off.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Finger {
    /// How far from the middle its rounded end is.
    pub(crate) inner: f64,
    /// How far from the middle it is broken off.
    pub(crate) outer: f64,
    /// Half its width at the rounded end.
    pub(crate) tip: f64,
    /// Half its width where it is broken off.
    pub(crate) root: f64,
}

impl Finger {
    /// Its outline at an angle about the origin.
    pub(crate) fn at(self, angle: f64) -> BezPath {
        let Finger {
            inner,
            outer,
            tip,
            root,
        } = self;
        let along = kurbo::Vec2::from_angle(angle);
        let across = kurbo::Vec2::new(-along.y, along.x);
        let at = |r: f64, w: f64| (along * r + across * w).to_point();
        let mut path = BezPath::new();
        path.move_to(at(outer, root));
        path.line_to(at(inner + tip, tip));
        path.curve_to(
            at(inner - 0.33 * tip, tip),
            at(inner - 0.33 * tip, -tip),
            at(inner + tip, -tip),
        );
        path.line_to(at(outer, -root));
        // The break: a wave, as on any drawing of a part that goes on.
        path.curve_to(
            at(outer - root, -0.4 * root),
            at(outer + root, 0.4 * root),
            at(outer, root),
        );
        path.close_path();
        path
    }
}

/// Angle brought between −π and π.
pub(crate) fn wrapped(angle: f64) -> f64 {
    (angle + PI).rem_euclid(TAU) - PI
}
