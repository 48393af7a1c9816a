//! What names a person is removed from a job: what that empties, where else it stands and may be emptied along, and what may still
//! name somebody afterwards.

use crate::asked::{Answer, PageRequest, heavy, on_to, sent, write};
use crate::desk::{Desk, Refused};
use crate::frame::{frame, named};
use axum::Router;
use axum::http::StatusCode;
use book::{EntryPlace, JobId};
use entries::{Entry, Likeness};
use maud::{Markup, html};
use report::{Words, say};
use std::collections::BTreeSet;
use std::sync::Arc;
use tasks::{Elsewhere, Removal};

pub(super) fn routes() -> Router<Arc<Desk>> {
    let page = heavy(|asked| page(asked, None)).merge(write(remove));
    Router::new().route("/job/{id}/remove", page)
}

/// The job and the entry behind a tick.
const ALONG: &str = "along";

fn page(asked: &PageRequest, why: Option<&Refused>) -> Answer {
    let id = asked.id()?;
    let removal = asked.desk.removal(id)?;
    let status = why.map_or(StatusCode::OK, Refused::status);
    Ok(sent(status, shown(&asked.words, id, &removal, why)))
}

fn remove(asked: &PageRequest) -> Answer {
    let done = || -> Result<JobId, Refused> {
        let id = asked.id()?;
        let entries = asked.entries()?;
        if asked.fields.get("stay") == Some("yes") {
            asked.desk.book.let_stay(id)?;
            return Ok(id);
        }
        if asked.fields.get("sure") != Some("yes") {
            return Err(Refused::Nothing);
        }
        asked.desk.remove(id, entries, &along(asked)?)?;
        Ok(id)
    };
    match done() {
        Ok(id) => Ok(on_to(&format!("/job/{id}/way"))),
        Err(why) => page(asked, Some(&why)),
    }
}

/// The entries that are ticked.
fn along(asked: &PageRequest) -> Result<BTreeSet<EntryPlace>, Refused> {
    let place = |value: &str| {
        let (job, n) = value.split_once(':')?;
        Some(EntryPlace {
            job: job.parse().ok()?,
            n: n.parse().ok()?,
        })
    };
    let ticked = asked.fields.0.iter().filter(|(name, _)| name == ALONG);
    ticked
        .map(|(_, value)| place(value).ok_or(Refused::Nothing))
        .collect()
}

fn shown(words: &Words, id: JobId, removal: &Removal, why: Option<&Refused>) -> Markup {
    let before = !removal.personal.is_empty();
    let nothing = !before && removal.elsewhere.is_empty();
    let title = match (before, nothing) {
        (true, _) => say!(words, "way-remove"),
        (_, true) => say!(words, "removal-nothing"),
        _ => say!(words, "removal-after"),
    };
    let name = named(words, &removal.name);
    let main = html! {
        main #main.plain-page.removal {
            h1 #sentence tabindex="-1" { (title) }
            @if let Some(why) = why { p.refused role="alert" { (why.say(words)) } }
            p { a.button.plain href=(format!("/job/{id}/way")) { (say!(words, "removal-back", name = name.as_str())) } }
            @if before {
                p { (say!(words, "way-remove-about")) }
                ul.hits { @for entry in &removal.personal { li { (told(entry, &report::work::personal(words, entry))) } } }
            }
            @if !nothing { (form(words, id, removal)) }
            @if !before && !nothing {
                form method="post" action=(format!("/job/{id}/remove")) data-whole {
                    input type="hidden" name="entries" value=(removal.entries);
                    input type="hidden" name="stay" value="yes";
                    p { (say!(words, "removal-stay-about")) }
                    button.plain { (say!(words, "removal-stay")) }
                }
            }
        }
    };
    frame(words, &title, Some(&name), &main)
}

/// What is emptied along, and the word that it is meant.
fn form(words: &Words, id: JobId, removal: &Removal) -> Markup {
    let before = !removal.personal.is_empty();
    let of = |likeness| (removal.elsewhere.iter()).filter(move |it| it.likeness == likeness);
    html! {
        form method="post" action=(format!("/job/{id}/remove")) data-whole {
            input type="hidden" name="entries" value=(removal.entries);
            @if of(Likeness::Whole).next().is_some() {
                h2 { (say!(words, "removal-whole")) }
                p { (say!(words, "removal-whole-about")) }
                ul.hits { @for it in of(Likeness::Whole) { (tick(words, it)) } }
            }
            @if of(Likeness::Part).next().is_some() {
                @if before {
                    h2 { (say!(words, "removal-part")) }
                    p { (say!(words, "removal-part-about")) }
                } @else {
                    p { (say!(words, "removal-after-about")) }
                }
                ul.hits { @for it in of(Likeness::Part) { (tick(words, it)) } }
                @if removal.more > 0 { p { (say!(words, "removal-more", count = removal.more)) } }
            }
            @if !removal.fixed.is_empty() {
                h2 { (say!(words, "removal-fixed")) }
                p { (say!(words, "removal-fixed-about")) }
                ul.hits {
                    @for it in &removal.fixed {
                        li { a href=(address(it.place)) { (place(words, &it.name, it.place.n)) } }
                    }
                }
            }
            @for point in &removal.points { p { (say!(words, "removal-point-of-shop", says = point.says.as_str())) } }
            label.check { input type="checkbox" name="sure" value="yes" required; span { (say!(words, "way-remove-sure")) } }
            button { @if before { (say!(words, "way-remove-do")) } @else { (say!(words, "removal-empty")) } }
        }
    }
}

/// An entry that may be emptied along.
fn tick(words: &Words, it: &Elsewhere) -> Markup {
    let EntryPlace { job, n } = it.place();
    let name = named(words, &it.name);
    html! {
        li {
            label.check {
                input type="checkbox" name=(ALONG) value=(format!("{job}:{n}")) checked[it.along];
                span {
                    b { (place(words, &name, n)) } " " (told(&it.entry, &report::work::of_its_kind(words, &it.entry, |field| it.fields.contains(field))))
                    @if it.fields.contains("clock") { " " (say!(words, "removal-clock")) }
                }
            }
            a href=(address(it.place())) aria-label=(say!(words, "removal-show-of", name = name, n = n)) { (say!(words, "removal-show")) }
        }
    }
}

/// The day of an entry, and what is said of it.
fn told(entry: &Entry, said: &str) -> Markup {
    html! {
        @if let Some(at) = &entry.at { time { (at) } " " }
        (said)
    }
}

fn place(words: &Words, name: &str, n: usize) -> String {
    match n {
        0 => say!(words, "removal-beginning", name = name),
        n => say!(words, "removal-entry", name = name, n = n),
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
