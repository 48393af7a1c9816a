//! The tool as a player: it is told what eyes saw, as surely as the repairer says he sees, and does what it advises.
//!
//! It keeps its belief as it goes. A log is written beside, as at the bench, and gone over after each look for what it makes
//! of the last shift, and for what the rule of closing up asks. A movement that was tripped and did not lock is told to the
//! belief alone: a log has no word for it. Where a lever or a part is to be looked at first, nothing is found: all that come
//! here are sound. It is looked at once, with another look at what it moves, and trusted from then on.

use super::bench::{Move, Player, Sight, What};
use super::eyes::{NOTCH_DEG, Seen, stated_spread};
use super::hands::Went;
use super::world::World;
use entries::{AtMesh, Decimal, EntryKind, Log, LogHeader, LoggedReading, LoggedSight};
use movement::{MeshId, Movement, WitnessId};
use quantity::Chance;
use timing::{
    Act, Advice, Belief, Bench, Eye, Newest, Reading, RuleFacts, Shown, Tension, read,
    read_at_rest, reading_as_said,
};

/// The player.
#[derive(Debug, Clone)]
pub struct Tool<'a> {
    world: &'a World,
    bench: Bench<'a>,
    /// What the last jobs showed of the eye, where a book is kept.
    book: Option<Vec<Shown>>,
    /// What this job has shown of it so far.
    shown: Option<Shown>,
    /// What is advised before anything was seen: the same for every movement of the sheet.
    first: Advice,
    belief: Belief,
    log: Log,
    /// What stands in the log.
    newest: Vec<(WitnessId, Newest)>,
    bent: Vec<(WitnessId, Chance)>,
    /// What was only inferred, at rest.
    inferred: Vec<WitnessId>,
    /// Whether levers and parts were looked at, and found sound.
    trusted: bool,
    /// Whether a shift stands in the log.
    shifted: bool,
    /// Whether it is told what was seen at rest.
    at_rest: bool,
    says: Vec<(What, f64)>,
}

impl<'a> Tool<'a> {
    /// At a bench for movements of one sheet; with a book, in which one job tells of the eye to the next, or each as the first.
    pub fn of(world: &'a World, bench: &Bench<'a>, book: bool) -> Tool<'a> {
        let bench = bench.clone();
        let belief = bench.start();
        let log = blank(bench.movement());
        let recalled = bench.recall(&log).expect("an empty log");
        let facts = bench.facts(&recalled, &timing::Order::default());
        let first = bench.advise(&belief, &facts, &all(world));
        Tool {
            world,
            bench,
            book: book.then(Vec::new),
            shown: None,
            first,
            belief,
            log,
            newest: facts.newest,
            bent: Vec::new(),
            inferred: Vec::new(),
            trusted: false,
            shifted: false,
            at_rest: false,
            says: Vec::new(),
        }
    }

    /// The same, told what was seen at rest.
    #[must_use]
    pub fn at_rest(mut self, at_rest: bool) -> Tool<'a> {
        self.at_rest = at_rest;
        self
    }

    fn look(&mut self, seen: &[Seen]) {
        let movement = self.bench.movement();
        let mut readings: Vec<Reading> = Vec::new();
        let mut written = Vec::new();
        for seen in seen {
            let logged = logged(self.world, movement, seen, self.at_rest);
            let said = reading_as_said(movement, &logged.seen).expect("no part is named");
            let read = match self.at_rest {
                true => read_at_rest(movement, self.bench.rest(), seen.witness, &said),
                false => read(movement, seen.witness, &said),
            };
            readings.push(read.expect("a spread that fits the witness"));
            written.push(logged);
        }
        let (tension, logged) = match self.at_rest {
            true => (Tension::AtRest, entries::LoggedTension::AtRest),
            false => (Tension::Tensioned, entries::LoggedTension::Tensioned),
        };
        self.bench.look(&mut self.belief, &readings, tension);
        self.write(&EntryKind::Look {
            tension: logged,
            readings: written,
        });
        let recalled = self.bench.recall(&self.log).expect("a log of this sheet");
        let facts = self.bench.facts(&recalled, &timing::Order::default());
        self.shown = Some(recalled.eye);
        (self.newest, self.bent) = (facts.newest, facts.bent);
        self.inferred = facts.inferred;
        if self.shifted {
            for handled in recalled.handled {
                let said = [
                    (Went::AsSaid, handled.as_said),
                    (Went::OtherWay, handled.other_way),
                    (Went::Slipped, handled.slipped),
                ];
                self.says.extend(
                    said.map(|(went, chance)| (What::Hand(handled.mesh, went), chance.get())),
                );
            }
        }
    }

    fn shift(&mut self, shifts: &[(MeshId, i64)]) {
        let movement = self.bench.movement();
        self.bench.shift(&mut self.belief, shifts, None);
        let at = shifts.iter().map(|(mesh, teeth)| AtMesh {
            mesh: movement.mesh_name(*mesh),
            teeth: i32::try_from(*teeth).expect("fewer teeth than a wheel has"),
        });
        self.write(&EntryKind::Shift(at.collect()));
        self.shifted = true;
        self.moved();
    }

    /// What the last job showed of the eye goes into the book, and the next begins with it.
    fn put_away(&mut self) {
        if let (Some(book), Some(shown)) = (&mut self.book, self.shown.take()) {
            book.push(shown);
            let last = book.len().saturating_sub(Eye::JOBS);
            self.bench.expect(Eye::after(&book[last..]));
        }
    }

    /// What was read before something moved tells no more.
    fn moved(&mut self) {
        for (_, newest) in &mut self.newest {
            *newest = Newest::Unread;
        }
    }

    /// What the rule of closing up asks.
    fn facts(&self) -> RuleFacts {
        RuleFacts {
            newest: self.newest.clone(),
            out: Vec::new(),
            bent: if self.trusted {
                Vec::new()
            } else {
                self.bent.clone()
            },
            in_window: self.bench.in_window(&self.belief),
            usual: (self.bench.timed().iter().copied())
                .filter(|id| self.bench.movement().is_usual(*id))
                .collect(),
            inferred: self.inferred.clone(),
        }
    }

    fn write(&mut self, kind: &EntryKind) {
        self.log
            .append(kind, None)
            .expect("an entry that reads back");
    }
}

impl Player for Tool<'_> {
    fn play(&mut self, sight: &Sight) -> Move {
        self.says.clear();
        match sight {
            Sight::Put => {
                self.put_away();
                (self.belief, self.log, self.shifted) =
                    (self.bench.start(), blank(self.bench.movement()), false);
                (self.bent, self.trusted) = (Vec::new(), false);
                self.moved();
            }
            Sight::Seen(seen) => self.look(seen),
            // The belief was moved when the shift was advised.
            Sight::Shifted => {}
            Sight::NotInWindow => self.bench.not_in_window(&mut self.belief),
        }
        let advice = match sight {
            Sight::Put => self.first.clone(),
            _ => (self.bench).advise(&self.belief, &self.facts(), &all(self.world)),
        };
        self.says.push((What::InNow, advice.in_window.get()));
        match advice.act {
            Act::Done => Move::Done,
            Act::Look(at) => Move::Look(at),
            Act::Shift(shifts) => {
                self.says.push((What::InAfter, advice.after.get()));
                let shifts: Vec<(MeshId, i64)> = shifts
                    .iter()
                    .map(|shift| (shift.mesh, shift.signed()))
                    .collect();
                self.shift(&shifts);
                Move::Shift(shifts)
            }
            Act::Part(at) => {
                self.trusted = true;
                Move::Look(at)
            }
            Act::Prove => Move::Prove,
            Act::NoMesh => unreachable!("a sound movement can be timed"),
            Act::PutIn(_) => unreachable!("no arbor is taken out"),
            Act::Turn(_) => unreachable!("nothing on it can be turned"),
        }
    }

    fn says(&mut self) -> Vec<(What, f64)> {
        self.says.clone()
    }
}

/// Tools at several benches, of which each has the next movement in turn.
#[derive(Debug, Clone)]
pub struct InTurn<'a> {
    tools: Vec<Tool<'a>>,
    now: usize,
}

impl<'a> InTurn<'a> {
    /// Of at least one.
    pub fn of(tools: Vec<Tool<'a>>) -> InTurn<'a> {
        InTurn { tools, now: 0 }
    }
}

impl Player for InTurn<'_> {
    fn play(&mut self, sight: &Sight) -> Move {
        if *sight == Sight::Put {
            self.now = (self.now + 1) % self.tools.len();
        }
        self.tools[self.now].play(sight)
    }

    fn says(&mut self) -> Vec<(What, f64)> {
        self.tools[self.now].says()
    }
}

/// What was seen, as it is written: as surely as the repairer says he sees it.
pub(super) fn logged(
    world: &World,
    movement: &Movement,
    seen: &Seen,
    at_rest: bool,
) -> LoggedReading {
    let of = &world.witnesses[seen.witness.index()];
    // Nobody reads finer than a thousandth of a degree.
    let decimal = |x: f64| Decimal::parse(&format!("{x:.3}")).expect("a plain decimal");
    let locks = world.locks == Some(seen.witness.index());
    LoggedReading {
        witness: movement.witness(seen.witness).id.clone(),
        seen: if at_rest && locks {
            LoggedSight::Notch {
                notch: decimal(-seen.deg / of.speed),
                spread: Some(decimal(NOTCH_DEG)),
            }
        } else {
            LoggedSight::Number {
                deg: decimal(seen.deg),
                spread: Some(decimal(stated_spread(of))),
            }
        },
    }
}

fn all(world: &World) -> Vec<WitnessId> {
    world.witnesses.iter().map(|witness| witness.id).collect()
}

/// A log of a movement in which nothing stands yet.
pub(super) fn blank(movement: &Movement) -> Log {
    Log::start(LogHeader {
        sheet: movement.name().to_owned(),
        hash: "0".to_owned(),
    })
}
