//! The frame as written: plates, pillars, pivots of levers, places on the plate, how parts are held.

use crate::fault::{ExpectedValue, SheetTable};
use crate::keys::HELD;
use crate::raw::{Fields, Reader, Value};
use crate::spelling;
use movement::{
    DraftArbor, DraftFixture, DraftFrame, DraftPillar, DraftPivot, Fixing, FixtureKind, HeldBy,
    Plate, PlatePoint,
};
use toml::de::DeValue;

/// In the order of the words in the table of keys.
pub(crate) const HOLDS: [HeldBy; 5] = [
    HeldBy::Square,
    HeldBy::Friction,
    HeldBy::Screw,
    HeldBy::Collet,
    HeldBy::Pressed,
];

impl Reader {
    pub(crate) fn frame(&mut self, fields: &Fields<'_, '_>) -> DraftFrame {
        let mut frame = DraftFrame {
            pillars: self.pillars(fields),
            pivots: self.pivots(fields),
            fixtures: self.fixtures(fields),
            ..DraftFrame::default()
        };
        let plates = fields.get("plates");
        if let Some(plates) = plates.and_then(|v| self.section("plates", v, SheetTable::Plates)) {
            frame.placed_about = self.word(&plates, "placed", &[false, true]) == Some(true);
            frame.lifted = self.word(&plates, "lifted", &[Plate::Front, Plate::Back]);
            frame.bends_mm = self.number(&plates, "bends_mm");
            frame.pin_lift_mm = self.number(&plates, "pin_lift_mm");
            frame.thick_mm = self.number(&plates, "thick_mm");
        }
        frame
    }

    fn pillars(&mut self, fields: &Fields<'_, '_>) -> Vec<DraftPillar> {
        let mut pillars = Vec::new();
        for pillar in self.tables(fields, "pillar", SheetTable::Pillar) {
            self.spans.pillars.push(pillar.spans());
            self.need(&pillar, "at_mm");
            self.need(&pillar, "fixing");
            let fixings = [Fixing::Nut, Fixing::Screw, Fixing::Pin];
            pillars.push(DraftPillar {
                id: self.id(&pillar, "id"),
                at: self.point(&pillar, "at_mm"),
                fixing: self.word(&pillar, "fixing", &fixings),
                pitch_mm: self.number(&pillar, "pitch_mm"),
            });
        }
        pillars
    }

    fn pivots(&mut self, fields: &Fields<'_, '_>) -> Vec<DraftPivot> {
        let mut pivots = Vec::new();
        for pivot in self.tables(fields, "pivot", SheetTable::Pivot) {
            self.spans.pivots.push(pivot.spans());
            pivots.push(DraftPivot {
                id: self.id(&pivot, "id"),
                at: self.point(&pivot, "at_mm"),
                long_mm: self.number(&pivot, "pivot_long_mm"),
                shake_mm: self.number(&pivot, "end_shake_mm"),
            });
        }
        pivots
    }

    fn fixtures(&mut self, fields: &Fields<'_, '_>) -> Vec<DraftFixture> {
        let mut fixtures = Vec::new();
        for fixture in self.tables(fields, "fixture", SheetTable::Fixture) {
            self.spans.fixtures.push(fixture.spans());
            self.need(&fixture, "at_mm");
            self.need(&fixture, "kind");
            let kinds = FixtureKind::ALL.map(|(_, kind)| kind);
            fixtures.push(DraftFixture {
                id: self.id(&fixture, "id"),
                kind: self.word(&fixture, "kind", &kinds),
                at: self.point(&fixture, "at_mm"),
                across_mm: self.number(&fixture, "across_mm"),
            });
        }
        fixtures
    }

    pub(crate) fn point(&mut self, fields: &Fields<'_, '_>, key: &str) -> Option<PlatePoint> {
        let (right, up) = self.two(fields, key)?;
        Some(PlatePoint { right, up })
    }

    /// One word for all parts of an arbor, or a table of words by part.
    pub(crate) fn held_by(&mut self, arbor: &mut DraftArbor, value: &Value<'_>) {
        match value.get_ref() {
            DeValue::Table(table) => {
                let mut parts: Vec<_> = table.iter().collect();
                parts.sort_by_key(|(key, _)| key.span().start);
                for (part, value) in parts {
                    self.name(part, || None);
                    if let Some(by) = self.one_of(part.get_ref(), value, HELD, &HOLDS) {
                        arbor.parts_held_by.push((part.get_ref().to_string(), by));
                    }
                }
            }
            DeValue::String(text) if HELD.contains(&text.as_ref()) => {
                arbor.held_by = self.one_of("held_by", value, HELD, &HOLDS);
            }
            held => {
                let near = held
                    .as_str()
                    .and_then(|text| spelling::near_word(text, HELD));
                self.value_near("held_by", value, ExpectedValue::Held, near);
            }
        }
    }
}
