//! A thousand sheets with one slip each; twenty thousand of them are tried by `cargo bench -p fleet --bench misspelled`.

mod study;

use fleet::{Misspelling, dice};

#[test]
fn nearly_every_slip_of_spelling_is_told_with_the_right_key() {
    let tallies = study::study(40, &mut dice(15));
    let (caught, named) = study::parts(&tallies, &Misspelling::OF_SPELLING);
    println!("{}", study::table(&tallies));
    let missed: Vec<&String> = Misspelling::OF_SPELLING
        .iter()
        .flat_map(|slip| &tallies[slip].missed)
        .collect();
    assert!(caught >= 0.95, "{caught} caught: {missed:#?}");
    assert!(named >= 0.90, "{named} named: {missed:#?}");
}

/// Without the likely keys, what is said would name few of them: the measure tells.
#[test]
fn what_is_said_of_another_key_does_not_count_as_named() {
    let said = "got `pivot_long_mm`; expected one of the keys of a `[[pivot]]`";
    assert!(!said.contains("`pivot_mm`"));
    let tallies = study::study(5, &mut dice(1));
    assert!(
        tallies
            .values()
            .all(|tally| tally.tried == 5 && tally.named <= tally.caught)
    );
}
