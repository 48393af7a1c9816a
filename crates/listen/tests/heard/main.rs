//! What is heard, held against real recordings, published tables, other people's libraries, and sound made up from seeds.

mod bad;
mod made;
mod outside;
mod packed;
mod recordings;
mod seeded;
mod steady;
mod talk;
mod warning;
