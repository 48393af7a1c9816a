//! What a row asks, and how this project's motion answers it.

use kinematics::{
    meeting, no_witness_beyond, per_blow, per_hour, per_winding, same_teeth_everywhere, speed, step,
};
use movement::{ArborId, MeshId, Movement, PartId, Plate, Turning, Witness, WitnessId};
use quantity::{Exact, whole};
use serde::Deserialize;

/// A question. Arbors, parts, meshes and witnesses are named as on the sheet.
#[derive(Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum Ask {
    /// Turns of one arbor in one turn of another.
    Turns { of: String, per: String },
    /// Turns of an arbor in an hour.
    PerHour(String),
    /// Hours in which an arbor turns once.
    Hours(String),
    /// Turns of an arbor in a winding.
    PerWinding(String),
    /// Beats in an hour: two for each tooth of this escape wheel.
    BeatsPerHour(String),
    /// Turns of an arbor at each blow.
    PerBlow(String),
    /// Blows in one turn of an arbor.
    BlowsPerTurn(String),
    /// Blows in one winding of an arbor.
    BlowsPerWinding(String),
    /// Turns of an arbor in so many blows.
    InBlows { blows: i64, of: String },
    /// Blows in twelve hours, which must be the sum of these.
    InTwelveHours(Vec<i64>),
    /// Teeth of a part that pass at each blow.
    TeethPerBlow(String),
    /// Alike places of a witness that pass at each blow.
    PlacesPerBlow(String),
    /// Where a witness is meant to stand, ahead positive.
    Place { of: String, told_in: In },
    /// The end of a witness's window, short of it or ahead.
    Window { of: String, end: End, told_in: In },
    /// How far one tooth at a mesh moves a witness, ahead positive.
    Step {
        at: String,
        moves: String,
        told_in: In,
    },
    /// Meshes whose shift moves no witness, in sheet order.
    Unmoving,
    /// Turns of a part of a mesh until the same two teeth meet again.
    Meeting { of: String, in_mesh: String },
    /// Turns of an arbor until its whole train stands as it did.
    AllMeet(String),
    /// Which of some arbors turn with another, and which against it.
    WaysRound { of: Vec<String>, to: String },
    /// Which way an arbor turns, as seen from a plate.
    Runs { of: String, from: Seen },
}

/// The unit in which a place is told.
#[derive(Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum In {
    /// Turns of this arbor, while the witness's own goes as far.
    Turns(String),
    /// Teeth of this part, which is on the witness's own arbor.
    Teeth(String),
    /// Pitches from one alike place of the witness to the next.
    Pitches,
}

#[derive(Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum End {
    Short,
    Ahead,
}

#[derive(Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Seen {
    Front,
    Back,
}

/// An answer.
pub(crate) enum Got {
    Number(Exact),
    Word(String),
}

impl Ask {
    /// The answer; nothing where the sheet does not allow one.
    pub(crate) fn of(&self, m: &Movement) -> Option<Got> {
        Some(Got::Number(match self {
            Ask::Turns { of, per } => speed(m, arbor(m, of), arbor(m, per))?,
            Ask::PerHour(of) => per_hour(m, arbor(m, of))?,
            Ask::Hours(of) => per_hour(m, arbor(m, of))?.recip(),
            Ask::PerWinding(of) => per_winding(m, arbor(m, of))?,
            Ask::BeatsPerHour(wheel) => {
                let wheel = part(m, wheel);
                per_hour(m, wheel.arbor)? * teeth(m, wheel) * whole(2)
            }
            Ask::PerBlow(of) => per_blow(m, arbor(m, of))?,
            Ask::BlowsPerTurn(of) => per_blow(m, arbor(m, of))?.recip(),
            Ask::BlowsPerWinding(of) => {
                let of = arbor(m, of);
                per_winding(m, of)? / per_blow(m, of)?
            }
            Ask::InBlows { blows, of } => per_blow(m, arbor(m, of))? * whole(*blows),
            Ask::InTwelveHours(struck) => {
                let blows = i64::from(m.strike()?.blows.in_twelve_hours());
                assert_eq!(blows, struck.iter().sum::<i64>(), "the blows add up");
                whole(blows)
            }
            Ask::TeethPerBlow(of) => {
                let of = part(m, of);
                per_blow(m, of.arbor)? * teeth(m, of)
            }
            Ask::PlacesPerBlow(of) => {
                let witness = m.witness(witness(m, of));
                per_blow(m, witness.on)? * repeats(witness)
            }
            Ask::Place { of, told_in } => {
                let witness = m.witness(witness(m, of));
                told_in.tell(m, witness, witness.best.exact() / whole(360))?
            }
            Ask::Window { of, end, told_in } => {
                let witness = m.witness(witness(m, of));
                let end = match end {
                    End::Short => &witness.from,
                    End::Ahead => &witness.to,
                };
                told_in.tell(m, witness, end.exact() / whole(360))?
            }
            Ask::Step { at, moves, told_in } => {
                let id = witness(m, moves);
                let moved = step(m, mesh(m, at), id)?;
                told_in.tell(m, m.witness(id), moved.exact() / whole(360))?
            }
            Ask::Meeting { of, in_mesh } => {
                let id = mesh(m, in_mesh);
                let met = meeting(m, id);
                let turns = if m.mesh(id).driver == part(m, of) {
                    met.driver_turns
                } else if m.mesh(id).driven == part(m, of) {
                    met.driven_turns
                } else {
                    return None;
                };
                Exact::from_integer(turns)
            }
            Ask::AllMeet(of) => Exact::from_integer(same_teeth_everywhere(m, arbor(m, of))),
            Ask::Unmoving | Ask::WaysRound { .. } | Ask::Runs { .. } => {
                return Some(Got::Word(self.word(m)));
            }
        }))
    }

    fn word(&self, m: &Movement) -> String {
        match self {
            Ask::WaysRound { of, to } => {
                let way = |name| m.runs(arbor(m, name), m.seen_from());
                let ways: Vec<&str> = of
                    .iter()
                    .map(|of| {
                        if way(of) == way(to) {
                            "with"
                        } else {
                            "against"
                        }
                    })
                    .collect();
                ways.join(", ")
            }
            Ask::Runs { of, from } => {
                let from = match from {
                    Seen::Front => Plate::Front,
                    Seen::Back => Plate::Back,
                };
                match m.runs(arbor(m, of), from) {
                    Turning::Clockwise => "clockwise",
                    Turning::Counterclockwise => "counterclockwise",
                }
                .to_owned()
            }
            _ => {
                let names: Vec<String> = no_witness_beyond(m)
                    .into_iter()
                    .map(|mesh| m.mesh_name(mesh))
                    .collect();
                names.join(", ")
            }
        }
    }
}

impl In {
    /// `turns` of the witness's own arbor, in this unit.
    fn tell(&self, m: &Movement, witness: &Witness, turns: Exact) -> Option<Exact> {
        Some(match self {
            In::Turns(of) => turns * speed(m, arbor(m, of), witness.on)?,
            In::Teeth(of) => {
                let of = part(m, of);
                (of.arbor == witness.on).then(|| turns * teeth(m, of))?
            }
            In::Pitches => turns * repeats(witness),
        })
    }
}

fn arbor(m: &Movement, name: &str) -> ArborId {
    m.find_arbor(name)
        .unwrap_or_else(|| panic!("no arbor {name}"))
}

fn part(m: &Movement, name: &str) -> PartId {
    m.find_part(name)
        .unwrap_or_else(|| panic!("no part {name}"))
}

fn mesh(m: &Movement, name: &str) -> MeshId {
    m.find_mesh(name)
        .unwrap_or_else(|| panic!("no mesh {name}"))
}

fn witness(m: &Movement, name: &str) -> WitnessId {
    m.find_witness(name)
        .unwrap_or_else(|| panic!("no witness {name}"))
}

fn teeth(m: &Movement, part: PartId) -> Exact {
    Exact::from_integer(m.part(part).teeth.get().into())
}

fn repeats(witness: &Witness) -> Exact {
    Exact::from_integer(witness.repeats.get().into())
}
