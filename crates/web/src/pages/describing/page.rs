//! The page of a movement that is described, at the step it has come to.

use super::counting::{AskedPart, counting};
use crate::desk::{Refused, Whole};
use crate::form::Fields;
use crate::frame::frame;
use draw::CountState;
use maud::{Markup, html};
use movement::PartId;
use report::say;
use serde::Deserialize;
use tasks::{BeingCounted, being_counted};

/// What is asked for.
#[derive(Deserialize)]
pub(super) struct AskedFor {
    /// `ARBOR.PART`.
    pub(super) at: Option<String>,
    /// What was typed for it, where it was refused.
    pub(super) count: Option<String>,
}

/// The page of a job's movement.
pub(super) fn page(
    job: &Whole,
    asked: &Fields,
    refused: Option<&Refused>,
) -> Result<Markup, Refused> {
    let locale = &job.locale;
    let asked: AskedFor = asked.read()?;
    let counted = being_counted(job.sheet.as_bytes(), |_, _| None).map_err(tasks::Refusal::from)?;
    let part = chosen(&counted, asked.at.as_deref()).ok_or(Refused::Nothing)?;
    let step = AskedPart {
        part,
        typed: asked.count.as_deref(),
        refused,
    };
    let (drawing, under) = counting(job, &counted, &step);
    let left = (counted.parts.iter())
        .filter(|(_, state)| *state == CountState::NotYet)
        .count();
    let main = html! {
        main #main.job.describing data-step="count" data-job=(job.id) data-entries=(job.entries()) {
            figure.lies { (drawing) }
            div.beside { (under) }
        }
    };
    let about = say!(locale, "counting-left", count = left);
    Ok(frame(locale, &job.name, Some(&about), &main))
}

/// The part that is asked for: the one that was touched, else the first that is not counted, else the first.
fn chosen(counted: &BeingCounted, at: Option<&str>) -> Option<PartId> {
    let touched = at.and_then(|at| counted.movement.find_part(at));
    let mut parts = counted.parts.iter();
    touched
        .or_else(|| {
            parts
                .find(|(_, state)| *state == CountState::NotYet)
                .map(|(part, _)| *part)
        })
        .or_else(|| counted.parts.first().map(|(part, _)| *part))
}
