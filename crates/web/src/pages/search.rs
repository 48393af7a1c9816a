//! Looking for words in everything that was ever entered.

use crate::asked::{Answer, PageRequest, read, sent};
use crate::desk::Desk;
use crate::frame::frame;
use axum::Router;
use axum::http::StatusCode;
use book::{FoundIn, Hit};
use maud::{Markup, html};
use report::{Locale, say};
use serde::Deserialize;
use std::sync::Arc;

pub(super) fn routes() -> Router<Arc<Desk>> {
    Router::new().route("/search", read(look_for))
}

/// So many are shown; more than that is no answer to a question.
pub(crate) const MOST: usize = 60;

/// So much of an entry is shown: two lines of a page.
const SHOWN: usize = 240;

/// The field that is asked with, on every page that has it.
pub(crate) fn field(locale: &Locale, asked: &str) -> Markup {
    html! {
        form.search role="search" method="get" action="/search" {
            label { span { (say!(locale, "search")) } input type="search" name="for" value=(asked); }
            button { (say!(locale, "search-do")) }
        }
    }
}

pub(crate) fn search(locale: &Locale, asked: &str, hits: &[Hit]) -> Markup {
    let main = html! {
        main #main.plain-page {
            h1 #sentence tabindex="-1" {
                @if asked.is_empty() { (say!(locale, "search")) }
                @else if hits.len() > MOST { (say!(locale, "search-most", count = MOST)) }
                @else { (say!(locale, "search-found", count = hits.len())) }
            }
            (field(locale, asked))
            ol.hits {
                @for hit in hits.iter().take(MOST) {
                    li {
                        a href=(format!("/job/{}/way", hit.job)) { (hit.name) }
                        p.quiet {
                            @if hit.n > 0 { (hit.n) ". " }
                            @match hit.what {
                                FoundIn::Entry => (hit.said.chars().take(SHOWN).collect::<String>()),
                                FoundIn::Sheet => { (say!(locale, "search-sheet")) " " (around(&hit.said, asked)) }
                                FoundIn::OldSheet => { (say!(locale, "search-old-sheet")) " " (around(&hit.said, asked)) }
                            }
                        }
                    }
                }
            }
        }
    };
    frame(locale, &say!(locale, "search"), None, &main)
}

/// The lines of a sheet from the first on that has a word of what was asked; its beginning, where none is found so.
fn around(sheet: &str, asked: &str) -> String {
    let begins: Vec<String> = asked
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(|word| word.to_lowercase().chars().take(4).collect())
        .collect();
    let has = |line: &str| {
        let line = line.to_lowercase();
        begins.iter().any(|begin| line.contains(begin.as_str()))
    };
    let lines: Vec<&str> = sheet.lines().collect();
    let from = lines.iter().position(|line| has(line)).unwrap_or(0);
    let shown = lines[from.min(lines.len())..].join(" ");
    shown.chars().take(SHOWN).collect()
}

/// What is looked for.
#[derive(Deserialize)]
struct LookedFor {
    #[serde(rename = "for")]
    words: Option<String>,
}

fn look_for(asked: &PageRequest) -> Answer {
    let LookedFor { words } = asked.fields.read()?;
    let sought = words.unwrap_or_default();
    let hits = asked.desk.book.search(&sought, MOST + 1)?;
    Ok(sent(StatusCode::OK, search(&asked.locale, &sought, &hits)))
}
