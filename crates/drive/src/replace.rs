//! What strip belongs in a barrel, and what a wrong one does there.

use crate::assumed;
use crate::coil::{room, turns_by_half};
use crate::spring::{Spring, SpringFault, Strip, Wound, over, wound};
use quantity::{Known, Length, Number, propagate};

/// A barrel that has lost its spring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BarrelRoom {
    /// Across it, inside.
    pub barrel: Known<Length>,
    /// Across its arbor, where the spring hooks on.
    pub arbor: Known<Length>,
    /// How high it is inside.
    pub high: Option<Known<Length>>,
    /// Turns it must give.
    pub turns: Known<Number>,
}

/// A strip that fits.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitting {
    /// The strip; its width is the barrel's less its shake.
    pub thick: Known<Length>,
    /// How long.
    pub long: Known<Length>,
    /// How wide, where the barrel's height is known.
    pub width: Option<Known<Length>>,
    /// What it would do.
    pub wound: Option<Wound>,
}

/// Turns in hand beside those of the run: stop work leaves some unused at either end (The Modern Clock, Chicago 1905, p. 283:
/// seven of seventeen). One and a half, where there is none (common practice, no source).
fn in_hand() -> Known<Number> {
    assumed::IN_HAND.with_spread()
}

/// Air above and below the strip together, in millimetres (common practice, no source).
fn shake() -> Known<Length> {
    assumed::SHAKE.with_spread()
}

/// The strip that fills half the room of a barrel and gives the turns it must.
///
/// # Formula
/// `t = (√(2 (D² + d²)) − D − d) / (2 N)`, `L = π (D² − d²)/(8 t)`.
/// # Source
/// Half the room: The Modern Clock, Chicago 1905, p. 281, with its slip put right.
///
/// # Errors
/// An arbor that fills the barrel.
pub fn fitting_strip(lost: &BarrelRoom) -> Result<Fitting, SpringFault> {
    let (arbor, barrel) = (lost.arbor.value.as_mm(), lost.barrel.value.as_mm());
    if arbor >= barrel {
        return Err(SpringFault::Arbor { arbor, barrel });
    }
    let from = [
        lost.barrel.given(),
        lost.arbor.given(),
        lost.turns.given(),
        in_hand().given(),
    ];
    let thick =
        |[big, small, turns, more]: [f64; 4]| turns_by_half(big, small, 1.0) / (turns + more);
    let thickness: Known<Length> = propagate(from, thick);
    let long: Known<Length> = propagate(from, |x| room(x[0], x[1]) / 2.0 / thick(x));
    let width = lost.high.map(|high| {
        propagate([high.given(), shake().given()], |[high, shake]| {
            high - shake
        })
    });
    let mut fitting = Fitting {
        thick: thickness,
        long,
        width,
        wound: None,
    };
    fitting.wound = (fitting.in_the_room(lost)).and_then(|spring| wound(&spring).ok());
    Ok(fitting)
}

impl Fitting {
    /// The spring it makes, cut as it was worked out; nothing where its width is not known.
    pub fn in_the_room(&self, room: &BarrelRoom) -> Option<Spring> {
        Some(Spring {
            strip: Strip {
                width: self.width?,
                thick: Known::sure(self.thick.value),
                long: Known::sure(self.long.value),
            },
            arbor: room.arbor,
            outside: room.barrel,
            barrel: true,
            free: None,
        })
    }
}

/// Another strip beside the one that is there.
#[derive(Debug, Clone, PartialEq)]
pub struct Beside {
    /// The other strip.
    pub strip: Strip,
    /// What it does.
    pub wound: Wound,
    /// Its torque wound up and half way down over that of the one that is there; nothing where that one has none.
    pub over: Option<[Known<Number>; 2]>,
}

impl Beside {
    /// How many times as fast a train then runs that a fly holds, wound up and half way down.
    ///
    /// # Formula
    /// A fly's drag grows with the square of its pace: `√(T'/T)`.
    pub fn paces(&self) -> Option<[Known<Number>; 2]> {
        let pace = |over: Known<Number>| propagate([over.given()], |[over]| over.max(0.0).sqrt());
        self.over.map(|over| over.map(pace))
    }
}

/// What another strip does in the same place.
///
/// # Errors
/// Why it cannot be put there.
pub fn beside(spring: &Spring, strip: Strip) -> Result<Beside, SpringFault> {
    let there = Spring {
        strip,
        free: None,
        ..*spring
    };
    let at = |part: f64| over(spring, &strip, part);
    Ok(Beside {
        strip,
        wound: wound(&there)?,
        over: at(1.0).zip(at(0.5)).map(|(up, half)| [up, half]),
    })
}
