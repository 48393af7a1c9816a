//! Which boxes a page of sums has.

use super::MeasuredThing;
use super::MeasuredThing as M;
use super::UsualRange;
use movement::{ArborId, Movement};
use quantity::{Exact, parse_decimal};
use workshop::pendulum::escapement;

/// A page that asks for measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoxesFor {
    /// What drives each train.
    Power,
    /// Pendulum and rating.
    Pendulum,
    /// Counts that are missing.
    Counts,
    /// Where oil goes.
    Oil,
}

/// Where on the sheet what is typed goes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum BoxAt {
    /// An arbor, by its name.
    Arbor(String),
    /// A mesh, by its parts, `ARBOR.PART` each.
    Mesh {
        /// The driving part.
        driver: String,
        /// The driven part.
        driven: String,
    },
}

/// A box.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasureBox {
    /// Where it goes.
    pub at: BoxAt,
    /// What is measured.
    pub thing: MeasuredThing,
    /// Of which part, where it is one of several of its arbor.
    pub part: Option<String>,
    /// The key under which it goes there.
    pub key: String,
    /// What stands there now, in the unit of the key.
    pub stands: Option<Exact>,
    /// How surely that is known, in the same unit, where it is told.
    pub spread: Option<Exact>,
}

impl MeasureBox {
    /// Its name, once on a page.
    pub fn name(&self) -> String {
        match &self.at {
            BoxAt::Arbor(arbor) => format!("{arbor}.{}", self.key),
            BoxAt::Mesh { driver, driven } => format!("{driver}>{driven}.{}", self.key),
        }
    }

    /// The least and the most that is usual, in the unit of the key.
    pub fn usual(&self) -> Option<UsualRange> {
        let (least, most) = sheet::keys::find(self.thing.table(), &self.key)?.usual?;
        let exact = |x: f64| parse_decimal(&format!("{x}")).ok();
        Some(UsualRange {
            least: exact(least)?,
            most: exact(most)?,
        })
    }
}

/// What is said to drive an arbor of which nothing is measured yet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DriveChosen {
    /// A spring in a barrel.
    Barrel,
    /// An open spring.
    Open,
    /// A weight on a cord.
    Weight,
    /// A weight with a pulley.
    Pulley,
}

impl DriveChosen {
    /// Each, and its word.
    pub const ALL: [(&'static str, DriveChosen); 4] = [
        ("barrel", DriveChosen::Barrel),
        ("open", DriveChosen::Open),
        ("weight", DriveChosen::Weight),
        ("pulley", DriveChosen::Pulley),
    ];

    fn things(self) -> &'static [M] {
        match self {
            DriveChosen::Barrel => &[
                M::BarrelInside,
                M::BarrelHigh,
                M::SpringArbor,
                M::SpringWidth,
                M::SpringThick,
                M::SpringLong,
                M::WindingTurns,
            ],
            DriveChosen::Open => &[
                M::SpringArbor,
                M::SpringWidth,
                M::SpringThick,
                M::SpringLong,
                M::SpringOpens,
                M::WindingTurns,
            ],
            DriveChosen::Weight => &[M::Weight, M::Drum, M::Cord, M::Fall],
            DriveChosen::Pulley => &[M::Weight, M::Drum, M::DoubleCord, M::Fall],
        }
    }
}

/// An arbor that is wound, of which nothing tells what drives it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Undriven(pub String);

/// The boxes of a page; `chosen` tells what drives an arbor of which nothing is measured yet.
pub fn boxes(
    page: BoxesFor,
    movement: &Movement,
    chosen: &dyn Fn(&str) -> Option<DriveChosen>,
) -> Vec<MeasureBox> {
    match page {
        BoxesFor::Power => (wound(movement).into_iter())
            .filter_map(|id| {
                let name = &movement.arbor(id).id;
                Some((id, driven_by(movement, id).or_else(|| chosen(name))?))
            })
            .flat_map(|(id, drive)| of_arbor(movement, id, drive.things()))
            .collect(),
        BoxesFor::Pendulum => escapement(movement).map_or_else(Vec::new, |escape| {
            let things = [
                M::Pendulum,
                M::NutPitch,
                M::HalfArc,
                M::Bob,
                M::Suspension,
                M::SuspensionWide,
                M::SuspensionThick,
            ];
            of_arbor(movement, escape.arbor, &things)
        }),
        BoxesFor::Oil => (movement.arbors())
            .flat_map(|(id, _)| of_arbor(movement, id, &[M::Pivot, M::Hole]))
            .collect(),
        BoxesFor::Counts => counted(movement),
    }
}

/// Arbors that are wound and of which nothing tells what drives them, neither the sheet nor `chosen`.
pub fn undriven(
    movement: &Movement,
    chosen: &dyn Fn(&str) -> Option<DriveChosen>,
) -> Vec<Undriven> {
    let unknown = |id: &ArborId| {
        driven_by(movement, *id).is_none() && chosen(&movement.arbor(*id).id).is_none()
    };
    let wound = wound(movement).into_iter().filter(unknown);
    wound
        .map(|id| Undriven(movement.arbor(id).id.clone()))
        .collect()
}

/// Arbors that are wound, and others of which anything is measured that drives.
fn wound(movement: &Movement) -> Vec<ArborId> {
    let sources = way::sources(movement);
    let is_source = |id: &str| sources.iter().any(|source| source.arbor == id);
    (movement.arbors())
        .filter(|(id, arbor)| is_source(&arbor.id) || driven_by(movement, *id).is_some())
        .map(|(id, _)| id)
        .collect()
}

/// As what is measured on an arbor tells; nothing where nothing is.
fn driven_by(movement: &Movement, id: ArborId) -> Option<DriveChosen> {
    let arbor = movement.arbor(id);
    let has = |things: &[M]| (things.iter()).any(|thing| arbor.measured(thing.key()).is_some());
    if has(&[M::DoubleCord]) {
        Some(DriveChosen::Pulley)
    } else if has(&[M::Weight, M::Drum, M::Cord, M::Fall]) {
        Some(DriveChosen::Weight)
    } else if has(&[M::SpringOpens]) && !has(&[M::BarrelInside]) {
        Some(DriveChosen::Open)
    } else if has(&[
        M::BarrelInside,
        M::BarrelHigh,
        M::SpringArbor,
        M::SpringWidth,
        M::SpringThick,
        M::SpringLong,
    ]) {
        Some(DriveChosen::Barrel)
    } else {
        None
    }
}

fn of_arbor(movement: &Movement, id: ArborId, things: &[M]) -> Vec<MeasureBox> {
    let arbor = movement.arbor(id);
    let of_it = |thing: &M| MeasureBox {
        at: BoxAt::Arbor(arbor.id.clone()),
        thing: *thing,
        part: None,
        key: thing.key().to_owned(),
        stands: arbor.measured(thing.key()).cloned(),
        spread: arbor.spread(thing.key()).cloned(),
    };
    things.iter().map(of_it).collect()
}

/// Distances, and the size of each wheel over its teeth.
fn counted(movement: &Movement) -> Vec<MeasureBox> {
    let mut boxes = Vec::new();
    for (_, mesh) in movement.meshes() {
        for thing in [M::Centres, M::Lash] {
            boxes.push(MeasureBox {
                at: BoxAt::Mesh {
                    driver: movement.part_name(mesh.driver),
                    driven: movement.part_name(mesh.driven),
                },
                thing,
                part: None,
                key: thing.key().to_owned(),
                stands: match thing {
                    M::Lash => mesh.lash_teeth.clone(),
                    _ => mesh.measured(thing.key()).cloned(),
                },
                spread: mesh.spread(thing.key()).cloned(),
            });
        }
    }
    for (id, arbor) in movement.arbors() {
        for (_, part) in movement.parts(id) {
            let key = M::Outside.key().replace("PART", &part.name);
            boxes.push(MeasureBox {
                at: BoxAt::Arbor(arbor.id.clone()),
                thing: M::Outside,
                part: Some(part.name.clone()),
                stands: arbor.measured(&key).cloned(),
                spread: arbor.spread(&key).cloned(),
                key,
            });
        }
    }
    boxes
}
