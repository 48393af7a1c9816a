//! The words of every fault of a sheet: what was got, what was expected, one hint where there is one.

use crate::en::{all_ticked, quoted, ratio, ticked};
use crate::{Words, args, key, say};
use movement::{LoopPath, NamedWork, Plural};
use quantity::{Bounds, Degrees, to_f64};
use sheet::{ExpectedValue, Fault, Got, SheetFaultKind, SheetTable, SpellingSlip, Spot};

/// A fault in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FaultText {
    /// What was got and what was expected.
    pub line: String,
    /// What may help.
    pub hint: Option<String>,
}

impl FaultText {
    fn hint(mut self, hint: impl Into<String>) -> FaultText {
        self.hint = Some(hint.into());
        self
    }

    fn meant(mut self, words: &Words, near: Option<&str>) -> FaultText {
        self.hint = near.map(|near| say!(words, "sheet-meant", near = ticked(near)));
        self
    }
}

fn fault_text(words: &Words, got: impl Into<String>, expected: impl Into<String>) -> FaultText {
    let (got, expected) = (got.into(), expected.into());
    FaultText {
        line: say!(words, "sheet-fault", got = got, expected = expected),
        hint: None,
    }
}

/// How many faults were left out.
pub fn more_faults(words: &Words, more: usize) -> String {
    say!(words, "sheet-more-faults", count = more)
}

/// A fault in words.
pub fn fault(words: &Words, fault: &Fault) -> FaultText {
    let first = fault.first.map_or_else(String::new, |Spot { line, .. }| {
        say!(words, "sheet-on-line", line = line)
    });
    match &fault.what {
        SheetFaultKind::TooLong { most, .. } => fault_text(
            words,
            say!(words, "sheet-too-long", most = most >> 10),
            say!(words, "sheet-too-long-expected"),
        )
        .hint(say!(words, "sheet-too-long-hint")),
        SheetFaultKind::ManyKeys { got, most } => fault_text(
            words,
            say!(words, "sheet-many-keys", count = *got),
            say!(words, "sheet-many-keys-expected", most = *most),
        ),
        SheetFaultKind::NotUtf8 { byte } => fault_text(
            words,
            say!(words, "sheet-not-utf8", byte = format!("{byte:02x}")),
            say!(words, "sheet-not-utf8-expected"),
        )
        .hint(say!(words, "sheet-not-utf8-hint")),
        SheetFaultKind::Empty => fault_text(
            words,
            say!(words, "sheet-empty"),
            say!(words, "sheet-too-long-expected"),
        )
        .hint(say!(words, "sheet-empty-hint")),
        SheetFaultKind::Slip {
            key,
            got,
            slip,
            right,
        } => {
            let slip = match slip {
                SpellingSlip::Comma => "comma",
                SpellingSlip::Minus => "minus",
                SpellingSlip::Degree => "degree",
                SpellingSlip::Unit => "unit",
                SpellingSlip::Letter => "letter",
                SpellingSlip::Quotes => "quotes",
                SpellingSlip::Unquoted => "unquoted",
                SpellingSlip::Unclosed => "unclosed",
            };
            fault_text(
                words,
                say!(
                    words,
                    "sheet-slip",
                    got = quoted(got),
                    slip = slip,
                    key = quoted(key)
                ),
                quoted(right),
            )
            .hint(say!(words, "sheet-not-toml-hint"))
        }
        SheetFaultKind::Toml { says } => fault_text(
            words,
            say!(words, "sheet-not-toml", says = plain(says)),
            say!(words, "sheet-not-toml-expected"),
        )
        .hint(say!(words, "sheet-not-toml-hint")),
        SheetFaultKind::Doubled { key } => fault_text(
            words,
            say!(words, "sheet-doubled", key = quoted(key)),
            say!(words, "sheet-doubled-expected"),
        ),
        SheetFaultKind::UnknownKey { got, table, near } => {
            let name = table_name(words, *table);
            let expected = say!(words, "sheet-unknown-key-expected", table = name);
            let told = fault_text(words, quoted(got), expected);
            match near {
                Some(near) => told.meant(words, Some(near)),
                None => {
                    let keys = words.list(&all_ticked(&table.keys()));
                    told.hint(say!(words, "sheet-unknown-key-hint", keys = keys))
                }
            }
        }
        SheetFaultKind::Missing { key, table } => fault_text(
            words,
            say!(
                words,
                "sheet-missing",
                table = table_name(words, *table),
                key = ticked(key)
            ),
            say!(words, "sheet-missing-expected", key = ticked(key)),
        ),
        SheetFaultKind::NotOne { keys, got, table } => {
            let table = table_name(words, *table);
            let got = match got[..] {
                [] => {
                    let keys = words.list(&all_ticked(keys));
                    say!(words, "sheet-none-of", table = table, keys = keys)
                }
                _ => {
                    let keys = words.list(&all_ticked(got));
                    say!(words, "sheet-together", table = table, keys = keys)
                }
            };
            let keys = words.list(&all_ticked(keys));
            fault_text(words, got, say!(words, "sheet-just-one", keys = keys))
        }
        SheetFaultKind::OutOfPlace { key, beside } => fault_text(
            words,
            say!(
                words,
                "sheet-out-of-place",
                key = ticked(key),
                beside = ticked(beside)
            ),
            say!(
                words,
                "sheet-out-of-place-expected",
                beside = ticked(beside)
            ),
        ),
        SheetFaultKind::Value {
            key,
            got,
            expected,
            near,
        } => {
            let mut written = got_words(words, got);
            if !key.is_empty() {
                written = say!(words, "sheet-value", got = written, key = quoted(key));
            }
            fault_text(words, written, expected_words(words, *expected))
                .meant(words, near.as_deref())
        }
        SheetFaultKind::Movement(what) => movement_fault(words, what, first),
    }
}

/// What the TOML reader says, on one line.
fn plain(says: &str) -> String {
    says.split_whitespace().collect::<Vec<_>>().join(" ")
}

pub(crate) fn table_name(words: &Words, table: SheetTable) -> String {
    let key = match table {
        SheetTable::Sheet => key!("table-sheet"),
        SheetTable::Arbor => key!("table-arbor"),
        SheetTable::Part => key!("table-part"),
        SheetTable::Mesh => key!("table-mesh"),
        SheetTable::Strike => key!("table-strike"),
        SheetTable::Moment => key!("table-moment"),
        SheetTable::Witness => key!("table-witness"),
        SheetTable::Track => key!("table-track"),
        SheetTable::Pin => key!("table-pin"),
        SheetTable::Lever => key!("table-lever"),
        SheetTable::Rack => key!("table-rack"),
        SheetTable::Chime => key!("table-chime"),
        SheetTable::Pillar => key!("table-pillar"),
        SheetTable::Pivot => key!("table-pivot"),
        SheetTable::Plates => key!("table-plates"),
    };
    words.say(key, args![])
}

fn got_words(words: &Words, got: &Got) -> String {
    match got {
        Got::Written(text) => quoted(text),
        Got::Text(text) if text.is_empty() => say!(words, "got-empty"),
        Got::Text(text) => say!(words, "got-text", text = quoted(text)),
        Got::List(len) => say!(words, "got-list", count = *len),
        Got::Table => say!(words, "got-table"),
        Got::Nth { nth, of, got } => {
            let got = got_words(words, got);
            say!(words, "got-nth", got = got, nth = *nth, of = *of)
        }
    }
}

pub(crate) fn expected_words(words: &Words, expected: ExpectedValue) -> String {
    let key = match expected {
        ExpectedValue::Text => key!("value-text"),
        ExpectedValue::YesNo => key!("value-yes-no"),
        ExpectedValue::Table => key!("value-table"),
        ExpectedValue::Tables => key!("value-tables"),
        ExpectedValue::Count(Bounds { least, most, .. }) => {
            return say!(words, "value-count", least = least, most = most);
        }
        ExpectedValue::Part(Bounds { least, most, .. }) => {
            return say!(words, "value-part", least = least, most = most);
        }
        ExpectedValue::Number => key!("value-number"),
        ExpectedValue::Positive => key!("value-positive"),
        ExpectedValue::Lash => key!("value-lash"),
        ExpectedValue::Hold => key!("value-hold"),
        ExpectedValue::Oclock => key!("value-oclock"),
        ExpectedValue::NotNegative => key!("value-not-negative"),
        ExpectedValue::PartOfTooth => key!("value-part-of-tooth"),
        ExpectedValue::Numbers => key!("value-numbers"),
        ExpectedValue::Heights => key!("value-heights"),
        ExpectedValue::Counts(Bounds { least, most, .. }) => {
            return say!(words, "value-counts", least = least, most = most);
        }
        ExpectedValue::Outline => key!("value-outline"),
        ExpectedValue::Minute => key!("value-minute"),
        ExpectedValue::Pair => key!("value-pair"),
        ExpectedValue::Point => key!("value-point"),
        ExpectedValue::Held => key!("value-held"),
        ExpectedValue::ArborPart => key!("value-arbor-part"),
        ExpectedValue::Name => key!("value-name"),
        ExpectedValue::Version => key!("value-version"),
        ExpectedValue::OneOf(all) | ExpectedValue::Kind(all) => {
            let all: Vec<String> = all.iter().map(|word| format!("`\"{word}\"`")).collect();
            return words.either(&all);
        }
    };
    words.say(key, args![])
}

/// A fault of the movement that a sheet tells of; `first` is where the first of two stands.
fn movement_fault(words: &Words, what: &movement::FlawKind, first: String) -> FaultText {
    use movement::FlawKind as W;
    let told = |got, expected| fault_text(words, got, expected);
    let deg = |angle: &Degrees| words.degrees(angle);
    match what {
        W::Uncounted { part, more } => told(
            say!(words, "sheet-uncounted", part = ticked(part), more = *more),
            say!(words, "sheet-uncounted-expected"),
        )
        .hint(say!(words, "sheet-uncounted-hint")),
        W::DoubledWitness { id, .. } => told(
            say!(words, "sheet-doubled-witness", id = ticked(id)),
            say!(words, "sheet-once", place = first),
        ),
        W::DoubledMoment { id, .. } => told(
            say!(words, "sheet-doubled-moment", id = ticked(id)),
            say!(words, "sheet-once", place = first),
        ),
        W::DropIsGiven => told(
            say!(words, "sheet-drop-given"),
            say!(words, "sheet-drop-given-expected"),
        )
        .hint(say!(words, "sheet-drop-given-hint")),
        W::UnknownArbor { got, near } => {
            told(quoted(got), say!(words, "sheet-unknown-arbor-expected"))
                .meant(words, near.as_deref())
        }
        W::UnknownPart { arbor, got, near } => told(
            quoted(got),
            say!(words, "sheet-unknown-part-expected", arbor = ticked(arbor)),
        )
        .meant(words, near.as_deref()),
        W::UnknownMoment { got, near } => {
            told(quoted(got), say!(words, "sheet-unknown-moment-expected"))
                .meant(words, near.as_deref())
        }
        W::OneArbor { arbor } => told(
            say!(words, "sheet-one-arbor", arbor = ticked(arbor)),
            say!(words, "sheet-one-arbor-expected"),
        ),
        W::MeshedTwice { .. } => told(
            say!(words, "sheet-meshed-twice"),
            say!(words, "sheet-meshed-twice-expected", place = first),
        ),
        W::DrivenTwice { part, .. } => told(
            say!(words, "sheet-driven-twice", part = ticked(part)),
            say!(words, "sheet-driven-twice-expected", place = first),
        ),
        W::InNoMesh { arbor } => told(
            say!(words, "sheet-in-no-mesh", arbor = ticked(arbor)),
            say!(words, "sheet-in-no-mesh-expected"),
        )
        .hint(say!(words, "sheet-in-no-mesh-hint")),
        W::TwoUndriven { one, other, .. } => told(
            say!(
                words,
                "sheet-two-undriven",
                one = ticked(one),
                other = ticked(other),
                place = first
            ),
            say!(words, "sheet-undriven-expected"),
        )
        .hint(say!(words, "sheet-two-undriven-hint")),
        W::NoneUndriven { arbor } => told(
            say!(words, "sheet-none-undriven", arbor = ticked(arbor)),
            say!(words, "sheet-undriven-expected"),
        ),
        W::LoopOpen { start, end, ways } => told(
            say!(
                words,
                "sheet-loop-open",
                start = ticked(start),
                end = ticked(end),
                way = way_words(words, &ways[0]),
                other = way_words(words, &ways[1])
            ),
            say!(words, "sheet-loop-open-expected"),
        )
        .hint(say!(words, "sheet-loop-open-hint")),
        W::NoRuns { arbors } => told(
            say!(
                words,
                "sheet-no-runs",
                arbors = words.list(&all_ticked(arbors))
            ),
            say!(words, "sheet-no-runs-expected"),
        ),
        W::RunsContradict { one, other, .. } => told(
            say!(
                words,
                "sheet-runs-contradict",
                one = ticked(one),
                other = ticked(other),
                place = first
            ),
            say!(words, "sheet-runs-contradict-expected"),
        )
        .hint(say!(words, "sheet-runs-contradict-hint")),
        W::NoStrike => told(
            say!(words, "sheet-no-strike"),
            say!(words, "sheet-no-strike-expected"),
        ),
        W::NotJoined { on, moment, arbor } => told(
            say!(
                words,
                "sheet-not-joined",
                on = ticked(on),
                arbor = ticked(arbor)
            ),
            say!(words, "sheet-not-joined-expected", moment = ticked(moment)),
        ),
        W::UpsideDown { from, to } => told(
            say!(words, "sheet-upside-down", from = deg(from), to = deg(to)),
            say!(words, "sheet-upside-down-expected"),
        ),
        W::TooWide { width, period } => told(
            say!(words, "sheet-too-wide", width = deg(width)),
            say!(words, "sheet-too-wide-expected", period = deg(period)),
        ),
        W::BestOutside { best, from, to } => told(
            say!(words, "sheet-best-outside", best = deg(best)),
            say!(
                words,
                "sheet-best-outside-expected",
                from = deg(from),
                to = deg(to)
            ),
        ),
        W::SlotWithoutTip => told(
            say!(words, "sheet-slot-without-tip"),
            say!(words, "sheet-slot-without-tip-expected"),
        ),
        W::SlotMisfit { slot, tip, period } => told(
            say!(words, "sheet-slot-misfit", slot = deg(slot), tip = deg(tip)),
            say!(words, "sheet-slot-misfit-expected", period = deg(period)),
        ),
        W::DoubledId { kind, id, .. } => told(
            say!(
                words,
                "sheet-doubled-id",
                kind = named(words, *kind),
                id = ticked(id)
            ),
            say!(words, "sheet-once", place = first),
        ),
        W::UnknownId { kind, got, near } => told(
            quoted(got),
            say!(
                words,
                "sheet-unknown-id-expected",
                kind = named(words, *kind)
            ),
        )
        .meant(words, near.as_deref()),
        W::NoRoom { takes, room } => told(
            say!(words, "sheet-no-room", takes = deg(takes)),
            say!(words, "sheet-no-room-expected", room = deg(room)),
        ),
        W::HeightsMiscounted { got, places } => told(
            say!(words, "sheet-heights-miscounted", count = *got),
            say!(words, "sheet-heights-miscounted-expected", places = *places),
        ),
        W::OutlineBack { at } => told(
            say!(words, "sheet-outline-back", at = deg(at)),
            say!(words, "sheet-outline-back-expected"),
        ),
        W::LiftsRound { arbor } => told(
            say!(words, "sheet-lifts-round", arbor = ticked(arbor)),
            say!(words, "sheet-lifts-round-expected"),
        ),
        W::RackDriven => told(
            say!(words, "sheet-rack-driven"),
            say!(words, "sheet-rack-driven-expected"),
        ),
        W::NoRack => told(
            say!(words, "sheet-no-rack"),
            say!(words, "sheet-no-rack-expected"),
        ),
        W::NotASnail { track } => told(
            say!(words, "sheet-not-a-snail", track = ticked(track)),
            say!(words, "sheet-not-a-snail-expected"),
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
                Plural::Pillars => "pillars",
                Plural::Pivots => "pivots",
            };
            told(
                say!(words, "sheet-too-many", kind = kind, count = *got),
                say!(words, "sheet-too-many-expected", most = *most),
            )
        }
    }
}

fn named(words: &Words, kind: NamedWork) -> String {
    let kind = match kind {
        NamedWork::Track => "track",
        NamedWork::Pin => "pin",
        NamedWork::Lever => "lever",
        NamedWork::LeverArbor => "lever-arbor",
        NamedWork::Pillar => "pillar",
        NamedWork::Pivot => "pivot",
    };
    say!(words, "sheet-kind", kind = kind)
}

fn way_words(words: &Words, way: &LoopPath) -> String {
    let product: Vec<String> = way
        .hops
        .iter()
        .map(|hop| format!("{}/{}", hop.here, hop.there))
        .collect();
    let product = product.join(" × ");
    if product.is_empty() {
        say!(words, "sheet-loop-once")
    } else if to_f64(&way.turns) < 0.0 {
        let ratio = ratio(&-way.turns.clone());
        say!(
            words,
            "sheet-loop-way-back",
            product = product,
            ratio = ratio
        )
    } else {
        let ratio = ratio(&way.turns);
        say!(words, "sheet-loop-way", product = product, ratio = ratio)
    }
}
