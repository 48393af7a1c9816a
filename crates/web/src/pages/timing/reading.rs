//! What is seen: each witness that can be read now, as a close-up to be made like it.

use crate::desk::{Job, Refused};
use crate::form::said::lenient;
use crate::form::{Fields, is_number, plain, written};
use crate::holding::{Held, HeldChoices};
use crate::pages::closeup::{self, HowSure, marks, state};
use crate::plate::Plate;
use entries::{Decimal, EntryContent, EntryKind, LoggedReading, LoggedSight, LoggedTension};
use maud::{Markup, PreEscaped, html};
use movement::{Movement, WitnessDrawing, WitnessId};
use quantity::{Degrees, two_figures};
use report::page;
use report::say;
use serde::Deserialize;
use tasks::Ask;
use timing::{Rest, StandsAtRest};

/// The close-ups of all that can be read now, in the order the advice would have them, and the form they are sent by.
pub(crate) fn reading(job: &Job, plate: &Plate, typed: &Fields) -> Result<Markup, Refused> {
    let locale = &job.locale;
    let asked = readable_witnesses(job);
    let slack = typed.read::<Felt>()?.slack;
    let rest = Rest::of(job.movement());
    let tells = asked.iter().any(|id| tells_at_rest(&rest, *id));
    let held = held_for(job, typed)?;
    Ok(html! {
        @if !asked.is_empty() { (choice(job, held, tells)) }
        form #reading.reading method="post" action=(format!("/job/{}/saw", job.id)) autocomplete="off" data-since=(since(job)) {
            input type="hidden" name="entries" value=(job.entries());
            input type="hidden" name="held" value=(held.word());
            @if !asked.is_empty() { (pallet(job, typed)?) }
            @match held {
                Held::AtRest => (close_ups_at_rest(&Looked { job, plate, asked: &asked }, typed)),
                Held::Dropping => @for id in &asked {
                    (witness(&At { job, plate, further: Degrees::zero(), held }, *id, typed))
                },
            }
            @if !asked.is_empty() && held == Held::Dropping { label.check {
                input type="checkbox" name="slack" value="slack" checked[slack];
                span { (say!(locale, "slack")) }
            } }
        }
    })
}

/// Witnesses that are looked at, in this order.
pub(crate) struct Looked<'a> {
    pub(crate) job: &'a Job,
    pub(crate) plate: &'a Plate,
    pub(crate) asked: &'a [WitnessId],
}

/// The close-ups of what can be read at rest.
pub(crate) fn close_ups_at_rest(looked: &Looked<'_>, typed: &Fields) -> Markup {
    let Looked { job, plate, asked } = *looked;
    let rest = Rest::of(job.movement());
    let at = |id: WitnessId| At {
        job,
        plate,
        further: rest.usually(job.movement(), id),
        held: Held::AtRest,
    };
    html! {
        @for id in asked {
            @match rest.at_rest(*id) {
                StandsAtRest::Unknown => {},
                StandsAtRest::Locks { .. } => (in_the_notch(job, *id, typed)),
                _ => (witness(&at(*id), *id, typed)),
            }
        }
    }
}

/// Whether it is asked what is seen at rest, and that tells anything.
pub(crate) fn is_at_rest(job: &Job, asked: &Fields) -> Result<bool, Refused> {
    Ok(held_for(job, asked)? == Held::AtRest)
}

/// Whether what is seen of a witness at rest tells how it stood at the drop.
fn tells_at_rest(rest: &Rest, id: WitnessId) -> bool {
    matches!(
        rest.at_rest(id),
        StandsAtRest::RunsOn(_) | StandsAtRest::WithLock { .. }
    )
}

/// The last entry that told of the train, whatever was put on its sheet since; 0 where none did. What was begun to be read after it is still
/// as it was seen.
pub(crate) fn since(job: &Job) -> usize {
    let mut told = job.timing.log.standing().rev();
    told.find(|entry| entry.work().is_none())
        .map_or(0, |entry| entry.n)
}

/// How the train is held for this look: as is asked for, or as what is to be looked at next is seen; else as it was held for the last look of
/// the job; else at rest where that is what is looked at first. At rest only where that tells anything.
fn held_for(job: &Job, asked: &Fields) -> Result<Held, Refused> {
    let rest = Rest::of(job.movement());
    let mut readable = readable_witnesses(job).into_iter();
    if !readable.any(|id| tells_at_rest(&rest, id)) {
        return Ok(Held::Dropping);
    }
    let first = || match rest.is_first(job.movement()) {
        true => Held::AtRest,
        false => Held::Dropping,
    };
    let asked = asked.read::<Felt>()?.held;
    let known = asked.or_else(|| held_for_next(job, &rest));
    Ok(known.or_else(|| held_last(job)).unwrap_or_else(first))
}

/// What is asked for, with how the train was chosen to be held where that is not said anew.
///
/// # Errors
/// What is asked for cannot be read.
pub(super) fn as_chosen(
    choices: &HeldChoices,
    job: &Job,
    asked: &Fields,
) -> Result<Fields, Refused> {
    let said = asked.read::<Felt>()?.held;
    let held = choices.held(job.id, since(job), said);
    Ok(match held {
        Some(held) => asked.clone().with("held", held.word()),
        None => asked.clone(),
    })
}

/// As the lever drops, where after a look what is to be looked at next is seen only so.
fn held_for_next(job: &Job, rest: &Rest) -> Option<Held> {
    let timing::Act::Look(next) = &job.timing.advice.act else {
        return None;
    };
    let movement = job.movement();
    let only_dropping = |id: &WitnessId| match rest.at_rest(*id) {
        StandsAtRest::Unknown => true,
        StandsAtRest::Locks { .. } => Rest::notch(movement, *id).is_none(),
        StandsAtRest::AsItIs | StandsAtRest::RunsOn(_) | StandsAtRest::WithLock { .. } => false,
    };
    let looked = !job.timing.recalled.last_look.is_empty();
    (looked && next.first().is_some_and(only_dropping)).then_some(Held::Dropping)
}

/// As it was held for the last look of the job.
fn held_last(job: &Job) -> Option<Held> {
    let mut entries = job.timing.log.standing().rev();
    entries.find_map(|entry| match &entry.told {
        EntryContent::Known(EntryKind::Look { tension, .. }) => Some(match tension {
            LoggedTension::AtRest => Held::AtRest,
            LoggedTension::Tensioned | LoggedTension::Slack => Held::Dropping,
        }),
        _ => None,
    })
}

/// The two looks: the one that needs no hand at the lever first.
fn choice(job: &Job, held: Held, tells: bool) -> Markup {
    let locale = &job.locale;
    let drops = page::drops(job.movement());
    html! {
        nav.two-looks aria-label=(say!(locale, "held")) {
            @if tells {
                @for look in Held::ALL {
                    a.button href=(format!("/job/{}?look=look&held={}", job.id, look.word()))
                        aria-current=[(look == held).then_some("true")] { (look.say(locale, drops)) }
                }
                p { @match held {
                    Held::AtRest => (say!(locale, "held-at-rest-how")),
                    Held::Dropping => (say!(locale, "held-dropping-how", drops = drops)),
                } }
            } @else { p { (say!(locale, "held-unknown", drops = drops)) } }
        }
    }
}

/// What locks a rack: the tail of its pallet, on its pin, or its hook.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum RackLock {
    Tail,
    Hook,
}

impl RackLock {
    /// Of the rack that counts the blows; nothing where none does.
    fn of(movement: &Movement) -> Option<RackLock> {
        let works = movement.works()?;
        let rack = works.rack()?;
        let pallet = works.pin(rack.pallet).on;
        let mut levers = works.levers().map(|(_, lever)| lever);
        let tail = levers.any(|lever| {
            let stops = lever.stops().map(|stops| works.pin(stops.pin).on);
            lever.on == rack.on && stops == Some(pallet)
        });
        Some(match tail {
            true => RackLock::Tail,
            false => RackLock::Hook,
        })
    }

    fn word(self) -> &'static str {
        match self {
            RackLock::Tail => "tail",
            RackLock::Hook => "hook",
        }
    }

    /// Its picture: the rack, and what locks it.
    fn picture(self) -> Markup {
        let drawing = draw::pictured(&format!("locked_by_the_{}", self.word()));
        let svg = drawing.map(|drawing| drawing.svg());
        let hidden = svg.map(|svg| svg.replacen("<svg ", "<svg aria-hidden=\"true\" ", 1));
        html! { (PreEscaped(hidden.unwrap_or_default())) }
    }
}

/// The drop, drawn: of a rack what locks it, else the cam that the lever leaves.
fn drop_drawing(job: &Job, plate: &Plate, name: &str) -> Option<Markup> {
    match RackLock::of(job.movement()) {
        Some(lock) => Some(lock.picture()),
        None => plate.drop_glass(name),
    }
}

/// Whether the rack drops past its pallet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum Dropping {
    Free,
    Touches,
    Fast,
}

#[derive(Deserialize)]
struct Pallet {
    #[serde(deserialize_with = "lenient")]
    pallet: Option<Dropping>,
}

/// The first that is looked at of a rack: whether its pallet is clear of it.
fn pallet(job: &Job, typed: &Fields) -> Result<Markup, Refused> {
    let (locale, movement) = (&job.locale, job.movement());
    let Some(lock) = RackLock::of(movement) else {
        return Ok(html! {});
    };
    let said = typed.read::<Pallet>()?.pallet;
    let asks = say!(locale, "pallet-asks", locked = lock.word());
    let answers = [
        (Dropping::Free, "free", say!(locale, "pallet-free")),
        (Dropping::Touches, "touches", say!(locale, "pallet-touches")),
        (Dropping::Fast, "fast", say!(locale, "pallet-fast")),
    ];
    Ok(html! {
        fieldset #read-gathering-pallet.close-up.notch.pallet data-state="unread" {
            legend { (say!(locale, "pallet-name")) }
            (lock.picture())
            p.says { (asks) }
            div.steps role="radiogroup" aria-label=(asks) {
                @for (answer, word, says) in &answers {
                    label.check {
                        input type="radio" name="pallet" value=(word) checked[said == Some(*answer)];
                        span { (says) }
                    }
                }
            }
        }
    })
}

/// What locks stands at its arm: the tip in its notch tells how far it went, in five steps from one end to the other.
fn in_the_notch(job: &Job, id: WitnessId, typed: &Fields) -> Markup {
    let (locale, movement) = (&job.locale, job.movement());
    let name = &movement.witness(id).id;
    let called = page::witness_called(locale, movement, id);
    let Some(way) = Rest::notch(movement, id) else {
        let drops = page::drops(movement);
        return html! { p.at-its-arm { b { (called) } ": " (say!(locale, "at-its-arm", drops = drops)) } };
    };
    let field = format!("{name}.notch");
    let picked = typed.get(&field);
    html! {
        fieldset.close-up.notch id=(format!("read-{name}")) data-state="unread" {
            legend { (called) }
            p.says { (say!(locale, "notch-asks")) }
            div.steps role="radiogroup" aria-label=(say!(locale, "notch-asks")) {
                @for step in page::NotchStep::ALL {
                    @let value = written(step.part() * way.to_f64(), 3);
                    label.check {
                        input type="radio" name=(field) value=(value) checked[picked == Some(value.as_str())];
                        span { (step.say(locale)) }
                    }
                }
            }
        }
    }
}

/// One of five steps is all that lies nearer to it than to the next: a quarter of the notch, all of it alike.
fn notch_spread(way: &Degrees) -> f64 {
    way.to_f64() / 4.0 / 12f64.sqrt()
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

/// Where witnesses are looked at, and how much further on than at the drop one stands there.
struct At<'a> {
    job: &'a Job,
    plate: &'a Plate,
    further: Degrees,
    held: Held,
}

fn witness(at: &At<'_>, id: WitnessId, typed: &Fields) -> Markup {
    let At {
        job,
        plate,
        further,
        held,
    } = at;
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
        .map(|place| page::look_of(movement, id, &(place - further)));
    let clear = say!(locale, "clear");
    html! {
        fieldset.close-up id=(format!("read-{name}")) data-state=(state(look.map(|look| look.inside()))) {
            legend { (called) }
            div.glass-side {
                (closeup::set(job, id, place.clone(), further))
                p.looks { (marks()) span.words {
                    @if let Some(look) = look { (look.say(locale)) } @else { (say!(locale, "unread")) }
                } }
            }
            div.told-side {
                p.says { (witness.says) }
                div.pictures role="radiogroup" aria-label=(of(say!(locale, "pictures"))) {
                    @for (i, meant) in closeup::choices(movement, id).iter().enumerate() {
                        @let place = &(meant + further);
                        @let value = written(place.to_f64(), 5);
                        label.picture {
                            input type="radio" name=(field("pick")) value=(value) checked[pick == Some(value.as_str())]
                                aria-label=(page::look_of(movement, id, meant).say(locale));
                            (closeup::picture(job, id, i, place))
                        }
                    }
                }
                @if in_quarters(movement, id) { (quarters(job, id, typed)) }
                div.finer {
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
                    details.in-degrees open[!number.is_empty() && !is_number(&plain(number))] {
                        summary aria-label=(what_of(&say!(locale, "number-fold"))) { (say!(locale, "number-fold")) }
                        label.number {
                            span.visually-hidden { (say!(locale, "about", name = &called, what = say!(locale, "number"))) }
                            input type="text" inputmode="text" name=(field("deg")) value=(number) size="7"
                                placeholder="±0" aria-describedby=(format!("read-{name}-unit"));
                            span.unit id=(format!("read-{name}-unit")) aria-hidden="true" { "°" }
                        }
                    }
                }
            }
            @let how = format!("how-{name}");
            @let asks = say!(locale, "how");
            button.plain.how type="button" popovertarget=(how) aria-label=(what_of(&asks)) { (asks) }
            div.panel popover id=(how) role="dialog" aria-label=(what_of(&asks)) {
                @if let Some(drawing) = drop_drawing(job, plate, name).filter(|_| *held == Held::Dropping) {
                    figure { (drawing) figcaption { (say!(locale, "how-drawing", drops = page::drops(movement))) } }
                }
                ol { @match held {
                    Held::AtRest => { @for line in page::how_to_read_at_rest(locale, movement, id) { li { (line) } } },
                    Held::Dropping => { @for line in page::how_to_read(locale, movement, id) { li { (line) } } },
                } }
                button type="button" popovertarget=(how) popovertargetaction="hide" { (say!(locale, "close")) }
            }
        }
    }
}

/// Whether a witness is read in quarters too: pins against a tail or an arm, as on a clock face or as a part of the way from pin to pin.
fn in_quarters(movement: &Movement, id: WitnessId) -> bool {
    let looks = movement.witness(id).kind.looks;
    matches!(looks, WitnessDrawing::Pins | WitnessDrawing::Stop)
}

/// How far a pin has still to go, in quarters of the way from one place to the next.
fn quarters(job: &Job, id: WitnessId, typed: &Fields) -> Markup {
    let (locale, movement) = (&job.locale, job.movement());
    let called = page::witness_called(locale, movement, id);
    let field = format!("{}.quarters", movement.witness(id).id);
    let picked = typed.get(&field);
    let asks = match movement.witness(id).kind.looks {
        WitnessDrawing::Pins => say!(locale, "quarters-asks", at = "tail"),
        _ => say!(locale, "quarters-asks", at = "arm"),
    };
    let says = say!(locale, "of-witness", what = asks.clone(), name = &called);
    html! {
        div.in-quarters role="radiogroup" aria-label=(says) {
            span.quiet { (asks) }
            @for to_go in 0..4_u8 {
                @let value = format!("-{to_go}");
                label.check {
                    input type="radio" name=(field) value=(value) checked[picked == Some(value.as_str())];
                    span { (say!(locale, "quarters-to-go", count = to_go)) }
                }
            }
        }
    }
}

/// What is seen of a witness: a number, a picture, and how surely.
#[derive(Deserialize)]
struct Look {
    deg: Option<String>,
    pick: Option<String>,
    quarters: Option<String>,
    notch: Option<String>,
    #[serde(deserialize_with = "lenient")]
    sure: Option<HowSure>,
}

/// Whether there is slack to be felt, and how the train is held.
#[derive(Deserialize)]
struct Felt {
    slack: bool,
    #[serde(deserialize_with = "lenient")]
    held: Option<Held>,
}

/// What a form says was seen, witness by witness.
///
/// A picture is a coarse reading: it stands for all that looks more like it than like its neighbours.
pub(crate) fn seen(job: &Job, fields: &Fields) -> Result<Ask, Refused> {
    // Where the pallet stands in the rack nothing else that is read holds.
    if matches!(
        fields.read::<Pallet>()?.pallet,
        Some(Dropping::Touches | Dropping::Fast)
    ) {
        return Err(Refused::Told(say!(job.locale, "pallet-first")));
    }
    let Felt { slack, held } = fields.read()?;
    let at_rest = held == Some(Held::AtRest);
    let tension = match (at_rest, slack) {
        (true, _) => LoggedTension::AtRest,
        (false, true) => LoggedTension::Slack,
        (false, false) => LoggedTension::Tensioned,
    };
    let readings = readings(job, fields, at_rest)?;
    Ok(Ask::Saw { readings, tension })
}

/// The readings that a form says, at rest or as the lever drops.
pub(crate) fn readings(
    job: &Job,
    fields: &Fields,
    at_rest: bool,
) -> Result<Vec<LoggedReading>, Refused> {
    let movement = job.movement();
    let at_rest = at_rest.then(|| Rest::of(movement));
    let mut readings = Vec::new();
    for (id, witness) in movement.witnesses() {
        let further =
            (at_rest.as_ref()).map_or_else(Degrees::zero, |rest| rest.usually(movement, id));
        let of_it = fields.part(|name| name.strip_prefix(&witness.id)?.strip_prefix('.'));
        let Look {
            deg,
            pick,
            notch,
            quarters,
            sure,
        } = of_it.read()?;
        if let (Some(notch), Some(_), Some(way)) = (&notch, &at_rest, Rest::notch(movement, id))
            && let Ok(notch) = Decimal::parse(notch)
        {
            readings.push(LoggedReading {
                witness: witness.id.clone(),
                seen: LoggedSight::Notch {
                    notch,
                    spread: Decimal::parse(&significant(notch_spread(&way))).ok(),
                },
            });
            continue;
        }
        let sure = closeup::spread(movement, id, sure.unwrap_or_default());
        let typed = (deg.as_deref().map(plain)).filter(|typed| !typed.is_empty());
        if quarters.is_some() && (typed.is_some() || pick.is_some()) {
            let name = page::witness_named(&job.locale, movement, id);
            return Err(Refused::ReadTwice(name));
        }
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
                    .position(|place| written((place + &further).to_f64(), 5) == pick);
                let spread = which.map_or(sure, |which| {
                    closeup::picture_spread(movement, id, which).max(sure)
                });
                by_number(pick, spread)
            }
            (None, Some(typed)) if is_number(typed) => by_number(typed, sure),
            (None, Some(_)) => None,
            (None, None) => match quarters.as_deref().map(Decimal::parse) {
                Some(Ok(quarters)) => Some(LoggedSight::Quarters { quarters }),
                _ => continue,
            },
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
    match readings.is_empty() {
        true => Err(Refused::Unread),
        false => Ok(readings),
    }
}

/// A spread to two figures: no measurement at a bench bears more.
fn significant(x: f64) -> String {
    written(x, two_figures(x))
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
