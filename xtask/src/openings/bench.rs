//! One movement on the bench: a player looks and shifts until it is timed, and what that took is written down.
//!
//! Looks are free. When a player calls it done the repairer trips the train, and where it does not lock the player is told
//! so and goes on. A player that looks or trips forever, or shifts forever without spreading plates, is stopped and counts
//! as one that used every opening it had.

use super::dice::Dice;
use super::eyes::{Eyes, Seen};
use super::hands::{Hands, Went};
use super::world::World;
use movement::{MeshId, WitnessId};

/// After so many openings a repairer puts the movement aside.
pub const MOST_OPENINGS: u32 = 30;
/// As many looks, or trips of the train in vain, as anyone makes before something is shifted.
pub const MOST_LOOKS: u32 = 40;
/// As many moves of any kind as a movement is worth.
const MOST_MOVES: u32 = 300;

/// What a player learns since its last move.
#[derive(Debug, Clone, PartialEq)]
pub enum Sight {
    /// A movement was put on the bench; whatever was known of another does not hold.
    Put,
    /// What was seen.
    Seen(Vec<Seen>),
    /// The shift was made, somehow, and the plates are closed.
    Shifted,
    /// It was called done, was tripped, and does not lock.
    NotInWindow,
}

/// What a player does.
#[derive(Debug, Clone, PartialEq)]
pub enum Move {
    /// Looks once at these.
    Look(Vec<WitnessId>),
    /// Shifts these meshes by so many teeth, the far side further ahead where positive, all in one opening.
    Shift(Vec<(MeshId, i64)>),
    /// Calls it done.
    Done,
    /// Closes it up finger-tight and trips it, without calling it done.
    Prove,
}

/// What a player says with a chance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum What {
    /// All is in window now.
    InNow,
    /// All will be in window after the shift it makes with this move.
    InAfter,
    /// The last shift of this mesh went so.
    Hand(MeshId, Went),
}

/// A player.
pub trait Player {
    /// The next move.
    fn play(&mut self, sight: &Sight) -> Move;

    /// What it says beside the move it just made, and with which chance.
    fn says(&mut self) -> Vec<(What, f64)> {
        Vec::new()
    }
}

/// Something said with a chance, and whether it was so.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Said {
    /// What.
    pub what: What,
    /// The chance it was said with.
    pub chance: f64,
    /// Whether it was so.
    pub so: bool,
}

/// What one movement took.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Record {
    /// Times the plates were spread to move a wheel that was in.
    pub openings: u32,
    /// Looks.
    pub looks: u32,
    /// Times it was called done and was not.
    pub false_dones: u32,
    /// Times it would be called done and not be, by the chances it was called done with.
    pub doubted: f64,
    /// Whether it was put aside unfinished; it then counts as [`MOST_OPENINGS`].
    pub put_aside: bool,
    /// What was said on the way.
    pub said: Vec<Said>,
}

/// A bench: the movement, and who works at it.
#[derive(Debug, Clone, Copy)]
pub struct Bench<'a> {
    /// The movement.
    pub world: &'a World,
    /// The hands.
    pub hands: Hands,
    /// The eyes.
    pub eyes: Eyes,
}

/// What hands and eyes throw.
#[derive(Debug, Clone)]
pub struct Throws {
    /// For the hands.
    pub hands: Dice,
    /// For the eyes.
    pub eyes: Dice,
}

impl Bench<'_> {
    /// Works on one movement until it is timed or put aside.
    pub fn work(&self, mut state: usize, player: &mut dyn Player, mut throws: Throws) -> Record {
        let mut record = Record::default();
        let mut sight = Sight::Put;
        let mut since_shift = 0;
        let mut last: Vec<(MeshId, Went)> = Vec::new();
        for _ in 0..MOST_MOVES {
            let made = player.play(&sight);
            let after = match &made {
                Move::Shift(shifts) => Some(self.shifted(state, shifts, &mut throws.hands)),
                Move::Look(_) | Move::Done | Move::Prove => None,
            };
            for (what, chance) in player.says() {
                if made == Move::Done && what == What::InNow {
                    record.doubted += 1.0 - chance;
                }
                let so = match what {
                    What::InNow => Some(self.world.in_window(state)),
                    What::InAfter => after
                        .as_ref()
                        .map(|(state, _)| self.world.in_window(*state)),
                    What::Hand(mesh, went) => last
                        .iter()
                        .find(|(m, _)| *m == mesh)
                        .map(|(_, true_one)| *true_one == went),
                };
                // What is said of no shift at all can be neither right nor wrong.
                if let Some(so) = so {
                    record.said.push(Said { what, chance, so });
                }
            }
            since_shift = if after.is_some() { 0 } else { since_shift };
            sight = match made {
                Move::Done | Move::Prove if self.world.in_window(state) => return record,
                Move::Look(_) | Move::Done | Move::Prove if since_shift == MOST_LOOKS => break,
                Move::Look(at) => {
                    since_shift += 1;
                    record.looks += 1;
                    Sight::Seen(self.eyes.look(self.world, state, &at, &mut throws.eyes))
                }
                Move::Shift(shifts) => {
                    let meshes = shifts.iter().filter_map(|(mesh, _)| self.world.find(*mesh));
                    if self.world.spreads_plates(meshes) {
                        if record.openings == MOST_OPENINGS {
                            break;
                        }
                        record.openings += 1;
                    }
                    (state, last) = after.unwrap_or_default();
                    Sight::Shifted
                }
                Move::Done | Move::Prove => {
                    since_shift += 1;
                    record.false_dones += u32::from(made == Move::Done);
                    Sight::NotInWindow
                }
            };
        }
        record.openings = MOST_OPENINGS;
        record.put_aside = true;
        record
    }

    /// Where a shift leads, and what became of each mesh of it.
    ///
    /// # Panics
    /// If a player shifts a mesh that moves no witness, or none.
    fn shifted(
        &self,
        from: usize,
        shifts: &[(MeshId, i64)],
        dice: &mut Dice,
    ) -> (usize, Vec<(MeshId, Went)>) {
        assert!(!shifts.is_empty(), "a shift of nothing");
        let mut state = from;
        let mut last = Vec::new();
        for &(id, teeth) in shifts {
            let mesh = self.world.find(id).expect("a mesh that moves a witness");
            let (went, done) = self.hands.turn(teeth, dice);
            state = self.world.moved(state, mesh, done);
            last.push((id, went));
        }
        (state, last)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::openings::dice::Purpose;
    use crate::openings::fleet;

    /// Makes the same moves over and over, and says the same things.
    struct Same(Vec<Move>, usize, Vec<(What, f64)>);

    impl Player for Same {
        fn play(&mut self, _: &Sight) -> Move {
            self.1 += 1;
            self.0[(self.1 - 1) % self.0.len()].clone()
        }
        fn says(&mut self) -> Vec<(What, f64)> {
            self.2.clone()
        }
    }

    fn worked(off: &[(usize, i64)], hands: Hands, moves: &[Move], says: &[(What, f64)]) -> Record {
        let fleets = fleet::all();
        let world = &fleets[0].world;
        let start = off.iter().fold(World::SOUND, |state, (mesh, t)| {
            world.moved(state, *mesh, *t)
        });
        let dice = |purpose| Dice::of(1, 1, purpose);
        let throws = Throws {
            hands: dice(Purpose::Hands),
            eyes: dice(Purpose::Eyes),
        };
        let bench = Bench {
            world,
            hands,
            eyes: Eyes {
                times: 1.0,
                at_rest: false,
            },
        };
        bench.work(start, &mut Same(moves.to_vec(), 0, says.to_vec()), throws)
    }

    fn mesh(index: usize) -> MeshId {
        fleet::all()[0].world.meshes[index].id
    }

    const SURE: Hands = Hands {
        wrong_way: 0.0,
        slip: 0.0,
    };
    const WRONG: Hands = Hands {
        wrong_way: 1.0,
        slip: 0.0,
    };

    #[test]
    fn undoing_what_was_wrong_takes_one_opening() {
        let moves = [Move::Shift(vec![(mesh(0), -3), (mesh(1), 2)]), Move::Done];
        let record = worked(&[(0, 3), (1, -2)], SURE, &moves, &[]);
        assert_eq!(
            (record.openings, record.false_dones, record.put_aside),
            (1, 0, false)
        );
    }

    #[test]
    fn what_is_called_done_and_is_not_is_told_and_counted() {
        let moves = [Move::Done, Move::Shift(vec![(mesh(1), 1)])];
        // The third arbor's wheel on the fourth's pinion of seven, two teeth short: done is called twice in vain.
        let record = worked(&[(1, -2)], SURE, &moves, &[]);
        assert_eq!(
            (record.openings, record.false_dones, record.put_aside),
            (2, 2, false)
        );
    }

    #[test]
    fn who_looks_on_or_opens_on_is_stopped() {
        let look = worked(&[(1, 3)], SURE, &[Move::Look(Vec::new())], &[]);
        assert_eq!(
            (look.openings, look.looks, look.put_aside),
            (MOST_OPENINGS, MOST_LOOKS, true)
        );
        let open = worked(&[(1, 3)], SURE, &[Move::Shift(vec![(mesh(0), 1)])], &[]);
        assert_eq!((open.openings, open.put_aside), (MOST_OPENINGS, true));
    }

    #[test]
    fn what_is_said_is_held_against_what_is_so() {
        let says = [
            (What::InNow, 0.2),
            (What::InAfter, 0.9),
            (What::Hand(mesh(1), Went::OtherWay), 0.7),
        ];
        let moves = [Move::Shift(vec![(mesh(1), 2)]), Move::Done];
        // Two teeth short and turned the other way is four short, and that again is six short, one ahead of a whole turn of
        // seven: never in. The tally of the first three moves is enough.
        let record = worked(&[(1, -2)], WRONG, &moves, &says);
        let so: Vec<(What, bool)> = record
            .said
            .iter()
            .take(5)
            .map(|said| (said.what, said.so))
            .collect();
        let hand = What::Hand(mesh(1), Went::OtherWay);
        // With the first move there is no shift yet of which to say how it went; with the second none to promise.
        assert_eq!(
            so,
            [
                (What::InNow, false),
                (What::InAfter, false),
                (What::InNow, false),
                (hand, true),
                (What::InNow, false)
            ]
        );
    }
}
