//! From a sheet with blanks to rules: what must come out, and what was measured.

use super::rules::{Line, Rule};
use super::ways::{Monomial, Ways, ways};
use crate::pendulum;
use kinematics::HOUR_S;
use movement::{ArborId, Blank, Form, Mesh, MeshId, Movement, Open, PartId, WitnessId};
use quantity::{
    Bounds, Duration, Exact, Gravity, Known, Length, Measure, Pace, Writable, fraction, to_f64,
    whole,
};

/// A measured thing may be so many spreads off: of a thousand good measurements, three are further.
pub const SPREADS: f64 = 3.0;

/// From this many places in a turn a witness is counted place by place: pins that lift, slots that are counted. Fewer are
/// stops and vanes, which need only come back to where they were.
const COUNTED_FROM: u16 = 4;

/// One arbor must make so many turns in one turn of another.
#[derive(Debug, Clone, PartialEq)]
pub struct Must {
    /// The arbor whose turns are told.
    pub of: ArborId,
    /// The arbor that turns once.
    pub per: ArborId,
    /// Turns.
    pub turns: Exact,
    /// One standard deviation; nothing where it must be so exactly.
    pub spread: Exact,
}

/// What must come out, beside what stands on the sheet.
#[derive(Debug, Clone, Default)]
pub struct Wants {
    /// Beats of the pendulum or balance that is there.
    pub beats: Option<Known<Pace>>,
    /// How long it runs on one winding.
    pub runs: Option<Known<Duration>>,
    /// Ratios.
    pub must: Vec<Must>,
    /// The escape wheel, where it is not the one toothed part that nothing meshes with at the end of its train.
    pub escape: Option<PartId>,
    /// What falls here; a middling one with the spread of all places where none is given.
    pub gravity: Option<Known<Gravity>>,
}

/// What is demanded of the counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// Two arbors whose time of turning is on the sheet, such as the hour hand's against the minute hand's.
    Hours(ArborId, ArborId),
    /// A ratio that was asked for, by its number.
    Must(usize),
    /// A loop of meshes closes.
    Loop(MeshId),
    /// A witness moves one place at each blow, or a whole number of places.
    Blow(WitnessId),
    /// The beats of what swings.
    Beats,
    /// The time of one winding of this arbor.
    Run(ArborId),
    /// Two measured sizes of parts that mesh agree in their module.
    Sizes(Sized, Sized),
}

/// Something whose size was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sized {
    /// A part over its teeth.
    Outside(PartId),
    /// From arbor to arbor.
    Centre(MeshId),
}

/// One demand: its rules, and where it is one of nature the value that is aimed at.
#[derive(Debug, Clone)]
pub struct Demand {
    /// What.
    pub what: What,
    /// What it comes to in whole numbers.
    pub rules: Vec<Rule>,
    pub(crate) aim: Option<(Monomial, f64, f64)>,
}

/// A measured size as a number of modules: `Σ weightᵢ · countᵢ + plus`.
#[derive(Debug, Clone)]
pub(crate) struct Size {
    pub(crate) of: Sized,
    pub(crate) group: usize,
    pub(crate) measured: Known<Length>,
    pub(crate) weights: Vec<f64>,
    /// Known teeth.
    pub(crate) plus: f64,
    /// The part whose tips stand out over its pitch circle.
    pub(crate) tips: Option<PartId>,
}

/// A sheet's blanks and what their counts must do.
#[derive(Debug, Clone)]
pub struct Puzzle {
    /// The blanks, in sheet order.
    pub blanks: Vec<Blank>,
    /// The least and most a count may be.
    pub bounds: Bounds,
    /// What is demanded.
    pub demands: Vec<Demand>,
    pub(crate) sizes: Vec<Size>,
}

impl Demand {
    /// What of nature is aimed at: the value and one standard deviation.
    pub fn aimed(&self) -> Option<(f64, f64)> {
        self.aim.as_ref().map(|(_, is, spread)| (*is, *spread))
    }

    /// What a set of counts comes to, where something of nature is aimed at.
    pub(crate) fn comes_to(&self, counts: &[u16]) -> Option<f64> {
        let (of, ..) = self.aim.as_ref()?;
        let powers = of.powers.iter().zip(counts);
        Some(powers.fold(to_f64(&of.times), |is, (power, count)| {
            is * f64::from(*count).powi(*power)
        }))
    }
}

impl Puzzle {
    /// All rules of all demands.
    pub fn rules(&self) -> Vec<Rule> {
        self.demands
            .iter()
            .flat_map(|demand| demand.rules.iter().cloned())
            .collect()
    }
}

/// Why there is no puzzle to solve.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PuzzleFault {
    /// Every count is known.
    NothingMissing,
    /// More blanks than can be tried.
    TooMany {
        /// How many there are.
        got: usize,
        /// How many may be.
        most: usize,
    },
    /// Nothing that was counted or measured bears on this blank.
    Unbound(PartId),
    /// Two arbors that no path of meshes joins.
    NotJoined(ArborId, ArborId),
    /// Beats are given, and no escape wheel is found.
    NoEscape,
    /// Beats are given, and nothing in the train says how long a turn takes.
    NoTime(ArborId),
    /// A run is given, and no arbor says how many turns a winding is.
    NoWinding,
}

/// More blanks than this make products too long for the sums, and lists too long for a reader.
pub const MOST_BLANKS: usize = 6;

/// Makes rules of a sheet and of what is wanted.
///
/// # Errors
/// Why there is nothing to solve.
pub fn puzzle(open: &Open, wants: &Wants, bounds: Bounds) -> Result<Puzzle, PuzzleFault> {
    let blanks = open.blanks().to_vec();
    if blanks.is_empty() {
        return Err(PuzzleFault::NothingMissing);
    }
    if blanks.len() > MOST_BLANKS {
        return Err(PuzzleFault::TooMany {
            got: blanks.len(),
            most: MOST_BLANKS,
        });
    }
    let mut maker = Maker {
        movement: open.movement(),
        blanks: &blanks,
        demands: Vec::new(),
    };
    maker.loops();
    maker.hours();
    maker.must(&wants.must)?;
    maker.blows();
    maker.beats(wants)?;
    maker.runs(wants)?;
    let sizes = maker.sizes();
    maker.pairs(&sizes);
    let demands = maker.demands;
    for (i, blank) in blanks.iter().enumerate() {
        let bound = demands
            .iter()
            .flat_map(|d| &d.rules)
            .any(|rule| match rule {
                Rule::Product(rule) => rule.powers[i] != 0,
                Rule::Whole(rule) => rule.powers[i] != 0,
                Rule::Line(line) => line.weights[i] != 0,
                Rule::Never => true,
            });
        if !bound {
            return Err(PuzzleFault::Unbound(blank.part));
        }
    }
    Ok(Puzzle {
        blanks,
        bounds,
        demands,
        sizes,
    })
}

struct Maker<'a> {
    movement: &'a Movement,
    blanks: &'a [Blank],
    demands: Vec<Demand>,
}

/// A decimal that is at most, or at least, a number: nine figures of it.
fn decimal(x: f64, up: bool) -> Exact {
    let before = x.abs().max(1e-12).log10().floor();
    let places = (0..=15)
        .find(|n| f64::from(*n) >= 8.0 - before)
        .unwrap_or(15);
    let figures = x * 10_f64.powi(places);
    let figures = if up { figures.ceil() } else { figures.floor() };
    Exact::from_float(figures).unwrap_or_else(|| whole(0)) / whole(10).pow(places)
}

impl Maker<'_> {
    fn ways(&self, from: ArborId) -> Ways {
        ways(self.movement, self.blanks, from)
    }

    fn turns(&self, of: ArborId, per: ArborId) -> Option<Monomial> {
        self.ways(per).turns[of.index()].clone()
    }

    fn exactly(&mut self, what: What, of: &Monomial, is: &Exact) {
        let rules = vec![Rule::between(of.powers.clone(), &of.times, is, is)];
        let aim = None;
        self.demands.push(Demand { what, rules, aim });
    }

    /// Within [`SPREADS`] of a measured value; exactly that where it has no spread.
    fn about(&mut self, what: What, of: Monomial, is: f64, spread: f64) {
        let (least, most) = (is - SPREADS * spread, is + SPREADS * spread);
        let least = decimal(least.max(is * 1e-6), false);
        let rules = vec![Rule::between(
            of.powers.clone(),
            &of.times,
            &least,
            &decimal(most, true),
        )];
        let aim = Some((of, is, spread));
        self.demands.push(Demand { what, rules, aim });
    }

    fn loops(&mut self) {
        let movement = self.movement;
        let mut seen = vec![false; movement.trains()];
        for (arbor, _) in movement.arbors() {
            if std::mem::replace(&mut seen[movement.train_of(arbor)], true) {
                continue;
            }
            for (mesh, around) in self.ways(arbor).loops {
                if !around.is_known() {
                    self.exactly(What::Loop(mesh), &around, &whole(1));
                }
            }
        }
    }

    /// Arbors whose `turn_s` is on the sheet, each against the first of its train.
    fn hours(&mut self) {
        let movement = self.movement;
        let timed: Vec<(ArborId, &Exact)> = movement
            .arbors()
            .filter_map(|(id, arbor)| Some((id, arbor.measured("turn_s")?)))
            .collect();
        for (i, (arbor, seconds)) in timed.iter().enumerate() {
            let first = timed[..i]
                .iter()
                .find(|(other, _)| movement.same_train(*other, *arbor));
            if let Some((first, first_seconds)) = first
                && let Some(turns) = self.turns(*arbor, *first)
            {
                let is = *first_seconds / *seconds;
                self.exactly(What::Hours(*arbor, *first), &turns, &is);
            }
        }
    }

    fn must(&mut self, must: &[Must]) -> Result<(), PuzzleFault> {
        for (i, must) in must.iter().enumerate() {
            let turns = self
                .turns(must.of, must.per)
                .ok_or(PuzzleFault::NotJoined(must.of, must.per))?;
            if must.spread == whole(0) {
                self.exactly(What::Must(i), &turns, &must.turns);
            } else {
                let (is, spread) = (to_f64(&must.turns), to_f64(&must.spread));
                self.about(What::Must(i), turns, is, spread);
            }
        }
        Ok(())
    }

    fn blows(&mut self) {
        let movement = self.movement;
        let Some(strike) = movement.strike() else {
            return;
        };
        let ways = self.ways(strike.read_at);
        for (id, witness) in movement.witnesses() {
            let Some(turns) = &ways.turns[witness.on.index()] else {
                continue;
            };
            let repeats = witness.repeats.get();
            let places = turns
                .clone()
                .scaled(&(whole(repeats.into()) / &strike.blows_per_turn));
            if places.is_known() {
                continue;
            }
            if repeats >= COUNTED_FROM {
                self.exactly(What::Blow(id), &places, &whole(1));
            } else {
                let rules = vec![Rule::whole(places.powers.clone(), &places.times)];
                let what = What::Blow(id);
                self.demands.push(Demand {
                    what,
                    rules,
                    aim: None,
                });
            }
        }
    }

    /// Turns an hour of an arbor, with its blanks, from an arbor of its train whose time is known, or from the blows.
    fn per_hour(&self, arbor: ArborId) -> Option<Monomial> {
        let movement = self.movement;
        let timed = movement.arbors().find_map(|(id, a)| {
            let seconds = a.measured("turn_s")?;
            let turns = self.turns(arbor, id)?;
            Some(turns.scaled(&(whole(HOUR_S) / seconds)))
        });
        timed.or_else(|| {
            let strike = movement.strike()?;
            let blows = fraction(strike.blows.in_twelve_hours().into(), 12);
            let turns = self.turns(arbor, strike.read_at)?;
            Some(turns.scaled(&(blows / &strike.blows_per_turn)))
        })
    }

    fn beats(&mut self, wants: &Wants) -> Result<(), PuzzleFault> {
        let movement = self.movement;
        let escape = (wants.escape)
            .map(|wheel| pendulum::of_wheel(movement, wheel))
            .or_else(|| pendulum::escapement(movement));
        let measured = escape.as_ref().and_then(|escape| {
            let length = pendulum::length_on_sheet(movement, escape.arbor)?;
            let length = pendulum::by_the_bob(length);
            let gravity = wants.gravity.unwrap_or_else(pendulum::anywhere);
            Some(pendulum::beats(length, gravity))
        });
        let Some(beats) = wants.beats.or(measured) else {
            return Ok(());
        };
        let escape = escape.ok_or(PuzzleFault::NoEscape)?;
        let turns = self
            .per_hour(escape.arbor)
            .ok_or(PuzzleFault::NoTime(escape.arbor))?;
        let of = match (escape.told, escape.wheel) {
            (Some(beats), _) => turns.scaled(&beats),
            (None, Some(wheel)) => turns
                .times(&Monomial::count(movement, self.blanks, wheel))
                .scaled(&whole(2)),
            (None, None) => return Err(PuzzleFault::NoEscape),
        };
        if wants.beats.is_some() || !of.is_known() {
            let (is, spread) = (beats.value.as_per_hour(), beats.spread.as_per_hour());
            self.about(What::Beats, of, is, spread);
        }
        Ok(())
    }

    fn runs(&mut self, wants: &Wants) -> Result<(), PuzzleFault> {
        let Some(runs) = wants.runs else {
            return Ok(());
        };
        let movement = self.movement;
        let wound: Vec<(ArborId, Exact)> = movement
            .arbors()
            .filter_map(|(id, arbor)| Some((id, arbor.measured("winding_turns")?.clone())))
            .collect();
        if wound.is_empty() {
            return Err(PuzzleFault::NoWinding);
        }
        for (arbor, turns) in wound {
            let per_hour = self.per_hour(arbor).ok_or(PuzzleFault::NoTime(arbor))?;
            let hours = Monomial::of(turns, self.blanks.len()).over(&per_hour);
            if !hours.is_known() {
                let (is, spread) = (runs.value.as_hours(), runs.spread.as_hours());
                self.about(What::Run(arbor), hours, is, spread);
            }
        }
        Ok(())
    }

    /// Every measured size of parts that mesh, by the set of parts that share a module.
    fn sizes(&self) -> Vec<Size> {
        let movement = self.movement;
        let mut group: Vec<(PartId, usize)> = movement
            .arbors()
            .flat_map(|(a, _)| movement.parts(a))
            .enumerate()
            .map(|(i, (id, _))| (id, i))
            .collect();
        let of = |group: &[(PartId, usize)], part| {
            group
                .iter()
                .find(|g| g.0 == part)
                .map_or(usize::MAX, |g| g.1)
        };
        for (_, mesh) in movement.meshes() {
            let (keep, drop) = (of(&group, mesh.driver), of(&group, mesh.driven));
            for g in group.iter_mut().filter(|g| g.1 == drop) {
                g.1 = keep;
            }
        }
        let mut sizes = Vec::new();
        for &(part, in_group) in &group {
            let key = format!("{}_outside_mm", movement.part(part).name);
            if let Some(size) = movement.arbor(part.arbor).measured(&key) {
                let mut weights = vec![0.0; self.blanks.len()];
                let plus = self.add(&mut weights, part, 1.0);
                sizes.push(Size {
                    of: Sized::Outside(part),
                    group: in_group,
                    measured: calliper(size),
                    weights,
                    plus,
                    tips: Some(part),
                });
            }
        }
        for (id, mesh) in movement.meshes() {
            if let Some(size) = &mesh.centre_mm {
                let mut weights = vec![0.0; self.blanks.len()];
                let [ring, pinion] = larger_first(movement, self.blanks, mesh);
                let far = if mesh.internal { -0.5 } else { 0.5 };
                let plus = self.add(&mut weights, ring, 0.5) + self.add(&mut weights, pinion, far);
                sizes.push(Size {
                    of: Sized::Centre(id),
                    group: of(&group, mesh.driver),
                    measured: calliper(size),
                    weights,
                    plus,
                    tips: None,
                });
            }
        }
        sizes
    }

    /// Adds a part's count: to the weights where it is a blank, else it is given back.
    fn add(&self, weights: &mut [f64], part: PartId, times: f64) -> f64 {
        match self.blanks.iter().position(|blank| blank.part == part) {
            Some(i) => {
                weights[i] += times;
                0.0
            }
            None => times * f64::from(self.movement.part(part).teeth.get()),
        }
    }

    /// Two sizes of one module are to each other as their numbers of modules: two sums that must not be less than nothing.
    fn pairs(&mut self, sizes: &[Size]) {
        for (i, a) in sizes.iter().enumerate() {
            for b in sizes[..i].iter().filter(|b| b.group == a.group) {
                let blank = |s: &Size| s.weights.iter().any(|w| *w != 0.0);
                if !blank(a) && !blank(b) {
                    continue;
                }
                let part = |s: &Size| s.measured.spread.base() / s.measured.value.base();
                let ratio = a.measured.value.base() / b.measured.value.base();
                let off = SPREADS * part(a).hypot(part(b));
                let tips = |s: &Size| self.tips(s);
                let (a_tips, b_tips) = (tips(a), tips(b));
                let rules = vec![
                    line(a, a_tips.1, ratio * (1.0 - off), b, b_tips.0),
                    minus(line(a, a_tips.0, ratio * (1.0 + off), b, b_tips.1)),
                ];
                let what = What::Sizes(a.of, b.of);
                self.demands.push(Demand {
                    what,
                    rules,
                    aim: None,
                });
            }
        }
    }

    /// How many modules the tips of a part may stand out, both sides together.
    fn tips(&self, size: &Size) -> (f64, f64) {
        let Some(part) = size.tips else {
            return (0.0, 0.0);
        };
        let blank = self.blanks.iter().any(|b| b.part == part);
        let teeth = self.movement.part(part).teeth.get();
        let lantern = self.movement.part(part).form == Form::Lantern;
        tips(lantern, (!blank).then_some(teeth)).span
    }
}

/// How far the tips of a part stand out over its pitch circle, both sides together, in modules.
pub(crate) struct Tips {
    /// At least and at most.
    pub(crate) span: (f64, f64),
    /// In the middle, and one standard deviation.
    pub(crate) usual: (f64, f64),
}

/// Wheels of clocks 1 to 1.6 modules on each side, leaves 0.5 to 1.1, a lantern half a trundle (ours, from the forms in
/// The Modern Clock, pp. 212-240; outside = (N + 2) / pitch on p. 216 is the least of a wheel).
pub(crate) fn tips(lantern: bool, teeth: Option<u16>) -> Tips {
    const LEAVES: u16 = 16;
    match teeth {
        _ if lantern => Tips {
            span: (0.8, 1.6),
            usual: (1.2, 0.2),
        },
        Some(teeth) if teeth <= LEAVES => Tips {
            span: (1.0, 2.2),
            usual: (1.6, 0.25),
        },
        Some(_) => Tips {
            span: (1.9, 3.3),
            usual: (2.6, 0.35),
        },
        None => Tips {
            span: (1.0, 3.3),
            usual: (2.3, 0.5),
        },
    }
}

/// A size in millimetres on a sheet.
fn calliper(size: &Exact) -> Known<Length> {
    Known::measured(Length::mm(to_f64(size)), Length::USUAL)
}

/// The ring first, where a mesh is internal.
fn larger_first(movement: &Movement, blanks: &[Blank], mesh: &Mesh) -> [PartId; 2] {
    let teeth = |part| movement.part(part).teeth;
    let blank = |part| blanks.iter().any(|b| b.part == part);
    let known = !blank(mesh.driver) && !blank(mesh.driven);
    if mesh.internal && known && teeth(mesh.driven) > teeth(mesh.driver) {
        [mesh.driven, mesh.driver]
    } else {
        [mesh.driver, mesh.driven]
    }
}

/// Sums are kept to a millionth of a module.
const FINE: f64 = 1e6;

/// `a + tips ≥ ratio · (b + tips)`, in millionths.
fn line(a: &Size, a_tips: f64, ratio: f64, b: &Size, b_tips: f64) -> Rule {
    let fine = |x: f64| {
        let millionths = Exact::from_float((x * FINE).round());
        // Sizes of clocks are a few hundred modules.
        millionths
            .and_then(|n| i64::try_from(n.to_integer()).ok())
            .unwrap_or(0)
    };
    Rule::Line(Line {
        weights: (a.weights.iter().zip(&b.weights))
            .map(|(a, b)| fine(a - ratio * b))
            .collect(),
        plus: fine(a.plus + a_tips - ratio * (b.plus + b_tips)),
    })
}

/// The other way round: what had to be at least nothing must be at most that.
fn minus(rule: Rule) -> Rule {
    match rule {
        Rule::Line(line) => Rule::Line(Line {
            weights: line.weights.iter().map(|w| -w).collect(),
            plus: -line.plus,
        }),
        other => other,
    }
}
