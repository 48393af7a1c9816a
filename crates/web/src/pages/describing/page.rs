//! The page of a movement that is described, at the step it has come to.

use super::asking::AtHand;
use super::counting::{self, AskedPlace, follows};
use super::step::{AskedFor, Step};
use super::{asking, bare, striking};
use crate::desk::{Refused, Whole};
use crate::form::Fields;
use crate::frame::frame;
use book::JobId;
use maud::{Markup, html};
use report::page::describing as said;
use report::say;
use serde::Deserialize;
use tasks::{
    AskedQuestion, BeingCounted, CountPlace, CountState, Described, DeskFault, Follow,
    LikelyMiscount, MeasuredPace, PresentAnswer, being_counted,
};

/// What was typed, where it was refused.
#[derive(Deserialize)]
struct Typed {
    count: Option<String>,
    sheet: Option<String>,
}

/// The clocks that this one may be like, looked for only where they are offered.
pub(super) type LikeOnes<'a> = dyn Fn() -> Result<Vec<(JobId, String)>, DeskFault> + 'a;

/// What was asked for and typed, and the clocks that this one may be like.
pub(super) struct Asked<'a> {
    pub(super) fields: &'a Fields,
    pub(super) like: &'a LikeOnes<'a>,
    /// The pace of what was listened to last.
    pub(super) heard: Option<MeasuredPace>,
}

/// The page of a job's movement.
pub(super) fn page(
    job: &Whole,
    described: Option<&Described>,
    asked: &Asked<'_>,
    refused: Option<&Refused>,
) -> Result<Markup, Refused> {
    let Asked {
        fields: asked,
        like,
        ref heard,
    } = *asked;
    let locale = &job.locale;
    let wanted: AskedFor = asked.read()?;
    let typed: Typed = asked.read()?;
    let Some(described) = described else {
        return Ok(framed(
            job,
            &At {
                step: &Step::Kind,
                again: address(job),
            },
            None,
            refused,
            &html! {
                (striking::choose(job, &like()?))
                (text(job, typed.sheet.as_deref()))
                (whole(job))
            },
        ));
    };
    let counted = being_counted(described).map_err(tasks::Refusal::from)?;
    let questions = described.questions();
    let step = Step::of(described, &counted, &questions, &wanted);
    let open_questions = (questions.iter())
        .filter(|q| q.answer == PresentAnswer::None)
        .count();
    let (drawing, under) = match step {
        Step::Kind => (html! {}, striking::choose(job, &like()?)),
        Step::Count(n) => {
            let (part, place) = &counted.places[n];
            let place = AskedPlace {
                part: *part,
                place,
                typed: typed.count.as_deref(),
                from: wanted.from.as_deref(),
            };
            (
                counting::drawing(job, &counted, &place),
                counting::question(job, described, &place),
            )
        }
        Step::Ask(n) => {
            let says = said::question(locale, questions[n].question, "");
            (
                asking::drawing(job, &counted, &says),
                html! {
                    div.asking {
                        (follows(job, described, wanted.from.as_deref()))
                        (asking::question(job, &counted, &questions[n], open_questions, &AtHand { typed: asked, heard: heard.as_ref() }))
                    }
                },
            )
        }
        Step::Told => {
            let says = say!(locale, "describe-done");
            (
                counting::counted(job, &counted, &says),
                told(job, described, &counted),
            )
        }
    };
    let left = match step {
        Step::Kind | Step::Told => None,
        Step::Count(_) => {
            let open =
                (counted.places.iter()).filter(|(_, place)| place.state == CountState::NotCounted);
            Some(say!(locale, "counting-left", count = open.count()))
        }
        Step::Ask(_) => Some(say!(locale, "describe-left", count = open_questions)),
    };
    let drawn = step != Step::Kind;
    // What a form of its own was refused stands there.
    let above = refused.filter(|_| asked.get("adding").is_none());
    Ok(framed(
        job,
        &At {
            step: &step,
            again: again(job, &step, &counted, &questions),
        },
        left.as_deref(),
        above,
        &html! {
            div.one-screen {
                @if drawn { figure.lies { (drawing) (undo(job, wanted.from.is_some())) } }
                @if drawn { (as_like(job, described, &counted)) }
                (under)
            }
            div.further {
                @if drawn && described.kind().is_none() {
                    (bare::forms(job, &counted, asked, refused))
                    @if described.works().is_empty() { (bare::strikes(job)) }
                }
                @if drawn { p { a.button href=(format!("/job/{}/places", job.id)) { (say!(locale, "lie")) } } }
                @if drawn { p { a.button.plain href=(format!("/job/{}/movement?kind", job.id)) { (say!(locale, "describe-other-kind")) } } }
                (text(job, typed.sheet.as_deref()))
                (whole(job))
            }
        },
    ))
}

/// Where in the description a page is, and the address under which the same is asked again.
struct At<'a> {
    step: &'a Step,
    again: String,
}

fn address(job: &Whole) -> String {
    format!("/job/{}/movement", job.id)
}

/// The address under which what a page asks is asked again, however far the description has come by then.
fn again(job: &Whole, step: &Step, counted: &BeingCounted, questions: &[AskedQuestion]) -> String {
    let address = address(job);
    match step {
        Step::Kind => format!("{address}?kind"),
        Step::Count(n) => format!("{address}?at={}", counting::name(&counted.places[*n].1)),
        Step::Ask(n) => format!("{address}?ask={}", questions[*n].question.id),
        Step::Told => address,
    }
}

fn framed(
    job: &Whole,
    at: &At<'_>,
    left: Option<&str>,
    refused: Option<&Refused>,
    within: &Markup,
) -> Markup {
    let locale = &job.locale;
    let main = html! {
        main #main.job.describing data-step=(at.step.name()) data-again=(at.again) data-job=(job.id) data-entries=(job.entries()) {
            @if let Some(refused) = refused { p.refused role="alert" { (refused.say(locale)) } }
            (within)
        }
    };
    frame(locale, &job.name, left, &main)
}

/// Takes every count that nobody confirmed yet as it is on the like clock.
fn as_like(job: &Whole, described: &Described, counted: &BeingCounted) -> Markup {
    let doubtful = |place: &CountPlace| matches!(place.state, CountState::NotSure(_));
    let mut places = counted.places.iter().map(|(_, place)| place);
    let waits = places.any(|place| place.as_like && doubtful(place));
    html! {
        @if let Some(like) = described.like().filter(|_| waits) {
            form.as-like method="post" action=(format!("/job/{}/movement/as-like", job.id)) {
                input type="hidden" name="entries" value=(job.entries());
                button { (say!(job.locale, "describe-as-like", like = like)) }
            }
        }
    }
}

/// What is as on the like clock and was not counted on this one: each may still be.
fn not_counted(job: &Whole, described: &Described, counted: &BeingCounted) -> Markup {
    let locale = &job.locale;
    let places = counted.places.iter().map(|(_, place)| place);
    let taken =
        |place: &&CountPlace| place.as_like && matches!(place.state, CountState::Counted(_));
    let open: Vec<&CountPlace> = places.filter(taken).collect();
    html! {
        @if let Some(like) = described.like().filter(|_| !open.is_empty()) {
            details.not-counted {
                summary { (say!(locale, "describe-as-like-left", like = like, count = open.len())) }
                ul.count-again {
                    @for place in open {
                        li { a.button.plain href=(format!("/job/{}/movement?at={}", job.id, counting::name(place))) { (said::part(locale, &place.id)) } }
                    }
                }
            }
        }
    }
}

/// Takes back what was told last, where something just was.
fn undo(job: &Whole, offered: bool) -> Markup {
    html! {
        @if offered {
            form.undo method="post" action=(format!("/job/{}/movement/undo", job.id)) {
                input type="hidden" name="entries" value=(job.entries());
                button.plain { (say!(job.locale, "counting-undo")) }
            }
        }
    }
}

/// Everything is told: on to the train, or to what is lost.
fn told(job: &Whole, described: &Described, counted: &BeingCounted) -> Markup {
    let locale = &job.locale;
    let lost = (counted.places.iter()).filter(|(_, place)| place.state == CountState::Lost);
    let lost = lost.count();
    let doubted = (counted.places.iter())
        .filter(|(_, place)| place.as_like || matches!(place.state, CountState::NotSure(_)))
        .count();
    let follows = described.follows();
    let wrong = follows.iter().find(|follow| !follow.right);
    html! {
        section.asking {
            @if described.kind().is_none() && described.works().is_empty() {
                h1 #sentence tabindex="-1" { (say!(locale, "bare-next")) }
                p #beneath.quiet { (say!(locale, "bare-next-about")) }
            } @else if let Some(wrong) = wrong {
                h1 #sentence tabindex="-1" { (say!(locale, "describe-again")) }
                (all_that_follows(job, described))
                ul.count-again {
                    @for part in likely(wrong) {
                        li { a.button href=(format!("/job/{}/movement?at={part}", job.id)) { (say!(locale, "describe-count-again", part = report::page::named(&part.replace('.', " ")))) } }
                    }
                }
            } @else {
                h1 #sentence tabindex="-1" { (say!(locale, "describe-done")) }
            }
            @if described.kind().is_none() && described.works().is_empty() {
                p.forward { a.button href=(format!("/job/{}", job.id)) { (say!(locale, "describe-time")) } }
            } @else if wrong.is_some() {
                p #beneath.quiet { (say!(locale, "describe-again-how")) }
                p.forward { a.button href=(format!("/job/{}", job.id)) { (say!(locale, "describe-time")) } }
            } @else if lost == 0 {
                p #beneath.quiet { (say!(locale, "describe-done-all", count = doubted)) }
                (all_that_follows(job, described))
                p.forward { a.button.primary href=(format!("/job/{}", job.id)) data-next { (say!(locale, "describe-time")) } }
            } @else {
                p #beneath { (say!(locale, "describe-done-lost", count = lost)) }
                @if let Some(asked) = counting::lifters_open(described) {
                    p { (say!(locale, "describe-pins-first")) " " a.button href=(format!("/job/{}/movement?ask={asked}", job.id)) { (say!(locale, "describe-count-pins")) } }
                }
                p.forward { a.button.primary href=(format!("/job/{}/counts", job.id)) data-next { (say!(locale, "describe-find")) } }
            }
            (not_counted(job, described, counted))
            (answers(job, described))
        }
    }
}

/// The parts that were likeliest miscounted, each once.
fn likely(follow: &Follow) -> Vec<String> {
    const MOST: usize = 3;
    let mut parts = Vec::new();
    for miscount in &follow.miscounts {
        if let LikelyMiscount::Part { id, .. } = miscount {
            let name = format!("{}.{}", id.arbor, id.part);
            if !parts.contains(&name) {
                parts.push(name);
            }
        }
    }
    parts.truncate(MOST);
    parts
}

/// All that follows from the counts.
fn all_that_follows(job: &Whole, described: &Described) -> Markup {
    html! {
        ul.all-follows {
            @for follow in described.follows() { li.refused[!follow.right] { (said::follow(&job.locale, &follow, counting::lifters(described))) } }
        }
    }
}

/// Every question with how it was answered, to be asked again.
fn answers(job: &Whole, described: &Described) -> Markup {
    let locale = &job.locale;
    let questions = described.questions();
    html! {
        @if !questions.is_empty() {
            details {
                summary { (say!(locale, "describe-questions")) }
                ul.answers {
                    @for asked in &questions {
                        li {
                            a.button.plain href=(format!("/job/{}/movement?ask={}", job.id, asked.question.id)) {
                                (said::question(locale, asked.question, ""))
                            }
                            " "
                            @match &asked.answer {
                                PresentAnswer::Choice(choice) => (said::choice(locale, asked.question, choice)),
                                PresentAnswer::Arbor(arbor) => (report::page::named(arbor)),
                                PresentAnswer::Count(count) => (count),
                                PresentAnswer::DontKnow => (say!(locale, "describe-unknown")),
                                PresentAnswer::Usual => (say!(locale, "describe-usual")),
                                _ => {},
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The sheet as text, folded away until it is asked for or was refused.
fn text(job: &Whole, typed: Option<&str>) -> Markup {
    let locale = &job.locale;
    html! {
        details.as-text open[typed.is_some()] {
            summary { (say!(locale, "counting-text")) }
            form method="post" action=(format!("/job/{}/movement/sheet", job.id)) {
                input type="hidden" name="entries" value=(job.entries());
                label {
                    span.visually-hidden { (say!(locale, "counting-text")) }
                    textarea name="sheet" rows="16" spellcheck="false" autocapitalize="off" { (typed.unwrap_or(&job.sheet)) }
                }
                button { (say!(locale, "counting-text-enter")) }
            }
        }
    }
}

fn whole(job: &Whole) -> Markup {
    html! { p.whole { a.button.plain href=(format!("/job/{}/way", job.id)) { (say!(job.locale, "counting-whole")) } } }
}
