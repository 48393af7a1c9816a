//! Windows from the works against a follower of edges in Python (`tests/outside/windows.py`), which goes by small steps and shares nothing
//! with the search: of every sample that strikes, and of every kind with each of its choices, counted as is usual.

#[path = "../../fleet/tests/outside/mod.rs"]
mod outside;

use kinds::{AskedFor, CountState, Described, Kind, QuestionAnswer};
use movement::Movement;
use outside::{ask, python, root};
use quantity::Degrees;
use serde_json::{Value, json};
use strike::{WindowEnd, windows};

/// How near the ends must come, in degrees: the program outside tells them to a thousandth and takes the last place that is good.
const NEAR: f64 = 0.1;

const SAMPLES: [&str; 11] = [
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

fn unwritten(text: &str) -> String {
    let kept = text
        .lines()
        .filter(|line| !line.starts_with("window_deg") && !line.starts_with("best_deg"));
    kept.map(|line| format!("{line}\n")).collect()
}

/// A kind with an answer to one of its questions, every count as is usual.
fn made(kind: &Kind, answer: Option<(&str, &str)>) -> Option<String> {
    let mut described = Described::begin(&kind.id, "Wren Street", &[]).ok()?;
    if let Some((question, choice)) = answer {
        let choice = QuestionAnswer::Choice(choice.to_owned());
        described.answer(question, &choice).ok()?;
    }
    // A usual count follows what is counted before it.
    while let Some(open) =
        (described.places().into_iter()).find(|place| place.state == CountState::NotCounted)
    {
        let usual = open.usual.expect("a usual count");
        described.count(&open.id, CountState::Counted(usual)).ok()?;
    }
    Some(described.text())
}

/// The choices that alter how it strikes, not what is asked of the repair.
fn texts() -> Vec<(String, String)> {
    let mut texts: Vec<(String, String)> = SAMPLES
        .iter()
        .map(|name| {
            let path = root().join("movements").join(format!("{name}.toml"));
            let text = std::fs::read_to_string(path).expect(name);
            ((*name).to_owned(), unwritten(&text))
        })
        .collect();
    for kind in Kind::all() {
        let mut of_kind = vec![(kind.id.clone(), made(kind, None).expect("made"))];
        for question in &kind.questions {
            let AskedFor::Choice { choices, .. } = &question.asks else {
                continue;
            };
            for choice in choices {
                let name = format!("{}, {}={}", kind.id, question.id, choice.id);
                if let Some(text) = made(kind, Some((&question.id, &choice.id))) {
                    of_kind.push((name, text));
                }
            }
        }
        let same = |text: &str| -> Vec<String> {
            let works = text.lines().filter(|line| !line.starts_with("asked"));
            works.map(str::to_owned).collect()
        };
        let mut seen: Vec<Vec<String>> = Vec::new();
        of_kind.retain(|(_, text)| {
            let works = same(text);
            let new = !seen.contains(&works);
            if new {
                seen.push(works);
            }
            new
        });
        texts.extend(of_kind);
    }
    texts
}

/// The points that are named outside at an end: one, or several that fail there together.
fn points(named: &Value) -> Vec<u64> {
    match named.as_array() {
        Some(several) => several.iter().filter_map(Value::as_u64).collect(),
        None => named.as_u64().into_iter().collect(),
    }
}

fn agree(
    of: &str,
    end: &WindowEnd,
    meant: &Degrees,
    outside: &Value,
    side: &str,
) -> Option<String> {
    let ours = (&end.raw - meant).to_f64();
    let theirs = outside[side].as_f64()?;
    let point = u64::from(end.limit.as_ref()?.first()?.1.number());
    let named = points(&outside[format!("{side}_point")]);
    let near = (ours - theirs).abs() <= NEAR;
    (!near || !named.contains(&point))
        .then(|| format!("{of} {side}: {ours:.3} [{point}], outside {theirs:.3} {named:?}"))
}

#[test]
fn every_end_is_where_small_steps_find_it_and_by_the_same_point() {
    let Some(python) = python("windows against a follower of edges in Python") else {
        return;
    };
    let texts = texts();
    let questions: Vec<Value> = (texts.iter())
        .map(|(_, text)| json!({ "text": text }))
        .collect();
    let answers = ask(&python, &["windows.py"], &questions);
    let (mut ends, mut apart) = (0, Vec::new());
    for ((name, text), answer) in texts.iter().zip(&answers) {
        let movement: Movement = sheet::read(text.as_bytes()).expect(name).movement;
        let worked_out = match windows(&movement) {
            Ok(worked_out) => worked_out,
            Err(why) => {
                if answer.get("fault").is_none() {
                    apart.push(format!("{name}: {why}, outside {answer}"));
                }
                continue;
            }
        };
        for window in &worked_out.windows {
            let id = &movement.unjudged()[window.witness].id;
            let outside = &answer["witnesses"][id];
            let of = format!("{name}: {id}");
            match &window.ends {
                None if outside == "any" => {}
                None => apart.push(format!("{of}: any, outside {outside}")),
                Some([from, to]) => {
                    ends += 2;
                    apart.extend(agree(&of, from, &window.meant, outside, "from"));
                    apart.extend(agree(&of, to, &window.meant, outside, "to"));
                }
            }
        }
    }
    println!("{} movements, {ends} ends", texts.len());
    assert!(ends > 100, "only {ends} ends");
    assert!(apart.is_empty(), "{}", apart.join("\n"));
}
