//! What is said while a movement is described: how it strikes, what follows from the counts, what is asked of its works.

use crate::described::{kind_asks, kind_choice};
use crate::page::named;
use crate::{Locale, Sentence, runs, say};
use num_traits::One;
use quantity::Exact;
use tasks::{
    AskedFor, CountedPart, DescribeFault, Follow, LikelyMiscount, PartLook, PlaceId, Question,
    Wanted, WorkRole,
};

/// A name of data as messages choose by it.
fn key(name: &str) -> String {
    name.replace([' ', '_'], "-")
}

/// A kind of strike, by its name on a sheet.
pub fn kind(locale: &Locale, id: &str) -> String {
    say!(locale, "describe-kind", kind = key(id), name = id)
}

/// What is to be counted of a part.
pub fn look_key(look: PartLook) -> &'static str {
    match look {
        PartLook::Wheel => "teeth",
        PartLook::Pinion => "leaves",
        PartLook::Lantern => "trundles",
        PartLook::Pins => "pins",
    }
}

/// The question for a count.
pub fn count(locale: &Locale, place: &PlaceId, look: PartLook) -> Sentence {
    runs!(
        locale,
        "counting-question",
        arbor = named(&place.arbor),
        part = named(&place.part),
        has = look_key(look)
    )
}

/// A part by its name, in a sentence.
pub fn part(locale: &Locale, place: &PlaceId) -> String {
    say!(
        locale,
        "counting-part",
        arbor = named(&place.arbor),
        part = named(&place.part)
    )
}

/// A question about the works. `first` is the arbor where power comes in, for the way it runs.
pub fn question(locale: &Locale, asked: &Question, first: &str) -> String {
    match &asked.asks {
        AskedFor::Way { .. } => say!(locale, "describe-way", arbor = named(first)),
        _ => kind_asks(locale, asked),
    }
}

/// A choice of a question.
pub fn choice(locale: &Locale, asked: &Question, choice: &str) -> String {
    kind_choice(locale, asked, choice)
}

/// The counts between two arbors, from the one that is left: "72 over 8", "6 into 52".
fn between(locale: &Locale, parts: &[CountedPart]) -> String {
    let pairs = parts.chunks_exact(2).map(|pair| {
        let [near, far] = [pair[0].teeth.get(), pair[1].teeth.get()];
        say!(
            locale,
            "describe-pair",
            up = if near >= far { "yes" } else { "no" },
            near = near,
            far = far
        )
    });
    locale.list(&pairs.collect::<Vec<_>>())
}

/// Turns as they are said: whole ones by their number, else as a fraction.
fn turns(locale: &Locale, turns: &Exact, arbor: &str, by: &str) -> String {
    let (whole, number) = match (turns.is_integer(), turns.numer().is_one()) {
        (true, _) => ("yes", turns.to_string()),
        (false, true) if turns.denom().to_string() == "2" => ("half", String::new()),
        _ => ("no", format!("{}/{}", turns.numer(), turns.denom())),
    };
    let one = if turns.is_one() { "one" } else { whole };
    say!(
        locale,
        "describe-turns",
        how = one,
        by = by,
        number = number,
        arbor = named(arbor)
    )
}

/// Whether the pins that lift the hammer were counted, or are only as usual.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lifters {
    /// They were.
    Counted,
    /// They are as usual.
    AsUsual,
}

/// What follows from counts, and whether that can be: "72 over 8, with 9 pins: one turn of the third a blow. Right."
pub fn follow(locale: &Locale, follow: &Follow, lifters: Lifters) -> String {
    let counts = between(locale, &follow.between);
    let by = match follow.by {
        WorkRole::CountWheel => "places",
        WorkRole::ChimeCountWheel => "chime",
        _ if lifters == Lifters::AsUsual => "usual",
        _ => "pins",
    };
    let counts = say!(
        locale,
        "describe-counts",
        there = if follow.between.is_empty() {
            "no"
        } else {
            "yes"
        },
        by = by,
        counts = counts,
        pins = follow.lifters.1
    );
    let what = match follow.wanted {
        Wanted::Blows(_) => say!(
            locale,
            "describe-blows",
            by = by,
            blows = fraction(&(Exact::one() / &follow.turns_a_blow)),
            arbor = named(&follow.arbor)
        ),
        Wanted::One | Wanted::Whole => turns(locale, &follow.turns_a_blow, &follow.arbor, by),
    };
    if follow.right {
        return say!(locale, "describe-right", counts = counts, what = what);
    }
    /// More than these are no help.
    const TOLD: usize = 3;
    let perhaps: Vec<String> = (follow.miscounts.iter())
        .take(TOLD)
        .map(|miscount| perhaps(locale, miscount))
        .collect();
    let want = match follow.wanted {
        Wanted::One => "one",
        Wanted::Whole => "whole",
        Wanted::Blows(_) => "blows",
    };
    let must = match follow.wanted {
        Wanted::Blows(blows) => blows,
        _ => follow.places,
    };
    say!(
        locale,
        "describe-wrong",
        counts = counts,
        what = what,
        want = want,
        must = must,
        known = if perhaps.is_empty() { "no" } else { "yes" },
        perhaps = locale.list(&perhaps)
    )
}

fn fraction(number: &Exact) -> String {
    match number.is_integer() {
        true => number.to_string(),
        false => format!("{}/{}", number.numer(), number.denom()),
    }
}

fn perhaps(locale: &Locale, miscount: &LikelyMiscount) -> String {
    match miscount {
        LikelyMiscount::Part {
            id,
            counted,
            perhaps,
        } => say!(
            locale,
            "describe-perhaps",
            part = part(locale, id),
            perhaps = perhaps.get(),
            counted = counted.get()
        ),
        LikelyMiscount::Lifters { counted, perhaps } => say!(
            locale,
            "describe-perhaps-lifters",
            perhaps = *perhaps,
            counted = *counted
        ),
    }
}

/// Why a touch is refused.
pub(crate) fn refused(locale: &Locale, fault: &DescribeFault) -> String {
    match fault {
        DescribeFault::Width => say!(locale, "describe-no-width"),
        DescribeFault::Pace => say!(locale, "describe-no-pace"),
        DescribeFault::NoAnswer { .. } | DescribeFault::NoQuestion { .. } => {
            say!(locale, "describe-no-answer")
        }
        DescribeFault::DoesNotGo { .. } => say!(locale, "describe-does-not-go"),
        DescribeFault::NoKind { got } => say!(locale, "describe-no-kind", got = got),
        DescribeFault::NoWork(of) => say!(locale, "describe-no-work", of = of.word()),
        DescribeFault::Edit(fault) => say!(locale, "describe-no-edit", fault = fault.to_string()),
    }
}
