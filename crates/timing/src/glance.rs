//! One look as one eye sees it: how well a way of standing fits it, and what it tells of how far witnesses are off.

use crate::bench::{Bench, Tension};
use crate::normal::{Density, Seen, invert};
use crate::reading::Reading;
use crate::resting::Row;
use crate::view::View;
use movement::WitnessId;

/// A place alike that by itself fits worse than by `e` to minus half of this adds nothing, however well the others fit: it
/// is more than six spreads off. The less likely the eye, and what is guessed with it, the less far places are gone into: not
/// to those that come to no more than `NAUGHT` of all; but to any nearer than `NEXT`.
const ALONE: f64 = 40.0;
const NAUGHT: f64 = 1e-10;
const NEXT: f64 = 2.0;

/// As many choices of places alike as are gone into for one way of standing, and for all of them together; but so many always.
/// Of four witnesses or more that are read so roughly that each may be places away, those farthest off are left out.
const MOST_CHOICES: f64 = 4000.0;
const MOST_WORK: f64 = 1e6;
const LEAST_CHOICES: f64 = 27.0;

/// However rough an eye, what it reads spreads by no more than half the way from place to place: any place of a witness is
/// then as likely as the next to within a hundredth.
const WIDEST: f64 = 0.5;

/// A place that by itself fits worse than by `e` to minus half of this is not gone into while others fit far better.
const HOPELESS: f64 = 120.0;

/// Others fit far better if they come to more than `e` to minus forty: of a look at a dozen witnesses nothing is lost then.
const FAR_BETTER: f64 = 4e-18;

/// A choice of alike places that fits worse than the best by this factor is not gone into; with an unlikely eye by more, and
/// by no more than the other.
const MATTERS: f64 = 1e-6;
const MATTERS_HARDLY: f64 = 1e-2;

/// One way things may be: how the meshes stand, and how far each witness is then likely to be off from what the sheet
/// says, in degrees. Two histories that lead to one way of standing are kept apart as long as they differ in that.
#[derive(Debug, Clone)]
pub(crate) struct Hypothesis {
    pub(crate) way: usize,
    pub(crate) chance: f64,
    pub(crate) off: Vec<f64>,
}

/// Room for what is read of each witness less what was to be expected, and beyond what that is hopeless.
struct Glimpse {
    surprise: Vec<f64>,
    hopeless: f64,
}

/// A look, ready to be held against ways of standing.
pub(crate) struct Glance<'a> {
    bench: &'a Bench<'a>,
    readings: &'a [Reading],
    /// The readings as they go into the sums.
    seen: Vec<Seen>,
    /// Of which witnesses each of them tells.
    rows: Vec<Row>,
    /// What locks the trains that were read at rest, and how surely it is known where it stands.
    locks: Vec<(WitnessId, f64)>,
    /// The covariance of the readings, and its inverse.
    cover: Vec<f64>,
    inverse: Vec<f64>,
    norm: f64,
    /// Choices that fit worse than the best by this factor are left out.
    matters: f64,
    /// What places are gone into at most, and the share of the eye.
    alone: f64,
    share: f64,
    /// How much of each reading's surprise goes into each witness's being off.
    gain: Vec<f64>,
}

impl<'a> Glance<'a> {
    /// As it is seen with the eye of a view, to be held against its hypotheses and against all ways; nothing where spreads are so
    /// small that they are none.
    pub(crate) fn of(
        bench: &'a Bench<'a>,
        view: &View,
        readings: &'a [Reading],
        tension: Tension,
    ) -> Option<Glance<'a>> {
        let (times, share, covariance) = (view.times, view.share, &view.covariance);
        let hypotheses = view.hypotheses.len() + bench.places.count;
        let n = bench.witnesses();
        let many = readings.len();
        let slack = |r: &Reading| match tension {
            Tension::Tensioned | Tension::AtRest => (0.0, 0.0),
            Tension::Slack => bench.play[r.witness.index()].slack(),
        };
        // What is locked is held by its arm, and by no hand.
        let (hold, at_rest) = match tension {
            Tension::AtRest => (0.0, true),
            Tension::Tensioned | Tension::Slack => (times * bench.hold, false),
        };
        let rows: Vec<Row> = (readings.iter().map(|r| r.witness.index()))
            .map(|w| match at_rest {
                true => bench.resting.row(w),
                false => Row::plain(w),
            })
            .collect();
        let mut locks: Vec<(WitnessId, f64)> = Vec::new();
        for (lock, _) in rows.iter().filter_map(|row| row.lock) {
            let known = covariance[lock * n + lock].max(0.0).sqrt();
            let id = (bench.movement.witnesses()).find(|(id, _)| id.index() == lock);
            locks.extend(id.map(|(id, _)| (id, known)));
        }
        locks.sort_by_key(|(id, _)| *id);
        locks.dedup_by_key(|(id, _)| *id);
        let mut cover = vec![0.0; many * many];
        for (i, a) in readings.iter().enumerate() {
            let w = a.witness.index();
            for (j, b) in readings.iter().enumerate() {
                let v = b.witness.index();
                let held = hold * hold * bench.sway[w] * bench.sway[v];
                cover[i * many + j] = rows[i].beside(covariance, n, &rows[j]) + held;
            }
            let widest = WIDEST * bench.places.tracks[w].period;
            let own = (times * a.spread.as_deg()).min(widest);
            cover[i * many + i] += own * own + slack(a).1;
        }
        let (inverse, root) = invert(&cover, many)?;
        let choices = |alone: f64| -> f64 {
            (readings.iter().enumerate())
                .map(|(i, r)| {
                    let reach = (alone * cover[i * many + i]).sqrt();
                    1.0 + 2.0 * (reach / bench.places.tracks[r.witness.index()].period).floor()
                })
                .product()
        };
        let most = (MOST_WORK / hypotheses.max(1) as f64).clamp(LEAST_CHOICES, MOST_CHOICES);
        let mut alone = ALONE;
        while choices(alone) > most {
            alone *= 0.8;
        }
        let seen = (readings.iter().enumerate())
            .map(|(i, r)| {
                let period = bench.places.tracks[r.witness.index()].period;
                let at = r.stands.to_f64() - slack(r).0 - rows[i].further;
                Seen {
                    at,
                    period,
                    reach: (alone * cover[i * many + i]).sqrt(),
                }
            })
            .collect();
        let gain = (0..n)
            .flat_map(|w| (0..many).map(move |j| (w, j)))
            .map(|(w, j)| {
                (rows.iter().enumerate())
                    .map(|(i, row)| row.with(covariance, n, w) * inverse[i * many + j])
                    .sum()
            })
            .collect();
        let norm = 1.0 / (libm::pow(2.0 * std::f64::consts::PI, 0.5 * many as f64) * root);
        Some(Glance {
            bench,
            readings,
            seen,
            rows,
            locks,
            cover,
            inverse,
            norm,
            matters: (MATTERS / share).min(MATTERS_HARDLY),
            alone,
            share,
            gain,
        })
    }

    /// Room for what is read of each witness less what was to be expected.
    pub(crate) fn room(&self) -> Vec<f64> {
        vec![0.0; self.seen.len()]
    }

    /// How well a way fits that is so likely, with witnesses off by so much; `surprise` is room for each reading. Where one of them
    /// by itself is hopeless all are.
    fn likelihood(&self, way: usize, chance: f64, off: &[f64], glimpse: &mut Glimpse) -> f64 {
        let many = self.seen.len();
        let mut sum = 0.0;
        let hopeless = glimpse.hopeless;
        self.each_expected(way, off, &mut glimpse.surprise, &mut |likely, surprise| {
            let near = |(i, s): (usize, &f64)| s * s <= hopeless * self.cover[i * many + i];
            if surprise.iter().enumerate().all(near) {
                sum += likely * self.norm * self.density(likely * chance).sum(surprise);
            }
        });
        sum
    }

    /// The density of what is read where something is so likely.
    fn density(&self, chance: f64) -> Density<'_> {
        Density {
            seen: &self.seen,
            inverse: &self.inverse,
            far: self.far(chance),
        }
    }

    /// How far places alike are gone into where something is so likely, as a part of how far they are at most.
    fn far(&self, chance: f64) -> f64 {
        let alone = 2.0 * libm::log((self.share * chance).max(f64::MIN_POSITIVE) / NAUGHT);
        (alone.clamp(NEXT.min(self.alone), self.alone) / self.alone).sqrt()
    }

    /// By how much each reading surprises, at the nearest of places alike: once for each arm that what locks may have come to, with how
    /// likely that is.
    fn each_expected(
        &self,
        way: usize,
        off: &[f64],
        surprise: &mut [f64],
        told: &mut dyn FnMut(f64, &mut [f64]),
    ) {
        if self.locks.is_empty() {
            for (i, surprise) in surprise.iter_mut().enumerate() {
                let place = self.bench.places.place(way, self.readings[i].witness);
                *surprise = self.apart(i, place, off, 0.0);
            }
            return told(1.0, surprise);
        }
        let leads: Vec<Vec<(f64, f64)>> = (self.locks.iter())
            .map(|(id, known)| {
                let w = id.index();
                let place = self.bench.places.place(way, *id);
                let at = self.bench.places.tracks[w].at[place] + off[w];
                self.bench.resting.leads(w, at, *known)
            })
            .collect();
        // Every choice of an arm for each of the locks; there is one, or two where trains beside each other were read.
        let choices: usize = leads.iter().map(Vec::len).product();
        for choice in 0..choices {
            let (mut left, mut likely) = (choice, 1.0);
            let chosen: Vec<(usize, f64)> = (self.locks.iter().zip(&leads))
                .map(|((id, _), leads)| {
                    let (lead, chance) = leads[left % leads.len()];
                    left /= leads.len();
                    likely *= chance;
                    (id.index(), lead)
                })
                .collect();
            for (i, surprise) in surprise.iter_mut().enumerate() {
                let place = self.bench.places.place(way, self.readings[i].witness);
                let ran = self.rows[i].lock.map_or(0.0, |(lock, turns)| {
                    let lead = chosen.iter().find(|(of, _)| *of == lock);
                    lead.map_or(0.0, |(_, lead)| turns * lead)
                });
                *surprise = self.apart(i, place, off, ran);
            }
            told(likely, surprise);
        }
    }

    /// What becomes of a hypothesis: one for each choice of alike places that counts, since each tells otherwise of how far witnesses are
    /// off, where one hold carried several of them. Gives what all of them come to.
    pub(crate) fn go_on(
        &self,
        hypothesis: &Hypothesis,
        surprise: &mut [f64],
        into: &mut Vec<Hypothesis>,
    ) -> f64 {
        let first = into.len();
        let (mut total, mut most) = (0.0, 0.0f64);
        let (way, before) = (hypothesis.way, &hypothesis.off);
        self.each_expected(way, before, surprise, &mut |likely, surprise| {
            let before_it = likely * hypothesis.chance;
            let density = self.density(before_it);
            density.each_alike(surprise, 0, &mut |density, surprise| {
                let chance = before_it * self.norm * density;
                total += chance;
                if chance < self.matters * most {
                    return;
                }
                most = most.max(chance);
                let mut off = before.clone();
                self.learn(&mut off, surprise);
                into.push(Hypothesis { way, chance, off });
            });
        });
        let new = into.split_off(first);
        into.extend(
            new.into_iter()
                .filter(|hypothesis| hypothesis.chance >= self.matters * most),
        );
        total
    }

    /// How far a reading is from a place of its witness, which ran on so far since, at the nearest of places alike.
    fn apart(&self, i: usize, place: usize, off: &[f64], ran: f64) -> f64 {
        let seen = &self.seen[i];
        let w = self.rows[i].witness;
        let apart = seen.at - self.bench.places.tracks[w].at[place] - off[w] - ran;
        apart - seen.period * libm::round(apart / seen.period)
    }

    /// How well each way fits, each so likely, with witnesses off by so much whatever the way.
    pub(crate) fn likelihoods(&self, off: &[f64], chance: f64) -> Vec<f64> {
        let likelihoods = self.likelihoods_within(off, chance, HOPELESS);
        if likelihoods.iter().sum::<f64>() > self.norm * FAR_BETTER {
            likelihoods
        } else {
            self.likelihoods_within(off, chance, f64::INFINITY)
        }
    }

    /// The same, without what is hopeless: readings that fit a place worse by themselves than that never fit better together.
    fn likelihoods_within(&self, off: &[f64], chance: f64, hopeless: f64) -> Vec<f64> {
        let many = self.seen.len();
        // Of what was read at its moment it is known place by place.
        let near: Vec<Option<Vec<bool>>> = (0..many)
            .map(|i| {
                if self.rows[i].lock.is_some() {
                    return None;
                }
                let places = self.bench.places.tracks[self.rows[i].witness].at.len();
                let near = (0..places).map(|place| {
                    let apart = self.apart(i, place, off, 0.0);
                    apart * apart <= hopeless * self.cover[i * many + i]
                });
                Some(near.collect())
            })
            .collect();
        let mut glimpse = Glimpse {
            surprise: self.room(),
            hopeless,
        };
        (0..self.bench.places.count)
            .map(|way| {
                let worth = (self.readings.iter().zip(&near)).all(|(r, near)| {
                    near.as_ref()
                        .is_none_or(|near| near[self.bench.places.place(way, r.witness)])
                });
                if worth {
                    self.likelihood(way, chance, off, &mut glimpse)
                } else {
                    0.0
                }
            })
            .collect()
    }

    /// What such surprise tells of how far witnesses are off, as a Kalman filter has it.
    fn learn(&self, off: &mut [f64], surprise: &[f64]) {
        let many = surprise.len();
        for (w, off) in off.iter_mut().enumerate() {
            let more: f64 = (0..many)
                .map(|j| self.gain[w * many + j] * surprise[j])
                .sum();
            *off += more;
        }
    }

    /// By how much surer it then is.
    pub(crate) fn settle(&self, covariance: &mut [f64]) {
        let (n, many) = (self.bench.witnesses(), self.seen.len());
        let before = covariance.to_vec();
        for w in 0..n {
            for v in 0..n {
                let less: f64 = (0..many)
                    .map(|j| self.gain[w * many + j] * self.rows[j].with(&before, n, v))
                    .sum();
                covariance[w * n + v] -= less;
            }
        }
    }
}
