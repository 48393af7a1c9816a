//! Boxes for what a page of sums lacks, as they stand on it.

mod section;
mod told;

pub(super) use told::{ASKED, BoxesTold, Offered};

use super::page::Sum;
use crate::fields::Question;
use maud::Markup;

/// The boxes of a page as they stand in it.
pub(super) fn shown(sum: &Sum, asked: &Question<'_>, told: &BoxesTold) -> Markup {
    section::section(sum, asked, &Offered::of(sum, asked.job, asked.fields), told)
}
