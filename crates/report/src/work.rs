//! What was seen and done to a clock as a whole, an entry a sentence.

use crate::{Length, Units, Words, say};
use entries::{
    Decimal, Emptied, Entry, EntryContent, EntryKind, Kept, Occasion, Striking, Unit, Work,
};
use quantity::{to_f64, whole};
use std::cmp::Ordering;

/// What an entry tells.
pub fn work(words: &Words, work: &Work) -> String {
    match work {
        Work::Intake {
            clock,
            owner,
            complaint,
            promised,
            ..
        } => {
            let mut told = say!(words, "work-intake", clock = kept_text(words, clock));
            if let Some(owner) = owner {
                told = joined(
                    &told,
                    &say!(words, "work-owner", owner = kept_text(words, owner)),
                );
            }
            if let Some(complaint) = complaint {
                told = joined(
                    &told,
                    &say!(words, "work-complaint", says = kept_text(words, complaint)),
                );
            }
            if let Some(day) = promised {
                told = joined(&told, &say!(words, "work-promised", day = day.to_string()));
            }
            told
        }
        Work::Picture {
            picture,
            when,
            says,
        } => {
            let here = if picture.here().is_some() {
                "yes"
            } else {
                "no"
            };
            let told = say!(words, "work-picture", when = when.word(), here = here);
            and(words, told, says.as_ref())
        }
        Work::Measurement {
            what,
            value,
            unit,
            spread,
        } => {
            let mut told = figure(words, value);
            if let Some(spread) = spread {
                told = format!("{told} ± {}", figure(words, spread));
            }
            told = format!("{told} {}", unit_words(words, *unit));
            if let Some(length) = converted(words, value, spread.as_ref(), *unit) {
                told = format!("{told} ({length})");
            }
            say!(
                words,
                "work-measured",
                what = kept_text(words, what),
                value = told
            )
        }
        Work::Found { part, says } => {
            say!(
                words,
                "work-found",
                part = kept_text(words, part),
                says = kept_text(words, says)
            )
        }
        Work::Fitted { part, says } => {
            let told = say!(words, "work-fitted", part = kept_text(words, part));
            and(words, told, says.as_ref())
        }
        Work::Oil { place, oil } => {
            say!(
                words,
                "work-oil",
                place = kept_text(words, place),
                oil = kept_text(words, oil)
            )
        }
        Work::TrialRun { says, .. } => and(words, trial_run(words, work), says.as_ref()),
        Work::Note { says } => kept_text(words, says),
        Work::Correction { of, to } => {
            say!(
                words,
                "work-correction",
                of = *of,
                to = self::work(words, to)
            )
        }
        Work::Check { stage, item } => {
            say!(
                words,
                "work-check",
                stage = stage.word(),
                item = kept_text(words, item)
            )
        }
        Work::Stage { to } => say!(words, "work-stage", stage = to.word()),
        Work::Sheet { .. } => say!(words, "work-sheet"),
        Work::HandedBack { to, says } => {
            let told = match to {
                Some(to) => say!(words, "work-handed-back-to", to = kept_text(words, to)),
                None => say!(words, "work-handed-back"),
            };
            and(words, told, says.as_ref())
        }
        Work::Lesson { .. } => say!(words, "work-lesson"),
        Work::Removal { emptied } => {
            let numbers: Vec<String> = (emptied.iter())
                .map(|Emptied { of, .. }| of.to_string())
                .collect();
            say!(words, "work-removal", numbers = words.list(&numbers))
        }
    }
}

/// What an entry is, and what stands in those of its texts that are meant by their fields: `A note: the fly rubs`. Where none is
/// meant, as of a picture, all that it says.
pub fn of_its_kind(words: &Words, entry: &Entry, meant: impl Fn(&str) -> bool) -> String {
    let EntryContent::Known(EntryKind::Work(told)) = &entry.told else {
        return String::new();
    };
    let texts = told.texts().into_iter();
    let said: Vec<&str> = texts
        .filter(|(field, _)| meant(field))
        .map(|(_, text)| text)
        .collect();
    let says = match &said[..] {
        [] => work(words, told),
        said => said.join("; "),
    };
    with_kind(words, told, says)
}

/// The same of what is there to name a person.
pub fn personal(words: &Words, entry: &Entry) -> String {
    let personal = entry.work().map(Work::personal).unwrap_or_default();
    of_its_kind(words, entry, |field| personal.contains(&field))
}

fn with_kind(words: &Words, told: &Work, says: String) -> String {
    let kind = match told.as_corrected() {
        Work::Intake { .. } => say!(words, "enter-intake"),
        Work::Picture { .. } => say!(words, "enter-picture"),
        Work::Measurement { .. } => say!(words, "enter-measurement"),
        Work::Found { .. } => say!(words, "enter-found"),
        Work::Fitted { .. } => say!(words, "enter-fitted"),
        Work::Oil { .. } => say!(words, "enter-oil"),
        Work::TrialRun { .. } => say!(words, "enter-trial-run"),
        Work::Note { .. } => say!(words, "enter-note"),
        Work::HandedBack { .. } => say!(words, "enter-handed-back"),
        Work::Check { .. } => say!(words, "removal-point"),
        Work::Sheet { .. } => say!(words, "enter-sheet"),
        // Nothing that somebody typed.
        Work::Correction { .. }
        | Work::Stage { .. }
        | Work::Lesson { .. }
        | Work::Removal { .. } => {
            return says;
        }
    };
    say!(words, "removal-kind", kind = kind, says = says)
}

/// How it ran: for how long, and what it gained or lost.
pub fn trial_run(words: &Words, run: &Work) -> String {
    let Work::TrialRun {
        hours,
        rate_s_per_day,
        beat_error_ms,
        arc_deg,
        struck,
        ..
    } = run
    else {
        return String::new();
    };
    let mut told = say!(words, "work-ran", hours = figure(words, hours));
    if let Some(rate) = rate_s_per_day {
        told = joined(&told, &rate_words(words, rate));
    }
    if let Some(error) = beat_error_ms {
        told = joined(
            &told,
            &say!(words, "work-beat", number = figure(words, error)),
        );
    }
    if let Some(arc) = arc_deg {
        told = joined(&told, &say!(words, "work-arc", number = figure(words, arc)));
    }
    if let Some(struck) = struck {
        let right = if *struck == Striking::Right {
            "right"
        } else {
            "wrong"
        };
        told = joined(&told, &say!(words, "work-struck", struck = right));
    }
    told
}

/// What it gains or loses a day.
pub fn rate_words(words: &Words, rate: &Decimal) -> String {
    let number = rate.text().trim_start_matches(['-', '+']);
    let way = match rate.exact().cmp(&whole(0)) {
        Ordering::Less => "loses",
        Ordering::Equal => "keeps",
        Ordering::Greater => "gains",
    };
    say!(
        words,
        "work-rate",
        way = way,
        number = words.pointed(number.to_owned())
    )
}

/// A length that was measured in another unit than was chosen, in that which was, with as many figures as were read.
fn converted(
    words: &Words,
    value: &Decimal,
    spread: Option<&Decimal>,
    unit: Unit,
) -> Option<String> {
    let metric = words.units() == Units::Millimetre;
    let times = match unit {
        Unit::In if metric => Length::MM_IN_INCH,
        Unit::Mm if !metric => 1.0,
        Unit::Um if !metric => 0.001,
        _ => return None,
    };
    let number = |figure: &Decimal| to_f64(figure.exact());
    let places = (value.text().split_once('.')).map_or(0, |(_, after)| after.len());
    let last = 10f64.powi(-i32::try_from(places).ok()?);
    let good_to = spread.map_or(last, number);
    Some(words.length(Length::mm(times * number(value)).good_to(times * good_to)))
}

/// When a picture was taken, as a caption.
pub fn occasion(words: &Words, when: Occasion) -> String {
    say!(words, "occasion", when = when.word())
}

/// A unit behind a figure.
pub fn unit_words(words: &Words, unit: Unit) -> String {
    match unit {
        Unit::Teeth => say!(words, "unit-teeth"),
        Unit::Turns => say!(words, "unit-turns"),
        Unit::SPerDay => say!(words, "unit-s-per-day"),
        Unit::Deg => "°".to_owned(),
        Unit::Mm => "mm".to_owned(),
        Unit::In => "in".to_owned(),
        Unit::Um => "µm".to_owned(),
        Unit::G => "g".to_owned(),
        Unit::N => "N".to_owned(),
        Unit::Nmm => "N mm".to_owned(),
        Unit::S => "s".to_owned(),
    }
}

/// What was said, or that it was removed.
pub fn kept_text(words: &Words, text: &Kept<String>) -> String {
    match text.here() {
        Some(text) => text.clone(),
        None => say!(words, "removed"),
    }
}

fn figure(words: &Words, figure: &Decimal) -> String {
    words.pointed(figure.text().to_owned())
}

fn joined(told: &str, more: &str) -> String {
    format!("{told} {more}")
}

fn and(words: &Words, told: String, says: Option<&Kept<String>>) -> String {
    match says {
        Some(says) => joined(&told, &kept_text(words, says)),
        None => told,
    }
}
