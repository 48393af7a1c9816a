//! The study as text.

use super::bench::What;
use super::hands::Went;
use super::study::{Calibration, Condition, Figures, Tally, Who};

/// All tables of a study.
pub fn told(tallies: &[Tally]) -> String {
    let conditions = distinct(tallies, |tally| tally.condition);
    let players = distinct(tallies, |tally| tally.who);
    let mut text = String::new();
    for times in distinct(tallies, |tally| tally.condition.times) {
        let mut rows = vec![cells(&[
            "wrong way",
            "slip",
            "player",
            "mean",
            "95th",
            "worst",
            "of the bound",
            "looks",
            "false dones",
            "by its own chances",
            "put aside",
        ])];
        for condition in conditions.iter().filter(|c| same(c.times, times)) {
            for &who in &players {
                let of = tallies
                    .iter()
                    .filter(|t| t.condition == *condition && t.who == who);
                rows.push(row(condition, who, &Figures::of(of)));
            }
        }
        if rows.len() > 1 {
            text += &format!(
                "\nOpenings, all fleets, readings {}\n{}",
                seen(times),
                aligned(&rows)
            );
            text += &fleets_told(tallies, times, &conditions, &players);
        }
    }
    text + &said_told(tallies, &conditions)
}

fn fleets_told(tallies: &[Tally], times: f64, conditions: &[Condition], players: &[Who]) -> String {
    let mut rows = vec![cells(&["fleet", "movements", "wrong way", "slip"])];
    rows[0].extend(
        players
            .iter()
            .flat_map(|who| [name(*who).to_owned(), "looks".to_owned()]),
    );
    for fleet in distinct(tallies, |tally| tally.fleet) {
        for condition in conditions.iter().filter(|c| same(c.times, times)) {
            let of = |who| {
                (tallies.iter())
                    .filter(move |t| t.fleet == fleet && t.condition == *condition && t.who == who)
            };
            let movements = Figures::of(of(Who::Bound)).movements;
            let mut row = vec![
                fleet.to_owned(),
                movements.to_string(),
                hundredths(condition.hands.wrong_way),
            ];
            row.push(hundredths(condition.hands.slip));
            row.extend(players.iter().flat_map(|who| {
                let figures = Figures::of(of(*who));
                [
                    format!("{:.3}", figures.mean),
                    format!("{:.1}", figures.looks),
                ]
            }));
            rows.push(row);
        }
    }
    format!(
        "\nMean openings and looks of each fleet, readings {}\n{}",
        seen(times),
        aligned(&rows)
    )
}

/// A kind of what is said: its name, and what is of it.
type Kind = (&'static str, fn(What) -> bool);

/// What was said with 85 to 95 in 100; nothing where no player said anything.
fn said_told(tallies: &[Tally], conditions: &[Condition]) -> String {
    let mut rows = vec![cells(&[
        "what",
        "readings",
        "wrong way",
        "slip",
        "times said",
        "said with",
        "was so",
        "standard error",
    ])];
    for condition in conditions {
        let of = || tallies.iter().filter(|t| t.condition == *condition);
        let kinds: [Kind; 6] = [
            ("in window now", |what| what == What::InNow),
            ("in window after", |what| what == What::InAfter),
            ("went as said", |what| {
                matches!(what, What::Hand(_, Went::AsSaid))
            }),
            ("went the other way", |what| {
                matches!(what, What::Hand(_, Went::OtherWay))
            }),
            ("slipped", |what| {
                matches!(what, What::Hand(_, Went::Slipped))
            }),
            ("all of it", |_| true),
        ];
        for (kind, fits) in kinds {
            let found = Calibration::of(of(), |said| fits(said.what));
            if found.said > 0 {
                let n = f64::from(found.said);
                let so = f64::from(found.so) / n;
                rows.push(vec![
                    kind.to_owned(),
                    seen(condition.times),
                    hundredths(condition.hands.wrong_way),
                    hundredths(condition.hands.slip),
                    found.said.to_string(),
                    format!("{:.1} %", 100.0 * found.chances / n),
                    format!("{:.1} %", 100.0 * so),
                    format!("{:.1} %", 100.0 * (so * (1.0 - so) / n).sqrt()),
                ]);
            }
        }
    }
    if rows.len() == 1 {
        return String::new();
    }
    format!(
        "\nWhat was said with a chance of 85 to 95 %\n{}",
        aligned(&rows)
    )
}

fn row(condition: &Condition, who: Who, figures: &Figures) -> Vec<String> {
    vec![
        hundredths(condition.hands.wrong_way),
        hundredths(condition.hands.slip),
        name(who).to_owned(),
        format!("{:.3}", figures.mean),
        figures.most_of_95.to_string(),
        figures.worst.to_string(),
        match who {
            Who::Bound => format!("plan {:.3} ± {:.3}", figures.plan.0, figures.plan.1),
            Who::Tool | Who::First | Who::Resting | Who::Trial => {
                format!("{:.3} ± {:.3}", figures.ratio, figures.ratio_error)
            }
        },
        format!("{:.1}", figures.looks),
        figures.false_dones.to_string(),
        match who {
            Who::Tool | Who::First | Who::Resting => format!("{:.1}", figures.doubted),
            Who::Bound | Who::Trial => String::new(),
        },
        figures.put_aside.to_string(),
    ]
}

fn name(who: Who) -> &'static str {
    match who {
        Who::Bound => "the bound",
        Who::Tool => "this tool",
        Who::First => "each the first",
        Who::Resting => "read at rest",
        Who::Trial => "trial and error",
    }
}

fn seen(times: f64) -> String {
    if same(times, 1.0) {
        "as stated".to_owned()
    } else if same(times, 2.0) {
        "twice as bad as stated".to_owned()
    } else if same(times, 0.5) {
        "half as bad as stated".to_owned()
    } else {
        format!("{times} times as bad as stated")
    }
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

fn hundredths(chance: f64) -> String {
    format!("{:.0} %", 100.0 * chance)
}

fn cells(words: &[&str]) -> Vec<String> {
    words.iter().map(|word| (*word).to_owned()).collect()
}

fn distinct<T: PartialEq>(tallies: &[Tally], of: impl Fn(&Tally) -> T) -> Vec<T> {
    let mut found = Vec::new();
    for tally in tallies {
        let one = of(tally);
        if !found.contains(&one) {
            found.push(one);
        }
    }
    found
}

/// Columns as wide as their widest cell: words to the left, figures to the right.
fn aligned(rows: &[Vec<String>]) -> String {
    let width = |c: usize| {
        rows.iter()
            .filter_map(|row| row.get(c))
            .map(|cell| cell.chars().count())
            .max()
            .unwrap_or(0)
    };
    let wordy = |c: usize| {
        rows.iter()
            .skip(1)
            .filter_map(|row| row.get(c))
            .all(|cell| cell.starts_with(char::is_alphabetic))
    };
    let mut text = String::new();
    for row in rows {
        let line: Vec<String> = (row.iter().enumerate())
            .map(|(c, cell)| {
                if wordy(c) {
                    format!("{cell:<0$}", width(c))
                } else {
                    format!("{cell:>0$}", width(c))
                }
            })
            .collect();
        text += "  ";
        text += line.join("  ").trim_end();
        text.push('\n');
    }
    text
}
