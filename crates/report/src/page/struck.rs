//! The strike run through its hours, in words that the page and the command line share: what is seen at each event, how near
//! the edges are, what is thin, how it ends.

use crate::en::ratio;
use crate::page::{lever_called, named};
use crate::{Locale, say};
use movement::{LeverId, Movement, PinId, TrackId};
use num_traits::{One, Zero};
use quantity::{Degrees, Exact, fraction, to_f64, whole};
use strike::{End, Gap, Hour, Jam, Lock, StrikeEvent, Struck};

pub use super::good::{bends, not_good, point, points};

/// A part of its room that a tip should at least keep from either edge (common practice, no source).
const THIN: (i64, i64) = (1, 5);

/// The time of an hour, half or quarter.
pub fn time(hour: &Hour) -> String {
    time_of(hour.minutes)
}

/// So many minutes after twelve, as on a dial.
pub fn time_of(minutes: u32) -> String {
    format!("{}:{:02}", (minutes / 60 + 11) % 12 + 1, minutes % 60)
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

/// How full a fall is, as the catalogue and JSON know it.
pub fn fullness(fall: &Exact) -> &'static str {
    if *fall >= whole(1) {
        "full"
    } else if fall.is_zero() {
        "none"
    } else {
        "half"
    }
}

/// Blows against what is owed, and notes where there is a chime.
pub fn blows(locale: &Locale, hour: &Hour) -> String {
    let mut blows = hour.blows.to_string();
    if hour.blows != hour.expected {
        blows = say!(locale, "strike-not", got = blows, owed = hour.expected);
    }
    if hour.early > 0 {
        blows = say!(locale, "strike-early", got = blows);
    }
    if let Some(owed) = hour.owed {
        let mut notes = hour.notes.to_string();
        if owed != hour.notes {
            notes = say!(locale, "strike-not", got = notes, owed = owed);
        }
        blows += &format!(" + {notes}");
    }
    blows
}

/// The warning run, in turns; nothing where there was none.
pub fn warning(locale: &Locale, hour: &Hour) -> Option<String> {
    let warned = hour.warned.as_ref().or(hour.chime_warned.as_ref())?;
    let turns = locale.decimal(to_f64(&warned.turns), 2);
    Some(say!(locale, "strike-turn", turns = turns))
}

/// How full the fall was, in a word; nothing where it did not fall or lock.
pub fn fall(locale: &Locale, hour: &Hour) -> Option<String> {
    let fall = lock(hour)?.fall.as_ref()?;
    Some(say!(locale, "strike-fullness", fall = fullness(fall)))
}

/// How far the pin still went, in degrees.
pub fn lead(locale: &Locale, hour: &Hour) -> Option<String> {
    let lead = lock(hour)?.lead.as_ref()?;
    Some(short_degrees(locale, lead))
}

/// How the hour locked; the chime, where the hours did not.
fn lock(hour: &Hour) -> Option<&Lock> {
    hour.lock.as_ref().or(hour.chime_lock.as_ref())
}

/// The nearest edge, or how the rack fell.
pub fn nearest_edge(locale: &Locale, movement: &Movement, hour: &Hour) -> String {
    match &hour.fallen {
        Some(fallen) => say!(
            locale,
            "strike-rack",
            teeth = locale.decimal(to_f64(&fallen.teeth), 2),
            short = locale.decimal(to_f64(&fallen.short), 2),
            ahead = locale.decimal(to_f64(&fallen.ahead), 2),
            edge_short = short_degrees(locale, &fallen.edge_short),
            edge_ahead = short_degrees(locale, &fallen.edge_ahead)
        ),
        None => nearest(hour).map_or_else(String::new, |gap| gap_words(locale, movement, gap)),
    }
}

fn short_degrees(locale: &Locale, angle: &Degrees) -> String {
    format!("{}°", locale.decimal(angle.to_f64(), 1))
}

/// The tip nearest to an edge at the lock of an hour.
pub fn nearest(hour: &Hour) -> Option<&Gap> {
    let locks = hour.lock.iter().chain(&hour.chime_lock);
    let gaps = locks.flat_map(|lock| &lock.gaps);
    gaps.min_by_key(|gap| gap.nearer().1)
}

/// Where in its room the nearest tip stood at the lock, from 0 at the edge behind it to 1 at the one ahead; for a rack the
/// fall between one tooth less and one more.
pub fn room(hour: &Hour) -> Option<f64> {
    let part = |short: f64, ahead: f64| (short + ahead > 0.0).then(|| short / (short + ahead));
    match &hour.fallen {
        Some(fallen) => part(to_f64(&fallen.short), to_f64(&fallen.ahead)),
        None => nearest(hour).and_then(|gap| part(gap.short.to_f64(), gap.ahead.to_f64())),
    }
}

/// How far a tip is from both its edges.
fn gap_words(locale: &Locale, movement: &Movement, gap: &Gap) -> String {
    let side = |angle: &Degrees| {
        let degrees = short_degrees(locale, angle);
        match &gap.tooth {
            Some(tooth) => {
                let teeth = to_f64(&(angle.exact() / tooth.exact()));
                let teeth = locale.decimal(teeth, 2);
                say!(locale, "strike-of-tooth", degrees = degrees, teeth = teeth)
            }
            None => degrees,
        }
    };
    let lever = lever_called(locale, movement, gap.lever);
    if gap.short.is_zero() {
        say!(
            locale,
            "strike-ahead",
            lever = lever,
            ahead = side(&gap.ahead)
        )
    } else {
        say!(
            locale,
            "strike-between",
            lever = lever,
            short = side(&gap.short),
            ahead = side(&gap.ahead)
        )
    }
}

/// Whether at an hour a tip has less than a fifth of its room to an edge.
pub fn is_thin(hour: &Hour) -> bool {
    nearest(hour).is_some_and(|gap| gap.nearer().1 < fraction(THIN.0, THIN.1))
}

/// The first of some times, and how many more.
pub(super) fn few(locale: &Locale, mut times: impl ExactSizeIterator<Item = String>) -> String {
    let told: Vec<String> = times.by_ref().take(TOLD).collect();
    let told = told.join(", ");
    match times.len() {
        0 => told,
        more => say!(locale, "strike-and-more", told = told, more = more),
    }
}

/// How many hours are told one by one.
const TOLD: usize = 4;

/// Where it is thin.
pub fn thin(locale: &Locale, movement: &Movement, struck: &Struck) -> Option<String> {
    let thin: Vec<(&Hour, &Gap)> = (struck.hours.iter().filter(|hour| is_thin(hour)))
        .filter_map(|hour| Some((hour, nearest(hour)?)))
        .collect();
    let told: Vec<String> = (thin.iter().take(TOLD))
        .map(|(hour, gap)| format!("{} ({})", time(hour), gap_words(locale, movement, gap)))
        .collect();
    let more = thin.len().saturating_sub(TOLD);
    (!told.is_empty()).then(|| say!(locale, "strike-thin", told = told.join("; "), more = more))
}

/// All that is to be said of a run beside its hours, a sentence each.
pub fn summary(locale: &Locale, movement: &Movement, struck: &Struck) -> Vec<String> {
    let mut said = Vec::new();
    if struck.before > 0 && struck.came_to_rest {
        said.push(say!(locale, "strike-before", blows = struck.before));
    }
    said.extend(total(locale, struck));
    let past = struck.past();
    if past.iter().any(|hour| hour.owed.is_some()) {
        let notes: u32 = past.iter().map(|hour| hour.notes).sum();
        let owed: u32 = past.iter().filter_map(|hour| hour.owed).sum();
        said.push(say!(
            locale,
            "strike-notes",
            notes = notes,
            owed = owed,
            whole = yes(struck.is_whole())
        ));
    }
    said.extend(voices(locale, struck));
    said.push(end(locale, movement, struck));
    said.extend(cut_short(locale, struck));
    said.extend(whole_round(locale, struck));
    said.extend(chime_waits(locale, struck));
    said.extend(points(locale, movement, struck));
    said.extend(thin(locale, movement, struck));
    said
}

fn yes(so: bool) -> &'static str {
    if so { "yes" } else { "no" }
}

/// The blows of the whole cycle; of one that was not run to its end how far it came, and the blows before that. Nothing where it
/// never came to rest.
fn total(locale: &Locale, struck: &Struck) -> Option<String> {
    let past = struck.past();
    let blows: u32 = past.iter().map(|hour| hour.blows).sum();
    let owed: u32 = past.iter().map(|hour| hour.expected).sum();
    if struck.is_whole() {
        return Some(say!(locale, "strike-total", blows = blows, owed = owed));
    }
    match (struck.hours.last(), past) {
        (Some(last), []) => Some(say!(locale, "strike-not-past-first", time = time(last))),
        (Some(last), _) => Some(say!(
            locale,
            "strike-not-past",
            time = time(last),
            blows = blows,
            owed = owed
        )),
        (None, _) => (struck.came_to_rest).then(|| say!(locale, "strike-none-whole")),
    }
}

/// From when a chime that was out of step is in step again: it gave nothing for a while, and all that was owed since.
/// Common practice, no source.
fn chime_waits(locale: &Locale, struck: &Struck) -> Option<String> {
    let out = |hour: &Hour| hour.owed.is_some_and(|owed| owed != hour.notes);
    let last = struck.hours.iter().rposition(out)?;
    let waited = struck.hours[..=last].iter().any(|hour| hour.notes == 0);
    let from = struck.hours[last + 1..].first()?;
    (waited && struck.is_whole()).then(|| say!(locale, "strike-chime-waits", from = time(from)))
}

/// That a blow has more voices than one.
fn voices(locale: &Locale, struck: &Struck) -> Option<String> {
    let voices: u32 = struck.hours.iter().map(|hour| hour.voices).sum();
    let blows = struck.total();
    (voices > blows && blows > 0).then(|| {
        say!(
            locale,
            "strike-voices",
            alike = yes(voices.is_multiple_of(blows)),
            voices = voices,
            each = voices / blows
        )
    })
}

/// Where as many blows are struck at once as the whole cycle owes: the count wheel goes round, and locks where it began. That
/// its lever comes down but once in a round is known only where every hour was run and struck just one.
fn whole_round(locale: &Locale, struck: &Struck) -> Option<String> {
    let round: Vec<&Hour> = (struck.past().iter())
        .filter(|hour| hour.fallen.is_none() && hour.blows >= struck.expected && hour.blows > 0)
        .collect();
    let just_one = |hour: &Hour| hour.blows == struck.expected;
    let all =
        struck.is_whole() && round.len() == struck.hours.len() && struck.hours.iter().all(just_one);
    (!round.is_empty()).then(|| {
        say!(
            locale,
            "strike-round",
            all = yes(all),
            times = few(locale, round.iter().map(|hour| time(hour))),
            blows = struck.expected
        )
    })
}

/// How it ended, in a sentence.
pub fn end(locale: &Locale, movement: &Movement, struck: &Struck) -> String {
    let after = last_good(locale, movement, struck);
    match &struck.end {
        End::SamePlace => same_place(locale, struck),
        End::AnotherPlace => say!(locale, "strike-another-place"),
        End::Jam(jam) => {
            let why = jam_words(locale, movement, *jam);
            say!(
                locale,
                "strike-jams",
                after = after,
                why = why,
                rest = yes(struck.came_to_rest)
            )
        }
        End::Runaway { train, blows } => say!(
            locale,
            "strike-runaway",
            after = after,
            train = named(&train_name(movement, *train)),
            blows = *blows,
            rest = yes(struck.came_to_rest)
        ),
        End::LeftOff => say!(locale, "strike-left-off"),
    }
}

/// That no more was kept of what was seen than may be: how much, and till when; nothing where all was.
pub fn cut_short(locale: &Locale, struck: &Struck) -> Option<String> {
    let last = struck.events.last().filter(|_| struck.cut_short)?;
    Some(say!(
        locale,
        "strike-cut-short",
        events = struck.events.len(),
        time = clock(&last.pose.hours)
    ))
}

/// That all stands as it began, which is good only where every hour is.
fn same_place(locale: &Locale, struck: &Struck) -> String {
    let all = struck.hours.len();
    let count = |of: fn(&Hour) -> bool| struck.hours.iter().filter(|hour| !of(hour)).count();
    let (wrong, bad) = (count(Hour::is_number_right), count(Hour::is_right));
    match (wrong, bad) {
        (0, 0) => say!(locale, "strike-same-place"),
        (0, _) => say!(locale, "strike-same-place-bad", bad = bad, all = all),
        _ => say!(locale, "strike-same-place-wrong", wrong = wrong, all = all),
    }
}

/// When the last good thing was seen.
fn last_good(locale: &Locale, movement: &Movement, struck: &Struck) -> String {
    let Some((good, last)) = struck.last_good() else {
        return String::new();
    };
    let good = seen(locale, movement, &good.seen);
    say!(
        locale,
        "strike-last-good",
        time = clock(&last.pose.hours),
        good = good
    )
}

fn jam_words(locale: &Locale, movement: &Movement, jam: Jam) -> String {
    match jam {
        Jam::Wall { lever, track, hand } => say!(
            locale,
            "strike-jam-wall",
            lever = lever_called(locale, movement, lever),
            track = named(&track_name(movement, track)),
            hand = if hand { "held" } else { "free" }
        ),
        Jam::Snail { track } => {
            let track = named(&track_name(movement, track));
            say!(locale, "strike-jam-snail", track = track)
        }
        Jam::PastRack => say!(locale, "strike-jam-past"),
        Jam::HandHeld { pin } => {
            let pin = named(&pin_name(movement, pin));
            say!(locale, "strike-jam-hand", pin = pin)
        }
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
pub fn seen(locale: &Locale, movement: &Movement, seen: &StrikeEvent) -> String {
    let lever = |id: LeverId| lever_called(locale, movement, id);
    let pin = |id: PinId| named(&pin_name(movement, id));
    let train = |id: usize| named(&train_name(movement, id));
    match seen {
        StrikeEvent::Held => say!(locale, "strike-held"),
        StrikeEvent::Lifts(id) => say!(locale, "strike-lifts", lever = lever(*id)),
        StrikeEvent::Runs(id) => say!(locale, "strike-runs", train = train(*id)),
        StrikeEvent::Warned { pin: id, by } => {
            say!(locale, "strike-warned", pin = pin(*id), lever = lever(*by))
        }
        StrikeEvent::Locked { pin: Some(id), by } => {
            say!(locale, "strike-locked", pin = pin(*id), lever = lever(*by))
        }
        StrikeEvent::Locked { pin: None, by } => {
            say!(locale, "strike-locked-wall", lever = lever(*by))
        }
        StrikeEvent::Falls {
            lever: id,
            from,
            to,
            deepest,
            ..
        } => {
            let (fell, whole) = (
                locale.degrees(&(from - to)),
                locale.degrees(&(from - deepest)),
            );
            if to == from {
                say!(locale, "strike-falls-none", lever = lever(*id))
            } else if to <= deepest {
                say!(locale, "strike-falls-full", lever = lever(*id), fell = fell)
            } else {
                say!(
                    locale,
                    "strike-falls-half",
                    lever = lever(*id),
                    fell = fell,
                    whole = whole
                )
            }
        }
        StrikeEvent::Blow(id) => match bell(movement, *id) {
            Some(bell) => say!(locale, "strike-blow", bell = bell),
            None => say!(locale, "strike-let-go", lever = lever(*id)),
        },
        StrikeEvent::Voice(id) => match bell(movement, *id) {
            Some(bell) => say!(locale, "strike-voice", bell = bell),
            None => say!(locale, "strike-voice-of", lever = lever(*id)),
        },
        StrikeEvent::RackFalls { teeth } if teeth.is_one() => say!(locale, "strike-rack-falls-one"),
        StrikeEvent::RackFalls { teeth } => say!(locale, "strike-rack-falls", teeth = ratio(teeth)),
        StrikeEvent::Gathers { left } if left.is_zero() => say!(locale, "strike-gathers-last"),
        StrikeEvent::Gathers { left } => say!(locale, "strike-gathers", left = ratio(left)),
        StrikeEvent::Jams(jam) => {
            say!(
                locale,
                "strike-it-jams",
                why = jam_words(locale, movement, *jam)
            )
        }
        StrikeEvent::RunsOn(id) => say!(locale, "strike-runs-on", train = train(*id)),
        StrikeEvent::LeftOff => say!(locale, "strike-left-off-seen"),
        StrikeEvent::Over => say!(locale, "strike-over"),
    }
}

/// The bell that a hammer strikes.
pub fn bell(movement: &Movement, id: LeverId) -> Option<&str> {
    movement.works()?.lever(id).bell()
}
