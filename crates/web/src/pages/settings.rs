//! The words and units of the pages, chosen by a plain form and kept by the browser.

use crate::asked::{Answer, PageRequest, on_to, read, sent, write};
use crate::desk::Desk;
use crate::frame::frame;
use crate::speech::{LANGS, UNITS, USAGES, cookie, named};
use axum::Router;
use axum::http::StatusCode;
use axum::http::header::SET_COOKIE;
use axum::response::IntoResponse;
use maud::{Markup, html};
use report::{Lang, Units, Usage, Words, say};
use serde::Deserialize;
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

/// What was chosen, by the names that the cookie has for it.
#[derive(Deserialize)]
struct Chosen {
    language: Option<String>,
    usage: Option<String>,
    units: Option<String>,
}

impl Chosen {
    /// Words so chosen; what was left out stays as it was.
    fn over(&self, before: Words) -> Words {
        let lang = (self.language.as_deref()).and_then(|name| named(&LANGS, name));
        let usage = (self.usage.as_deref()).and_then(|name| named(&USAGES, name));
        let units = (self.units.as_deref()).and_then(|name| named(&UNITS, name));
        let (lang, usage) = (
            lang.unwrap_or(before.lang()),
            usage.unwrap_or(before.usage()),
        );
        Words::of(lang, usage).with(units.unwrap_or(before.units()))
    }
}

fn choose(asked: &PageRequest) -> Answer {
    Ok(sent(StatusCode::OK, settings(&asked.words)))
}

/// Keeps what was chosen, and goes back to the bench.
fn choose_words(asked: &PageRequest) -> Answer {
    let chosen: Chosen = asked.fields.read()?;
    let chosen = chosen.over(asked.words);
    Ok(([(SET_COOKIE, cookie(&chosen))], on_to("/")).into_response())
}
