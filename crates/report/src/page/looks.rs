//! How a witness looks at a place, as far as an eye tells.

use crate::words::Key;
use crate::{Locale, args, key, say};
use movement::{Movement, WitnessId};
use quantity::{Degrees, nearest_alike};

/// How a witness looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LookChoice {
    /// Its tip on the rim, short of the slot.
    RimShort,
    /// On the edge of the slot, short.
    EdgeShort,
    /// Short of its window.
    Short,
    /// A little short of it.
    LittleShort,
    /// In its window, short of its best.
    InShort,
    /// At its best.
    Best,
    /// In its window, ahead of its best.
    InAhead,
    /// A little ahead of its window.
    LittleAhead,
    /// On the edge of the slot, ahead.
    EdgeAhead,
    /// Ahead of its window.
    Ahead,
    /// On the rim, ahead of the slot.
    RimAhead,
}

impl LookChoice {
    fn key(self) -> Key {
        match self {
            LookChoice::RimShort => key!("look-rim-short"),
            LookChoice::EdgeShort => key!("look-edge-short"),
            LookChoice::Short => key!("look-short"),
            LookChoice::LittleShort => key!("look-little-short"),
            LookChoice::InShort => key!("look-in-short"),
            LookChoice::Best => key!("look-best"),
            LookChoice::InAhead => key!("look-in-ahead"),
            LookChoice::LittleAhead => key!("look-little-ahead"),
            LookChoice::EdgeAhead => key!("look-edge-ahead"),
            LookChoice::Ahead => key!("look-ahead"),
            LookChoice::RimAhead => key!("look-rim-ahead"),
        }
    }

    /// In words.
    pub fn say(self, locale: &Locale) -> String {
        locale.say(self.key(), args![])
    }

    /// Whether it is in its window.
    pub fn inside(self) -> bool {
        matches!(
            self,
            LookChoice::InShort | LookChoice::Best | LookChoice::InAhead
        )
    }
}

/// How a witness looks up to a place: from the place of the look before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LookRange {
    /// The place, in degrees, up to which it looks so; without end for the last.
    pub upto: f64,
    /// How it looks.
    pub look: LookChoice,
}

/// Nearer its best than this part of its window it is at its best, as far as an eye tells: as fine as a close look.
const BEST_PART: f64 = 0.05;
/// Of the land between two slots, so much is under the tip while it lies on the edge; the drawing has the same.
const EDGE_PART: f64 = 0.3;
/// So much of its window beyond it is a little beyond it.
const LITTLE_PART: f64 = 0.15;

/// How a witness looks, from half a period short of its best to half a period ahead.
pub fn looks(movement: &Movement, id: WitnessId) -> [LookRange; 7] {
    let w = movement.witness(id);
    let [from, to, best] = [&w.from, &w.to, &w.best].map(Degrees::to_f64);
    let (width, period) = (to - from, w.period().to_f64());
    let slot = w.is_any_slot();
    let beyond = match (&w.look, slot) {
        (Some(look), true) => look.tip.to_f64(),
        (None, true) => EDGE_PART * (period - width),
        _ => LITTLE_PART * width,
    };
    let [far_short, little_short, little_ahead, far_ahead] = if slot {
        [
            LookChoice::RimShort,
            LookChoice::EdgeShort,
            LookChoice::EdgeAhead,
            LookChoice::RimAhead,
        ]
    } else {
        [
            LookChoice::Short,
            LookChoice::LittleShort,
            LookChoice::LittleAhead,
            LookChoice::Ahead,
        ]
    };
    let near = BEST_PART * width;
    [
        (from - beyond, far_short),
        (from, little_short),
        (best - near, LookChoice::InShort),
        (best + near, LookChoice::Best),
        (to, LookChoice::InAhead),
        (to + beyond, little_ahead),
        (f64::INFINITY, far_ahead),
    ]
    .map(|(upto, look)| LookRange { upto, look })
}

/// How a witness looks at a place.
pub fn look_of(movement: &Movement, id: WitnessId, place: &Degrees) -> LookChoice {
    let witness = movement.witness(id);
    let near = nearest_alike(place, &witness.period(), &witness.best);
    let inside = witness.admits(&near);
    // At the window's very end a place counts as in; what looks alike beside it need not.
    let fits =
        |looks: &&LookRange| near.to_f64() <= looks.upto + 1e-9 && looks.look.inside() == inside;
    let all = looks(movement, id);
    all.iter().find(fits).unwrap_or(&all[6]).look
}

/// Degrees short or ahead of 0, with a number in them, and none at all.
pub fn degree_words(locale: &Locale, number: &str) -> [String; 3] {
    [
        say!(locale, "degrees-short", number = number),
        say!(locale, "degrees-ahead", number = number),
        say!(locale, "degrees-none"),
    ]
}

/// How a witness looks at a place, and by how much: "short, on the edge, 1.2 degrees short".
pub fn reading(locale: &Locale, movement: &Movement, id: WitnessId, place: &Degrees) -> String {
    let look = look_of(movement, id, place).say(locale);
    let x = place.to_f64();
    let number = locale.decimal(x.abs(), 2);
    let by = match number.as_str() {
        "0" => say!(locale, "degrees-none"),
        _ if x < 0.0 => say!(locale, "degrees-short", number = number),
        _ => say!(locale, "degrees-ahead", number = number),
    };
    say!(locale, "reading", look = look, by = by)
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHEET: &str = include_str!("../../../../movements/schoolroom.toml");

    /// The worked places of the sample: windows -1 to 1, -8 to 6 and -110 to -55, their ends included.
    #[test]
    fn a_place_looks_as_it_lies_in_its_window() {
        let movement = sheet::read(SHEET.as_bytes())
            .expect("a good sheet")
            .movement;
        for (witness, place, said) in [
            ("slot", "-1.2", "short, on the edge, 1.2 degrees short"),
            ("slot", "-1", "in, short of its best, 1 degrees short"),
            ("slot", "1", "in, ahead of its best, 1 degrees ahead"),
            ("slot", "0", "in, at its best, at 0 degrees"),
            ("slot", "2.3", "ahead, on the rim, 2.3 degrees ahead"),
            ("star", "-10", "a little short, 10 degrees short"),
            ("pin", "-110", "in, short of its best, 110 degrees short"),
            ("pin", "-75", "in, at its best, 75 degrees short"),
            ("pin", "-30", "ahead, 30 degrees short"),
        ] {
            let id = movement.find_witness(witness).expect("a witness");
            let place = Degrees::parse(place).expect("a number");
            assert_eq!(reading(&Locale::default(), &movement, id, &place), said);
        }
    }

    #[test]
    fn looks_follow_one_another_without_a_gap() {
        let movement = sheet::read(SHEET.as_bytes())
            .expect("a good sheet")
            .movement;
        for (id, _) in movement.witnesses() {
            let looks = looks(&movement, id);
            assert!(looks.windows(2).all(|two| two[0].upto < two[1].upto));
            assert!(looks.last().is_some_and(|last| last.upto.is_infinite()));
        }
    }
}
