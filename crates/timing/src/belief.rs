//! How surely it is known where each witness stands.
//!
//! A chance for each way the meshes can stand, and with it, for each witness, how far its lever or its own place is
//! likely to be off from what the sheet says; all that once for each eye that may be (`view`), and a share for each of those.
//! Looks narrow it, shifts move it, a wheel that jumped out spreads it.
//! The same steps give the same figures on every machine: nothing here but sums, and functions from `libm`.

use crate::bench::{Bench, Tension};
use crate::brought::LockStood;
use crate::cost_to_go::CostToGo;
use crate::eye::{Eye, TIMES};
use crate::glance::Hypothesis;
use crate::hands::{Handling, HandsOutcome};
use crate::reading::Reading;
use crate::view::View;
use movement::{ArborId, MeshId, WitnessId};
use quantity::{Chance, Degrees, Exact, fraction, nearest_alike, to_f64};
use std::borrow::Cow;

/// What may be, and how likely.
#[derive(Debug, Clone)]
pub struct Belief {
    /// What is seen with each eye that may be, the finest first; their shares add up to 1.
    pub(crate) views: Vec<View>,
    /// By how much levers were bent and parts turned, as far as that was told.
    bent: Vec<f64>,
    /// Whether it was told that a part was turned that carries it, perhaps the wrong way.
    turned: Vec<bool>,
    /// The spread that each witness was last read with.
    spreads: Vec<Option<f64>>,
    /// The logarithm of how well all that was seen fits.
    pub(crate) log_likelihood: f64,
}

/// What was held for so unlikely and happened all the same shows that the readings were not what they were said to be.
const SURPRISING: f64 = 1e-6;

/// An eye less likely than this is not looked through any more: what it would change is less than any figure that is told.
const NO_EYE: f64 = 1e-7;

/// Nor is a place told that is less likely than this.
const NO_PLACE: f64 = 1e-12;

impl Bench<'_> {
    /// Before anything is seen: a train put together by feel may stand any way, each as likely as the next.
    pub fn start(&self) -> Belief {
        self.start_doubting(None)
    }

    /// The same, with one witness of which nothing is known beforehand.
    pub(crate) fn start_doubting(&self, bent: Option<WitnessId>) -> Belief {
        let n = self.witnesses();
        let mut covariance = vec![0.0; n * n];
        for (id, witness) in self.movement.witnesses() {
            let half = 0.5 * witness.width().to_f64();
            let spread = if bent == Some(id) {
                // As wide as a normal spread can be and still favour one place: a quarter of the way to the next.
                0.25 * witness.period().to_f64()
            } else {
                self.priors.build * half
            };
            covariance[id.index() * n + id.index()] = spread * spread;
        }
        let shares = self.priors.eye.shares.into_iter().zip(TIMES);
        let views = (shares.enumerate())
            .filter(|(_, (share, _))| *share > 0.0)
            .map(|(eye, (share, times))| View {
                eye,
                times,
                share,
                anyhow: 1.0,
                off: vec![0.0; n],
                hypotheses: Vec::new(),
                covariance: covariance.clone(),
            })
            .collect();
        Belief {
            views,
            bent: vec![0.0; n],
            turned: vec![false; n],
            spreads: vec![None; n],
            log_likelihood: 0.0,
        }
    }

    /// Takes in one look: readings under one hold.
    ///
    /// # Formula
    /// What is read of witness w is its place, plus how far it is off, plus its speed times the hold, plus its own error: normal
    /// all of them, so with an eye `e` times as rough as said the chance of each way is multiplied by a normal density with
    /// covariance `cov + e²·(spread² + hold²·v·vᵀ)`, summed over places alike; the doubt shrinks as a Kalman filter's does;
    /// and the share of that eye is multiplied by how well it all fits.
    pub fn look(&self, belief: &mut Belief, readings: &[Reading], tension: Tension) {
        for r in readings {
            belief.spreads[r.witness.index()] = Some(r.spread.as_deg());
        }
        let likelihoods: Vec<f64> = (belief.views.iter_mut())
            .map(|view| view.look(self, readings, tension))
            .collect();
        if !belief.settle(self, &likelihoods) {
            // Nothing fits at all, to the last figure: start again, and let the likelihood say so.
            *belief = self.start();
            belief.log_likelihood = f64::NEG_INFINITY;
        }
    }

    /// Takes in a shift: teeth ahead at each mesh, by hands that may go wrong; or, where it is known, as it was handled.
    pub fn shift(&self, belief: &mut Belief, meshes: &[(MeshId, i64)], known: Option<Handling>) {
        for &(mesh, teeth) in meshes {
            self.shift_one(belief, mesh, teeth, known);
        }
    }

    /// Takes in one mesh of a shift; gives how likely it was handled that way beforehand.
    pub(crate) fn shift_one(
        &self,
        belief: &mut Belief,
        mesh: MeshId,
        teeth: i64,
        known: Option<Handling>,
    ) -> f64 {
        let outcomes: Vec<HandsOutcome> = (self.priors.hands.outcomes(teeth).into_iter())
            .filter(|outcome| known.is_none_or(|known| known == outcome.handling))
            .collect();
        let likely: f64 = outcomes.iter().map(|outcome| outcome.share).sum();
        if let Some(offset) = self.places.offset(mesh)
            && likely > 0.0
        {
            let moved: Vec<(i64, f64)> = (outcomes.iter())
                .map(|outcome| (outcome.teeth, outcome.share / likely))
                .collect();
            self.spread(belief, offset, &moved);
        }
        likely
    }

    /// A mesh moved by so many teeth, and that is known.
    pub fn moved(&self, belief: &mut Belief, mesh: MeshId, teeth: i64) {
        if let Some(offset) = self.places.offset(mesh) {
            self.spread(belief, offset, &[(teeth, 1.0)]);
        }
    }

    /// An arbor jumped out, or was taken out and put back anyhow: its place at each of its meshes is lost.
    pub fn jumped(&self, belief: &mut Belief, arbor: ArborId) {
        let lost: Vec<usize> = (self.places.offsets.iter().enumerate())
            .filter(|(_, offset)| {
                let mesh = self.movement.mesh(offset.mesh);
                [mesh.driver.arbor, mesh.driven.arbor].contains(&arbor)
            })
            .map(|(a, _)| a)
            .collect();
        for view in &mut belief.views {
            view.lost(self, &lost);
        }
    }

    /// A lever bent, or a part turned on its arbor: from now on the witness stands so much further ahead.
    pub fn bent(&self, belief: &mut Belief, witness: WitnessId, by: f64, spread: f64) {
        for view in &mut belief.views {
            view.bent(witness, by, spread);
        }
        belief.bent[witness.index()] += by;
    }

    /// A part was turned on its arbor by hands that may have turned it the wrong way: these witnesses go together, each so much
    /// further ahead, with its spread.
    pub fn turned(&self, belief: &mut Belief, moves: &[(WitnessId, f64, f64)]) {
        for view in &mut belief.views {
            view.turned(self, moves);
        }
        for (witness, by, _) in moves {
            belief.bent[witness.index()] += by;
            belief.turned[witness.index()] = true;
        }
    }

    /// It was tripped and did not lock: not everything is in its window.
    pub fn not_in_window(&self, belief: &mut Belief) {
        let likelihoods: Vec<f64> = (belief.views.iter_mut())
            .map(|view| view.not_in_window(self))
            .collect();
        let total: f64 = (belief.views.iter().zip(&likelihoods))
            .map(|(view, likelihood)| view.share * likelihood)
            .sum();
        if total < SURPRISING || !belief.settle(self, &likelihoods) {
            // It was held for done, and is not: something that was read was worse than it was said to be. Begin again.
            let likelihood = belief.log_likelihood;
            *belief = self.start();
            belief.log_likelihood = likelihood + libm::log(SURPRISING);
        }
    }

    /// So many teeth further ahead at one mesh, each with its share.
    fn spread(&self, belief: &mut Belief, offset: usize, moved: &[(i64, f64)]) {
        for view in &mut belief.views {
            view.spread(self, offset, moved);
        }
    }

    /// The chance that everything is in its window now.
    pub fn in_window(&self, belief: &Belief) -> Chance {
        let each = belief.views.iter();
        Chance::of(each.map(|view| view.share * view.in_window(self)).sum())
    }

    /// The chance that one witness is in its window now, from all looks.
    pub(crate) fn stands_in(&self, belief: &Belief, id: WitnessId) -> Chance {
        let (n, w) = (self.witnesses(), id.index());
        let mut sum = 0.0;
        for view in &belief.views {
            let variance = view.covariance[w * n + w];
            view.each(self, &mut |way, chance, off| {
                sum += view.share * chance * self.one_in_window_at(variance, off, (way, id));
            });
        }
        Chance::of(sum)
    }

    /// The chance of each way the meshes can stand, in the order of [`Bench::way`].
    pub fn chances(&self, belief: &Belief) -> Vec<f64> {
        let mut chances = vec![0.0; self.places.count];
        self.each(belief, &mut |way, chance, _| chances[way] += chance);
        chances
    }

    /// The chance of each place of a witness, where it is not nothing; the places in order from best onwards.
    pub fn places_of(&self, belief: &Belief, witness: WitnessId) -> Vec<(Degrees, Chance)> {
        let track = &self.places.tracks[witness.index()];
        let mut chances = vec![0.0; track.places.len()];
        self.each(belief, &mut |way, chance, _| {
            chances[self.places.place(way, witness)] += chance;
        });
        (track.places.iter().cloned().zip(chances))
            .filter(|(_, chance)| *chance > NO_PLACE)
            .map(|(place, chance)| (place, Chance::of(chance)))
            .collect()
    }

    /// Where a witness stands, by the places of its wheel, each with its chance. Whose lever was told to be bent, or its part to
    /// have been turned, stands so much further on, as looks since then have it.
    pub fn stands_of(&self, belief: &Belief, witness: WitnessId) -> Vec<(Degrees, Chance)> {
        let w = witness.index();
        if belief.bent[w].abs() <= 0.0 {
            return self.places_of(belief, witness);
        }
        let track = &self.places.tracks[w];
        let mut at = vec![(0.0, 0.0); track.places.len()];
        let mut likeliest = vec![(0.0, 0.0); track.places.len()];
        self.each(belief, &mut |way, chance, off| {
            let place = self.places.place(way, witness);
            let (chances, offs) = &mut at[place];
            *chances += chance;
            *offs += chance * off[w];
            if chance > likeliest[place].0 {
                likeliest[place] = (chance, off[w]);
            }
        });
        let turned = self.movement.witness(witness);
        (track.places.iter().zip(at).zip(likeliest))
            .filter(|((_, (chance, _)), _)| *chance > NO_PLACE)
            .map(|((place, (chance, off)), (_, likeliest))| {
                // Between one way and the other a part that was turned stands nowhere.
                let off = if belief.turned[w] {
                    likeliest
                } else {
                    off / chance
                };
                // To the thousandth, as degrees are told.
                let thousandths = Exact::from_float(libm::round(1000.0 * off));
                let further =
                    thousandths.map_or_else(Degrees::zero, |n| Degrees::deg(n * fraction(1, 1000)));
                let stands = nearest_alike(&(place + &further), &turned.period(), &turned.best);
                (stands, Chance::of(chance))
            })
            .collect()
    }

    /// A reading as its witness stood at its moment: what was read at rest, less what the train ran since, by where what locks likeliest
    /// stood.
    pub(crate) fn at_its_moment(
        &self,
        belief: &Belief,
        reading: &Reading,
        tension: Tension,
    ) -> Reading {
        if tension != Tension::AtRest {
            return reading.clone();
        }
        self.rest.brought(&self.movement, reading, &|lock| {
            let stood = self.stands_of(belief, lock);
            let likeliest = stood.iter().max_by(|a, b| a.1.get().total_cmp(&b.1.get()));
            likeliest.map(|(place, _)| LockStood {
                place: place.clone(),
                spread: 0.0,
            })
        })
    }

    /// Every way with every eye, its chance, and how far witnesses are then off.
    fn each(&self, belief: &Belief, told: &mut dyn FnMut(usize, f64, &[f64])) {
        for view in &belief.views {
            view.each(self, &mut |way, chance, off| {
                told(way, view.share * chance, off);
            });
        }
    }

    /// All eyes in one, for weighing what to do next: one hypothesis for each way, with how far witnesses are off and in how much
    /// doubt that is on average. How likely each way is stays what it was.
    pub(crate) fn blurred(&self, belief: &Belief) -> View {
        let n = self.witnesses();
        let mut hypotheses: Vec<Hypothesis> = Vec::new();
        let mut index = vec![usize::MAX; self.places.count];
        self.each(belief, &mut |way, chance, off| {
            if index[way] == usize::MAX {
                index[way] = hypotheses.len();
                hypotheses.push(Hypothesis {
                    way,
                    chance: 0.0,
                    off: vec![0.0; n],
                });
            }
            let sum = &mut hypotheses[index[way]];
            sum.chance += chance;
            for (sum, off) in sum.off.iter_mut().zip(off) {
                *sum += chance * off;
            }
        });
        for hypothesis in &mut hypotheses {
            for off in &mut hypothesis.off {
                *off /= hypothesis.chance.max(f64::MIN_POSITIVE);
            }
        }
        hypotheses.sort_by_key(|hypothesis| hypothesis.way);
        let mut covariance = vec![0.0; n * n];
        for view in &belief.views {
            for (sum, covariance) in covariance.iter_mut().zip(&view.covariance) {
                *sum += view.share * covariance;
            }
        }
        View {
            eye: 0,
            times: belief.eye().times(),
            share: 1.0,
            anyhow: 0.0,
            off: vec![0.0; n],
            hypotheses,
            covariance,
        }
    }

    /// The labour from each way of standing, with levers bent as far as that was told.
    pub(crate) fn cost_to_go(&self, belief: &Belief) -> Cow<'_, CostToGo> {
        if belief.bent.iter().all(|by| by.abs() <= 0.0) {
            let plain = || CostToGo::of(self.ground(), &|way| self.places.all_admitted(way));
            return Cow::Borrowed(self.cost_to_go.get_or_init(plain));
        }
        let admitted = |way: usize| {
            (self.timed().iter()).all(|&id| {
                let w = id.index();
                let track = &self.places.tracks[w];
                let at = track.at[self.places.place(way, id)] + belief.bent[w];
                let above = (at - track.from).rem_euclid(track.period);
                above <= track.to - track.from
            })
        };
        Cow::Owned(CostToGo::of(self.ground(), &admitted))
    }

    /// Where a witness is to be expected by a hypothesis, in degrees.
    pub(crate) fn expected_at(&self, hypothesis: &Hypothesis, witness: WitnessId) -> f64 {
        let w = witness.index();
        self.places.tracks[w].at[self.places.place(hypothesis.way, witness)] + hypothesis.off[w]
    }

    /// The spread that a witness was last read with; as usual where it was not read.
    pub(crate) fn usual_spread(&self, belief: &Belief, id: WitnessId) -> f64 {
        let usual = || to_f64(&crate::reading::default_spread(self.movement.witness(id)));
        belief.spreads[id.index()].unwrap_or_else(usual)
    }

    /// How a usual look at a witness spreads, all told, and its period; both in degrees.
    pub(crate) fn usual_look(&self, belief: &Belief, all: &View, id: WitnessId) -> (f64, f64) {
        let (n, w) = (self.witnesses(), id.index());
        let witness = self.movement.witness(id);
        let own = self.usual_spread(belief, id);
        let looked = all.times * own.hypot(self.hold * self.sway[w]);
        let covariance = all.covariance[w * n + w].max(0.0);
        (looked.hypot(covariance.sqrt()), witness.period().to_f64())
    }
}

impl Belief {
    /// How rough the eye is taken to be by now.
    pub fn eye(&self) -> Eye {
        let mut shares = [0.0; TIMES.len()];
        for view in &self.views {
            shares[view.eye] = view.share;
        }
        Eye { shares }
    }

    /// How many hypotheses it is made of.
    pub fn hypotheses(&self) -> usize {
        self.views.iter().map(|view| view.hypotheses.len()).sum()
    }

    /// After each eye's chances were multiplied by what fits: shares and chances add up to 1 again, and what came to nothing is
    /// dropped. Not done where nothing fits.
    fn settle(&mut self, bench: &Bench<'_>, likelihoods: &[f64]) -> bool {
        let total: f64 = (self.views.iter().zip(likelihoods))
            .map(|(view, likelihood)| view.share * likelihood)
            .sum();
        if total <= 0.0 {
            return false;
        }
        self.log_likelihood += libm::log(total);
        for (view, likelihood) in self.views.iter_mut().zip(likelihoods) {
            view.share *= likelihood / total;
            if view.share >= NO_EYE {
                view.settle(bench, *likelihood);
            }
        }
        self.views.retain(|view| view.share >= NO_EYE);
        let kept: f64 = self.views.iter().map(|view| view.share).sum();
        for view in &mut self.views {
            view.share /= kept;
        }
        true
    }
}
