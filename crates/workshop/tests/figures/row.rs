//! One published figure: what is asked, what is right, what is printed.

use serde::Deserialize;
use std::path::Path;

/// A file of rows.
#[derive(Deserialize)]
pub(crate) struct Rows {
    pub(crate) row: Vec<Row>,
}

/// A row; see `outside/README.md`.
#[derive(Deserialize, Clone)]
#[serde(deny_unknown_fields)]
pub(crate) struct Row {
    pub(crate) name: String,
    source: String,
    mark: String,
    pub(crate) ask: toml::Table,
    is: f64,
    within: f64,
    printed: Option<String>,
    printed_within: Option<f64>,
    misprint: Option<String>,
    #[serde(rename = "note")]
    _note: Option<String>,
}

impl Row {
    /// A number of what is asked.
    pub(crate) fn num(&self, key: &str) -> f64 {
        match self.ask.get(key) {
            Some(toml::Value::Float(x)) => *x,
            Some(toml::Value::Integer(n)) => i32::try_from(*n).map(f64::from).expect("small"),
            other => panic!("{}: `{key}` is {other:?}", self.name),
        }
    }

    /// What is to be worked.
    pub(crate) fn sum(&self) -> &str {
        self.ask["sum"].as_str().expect("a name")
    }

    /// Holds what was worked against what is right, and against the print.
    pub(crate) fn check(&self, worked: f64) -> Result<(), String> {
        if self.source.is_empty() {
            return Err("no source".to_owned());
        }
        let marks = [
            "seen",
            "computed",
            "from memory",
            "common practice, no source",
        ];
        if !marks.contains(&self.mark.as_str()) {
            return Err(format!("the mark `{}`", self.mark));
        }
        if self.mark == "seen"
            && self.printed.is_none()
            && self.misprint.is_none()
            && self.within > 1e-3
        {
            return Err("seen, and nothing of the print is held".to_owned());
        }
        let off = |right: f64| (worked - right).abs();
        if !within(off(self.is), self.within) {
            return Err(format!("{worked} and not {} ± {}", self.is, self.within));
        }
        if let Some(printed) = &self.printed {
            let rough = self.printed_within.unwrap_or(half_a_unit(printed));
            let right: f64 = printed.parse().map_err(|_| printed.clone())?;
            if !within(off(right), rough * (1.0 + 1e-9)) {
                return Err(format!("{worked} and not the printed {printed}"));
            }
        }
        if let Some(misprint) = &self.misprint {
            let wrong: f64 = misprint.parse().map_err(|_| misprint.clone())?;
            if off(wrong) <= half_a_unit(misprint) {
                return Err(format!("{worked}, as the misprint {misprint} has it"));
            }
        }
        Ok(())
    }
}

/// What is no number is within nothing.
fn within(off: f64, most: f64) -> bool {
    off <= most
}

/// Half a unit of the last printed figure.
fn half_a_unit(printed: &str) -> f64 {
    let after = printed.split_once('.').map_or(0, |(_, after)| after.len());
    0.5 * 10_f64.powi(-i32::try_from(after).expect("few figures"))
}

/// The text of a file of figures.
pub(crate) fn text(file: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../outside")
        .join(file);
    std::fs::read_to_string(path).expect(file)
}

/// The rows of a file of figures.
pub(crate) fn rows(file: &str) -> Vec<Row> {
    let rows: Rows = toml::from_str(&text(file)).unwrap_or_else(|why| panic!("{file}: {why}"));
    rows.row
}
