//! What a log is thought over on: the sheet with its windows as the log has them, and a bench for each train or one for all.

use crate::Refusal;
use crate::question::QuestionFault;
use entries::Log;
use movement::Movement;
use sheet::Sheet;
use std::sync::Arc;
use timing::{Bench, Eye, Priors, RecallFault, Recalled, StoodRight};

/// What is thought over: a sheet, its windows where a log has them, and a bench or several for it.
#[derive(Debug, Clone)]
pub(crate) struct Ground {
    /// As it was read.
    read: Arc<Sheet>,
    eye: Eye,
    /// How all stood while it struck right, as the log tells.
    pub(crate) stood: StoodRight,
    /// As it is gone by.
    pub(crate) sheet: Arc<Sheet>,
    /// One bench for all trains, or one for each.
    pub(crate) benches: Arc<Vec<Bench<'static>>>,
}

impl Ground {
    pub(crate) fn of(read: Arc<Sheet>, log: &Log, eye: Eye) -> Result<Ground, Refusal> {
        let stood = stood(&read.movement, log, eye)?;
        let sheet = match stood.windows[..] {
            [] => Arc::clone(&read),
            _ => {
                let mut sheet = (*read).clone();
                sheet.movement = sheet.movement.with_stood(&stood.windows);
                Arc::new(sheet)
            }
        };
        let benches = benches(&sheet.movement, eye)?;
        let benches = Arc::new(benches.into_iter().map(Bench::kept).collect());
        Ok(Ground {
            read,
            eye,
            stood,
            sheet,
            benches,
        })
    }

    /// The same after a log went on, where it tells otherwise how all stood while it struck right; nothing where it does not.
    pub(crate) fn then(&self, log: &Log) -> Result<Option<Ground>, Refusal> {
        let told = stood(&self.read.movement, log, self.eye)?;
        if told == self.stood {
            return Ok(None);
        }
        Ground::of(Arc::clone(&self.read), log, self.eye).map(Some)
    }
}

/// How all stood while it struck right, as a log tells.
fn stood(movement: &Movement, log: &Log, eye: Eye) -> Result<StoodRight, Refusal> {
    timing::stood_right(movement, log, &priors(eye))
        .map_err(|fault| Refusal::Question(QuestionFault::Recall(fault)))
}

fn priors(eye: Eye) -> Priors {
    Priors {
        eye,
        ..Priors::default()
    }
}

/// Where what is seen is thought over: one bench for all trains, or one for each where together they stand in too many ways.
pub(crate) fn benches(movement: &Movement, eye: Eye) -> Result<Vec<Bench<'_>>, Refusal> {
    let priors = priors(eye);
    if let Ok(bench) = Bench::of(movement, priors) {
        return Ok(vec![bench]);
    }
    let mut trains: Vec<usize> = (movement.witnesses())
        .map(|(_, witness)| movement.train_of(witness.on))
        .collect();
    trains.sort_unstable();
    trains.dedup();
    (trains.into_iter())
        .map(|train| Bench::of_train(movement, train, priors))
        .collect::<Result<_, _>>()
        .map_err(|_| {
            let comes_out = movement.comes_out();
            Refusal::Question(QuestionFault::TooManyPlaces { comes_out })
        })
}

pub(crate) fn recall(benches: &[Bench<'_>], log: &Log) -> Result<Vec<Recalled>, Refusal> {
    tracing::debug!("a log is gone over");
    recalled(benches.iter().map(|bench| bench.recall(log)))
}

pub(crate) fn recalled(
    each: impl Iterator<Item = Result<Recalled, RecallFault>>,
) -> Result<Vec<Recalled>, Refusal> {
    (each.collect::<Result<_, _>>())
        .map_err(|fault| Refusal::Question(QuestionFault::Recall(fault)))
}
