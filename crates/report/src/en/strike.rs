//! The strike run through its hours, in words: what is seen, hour by hour and event by event, and why it ends.

use super::numbers::{decimal, ratio};
use super::{degrees, list, quoted};
use movement::{LeverId, Movement, PinId, TrackId};
use num_traits::{One, Zero};
use quantity::{Degrees, Exact, fraction, to_f64, whole};
use strike::{End, Event, Gap, Hour, Jam, Seen, Struck, Unfit};

/// A part of its room that a tip should at least keep from either edge (common practice, no source).
const THIN: (i64, i64) = (1, 5);

/// Why there is nothing to run.
pub fn unfit(unfit: Unfit) -> String {
    match unfit {
        Unfit::NoLevers => {
            "the sheet has no levers, so its strike cannot be run; expected `[[track]]`, `[[pin]]` and `[[lever]]`, as in movements/schoolroom.toml".to_owned()
        }
        Unfit::NoStrike => "the sheet has no `[strike]`, so nothing is owed at any hour".to_owned(),
        Unfit::NoHammer => {
            "no lever of the sheet strikes; expected `strikes` on the lever of a hammer".to_owned()
        }
        Unfit::TooFine => {
            "counts and angles of the sheet together are finer than can be reckoned; write angles with fewer figures".to_owned()
        }
    }
}

/// A mesh that cannot be shifted.
pub fn bad_mesh(movement: &Movement, written: &str) -> String {
    let meshes: Vec<String> = (movement.meshes())
        .filter(|(id, _)| movement.far_side(*id).is_some())
        .map(|(id, _)| format!("`{}`", movement.mesh_name(id).replace('>', ":")))
        .collect();
    format!(
        "the shift {} names no mesh that can be shifted; expected one of {}, then `=` and a whole number of teeth",
        quoted(written),
        list(&meshes)
    )
}

/// No number of teeth.
pub fn bad_teeth(written: &str) -> String {
    format!(
        "the shift {} has no whole number of teeth after `=`; ahead is positive, as in `=2` or `=-1`",
        quoted(written)
    )
}

/// No number of degrees.
pub fn bad_angle(written: &str) -> String {
    format!(
        "{} has no plain decimal number of degrees after `=`",
        quoted(written)
    )
}

/// No number of a slot or pin.
pub fn bad_number(written: &str) -> String {
    format!(
        "{} has no whole number from 1 after `:`, in the order they come",
        quoted(written)
    )
}

/// Nothing of that name.
pub fn not_there<'a>(written: &str, names: impl Iterator<Item = &'a str>) -> String {
    let names: Vec<String> = names.map(|name| format!("`{name}`")).collect();
    let hint = match &names[..] {
        [] => "the sheet has none".to_owned(),
        names => format!("expected one of {}", list(names)),
    };
    format!("{} names nothing of this sheet; {hint}", quoted(written))
}

/// The time of an hour, half or quarter.
pub fn time(hour: &Hour) -> String {
    format!("{}:{:02}", hour.hour(), hour.minute())
}

/// How full a fall is, in a word.
pub fn fullness(fall: &Exact) -> &'static str {
    if *fall >= whole(1) {
        "full"
    } else if fall.is_zero() {
        "none"
    } else {
        "half"
    }
}

/// The whole run: a line an hour, what is thin, how it ends.
pub fn strike_text(movement: &Movement, struck: &Struck) -> String {
    let mut text = vec![
        format!("{}: the strike through its hours", movement.name()),
        String::new(),
        "   time   blows         warning run   fall   lead    nearest edge".to_owned(),
    ];
    text.extend(struck.hours.iter().map(|hour| hour_line(movement, hour)));
    text.push(String::new());
    if struck.before > 0 {
        text.push(format!(
            "As it was put together it did not lie locked: it struck {} before it came to rest.",
            struck.before
        ));
    }
    text.push(format!("{} blows, of {}.", struck.total(), struck.expected));
    if struck.hours.iter().any(|hour| hour.owed.is_some()) {
        let notes: u32 = struck.hours.iter().map(|hour| hour.notes).sum();
        let owed: u32 = struck.hours.iter().filter_map(|hour| hour.owed).sum();
        text.push(format!("{notes} notes of the chime, of {owed}."));
    }
    text.push(end(movement, struck));
    text.extend(thin(movement, struck));
    text.push(String::new());
    text.join("\n")
}

fn hour_line(movement: &Movement, hour: &Hour) -> String {
    let mut blows = hour.blows.to_string();
    if hour.blows != hour.expected {
        blows += &format!(" not {}", hour.expected);
    }
    if hour.early > 0 {
        blows += " early";
    }
    if let Some(owed) = hour.owed {
        blows += &format!(" + {}", hour.notes);
        if owed != hour.notes {
            blows += &format!(" not {owed}");
        }
    }
    let warning = hour.warning.as_ref().or(hour.chime_warning.as_ref());
    let warning = warning.map_or_else(
        || "-".to_owned(),
        |turns| format!("{} turn", decimal(to_f64(turns), 2)),
    );
    let lock = hour.lock.as_ref().or(hour.chime_lock.as_ref());
    let fall = lock
        .and_then(|lock| lock.fall.as_ref())
        .map_or("-", fullness);
    let lead = lock
        .and_then(|lock| lock.lead.as_ref())
        .map_or_else(|| "-".to_owned(), short_degrees);
    let nearest = nearest(hour).map_or_else(String::new, |gap| gap_words(movement, gap));
    let nearest = match &hour.fallen {
        Some(fallen) => format!(
            "rack fallen {} ({} short, {} ahead), snail {} short, {} ahead",
            decimal(to_f64(&fallen.teeth), 2),
            decimal(to_f64(&fallen.short), 2),
            decimal(to_f64(&fallen.ahead), 2),
            short_degrees(&fallen.edge_short),
            short_degrees(&fallen.edge_ahead)
        ),
        None => nearest,
    };
    let lifted = lock.is_some_and(|lock| lock.hammers.iter().any(|hammer| !hammer.at_rest));
    let lifted = if lifted { "; a hammer left lifted" } else { "" };
    let line = format!(
        "  {:>5}   {blows:<13} {warning:<13} {fall:<6} {lead:<7} {nearest}{lifted}",
        time(hour)
    );
    line.trim_end().to_owned()
}

fn short_degrees(angle: &Degrees) -> String {
    format!("{}°", decimal(angle.to_f64(), 1))
}

/// The tip nearest to an edge at the lock of an hour.
fn nearest(hour: &Hour) -> Option<&Gap> {
    let locks = hour.lock.iter().chain(&hour.chime_lock);
    let gaps = locks.flat_map(|lock| &lock.gaps);
    gaps.min_by_key(|gap| gap.nearer().1)
}

/// How far a tip is from both its edges.
pub fn gap_words(movement: &Movement, gap: &Gap) -> String {
    let side = |angle: &Degrees| {
        let teeth = gap
            .tooth
            .as_ref()
            .map(|tooth| angle.exact() / tooth.exact());
        match teeth {
            Some(teeth) => format!(
                "{} ({} tooth)",
                short_degrees(angle),
                decimal(to_f64(&teeth), 2)
            ),
            None => short_degrees(angle),
        }
    };
    let lever = lever_name(movement, gap.lever);
    if gap.short.is_zero() {
        format!("{lever} {} to the edge ahead", side(&gap.ahead))
    } else {
        format!(
            "{lever} {} short, {} ahead",
            side(&gap.short),
            side(&gap.ahead)
        )
    }
}

/// Where it is thin: hours at which a tip has less than a fifth of its room.
fn thin(movement: &Movement, struck: &Struck) -> Vec<String> {
    let thin = fraction(THIN.0, THIN.1);
    let mut told = Vec::new();
    for hour in &struck.hours {
        let Some(gap) = nearest(hour) else { continue };
        if gap.nearer().1 < thin {
            told.push(format!("{} ({})", time(hour), gap_words(movement, gap)));
        }
    }
    match told.len() {
        0 => Vec::new(),
        n if n > 4 => {
            let more = n - 4;
            told.truncate(4);
            vec![format!("Thin at {}, and {more} more.", told.join("; "))]
        }
        _ => vec![format!("Thin at {}.", told.join("; "))],
    }
}

/// How it ended, in a sentence.
pub fn end(movement: &Movement, struck: &Struck) -> String {
    let after = last_good(movement, struck);
    match &struck.end {
        End::SamePlace => "It ends as it began.".to_owned(),
        End::AnotherPlace => "It does not come back to where it began.".to_owned(),
        End::Jam(jam) => format!("It jams{after}: {}.", jam_words(movement, *jam)),
        End::Runaway { train, blows } => format!(
            "It runs on{after}: nothing stops the train of `{}`, {blows} blows and no end.",
            train_name(movement, *train)
        ),
    }
}

/// When the last good thing was seen.
fn last_good(movement: &Movement, struck: &Struck) -> String {
    let mut events = struck.events.iter().rev();
    let (Some(last), Some(good)) = (events.next(), events.next()) else {
        return String::new();
    };
    format!(
        " at {}, after {}",
        clock(&last.pose.hours),
        seen(movement, &good.seen)
    )
}

/// Hours since twelve as on a dial, to the second.
pub fn clock(hours: &Exact) -> String {
    let seconds = (hours * whole(3600)).round().to_integer();
    let seconds: i64 = seconds.try_into().unwrap_or(0);
    let hour = (seconds / 3600 + 11) % 12 + 1;
    let (minute, second) = (seconds / 60 % 60, seconds % 60);
    match second {
        0 => format!("{hour}:{minute:02}"),
        _ => format!("{hour}:{minute:02}:{second:02}"),
    }
}

fn jam_words(movement: &Movement, jam: Jam) -> String {
    match jam {
        Jam::Wall { lever, track, hand } => format!(
            "`{}` lies in `{}` and nothing lifts it over the wall that comes{}",
            lever_name(movement, lever),
            track_name(movement, track),
            if hand { ", so the hands are held" } else { "" }
        ),
        Jam::Snail { track } => format!(
            "the rack's tail lies deep on `{}` as its higher step comes, so the hands are held",
            track_name(movement, track)
        ),
        Jam::PastRack => "the rack falls past its last tooth".to_owned(),
        Jam::HandHeld { pin } => format!(
            "an arm is in the path of `{}`, so the hands are held",
            pin_name(movement, pin)
        ),
    }
}

fn works_name(name: Option<&str>) -> String {
    name.unwrap_or_default().to_owned()
}

/// A lever's id.
pub fn lever_name(movement: &Movement, lever: LeverId) -> String {
    works_name(movement.works().map(|works| works.lever(lever).id.as_str()))
}

/// A track's id.
pub fn track_name(movement: &Movement, track: TrackId) -> String {
    works_name(movement.works().map(|works| works.track(track).id.as_str()))
}

/// A pin's id.
pub fn pin_name(movement: &Movement, pin: PinId) -> String {
    works_name(movement.works().map(|works| works.pin(pin).id.as_str()))
}

/// A train by its first arbor.
pub fn train_name(movement: &Movement, train: usize) -> String {
    let mut arbors = movement.arbors();
    let first = arbors.find(|(id, _)| movement.train_of(*id) == train);
    first.map_or_else(String::new, |(_, arbor)| arbor.id.clone())
}

/// What is seen at an event.
pub fn seen(movement: &Movement, seen: &Seen) -> String {
    let lever = |id: LeverId| lever_name(movement, id);
    match seen {
        Seen::Held => "the train held at the drop of twelve".to_owned(),
        Seen::Lifts(id) => format!("`{}` begins to be lifted", lever(*id)),
        Seen::Runs(train) => format!(
            "the train of `{}` is free and runs",
            train_name(movement, *train)
        ),
        Seen::Warned { pin, by } => {
            format!(
                "warned: `{}` against `{}`",
                pin_name(movement, *pin),
                lever(*by)
            )
        }
        Seen::Locked { pin: Some(pin), by } => {
            format!(
                "locked: `{}` against `{}`",
                pin_name(movement, *pin),
                lever(*by)
            )
        }
        Seen::Locked { pin: None, by } => format!("locked: `{}` against its wall", lever(*by)),
        Seen::Falls {
            lever: id,
            from,
            to,
            deepest,
            ..
        } => {
            let how = if to == from {
                "and is held: no fall".to_owned()
            } else if to <= deepest {
                format!("and falls {}: a full fall", degrees(&(from - to)))
            } else {
                format!(
                    "and falls {} of {}: half a fall",
                    degrees(&(from - to)),
                    degrees(&(from - deepest))
                )
            };
            format!("`{}` leaves its edge {how}", lever(*id))
        }
        Seen::Blow(id) => match bell(movement, *id) {
            Some(bell) => format!("a blow on {bell}"),
            None => format!("`{}` is let go", lever(*id)),
        },
        Seen::RackFalls { teeth } if teeth.is_one() => "the rack falls one tooth".to_owned(),
        Seen::RackFalls { teeth } => format!("the rack falls {} teeth", ratio(teeth)),
        Seen::Gathers { left } if left.is_zero() => "the pallet gathers the last tooth".to_owned(),
        Seen::Gathers { left } => format!("the pallet gathers, {} left", ratio(left)),
        Seen::Jams(jam) => format!("it jams: {}", jam_words(movement, *jam)),
        Seen::RunsOn(train) => {
            format!(
                "the train of `{}` runs on, and nothing stops it",
                train_name(movement, *train)
            )
        }
        Seen::Over => "all hours are struck".to_owned(),
    }
}

fn bell(movement: &Movement, id: LeverId) -> Option<String> {
    match &movement.works()?.lever(id).does {
        movement::Does::Feels { strikes, .. } => strikes.clone(),
        _ => None,
    }
}

/// Every event on a line of its own.
pub fn events_text(movement: &Movement, events: &[Event]) -> String {
    let line = |event: &Event| {
        format!(
            "  {:>8}   {}\n",
            clock(&event.pose.hours),
            seen(movement, &event.seen)
        )
    };
    events.iter().map(line).collect()
}
