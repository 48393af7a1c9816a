//! The drawings, judged from the SVG they end up as.

mod arrows;
mod barrels;
mod counting;
mod loupes;
mod odd;
mod plates;
mod svg;
mod teeth;
mod trains;

use movement::Movement;

/// A movement from a sheet's text.
fn read(text: &str) -> Movement {
    match sheet::read(text.as_bytes()) {
        Ok(sheet) => sheet.movement,
        Err(faults) => panic!("{faults:?}\n{text}"),
    }
}

/// A sample of this repository.
fn sample(name: &str) -> Movement {
    let path = format!("{}/../../movements/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    read(&std::fs::read_to_string(path).expect("a sample sheet"))
}

/// Numbers without chance: a linear congruence (the constants are those of Numerical Recipes, from memory).
struct Dice(u32);

impl Dice {
    fn upto(&mut self, n: u32) -> u32 {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 8) % n
    }

    fn from(&mut self, choices: &[u32]) -> u32 {
        choices[self.upto(u32::try_from(choices.len()).expect("few")) as usize]
    }
}
