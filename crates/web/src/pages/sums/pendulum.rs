//! The pendulum and its rating: what is there is taken from the sheet where it is on it, what is lacking is asked for.

use super::page::{Page, Sum};
use crate::desk::Whole;
use crate::fields::{Field, Kind, Question, choice, folded, form, inputs, lines, typed};
use crate::frame::{Picture, list};
use entries::Stage;
use maud::{Markup, html};
use report::{Voice, field, pendulum, say};
use tasks::{Pendulum, PendulumAsk, Refusal};

/// Pendulum and rating.
pub(super) const SUM: Sum = Sum {
    word: "pendulum",
    stage: Stage::Rate,
    heavy: false,
    known,
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
const PIECES: [Field; 4] = [
    ("part", Kind::Lines),
    ("ribbon", Kind::Length),
    ("disc", Kind::Plain),
    ("balls", Kind::Plain),
];

/// What means nothing without another.
const NEEDS: [(&str, &str); 6] = [
    ("height", "latitude"),
    ("moved-to", "latitude"),
    ("moved-up", "latitude"),
    ("warmer", "rod"),
    ("below", "small"),
    ("pressure", "bob"),
];

/// Of which only one can be.
const EITHER: [(&str, &str); 2] = [("nut-pitch", "nut-threads"), ("disc", "balls")];

fn page(asked: &Question<'_>) -> Page {
    let words = asked.words();
    if let Some(why) = unfit(asked) {
        return Page {
            refused: Some(why),
            form: ask(asked),
            ..Page::default()
        };
    }
    match told(asked) {
        Ok(told) => {
            let answer = pendulum::answer(&told.said);
            let others = told.said.iter().filter(|said| Some(*said) != answer);
            let lines: Vec<String> = others.map(|said| pendulum::one(words, said)).collect();
            let wants = told.wants.iter();
            let wants: Vec<String> = wants
                .map(|want| pendulum::want(&asked.voice(), *want))
                .collect();
            Page {
                answer: answer.map(|said| pendulum::one(words, said)),
                first: told.dangers(),
                picture: answer.map(|_| Picture {
                    svg: pendulum::drawing(words, &told).svg(),
                    says: say!(words, "sum-drawing", sum = "pendulum"),
                }),
                told: html! {
                    (list(&lines))
                    @if answer.is_some() { p.quiet { (pendulum::spreads(words)) } }
                    @if !wants.is_empty() { h2 { (say!(words, "sum-lacking")) } (list(&wants)) }
                },
                form: ask(asked),
                ..Page::default()
            }
        }
        Err(why) => Page::refused(words, why, ask(asked)),
    }
}

/// Fields that do not go together, in one sentence.
fn unfit(asked: &Question<'_>) -> Option<String> {
    let (words, has) = (asked.words(), |name| asked.fields.get(name).is_some());
    let named = |name| field(words, name);
    let needs = (NEEDS.iter()).find(|(name, other)| has(name) && !has(other));
    let either = (EITHER.iter()).find(|(name, other)| has(name) && has(other));
    let divisions = asked.fields.get("nut-divisions");
    if let Some((name, other)) = needs {
        let (name, other) = (named(name), named(other));
        Some(say!(words, "refused-needs", field = name, other = other))
    } else if let Some((name, other)) = either {
        let (name, other) = (named(name), named(other));
        Some(say!(words, "refused-either", field = name, other = other))
    } else {
        let got = divisions.filter(|typed| typed.parse::<u16>().is_err())?;
        let name = named("nut-divisions");
        Some(say!(words, "refused-odd", field = name, got = got))
    }
}

fn told(asked: &Question<'_>) -> Result<Pendulum, Refusal> {
    let (words, fields) = (asked.words(), asked.fields);
    let get = |field: Field| typed(words, fields, field);
    let [gains, length, latitude] = FIRST.map(get);
    let [nut_pitch, nut_threads, _] = NUT.map(get);
    let [beats, half_arc, arc_to] = THERE.map(get);
    let [height, moved_to, moved_up] = PLACE.map(get);
    let [warmer, pressure] = AIR.map(get);
    let [mass, small, below] = WEIGHTS.map(get);
    let [_, ribbon, disc, balls] = PIECES.map(get);
    let word = |name: &str| fields.get(name).map(str::to_owned);
    let ask = PendulumAsk {
        beats,
        length,
        latitude,
        height,
        moved_to,
        moved_up,
        half_arc,
        arc_to,
        rod: word("rod"),
        warmer,
        gains,
        nut_pitch,
        nut_threads,
        nut_divisions: fields.get("nut-divisions").and_then(|n| n.parse().ok()),
        mass,
        small,
        below,
        bob: word("bob"),
        pressure,
        parts: lines(fields, "part"),
        ribbon,
        disc,
        balls,
    };
    // A sheet with counts that are missing tells nothing of its train.
    let sheet = asked.job.state.sheet.is_some().then(|| asked.sheet());
    tasks::pendulum(sheet, &ask)
}

fn ask(asked: &Question<'_>) -> Markup {
    let words = asked.words();
    let unsaid = || ("", say!(words, "field-unsaid"));
    let mut rods = vec![unsaid()];
    rods.extend(tasks::RODS.map(|rod| (rod, say!(words, "rod", rod = rod))));
    let mut bobs = vec![unsaid()];
    bobs.extend(tasks::BOB_WORDS.map(|bob| (bob, say!(words, "bob", bob = bob))));
    let air = html! { (choice(asked, "rod", &rods, "")) (choice(asked, "bob", &bobs, "")) };
    let group = |of: &'static str, fields: &[Field], more: &Markup| {
        folded(asked, &say!(words, "pendulum-group", of = of), fields, more)
    };
    let none = html! {};
    let within = html! {
        div.row { (inputs(asked, &FIRST)) }
        div.row { (inputs(asked, &NUT)) }
        (group("there", &THERE, &none))
        (group("place", &PLACE, &none))
        (group("air", &AIR, &air))
        (group("weights", &WEIGHTS, &none))
        (group("pieces", &PIECES, &none))
    };
    form(asked, &say!(words, "pendulum-wanted"), &within)
}

/// The length that the train wants and the nut; and what is lacking.
fn known(job: &Whole) -> Vec<String> {
    let words = &job.words;
    let voice = Voice::Page(*words);
    let ask = PendulumAsk::default();
    let Ok(told) = tasks::pendulum(Some(job.sheet.as_bytes()), &ask) else {
        return vec![say!(words, "known-rate")];
    };
    let mut lines: Vec<String> = (told.said.iter())
        .filter(|said| pendulum::rates(said))
        .map(|said| pendulum::one(words, said))
        .collect();
    if lines.is_empty() {
        lines.push(say!(words, "known-rate"));
    }
    let lacking = told.wants.iter().map(|want| pendulum::want(&voice, *want));
    lines.extend(lacking.map(|what| say!(words, "known-lacking", what = what)));
    lines
}
