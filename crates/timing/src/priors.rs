//! What is held to be so before anything is seen: how sure hands are, how true a movement is built, what a look costs.
//!
//! Only the figures; what is made of them is told where they are used.

use crate::answer::Hands;
use quantity::Chance;

/// What is held to be so before anything is seen. Each can be set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Priors {
    /// How sure hands are.
    pub hands: Hands,
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
    /// - `build`: a sixth, so that half way from best to the window's end is three standard deviations; farther off a lever is
    ///   the likelier cause.
    /// - `bent`: one in fifty. A mis-set lever is the exception among trains that will not lock.
    /// - `unnoticed`: one in ten thousand. Rare, but without it a belief that went wrong once could never be mended.
    /// - `hold_deg`: a half. The edge of the cam is a click, and a finger stops it there to about that.
    /// - `look`: a hundredth. A look takes a minute; an opening, with the pivots that must be found again, an hour or more.
    /// - `mesh`: a tenth, as the plates are apart anyhow.
    ///
    /// All of them common practice, no source.
    fn default() -> Priors {
        Priors {
            hands: Hands::default(),
            build: 1.0 / 6.0,
            bent: Chance::of(0.02),
            unnoticed: Chance::of(1e-4),
            hold_deg: 0.5,
            look: 0.01,
            mesh: 0.1,
        }
    }
}
