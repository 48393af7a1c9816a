//! How it ran: what it gained or lost in each trial, one after the other, as a plot of plain quantities.

use crate::Record;
use entries::Work;
use maud::{Markup, html};
use report::say;

// Millimetres on paper.
const WIDE: f64 = 150.0;
const HIGH: f64 = 48.0;
const LEFT: f64 = 14.0;
const FOOT: f64 = 9.0;

/// A trial: its day if one was written, and seconds gained a day.
struct Trial {
    day: Option<String>,
    rate: f64,
}

/// A plot of the trials that still count and have a rate.
pub(crate) fn plot(record: &Record<'_>) -> Markup {
    let locale = &record.locale;
    let trials: Vec<Trial> = (record.log.standing())
        .filter_map(|entry| match entry.work()? {
            Work::TrialRun {
                rate_s_per_day: Some(rate),
                ..
            } => Some(Trial {
                day: entry.day().map(|day| day.to_string()),
                rate: rate.text().parse().ok()?,
            }),
            _ => None,
        })
        .collect();
    if trials.is_empty() {
        return html! {};
    }
    let most = step_above(trials.iter().map(|t| t.rate.abs()).fold(0.0, f64::max));
    let x = |i: usize| LEFT + (WIDE - LEFT) * (i as f64 + 0.5) / trials.len() as f64;
    let y = |rate: f64| (HIGH - FOOT) * (0.5 - 0.45 * rate / most);
    let label = say!(locale, "record-plot", count = trials.len());
    // No more days than there is room for.
    let every = trials.len().div_ceil(7);
    html! {
        figure.ran {
            svg viewBox=(format!("0 0 {WIDE} {HIGH}")) width=(format!("{WIDE}mm")) height=(format!("{HIGH}mm")) role="img" aria-label=(label) {
                line.axis x1=(LEFT) x2=(WIDE) y1=(f(y(0.0))) y2=(f(y(0.0))) {}
                @for at in [most, 0.0, -most] {
                    text.scale x=(LEFT - 1.5) y=(f(y(at) + 1.1)) { (locale.decimal(at.abs(), 1)) }
                }
                text.side x=(LEFT + 1.0) y=(f(y(most) + 1.1)) { (say!(locale, "record-plot-gains")) }
                text.side x=(LEFT + 1.0) y=(f(y(-most) + 1.1)) { (say!(locale, "record-plot-loses")) }
                polyline.run points=(trials.iter().enumerate().map(|(i, t)| format!("{},{}", f(x(i)), f(y(t.rate)))).collect::<Vec<_>>().join(" ")) {}
                @for (i, trial) in trials.iter().enumerate() {
                    circle.trial cx=(f(x(i))) cy=(f(y(trial.rate))) r="1.1" {}
                    @if i % every == 0 {
                        text.day x=(f(x(i))) y=(HIGH - 2.0) { (trial.day.clone().unwrap_or_else(|| (i + 1).to_string())) }
                    }
                }
            }
            figcaption { (say!(locale, "record-plot-unit")) }
        }
    }
}

/// The next of 1, 2, 5, 10, 20 … at or above; at least 1.
fn step_above(x: f64) -> f64 {
    let steps = (0..9).flat_map(|ten| [1.0, 2.0, 5.0].map(|s| s * 10f64.powi(ten)));
    steps.into_iter().find(|step| *step >= x).unwrap_or(x)
}

fn f(x: f64) -> String {
    format!("{x:.2}")
}

#[cfg(test)]
mod tests {
    use super::step_above;

    #[test]
    fn a_scale_ends_at_a_plain_number() {
        for (x, step) in [
            (0.0, 1.0),
            (0.9, 1.0),
            (3.0, 5.0),
            (5.0, 5.0),
            (61.0, 100.0),
        ] {
            assert!((step_above(x) - step).abs() < 1e-12, "{x}");
        }
    }
}
