//! What is to be counted again, against what the movement itself says of its counts.

use workshop::counts::{Asks, count_again};

const SAMPLES: [&str; 4] = [
    include_str!("../../../movements/attic.toml"),
    include_str!("../../../movements/schoolroom.toml"),
    include_str!("../../../movements/halfpast.toml"),
    include_str!("../../../movements/parlour.toml"),
];

/// Whether a movement comes out is one question, whoever asks it: of every sample, and of it with any one count a tooth more or
/// fewer, what its witnesses say is the same as what is told to be counted again.
#[test]
fn the_movement_and_what_is_to_be_counted_again_agree() {
    let (mut out, mut amiss) = (0, 0);
    for text in SAMPLES {
        let counts: Vec<(usize, u16)> = (text.match_indices("wheel = "))
            .chain(text.match_indices("pinion = "))
            .filter_map(|(at, key)| {
                let from = at + key.len();
                let figures = text[from..].split(|c: char| !c.is_ascii_digit()).next()?;
                Some((from, figures.parse().ok()?))
            })
            .collect();
        for (from, count) in counts {
            for other in [count - 1, count, count + 1] {
                let rest = &text[from + count.to_string().len()..];
                let sheet = format!("{}{other}{rest}", &text[..from]);
                let Ok(sheet) = sheet::read(sheet.as_bytes()) else {
                    continue;
                };
                let movement = sheet.movement;
                let witnesses: Vec<&str> =
                    (movement.witnesses()).map(|(_, w)| w.id.as_str()).collect();
                let again = count_again(&movement);
                let told = again.amiss.iter().any(|amiss| match &amiss.asks {
                    Asks::EachBlow { of, .. } | Asks::Back { of, .. } => {
                        witnesses.contains(&of.as_str())
                    }
                    Asks::Seconds | Asks::Beats { .. } => false,
                });
                assert_eq!(
                    movement.comes_out(),
                    !told,
                    "{other} for {count}: {again:?}"
                );
                if told {
                    amiss += 1;
                } else {
                    out += 1;
                }
            }
        }
    }
    assert!(out > 10 && amiss > 10, "{out} come out, {amiss} do not");
}
