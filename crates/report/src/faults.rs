//! The words of every fault of a sheet: what was got, what was expected, one hint where there is one.

use crate::en::{all_ticked, quoted, ratio, ticked};
use crate::{Locale, args, key, say};
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

    fn meant(mut self, locale: &Locale, near: Option<&str>) -> FaultText {
        self.hint = near.map(|near| say!(locale, "sheet-meant", near = ticked(near)));
        self
    }
}

fn fault_text(locale: &Locale, got: impl Into<String>, expected: impl Into<String>) -> FaultText {
    let (got, expected) = (got.into(), expected.into());
    FaultText {
        line: say!(locale, "sheet-fault", got = got, expected = expected),
        hint: None,
    }
}

/// How many faults were left out.
pub fn more_faults(locale: &Locale, more: usize) -> String {
    say!(locale, "sheet-more-faults", count = more)
}

/// A fault in words.
pub fn fault(locale: &Locale, fault: &Fault) -> FaultText {
    let first = fault.first.map_or_else(String::new, |Spot { line, .. }| {
        say!(locale, "sheet-on-line", line = line)
    });
    match &fault.what {
        SheetFaultKind::TooLong { most, .. } => fault_text(
            locale,
            say!(locale, "sheet-too-long", most = most >> 10),
            say!(locale, "sheet-too-long-expected"),
        )
        .hint(say!(locale, "sheet-too-long-hint")),
        SheetFaultKind::ManyKeys { got, most } => fault_text(
            locale,
            say!(locale, "sheet-many-keys", count = *got),
            say!(locale, "sheet-many-keys-expected", most = *most),
        ),
        SheetFaultKind::NotUtf8 { byte } => fault_text(
            locale,
            say!(locale, "sheet-not-utf8", byte = format!("{byte:02x}")),
            say!(locale, "sheet-not-utf8-expected"),
        )
        .hint(say!(locale, "sheet-not-utf8-hint")),
        SheetFaultKind::Empty => fault_text(
            locale,
            say!(locale, "sheet-empty"),
            say!(locale, "sheet-too-long-expected"),
        )
        .hint(say!(locale, "sheet-empty-hint")),
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
                locale,
                say!(
                    locale,
                    "sheet-slip",
                    got = quoted(got),
                    slip = slip,
                    key = quoted(key)
                ),
                quoted(right),
            )
        }
        SheetFaultKind::Toml { says } => fault_text(
            locale,
            say!(locale, "sheet-not-toml", says = plain(says)),
            say!(locale, "sheet-not-toml-expected"),
        )
        .hint(say!(locale, "sheet-not-toml-hint")),
        SheetFaultKind::Doubled { key } => fault_text(
            locale,
            say!(locale, "sheet-doubled", key = quoted(key)),
            say!(locale, "sheet-doubled-expected"),
        ),
        SheetFaultKind::UnknownKey { got, table, near } => {
            let name = table_name(locale, *table);
            let expected = say!(locale, "sheet-unknown-key-expected", table = name);
            let told = fault_text(locale, quoted(got), expected);
            match near {
                Some(near) => told.meant(locale, Some(near)),
                None => {
                    let keys = locale.list(&all_ticked(&table.keys()));
                    told.hint(say!(locale, "sheet-unknown-key-hint", keys = keys))
                }
            }
        }
        SheetFaultKind::Missing { key, table } => fault_text(
            locale,
            say!(
                locale,
                "sheet-missing",
                table = table_name(locale, *table),
                key = ticked(key)
            ),
            say!(locale, "sheet-missing-expected", key = ticked(key)),
        ),
        SheetFaultKind::NotOne { keys, got, table } => {
            let table = table_name(locale, *table);
            let got = match got[..] {
                [] => {
                    let keys = locale.list(&all_ticked(keys));
                    say!(locale, "sheet-none-of", table = table, keys = keys)
                }
                _ => {
                    let keys = locale.list(&all_ticked(got));
                    say!(locale, "sheet-together", table = table, keys = keys)
                }
            };
            let keys = locale.list(&all_ticked(keys));
            fault_text(locale, got, say!(locale, "sheet-just-one", keys = keys))
        }
        SheetFaultKind::OutOfPlace { key, beside } => fault_text(
            locale,
            say!(
                locale,
                "sheet-out-of-place",
                key = ticked(key),
                beside = ticked(beside)
            ),
            say!(
                locale,
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
            let mut written = got_words(locale, got);
            if !key.is_empty() {
                written = say!(locale, "sheet-value", got = written, key = quoted(key));
            }
            fault_text(locale, written, expected_words(locale, *expected))
                .meant(locale, near.as_deref())
        }
        SheetFaultKind::Movement(what) => movement_fault(locale, what, first),
    }
}

/// What the TOML reader says, on one line.
fn plain(says: &str) -> String {
    says.split_whitespace().collect::<Vec<_>>().join(" ")
}

pub(crate) fn table_name(locale: &Locale, table: SheetTable) -> String {
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
        SheetTable::Fixture => key!("table-fixture"),
        SheetTable::Plates => key!("table-plates"),
    };
    locale.say(key, args![])
}

fn got_words(locale: &Locale, got: &Got) -> String {
    match got {
        Got::Written(text) => quoted(text),
        Got::Text(text) if text.is_empty() => say!(locale, "got-empty"),
        Got::Text(text) => say!(locale, "got-text", text = quoted(text)),
        Got::List(len) => say!(locale, "got-list", count = *len),
        Got::Table => say!(locale, "got-table"),
        Got::Nth { nth, of, got } => {
            let got = got_words(locale, got);
            say!(locale, "got-nth", got = got, nth = *nth, of = *of)
        }
    }
}

pub(crate) fn expected_words(locale: &Locale, expected: ExpectedValue) -> String {
    let key = match expected {
        ExpectedValue::Text => key!("value-text"),
        ExpectedValue::YesNo => key!("value-yes-no"),
        ExpectedValue::Table => key!("value-table"),
        ExpectedValue::Tables => key!("value-tables"),
        ExpectedValue::Count(Bounds { least, most, .. }) => {
            return say!(locale, "value-count", least = least, most = most);
        }
        ExpectedValue::Part(Bounds { least, most, .. }) => {
            return say!(locale, "value-part", least = least, most = most);
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
            return say!(locale, "value-counts", least = least, most = most);
        }
        ExpectedValue::Outline => key!("value-outline"),
        ExpectedValue::Minute => key!("value-minute"),
        ExpectedValue::Pair => key!("value-pair"),
        ExpectedValue::Point => key!("value-point"),
        ExpectedValue::Held => key!("value-held"),
        ExpectedValue::Names => key!("value-names"),
        ExpectedValue::KeysBeside => key!("value-keys-beside"),
        ExpectedValue::Spreads => key!("value-spreads"),
        ExpectedValue::MeasureSpreads => key!("value-measure-spreads"),
        ExpectedValue::ArborPart => key!("value-arbor-part"),
        ExpectedValue::Name => key!("value-name"),
        ExpectedValue::Version => key!("value-version"),
        ExpectedValue::OneOf(all) | ExpectedValue::Kind(all) => {
            let all: Vec<String> = all.iter().map(|word| format!("`\"{word}\"`")).collect();
            return locale.either(&all);
        }
    };
    locale.say(key, args![])
}

/// A fault of the movement that a sheet tells of; `first` is where the first of two stands.
fn movement_fault(locale: &Locale, what: &movement::FlawKind, first: String) -> FaultText {
    use movement::FlawKind as W;
    let told = |got, expected| fault_text(locale, got, expected);
    let deg = |angle: &Degrees| locale.degrees(angle);
    match what {
        W::Uncounted { part, more } => told(
            say!(locale, "sheet-uncounted", part = ticked(part), more = *more),
            say!(locale, "sheet-uncounted-expected"),
        )
        .hint(say!(locale, "sheet-uncounted-hint")),
        W::DoubledWitness { id, .. } => told(
            say!(locale, "sheet-doubled-witness", id = ticked(id)),
            say!(locale, "sheet-once", place = first),
        ),
        W::DoubledMoment { id, .. } => told(
            say!(locale, "sheet-doubled-moment", id = ticked(id)),
            say!(locale, "sheet-once", place = first),
        ),
        W::DropIsGiven => told(
            say!(locale, "sheet-drop-given"),
            say!(locale, "sheet-drop-given-expected"),
        )
        .hint(say!(locale, "sheet-drop-given-hint")),
        W::UnknownArbor { got, near } => {
            told(quoted(got), say!(locale, "sheet-unknown-arbor-expected"))
                .meant(locale, near.as_deref())
        }
        W::UnknownPart { arbor, got, near } => told(
            quoted(got),
            say!(locale, "sheet-unknown-part-expected", arbor = ticked(arbor)),
        )
        .meant(locale, near.as_deref()),
        W::MisspeltPart { arbor, got, meant } => told(
            say!(
                locale,
                "sheet-misspelt-part",
                got = quoted(got),
                arbor = ticked(arbor)
            ),
            say!(
                locale,
                "sheet-misspelt-part-expected",
                meant = ticked(meant)
            ),
        )
        .meant(locale, Some(meant)),
        W::UnknownMoment { got, near } => {
            told(quoted(got), say!(locale, "sheet-unknown-moment-expected"))
                .meant(locale, near.as_deref())
        }
        W::OneArbor { arbor } => told(
            say!(locale, "sheet-one-arbor", arbor = ticked(arbor)),
            say!(locale, "sheet-one-arbor-expected"),
        ),
        W::MeshedTwice { .. } => told(
            say!(locale, "sheet-meshed-twice"),
            say!(locale, "sheet-meshed-twice-expected", place = first),
        ),
        W::DrivenTwice { part, .. } => told(
            say!(locale, "sheet-driven-twice", part = ticked(part)),
            say!(locale, "sheet-driven-twice-expected", place = first),
        ),
        W::InNoMesh { arbor } => told(
            say!(locale, "sheet-in-no-mesh", arbor = ticked(arbor)),
            say!(locale, "sheet-in-no-mesh-expected"),
        )
        .hint(say!(locale, "sheet-in-no-mesh-hint")),
        W::TwoUndriven { one, other, .. } => told(
            say!(
                locale,
                "sheet-two-undriven",
                one = ticked(one),
                other = ticked(other),
                place = first
            ),
            say!(locale, "sheet-undriven-expected"),
        )
        .hint(say!(locale, "sheet-two-undriven-hint")),
        W::NoneUndriven { arbor } => told(
            say!(locale, "sheet-none-undriven", arbor = ticked(arbor)),
            say!(locale, "sheet-undriven-expected"),
        ),
        W::LoopOpen { start, end, ways } => told(
            say!(
                locale,
                "sheet-loop-open",
                start = ticked(start),
                end = ticked(end),
                way = way_words(locale, &ways[0]),
                other = way_words(locale, &ways[1])
            ),
            say!(locale, "sheet-loop-open-expected"),
        )
        .hint(say!(locale, "sheet-loop-open-hint")),
        W::NoRuns { arbors } => told(
            say!(
                locale,
                "sheet-no-runs",
                arbors = locale.list(&all_ticked(arbors))
            ),
            say!(locale, "sheet-no-runs-expected"),
        ),
        W::RunsContradict { one, other, .. } => told(
            say!(
                locale,
                "sheet-runs-contradict",
                one = ticked(one),
                other = ticked(other),
                place = first
            ),
            say!(locale, "sheet-runs-contradict-expected"),
        )
        .hint(say!(locale, "sheet-runs-contradict-hint")),
        W::NoStrike => told(
            say!(locale, "sheet-no-strike"),
            say!(locale, "sheet-no-strike-expected"),
        ),
        W::NotJoined { on, moment, arbor } => told(
            say!(
                locale,
                "sheet-not-joined",
                on = ticked(on),
                arbor = ticked(arbor)
            ),
            say!(locale, "sheet-not-joined-expected", moment = ticked(moment)),
        ),
        W::UpsideDown { from, to } => told(
            say!(locale, "sheet-upside-down", from = deg(from), to = deg(to)),
            say!(locale, "sheet-upside-down-expected"),
        ),
        W::TooWide { width, period } => told(
            say!(locale, "sheet-too-wide", width = deg(width)),
            say!(locale, "sheet-too-wide-expected", period = deg(period)),
        ),
        W::BestOutside { best, from, to } => told(
            say!(locale, "sheet-best-outside", best = deg(best)),
            say!(
                locale,
                "sheet-best-outside-expected",
                from = deg(from),
                to = deg(to)
            ),
        ),
        W::SlotWithoutTip => told(
            say!(locale, "sheet-slot-without-tip"),
            say!(locale, "sheet-slot-without-tip-expected"),
        ),
        W::SlotMisfit { slot, tip, period } => told(
            say!(
                locale,
                "sheet-slot-misfit",
                slot = deg(slot),
                tip = deg(tip)
            ),
            say!(locale, "sheet-slot-misfit-expected", period = deg(period)),
        ),
        W::DoubledId { kind, id, .. } => told(
            say!(
                locale,
                "sheet-doubled-id",
                kind = named(locale, *kind),
                id = ticked(id)
            ),
            say!(locale, "sheet-once", place = first),
        ),
        W::UnknownId { kind, got, near } => told(
            quoted(got),
            say!(
                locale,
                "sheet-unknown-id-expected",
                kind = named(locale, *kind)
            ),
        )
        .meant(locale, near.as_deref()),
        W::NoRoom { takes, room } => told(
            say!(locale, "sheet-no-room", takes = deg(takes)),
            say!(locale, "sheet-no-room-expected", room = deg(room)),
        ),
        W::HeightsMiscounted { got, places } => told(
            say!(locale, "sheet-heights-miscounted", count = *got),
            say!(
                locale,
                "sheet-heights-miscounted-expected",
                places = *places
            ),
        ),
        W::OutlineBack { at } => told(
            say!(locale, "sheet-outline-back", at = deg(at)),
            say!(locale, "sheet-outline-back-expected"),
        ),
        W::LiftsRound { arbor } => told(
            say!(locale, "sheet-lifts-round", arbor = ticked(arbor)),
            say!(locale, "sheet-lifts-round-expected"),
        ),
        W::RackDriven => told(
            say!(locale, "sheet-rack-driven"),
            say!(locale, "sheet-rack-driven-expected"),
        ),
        W::NoRack => told(
            say!(locale, "sheet-no-rack"),
            say!(locale, "sheet-no-rack-expected"),
        ),
        W::NotASnail { track } => told(
            say!(locale, "sheet-not-a-snail", track = ticked(track)),
            say!(locale, "sheet-not-a-snail-expected"),
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
                Plural::Fixtures => "fixtures",
            };
            told(
                say!(locale, "sheet-too-many", kind = kind, count = *got),
                say!(locale, "sheet-too-many-expected", most = *most),
            )
        }
    }
}

fn named(locale: &Locale, kind: NamedWork) -> String {
    let kind = match kind {
        NamedWork::Track => "track",
        NamedWork::Pin => "pin",
        NamedWork::Lever => "lever",
        NamedWork::LeverArbor => "lever-arbor",
        NamedWork::Pillar => "pillar",
        NamedWork::Pivot => "pivot",
        NamedWork::Fixture => "fixture",
    };
    say!(locale, "sheet-kind", kind = kind)
}

fn way_words(locale: &Locale, way: &LoopPath) -> String {
    let product: Vec<String> = way
        .hops
        .iter()
        .map(|hop| format!("{}/{}", hop.here, hop.there))
        .collect();
    let product = product.join(" × ");
    if product.is_empty() {
        say!(locale, "sheet-loop-once")
    } else if to_f64(&way.turns) < 0.0 {
        let ratio = ratio(&-way.turns.clone());
        say!(
            locale,
            "sheet-loop-way-back",
            product = product,
            ratio = ratio
        )
    } else {
        let ratio = ratio(&way.turns);
        say!(locale, "sheet-loop-way", product = product, ratio = ratio)
    }
}
