//! Torsion pendulums: a weight that turns to and fro on a ribbon.

use super::HOUR;
use quantity::{Known, Length, Mass, Pace, Stress, propagate};
use std::f64::consts::PI;

/// What hangs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Wheel {
    /// A disc of one thickness.
    Disc {
        /// Its mass.
        mass: Known<Mass>,
        /// Its radius.
        radius: Known<Length>,
    },
    /// Balls or a ring, all at one distance from the ribbon.
    Ring {
        /// Their mass together.
        mass: Known<Mass>,
        /// How far they are out.
        radius: Known<Length>,
    },
}

/// What it hangs on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ribbon {
    /// How wide.
    pub width: Known<Length>,
    /// How thick.
    pub thick: Known<Length>,
    /// How long between its clamps.
    pub long: Known<Length>,
    /// How stiff against shearing.
    pub shear: Known<Stress>,
}

impl Ribbon {
    /// The stiffness of the nickel alloys and the bronze such ribbons are made of (from memory: 65 for the one, 45 for the
    /// other).
    pub fn usual_shear() -> Known<Stress> {
        Known::new(Stress::gpa(60.0), Stress::gpa(8.0))
    }
}

/// Swings to either side an hour; a beat is one of them.
///
/// # Formula
/// `t = π √(I/κ)`, `κ = G b h³ (1 − 0.63 h/b)/(3 l) + M g b²/(12 l)`: the ribbon twists, and its edges lift the weight. `I` is
/// `M r²/2` of a disc, `M r²` of a ring. (From memory; checked against a solver of differential equations.)
pub fn torsion(wheel: Wheel, ribbon: Ribbon) -> Known<Pace> {
    let Round { mass, radius, part } = round(wheel);
    propagate(
        [
            mass.given(),
            radius.given(),
            ribbon.width.given(),
            ribbon.thick.given(),
            ribbon.long.given(),
            ribbon.shear.given(),
        ],
        |[m, r, b, h, l, g]| HOUR / (PI * (part * inertia(m, r) / stiffness(m, b, h, l, g)).sqrt()),
    )
}

/// A wheel of either form.
struct Round {
    mass: Known<Mass>,
    radius: Known<Length>,
    /// Its moment of inertia, as a part of what it would be with all mass at the radius.
    part: f64,
}

fn round(wheel: Wheel) -> Round {
    let (mass, radius, part) = match wheel {
        Wheel::Disc { mass, radius } => (mass, radius, 0.5),
        Wheel::Ring { mass, radius } => (mass, radius, 1.0),
    };
    Round { mass, radius, part }
}

/// In kg m², of grams at millimetres.
fn inertia(grams: f64, mm: f64) -> f64 {
    grams / 1000.0 * (mm / 1000.0).powi(2)
}

/// In N m a radian, of grams, millimetres and megapascals.
fn stiffness(grams: f64, b: f64, h: f64, l: f64, mpa: f64) -> f64 {
    const G: f64 = 9.806;
    let twist = mpa * b * h.powi(3) * (1.0 - 0.63 * h / b) / (3.0 * l) / 1000.0;
    let lift = grams / 1000.0 * G * b * b / (12.0 * l) / 1000.0;
    twist + lift
}

/// How thick the ribbon must be for so many swings an hour; nothing where even the thinnest is too stiff.
pub fn thickness_for(wheel: Wheel, ribbon: Ribbon, beats: Known<Pace>) -> Option<Known<Length>> {
    let Round { mass, radius, part } = round(wheel);
    let wanted =
        |m: f64, r: f64, per_hour: f64| part * inertia(m, r) * (PI * per_hour / HOUR).powi(2);
    let found: Known<Length> = propagate(
        [
            mass.given(),
            radius.given(),
            ribbon.width.given(),
            ribbon.long.given(),
            ribbon.shear.given(),
            beats.given(),
        ],
        |[m, r, b, l, g, per_hour]| {
            let kappa = wanted(m, r, per_hour);
            // Stiffness rises with thickness up to half the width: halve the span until it is found.
            let (mut thin, mut thick) = (0.0, b / 2.0);
            for _ in 0..60 {
                let middle = f64::midpoint(thin, thick);
                if stiffness(m, b, middle, l, g) < kappa {
                    thin = middle;
                } else {
                    thick = middle;
                }
            }
            f64::midpoint(thin, thick)
        },
    );
    let b = ribbon.width.value.as_mm();
    (found.value.as_mm() > 1e-6 * b && found.value.as_mm() < 0.49 * b).then_some(found)
}
