//! How a page of a sum is laid out.

use super::boxes::{self, BoxesTold};
use super::page::{Page, Sum};
use crate::asked::sent;
use crate::desk::Whole;
use crate::fields::Question;
use crate::form::Fields;
use crate::frame::{frame, mind};
use crate::searches::Searches;
use axum::http::StatusCode;
use axum::response::Response;
use maud::{Markup, html};
use report::{say, stages};

/// A page as it is asked for, its boxes with what was typed there. No search is begun for it.
pub(super) fn with_boxes(sum: &Sum, job: &Whole, ask: &Fields, told: &BoxesTold) -> Response {
    let question = Question {
        job,
        fields: ask,
        foreign: true,
    };
    let page = (sum.page)(&question, &Searches::default());
    let status = told.status.unwrap_or(StatusCode::OK);
    sent(status, markup(sum, &question, &page, told))
}

/// A page of a sum.
pub(super) fn markup(sum: &Sum, asked: &Question<'_>, page: &Page, told: &BoxesTold) -> Markup {
    let locale = asked.locale();
    let stage = sum.stage;
    let back = format!("/job/{}/way?stage={}", asked.job.id, stage.word());
    let main = html! {
        main #main.sum data-sum=(sum.word) {
            p.back { a.button.plain href=(back) { (say!(locale, "sum-back", stage = stage.word())) } }
            h1 #sentence tabindex="-1" { @match &page.answer { Some(answer) => (answer), None => (sum.name(locale)) } }
            @if let Some(why) = &page.refused { p.refused role="alert" { (why) } }
            (mind(locale, &page.first, "mind-first"))
            div.part {
                @if let Some(picture) = &page.picture { (picture.markup()) }
                div.lines { (page.told) }
            }
            (mind(locale, &page.dangers, "mind"))
            (boxes::shown(sum, asked, told))
            (page.form)
        }
    };
    frame(
        locale,
        &asked.job.name,
        Some(&stages::stage(locale, stage)),
        &main,
    )
}
