//! The words of every fault of a sheet: what was got, what was expected, one hint where there is one.

use super::numbers::ratio;
use super::{degrees, list, quoted};
use movement::{Misgiving, Named, Plural, Way};
use quantity::{Bounds, fraction, to_f64};
use sheet::{Expected, Fault, Got, Spot, Table, What};

/// A fault in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    /// What was got and what was expected.
    pub line: String,
    /// What may help.
    pub hint: Option<String>,
}

impl Told {
    fn of(got: impl Into<String>, expected: impl Into<String>) -> Told {
        Told {
            line: format!("got {}; expected {}", got.into(), expected.into()),
            hint: None,
        }
    }

    fn hint(mut self, hint: impl Into<String>) -> Told {
        self.hint = Some(hint.into());
        self
    }

    fn meant(mut self, near: Option<&str>) -> Told {
        self.hint = near.map(|near| format!("did you mean `{near}`?"));
        self
    }
}

/// How many faults were left out.
pub fn more_faults(more: usize) -> String {
    format!("and {more} more faults, told once these are mended")
}

/// A fault in words.
pub fn fault(fault: &Fault) -> Told {
    let first = fault
        .first
        .map_or_else(String::new, |Spot { line, .. }| format!(" on line {line}"));
    match &fault.what {
        What::TooLong { most, .. } => Told::of(
            format!("more than {} KiB", most >> 10),
            "a sheet: a page or two of text",
        )
        .hint("is this the right file?"),
        What::NotUtf8 { byte } => Told::of(format!("the byte 0x{byte:02x}"), "text in UTF-8")
            .hint("save the sheet as UTF-8 in your editor"),
        What::Toml { says } => Told::of(
            format!("text that is no TOML from here on ({})", plain(says)),
            "TOML",
        )
        .hint("reading stopped here; what follows was not looked at"),
        What::Doubled { key } => {
            Told::of(format!("{} a second time", quoted(key)), "each name once")
        }
        What::UnknownKey { got, table, near } => {
            let told = Told::of(
                quoted(got),
                format!("one of the keys of {}", table_name(*table)),
            );
            match near {
                Some(near) => told.meant(Some(near)),
                None => told.hint(format!("the keys are {}", keys(*table))),
            }
        }
        What::Missing { key, table } => Told::of(
            format!("{} without `{key}`", table_name(*table)),
            format!("`{key}` in it"),
        ),
        What::NotOne { keys, got, table } => {
            let written = |keys: &[&str]| {
                let keys: Vec<String> = keys.iter().map(|key| format!("`{key}`")).collect();
                list(&keys)
            };
            let table = table_name(*table);
            let got = match got[..] {
                [] => format!("{table} with none of {}", written(keys)),
                _ => format!("{table} with {} together", written(got)),
            };
            Told::of(got, format!("just one of {}", written(keys)))
        }
        What::OutOfPlace { key, beside } => Told::of(
            format!("`{key}` beside `{beside}`"),
            format!("only what goes with `{beside}`"),
        ),
        What::Value {
            key,
            got,
            expected,
            near,
        } => {
            let written = if key.is_empty() {
                got_words(got)
            } else {
                format!("{} for {}", got_words(got), quoted(key))
            };
            Told::of(written, expected_words(*expected)).meant(near.as_deref())
        }
        What::Movement(what) => movement_fault(what, &first),
    }
}

/// What the TOML reader says, on one line.
fn plain(says: &str) -> String {
    says.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn table_name(table: Table) -> &'static str {
    match table {
        Table::Sheet => "the sheet",
        Table::Arbor => "an `[arbor.…]`",
        Table::Part => "a part",
        Table::Mesh => "a `[[mesh]]`",
        Table::Strike => "`[strike]`",
        Table::Moment => "a `[[moment]]`",
        Table::Witness => "a `[[witness]]`",
        Table::Track => "a `[[track]]`",
        Table::Pin => "a `[[pin]]`",
        Table::Lever => "a `[[lever]]`",
        Table::Rack => "`[rack]`",
        Table::Chime => "`[chime]`",
    }
}

fn keys(table: Table) -> String {
    let keys: Vec<String> = table.keys().iter().map(|key| format!("`{key}`")).collect();
    list(&keys)
}

fn got_words(got: &Got) -> String {
    match got {
        Got::Written(text) => quoted(text),
        Got::Text(text) if text.is_empty() => "an empty text".to_owned(),
        Got::Text(text) => format!("the text {}", quoted(text)),
        Got::List(len) => format!("a list of {len}"),
        Got::Table => "a table".to_owned(),
    }
}

fn range(bounds: Bounds) -> String {
    format!("a whole number from {} to {}", bounds.least, bounds.most)
}

fn expected_words(expected: Expected) -> String {
    match expected {
        Expected::Text => "a text".to_owned(),
        Expected::YesNo => "`true` or `false`".to_owned(),
        Expected::Table => "a table".to_owned(),
        Expected::Tables => "tables headed `[[…]]`".to_owned(),
        Expected::Count(bounds) => range(bounds),
        Expected::Part(bounds) => format!(
            "a count of teeth, {}, or `{{ teeth = …, form = \"lantern\" }}`",
            range(bounds)
        ),
        Expected::Number => "a decimal number".to_owned(),
        Expected::Positive => "a decimal number above 0".to_owned(),
        Expected::Lash => "a number of teeth from 0 to 1".to_owned(),
        Expected::Hold => "a number of degrees from 0 to 90".to_owned(),
        Expected::Oclock => "an hour of the clock face from 0 to 12".to_owned(),
        Expected::NotNegative => "a decimal number not below 0".to_owned(),
        Expected::PartOfTooth => "a part of a tooth, from 0 to less than 1".to_owned(),
        Expected::Numbers => "a list of decimal numbers, from one to five hundred".to_owned(),
        Expected::Heights => "a list of heights above 0, 1 at most".to_owned(),
        Expected::Counts(bounds) => format!(
            "a list of whole numbers from {}, together at most {}",
            bounds.least, bounds.most
        ),
        Expected::Outline => {
            "a list of places with their heights, `[[DEGREES, 0 to 1], …]`".to_owned()
        }
        Expected::Minute => "a minute from 0 to less than 60".to_owned(),
        Expected::Pair => "two decimal numbers, `[from, to]`".to_owned(),
        Expected::ArborPart => "`\"ARBOR.PART\"`".to_owned(),
        Expected::Name => {
            "a name of small letters, digits and `_`, a letter first, at most 40 long".to_owned()
        }
        Expected::Version => "`1`, the only form of sheet there is".to_owned(),
        Expected::OneOf(words) => {
            let words: Vec<String> = words.iter().map(|word| format!("`\"{word}\"`")).collect();
            words.join(" or ")
        }
    }
}

fn movement_fault(what: &movement::What, first: &str) -> Told {
    use movement::What as W;
    match what {
        W::DoubledWitness { id, .. } => Told::of(
            format!("a second witness `{id}`"),
            format!("each id once; it is already{first}"),
        ),
        W::DoubledMoment { id, .. } => Told::of(
            format!("a second moment `{id}`"),
            format!("each id once; it is already{first}"),
        ),
        W::DropIsGiven => Told::of("a moment `drop`", "another id")
            .hint("the drop is always there, on `read_at`"),
        W::UnknownArbor { got, near } => {
            Told::of(quoted(got), "an arbor of this sheet").meant(near.as_deref())
        }
        W::UnknownPart { arbor, got, near } => {
            Told::of(quoted(got), format!("a part of the arbor `{arbor}`")).meant(near.as_deref())
        }
        W::UnknownMoment { got, near } => {
            Told::of(quoted(got), "`drop` or a moment of this sheet").meant(near.as_deref())
        }
        W::OneArbor { arbor } => Told::of(
            format!("a mesh of two parts of `{arbor}`"),
            "parts of two arbors",
        ),
        W::MeshedTwice { .. } => Told::of(
            "the same two parts in mesh a second time",
            format!("each pair once; it is already{first}"),
        ),
        W::DrivenTwice { part, .. } => Told::of(
            format!("`{part}` driven a second time"),
            format!("one driver for it; it has one{first}"),
        ),
        W::InNoMesh { arbor } => Told::of(
            format!("`{arbor}` in no mesh"),
            "each arbor in mesh with another",
        )
        .hint("add the `[[mesh]]` it belongs to, or leave the arbor out"),
        W::TwoUndriven { one, other, .. } => Told::of(
            format!("`{other}` driven by nothing, as is `{one}`{first} in the same train"),
            "one arbor in each train that the others take their power from",
        )
        .hint("is a `driver` written for a `driven`?"),
        W::NoneUndriven { arbor } => Told::of(
            format!("a train, that of `{arbor}`, in which each arbor is driven by another"),
            "one arbor in each train that the others take their power from",
        ),
        W::LoopOpen { start, end, ways } => Told::of(
            format!(
                "a loop of meshes that does not close: one turn of `{start}` turns `{end}` {} by one path and {} by the other",
                way_words(&ways[0]),
                way_words(&ways[1])
            ),
            "the same both ways",
        )
        .hint("count the teeth of these wheels again"),
        W::NoRuns { arbors } => {
            let arbors: Vec<String> = arbors.iter().map(|a| format!("`{a}`")).collect();
            Told::of(
                format!("no `runs` on any of {}", list(&arbors)),
                "`runs = \"clockwise\"` or `\"counterclockwise\"` on one arbor of each train",
            )
        }
        W::RunsContradict { one, other, .. } => Told::of(
            format!("`runs` on `{other}` that does not go with `runs` on `{one}`{first}"),
            "ways round that the meshes allow together",
        )
        .hint("arbors next to each other in external mesh run opposite ways"),
        W::NoStrike => Told::of("a witness of the drop on a sheet without `[strike]`", "`[strike]` with `read_at`, or another `at`"),
        W::NotJoined { on, moment, arbor } => Told::of(
            format!("`{on}`, which no path of meshes joins to `{arbor}`"),
            format!("an arbor of the train that is fixed at `{moment}`"),
        ),
        W::UpsideDown { from, to } => Told::of(
            format!("a window from {} to {}", degrees(from), degrees(to)),
            "the smaller number first, and some width",
        ),
        W::TooWide { width, period } => Told::of(
            format!("a window {} wide", degrees(width)),
            format!("at most {}, for its places repeat after that", degrees(period)),
        ),
        W::BestOutside { best, from, to } => Told::of(
            format!("`best_deg` at {}", degrees(best)),
            format!("a place in the window, {} to {}", degrees(from), degrees(to)),
        ),
        W::SlotWithoutTip => Told::of(
            "only one of `slot_deg` and `tip_deg`",
            "both, or neither",
        ),
        W::SlotMisfit { slot, tip, period } => Told::of(
            format!("a slot {} wide with a tip of {}", degrees(slot), degrees(tip)),
            format!(
                "a tip narrower than its slot, and both together less than {} from slot to slot",
                degrees(period)
            ),
        ),
        W::DoubledId { kind, id, .. } => Told::of(
            format!("a second {} `{id}`", named(*kind)),
            format!("each id once; it is already{first}"),
        ),
        W::UnknownId { kind, got, near } => {
            Told::of(quoted(got), format!("a {} of this sheet", named(*kind))).meant(near.as_deref())
        }
        W::NoRoom { takes, room } => Told::of(
            format!("{} for each place", degrees(takes)),
            format!("less than {}, for the next place comes after that", degrees(room)),
        ),
        W::HeightsMiscounted { got, places } => {
            Told::of(format!("{got} heights"), format!("as many as places, {places}"))
        }
        W::OutlineBack { at } => Told::of(
            format!("an outline with {} where it does not go on", degrees(at)),
            "places from 0 to less than 360, each as far on as the one before it or further",
        ),
        W::LiftsRound { arbor } => Told::of(
            format!("lever arbors that lift each other in a circle, by way of `{arbor}`"),
            "no lever arbor that lifts itself",
        ),
        W::RackDriven => Told::of(
            "a lever that would move the rack",
            "only arms on the rack's arbor; its tail on the snail moves it",
        ),
        W::NoRack => Told::of("`rack` on a sheet without `[rack]`", "`[rack]`, or another name"),
        W::NotASnail { track } => Told::of(
            format!("the track `{track}`"),
            "a track with `steps` for the rack's tail, and any other for a lever",
        ),
        W::TooMany { kind, got, most } => {
            let kind = match kind {
                Plural::Arbors => "arbors",
                Plural::Meshes => "meshes",
                Plural::Witnesses => "witnesses",
                Plural::Moments => "moments",
                Plural::Tracks => "tracks",
                Plural::Pins => "pins",
                Plural::Levers => "levers",
            };
            Told::of(format!("{got} {kind}"), format!("at most {most} on one sheet"))
        }
    }
}

fn named(kind: Named) -> &'static str {
    match kind {
        Named::Track => "track",
        Named::Pin => "pin",
        Named::Lever => "lever",
        Named::LeverArbor => "lever arbor",
    }
}

fn way_words(way: &Way) -> String {
    let product: Vec<String> = way
        .hops
        .iter()
        .map(|hop| format!("{}/{}", hop.here, hop.there))
        .collect();
    let turns = to_f64(&way.turns);
    let sense = if turns < 0.0 {
        "the other way"
    } else {
        "the same way"
    };
    let size = if turns < 0.0 {
        -way.turns.clone()
    } else {
        way.turns.clone()
    };
    if product.is_empty() {
        "once".to_owned()
    } else {
        format!("{} = {} ({sense})", product.join(" × "), ratio(&size))
    }
}

/// What is odd about a sheet, in words.
pub fn misgiving(what: &Misgiving) -> String {
    match what {
        Misgiving::NotWhole {
            witness,
            places,
            blow,
            period,
        } => format!(
            "a blow moves `{witness}` {}, {} of its places of {}: no whole number, so it cannot show the same thing at every blow; count the teeth again",
            degrees(blow),
            ratio(places),
            degrees(period)
        ),
        Misgiving::WiderThanSlot {
            witness,
            allowed,
            from,
            to,
        } => format!(
            "the window of `{witness}` is {} to {}, but slot and tip allow only {} to {}: {} of play in all",
            degrees(from),
            degrees(to),
            degrees(&-allowed),
            degrees(allowed),
            degrees(&(allowed * &fraction(2, 1)))
        ),
    }
}

/// A warning, marked as one.
pub fn warning(what: &str) -> String {
    format!("warning: {what}")
}

/// That a sheet is good, and what is on it.
pub fn good_sheet(movement: &movement::Movement) -> String {
    let count = |n: usize, one: &str, many: &str| match n {
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    };
    format!(
        "{}: good; {}, {}, {}, {}\n",
        movement.name(),
        count(movement.trains(), "train", "trains"),
        count(movement.arbors().len(), "arbor", "arbors"),
        count(movement.meshes().len(), "mesh", "meshes"),
        count(movement.witnesses().len(), "witness", "witnesses")
    )
}
