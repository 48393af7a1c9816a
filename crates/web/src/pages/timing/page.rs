//! The page of a train that is timed.

use super::history::history;
use super::step::Step;
use super::{answer, reading, telling};
use crate::desk::{Job, Refused};
use crate::form::Fields;
use crate::frame::{count_again, frame, odd};
use crate::plate::{Plate, Show, turning};
use crate::underlay::{Under, slider};
use maud::{Markup, html};
use report::{page as said, say};

/// The page of a job.
pub(crate) fn page(
    job: &Job,
    asked: &Fields,
    under: Option<&Under>,
    refused: Option<&Refused>,
) -> Result<Markup, Refused> {
    let locale = &job.locale;
    let step = Step::of(job, asked.read()?);
    let at_rest = step == Step::Look && reading::is_at_rest(job, asked)?;
    let plate = Plate::of(
        job,
        match step {
            Step::Look if at_rest => Show::AtRest,
            Step::Look => Show::Looking,
            Step::Answer => Show::Doing,
            Step::Jumped => Show::Choosing,
            Step::Home => Show::Lying,
        },
    )
    .over(under);
    let main = html! {
        main #main.job data-step=(step.name()) data-job=(job.id) data-entries=(job.entries()) {
            @if let Some(refused) = refused { p.refused role="alert" { (refused.say(locale)) } }
            (count_again(locale, Some(job.movement())))
            (odd(locale, &job.timing.sheet.warnings, job.entries() == 0))
            figure.lies {
                (plate.markup(job))
                figcaption {
                    (view(job, step))
                }
            }
            div.beside {
                @if job.stands_as_it_came {
                    p.as-it-came { a.button href=(format!("/job/{}/stood", job.id)) { (say!(locale, "stood-link")) } }
                }
                (answer::cautions(job, step))
                @if step == Step::Look { (reading::reading(job, &plate, asked)?) }
                (answer::section(job, step, &plate, at_rest))
                @if step == Step::Answer { (answer::seen(job)) }
                @if step == Step::Home {
                    (history(job))
                } @else {
                    (answer::also(job, step))
                    (lies(job, step, under))
                    (telling::order(job))
                    (history(job))
                    (telling::telling(job, asked))
                    (answer::all_cautions(job))
                    p.whole { a.button href=(format!("/job/{}/way", job.id)) { (say!(locale, "whole-job")) } }
                    p.keys { (say!(locale, "keys")) }
                }
            }
        }
    };
    let about = said::seen_from(locale, job.view.plate, job.view.upside_down);
    Ok(frame(locale, &job.name, Some(&about), &main))
}

/// See it from the other plate, turn it upside down. While it is looked at, what is being read goes along.
fn view(job: &Job, step: Step) -> Markup {
    let action = format!("/job/{}/view", job.id);
    html! {
        @if step == Step::Look { (turning(&job.locale, job.view, Some("reading"), &action)) } @else {
            form method="post" action=(action) {
                input type="hidden" name="step" value=(step.name());
                (turning(&job.locale, job.view, None, &action))
            }
        }
    }
}

/// The way to where its arbors lie; and how much of the photograph under the drawing is seen.
fn lies(job: &Job, step: Step, under: Option<&Under>) -> Markup {
    let fade = format!("/job/{}/places/shown", job.id);
    let reading = (step == Step::Look).then_some("reading");
    html! {
        section.lying {
            a.button.plain href=(format!("/job/{}/places", job.id)) { (say!(job.locale, "lie")) }
            @if let Some(under) = under {
                @if reading.is_some() {
                    input type="hidden" name="bench" value="yes" form="reading";
                    (slider(&job.locale, under, job.view, reading, &fade))
                } @else {
                    form method="post" action=(fade) {
                        input type="hidden" name="entries" value=(job.entries());
                        input type="hidden" name="bench" value="yes";
                        input type="hidden" name="step" value=(step.name());
                        (slider(&job.locale, under, job.view, None, &fade))
                    }
                }
            }
        }
    }
}
