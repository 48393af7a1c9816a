//! What a movement carries: one question at a time, each with *don't know* and *as usual*.

use super::counting::keys;
use super::picture::CountPicture;
use super::striking::pictured;
use crate::desk::{Refused, Whole};
use crate::form::{FieldFault, Fields, plain};
use maud::{Markup, html};
use movement::Turning;
use quantity::{Duration, Known, Length, typed_in};
use report::page::describing as said;
use report::{Locale, page, say};
use serde::Deserialize;
use tasks::{
    AskedFor, AskedQuestion, BeingCounted, MeasuredPace, MeasuredWidth, PresentAnswer, Question,
    QuestionAnswer, WorkRole,
};

/// The drawing beside a question.
pub(super) fn drawing(job: &Whole, counted: &BeingCounted, says: &str) -> Markup {
    CountPicture::of(counted, job.view(), None, None).alone(says)
}

/// What is at hand for an answer: what was typed, where that was refused, and the pace of what was listened to last.
pub(super) struct AtHand<'a> {
    pub(super) typed: &'a Fields,
    pub(super) heard: Option<&'a MeasuredPace>,
}

/// The question with its answers.
pub(super) fn question(
    job: &Whole,
    counted: &BeingCounted,
    asked: &AskedQuestion,
    left: usize,
    at_hand: &AtHand<'_>,
) -> Markup {
    let locale = &job.locale;
    html! {
        form.asking method="post" action=(format!("/job/{}/movement/answer", job.id)) {
            input type="hidden" name="entries" value=(job.entries());
            input type="hidden" name="question" value=(asked.question.id);
            h1 #sentence tabindex="-1" { (said::question(locale, asked.question, &first(counted))) }
            (answers(locale, counted, asked, at_hand))
            div.either {
                button name="answer" value=(UNKNOWN) { (say!(locale, "describe-unknown")) }
                button name="answer" value=(USUAL) { (say!(locale, "describe-usual")) }
            }
            @if left > 1 {
                button formaction=(format!("/job/{}/movement/rest", job.id)) { (say!(locale, "describe-rest")) }
            }
        }
    }
}

/// The arbor where power comes in: the first that is counted.
fn first(counted: &BeingCounted) -> String {
    let first = counted.places.first();
    first.map_or_else(String::new, |(_, place)| place.id.arbor.clone())
}

/// As no question has it among its own answers.
const UNKNOWN: &str = "?";
const USUAL: &str = "usual";
/// The pace of what was listened to.
pub(super) const HEARD: &str = "heard";

fn answers(
    locale: &Locale,
    counted: &BeingCounted,
    asked: &AskedQuestion,
    at_hand: &AtHand<'_>,
) -> Markup {
    let typed = at_hand.typed;
    match &asked.question.asks {
        AskedFor::Choice { choices, .. } => html! {
            div.chosen-by-picture {
                @for choice in choices {
                    button name="answer" value=(choice.id) aria-pressed=[is(asked, &PresentAnswer::Choice(choice.id.clone()))] {
                        (pictured(choice.picture.as_deref()))
                        span { (said::choice(locale, asked.question, &choice.id)) }
                    }
                }
            }
        },
        AskedFor::Arbor { .. } => html! {
            div #which.arbors {
                @for arbor in arbors(counted) {
                    button name="answer" value=(arbor) aria-pressed=[is(asked, &PresentAnswer::Arbor(arbor.clone()))] { (page::named(&arbor)) }
                }
            }
        },
        AskedFor::Way { .. } => html! {
            div.chosen-by-picture {
                @for (word, way) in WAYS {
                    button name="answer" value=(word) aria-pressed=[is(asked, &PresentAnswer::Way(way))] {
                        (arrow(way))
                        span { (say!(locale, "describe-way-as", way = word)) }
                    }
                }
            }
        },
        AskedFor::Count { .. } => html! {
            label.typed.seen {
                span.visually-hidden { (said::question(locale, asked.question, "")) }
                input #count type="text" name="count" inputmode="numeric" autocomplete="off" maxlength="5" value=[count(asked, typed)];
            }
            (keys(locale, &html! { button.primary name="answer" value="" data-next { (say!(locale, "counting-next")) } }))
        },
        AskedFor::Width { of, .. } => html! {
            p.quiet { (say!(locale, "describe-width-how", question = asked.question.id.as_str())) }
            div.row data-boxes {
                label { span { (say!(locale, "describe-wide")) } input type="text" name="wide" inputmode="decimal" maxlength="200" value=[typed.get("wide")]; }
                label { span { (say!(locale, "describe-across", of = across(*of))) } input type="text" name="across" inputmode="decimal" maxlength="200" value=[typed.get("across")]; }
                button.primary name="answer" value="" data-next { (say!(locale, "describe-enter")) }
            }
        },
        AskedFor::Pace => html! {
            p.quiet { (say!(locale, "describe-pace-how")) }
            div.row data-boxes {
                label { span { (say!(locale, "describe-pace-blows")) } input type="text" name="blows" inputmode="numeric" maxlength="5" value=[typed.get("blows")]; }
                label { span { (say!(locale, "describe-pace-seconds")) } input type="text" name="seconds" inputmode="decimal" maxlength="200" value=[typed.get("seconds")]; }
                label { span { (say!(locale, "describe-pace-fall")) } input type="text" name="fall" inputmode="decimal" maxlength="200" value=[typed.get("fall")]; }
                button.primary name="answer" value="" data-next { (say!(locale, "describe-enter")) }
            }
            @if let Some(heard) = at_hand.heard {
                button name="answer" value=(HEARD) { (report::listen::pace_heard(locale, heard)) }
            }
        },
    }
}

/// Whether an answer is the present one; nothing where nothing was answered.
fn is(asked: &AskedQuestion, answer: &PresentAnswer) -> Option<&'static str> {
    (asked.answer == *answer).then_some("true")
}

fn count(asked: &AskedQuestion, typed: &Fields) -> Option<String> {
    let present = match asked.answer {
        PresentAnswer::Count(count) => Some(count.to_string()),
        _ => None,
    };
    typed.get("count").map(str::to_owned).or(present)
}

fn across(of: WorkRole) -> &'static str {
    match of {
        WorkRole::CountLever => "count-lever",
        _ => "other",
    }
}

const WAYS: [(&str, Turning); 2] = [
    ("clockwise", Turning::Clockwise),
    ("counterclockwise", Turning::Counterclockwise),
];

/// An arrow round a wheel.
fn arrow(way: Turning) -> Markup {
    let way = match way {
        Turning::Clockwise => "M22 62A32 32 0 1 1 78 62M78 62l4-15M78 62l-15-4",
        Turning::Counterclockwise => "M78 62A32 32 0 1 0 22 62M22 62l-4-15M22 62l15-4",
    };
    html! {
        svg.way-round viewBox="0 0 100 84" aria-hidden="true" { path d=(way) {} circle cx="50" cy="46" r="5" {} }
    }
}

/// The arbors that are counted, in their order.
fn arbors(counted: &BeingCounted) -> Vec<String> {
    let mut arbors: Vec<String> = Vec::new();
    for (_, place) in &counted.places {
        if !arbors.contains(&place.id.arbor) {
            arbors.push(place.id.arbor.clone());
        }
    }
    arbors
}

/// An answer that is sent.
#[derive(Deserialize)]
struct Sent {
    answer: Option<String>,
    count: Option<String>,
    wide: Option<String>,
    across: Option<String>,
    blows: Option<String>,
    seconds: Option<String>,
    fall: Option<String>,
}

/// What was answered to a question; `heard` is the pace of what was listened to.
pub(super) fn answered(
    question: &Question,
    fields: &Fields,
    heard: Option<MeasuredPace>,
) -> Result<QuestionAnswer, Refused> {
    let sent: Sent = fields.read()?;
    let said = sent.answer.as_deref().unwrap_or_default();
    match said {
        UNKNOWN => return Ok(QuestionAnswer::DontKnow),
        USUAL => return Ok(QuestionAnswer::Usual),
        _ => {}
    }
    Ok(match &question.asks {
        AskedFor::Choice { .. } => QuestionAnswer::Choice(said.to_owned()),
        AskedFor::Arbor { .. } => QuestionAnswer::Arbor(said.to_owned()),
        AskedFor::Way { .. } => {
            let way = WAYS.iter().find(|(word, _)| *word == said);
            QuestionAnswer::Way(way.ok_or(Refused::Nothing)?.1)
        }
        AskedFor::Count { .. } => {
            let typed = sent.count.as_deref().unwrap_or_default();
            let count = plain(typed).parse().ok().filter(|count| *count > 0);
            QuestionAnswer::Count(count.ok_or_else(|| FieldFault::of("count", typed))?)
        }
        AskedFor::Width { .. } => {
            let mm = |field: &str, typed: &Option<String>| {
                let typed = typed.as_deref().unwrap_or_default();
                let read = typed_in::<Length>(typed, "mm").ok();
                let above_nought = read.filter(|read| read.known.value.as_mm() > 0.0);
                (above_nought.map(|read| read.known)).ok_or_else(|| FieldFault::of(field, typed))
            };
            QuestionAnswer::Width(MeasuredWidth {
                wide: mm("wide", &sent.wide)?,
                across: mm("across", &sent.across)?,
            })
        }
        AskedFor::Pace if said == HEARD => QuestionAnswer::Pace(heard.ok_or(Refused::NoRecording)?),
        AskedFor::Pace => QuestionAnswer::Pace(timed(&sent)?),
    })
}

/// A pace by the time from the first of some blows to the last.
fn timed(sent: &Sent) -> Result<MeasuredPace, FieldFault> {
    let typed = |typed: &Option<String>| typed.clone().unwrap_or_default();
    let seconds = |field: &str, text: &str| {
        let read = typed_in::<Duration>(text, "s").ok();
        let above_nought = read.filter(|read| read.known.value.as_s() > 0.0);
        (above_nought.map(|read| read.known)).ok_or_else(|| FieldFault::of(field, text))
    };
    let blows = typed(&sent.blows);
    let steps = plain(blows.trim()).parse::<u16>().ok();
    let steps = steps
        .and_then(|blows| blows.checked_sub(1))
        .filter(|n| *n > 0);
    let steps = f64::from(steps.ok_or_else(|| FieldFault::of("blows", &blows))?);
    let all = seconds("seconds", &typed(&sent.seconds))?;
    let [each, spread] = [all.value, all.spread].map(|all| Duration::s(all.as_s() / steps));
    let fall = typed(&sent.fall);
    Ok(MeasuredPace {
        blow: Known::new(each, spread),
        fall: match fall.trim().is_empty() {
            true => None,
            false => Some(seconds("fall", &fall)?),
        },
    })
}
