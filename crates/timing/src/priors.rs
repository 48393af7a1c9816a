//! What is held to be so before anything is seen: how sure hands are, how true a movement is built, what a look costs.
//!
//! What is made of the figures is told where they are used; why they are what they are, in `docs/assumptions.md`.

use crate::assumed;
use crate::eye::Eye;
use crate::hands::Hands;
use quantity::Chance;

/// What is held to be so before anything is seen. Each can be set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Priors {
    /// How sure hands are.
    pub hands: Hands,
    /// How rough the eye may be.
    pub eye: Eye,
    /// How far a sound movement's witness may stand from the sheet's best, one standard deviation, in half windows.
    pub build: f64,
    /// The chance that some lever is bent or some part slipped on its arbor, so that one witness tells nothing.
    pub bent: Chance,
    /// The chance, at each look, that something has happened that nobody noticed or told, and the meshes stand anyhow.
    pub unnoticed: Chance,
    /// How surely `read_at` is held where the sheet does not say, in its degrees.
    pub hold_deg: f64,
    /// What one more look costs in openings.
    pub look: f64,
    /// What each mesh that is moved in an opening costs besides, in openings.
    pub mesh: f64,
}

impl Default for Priors {
    /// As [`crate::assumed`] has them.
    fn default() -> Priors {
        Priors {
            hands: Hands::default(),
            eye: Eye::default(),
            build: assumed::BUILD.value,
            bent: Chance::of(assumed::BENT.value),
            unnoticed: Chance::of(assumed::UNNOTICED.value),
            hold_deg: assumed::HOLD.value,
            look: assumed::LOOK.value,
            mesh: assumed::MESH.value,
        }
    }
}
