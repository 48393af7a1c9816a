//! What was seen and done to a clock as a whole, an entry a sentence.

use crate::{Length, Locale, Units, say};
use entries::{
    Decimal, Emptied, Entry, EntryContent, EntryKind, Kept, Occasion, Striking, Unit, Work,
};
use quantity::{to_f64, whole};
use std::cmp::Ordering;

/// What an entry tells.
pub fn work(locale: &Locale, work: &Work) -> String {
    match work {
        Work::Intake {
            clock,
            owner,
            complaint,
            promised,
            ..
        } => {
            let mut told = say!(locale, "work-intake", clock = kept_text(locale, clock));
            if let Some(owner) = owner {
                told = joined(
                    &told,
                    &say!(locale, "work-owner", owner = kept_text(locale, owner)),
                );
            }
            if let Some(complaint) = complaint {
                told = joined(
                    &told,
                    &say!(
                        locale,
                        "work-complaint",
                        says = kept_text(locale, complaint)
                    ),
                );
            }
            if let Some(day) = promised {
                told = joined(&told, &say!(locale, "work-promised", day = day.to_string()));
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
            let told = say!(locale, "work-picture", when = when.word(), here = here);
            and(locale, told, says.as_ref())
        }
        Work::Measurement {
            what,
            value,
            unit,
            spread,
        } => {
            let mut told = figure(locale, value);
            if let Some(spread) = spread {
                told = format!("{told} ± {}", figure(locale, spread));
            }
            told = format!("{told} {}", unit_words(locale, *unit));
            if let Some(length) = converted(locale, value, spread.as_ref(), *unit) {
                told = format!("{told} ({length})");
            }
            say!(
                locale,
                "work-measured",
                what = kept_text(locale, what),
                value = told
            )
        }
        Work::Found { part, says } => {
            say!(
                locale,
                "work-found",
                part = kept_text(locale, part),
                says = kept_text(locale, says)
            )
        }
        Work::Fitted { part, says } => {
            let told = say!(locale, "work-fitted", part = kept_text(locale, part));
            and(locale, told, says.as_ref())
        }
        Work::Oil { place, oil } => {
            say!(
                locale,
                "work-oil",
                place = kept_text(locale, place),
                oil = kept_text(locale, oil)
            )
        }
        Work::TrialRun { says, .. } => and(locale, trial_run(locale, work), says.as_ref()),
        Work::Note { says } => kept_text(locale, says),
        Work::Correction { of, to } => {
            say!(
                locale,
                "work-correction",
                of = *of,
                to = self::work(locale, to)
            )
        }
        Work::Check { stage, item } => {
            say!(
                locale,
                "work-check",
                stage = stage.word(),
                item = kept_text(locale, item)
            )
        }
        Work::Stage { to } => say!(locale, "work-stage", stage = to.word()),
        Work::Sheet { .. } => say!(locale, "work-sheet"),
        Work::HandedBack { to, says } => {
            let told = match to {
                Some(to) => say!(locale, "work-handed-back-to", to = kept_text(locale, to)),
                None => say!(locale, "work-handed-back"),
            };
            and(locale, told, says.as_ref())
        }
        Work::Lesson { .. } => say!(locale, "work-lesson"),
        Work::Removal { emptied } => {
            let numbers: Vec<String> = (emptied.iter())
                .map(|Emptied { of, .. }| of.to_string())
                .collect();
            say!(locale, "work-removal", numbers = locale.list(&numbers))
        }
    }
}

/// What an entry is, and what stands in those of its texts that are meant by their fields: `A note: the fly rubs`. Where none is
/// meant, as of a picture, all that it says.
pub fn of_its_kind(locale: &Locale, entry: &Entry, meant: impl Fn(&str) -> bool) -> String {
    let EntryContent::Known(EntryKind::Work(told)) = &entry.told else {
        return String::new();
    };
    let texts = told.texts().into_iter();
    let said: Vec<&str> = texts
        .filter(|(field, _)| meant(field))
        .map(|(_, text)| text)
        .collect();
    let says = match &said[..] {
        [] => work(locale, told),
        said => said.join("; "),
    };
    with_kind(locale, told, says)
}

/// The same of what is there to name a person.
pub fn personal(locale: &Locale, entry: &Entry) -> String {
    let personal = entry.work().map(Work::personal).unwrap_or_default();
    of_its_kind(locale, entry, |field| personal.contains(&field))
}

fn with_kind(locale: &Locale, told: &Work, says: String) -> String {
    let kind = match told.as_corrected() {
        Work::Intake { .. } => say!(locale, "enter-intake"),
        Work::Picture { .. } => say!(locale, "enter-picture"),
        Work::Measurement { .. } => say!(locale, "enter-measurement"),
        Work::Found { .. } => say!(locale, "enter-found"),
        Work::Fitted { .. } => say!(locale, "enter-fitted"),
        Work::Oil { .. } => say!(locale, "enter-oil"),
        Work::TrialRun { .. } => say!(locale, "enter-trial-run"),
        Work::Note { .. } => say!(locale, "enter-note"),
        Work::HandedBack { .. } => say!(locale, "enter-handed-back"),
        Work::Check { .. } => say!(locale, "removal-point"),
        Work::Sheet { .. } => say!(locale, "enter-sheet"),
        // Nothing that somebody typed.
        Work::Correction { .. }
        | Work::Stage { .. }
        | Work::Lesson { .. }
        | Work::Removal { .. } => {
            return says;
        }
    };
    say!(locale, "removal-kind", kind = kind, says = says)
}

/// How it ran: for how long, and what it gained or lost.
pub fn trial_run(locale: &Locale, run: &Work) -> String {
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
    let mut told = say!(locale, "work-ran", hours = figure(locale, hours));
    if let Some(rate) = rate_s_per_day {
        told = joined(&told, &rate_words(locale, rate));
    }
    if let Some(error) = beat_error_ms {
        told = joined(
            &told,
            &say!(locale, "work-beat", number = figure(locale, error)),
        );
    }
    if let Some(arc) = arc_deg {
        told = joined(
            &told,
            &say!(locale, "work-arc", number = figure(locale, arc)),
        );
    }
    if let Some(struck) = struck {
        let right = if *struck == Striking::Right {
            "right"
        } else {
            "wrong"
        };
        told = joined(&told, &say!(locale, "work-struck", struck = right));
    }
    told
}

/// What it gains or loses a day.
pub fn rate_words(locale: &Locale, rate: &Decimal) -> String {
    let number = rate.text().trim_start_matches(['-', '+']);
    let way = match rate.exact().cmp(&whole(0)) {
        Ordering::Less => "loses",
        Ordering::Equal => "keeps",
        Ordering::Greater => "gains",
    };
    say!(
        locale,
        "work-rate",
        way = way,
        number = locale.pointed(number.to_owned())
    )
}

/// A length that was measured in another unit than was chosen, in that which was, with as many figures as were read.
fn converted(
    locale: &Locale,
    value: &Decimal,
    spread: Option<&Decimal>,
    unit: Unit,
) -> Option<String> {
    let metric = locale.units() == Units::Millimetre;
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
    Some(locale.length(Length::mm(times * number(value)).good_to(times * good_to)))
}

/// When a picture was taken, as a caption.
pub fn occasion(locale: &Locale, when: Occasion) -> String {
    say!(locale, "occasion", when = when.word())
}

/// A unit behind a figure.
pub fn unit_words(locale: &Locale, unit: Unit) -> String {
    match unit {
        Unit::Teeth => say!(locale, "unit-teeth"),
        Unit::Turns => say!(locale, "unit-turns"),
        Unit::SPerDay => say!(locale, "unit-s-per-day"),
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
pub fn kept_text(locale: &Locale, text: &Kept<String>) -> String {
    match text.here() {
        Some(text) => text.clone(),
        None => say!(locale, "removed"),
    }
}

fn figure(locale: &Locale, figure: &Decimal) -> String {
    locale.pointed(figure.text().to_owned())
}

fn joined(told: &str, more: &str) -> String {
    format!("{told} {more}")
}

fn and(locale: &Locale, told: String, says: Option<&Kept<String>>) -> String {
    match says {
        Some(says) => joined(&told, &kept_text(locale, says)),
        None => told,
    }
}
