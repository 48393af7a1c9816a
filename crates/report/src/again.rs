//! That a train cannot come out as it was counted, and which miscount would explain it, in words.

use crate::en::{ratio, ticked};
use crate::{Locale, say};
use movement::{ArborId, Hop, Movement};
use quantity::{Exact, to_f64};
use workshop::counts::{Amiss, Asks, CountAgain, Miscount, Miscounted};

/// So many of the miscounts that would explain it are told.
const TOLD: usize = 3;

/// What does not come out, a sentence each, and the likeliest miscount behind them; nothing where all comes out.
pub fn count_again(locale: &Locale, movement: &Movement, again: &CountAgain) -> Vec<String> {
    let mut lines: Vec<String> = (again.amiss.iter())
        .map(|amiss| line(locale, movement, amiss))
        .collect();
    if lines.is_empty() {
        return lines;
    }
    let likely: Vec<String> = (again.miscounts.iter().take(TOLD))
        .map(|miscount| miscounted(locale, movement, miscount))
        .collect();
    lines.push(match likely[..] {
        [] => {
            // A time or a length that was measured may as well be wrong as a count.
            let measured = |amiss: &Amiss| matches!(amiss.asks, Asks::Seconds | Asks::Beats { .. });
            let measured = again.amiss.iter().any(measured);
            say!(
                locale,
                "again-none",
                measured = if measured { "yes" } else { "no" }
            )
        }
        _ => {
            let all = locale.either(&likely);
            let left = again.miscounts.len().saturating_sub(TOLD);
            say!(locale, "again-likely", all = all, left = left)
        }
    });
    lines
}

fn line(locale: &Locale, movement: &Movement, amiss: &Amiss) -> String {
    let arbor = |id: ArborId| crate::page::named(&movement.arbor(id).id);
    let (on, per) = (arbor(amiss.on), arbor(amiss.per));
    let way = way(&amiss.way);
    let number = |x: &Exact| number(locale, x);
    let (wanted, given) = (number(&amiss.wanted), number(&amiss.given));
    match &amiss.asks {
        Asks::EachBlow { of, places } => say!(
            locale,
            "again-each",
            of = crate::page::named(of),
            places = *places,
            on = on,
            per = per,
            wanted = wanted,
            way = way,
            given = given
        ),
        Asks::Back { of, places } => say!(
            locale,
            "again-back",
            of = crate::page::named(of),
            places = *places,
            on = on,
            given = given,
            way = way
        ),
        Asks::Beats {
            train, pendulum, ..
        } => say!(
            locale,
            "again-beats",
            train = locale.decimal(*train, 0),
            pendulum = locale.decimal(*pendulum, 0),
            on = on
        ),
        Asks::Seconds => say!(
            locale,
            "again-seconds",
            on = on,
            per = per,
            wanted = wanted,
            way = way,
            given = given
        ),
    }
}

/// A whole number, or two figures behind the point.
fn number(locale: &Locale, x: &Exact) -> String {
    match x.is_integer() {
        true => ratio(x),
        false => locale.decimal(to_f64(x), 2),
    }
}

/// `72/8 × 52/6`, from the arbor that is told of towards the other.
fn way(hops: &[Hop]) -> String {
    let hops: Vec<String> = (hops.iter())
        .map(|hop| format!("{}/{}", hop.here, hop.there))
        .collect();
    hops.join(" × ")
}

fn miscounted(locale: &Locale, movement: &Movement, miscount: &Miscount) -> String {
    let (written, would) = (miscount.written, miscount.would_be);
    let of = match &miscount.part {
        Miscounted::Teeth(part) => movement.part_name(*part),
        Miscounted::Places(of) => of.clone(),
    };
    let of = ticked(&of);
    say!(
        locale,
        "again-miscount",
        of = of,
        would = would,
        written = written
    )
}
