//! Pendulums and rating as JSON.

use crate::count_json::known;
use crate::{Words, en, pendulum};
use quantity::{Gravity, Length, Mass, Number, Pace, Rate, Slant, Stress, Warmth};
use serde_json::{Value, json};
use workshop::pendulum::{Said, Want};

/// All that follows.
pub fn pendulum_json(name: Option<&str>, said: &[Said], wants: &[Want]) -> Value {
    let said: Vec<Value> = said
        .iter()
        .map(|said| {
            let mut object = figures(said);
            object["says"] = json!(en::breaking(&pendulum::one(&Words::default(), said)));
            object
        })
        .collect();
    json!({ "answer": 1, "sheet": name, "said": said, "lacking": wants.len() })
}

fn figures(said: &Said) -> Value {
    let mm = |x| known(x, Length::as_mm);
    let gains = |x| known(x, Rate::as_s_per_day);
    let pace = |x| known(x, Pace::as_per_hour);
    let g = |x| known(x, Mass::as_g);
    let deg = |x| known(x, Slant::as_deg);
    let plain = |x| known(x, Number::as_plain);
    match said {
        Said::Falls(x, given) => {
            json!({ "what": "gravity", "m_per_s2": known(x, Gravity::as_m_per_s2), "place_given": given })
        }
        Said::LengthFor(x, l) => {
            json!({ "what": "length for beats", "per_hour": pace(x), "mm": mm(l) })
        }
        Said::BeatsOf(l, x) => {
            json!({ "what": "beats of length", "mm": mm(l), "per_hour": pace(x) })
        }
        Said::Against(x, l) => {
            json!({ "what": "rate as it hangs", "gains_s_per_day": gains(x), "mm": mm(l) })
        }
        Said::Compound(s) => json!({
            "what": "compound",
            "mm": mm(&s.length),
            "centre_mm": mm(&s.centre),
            "g": g(&s.mass),
        }),
        Said::Arc(a, x) => {
            json!({ "what": "arc", "half_arc_deg": deg(a), "gains_s_per_day": gains(x) })
        }
        Said::Wider(a, x) => {
            json!({ "what": "other arc", "half_arc_deg": deg(a), "gains_s_per_day": gains(x) })
        }
        Said::Warmer(_, by, x) => json!({
            "what": "warmth",
            "warmer_c": known(by, Warmth::as_celsius),
            "gains_s_per_day": gains(x),
        }),
        Said::Buoyed(x) => json!({ "what": "air", "gains_s_per_day": gains(x) }),
        Said::Thinner(x) => json!({ "what": "change of air", "gains_s_per_day": gains(x) }),
        Said::Moved(x) => json!({ "what": "other place", "gains_s_per_day": gains(x) }),
        Said::NutTurn(x, d) => json!({
            "what": "nut, one turn up",
            "gains_s_per_day": gains(x),
            "division_gains_s_per_day": d.as_ref().map(gains),
        }),
        Said::NutFor(x, l, turns) => json!({
            "what": "nut for what it gains",
            "gains_s_per_day": gains(x),
            "longer_mm": mm(l),
            "turns_down": turns.as_ref().map(|t| plain(&t.0)),
            "divisions_down": turns.as_ref().and_then(|t| t.1.as_ref()).map(plain),
        }),
        Said::LaidOn(m, at, x) => json!({
            "what": "small weight",
            "g": g(m),
            "below_mm": mm(at),
            "gains_s_per_day": gains(x),
        }),
        Said::Shoulder(x, m) => {
            json!({ "what": "weight for what it gains", "gains_s_per_day": gains(x), "lay_on_g": g(m) })
        }
        Said::Torsion(x, shear) => json!({
            "what": "torsion",
            "per_hour": pace(x),
            "ribbon_shear_n_per_mm2": known(shear, Stress::as_mpa),
        }),
        Said::Thickness(x, l) => {
            json!({ "what": "ribbon for beats", "per_hour": pace(x), "thick_mm": mm(l) })
        }
    }
}
