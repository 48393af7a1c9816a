//! What a sheet makes of a going train for listening: the whole published table of trains (`outside/beats.toml`), beats an hour.

use std::fmt::Write;
use std::path::Path;

/// A sheet of one going train, the centre arbor turning once an hour.
fn sheet(train: &toml::Table) -> String {
    let counts = |key: &str| -> Vec<i64> {
        let list = train[key].as_array().expect("a list").iter();
        list.map(|n| n.as_integer().expect("a count")).collect()
    };
    let (wheels, pinions) = (counts("wheels"), counts("pinions"));
    let names = ["centre", "second", "third", "escape"];
    let arbors: Vec<&str> = (0..wheels.len())
        .map(|k| names[k])
        .chain(["escape"])
        .collect();
    let mut text = "sheet = 1\nname = \"A train\"\nseen_from = \"front\"\n".to_owned();
    for (k, arbor) in arbors.iter().enumerate() {
        write!(text, "\n[arbor.{arbor}]\n").expect("text");
        if k == 0 {
            text.push_str("runs = \"clockwise\"\nturn_s = 3600\n");
        } else {
            writeln!(text, "pinion = {}", pinions[k - 1]).expect("text");
        }
        let teeth = wheels.get(k).copied();
        let escape = || train["escape"].as_integer().expect("a count");
        writeln!(text, "wheel = {}", teeth.unwrap_or_else(escape)).expect("text");
    }
    for pair in arbors.windows(2) {
        let (driver, driven) = (pair[0], pair[1]);
        writeln!(
            text,
            "\n[[mesh]]\ndriver = \"{driver}.wheel\"\ndriven = \"{driven}.pinion\""
        )
        .expect("text");
    }
    text
}

#[test]
fn every_printed_train_beats_as_often_as_it_must() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../outside/beats.toml");
    let table: toml::Table = std::fs::read_to_string(path)
        .expect("the table")
        .parse()
        .expect("TOML");
    let trains = table["train"].as_array().expect("trains");
    assert!(trains.len() >= 50);
    for train in trains {
        let train = train.as_table().expect("a train");
        let name = train["name"].as_str().expect("a name");
        let checked = tasks::check(sheet(train).as_bytes())
            .unwrap_or_else(|refused| panic!("{name}: {refused:?}"));
        let expected = tasks::listening::expected(&checked.movement);
        let beats = expected.beats_per_hour.expect("an escape wheel");
        let exact = train["beats_per_hour"].as_str().expect("exact");
        let (over, under) = exact.split_once('/').unwrap_or((exact, "1"));
        let number = |text: &str| text.parse::<f64>().expect("a number");
        let right = number(over) / number(under);
        assert!((beats / right - 1.0).abs() < 1e-12, "{name}: {beats}");
        // As printed, to a tenth of a beat a minute; the few the table marks as misprinted apart.
        let printed = &train["beats_per_minute"];
        if let Some(printed) = printed.as_str() {
            let off = (beats / 60.0 - number(printed)).abs();
            assert!(off <= 0.05 + 1e-9, "{name}: printed {printed}");
        }
        // The escape arbor's turns are those its beats make.
        let escape = expected.arbors.iter().find(|arbor| arbor.name == "escape");
        let teeth = train["escape"].as_integer().expect("a count") as f64;
        let turn_s = 7_200.0 * teeth / right;
        assert!((escape.expect("it turns").turn_s / turn_s - 1.0).abs() < 1e-12);
    }
}
