//! The photograph that lies under the drawing of a plate, and the slider that says how much of it is seen.

use crate::desk::{Desk, Refused};
use book::JobId;
use draw::{Layout, Underlay, View};
use entries::Log;
use maud::{Markup, html};
use movement::Movement;
use report::{Locale, page, say};

/// A photograph under a drawing.
#[derive(Debug, Clone)]
pub(crate) struct Under {
    /// As it is drawn.
    pub(crate) picture: Underlay,
    /// The number of the entry that shows it.
    pub(crate) entry: usize,
}

/// A movement as it is drawn.
pub(crate) struct Drawn<'a> {
    pub(crate) movement: &'a Movement,
    pub(crate) layout: &'a Layout,
    pub(crate) view: View,
}

impl Under {
    /// That of the plate towards you, where at least two centres were touched on one.
    pub(crate) fn of(
        desk: &Desk,
        id: JobId,
        log: &Log,
        drawn: &Drawn<'_>,
    ) -> Result<Option<Under>, Refused> {
        let Some((photograph, shows)) = desk.underneath(id, log, drawn.view.plate)? else {
            return Ok(None);
        };
        let Some(on_plate) = photograph.lies(drawn.movement, drawn.layout) else {
            return Ok(None);
        };
        Ok(Some(Under {
            picture: Underlay {
                address: format!("/picture/{}", shows.digest),
                high: shows.high,
                lies: (drawn.layout).under(drawn.movement, drawn.view, on_plate),
                shown: photograph.shown,
            },
            entry: photograph.entry,
        }))
    }

    /// A drawing with it underneath.
    pub(crate) fn beneath(&self, svg: &str) -> String {
        self.picture.beneath(svg)
    }
}

/// How much of it is seen: of the form around it, or of the one that is named. The page's script sets it without leaving the page.
pub(crate) fn slider(
    locale: &Locale,
    under: &Under,
    view: View,
    form: Option<&str>,
    action: &str,
) -> Markup {
    html! {
        div.fade data-action=(action) {
            label {
                span { (say!(locale, "lie-shown")) }
                input type="range" name="shown" min="0" max="100" step="5" value=(under.picture.shown) form=[form];
            }
            input type="hidden" name="picture" value=(under.entry) form=[form];
            input type="hidden" name="photographed" value=(page::plate_key(view.plate)) form=[form];
            button.plain form=[form] formaction=(action) { (say!(locale, "lie-shown-set")) }
        }
    }
}
