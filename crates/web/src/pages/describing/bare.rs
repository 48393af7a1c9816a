//! A train that fits no kind: arbors, wheels, pinions and what they mesh with, one by one.

use super::striking::pictured;
use crate::asked::PageRequest;
use crate::desk::{Desk, Refused, Whole};
use crate::form::Fields;
use maud::{Markup, html};
use movement::ToothForm;
use report::{Locale, page, say};
use serde::Deserialize;
use tasks::{BeingCounted, DescribeFault, Described, Kind, PlaceId};

/// A part as it is chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Part {
    Wheel,
    Pinion,
    Lantern,
}

const PARTS: [(Part, &str); 3] = [
    (Part::Pinion, "pinion"),
    (Part::Wheel, "wheel"),
    (Part::Lantern, "lantern"),
];

/// What is added.
#[derive(Deserialize)]
struct Added {
    /// A new arbor's name.
    name: Option<String>,
    /// The arbor that is there already.
    arbor: Option<String>,
    has: Option<Part>,
    /// `ARBOR.PART` that it meshes with.
    meshes: Option<String>,
}

/// With what a train begins: the arbor where power comes in, and the one that it drives.
pub(super) fn first() -> [PlaceId; 2] {
    [("great", "wheel"), ("second", "pinion")].map(|(arbor, part)| PlaceId {
        arbor: arbor.to_owned(),
        part: part.to_owned(),
    })
}

/// The button that begins such a train.
pub(super) fn offered(job: &Whole) -> Markup {
    html! {
        form.bare-begin method="post" action=(format!("/job/{}/movement/bare", job.id)) {
            input type="hidden" name="entries" value=(job.entries());
            button { (say!(job.locale, "describe-bare")) }
        }
    }
}

/// How it strikes, told by the kind that comes nearest: a touch lays that kind's works upon the arbors that there are.
pub(super) fn strikes(job: &Whole) -> Markup {
    let locale = &job.locale;
    html! {
        section.striking.bare-strikes {
            h2 { (say!(locale, "bare-strikes")) }
            p.quiet { (say!(locale, "bare-strikes-about")) }
            form.chosen-by-picture method="post" action=(format!("/job/{}/movement/strikes", job.id)) {
                input type="hidden" name="entries" value=(job.entries());
                @for kind in Kind::all().iter().filter(|kind| kind.is_of_one_train()) {
                    button name="kind" value=(kind.id) {
                        (pictured(Some(&kind.picture)))
                        span { (report::page::describing::kind(locale, &kind.id)) }
                    }
                }
            }
        }
    }
}

/// Forms to add and to take away, with what was typed where something was refused.
pub(super) fn forms(
    job: &Whole,
    counted: &BeingCounted,
    typed: &Fields,
    refused: Option<&Refused>,
) -> Markup {
    let locale = &job.locale;
    let open = typed.get("adding");
    let here = |adding: &str| {
        html! {
            input type="hidden" name="entries" value=(job.entries());
            input type="hidden" name="adding" value=(adding);
            @if let Some(refused) = refused.filter(|_| open == Some(adding)) { p.refused role="alert" { (refused.say(locale)) } }
        }
    };
    let add = format!("/job/{}/movement/add", job.id);
    let mut arbors: Vec<&str> = Vec::new();
    for (_, place) in &counted.places {
        if !arbors.contains(&place.id.arbor.as_str()) {
            arbors.push(&place.id.arbor);
        }
    }
    html! {
        details.bare open[open.is_some() || counted.places.len() < 3] {
            summary { (say!(locale, "bare-alter")) }
            form method="post" action=(add) {
                h2 { (say!(locale, "bare-add-arbor")) }
                (here("arbor"))
                div.row {
                    label { span { (say!(locale, "bare-name")) } input type="text" name="name" autocomplete="off" autocapitalize="off" maxlength="40" value=[typed.get("name")]; }
                    (has(locale, typed))
                    (meshes(locale, counted, typed, false))
                    button.primary { (say!(locale, "bare-add")) }
                }
            }
            form method="post" action=(add) {
                h2 { (say!(locale, "bare-add-part")) }
                (here("part"))
                div.row {
                    label { span { (say!(locale, "bare-arbor")) } select name="arbor" {
                        @for arbor in &arbors { option value=(arbor) selected[typed.get("arbor") == Some(*arbor)] { (page::named(arbor)) } }
                    } }
                    (has(locale, typed))
                    (meshes(locale, counted, typed, true))
                    button { (say!(locale, "bare-add")) }
                }
            }
            form method="post" action=(format!("/job/{}/movement/away", job.id)) {
                h2 { (say!(locale, "bare-away")) }
                (here("away"))
                div.row {
                    label { span { (say!(locale, "bare-has")) } select name="what" {
                        @for arbor in &arbors { option value=(arbor) { (page::named(arbor)) } }
                        @for (_, place) in &counted.places {
                            option value=(name(&place.id)) { (report::page::describing::part(locale, &place.id)) }
                        }
                    } }
                    button { (say!(locale, "bare-away")) }
                }
            }
        }
    }
}

fn has(locale: &Locale, typed: &Fields) -> Markup {
    html! {
        label { span { (say!(locale, "bare-has")) } select name="has" {
            @for (_, word) in PARTS { option value=(word) selected[typed.get("has") == Some(word)] { (say!(locale, "bare-has-as", part = word)) } }
        } }
    }
}

fn meshes(locale: &Locale, counted: &BeingCounted, typed: &Fields, may_be_none: bool) -> Markup {
    // The last that was added is what goes on next.
    let chosen = (typed.get("meshes").map(str::to_owned))
        .or_else(|| Some(name(&counted.places.last()?.1.id)).filter(|_| !may_be_none));
    html! {
        label { span { (say!(locale, "bare-meshes")) } select name="meshes" {
            @if may_be_none { option value="" { (say!(locale, "bare-nothing")) } }
            @for (_, place) in &counted.places {
                @let id = name(&place.id);
                option value=(id) selected[chosen.as_deref() == Some(&id)] { (report::page::describing::part(locale, &place.id)) }
            }
        } }
    }
}

fn name(place: &PlaceId) -> String {
    format!("{}.{}", place.arbor, place.part)
}

fn place(name: &str) -> Option<PlaceId> {
    let (arbor, part) = name.split_once('.')?;
    Some(PlaceId {
        arbor: arbor.to_owned(),
        part: part.to_owned(),
    })
}

/// A name as a sheet has it: small letters, and no blanks.
fn id(typed: &str) -> String {
    let words: Vec<&str> = typed.split_whitespace().collect();
    words.join("_").to_lowercase()
}

/// A part's name that its arbor has not yet.
fn free(described: &Described, arbor: &str, part: Part) -> String {
    let stem = match part {
        Part::Wheel => "wheel",
        Part::Pinion | Part::Lantern => "pinion",
    };
    let counts = described.counts();
    let taken = |name: &str| {
        let mut own = counts.iter();
        own.any(|place| place.id.arbor == arbor && place.id.part == name)
    };
    (2..)
        .map(|n| format!("{stem}_{n}"))
        .find(|name| !taken(name))
        .filter(|_| taken(stem))
        .unwrap_or_else(|| stem.to_owned())
}

/// Adds an arbor or a part, all of it or nothing.
pub(super) fn add(asked: &PageRequest) -> Result<(), Refused> {
    let sent: Added = asked.fields.read()?;
    let locale = asked.whole()?.locale;
    let part = sent.has.unwrap_or(Part::Pinion);
    let begun = asked.desk.described(asked.id()?)?.ok_or(Refused::Nothing)?;
    let new = asked.fields.get("adding") == Some("arbor");
    let arbor = match (new, sent.name, sent.arbor) {
        (true, typed, _) => {
            let typed = typed.unwrap_or_default();
            let arbor = id(&typed);
            if !arbor.starts_with(|c: char| c.is_ascii_lowercase()) {
                return Err(Refused::Told(say!(locale, "bare-no-name")));
            }
            if begun.counts().iter().any(|place| place.id.arbor == arbor) {
                return Err(Refused::Told(say!(locale, "bare-taken", name = typed)));
            }
            arbor
        }
        (false, _, Some(arbor)) => arbor,
        (false, _, None) => return Err(Refused::Nothing),
    };
    let with = sent.meshes.as_deref().and_then(place);
    alter(&asked.desk, asked, |described| {
        if new {
            described.add_arbor(&arbor)?;
        }
        let added = PlaceId {
            arbor: arbor.clone(),
            part: free(described, &arbor, part),
        };
        described.add_part(&added)?;
        if part == Part::Lantern {
            described.form(&added, ToothForm::Lantern)?;
        }
        match &with {
            Some(with) => described.add_mesh(with, &added),
            None => Ok(()),
        }
    })
}

/// Takes an arbor or a part away, with what it meshes in.
pub(super) fn away(asked: &PageRequest) -> Result<(), Refused> {
    let what = asked.fields.get("what").unwrap_or_default().to_owned();
    alter(&asked.desk, asked, |described| match place(&what) {
        None => described.remove_arbor(&what),
        Some(part) => {
            for [driver, driven] in described.meshes() {
                if driver == what || driven == what {
                    let (Some(driver), Some(driven)) = (place(&driver), place(&driven)) else {
                        continue;
                    };
                    described.remove_mesh(&driver, &driven)?;
                }
            }
            described.remove_part(&part)
        }
    })
}

fn alter(
    desk: &Desk,
    asked: &PageRequest,
    alter: impl FnOnce(&mut Described) -> Result<(), DescribeFault>,
) -> Result<(), Refused> {
    desk.touch(asked.id()?, asked.entries()?, alter)?;
    Ok(())
}
