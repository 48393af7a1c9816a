//! TOML to a draft of the movement, and where each thing stood.
//!
//! Every table goes through [`Reader::table`], which tells unknown keys; every value through one of the readers below,
//! which tell what was got and what was expected, and give nothing so that reading goes on.

use crate::fault::{ExpectedValue, SheetFaultKind, SheetTable};
use crate::keys::{self, KeyUnit};
use crate::odd::Odd;
use crate::spans::{KeySpans, MeshSpans, Spans};
use crate::spelling::{self, LineSlip};
use crate::written::integer;
use movement::{
    Blows, CountedBy, Draft, DraftArbor, DraftMesh, DraftMoment, DraftPart, DraftStrike,
    DraftWitness, MeasuredSeconds, Plate, Reached, StrikePace, ToothForm, Turning, WitnessKind,
};
use quantity::{Degrees, Exact, Repeats, Teeth, whole};
use std::collections::HashSet;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// So many keys are read in one table: an arbor with everything that can be measured on it has some eighty.
pub const MOST_KEYS: usize = 200;

type Span = Range<usize>;
pub(crate) type Key<'i> = Spanned<std::borrow::Cow<'i, str>>;
pub(crate) type Value<'i> = Spanned<DeValue<'i>>;

/// What was read.
pub(crate) struct Raw {
    /// The draft; nothing where the text broke off.
    pub(crate) draft: Option<Draft>,
    pub(crate) spans: Spans,
    pub(crate) faults: Vec<(Span, SheetFaultKind)>,
    pub(crate) odd: Vec<(usize, Odd)>,
}

/// So many slips are read as what was meant; at the next reading stops.
const MOST_SLIPS: usize = 20;

/// Keys of an arbor that are neither parts nor one measurement.
const KEYS_OF_ITS_OWN: [&str; 6] = [
    "at_mm",
    "beats_per_turn",
    "held_by",
    "lost",
    "as_like",
    "spread",
];

/// Where the TOML of a text breaks off, and what stands there.
type Break = (Span, SheetFaultKind);

/// Takes a sheet's text apart. A slip whose right spelling is known is told and read as what was meant, so that what stands behind it is
/// told too: the text comes back as it was read, each line of it still the line it was.
pub(crate) fn read(text: &str) -> (String, Raw) {
    let mut meant = text.to_owned();
    let mut slips: Vec<Break> = Vec::new();
    loop {
        let (mut raw, broken) = once(&meant);
        let Some((told, what)) = broken else {
            raw.faults.extend(slips);
            return (meant, raw);
        };
        let behind = slips.last().is_none_or(|(last, _)| told.start > last.start);
        match &what {
            SheetFaultKind::Slip { right, .. } if behind && slips.len() < MOST_SLIPS => {
                meant.replace_range(told.clone(), right);
                slips.push((told, what));
            }
            _ => {
                if behind {
                    raw.faults.push((told, what));
                }
                raw.faults.extend(slips);
                return (meant, raw);
            }
        }
    }
}

/// Takes a text apart until it breaks off, where it does.
fn once(text: &str) -> (Raw, Option<Break>) {
    let (table, errors) = DeTable::parse_recoverable(text);
    let mut reader = Reader {
        faults: Vec::new(),
        spans: Spans::default(),
        odd: Vec::new(),
    };
    let mut broken_at: Option<(usize, String)> = None;
    let headings = headings(text);
    let mut doubled_tables = HashSet::new();
    for error in errors {
        let span = error.span().unwrap_or(0..0);
        let written = text.get(span.clone()).unwrap_or("");
        if error.message() == "duplicate key" {
            // Of a table that was there before, every key may be doubled too: that is one fault.
            let before = headings.partition_point(|heading| heading.start <= span.start);
            let heading = before.checked_sub(1).map(|last| &headings[last]);
            if heading.is_some_and(|heading| doubled_tables.contains(&heading.start)) {
                continue;
            }
            if let Some(heading) = heading.filter(|heading| heading.contains(&span.start)) {
                doubled_tables.insert(heading.start);
            }
            let key = written.trim().to_owned();
            reader.fault(span, SheetFaultKind::Doubled { key });
        } else if broken_at.as_ref().is_none_or(|(at, _)| span.start < *at) {
            broken_at = Some((span.start, error.message().to_owned()));
        }
    }
    let draft = reader.sheet(table.get_ref());
    match broken_at {
        None => {
            let raw = Raw {
                // With a table doubled, what it held is missing, and what refers to it would be told besides.
                draft: doubled_tables.is_empty().then_some(draft),
                spans: reader.spans,
                faults: reader.faults,
                odd: reader.odd,
            };
            (raw, None)
        }
        Some((at, says)) => {
            // Past the break nothing was read, and what is missing may stand there.
            let (told, what) = broken(text, at, says);
            let at = at.min(told.start);
            let mut faults = reader.faults;
            faults.retain(|(span, what)| {
                span.start < at
                    && !span.is_empty()
                    && !matches!(what, SheetFaultKind::Missing { .. })
            });
            let raw = Raw {
                draft: None,
                spans: reader.spans,
                faults,
                odd: Vec::new(),
            };
            (raw, Some((told, what)))
        }
    }
}

/// What is wrong where the TOML breaks off: a slip whose right spelling is known, or what the TOML reader says.
fn broken(text: &str, at: usize, says: String) -> (Span, SheetFaultKind) {
    // A break at the end of a line, or right behind it, is of that line.
    let before = text[..at].trim_end_matches(['\n', '\r']);
    let start = before.rfind('\n').map_or(0, |i| i + 1);
    let line = text[start..].lines().next().unwrap_or("");
    match spelling::slip(line) {
        Some(LineSlip { span, slip, right }) => {
            let got = line[span.clone()].to_owned();
            let span = start + span.start..start + span.end;
            let key = line.split('=').next().unwrap_or("").trim().to_owned();
            let what = SheetFaultKind::Slip {
                key,
                got,
                slip,
                right,
            };
            (span, what)
        }
        None => (at..at, SheetFaultKind::Toml { says }),
    }
}

/// The lines that head a table, in order.
fn headings(text: &str) -> Vec<Span> {
    let mut start = 0;
    let lines = text.split_inclusive('\n').map(|line| {
        let from = start;
        start += line.len();
        (from..start, line)
    });
    lines
        .filter(|(_, line)| line.trim_start().starts_with('['))
        .map(|(span, _)| span)
        .collect()
}

pub(crate) struct Reader {
    faults: Vec<(Span, SheetFaultKind)>,
    pub(crate) spans: Spans,
    odd: Vec<(usize, Odd)>,
}

/// A table being read: its keys in order of writing, none of them unknown.
pub(crate) struct Fields<'a, 'i> {
    pub(crate) table: SheetTable,
    pub(crate) span: Span,
    fields: Vec<(&'a Key<'i>, &'a Value<'i>)>,
    /// Keys that were probably meant by unknown ones: they are not missing besides.
    pub(crate) meant: Vec<&'static str>,
}

impl<'a, 'i> Fields<'a, 'i> {
    pub(crate) fn get(&self, key: &str) -> Option<&'a Value<'i>> {
        self.fields
            .iter()
            .find(|(k, _)| k.get_ref() == key)
            .map(|(_, value)| *value)
    }

    pub(crate) fn spans(&self) -> KeySpans {
        KeySpans {
            whole: self.span.start,
            keys: self
                .fields
                .iter()
                .map(|(key, value)| (key.get_ref().to_string(), value.span().start))
                .collect(),
        }
    }
}

impl Reader {
    pub(crate) fn fault(&mut self, span: Span, what: SheetFaultKind) {
        self.faults.push((span, what));
    }

    pub(crate) fn odd(&mut self, at: usize, odd: Odd) {
        self.odd.push((at, odd));
    }

    /// The fields of a table, unknown ones told and left out, except in an arbor, whose parts are named by the writer.
    pub(crate) fn table<'a, 'i>(
        &mut self,
        kind: SheetTable,
        span: Span,
        table: &'a DeTable<'i>,
    ) -> Fields<'a, 'i> {
        let mut fields: Vec<_> = table.iter().collect();
        fields.sort_by_key(|(key, _)| key.span().start);
        let (got, most) = (fields.len(), MOST_KEYS);
        if got > most {
            self.fault(span.clone(), SheetFaultKind::ManyKeys { got, most });
            fields.truncate(most);
        }
        let mut meant = Vec::new();
        let there: Vec<&str> = fields
            .iter()
            .map(|(key, _)| key.get_ref().as_ref())
            .collect();
        fields.retain(|(key, _)| {
            let known = kind == SheetTable::Arbor || keys::find(kind, key.get_ref()).is_some();
            if !known {
                let near = keys::meant(key.get_ref(), kind, &there);
                meant.extend(near);
                let what = SheetFaultKind::UnknownKey {
                    got: key.get_ref().to_string(),
                    table: kind,
                    near,
                };
                self.fault(key.span(), what);
            }
            known
        });
        Fields {
            table: kind,
            span,
            fields,
            meant,
        }
    }

    /// The value of a key that must be there.
    pub(crate) fn need<'a, 'i>(
        &mut self,
        fields: &Fields<'a, 'i>,
        key: &'static str,
    ) -> Option<&'a Value<'i>> {
        let value = fields.get(key);
        if value.is_none() && !fields.meant.contains(&key) {
            let table = fields.table;
            self.fault(fields.span.clone(), SheetFaultKind::Missing { key, table });
        }
        value
    }

    fn sheet(&mut self, table: &DeTable<'_>) -> Draft {
        let fields = self.table(SheetTable::Sheet, 0..0, table);
        if let Some(version) = self.need(&fields, "sheet")
            && integer(version.get_ref()) != Some(1)
        {
            self.value("sheet", version, ExpectedValue::Version);
        }
        let name = self.text(&fields, "name");
        if fields.get("like").is_some() {
            self.text(&fields, "like");
        }
        self.need(&fields, "seen_from");
        let seen_from = self.word(&fields, "seen_from", &[Plate::Front, Plate::Back]);
        let arbors = self.arbors(&fields);
        let meshes = self.meshes(&fields);
        let strike = fields.get("strike").map(|value| self.strike(value));
        Draft {
            name: name.unwrap_or_default(),
            seen_from,
            arbors,
            meshes,
            strike_unread: matches!(strike, Some(None)),
            strike: strike.flatten(),
            moments: self.moments(&fields),
            witnesses: self.witnesses(&fields),
            works: self.works(&fields),
            frame: self.frame(&fields),
        }
    }

    fn arbors(&mut self, fields: &Fields<'_, '_>) -> Vec<DraftArbor> {
        let Some(value) = self.need(fields, "arbor") else {
            return Vec::new();
        };
        let Some(table) = value.get_ref().as_table() else {
            self.value("arbor", value, ExpectedValue::Table);
            return Vec::new();
        };
        let mut arbors = Vec::new();
        let mut entries: Vec<_> = table.iter().collect();
        entries.sort_by_key(|(key, _)| key.span().start);
        for (id, value) in entries {
            self.name(id, || None);
            let Some(table) = value.get_ref().as_table() else {
                self.value(id.get_ref(), value, ExpectedValue::Table);
                continue;
            };
            let fields = self.table(SheetTable::Arbor, id.span(), table);
            // A name with a capital is told once, not again wherever it is meant.
            self.spans.counts.push(Vec::new());
            arbors.push(self.arbor(&id.get_ref().to_ascii_lowercase(), &fields));
            self.spans.arbors.push(fields.spans());
        }
        arbors
    }

    fn arbor(&mut self, id: &str, fields: &Fields<'_, '_>) -> DraftArbor {
        let mut arbor = DraftArbor {
            id: id.to_owned(),
            runs: None,
            runs_unread: false,
            parts: Vec::new(),
            measured: Vec::new(),
            spreads: Vec::new(),
            at: None,
            beats_per_turn: None,
            held_by: None,
            parts_held_by: Vec::new(),
            cock: false,
        };
        let there: Vec<&str> = (fields.fields.iter())
            .map(|(key, _)| key.get_ref().as_ref())
            .collect();
        for &(key, value) in &fields.fields {
            let name: &str = key.get_ref();
            if name == "runs" {
                let ways = [Turning::Clockwise, Turning::Counterclockwise];
                arbor.runs = self.word(fields, name, &ways);
                arbor.runs_unread = arbor.runs.is_none();
                continue;
            }
            match name {
                "at_mm" => arbor.at = self.point(fields, name),
                "beats_per_turn" => arbor.beats_per_turn = self.number(fields, name),
                "held_by" => self.held_by(&mut arbor, value),
                "lost" | "as_like" => self.names(name, value),
                "spread" => arbor.spreads = self.measure_spreads(fields),
                _ => {}
            }
            if KEYS_OF_ITS_OWN.contains(&name) {
                continue;
            }
            // A count under this name is a part as any other.
            if name == "cock"
                && let DeValue::Boolean(cock) = value.get_ref()
            {
                arbor.cock = *cock;
                continue;
            }
            let meant = || keys::meant(name, SheetTable::Arbor, &there);
            self.name(key, meant);
            if KeyUnit::of(name).is_some() {
                if let Some(number) = self.number(fields, name) {
                    arbor.measured.push((name.to_owned(), number));
                }
                if keys::find(SheetTable::Arbor, name).is_none() {
                    let odd = Odd::Unread {
                        key: name.to_owned(),
                        near: meant(),
                    };
                    self.odd(key.span().start, odd);
                }
            } else if let DeValue::String(text) = value.get_ref()
                && !text.ends_with('?')
                && let Some(near) = meant()
            {
                let what = SheetFaultKind::UnknownKey {
                    got: name.to_owned(),
                    table: SheetTable::Arbor,
                    near: Some(near),
                };
                self.fault(key.span(), what);
                arbor.runs_unread = true;
            } else {
                let part = self.part(name, value, meant);
                arbor.parts.push(part);
                if let Some(counts) = self.spans.counts.last_mut() {
                    counts.push(value.span().start);
                }
            }
        }
        for &(key, value) in &fields.fields {
            self.outside(&arbor, key.get_ref(), value);
        }
        arbor
    }

    /// A size over its teeth is that of a part of the arbor.
    fn outside(&mut self, arbor: &DraftArbor, key: &str, value: &Value<'_>) {
        let Some(part) = key.strip_suffix(keys::OUTSIDE) else {
            return;
        };
        let parts = || arbor.parts.iter().map(|part| part.name.as_str());
        if !parts().any(|name| name == part) {
            let odd = Odd::NoPart {
                key: key.to_owned(),
                part: part.to_owned(),
                near: movement::near(part, parts()).map(str::to_owned),
            };
            self.odd(value.span().start, odd);
        }
    }

    /// A toothed part; `meant` is a key that was perhaps to stand there.
    fn part(
        &mut self,
        name: &str,
        value: &Value<'_>,
        meant: impl Fn() -> Option<&'static str>,
    ) -> DraftPart {
        let mut part = DraftPart {
            name: name.to_owned(),
            teeth: None,
            doubted: false,
            form: ToothForm::Cut,
        };
        match value.get_ref() {
            DeValue::Table(table) => {
                let fields = self.table(SheetTable::Part, value.span(), table);
                let forms = [ToothForm::Lantern, ToothForm::Cut, ToothForm::Pins];
                if let Some(form) = self.word(&fields, "form", &forms) {
                    part.form = form;
                }
                if let Some(value) = self.need(&fields, "teeth")
                    && !self.teeth(&mut part, value)
                {
                    let bounds = match part.form {
                        ToothForm::Pins => Teeth::PINS,
                        ToothForm::Cut | ToothForm::Lantern => Teeth::BOUNDS,
                    };
                    self.value("teeth", value, ExpectedValue::Count(bounds));
                }
            }
            _ if self.teeth(&mut part, value) => {}
            _ => {
                let expected = ExpectedValue::Part(Teeth::BOUNDS);
                let near = meant().map(str::to_owned);
                let near = near.or_else(|| spelling::number_in(value.get_ref()));
                self.value_near(name, value, expected, near);
            }
        }
        part
    }

    /// A count of teeth; one that is not known, `"?"`; or one that is doubtful, `"72?"`. Whether it is any of these.
    fn teeth(&self, part: &mut DraftPart, value: &Value<'_>) -> bool {
        let doubted = value
            .get_ref()
            .as_str()
            .and_then(|text| text.strip_suffix('?'));
        let written = match doubted {
            Some(count) => count.parse().ok(),
            None => integer(value.get_ref()),
        };
        part.teeth = written.and_then(|n| match part.form {
            ToothForm::Pins => Teeth::pins(n),
            ToothForm::Cut | ToothForm::Lantern => Teeth::new(n),
        });
        part.doubted = doubted.is_some() && (part.teeth.is_some() || doubted == Some(""));
        part.teeth.is_some() || part.doubted
    }

    /// The fields of a table that stands under a key by itself.
    pub(crate) fn section<'a, 'i>(
        &mut self,
        key: &str,
        value: &'a Value<'i>,
        kind: SheetTable,
    ) -> Option<Fields<'a, 'i>> {
        let Some(table) = value.get_ref().as_table() else {
            self.value(key, value, ExpectedValue::Table);
            return None;
        };
        Some(self.table(kind, value.span(), table))
    }

    /// The tables of a list of tables.
    pub(crate) fn tables<'a, 'i>(
        &mut self,
        fields: &Fields<'a, 'i>,
        key: &'static str,
        kind: SheetTable,
    ) -> Vec<Fields<'a, 'i>> {
        let Some(value) = fields.get(key) else {
            return Vec::new();
        };
        let Some(list) = value.get_ref().as_array() else {
            self.value(key, value, ExpectedValue::Tables);
            return Vec::new();
        };
        let mut tables = Vec::new();
        for item in list.iter() {
            match item.get_ref().as_table() {
                Some(table) => tables.push(self.table(kind, item.span(), table)),
                None => self.value(key, item, ExpectedValue::Tables),
            }
        }
        tables
    }

    /// What was measured, of the keys that the table has: each ends in its unit.
    fn measured(&mut self, fields: &Fields<'_, '_>) -> Vec<(String, Exact)> {
        let keys = fields.fields.iter().map(|(key, _)| key.get_ref().as_ref());
        let measured =
            |key: &&str| KeyUnit::of(key).is_some() && keys::find(fields.table, key).is_some();
        keys.filter(measured)
            .filter_map(|key| Some((key.to_owned(), self.number(fields, key)?)))
            .collect()
    }

    fn meshes(&mut self, fields: &Fields<'_, '_>) -> Vec<DraftMesh> {
        let mut meshes = Vec::new();
        for mesh in self.tables(fields, "mesh", SheetTable::Mesh) {
            let driver = self.need(&mesh, "driver");
            let driven = self.need(&mesh, "driven");
            let start =
                |value: Option<&Value<'_>>| value.map_or(mesh.span.start, |v| v.span().start);
            self.spans.meshes.push(MeshSpans {
                whole: mesh.span.start,
                driver: start(driver),
                driven: start(driven),
            });
            let between = |driver: Option<&Value<'_>>, reader: &mut Reader, key| {
                driver.and_then(|v| reader.arbor_part(key, v))
            };
            let reached = [Reached::Plates, Reached::Outside];
            let made = DraftMesh {
                driver: between(driver, self, "driver"),
                driven: between(driven, self, "driven"),
                internal: self.yes_no(&mesh, "internal").unwrap_or(false),
                lash_teeth: self.number(&mesh, "lash_teeth"),
                measured: self.measured(&mesh),
                spreads: self.measure_spreads(&mesh),
                reached: (self.word(&mesh, "reached", &reached)).unwrap_or(Reached::Plates),
            };
            meshes.push(made);
        }
        meshes
    }

    fn strike(&mut self, value: &Value<'_>) -> Option<DraftStrike> {
        let fields = self.section("strike", value, SheetTable::Strike)?;
        self.spans.strike = Some(fields.spans());
        let counters = [CountedBy::CountWheel, CountedBy::Rack];
        let struck = [
            Blows::Hours,
            Blows::HoursAndHalves,
            Blows::HoursAndTenHalves,
            Blows::HoursAndPassingHalves,
            Blows::ShipsBells,
        ];
        self.need(&fields, "counted_by");
        let counted_by = self.word(&fields, "counted_by", &counters);
        self.need(&fields, "blows");
        let blows = self.word(&fields, "blows", &struck);
        let read_at = self.id(&fields, "read_at");
        let blows_per_turn = self.need_number(&fields, "blows_per_turn");
        let hold = self.number(&fields, "hold_deg");
        let cycle_hours = self.count(&fields, "cycle_hours");
        let pace = self.pace(&fields);
        if fields.get("kind").is_some() {
            self.text(&fields, "kind");
        }
        if let Some(asked) = fields.get("asked") {
            self.answers(asked);
        }
        Some(DraftStrike {
            cycle_hours,
            counted_by: counted_by?,
            blows: blows?,
            read_at,
            blows_per_turn,
            hold: hold.filter(|x| *x >= whole(0)).map(Degrees::deg),
            pace,
        })
    }

    /// How fast it strikes; how long its lever falls belongs to that.
    fn pace(&mut self, fields: &Fields<'_, '_>) -> Option<StrikePace> {
        let mut seconds = |key: &str, spread: &str| {
            let is = self.number(fields, key);
            let spread = self.number(fields, spread).unwrap_or_else(|| whole(0));
            Some(MeasuredSeconds { is: is?, spread })
        };
        let blow = seconds("pace_s", "pace_spread_s");
        let fall = seconds("fall_s", "fall_spread_s");
        Some(StrikePace { blow: blow?, fall })
    }

    fn moments(&mut self, fields: &Fields<'_, '_>) -> Vec<DraftMoment> {
        let mut moments = Vec::new();
        for moment in self.tables(fields, "moment", SheetTable::Moment) {
            self.spans.moments.push(moment.spans());
            moments.push(DraftMoment {
                id: self.id(&moment, "id"),
                arbor: self.id(&moment, "arbor"),
                says: self.text(&moment, "says").unwrap_or_default(),
            });
        }
        moments
    }

    fn witnesses(&mut self, fields: &Fields<'_, '_>) -> Vec<DraftWitness> {
        let mut witnesses = Vec::new();
        for witness in self.tables(fields, "witness", SheetTable::Witness) {
            self.spans.witnesses.push(witness.spans());
            let id = self.id(&witness, "id");
            let says = self.text(&witness, "says").unwrap_or_default();
            let on = self.id(&witness, "on");
            self.need(&witness, "repeats");
            let repeats = self.count(&witness, "repeats");
            let window = self.two(&witness, "window_deg");
            // Where levers say how it strikes, a best place may be left out; else a window needs one.
            if witness.get("window_deg").is_some() && fields.get("lever").is_none() {
                self.need(&witness, "best_deg");
            }
            let best = self.number(&witness, "best_deg");
            let at = witness.get("at").and_then(|v| self.id_value("at", v));
            let kind = self.kind(&witness, WitnessKind::called);
            let [slot, tip] =
                ["slot_deg", "tip_deg"].map(|key| self.number(&witness, key).map(Degrees::deg));
            let arm_oclock = self.number(&witness, "arm_oclock");
            witnesses.push(DraftWitness {
                id,
                says,
                on,
                kind,
                repeats: repeats.and_then(|n| Repeats::new(n.into())),
                window: window.map(|(from, to)| (Degrees::deg(from), Degrees::deg(to))),
                best: best.map(Degrees::deg),
                at,
                slot,
                tip,
                arm_oclock,
            });
        }
        witnesses
    }
}
