//! From a sheet with blanks to rules: what must come out, and what was measured.

use super::rules::Rule;
use super::ways::{Monomial, Ways, ways};
use crate::pendulum;
use kinematics::HOUR_S;
use movement::{ArborId, Blank, MeshId, Movement, Open, PartId, WitnessId};
use quantity::tools::KEY_TURNS;
use quantity::{Bounds, Duration, Exact, Gravity, Known, Length, Pace, fraction, to_f64, whole};

/// A measured thing may be so many spreads off: of a thousand good measurements, three are further.
pub const SPREADS: f64 = crate::assumed::FITS.value;

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
pub enum Demanded {
    /// Two arbors whose time of turning is on the sheet, such as the hour hand's against the minute hand's.
    Hours(ArborId, ArborId),
    /// A ratio that was asked for, by its number.
    Must(usize),
    /// A loop of meshes closes.
    Loop(MeshId),
    /// A witness moves one place at each blow, or a whole number of places.
    Blow(WitnessId),
    /// The same of a witness without a window, by its place among [`Movement::unjudged`].
    BlowUnjudged(usize),
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
    pub what: Demanded,
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
    /// What was asked for, and stands against the sheet as it is.
    pub clashes: Vec<Clash>,
    pub(crate) sizes: Vec<Size>,
}

/// A run that was asked for, where the counts that are known already give another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Clash {
    /// The arbor that is wound.
    pub arbor: ArborId,
    /// As the sheet's counts and `winding_turns` give it.
    pub sheet: Known<Duration>,
    /// As it was asked for.
    pub asked: Known<Duration>,
}

impl Demand {
    /// What of nature is aimed at: the value and one standard deviation.
    pub fn aimed(&self) -> Option<(f64, f64)> {
        self.aim.as_ref().map(|(_, is, spread)| (*is, *spread))
    }

    /// The last of the blanks that what is aimed at depends on.
    pub(crate) fn last(&self) -> usize {
        let powers = self.aim.iter().flat_map(|(of, ..)| &of.powers);
        powers
            .enumerate()
            .filter(|(_, power)| **power != 0)
            .map(|(i, _)| i)
            .max()
            .unwrap_or(0)
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
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PuzzleFault {
    /// Every count is known.
    #[error("every count is known")]
    NothingMissing,
    /// More blanks than can be tried.
    #[error("{got} blanks, of which {most} can be tried")]
    TooMany {
        /// How many there are.
        got: usize,
        /// How many may be.
        most: usize,
    },
    /// Nothing that was counted or measured bears on this blank.
    #[error("nothing bears on `{arbor}.{part}`")]
    Unbound {
        /// Its arbor.
        arbor: String,
        /// What it is called there.
        part: String,
    },
    /// Two arbors that no path of meshes joins.
    #[error("no meshes join arbors `{0}` and `{1}`")]
    NotJoined(String, String),
    /// Beats are given, and no escape wheel is found.
    #[error("beats, and no escape wheel")]
    NoEscape,
    /// Beats are given, and nothing in the train says how long a turn takes.
    #[error("beats, and nothing says how long a turn of arbor `{0}` takes")]
    NoTime(String),
    /// A run is given, and no arbor says how many turns a winding is.
    #[error("a run, and no arbor says how many turns a winding is")]
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
        clashes: Vec::new(),
    };
    maker.loops();
    maker.hours();
    maker.must(&wants.must)?;
    maker.blows();
    maker.beats(wants)?;
    maker.runs(wants)?;
    let sizes = maker.sizes();
    maker.pairs(&sizes);
    let (demands, clashes) = (maker.demands, maker.clashes);
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
            let movement = open.movement();
            return Err(PuzzleFault::Unbound {
                arbor: movement.arbor(blank.part.arbor).id.clone(),
                part: movement.part(blank.part).name.clone(),
            });
        }
    }
    Ok(Puzzle {
        blanks,
        bounds,
        demands,
        clashes,
        sizes,
    })
}

pub(super) struct Maker<'a> {
    pub(super) movement: &'a Movement,
    pub(super) blanks: &'a [Blank],
    pub(super) demands: Vec<Demand>,
    clashes: Vec<Clash>,
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

    fn exactly(&mut self, what: Demanded, of: &Monomial, is: &Exact) {
        let rules = vec![Rule::between(of.powers.clone(), &of.times, is, is)];
        let aim = None;
        self.demands.push(Demand { what, rules, aim });
    }

    /// Within [`SPREADS`] of a measured value; exactly that where it has no spread.
    fn about(&mut self, what: Demanded, of: Monomial, is: f64, spread: f64) {
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
                    self.exactly(Demanded::Loop(mesh), &around, &whole(1));
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
                self.exactly(Demanded::Hours(*arbor, *first), &turns, &is);
            }
        }
    }

    fn name(&self, arbor: ArborId) -> String {
        self.movement.arbor(arbor).id.clone()
    }

    fn must(&mut self, must: &[Must]) -> Result<(), PuzzleFault> {
        for (i, must) in must.iter().enumerate() {
            let turns = self
                .turns(must.of, must.per)
                .ok_or_else(|| PuzzleFault::NotJoined(self.name(must.of), self.name(must.per)))?;
            if must.spread == whole(0) {
                self.exactly(Demanded::Must(i), &turns, &must.turns);
            } else {
                let (is, spread) = (to_f64(&must.turns), to_f64(&must.spread));
                self.about(Demanded::Must(i), turns, is, spread);
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
        let judged = movement.witnesses();
        let judged = judged.map(|(id, w)| (Demanded::Blow(id), w.on, w.repeats));
        let unjudged = movement.unjudged().iter().enumerate();
        let unjudged = unjudged.map(|(n, w)| (Demanded::BlowUnjudged(n), w.on, w.repeats));
        for (what, on, repeats) in judged.chain(unjudged) {
            let Some(turns) = &ways.turns[on.index()] else {
                continue;
            };
            let repeats = repeats.get();
            let places = turns
                .clone()
                .scaled(&(whole(repeats.into()) / &strike.blows_per_turn));
            if places.is_known() {
                continue;
            }
            if repeats >= COUNTED_FROM {
                self.exactly(what, &places, &whole(1));
            } else {
                let rules = vec![Rule::whole(places.powers.clone(), &places.times)];
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
            .ok_or_else(|| PuzzleFault::NoTime(self.name(escape.arbor)))?;
        let of = match (escape.told, escape.wheel) {
            (Some(beats), _) => turns.scaled(&beats),
            (None, Some(wheel)) => turns
                .times(&Monomial::count(movement, self.blanks, wheel))
                .scaled(&whole(2)),
            (None, None) => return Err(PuzzleFault::NoEscape),
        };
        if wants.beats.is_some() || !of.is_known() {
            let (is, spread) = (beats.value.as_per_hour(), beats.spread.as_per_hour());
            self.about(Demanded::Beats, of, is, spread);
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
            let per_hour =
                (self.per_hour(arbor)).ok_or_else(|| PuzzleFault::NoTime(self.name(arbor)))?;
            let counted = KEY_TURNS.value / to_f64(&turns);
            let hours = Monomial::of(turns, self.blanks.len()).over(&per_hour);
            if hours.is_known() {
                let sheet = Known::within(Duration::hours(to_f64(&hours.times)), counted);
                self.clash(arbor, sheet, runs);
            } else {
                let (is, spread) = (runs.value.as_hours(), runs.spread.as_hours());
                self.about(Demanded::Run(arbor), hours, is, spread);
            }
        }
        Ok(())
    }

    /// Says where a run that was asked for is not the one that the counts already give.
    fn clash(&mut self, arbor: ArborId, sheet: Known<Duration>, asked: Known<Duration>) {
        let off = (sheet.value.as_s() - asked.value.as_s()).abs();
        if off > SPREADS * sheet.spread.as_s().hypot(asked.spread.as_s()) {
            self.clashes.push(Clash {
                arbor,
                sheet,
                asked,
            });
        }
    }
}
