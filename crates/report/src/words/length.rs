//! A length, and how many figures of it are told.

/// Figures that are told where nobody said how finely it was measured.
const USUAL_FIGURES: f64 = 2.0;

/// A length, and how finely it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Length {
    mm: f64,
    spread_mm: Option<f64>,
}

impl Length {
    /// Millimetres in an inch.
    pub const MM_IN_INCH: f64 = quantity::Length::MM_IN_INCH;

    /// In millimetres; two figures of it are told.
    pub fn mm(mm: f64) -> Length {
        Length {
            mm,
            spread_mm: None,
        }
    }

    /// Known to so many millimetres either way: figures are told down to the first of that.
    pub fn good_to(self, mm: f64) -> Length {
        Length {
            spread_mm: Some(mm),
            ..self
        }
    }

    /// The number in a unit of so many millimetres, with a point.
    pub(super) fn figures(self, unit: f64) -> String {
        let order = |x: f64| x.abs().max(1e-9).log10().floor();
        let x = self.mm / unit;
        let last = match self.spread_mm {
            Some(spread) => order(spread / unit),
            None => order(x) - USUAL_FIGURES + 1.0,
        };
        // No length at a bench has more than nine places or nine noughts.
        let places = (0..=9_u8).find(|p| f64::from(*p) >= -last).unwrap_or(9);
        let ten = 10f64.powf(last.max(0.0));
        let rounded = (x / ten).round() * ten;
        let told = if last > 0.0 { rounded } else { x };
        crate::en::decimal(told, places.into())
    }
}

#[cfg(test)]
mod tests {
    use super::Length;

    #[test]
    fn two_figures_are_told_or_as_many_as_it_bears() {
        for (mm, told) in [
            (12.34, "12"),
            (123.4, "120"),
            (1.25, "1.2"),
            (0.0352, "0.035"),
            (9.96, "10"),
            (0.0, "0"),
        ] {
            assert_eq!(Length::mm(mm).figures(1.0), told);
        }
        assert_eq!(Length::mm(123.456).good_to(0.05).figures(1.0), "123.46");
        assert_eq!(Length::mm(123.456).good_to(0.5).figures(1.0), "123.5");
        assert_eq!(Length::mm(123.456).good_to(20.0).figures(1.0), "120");
    }
}
