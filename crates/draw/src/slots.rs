//! The slots of a count wheel: as its track on the sheet has them, or cut as what it strikes asks for.

use movement::{ArborId, Blows, Carrier, Movement, Shape, Witness, slots_of};

/// The places of a count wheel and the slots cut in them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Slots {
    /// Places in a turn.
    pub(crate) places: u16,
    /// Every slot as its first place and how many places it is long, counted in the order they come to the tip; the
    /// single slot that is read stands at place 0.
    pub(crate) cut: Vec<(u16, u16)>,
}

/// The hour whose slot is read: three o'clock or later has a single slot.
const READ_HOUR: u16 = 3;

impl Slots {
    /// The slots that a witness is one of: those of the sheet or, where it has no track for them, those that what is struck asks
    /// for.
    pub(crate) fn of(movement: &Movement, witness: &Witness) -> Slots {
        let places = witness.repeats.get();
        Slots::written(movement, witness.on, places).unwrap_or_else(|| {
            let struck = movement
                .strike()
                .map_or(Blows::Hours, |strike| strike.blows);
            Slots::for_blows(struck, places)
        })
    }

    /// The slots of a count wheel whose track the sheet gives, as a witness with so many alike places reads them: all of
    /// them alike, or the one place that is the end of the cycle.
    fn written(movement: &Movement, on: ArborId, read_places: u16) -> Option<Slots> {
        let mut tracks = movement.works()?.tracks();
        let counts = tracks.find_map(|(_, track)| match &track.shape {
            Shape::Counts { counts, .. } if track.carrier == Carrier::Arbor(on) => Some(counts),
            _ => None,
        })?;
        let places: u16 = counts.iter().sum();
        let single = read_places == places;
        if !single && read_places != 1 {
            return None;
        }
        let mut read = 0;
        if single {
            let hour = counts.iter().position(|count| *count >= READ_HOUR)?;
            read = counts[..=hour].iter().sum();
        }
        let mut cut: Vec<(u16, u16)> = (slots_of(counts).iter())
            .map(|slot| ((slot.place + places - read) % places, 1 + slot.further))
            .collect();
        cut.sort_unstable();
        Some(Slots { places, cut })
    }

    /// The slots that let the count lever fall after each number of blows.
    ///
    /// Where the places are twelve hours of blows, or several times twelve: one slot after each hour (and each half),
    /// in which the long one serves twelve, one and the halves about it. Any other number is no count that strikes
    /// the hours, and is cut with a slot at every third place.
    fn for_blows(blows: Blows, places: u16) -> Slots {
        let round = blows.in_twelve_hours();
        if !places.is_multiple_of(round) {
            let cut = (0..places).step_by(3).map(|place| (place, 1)).collect();
            return Slots { places, cut };
        }
        let halves = matches!(blows, Blows::HoursAndHalves | Blows::HoursAndTenHalves);
        let silent = |hour| blows == Blows::HoursAndTenHalves && matches!(hour, 1 | 12);
        let mut single = Vec::new();
        let mut read = 0;
        let mut place = 0;
        let mut long = (0, 1);
        for hour in 1..=12 {
            place += hour;
            match hour {
                1 => long.1 += 1,
                12 => long = (place, long.1),
                _ => single.push(place),
            }
            if hour == READ_HOUR {
                read = place;
            }
            if halves && !silent(hour) {
                place += 1;
                match hour {
                    1 | 12 => long.1 += 1,
                    _ => single.push(place),
                }
            }
        }
        // `long` begins at twelve and runs on through the end of the round.
        let mut cut: Vec<(u16, u16)> = (0..places / round)
            .flat_map(|turn| {
                single
                    .iter()
                    .map(|&p| (p, 1))
                    .chain([long])
                    .map(move |(p, n)| (p + turn * round, n))
            })
            .map(|(p, n)| ((p + places - read) % places, n))
            .collect();
        cut.sort_unstable();
        Slots { places, cut }
    }

    /// Whether the tip finds a slot at a place.
    pub(crate) fn open(&self, place: u16) -> bool {
        self.cut
            .iter()
            .any(|&(first, long)| (place + self.places - first) % self.places < long)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Lets a count wheel strike: from the slot read, the blows until the next place that is open, hour by hour.
    fn struck(slots: &Slots) -> Vec<u16> {
        let mut counts = Vec::new();
        let mut place = 0;
        while place < slots.places {
            let mut blows = 1;
            while !slots.open((place + blows) % slots.places) {
                blows += 1;
            }
            counts.push(blows);
            place += blows;
        }
        counts
    }

    #[test]
    fn the_slots_strike_the_hours() {
        // 1 + 2 + … + 12 = 78; from the slot after three, four is struck next.
        let slots = Slots::for_blows(Blows::Hours, 78);
        assert_eq!(struck(&slots), [4, 5, 6, 7, 8, 9, 10, 11, 12, 1, 2, 3]);
        assert!(slots.cut.contains(&(72, 2)));
        assert_eq!(slots.cut.len(), 11);
    }

    #[test]
    fn the_slots_strike_the_halves() {
        let slots = Slots::for_blows(Blows::HoursAndHalves, 90);
        let hours = [1, 4, 1, 5, 1, 6, 1, 7, 1, 8, 1, 9, 1, 10, 1, 11, 1, 12];
        let again = [1, 1, 1, 2, 1, 3];
        assert_eq!(struck(&slots), [&hours[..], &again[..]].concat());
        assert_eq!(slots.cut.iter().map(|c| c.1).max(), Some(4));
    }

    #[test]
    fn two_halves_may_be_silent() {
        let slots = Slots::for_blows(Blows::HoursAndTenHalves, 88);
        let hours = [1, 4, 1, 5, 1, 6, 1, 7, 1, 8, 1, 9, 1, 10, 1, 11, 1, 12];
        assert_eq!(struck(&slots), [&hours[..], &[1, 2, 1, 3]].concat());
    }

    /// What a sheet says of its count wheel is what its hours would have been taken for.
    #[test]
    fn the_slots_of_a_sheet_are_its_own() {
        for (text, blows, places) in [
            (
                include_str!("../../../movements/schoolroom.toml"),
                Blows::Hours,
                78,
            ),
            (
                include_str!("../../../movements/halfpast.toml"),
                Blows::HoursAndHalves,
                90,
            ),
            (
                include_str!("../../../movements/wharf.toml"),
                Blows::HoursAndTenHalves,
                88,
            ),
            (
                include_str!("../../../movements/gallery.toml"),
                Blows::Hours,
                156,
            ),
        ] {
            let movement = sheet::read(text.as_bytes()).expect("good").movement;
            let slot = movement.find_witness("slot").expect("a slot");
            let slots = Slots::of(&movement, movement.witness(slot));
            assert_eq!(slots, Slots::for_blows(blows, places));
        }
        let cutter = include_str!("../../../movements/cutter.toml");
        let cutter = sheet::read(cutter.as_bytes()).expect("good").movement;
        let slot = cutter.find_witness("slot").expect("a slot");
        let slots = Slots::of(&cutter, cutter.witness(slot));
        assert_eq!((slots.places, slots.cut.len()), (20, 6));
        assert_eq!(struck(&slots), [1, 1, 2, 2, 3, 3, 4, 4]);
    }

    #[test]
    fn two_rounds_a_turn_are_cut_twice() {
        let slots = Slots::for_blows(Blows::Hours, 156);
        assert_eq!(slots.cut.len(), 22);
        assert_eq!(struck(&slots)[..12], struck(&slots)[12..]);
    }
}
