//! The words and units of the pages, chosen by a plain form and kept by the browser.

use crate::asked::{Answer, PageRequest, on_to, read, sent, write};
use crate::desk::Desk;
use crate::form::Fields;
use crate::frame::frame;
use crate::speech::{LANGS, UNITS, USAGES, cookie, named};
use axum::Router;
use axum::http::StatusCode;
use axum::http::header::SET_COOKIE;
use axum::response::IntoResponse;
use maud::{Markup, html};
use report::{Lang, Units, Usage, Words, say};
use std::sync::Arc;

pub(super) fn routes() -> Router<Arc<Desk>> {
    Router::new().route("/settings", read(choose).merge(write(choose_words)))
}

/// The page of settings.
pub(crate) fn settings(words: &Words) -> Markup {
    let language = |lang: Lang| match lang {
        Lang::English => say!(words, "settings-english"),
        Lang::German => say!(words, "settings-german"),
        Lang::Stretched => say!(words, "settings-stretched"),
    };
    let usage = |usage: Usage| match usage {
        Usage::British => say!(words, "settings-british"),
        Usage::American => say!(words, "settings-american"),
    };
    let lengths = |units: Units| match units {
        Units::Millimetre => say!(words, "settings-millimetre"),
        Units::Inch => say!(words, "settings-inch"),
    };
    // The test language is there for those who have it already.
    let shown = |lang: Lang| lang != Lang::Stretched || words.lang() == lang;
    let main = html! {
        main #main.plain-page {
            h1 #sentence tabindex="-1" { (say!(words, "settings")) }
            form.settings method="post" action="/settings" data-whole {
                fieldset {
                    legend { (say!(words, "settings-language")) }
                    @for (name, lang) in LANGS {
                        @if shown(lang) { (choice("language", name, &language(lang), lang == words.lang())) }
                    }
                }
                fieldset {
                    legend { (say!(words, "settings-usage")) }
                    @for (name, which) in USAGES { (choice("usage", name, &usage(which), which == words.usage())) }
                }
                fieldset {
                    legend { (say!(words, "settings-lengths")) }
                    @for (name, units) in UNITS { (choice("units", name, &lengths(units), units == words.units())) }
                }
                button.primary { (say!(words, "settings-keep")) }
            }
        }
    };
    frame(words, &say!(words, "settings"), None, &main)
}

fn choice(field: &str, value: &str, words: &str, chosen: bool) -> Markup {
    html! {
        label.check {
            input type="radio" name=(field) value=(value) checked[chosen];
            span { (words) }
        }
    }
}

/// What a form chose; what it leaves out stays as it was.
pub(crate) fn chosen(fields: &Fields, before: &Words) -> Words {
    let get = |name| fields.get(name).unwrap_or_default();
    let lang = named(&LANGS, get("language")).unwrap_or(before.lang());
    let usage = named(&USAGES, get("usage")).unwrap_or(before.usage());
    let units = named(&UNITS, get("units")).unwrap_or(before.units());
    Words::of(lang, usage).with(units)
}

fn choose(asked: &PageRequest) -> Answer {
    Ok(sent(StatusCode::OK, settings(&asked.words)))
}

/// Keeps what was chosen, and goes back to the bench.
fn choose_words(asked: &PageRequest) -> Answer {
    let chosen = chosen(&asked.fields, &asked.words);
    Ok(([(SET_COOKIE, cookie(&chosen))], on_to("/")).into_response())
}
