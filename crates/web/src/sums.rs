//! The sums of an overhaul, a page each: missing counts, power, pendulum and rating, oil. Each is answered by its address
//! alone, so that it can be kept, and asked by a plain form that keeps what was typed.
//!
//! No sum is made here: [`tasks`] makes them from the sheet and what was typed.

mod counts;
mod driving;
pub(crate) mod fields;
mod hanging;
mod oiling;
mod searches;

pub(crate) use searches::Searches;

use crate::asked::{Answer, Asked, again, answered, heavy, on_to, sent, write};
use crate::desk::{Desk, Refused, Whole};
use crate::form::{Fields, query};
use crate::page::frame;
use axum::Router;
use axum::http::StatusCode;
use axum::routing::get;
use entries::Stage;
use maud::{Markup, PreEscaped, html};
use report::page::cautions::danger;
use report::{Voice, Words, say, stages};
use std::sync::Arc;
use tasks::Danger;

/// One of the sums.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sum {
    /// Missing and doubtful counts.
    Counts,
    /// What drives each train.
    Power,
    /// Pendulum and rating.
    Pendulum,
    /// Where oil goes.
    Oil,
}

impl Sum {
    const ALL: [Sum; 4] = [Sum::Counts, Sum::Power, Sum::Pendulum, Sum::Oil];

    /// The stage it belongs to.
    pub(crate) fn of(stage: Stage) -> Option<Sum> {
        Sum::ALL.into_iter().find(|sum| sum.stage() == stage)
    }

    fn stage(self) -> Stage {
        match self {
            Sum::Counts => Stage::In,
            Sum::Power => Stage::Down,
            Sum::Pendulum => Stage::Rate,
            Sum::Oil => Stage::Together,
        }
    }

    /// The last of its address, and how messages choose by it.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Sum::Counts => "counts",
            Sum::Power => "power",
            Sum::Pendulum => "pendulum",
            Sum::Oil => "oil",
        }
    }

    /// What it is called.
    pub(crate) fn name(self, words: &Words) -> String {
        say!(words, "sum", sum = self.word())
    }

    fn page(self, asked: &Question<'_>, searches: &Searches) -> Page {
        match self {
            Sum::Counts => counts::page(asked, searches),
            Sum::Power => driving::page(asked),
            Sum::Pendulum => hanging::page(asked),
            Sum::Oil => oiling::page(asked),
        }
    }
}

/// What is asked of a job.
pub(crate) struct Question<'a> {
    pub(crate) job: &'a Whole,
    pub(crate) fields: &'a Fields,
    /// Whether a page of another site leads here: then nothing is begun for it.
    pub(crate) foreign: bool,
}

impl Question<'_> {
    pub(crate) fn words(&self) -> &Words {
        &self.job.words
    }

    pub(crate) fn voice(&self) -> Voice {
        Voice::Page(self.job.words)
    }

    fn sheet(&self) -> &[u8] {
        self.job.sheet.as_bytes()
    }
}

/// The parts of a page, in the order in which they stand.
#[derive(Default)]
struct Page {
    /// The sentence; the page's name where there is none.
    answer: Option<String>,
    /// Why there is none.
    refused: Option<String>,
    /// What to mind before all else.
    first: Vec<Danger>,
    /// The picture and what it shows.
    picture: Option<Picture>,
    /// What is told.
    told: Markup,
    /// What to mind.
    dangers: Vec<Danger>,
    /// What may be asked.
    form: Markup,
    /// Whether it goes on: the page asks again by itself.
    goes_on: bool,
}

impl Page {
    /// A page without an answer.
    fn refused(words: &Words, why: tasks::Refusal, form: Markup) -> Page {
        Page {
            refused: Some(Refused::Wrong(why).say(words)),
            form,
            ..Page::default()
        }
    }
}

/// A drawing, and what it is a picture of.
struct Picture {
    svg: String,
    says: String,
}

impl Picture {
    fn markup(&self) -> Markup {
        html! {
            figure.lies { div.lies-hold role="img" aria-label=(self.says) { (PreEscaped(&self.svg)) } }
        }
    }
}

pub(crate) fn list(lines: &[String]) -> Markup {
    html! { ul { @for line in lines { li { (line) } } } }
}

pub(crate) fn mind(words: &Words, dangers: &[Danger], name: &str) -> Markup {
    html! {
        @if !dangers.is_empty() {
            section.mind aria-labelledby=(name) {
                h2 id=(name) { (say!(words, "cautions")) }
                ul { @for one in dangers { li { (danger(words, one)) } } }
                p { (say!(words, "caution-local")) }
            }
        }
    }
}

/// A page of a sum.
fn markup(sum: Sum, asked: &Question<'_>, page: &Page) -> Markup {
    let words = asked.words();
    let stage = sum.stage();
    let back = format!("/job/{}/way?stage={}", asked.job.id, stage.word());
    let main = html! {
        main #main.sum data-sum=(sum.word()) {
            p.back { a.button.plain href=(back) { (say!(words, "sum-back", stage = stage.word())) } }
            h1 #sentence tabindex="-1" { @match &page.answer { Some(answer) => (answer), None => (sum.name(words)) } }
            @if let Some(why) = &page.refused { p.refused role="alert" { (why) } }
            (mind(words, &page.first, "mind-first"))
            div.part {
                @if let Some(picture) = &page.picture { (picture.markup()) }
                div.lines { (page.told) }
            }
            (mind(words, &page.dangers, "mind"))
            (page.form)
        }
    };
    frame(
        words,
        &asked.job.name,
        Some(&stages::stage(words, stage)),
        &main,
    )
}

pub(crate) fn routes() -> Router<Arc<Desk>> {
    let pages = Sum::ALL.into_iter().fold(Router::new(), |router, sum| {
        let address = format!("/job/{{id}}/{}", sum.word());
        // A search that is waited for takes its turn among the heavy sums.
        let page = match sum {
            Sum::Counts => heavy(|asked| show(Sum::Counts, asked)),
            _ => get(move |asked: Asked| answered(asked, move |asked| show(sum, asked))),
        };
        router.route(&address, page)
    });
    pages.route("/job/{id}/counts/stop", write(stop))
}

fn show(sum: Sum, asked: &Asked) -> Answer {
    let job = asked.whole()?;
    let question = Question {
        job: &job,
        fields: &asked.fields,
        foreign: asked.foreign,
    };
    let page = sum.page(&question, &asked.desk.searches);
    // A sheet that lacks something is no wrong question.
    let wrong = page.refused.is_some() && !asked.fields.0.is_empty();
    let status = if wrong {
        StatusCode::UNPROCESSABLE_ENTITY
    } else {
        StatusCode::OK
    };
    let response = sent(status, markup(sum, &question, &page));
    Ok(if page.goes_on {
        again(response)
    } else {
        response
    })
}

/// Has a search for counts end with what was found so far, and goes back to its page.
fn stop(asked: &Asked) -> Answer {
    let id = asked.id()?;
    asked.desk.searches.stop(id);
    let asked = asked.fields.0.iter();
    let asked = query(asked.map(|(name, value)| (name.as_str(), value.as_str())));
    Ok(on_to(&format!("/job/{id}/counts?{asked}")))
}
