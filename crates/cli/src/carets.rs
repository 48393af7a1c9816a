//! Faults and warnings shown in the text they stand in, with a caret under the place.

use sheet::{Faults, SheetWarning, Spot};

/// The longest line that is shown whole; of a longer one as much as stands about the place.
const WIDE: usize = 100;

/// Every fault, one after another.
pub(crate) fn faults(name: &str, text: &[u8], faults: &Faults) -> String {
    let mut out = String::new();
    for fault in &faults.told {
        let told = report::en::fault(fault);
        out += &shown(name, text, fault.spot, &told.line, told.hint.as_deref());
    }
    if faults.more > 0 {
        out += &format!("{name}: {}\n", report::en::more_faults(faults.more));
    }
    out
}

/// A warning.
pub(crate) fn warning(name: &str, text: &[u8], warning: &SheetWarning) -> String {
    let line = report::en::warning(&report::en::misgiving(&warning.what));
    shown(name, text, warning.spot, &line, None)
}

fn shown(name: &str, text: &[u8], spot: Spot, line: &str, hint: Option<&str>) -> String {
    let Spot {
        line: number,
        column,
    } = spot;
    let mut out = format!("{name}:{number}:{column}: {line}\n");
    if let Some((source, caret)) = source(text, spot) {
        let margin = number.to_string();
        out += &format!("  {margin} | {source}\n");
        out += &format!(
            "  {:margin$} | {:caret$}^\n",
            "",
            "",
            margin = margin.len(),
            caret = caret
        );
    }
    if let Some(hint) = hint {
        out += &format!("  {hint}\n");
    }
    out
}

/// The line of a spot, with nothing in it that a terminal would obey, and the caret's place under it.
fn source(text: &[u8], spot: Spot) -> Option<(String, usize)> {
    let line = text.split(|b| *b == b'\n').nth(spot.line - 1)?;
    let line = String::from_utf8_lossy(line);
    let line = line.trim_start_matches('\u{feff}').trim_end_matches('\r');
    let from = (spot.column - 1).saturating_sub(WIDE / 2);
    let shown: String = line
        .chars()
        .skip(from)
        .take(WIDE)
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    (!shown.trim().is_empty()).then_some((shown, spot.column - 1 - from))
}
