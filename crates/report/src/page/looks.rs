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

/// How far a tip went into its notch, as an eye tells it: in fourths of the way from one end to the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NotchStep(u8);

impl NotchStep {
    /// From the edge that it fell over to the other end.
    pub const ALL: [NotchStep; 5] = [
        NotchStep(0),
        NotchStep(1),
        NotchStep(2),
        NotchStep(3),
        NotchStep(4),
    ];

    /// As a part of the way, from 0 to 1.
    pub fn part(self) -> f64 {
        f64::from(self.0) / 4.0
    }

    /// The one nearest to a part of the way.
    pub(super) fn nearest(part: f64) -> NotchStep {
        let off = |step: &NotchStep| (step.part() - part).abs();
        let mut steps = NotchStep::ALL.into_iter();
        let first = steps.next().unwrap_or(NotchStep(0));
        steps.fold(first, |best, step| match off(&step) < off(&best) {
            true => step,
            false => best,
        })
    }

    /// In words.
    pub fn say(self, locale: &Locale) -> String {
        match self.0 {
            0 => say!(locale, "notch-edge"),
            1 => say!(locale, "notch-quarter"),
            2 => say!(locale, "notch-half"),
            3 => say!(locale, "notch-three-quarters"),
            _ => say!(locale, "notch-end"),
        }
    }
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
            ("slot", "-1.2", "short, on the edge"),
            ("slot", "-1", "in, short of its best"),
            ("slot", "1", "in, ahead of its best"),
            ("slot", "0", "in, at its best"),
            ("slot", "2.3", "ahead, on the rim"),
            ("star", "-10", "a little short"),
            ("pin", "-110", "in, short of its best"),
            ("pin", "-75", "in, at its best"),
            ("pin", "-30", "ahead"),
        ] {
            let id = movement.find_witness(witness).expect("a witness");
            let place = Degrees::parse(place).expect("a number");
            assert_eq!(look_of(&movement, id, &place).say(&Locale::default()), said);
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
