//! The sums of an overhaul that are one question and one answer: how many teeth a lost wheel had, how long a pendulum is
//! and how far to turn its nut, where oil goes.
//!
//! Counts are exact; what nature gives carries its spread. No sentences here, no files, no clock, no chance.

pub mod assumed;
pub mod counts;
pub mod oil;
pub mod pendulum;
