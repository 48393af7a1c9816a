//! What the forms of entries tell.

use crate::form::said::{Figure, OnDay, Text, lenient, number};
use crate::form::{FieldFault, Fields};
use entries::{Day, Decimal, KeptText, Stage, Striking, Unit, Work};
use serde::Deserialize;

/// What each kind of form tells.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Told {
    Intake(Intake),
    Measurement {
        what: Text,
        value: Figure,
        unit: Unit,
        spread: Option<Figure>,
    },
    Found {
        part: Text,
        says: Text,
    },
    Fitted {
        part: Text,
        says: Option<Text>,
    },
    Oil {
        place: Text,
        oil: Text,
    },
    TrialRun {
        hours: Figure,
        rate: Option<Figure>,
        beat: Option<Figure>,
        arc: Option<Figure>,
        #[serde(deserialize_with = "lenient")]
        struck: Option<Striking>,
        says: Option<Text>,
    },
    Note {
        says: Text,
    },
    HandedBack {
        to: Option<Text>,
        says: Option<Text>,
    },
    Check {
        stage: Stage,
        item: Text,
    },
    Stage {
        to: Stage,
    },
}

/// What is told of a clock that comes in.
#[derive(Deserialize)]
pub(crate) struct Intake {
    pub(crate) clock: Text,
    owner: Option<Text>,
    reach: Option<Text>,
    complaint: Option<Text>,
    promised: Option<OnDay>,
}

impl From<Intake> for Work {
    fn from(told: Intake) -> Work {
        Work::Intake {
            clock: told.clock.into(),
            owner: told.owner.map(KeptText::from),
            reach: told.reach.map(KeptText::from),
            complaint: told.complaint.map(KeptText::from),
            promised: told.promised.map(Day::from),
        }
    }
}

impl From<Told> for Work {
    fn from(told: Told) -> Work {
        match told {
            Told::Intake(intake) => intake.into(),
            Told::Measurement {
                what,
                value,
                unit,
                spread,
            } => Work::Measurement {
                what: what.into(),
                value: value.into(),
                unit,
                spread: spread.map(Decimal::from),
            },
            Told::Found { part, says } => Work::Found {
                part: part.into(),
                says: says.into(),
            },
            Told::Fitted { part, says } => Work::Fitted {
                part: part.into(),
                says: says.map(KeptText::from),
            },
            Told::Oil { place, oil } => Work::Oil {
                place: place.into(),
                oil: oil.into(),
            },
            Told::TrialRun {
                hours,
                rate,
                beat,
                arc,
                struck,
                says,
            } => Work::TrialRun {
                hours: hours.into(),
                rate_s_per_day: rate.map(Decimal::from),
                beat_error_ms: beat.map(Decimal::from),
                arc_deg: arc.map(Decimal::from),
                struck,
                says: says.map(KeptText::from),
            },
            Told::Note { says } => Work::Note { says: says.into() },
            Told::HandedBack { to, says } => Work::HandedBack {
                to: to.map(KeptText::from),
                says: says.map(KeptText::from),
            },
            Told::Check { stage, item } => Work::Check {
                stage,
                item: item.into(),
            },
            Told::Stage { to } => Work::Stage { to },
        }
    }
}

/// What every form says: its kind, and which entry it puts right.
#[derive(Deserialize)]
struct Sent {
    kind: Option<String>,
    #[serde(deserialize_with = "number")]
    of: Option<usize>,
}

/// What is to be entered.
///
/// # Errors
/// There is no such form, or a field of it says what it cannot.
pub(crate) fn work(fields: &Fields) -> Result<Work, FieldFault> {
    let Sent { kind, of } = fields.read()?;
    let told: Told = fields.read_as(&kind.unwrap_or_default())?;
    let work = told.into();
    Ok(match of {
        Some(of) => Work::Correction {
            of,
            to: Box::new(work),
        },
        None => work,
    })
}
