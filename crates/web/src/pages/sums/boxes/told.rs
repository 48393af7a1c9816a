//! What a page's boxes are, and what is said of what was typed there.

use crate::desk::Whole;
use crate::form::Fields;
use crate::pages::sums::page::Sum;
use crate::speech::named;
use axum::http::StatusCode;
use tasks::{BoxFault, DriveChosen, MeasureBox, Undriven};

/// What the boxes of a page have in them, and what is said of it.
#[derive(Default)]
pub(crate) struct BoxesTold {
    /// As it was typed.
    pub(crate) typed: Option<Fields>,
    /// What is wrong, box by box.
    pub(crate) faults: Vec<BoxFault>,
    /// What is wrong with all of it.
    pub(crate) says: Option<String>,
    /// As what it is answered, where that is said.
    pub(crate) status: Option<StatusCode>,
}

/// What was asked on the page stands in this form under names that begin so.
pub(crate) const ASKED: &str = "ask.";
/// What drives an arbor, where it was said.
pub(crate) const DRIVES: &str = "drives.";

/// The boxes of a page, and the arbors of which must be said first what drives them.
pub(crate) struct Offered {
    pub(crate) boxes: Vec<MeasureBox>,
    pub(crate) undriven: Vec<Undriven>,
}

impl Offered {
    pub(crate) fn of(sum: &Sum, job: &Whole, ask: &Fields) -> Offered {
        let chosen = |arbor: &str| {
            let word = ask.get(&format!("{DRIVES}{arbor}"))?;
            named(&DriveChosen::ALL, word)
        };
        let movement = job.state.outline();
        Offered {
            boxes: movement.map_or_else(Vec::new, |movement| {
                tasks::boxes(sum.boxes, movement, &chosen)
            }),
            undriven: (movement.filter(|_| sum.boxes == tasks::BoxesFor::Power))
                .map_or_else(Vec::new, |movement| tasks::undriven(movement, &chosen)),
        }
    }
}
