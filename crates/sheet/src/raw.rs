//! TOML to a draft of the movement, and where each thing stood.
//!
//! Every table goes through [`Reader::table`], which tells unknown keys; every value through one of the readers below,
//! which tell what was got and what was expected, and give nothing so that reading goes on.

use crate::fault::{Expected, Got, Table, What};
use crate::spans::{KeySpans, MeshSpans, Spans};
use crate::value::{got, integer, near};
use movement::{
    Blows, CountedBy, Draft, DraftArbor, DraftMesh, DraftMoment, DraftPart, DraftStrike,
    DraftWitness, Form, Plate, Reached, Turning,
};
use quantity::{Bounds, Degrees, Exact, Repeats, Teeth, whole};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

type Span = Range<usize>;
pub(crate) type Key<'i> = Spanned<std::borrow::Cow<'i, str>>;
pub(crate) type Value<'i> = Spanned<DeValue<'i>>;

/// Keys with these endings are measurements.
const UNITS: [&str; 9] = [
    "_mm", "_um", "_deg", "_g", "_n", "_nm", "_turns", "_s", "_teeth",
];

/// What can be struck.
const STRUCK: [&str; 5] = [
    "hours",
    "hours and halves",
    "hours and ten halves",
    "hours and passing halves",
    "ship's bells",
];

/// What was read.
pub(crate) struct Raw {
    /// The draft; nothing where the text broke off.
    pub(crate) draft: Option<Draft>,
    pub(crate) spans: Spans,
    pub(crate) faults: Vec<(Span, What)>,
}

/// Takes a sheet's text apart.
pub(crate) fn read(text: &str) -> Raw {
    let (table, errors) = DeTable::parse_recoverable(text);
    let mut reader = Reader {
        faults: Vec::new(),
        spans: Spans::default(),
    };
    let mut broken_at: Option<(usize, String)> = None;
    let mut doubled_tables = Vec::new();
    for error in errors {
        let span = error.span().unwrap_or(0..0);
        let written = text.get(span.clone()).unwrap_or("");
        if error.message() == "duplicate key" {
            // Of a table that was there before, every key may be doubled too: that is one fault.
            let heading = heading_before(text, span.start);
            if doubled_tables.contains(&heading) {
                continue;
            }
            if heading.is_some_and(|heading| !text[heading..span.start].contains('\n')) {
                doubled_tables.push(heading);
            }
            let key = written.trim().to_owned();
            reader.fault(span, What::Doubled { key });
        } else if broken_at.as_ref().is_none_or(|(at, _)| span.start < *at) {
            broken_at = Some((span.start, error.message().to_owned()));
        }
    }
    let draft = reader.sheet(table.get_ref());
    match broken_at {
        None => Raw {
            // With a table doubled, what it held is missing, and what refers to it would be told besides.
            draft: doubled_tables.is_empty().then_some(draft),
            spans: reader.spans,
            faults: reader.faults,
        },
        Some((at, says)) => {
            // Past the break nothing was read, and what is missing may stand there.
            let mut faults = reader.faults;
            faults.retain(|(span, what)| {
                span.start < at && !span.is_empty() && !matches!(what, What::Missing { .. })
            });
            faults.push((at..at, What::Toml { says }));
            Raw {
                draft: None,
                spans: reader.spans,
                faults,
            }
        }
    }
}

/// Where the line that heads the table at `offset` begins.
fn heading_before(text: &str, offset: usize) -> Option<usize> {
    let mut start = 0;
    let mut heading = None;
    for line in text.split_inclusive('\n') {
        if start > offset {
            break;
        }
        if line.trim_start().starts_with('[') {
            heading = Some(start);
        }
        start += line.len();
    }
    heading
}

pub(crate) struct Reader {
    faults: Vec<(Span, What)>,
    pub(crate) spans: Spans,
}

/// A table being read: its keys in order of writing, none of them unknown.
pub(crate) struct Fields<'a, 'i> {
    table: Table,
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
    pub(crate) fn fault(&mut self, span: Span, what: What) {
        self.faults.push((span, what));
    }

    /// What stands at `key` is not what was expected.
    pub(crate) fn value(&mut self, key: &str, value: &Value<'_>, expected: Expected) {
        let got = got(value.get_ref());
        let near = match (&expected, &got) {
            (Expected::OneOf(words), Got::Text(text)) => near(text, words).map(str::to_owned),
            _ => None,
        };
        let key = key.to_owned();
        let what = What::Value {
            key,
            got,
            expected,
            near,
        };
        self.fault(value.span(), what);
    }

    /// The fields of a table, unknown ones told and left out, except in an arbor, whose parts are named by the writer.
    pub(crate) fn table<'a, 'i>(
        &mut self,
        kind: Table,
        span: Span,
        table: &'a DeTable<'i>,
    ) -> Fields<'a, 'i> {
        let mut fields: Vec<_> = table.iter().collect();
        fields.sort_by_key(|(key, _)| key.span().start);
        let mut meant = Vec::new();
        fields.retain(|(key, _)| {
            let known = kind == Table::Arbor || kind.keys().contains(&key.get_ref().as_ref());
            if !known {
                let near = near(key.get_ref(), kind.keys());
                meant.extend(near);
                let what = What::UnknownKey {
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
            self.fault(fields.span.clone(), What::Missing { key, table });
        }
        value
    }

    fn sheet(&mut self, table: &DeTable<'_>) -> Draft {
        let fields = self.table(Table::Sheet, 0..0, table);
        if let Some(version) = self.need(&fields, "sheet")
            && integer(version.get_ref()) != Some(1)
        {
            self.value("sheet", version, Expected::Version);
        }
        let name = self.text(&fields, "name");
        let plates = [("front", Plate::Front), ("back", Plate::Back)];
        let seen_from = self
            .need(&fields, "seen_from")
            .and_then(|v| self.word("seen_from", v, &["front", "back"], &plates));
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
        }
    }

    fn arbors(&mut self, fields: &Fields<'_, '_>) -> Vec<DraftArbor> {
        let Some(value) = self.need(fields, "arbor") else {
            return Vec::new();
        };
        let Some(table) = value.get_ref().as_table() else {
            self.value("arbor", value, Expected::Table);
            return Vec::new();
        };
        let mut arbors = Vec::new();
        let mut entries: Vec<_> = table.iter().collect();
        entries.sort_by_key(|(key, _)| key.span().start);
        for (id, value) in entries {
            self.name(id);
            let Some(table) = value.get_ref().as_table() else {
                self.value(id.get_ref(), value, Expected::Table);
                continue;
            };
            let fields = self.table(Table::Arbor, id.span(), table);
            // A name with a capital is told once, not again wherever it is meant.
            self.spans.counts.push(Vec::new());
            arbors.push(self.arbor(&id.get_ref().to_ascii_lowercase(), &fields));
            self.spans.arbors.push(fields.spans());
        }
        arbors
    }

    fn arbor(&mut self, id: &str, fields: &Fields<'_, '_>) -> DraftArbor {
        let ways = [
            ("clockwise", Turning::Clockwise),
            ("counterclockwise", Turning::Counterclockwise),
        ];
        let mut arbor = DraftArbor {
            id: id.to_owned(),
            runs: None,
            runs_unread: false,
            parts: Vec::new(),
            measured: Vec::new(),
        };
        for (key, value) in &fields.fields {
            let name: &str = key.get_ref();
            if name == "runs" {
                arbor.runs = self.word(name, value, &["clockwise", "counterclockwise"], &ways);
                arbor.runs_unread = arbor.runs.is_none();
                continue;
            }
            self.name(key);
            if UNITS.iter().any(|unit| name.ends_with(unit)) {
                // What is divided by must not be nothing.
                let positive = matches!(name, "turn_s" | "winding_turns");
                let expected = if positive {
                    Expected::Positive
                } else {
                    Expected::Number
                };
                if let Some(number) =
                    self.number(name, value, expected, |x| !positive || *x > whole(0))
                {
                    arbor.measured.push((name.to_owned(), number));
                }
            } else if let (DeValue::String(_), Some(meant)) =
                (value.get_ref(), near(name, Table::Arbor.keys()))
            {
                let what = What::UnknownKey {
                    got: name.to_owned(),
                    table: Table::Arbor,
                    near: Some(meant),
                };
                self.fault(key.span(), what);
                arbor.runs_unread = true;
            } else {
                arbor.parts.push(self.part(name, value));
                if let Some(counts) = self.spans.counts.last_mut() {
                    counts.push(value.span().start);
                }
            }
        }
        arbor
    }

    fn part(&mut self, name: &str, value: &Value<'_>) -> DraftPart {
        let mut part = DraftPart {
            name: name.to_owned(),
            teeth: None,
            doubted: false,
            form: Form::Cut,
        };
        match value.get_ref() {
            DeValue::Table(table) => {
                let fields = self.table(Table::Part, value.span(), table);
                if let Some(value) = self.need(&fields, "teeth") {
                    self.count(&mut part, "teeth", value, Expected::Count(Teeth::BOUNDS));
                }
                if let Some(value) = fields.get("form") {
                    let forms = [("lantern", Form::Lantern), ("cut", Form::Cut)];
                    if let Some(form) = self.word("form", value, &["lantern", "cut"], &forms) {
                        part.form = form;
                    }
                }
            }
            _ => self.count(&mut part, name, value, Expected::Part(Teeth::BOUNDS)),
        }
        part
    }

    /// A count of teeth; one that is not known, `"?"`; or one that is doubtful, `"72?"`.
    fn count(&mut self, part: &mut DraftPart, key: &str, value: &Value<'_>, expected: Expected) {
        let doubted = value
            .get_ref()
            .as_str()
            .and_then(|text| text.strip_suffix('?'));
        part.doubted = doubted.is_some();
        part.teeth = match doubted {
            Some("") => return,
            Some(count) => count.parse().ok().and_then(Teeth::new),
            None => integer(value.get_ref()).and_then(Teeth::new),
        };
        if part.teeth.is_none() {
            part.doubted = false;
            self.value(key, value, expected);
        }
    }

    /// The fields of a table that stands under a key by itself.
    pub(crate) fn section<'a, 'i>(
        &mut self,
        key: &str,
        value: &'a Value<'i>,
        kind: Table,
    ) -> Option<Fields<'a, 'i>> {
        let Some(table) = value.get_ref().as_table() else {
            self.value(key, value, Expected::Table);
            return None;
        };
        Some(self.table(kind, value.span(), table))
    }

    /// The tables of a list of tables.
    pub(crate) fn tables<'a, 'i>(
        &mut self,
        fields: &Fields<'a, 'i>,
        key: &'static str,
        kind: Table,
    ) -> Vec<Fields<'a, 'i>> {
        let Some(value) = fields.get(key) else {
            return Vec::new();
        };
        let Some(list) = value.get_ref().as_array() else {
            self.value(key, value, Expected::Tables);
            return Vec::new();
        };
        let mut tables = Vec::new();
        for item in list.iter() {
            match item.get_ref().as_table() {
                Some(table) => tables.push(self.table(kind, item.span(), table)),
                None => self.value(key, item, Expected::Tables),
            }
        }
        tables
    }

    fn meshes(&mut self, fields: &Fields<'_, '_>) -> Vec<DraftMesh> {
        let mut meshes = Vec::new();
        for mesh in self.tables(fields, "mesh", Table::Mesh) {
            let driver = self.need(&mesh, "driver");
            let driven = self.need(&mesh, "driven");
            let start =
                |value: Option<&Value<'_>>| value.map_or(mesh.span.start, |v| v.span().start);
            self.spans.meshes.push(MeshSpans {
                whole: mesh.span.start,
                driver: start(driver),
                driven: start(driven),
            });
            let reached = [("plates", Reached::Plates), ("outside", Reached::Outside)];
            meshes.push(DraftMesh {
                driver: driver.and_then(|v| self.arbor_part("driver", v)),
                driven: driven.and_then(|v| self.arbor_part("driven", v)),
                internal: mesh
                    .get("internal")
                    .and_then(|v| self.yes_no("internal", v))
                    .unwrap_or(false),
                lash_teeth: mesh.get("lash_teeth").and_then(|v| {
                    let fits = |x: &Exact| *x >= whole(0) && *x <= whole(1);
                    self.number("lash_teeth", v, Expected::Lash, fits)
                }),
                centre_mm: mesh.get("centre_mm").and_then(|v| {
                    self.number("centre_mm", v, Expected::Positive, |x| *x > whole(0))
                }),
                reached: mesh
                    .get("reached")
                    .and_then(|v| self.word("reached", v, &["plates", "outside"], &reached))
                    .unwrap_or(Reached::Plates),
            });
        }
        meshes
    }

    fn strike(&mut self, value: &Value<'_>) -> Option<DraftStrike> {
        let fields = self.section("strike", value, Table::Strike)?;
        self.spans.strike = Some(fields.spans());
        let counters = [
            ("count wheel", CountedBy::CountWheel),
            ("rack", CountedBy::Rack),
        ];
        let struck = [
            ("hours", Blows::Hours),
            ("hours and halves", Blows::HoursAndHalves),
            ("hours and ten halves", Blows::HoursAndTenHalves),
            ("hours and passing halves", Blows::HoursAndPassingHalves),
            ("ship's bells", Blows::ShipsBells),
        ];
        let counted_by = self
            .need(&fields, "counted_by")
            .and_then(|v| self.word("counted_by", v, &["count wheel", "rack"], &counters));
        let blows = self
            .need(&fields, "blows")
            .and_then(|v| self.word("blows", v, &STRUCK, &struck));
        let read_at = self.id(&fields, "read_at");
        let blows_per_turn = self
            .need(&fields, "blows_per_turn")
            .and_then(|v| self.number("blows_per_turn", v, Expected::Positive, |x| *x > whole(0)));
        let hold = fields.get("hold_deg").and_then(|v| {
            self.number("hold_deg", v, Expected::Hold, |x| {
                *x >= whole(0) && *x <= whole(90)
            })
        });
        let in_a_day = Bounds { least: 1, most: 24 };
        let cycle_hours = fields
            .get("cycle_hours")
            .and_then(|v| self.bounded("cycle_hours", v, in_a_day));
        Some(DraftStrike {
            cycle_hours,
            counted_by: counted_by?,
            blows: blows?,
            read_at,
            blows_per_turn,
            hold: hold.filter(|x| *x > whole(0)).map(Degrees::deg),
        })
    }

    fn moments(&mut self, fields: &Fields<'_, '_>) -> Vec<DraftMoment> {
        let mut moments = Vec::new();
        for moment in self.tables(fields, "moment", Table::Moment) {
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
        for witness in self.tables(fields, "witness", Table::Witness) {
            self.spans.witnesses.push(witness.spans());
            let id = self.id(&witness, "id");
            let says = self.text(&witness, "says").unwrap_or_default();
            let on = self.id(&witness, "on");
            let repeats = self.need(&witness, "repeats").and_then(|v| {
                let repeats = integer(v.get_ref()).and_then(Repeats::new);
                if repeats.is_none() {
                    self.value("repeats", v, Expected::Count(Repeats::BOUNDS));
                }
                repeats
            });
            let window = self
                .need(&witness, "window_deg")
                .and_then(|v| self.pair("window_deg", v));
            let best = self
                .need(&witness, "best_deg")
                .and_then(|v| self.number("best_deg", v, Expected::Number, |_| true));
            let at = witness.get("at").and_then(|v| self.id_value("at", v));
            let mut width = |key: &str| {
                witness.get(key).and_then(|v| {
                    self.number(key, v, Expected::Positive, |x| *x > whole(0))
                        .map(Degrees::deg)
                })
            };
            let slot = width("slot_deg");
            let tip = width("tip_deg");
            let arm_oclock = witness.get("arm_oclock").and_then(|v| {
                self.number("arm_oclock", v, Expected::Oclock, |x| {
                    *x >= whole(0) && *x <= whole(12)
                })
            });
            witnesses.push(DraftWitness {
                id,
                says,
                on,
                repeats,
                window,
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
