//! The page as it is served, and as a real browser shows it.

mod arrows;
mod browser;
mod chosen;
mod drag;
mod hands;
mod keys;
mod names;
mod plain;
mod round;
mod served;
mod strangers;
mod sums;
mod tongues;
mod zoom;
