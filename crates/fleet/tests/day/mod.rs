//! A day at the bench, made up from a seed: what somebody with hands and eyes of their own saw and did, as a log. What is true is
//! kept by wheels turned tooth by tooth and told to nobody.

use fleet::{Dice, Wheels};
use movement::{ArborId, MeshId, Movement, WitnessId};
use quantity::to_f64;
use rand::RngExt;
use serde_json::{Value, json};

/// One day.
pub(crate) struct Day<'a> {
    movement: &'a Movement,
    dice: &'a mut Dice,
    wheels: Wheels<'a>,
    /// Meshes that move some witness, and how many teeth each truly stands from where it belongs.
    telling: Vec<(MeshId, i64)>,
    /// How far each witness is truly off.
    off: Vec<f64>,
    out: Vec<ArborId>,
    /// How many times as bad as said its readings are.
    eye: f64,
    /// How much of the window's width its readings are said to spread.
    sharp: f64,
    lines: Vec<Value>,
}

fn one<T: Copy>(of: &[T], dice: &mut Dice) -> T {
    of[dice.random_range(0..of.len())]
}

/// Nearly normal: twelve even numbers less their mean.
fn normal(dice: &mut Dice) -> f64 {
    (0..12).map(|_| dice.random_range(0.0..1.0)).sum::<f64>() - 6.0
}

impl<'a> Day<'a> {
    /// The entries of a day, oldest first; nothing where no mesh moves a witness.
    pub(crate) fn of(movement: &'a Movement, dice: &'a mut Dice) -> Option<Vec<Value>> {
        let as_it_stood = Wheels::of(movement);
        let telling: Vec<(MeshId, i64)> = (movement.meshes())
            .filter(|(mesh, _)| {
                let mut shifted = as_it_stood.clone();
                shifted.shift(*mesh, 1);
                (movement.witnesses()).any(|(w, _)| to_f64(shifted.ahead(w).exact()).abs() > 1e-9)
            })
            .map(|(mesh, _)| (mesh, 0))
            .collect();
        if telling.is_empty() {
            return None;
        }
        let off = (movement.witnesses())
            .map(|(_, w)| {
                let half = 0.5 * w.width().to_f64();
                let bent = dice.random_bool(0.04);
                half * (normal(dice) / 6.0 + if bent { normal(dice) } else { 0.0 })
            })
            .collect();
        let (eye, sharp) = (
            one(&[0.5, 1.0, 1.0, 1.5, 2.0, 3.0], dice),
            one(&[0.025, 0.05, 0.05, 0.1, 0.15], dice),
        );
        let mut day = Day {
            movement,
            dice,
            wheels: as_it_stood,
            telling,
            off,
            out: Vec::new(),
            eye,
            sharp,
            lines: Vec::new(),
        };
        if day.dice.random_bool(0.5) {
            for _ in 0..day.dice.random_range(1..=2) {
                let teeth = one(&[-3, -2, -1, 1, 2, 3], day.dice);
                let at = day.dice.random_range(0..day.telling.len());
                day.turn(at, teeth);
            }
        }
        for _ in 0..day.dice.random_range(1..=5) {
            day.something();
        }
        if day.dice.random_bool(0.8) {
            day.put_in();
            day.cure();
            if day.dice.random_bool(0.1) {
                day.take_out_what_is_not_read();
            }
            day.look(1.0, true);
            if day.dice.random_bool(0.4) {
                day.look(1.0, true);
            }
        }
        if day.dice.random_bool(0.1) {
            day.something();
        }
        Some(day.lines)
    }

    fn something(&mut self) {
        match self.dice.random_range(0..14) {
            0..=3 => self.look(1.0, true),
            4 => self.look(0.6, true),
            5 => self.look(0.8, false),
            6 | 7 => self.cure(),
            8 => {
                let at = self.dice.random_range(0..self.telling.len());
                let teeth = one(&[-2, -1, 1, 2], self.dice);
                self.shift(&[(at, teeth)]);
            }
            9 => {
                let at = self.dice.random_range(0..self.telling.len());
                let teeth = one(&[-1, 1], self.dice);
                self.turn(at, teeth);
                let mesh = self.movement.mesh_name(self.telling[at].0);
                self.tell(json!({ "kind": "slipped", "mesh": mesh, "teeth": teeth }));
            }
            10 => {
                let arbor = self.some_arbor();
                self.lose(arbor);
                self.tell_of(arbor, "jumped");
            }
            11 => {
                let arbor = self.some_arbor();
                if !self.out.contains(&arbor) {
                    self.out.push(arbor);
                    self.tell_of(arbor, "arbor_out");
                }
                if self.dice.random_bool(0.5) {
                    self.put_in();
                }
            }
            12 => self.bend(),
            _ => {
                if !self.lines.is_empty() && self.dice.random_bool(0.5) {
                    // What is taken back happened all the same: only the paper changes, as after a wrong touch. Only looks are,
                    // since a log must go on as if the rest had not been.
                    let looks: Vec<usize> = (self.lines.iter().zip(1..))
                        .filter(|(line, _)| line["kind"] == "look")
                        .map(|(_, n)| n)
                        .collect();
                    if let Some(&of) = looks.last() {
                        self.tell(json!({ "kind": "undo", "of": of }));
                    }
                }
            }
        }
    }

    fn tell(&mut self, line: Value) {
        self.lines.push(line);
    }

    fn tell_of(&mut self, arbor: ArborId, kind: &str) {
        let id = &self.movement.arbor(arbor).id;
        self.tell(json!({ "kind": kind, "arbor": id }));
    }

    fn some_arbor(&mut self) -> ArborId {
        let all: Vec<ArborId> = self.movement.arbors().map(|(id, _)| id).collect();
        one(&all, self.dice)
    }

    fn turn(&mut self, at: usize, teeth: i64) {
        self.wheels.shift(self.telling[at].0, teeth);
        self.telling[at].1 += teeth;
    }

    /// An arbor comes to stand anyhow.
    fn lose(&mut self, arbor: ArborId) {
        for at in 0..self.telling.len() {
            let mesh = self.movement.mesh(self.telling[at].0);
            if [mesh.driver.arbor, mesh.driven.arbor].contains(&arbor) {
                let teeth = self.dice.random_range(-3..=3);
                self.turn(at, teeth);
            }
        }
    }

    /// An arbor that no witness needs is left out, so that all that can be read is read without it.
    fn take_out_what_is_not_read(&mut self) {
        let movement = self.movement;
        let read = |arbor: ArborId| {
            (movement.witnesses())
                .any(|(_, w)| w.on == arbor || movement.moment(w.at).arbor == arbor)
        };
        let bare: Vec<ArborId> = (movement.arbors())
            .map(|(id, _)| id)
            .filter(|arbor| !read(*arbor) && !self.out.contains(arbor))
            .collect();
        if !bare.is_empty() {
            let arbor = one(&bare, self.dice);
            self.out.push(arbor);
            self.tell_of(arbor, "arbor_out");
        }
    }

    fn put_in(&mut self) {
        for arbor in std::mem::take(&mut self.out) {
            self.lose(arbor);
            self.tell_of(arbor, "arbor_in");
        }
    }

    /// Everything is shifted back to where it belongs, by these hands.
    fn cure(&mut self) {
        let wrong: Vec<(usize, i64)> = (self.telling.iter().enumerate())
            .filter(|(_, (_, teeth))| *teeth != 0)
            .map(|(at, (_, teeth))| (at, -teeth))
            .collect();
        if !wrong.is_empty() && self.out.is_empty() {
            self.shift(&wrong);
        }
    }

    fn shift(&mut self, shifts: &[(usize, i64)]) {
        let meshes: Vec<Value> = (shifts.iter())
            .map(|(at, teeth)| {
                json!({ "mesh": self.movement.mesh_name(self.telling[*at].0), "teeth": teeth })
            })
            .collect();
        self.tell(match &meshes[..] {
            [one] => json!({ "kind": "shift", "mesh": one["mesh"], "teeth": one["teeth"] }),
            _ => json!({ "kind": "shift", "meshes": meshes }),
        });
        let n = self.lines.len();
        let wrong = self.dice.random_bool(0.1);
        for (at, teeth) in shifts {
            let slip = if self.dice.random_bool(0.03) {
                one(&[-1, 1], self.dice)
            } else {
                0
            };
            self.turn(*at, if wrong { -teeth } else { teeth + slip });
        }
        if wrong && self.dice.random_bool(0.3) {
            self.tell(json!({ "kind": "other_way", "of": n }));
        }
    }

    fn bend(&mut self) {
        let all: Vec<WitnessId> = self.movement.witnesses().map(|(id, _)| id).collect();
        let id = one(&all, self.dice);
        let witness = self.movement.witness(id);
        let half = 0.5 * witness.width().to_f64();
        let off = self.off[id.index()];
        let by = if off.abs() > 0.4 * half {
            -off
        } else {
            0.2 * half * normal(self.dice)
        };
        self.off[id.index()] += by * (1.0 + 0.1 * normal(self.dice));
        let mut line = json!({
            "kind": one(&["bent", "turned"], self.dice),
            "witness": witness.id,
            "deg": format!("{by:.3}"),
        });
        if self.dice.random_bool(0.5) {
            line["spread"] = json!(format!("{:.4}", (0.1 * by.abs()).max(0.001)));
        }
        self.tell(line);
    }

    /// A look at each witness that can be read, with so much chance.
    fn look(&mut self, each: f64, tensioned: bool) {
        let strike = self.movement.strike();
        let hold = strike
            .and_then(|s| s.hold.as_ref())
            .map_or(0.5, |hold| hold.to_f64());
        let held = self.eye * hold * normal(self.dice);
        let mut readings = Vec::new();
        for (id, witness) in self.movement.witnesses() {
            let moment = self.movement.moment(witness.at);
            let is_out = [witness.on, moment.arbor]
                .iter()
                .any(|arbor| self.out.contains(arbor));
            if is_out || !self.dice.random_bool(each) {
                continue;
            }
            let (period, width) = (witness.period().to_f64(), witness.width().to_f64());
            let spread = (self.sharp * width).min(0.2 * period).max(0.001);
            let sway = (strike.filter(|_| moment.id == movement::DROP))
                .and_then(|strike| kinematics::speed(self.movement, witness.on, strike.read_at))
                .map_or(0.0, |speed| to_f64(&speed));
            let ahead = to_f64(self.wheels.ahead(id).exact()) + self.off[id.index()];
            let at = ahead + held * sway + self.eye * spread * normal(self.dice);
            let at = witness.best.to_f64() + at - period * (at / period).round();
            let mut reading = json!({ "witness": witness.id, "deg": format!("{at:.3}") });
            let usual = 0.05 * width;
            if (spread - usual).abs() > 1e-9 || usual > 0.2 * period {
                reading["spread"] = json!(format!("{spread:.4}"));
            }
            readings.push(reading);
        }
        if !readings.is_empty() {
            let tension = if tensioned { "tensioned" } else { "slack" };
            self.tell(json!({ "kind": "look", "tension": tension, "readings": readings }));
        }
    }
}

/// The log of a day, after the line that it begins with.
pub(crate) fn log(head: &str, lines: &[Value]) -> String {
    let mut text = head.to_owned();
    for (n, line) in lines.iter().enumerate() {
        let mut line = line.clone();
        line["n"] = json!(n + 1);
        text += &format!("{line}\n");
    }
    text
}
