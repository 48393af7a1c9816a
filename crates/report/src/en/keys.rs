//! What each key of a sheet means, row by row of the one table of keys, and that table as a page.

use super::numbers::decimal;
use crate::faults::{expected_words, table_name};
use crate::page::{lever_kind, witness_kind};
use crate::{Lang, Locale, Usage, en::ticked};
use movement::{LEVER_KINDS, WITNESS_KINDS};
use sheet::keys::{KeyUnit, ROWS, Row};
use sheet::{ExpectedValue, SheetTable};

/// What a key means; nothing for a key that no table has.
pub fn meaning(table: SheetTable, key: &str) -> Option<&'static str> {
    Some(match (table, key) {
        (SheetTable::Sheet, "sheet") => "the form of the sheet",
        (SheetTable::Sheet, "name") => "what the clock is called",
        (SheetTable::Sheet, "seen_from") => {
            "the plate towards you: every way round on the sheet is as seen from there; the front is the dial side"
        }
        (SheetTable::Sheet, "arbor") => "the arbors, `[arbor.ID]`, with what sits on them",
        (SheetTable::Sheet, "mesh") => "two parts in mesh",
        (SheetTable::Sheet, "strike") => "the strike",
        (SheetTable::Sheet, "moment") => {
            "an instant of the cycle at which witnesses are judged; the drop is always there"
        }
        (SheetTable::Sheet, "witness") => {
            "a part whose place at its moment shows whether the train is timed"
        }
        (SheetTable::Sheet, "track") => "an edge that levers feel",
        (SheetTable::Sheet, "pin") => "pins that arms stop",
        (SheetTable::Sheet, "lever") => "an arm of a lever arbor",
        (SheetTable::Sheet, "rack") => "the rack",
        (SheetTable::Sheet, "chime") => "what the chime owes",
        (SheetTable::Sheet, "pillar") => "a pillar between the plates",
        (SheetTable::Sheet, "pivot") => "a pivot that is in no train: a lever's, a hammer's",
        (SheetTable::Sheet, "fixture") => "a winding square or a bell",
        (SheetTable::Sheet, "plates") => "the plates",
        (SheetTable::Arbor, "runs") => "the way it turns when it runs; on one arbor of each train",
        (SheetTable::Arbor, "PART") => {
            "a toothed part by a name of your own: its teeth; `\"?\"` is not known, `\"72?\"` doubtful"
        }
        (SheetTable::Arbor, "PART_outside_mm") => "a part over its teeth, by its name",
        (SheetTable::Arbor, "held_by") => "how its parts are held on it, all alike or by part",
        (SheetTable::Sheet, "like") => "the like clock that the sheet was begun from, by its name",
        (SheetTable::Arbor, "as_like") => {
            "its parts of which the count is that of the like clock and was not counted on this one, by name"
        }
        (SheetTable::Arbor, "lost") => "its parts of which the count is lost, by name",
        (SheetTable::Strike, "kind") => "the kind of strike that it was begun from",
        (SheetTable::Strike, "asked") => {
            "what was asked about it, and how it was answered: `\"?\"` don't know, `\"usual\"` as usual"
        }
        (SheetTable::Track | SheetTable::Pin, "held_by") => {
            "how it is held on its arbor, where it can be turned there by itself: a count wheel on a square"
        }
        (SheetTable::Track | SheetTable::Pin | SheetTable::Lever | SheetTable::Rack, "usual") => {
            "which of these keys stand as is usual, not measured"
        }
        (
            SheetTable::Track | SheetTable::Pin | SheetTable::Lever | SheetTable::Rack,
            "spread_deg",
        ) => {
            "how surely keys of it were measured, by key, one standard deviation in degrees; what is neither there nor usual is taken as exact"
        }
        (SheetTable::Arbor | SheetTable::Mesh, "spread") => {
            "how surely its measurements are known, by key, one standard deviation in the unit of the key; others are as sure as the usual tools are"
        }
        (SheetTable::Arbor, "cock") => {
            "whether it has a small cock of its own, so that it comes out alone with the plates left together"
        }
        (
            SheetTable::Arbor | SheetTable::Pillar | SheetTable::Pivot | SheetTable::Fixture,
            "at_mm",
        ) => "its place on the plate that the sheet is seen from, to the right and up",
        (SheetTable::Arbor, "pivot_mm") => "how thick its pivot is",
        (SheetTable::Arbor, "hole_mm") => "how wide the pivot's hole is",
        (SheetTable::Arbor | SheetTable::Pivot, "pivot_long_mm") => {
            "its pivot in the plate that is lifted, from shoulder to tip"
        }
        (SheetTable::Arbor | SheetTable::Pivot, "end_shake_mm") => "its end shake",
        (SheetTable::Arbor, "turn_s") => {
            "how long a turn takes: 3600 on the minute hand's arbor; gives turns an hour in its train"
        }
        (SheetTable::Arbor, "winding_turns") => "its turns in one whole winding",
        (SheetTable::Arbor, "beats_per_turn") => {
            "beats in one turn of it, where the escapement does not give two for each tooth"
        }
        (SheetTable::Arbor, "pendulum_mm") => {
            "the pendulum, from the bend of its suspension to the middle of the bob; on the escape arbor"
        }
        (SheetTable::Arbor, "pendulum_half_arc_deg") => "how far it swings to one side",
        (SheetTable::Arbor, "pendulum_g") => "what it weighs",
        (SheetTable::Arbor, "pendulum_nut_mm") => "one turn of its rating nut",
        (SheetTable::Arbor, "suspension_mm") => {
            "how long the strip of its suspension spring is free, from chop to chop; on the escape arbor"
        }
        (SheetTable::Arbor, "suspension_wide_mm") => {
            "how wide the suspension spring is, all its strips together"
        }
        (SheetTable::Arbor, "suspension_thick_mm") => "how thick each of its strips is",
        (SheetTable::Arbor, "spring_width_mm") => "how wide the spring's strip is",
        (SheetTable::Arbor, "spring_thick_mm") => "how thick the strip is",
        (SheetTable::Arbor, "spring_long_mm") => "how long the strip is",
        (SheetTable::Arbor, "spring_arbor_mm") => "the arbor that the spring winds on, across",
        (SheetTable::Arbor, "spring_opens_mm") => {
            "an open spring, across its outermost coil when it is let down"
        }
        (SheetTable::Arbor, "spring_free_turns") => {
            "the spring's coils when it is out of its barrel"
        }
        (SheetTable::Arbor, "barrel_inside_mm") => "the barrel across, inside",
        (SheetTable::Arbor, "barrel_high_mm") => "the barrel's height, inside",
        (SheetTable::Arbor, "weight_g") => "the weight",
        (SheetTable::Arbor, "drum_mm") => "the drum across",
        (SheetTable::Arbor, "cord_mm") => "how thick cord or gut is",
        (SheetTable::Arbor, "double_cord_mm") => "the same, where it goes over a pulley",
        (SheetTable::Arbor, "fall_mm") => "how far the weight can fall",
        (SheetTable::Part, "teeth") => "teeth, leaves, trundles or pins",
        (SheetTable::Part, "form") => {
            "how they are made; one to three only where they are pins that move another part on, a place each"
        }
        (SheetTable::Mesh, "driver") => "the part that drives",
        (SheetTable::Mesh, "driven") => "the part that is driven",
        (SheetTable::Mesh, "internal") => "whether the driver's teeth are inside a ring",
        (SheetTable::Mesh, "lash_teeth") => {
            "the whole free travel of the driven part, the driver held, in teeth"
        }
        (SheetTable::Mesh, "reached") => {
            "whether the plates are spread for it; they are where nothing is said"
        }
        (SheetTable::Mesh, "centre_mm") => "from the middle of one arbor to that of the other",
        (SheetTable::Strike, "counted_by") => "what counts the blows",
        (SheetTable::Strike, "blows") => "what is struck",
        (SheetTable::Strike, "read_at") => {
            "the arbor that is held at the drop; all else is read against it"
        }
        (SheetTable::Strike, "blows_per_turn") => "blows in one turn of `read_at`",
        (SheetTable::Strike, "hold_deg") => "how surely `read_at` is held, one standard deviation",
        (SheetTable::Strike, "cycle_hours") => {
            "hours after which all stands as it did, 12 where nothing is said"
        }
        (SheetTable::Strike, "pace_s") => {
            "how fast it strikes, where that was measured: seconds from blow to blow; what a pin goes while the lever falls follows"
        }
        (SheetTable::Strike, "fall_s") => {
            "how long the lever that locks the train falls, where that was measured; goes with `pace_s`"
        }
        (SheetTable::Strike, "pace_spread_s" | "fall_spread_s") => {
            "how surely that was measured, one standard deviation"
        }
        (SheetTable::Moment, "arbor") => "the arbor that counts as fixed then",
        (_, "says") => "what it is, in your words",
        (SheetTable::Witness | SheetTable::Pin, "on") => "the arbor it is on",
        (SheetTable::Lever, "on") => "the lever arbor it is on: levers of one arbor move together",
        (SheetTable::Witness | SheetTable::Lever, "kind") => {
            "what it is; where nothing is said, what tracks and pins on its arbor make of it"
        }
        (SheetTable::Witness, "repeats") => "alike places in one turn of its arbor",
        (SheetTable::Witness, "window_deg") => "where it may stand, from and to",
        (SheetTable::Witness, "best_deg") => "where it should stand",
        (SheetTable::Witness, "at") => "the moment it is judged at, the drop where nothing is said",
        (SheetTable::Witness, "slot_deg") => {
            "how wide the slot is, so that a reading can be said as it looks"
        }
        (SheetTable::Witness, "tip_deg") => "how wide the lever's tip is, in the same degrees",
        (SheetTable::Witness, "arm_oclock") => {
            "the hour at which its place 0 stands, seen from the sheet's plate"
        }
        (SheetTable::Track, "on") => "the arbor it goes round with",
        (SheetTable::Track, "hours") => {
            "or hours of one turn, where it goes round with the motion work"
        }
        (SheetTable::Track, "counts") => "a count wheel: places from slot to slot",
        (SheetTable::Track, "notches_deg") => "a cam or a rim with slots: the middle of each",
        (SheetTable::Track, "places_deg") => "pins or lifting cams: where each lets go",
        (SheetTable::Track, "pins") => "so many of them, alike all round",
        (SheetTable::Track, "divisions") => "or so many divisions, with pins at some",
        (SheetTable::Track, "at") => "which divisions have a pin",
        (SheetTable::Track, "steps") => "a snail: teeth that the rack falls at each step",
        (SheetTable::Track, "outline") => "anything else: places with their heights",
        (SheetTable::Track, "slot_deg") => "how wide a slot is at its bottom",
        (SheetTable::Track, "ramp_deg") => "the slope beyond it that lifts a tip out again",
        (SheetTable::Track, "first_deg") => "where the first pin or division lets go",
        (SheetTable::Track, "rise_deg") => "how long each lifts before it lets go",
        (SheetTable::Track, "hold_deg") => "how long it holds what it has lifted",
        (SheetTable::Track, "heights") => "how high each lifts, as a part of the whole",
        (SheetTable::Track, "from_deg") => "where the first step begins",
        (SheetTable::Track, "star_minute") => "the minute at which a star jumps to the next step",
        (SheetTable::Pin, "at_deg") => "where it comes to its arm; one number or several",
        (SheetTable::Lever, "feels") => "the track that it lies on, or `rack`",
        (SheetTable::Lever, "tip_deg") => "how wide its tip is",
        (SheetTable::Lever, "lift_deg") => "what the rim lifts it above the bottom",
        (SheetTable::Lever, "made") => {
            "whether it is soft, made to be bent, or hardened or cast, which breaks; neither where nothing is said"
        }
        (SheetTable::Lever, "locks") => "whether a wall that meets it is meant to lock the train",
        (SheetTable::Lever, "strikes") => "what it strikes, for a hammer",
        (SheetTable::Lever, "stops") => "the pin that it stops",
        (SheetTable::Lever, "below_deg") => "it stops it while its arbor is lower than this",
        (SheetTable::Lever, "above_deg") => "or while its arbor is as high as this",
        (SheetTable::Lever, "further_deg") => "how much further on than the pin's place it stands",
        (SheetTable::Lever, "lifts") => "the lever arbor that it lifts along",
        (SheetTable::Lever, "from_deg") => "the height of its own arbor from which it does",
        (SheetTable::Rack, "snail") => "the track that its tail falls on",
        (SheetTable::Rack, "tail_deg") => "how wide the tail's tip is",
        (SheetTable::Rack, "teeth") => "its teeth",
        (SheetTable::Rack, "tooth_deg") => "what one of them turns it",
        (SheetTable::Rack, "pallet") => "the pin that gathers",
        (SheetTable::Rack, "hook") => "the lever arbor of its hook",
        (SheetTable::Rack, "free_deg") => "the height from which the hook lets it fall",
        (SheetTable::Rack, "enters_teeth") => "how much of a tooth too much the fall may have",
        (SheetTable::Chime, "notes") => "notes owed at each quarter",
        (SheetTable::Pillar, "fixing") => "what holds the plate on it",
        (SheetTable::Pillar, "pitch_mm") => "what one turn of its nut or screw gives",
        (SheetTable::Fixture, "kind") => "what it is",
        (SheetTable::Fixture, "across_mm") => "a square over its flats, a bell over its mouth",
        (SheetTable::Plates, "placed") => {
            "whether the places on this sheet were measured, as where nothing is said, or are only about right"
        }
        (SheetTable::Plates, "lifted") => {
            "the plate that is lifted; that of the sheet where nothing is said"
        }
        (SheetTable::Plates, "bends_mm") => {
            "what the plate bends, as a margin; 0.2 where nothing is said"
        }
        (SheetTable::Plates, "pin_lift_mm") => {
            "how far it lifts where a pin is drawn; 3 where nothing is said"
        }
        (SheetTable::Plates, "thick_mm") => "how thick it is",
        (_, "id") => "its name on this sheet",
        _ => return None,
    })
}

/// The tables in the order in which they are told.
const TABLES: [SheetTable; 16] = [
    SheetTable::Sheet,
    SheetTable::Arbor,
    SheetTable::Part,
    SheetTable::Mesh,
    SheetTable::Strike,
    SheetTable::Moment,
    SheetTable::Witness,
    SheetTable::Track,
    SheetTable::Pin,
    SheetTable::Lever,
    SheetTable::Rack,
    SheetTable::Chime,
    SheetTable::Pillar,
    SheetTable::Pivot,
    SheetTable::Fixture,
    SheetTable::Plates,
];

/// Every key that may stand on a sheet, as a page of Markdown: where, what stands there, what is usual, what it means.
pub fn keys() -> String {
    let locale = Locale::default();
    let mut page = "# Keys of a sheet\n\nWhat is beyond the usual is read all the same, and warned of; the usual is from memory, and wide: from a carriage clock to a tower.\nA key on an arbor that ends in a unit (`_mm _um _deg _g _n _nm _turns _s _teeth`) is a measurement; any other that is not here is a toothed part.\n".to_owned();
    for table in TABLES {
        page += &format!(
            "\n## {}\n\n| key | what stands there | usual | what it means |\n|---|---|---|---|\n",
            capital(&table_name(&locale, table))
        );
        for row in ROWS.iter().filter(|row| row.table == table) {
            page += &format!(
                "| {} | {} | {} | {} |\n",
                ticked(row.key),
                stands(&locale, row).replace('|', "\\|"),
                usual(row),
                meaning(row.table, row.key).unwrap_or_default()
            );
        }
    }
    page
}

/// What stands under a key. Kinds have a list of their own.
fn stands(locale: &Locale, row: &Row) -> String {
    match row.holds {
        ExpectedValue::Kind(_) => {
            "a kind, in the words that `trundle keys --kinds` lists".to_owned()
        }
        holds => expected_words(locale, holds),
    }
}

/// Every kind that a witness or a lever may be of, as a page of Markdown: the sheet's words for it, and what it is called.
pub fn kinds() -> String {
    let [british, american] =
        [Usage::British, Usage::American].map(|usage| Locale::of(Lang::English, usage));
    let mut page = "# Kinds\n\nWhere a sheet says no `kind`, it follows from tracks, pins and levers of the arbor; where nothing follows it is plain.\n".to_owned();
    let mut list = |of: &str, rows: Vec<(&[&str], [Option<String>; 2])>| {
        page += &format!(
            "\n## Of a {of}\n\n| `kind` | the same | British | American |\n|---|---|---|---|\n"
        );
        for (words, names) in rows {
            let [british, american] = names.map(Option::unwrap_or_default);
            let ticked: Vec<String> = words.iter().map(|word| ticked(word)).collect();
            let (own, others) = (&ticked[0], ticked[1..].join(", "));
            page += &format!("| {own} | {others} | {british} | {american} |\n");
        }
    };
    let names = |kind| [&british, &american].map(|locale| witness_kind(locale, kind));
    let witnesses = WITNESS_KINDS.map(|kind| (kind.words, names(kind)));
    list("`[[witness]]`", witnesses.to_vec());
    let names = |kind| [&british, &american].map(|locale| lever_kind(locale, kind));
    let levers = LEVER_KINDS.map(|kind| (kind.words, names(kind)));
    list("`[[lever]]`", levers.to_vec());
    page
}

/// What is usual for a key, with its unit.
fn usual(row: &Row) -> String {
    let unit = KeyUnit::of(row.key).map_or("", super::faults::unit);
    row.usual.map_or_else(String::new, |(least, most)| {
        format!("{} to {}{unit}", decimal(least, 2), decimal(most, 2))
    })
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_has_its_meaning() {
        for row in ROWS {
            assert!(meaning(row.table, row.key).is_some(), "{row:?}");
        }
        assert_eq!(meaning(SheetTable::Strike, "colour"), None);
    }
}
