//! The schemas that are published are those of what is printed. What the commands print of every sheet is held against them in
//! `crates/cli/tests/schemas.rs`; here what a recording would have to be long for.

use listen::{ArborTurn, HeardWarning, find};
use listen::{
    Beat, Chime, Cycle, ExpectedClock, Findings, Heard, HeardStrike, Levels, Recorder, SoundEnd,
};
use report::json::ListenAnswer;
use serde_json::json;
use std::collections::BTreeSet;
use std::path::Path;

#[path = "../../fleet/tests/outside/mod.rs"]
mod library;

#[test]
fn the_published_schemas_are_those_of_the_program() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/schemas");
    let schemas = report::json::schemas();
    let ours: BTreeSet<String> = (schemas.iter())
        .map(|(command, _)| format!("{command}.json"))
        .collect();
    let published: BTreeSet<String> = std::fs::read_dir(&folder)
        .expect("docs/schemas")
        .map(|file| file.expect("a file").file_name().into_string())
        .map(|name| name.expect("a name"))
        .collect();
    assert_eq!(published, ours);
    for (command, schema) in &schemas {
        let path = folder.join(command).with_extension("json");
        let text = std::fs::read_to_string(path).expect("a schema");
        assert!(
            text == report::json::text(schema),
            "docs/schemas/{command}.json is not what the program prints: `cargo xtask schemas` writes it anew"
        );
    }
}

/// Every key of every shape says what it is.
#[test]
fn every_key_is_described() {
    for (command, schema) in report::json::schemas() {
        let mut keys = 0;
        described(command, &schema, &mut keys);
        assert!(keys > 5, "{command}: {keys} keys");
    }
}

fn described(of: &str, schema: &serde_json::Value, keys: &mut usize) {
    match schema {
        serde_json::Value::Object(object) => {
            for (name, value) in object {
                if let ("properties", Some(properties)) = (name.as_str(), value.as_object()) {
                    for (key, property) in properties {
                        *keys += 1;
                        // The word of a tag is described by the shape that it stands for.
                        let says = property.get("description").or(property.get("const"));
                        assert!(says.is_some(), "{of}: {key}");
                    }
                }
                described(of, value, keys);
            }
        }
        serde_json::Value::Array(list) => list.iter().for_each(|one| described(of, one, keys)),
        _ => {}
    }
}

/// A clock that gains more and more, whose beat comes round with a turn of a minute, heard for two hours and a quarter.
fn beats() -> Vec<Beat> {
    (0_u32..16_200)
        .map(|n| {
            let even = 0.5 * f64::from(n);
            let scatter = f64::from(n * 7_919 % 101) / 101.0 - 0.5;
            let round = (even / 60.0 * std::f64::consts::TAU).sin();
            Beat {
                n: n.into(),
                at_s: even - 1e-10 * even * even + 5e-4 * scatter + 2e-3 * round,
                sd_s: 2e-4,
                run: 0,
            }
        })
        .collect()
}

/// So many blows, a second and a half apart.
fn struck(at_s: f64, blows: usize) -> HeardStrike {
    let times = std::iter::successors(Some(at_s), |at| Some(at + 1.5));
    HeardStrike {
        blow_times_s: times.take(blows).collect(),
        spread_s: 0.01,
        pitch_hz: 700.0,
    }
}

fn found(cycle: Cycle, strikes: Vec<HeardStrike>) -> Findings {
    let heard = Heard {
        seconds: 8_100.0,
        beats: beats(),
        foretold: 16_200,
        strikes,
        chimes: vec![Chime {
            notes: vec![(600.0, 1_320.0), (600.8, 1_176.0), (601.6, 1_056.0)],
        }],
        between: listen::Between::default(),
        levels: Levels::default(),
        full: false,
    };
    let expected = ExpectedClock {
        beats_per_hour: Some(7_200.0),
        arbors: vec![ArborTurn {
            name: "escape".to_owned(),
            turn_s: 60.0,
        }],
        cycle: Some(cycle),
        left_at_s: Some(10.3),
        arc_deg: Some(3.0),
        nut_mm: Some(0.5),
    };
    let mut found = find(heard, &expected, Recorder::default());
    found.warnings = vec![HeardWarning::Heard(300.0), HeardWarning::NotHeard];
    found
}

#[test]
fn what_a_long_recording_tells_is_as_its_schema_says() {
    let Some(python) = library::python("what a long recording tells against its schema") else {
        return;
    };
    let hours = found(
        Cycle::Hours,
        vec![struck(60.0, 3), struck(3_660.0, 6), struck(7_260.0, 5)],
    );
    let bells = found(Cycle::ShipsBells, vec![struck(60.0, 8), struck(1_860.0, 1)]);
    let object = |found| json!(ListenAnswer::of(found, SoundEnd::Whole));
    let mut wrong = object(&hours);
    wrong["beats"]["per_hour"] = json!("7200");
    let mut more = object(&hours);
    more["beats"]["per_minute"] = json!(120.0);
    let mut fewer = object(&hours);
    fewer.as_object_mut().expect("an object").remove("trundle");
    let asked = |object| json!({ "command": "listen", "object": object });
    let questions = [
        asked(object(&hours)),
        asked(object(&bells)),
        json!({ "command": "listen", "unseen": true }),
        asked(wrong),
        asked(more),
        asked(fewer),
    ];
    let folder = library::root().join("docs/schemas");
    let script = ["schemas.py", folder.to_str().expect("a path")];
    let answers = library::ask(&python, &script, &questions);
    assert_eq!(answers[0]["faults"], json!([]));
    assert_eq!(answers[1]["faults"], json!([]));
    assert_eq!(answers[2]["unseen"], json!([]));
    // What was put in wrong is found: another kind of value, a key that is not named, a key that is not there.
    for (planted, says) in answers[3..]
        .iter()
        .zip(["per_hour", "per_minute", "trundle"])
    {
        let faults = planted["faults"].to_string();
        assert!(faults.contains(says), "{says}: {faults}");
    }
}
