//! One witness close up: the loupe, and what the page's script needs to move it.

use crate::desk::Job;
use crate::form::written;
use draw::{Drawing, View, loupe};
use maud::{Markup, PreEscaped, html};
use movement::{Movement, Witness, WitnessId};
use quantity::Degrees;
use report::page::{self, named};
use report::{Locale, say};
use serde::Deserialize;
use serde_json::json;
use timing::assumed::LEAST_TELLING;
use timing::{default_spread, widest_spread};

/// How surely something was seen.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum HowSure {
    Sure,
    #[default]
    Fairly,
    Rough,
}

impl HowSure {
    pub(crate) const ALL: [HowSure; 3] = [HowSure::Sure, HowSure::Fairly, HowSure::Rough];

    /// As it is sent.
    pub(crate) fn word(self) -> &'static str {
        match self {
            HowSure::Sure => "sure",
            HowSure::Fairly => "fairly",
            HowSure::Rough => "rough",
        }
    }

    pub(crate) fn say(self, locale: &Locale) -> String {
        match self {
            HowSure::Sure => say!(locale, "sure"),
            HowSure::Fairly => say!(locale, "sure-fairly"),
            HowSure::Rough => say!(locale, "sure-rough"),
        }
    }

    /// How many times as wide as a careful look is taken to be where nothing is said (a twentieth of the window's width): coarser by
    /// about two each time, which is as finely as people tell (common practice, no source).
    fn times(self) -> f64 {
        match self {
            HowSure::Sure => 1.0,
            HowSure::Fairly => 2.5,
            HowSure::Rough => 5.0,
        }
    }
}

/// The spread of a reading taken by eye, in degrees.
pub(crate) fn spread(movement: &Movement, id: WitnessId, sure: HowSure) -> f64 {
    let witness = movement.witness(id);
    let fine = quantity::to_f64(&default_spread(witness));
    (fine * sure.times()).min(widest(movement, id))
}

fn widest(movement: &Movement, id: WitnessId) -> f64 {
    LEAST_TELLING.value * widest_spread(movement.witness(id)).to_f64()
}

/// The spread of a reading by picture: it may be anywhere nearer to this picture than to the next, all of that alike.
pub(crate) fn picture_spread(movement: &Movement, id: WitnessId, which: usize) -> f64 {
    let period = movement.witness(id).period().to_f64();
    let places = choices(movement, id);
    let place = |i: usize| places[i].to_f64();
    let before = if which == 0 {
        place(4) - period
    } else {
        place(which - 1)
    };
    let after = if which == 4 {
        place(0) + period
    } else {
        place(which + 1)
    };
    // All of a range alike: its width over the square root of twelve.
    ((after - before) / 2.0 / 12f64.sqrt()).min(widest(movement, id))
}

/// The places of the five pictures, as they are written in a field: far short, a little out of its window, at its best, a
/// little out ahead, far ahead.
///
/// A little out is the middle of what is said in the same words, so that a picture that looks out is out.
pub(crate) fn choices(movement: &Movement, id: WitnessId) -> [Degrees; 5] {
    let upto = page::looks(movement, id).map(|look| look.upto);
    let [far_short, .., far_ahead] = draw::choices(movement, id).map(|place| place.to_f64());
    let best = movement.witness(id).best.clone();
    let little = |from: usize, to: usize| f64::midpoint(upto[from], upto[to]);
    let places = decimals(movement, id) + 1;
    [
        far_short,
        little(0, 1),
        best.to_f64(),
        little(4, 5),
        far_ahead,
    ]
    .map(|place| Degrees::parse(&written(place, places)).unwrap_or_else(|_| best.clone()))
}

/// What one arrow key moves: about a twentieth of the window, in a round number.
fn step(movement: &Movement, id: WitnessId) -> f64 {
    let wanted = quantity::to_f64(&default_spread(movement.witness(id)));
    let ten = 10f64.powf(wanted.log10().floor());
    let steps = [5.0, 2.0, 1.0];
    ten * steps
        .into_iter()
        .find(|s| s * ten <= wanted * (1.0 + 1e-9))
        .unwrap_or(1.0)
}

/// Figures after the point that a place bears.
fn decimals(movement: &Movement, id: WitnessId) -> usize {
    let step = step(movement, id);
    (0..4)
        .find(|places| step * 10f64.powi(i32::try_from(*places).unwrap_or(4)) >= 1.0 - 1e-9)
        .unwrap_or(4)
}

/// The drawing of a witness's loupe under a name that no other on the page has.
fn drawn(loupe: &Drawing, witness: &Witness, name: &str) -> Markup {
    let own = format!("glass-{}", witness.id);
    let svg = loupe
        .svg()
        .replacen("<svg ", "<svg aria-hidden=\"true\" ", 1)
        .replace(&format!("\"{own}\""), &format!("\"{own}-{name}\""))
        .replace(&format!("#{own})"), &format!("#{own}-{name})"));
    html! { (PreEscaped(svg)) }
}

/// The loupe that is set: a slider once the page's script is there.
///
/// At rest it stands `further` on than at the drop, and all about it with it.
pub(crate) fn set(job: &Job, id: WitnessId, typed: Option<Degrees>, further: &Degrees) -> Markup {
    let (locale, movement) = (&job.locale, job.movement());
    let witness = movement.witness(id);
    let on = further.to_f64();
    let ghost = job.expected(id).map(|place| &place + further);
    let stands = || job.stands(id).map(|place| &place + further);
    let place = typed.or_else(stands);
    let place = place.unwrap_or_else(|| &witness.best + further);
    let half = witness.period().to_f64() / 2.0;
    let best = witness.best.to_f64() + on;
    let looks = page::looks(movement, id).map(|looks| {
        let upto = looks.upto.is_finite().then_some(looks.upto + on);
        json!([upto, looks.look.say(locale), looks.look.inside()])
    });
    let places = decimals(movement, id);
    let look = page::look_of(movement, id, &(&place - further)).say(locale);
    let says = say!(locale, "reading-of", name = named(&witness.id), look = look);
    html! {
        div.loupe-hold id=(format!("loupe-{}", witness.id)) role="img" aria-label=(says)
            data-witness=(witness.id) data-name=(named(&witness.id))
            data-place=(written(place.to_f64(), places + 1))
            data-least=(written(best - half, 4)) data-most=(written(best + half, 4))
            data-step=(written(step(movement, id), 4)) data-places=(places)
            data-looks=(json!(looks)) data-point=(locale.pointed(".".to_owned()))
            data-unread=(say!(locale, "unread")) {
            (drawn(&loupe(movement, id, &place, ghost.as_ref(), job.view), witness, "set"))
        }
    }
}

/// A witness where it truly stands.
pub(crate) fn stands(movement: &Movement, view: View, id: WitnessId, place: &Degrees) -> Markup {
    let loupe = loupe(movement, id, place, None, view);
    drawn(&loupe, movement.witness(id), "seen")
}

/// A witness as it was seen, with where it will stand afterwards.
pub(crate) fn seen(job: &Job, id: WitnessId, after: Option<&Degrees>) -> Markup {
    let movement = job.movement();
    let witness = movement.witness(id);
    let place = job.seen(id).unwrap_or_else(|| witness.best.clone());
    let loupe = loupe(movement, id, &place, after, job.view);
    drawn(&loupe, witness, "seen")
}

/// One of the five pictures.
pub(crate) fn picture(job: &Job, id: WitnessId, which: usize, place: &Degrees) -> Markup {
    let movement = job.movement();
    let loupe = loupe(movement, id, place, None, job.view);
    drawn(&loupe, movement.witness(id), &format!("p{which}"))
}

/// The mark of a state, by shape: an open lozenge out of its window, a filled dot in it, a dotted ring where unread.
pub(crate) fn marks() -> Markup {
    html! {
        svg.mark aria-hidden="true" viewBox="0 0 12 12" {
            path.lozenge d="M6 .9 11.1 6 6 11.1.9 6z" {}
            circle.dot cx="6" cy="6" r="4.4" {}
            circle.ring cx="6" cy="6" r="4.4" {}
        }
    }
}

/// The state a mark shows.
pub(crate) fn state(inside: Option<bool>) -> &'static str {
    match inside {
        Some(true) => "in",
        Some(false) => "out",
        None => "unread",
    }
}
