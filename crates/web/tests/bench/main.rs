//! The page as it is served, and as a real browser shows it.

mod arrows;
mod bounded;
mod browser;
mod chosen;
mod closing;
mod damaged;
mod drag;
mod ears;
mod eye;
mod forms;
mod hands;
mod hostile;
mod keys;
mod lessons;
mod listening;
mod made_up;
mod microphone;
mod names;
mod odd_sheets;
#[path = "../../../listen/tests/heard/outside.rs"]
mod outside;
mod pages;
mod plain;
mod printed;
mod removal;
mod round;
mod running;
mod served;
mod several;
mod strangers;
mod sums;
mod tongues;
mod truth;
mod whole;
mod zoom;
