//! Entries about a job as a whole, made up.

use entries::{Day, Decimal, Digest, Kept, KeptText, Occasion, Stage, Striking, Unit, Work};
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

fn decimal() -> impl Strategy<Value = Decimal> {
    "[+-]?[0-9]{1,4}(\\.[0-9]{0,5})?".prop_map(|text| Decimal::parse(&text).unwrap())
}

fn above_nothing() -> impl Strategy<Value = Decimal> {
    "[0-9]\\.[0-9]{0,3}[1-9]".prop_map(|text| Decimal::parse(&text).unwrap())
}

fn words() -> impl Strategy<Value = KeptText> {
    prop_oneof![
        9 => ".{0,30}".prop_map(Kept::Here),
        1 => Just(Kept::Emptied),
    ]
}

fn picture() -> impl Strategy<Value = Kept<Digest>> {
    prop_oneof![
        9 => "[0-9a-f]{64}".prop_map(|text| Kept::Here(Digest::parse(&text).unwrap())),
        1 => Just(Kept::Emptied),
    ]
}

fn day() -> impl Strategy<Value = Day> {
    (1..=9999_u16, 1..=12_u8, 1..=28_u8)
        .prop_map(|(y, m, d)| Day::parse(&format!("{y:04}-{m:02}-{d:02}")).unwrap())
}

fn stage() -> impl Strategy<Value = Stage> {
    select(&Stage::ALL[..])
}

/// Any kind that points at no other entry.
pub(crate) fn work() -> impl Strategy<Value = Work> {
    const UNITS: [Unit; 4] = [Unit::Teeth, Unit::Mm, Unit::In, Unit::SPerDay];
    const OCCASIONS: [Occasion; 3] = [Occasion::Before, Occasion::During, Occasion::After];
    let intake = (
        words(),
        option::of(words()),
        option::of(words()),
        option::of(words()),
        option::of(day()),
    );
    let run = (
        above_nothing(),
        option::of(decimal()),
        option::of(decimal()),
        option::of(decimal()),
        option::of(select(&[Striking::Right, Striking::Wrong][..])),
        option::of(words()),
    );
    prop_oneof![
        intake.prop_map(|(clock, owner, reach, complaint, promised)| Work::Intake {
            clock,
            owner,
            reach,
            complaint,
            promised,
        }),
        (picture(), select(&OCCASIONS[..]), option::of(words())).prop_map(
            |(picture, when, says)| Work::Picture {
                picture,
                when,
                says,
            }
        ),
        (
            words(),
            decimal(),
            select(&UNITS[..]),
            option::of(above_nothing())
        )
            .prop_map(|(what, value, unit, spread)| Work::Measurement {
                what,
                value,
                unit,
                spread,
            }),
        (words(), words()).prop_map(|(part, says)| Work::Found { part, says }),
        (words(), option::of(words())).prop_map(|(part, says)| Work::Fitted { part, says }),
        (words(), words()).prop_map(|(place, oil)| Work::Oil { place, oil }),
        run.prop_map(|(hours, rate, beat, arc, struck, says)| Work::TrialRun {
            hours,
            rate_s_per_day: rate,
            beat_error_ms: beat,
            arc_deg: arc,
            struck,
            says,
        }),
        words().prop_map(|says| Work::Note { says }),
        (stage(), words()).prop_map(|(stage, item)| Work::Check { stage, item }),
        stage().prop_map(|to| Work::Stage { to }),
        (".{0,40}", "[0-9a-f]{8}").prop_map(|(text, hash)| Work::Sheet { text, hash }),
        (option::of(words()), option::of(words()))
            .prop_map(|(to, says)| Work::HandedBack { to, says }),
    ]
}
