//! The sheets that strike, and how they are read.

use movement::Movement;

pub(crate) const SAMPLES: [&str; 11] = [
    "schoolroom",
    "halfpast",
    "quay",
    "parlour",
    "wharf",
    "gallery",
    "loft",
    "vestry",
    "porter",
    "cutter",
    "quarters",
];

pub(crate) fn text(name: &str) -> String {
    let path = format!("{}/../../movements/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).expect(name)
}

pub(crate) fn read(text: &str) -> Movement {
    sheet::read(text.as_bytes()).expect("good").movement
}
