//! The windows of witnesses, from the works: where each may stand, turned with all that is fixed on its arbor while every other
//! stays where it is, so that the strike goes right at every hour.
//!
//! The works as the sheet has them are what all is reckoned from, and must strike right themselves. A place is good if all seven
//! points hold through the whole cycle. As one window moves with another, all of a train are drawn in alike until every corner of
//! the box that they make is good. The ends are exact until they are told, in whole hundredths of a degree inside them.

mod best;
mod drawn;
mod raw;
mod spread;
mod turned;
mod window;

use crate::NoStrike;
use crate::bounds::MOST_WINDOW_WORK;
use best::Scale;
use drawn::TrainBox;
use movement::Movement;
use quantity::Degrees;
use raw::{Raw, RawEnd, Sought};
use turned::Turnable;

pub use raw::Limit;
pub use window::{BestBy, DrawnIn, NoWindows, WindowEnd, Windows, WorkedOutWindow};

/// Works out the window of each witness for which none is written.
///
/// What is written stays where the works have it. A witness of another moment than the drop is turned all the same: it is its own
/// arbor that is turned.
///
/// # Errors
/// Nothing strikes, it does not strike right as it is, or a witness has no room.
pub fn windows(movement: &Movement) -> Result<Windows, NoWindows> {
    let works = Turnable::of(movement, MOST_WINDOW_WORK)?;
    let struck = works.run(&[]).ok_or(NoStrike::NoHammer)?;
    if !struck.is_right() {
        return Err(NoWindows::Wrong(Limit::of(&struck)));
    }
    let scale = Scale {
        works: &works,
        struck: &struck,
    };
    let mut windows = Vec::new();
    let mut boxes: Vec<TrainBox> = Vec::new();
    for (n, witness) in movement.unjudged().iter().enumerate() {
        let meant = scale.meant(witness);
        let period = witness.period();
        let sought = Sought {
            works: &works,
            arbor: witness.on,
            period: period.clone(),
        };
        let ends = match sought.raw() {
            Raw::Any => None,
            Raw::Between(ends) => Some(ends),
        };
        let (best, best_by) = scale.best(witness, &meant, ends.as_ref());
        let mut window = WorkedOutWindow {
            witness: n,
            from: best.clone(),
            to: best.clone(),
            best,
            best_by,
            meant,
            ends: None,
            spread: Degrees::zero(),
            rests_on: Vec::new(),
        };
        match ends {
            None => window.make_usual(&period),
            Some(ends) => {
                let end = |end: &RawEnd| WindowEnd {
                    raw: &window.meant + &works.degrees(witness.on, end.at),
                    inside: end.inside,
                    limit: end.limit.clone(),
                };
                window.ends = Some([end(&ends[0]), end(&ends[1])]);
                let train = movement.train_of(witness.on);
                let known = boxes.iter().position(|known| known.train == train);
                let at = known.unwrap_or_else(|| {
                    boxes.push(TrainBox::of(train));
                    boxes.len() - 1
                });
                boxes[at].take(n, witness.on);
            }
        }
        windows.push(window);
    }
    let mut drawn_in = Vec::new();
    for train in &boxes {
        let by = train.draw_in(&works, &mut windows)?;
        if train.is_coupled() {
            let train = train.train;
            drawn_in.push(DrawnIn { train, by });
        }
    }
    spread::carry(&works, &mut windows);
    Ok(Windows {
        windows,
        drawn_in,
        cut_short: works.is_cut_short(),
    })
}
