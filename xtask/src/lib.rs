//! Work on the house itself. So far the study of openings: `cargo xtask openings`.

pub mod openings;
