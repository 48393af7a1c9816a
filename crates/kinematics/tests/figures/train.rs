//! A train written in a row, as the trade writes it: `great 96:8 centre 64:8 third`, and the sheet it stands for.

use serde::Deserialize;
use std::fmt::Write;

/// Trains that hang together, with what more is known of their arbors.
pub(crate) struct Train {
    /// Arbors with `teeth of the driver:teeth of the driven` between them; a later one branches from an arbor of an
    /// earlier one.
    pub(crate) train: Vec<String>,
    /// Further keys of arbors, `ARBOR.KEY = VALUE`.
    pub(crate) with: Vec<String>,
    pub(crate) strike: Option<Struck>,
}

/// The strike of a written train.
#[derive(Deserialize, Clone)]
#[serde(deny_unknown_fields)]
pub(crate) struct Struck {
    read_at: String,
    blows_per_turn: u16,
    #[serde(default = "hours")]
    blows: String,
}

fn hours() -> String {
    "hours".to_owned()
}

impl Train {
    /// The sheet; the first arbor runs clockwise, as seen from the front.
    pub(crate) fn sheet(&self, name: &str) -> String {
        let mut arbors = String::new();
        let mut meshes = String::new();
        let first = self.train[0].split(' ').next().unwrap_or_default();
        let mut write = |line: String| writeln!(arbors, "arbor.{line}").expect("a string");
        write(format!("{first}.runs = \"clockwise\""));
        for line in &self.with {
            write(line.clone());
        }
        for train in &self.train {
            let words: Vec<&str> = train.split(' ').collect();
            for at in (0..words.len() - 1).step_by(2) {
                let [driver, counts, driven] = words[at..at + 3] else {
                    panic!("{train}: a pair wants two arbors")
                };
                let (wheel, pinion) = counts.split_once(':').expect("N:n");
                write(format!("{driver}.to_{driven} = {wheel}"));
                write(format!("{driven}.from_{driver} = {pinion}"));
                let (driver, driven) = (
                    format!("{driver}.to_{driven}"),
                    format!("{driven}.from_{driver}"),
                );
                writeln!(
                    meshes,
                    "[[mesh]]\ndriver = \"{driver}\"\ndriven = \"{driven}\""
                )
                .expect("a string");
            }
        }
        let strike = self.strike.as_ref().map_or(String::new(), |s| {
            format!(
                "[strike]\ncounted_by = \"count wheel\"\nblows = \"{}\"\nread_at = \"{}\"\nblows_per_turn = {}\n",
                s.blows, s.read_at, s.blows_per_turn
            )
        });
        format!("sheet = 1\nname = \"{name}\"\nseen_from = \"front\"\n{arbors}{meshes}{strike}")
    }
}
