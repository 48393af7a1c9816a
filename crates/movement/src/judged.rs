//! A movement whose missing windows were worked out from its works.

use crate::{Movement, Unjudged, WindowFromWorks, WindowSource, Witness};

impl Movement {
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
