//! Where oil goes and where none: each place with its kind and how much, in the order in which a hand comes to it.
//!
//! All of it is common practice without a source. It knows no makers of oil: kinds are
//! told by duty and viscosity. Cleaning is not planned here.

use crate::assumed::{
    CLEAN_AGAIN, LOOK_AGAIN, ROUGH_ROOM, SIDE_SHAKE, SINK_FILLED, TOWER_CLEAN, TOWER_LOOK,
    TOWER_PIVOT,
};
use crate::pendulum::escape_wheel;
use movement::{Arbor, ArborId, Carrier, Movement, PartId, Reached, Shape, WitnessDrawing};
use quantity::{Assumed, Duration, Known, Length, Number, Tool, propagate, to_f64};
use std::f64::consts::PI;

/// What the movement is like.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum State {
    /// Cleaned, being put together.
    #[default]
    Clean,
    /// Going, and not opened; what oil there is is clear.
    Running,
    /// Old oil in it, green, brown or thick.
    Gummed,
}

/// Where the clock goes afterwards.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Surroundings {
    /// A room people live in.
    #[default]
    Lived,
    /// Dust, smoke, a fire.
    Dusty,
    /// A tower, a church: cold and damp.
    Cold,
}

/// A kind of lubricant, by its duty.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lubricant {
    /// Between coils, and where metal slides hard.
    Grease,
    /// Slow pivots under load.
    Thick,
    /// Pivots between.
    Middle,
    /// Fast pivots that bear little, and pallets.
    Thin,
}

impl Lubricant {
    /// How thick, in square millimetres a second at 40 °C; grease by that of its oil.
    pub fn viscosity(self) -> Known<Number> {
        let (value, spread) = match self {
            Lubricant::Grease => (300.0, 150.0),
            Lubricant::Thick => (150.0, 50.0),
            Lubricant::Middle => (80.0, 20.0),
            Lubricant::Thin => (40.0, 15.0),
        };
        Known::new(Number::plain(value), Number::plain(spread))
    }

    fn thicker(self) -> Lubricant {
        match self {
            Lubricant::Thin => Lubricant::Middle,
            Lubricant::Middle => Lubricant::Thick,
            other => other,
        }
    }
}

/// How much.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Much {
    /// A bead in each sink.
    Bead {
        /// How large the bead is across, on the oiler.
        across: Known<Length>,
        /// Whether the pivot was measured.
        measured: bool,
    },
    /// A film over all of it, wiped nearly off.
    Film,
    /// No more than up to such a bead, and only where a sink is nearly dry.
    TopUp {
        /// How large the bead is across, on the oiler.
        across: Known<Length>,
        /// Whether the pivot was measured.
        measured: bool,
    },
    /// Some drops, until it just shows beside the pivot: a tower clock's.
    Drops,
    /// As much as a dry oiler leaves.
    Trace,
}

/// When a hand comes to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum OilStage {
    /// Before anything goes between the plates.
    Before,
    /// While it goes together.
    Between,
    /// The plates closed: first the back plate's sinks, the first arbor of each train to the last, then the front's.
    Closed,
    /// Last, with the train at rest.
    Last,
}

/// A place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Where {
    /// The coils of a spring.
    Coils(ArborId),
    /// The arbor of a barrel in its holes, or of a great wheel in its plates.
    Barrel(ArborId),
    /// Click, click rivet and ratchet.
    Click(ArborId),
    /// A pulley's pin.
    Pulley(ArborId),
    /// The friction that lets the hands be set.
    Friction(ArborId),
    /// The posts of the levers.
    Levers,
    /// Both pivots of an arbor.
    Pivots(ArborId),
    /// The stud or pipe that a wheel outside the plates turns on.
    Stud(ArborId),
    /// The pivots of the hammers: so many of them.
    Hammers(usize),
    /// Where the crutch touches the pendulum.
    Crutch,
    /// The pallets, by way of the escape wheel's teeth.
    Pallets(PartId),
    /// Pins or cams that lift the hammer.
    Lifting(ArborId),
    /// Where levers rub: locking faces, the pins that unlock.
    Tips,
}

impl Where {
    /// The arbor it is at; nothing where it is at none, or at several.
    pub fn arbor(self) -> Option<ArborId> {
        match self {
            Where::Coils(arbor)
            | Where::Barrel(arbor)
            | Where::Click(arbor)
            | Where::Pulley(arbor)
            | Where::Friction(arbor)
            | Where::Pivots(arbor)
            | Where::Stud(arbor)
            | Where::Lifting(arbor) => Some(arbor),
            Where::Pallets(part) => Some(part.arbor),
            Where::Levers | Where::Hammers(_) | Where::Crutch | Where::Tips => None,
        }
    }
}

/// What stays dry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dry {
    /// All teeth, leaves and trundles: so many meshes.
    Teeth(usize),
    /// The suspension spring.
    Suspension,
    /// The fly on its arbor.
    Fly(ArborId),
    /// Rack, snail and their teeth.
    Rack,
    /// The count wheel's rim and slots.
    CountWheel(ArborId),
    /// Hammer, bell and gong.
    Bell,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// When.
    pub stage: OilStage,
    /// Where.
    pub place: Where,
    /// With what.
    pub kind: Lubricant,
    /// How much.
    pub much: Much,
    /// Whether the hole is said to be worn: it needs more than oil.
    pub worn: bool,
}

/// A hole with so much side shake that it must be looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worn {
    /// Its arbor.
    pub arbor: ArborId,
    /// Side shake.
    pub shake: Known<Length>,
    /// The pivot.
    pub pivot: Known<Length>,
    /// The one as a part of the other.
    pub part: Known<Number>,
}

/// What to do, and when to come back.
#[derive(Debug, Clone, PartialEq)]
pub struct OilPlan {
    /// Whether it must be taken down and cleaned first: new oil on old does harm.
    pub clean_first: bool,
    /// What to do, in order.
    pub steps: Vec<Step>,
    /// What stays dry.
    pub dry: Vec<Dry>,
    /// Holes whose side shake asks for a look.
    pub shaky: Vec<Worn>,
    /// Whether it is a tower clock: its pivots, and what they take, are of another size.
    pub tower: bool,
    /// When to look.
    pub look: Known<Duration>,
    /// When to clean and oil again.
    pub again: Known<Duration>,
}

/// Plans the oil of a movement; `worn` are arbors whose holes are said to be worn.
pub fn plan(movement: &Movement, state: State, room: Surroundings, worn: &[ArborId]) -> OilPlan {
    let mut planner = Planner {
        movement,
        worn,
        tower: is_tower(movement, room),
        steps: Vec::new(),
    };
    for (id, arbor) in movement.arbors() {
        planner.wound(id, arbor);
    }
    planner.between();
    planner.pivots();
    planner.last();
    let (mut steps, tower) = (planner.steps, planner.tower);
    if state == State::Running {
        // What lies between the plates, or in the barrel, is not come to, and what is there already stays.
        steps.retain(|step| step.stage >= OilStage::Closed);
        for step in &mut steps {
            if let Much::Bead { across, measured } = step.much {
                step.much = Much::TopUp { across, measured };
            }
        }
    }
    steps.sort_by_key(|step| step.stage);
    let shaky = shaky(movement);
    let worn = !worn.is_empty() || !shaky.is_empty();
    let [look, again] = if tower {
        hurried([TOWER_LOOK, TOWER_CLEAN], if worn { 0.5 } else { 1.0 })
    } else {
        back(room, worn)
    };
    OilPlan {
        clean_first: state == State::Gummed,
        steps,
        dry: dry(movement),
        shaky,
        tower,
        look,
        again,
    }
}

/// Whether it is a tower clock: it has a pivot as thick as no house clock's, or it goes to a tower, and nothing on the sheet
/// is of a house clock.
fn is_tower(movement: &Movement, room: Surroundings) -> bool {
    let keys = |key: &'static str| movement.arbors().filter_map(move |(_, a)| a.measured(key));
    let thickest = keys("pivot_mm").map(to_f64).fold(0.0, f64::max);
    let small = thickest > 0.0
        || keys("spring_long_mm")
            .chain(keys("barrel_inside_mm"))
            .next()
            .is_some();
    thickest >= TOWER_PIVOT.value || (room == Surroundings::Cold && !small)
}

/// When to look at the oil, and when to clean and oil again: sooner in a rough room, and where holes are worn.
pub fn back(room: Surroundings, worn: bool) -> [Known<Duration>; 2] {
    let room = match room {
        Surroundings::Lived => 1.0,
        Surroundings::Dusty | Surroundings::Cold => ROUGH_ROOM.value,
    };
    hurried(
        [LOOK_AGAIN, CLEAN_AGAIN],
        room * if worn { 0.5 } else { 1.0 },
    )
}

/// Years, so much sooner.
fn hurried(years: [Assumed; 2], by: f64) -> [Known<Duration>; 2] {
    let days = |years: f64| Duration::days(365.25 * years * by);
    years.map(|row| Known::new(days(row.value), days(row.spread)))
}

/// The same of a movement, as far as it is known: for a room people live in, and its holes as they were measured.
pub fn back_for(movement: Option<&Movement>) -> [Known<Duration>; 2] {
    back(
        Surroundings::Lived,
        movement.is_some_and(|movement| !shaky(movement).is_empty()),
    )
}

/// What pivots and holes are measured with, where nothing else is said (common practice, no source).
const MICROMETER: Tool = Tool {
    least: 0.01,
    part: 0.0,
};

/// Holes that ask for a look: whether one is bushed is told by the arbor alone between the plates, and no figure does it.
fn shaky(movement: &Movement) -> Vec<Worn> {
    movement
        .arbors()
        .filter_map(|(id, arbor)| {
            let mm = |key: &str| arbor.known(key, Length::mm, MICROMETER);
            let (pivot, hole) = (mm("pivot_mm")?, mm("hole_mm")?);
            let shake: Known<Length> =
                propagate([hole.given(), pivot.given()], |[hole, pivot]| hole - pivot);
            let part: Known<Number> =
                propagate([shake.given(), pivot.given()], |[shake, pivot]| {
                    shake / pivot
                });
            (part.value.as_plain() >= SIDE_SHAKE.value).then_some(Worn {
                arbor: id,
                shake,
                pivot,
                part,
            })
        })
        .collect()
}

struct Planner<'a> {
    movement: &'a Movement,
    worn: &'a [ArborId],
    tower: bool,
    steps: Vec<Step>,
}

impl Planner<'_> {
    fn step(&mut self, stage: OilStage, place: Where, kind: Lubricant, much: Much) {
        let worn = match place {
            Where::Pivots(arbor) | Where::Barrel(arbor) => self.worn.contains(&arbor),
            _ => false,
        };
        let kind = if worn { kind.thicker() } else { kind };
        self.steps.push(Step {
            stage,
            place,
            kind,
            much,
            worn,
        });
    }

    /// Springs, barrels, clicks and drums.
    fn wound(&mut self, id: ArborId, arbor: &Arbor) {
        let has = |keys: &[&str]| keys.iter().any(|key| arbor.measured(key).is_some());
        let spring = has(&["spring_long_mm", "barrel_inside_mm", "spring_opens_mm"]);
        let weight = has(&["weight_g", "drum_mm"]);
        let first = !self.driven(id) && self.drives(id);
        if spring {
            self.step(
                OilStage::Before,
                Where::Coils(id),
                Lubricant::Grease,
                Much::Film,
            );
        }
        if has(&["barrel_inside_mm"]) {
            self.step(
                OilStage::Before,
                Where::Barrel(id),
                Lubricant::Thick,
                Much::Trace,
            );
        }
        if spring || weight || first {
            self.step(
                OilStage::Before,
                Where::Click(id),
                Lubricant::Grease,
                Much::Trace,
            );
        }
        if has(&["double_cord_mm"]) {
            self.step(
                OilStage::Before,
                Where::Pulley(id),
                Lubricant::Thick,
                Much::Trace,
            );
        }
    }

    /// What is hidden when the plates are closed.
    fn between(&mut self) {
        let minute_hand = self.movement.arbors().find(|(_, arbor)| {
            arbor
                .measured("turn_s")
                .is_some_and(|s| *s == quantity::whole(3600))
        });
        if let Some((id, _)) = minute_hand {
            self.step(
                OilStage::Between,
                Where::Friction(id),
                Lubricant::Grease,
                Much::Trace,
            );
        }
        if self.movement.strike().is_some() {
            self.step(
                OilStage::Between,
                Where::Levers,
                Lubricant::Middle,
                Much::Trace,
            );
            let hammers = hammers(self.movement).max(1);
            self.step(
                OilStage::Between,
                Where::Hammers(hammers),
                Lubricant::Middle,
                Much::Trace,
            );
        }
    }

    fn driven(&self, id: ArborId) -> bool {
        self.movement.meshes().any(|(_, m)| m.driven.arbor == id)
    }

    fn drives(&self, id: ArborId) -> bool {
        self.movement.meshes().any(|(_, m)| m.driver.arbor == id)
    }

    /// How many times faster an arbor turns than the first of its train, which is how many times less it bears.
    fn speed(&self, id: ArborId) -> f64 {
        let first = self
            .movement
            .arbors()
            .map(|(a, _)| a)
            .find(|a| self.movement.same_train(*a, id) && !self.driven(*a));
        first
            .and_then(|first| kinematics::speed(self.movement, id, first))
            .map_or(1.0, |speed| to_f64(&speed))
    }

    /// Pivots, the first arbor of each train to the last.
    fn pivots(&mut self) {
        let mut arbors: Vec<(usize, f64, ArborId)> = self
            .movement
            .arbors()
            .map(|(id, _)| (self.movement.train_of(id), self.speed(id), id))
            .collect();
        arbors.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        for (_, speed, id) in arbors {
            if outside(self.movement, id) {
                self.step(
                    OilStage::Last,
                    Where::Stud(id),
                    Lubricant::Middle,
                    Much::Trace,
                );
                continue;
            }
            // The first two arbors bear most, the last ones turn fastest.
            let (kind, usual) = if speed < 20.0 {
                (Lubricant::Thick, 2.2)
            } else if speed < 500.0 {
                (Lubricant::Middle, 1.2)
            } else {
                (Lubricant::Thin, 0.7)
            };
            if self.tower {
                // All of it bears more than any house clock's, and hangs in the cold.
                let kind = if kind == Lubricant::Thick {
                    Lubricant::Thick
                } else {
                    Lubricant::Middle
                };
                self.step(OilStage::Closed, Where::Pivots(id), kind, Much::Drops);
                continue;
            }
            let measured = self.movement.arbor(id).measured("pivot_mm").map(to_f64);
            let pivot = match measured {
                Some(mm) => Known::new(Length::mm(mm), Length::mm(0.01)),
                None => Known::within(Length::mm(usual), 0.4),
            };
            let much = Much::Bead {
                across: bead(pivot),
                measured: measured.is_some(),
            };
            self.step(OilStage::Closed, Where::Pivots(id), kind, much);
        }
    }

    fn last(&mut self) {
        if let Some(escape) = escape_wheel(self.movement) {
            self.step(
                OilStage::Last,
                Where::Pallets(escape),
                Lubricant::Thin,
                Much::Trace,
            );
            self.step(OilStage::Last, Where::Crutch, Lubricant::Thin, Much::Trace);
        }
        if self.movement.strike().is_none() {
            return;
        }
        for on in lifting(self.movement) {
            self.step(
                OilStage::Last,
                Where::Lifting(on),
                Lubricant::Grease,
                Much::Trace,
            );
        }
        self.step(OilStage::Last, Where::Tips, Lubricant::Thin, Much::Trace);
    }
}

/// The bead that a sink takes for a pivot: a third of a sink two and a half pivots across and half a pivot deep, so that oil
/// stands about the pivot and does not run (Lewis, Friction, Lubrication and the Lubricants in Horology, Chicago 1896,
/// sect. 46-47, asks for sinks deep and narrow; the measures are ours).
///
/// # Formula
/// A cap holds `π h (3a² + h²)/6`; a bead of the third of it is `(6V/π)^⅓` across.
pub fn bead(pivot: Known<Length>) -> Known<Length> {
    let third: Known<Number> = SINK_FILLED.with_spread();
    propagate([pivot.given(), third.given()], |[d, third]| {
        let (a, h) = (1.25 * d, 0.5 * d);
        let volume = third * PI * h * (3.0 * a * a + h * h) / 6.0;
        (6.0 * volume / PI).cbrt()
    })
}

/// Levers that strike, each an arbor of its own.
fn hammers(movement: &Movement) -> usize {
    let levers = movement
        .works()
        .into_iter()
        .flat_map(|works| works.levers());
    let strike = levers.filter(|(_, lever)| lever.bell().is_some());
    let mut on: Vec<_> = strike.map(|(_, lever)| lever.on).collect();
    on.sort_unstable();
    on.dedup();
    on.len()
}

/// Arbors that lift hammers: those that carry what a hammer's tail lies on, a chime's too, and the one whose witness tells.
fn lifting(movement: &Movement) -> Vec<ArborId> {
    let Some(works) = movement.works() else {
        return movement.lifting().into_iter().collect();
    };
    let carried =
        works
            .levers()
            .filter_map(|(_, lever)| match works.track(lever.hammered()?).carrier {
                Carrier::Arbor(on) => Some(on),
                Carrier::Hours(_) => None,
            });
    let mut all: Vec<ArborId> = carried.chain(movement.lifting()).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// Arbors of count wheels, of the hours and of the quarters.
fn count_wheels(movement: &Movement) -> Vec<ArborId> {
    let tracks = movement
        .works()
        .into_iter()
        .flat_map(|works| works.tracks());
    let counts = tracks.filter_map(|(_, track)| match (&track.shape, &track.carrier) {
        (Shape::Counts { .. }, Carrier::Arbor(on)) => Some(*on),
        _ => None,
    });
    let slots = movement
        .witnesses()
        .filter(|(_, w)| w.kind.looks == WitnessDrawing::Slots);
    let mut all: Vec<ArborId> = counts.chain(slots.map(|(_, w)| w.on)).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// Whether all that an arbor is driven by, and drives, sits outside the plates: it turns on a stud or a pipe, and has no pivots.
fn outside(movement: &Movement, id: ArborId) -> bool {
    let mut own = movement
        .meshes()
        .map(|(_, mesh)| mesh)
        .filter(|mesh| mesh.driver.arbor == id || mesh.driven.arbor == id)
        .peekable();
    own.peek().is_some() && own.all(|mesh| mesh.reached == Reached::Outside)
}

fn dry(movement: &Movement) -> Vec<Dry> {
    let mut dry = vec![Dry::Teeth(movement.meshes().len())];
    if escape_wheel(movement).is_some() {
        dry.push(Dry::Suspension);
    }
    if let Some(strike) = movement.strike() {
        let drives = |id| movement.meshes().any(|(_, m)| m.driver.arbor == id);
        let fly = movement
            .arbors()
            .map(|(id, _)| id)
            .filter(|id| movement.same_train(*id, strike.read_at) && !drives(*id))
            .max_by(|a, b| movement.turns(*a).cmp(movement.turns(*b)));
        dry.extend(fly.map(Dry::Fly));
        match strike.counted_by {
            movement::CountedBy::Rack => dry.push(Dry::Rack),
            movement::CountedBy::CountWheel => {}
        }
        dry.extend(count_wheels(movement).into_iter().map(Dry::CountWheel));
        dry.push(Dry::Bell);
    }
    dry
}
