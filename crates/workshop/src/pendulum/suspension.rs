//! The suspension spring: where it bends under the bob, how its stiffness quickens the pendulum, and what another strip does.

use super::DAY;
use quantity::{Given, Known, Length, Mass, Number, Rate, Stress, propagate};

/// A suspension spring between its chops.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Suspension {
    /// Its strips.
    pub strip: SuspensionStrip,
    /// How stiff its material is.
    pub stiff: Known<Stress>,
}

/// The strips of a suspension spring as they are measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SuspensionStrip {
    /// How long they are free between the chops.
    pub long: Known<Length>,
    /// How wide, all of them together.
    pub width: Known<Length>,
    /// How thick each is.
    pub thick: Known<Length>,
}

impl SuspensionStrip {
    fn given(&self) -> [Given; 3] {
        [self.long, self.width, self.thick].map(|of| of.given())
    }
}

/// What hangs on it, and how far below its bend.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// What bob and rod weigh.
    pub mass: Known<Mass>,
    /// What falls there.
    pub gravity: Known<quantity::Gravity>,
    /// From the bend of the suspension to the middle of the bob.
    pub length: Known<Length>,
}

/// How a suspension spring bends under its bob.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bend {
    /// How far below the upper chop the pendulum is seen to turn.
    pub turns: Known<Length>,
    /// How much shorter a pendulum is that turns there freely and beats alike: the spring helps gravity.
    pub shorter: Known<Length>,
}

/// What another strip between the same chops does, the bob left where it is on its rod.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OtherSuspension {
    /// The strip, where it was measured; else the one that is there, a tenth thicker.
    pub strip: Option<SuspensionStrip>,
    /// How much lower the pendulum turns, below the upper chop.
    pub lower: Known<Length>,
    /// What the clock gains by it.
    pub gains: Known<Rate>,
    /// The length of the simple pendulum that beats with it.
    pub length: Known<Length>,
}

/// Thickness against that of the strip which is there, where no other was measured (ours: about the step from one strip on sale
/// to the next, common practice, no source).
const THICKER: f64 = 1.1;

/// Where the pendulum turns, and what the stiffness of the strip is worth.
///
/// # Formula
/// The strip is a bar under tension, `E I y'' = M g y`, `y` from the line through the bob along which it is pulled, `I = b h³/12`; it bends over
/// `λ = √(E I / M g)`. It stands upright in the upper chop and goes on straight in the lower one, `a` above the bob, whose own turning is left out.
/// With `l` its free length, `T = tanh(l/λ)` and `s = 1/cosh(l/λ)`, the rod in line meets the upright
/// `λ (a + λ T − (l + a) s) / (a T + λ (1 − s))` below the upper chop (nearly `λ tanh(l/2λ)`), and it beats as a thread would from
/// `λ (a + λ T) / (a T + λ)` below it (nearly `λ / tanh(l/λ)`). Both are `λ` for a long strip.
/// # Source
/// Derived here; checked against a solver of boundary value problems.
///
/// ```
/// use quantity::{Gravity, Known, Length, Mass, Stress};
/// use workshop::pendulum::{Load, Suspension, SuspensionStrip, bend};
/// let mm = |mm| Known::sure(Length::mm(mm));
/// let suspension = Suspension {
///     strip: SuspensionStrip { long: mm(40.0), width: mm(10.0), thick: mm(0.1) },
///     stiff: Known::sure(Stress::gpa(204.0)),
/// };
/// let load = Load {
///     mass: Known::sure(Mass::kg(5.0)),
///     gravity: Known::sure(Gravity::m_per_s2(9.81)),
///     length: mm(994.0),
/// };
/// // √(1.05 · 204000 · 10 · 0.1³ / 12 / 49.05) mm
/// assert!((bend(suspension, load).turns.value.as_mm() - 1.908).abs() < 0.001);
/// ```
pub fn bend(suspension: Suspension, load: Load) -> Bend {
    let from = given(suspension, load);
    Bend {
        turns: propagate(from, |x| Hung::of(x).turns()),
        shorter: propagate(from, |x| Hung::of(x).shorter()),
    }
}

/// What a strip in its place does: one that was measured, or one a tenth thicker.
///
/// # Formula
/// `86400 (√(L/L') − 1)`, `L` and `L'` from where each hangs, as [`bend`] has it, to the bob; the lower chop stays as far above the bob.
pub fn other_suspension(
    suspension: Suspension,
    load: Load,
    to: Option<SuspensionStrip>,
) -> OtherSuspension {
    let parts = [1.0, 1.0, THICKER].map(|part| Known::sure(Number::plain(part)).given());
    let [a, b, c, d, e, f, g, h] = given(suspension, load);
    let [long, width, thick] = to.map_or(parts, |strip| strip.given());
    let from = [a, b, c, d, e, f, g, h, long, width, thick];
    let both = |[a, b, c, d, e, f, g, h, long, width, thick]: [f64; 11]| {
        let now = Hung::of([a, b, c, d, e, f, g, h]);
        // What is a part of the strip that is there errs with it.
        let strip = match to {
            Some(_) => [long, width, thick],
            None => [d * long, e * width, f * thick],
        };
        (now, now.with(strip))
    };
    OtherSuspension {
        strip: to,
        lower: propagate(from, |x| {
            let (now, then) = both(x);
            then.turns() - now.turns()
        }),
        gains: propagate(from, |x| {
            let (now, then) = both(x);
            DAY * ((now.length() / then.length()).sqrt() - 1.0)
        }),
        length: propagate(from, |x| both(x).1.length()),
    }
}

/// All that goes into a bend: mass, gravity, length; the strip's length, width, thickness; its stiffness, as a material and as a strip.
fn given(suspension: Suspension, load: Load) -> [Given; 8] {
    let [long, width, thick] = suspension.strip.given();
    let stiffer: Known<Number> = crate::assumed::STRIP_STIFFER.with_spread();
    [
        load.mass.given(),
        load.gravity.given(),
        load.length.given(),
        long,
        width,
        thick,
        suspension.stiff.given(),
        stiffer.given(),
    ]
}

/// A pendulum on its strip, in millimetres and newtons.
#[derive(Clone, Copy)]
struct Hung {
    /// How hard it pulls.
    pull: f64,
    /// How stiff the strip's material is, as a strip of it bends.
    stiff: f64,
    /// The strip's free length.
    long: f64,
    /// Over what length the strip bends.
    over: f64,
    /// From the lower chop to the bob.
    below: f64,
}

impl Hung {
    fn of([grams, g, length, long, width, thick, mpa, stiffer]: [f64; 8]) -> Hung {
        let mut hung = Hung {
            pull: grams / 1000.0 * g,
            stiff: mpa * stiffer,
            long,
            over: 0.0,
            below: length - long / 2.0,
        }
        .with([long, width, thick]);
        // The length was measured from the bend, which hardly hangs on how far below it the bob is.
        for _ in 0..8 {
            hung.below = length - long + hung.turns();
        }
        hung
    }

    /// With another strip, its free length, width and thickness, the bob as far below the lower chop.
    fn with(self, [long, width, thick]: [f64; 3]) -> Hung {
        // A strip of nothing, as its spread may make it, bends on the spot.
        let bar = (self.stiff * width * thick.powi(3) / 12.0).max(0.0);
        Hung {
            long,
            over: (bar / self.pull).sqrt(),
            ..self
        }
    }

    /// Where the rod, in line, meets the upright.
    fn turns(&self) -> f64 {
        let (bent, a) = (self.over, self.below);
        let (t, s) = ((self.long / bent).tanh(), (self.long / bent).cosh().recip());
        bent * (a + bent * t - (self.long + a) * s) / (a * t + bent * (1.0 - s))
    }

    /// Where a thread that beats alike would hang.
    fn hangs(&self) -> f64 {
        let (bent, a) = (self.over, self.below);
        let t = (self.long / bent).tanh();
        bent * (a + bent * t) / (a * t + bent)
    }

    fn shorter(&self) -> f64 {
        self.hangs() - self.turns()
    }

    /// Of the simple pendulum that beats with it.
    fn length(&self) -> f64 {
        self.long + self.below - self.hangs()
    }
}
