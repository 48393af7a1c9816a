//! Where the arbors of a movement lie, and what stands on its plates: as it is known, put where it is said to be, and taken away again.

use crate::sized::{size_of_places, size_places};
use crate::{BeingCounted, being_counted, centres};
use draw::assumed::TOUCH_OFF;
use draw::{Layout, Mm, OnPlate, Unreached, View, layout, unreached};
use entries::Log;
use kinds::{DescribeFault, Described};
use movement::{ArborId, Fixing, FixtureKind, MeshId, Movement, PlatePoint};
use quantity::{Exact, parse_number, to_f64};
use sheet::edit::{EditFault, SheetText, SheetValue, TableAt};
use sheet::{Faults, SheetTable};

/// Nothing of a movement lies so far from where its places are told from, in millimetres: as on a sheet ([`sheet::keys`]).
pub(crate) const FARTHEST: f64 = 2000.0;

/// What has a place on the plate.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Placeable {
    /// An arbor, by its id.
    Arbor(String),
    /// A pillar, by its id.
    Pillar(String),
    /// A winding square or a bell, by its id.
    Fixture(String),
}

impl Placeable {
    /// As it is sent: its sort and its id, a point between them.
    pub fn word(&self) -> String {
        match self {
            Placeable::Arbor(id) => format!("arbor.{id}"),
            Placeable::Pillar(id) => format!("pillar.{id}"),
            Placeable::Fixture(id) => format!("fixture.{id}"),
        }
    }

    /// What was sent as that.
    pub fn of_word(word: &str) -> Option<Placeable> {
        let (sort, id) = word.split_once('.')?;
        let id = id.to_owned();
        match sort {
            "arbor" => Some(Placeable::Arbor(id)),
            "pillar" => Some(Placeable::Pillar(id)),
            "fixture" => Some(Placeable::Fixture(id)),
            _ => None,
        }
    }

    /// Its id on the sheet.
    pub fn id(&self) -> &str {
        match self {
            Placeable::Arbor(id) | Placeable::Pillar(id) | Placeable::Fixture(id) => id,
        }
    }

    fn table(&self) -> TableAt {
        match self {
            Placeable::Arbor(id) => TableAt::Arbor(id.clone()),
            Placeable::Pillar(id) => TableAt::Named(SheetTable::Pillar, id.clone()),
            Placeable::Fixture(id) => TableAt::Named(SheetTable::Fixture, id.clone()),
        }
    }
}

/// What is to stand there besides.
#[derive(Debug, Clone, PartialEq)]
pub enum NewStanding {
    /// A pillar: what fixes the plate on it, and what a turn of its nut or screw gives, in millimetres.
    Pillar(Fixing, Option<Exact>),
    /// A winding square or a bell, and how wide it is, in millimetres.
    Fixture(FixtureKind, Option<Exact>),
}

/// One thing, and where it is.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedThing {
    /// What.
    pub what: Placeable,
    /// What kind of fixture, where it is one.
    pub kind: Option<FixtureKind>,
    /// What fixes the plate on it, where it is a pillar.
    pub fixing: Option<Fixing>,
    /// Whether the sheet says where it is.
    pub said: bool,
    /// Where it is said to be, or else is drawn.
    pub at: OnPlate,
}

/// What may not be true of places. It is told, and nothing is refused for it.
#[derive(Debug, Clone, PartialEq)]
pub enum PlaceRemark {
    /// Two arbors on one spot, which do not mesh.
    OneSpot([String; 2]),
    /// Two wheels in mesh that do not reach each other, or reach into each other.
    Unreached {
        /// The arbors of the driver and of the driven.
        arbors: [String; 2],
        /// How far apart they are said to be.
        is: Mm,
        /// How far apart they would be by their counts.
        fits: Mm,
    },
}

/// Why something is not put where it was to be.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PlaceFault {
    /// There is no such thing.
    #[error("no {0}")]
    NoSuch(String),
    /// It is off the plate, or off the picture that was touched.
    #[error("a place off the plate")]
    OffPlate,
    /// Two arbors whose wheels mesh would stand on one spot.
    #[error("{0} and {1} on one spot")]
    OneSpot(String, String),
    /// Too few centres were touched on a photograph to know its size.
    #[error("{0} centres touched")]
    TooFew(usize),
    /// What was touched on a photograph hangs by nothing that is placed.
    #[error("nothing touched has a place")]
    Adrift,
    /// The book has no such picture of this job.
    #[error("no such picture")]
    NoPicture,
}

/// A movement as it lies.
#[derive(Debug, Clone)]
pub struct Lying {
    /// It, with its counts as far as they are known.
    pub counted: BeingCounted,
    /// The distances of arbors that were measured.
    pub centres: Vec<(MeshId, Mm)>,
    /// How it is laid out.
    pub layout: Layout,
    /// All that may be placed: arbors from the great wheel up, then pillars, winding squares and bells.
    pub things: Vec<PlacedThing>,
    /// What may not be true of it.
    pub remarks: Vec<PlaceRemark>,
    /// From where places are told in the drawing: nought where the sheet says where anything is.
    origin: [f64; 2],
}

/// A point as the sheet has it.
pub(crate) fn on_plate(at: &PlatePoint) -> Option<OnPlate> {
    OnPlate::of(to_f64(&at.right), to_f64(&at.up))
}

/// A movement as it lies by its sheet, sized by the distances on it and in a log.
///
/// # Errors
/// Every fault of the sheet but missing counts.
pub fn lying(described: &Described, log: &Log) -> Result<Lying, Faults> {
    let counted = being_counted(described)?;
    let movement = &counted.movement;
    let centres = centres(movement, Some(log));
    let layout = layout(movement, &centres);
    let order = from_the_great_wheel_up(&counted);
    let frame = movement.frame();
    let fixed = !frame.pillars.is_empty() || !frame.fixtures.is_empty();
    let origin = match order.first() {
        Some(first) if !layout.is_placed() && !fixed => {
            let (right, down) = layout.centre(*first);
            [right.mm(), -down.mm()]
        }
        _ => [0.0, 0.0],
    };
    let mut things: Vec<PlacedThing> = Vec::new();
    for arbor in order {
        let of_it = movement.arbor(arbor);
        let (right, down) = layout.centre(arbor);
        let drawn = OnPlate::of(right.mm() - origin[0], -down.mm() - origin[1]);
        let said = of_it.at.as_ref().and_then(on_plate);
        if let Some(at) = said.or(drawn) {
            things.push(PlacedThing {
                what: Placeable::Arbor(of_it.id.clone()),
                kind: None,
                fixing: None,
                said: said.is_some(),
                at,
            });
        }
    }
    let pillars = frame.pillars.iter().filter_map(|pillar| {
        Some(PlacedThing {
            what: Placeable::Pillar(pillar.id.clone()),
            kind: None,
            fixing: Some(pillar.fixing),
            said: true,
            at: on_plate(&pillar.at)?,
        })
    });
    let fixtures = frame.fixtures.iter().filter_map(|fixture| {
        Some(PlacedThing {
            what: Placeable::Fixture(fixture.id.clone()),
            kind: Some(fixture.kind),
            fixing: None,
            said: true,
            at: on_plate(&fixture.at)?,
        })
    });
    things.extend(pillars.chain(fixtures));
    let remarks = remarks(movement, &centres, &things);
    Ok(Lying {
        centres,
        layout,
        things,
        remarks,
        origin,
        counted,
    })
}

fn from_the_great_wheel_up(counted: &BeingCounted) -> Vec<ArborId> {
    let mut order: Vec<ArborId> = Vec::new();
    let counted_first = counted.places.iter().map(|(part, _)| part.arbor);
    for arbor in counted_first.chain(counted.movement.arbors().map(|(id, _)| id)) {
        if !order.contains(&arbor) {
            order.push(arbor);
        }
    }
    order
}

fn apart(a: OnPlate, b: OnPlate) -> f64 {
    (a.right.mm() - b.right.mm()).hypot(a.up.mm() - b.up.mm())
}

fn is_arbor(thing: &&PlacedThing) -> bool {
    thing.said && matches!(thing.what, Placeable::Arbor(_))
}

fn remarks(
    movement: &Movement,
    centres: &[(MeshId, Mm)],
    things: &[PlacedThing],
) -> Vec<PlaceRemark> {
    let said: Vec<&PlacedThing> = things.iter().filter(is_arbor).collect();
    let mut remarks = Vec::new();
    for (n, one) in said.iter().enumerate() {
        for other in &said[n + 1..] {
            if apart(one.at, other.at) < TOUCH_OFF.value {
                let pair = [one, other].map(|thing| thing.what.id().to_owned());
                remarks.push(PlaceRemark::OneSpot(pair));
            }
        }
    }
    let named = |Unreached { mesh, is, fits }: Unreached| {
        let mesh = movement.mesh(mesh);
        let arbors = [mesh.driver, mesh.driven].map(|part| movement.arbor(part.arbor).id.clone());
        PlaceRemark::Unreached { arbors, is, fits }
    };
    remarks.extend(unreached(movement, centres).into_iter().map(named));
    remarks
}

impl Lying {
    /// The movement.
    pub fn movement(&self) -> &Movement {
        &self.counted.movement
    }

    /// One of its things.
    pub fn find(&self, what: &Placeable) -> Option<&PlacedThing> {
        self.things.iter().find(|thing| thing.what == *what)
    }

    /// Whether the sheet says where any arbor is.
    pub fn is_placed(&self) -> bool {
        self.layout.is_placed()
    }

    /// Whether its places are only about right: none was measured, or the sheet says so.
    pub fn is_about(&self) -> bool {
        !self.movement().frame().placed_measured
    }

    /// How many times larger its places, which are only about right, are by the distances that were measured between them; nothing
    /// where that is not known.
    pub fn sizes(&self) -> Option<f64> {
        size_of_places(self.movement(), &self.centres)
    }

    /// Brings its places to the distances that were measured between them.
    ///
    /// # Errors
    /// The sheet is not edited so.
    pub fn size(&self, described: &mut Described) -> Result<(), PlacingFault> {
        match self.sizes() {
            Some(by) => Ok(described.edit(|text| size_places(text, by))?),
            None => Ok(()),
        }
    }

    /// What fixes the plate on a pillar, and what a turn of its nut or screw gives, in millimetres.
    pub fn fixed(&self, what: &Placeable) -> Option<(Fixing, Option<&Exact>)> {
        let Placeable::Pillar(id) = what else {
            return None;
        };
        let mut pillars = self.movement().frame().pillars.iter();
        let pillar = pillars.find(|pillar| pillar.id == *id)?;
        Some((pillar.fixing, pillar.pitch_mm.as_ref()))
    }

    /// Says what fixes the plate on a pillar, and what a turn of its nut or screw gives, in millimetres.
    ///
    /// # Errors
    /// There is no such pillar.
    pub fn fix(
        &self,
        described: &mut Described,
        what: &Placeable,
        fixing: Fixing,
        pitch: Option<&Exact>,
    ) -> Result<(), PlacingFault> {
        if self.fixed(what).is_none() {
            return Err(PlaceFault::NoSuch(what.id().to_owned()).into());
        }
        Ok(described.edit(|text| set_fixing(text, &what.table(), fixing, pitch))?)
    }

    /// The place of a point of a drawing, in its user units.
    pub fn of_drawing(&self, view: View, at: [f64; 2]) -> Option<OnPlate> {
        let at = self.layout.on_plate(self.movement(), view, at);
        OnPlate::of(at.right.mm() - self.origin[0], at.up.mm() - self.origin[1])
    }

    /// Where a place is in a drawing, in its user units.
    pub fn in_drawing(&self, view: View, at: OnPlate) -> [f64; 2] {
        let moved = OnPlate::of(at.right.mm() + self.origin[0], at.up.mm() + self.origin[1]);
        let layout = &self.layout;
        layout.in_drawing(self.movement(), view, moved.unwrap_or(at))
    }

    /// Puts something where it is said to be. The first place tells where the others are told from: the arbor of the great wheel then
    /// stands where it is drawn. `by_eye` is a place that nobody measured, on a drawing that no measure sizes.
    ///
    /// # Errors
    /// It is not there, or cannot be there.
    pub fn put(
        &self,
        described: &mut Described,
        what: &Placeable,
        at: OnPlate,
        by_eye: bool,
    ) -> Result<(), PlacingFault> {
        self.may_stand(what, at)?;
        self.begin(described, Some(what), by_eye)?;
        Ok(set_place(described, what, at)?)
    }

    /// Whether something may stand there.
    fn may_stand(&self, what: &Placeable, at: OnPlate) -> Result<(), PlaceFault> {
        if self.find(what).is_none() {
            return Err(PlaceFault::NoSuch(what.id().to_owned()));
        }
        is_on_plate(at)?;
        let Placeable::Arbor(id) = what else {
            return Ok(());
        };
        let movement = self.movement();
        for (_, mesh) in movement.meshes() {
            let ends = [mesh.driver, mesh.driven].map(|part| movement.arbor(part.arbor).id.clone());
            let Some(side) = ends.iter().position(|end| end == id) else {
                continue;
            };
            let other = &ends[1 - side];
            let there = self.find(&Placeable::Arbor(other.clone()));
            if !mesh.internal
                && there.is_some_and(|there| there.said && apart(there.at, at) < TOUCH_OFF.value)
            {
                return Err(PlaceFault::OneSpot(id.clone(), other.clone()));
            }
        }
        Ok(())
    }

    /// Where nothing has a place yet, that from which places are told has one.
    fn begin(
        &self,
        described: &mut Described,
        what: Option<&Placeable>,
        by_eye: bool,
    ) -> Result<(), DescribeFault> {
        if self.is_placed() {
            return Ok(());
        }
        if let Some(first) = self
            .things
            .first()
            .filter(|first| Some(&first.what) != what)
        {
            set_place(described, &first.what, first.at)?;
        }
        if by_eye && self.centres.is_empty() {
            set_about(described, true)?;
        }
        Ok(())
    }

    /// Puts something further on the plate, and gives what it is.
    ///
    /// # Errors
    /// It cannot be there.
    pub fn stand(
        &self,
        described: &mut Described,
        new: &NewStanding,
        at: OnPlate,
    ) -> Result<Placeable, PlacingFault> {
        is_on_plate(at)?;
        self.begin(described, None, true)?;
        let stem = match new {
            NewStanding::Pillar(..) => "pillar",
            NewStanding::Fixture(FixtureKind::WindingSquare, _) => "square",
            NewStanding::Fixture(FixtureKind::Bell, _) => "bell",
        };
        let taken = |id: &str| self.things.iter().any(|thing| thing.what.id() == id);
        let mut ids = (1..).map(|n| format!("{stem}_{n}"));
        let id = ids.find(|id| !taken(id)).unwrap_or_default();
        let what = match new {
            NewStanding::Pillar(..) => Placeable::Pillar(id.clone()),
            NewStanding::Fixture(..) => Placeable::Fixture(id.clone()),
        };
        let place = written(at);
        described.edit(|text| {
            let table = text.add(what.table().sort(), &id)?;
            match new {
                NewStanding::Pillar(fixing, pitch) => {
                    text.set(&table, "at_mm", &place)?;
                    set_fixing(text, &table, *fixing, pitch.as_ref())?;
                }
                NewStanding::Fixture(kind, across) => {
                    let word = FixtureKind::ALL.iter().find(|(_, own)| own == kind);
                    let word = word.map_or("", |(word, _)| word);
                    text.set(&table, "kind", &SheetValue::Text(word.to_owned()))?;
                    text.set(&table, "at_mm", &place)?;
                    if let Some(across) = across {
                        text.set(&table, "across_mm", &SheetValue::Decimal(across.clone()))?;
                    }
                }
            }
            Ok(())
        })?;
        Ok(what)
    }

    /// Takes the place of an arbor away, or what stands on the plate altogether.
    ///
    /// # Errors
    /// It is not there.
    pub fn away(&self, described: &mut Described, what: &Placeable) -> Result<(), PlacingFault> {
        if self.find(what).is_none() {
            return Err(PlaceFault::NoSuch(what.id().to_owned()).into());
        }
        Ok(described.edit(|text| match what {
            Placeable::Arbor(_) => text.unset(&what.table(), "at_mm").map(drop),
            _ => text.take_away(&what.table()),
        })?)
    }
}

/// Why a place is not entered.
#[derive(Debug, thiserror::Error)]
pub enum PlacingFault {
    /// The place is wrong.
    #[error(transparent)]
    Place(#[from] PlaceFault),
    /// The sheet is not edited so.
    #[error(transparent)]
    Sheet(#[from] DescribeFault),
}

fn is_on_plate(at: OnPlate) -> Result<(), PlaceFault> {
    match [at.right, at.up].iter().all(|mm| mm.mm().abs() <= FARTHEST) {
        true => Ok(()),
        false => Err(PlaceFault::OffPlate),
    }
}

/// Writes what fixes the plate on a pillar; a pin has no turns.
fn set_fixing(
    text: &mut SheetText,
    pillar: &TableAt,
    fixing: Fixing,
    pitch: Option<&Exact>,
) -> Result<(), EditFault> {
    let word = SheetValue::Text(fixing_word(fixing).to_owned());
    text.set(pillar, "fixing", &word)?;
    match pitch.filter(|_| fixing != Fixing::Pin) {
        Some(pitch) => text.set(pillar, "pitch_mm", &SheetValue::Decimal(pitch.clone())),
        None => text.unset(pillar, "pitch_mm").map(drop),
    }
}

/// The word of a sheet for what fixes a plate.
pub fn fixing_word(fixing: Fixing) -> &'static str {
    match fixing {
        Fixing::Nut => "nut",
        Fixing::Screw => "screw",
        Fixing::Pin => "pin",
    }
}

/// As a sheet has it: to a tenth of a millimetre, which is finer than a centre is touched.
fn written(at: OnPlate) -> SheetValue {
    let one = |mm: Mm| {
        let exact = parse_number(&format!("{:.1}", mm.mm() + 0.0));
        SheetValue::Decimal(exact.unwrap_or_default())
    };
    SheetValue::List(vec![one(at.right), one(at.up)])
}

pub(crate) fn set_place(
    described: &mut Described,
    what: &Placeable,
    at: OnPlate,
) -> Result<(), DescribeFault> {
    described.edit(|text| text.set(&what.table(), "at_mm", &written(at)))
}

/// Says that the places are only about right, or no longer.
pub(crate) fn set_about(described: &mut Described, about: bool) -> Result<(), DescribeFault> {
    let plates = TableAt::One(SheetTable::Plates);
    described.edit(|text| match about {
        true => text.set(&plates, "placed", &SheetValue::Text("about".to_owned())),
        false if text.get(&plates, "placed").is_some() => {
            text.set(&plates, "placed", &SheetValue::Text("measured".to_owned()))
        }
        false => Ok(()),
    })
}
