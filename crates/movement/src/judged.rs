//! A movement whose missing windows were worked out from its works.

use crate::{Movement, Unjudged, WindowFromWorks, WindowSource, Witness, WitnessId, WorksFigure};

/// Keys of the works that tell a width which a drill goes into or a calliper takes.
const WIDTHS: [&str; 3] = ["slot_deg", "tip_deg", "tail_deg"];

impl Movement {
    /// Whether the window of a witness is known from usual proportions alone: an end of it moves with a figure of
    /// the works that was not measured, or the strike does not judge it.
    pub fn is_usual(&self, id: WitnessId) -> bool {
        match &self.witness(id).source {
            WindowSource::Written => false,
            WindowSource::Works(from) => !from.is_judged() || !from.rests_on.is_empty(),
        }
    }

    /// How surely the ends of a window are known: one standard deviation, in degrees; 0 for a written one.
    pub fn window_spread(&self, id: WitnessId) -> f64 {
        match &self.witness(id).source {
            WindowSource::Written => 0.0,
            WindowSource::Works(from) => from.spread.to_f64(),
        }
    }

    /// What of the works is best measured first, where the windows of these witnesses rest on what is usual: of widths that a drill
    /// goes into or a calliper takes the one that moves the first of these windows most. Nothing where none of it can be measured so.
    pub fn measure_first(&self, of: &[WitnessId]) -> Option<&WorksFigure> {
        let rests = of.iter().flat_map(|id| match &self.witness(*id).source {
            WindowSource::Written => &[][..],
            WindowSource::Works(from) => &from.rests_on[..],
        });
        let mut measurable = rests.filter(|figure| WIDTHS.contains(&figure.key.as_str()));
        measurable.next()
    }

    /// The same movement, in which these windows are those of its witnesses without one, in their order: they stand among the others
    /// in the order of the sheet. Of fewer the rest stay without.
    #[must_use]
    pub fn with_windows(&self, windows: Vec<WindowFromWorks>) -> Movement {
        let mut movement = self.clone();
        let mut unjudged = std::mem::take(&mut movement.unjudged).into_iter();
        let mut written = std::mem::take(&mut movement.witnesses).into_iter();
        for (window, without) in windows.into_iter().zip(unjudged.by_ref()) {
            let before = without.place - movement.witnesses.len();
            movement.witnesses.extend(written.by_ref().take(before));
            movement.witnesses.push(without.judged(window));
        }
        movement.witnesses.extend(written);
        movement.unjudged = unjudged.collect();
        movement
    }
}

impl Unjudged {
    /// It with its window.
    fn judged(self, window: WindowFromWorks) -> Witness {
        Witness {
            id: self.id,
            says: self.says,
            on: self.on,
            kind: self.kind,
            kind_told: self.kind_told,
            repeats: self.repeats,
            from: window.from,
            to: window.to,
            best: window.best,
            source: WindowSource::Works(window.source),
            at: self.at,
            look: self.look,
            arm_oclock: self.arm_oclock,
        }
    }
}
