//! The strike run through its hours, as JSON.

use crate::Words;
use crate::page::struck as said;
use movement::{LeverId, Movement, PinId};
use num_traits::Zero;
use quantity::{Degrees, Exact, to_f64};
use serde_json::{Value, json};
use strike::{AtRest, End, Event, Fallen, Gap, Hour, Lock, Point, PutIn, Seen, Struck};

/// The run: what each bend does, an object an hour, the sum of those and what they owe beside what the whole cycle does, how it ended; every event with where all stands, where they were watched.
pub fn strike_json(
    movement: &Movement,
    put_in: &[PutIn],
    struck: &Struck,
    with_events: bool,
) -> Value {
    let end = match struck.end {
        End::SamePlace => "same place",
        End::AnotherPlace => "another place",
        End::Jam(_) => "jam",
        End::Runaway { .. } => "runaway",
        End::LeftOff => "left off",
    };
    let mut object = json!({
        "strike": 1,
        "sheet": movement.name(),
        "hours": struck.hours.iter().map(|hour| hour_json(movement, hour)).collect::<Vec<_>>(),
        "total": struck.total(),
        "expected": struck.expected,
        "due": struck.due(),
        "before": struck.before,
        "came_to_rest": struck.came_to_rest,
        "good": struck.is_right(),
        "bends": said::bends(&Words::default(), movement, put_in),
        "end": end,
        "why": said::end(&Words::default(), movement, struck),
    });
    if !struck.is_whole() {
        let good = struck.last_good();
        object["last_good"] = good.map_or(Value::Null, |(event, _)| event_json(movement, event));
    }
    if struck.cut_short {
        object["cut_short"] = said::cut_short(&Words::default(), struck).into();
    }
    if with_events {
        let events = struck
            .events
            .iter()
            .map(|event| event_json(movement, event));
        object["events"] = events.collect();
    }
    object
}

fn hour_json(movement: &Movement, hour: &Hour) -> Value {
    let mut object = json!({
        "hour": hour.hour(),
        "half": hour.minute() == 30,
        "minute": hour.minute(),
        "blows": hour.blows,
        "expected": hour.expected,
        "early": hour.early,
        "voices": hour.voices,
        "right": hour.is_right(),
        "judged": strike::judged(hour),
        "points": strike::points(hour).iter().map(|point| point_json(movement, point)).collect::<Vec<_>>(),
        "warning_turns": hour.warned.as_ref().map(|warned| to_f64(&warned.turns)),
        "lock": hour.lock.as_ref().map(|lock| lock_json(movement, lock)),
    });
    if let Some(lock) = &hour.chime_lock {
        object["chime_warning_turns"] = hour
            .chime_warned
            .as_ref()
            .map(|warned| to_f64(&warned.turns))
            .into();
        object["chime_lock"] = lock_json(movement, lock);
    }
    if let Some(owed) = hour.owed {
        object["notes"] = hour.notes.into();
        object["notes_expected"] = owed.into();
    }
    if let Some(fallen) = &hour.fallen {
        object["rack"] = fallen_json(fallen);
    }
    object
}

/// A point that does not hold: which, of what, by how much of what unit.
fn point_json(movement: &Movement, point: &Point) -> Value {
    let lever = |id: &LeverId| Value::from(said::lever_name(movement, *id));
    let pin = |id: &PinId| Value::from(said::pin_name(movement, *id));
    let deg = |angle: &Degrees| (Value::from(angle.to_f64()), "deg");
    let (kind, of, (amount, unit)) = match point {
        Point::Number { blows, .. } => ("number", Value::Null, ((*blows).into(), "blows")),
        Point::Early { blows } => ("early", Value::Null, ((*blows).into(), "blows")),
        Point::Notes { notes, .. } => ("notes", Value::Null, ((*notes).into(), "notes")),
        Point::HeldUp { hammer, by } => ("held up", lever(hammer), deg(by)),
        Point::Lifting { hammer, by } => ("lifting", lever(hammer), deg(by)),
        Point::WarningRun { arm, turns } => {
            ("warning run", lever(arm), (to_f64(turns).into(), "turns"))
        }
        Point::Unwarned { arm, short } => ("unwarned", lever(arm), deg(short)),
        Point::NotDown { by, part } => ("not down", lever(by), (to_f64(part).into(), "part")),
        Point::Lead { pin: id, lead } => ("lead", pin(id), deg(lead)),
        Point::InPath { arm, by } => ("in path", lever(arm), deg(by)),
        Point::OverPin { arm } => ("over pin", lever(arm), (Value::Null, "deg")),
        Point::PalletIn { pallet, to_go, .. } => ("pallet in", pin(pallet), deg(to_go)),
        Point::HookUp { by, left } if left.is_zero() => ("hook up", Value::Null, deg(by)),
        Point::HookUp { left, .. } => ("hook up", Value::Null, (to_f64(left).into(), "teeth")),
    };
    json!({
        "point": point.number(),
        "kind": kind,
        "of": of,
        "amount": amount,
        "unit": unit,
        "says": said::point(&Words::default(), movement, point),
    })
}

fn lock_json(movement: &Movement, lock: &Lock) -> Value {
    let gaps: Vec<Value> = lock
        .gaps
        .iter()
        .map(|gap| gap_json(movement, gap))
        .collect();
    let hammers: Vec<Value> = (lock.hammers.iter())
        .map(|hammer| hammer_json(movement, hammer))
        .collect();
    json!({
        "by": said::lever_name(movement, lock.by),
        "pin": lock.pin.map(|pin| said::pin_name(movement, pin)),
        "lead_deg": lock.lead.as_ref().map(Degrees::to_f64),
        "fall": lock.fall.as_ref().map(to_f64),
        "fall_says": lock.fall.as_ref().map(said::fullness),
        "margins": gaps,
        "rim": lock.rim.as_ref().map(|gap| gap_json(movement, gap)),
        "hammers": hammers,
    })
}

fn teeth(angle: &Degrees, tooth: Option<&Degrees>) -> Option<f64> {
    tooth.map(|tooth| to_f64(&(angle.exact() / tooth.exact())))
}

fn gap_json(movement: &Movement, gap: &Gap) -> Value {
    let tooth = gap.tooth.as_ref();
    json!({
        "lever": said::lever_name(movement, gap.lever),
        "track": said::track_name(movement, gap.track),
        "short_deg": gap.short.to_f64(),
        "ahead_deg": gap.ahead.to_f64(),
        "short_teeth": teeth(&gap.short, tooth),
        "ahead_teeth": teeth(&gap.ahead, tooth),
        "part_of_room": to_f64(&gap.nearer().1),
    })
}

fn hammer_json(movement: &Movement, hammer: &AtRest) -> Value {
    let tooth = hammer.tooth.as_ref();
    json!({
        "lever": said::lever_name(movement, hammer.lever),
        "at_rest": hammer.at_rest,
        "since_deg": hammer.since.to_f64(),
        "until_deg": hammer.until.to_f64(),
        "until_teeth": teeth(&hammer.until, tooth),
    })
}

fn fallen_json(fallen: &Fallen) -> Value {
    json!({
        "teeth": to_f64(&fallen.teeth),
        "short_teeth": to_f64(&fallen.short),
        "ahead_teeth": to_f64(&fallen.ahead),
        "edge_short_deg": fallen.edge_short.to_f64(),
        "edge_ahead_deg": fallen.edge_ahead.to_f64(),
    })
}

fn event_json(movement: &Movement, event: &Event) -> Value {
    let what = match &event.seen {
        Seen::Held => "held",
        Seen::Lifts(_) => "lifts",
        Seen::Runs(_) => "runs",
        Seen::Warned { .. } => "warned",
        Seen::Locked { .. } => "locked",
        Seen::Falls { .. } => "falls",
        Seen::Blow(_) => "blow",
        Seen::Voice(_) => "voice",
        Seen::RackFalls { .. } => "rack falls",
        Seen::Gathers { .. } => "gathers",
        Seen::Jams(_) => "jams",
        Seen::RunsOn(_) => "runs on",
        Seen::LeftOff => "left off",
        Seen::Over => "over",
    };
    let arbors: serde_json::Map<String, Value> = (movement.arbors().zip(&event.pose.arbors))
        .map(|((_, arbor), at)| (arbor.id.clone(), at.to_f64().into()))
        .collect();
    let levers = movement.works().map(|works| {
        let named = works.lever_arbors().zip(&event.pose.levers);
        let named = named.map(|((_, name), at)| (name.to_owned(), at.to_f64().into()));
        named.collect::<serde_json::Map<String, Value>>()
    });
    let exact = |x: &Exact| to_f64(x);
    json!({
        "what": what,
        "says": said::seen(&Words::default(), movement, &event.seen),
        "at": said::clock(&event.pose.hours),
        "hours": exact(&event.pose.hours),
        "arbors_deg": arbors,
        "levers_deg": levers,
        "rack_teeth": event.pose.rack.as_ref().map(exact),
    })
}
