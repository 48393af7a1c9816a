//! What names a person is removed from a job: what that empties, where else it stands and may be emptied along, and what may still
//! name somebody afterwards.

use crate::asked::{Answer, PageRequest, heavy, on_to, sent, write};
use crate::desk::{Desk, Refused};
use crate::form::said::yes;
use crate::frame::{frame, named};
use axum::Router;
use axum::http::StatusCode;
use book::{EntryPlace, JobId};
use entries::{Entry, Likeness};
use maud::{Markup, html};
use report::{Locale, say};
use serde::Deserialize;
use std::collections::BTreeSet;
use std::sync::Arc;
use tasks::{Elsewhere, Removal};

pub(super) fn routes() -> Router<Arc<Desk>> {
    let page = heavy(|asked| page(asked, None)).merge(write(remove));
    Router::new().route("/job/{id}/remove", page)
}

fn page(asked: &PageRequest, why: Option<&Refused>) -> Answer {
    let id = asked.id()?;
    let removal = asked.desk.removal(id)?;
    let status = why.map_or(StatusCode::OK, Refused::status);
    Ok(sent(status, shown(&asked.locale, id, &removal, why)))
}

/// What is to be done about a removal.
#[derive(Deserialize)]
struct Wished {
    /// What else stands in the book may stay.
    #[serde(deserialize_with = "yes")]
    stay: bool,
    /// It is meant.
    #[serde(deserialize_with = "yes")]
    sure: bool,
    /// The entries that are ticked.
    along: Vec<String>,
}

fn remove(asked: &PageRequest) -> Answer {
    let done = || -> Result<JobId, Refused> {
        let id = asked.id()?;
        let entries = asked.entries()?;
        let wished: Wished = asked.fields.read()?;
        if wished.stay {
            asked.desk.book.let_stay(id)?;
            return Ok(id);
        }
        if !wished.sure {
            return Err(Refused::Nothing);
        }
        let along =
            (wished.along.iter()).map(|ticked| ticked.parse().map_err(|_| Refused::Nothing));
        let along = along.collect::<Result<BTreeSet<_>, _>>()?;
        asked.desk.remove(id, entries, &along)?;
        Ok(id)
    };
    match done() {
        Ok(id) => Ok(on_to(&format!("/job/{id}/way"))),
        Err(why) => page(asked, Some(&why)),
    }
}

fn shown(locale: &Locale, id: JobId, removal: &Removal, why: Option<&Refused>) -> Markup {
    let before = !removal.personal.is_empty();
    let nothing = !before && removal.elsewhere.is_empty();
    let title = match (before, nothing) {
        (true, _) => say!(locale, "way-remove"),
        (_, true) => say!(locale, "removal-nothing"),
        _ => say!(locale, "removal-after"),
    };
    let name = named(locale, &removal.name);
    let main = html! {
        main #main.plain-page.removal {
            h1 #sentence tabindex="-1" { (title) }
            @if let Some(why) = why { p.refused role="alert" { (why.say(locale)) } }
            p { a.button.plain href=(format!("/job/{id}/way")) { (say!(locale, "removal-back", name = name.as_str())) } }
            @if before {
                p { (say!(locale, "way-remove-about")) }
                ul.hits { @for entry in &removal.personal { li { (dated_entry(entry, &report::work::personal(locale, entry))) } } }
            }
            @if !nothing { (form(locale, id, removal)) }
            @if !before && !nothing {
                form method="post" action=(format!("/job/{id}/remove")) data-whole {
                    input type="hidden" name="entries" value=(removal.entries);
                    input type="hidden" name="stay" value="yes";
                    p { (say!(locale, "removal-stay-about")) }
                    button.plain { (say!(locale, "removal-stay")) }
                }
            }
        }
    };
    frame(locale, &title, Some(&name), &main)
}

/// What is emptied along, and the word that it is meant.
fn form(locale: &Locale, id: JobId, removal: &Removal) -> Markup {
    let before = !removal.personal.is_empty();
    let of = |likeness| (removal.elsewhere.iter()).filter(move |it| it.likeness == likeness);
    html! {
        form method="post" action=(format!("/job/{id}/remove")) data-whole {
            input type="hidden" name="entries" value=(removal.entries);
            @if of(Likeness::Whole).next().is_some() {
                h2 { (say!(locale, "removal-whole")) }
                p { (say!(locale, "removal-whole-about")) }
                ul.hits { @for it in of(Likeness::Whole) { (tick(locale, it)) } }
            }
            @if of(Likeness::Part).next().is_some() {
                @if before {
                    h2 { (say!(locale, "removal-part")) }
                    p { (say!(locale, "removal-part-about")) }
                } @else {
                    p { (say!(locale, "removal-after-about")) }
                }
                ul.hits { @for it in of(Likeness::Part) { (tick(locale, it)) } }
                @if removal.more > 0 { p { (say!(locale, "removal-more", count = removal.more)) } }
            }
            @if !removal.fixed.is_empty() {
                h2 { (say!(locale, "removal-fixed")) }
                p { (say!(locale, "removal-fixed-about")) }
                ul.hits {
                    @for it in &removal.fixed {
                        li { a href=(address(it.place)) { (place(locale, &it.name, it.place.n)) } }
                    }
                }
            }
            @for point in &removal.points { p { (say!(locale, "removal-point-of-shop", says = point.says.as_str())) } }
            label.check { input type="checkbox" name="sure" value="yes" required; span { (say!(locale, "way-remove-sure")) } }
            button { @if before { (say!(locale, "way-remove-do")) } @else { (say!(locale, "removal-empty")) } }
        }
    }
}

/// An entry that may be emptied along.
fn tick(locale: &Locale, it: &Elsewhere) -> Markup {
    let at = it.place();
    let name = named(locale, &it.name);
    html! {
        li {
            label.check {
                input type="checkbox" name="along" value=(at) checked[it.along];
                span {
                    b { (place(locale, &name, at.n)) } " " (dated_entry(&it.entry, &report::work::of_its_kind(locale, &it.entry, |field| it.fields.contains(field))))
                    @if it.fields.contains("clock") { " " (say!(locale, "removal-clock")) }
                }
            }
            a href=(address(it.place())) aria-label=(say!(locale, "removal-show-of", name = name, n = at.n)) { (say!(locale, "removal-show")) }
        }
    }
}

/// The day of an entry, and what is said of it.
fn dated_entry(entry: &Entry, said: &str) -> Markup {
    html! {
        @if let Some(at) = &entry.at { time { (at) } " " }
        (said)
    }
}

fn place(locale: &Locale, name: &str, n: usize) -> String {
    match n {
        0 => say!(locale, "removal-beginning", name = name),
        n => say!(locale, "removal-entry", name = name, n = n),
    }
}

/// Where an entry is looked at among all of its job.
fn address(place: EntryPlace) -> String {
    let EntryPlace { job, n } = place;
    match n {
        0 => format!("/job/{job}/way"),
        n => format!("/job/{job}/way#entry-{n}"),
    }
}
