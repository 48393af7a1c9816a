//! A coiled spring: its torque turn by turn, its turns, what is stored in it.

use crate::assumed;
use crate::coil::{coils_down, coils_up, room};
use crate::run::SPREADS;
use quantity::{
    Energy, Given, Known, Length, Measure, Number, Stress, Torque, gathered, propagate, scattered,
};
use std::f64::consts::{PI, TAU};
use std::fmt;

/// A strip of spring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strip {
    /// How wide: as high as the barrel lets it be.
    pub width: Known<Length>,
    /// How thick.
    pub thick: Known<Length>,
    /// How long.
    pub long: Known<Length>,
}

/// A strip where it works.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spring {
    /// The strip.
    pub strip: Strip,
    /// Across the arbor it winds on.
    pub arbor: Known<Length>,
    /// Across the barrel, inside; of an open spring with a loop end, across its outermost coil when it is let down.
    pub outside: Known<Length>,
    /// Whether it is in a barrel.
    pub barrel: bool,
    /// Turns it would have if it lay free of barrel and arbor, where that was counted.
    pub free: Option<Known<Number>>,
}

/// Steel for springs.
///
/// # Source
/// 203.4 GPa for thin music wire (29.5e6 lb/in²; a published table of spring moduli, address left out), 205 GPa in the worked
/// examples.
pub fn steel() -> Known<Stress> {
    assumed::STEEL.with_spread()
}

/// What a spring that has taken its set bears when it is wound up: blued carbon steel, from memory.
pub fn bears() -> Known<Stress> {
    assumed::BEARS.with_spread()
}

/// What is measured of a strip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StripMeasure {
    /// How wide it is.
    Width,
    /// How thick.
    Thick,
    /// How long.
    Long,
}

impl fmt::Display for StripMeasure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            StripMeasure::Width => "wide",
            StripMeasure::Thick => "thick",
            StripMeasure::Long => "long",
        })
    }
}

/// Why a spring cannot be as it is said to be. Lengths in millimetres, areas in square millimetres.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum SpringFault {
    /// The arbor is as wide as the barrel, or wider.
    #[error("an arbor of {arbor} mm in a barrel of {barrel} mm")]
    Arbor {
        /// Across the arbor.
        arbor: f64,
        /// Across the barrel.
        barrel: f64,
    },
    /// The barrel cannot hold the strip.
    #[error("a strip with an edge of {strip} mm² in a room of {room} mm²")]
    NoRoom {
        /// The strip's edge.
        strip: f64,
        /// The room between arbor and wall.
        room: f64,
    },
    /// The strip is wider than the barrel is high inside.
    #[error("a strip {strip} mm wide in a barrel {barrel} mm high")]
    TooWide {
        /// The strip.
        strip: f64,
        /// The barrel.
        barrel: f64,
    },
    /// It has no turn to give: wound up it has no more coils than let down.
    #[error("{up} coils wound up, {down} let down: no turn to give")]
    NoTurns {
        /// Coils wound up.
        up: f64,
        /// Coils let down.
        down: f64,
    },
    /// A strip of no clock's spring.
    #[error("a strip {mm} mm {which}")]
    NoStrip {
        /// Which of its measurements.
        which: StripMeasure,
        /// What it is, in millimetres.
        mm: f64,
    },
    /// It would lie free in as many coils as it has wound up, or more: it would have no torque at all.
    #[error("{free} coils out of the barrel, {up} wound up: no torque")]
    Free {
        /// Coils out of the barrel.
        free: f64,
        /// Coils wound up.
        up: f64,
    },
}

/// What is in a spring still when it is let down as far as it goes. It never is less than nothing, and how a strip has set is
/// not known to a few turns: so it is not its middle with a spread about it, but how often it is how much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Left {
    /// On the mean of all springs that measure so, and one standard deviation of them.
    pub energy: Known<Energy>,
    /// Of twenty springs that measure so, one holds more.
    pub one_in_twenty: Energy,
    /// Whether its free turns were counted; else it is only as it is with springs that bear what [`bears`] says.
    pub counted: bool,
}

/// What a spring does.
#[derive(Debug, Clone, PartialEq)]
pub struct Wound {
    /// Coils tight on the arbor.
    pub up: Known<Number>,
    /// Coils at the wall, or let down open.
    pub down: Known<Number>,
    /// Turns from the one to the other.
    pub turns: Known<Number>,
    /// The part of the room between arbor and wall that the strip fills; only in a barrel.
    pub fill: Option<Known<Number>>,
    /// Torque for each turn.
    pub per_turn: Known<Torque>,
    /// Torque wound up, half way and at the last turn.
    pub torque: [Known<Torque>; 3],
    /// What wound up it could give back.
    pub stored: Known<Energy>,
    /// What is in it still when it is let down as far as it goes.
    pub left: Left,
    /// Stress of the strip wound up.
    pub stress: Known<Stress>,
}

impl Wound {
    /// What springs that have set bear, where this one's stress lies beyond it by more than their spreads allow: something
    /// that was counted or measured on it is wrong. It never does where its free turns were not counted.
    pub fn overstressed(&self) -> Option<Known<Stress>> {
        let most = bears();
        let beyond = self.stress.value.as_mpa() - most.value.as_mpa();
        let spread = (self.stress.spread.as_mpa()).hypot(most.spread.as_mpa());
        (beyond > SPREADS * spread).then_some(most)
    }
}

/// The law of a spring in plain numbers: millimetres, newtons, megapascals.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Law {
    up: f64,
    down: f64,
    /// Newton millimetres for each turn.
    per_turn: f64,
    /// Turns in it when it is let down as far as it goes; where its set is so strong that the last turns have no torque,
    /// less than nothing.
    set_up: f64,
    fill: f64,
    stress: f64,
}

impl Law {
    /// Torque with such a part of the turns wound; a spring pulls, and never pushes back.
    fn torque(&self, part: f64) -> f64 {
        self.per_turn * (self.set_up + part * (self.up - self.down)).max(0.0)
    }

    /// Joules in it with such a part of the turns wound.
    fn energy(&self, part: f64) -> f64 {
        let turned = (self.set_up + part * (self.up - self.down)).max(0.0);
        // Newton millimetres are thousandths of a joule.
        TAU * self.per_turn * turned * turned / 2.0 / 1000.0
    }

    /// Whether there can be such a spring: measurements scatter, and some of what they scatter to cannot be.
    fn can_be(&self) -> bool {
        self.per_turn > 0.0 && self.fill > 0.0 && self.up > self.down && self.down > 0.0
    }
}

/// In the order of [`inputs`].
const INPUTS: usize = 9;

fn inputs(spring: &Spring) -> [Given; INPUTS] {
    let free = spring.free.unwrap_or(Known::sure(Number::plain(0.0)));
    // How the first and the last coil lie is worth a quarter of a coil; open coils do not lie at a wall at all, and how many
    // there are let down is known to one in seven (ours).
    let lies: Known<Number> = if spring.barrel {
        assumed::COILS_IN_BARREL.with_spread()
    } else {
        assumed::COILS_OPEN.with_spread()
    };
    [
        spring.strip.width.given(),
        spring.strip.thick.given(),
        spring.strip.long.given(),
        spring.arbor.given(),
        spring.outside.given(),
        steel().given(),
        bears().given(),
        free.given(),
        lies.given(),
    ]
}

/// What of a spring is no number.
#[derive(Debug, Clone, Copy)]
struct How {
    barrel: bool,
    /// Whether its free turns were counted.
    counted: bool,
}

impl How {
    fn of(spring: &Spring) -> How {
        How {
            barrel: spring.barrel,
            counted: spring.free.is_some(),
        }
    }
}

fn law([b, t, l, arbor, outside, e, bears, free, lies]: [f64; INPUTS], how: How) -> Law {
    let up = coils_up(l, t, arbor);
    let down = if how.barrel {
        lies * coils_down(l, t, outside).unwrap_or(f64::NAN)
    } else {
        // Evenly from the arbor to its outermost coil.
        lies * l / (PI * (outside + arbor) / 2.0)
    };
    let per_turn = TAU * e * b * t.powi(3) / (12.0 * l);
    // The torque that the strip bears wound up: it takes a set until it needs bear no more.
    let most = bears * b * t * t / 6.0;
    let turned_up = if how.counted {
        up - free.max(0.0)
    } else {
        (most / per_turn).min(up)
    };
    let set_up = turned_up - (up - down);
    let stress = 6.0 * per_turn * turned_up / (b * t * t);
    Law {
        up,
        down,
        per_turn,
        set_up,
        fill: l * t / room(outside, arbor),
        stress,
    }
}

/// Works a spring: from strip and barrel to torque, turns and energy.
///
/// # Formula
/// `T = E b t³ θ/(12 L)`, `θ` the angle it is turned from where it would lie free; `σ = 6T/(b t²)`; `U = ∫ T dθ`. Where it
/// would lie free is not known of a spring in a barrel: it has been wound up before, and has set until its stress wound up
/// is what its steel bears.
/// # Source
/// The formulae as in any handbook; how it has set is ours. Coils: The Modern Clock, Chicago 1905, p. 281.
///
/// # Errors
/// Why it cannot be so, with both figures.
pub fn wound(spring: &Spring) -> Result<Wound, SpringFault> {
    let (arbor, barrel) = (spring.arbor.value.as_mm(), spring.outside.value.as_mm());
    // From a travelling clock's to a tower's, with room to spare.
    for (which, length, bounds) in [
        (StripMeasure::Width, spring.strip.width, 0.5..=200.0),
        (StripMeasure::Thick, spring.strip.thick, 0.02..=5.0),
        (StripMeasure::Long, spring.strip.long, 20.0..=30e3),
    ] {
        let mm = length.value.as_mm();
        if !bounds.contains(&mm) {
            return Err(SpringFault::NoStrip { which, mm });
        }
    }
    if arbor >= barrel {
        return Err(SpringFault::Arbor { arbor, barrel });
    }
    let strip = spring.strip.long.value.as_mm() * spring.strip.thick.value.as_mm();
    let room = room(barrel, arbor);
    // The last tenth is lost to hooks and to coils that do not lie close.
    if spring.barrel && strip >= assumed::ROOM_TO_WIND.value * room {
        return Err(SpringFault::NoRoom { strip, room });
    }
    let middle = law(inputs(spring).map(|x| x.value), How::of(spring));
    if middle.up - middle.down < 0.1 {
        let (up, down) = (middle.up, middle.down);
        return Err(SpringFault::NoTurns { up, down });
    }
    if let Some(free) = spring.free.map(|free| free.value.as_plain())
        && free >= middle.up
    {
        let up = middle.up;
        return Err(SpringFault::Free { free, up });
    }
    let laws = Laws::of(spring);
    let torque = |part: f64| laws.with_spread(|l| l.torque(part));
    Ok(Wound {
        up: laws.smooth(|l| l.up),
        down: laws.smooth(|l| l.down),
        turns: laws.smooth(|l| l.up - l.down),
        fill: spring.barrel.then(|| laws.smooth(|l| l.fill)),
        per_turn: laws.smooth(|l| l.per_turn),
        torque: [torque(1.0), torque(0.5), torque(0.0)],
        stored: laws.with_spread(|l| l.energy(1.0) - l.energy(0.0)),
        left: Left {
            energy: laws.with_spread(|l| l.energy(0.0)),
            one_in_twenty: laws.one_in_twenty(|l| l.energy(0.0)),
            counted: spring.free.is_some(),
        },
        stress: laws.with_spread(|l| l.stress),
    })
}

/// The laws that a spring may follow, each as often as its measurements let it.
struct Laws {
    from: [Given; INPUTS],
    how: How,
    may: Vec<Law>,
}

impl Laws {
    fn of(spring: &Spring) -> Laws {
        let (from, how) = (inputs(spring), How::of(spring));
        let laws = scattered(from).map(|x| law(x, how));
        let mut may: Vec<Law> = laws.filter(Law::can_be).collect();
        if may.is_empty() {
            may.push(law(from.map(|x| x.value), how));
        }
        Laws { from, how, may }
    }

    /// What has no corner: about its middle, as long as all that is near it can be.
    fn smooth<Q: Measure>(&self, f: impl Fn(&Law) -> f64) -> Known<Q> {
        let about: Known<Q> = propagate(self.from, |x| f(&law(x, self.how)));
        if about.is_finite() {
            about
        } else {
            self.with_spread(f)
        }
    }

    /// What has one.
    fn with_spread<Q: Measure>(&self, f: impl Fn(&Law) -> f64) -> Known<Q> {
        let nothing = Known::sure(Q::of(0.0));
        gathered(self.may.iter().map(f)).unwrap_or(nothing)
    }

    /// What is passed by one in twenty of them.
    fn one_in_twenty(&self, f: impl Fn(&Law) -> f64) -> Energy {
        let mut all: Vec<f64> = self.may.iter().map(f).collect();
        let at = (all.len() * 19 / 20).min(all.len() - 1);
        let (_, passed, _) = all.select_nth_unstable_by(at, f64::total_cmp);
        Energy::joules(*passed)
    }
}

/// Torque with such a part of its turns wound of a strip, over that of the one that is there, in the same barrel and of the same steel; nothing
/// where there is none to compare with.
///
/// # Formula
/// As of [`wound`], what both share moved for both at once.
pub(crate) fn over(spring: &Spring, other: &Strip, part: f64) -> Option<Known<Number>> {
    let [width, thick, long, rest @ ..] = inputs(spring);
    let [arbor, outside, steel, bears, free, lies] = rest;
    let strip = [other.width.given(), other.thick.given(), other.long.given()];
    let torque = |x: [f64; INPUTS], how: How| {
        let law = law(x, how);
        law.per_turn * (law.set_up + part * (law.up - law.down))
    };
    let ratio: Known<Number> = propagate(
        [
            width, thick, long, strip[0], strip[1], strip[2], arbor, outside, steel, bears, free,
            lies,
        ],
        |[
            b,
            t,
            l,
            b2,
            t2,
            l2,
            arbor,
            outside,
            steel,
            bears,
            free,
            lies,
        ]| {
            let how = How::of(spring);
            let now = torque([b, t, l, arbor, outside, steel, bears, free, lies], how);
            // How often the other one would turn if it lay free, nobody has counted.
            let how = How {
                counted: false,
                ..how
            };
            let then = torque([b2, t2, l2, arbor, outside, steel, bears, 0.0, lies], how);
            then / now
        },
    );
    (ratio.is_finite() && ratio.value.as_plain() > 0.0).then_some(ratio)
}

/// The most a strip can store, whatever its shape, at a stress.
///
/// # Formula
/// `u = σ²/(6 E)` for each cubic millimetre.
pub fn stored_bound(strip: &Strip, stress: Known<Stress>) -> Known<Energy> {
    propagate(
        [
            strip.width.given(),
            strip.thick.given(),
            strip.long.given(),
            stress.given(),
            steel().given(),
        ],
        |[b, t, l, s, e]| b * t * l * s * s / (6.0 * e) / 1000.0,
    )
}

impl Spring {
    /// Torque in newton millimetres at each of so many even steps from let down to wound up, with one standard deviation.
    pub fn curve(&self, steps: u16) -> Vec<(f64, Known<Torque>)> {
        let laws = Laws::of(self);
        let turns: Known<Number> = laws.smooth(|l| l.up - l.down);
        (0..=steps)
            .map(|i| {
                let part = f64::from(i) / f64::from(steps);
                let torque = laws.with_spread(|l| l.torque(part));
                (part * turns.value.as_plain(), torque)
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_no_spring_can_be_says_its_values() {
        for (wrong, says) in [
            (
                SpringFault::Arbor {
                    arbor: 40.0,
                    barrel: 38.5,
                },
                "an arbor of 40 mm in a barrel of 38.5 mm",
            ),
            (
                SpringFault::NoRoom {
                    strip: 900.5,
                    room: 870.0,
                },
                "a strip with an edge of 900.5 mm² in a room of 870 mm²",
            ),
            (
                SpringFault::TooWide {
                    strip: 22.0,
                    barrel: 21.0,
                },
                "a strip 22 mm wide in a barrel 21 mm high",
            ),
            (
                SpringFault::NoTurns { up: 9.0, down: 9.5 },
                "9 coils wound up, 9.5 let down: no turn to give",
            ),
            (
                SpringFault::NoStrip {
                    which: StripMeasure::Thick,
                    mm: 5.0,
                },
                "a strip 5 mm thick",
            ),
            (
                SpringFault::Free { free: 9.0, up: 8.0 },
                "9 coils out of the barrel, 8 wound up: no torque",
            ),
        ] {
            let wrong: Box<dyn std::error::Error> = Box::new(wrong);
            assert_eq!(wrong.to_string(), says);
        }
    }
}
