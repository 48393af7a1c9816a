//! The frame under examination: ids once each, and how parts are held told of parts that are there.

use crate::check::Checker;
use crate::{DraftPlace, Fixture, FlawKind, Frame, HeldBy, NamedWork, Pillar, Pivot, near};

impl Checker<'_> {
    /// The frame, where nothing of it is missing.
    pub(crate) fn frame(&mut self) -> Option<Frame> {
        let draft = &self.draft.frame;
        let pillars: Vec<Option<&str>> = draft.pillars.iter().map(|p| p.id.as_deref()).collect();
        self.once(NamedWork::Pillar, &pillars, DraftPlace::Pillar);
        let arbors = self.draft.arbors.iter().map(|a| Some(a.id.as_str()));
        let many = arbors.len();
        let all: Vec<Option<&str>> = arbors
            .chain(draft.pivots.iter().map(|p| p.id.as_deref()))
            .collect();
        self.once(NamedWork::Pivot, &all, |i| match i.checked_sub(many) {
            Some(pivot) => DraftPlace::Pivot(pivot),
            None => DraftPlace::Arbor(i),
        });
        let fixtures: Vec<Option<&str>> = draft.fixtures.iter().map(|f| f.id.as_deref()).collect();
        self.once(NamedWork::Fixture, &fixtures, DraftPlace::Fixture);
        let fixtures = draft.fixtures.iter().map(|fixture| {
            Some(Fixture {
                id: fixture.id.clone()?,
                kind: fixture.kind?,
                at: fixture.at.clone()?,
                across_mm: fixture.across_mm.clone(),
            })
        });
        let pillars = draft.pillars.iter().map(|pillar| {
            Some(Pillar {
                id: pillar.id.clone()?,
                at: pillar.at.clone()?,
                fixing: pillar.fixing?,
                pitch_mm: pillar.pitch_mm.clone(),
            })
        });
        let pivots = draft.pivots.iter().map(|pivot| {
            Some(Pivot {
                id: pivot.id.clone()?,
                at: pivot.at.clone(),
                long_mm: pivot.long_mm.clone(),
                shake_mm: pivot.shake_mm.clone(),
            })
        });
        Some(Frame {
            lifted: draft.lifted,
            bends_mm: draft.bends_mm.clone(),
            pin_lift_mm: draft.pin_lift_mm.clone(),
            thick_mm: draft.thick_mm.clone(),
            pillars: pillars.collect::<Option<_>>()?,
            pivots: pivots.collect::<Option<_>>()?,
            fixtures: fixtures.collect::<Option<_>>()?,
            placed_measured: !draft.placed_about,
        })
    }

    /// Tells ids that stand there a second time.
    fn once(&mut self, kind: NamedWork, ids: &[Option<&str>], place: impl Fn(usize) -> DraftPlace) {
        for (i, id) in ids.iter().enumerate() {
            let first = ids[..i]
                .iter()
                .position(|other| id.is_some() && other == id);
            if let (Some(id), Some(first)) = (id, first) {
                let what = FlawKind::DoubledId {
                    kind,
                    id: (*id).to_owned(),
                    first: place(first),
                };
                self.flaw(place(i), what);
            }
        }
    }

    /// How each part of each arbor is held, where that is said.
    pub(crate) fn held(&mut self) -> Vec<Vec<Option<HeldBy>>> {
        let mut all = Vec::new();
        for (a, arbor) in self.draft.arbors.iter().enumerate() {
            let mut held = vec![arbor.held_by; arbor.parts.len()];
            for (part, by) in &arbor.parts_held_by {
                let names = || arbor.parts.iter().map(|p| p.name.as_str());
                match names().position(|name| name == part) {
                    Some(i) => held[i] = Some(*by),
                    None => {
                        let what = FlawKind::UnknownPart {
                            arbor: arbor.id.clone(),
                            got: part.clone(),
                            near: near(part, names()).map(str::to_owned),
                        };
                        self.flaw(DraftPlace::HeldBy(a), what);
                    }
                }
            }
            all.push(held);
        }
        all
    }
}
