//! A photograph that is touched: one centre after the other from the great wheel up, then how large it is, then the places that follow.

use super::picture::{PLAIN_WIDE, cross};
use super::said::unit;
use crate::desk::{Refused, Whole};
use crate::form::{Fields, written};
use crate::frame::frame;
use maud::{Markup, html};
use movement::Plate;
use report::page::{self, placing};
use report::say;
use tasks::{JobPicture, Lying, Photograph, Placeable, RULE_FROM, RULE_TO, WAY_UP};

/// The picture, and what was touched on it so far.
pub(super) struct TouchedPicture<'a> {
    pub(super) lying: &'a Lying,
    pub(super) shows: &'a JobPicture,
    pub(super) photograph: &'a Photograph,
    pub(super) plate: Plate,
    /// What is to be touched now, where that was asked for.
    pub(super) asked: Option<&'a str>,
    /// What was typed, where it was refused.
    pub(super) typed: &'a Fields,
}

impl TouchedPicture<'_> {
    /// The arbors, which are asked for one after the other.
    fn arbors(&self) -> Vec<String> {
        let arbor = |word: &String| matches!(Placeable::of_word(word), Some(Placeable::Arbor(_)));
        self.targets().into_iter().filter(arbor).collect()
    }

    /// What may be touched, in its order.
    fn targets(&self) -> Vec<String> {
        let things = self.lying.things.iter();
        things.map(|thing| thing.what.word()).collect()
    }

    fn state(&self, word: &str) -> &'static str {
        if self.photograph.touched.contains_key(word) {
            "touched"
        } else if self.photograph.unseen.iter().any(|unseen| unseen == word) {
            "unseen"
        } else {
            "open"
        }
    }

    /// What is to be touched now; nothing where all is.
    fn next(&self) -> Option<String> {
        let known = |word: &&str| {
            [RULE_FROM, RULE_TO, WAY_UP].contains(word)
                || self.targets().iter().any(|own| own == word)
        };
        (self.asked.filter(known).map(str::to_owned)).or_else(|| {
            self.arbors()
                .into_iter()
                .find(|word| self.state(word) == "open")
        })
    }

    fn address(&self, job: &Whole) -> String {
        format!(
            "/job/{}/places?picture={}&photographed={}",
            job.id,
            self.shows.entry,
            page::plate_key(self.plate)
        )
    }

    fn hidden(&self, job: &Whole) -> Markup {
        html! {
            input type="hidden" name="entries" value=(job.entries());
            input type="hidden" name="picture" value=(self.shows.entry);
            input type="hidden" name="photographed" value=(page::plate_key(self.plate));
        }
    }

    /// The page.
    pub(super) fn page(&self, job: &Whole, refused: Option<&Refused>) -> Markup {
        let locale = &job.locale;
        let next = self.next();
        let targets = self.arbors();
        let done = targets
            .iter()
            .filter(|word| self.state(word) != "open")
            .count();
        let says = match &next {
            Some(word) => placing::touch(locale, word),
            None => say!(locale, "lie-touch-done"),
        };
        let main = html! {
            main #main.job.places data-step="photograph" data-job=(job.id) data-entries=(job.entries()) {
                @if let Some(refused) = refused { p.refused role="alert" { (refused.say(locale)) } }
                figure.lies { (self.picture(job, next.as_deref())) }
                div.beside {
                    section.placing aria-labelledby="sentence" {
                        h1 #sentence tabindex="-1" { (says) }
                        p #beneath.quiet { (say!(locale, "lie-touched-count", count = done, all = targets.len())) }
                        @if let Some(word) = &next { (self.by_hand(job, word)) }
                        (self.taking(job, next.is_none()))
                    }
                    (self.list(job, next.as_deref()))
                    (self.size(job))
                    p.whole { a.button href=(format!("/job/{}/places", job.id)) { (say!(locale, "lie-to-drawing")) } }
                }
            }
        };
        frame(locale, &job.name, None, &main)
    }

    /// The picture with its marks; itself what is touched.
    fn picture(&self, job: &Whole, next: Option<&str>) -> Markup {
        let high = self.shows.high;
        let f = |v: f64| written(v, 4);
        let says = say!(
            job.locale,
            "lie-photograph",
            plate = page::plate_key(self.plate)
        );
        html! {
            form #touch.photograph method="post" action=(format!("/job/{}/places/touch", job.id)) {
                (self.hidden(job))
                input type="hidden" name="touch" value=(next.unwrap_or_default());
                input type="hidden" name="wide" value=(written(PLAIN_WIDE, 0));
                @if next.is_some() {
                    input.plate-picture type="image" name="on" src=(format!("/picture/{}", self.shows.digest)) alt=(says)
                        width=(f(PLAIN_WIDE)) height=(written((PLAIN_WIDE * high).round(), 0));
                } @else {
                    img.plate-picture src=(format!("/picture/{}", self.shows.digest)) alt=(says)
                        width=(f(PLAIN_WIDE)) height=(written((PLAIN_WIDE * high).round(), 0));
                }
                svg.touches-made viewBox=(format!("0 0 1 {}", f(high))) aria-hidden="true" {
                    @for (word, [x, y]) in &self.photograph.touched {
                        g data-touched=(word) class=(if next == Some(word) { "asked" } else { "made" }) {
                            path.halo d=(cross(*x, *y, 0.02)) {}
                            path d=(cross(*x, *y, 0.02)) {}
                        }
                    }
                    path.hair d="" {}
                }
            }
        }
    }

    /// What cannot be seen; and a touch by figures, for whoever has no pointer.
    fn by_hand(&self, job: &Whole, word: &str) -> Markup {
        let locale = &job.locale;
        let is_thing = Placeable::of_word(word).is_some();
        html! {
            form.row method="post" action=(format!("/job/{}/places/unseen", job.id)) {
                (self.hidden(job))
                input type="hidden" name="touch" value=(word);
                @if is_thing { button { (say!(locale, "lie-unseen")) } }
            }
            details open[self.typed.get("left").is_some()] {
                summary { (say!(locale, "lie-spot-set")) }
                form.row method="post" action=(format!("/job/{}/places/touch", job.id)) {
                    (self.hidden(job))
                    input type="hidden" name="touch" value=(word);
                    label { span { (say!(locale, "lie-left")) } input type="text" name="left" value=[self.typed.get("left")] inputmode="decimal" autocomplete="off" maxlength="20"; }
                    label { span { (say!(locale, "lie-top")) } input type="text" name="top" value=[self.typed.get("top")] inputmode="decimal" autocomplete="off" maxlength="20"; }
                    button { (say!(locale, "lie-spot-set")) }
                }
            }
        }
    }

    /// What was touched puts places on the sheet.
    fn taking(&self, job: &Whole, all: bool) -> Markup {
        let locale = &job.locale;
        let found = self.photograph.worked_out(self.lying, false);
        let has_place = |word: &String| {
            let what = Placeable::of_word(word);
            let thing = what.and_then(|what| self.lying.find(&what));
            thing.is_some_and(|thing| thing.said)
        };
        let anew = self.photograph.touched.keys().any(has_place)
            && self.photograph.worked_out(self.lying, true).is_ok();
        html! {
            @match &found {
                Ok(found) => {
                    p.quiet { (placing::scale(locale, found.scale)) }
                    @if let Some(worst) = &found.worst { p.worst { (placing::worst(locale, worst)) } }
                }
                Err(why) if all => p.worst { (placing::fault(locale, why)) },
                Err(_) => {}
            }
            @if found.is_ok() || anew || all {
                form.row method="post" action=(format!("/job/{}/places/take", job.id)) {
                    (self.hidden(job))
                    @if anew { label.check { input type="checkbox" name="anew" value="yes"; span { (say!(locale, "lie-anew")) } } }
                    button.primary[all] data-next[all] { (say!(locale, "lie-take")) }
                }
            }
        }
    }

    fn list(&self, job: &Whole, next: Option<&str>) -> Markup {
        let locale = &job.locale;
        let words = self.targets();
        html! {
            section.things aria-labelledby="things" {
                h2 #things { (say!(locale, "lie-list")) }
                ul {
                    @for word in &words {
                        @let state = self.state(word);
                        li {
                            a.button.plain href=(format!("{}&touch={word}", self.address(job))) aria-current=[(next == Some(word)).then_some("true")] {
                                (say!(locale, "lie-touch-state", state = state, what = placing::touched(locale, word)))
                            }
                        }
                    }
                }
            }
        }
    }

    /// Two ends and their distance, and where up is.
    fn size(&self, job: &Whole) -> Markup {
        let locale = &job.locale;
        let rule = self.photograph.rule_mm;
        let stands = (self.typed.get("distance").map(str::to_owned))
            .or_else(|| rule.map(|mm| written(mm / super::said::in_unit(locale), 3)));
        html! {
            section.sizing aria-labelledby="sizing" {
                h2 #sizing { (say!(locale, "lie-size")) }
                p.row {
                    @for word in [RULE_FROM, RULE_TO, WAY_UP] {
                        a.button href=(format!("{}&touch={word}", self.address(job))) {
                            (say!(locale, "lie-touch-state", state = self.state(word), what = placing::touched(locale, word)))
                        }
                    }
                }
                form.row method="post" action=(format!("/job/{}/places/distance", job.id)) {
                    (self.hidden(job))
                    label { span { (say!(locale, "lie-distance", unit = unit(locale))) } input type="text" name="distance" value=[stands] autocomplete="off" maxlength="40"; }
                    button { (say!(locale, "lie-distance-set")) }
                }
            }
        }
    }
}
