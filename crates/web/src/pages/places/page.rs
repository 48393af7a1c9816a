//! The page of where the arbors lie: the drawing, what is put where, and the pictures on which that may be touched.

use super::picture::LyingPicture;
use super::said::{AskedPlaces, New, in_unit, unit};
use crate::desk::{Refused, Whole};
use crate::form::{Fields, label, written};
use crate::frame::frame;
use crate::plate::turning;
use crate::underlay::{Under, slider};
use entries::Occasion;
use maud::{Markup, html};
use quantity::to_f64;
use report::page::{self, placing};
use report::{Locale, say};
use tasks::{JobPicture, Lying, Placeable};

/// What the page shows beside the job.
pub(super) struct Shown<'a> {
    pub(super) lying: &'a Lying,
    pub(super) pictures: &'a [JobPicture],
    pub(super) under: Option<&'a Under>,
    pub(super) asked: &'a AskedPlaces,
    /// What was typed, where it was refused.
    pub(super) typed: &'a Fields,
}

/// The page with the drawing.
pub(super) fn page(job: &Whole, shown: &Shown<'_>, refused: Option<&Refused>) -> Markup {
    let locale = &job.locale;
    let lying = shown.lying;
    let chosen = shown
        .asked
        .chosen()
        .filter(|what| lying.find(what).is_some());
    let new = shown.asked.new;
    let picture = LyingPicture::of(job, lying);
    let action = format!("/job/{}", job.id);
    let asks = chosen.is_some() || new.is_some();
    let main = html! {
        main #main.job.places data-step="lie" data-job=(job.id) data-entries=(job.entries()) data-arbors=(picture.arbors()) {
            @if let Some(refused) = refused { p.refused role="alert" { (refused.say(locale)) } }
            figure.lies {
                (picture.markup(shown.under, chosen.as_ref(), asks))
                figcaption {
                    form method="post" action=(format!("{action}/view")) {
                        input type="hidden" name="back" value="places";
                        (turning(locale, job.view(), None, &format!("{action}/view")))
                    }
                    form method="post" action=(format!("{action}/places/undo")) {
                        input type="hidden" name="entries" value=(job.entries());
                        button.plain { (say!(locale, "lie-undo")) }
                    }
                    @if let Some(under) = shown.under {
                        form method="post" action=(format!("{action}/places/shown")) {
                            input type="hidden" name="entries" value=(job.entries());
                            (slider(locale, under, job.view(), None, &format!("{action}/places/shown")))
                        }
                    }
                }
            }
            div.beside {
                section.placing aria-labelledby="sentence" {
                    h1 #sentence tabindex="-1" { (sentence(locale, lying, chosen.as_ref(), new)) }
                    @if let Some(says) = placing::beneath(locale, lying) { p #beneath.quiet { (says) } }
                    @if lying.sizes().is_some() {
                        form #size.row method="post" action=(format!("{action}/places/size")) {
                            input type="hidden" name="entries" value=(job.entries());
                            p { (say!(locale, "lie-measured-since")) }
                            button { (say!(locale, "lie-size-by")) }
                        }
                    }
                    @if asks {
                        (put(job, shown, chosen.as_ref(), new))
                        @if let Some(what) = chosen.as_ref() { (fixing(job, shown, what)) }
                    } @else { p.quiet { (say!(locale, "lie-how-first")) } }
                    @if !lying.remarks.is_empty() {
                        ul.remarks { @for one in &lying.remarks { li { (placing::remark(locale, one)) } } }
                    }
                }
                // What is let go on the drawing is sent by this form.
                form #let-go method="post" action=(format!("{action}/places/put")) hidden {
                    input type="hidden" name="entries" value=(job.entries());
                    input type="hidden" name="by" value="touch";
                    input type="hidden" name="what" value="";
                    input type="hidden" name="right" value="";
                    input type="hidden" name="up" value="";
                }
                (things(job, lying, chosen.as_ref()))
                (adding(job, new))
                (photographs(job, shown.pictures))
                p.whole {
                    a.button href=(action) { (say!(locale, "lie-to-bench")) }
                    a.button.plain href=(format!("{action}/movement")) { (say!(locale, "lie-to-movement")) }
                }
            }
        }
    };
    let about = page::seen_from(locale, job.view().plate, job.view().upside_down);
    frame(locale, &job.name, Some(&about), &main)
}

fn sentence(
    locale: &Locale,
    lying: &Lying,
    chosen: Option<&Placeable>,
    new: Option<New>,
) -> String {
    match (chosen, new) {
        (Some(what), _) => {
            let sort = if matches!(what, Placeable::Arbor(_)) {
                "arbor"
            } else {
                "other"
            };
            say!(
                locale,
                "lie-chosen",
                sort = sort,
                what = placing::called(locale, what)
            )
        }
        (None, Some(new)) => say!(locale, "lie-new", what = new.word()),
        (None, None) => placing::sentence(locale, lying),
    }
}

/// Where what is chosen lies, or something new: touched on the drawing, or typed.
fn put(job: &Whole, shown: &Shown<'_>, chosen: Option<&Placeable>, new: Option<New>) -> Markup {
    let locale = &job.locale;
    let there = chosen.and_then(|what| shown.lying.find(what));
    let stands = |side: &str| -> Option<String> {
        if let Some(typed) = shown.typed.get(side) {
            return Some(typed.to_owned());
        }
        let at = there?.at;
        let mm = if side == "right" { at.right } else { at.up };
        Some(written(
            mm.mm() / in_unit(locale),
            if in_unit(locale) > 1.0 { 3 } else { 1 },
        ))
    };
    let side = |name: &'static str, says: String| {
        html! {
            label { span { (say!(locale, "lie-in", what = says, unit = unit(locale))) }
                input type="text" name=(name) value=[stands(name)] inputmode="text" autocomplete="off" maxlength="40"; }
        }
    };
    let action = match new.filter(|_| chosen.is_none()) {
        Some(_) => format!("/job/{}/places/stand", job.id),
        None => format!("/job/{}/places/put", job.id),
    };
    let view = job.view();
    html! {
        form #put.row method="post" action=(action) {
            input type="hidden" name="entries" value=(job.entries());
            input type="hidden" name="plate" value=(page::plate_key(view.plate));
            @if view.upside_down { input type="hidden" name="over" value="yes"; }
            @if let Some(what) = chosen { input type="hidden" name="what" value=(what.word()); }
            @else if let Some(new) = new { input type="hidden" name="new" value=(new.word()); (further(locale, shown.typed, new)) }
            p.quiet.live-how { (say!(locale, "lie-how")) }
            p.quiet.plain-how { (say!(locale, "lie-how-plain")) }
            (side("right", say!(locale, "lie-right")))
            (side("up", say!(locale, "lie-up-by")))
            button.primary name="by" value="figures" { (say!(locale, "lie-put")) }
            @if let Some(thing) = there.filter(|thing| thing.said) {
                @let sort = match thing.what { Placeable::Arbor(_) => "arbor", _ => "other" };
                button formaction=(format!("/job/{}/places/away", job.id)) { (say!(locale, "lie-away", sort = sort)) }
            }
            a.button.plain href=(format!("/job/{}/places", job.id)) { (say!(locale, "lie-leave")) }
        }
    }
}

/// What fixes the plate on a pillar that stands there: to be told otherwise.
fn fixing(job: &Whole, shown: &Shown<'_>, what: &Placeable) -> Markup {
    let locale = &job.locale;
    html! {
        @if let Some((fixing, pitch)) = shown.lying.fixed(what) {
            form #fix.row method="post" action=(format!("/job/{}/places/fix", job.id)) {
                input type="hidden" name="entries" value=(job.entries());
                input type="hidden" name="what" value=(what.word());
                (pillar(locale, [
                    Some(shown.typed.get("fixing").unwrap_or(tasks::fixing_word(fixing))),
                    shown.typed.get("pitch").map(str::to_owned).or(pitch.map(|mm| written(to_f64(mm) / in_unit(locale), 3))).as_deref(),
                ]))
                button { (say!(locale, "lie-fix")) }
            }
        }
    }
}

/// What fixes the plate on a pillar, and what a turn of that gives, as they stand.
fn pillar(locale: &Locale, [fixing, pitch]: [Option<&str>; 2]) -> Markup {
    html! {
        label { span { (say!(locale, "lie-fixing")) }
            select name="fixing" {
                @for word in ["nut", "screw", "pin"] {
                    option value=(word) selected[fixing == Some(word)] { (say!(locale, "lie-fixing-as", fixing = word)) }
                }
            }
        }
        label { span { (say!(locale, "lie-pitch", unit = unit(locale))) }
            input type="text" name="pitch" value=[pitch] autocomplete="off" maxlength="40"; }
    }
}

/// What is said of a thing that is new.
fn further(locale: &Locale, typed: &Fields, new: New) -> Markup {
    html! {
        @match new {
            New::Pillar => (pillar(locale, ["fixing", "pitch"].map(|name| typed.get(name)))),
            New::Square | New::Bell => {
                label { span { (say!(locale, "lie-across", unit = unit(locale))) }
                    input type="text" name="across" value=[typed.get("across")] autocomplete="off" maxlength="40"; }
            }
        }
    }
}

/// All that has a place, or may have one.
fn things(job: &Whole, lying: &Lying, chosen: Option<&Placeable>) -> Markup {
    let locale = &job.locale;
    html! {
        section.things aria-labelledby="things" {
            h2 #things { (say!(locale, "lie-list")) }
            ul {
                @for thing in &lying.things {
                    li {
                        a.button.plain href=(format!("/job/{}/places?what={}", job.id, thing.what.word())) aria-current=[(chosen == Some(&thing.what)).then_some("true")] {
                            (placing::listed(locale, thing))
                        }
                        " "
                        span.quiet { @if thing.said { (placing::place(locale, thing.at)) } @else { (say!(locale, "lie-not-said")) } }
                    }
                }
            }
        }
    }
}

fn adding(job: &Whole, new: Option<New>) -> Markup {
    let locale = &job.locale;
    html! {
        section.adding aria-labelledby="adding" {
            h2 #adding { (say!(locale, "lie-add")) }
            p.row {
                @for (word, own) in New::ALL {
                    a.button href=(format!("/job/{}/places?new={word}", job.id)) aria-current=[(new == Some(own)).then_some("true")] { (say!(locale, "lie-add-what", what = word)) }
                }
            }
        }
    }
}

/// The pictures of the job, each to be touched, and one more to be put in.
fn photographs(job: &Whole, pictures: &[JobPicture]) -> Markup {
    let locale = &job.locale;
    html! {
        section.photographs aria-labelledby="photographs" {
            h2 #photographs { (say!(locale, "lie-photographs")) }
            p.quiet { (say!(locale, "lie-photographs-how")) }
            ul {
                @for (picture, n) in pictures.iter().zip(1..) {
                    li {
                        img src=(format!("/picture/{}/small", picture.digest)) alt=(say!(locale, "lie-photograph-nth", n = n)) width="120" height=(written((120.0 * picture.high).round(), 0)) loading="lazy";
                        @for plate in ["front", "back"] {
                            a.button href=(format!("/job/{}/places?picture={}&photographed={plate}", job.id, picture.entry)) {
                                (say!(locale, "lie-photograph-of", plate = plate))
                            }
                        }
                    }
                }
            }
            details {
                summary { (say!(locale, "lie-photograph-in")) }
                form.row method="post" action=(format!("/job/{}/picture", job.id)) enctype="multipart/form-data" data-whole {
                    input type="hidden" name="entries" value=(job.entries());
                    input type="hidden" name="at" value="places";
                    input type="hidden" name="when" value=(Occasion::During.word());
                    label { span { (say!(locale, "lie-file")) } input type="file" name="picture" accept="image/jpeg,image/png,image/webp" required; }
                    label { span { (label(locale, "says")) } input type="text" name="says" maxlength="2000"; }
                    button { (say!(locale, "lie-photograph-in")) }
                }
            }
        }
    }
}
