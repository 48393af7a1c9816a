//! The pendulum and its rating: what is there is taken from the sheet where it is on it, what is lacking is asked for.

use super::page::{Page, Sum};
use crate::desk::{Refused, Whole};
use crate::fields::{Field, Kind, Question, choice, folded, form, inputs, measured};
use crate::form::said::AsTyped;
use crate::frame::{Picture, list};
use entries::Stage;
use maud::{Markup, html};
use report::{Locale, Voice, field, pendulum, say};
use serde::Deserialize;
use tasks::{BoxesFor, PendulumAsk};

/// Pendulum and rating.
pub(super) const SUM: Sum = Sum {
    word: "pendulum",
    stage: Stage::Rate,
    heavy: false,
    boxes: BoxesFor::Pendulum,
    known: known_lines,
    page: |asked, _| page(asked),
};

/// What is most wanted where a clock is brought to time.
const FIRST: [Field; 3] = [
    ("gains", Kind::Plain),
    ("length", Kind::Length),
    ("latitude", Kind::Plain),
];
const NUT: [Field; 3] = [
    ("nut-pitch", Kind::Length),
    ("nut-threads", Kind::Plain),
    ("nut-divisions", Kind::Plain),
];
const THERE: [Field; 3] = [
    ("beats", Kind::Plain),
    ("half-arc", Kind::Plain),
    ("arc-to", Kind::Plain),
];
const PLACE: [Field; 3] = [
    ("height", Kind::Height),
    ("moved-to", Kind::Plain),
    ("moved-up", Kind::Height),
];
const AIR: [Field; 2] = [("warmer", Kind::Warmth), ("pressure", Kind::Plain)];
const WEIGHTS: [Field; 3] = [
    ("mass", Kind::Heavy),
    ("small", Kind::Light),
    ("below", Kind::Length),
];
const STRIPS: [Field; 2] = [
    ("suspension", Kind::Length),
    ("suspension-to", Kind::Length),
];
const PIECES: [Field; 4] = [
    ("part", Kind::Lines),
    ("ribbon", Kind::Length),
    ("disc", Kind::Plain),
    ("balls", Kind::Plain),
];

/// What is asked, and what is known beside the sheet.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
struct Asked {
    beats: Option<String>,
    length: Option<String>,
    latitude: Option<String>,
    height: Option<String>,
    moved_to: Option<String>,
    moved_up: Option<String>,
    half_arc: Option<String>,
    arc_to: Option<String>,
    rod: Option<String>,
    warmer: Option<String>,
    gains: Option<String>,
    nut_pitch: Option<String>,
    nut_threads: Option<String>,
    nut_divisions: Option<String>,
    mass: Option<String>,
    small: Option<String>,
    below: Option<String>,
    suspension: Option<String>,
    suspension_to: Option<String>,
    bob: Option<String>,
    pressure: Option<String>,
    part: Option<AsTyped>,
    ribbon: Option<String>,
    disc: Option<String>,
    balls: Option<String>,
}

impl From<Asked> for PendulumAsk {
    fn from(asked: Asked) -> PendulumAsk {
        PendulumAsk {
            beats: asked.beats,
            length: asked.length,
            latitude: asked.latitude,
            height: asked.height,
            moved_to: asked.moved_to,
            moved_up: asked.moved_up,
            half_arc: asked.half_arc,
            arc_to: asked.arc_to,
            rod: asked.rod,
            warmer: asked.warmer,
            gains: asked.gains,
            nut_pitch: asked.nut_pitch,
            nut_threads: asked.nut_threads,
            nut_divisions: asked.nut_divisions.and_then(|n| n.parse().ok()),
            mass: asked.mass,
            small: asked.small,
            below: asked.below,
            suspension: asked.suspension,
            suspension_to: asked.suspension_to,
            bob: asked.bob,
            pressure: asked.pressure,
            parts: asked.part.unwrap_or_default().0,
            ribbon: asked.ribbon,
            disc: asked.disc,
            balls: asked.balls,
        }
    }
}

impl Asked {
    fn of(asked: &Question<'_>) -> Result<Asked, Refused> {
        let measures = [
            &FIRST[..],
            &NUT[..2],
            &THERE,
            &PLACE,
            &AIR,
            &WEIGHTS,
            &STRIPS,
            &PIECES[1..],
        ];
        Ok(measured(asked.locale(), asked.fields, &measures.concat()).read()?)
    }

    /// Fields that do not go together, in one sentence.
    fn unfit(&self, locale: &Locale) -> Option<String> {
        // What means nothing without another.
        let needs = [
            (("height", &self.height), ("latitude", &self.latitude)),
            (("moved-to", &self.moved_to), ("latitude", &self.latitude)),
            (("moved-up", &self.moved_up), ("latitude", &self.latitude)),
            (("warmer", &self.warmer), ("rod", &self.rod)),
            (("below", &self.below), ("small", &self.small)),
            (("pressure", &self.pressure), ("bob", &self.bob)),
        ];
        // Of which only one can be.
        let either = [
            (
                ("nut-pitch", &self.nut_pitch),
                ("nut-threads", &self.nut_threads),
            ),
            (("disc", &self.disc), ("balls", &self.balls)),
        ];
        let named = |name| field(locale, name);
        let lacks = (needs.into_iter()).find(|(one, other)| one.1.is_some() && other.1.is_none());
        let both = (either.into_iter()).find(|(one, other)| one.1.is_some() && other.1.is_some());
        if let Some(((name, _), (other, _))) = lacks {
            let (name, other) = (named(name), named(other));
            Some(say!(locale, "refused-needs", field = name, other = other))
        } else if let Some(((name, _), (other, _))) = both {
            let (name, other) = (named(name), named(other));
            Some(say!(locale, "refused-either", field = name, other = other))
        } else {
            let typed = self.nut_divisions.as_deref();
            let got = typed.filter(|typed| typed.parse::<u16>().is_err())?;
            let name = named("nut-divisions");
            Some(say!(locale, "refused-odd", field = name, got = got))
        }
    }
}

fn page(asked: &Question<'_>) -> Page {
    let locale = asked.locale();
    let form = ask(asked);
    let ask = match Asked::of(asked) {
        Ok(ask) => ask,
        Err(why) => return Page::refused(locale, why, form),
    };
    if let Some(why) = ask.unfit(locale) {
        return Page::refused(locale, Refused::Told(why), form);
    }
    // A sheet with counts that are missing tells nothing of its train.
    let sheet = asked.job.state.sheet.is_some().then(|| asked.sheet());
    match tasks::pendulum(sheet, &ask.into()) {
        Ok(told) => {
            let answer = pendulum::answer(&told.said);
            let others = told.said.iter().filter(|said| Some(*said) != answer);
            let lines: Vec<String> = others.map(|said| pendulum::one(locale, said)).collect();
            let wants = told.wants.iter();
            let wants: Vec<String> = wants
                .map(|want| pendulum::want(&asked.voice(), *want))
                .collect();
            Page {
                answer: answer.map(|said| pendulum::one(locale, said)),
                first: told.dangers(),
                picture: answer.map(|_| Picture {
                    svg: pendulum::drawing(locale, &told).svg(),
                    says: say!(locale, "sum-drawing", sum = "pendulum"),
                }),
                told: html! {
                    (list(&lines))
                    @if answer.is_some() { p.quiet { (pendulum::spreads(locale)) } }
                    @if !wants.is_empty() { h2 { (say!(locale, "sum-lacking")) } (list(&wants)) }
                },
                form,
                ..Page::default()
            }
        }
        Err(why) => Page::refused(locale, why, form),
    }
}

fn ask(asked: &Question<'_>) -> Markup {
    let locale = asked.locale();
    let unsaid = || ("", say!(locale, "field-unsaid"));
    let mut rods = vec![unsaid()];
    rods.extend(tasks::RODS.map(|rod| (rod, say!(locale, "rod", rod = rod))));
    let mut bobs = vec![unsaid()];
    bobs.extend(tasks::BOB_WORDS.map(|bob| (bob, say!(locale, "bob", bob = bob))));
    let air = html! { (choice(asked, "rod", &rods, "")) (choice(asked, "bob", &bobs, "")) };
    let group = |of: &'static str, fields: &[Field], more: &Markup| {
        folded(
            asked,
            &say!(locale, "pendulum-group", of = of),
            fields,
            more,
        )
    };
    let none = html! {};
    let within = html! {
        div.row { (inputs(asked, &FIRST)) }
        div.row { (inputs(asked, &NUT)) }
        (group("there", &THERE, &none))
        (group("place", &PLACE, &none))
        (group("air", &AIR, &air))
        (group("weights", &WEIGHTS, &none))
        (group("strips", &STRIPS, &none))
        (group("pieces", &PIECES, &none))
    };
    form(asked, &say!(locale, "pendulum-wanted"), &within)
}

/// The length that the train wants and the nut; and what is lacking.
fn known_lines(job: &Whole) -> Vec<String> {
    let locale = &job.locale;
    let voice = Voice::Page(*locale);
    let ask = PendulumAsk::default();
    let Ok(told) = tasks::pendulum(Some(job.sheet.as_bytes()), &ask) else {
        return vec![say!(locale, "known-rate")];
    };
    let mut lines: Vec<String> = (told.said.iter())
        .filter(|said| pendulum::rates(said))
        .map(|said| pendulum::one(locale, said))
        .collect();
    if lines.is_empty() {
        lines.push(say!(locale, "known-rate"));
    }
    let lacking = told.wants.iter().map(|want| pendulum::want(&voice, *want));
    lines.extend(lacking.map(|what| say!(locale, "known-lacking", what = what)));
    lines
}
