//! The figures that are held to be so: all told, each with its reason, and the page of them made of the table.

use assert_cmd::Command;
use serde_json::Value;

fn told(how: &[&str]) -> String {
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .arg("assumptions")
        .args(how)
        .output()
        .expect("runs");
    assert!(
        output.status.success() && output.stderr.is_empty(),
        "{output:?}"
    );
    String::from_utf8(output.stdout).expect("UTF-8")
}

#[test]
fn the_page_is_made_of_the_table() {
    let page = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/assumptions.md");
    let page = std::fs::read_to_string(page).unwrap_or_default();
    let made = told(&["--markdown"]);
    assert!(
        page == made,
        "docs/assumptions.md is not what `trundle assumptions --markdown` says; write it anew:\n{made}"
    );
}

/// No row without words of its own, none twice, and in all three tellings the same rows.
#[test]
fn every_row_has_its_words() {
    let object: Value = serde_json::from_str(&told(&["--json"])).expect("JSON");
    let rows = object["assumed"].as_array().expect("rows");
    assert!(rows.len() > 40, "{}", rows.len());
    let (text, page) = (told(&[]), told(&["--markdown"]));
    let mut seen = std::collections::BTreeSet::new();
    for row in rows {
        let word = |key: &str| row[key].as_str().unwrap_or_default();
        assert!(seen.insert(word("id")), "{} twice", word("id"));
        for key in ["what", "why", "unit", "holds"] {
            assert!(
                word(key).len() > 1 || key == "unit",
                "{}: no {key}",
                word("id")
            );
            assert_ne!(word(key), "?", "{}: no {key}", word("id"));
        }
        assert!(
            text.contains(word("what")) && text.contains(word("why")),
            "{row}"
        );
        assert!(page.contains(&format!("| `{}` |", word("id"))), "{row}");
        assert!(row["value"].as_f64().is_some_and(|x| x > 0.0), "{row}");
    }
    // What a remesh goes by: the same figures.
    for (id, value) in [
        ("wrong-way", 0.10),
        ("slip", 0.03),
        ("hold", 0.5),
        ("bent", 0.02),
    ] {
        let row = rows.iter().find(|row| row["id"] == id).expect("there");
        assert_eq!(row["value"].as_f64(), Some(value), "{id}");
    }
    assert_eq!(
        rows.iter().find(|row| row["id"] == "hold").expect("there")["holds"],
        "with-log"
    );
}
