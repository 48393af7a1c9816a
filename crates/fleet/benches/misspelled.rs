//! Twenty thousand sheets with one slip each, and what became of them.

#[path = "../tests/misspelled/study.rs"]
mod study;

use fleet::{Misspelling, dice};

fn main() {
    // As many of each kind as make twenty thousand of spelling.
    let each = 20_000_u32.div_ceil(u32::try_from(Misspelling::OF_SPELLING.len()).unwrap_or(1));
    let tallies = study::study(each, &mut dice(20_000));
    print!("{}", study::table(&tallies));
    for (what, of) in [
        ("spelling", &Misspelling::OF_SPELLING[..]),
        ("figures", &Misspelling::OF_FIGURES[..]),
    ] {
        let (caught, named) = study::parts(&tallies, of);
        println!(
            "slips of {what}: {:.1} % caught, {:.1} % with the right key",
            100.0 * caught,
            100.0 * named
        );
    }
    for (slip, tally) in &tallies {
        for missed in tally.missed.iter().take(5) {
            println!("{slip:?}: {missed}");
        }
    }
}
