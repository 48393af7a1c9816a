//! How surely the ends of windows are known, as far as the figures of the works are: each figure that was measured, or is taken as is
//! usual, is made a little greater by itself, and where the ends then lie tells how much hangs on it.

use super::best::Scale;
use super::raw::Sought;
use super::turned::{Break, Breaks, Turnable};
use super::window::WorkedOutWindow;
use crate::assumed::USUAL_WINDOW;
use movement::{ArborId, Works, WorksFigure};
use num_traits::{Signed, Zero};
use quantity::{Degrees, Exact, fraction, to_f64};

/// By how much a figure is made greater: so little that an end moves evenly with it.
const A_LITTLE: (i64, i64) = (1, 50_000);

/// An end is looked for so many times as far about its old place as the figure would move it if that stood on its own arbor.
const ABOUT: i64 = 16;

/// How far the ends of a window move with one figure, in degrees to a degree of it.
struct Moved {
    window: usize,
    by: f64,
}

/// Gives every window how surely its ends are known, and on what of the works as is usual they rest.
pub(super) fn carry(works: &Turnable<'_>, windows: &mut [WorkedOutWindow]) {
    let Some(of) = works.movement.works() else {
        return;
    };
    let mut squares = vec![0.0; windows.len()];
    for (figure, spread) in of.measured() {
        for moved in moved(works, windows, figure).iter().flatten() {
            squares[moved.window] += (moved.by * spread.to_f64()).powi(2);
        }
    }
    for (square, window) in squares.iter_mut().zip(windows.iter()) {
        *square += by_pace(works, of, window).powi(2);
    }
    let mut rests: Vec<Vec<(f64, WorksFigure)>> = vec![Vec::new(); windows.len()];
    // What is counted is not off by a little, and where a thing alone on its arbor stands is what the windows are about.
    let may_be_off =
        |figure: &&WorksFigure| figure.key.ends_with("_deg") && !of.is_place_alone(figure);
    for figure in of.usual().iter().filter(may_be_off) {
        // What is wider is worth measuring first.
        let wide = of.width(figure).map_or(0.0, |width| width.to_f64());
        let all = 0..windows.len();
        // What cannot be told may move any.
        let unknown = || all.map(|window| Moved { window, by: 0.0 }).collect();
        for moved in moved(works, windows, figure).unwrap_or_else(unknown) {
            rests[moved.window].push((moved.by * wide, figure.clone()));
        }
    }
    for ((window, square), mut rests) in windows.iter_mut().zip(squares).zip(rests) {
        rests.sort_by(|a, b| b.0.total_cmp(&a.0));
        let half = (&window.to - &window.from).to_f64() / 2.0;
        let usual = match window.is_judged() && rests.is_empty() {
            true => 0.0,
            false => USUAL_WINDOW.value * half,
        };
        window.spread = thousandths(square.sqrt().hypot(usual));
        window.rests_on = rests.into_iter().map(|(_, figure)| figure).collect();
    }
}

/// How far an end of a window may lie off, in degrees, by how surely it is known what a pin goes while a lever falls: turned by
/// itself, its arbor has that lever fall, or that pin come, so much later.
fn by_pace(works: &Turnable<'_>, of: &Works, window: &WorkedOutWindow) -> f64 {
    let movement = works.movement;
    let turns = |arbor: ArborId| to_f64(movement.turns(arbor)).abs();
    let own = turns(movement.unjudged()[window.witness].on);
    let off = window.too_soon().map(|(pin, least)| {
        let on = of.pin(pin).on;
        let part = crate::lead::spread(movement, on).unwrap_or(0.0);
        part * least.degrees.to_f64() * own / turns(on)
    });
    off.fold(0.0, f64::max)
}

/// Degrees to the next thousandth.
fn thousandths(degrees: f64) -> Degrees {
    let whole = Exact::from_float((1000.0 * degrees).ceil()).unwrap_or_else(Exact::zero);
    Degrees::deg(whole * fraction(1, 1000))
}

/// The windows that a figure moves; nothing where that cannot be told.
fn moved(
    works: &Turnable<'_>,
    windows: &[WorkedOutWindow],
    figure: &WorksFigure,
) -> Option<Vec<Moved>> {
    let (part, of) = A_LITTLE;
    let little = Degrees::deg(fraction(part, of));
    let movement = works.movement.with_figure(figure, &little)?;
    let other = Turnable::of(&movement, works.left()).ok()?;
    let told = other.moved_from(works, windows, &little);
    works.spend(works.left() - other.left());
    told
}

impl Turnable<'_> {
    /// How far the ends of windows lie from where they were with other works, to a degree of what was made so much greater.
    fn moved_from(
        &self,
        before: &Turnable<'_>,
        windows: &[WorkedOutWindow],
        little: &Degrees,
    ) -> Option<Vec<Moved>> {
        let struck = self.run(&[]).filter(crate::Struck::is_right)?;
        let scale = Scale {
            works: self,
            struck: &struck,
        };
        let mut all = Vec::new();
        for (n, window) in windows.iter().enumerate() {
            let Some(ends) = &window.ends else {
                continue;
            };
            let witness = &self.movement.unjudged()[window.witness];
            let about = About {
                works: self,
                before,
                arbor: witness.on,
                breaks: [self, before].map(|works| Breaks::of(works, witness.on)),
                meant: [scale.meant(witness), window.meant.clone()],
                margin: &(little * &fraction(ABOUT, 1)) * &self.quickest(witness.on),
                period: witness.period(),
            };
            let ways = [
                about.moved(&ends[0].raw, -1)?,
                about.moved(&ends[1].raw, 1)?,
            ];
            let most = ways.iter().map(|way| way.exact().abs()).max()?;
            if !most.is_zero() {
                let by = to_f64(&(most / little.exact()));
                all.push(Moved { window: n, by });
            }
        }
        Some(all)
    }

    /// Turns of an arbor to one of the slowest that carries anything of its train, one at least.
    fn quickest(&self, arbor: ArborId) -> Exact {
        let turns = |arbor: ArborId| self.movement.turns(arbor).abs();
        let own = turns(arbor);
        let train = self.movement.train_of(arbor);
        let others = self.movement.arbors().map(|(id, _)| id);
        let carrying =
            others.filter(|id| self.movement.train_of(*id) == train && self.carries(*id));
        let ratios = carrying.map(|id| &own / turns(id));
        ratios.fold(fraction(1, 1), Exact::max)
    }
}

/// About the ends of one window.
struct About<'a, 'm> {
    works: &'a Turnable<'m>,
    before: &'a Turnable<'m>,
    arbor: ArborId,
    /// The places at which anything may change, with the figure a little greater and before.
    breaks: [Breaks; 2],
    /// Where the works have the witness, with the figure a little greater and before.
    meant: [Degrees; 2],
    margin: Degrees,
    period: Degrees,
}

impl About<'_, '_> {
    /// How far an end moved; the margin where it moved farther than was looked. Nothing where there is no end any more.
    fn moved(&self, old: &Degrees, way: i64) -> Option<Degrees> {
        let next = match way > 0 {
            true => Breaks::after,
            false => Breaks::before,
        };
        let inside = old - &(&self.margin * &fraction(way, 1));
        let [meant, was] = &self.meant;
        let begin = self.works.ticks(self.arbor, &(&inside - meant));
        let [breaks, breaks_before] = &self.breaks;
        // Where every change about the end lies where it lay, so does the end.
        let same = {
            let begin_before = self.before.ticks(self.arbor, &(&inside - was));
            let beyond = &self.margin * &fraction(2, 1);
            let here = self.near(self.works, breaks, begin, next, &beyond);
            let there = self.near(self.before, breaks_before, begin_before, next, &beyond);
            here.iter()
                .map(|way| meant.exact() + way)
                .eq(there.iter().map(|way| was.exact() + way))
        };
        if same {
            return Some(Degrees::zero());
        }
        let sought = Sought {
            works: self.works,
            arbor: self.arbor,
            period: self.period.clone(),
        };
        let is_good = self.works.run(&[(self.arbor, begin)])?.is_right();
        if !is_good {
            return Some(self.margin.clone());
        }
        let end = sought.end(breaks, begin, next)?;
        let new = meant + &self.works.degrees(self.arbor, end.at);
        Some(&new - old)
    }

    /// The changes within so many degrees of a place, in degrees from it.
    fn near(
        &self,
        works: &Turnable<'_>,
        breaks: &Breaks,
        begin: i128,
        next: fn(&Breaks, i128) -> Option<Break>,
        within: &Degrees,
    ) -> Vec<Exact> {
        let mut all = Vec::new();
        let mut at = begin;
        while let Some(beyond) = next(breaks, at) {
            let way = works.degrees(self.arbor, beyond.at - begin);
            if way.exact().abs() > *within.exact() {
                break;
            }
            all.push(works.degrees(self.arbor, beyond.at).exact().clone());
            at = beyond.at;
        }
        all
    }
}
