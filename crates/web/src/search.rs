//! Looking for words in everything that was ever entered.

use crate::page::frame;
use book::Hit;
use maud::{Markup, html};
use report::{Words, say};

/// So many are shown; more than that is no answer to a question.
pub(crate) const MOST: usize = 60;

/// So much of an entry is shown: two lines of a page.
const SHOWN: usize = 240;

/// The field that is asked with, on every page that has it.
pub(crate) fn field(words: &Words, asked: &str) -> Markup {
    html! {
        form.search role="search" method="get" action="/search" {
            label { span { (say!(words, "search")) } input type="search" name="for" value=(asked); }
            button { (say!(words, "search-do")) }
        }
    }
}

pub(crate) fn search(words: &Words, asked: &str, hits: &[Hit]) -> Markup {
    let main = html! {
        main #main.plain-page {
            h1 #sentence tabindex="-1" {
                @if asked.is_empty() { (say!(words, "search")) }
                @else if hits.len() > MOST { (say!(words, "search-most", count = MOST)) }
                @else { (say!(words, "search-found", count = hits.len())) }
            }
            (field(words, asked))
            ol.hits {
                @for hit in hits.iter().take(MOST) {
                    li {
                        a href=(format!("/job/{}/way", hit.job)) { (hit.name) }
                        p.quiet {
                            @if hit.n > 0 { (hit.n) ". " }
                            (hit.said.chars().take(SHOWN).collect::<String>())
                        }
                    }
                }
            }
        }
    };
    frame(words, &say!(words, "search"), None, &main)
}
