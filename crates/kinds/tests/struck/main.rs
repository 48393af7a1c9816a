//! Sheets made of kinds, run through their hours.

mod made;
mod published;
mod rows;
mod strikes;
mod trains;
