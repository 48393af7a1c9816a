//! What each key of a sheet means, row by row of the one table of keys, and that table as a page.

use super::numbers::decimal;
use crate::faults::{expected_words, table_name};
use crate::page::{lever_kind, witness_kind};
use crate::{Lang, Usage, Words, en::ticked};
use movement::{LEVER_KINDS, WITNESS_KINDS};
use sheet::keys::{ROWS, Row, Unit};
use sheet::{Expected, Table};

/// What a key means; nothing for a key that no table has.
pub fn meaning(table: Table, key: &str) -> Option<&'static str> {
    Some(match (table, key) {
        (Table::Sheet, "sheet") => "the form of the sheet",
        (Table::Sheet, "name") => "what the clock is called",
        (Table::Sheet, "seen_from") => {
            "the plate towards you: every way round on the sheet is as seen from there; the front is the dial side"
        }
        (Table::Sheet, "arbor") => "the arbors, `[arbor.ID]`, with what sits on them",
        (Table::Sheet, "mesh") => "two parts in mesh",
        (Table::Sheet, "strike") => "the strike",
        (Table::Sheet, "moment") => {
            "an instant of the cycle at which witnesses are judged; the drop is always there"
        }
        (Table::Sheet, "witness") => {
            "a part whose place at its moment shows whether the train is timed"
        }
        (Table::Sheet, "track") => "an edge that levers feel",
        (Table::Sheet, "pin") => "pins that arms stop",
        (Table::Sheet, "lever") => "an arm of a lever arbor",
        (Table::Sheet, "rack") => "the rack",
        (Table::Sheet, "chime") => "what the chime owes",
        (Table::Sheet, "pillar") => "a pillar between the plates",
        (Table::Sheet, "pivot") => "a pivot that is in no train: a lever's, a hammer's",
        (Table::Sheet, "plates") => "the plates",
        (Table::Arbor, "runs") => "the way it turns when it runs; on one arbor of each train",
        (Table::Arbor, "PART") => {
            "a toothed part by a name of your own: its teeth; `\"?\"` is not known, `\"72?\"` doubtful"
        }
        (Table::Arbor, "PART_outside_mm") => "a part over its teeth, by its name",
        (Table::Arbor, "held_by") => "how its parts are held on it, all alike or by part",
        (Table::Arbor, "at_mm") | (Table::Pillar | Table::Pivot, "at_mm") => {
            "its place on the plate that the sheet is seen from, to the right and up"
        }
        (Table::Arbor, "pivot_mm") => "how thick its pivot is",
        (Table::Arbor, "hole_mm") => "how wide the pivot's hole is",
        (Table::Arbor | Table::Pivot, "pivot_long_mm") => {
            "its pivot in the plate that is lifted, from shoulder to tip"
        }
        (Table::Arbor | Table::Pivot, "end_shake_mm") => "its end shake",
        (Table::Arbor, "turn_s") => {
            "how long a turn takes: 3600 on the minute hand's arbor; gives turns an hour in its train"
        }
        (Table::Arbor, "winding_turns") => "its turns in one whole winding",
        (Table::Arbor, "beats_per_turn") => {
            "beats in one turn of it, where the escapement does not give two for each tooth"
        }
        (Table::Arbor, "pendulum_mm") => {
            "the pendulum, from the bend of its suspension to the middle of the bob; on the escape arbor"
        }
        (Table::Arbor, "pendulum_half_arc_deg") => "how far it swings to one side",
        (Table::Arbor, "pendulum_g") => "what it weighs",
        (Table::Arbor, "pendulum_nut_mm") => "one turn of its rating nut",
        (Table::Arbor, "spring_width_mm") => "how wide the spring's strip is",
        (Table::Arbor, "spring_thick_mm") => "how thick the strip is",
        (Table::Arbor, "spring_long_mm") => "how long the strip is",
        (Table::Arbor, "spring_arbor_mm") => "the arbor that the spring winds on, across",
        (Table::Arbor, "spring_opens_mm") => {
            "an open spring, across its outermost coil when it is let down"
        }
        (Table::Arbor, "spring_free_turns") => "the spring's coils when it is out of its barrel",
        (Table::Arbor, "barrel_inside_mm") => "the barrel across, inside",
        (Table::Arbor, "barrel_high_mm") => "the barrel's height, inside",
        (Table::Arbor, "weight_g") => "the weight",
        (Table::Arbor, "drum_mm") => "the drum across",
        (Table::Arbor, "cord_mm") => "how thick cord or gut is",
        (Table::Arbor, "double_cord_mm") => "the same, where it goes over a pulley",
        (Table::Arbor, "fall_mm") => "how far the weight can fall",
        (Table::Part, "teeth") => "teeth, leaves, trundles or pins",
        (Table::Part, "form") => {
            "how they are made; one to three only where they are pins that move another part on, a place each"
        }
        (Table::Mesh, "driver") => "the part that drives",
        (Table::Mesh, "driven") => "the part that is driven",
        (Table::Mesh, "internal") => "whether the driver's teeth are inside a ring",
        (Table::Mesh, "lash_teeth") => {
            "the whole free travel of the driven part, the driver held, in teeth"
        }
        (Table::Mesh, "reached") => {
            "whether the plates are spread for it; they are where nothing is said"
        }
        (Table::Mesh, "centre_mm") => "from the middle of one arbor to that of the other",
        (Table::Strike, "counted_by") => "what counts the blows",
        (Table::Strike, "blows") => "what is struck",
        (Table::Strike, "read_at") => {
            "the arbor that is held at the drop; all else is read against it"
        }
        (Table::Strike, "blows_per_turn") => "blows in one turn of `read_at`",
        (Table::Strike, "hold_deg") => "how surely `read_at` is held, one standard deviation",
        (Table::Strike, "cycle_hours") => {
            "hours after which all stands as it did, 12 where nothing is said"
        }
        (Table::Moment, "arbor") => "the arbor that counts as fixed then",
        (_, "says") => "what it is, in your words",
        (Table::Witness | Table::Pin, "on") => "the arbor it is on",
        (Table::Lever, "on") => "the lever arbor it is on: levers of one arbor move together",
        (Table::Witness | Table::Lever, "kind") => {
            "what it is; where nothing is said, what tracks and pins on its arbor make of it"
        }
        (Table::Witness, "repeats") => "alike places in one turn of its arbor",
        (Table::Witness, "window_deg") => "where it may stand, from and to",
        (Table::Witness, "best_deg") => "where it should stand",
        (Table::Witness, "at") => "the moment it is judged at, the drop where nothing is said",
        (Table::Witness, "slot_deg") => {
            "how wide the slot is, so that a reading can be said as it looks"
        }
        (Table::Witness, "tip_deg") => "how wide the lever's tip is, in the same degrees",
        (Table::Witness, "arm_oclock") => {
            "the hour at which its place 0 stands, seen from the sheet's plate"
        }
        (Table::Track, "on") => "the arbor it goes round with",
        (Table::Track, "hours") => "or hours of one turn, where it goes round with the motion work",
        (Table::Track, "counts") => "a count wheel: places from slot to slot",
        (Table::Track, "notches_deg") => "a cam or a rim with slots: the middle of each",
        (Table::Track, "places_deg") => "pins or lifting cams: where each lets go",
        (Table::Track, "pins") => "so many of them, alike all round",
        (Table::Track, "divisions") => "or so many divisions, with pins at some",
        (Table::Track, "at") => "which divisions have a pin",
        (Table::Track, "steps") => "a snail: teeth that the rack falls at each step",
        (Table::Track, "outline") => "anything else: places with their heights",
        (Table::Track, "slot_deg") => "how wide a slot is at its bottom",
        (Table::Track, "ramp_deg") => "the slope beyond it that lifts a tip out again",
        (Table::Track, "first_deg") => "where the first pin or division lets go",
        (Table::Track, "rise_deg") => "how long each lifts before it lets go",
        (Table::Track, "hold_deg") => "how long it holds what it has lifted",
        (Table::Track, "heights") => "how high each lifts, as a part of the whole",
        (Table::Track, "from_deg") => "where the first step begins",
        (Table::Track, "star_minute") => "the minute at which a star jumps to the next step",
        (Table::Pin, "at_deg") => "where it comes to its arm; one number or several",
        (Table::Lever, "feels") => "the track that it lies on, or `rack`",
        (Table::Lever, "tip_deg") => "how wide its tip is",
        (Table::Lever, "lift_deg") => "what the rim lifts it above the bottom",
        (Table::Lever, "locks") => "whether a wall that meets it is meant to lock the train",
        (Table::Lever, "strikes") => "what it strikes, for a hammer",
        (Table::Lever, "stops") => "the pin that it stops",
        (Table::Lever, "below_deg") => "it stops it while its arbor is lower than this",
        (Table::Lever, "above_deg") => "or while its arbor is as high as this",
        (Table::Lever, "further_deg") => "how much further on than the pin's place it stands",
        (Table::Lever, "lifts") => "the lever arbor that it lifts along",
        (Table::Lever, "from_deg") => "the height of its own arbor from which it does",
        (Table::Rack, "snail") => "the track that its tail falls on",
        (Table::Rack, "tail_deg") => "how wide the tail's tip is",
        (Table::Rack, "teeth") => "its teeth",
        (Table::Rack, "tooth_deg") => "what one of them turns it",
        (Table::Rack, "pallet") => "the pin that gathers",
        (Table::Rack, "hook") => "the lever arbor of its hook",
        (Table::Rack, "free_deg") => "the height from which the hook lets it fall",
        (Table::Rack, "enters_teeth") => "how much of a tooth too much the fall may have",
        (Table::Chime, "notes") => "notes owed at each quarter",
        (Table::Pillar, "fixing") => "what holds the plate on it",
        (Table::Pillar, "pitch_mm") => "what one turn of its nut or screw gives",
        (Table::Plates, "lifted") => {
            "the plate that is lifted; that of the sheet where nothing is said"
        }
        (Table::Plates, "bends_mm") => {
            "what the plate bends, as a margin; 0.2 where nothing is said"
        }
        (Table::Plates, "pin_lift_mm") => {
            "how far it lifts where a pin is drawn; 3 where nothing is said"
        }
        (Table::Plates, "thick_mm") => "how thick it is",
        (_, "id") => "its name on this sheet",
        _ => return None,
    })
}

/// The tables in the order in which they are told.
const TABLES: [Table; 15] = [
    Table::Sheet,
    Table::Arbor,
    Table::Part,
    Table::Mesh,
    Table::Strike,
    Table::Moment,
    Table::Witness,
    Table::Track,
    Table::Pin,
    Table::Lever,
    Table::Rack,
    Table::Chime,
    Table::Pillar,
    Table::Pivot,
    Table::Plates,
];

/// Every key that may stand on a sheet, as a page of Markdown: where, what stands there, what is usual, what it means.
pub fn keys() -> String {
    let words = Words::default();
    let mut page = "# Keys of a sheet\n\nWhat is beyond the usual is read all the same, and warned of; the usual is from memory, and wide: from a carriage clock to a tower.\nA key on an arbor that ends in a unit (`_mm _um _deg _g _n _nm _turns _s _teeth`) is a measurement; any other that is not here is a toothed part.\n".to_owned();
    for table in TABLES {
        page += &format!(
            "\n## {}\n\n| key | what stands there | usual | what it means |\n|---|---|---|---|\n",
            capital(&table_name(&words, table))
        );
        for row in ROWS.iter().filter(|row| row.table == table) {
            page += &format!(
                "| {} | {} | {} | {} |\n",
                ticked(row.key),
                stands(&words, row).replace('|', "\\|"),
                usual(row),
                meaning(row.table, row.key).unwrap_or_default()
            );
        }
    }
    page
}

/// What stands under a key. Kinds have a list of their own.
fn stands(words: &Words, row: &Row) -> String {
    match row.holds {
        Expected::Kind(_) => "a kind, in the words that `trundle keys --kinds` lists".to_owned(),
        holds => expected_words(words, holds),
    }
}

/// Every kind that a witness or a lever may be of, as a page of Markdown: the sheet's words for it, and what it is called.
pub fn kinds() -> String {
    let [british, american] =
        [Usage::British, Usage::American].map(|usage| Words::of(Lang::English, usage));
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
    let names = |kind| [&british, &american].map(|words| witness_kind(words, kind));
    let witnesses = WITNESS_KINDS.map(|kind| (kind.words, names(kind)));
    list("`[[witness]]`", witnesses.to_vec());
    let names = |kind| [&british, &american].map(|words| lever_kind(words, kind));
    let levers = LEVER_KINDS.map(|kind| (kind.words, names(kind)));
    list("`[[lever]]`", levers.to_vec());
    page
}

/// What is usual for a key, with its unit.
fn usual(row: &Row) -> String {
    let unit = Unit::of(row.key).map_or("", super::faults::unit);
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
        assert_eq!(meaning(Table::Strike, "colour"), None);
    }
}
