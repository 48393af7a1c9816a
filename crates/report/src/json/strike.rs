//! The strike run through its hours.

use super::{ByName, First, Version};
use crate::Locale;
use crate::page::struck as said;
use movement::{LeverId, Movement, PinId};
use num_traits::Zero;
use quantity::{Degrees, to_f64};
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Number;
use strike::{End, PlantedFault, StrikeEvent, Struck};

/// What `trundle strike` answers: the strike run through its whole cycle.
#[derive(Debug, Serialize, JsonSchema)]
pub struct StrikeAnswer {
    /// The version of this answer's form.
    strike: First,
    /// The version of the program that answers.
    trundle: Version,
    /// The name on the sheet.
    sheet: String,
    /// Every hour, half and quarter of the cycle that was reached.
    hours: Vec<Hour>,
    /// Blows struck in those hours.
    total: u32,
    /// Blows that the whole cycle owes.
    expected: u32,
    /// Blows that the hours that were reached owe.
    due: u32,
    /// Blows struck before the first hour, while it came to rest, or until it was given up where it did not.
    before: u32,
    /// Whether it came to rest at the start, so that the hours could begin.
    came_to_rest: bool,
    /// Whether every hour of the cycle was reached and every place is good.
    good: bool,
    /// What each bend that was put in does, a sentence each.
    bends: Vec<String>,
    /// How it ended.
    end: Ended,
    /// How it ended, in a sentence.
    why: String,
    /// What was seen last before it ended there; only where not every hour was run, null where it is not known.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<Event>")]
    last_good: Option<Option<Event>>,
    /// That more goes on than is kept, in a sentence; only where it does.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>")]
    cut_short: Option<Option<String>>,
    /// Every event in its order; only with --events.
    #[serde(skip_serializing_if = "Option::is_none")]
    events: Option<Vec<Event>>,
}

/// How a run ended.
#[derive(Debug, Serialize, JsonSchema)]
enum Ended {
    /// Everything stands as it stood at the start.
    #[serde(rename = "same place")]
    SamePlace,
    /// All hours were run, but something stands elsewhere.
    #[serde(rename = "another place")]
    AnotherPlace,
    /// Something does not get past something else.
    #[serde(rename = "jam")]
    Jam,
    /// A train runs on and nothing stops it.
    #[serde(rename = "runaway")]
    Runaway,
    /// So much goes on that it was left off.
    #[serde(rename = "left off")]
    LeftOff,
}

/// An hour, a half or a quarter.
#[derive(Debug, Serialize, JsonSchema)]
pub(crate) struct Hour {
    /// The hour on the dial, 1 to 12: for a half or a quarter the one before it.
    hour: u32,
    /// Whether it is the half.
    half: bool,
    /// The minute of the hour.
    minute: u32,
    /// Blows struck; hammers that are let go together are one blow.
    blows: u32,
    /// Blows that it owes.
    expected: u32,
    /// Blows struck before their time.
    early: u32,
    /// What sounded: each hammer of each blow.
    voices: u32,
    /// Whether every point that can be judged holds.
    right: bool,
    /// Which of the seven points of a good place were judged.
    judged: Vec<u8>,
    /// Those that do not hold.
    points: Vec<Point>,
    /// The warning run, in turns of the pin's arbor; null where it is not warned.
    warning_turns: Option<f64>,
    /// How the train locked; null where it did not run, or not stop.
    lock: Option<Lock>,
    /// The warning run of the chime; only where there is one that locked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<f64>")]
    chime_warning_turns: Option<Option<f64>>,
    /// How the chime locked; only where there is one that did.
    #[serde(skip_serializing_if = "Option::is_none")]
    chime_lock: Option<Lock>,
    /// Notes the chime gave; only where there is a chime.
    #[serde(skip_serializing_if = "Option::is_none")]
    notes: Option<u32>,
    /// Notes that it owes; only where there is a chime.
    #[serde(skip_serializing_if = "Option::is_none")]
    notes_expected: Option<u32>,
    /// How the rack fell; only where one did.
    #[serde(skip_serializing_if = "Option::is_none")]
    rack: Option<Rack>,
}

/// A point of a good place that does not hold: which, of what, by how much.
#[derive(Debug, Serialize, JsonSchema)]
struct Point {
    /// Its number, 1 to 7.
    point: u8,
    /// What does not hold.
    kind: Kind,
    /// The lever or pin it is of; null where it is of none.
    of: Option<String>,
    /// By how much, in `unit`; null where that says nothing.
    amount: Option<Number>,
    /// The unit of `amount`: of degrees and turns, those of the arbor of `of`.
    unit: Unit,
    /// The same in a sentence.
    says: String,
}

/// What does not hold.
#[derive(Debug, Serialize, JsonSchema)]
enum Kind {
    /// Another number of blows than is owed: so many were struck.
    #[serde(rename = "number")]
    Number,
    /// So many blows before their time.
    #[serde(rename = "early")]
    Early,
    /// Another number of notes than is owed: so many were given.
    #[serde(rename = "notes")]
    Notes,
    /// As the train locks a hammer does not lie on its stop, but so high.
    #[serde(rename = "held up")]
    HeldUp,
    /// A hammer begins to lift while the train is warned.
    #[serde(rename = "lifting")]
    Lifting,
    /// The warning run is too short or too long.
    #[serde(rename = "warning run")]
    WarningRun,
    /// It was let off without a warning: the arm stood so much too low.
    #[serde(rename = "unwarned")]
    Unwarned,
    /// As the train locks the lever is not right down: it fell that part of the way.
    #[serde(rename = "not down")]
    NotDown,
    /// The pin comes too soon after the lever began to fall.
    #[serde(rename = "lead")]
    Lead,
    /// While warned a locking arm is in the path of its pin.
    #[serde(rename = "in path")]
    InPath,
    /// While warned a locking arm stands over its pin.
    #[serde(rename = "over pin")]
    OverPin,
    /// The pallet is in the rack's teeth, and has so far to go.
    #[serde(rename = "pallet in")]
    PalletIn,
    /// As the train locks the hook is not right down, or teeth are left to gather.
    #[serde(rename = "hook up")]
    HookUp,
}

/// The unit of an amount.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Unit {
    /// Blows.
    Blows,
    /// Notes.
    Notes,
    /// Degrees.
    Deg,
    /// Turns.
    Turns,
    /// A part of the whole.
    Part,
    /// Teeth of the rack.
    Teeth,
}

/// How a train locked.
#[derive(Debug, Serialize, JsonSchema)]
struct Lock {
    /// The lever that locked it.
    by: String,
    /// The pin that it caught; null where a wall locks.
    pin: Option<String>,
    /// Degrees of the pin's arbor from the drop until the pin met the arm.
    lead_deg: Option<f64>,
    /// What that should be at least: what it goes while the lever falls.
    least_lead_deg: Option<f64>,
    /// How full the fall was: 1 to the bottom, 0 none.
    fall: Option<f64>,
    /// The same in a word: "full", "half", "none".
    fall_says: Option<&'static str>,
    /// Each tip of that lever arbor against the edges of its slot.
    margins: Vec<Gap>,
    /// How near a tip that should stay on its rim came to a slot; null where none should.
    rim: Option<Gap>,
    /// The hammers of that train.
    hammers: Vec<Hammer>,
}

/// How far a tip is from both edges of its slot.
#[derive(Debug, Serialize, JsonSchema)]
struct Gap {
    /// The lever.
    lever: String,
    /// The track.
    track: String,
    /// Degrees of the track since the edge it fell from.
    short_deg: f64,
    /// Degrees of the track until the edge that lifts it.
    ahead_deg: f64,
    /// The same as `short_deg` in teeth of its wheel; null where it has none.
    short_teeth: Option<f64>,
    /// The same as `ahead_deg` in teeth.
    ahead_teeth: Option<f64>,
    /// How far the nearer edge is, as a part of the room from edge to edge.
    part_of_room: f64,
}

/// A hammer as the train locks.
#[derive(Debug, Serialize, JsonSchema)]
struct Hammer {
    /// The hammer.
    lever: String,
    /// Whether it lies on its stop.
    at_rest: bool,
    /// Degrees of its wheel since it was let go.
    since_deg: f64,
    /// Degrees of its wheel until it is lifted again.
    until_deg: f64,
    /// The same in teeth; null where its wheel has none.
    until_teeth: Option<f64>,
}

/// How the rack fell.
#[derive(Debug, Serialize, JsonSchema)]
struct Rack {
    /// Teeth it fell.
    teeth: f64,
    /// Teeth less that would strike one less.
    short_teeth: f64,
    /// Teeth more that would strike one more.
    ahead_teeth: f64,
    /// Degrees of the snail since its last edge, as the rack fell.
    edge_short_deg: f64,
    /// Degrees of the snail until its next edge, as the strike began.
    edge_ahead_deg: f64,
}

/// An event, and where everything stands at it.
#[derive(Debug, Serialize, JsonSchema)]
struct Event {
    /// What is seen.
    what: What,
    /// The same in a sentence.
    says: String,
    /// When, as on a dial.
    at: String,
    /// Hours that the hand has gone since the start.
    hours: f64,
    /// For each arbor how far it stands ahead of its place at the drop of the last hour, in degrees of its own way of running.
    arbors_deg: ByName<f64>,
    /// For each lever arbor its height above where it comes to rest, in degrees of its own.
    levers_deg: Option<ByName<f64>>,
    /// Teeth of the rack that are left to gather; null where there is none.
    rack_teeth: Option<f64>,
}

/// What is seen.
#[derive(Debug, Serialize, JsonSchema)]
enum What {
    /// Everything is held at the drop of the last hour.
    #[serde(rename = "held")]
    Held,
    /// A lever begins to be lifted.
    #[serde(rename = "lifts")]
    Lifts,
    /// A train is let run.
    #[serde(rename = "runs")]
    Runs,
    /// An arm that was raised catches its pin.
    #[serde(rename = "warned")]
    Warned,
    /// A train is locked.
    #[serde(rename = "locked")]
    Locked,
    /// A tip leaves an edge, and its lever arbor falls.
    #[serde(rename = "falls")]
    Falls,
    /// A hammer is let go: a blow.
    #[serde(rename = "blow")]
    Blow,
    /// A further hammer is let go within the same blow.
    #[serde(rename = "voice")]
    Voice,
    /// The rack falls.
    #[serde(rename = "rack falls")]
    RackFalls,
    /// The pallet gathers.
    #[serde(rename = "gathers")]
    Gathers,
    /// Something does not get past something else.
    #[serde(rename = "jams")]
    Jams,
    /// A train runs on and nothing stops it.
    #[serde(rename = "runs on")]
    RunsOn,
    /// It was left off.
    #[serde(rename = "left off")]
    LeftOff,
    /// The last hour of the cycle is over.
    #[serde(rename = "over")]
    Over,
}

impl StrikeAnswer {
    /// The run: what each bend does, each hour, how it ended; every event, where they were watched and are asked for.
    pub fn of(
        movement: &Movement,
        put_in: &[PlantedFault],
        struck: &Struck,
        with_events: bool,
    ) -> StrikeAnswer {
        let locale = Locale::default();
        let event = |seen: &strike::Event| event(movement, seen);
        let last = || struck.last_good().map(|(seen, _)| event(seen));
        StrikeAnswer {
            strike: First,
            trundle: Version,
            sheet: movement.name().to_owned(),
            hours: struck.hours.iter().map(|h| hour(movement, h)).collect(),
            total: struck.total(),
            expected: struck.expected,
            due: struck.due(),
            before: struck.before,
            came_to_rest: struck.came_to_rest,
            good: struck.is_right(),
            bends: said::bends(&locale, movement, put_in),
            end: match struck.end {
                End::SamePlace => Ended::SamePlace,
                End::AnotherPlace => Ended::AnotherPlace,
                End::Jam(_) => Ended::Jam,
                End::Runaway { .. } => Ended::Runaway,
                End::LeftOff => Ended::LeftOff,
            },
            why: said::end(&locale, movement, struck),
            last_good: (!struck.is_whole()).then(last),
            cut_short: (struck.cut_short).then(|| said::cut_short(&locale, struck)),
            events: with_events.then(|| struck.events.iter().map(event).collect()),
        }
    }
}

fn hour(movement: &Movement, hour: &strike::Hour) -> Hour {
    let turns = |warned: &Option<strike::Warned>| warned.as_ref().map(|w| to_f64(&w.turns));
    let chimed = hour.chime_lock.as_ref();
    Hour {
        hour: hour.hour(),
        half: hour.minute() == 30,
        minute: hour.minute(),
        blows: hour.blows,
        expected: hour.expected,
        early: hour.early,
        voices: hour.voices,
        right: hour.is_right(),
        judged: strike::judged(hour),
        points: (strike::points(hour).iter())
            .map(|p| point(movement, p))
            .collect(),
        warning_turns: turns(&hour.warned),
        lock: hour.lock.as_ref().map(|l| lock(movement, l)),
        chime_warning_turns: chimed.map(|_| turns(&hour.chime_warned)),
        chime_lock: chimed.map(|l| lock(movement, l)),
        notes: hour.owed.map(|_| hour.notes),
        notes_expected: hour.owed,
        rack: hour.fallen.as_ref().map(rack),
    }
}

fn point(movement: &Movement, point: &strike::FailedPoint) -> Point {
    use strike::FailedPoint as P;
    let lever = |id: &LeverId| Some(said::lever_name(movement, *id));
    let pin = |id: &PinId| Some(said::pin_name(movement, *id));
    let many = |n: u32, unit| (Some(n.into()), unit);
    let measured = |x: f64, unit| (Number::from_f64(x), unit);
    let deg = |angle: &Degrees| measured(angle.to_f64(), Unit::Deg);
    let (kind, of, (amount, unit)) = match point {
        P::Number { blows, .. } => (Kind::Number, None, many(*blows, Unit::Blows)),
        P::Early { blows } => (Kind::Early, None, many(*blows, Unit::Blows)),
        P::Notes { notes, .. } => (Kind::Notes, None, many(*notes, Unit::Notes)),
        P::HeldUp { hammer, by } => (Kind::HeldUp, lever(hammer), deg(by)),
        P::Lifting { hammer, by } => (Kind::Lifting, lever(hammer), deg(by)),
        P::WarningRun { arm, turns } => {
            let turns = measured(to_f64(turns), Unit::Turns);
            (Kind::WarningRun, lever(arm), turns)
        }
        P::Unwarned { arm, short } => (Kind::Unwarned, lever(arm), deg(short)),
        P::NotDown { by, part } => {
            let part = measured(to_f64(part), Unit::Part);
            (Kind::NotDown, lever(by), part)
        }
        P::Lead { pin: id, lead, .. } => (Kind::Lead, pin(id), deg(lead)),
        P::InPath { arm, by } => (Kind::InPath, lever(arm), deg(by)),
        P::OverPin { arm } => (Kind::OverPin, lever(arm), (None, Unit::Deg)),
        P::PalletIn { pallet, to_go, .. } => (Kind::PalletIn, pin(pallet), deg(to_go)),
        P::HookUp { by, left } if left.is_zero() => (Kind::HookUp, None, deg(by)),
        P::HookUp { left, .. } => (Kind::HookUp, None, measured(to_f64(left), Unit::Teeth)),
    };
    Point {
        point: point.number(),
        kind,
        of,
        amount,
        unit,
        says: said::point(&Locale::default(), movement, point),
    }
}

fn lock(movement: &Movement, lock: &strike::Lock) -> Lock {
    let hammers = lock.hammers.iter();
    Lock {
        by: said::lever_name(movement, lock.by),
        pin: lock.pin.map(|pin| said::pin_name(movement, pin)),
        lead_deg: lock.lead.as_ref().map(Degrees::to_f64),
        least_lead_deg: (lock.least_lead.as_ref()).map(|least| least.degrees.to_f64()),
        fall: lock.fall.as_ref().map(to_f64),
        fall_says: lock.fall.as_ref().map(said::fullness),
        margins: lock.gaps.iter().map(|g| gap(movement, g)).collect(),
        rim: lock.rim.as_ref().map(|g| gap(movement, g)),
        hammers: hammers.map(|at| hammer(movement, at)).collect(),
    }
}

fn teeth(angle: &Degrees, tooth: Option<&Degrees>) -> Option<f64> {
    tooth.map(|tooth| to_f64(&(angle.exact() / tooth.exact())))
}

fn gap(movement: &Movement, gap: &strike::Gap) -> Gap {
    let tooth = gap.tooth.as_ref();
    Gap {
        lever: said::lever_name(movement, gap.lever),
        track: said::track_name(movement, gap.track),
        short_deg: gap.short.to_f64(),
        ahead_deg: gap.ahead.to_f64(),
        short_teeth: teeth(&gap.short, tooth),
        ahead_teeth: teeth(&gap.ahead, tooth),
        part_of_room: to_f64(&gap.nearer().1),
    }
}

fn hammer(movement: &Movement, hammer: &strike::AtRest) -> Hammer {
    Hammer {
        lever: said::lever_name(movement, hammer.lever),
        at_rest: hammer.at_rest,
        since_deg: hammer.since.to_f64(),
        until_deg: hammer.until.to_f64(),
        until_teeth: teeth(&hammer.until, hammer.tooth.as_ref()),
    }
}

fn rack(fallen: &strike::RackFall) -> Rack {
    Rack {
        teeth: to_f64(&fallen.teeth),
        short_teeth: to_f64(&fallen.short),
        ahead_teeth: to_f64(&fallen.ahead),
        edge_short_deg: fallen.edge_short.to_f64(),
        edge_ahead_deg: fallen.edge_ahead.to_f64(),
    }
}

/// What is seen, in a word.
pub(crate) fn what(seen: &StrikeEvent) -> String {
    let word = serde_json::to_value(What::of(seen)).unwrap_or_default();
    word.as_str().unwrap_or_default().to_owned()
}

impl What {
    fn of(seen: &StrikeEvent) -> What {
        match seen {
            StrikeEvent::Held => What::Held,
            StrikeEvent::Lifts(_) => What::Lifts,
            StrikeEvent::Runs(_) => What::Runs,
            StrikeEvent::Warned { .. } => What::Warned,
            StrikeEvent::Locked { .. } => What::Locked,
            StrikeEvent::Falls { .. } => What::Falls,
            StrikeEvent::Blow(_) => What::Blow,
            StrikeEvent::Voice(_) => What::Voice,
            StrikeEvent::RackFalls { .. } => What::RackFalls,
            StrikeEvent::Gathers { .. } => What::Gathers,
            StrikeEvent::Jams(_) => What::Jams,
            StrikeEvent::RunsOn(_) => What::RunsOn,
            StrikeEvent::LeftOff => What::LeftOff,
            StrikeEvent::Over => What::Over,
        }
    }
}

fn event(movement: &Movement, event: &strike::Event) -> Event {
    let pose = &event.pose;
    let arbors = movement.arbors().zip(&pose.arbors);
    let levers = movement.works().map(|works| {
        let named = works.lever_arbors().zip(&pose.levers);
        let named = named.map(|((_, name), at)| (name.to_owned(), at.to_f64()));
        named.collect()
    });
    Event {
        what: What::of(&event.seen),
        says: said::seen(&Locale::default(), movement, &event.seen),
        at: said::clock(&pose.hours),
        hours: to_f64(&pose.hours),
        arbors_deg: arbors
            .map(|((_, arbor), at)| (arbor.id.clone(), at.to_f64()))
            .collect(),
        levers_deg: levers,
        rack_teeth: pose.rack.as_ref().map(to_f64),
    }
}
