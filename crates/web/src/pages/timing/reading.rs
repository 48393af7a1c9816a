//! What is seen: each witness that can be read now, as a close-up to be made like it.

use crate::desk::{Job, Refused};
use crate::form::said::lenient;
use crate::form::{Fields, is_number, plain, written};
use crate::pages::closeup::{self, HowSure, marks, state};
use crate::plate::Plate;
use entries::{Decimal, LoggedReading, LoggedSight};
use maud::{Markup, html};
use movement::WitnessId;
use quantity::Degrees;
use report::page;
use report::say;
use serde::Deserialize;
use tasks::Ask;

/// The close-ups of all that can be read now, in the order the advice would have them, and the form they are sent by.
pub(crate) fn reading(job: &Job, plate: &Plate, typed: &Fields) -> Result<Markup, Refused> {
    let locale = &job.locale;
    let asked = readable_witnesses(job);
    let Felt { slack } = typed.read()?;
    Ok(html! {
        form #reading.reading method="post" action=(format!("/job/{}/saw", job.id)) autocomplete="off" {
            input type="hidden" name="entries" value=(job.entries());
            @for id in &asked { (witness(job, *id, plate, typed)) }
            @if !asked.is_empty() { label.check {
                input type="checkbox" name="slack" value="slack" checked[slack];
                span { (say!(locale, "slack")) }
            } }
        }
    })
}

/// All that can be read of the train that is timed, what is worth most first.
pub(crate) fn readable_witnesses(job: &Job) -> Vec<WitnessId> {
    let mut readable = job.timing.recalled.readable.clone();
    readable.retain(|id| job.timing.recalled.timed.contains(id));
    let mut asked: Vec<WitnessId> = match &job.timing.advice.act {
        timing::Act::Look(first) => first.clone(),
        _ => Vec::new(),
    };
    asked.retain(|id| readable.contains(id));
    for id in readable {
        if !asked.contains(&id) {
            asked.push(id);
        }
    }
    // What is to be looked at again stands first; at a fresh look, all in the order of the sheet.
    if job.timing.recalled.last_look.is_empty() {
        asked.sort();
    }
    asked
}

fn witness(job: &Job, id: WitnessId, plate: &Plate, typed: &Fields) -> Markup {
    let (locale, movement) = (&job.locale, job.movement());
    let witness = movement.witness(id);
    let name = &witness.id;
    let called = page::witness_called(locale, movement, id);
    let of = |what: String| say!(locale, "of-witness", what = what, name = &called);
    let what_of = |what: &str| say!(locale, "what-of", what = what, name = &called);
    let field = |what: &str| format!("{name}.{what}");
    let number = typed.get(&field("deg")).unwrap_or_default();
    let pick = typed.get(&field("pick"));
    let sure = (typed.get(&field("sure"))).unwrap_or(HowSure::default().word());
    let place = Degrees::parse(&plain(
        typed.get(&field("deg")).or(pick).unwrap_or_default(),
    ))
    .ok();
    let look = place
        .as_ref()
        .map(|place| page::look_of(movement, id, place));
    let clear = say!(locale, "clear");
    html! {
        fieldset.close-up id=(format!("read-{name}")) data-state=(state(look.map(|look| look.inside()))) {
            legend { (called) }
            div.glass-side {
                (closeup::set(job, id, place.clone()))
                p.looks { (marks()) span.words {
                    @if let Some(look) = look { (look.say(locale)) } @else { (say!(locale, "unread")) }
                } }
            }
            div.told-side {
                p.says { (witness.says) }
                div.pictures role="radiogroup" aria-label=(of(say!(locale, "pictures"))) {
                    @for (i, place) in closeup::choices(movement, id).iter().enumerate() {
                        @let value = written(place.to_f64(), 5);
                        label.picture {
                            input type="radio" name=(field("pick")) value=(value) checked[pick == Some(value.as_str())]
                                aria-label=(page::reading(locale, movement, id, place));
                            (closeup::picture(job, id, i, place))
                        }
                    }
                }
                div.finer {
                    label.number {
                        span.visually-hidden { (say!(locale, "about", name = &called, what = say!(locale, "number"))) }
                        input type="text" inputmode="text" name=(field("deg")) value=(number) size="7"
                            placeholder="±0" aria-describedby=(format!("read-{name}-unit"));
                        span.unit id=(format!("read-{name}-unit")) aria-hidden="true" { "°" }
                    }
                    button.clear.plain type="button" hidden title=(clear)
                        aria-label=(what_of(&clear)) { "×" }
                    div.sure role="radiogroup" aria-label=(of(say!(locale, "how-sure"))) {
                        @for step in HowSure::ALL {
                            label {
                                input type="radio" name=(field("sure")) value=(step.word()) checked[step.word() == sure];
                                span { (step.say(locale)) }
                            }
                        }
                    }
                }
            }
            @let how = format!("how-{name}");
            @let asks = say!(locale, "how");
            button.plain.how type="button" popovertarget=(how) aria-label=(what_of(&asks)) { (asks) }
            div.panel popover id=(how) role="dialog" aria-label=(what_of(&asks)) {
                @if let Some(glass) = plate.drop_glass(name) {
                    figure { (glass) figcaption { (say!(locale, "how-drawing")) } }
                }
                ol { @for line in page::how_to_read(locale, movement, id) { li { (line) } } }
                button type="button" popovertarget=(how) popovertargetaction="hide" { (say!(locale, "close")) }
            }
        }
    }
}

/// What is seen of a witness: a number, a picture, and how surely.
#[derive(Deserialize)]
struct Look {
    deg: Option<String>,
    pick: Option<String>,
    #[serde(deserialize_with = "lenient")]
    sure: Option<HowSure>,
}

/// Whether there is slack to be felt.
#[derive(Deserialize)]
struct Felt {
    slack: bool,
}

/// What a form says was seen, witness by witness.
///
/// A picture is a coarse reading: it stands for all that looks more like it than like its neighbours.
pub(crate) fn seen(job: &Job, fields: &Fields) -> Result<Ask, Refused> {
    let movement = job.movement();
    let mut readings = Vec::new();
    for (id, witness) in movement.witnesses() {
        let of_it = fields.part(|name| name.strip_prefix(&witness.id)?.strip_prefix('.'));
        let Look { deg, pick, sure } = of_it.read()?;
        let sure = closeup::spread(movement, id, sure.unwrap_or_default());
        let typed = (deg.as_deref().map(plain)).filter(|typed| !typed.is_empty());
        let picked =
            (pick.as_deref()).filter(|pick| typed.as_deref().is_none_or(|typed| typed == *pick));
        let by_number = |deg: &str, spread: f64| {
            let deg = Decimal::parse(deg).ok()?;
            let spread = Decimal::parse(&significant(spread)).ok();
            Some(LoggedSight::Number { deg, spread })
        };
        let seen = match (picked, &typed) {
            (Some(pick), _) => {
                let which = closeup::choices(movement, id)
                    .iter()
                    .position(|place| written(place.to_f64(), 5) == pick);
                let spread = which.map_or(sure, |which| {
                    closeup::picture_spread(movement, id, which).max(sure)
                });
                by_number(pick, spread)
            }
            (None, Some(typed)) if is_number(typed) => by_number(typed, sure),
            (None, Some(_)) => None,
            (None, None) => continue,
        };
        readings.push(match seen {
            Some(seen) => LoggedReading {
                witness: witness.id.clone(),
                seen,
            },
            // Said in another way, as a command takes it.
            None => {
                let said = typed.as_deref().or(picked).unwrap_or_default();
                let said = format!("{}={said}", witness.id);
                tasks::written::reading(movement, job.timing.from, &said)?
            }
        });
    }
    if readings.is_empty() {
        return Err(Refused::Unread);
    }
    let Felt { slack } = fields.read()?;
    Ok(Ask::Saw { readings, slack })
}

/// A spread to two figures: no measurement at a bench bears more.
fn significant(x: f64) -> String {
    let places = 1.0 - x.abs().max(1e-9).log10().floor();
    let places = (0..12).find(|p| f64::from(*p) >= places).unwrap_or(12);
    written(x, usize::try_from(places).unwrap_or(12))
}

#[cfg(test)]
mod tests {
    use super::significant;

    #[test]
    fn spreads_bear_two_figures() {
        assert_eq!(significant(0.123_456), "0.12");
        assert_eq!(significant(12.345), "12");
        assert_eq!(significant(0.000_123_456), "0.00012");
        assert_eq!(significant(1234.5), "1234");
    }
}
