//! Work on the house itself: the study of openings (`cargo xtask openings`), the schemas of what the commands print (`cargo xtask schemas`).

pub mod openings;
pub mod schemas;
