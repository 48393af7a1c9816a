//! Windows that are on no sheet, on the command line.

use crate::{Locale, page, say};
use movement::{Movement, WindowSource};

/// Each window that was worked out, a line each with what bounds it and what of it is as usual; nothing where all are written.
pub fn windows(movement: &Movement) -> Vec<String> {
    let locale = Locale::default();
    let mut lines = Vec::new();
    for (id, witness) in movement.witnesses() {
        let WindowSource::Works(works) = &witness.source else {
            continue;
        };
        if lines.is_empty() {
            lines.push(say!(&locale, "windows-head"));
        }
        let [from, to, best] =
            [&witness.from, &witness.to, &witness.best].map(|place| locale.degrees(place));
        let name = page::witness_named(&locale, movement, id);
        let line = match page::bounded(&locale, movement, id) {
            Some([short, ahead]) => say!(
                &locale,
                "windows-line",
                name = name,
                from = from,
                to = to,
                best = best,
                spread = locale.degrees(&works.spread),
                short = short,
                ahead = ahead
            ),
            None => say!(
                &locale,
                "windows-line-usual",
                name = name,
                from = from,
                to = to,
                best = best
            ),
        };
        lines.push(format!("  {line}"));
        if !works.rests_on.is_empty() {
            let figures: Vec<String> = (works.rests_on.iter())
                .map(|figure| format!("{}.{}", figure.of, figure.key))
                .collect();
            let figures = locale.list(&figures);
            lines.push(format!(
                "    {}",
                say!(&locale, "windows-line-rests", figures = figures)
            ));
        }
    }
    lines
}
