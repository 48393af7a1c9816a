//! A drawing on paper, at a plain scale; where it is to scale, with a bar to measure whether the printer kept it.

use draw::Drawing;
use maud::{Markup, PreEscaped, html};
use report::{Length, Locale, say};

/// What fits on both A4 (210 by 297 mm) and US Letter (215.9 by 279.4 mm) within margins of 14 mm, with a caption.
const ROOM_MM: (f64, f64) = (180.0, 205.0);

/// Drawn sizes to one of the thing's: as large as it fits.
const SCALES: [(u32, u32); 7] = [(5, 1), (2, 1), (1, 1), (1, 2), (1, 5), (1, 10), (1, 20)];

/// A drawing of the movement.
#[derive(Debug, Clone)]
pub struct PlateDrawing {
    /// What it shows.
    pub caption: String,
    /// The drawing, in millimetres of the movement.
    pub drawing: Drawing,
    /// Whether those are true millimetres. Else it is schematic.
    pub measured: bool,
}

impl PlateDrawing {
    /// The largest plain scale at which it fits.
    fn scale(&self) -> (u32, u32) {
        let (wide, high) = self.drawing.size_mm();
        let fits = |(drawn, real): (u32, u32)| {
            let times = f64::from(drawn) / f64::from(real);
            wide * times <= ROOM_MM.0 && high * times <= ROOM_MM.1
        };
        (SCALES.into_iter())
            .find(|scale| fits(*scale))
            .unwrap_or(SCALES[SCALES.len() - 1])
    }

    pub(crate) fn markup(&self, locale: &Locale) -> Markup {
        let (drawn, real) = self.scale();
        let times = f64::from(drawn) / f64::from(real);
        let (wide, high) = self.drawing.size_mm();
        let long = locale.length(Length::mm(50.0).good_to(0.1));
        let bar = say!(locale, "record-bar", long = long);
        let said = if self.measured {
            say!(locale, "record-scale", drawn = drawn, real = real)
        } else {
            say!(locale, "record-no-scale")
        };
        html! {
            section.plate {
                h2 { (self.caption) }
                figure {
                    (PreEscaped(self.drawing.svg_sized(wide * times, high * times)))
                    figcaption {
                        (said)
                        @if self.measured {
                            svg.bar viewBox="0 0 52 4" width="52mm" height="4mm" role="img" aria-label=(bar) {
                                rect x="1" y="1" width="50" height="1.2" {}
                            }
                            (bar)
                        }
                    }
                }
            }
        }
    }
}
