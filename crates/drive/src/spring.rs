//! A coiled spring: its torque turn by turn, its turns, what is stored in it.

use crate::coil::{coils_down, coils_up, room};
use quantity::{Energy, Given, Known, Length, Measure, Number, Stress, Torque, reckon};
use std::f64::consts::{PI, TAU};

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
/// 203.4 GPa for thin music wire (29.5e6 lb/in², engineersedge.com, spring moduli), 205 GPa in the worked examples.
pub fn steel() -> Known<Stress> {
    Known::new(Stress::gpa(204.0), Stress::gpa(4.0))
}

/// What a spring that has taken its set bears when it is wound up: blued carbon steel, from memory.
pub fn bears() -> Known<Stress> {
    Known::new(Stress::mpa(1600.0), Stress::mpa(200.0))
}

/// Why a spring cannot be as it is said to be. Lengths in millimetres, areas in square millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Wrong {
    /// The arbor is as wide as the barrel, or wider.
    Arbor {
        /// Across the arbor.
        arbor: f64,
        /// Across the barrel.
        barrel: f64,
    },
    /// The barrel cannot hold the strip.
    NoRoom {
        /// The strip's edge.
        strip: f64,
        /// The room between arbor and wall.
        room: f64,
    },
    /// The strip is wider than the barrel is high inside.
    TooWide {
        /// The strip.
        strip: f64,
        /// The barrel.
        barrel: f64,
    },
    /// It has no turn to give: wound up it has no more coils than let down.
    NoTurns {
        /// Coils wound up.
        up: f64,
        /// Coils let down.
        down: f64,
    },
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
    pub left: Known<Energy>,
    /// Stress of the strip wound up.
    pub stress: Known<Stress>,
}

/// The law of a spring in plain numbers: millimetres, newtons, megapascals.
#[derive(Debug, Clone, Copy)]
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
    /// Torque with such a part of the turns wound.
    fn torque(&self, part: f64) -> f64 {
        self.per_turn * (self.set_up + part * (self.up - self.down)).max(0.0)
    }
}

/// In the order of [`inputs`].
const INPUTS: usize = 9;

fn inputs(spring: &Spring) -> [Given; INPUTS] {
    let free = spring.free.map_or(
        Given {
            value: -1.0,
            spread: 0.0,
        },
        |free| free.given(),
    );
    // How the first and the last coil lie is worth a quarter of a coil; open coils do not lie at a wall at all, and how many
    // there are let down is known to one in seven (ours).
    let lies = Known::new(
        Number::plain(1.0),
        Number::plain(if spring.barrel { 0.02 } else { 0.15 }),
    );
    [
        spring.strip.width.given(),
        spring.strip.thick.given(),
        spring.strip.long.given(),
        spring.arbor.given(),
        spring.outside.given(),
        steel().given(),
        bears().given(),
        free,
        lies.given(),
    ]
}

fn law([b, t, l, arbor, outside, e, bears, free, lies]: [f64; INPUTS], barrel: bool) -> Law {
    let up = coils_up(l, t, arbor);
    let down = if barrel {
        lies * coils_down(l, t, outside).unwrap_or(f64::NAN)
    } else {
        // Evenly from the arbor to its outermost coil.
        lies * l / (PI * (outside + arbor) / 2.0)
    };
    let per_turn = TAU * e * b * t.powi(3) / (12.0 * l);
    // The torque that the strip bears wound up: it takes a set until it needs bear no more.
    let most = bears * b * t * t / 6.0;
    let turned_up = if free >= 0.0 {
        up - free
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
pub fn wound(spring: &Spring) -> Result<Wound, Wrong> {
    let (arbor, barrel) = (spring.arbor.value.as_mm(), spring.outside.value.as_mm());
    if arbor >= barrel {
        return Err(Wrong::Arbor { arbor, barrel });
    }
    let strip = spring.strip.long.value.as_mm() * spring.strip.thick.value.as_mm();
    let room = room(barrel, arbor);
    // The last tenth is lost to hooks and to coils that do not lie close.
    if spring.barrel && strip >= 0.9 * room {
        return Err(Wrong::NoRoom { strip, room });
    }
    let up: Known<Number> = by_law(spring, |l| l.up);
    let down: Known<Number> = by_law(spring, |l| l.down);
    let (tight, open) = (up.value.as_plain(), down.value.as_plain());
    if tight - open < 0.1 {
        return Err(Wrong::NoTurns {
            up: tight,
            down: open,
        });
    }
    let torque = |part: f64| by_law(spring, |l| l.torque(part));
    Ok(Wound {
        up,
        down,
        turns: by_law(spring, |l| l.up - l.down),
        fill: spring.barrel.then(|| by_law(spring, |l| l.fill)),
        per_turn: by_law(spring, |l| l.per_turn),
        torque: [torque(1.0), torque(0.5), torque(0.0)],
        stored: by_law(spring, |l| {
            let (full, least) = (l.set_up + l.up - l.down, l.set_up.max(0.0));
            // Newton millimetres are thousandths of a joule.
            TAU * l.per_turn * (full * full - least * least) / 2.0 / 1000.0
        }),
        left: by_law(spring, |l| {
            TAU * l.per_turn * l.set_up.max(0.0).powi(2) / 2.0 / 1000.0
        }),
        stress: by_law(spring, |l| l.stress),
    })
}

/// What follows from the law of a spring, with its spread.
fn by_law<Q: Measure>(spring: &Spring, f: impl Fn(Law) -> f64) -> Known<Q> {
    reckon(inputs(spring), |x| f(law(x, spring.barrel)))
}

/// The most a strip can store, whatever its shape, at a stress.
///
/// # Formula
/// `u = σ²/(6 E)` for each cubic millimetre.
pub fn stored_bound(strip: &Strip, stress: Known<Stress>) -> Known<Energy> {
    reckon(
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
        (0..=steps)
            .map(|i| {
                let part = f64::from(i) / f64::from(steps);
                let turns: Known<Number> = by_law(self, |l| part * (l.up - l.down));
                (turns.value.as_plain(), by_law(self, |l| l.torque(part)))
            })
            .collect()
    }
}
