//! The fleets: a train each, and movements of it that are mis-meshed in one to three meshes.
//!
//! The sheets are invented. In each, one blow moves every witness by whole periods, as it must in a clock that strikes
//! on; the tests hold them to it.

use super::dice::{Dice, Purpose};
use super::eyes::Eyes;
use super::tool::{blank, logged};
use super::world::World;
use entries::EntryKind;
use movement::{FromWorks, Movement, WindowFromWorks, WitnessId, WorksFigure};
use quantity::{Degrees, Exact, whole};
use std::collections::BTreeMap;

/// One train.
#[derive(Debug, Clone)]
pub struct Fleet {
    /// Its sheet's file name.
    pub name: &'static str,
    /// Its number, which seeds its dice.
    pub number: u64,
    /// The movement as its sheet has it.
    pub movement: Movement,
    /// As it truly is.
    pub world: World,
    /// Its sheet.
    text: &'static str,
}

/// How windows that are known from usual proportions alone may lie off: which of the witnesses of a sheet, one after the other, lie
/// ahead and which back.
const AHEAD: [[bool; 2]; 4] = [[true, true], [false, false], [true, false], [false, true]];

/// So often each movement is read as it stood, each time otherwise.
const STOOD: usize = 12;

/// The most meshes that are mis-meshed at once.
const MOST_MIS_MESHED: usize = 3;

const SHEETS: [(&str, &str); 7] = [
    ("schoolroom", include_str!("../../fleets/schoolroom.toml")),
    ("tower", include_str!("../../fleets/tower.toml")),
    ("halfpast", include_str!("../../fleets/halfpast.toml")),
    ("parlour", include_str!("../../fleets/parlour.toml")),
    ("hall", include_str!("../../fleets/hall.toml")),
    ("bracket", include_str!("../../fleets/bracket.toml")),
    ("turret", include_str!("../../fleets/turret.toml")),
];

/// All fleets.
///
/// # Panics
/// If a sheet is not good, which the tests would tell.
pub fn all() -> Vec<Fleet> {
    (SHEETS.iter().zip(1..))
        .map(|((name, text), number)| {
            let movement = sheet::read(text.as_bytes()).expect("a good sheet").movement;
            let world = World::of(&movement).expect("a movement for the study");
            Fleet {
                name,
                number,
                movement,
                world,
                text,
            }
        })
        .collect()
}

impl Fleet {
    /// The movement as one knows it of whose works nothing was measured: every window off by such a part of half its width, with its
    /// best place, some ahead and some back; once for each way that may be.
    ///
    /// # Panics
    /// If the sheet is not good without its windows, which the tests would tell.
    pub fn as_usual(&self, off: f64) -> Vec<Movement> {
        let unwritten = (self.text.lines())
            .filter(|line| !line.starts_with("window_deg") && !line.starts_with("best_deg"));
        let text: String = unwritten.map(|line| format!("{line}\n")).collect();
        let bare = sheet::read(text.as_bytes()).expect("a good sheet").movement;
        let known = |ahead: [bool; 2]| {
            let windows = self
                .movement
                .witnesses()
                .enumerate()
                .map(|(w, (_, written))| {
                    let half = written.width().to_f64() / 2.0;
                    let by = if ahead[w % 2] { off } else { -off } * half;
                    let moved = |place: &Degrees| place + &thousandths(by);
                    WindowFromWorks {
                        from: moved(&written.from),
                        to: moved(&written.to),
                        best: moved(&written.best),
                        source: FromWorks {
                            limits: Some([None, None]),
                            fall_by: None,
                            spread: thousandths(strike::assumed::USUAL_WINDOW.value * half),
                            rests_on: vec![WorksFigure {
                                of: "works".to_owned(),
                                key: "slot_deg".to_owned(),
                            }],
                        },
                    }
                });
            bare.with_windows(windows.collect())
        };
        AHEAD.into_iter().map(known).collect()
    }

    /// Movements of which windows are known as is usual, after each was read once as it stood while it struck right: at rest, with usual
    /// eyes, in any of the ways that are in window. Where the sheet does not say what locks it cannot be read so.
    ///
    /// # Panics
    /// If what is read cannot be used, which the tests would tell.
    pub fn as_it_stood(&self, known: &[Movement]) -> Vec<Movement> {
        let world = &self.world;
        let sound: Vec<usize> = (0..world.states())
            .filter(|s| world.in_window(*s))
            .collect();
        let all: Vec<WitnessId> = world.witnesses.iter().map(|witness| witness.id).collect();
        let eyes = Eyes {
            times: 1.0,
            at_rest: true,
        };
        let read = |(movement, number): (&Movement, u64)| {
            let dice = &mut Dice::of(self.number, number, Purpose::Stood);
            let state = sound[dice.below(sound.len())];
            let seen = eyes.look(world, state, &all, dice);
            let readings = seen.iter().map(|seen| logged(world, movement, seen, true));
            let mut log = blank(movement);
            let stood = EntryKind::Stood {
                hours: None,
                readings: readings.collect(),
            };
            log.append(&stood, None).expect("an entry that reads back");
            let told = timing::stood_right(movement, &log, &timing::Priors::default());
            movement.with_stood(&told.expect("readings at rest").windows)
        };
        let times = (0..STOOD).flat_map(|_| known);
        times.zip(0..).map(read).collect()
    }

    /// The states of so many movements: of all distinct places out of window that one to three mis-meshed meshes lead to,
    /// each as likely.
    pub fn drawn(&self, movements: u64) -> Vec<usize> {
        let world = &self.world;
        let mut out: BTreeMap<&[usize], usize> = BTreeMap::new();
        for state in 0..world.states() {
            let wrong = (0..world.meshes.len())
                .filter(|m| world.offset(state, *m) != 0)
                .count();
            if (1..=MOST_MIS_MESHED).contains(&wrong) && !world.in_window(state) {
                out.entry(world.places(state)).or_insert(state);
            }
        }
        let out: Vec<usize> = out.into_values().collect();
        (0..movements)
            .map(|movement| out[Dice::of(self.number, movement, Purpose::Fleet).below(out.len())])
            .collect()
    }
}

/// To the thousandth.
fn thousandths(degrees: f64) -> Degrees {
    let told = Exact::from_float((1000.0 * degrees).round()).expect("a number");
    Degrees::deg(told / whole(1000))
}

#[cfg(test)]
mod tests {
    use super::*;
    use kinematics::{per_blow, step};

    #[test]
    fn a_blow_is_whole_periods_of_every_witness() {
        for fleet in all() {
            for (_, witness) in fleet.movement.witnesses() {
                let moved = per_blow(&fleet.movement, witness.on).expect("in the strike train");
                let periods = moved * whole(witness.repeats.get().into());
                assert!(
                    periods.is_integer(),
                    "{}: {}: {periods}",
                    fleet.name,
                    witness.id
                );
            }
        }
    }

    #[test]
    fn the_sheets_are_good_and_warn_of_nothing() {
        for (name, text) in SHEETS {
            let sheet = sheet::read(text.as_bytes()).expect(name);
            assert!(sheet.warnings.is_empty(), "{name}: {:?}", sheet.warnings);
        }
    }

    #[test]
    fn the_house_works_out_the_same_steps() {
        for Fleet {
            name,
            movement,
            world,
            ..
        } in all()
        {
            for (id, _) in movement.meshes() {
                for (w, (witness, said)) in movement.witnesses().enumerate() {
                    let house = step(&movement, id, witness).expect("no loop");
                    let periods = house.exact() / said.period().exact();
                    match world.find(id) {
                        None => assert!(periods.is_integer(), "{name}: a mesh that moves nothing"),
                        Some(mesh) => {
                            assert!((world.meshes[mesh].step_deg[w] - house.to_f64()).abs() < 1e-9);
                            // One tooth from sound, and all the way round its cycle.
                            for teeth in 0..=world.meshes[mesh].cycle {
                                let teeth = i64::try_from(teeth).expect("few");
                                let state = world.moved(World::SOUND, mesh, teeth);
                                let ahead = (world.stands(state, w) - world.witnesses[w].best)
                                    / said.period().to_f64();
                                let meant = &periods * whole(teeth);
                                let meant = quantity::to_f64(&(&meant - meant.floor()));
                                assert!((ahead - meant).abs() < 1e-9, "{name}: {}", said.id);
                            }
                        }
                    }
                }
            }
        }
    }

    #[test]
    fn windows_are_the_sheets() {
        for Fleet {
            name,
            movement,
            world,
            ..
        } in all()
        {
            assert!(world.in_window(World::SOUND), "{name}");
            let all_in = |state: usize| {
                (movement.witnesses().enumerate()).all(|(w, (_, said))| {
                    let ahead = world.stands(state, w) - said.best.to_f64();
                    let ahead = Exact::from_float((ahead * 1e6).round()).expect("finite")
                        / whole(1_000_000);
                    said.admits(&(&said.best + &quantity::Degrees::deg(ahead)))
                })
            };
            let differ = (0..world.states())
                .filter(|s| all_in(*s) != world.in_window(*s))
                .count();
            assert_eq!(differ, 0, "{name}");
        }
    }

    #[test]
    fn what_nobody_measured_lies_off_by_as_much_as_is_said() {
        for fleet in all() {
            let known = fleet.as_usual(0.2);
            assert_eq!(known.len(), AHEAD.len());
            for (movement, ahead) in known.iter().zip(AHEAD) {
                let pairs = movement.witnesses().zip(fleet.movement.witnesses());
                for (w, ((id, is), (_, was))) in pairs.enumerate() {
                    let off = (&is.best - &was.best).to_f64() / (was.width().to_f64() / 2.0);
                    let meant = if ahead[w % 2] { 0.2 } else { -0.2 };
                    assert!((off - meant).abs() < 0.01, "{}: {off}", fleet.name);
                    assert!(movement.is_usual(id));
                    assert!((is.width().to_f64() - was.width().to_f64()).abs() < 1e-9);
                }
            }
        }
    }

    #[test]
    fn what_is_drawn_is_out_of_window_and_the_same_each_time() {
        for fleet in all() {
            let drawn = fleet.drawn(200);
            assert!(drawn.iter().all(|state| !fleet.world.in_window(*state)));
            assert_eq!(drawn, fleet.drawn(200));
        }
    }
}
