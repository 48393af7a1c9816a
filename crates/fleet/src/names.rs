//! Invented names: streets for clocks, and what their makers might have called an arbor, a part or a witness.

use crate::Dice;
use rand::RngExt;
use rand::seq::IndexedRandom;

const STREETS: [&str; 10] = [
    "Wren", "Quay", "Larch", "Tanner", "Mill", "Ferry", "Orchard", "Chapel", "Heron", "Cooper",
];
const PLACES: [&str; 6] = ["schoolroom", "tower", "hall", "works", "stair", "station"];
const ARBORS: [&str; 14] = [
    "great", "second", "third", "fourth", "fly", "count", "pin", "star", "stop", "idle", "lifting",
    "barrel", "gather", "fifth",
];
const SYLLABLES: [&str; 12] = [
    "ba", "do", "ke", "lin", "mur", "no", "pel", "ro", "sa", "ti", "vo", "wen",
];

/// The street and the place a clock is named for.
pub(crate) fn clock(dice: &mut Dice) -> String {
    format!(
        "{} Street {} clock",
        one(&STREETS, dice),
        one(&PLACES, dice)
    )
}

/// A name for an arbor, a part or a witness that none of `taken` has: of the trade, or of someone's own invention.
pub(crate) fn fresh<'a>(taken: impl Iterator<Item = &'a str>, dice: &mut Dice) -> String {
    let taken: Vec<&str> = taken.collect();
    loop {
        let name = if dice.random_bool(0.4) {
            one(&ARBORS, dice).to_owned()
        } else {
            let mut name: String = (0..dice.random_range(1..4))
                .map(|_| one(&SYLLABLES, dice))
                .collect();
            match dice.random_range(0..10) {
                0 => name.push_str(&format!("_{}", dice.random_range(0..100))),
                1 => name.push_str("_x"),
                _ => {}
            }
            name
        };
        if !taken.contains(&name.as_str()) && name != "runs" && name != "drop" {
            return name;
        }
    }
}

pub(crate) fn one<T: Copy>(list: &[T], dice: &mut Dice) -> T {
    *list.choose(dice).expect("a list with something in it")
}
