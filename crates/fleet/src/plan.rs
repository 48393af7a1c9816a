//! A movement as its maker would write it down, and the sheet that says so.

use std::fmt::Write;

/// A toothed part.
#[derive(Debug, Clone)]
pub struct PartPlan {
    /// Its name on its arbor.
    pub name: String,
    /// Its count.
    pub teeth: u16,
    /// Whether it is a lantern of trundles.
    pub lantern: bool,
}

/// An arbor.
#[derive(Debug, Clone)]
pub struct ArborPlan {
    /// Its id.
    pub id: String,
    /// `clockwise`, `counterclockwise`, or nothing said.
    pub runs: Option<&'static str>,
    /// Its parts.
    pub parts: Vec<PartPlan>,
    /// Measurements: a key with its unit, and a number as written.
    pub measured: Vec<(String, String)>,
}

/// A part of a plan, by index.
#[derive(Debug, Clone, Copy)]
pub struct PartPlace {
    /// Its arbor.
    pub arbor: usize,
    /// Which part of that.
    pub part: usize,
}

/// A mesh.
#[derive(Debug, Clone)]
pub struct MeshPlan {
    /// What drives.
    pub driver: PartPlace,
    /// What is driven.
    pub driven: PartPlace,
    /// Whether it keeps the direction.
    pub internal: bool,
    /// `lash_teeth` as written.
    pub lash: Option<String>,
    /// Whether no plates are spread for it.
    pub outside: bool,
}

/// The strike.
#[derive(Debug, Clone)]
pub struct StrikePlan {
    /// Whether a rack counts.
    pub rack: bool,
    /// Whether halves are struck.
    pub halves: bool,
    /// The arbor that is held at the drop.
    pub read_at: usize,
    /// Blows in one turn of it.
    pub blows_per_turn: u16,
    /// `hold_deg` as written.
    pub hold: Option<String>,
}

/// A further moment.
#[derive(Debug, Clone)]
pub struct MomentPlan {
    /// Its id.
    pub id: String,
    /// The arbor fixed then.
    pub arbor: usize,
}

/// Thousandths of a degree, written as a decimal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Thousandths(pub i64);

impl std::fmt::Display for Thousandths {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        let size = self.0.unsigned_abs();
        write!(f, "{sign}{}.{:03}", size / 1000, size % 1000)
    }
}

/// A witness.
#[derive(Debug, Clone)]
pub struct WitnessPlan {
    /// Its id.
    pub id: String,
    /// The arbor it is on.
    pub on: usize,
    /// Alike places in a turn.
    pub repeats: u16,
    /// Its window, from and to.
    pub window: (Thousandths, Thousandths),
    /// Where it should stand.
    pub best: Thousandths,
    /// The moment it is judged at, by index; the drop where there is none.
    pub at: Option<usize>,
    /// Widths of slot and tip.
    pub look: Option<(Thousandths, Thousandths)>,
    /// The hour its arm stands at.
    pub oclock: Option<u8>,
}

/// A whole movement.
#[derive(Debug, Clone)]
pub struct MovementPlan {
    /// What the clock is called.
    pub name: String,
    /// `front` or `back`.
    pub seen_from: &'static str,
    /// Its arbors.
    pub arbors: Vec<ArborPlan>,
    /// Its meshes.
    pub meshes: Vec<MeshPlan>,
    /// Its strike.
    pub strike: Option<StrikePlan>,
    /// Its further moments.
    pub moments: Vec<MomentPlan>,
    /// Its witnesses.
    pub witnesses: Vec<WitnessPlan>,
}

impl MovementPlan {
    /// The sheet.
    pub fn sheet(&self) -> String {
        let mut text = String::new();
        self.write(&mut text)
            .expect("a string takes all that is written to it");
        text
    }

    fn write(&self, out: &mut String) -> std::fmt::Result {
        writeln!(out, "# Grown from a seed.\n\nsheet = 1")?;
        writeln!(out, "name = \"{}\"", self.name)?;
        writeln!(out, "seen_from = \"{}\"", self.seen_from)?;
        for arbor in &self.arbors {
            writeln!(out, "\n[arbor.{}]", arbor.id)?;
            if let Some(runs) = arbor.runs {
                writeln!(out, "runs = \"{runs}\"")?;
            }
            for part in &arbor.parts {
                let (name, teeth) = (&part.name, part.teeth);
                if part.lantern {
                    writeln!(out, "{name} = {{ teeth = {teeth}, form = \"lantern\" }}")?;
                } else {
                    writeln!(out, "{name} = {teeth}")?;
                }
            }
            for (key, value) in &arbor.measured {
                writeln!(out, "{key} = {value}")?;
            }
        }
        for mesh in &self.meshes {
            writeln!(out, "\n[[mesh]]")?;
            writeln!(out, "driver = \"{}\"", self.part(mesh.driver))?;
            writeln!(out, "driven = \"{}\"", self.part(mesh.driven))?;
            if mesh.internal {
                writeln!(out, "internal = true")?;
            }
            if let Some(lash) = &mesh.lash {
                writeln!(out, "lash_teeth = {lash}")?;
            }
            if mesh.outside {
                writeln!(out, "reached = \"outside\"  # no plate is spread for it")?;
            }
        }
        self.write_strike(out)
    }

    fn write_strike(&self, out: &mut String) -> std::fmt::Result {
        if let Some(strike) = &self.strike {
            let counted_by = if strike.rack { "rack" } else { "count wheel" };
            let blows = if strike.halves {
                "hours and halves"
            } else {
                "hours"
            };
            writeln!(out, "\n[strike]\ncounted_by = \"{counted_by}\"")?;
            writeln!(out, "blows = \"{blows}\"")?;
            writeln!(out, "read_at = \"{}\"", self.arbors[strike.read_at].id)?;
            writeln!(out, "blows_per_turn = {}", strike.blows_per_turn)?;
            if let Some(hold) = &strike.hold {
                writeln!(out, "hold_deg = {hold}")?;
            }
        }
        for moment in &self.moments {
            writeln!(out, "\n[[moment]]\nid = \"{}\"", moment.id)?;
            writeln!(out, "arbor = \"{}\"", self.arbors[moment.arbor].id)?;
            writeln!(out, "says = \"at rest\"")?;
        }
        for witness in &self.witnesses {
            writeln!(out, "\n[[witness]]\nid = \"{}\"", witness.id)?;
            writeln!(out, "says = \"a mark on {}\"", self.arbors[witness.on].id)?;
            writeln!(out, "on = \"{}\"", self.arbors[witness.on].id)?;
            writeln!(out, "repeats = {}", witness.repeats)?;
            writeln!(
                out,
                "window_deg = [{}, {}]",
                witness.window.0, witness.window.1
            )?;
            writeln!(out, "best_deg = {}", witness.best)?;
            if let Some(at) = witness.at {
                writeln!(out, "at = \"{}\"", self.moments[at].id)?;
            }
            if let Some((slot, tip)) = witness.look {
                writeln!(out, "slot_deg = {slot}\ntip_deg = {tip}")?;
            }
            if let Some(hour) = witness.oclock {
                writeln!(out, "arm_oclock = {hour}")?;
            }
        }
        Ok(())
    }

    fn part(&self, place: PartPlace) -> String {
        let arbor = &self.arbors[place.arbor];
        format!("{}.{}", arbor.id, arbor.parts[place.part].name)
    }
}
