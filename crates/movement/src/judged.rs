//! A movement whose missing windows were worked out from its works.

use crate::{
    Movement, StoodWindow, Unjudged, WindowFromWorks, WindowSource, Witness, WitnessId, WorksFigure,
};
use quantity::Degrees;

/// Keys of the works that tell a width which a drill goes into or a calliper takes.
const WIDTHS: [&str; 3] = ["slot_deg", "tip_deg", "tail_deg"];

impl Movement {
    /// Whether the window of a witness is known from usual proportions alone: an end of it moves with a figure of
    /// the works that was not measured, or the strike does not judge it.
    pub fn is_usual(&self, id: WitnessId) -> bool {
        match &self.witness(id).source {
            WindowSource::Written | WindowSource::Stood { .. } => false,
            WindowSource::Works(from) => !from.is_judged() || !from.rests_on.is_empty(),
        }
    }

    /// What of the works is best measured first, where the windows of these witnesses rest on what is usual: of widths that a drill
    /// goes into or a calliper takes the one that moves the first of these windows most. Nothing where none of it can be measured so.
    pub fn measure_first(&self, of: &[WitnessId]) -> Option<&WorksFigure> {
        let rests = of.iter().flat_map(|id| match &self.witness(*id).source {
            WindowSource::Written => &[][..],
            WindowSource::Works(from) | WindowSource::Stood { works: from, .. } => {
                &from.rests_on[..]
            }
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

    /// The same movement, in which these windows that were worked out lie where its witnesses bore them out, with the places that are
    /// meant where they were. One that is written stays, and one that its meant place would come to lie outside of.
    #[must_use]
    pub fn with_stood(&self, stood: &[StoodWindow]) -> Movement {
        let mut movement = self.clone();
        for window in stood {
            let witness = &mut movement.witnesses[window.witness.0];
            let WindowSource::Works(works) = &witness.source else {
                continue;
            };
            let (from, to) = (&witness.from + &window.by, &witness.to + &window.by);
            if from <= witness.best && witness.best <= to {
                witness.source = WindowSource::Stood {
                    works: works.clone(),
                    spread: window.spread.clone(),
                };
                (witness.from, witness.to) = (from, to);
            }
        }
        movement
    }
}

impl Witness {
    /// How surely it is known where the ends of its window lie: one standard deviation; zero where it is written.
    pub fn window_spread(&self) -> Degrees {
        match &self.source {
            WindowSource::Written => Degrees::zero(),
            WindowSource::Works(works) => works.spread.clone(),
            WindowSource::Stood { spread, .. } => spread.clone(),
        }
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
