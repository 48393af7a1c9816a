//! Answers as tables, the names of the columns first. Columns are named as the same is in the JSON; cells are in its units, and empty
//! where that has null.

use crate::Locale;
use crate::count::Sets;
use crate::json;
use crate::page::struck as said;
use movement::Movement;
use quantity::{Degrees, Exact, to_f64};
use strike::{Event, Hour, Struck};
use workshop::counts::{Demanded, Outcome};

/// Rows of cells.
pub type Rows = Vec<Vec<String>>;

/// The strike hour by hour.
pub fn hours(movement: &Movement, struck: &Struck) -> Rows {
    let names = [
        "hour",
        "minute",
        "blows",
        "expected",
        "early",
        "notes",
        "notes_expected",
        "right",
        "points",
        "warning_turns",
        "fall",
        "lead_deg",
        "lever",
        "track",
        "short_deg",
        "ahead_deg",
        "rack_teeth",
        "rack_short_teeth",
        "rack_ahead_teeth",
        "says",
    ];
    let hours = struck.hours.iter().map(|hour| hour_row(movement, hour));
    std::iter::once(names.map(str::to_owned).to_vec())
        .chain(hours)
        .collect()
}

/// An hour. Of a chime and the hours the hours, of several edges the nearest.
fn hour_row(movement: &Movement, hour: &Hour) -> Vec<String> {
    let points = strike::points(hour);
    let numbers: Vec<String> = points.iter().map(|p| p.number().to_string()).collect();
    let says: Vec<String> = (points.iter())
        .map(|point| said::point(&Locale::default(), movement, point))
        .collect();
    let warned = hour.warned.as_ref().or(hour.chime_warned.as_ref());
    let lock = hour.lock.as_ref().or(hour.chime_lock.as_ref());
    let (edge, rack) = (said::nearest(hour), hour.fallen.as_ref());
    let deg = |angle: Option<&Degrees>| number(angle.map(Degrees::to_f64));
    let exact = |x: Option<&Exact>| number(x.map(to_f64));
    vec![
        hour.hour().to_string(),
        hour.minute().to_string(),
        hour.blows.to_string(),
        hour.expected.to_string(),
        hour.early.to_string(),
        cell(hour.owed.map(|_| hour.notes)),
        cell(hour.owed),
        yes(hour.is_right()),
        numbers.join(" "),
        exact(warned.map(|warned| &warned.turns)),
        exact(lock.and_then(|lock| lock.fall.as_ref())),
        deg(lock.and_then(|lock| lock.lead.as_ref())),
        cell(edge.map(|edge| said::lever_name(movement, edge.lever))),
        cell(edge.map(|edge| said::track_name(movement, edge.track))),
        deg(edge.map(|edge| &edge.short)),
        deg(edge.map(|edge| &edge.ahead)),
        exact(rack.map(|rack| &rack.teeth)),
        exact(rack.map(|rack| &rack.short)),
        exact(rack.map(|rack| &rack.ahead)),
        says.join("; "),
    ]
}

/// The strike event by event: every blow among them.
pub fn events(movement: &Movement, struck: &Struck) -> Rows {
    let row = |event: &Event| {
        vec![
            json::what(&event.seen),
            said::seen(&Locale::default(), movement, &event.seen),
            said::clock(&event.pose.hours),
            number(Some(to_f64(&event.pose.hours))),
        ]
    };
    let names = ["what", "says", "at", "hours"].map(str::to_owned).to_vec();
    std::iter::once(names)
        .chain(struck.events.iter().map(row))
        .collect()
}

/// The sets of counts that fit: a column for each count, its chance, and what comes out.
pub fn counts(sets: &Sets<'_>) -> Rows {
    let movement = sets.movement;
    let arbor = |id| movement.arbor(id).id.as_str();
    let outcome = |outcome: &Outcome| match outcome.what {
        Demanded::Beats => "beats_per_hour".to_owned(),
        Demanded::Run(of) => format!("run_h:{}", arbor(of)),
        Demanded::Must(n) => match sets.must.get(n) {
            Some(must) => format!("turns:{}:{}", arbor(must.of), arbor(must.per)),
            None => "turns".to_owned(),
        },
        _ => "turns".to_owned(),
    };
    let (blanks, fits) = (&sets.puzzle.blanks, &sets.found.fits);
    let mut names: Vec<String> = (blanks.iter())
        .map(|blank| movement.part_name(blank.part))
        .collect();
    names.push("chance".to_owned());
    names.extend(
        fits.iter()
            .take(1)
            .flat_map(|fit| fit.outcomes.iter().map(outcome)),
    );
    let rows = fits.iter().map(|fit| {
        let counts = fit.counts.iter().map(u16::to_string);
        let chance = number(Some(fit.chance.get()));
        let outcomes = fit.outcomes.iter().map(|outcome| number(Some(outcome.is)));
        counts.chain([chance]).chain(outcomes).collect()
    });
    std::iter::once(names).chain(rows).collect()
}

fn cell<T: ToString>(value: Option<T>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}

fn yes(yes: bool) -> String {
    if yes { "yes" } else { "no" }.to_owned()
}

fn number(x: Option<f64>) -> String {
    cell(x)
}
