//! A lost count is worked out on a sheet without windows as on one with them.

use tasks::{CountAsk, count};

#[test]
fn a_lost_count_follows_from_witnesses_without_windows() {
    let path = format!(
        "{}/../../movements/schoolroom.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    let text = std::fs::read_to_string(path).expect("a sample");
    let lines = text
        .lines()
        .filter(|line| !line.starts_with("window_deg") && !line.starts_with("best_deg"))
        .map(|line| match line {
            "wheel = 52" => "wheel = \"?\"",
            line => line,
        });
    let lost = lines.collect::<Vec<_>>().join("\n");
    let counted = count(lost.as_bytes(), &CountAsk::default()).expect("something bears on it");
    let fits = &counted.found.fits;
    assert_eq!(fits.len(), 1);
    assert_eq!(fits[0].counts[0], 52);
}
