//! What comes round: lateness that repeats with an arbor's turn, its size, and the chance that it is chance. Only arbors that turn at
//! least three times while the clock is heard are asked about. Which arbors there are comes in as an argument.

use crate::bands::whole;
use crate::rate::Pace;
use quantity::Chance;
use std::f64::consts::TAU;

/// An arbor by name and the seconds of one turn of it.
#[derive(Debug, Clone, PartialEq)]
pub struct ArborTurn {
    /// Its name.
    pub name: String,
    /// Seconds of one turn.
    pub turn_s: f64,
}

/// Lateness that comes round.
#[derive(Debug, Clone, PartialEq)]
pub struct ComesRound {
    /// The arbors it may come from: the one whose turn it is, and those whose turn is a whole number of its turns, or too
    /// nearly the same to be told apart.
    pub arbors: Vec<String>,
    /// Seconds of one turn.
    pub turn_s: f64,
    /// Half the way from earliest to latest, seconds.
    pub size_s: f64,
    /// The chance that nothing but noise would show as much at any of the arbors asked about.
    pub by_chance: Chance,
}

/// Named only where chance would do it less often than this.
pub const LEAST_CHANCE: f64 = 0.004;
/// Turns an arbor must make while the clock is heard.
const TURNS: f64 = 3.0;
/// At most so many things that come round are told.
const MOST: usize = 6;

/// What comes round with the turn of some arbor, the surest first.
pub fn comes_round(pace: &Pace, arbors: &[ArborTurn]) -> Vec<ComesRound> {
    let half = 0.5 * pace.full_period_s;
    let asked: Vec<&ArborTurn> = (arbors.iter())
        .filter(|a| a.turn_s * TURNS <= pace.span_s && a.turn_s >= 5.0 * half)
        .collect();
    let at: Vec<f64> = pace.late.iter().map(|(_, at, _)| *at).collect();
    let most = 5.0 * pace.jitter_s.max(1e-6);
    let mut off: Vec<f64> = pace
        .late
        .iter()
        .map(|(_, _, off)| off.clamp(-most, most))
        .collect();
    // Turns too nearly alike to tell apart are one question.
    let mut questions: Vec<f64> = Vec::new();
    for arbor in &asked {
        if !questions
            .iter()
            .any(|&turn| is_same(turn, arbor.turn_s, pace.span_s))
        {
            questions.push(arbor.turn_s);
        }
    }
    let mut told: Vec<ComesRound> = Vec::new();
    while told.len() < MOST {
        let tested = questions
            .iter()
            .filter(|&&turn| !told.iter().any(|t| is_same(t.turn_s, turn, pace.span_s)))
            .map(|&turn| (turn, test(&at, &off, turn, pace.span_s)));
        let Some((turn, wave)) = tested.min_by(|a, b| a.1.chance.total_cmp(&b.1.chance)) else {
            break;
        };
        let chance = 1.0 - (1.0 - wave.chance.min(1.0)).powf(whole(questions.len()));
        if chance > LEAST_CHANCE {
            break;
        }
        for (off, at) in off.iter_mut().zip(&at) {
            let (sin, cos) = (TAU * at / turn).sin_cos();
            *off -= wave.cos * cos + wave.sin * sin;
        }
        let names = |arbor: &&&ArborTurn| {
            let turns = (arbor.turn_s / turn).round();
            turns >= 1.0 && is_same(arbor.turn_s / turns, turn, pace.span_s)
        };
        told.push(ComesRound {
            arbors: asked.iter().filter(names).map(|a| a.name.clone()).collect(),
            turn_s: turn,
            size_s: wave.cos.hypot(wave.sin),
            by_chance: Chance::of(chance),
        });
    }
    told
}

/// Whether two turns differ by less than a third of a turn over the time heard.
fn is_same(a: f64, b: f64, span_s: f64) -> bool {
    (span_s / a - span_s / b).abs() < 0.34
}

struct Wave {
    cos: f64,
    sin: f64,
    chance: f64,
}

/// The wave of one period in the lateness, and the chance of one as large: against all that is left, and against what stands
/// next to it, whichever is more careful. Lateness that wanders is large at all slow periods.
fn test(at: &[f64], off: &[f64], turn: f64, span: f64) -> Wave {
    let n = whole(at.len());
    let Sizes { cos, sin, gain } = sizes(at, off, 1.0 / turn);
    let all: f64 = off.iter().map(|x| x * x).sum();
    let free = (n - 5.0).max(1.0);
    let even = (1.0 - gain / all.max(1e-30)).max(1e-300).powf(free / 2.0);
    // Sixteen neighbours, eight on each side, each a whole turn further off over the time heard.
    let turns = span / turn;
    let mut beside = Vec::new();
    for k in 2..10 {
        for turns in [turns + f64::from(k), turns - f64::from(k)] {
            if turns >= 0.9 {
                beside.push(sizes(at, off, turns / span).gain);
            }
        }
    }
    let m = whole(beside.len().max(1));
    let level = beside.iter().sum::<f64>() / m;
    let local = (1.0 + gain / (m * level.max(1e-30))).powf(-m);
    // Where the neighbours are no louder than the rest, the rest is the better judge.
    let usual = 2.0 * all / n;
    let chance = if level > 2.2 * usual {
        local.max(even)
    } else {
        even
    };
    Wave { cos, sin, chance }
}

/// The sizes of a cosine and a sine.
#[derive(Default)]
struct Sizes {
    cos: f64,
    sin: f64,
    /// The sum of squares that they take away.
    gain: f64,
}

/// Least squares of a cosine and a sine, after the means.
fn sizes(at: &[f64], off: &[f64], per_s: f64) -> Sizes {
    let (mut cc, mut ss, mut cs, mut xc, mut xs) = (0.0, 0.0, 0.0, 0.0, 0.0);
    let (mut c1, mut s1) = (0.0, 0.0);
    let n = whole(at.len());
    let mut x1 = 0.0;
    for (at, x) in at.iter().zip(off) {
        let (sin, cos) = (TAU * per_s * at).sin_cos();
        cc += cos * cos;
        ss += sin * sin;
        cs += cos * sin;
        xc += x * cos;
        xs += x * sin;
        c1 += cos;
        s1 += sin;
        x1 += x;
    }
    cc -= c1 * c1 / n;
    ss -= s1 * s1 / n;
    cs -= c1 * s1 / n;
    xc -= x1 * c1 / n;
    xs -= x1 * s1 / n;
    let whole = cc * ss - cs * cs;
    if whole <= 1e-9 * n * n {
        return Sizes::default();
    }
    let cos = (xc * ss - xs * cs) / whole;
    let sin = (xs * cc - xc * cs) / whole;
    Sizes {
        cos,
        sin,
        gain: cos * xc + sin * xs,
    }
}
