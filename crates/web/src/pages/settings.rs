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
use report::{Lang, Locale, Units, Usage, say};
use serde::Deserialize;
use std::sync::Arc;

pub(super) fn routes() -> Router<Arc<Desk>> {
    Router::new().route("/settings", read(choose).merge(write(choose_locale)))
}

/// The page of settings.
pub(crate) fn settings(locale: &Locale) -> Markup {
    let language = |lang: Lang| match lang {
        Lang::English => say!(locale, "settings-english"),
        Lang::German => say!(locale, "settings-german"),
        Lang::Stretched => say!(locale, "settings-stretched"),
    };
    let usage = |usage: Usage| match usage {
        Usage::British => say!(locale, "settings-british"),
        Usage::American => say!(locale, "settings-american"),
    };
    let lengths = |units: Units| match units {
        Units::Millimetre => say!(locale, "settings-millimetre"),
        Units::Inch => say!(locale, "settings-inch"),
    };
    // The test language is there for those who have it already.
    let shown = |lang: Lang| lang != Lang::Stretched || locale.lang() == lang;
    let main = html! {
        main #main.plain-page {
            h1 #sentence tabindex="-1" { (say!(locale, "settings")) }
            form.settings method="post" action="/settings" data-whole {
                fieldset {
                    legend { (say!(locale, "settings-language")) }
                    @for (name, lang) in LANGS {
                        @if shown(lang) { (choice("language", name, &language(lang), lang == locale.lang())) }
                    }
                }
                fieldset {
                    legend { (say!(locale, "settings-usage")) }
                    @for (name, which) in USAGES { (choice("usage", name, &usage(which), which == locale.usage())) }
                }
                fieldset {
                    legend { (say!(locale, "settings-lengths")) }
                    @for (name, units) in UNITS { (choice("units", name, &lengths(units), units == locale.units())) }
                }
                button.primary { (say!(locale, "settings-keep")) }
            }
        }
    };
    frame(locale, &say!(locale, "settings"), None, &main)
}

fn choice(field: &str, value: &str, says: &str, chosen: bool) -> Markup {
    html! {
        label.check {
            input type="radio" name=(field) value=(value) checked[chosen];
            span { (says) }
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
    fn over(&self, before: Locale) -> Locale {
        let lang = (self.language.as_deref()).and_then(|name| named(&LANGS, name));
        let usage = (self.usage.as_deref()).and_then(|name| named(&USAGES, name));
        let units = (self.units.as_deref()).and_then(|name| named(&UNITS, name));
        let (lang, usage) = (
            lang.unwrap_or(before.lang()),
            usage.unwrap_or(before.usage()),
        );
        Locale::of(lang, usage).with(units.unwrap_or(before.units()))
    }
}

fn choose(asked: &PageRequest) -> Answer {
    Ok(sent(StatusCode::OK, settings(&asked.locale)))
}

/// Keeps what was chosen, and goes back to the bench.
fn choose_locale(asked: &PageRequest) -> Answer {
    let chosen: Chosen = asked.fields.read()?;
    let chosen = chosen.over(asked.locale);
    Ok(([(SET_COOKIE, cookie(&chosen))], on_to("/")).into_response())
}
