//! Movements by the thousand: sheets grown from fixed seeds, readings of them, and sheets damaged on purpose.
//!
//! Only tests and benchmarks may name this crate. It makes sheets as text, as a user would hand them in, and turns
//! wheels tooth by tooth with a reckoning of its own. It judges nothing and answers nothing.

mod damage;
mod grow;
mod large;
mod look;
mod misspell;
mod names;
mod plan;
mod turned;

pub use damage::{absurd, flip_byte, mutate};
pub use grow::{Taste, grow};
pub use large::large;
pub use look::{Saw, arbitrary, mismeshed, read_in_part};
pub use misspell::{Misspelled, Misspelling, misspell};
pub use plan::{
    ArborPlan, MeshPlan, MomentPlan, MovementPlan, PartPlace, PartPlan, StrikePlan, Thousandths,
    WitnessPlan,
};
pub use turned::Wheels;

/// What throws the dice: always seeded, so that every run throws the same.
pub type Dice = rand_pcg::Pcg64Mcg;

/// Dice that throw the same each time they are made from the same seed.
pub fn dice(seed: u64) -> Dice {
    use rand::SeedableRng;
    Dice::seed_from_u64(seed)
}
