//! What every drawing asks of what a witness looks like. How each looks stands in `figures`.

use crate::glass::{CloseUp, Stands};
use crate::ink::Ink;
use crate::look::Widths;
use movement::{ArborId, WitnessId};
use std::f64::consts::PI;
use std::fmt::Debug;
use std::sync::Arc;

/// A witness on its arbor.
#[derive(Debug, Clone)]
pub(crate) struct Fitting {
    pub(crate) witness: WitnessId,
    pub(crate) on: ArborId,
    pub(crate) what: Arc<dyn Figure>,
    /// Where the tip, tail or arm meets it: rim of the count wheel, circle of the pins, end of the vane.
    pub(crate) radius: f64,
    /// Depth of a slot, radius of a pin, half the width of a vane.
    pub(crate) size: f64,
    /// The radius of a plain disc that carries it, where no wheel of the arbor is large enough.
    pub(crate) disc: Option<f64>,
}

/// What of a sheet's tracks and pins stands for a witness, where these are drawn as the sheet has them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Shows {
    /// The track of a count wheel.
    Counts,
    /// Pins or cams that lift.
    Lobes,
    /// A snail.
    Steps,
    /// Pins that are stopped.
    Pin,
}

/// How what a witness is seen against comes to it from outside its wheel.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Approach {
    /// From the wheel's middle, radians clockwise from three o'clock.
    pub(crate) angle: f64,
    /// How far beyond the witness it reaches.
    pub(crate) reach: f64,
}

/// What a witness looks like. Its own zero lies at three o'clock.
pub(crate) trait Figure: Debug + Send + Sync {
    /// Where what feels it meets it, and how large it is, from the radius of what bears it, the room about its arbor, and
    /// whether only a disc bears it; in millimetres.
    fn fitted(&self, base: f64, room: f64, on_disc: bool) -> (f64, f64);

    /// Whether it is the fly, which takes the room there is and no wheel bears.
    fn is_fly(&self) -> bool {
        false
    }

    /// Whether it goes through the rim of its wheel: seen from both sides, and the rim wide enough for it.
    fn through(&self) -> bool {
        false
    }

    /// What stands for it where tracks and pins are drawn as the sheet has them; nothing where nothing does.
    fn shows(&self) -> Option<Shows>;

    /// The arm that feels it, if that is on the arbor of the count lever, the drop lever and the locking arms.
    fn arm(&self) -> Option<&'static str> {
        None
    }

    /// How far beyond it an arm bends, its wheel reaching so far beyond it.
    fn rise(&self, beyond: f64) -> f64 {
        (beyond + 4.0).min(14.0)
    }

    /// How far ahead of the tip it is turned when it stands at place 0, in degrees.
    fn zero(&self, widths: &Widths) -> f64;

    /// How far beside its own middle, in radians, the arm stands that it lies against at place 0; nothing where the arm comes in
    /// radially.
    fn beside(&self, _: &Fitting, _unit: f64) -> Option<f64> {
        None
    }

    /// Draws it about the origin, its wheel going ahead this way round.
    fn shape(&self, ink: &mut Ink, fitting: &Fitting, widths: &Widths, ahead: f64);

    /// Draws where it will stand.
    fn ghost(&self, ink: &mut Ink, fitting: &Fitting, widths: &Widths, ahead: f64) {
        self.shape(ink, fitting, widths, ahead);
    }

    /// Draws what it is seen against, if that is on no common arbor.
    fn against(&self, _: &mut Ink, _: &Fitting, _: Approach, _unit: f64) {}

    /// Half the angle after which it looks alike, in radians.
    fn half_period(&self) -> f64 {
        PI
    }

    /// Draws it close up.
    fn close_up(&self, glass: &mut CloseUp<'_>, stands: Stands);
}
