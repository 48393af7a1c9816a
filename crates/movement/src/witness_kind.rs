//! What a witness is: one row a kind. A further kind is a row here, its words in the catalogues, and its drawing where it looks
//! like nothing that there is.
//!
//! Where a sheet says no kind, it follows from the tracks, pins and levers of the witness's arbor, from how often it repeats and
//! from what its arbor drives; never from a name.

use crate::lever_kind::spaced;
use crate::{
    ArborId, Carrier, CountedBy, Lever, Movement, PinId, Reach, Shape, Track, Witness, Works,
};

/// What a witness looks like: the drawing it has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WitnessDrawing {
    /// The slots of a count wheel, against the lever's tip.
    Slots,
    /// Pins or cams round a rim, against a hammer's tail.
    Pins,
    /// One pin or several, against an arm that stops them.
    Stop,
    /// The steps of a snail, against the rack's tail.
    Steps,
    /// A fly's two vanes, against a wire that they must clear.
    Vane,
    /// Nobody said: one place as a pin against an arm, several as pins against a tail.
    Plain,
}

/// A kind of witness.
#[derive(Debug, Clone, Copy)]
pub struct WitnessKind {
    /// What it is called on a sheet: its own word, then others that are taken for it.
    pub words: &'static [&'static str],
    /// What it looks like.
    pub looks: WitnessDrawing,
    /// Whether a witness is of this kind that says nothing of it.
    follows: fn(&Seat<'_>) -> bool,
}

/// Every kind, in the order in which they are thought of; what fits none before is the last.
pub const WITNESS_KINDS: [WitnessKind; 8] = [
    row(&["slot"], WitnessDrawing::Slots, is_slot),
    row(&["rack tail"], WitnessDrawing::Steps, is_on_the_snail),
    row(&["hammer tail"], WitnessDrawing::Pins, lifts_a_hammer),
    row(
        &["gathering pallet", "pallet"],
        WitnessDrawing::Stop,
        gathers,
    ),
    row(&["locking pin", "stop pin"], WitnessDrawing::Stop, locks),
    row(&["warning pin"], WitnessDrawing::Stop, warns),
    row(
        &["fly", "vane", "fly vane"],
        WitnessDrawing::Vane,
        ends_the_train,
    ),
    row(&["plain"], WitnessDrawing::Plain, |_| true),
];

const fn row(
    words: &'static [&'static str],
    looks: WitnessDrawing,
    follows: fn(&Seat<'_>) -> bool,
) -> WitnessKind {
    WitnessKind {
        words,
        looks,
        follows,
    }
}

const SHEET_WORDS: [&str; WITNESS_KINDS.len()] = {
    let mut words = [""; WITNESS_KINDS.len()];
    let mut i = 0;
    while i < words.len() {
        words[i] = WITNESS_KINDS[i].words[0];
        i += 1;
    }
    words
};

impl WitnessKind {
    /// The sheet's own word for every kind.
    pub const WORDS: &'static [&'static str] = &SHEET_WORDS;

    /// The kind that nothing is known of.
    pub const PLAIN: WitnessKind = WITNESS_KINDS[WITNESS_KINDS.len() - 1];

    /// The kind that a sheet calls so; `_` stands for a blank.
    pub fn called(word: &str) -> Option<WitnessKind> {
        let word = spaced(word);
        let same = |kind: &WitnessKind| kind.words.contains(&word.as_str());
        WITNESS_KINDS.into_iter().find(same)
    }

    /// The sheet's own word for it.
    pub fn word(&self) -> &'static str {
        self.words[0]
    }

    /// What a witness is that does not say: on an arbor, so many alike places in a turn.
    pub(crate) fn of(movement: &Movement, on: ArborId, places: u16) -> WitnessKind {
        let seat = Seat {
            movement,
            on,
            places,
        };
        let fits = |kind: &WitnessKind| (kind.follows)(&seat);
        WITNESS_KINDS
            .into_iter()
            .find(fits)
            .unwrap_or(WitnessKind::PLAIN)
    }
}

impl PartialEq for WitnessKind {
    fn eq(&self, other: &WitnessKind) -> bool {
        self.word() == other.word()
    }
}

impl Eq for WitnessKind {}

impl Movement {
    /// The arbor whose pins lift the hammer, as far as witnesses tell: that of a hammer tail or, where nobody says what a witness
    /// is, one with more places than a vane has and fewer than a count wheel.
    pub fn lifting(&self) -> Option<ArborId> {
        self.strike()?;
        let of = |fits: fn(&Witness) -> bool| {
            let mut witnesses = self.witnesses();
            witnesses
                .find(|(_, witness)| fits(witness))
                .map(|(_, witness)| witness.on)
        };
        of(|w| w.kind.looks == WitnessDrawing::Pins).or_else(|| {
            of(|w| w.kind.looks == WitnessDrawing::Plain && (3..=30).contains(&w.repeats.get()))
        })
    }
}

/// Where a witness sits.
struct Seat<'a> {
    movement: &'a Movement,
    on: ArborId,
    places: u16,
}

impl<'a> Seat<'a> {
    fn works(&self) -> Option<&'a Works> {
        self.movement.works()
    }

    fn tracks(&self) -> impl Iterator<Item = (crate::TrackId, &'a Track)> {
        let on = self.on;
        let all = self.works().into_iter().flat_map(Works::tracks);
        all.filter(move |(_, track)| track.carrier == Carrier::Arbor(on))
    }

    fn levers(&self) -> impl Iterator<Item = &'a Lever> {
        let all = self.works().into_iter().flat_map(Works::levers);
        all.map(|(_, lever)| lever)
    }

    /// Whether pins of its arbor are as many as it has places, or it is one of them that is meant.
    fn is_of(&self, pin: PinId) -> bool {
        self.works().is_some_and(|works| {
            let pin = works.pin(pin);
            pin.on == self.on && (self.places == 1 || pin.places.len() == self.places.into())
        })
    }

    /// Whether some arm stops it that is such.
    fn stopped(&self, such: impl Fn(&Lever, &Reach) -> bool) -> bool {
        self.levers().any(|lever| {
            let stops = lever.stops();
            stops.is_some_and(|stops| self.is_of(stops.pin) && such(lever, &stops.reach))
        })
    }
}

/// All places of a count wheel or one of them; where no track is on the sheet, as many places as a count wheel has.
fn is_slot(seat: &Seat<'_>) -> bool {
    let counted = seat.tracks().any(|(_, track)| match &track.shape {
        Shape::Counts { counts, .. } => {
            seat.places == 1 || seat.places == counts.iter().sum::<u16>()
        }
        _ => false,
    });
    counted
        || seat.movement.strike().is_some_and(|strike| {
            strike.counted_by == CountedBy::CountWheel
                && seat.places >= strike.blows.in_twelve_hours()
        })
}

fn is_on_the_snail(seat: &Seat<'_>) -> bool {
    let snail = seat.works().and_then(Works::rack).map(|rack| rack.snail);
    seat.tracks().any(|(id, track)| {
        let all = |teeth: &[_]| teeth.len() == seat.places.into();
        let alike =
            seat.places == 1 || matches!(&track.shape, Shape::Steps { teeth, .. } if all(teeth));
        Some(id) == snail && alike
    })
}

/// As many places as its arbor has pins or cams that lift a hammer.
fn lifts_a_hammer(seat: &Seat<'_>) -> bool {
    seat.tracks().any(|(id, track)| {
        let struck = seat.levers().any(|lever| lever.hammered() == Some(id));
        let all = |places: &[_]| places.len() == seat.places.into();
        struck && matches!(&track.shape, Shape::Lobes { places, .. } if all(places))
    })
}

/// The pallet of the rack, or what an arm of the rack stops.
fn gathers(seat: &Seat<'_>) -> bool {
    let rack = seat.works().and_then(Works::rack);
    rack.is_some_and(|rack| seat.is_of(rack.pallet) || seat.stopped(|lever, _| lever.on == rack.on))
}

fn locks(seat: &Seat<'_>) -> bool {
    seat.stopped(|_, reach| matches!(reach, Reach::Below(_)))
}

fn warns(seat: &Seat<'_>) -> bool {
    seat.stopped(|_, reach| matches!(reach, Reach::Above(_)))
}

/// Two places on an arbor that drives nothing.
fn ends_the_train(seat: &Seat<'_>) -> bool {
    let mut meshes = seat.movement.meshes();
    seat.places == 2 && meshes.all(|(_, mesh)| mesh.driver.arbor != seat.on)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_kinds_have_a_word_in_common() {
        let mut seen = Vec::new();
        for word in WITNESS_KINDS.iter().flat_map(|kind| kind.words) {
            assert!(!seen.contains(word), "{word}");
            assert_eq!(spaced(word), *word);
            seen.push(word);
        }
    }

    #[test]
    fn a_kind_is_known_by_its_words() {
        let word = |written| WitnessKind::called(written).map(|kind| kind.word());
        assert_eq!(word("locking_pin"), Some("locking pin"));
        assert_eq!(word("stop pin"), Some("locking pin"));
        assert_eq!(word("hour hand"), None);
    }
}
