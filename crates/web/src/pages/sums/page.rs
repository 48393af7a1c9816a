//! A page of a sum: what it is of, and the parts it has.

use crate::desk::{Refused, Whole};
use crate::fields::Question;
use crate::frame::Picture;
use crate::searches::Searches;
use entries::Stage;
use maud::Markup;
use report::{Locale, say};
use tasks::{BoxesFor, ShiftDanger};

/// A sum: where it stands, and how it is answered. The sentence and the picture come first, then all else that is told; what may be
/// asked stands beneath.
pub(crate) struct Sum {
    /// The last of its address, and how messages choose by it.
    pub(crate) word: &'static str,
    /// The stage it belongs to.
    pub(crate) stage: Stage,
    /// Whether it takes its time, so that it takes its turn.
    pub(super) heavy: bool,
    /// What may be measured for it.
    pub(super) boxes: BoxesFor,
    /// What is known of it at its stage before anything is asked, a line each.
    pub(crate) known: fn(&Whole) -> Vec<String>,
    /// Its page.
    pub(super) page: fn(&Question<'_>, &Searches) -> Page,
}

impl Sum {
    /// What it is called.
    pub(crate) fn name(&self, locale: &Locale) -> String {
        say!(locale, "sum", sum = self.word)
    }
}

/// The parts of a page, in the order in which they stand.
#[derive(Default)]
pub(super) struct Page {
    /// The sentence; the page's name where there is none.
    pub(super) answer: Option<String>,
    /// Why there is none.
    pub(super) refused: Option<String>,
    /// What to mind before all else.
    pub(super) first: Vec<ShiftDanger>,
    /// The picture and what it shows.
    pub(super) picture: Option<Picture>,
    /// What is told.
    pub(super) told: Markup,
    /// What to mind.
    pub(super) dangers: Vec<ShiftDanger>,
    /// What may be asked.
    pub(super) form: Markup,
    /// Whether it goes on: the page asks again by itself.
    pub(super) goes_on: bool,
}

impl Page {
    /// A page without an answer.
    pub(super) fn refused(locale: &Locale, why: impl Into<Refused>, form: Markup) -> Page {
        Page {
            refused: Some(why.into().say(locale)),
            form,
            ..Page::default()
        }
    }
}
