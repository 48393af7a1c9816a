//! How surely it is known where each witness stands.
//!
//! A chance for each way the meshes can stand, and with it, for each witness, how far its lever or its own place is
//! likely to be off from what the sheet says. Looks narrow it, shifts move it, a wheel that jumped out spreads it.
//! The same steps give the same figures on every machine: nothing here but sums, and functions from `libm`.

use crate::chance::Target;
use crate::labour::Labour;
use crate::normal::{density, invert};
use crate::places::{Places, TooManyPlaces, wrapped};
use crate::priors::Priors;
use crate::reading::Reading;
use crate::slack::Play;
use kinematics::speed;
use movement::{ArborId, MeshId, Movement, WitnessId};
use quantity::{Chance, Degrees, to_f64};
use std::borrow::Cow;
use std::sync::OnceLock;

/// How the train was held during a look.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tension {
    /// Pressed on the way it runs, every mesh loaded.
    Tensioned,
    /// Loose: readings carry the lash.
    Slack,
}

/// What happened at one mesh of a shift.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Handling {
    /// Done as said.
    AsSaid,
    /// The other way.
    OtherWay,
    /// A tooth too far or too little.
    Slipped,
}

/// A movement with all its places, ready to believe things of.
#[derive(Debug, Clone)]
pub struct Bench<'a> {
    pub(crate) movement: &'a Movement,
    /// The train that is timed; all of them where none is named.
    train: Option<usize>,
    /// Its witnesses.
    timed: Vec<WitnessId>,
    pub(crate) places: Places,
    pub(crate) priors: Priors,
    /// For each witness: degrees it moves for one of `read_at`'s hold, 0 at other moments; and the hold itself.
    sway: Vec<f64>,
    hold: f64,
    play: Vec<Play>,
    labour: OnceLock<Labour>,
}

/// One way things may be: how the meshes stand, and how far each witness is then likely to be off from what the sheet
/// says, in degrees. Two histories that lead to one way of standing are kept apart as long as they differ in that.
#[derive(Debug, Clone)]
pub(crate) struct Guess {
    pub(crate) way: usize,
    pub(crate) chance: f64,
    pub(crate) off: Vec<f64>,
}

/// What may be, and how likely.
#[derive(Debug, Clone)]
pub struct Belief {
    /// In order of ways; their chances add up to 1.
    pub(crate) guesses: Vec<Guess>,
    /// How surely it is known how far witnesses are off, the same for every guess: a square table of one row for each witness.
    doubt: Vec<f64>,
    /// By how much levers were bent and parts turned, as far as that was told.
    bent: Vec<f64>,
    /// The spread that each witness was last read with.
    spreads: Vec<Option<f64>>,
    /// The logarithm of how well all that was seen fits.
    pub(crate) fit: f64,
}

/// Chances below this are nothing: what came to so little is not met again in a lifetime of looks.
const NOTHING: f64 = 1e-12;

/// Beside one guess for each way, so many more are kept, the likeliest: after a look or two hardly a dozen are left that matter.
const MOST_GUESSES: usize = 2000;

/// What was held for so unlikely and happened all the same shows that the readings were not what they were said to be.
const SURPRISING: f64 = 1e-6;

/// Two guesses of one way whose witnesses are off by amounts nearer than this, in degrees, are one guess.
const ALIKE_OFF: f64 = 1e-6;

/// Beyond this part of the way from place to place a reading's spread makes the next place alike count as well: at a
/// twentieth, the next is ten spreads off for a reading half way.
const ALONE: f64 = 0.05;

impl<'a> Bench<'a> {
    /// Makes ready to believe things of a movement.
    ///
    /// # Errors
    /// If its meshes can stand in more ways than can be kept apart.
    pub fn of(movement: &'a Movement, priors: Priors) -> Result<Bench<'a>, TooManyPlaces> {
        Bench::made(movement, None, priors)
    }

    /// Makes ready to believe things of one train of a movement, as if there were no other: what is seen and done at others
    /// is left out.
    ///
    /// # Errors
    /// If its meshes can stand in more ways than can be kept apart.
    pub fn of_train(
        movement: &'a Movement,
        train: usize,
        priors: Priors,
    ) -> Result<Bench<'a>, TooManyPlaces> {
        Bench::made(movement, Some(train), priors)
    }

    fn made(
        movement: &'a Movement,
        train: Option<usize>,
        priors: Priors,
    ) -> Result<Bench<'a>, TooManyPlaces> {
        let timed: Vec<WitnessId> = (movement.witnesses())
            .filter(|(_, witness)| train.is_none_or(|train| movement.train_of(witness.on) == train))
            .map(|(id, _)| id)
            .collect();
        let hold = movement
            .strike()
            .and_then(|strike| strike.hold.as_ref().map(Degrees::to_f64))
            .unwrap_or(priors.hold_deg);
        let sway = movement
            .witnesses()
            .map(|(_, witness)| {
                (movement.strike())
                    .filter(|_| movement.moment(witness.at).id == movement::DROP)
                    .and_then(|strike| speed(movement, witness.on, strike.read_at))
                    .map_or(0.0, |speed| to_f64(&speed))
            })
            .collect();
        let play = movement
            .witnesses()
            .map(|(id, _)| Play::of(movement, id))
            .collect();
        Ok(Bench {
            places: Places::of(movement, &timed)?,
            movement,
            train,
            timed,
            priors,
            sway,
            hold,
            play,
            labour: OnceLock::new(),
        })
    }

    fn witnesses(&self) -> usize {
        self.places.tracks.len()
    }

    /// Before anything is seen: a train put together by feel may stand any way, each as likely as the next.
    pub fn start(&self) -> Belief {
        self.start_doubting(None)
    }

    /// The same, with one witness of which nothing is known beforehand.
    pub(crate) fn start_doubting(&self, bent: Option<WitnessId>) -> Belief {
        let n = self.witnesses();
        let mut doubt = vec![0.0; n * n];
        for (id, witness) in self.movement.witnesses() {
            let half = 0.5 * witness.width().to_f64();
            let spread = if bent == Some(id) {
                // As wide as a normal spread can be and still favour one place: a quarter of the way to the next.
                0.25 * witness.period().to_f64()
            } else {
                self.priors.build * half
            };
            doubt[id.index() * n + id.index()] = spread * spread;
        }
        let count = self.places.count;
        Belief {
            guesses: (0..count)
                .map(|way| Guess {
                    way,
                    chance: 1.0 / count as f64,
                    off: vec![0.0; n],
                })
                .collect(),
            doubt,
            bent: vec![0.0; n],
            spreads: vec![None; n],
            fit: 0.0,
        }
    }

    /// Takes in one look: readings under one hold.
    ///
    /// # Formula
    /// What is read of witness w is its place, plus how far it is off, plus its speed times the hold, plus its own error: normal
    /// all of them, so the chance of each way is multiplied by a normal density with covariance
    /// `doubt + spread² + hold²·v·vᵀ`, summed over places alike; and the doubt shrinks as a Kalman filter's does.
    pub fn look(&self, belief: &mut Belief, readings: &[Reading], tension: Tension) {
        let n = self.witnesses();
        let many = readings.len();
        self.leave_open(belief);
        for r in readings {
            belief.spreads[r.witness.index()] = Some(r.spread.as_deg());
        }
        let slack = |r: &Reading| match tension {
            Tension::Tensioned => (0.0, 0.0),
            Tension::Slack => self.play[r.witness.index()].slack(),
        };
        let mut cover = vec![0.0; many * many];
        for (i, a) in readings.iter().enumerate() {
            let w = a.witness.index();
            for (j, b) in readings.iter().enumerate() {
                let v = b.witness.index();
                let held = self.hold * self.hold * self.sway[w] * self.sway[v];
                cover[i * many + j] = belief.doubt[w * n + v] + held;
            }
            cover[i * many + i] += a.spread.as_deg() * a.spread.as_deg() + slack(a).1;
        }
        let Some((inverse, root)) = invert(&cover, many) else {
            return;
        };
        let seen: Vec<(usize, f64, f64, bool)> = readings
            .iter()
            .enumerate()
            .map(|(i, r)| {
                let period = self.movement.witness(r.witness).period().to_f64();
                let at = r.stands.to_f64() - slack(r).0;
                let wide = cover[i * many + i].sqrt() > ALONE * period;
                (r.witness.index(), at, period, wide)
            })
            .collect();
        // How much of each witness's surprise goes into each witness's being off.
        let gain: Vec<f64> = (0..n)
            .flat_map(|w| (0..many).map(move |j| (w, j)))
            .map(|(w, j)| {
                (0..many)
                    .map(|i| {
                        belief.doubt[w * n + readings[i].witness.index()] * inverse[i * many + j]
                    })
                    .sum()
            })
            .collect();
        let norm = 1.0 / (libm::pow(2.0 * std::f64::consts::PI, 0.5 * many as f64) * root);
        let mut total = 0.0;
        let mut surprise = vec![0.0; many];
        for guess in &mut belief.guesses {
            for (i, (w, at, period, _)) in seen.iter().enumerate() {
                let place = self.places.place(guess.way, readings[i].witness);
                let apart = at - self.places.tracks[*w].at[place] - guess.off[*w];
                surprise[i] = apart - period * libm::round(apart / period);
            }
            guess.chance *= norm * density(&surprise, &inverse, &seen, 0);
            total += guess.chance;
            for w in 0..n {
                let more: f64 = (0..many).map(|j| gain[w * many + j] * surprise[j]).sum();
                guess.off[w] += more;
            }
        }
        let before = belief.doubt.clone();
        for w in 0..n {
            for v in 0..n {
                let less: f64 = (0..many)
                    .map(|j| gain[w * many + j] * before[readings[j].witness.index() * n + v])
                    .sum();
                belief.doubt[w * n + v] -= less;
            }
        }
        if total > 0.0 {
            belief.settle(total);
        } else {
            // Nothing fits at all, to the last figure: start again, and let the fit say so.
            *belief = self.start();
            belief.fit = f64::NEG_INFINITY;
        }
    }

    /// Leaves it open that something happened unnoticed: each way of standing gets its small share.
    fn leave_open(&self, belief: &mut Belief) {
        let unnoticed = self.priors.unnoticed.get();
        if unnoticed <= 0.0 {
            return;
        }
        for guess in &mut belief.guesses {
            guess.chance *= 1.0 - unnoticed;
        }
        let share = unnoticed / self.places.count as f64;
        belief
            .guesses
            .extend((0..self.places.count).map(|way| Guess {
                way,
                chance: share,
                off: belief.bent.clone(),
            }));
        belief.gather();
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
        let outcomes: Vec<(f64, i64)> = (self.priors.hands.outcomes(teeth).into_iter())
            .filter(|(_, _, handling)| known.is_none_or(|known| known == *handling))
            .map(|(chance, teeth, _)| (chance, teeth))
            .collect();
        let likely: f64 = outcomes.iter().map(|(chance, _)| chance).sum();
        if let Some(axle) = self.places.axle(mesh)
            && likely > 0.0
        {
            let cycle = self.places.axles[axle].cycle;
            let mut kernel = vec![0.0; cycle];
            for (chance, teeth) in outcomes {
                kernel[wrapped(teeth, cycle)] += chance / likely;
            }
            self.spread(belief, axle, &kernel);
        }
        likely
    }

    /// A mesh moved by so many teeth, and that is known.
    pub fn moved(&self, belief: &mut Belief, mesh: MeshId, teeth: i64) {
        if let Some(axle) = self.places.axle(mesh) {
            let cycle = self.places.axles[axle].cycle;
            let mut kernel = vec![0.0; cycle];
            kernel[wrapped(teeth, cycle)] = 1.0;
            self.spread(belief, axle, &kernel);
        }
    }

    /// An arbor jumped out, or was taken out and put back anyhow: its place at each of its meshes is lost.
    pub fn jumped(&self, belief: &mut Belief, arbor: ArborId) {
        for (a, axle) in self.places.axles.iter().enumerate() {
            let mesh = self.movement.mesh(axle.mesh);
            if [mesh.driver.arbor, mesh.driven.arbor].contains(&arbor) {
                let kernel = vec![1.0 / axle.cycle as f64; axle.cycle];
                self.spread(belief, a, &kernel);
            }
        }
    }

    /// A lever bent, or a part turned on its arbor: from now on the witness stands so much further ahead.
    pub fn bent(&self, belief: &mut Belief, witness: WitnessId, by: f64, spread: f64) {
        let n = self.witnesses();
        let w = witness.index();
        for guess in &mut belief.guesses {
            guess.off[w] += by;
        }
        belief.doubt[w * n + w] += spread * spread;
        belief.bent[w] += by;
    }

    /// It was tripped and did not lock: not everything is in its window.
    pub fn not_in_window(&self, belief: &mut Belief) {
        let in_window: Vec<f64> = (belief.guesses.iter())
            .map(|guess| self.in_window_at(belief, &guess.off, guess.way))
            .collect();
        let mut total = 0.0;
        for (guess, in_window) in belief.guesses.iter_mut().zip(in_window) {
            guess.chance *= 1.0 - in_window;
            total += guess.chance;
        }
        if total >= SURPRISING {
            belief.settle(total);
        } else {
            // It was held for done, and is not: something that was read was worse than it was said to be. Begin again.
            let fit = belief.fit;
            *belief = self.start();
            belief.fit = fit + libm::log(SURPRISING);
        }
    }

    /// Each guess goes on to ways further ahead at one axle, by the kernel's shares.
    fn spread(&self, belief: &mut Belief, axle: usize, kernel: &[f64]) {
        let mut next: Vec<Guess> = Vec::new();
        for guess in &belief.guesses {
            for (teeth, share) in kernel.iter().enumerate() {
                let chance = guess.chance * share;
                if chance >= NOTHING {
                    let teeth = i64::try_from(teeth).unwrap_or(0);
                    next.push(Guess {
                        way: self.places.ahead(guess.way, axle, teeth),
                        chance,
                        off: guess.off.clone(),
                    });
                }
            }
        }
        belief.guesses = next;
        belief.gather();
        let most = self.places.count + MOST_GUESSES;
        let next = &mut belief.guesses;
        if next.len() > most {
            next.sort_by(|a, b| b.chance.total_cmp(&a.chance).then(a.way.cmp(&b.way)));
            next.truncate(most);
            next.sort_by(|a, b| a.way.cmp(&b.way).then_with(|| order(&a.off, &b.off)));
            let kept: f64 = next.iter().map(|guess| guess.chance).sum();
            for guess in next {
                guess.chance /= kept;
            }
        }
    }

    /// The chance that everything is in its window when the meshes stand this way and witnesses are likely off by so much.
    pub(crate) fn in_window_at(&self, belief: &Belief, off: &[f64], way: usize) -> f64 {
        let n = self.witnesses();
        let all_there =
            belief.doubt.iter().all(|d| *d <= 0.0) && off.iter().all(|o| o.abs() <= 0.0);
        if all_there {
            return if self.places.all_admitted(way) {
                1.0
            } else {
                0.0
            };
        }
        (self.timed.iter())
            .map(|&id| {
                let w = id.index();
                let track = &self.places.tracks[w];
                let at = track.at[self.places.place(way, id)] + off[w];
                let doubt = belief.doubt[w * n + w];
                let target = Target {
                    from: track.from,
                    to: track.to,
                    period: track.period,
                    spread: doubt.max(0.0).sqrt().max(SHARP * (track.to - track.from)),
                    held: 0.0,
                    tied: false,
                };
                target.alone(at)
            })
            .product()
    }

    /// The chance that everything is in its window now.
    pub fn in_window(&self, belief: &Belief) -> Chance {
        Chance::of(
            (belief.guesses.iter())
                .map(|guess| guess.chance * self.in_window_at(belief, &guess.off, guess.way))
                .sum(),
        )
    }

    /// The chance of each way the meshes can stand, the offset at the last of them counting fastest.
    pub fn chances(&self, belief: &Belief) -> Vec<f64> {
        let mut chances = vec![0.0; self.places.count];
        for guess in &belief.guesses {
            chances[guess.way] += guess.chance;
        }
        chances
    }

    /// The chance of each place of a witness, where it is not nothing; the places in order from best onwards.
    pub fn places_of(&self, belief: &Belief, witness: WitnessId) -> Vec<(Degrees, Chance)> {
        let track = &self.places.tracks[witness.index()];
        let mut chances = vec![0.0; track.places.len()];
        for guess in &belief.guesses {
            chances[self.places.place(guess.way, witness)] += guess.chance;
        }
        (track.places.iter().cloned().zip(chances))
            .filter(|(_, chance)| *chance > 1e-12)
            .map(|(place, chance)| (place, Chance::of(chance)))
            .collect()
    }

    /// The labour from each way of standing, with levers bent as far as that was told.
    pub(crate) fn labour(&self, belief: &Belief) -> Cow<'_, Labour> {
        if belief.bent.iter().all(|by| by.abs() <= 0.0) {
            let plain = || Labour::of(self, &|way| self.places.all_admitted(way));
            return Cow::Borrowed(self.labour.get_or_init(plain));
        }
        let admitted = |way: usize| {
            (self.timed.iter()).all(|&id| {
                let w = id.index();
                let track = &self.places.tracks[w];
                let at = track.at[self.places.place(way, id)] + belief.bent[w];
                let above = (at - track.from).rem_euclid(track.period);
                above <= track.to - track.from
            })
        };
        Cow::Owned(Labour::of(self, &admitted))
    }

    /// Where a witness is to be expected by a guess, in degrees.
    pub(crate) fn expected_at(&self, guess: &Guess, witness: WitnessId) -> f64 {
        let w = witness.index();
        self.places.tracks[w].at[self.places.place(guess.way, witness)] + guess.off[w]
    }

    /// The spread that a witness was last read with; as usual where it was not read.
    pub(crate) fn usual_spread(&self, belief: &Belief, id: WitnessId) -> f64 {
        let usual = || to_f64(&crate::reading::default_spread(self.movement.witness(id)));
        belief.spreads[id.index()].unwrap_or_else(usual)
    }

    /// How a usual look at a witness spreads, all told, and its period; both in degrees.
    pub(crate) fn usual_look(&self, belief: &Belief, id: WitnessId) -> (f64, f64) {
        let (n, w) = (self.witnesses(), id.index());
        let witness = self.movement.witness(id);
        let own = self.usual_spread(belief, id);
        let held = self.hold * self.sway[w];
        let doubt = belief.doubt[w * n + w].max(0.0);
        (
            (own * own + held * held + doubt).sqrt(),
            witness.period().to_f64(),
        )
    }

    /// The witnesses that are timed.
    pub fn timed(&self) -> &[WitnessId] {
        &self.timed
    }

    /// Whether an arbor is of the train that is timed.
    pub(crate) fn is_of(&self, arbor: ArborId) -> bool {
        (self.train).is_none_or(|train| self.movement.train_of(arbor) == train)
    }

    /// How many ways the meshes can stand.
    pub fn ways(&self) -> usize {
        self.places.count
    }

    /// The movement this is of.
    pub fn movement(&self) -> &'a Movement {
        self.movement
    }

    /// What is held to be so beforehand.
    pub fn priors(&self) -> &Priors {
        &self.priors
    }
}

impl Belief {
    /// Histories that say the same are one guess.
    fn gather(&mut self) {
        self.guesses
            .sort_by(|a, b| a.way.cmp(&b.way).then_with(|| order(&a.off, &b.off)));
        self.guesses.dedup_by(|later, kept| {
            let same = later.way == kept.way
                && (later.off.iter().zip(&kept.off)).all(|(a, b)| (a - b).abs() < ALIKE_OFF);
            if same {
                kept.chance += later.chance;
            }
            same
        });
    }

    /// After chances were multiplied by what fits, they add up to 1 again, and what came to nothing is dropped.
    fn settle(&mut self, total: f64) {
        self.fit += libm::log(total);
        for guess in &mut self.guesses {
            guess.chance /= total;
        }
        self.guesses.retain(|guess| guess.chance >= NOTHING);
        let kept: f64 = self.guesses.iter().map(|guess| guess.chance).sum();
        for guess in &mut self.guesses {
            guess.chance /= kept;
        }
    }
}

/// One list before another, as words stand in a dictionary.
fn order(a: &[f64], b: &[f64]) -> std::cmp::Ordering {
    (a.iter().zip(b))
        .map(|(a, b)| a.total_cmp(b))
        .find(|order| order.is_ne())
        .unwrap_or(std::cmp::Ordering::Equal)
}

/// A doubt so small against the window that it is no doubt; keeps a quotient finite.
const SHARP: f64 = 1e-9;
