//! That a train cannot come out as it was counted, and which miscount would explain it, in words.

use crate::en::{ratio, ticked};
use crate::{Words, say};
use movement::{ArborId, Hop, Movement};
use quantity::{Exact, to_f64};
use workshop::counts::{Amiss, Asks, CountAgain, Miscount, Miscounted};

/// So many of the miscounts that would explain it are told.
const TOLD: usize = 3;

/// What does not come out, a sentence each, and the likeliest miscount behind them; nothing where all comes out.
pub fn count_again(words: &Words, movement: &Movement, again: &CountAgain) -> Vec<String> {
    let mut lines: Vec<String> = (again.amiss.iter())
        .map(|amiss| line(words, movement, amiss))
        .collect();
    if lines.is_empty() {
        return lines;
    }
    let likely: Vec<String> = (again.miscounts.iter().take(TOLD))
        .map(|miscount| miscounted(words, movement, miscount))
        .collect();
    lines.push(match likely[..] {
        [] => {
            // A time or a length that was measured may as well be wrong as a count.
            let measured = |amiss: &Amiss| matches!(amiss.asks, Asks::Seconds | Asks::Beats { .. });
            let measured = again.amiss.iter().any(measured);
            say!(
                words,
                "again-none",
                measured = if measured { "yes" } else { "no" }
            )
        }
        _ => {
            let all = words.either(&likely);
            let left = again.miscounts.len().saturating_sub(TOLD);
            say!(words, "again-likely", all = all, left = left)
        }
    });
    lines
}

fn line(words: &Words, movement: &Movement, amiss: &Amiss) -> String {
    let arbor = |id: ArborId| crate::page::named(&movement.arbor(id).id);
    let (on, per) = (arbor(amiss.on), arbor(amiss.per));
    let way = way(&amiss.way);
    let number = |x: &Exact| number(words, x);
    let (wanted, given) = (number(&amiss.wanted), number(&amiss.given));
    match &amiss.asks {
        Asks::EachBlow { of, places } => say!(
            words,
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
            words,
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
            words,
            "again-beats",
            train = words.decimal(*train, 0),
            pendulum = words.decimal(*pendulum, 0),
            on = on
        ),
        Asks::Seconds => say!(
            words,
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
fn number(words: &Words, x: &Exact) -> String {
    match x.is_integer() {
        true => ratio(x),
        false => words.decimal(to_f64(x), 2),
    }
}

/// `72/8 × 52/6`, from the arbor that is told of towards the other.
fn way(hops: &[Hop]) -> String {
    let hops: Vec<String> = (hops.iter())
        .map(|hop| format!("{}/{}", hop.here, hop.there))
        .collect();
    hops.join(" × ")
}

fn miscounted(words: &Words, movement: &Movement, miscount: &Miscount) -> String {
    let (written, would) = (miscount.written, miscount.would_be);
    let of = match &miscount.part {
        Miscounted::Teeth(part) => movement.part_name(*part),
        Miscounted::Places(of) => of.clone(),
    };
    let of = ticked(&of);
    say!(
        words,
        "again-miscount",
        of = of,
        would = would,
        written = written
    )
}
