//! Lengths in millimetres.

/// A length or a place along an axis, in millimetres; always finite.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Mm(f64);

impl Mm {
    /// So many millimetres; nothing for what is no finite number.
    pub fn of(mm: f64) -> Option<Mm> {
        mm.is_finite().then_some(Mm(mm))
    }

    /// Of a length this crate worked out, which is finite; the end of the range stands in for one that is not.
    pub(crate) fn worked_out(mm: f64) -> Mm {
        Mm(if mm.is_finite() { mm } else { 0.0 })
    }

    /// In millimetres.
    pub fn mm(self) -> f64 {
        self.0
    }
}
