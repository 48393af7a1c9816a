//! Every published figure of a danger stands, word for word, in the caution that warns of it.

use report::Locale;
use report::page::cautions::danger;
use serde::Deserialize;
use tasks::ShiftDanger;

#[derive(Deserialize)]
struct Rows {
    row: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    name: String,
    source: String,
    mark: String,
    caution: String,
    says: String,
}

#[test]
fn cautions_say_what_is_published() {
    let rows: Rows = toml::from_str(include_str!("../../../outside/hazards.toml")).expect("rows");
    assert!(rows.row.len() >= 12);
    for row in rows.row {
        let of = match row.caution.as_str() {
            "mercury" => ShiftDanger::Mercury,
            "luminous" => ShiftDanger::Luminous,
            "ammonia" => ShiftDanger::Ammonia,
            "solvents" => ShiftDanger::Solvents,
            other => panic!("no caution `{other}`"),
        };
        let said = danger(&Locale::default(), &of);
        assert!(
            said.contains(&row.says),
            "{}: `{}` is not in: {said}",
            row.name,
            row.says
        );
        assert!(!row.source.is_empty() && ["seen", "computed"].contains(&row.mark.as_str()));
    }
}
