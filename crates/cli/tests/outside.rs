//! The strike against a simulator in another language, written from KINDS.md (tests/outside/strikes.py): every sample with levers,
//! sound and with everything that can be put in wrong.

use serde_json::json;

#[path = "../../fleet/tests/outside/mod.rs"]
mod library;

/// How many variations are tried; the study of five hundred asks the script for more.
const VARIATIONS: usize = 60;

#[test]
fn a_simulator_of_its_own_strikes_the_same() {
    let Some(python) = library::python("the strike by another simulator") else {
        return;
    };
    let trundle = env!("CARGO_BIN_EXE_trundle");
    let movements = library::root().join("movements");
    let script = ["strikes.py", trundle, movements.to_str().expect("a path")];
    let asked = [
        json!({ "count": VARIATIONS, "seed": 7 }),
        // Every bend the other way in the simulator: it must be found out.
        json!({ "count": 12, "seed": 8, "planted": true }),
    ];
    let answers = library::ask(&python, &script, &asked);
    let [alike, planted] = &answers[..] else {
        panic!("two answers");
    };
    println!("{} of {VARIATIONS}, bent {}", alike["kinds"], alike["bent"]);
    assert_eq!(alike["done"], VARIATIONS);
    assert_eq!(alike["otherwise"], json!([]), "{:#}", alike["otherwise"]);
    let ends = alike["kinds"].as_object().expect("ends");
    for end in ["same place, good", "same place", "runaway"] {
        assert!(ends.contains_key(end), "{ends:?}");
    }
    let otherwise = planted["otherwise"].as_array().expect("a list");
    assert!(!otherwise.is_empty(), "a planted fault is found");
}
