//! Warning: some minutes before it strikes the train is let go, runs half a turn of a wheel, and is caught again: a short whirr
//! between the ticks, at most clocks five to ten minutes before the blow (common practice, no source). Any bump sounds like it;
//! what tells it is that it comes at the same distance before each strike, or that nothing else is ever heard. Where neither can
//! be said, that is said. Nothing else is made of the sounds between the ticks.

use crate::bands::{count, whole, whole_number, whole32};
use crate::contour::{Contour, quantile};
use crate::line::{Line, number};
use crate::logs::sum;
use crate::strike::HeardStrike;

/// Seconds before the first blow in which a warning is looked for.
const WINDOW_S: (f64, f64) = (120.0, 720.0);
/// Leads are alike within so many seconds.
const ALIKE_S: f64 = 25.0;
/// Seconds in which the sound between ticks is taken together.
const BIN_S: f64 = 0.1;
/// How far above what is usual between ticks a sound stands, natural logarithm of power.
const RISES: f32 = 0.6;
/// A tick must stand this much higher still, or a warning would not be heard either.
const CLEAR: f32 = 0.4;
/// Sounds nearer than this are one; longer ones are no warning, seconds.
const TOGETHER_S: f64 = 0.35;
const LONGEST_S: f64 = 3.0;
/// Heard only where chance would do as much less often than this.
const LEAST_CHANCE: f64 = 0.1;
/// The part of the window that must have been listened to before it is said that nothing was there.
const LISTENED: f64 = 0.9;
/// Sounds kept, at most: one every five seconds for a day.
const MOST: usize = 17_280;

/// Whether the warning before a strike was heard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HeardWarning {
    /// So many seconds before the first blow.
    Heard(f64),
    /// It would have been heard, and was not.
    NotHeard,
    /// The recording begins too late, the ticking is too faint, or too much else sounds.
    CannotTell,
}

/// A short sound between ticks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rustle {
    /// When it began, seconds from the beginning.
    pub at_s: f64,
    /// For how long, seconds.
    pub lasts_s: f64,
}

/// Short sounds between ticks, and when they could have been heard.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Between {
    /// The sounds, in order of time.
    pub rustles: Vec<Rustle>,
    /// Stretches of time in which one as loud as a tick would have been heard, seconds from the beginning.
    pub listened_s: Vec<(f64, f64)>,
}

/// A stretch in which the clock was followed.
pub(crate) struct Ticked<'a> {
    pub(crate) contour: &'a Contour,
    pub(crate) line: &'a Line,
    pub(crate) begins_s: f64,
    pub(crate) told_s: (f64, f64),
    pub(crate) struck: &'a [(f64, f64)],
}

impl Between {
    /// Listens between the ticks of a further stretch.
    pub(crate) fn hear(&mut self, ticked: &Ticked<'_>) {
        let h = &ticked.contour.height;
        let rate = ticked.contour.rate;
        let to_s = ticked.told_s.1.min(whole(h.len()) / rate);
        let (open, mut ticks) = between(ticked);
        let bin = count(BIN_S * rate).max(1);
        // The mean height of each bin outside the ticks, where enough of it is.
        let bins: Vec<Option<f32>> = (h.chunks(bin).zip(open.chunks(bin)))
            .map(|(h, open)| {
                let n = sum(open);
                let all: f32 = h.iter().zip(open).map(|(h, o)| h * o).sum();
                (n >= 0.25 * whole32(bin)).then(|| all / n)
            })
            .collect();
        let mut some: Vec<f32> = bins.iter().flatten().copied().collect();
        if ticks.is_empty() || 4 * some.len() < bins.len() {
            return;
        }
        let least = quantile(&mut some, 0.9) + RISES;
        if quantile(&mut ticks, 0.5) < least + CLEAR {
            return;
        }
        let from_s = ticked.told_s.0;
        let (from, to) = (ticked.begins_s + from_s, ticked.begins_s + to_s);
        let adjoins = |last: &&mut (f64, f64)| (from - last.1).abs() < 0.1;
        if let Some(last) = self.listened_s.last_mut().filter(adjoins) {
            last.1 = to;
        } else {
            self.listened_s.push((from, to));
        }
        for (k, _) in (bins.iter().enumerate()).filter(|(_, x)| x.is_some_and(|x| x > least)) {
            let at = whole(k * bin) / rate;
            if (from_s..to_s).contains(&at) {
                self.add(ticked.begins_s + at);
            }
        }
    }

    fn add(&mut self, at_s: f64) {
        let together = |last: &&mut Rustle| at_s - (last.at_s + last.lasts_s) < TOGETHER_S;
        if let Some(last) = self.rustles.last_mut().filter(together) {
            last.lasts_s = at_s + BIN_S - last.at_s;
        } else if self.rustles.len() < MOST {
            // Beyond that, too much sounds here to tell a warning by.
            self.rustles.push(Rustle {
                at_s,
                lasts_s: BIN_S,
            });
        }
    }

    /// Seconds between two times in which a warning would have been heard.
    fn listened(&self, from: f64, to: f64) -> f64 {
        let part = |(a, b): &(f64, f64)| (b.min(to) - a.max(from)).max(0.0);
        self.listened_s.iter().map(part).sum()
    }
}

/// One for each frame that lies between ticks and in no strike, nought for the others; and how high the ticks stand.
fn between(ticked: &Ticked<'_>) -> (Vec<f32>, Vec<f32>) {
    let h = &ticked.contour.height;
    let (rate, line) = (ticked.contour.rate, ticked.line);
    let mut open = vec![1.0; h.len()];
    let mut shut = |from_s: f64, to_s: f64| {
        let place = |s: f64| count((s * rate).max(0.0)).min(h.len());
        open[place(from_s)..place(to_s)].fill(0.0);
    };
    for (from, to) in ticked.struck {
        shut(from - ticked.begins_s, to - ticked.begins_s + 2.0);
    }
    let (before, after) = (
        0.04_f64.min(0.15 * line.half_s),
        0.14_f64.min(0.5 * line.half_s),
    );
    let mut ticks = Vec::new();
    let length_s = whole(h.len()) / rate;
    let first = whole_number((-line.start_s / line.half_s).floor());
    for at in (first..)
        .map(|n| line.at(n))
        .take_while(|at| *at < length_s)
    {
        shut(at - before, at + after);
        let place = |s: f64| count((s * rate).max(0.0)).min(h.len());
        let tick = &h[place(at - 0.005)..place(at + 0.03)];
        if at > 0.0 && !tick.is_empty() {
            ticks.push(tick.iter().copied().fold(0.0, f32::max));
        }
    }
    (open, ticks)
}

/// The warning before each strike.
pub fn warnings(strikes: &[HeardStrike], between: &Between) -> Vec<HeardWarning> {
    let first: Vec<f64> = strikes.iter().map(|s| s.blow_times_s[0]).collect();
    // Leads of the sounds before each strike, none of them before the strike before it.
    let leads: Vec<Vec<f64>> = first
        .iter()
        .map(|&at| {
            let short = (between.rustles.iter()).filter(|r| r.lasts_s < LONGEST_S);
            let leads = short.map(|r| at - r.at_s);
            leads
                .filter(|lead| (WINDOW_S.0..WINDOW_S.1).contains(lead))
                .collect()
        })
        .collect();
    let share = |&at: &f64| {
        let (from, to) = (at - WINDOW_S.1, at - WINDOW_S.0);
        between.listened(from, to) / (to - from)
    };
    let listened: Vec<bool> = first.iter().map(|at| share(at) >= LISTENED).collect();
    let common = common(&leads, &listened, stray_per_s(&first, between));
    (leads.iter().zip(&listened))
        .map(|(leads, &listened)| match common {
            Some(common) => {
                let off = |lead: &f64| (lead - common).abs();
                let nearest = leads
                    .iter()
                    .copied()
                    .min_by(|a, b| off(a).total_cmp(&off(b)));
                match nearest.filter(|lead| off(lead) < 2.0 * ALIKE_S) {
                    Some(lead) => HeardWarning::Heard(lead),
                    None if listened => HeardWarning::NotHeard,
                    None => HeardWarning::CannotTell,
                }
            }
            None if listened && leads.is_empty() => HeardWarning::NotHeard,
            None => HeardWarning::CannotTell,
        })
        .collect()
}

/// How many short sounds a second there are where no warning can be, half a sound more being reckoned for luck.
fn stray_per_s(first: &[f64], between: &Between) -> f64 {
    let is_window = |at: f64| {
        let within = |s: &&f64| (WINDOW_S.0..WINDOW_S.1).contains(&(**s - at));
        first.iter().find(within).is_some()
    };
    let stray = between
        .rustles
        .iter()
        .filter(|r| !is_window(r.at_s))
        .count();
    // In steps of ten seconds.
    let (mut heard_s, step) = (0.0, 10.0);
    for (from, to) in &between.listened_s {
        let steps = count((to - from) / step);
        let outside = (0..steps).filter(|k| !is_window(from + (whole(*k) + 0.5) * step));
        heard_s += whole(outside.count()) * step;
    }
    (whole(stray) + 0.5) / heard_s.max(step)
}

/// The lead at which a sound comes before more of the strikes than chance would bring there; nothing if there is none.
fn common(leads: &[Vec<f64>], listened: &[bool], stray_per_s: f64) -> Option<f64> {
    let asked: Vec<&Vec<f64>> = (leads.iter().zip(listened))
        .filter(|(leads, listened)| **listened || !leads.is_empty())
        .map(|(leads, _)| leads)
        .collect();
    let hit = |leads: &[f64], lead: f64| leads.iter().any(|l| (l - lead).abs() < ALIKE_S);
    let hits = |lead: f64| asked.iter().filter(|leads| hit(leads, lead)).count();
    let best =
        (asked.iter().flat_map(|leads| leads.iter().copied())).max_by_key(|&lead| hits(lead))?;
    // By chance a strike has one so near a given lead, and there are so many leads apart from each other.
    let one = 1.0 - (-2.0 * ALIKE_S * stray_per_s).exp();
    let places = (WINDOW_S.1 - WINDOW_S.0) / (2.0 * ALIKE_S);
    let chance = places * at_least(hits(best), asked.len(), one);
    if chance > LEAST_CHANCE {
        return None;
    }
    let near = asked.iter().flat_map(|leads| leads.iter().copied());
    let mut near: Vec<f64> = near.filter(|l| (l - best).abs() < ALIKE_S).collect();
    Some(crate::contour::quantile64(&mut near, 0.5))
}

/// The chance of at least so many of all, each by itself this likely.
fn at_least(hits: usize, all: usize, one: f64) -> f64 {
    let mut term = (1.0 - one).powf(whole(all));
    let mut below = 0.0;
    for k in 0..hits {
        below += term;
        term *= whole(all - k) / number(i64::try_from(k).unwrap_or(0) + 1) * one / (1.0 - one);
    }
    (1.0 - below).clamp(one.powf(whole(hits)), 1.0)
}
