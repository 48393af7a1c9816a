//! Tooth forms: the outline of a wheel, a pinion, a lantern or an internal ring, from counts and pitch alone.
//!
//! Lengths are in modules until an outline is asked for. Worn teeth, and teeth of other than clock forms, are not drawn.

use kurbo::{BezPath, Point};
use std::f64::consts::{PI, TAU};
use std::ops::Range;

/// How the teeth of a part are shaped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Shape {
    /// Cycloidal teeth: epicycloid above the pitch line, radial below.
    Wheel,
    /// Leaves of radial flanks with a rounded top.
    Leaf,
    /// Round trundles between two discs.
    Lantern,
    /// Teeth that point inward.
    Ring,
    /// Teeth that pallets let by one by one: narrow and pointed.
    Escape,
}

/// A part that the teeth run against.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Mate {
    /// Its shape.
    pub(crate) shape: Shape,
    /// Its count.
    pub(crate) teeth: f64,
}

/// A part with few leaves is a pinion, steel and round-topped; from memory, clock pinions end about here.
pub(crate) const MOST_LEAVES: u16 = 20;

/// Thickness of a wheel tooth along the pitch circle, in modules: under half the pitch of π, so that two wheels run with lash.
const WHEEL_THICKNESS: f64 = 1.5;
/// Thickness of a leaf, of up to ten leaves and of more: the clockwork standards thin leaves so (from memory).
const LEAF_THICKNESS: (f64, f64) = (1.05, 1.25);
/// Diameter of a trundle; thinner than the space of a wheel by its lash (common practice, no source).
const TRUNDLE: f64 = 1.2;
/// The part of the theoretical addendum that is cut, so that no tip is a knife's edge (from memory).
const PRACTICAL: f64 = 0.95;
/// Clearance between a tip and the root it dips to (from memory: 0.4; leaves with few teeth have room for less).
const CLEARANCE: f64 = 0.35;
/// No tooth is drawn longer, whatever its mate.
const LONGEST: f64 = 1.7;
/// Between two wheels the flanks would meet far out; what runs is not longer than this (common practice, no source).
const LONGEST_ON_WHEEL: f64 = 1.15;

/// One tooth, symmetrical about its middle: radii in modules, half-angles in radians.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Tooth {
    /// Pitch radius.
    pub(crate) pitch: f64,
    /// Radius at the bottom of the spaces.
    pub(crate) root: f64,
    /// Half the angle of the tooth at the pitch circle and, the flanks being radial, below it.
    pub(crate) half: f64,
    /// Control point of the curve from the pitch circle to the tip: radius and half-angle.
    bend: (f64, f64),
    /// Where the curve ends.
    pub(crate) tip: f64,
    half_tip: f64,
    /// Control point of the rounding over the tip.
    apex: f64,
}

/// Radius of a trundle, in modules.
pub(crate) fn trundle() -> f64 {
    TRUNDLE / 2.0
}

/// How far a tooth reaches beyond its pitch circle, in modules.
pub(crate) fn addendum(shape: Shape, teeth: f64, mates: &[Mate]) -> f64 {
    let tooth = tooth(shape, teeth, mates, 1.0);
    (tooth.tip - tooth.pitch)
        .abs()
        .max((tooth.apex - tooth.pitch).abs())
}

/// The tooth of a part, given what it runs against and how far the longest of those dips into it.
pub(crate) fn tooth(shape: Shape, teeth: f64, mates: &[Mate], dip: f64) -> Tooth {
    let pitch = teeth / 2.0;
    let inward = shape == Shape::Ring;
    let sign = if inward { -1.0 } else { 1.0 };
    let thickness = match shape {
        Shape::Wheel | Shape::Ring | Shape::Escape => WHEEL_THICKNESS,
        Shape::Lantern => TRUNDLE,
        Shape::Leaf if teeth <= 10.0 => LEAF_THICKNESS.0,
        Shape::Leaf => LEAF_THICKNESS.1,
    };
    let half = thickness / 2.0 / pitch;
    if shape == Shape::Escape {
        return escape(pitch);
    }
    let dip = dip + CLEARANCE;
    let root = match shape {
        Shape::Ring => pitch + dip.max(0.9),
        Shape::Wheel | Shape::Escape => (pitch - dip.max(PI / 2.0)).max(0.4 * pitch),
        Shape::Leaf | Shape::Lantern => (pitch - dip).max(0.18 * pitch),
    };
    if matches!(shape, Shape::Leaf | Shape::Lantern) {
        let top = pitch + thickness / 2.0 * crowding(teeth, mates);
        return Tooth {
            pitch,
            root,
            half,
            bend: (top, half),
            tip: top,
            half_tip: 0.0,
            apex: top,
        };
    }
    let Flank {
        end,
        half_end,
        middle,
    } = flank(pitch, half, mates, inward);
    let tip = pitch + (end - pitch) * PRACTICAL;
    let half_tip = half_end + (middle.1 - half_end) * 2.0 * (1.0 - PRACTICAL);
    // The control point that brings the curve through the flank's true middle.
    let bend = (
        2.0 * middle.0 - (pitch + tip) / 2.0,
        (2.0 * middle.1 - (half + half_tip) / 2.0).max(half_tip),
    );
    let apex = if half_end > 0.0 {
        tip
    } else {
        tip + sign * (end - tip).abs() * 0.8
    };
    Tooth {
        pitch,
        root,
        half,
        bend,
        tip,
        half_tip,
        apex,
    }
}

/// A tooth of an escape wheel: twice as high as it is wide at its foot, and pointed. Which way it leans hangs by the escapement, which is on
/// no sheet: it is drawn upright (schematic).
fn escape(pitch: f64) -> Tooth {
    /// A third of the pitch at the foot, and a little metal at the tip (common practice, no source).
    const FOOT: f64 = PI / 3.0;
    const TIP: f64 = 0.2;
    let root = (pitch - 2.0 * FOOT).max(0.6 * pitch);
    let half = FOOT / 2.0 / pitch;
    let half_tip = TIP / 2.0 / pitch;
    Tooth {
        pitch: root,
        root,
        half,
        bend: ((root + pitch) / 2.0, (half + half_tip) / 2.0),
        tip: pitch,
        half_tip,
        apex: pitch,
    }
}

/// Inside a ring not much larger than itself a full tooth would foul the ring's tips at the sides; both are then shorter.
fn crowding(teeth: f64, mates: &[Mate]) -> f64 {
    mates
        .iter()
        .filter(|mate| mate.shape == Shape::Ring)
        .map(|mate| ((mate.teeth - teeth) / 14.0).clamp(0.3, 1.0))
        .fold(1.0, f64::min)
}

/// The flank of a tooth above the pitch circle.
struct Flank {
    /// Radius where it ends.
    end: f64,
    /// Half the angle of the tooth there.
    half_end: f64,
    /// Radius and half-angle in its middle.
    middle: (f64, f64),
}

fn flank(pitch: f64, half: f64, mates: &[Mate], inward: bool) -> Flank {
    let most = mates
        .iter()
        .map(|mate| {
            let room = match mate.shape {
                Shape::Lantern => 0.38 * mate.teeth - 0.2,
                Shape::Leaf => 0.41 * mate.teeth - CLEARANCE,
                Shape::Wheel | Shape::Ring | Shape::Escape => LONGEST_ON_WHEEL,
            };
            let gap = (pitch * 2.0 - mate.teeth) / 14.0;
            if inward {
                room.min(LONGEST * gap.clamp(0.3, 1.0) * 0.6)
            } else {
                room
            }
        })
        .fold(LONGEST, f64::min)
        .max(0.3);
    let curves: Vec<Vec<(f64, f64)>> = mates
        .iter()
        .map(|mate| rolled(pitch, mate, inward))
        .collect();
    let sign = if inward { -1.0 } else { 1.0 };
    let width = |above: f64| {
        let sweep = curves
            .iter()
            .map(|curve| swept(curve, above))
            .fold(0.0, f64::max);
        half - sweep
    };
    // The height at which both flanks meet, or the longest there is room for.
    let (mut low, mut high) = (0.0, most);
    if width(most) < 0.0 {
        for _ in 0..40 {
            let middle = (low + high) / 2.0;
            if width(middle) < 0.0 {
                high = middle;
            } else {
                low = middle;
            }
        }
    }
    let height = high;
    let half_end = if height < most {
        0.0
    } else {
        width(height).max(0.0)
    };
    let middle = height * PRACTICAL / 2.0;
    Flank {
        end: pitch + sign * height,
        half_end,
        middle: (pitch + sign * middle, width(middle).max(0.0)),
    }
}

/// The angle a rolled curve has swept at a height above the pitch circle; beyond its end, as at its end.
fn swept(curve: &[(f64, f64)], above: f64) -> f64 {
    let mut last = (0.0, 0.0);
    for &(height, sweep) in curve {
        if height >= above {
            let part = (above - last.0) / (height - last.0).max(1e-12);
            return last.1 + (sweep - last.1) * part;
        }
        last = (height, sweep);
    }
    last.1
}

/// The curve that a mate rolling on (or, in a ring, within) the pitch circle cuts: heights from the pitch line, and how
/// far the flank has come towards the tooth's middle there, in radians.
///
/// # Formula
/// A circle of radius ρ rolls on the pitch circle of radius R by an angle t: a point of it is at
/// `e^{-it}·((R+ρ) − ρ·e^{-iRt/ρ})`, in a ring at `e^{-it}·((R−ρ) + ρ·e^{iRt/ρ})`. With ρ half the mate's pitch radius the
/// mate's flank is a radial line. For trundles ρ is the whole pitch radius, and the flank lies a trundle's radius
/// nearer along the line to the point of rolling.
fn rolled(pitch: f64, mate: &Mate, inward: bool) -> Vec<(f64, f64)> {
    const STEPS: u32 = 160;
    const FARTHEST: f64 = 2.2;
    let lantern = mate.shape == Shape::Lantern;
    let rho = if lantern {
        mate.teeth / 2.0
    } else {
        mate.teeth / 4.0
    };
    let rho = if inward { rho.min(0.45 * pitch) } else { rho };
    let mut curve: Vec<(f64, f64)> = Vec::new();
    for step in 0..=STEPS {
        let s = FARTHEST * f64::from(step) / f64::from(STEPS);
        let t = s * rho / pitch;
        let along = Point::new(t.cos(), -t.sin());
        let (re, im) = if inward {
            (pitch - rho + rho * s.cos(), rho * s.sin())
        } else {
            (pitch + rho - rho * s.cos(), rho * s.sin())
        };
        let mut at = Point::new(re * along.x - im * along.y, re * along.y + im * along.x);
        let mut start = 0.0;
        if lantern {
            let to_contact = Point::new(pitch * along.x, pitch * along.y) - at;
            let far = to_contact.hypot();
            let toward = if far > 1e-9 {
                to_contact / far
            } else {
                kurbo::Vec2::new(0.0, -1.0)
            };
            at += toward * trundle();
            start = trundle() / pitch;
        }
        let height = (at.to_vec2().hypot() - pitch) * if inward { -1.0 } else { 1.0 };
        let sweep = -at.to_vec2().atan2() - start;
        if height > curve.last().map_or(0.0, |last| last.0) {
            curve.push((height, sweep.max(0.0)));
        }
    }
    curve
}

/// A point at a radius and an angle; angles grow clockwise on a screen, where y grows downward.
pub(crate) fn polar(radius: f64, angle: f64) -> Point {
    Point::new(radius * angle.cos(), radius * angle.sin())
}

/// A closed outline of `count` teeth about the origin, the middle of the first at angle 0, at a module in millimetres.
///
/// A flank is one quadratic curve through the ends and the middle of the true one: it leaves it by less than a
/// sixtieth of the module, under the thickness of the line it is drawn with.
pub(crate) fn outline(tooth: &Tooth, count: u16, module: f64) -> BezPath {
    let mut path = BezPath::new();
    teeth(&mut path, tooth, 0..i32::from(count), count, module);
    path.close_path();
    path
}

/// Appends some teeth of `count` to a path, from the root before the first to the root after the last.
pub(crate) fn teeth(path: &mut BezPath, tooth: &Tooth, some: Range<i32>, count: u16, module: f64) {
    let step = TAU / f64::from(count);
    let at = |radius: f64, angle: f64| polar(radius * module, angle);
    let root_bend = tooth.root / (step / 2.0 - tooth.half).cos().max(0.5);
    let straight = (root_bend - tooth.root).abs() * module < 0.01;
    for i in some.clone() {
        let middle = f64::from(i) * step;
        let first = at(tooth.root, middle - tooth.half);
        if i == some.start {
            if path.elements().is_empty() {
                path.move_to(first);
            } else {
                path.line_to(first);
            }
        } else if straight {
            path.line_to(first);
        } else {
            path.quad_to(at(root_bend, middle - step / 2.0), first);
        }
        path.line_to(at(tooth.pitch, middle - tooth.half));
        path.quad_to(
            at(tooth.bend.0, middle - tooth.bend.1),
            at(tooth.tip, middle - tooth.half_tip),
        );
        if tooth.half_tip * tooth.tip * module > 0.03 {
            path.quad_to(
                at(tooth.apex, middle),
                at(tooth.tip, middle + tooth.half_tip),
            );
        }
        path.quad_to(
            at(tooth.bend.0, middle + tooth.bend.1),
            at(tooth.pitch, middle + tooth.half),
        );
        path.line_to(at(tooth.root, middle + tooth.half));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// How far the drawn curve may leave the rolled one, in modules.
    const FIT: f64 = 1.0 / 60.0;

    #[test]
    fn a_flank_is_drawn_as_it_rolls() {
        for (count, mate, shape) in [
            (90.0, 10.0, Shape::Leaf),
            (72.0, 8.0, Shape::Lantern),
            (48.0, 6.0, Shape::Leaf),
            (56.0, 7.0, Shape::Lantern),
            (30.0, 24.0, Shape::Wheel),
        ] {
            let mate = Mate { shape, teeth: mate };
            let tooth = tooth(Shape::Wheel, count, &[mate], 0.5);
            let curve = rolled(tooth.pitch, &mate, false);
            for step in 1..20 {
                let t = f64::from(step) / 20.0;
                let mix = |a: f64, b: f64, c: f64| {
                    (1.0 - t) * (1.0 - t) * a + 2.0 * t * (1.0 - t) * b + t * t * c
                };
                let radius = mix(tooth.pitch, tooth.bend.0, tooth.tip);
                let half = mix(tooth.half, tooth.bend.1, tooth.half_tip);
                let true_half = tooth.half - swept(&curve, radius - tooth.pitch);
                let off = (half - true_half).abs() * radius;
                assert!(off < FIT, "{count} against {mate:?}: {off} at {t}");
            }
        }
    }

    #[test]
    fn a_wheel_that_turns_a_radial_flank_comes_to_a_point() {
        // By the epicycloid itself: where the flanks meet, half the tooth's angle is swept.
        let mate = Mate {
            shape: Shape::Leaf,
            teeth: 8.0,
        };
        let flank = flank(32.0, WHEEL_THICKNESS / 64.0, &[mate], false);
        assert!(flank.half_end.abs() < 1e-9);
        let swept = swept(&rolled(32.0, &mate, false), flank.end - 32.0);
        assert!((swept - WHEEL_THICKNESS / 64.0).abs() < 1e-6);
    }

    #[test]
    fn an_escape_wheel_has_narrow_pointed_teeth_with_wide_spaces() {
        let teeth = tooth(Shape::Escape, 30.0, &[], 0.5);
        let pitch = TAU / 30.0;
        assert!(2.0 * teeth.half_tip < 0.1 * pitch, "pointed");
        assert!(2.0 * teeth.half < 0.5 * pitch, "more space than tooth");
        assert!(teeth.tip - teeth.root > 2.0 * teeth.half * teeth.root);
        assert!((teeth.tip - 15.0).abs() < 1e-9, "its tips on its circle");
    }

    #[test]
    fn the_outline_has_the_count() {
        let tooth = tooth(Shape::Leaf, 7.0, &[], 1.0);
        let tips = outline(&tooth, 7, 1.0)
            .elements()
            .iter()
            .filter_map(|el| el.end_point())
            .filter(|p| (p.to_vec2().hypot() - tooth.tip).abs() < 1e-9)
            .count();
        assert_eq!(tips, 7);
    }
}
