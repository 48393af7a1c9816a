//! What is held to be so if the eye is so rough: a chance for each way the meshes can stand, and how far each witness is then
//! likely to be off. What several eyes come to together is told in `belief`.

use crate::bench::{Bench, Tension};
use crate::chance::Target;
use crate::glance::{Glance, Hypothesis};
use crate::reading::Reading;
use movement::WitnessId;

/// What may be, and how likely, seen with one eye.
#[derive(Debug, Clone)]
pub(crate) struct View {
    /// Which eye, as its place among those that may be.
    pub(crate) eye: usize,
    /// Readings spread so many times as wide as was said.
    pub(crate) times: f64,
    /// The chance that it is this eye.
    pub(crate) share: f64,
    /// The chance that the meshes stand anyhow, each way as likely as the next, and how far witnesses are then likely to be off.
    pub(crate) anyhow: f64,
    pub(crate) off: Vec<f64>,
    /// What is likelier than that, in order of ways; with it their chances add up to 1.
    pub(crate) hypotheses: Vec<Hypothesis>,
    /// How surely it is known how far witnesses are off, the same for every hypothesis: a square table of one row for each witness.
    pub(crate) covariance: Vec<f64>,
}

/// Chances below this are nothing: what came to so little is not met again in a lifetime of looks.
const NOTHING: f64 = 1e-12;

/// Nor is a history worth keeping that is a hundred times less likely than that something happened unnoticed and led to
/// the same way of standing.
const BESIDE_UNNOTICED: f64 = 1e-2;

/// Beside one hypothesis for each way, so many more are kept, the likeliest: after a look or two hardly a dozen are left that matter.
const MOST_GUESSES: usize = 2000;

/// Two hypotheses of one way whose witnesses are off by amounts nearer than this part of the doubt about them are one hypothesis:
/// taken for their mean, they would be in doubt by less than a hundredth more.
const ALIKE_OFF: f64 = 0.25;

impl View {
    /// Takes in one look; gives how well it fits. Nothing is settled yet: chances add up to that.
    pub(crate) fn look(
        &mut self,
        bench: &Bench<'_>,
        readings: &[Reading],
        tension: Tension,
    ) -> f64 {
        self.leave_open(bench);
        let Some(glance) = Glance::of(bench, self, readings, tension) else {
            return 1.0;
        };
        let mut total = 0.0;
        let mut surprise = glance.room();
        let before = std::mem::take(&mut self.hypotheses);
        for hypothesis in &before {
            total += glance.go_on(hypothesis, &mut surprise, &mut self.hypotheses);
        }
        let anyhow = std::mem::take(&mut self.anyhow) / bench.places.count as f64;
        if anyhow > 0.0 {
            let likelihoods = glance.likelihoods(&self.off, anyhow);
            total += anyhow * likelihoods.iter().sum::<f64>();
            let nothing = self.least_kept(bench) * total / anyhow;
            for (way, likelihood) in likelihoods.into_iter().enumerate() {
                if likelihood > 0.0 && likelihood >= nothing {
                    let hypothesis = Hypothesis {
                        way,
                        chance: anyhow,
                        off: self.off.clone(),
                    };
                    glance.go_on(&hypothesis, &mut surprise, &mut self.hypotheses);
                }
            }
        }
        glance.settle(&mut self.covariance);
        total
    }

    /// Leaves it open that something happened unnoticed: each way of standing gets its small share. How far witnesses are off
    /// is a matter of levers and parts, and stays as it was.
    fn leave_open(&mut self, bench: &Bench<'_>) {
        let unnoticed = bench.priors.unnoticed.get();
        self.off = self.off_on_average();
        for hypothesis in &mut self.hypotheses {
            hypothesis.chance *= 1.0 - unnoticed;
        }
        self.anyhow += unnoticed * (1.0 - self.anyhow);
    }

    /// Writes down every way that the meshes may stand anyhow.
    pub(crate) fn spell_out(&mut self, bench: &Bench<'_>) {
        let anyhow = std::mem::take(&mut self.anyhow) / bench.places.count as f64;
        if anyhow > 0.0 {
            let off = &self.off;
            (self.hypotheses).extend((0..bench.places.count).map(|way| Hypothesis {
                way,
                chance: anyhow,
                off: off.clone(),
            }));
            self.gather();
        }
    }

    /// How far each witness is likely to be off, whatever way the meshes stand.
    fn off_on_average(&self) -> Vec<f64> {
        let mut off: Vec<f64> = self.off.iter().map(|off| self.anyhow * off).collect();
        for hypothesis in &self.hypotheses {
            for (sum, off) in off.iter_mut().zip(&hypothesis.off) {
                *sum += hypothesis.chance * off;
            }
        }
        off
    }

    /// From now on a witness stands so much further ahead.
    pub(crate) fn bent(&mut self, witness: WitnessId, by: f64, spread: f64) {
        let w = witness.index();
        let n = self.off.len();
        self.off[w] += by;
        for hypothesis in &mut self.hypotheses {
            hypothesis.off[w] += by;
        }
        self.covariance[w * n + w] += spread * spread;
    }

    /// From now on these witnesses stand so much further ahead, all of them, or each as much further back.
    pub(crate) fn turned(&mut self, bench: &Bench<'_>, moves: &[(WitnessId, f64, f64)]) {
        let n = self.off.len();
        let wrong = bench.priors.hands.wrong_way.get();
        let on = |off: &[f64], ahead: f64| -> Vec<f64> {
            let mut off = off.to_vec();
            for (id, by, _) in moves {
                off[id.index()] += ahead * by;
            }
            off
        };
        self.off = on(&self.off, 1.0);
        for (id, _, spread) in moves {
            self.covariance[id.index() * n + id.index()] += spread * spread;
        }
        self.hypotheses = (self.hypotheses.iter())
            .flat_map(|hypothesis| {
                let gone = |share: f64, ahead: f64| Hypothesis {
                    way: hypothesis.way,
                    chance: share * hypothesis.chance,
                    off: on(&hypothesis.off, ahead),
                };
                [gone(1.0 - wrong, 1.0), gone(wrong, -1.0)]
            })
            .filter(|hypothesis| hypothesis.chance > 0.0)
            .collect();
        self.gather();
        self.keep_the_likeliest(bench);
        self.even_out();
    }

    /// Takes in that not everything is in its window; gives how likely that was. Nothing is settled yet.
    pub(crate) fn not_in_window(&mut self, bench: &Bench<'_>) -> f64 {
        self.spell_out(bench);
        let in_window: Vec<f64> = (self.hypotheses.iter())
            .map(|hypothesis| bench.in_window_at(&self.covariance, &hypothesis.off, hypothesis.way))
            .collect();
        let mut total = 0.0;
        for (hypothesis, in_window) in self.hypotheses.iter_mut().zip(in_window) {
            hypothesis.chance *= 1.0 - in_window;
            total += hypothesis.chance;
        }
        total
    }

    /// Each hypothesis goes on to ways so many teeth further ahead at one mesh, each with its share.
    pub(crate) fn spread(&mut self, bench: &Bench<'_>, offset: usize, moved: &[(i64, f64)]) {
        let nothing = self.least_kept(bench);
        let before = std::mem::take(&mut self.hypotheses);
        for hypothesis in before {
            let goes_on = moved
                .iter()
                .map(|(teeth, share)| (*teeth, hypothesis.chance * share));
            self.hypotheses
                .extend(
                    goes_on
                        .filter(|(_, chance)| *chance >= nothing)
                        .map(|(teeth, chance)| Hypothesis {
                            way: bench.places.ahead(hypothesis.way, offset, teeth),
                            chance,
                            off: hypothesis.off.clone(),
                        }),
                );
        }
        self.gather();
        self.keep_the_likeliest(bench);
        self.even_out();
    }

    /// Which tooth these meshes stand at is lost: any of them, each as likely as the next. Where that leaves every way open, and more
    /// than can be kept apart, nothing is told by what was known of ways before.
    pub(crate) fn lost(&mut self, bench: &Bench<'_>, offsets: &[usize]) {
        let too_many = self.hypotheses.len() * bench.places.count > View::most(bench);
        if too_many && bench.places.lead_everywhere(offsets) {
            self.off = self.off_on_average();
            self.anyhow = 1.0;
            self.hypotheses.clear();
            return;
        }
        for &offset in offsets {
            self.lost_at(bench, offset);
        }
    }

    /// The same for one of them. Hypotheses that differ in nothing else are one first, so that there are never many more than ways.
    fn lost_at(&mut self, bench: &Bench<'_>, offset: usize) {
        for hypothesis in &mut self.hypotheses {
            hypothesis.way = bench.places.first_alike(hypothesis.way, offset);
        }
        self.gather();
        let cycle = bench.places.offsets[offset].cycle;
        let most = View::most(bench);
        if self.hypotheses.len() * cycle > most {
            let hypotheses = &mut self.hypotheses;
            hypotheses.sort_by(|a, b| b.chance.total_cmp(&a.chance).then(a.way.cmp(&b.way)));
            hypotheses.truncate((most / cycle).max(1));
        }
        let any: Vec<(i64, f64)> = (0..)
            .take(cycle)
            .map(|teeth| (teeth, 1.0 / cycle as f64))
            .collect();
        self.spread(bench, offset, &any);
    }

    /// How many hypotheses are kept at most.
    fn most(bench: &Bench<'_>) -> usize {
        bench.places.count + MOST_GUESSES
    }

    fn keep_the_likeliest(&mut self, bench: &Bench<'_>) {
        let most = View::most(bench);
        let hypotheses = &mut self.hypotheses;
        if hypotheses.len() > most {
            hypotheses.sort_by(|a, b| b.chance.total_cmp(&a.chance).then(a.way.cmp(&b.way)));
            hypotheses.truncate(most);
            hypotheses.sort_by(|a, b| a.way.cmp(&b.way).then(b.chance.total_cmp(&a.chance)));
        }
    }

    /// The chance that everything is in its window, if this is the eye.
    pub(crate) fn in_window(&self, bench: &Bench<'_>) -> f64 {
        let mut sum = 0.0;
        self.each(bench, &mut |way, chance, off| {
            sum += chance * bench.in_window_at(&self.covariance, off, way);
        });
        sum
    }

    /// Every way with its chance and how far witnesses are then off; one may come several times.
    pub(crate) fn each(&self, bench: &Bench<'_>, told: &mut dyn FnMut(usize, f64, &[f64])) {
        if self.anyhow > 0.0 {
            let chance = self.anyhow / bench.places.count as f64;
            for way in 0..bench.places.count {
                told(way, chance, &self.off);
            }
        }
        for hypothesis in &self.hypotheses {
            told(hypothesis.way, hypothesis.chance, &hypothesis.off);
        }
    }

    /// After chances were multiplied by what fits, they add up to 1 again, and what came to nothing is dropped.
    pub(crate) fn settle(&mut self, bench: &Bench<'_>, total: f64) {
        for hypothesis in &mut self.hypotheses {
            hypothesis.chance /= total;
        }
        let nothing = self.least_kept(bench);
        self.hypotheses
            .retain(|hypothesis| hypothesis.chance >= nothing);
        self.gather();
        self.keep_the_likeliest(bench);
        self.even_out();
    }

    /// The least chance that a hypothesis is kept with: the less likely the eye, the less it is worth to look through it closely.
    fn least_kept(&self, bench: &Bench<'_>) -> f64 {
        let unnoticed = bench.priors.unnoticed.get() / bench.places.count as f64;
        (BESIDE_UNNOTICED * unnoticed).max(NOTHING) / self.share
    }

    fn even_out(&mut self) {
        let kept: f64 =
            (self.hypotheses.iter().map(|hypothesis| hypothesis.chance)).sum::<f64>() + self.anyhow;
        self.anyhow /= kept;
        for hypothesis in &mut self.hypotheses {
            hypothesis.chance /= kept;
        }
    }

    /// Histories that say the same are one hypothesis.
    fn gather(&mut self) {
        let n = self.off.len();
        let alike: Vec<f64> = (0..n)
            .map(|w| ALIKE_OFF * self.covariance[w * n + w].max(0.0).sqrt())
            .collect();
        self.hypotheses
            .sort_by(|a, b| a.way.cmp(&b.way).then(b.chance.total_cmp(&a.chance)));
        let mut kept: Vec<Hypothesis> = Vec::with_capacity(self.hypotheses.len());
        let mut first_of_way = 0;
        for hypothesis in self.hypotheses.drain(..) {
            if kept
                .get(first_of_way)
                .is_none_or(|kept| kept.way != hypothesis.way)
            {
                first_of_way = kept.len();
            }
            let same = |kept: &&mut Hypothesis| {
                (kept.off.iter().zip(&hypothesis.off).zip(&alike))
                    .all(|((a, b), alike)| (a - b).abs() <= *alike)
            };
            match kept[first_of_way..].iter_mut().find(same) {
                Some(kept) => kept.take(&hypothesis),
                None => kept.push(hypothesis),
            }
        }
        self.hypotheses = kept;
    }
}

impl Hypothesis {
    /// Takes another of the same way for one with itself.
    fn take(&mut self, other: &Hypothesis) {
        self.chance += other.chance;
        let part = other.chance / self.chance.max(f64::MIN_POSITIVE);
        for (off, other) in self.off.iter_mut().zip(&other.off) {
            *off += part * (other - *off);
        }
    }
}

impl Bench<'_> {
    /// The chance that everything is in its window when the meshes stand this way and witnesses are likely off by so much,
    /// known with such doubt.
    pub(crate) fn in_window_at(&self, covariance: &[f64], off: &[f64], way: usize) -> f64 {
        let n = self.witnesses();
        let all_there = covariance.iter().all(|d| *d <= 0.0)
            && off.iter().all(|o| o.abs() <= 0.0)
            && self.window_spread.iter().all(|spread| *spread <= 0.0);
        if all_there {
            return if self.places.all_admitted(way) {
                1.0
            } else {
                0.0
            };
        }
        (self.timed().iter())
            .map(|&id| {
                self.one_in_window_at(covariance[id.index() * n + id.index()], off, (way, id))
            })
            .product()
    }

    /// The chance that one of them is, known with such a variance.
    pub(crate) fn one_in_window_at(
        &self,
        variance: f64,
        off: &[f64],
        (way, id): (usize, WitnessId),
    ) -> f64 {
        let w = id.index();
        let track = &self.places.tracks[w];
        let at = track.at[self.places.place(way, id)] + off[w];
        let target = Target {
            from: track.from,
            to: track.to,
            period: track.period,
            // Where its window lies is in doubt by itself, and no look tells of it.
            spread: (variance.max(0.0).sqrt())
                .hypot(self.window_spread[w])
                .max(SHARP * (track.to - track.from)),
            held: 0.0,
            tied: false,
        };
        target.alone(at)
    }
}

/// A doubt so small against the window that it is no doubt; keeps a quotient finite.
const SHARP: f64 = 1e-9;
