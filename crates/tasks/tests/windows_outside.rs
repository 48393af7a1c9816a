//! Windows from the works against a follower of edges in Python (`tests/outside/windows.py`), which goes by small steps and shares nothing
//! with the search: of every sample that strikes, and of every kind with each of its choices, counted as is usual.

#[path = "../../fleet/tests/outside/mod.rs"]
mod outside;

#[path = "unwritten/mod.rs"]
mod written_off;

use kinds::{AskedFor, Kind};
use movement::{ArborId, FallBy, Movement};
use outside::{ask, python, root};
use quantity::{Degrees, Exact, fraction, parse_number, to_f64};
use serde_json::{Value, json};
use sheet::SheetTable;
use sheet::edit::{SheetText, SheetValue, TableAt};
use std::path::Path;
use std::sync::LazyLock;
use strike::{WindowEnd, Windows, windows};
use written_off::{SAMPLES, made, unwritten};

/// How near the ends must come, in degrees: the program outside tells them to a thousandth and takes the last place that is good.
const NEAR: f64 = 0.1;

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

/// What of the ends that were worked out lies otherwise than outside; and how many ends there were.
fn apart(
    name: &str,
    movement: &Movement,
    worked_out: &Windows,
    answer: &Value,
) -> (usize, Vec<String>) {
    let (mut ends, mut apart) = (0, Vec::new());
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
    (ends, apart)
}

fn told_apart(python: &Path, texts: &[(String, String)]) -> (usize, Vec<String>) {
    let questions: Vec<Value> = (texts.iter())
        .map(|(_, text)| json!({ "text": text }))
        .collect();
    let answers = ask(python, &["windows.py"], &questions);
    let (mut ends, mut all) = (0, Vec::new());
    for ((name, text), answer) in texts.iter().zip(&answers) {
        let movement: Movement = sheet::read(text.as_bytes()).expect(name).movement;
        match windows(&movement) {
            Ok(worked_out) => {
                let (of_one, apart) = apart(name, &movement, &worked_out, answer);
                ends += of_one;
                all.extend(apart);
            }
            Err(_) if answer.get("fault").is_some() => {}
            Err(why) => all.push(format!("{name}: {why}, outside {answer}")),
        }
    }
    (ends, all)
}

#[test]
fn every_end_is_where_small_steps_find_it_and_by_the_same_point() {
    let Some(python) = python("windows against a follower of edges in Python") else {
        return;
    };
    let texts = texts();
    let (ends, apart) = told_apart(&python, &texts);
    println!("{} movements, {ends} ends", texts.len());
    assert!(ends > 100, "only {ends} ends");
    assert!(apart.is_empty(), "{}", apart.join("\n"));
}

/// Chance from a seed, the same each time (the mixing of Steele, Lea and Flood, 2014, from memory).
struct Seeded(u64);

impl Seeded {
    /// A number from 0 to 1.
    fn part(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// Widths and heights of the works, by the table they stand in.
const PROPORTIONS: [(SheetTable, &[&str]); 3] = [
    (
        SheetTable::Track,
        &["slot_deg", "ramp_deg", "rise_deg", "hold_deg"],
    ),
    (SheetTable::Pin, &["at_deg"]),
    (
        SheetTable::Lever,
        &[
            "tip_deg",
            "lift_deg",
            "below_deg",
            "above_deg",
            "further_deg",
        ],
    ),
];

/// The same works with every proportion other, to the tenth of a degree: widths and heights by up to a third, places by up to eight
/// degrees.
fn varied(text: &str, seeded: &mut Seeded) -> String {
    let mut sheet = SheetText::new(text).expect("a sheet");
    for (table, keys) in PROPORTIONS {
        for nth in 0..sheet.tables(table).len() {
            let at = TableAt::Nth(table, nth);
            for key in keys {
                let other = |n: &Exact, part: f64| {
                    let n = to_f64(n);
                    let other = match *key {
                        "at_deg" | "further_deg" => n + 16.0 * (part - 0.5),
                        _ => n * (0.67 + 0.66 * part),
                    };
                    parse_number(&format!("{other:.1}")).expect("a number")
                };
                let value = match sheet.get(&at, key) {
                    Some(SheetValue::List(all)) => {
                        let part = seeded.part();
                        let each = all.iter().filter_map(SheetValue::number);
                        SheetValue::List(
                            each.map(|n| SheetValue::Decimal(other(&n, part))).collect(),
                        )
                    }
                    Some(one) => match one.number() {
                        Some(n) => SheetValue::Decimal(other(&n, seeded.part())),
                        None => continue,
                    },
                    None => continue,
                };
                sheet.set(&at, key, &value).expect("set");
            }
        }
    }
    sheet.text()
}

/// So many movements of varied proportions that strike right as they are: of every kind but the one with quarters, with each of its
/// choices in turn.
fn many_varied(many: usize) -> Vec<(String, String)> {
    let of_kinds: Vec<(String, String)> = (texts().into_iter())
        .filter(|(name, _)| !SAMPLES.contains(&name.as_str()) && !name.starts_with("quarters"))
        .collect();
    let mut seeded = Seeded(20_261_201);
    let mut all = Vec::new();
    let mut tried = 0;
    while all.len() < many {
        let (name, text) = &of_kinds[tried % of_kinds.len()];
        tried += 1;
        let text = varied(text, &mut seeded);
        let Ok(read) = sheet::read(text.as_bytes()) else {
            continue;
        };
        if strike::strike(&read.movement, &[], false).is_ok_and(|struck| struck.is_right()) {
            all.push((format!("{name}, varied {tried}"), text));
        }
    }
    all
}

/// `TRUNDLE_WINDOWS` says how many movements of varied proportions are tried; 12 where it does not.
#[test]
fn with_other_proportions_ends_lie_where_small_steps_find_them_and_every_corner_is_good() {
    let Some(python) = python("windows of other proportions, in Python") else {
        return;
    };
    let asked = std::env::var("TRUNDLE_WINDOWS").ok();
    let many = asked.map_or(12, |many| many.parse().expect("a number"));
    let texts = many_varied(many);
    let (ends, mut apart) = told_apart(&python, &texts);
    let corners = corners(&texts);
    let answers = ask(
        &python,
        &["windows.py"],
        &corners.iter().map(|(_, q)| q.clone()).collect::<Vec<_>>(),
    );
    for ((name, corner), answer) in corners.iter().zip(&answers) {
        if answer["good"] != true {
            apart.push(format!(
                "{name}: not good at {corner}: {answer}",
                corner = corner["good"]
            ));
        }
    }
    println!("{many} movements, {ends} ends, {} corners", corners.len());
    assert!(apart.is_empty(), "{}", apart.join("\n"));
}

/// Two corners that lie across the box of each movement's windows, as so many degrees turned on from where the sheet has them.
fn corners(texts: &[(String, String)]) -> Vec<(String, Value)> {
    let mut all = Vec::new();
    for (nth, (name, text)) in texts.iter().enumerate() {
        let movement = sheet::read(text.as_bytes()).expect(name).movement;
        let Ok(worked_out) = windows(&movement) else {
            continue;
        };
        // An arbor is turned as one: of several witnesses on it the narrowest room counts.
        let mut rooms: Vec<(ArborId, String, [Degrees; 2])> = Vec::new();
        for window in worked_out
            .windows
            .iter()
            .filter(|window| window.is_judged())
        {
            let witness = &movement.unjudged()[window.witness];
            let [from, to] = [&window.from, &window.to].map(|end| end - &window.meant);
            match rooms.iter_mut().find(|(on, ..)| *on == witness.on) {
                Some((_, _, room)) => {
                    *room = [from.max(room[0].clone()), to.min(room[1].clone())];
                }
                None => rooms.push((witness.on, witness.id.clone(), [from, to])),
            }
        }
        for across in [nth, !nth] {
            let end = |(n, (_, id, room)): (usize, &(ArborId, String, [Degrees; 2]))| {
                (id.clone(), json!(room[across >> n & 1].to_f64()))
            };
            let good: serde_json::Map<String, Value> = rooms.iter().enumerate().map(end).collect();
            all.push((name.clone(), json!({ "text": text, "good": good })));
        }
    }
    all
}

/// An end of a window moves with a width of the works as far as small steps find it to.
#[test]
fn how_surely_an_end_is_known_is_what_a_little_more_of_a_width_does_outside() {
    let Some(python) = python("how far ends move with a width, in Python") else {
        return;
    };
    let mut questions = Vec::new();
    let mut ours = Vec::new();
    let kinds = ["count wheel and cam", "count wheel outside", "rack"];
    for kind in Kind::all()
        .iter()
        .filter(|kind| kinds.contains(&kind.id.as_str()))
    {
        let text = made(kind, None).expect("made");
        let movement = sheet::read(text.as_bytes()).expect("a sheet").movement;
        let worked_out = windows(&movement).expect("windows");
        for window in &worked_out.windows {
            let widths = ["slot_deg", "tip_deg", "rise_deg"];
            let mut widths = window
                .rests_on
                .iter()
                .filter(|f| widths.contains(&f.key.as_str()));
            let Some(figure) = widths.next() else {
                continue;
            };
            let id = movement.unjudged()[window.witness].id.clone();
            let name = format!("{}: {id} by {}.{}", kind.id, figure.of, figure.key);
            let mut measured = SheetText::new(&text).expect("a sheet");
            let at = [SheetTable::Track, SheetTable::Lever]
                .map(|table| TableAt::Named(table, figure.of.clone()));
            let at = at
                .into_iter()
                .find(|at| measured.get(at, &figure.key).is_some())
                .expect("it stands");
            let width = measured
                .get(&at, &figure.key)
                .and_then(|width| width.number())
                .expect("a number");
            let usual = match measured.get(&at, "usual") {
                Some(SheetValue::List(keys)) => keys,
                _ => Vec::new(),
            };
            let usual: Vec<SheetValue> = (usual.into_iter())
                .filter(|key| key.text() != Some(&figure.key))
                .collect();
            measured
                .set(&at, "usual", &SheetValue::List(usual))
                .expect("set");
            let little = SheetValue::Decimal(LITTLE.clone());
            let spread = SheetValue::Table(vec![(figure.key.clone(), little)]);
            measured.set(&at, "spread_deg", &spread).expect("set");
            // Of all that is usual nothing is left, so that only what was measured is told.
            let only = measured.text();
            let only: String = only
                .lines()
                .filter(|line| !line.starts_with("usual"))
                .map(|line| format!("{line}\n"))
                .collect();
            let movement = sheet::read(only.as_bytes()).expect("a sheet").movement;
            let again = windows(&movement).expect("windows");
            ours.push((name, id, again.windows[window.witness].spread.to_f64()));
            measured
                .set(&at, &figure.key, &SheetValue::Decimal(width + &*LITTLE))
                .expect("set");
            questions.extend([json!({ "text": text }), json!({ "text": measured.text() })]);
        }
    }
    let answers = ask(&python, &["windows.py"], &questions);
    for ((name, id, spread), pair) in ours.iter().zip(answers.chunks(2)) {
        let moved = ["from", "to"].map(|end| {
            let at = |answer: &Value| answer["witnesses"][id][end].as_f64().expect("an end");
            (at(&pair[1]) - at(&pair[0])).abs()
        });
        let most = moved[0].max(moved[1]);
        assert!(
            (most - spread).abs() < 0.02,
            "{name}: {spread}, outside {moved:?}"
        );
    }
    assert!(ours.len() > 4, "only {}", ours.len());
}

/// By so much a width is made greater.
static LITTLE: LazyLock<Exact> = LazyLock::new(|| fraction(1, 5));

/// A sheet with a pace: seconds from blow to blow, and those of the lever's fall where they were measured, each with its spread.
fn paced(text: &str, blow: [&str; 2], fall: Option<[&str; 2]>) -> String {
    let mut sheet = SheetText::new(text).expect("a sheet");
    let strike = TableAt::One(SheetTable::Strike);
    let mut set = |key: &str, number: &str| {
        let number = SheetValue::Decimal(parse_number(number).expect("a number"));
        sheet.set(&strike, key, &number).expect("set");
    };
    let [is, spread] = blow;
    set("pace_s", is);
    set("pace_spread_s", spread);
    if let Some([is, spread]) = fall {
        set("fall_s", is);
        set("fall_spread_s", spread);
    }
    sheet.text()
}

/// Ends of windows beyond which a pin comes too soon after the lever began to fall, with what is known of that.
fn too_soon(windows: &Windows) -> impl Iterator<Item = (usize, FallBy)> {
    let all = windows.windows.iter().enumerate();
    all.filter_map(|(nth, window)| Some((nth, window.fall_by()?)))
}

#[test]
fn with_a_pace_a_pin_needs_as_far_as_it_goes_while_the_lever_falls() {
    let Some(python) = python("windows by a measured pace, in Python") else {
        return;
    };
    let paces = [
        (["2.4", "0.1"], None),
        (["0.9", "0.05"], None),
        (["1.25", "0.05"], Some(["0.11", "0.01"])),
    ];
    let mut texts = Vec::new();
    let mut by_pace = 0;
    for kind in Kind::all() {
        let text = made(kind, None).expect("made");
        for (blow, fall) in paces {
            let text = paced(&text, blow, fall);
            let movement = sheet::read(text.as_bytes()).expect("a sheet").movement;
            if let Ok(windows) = windows(&movement) {
                let by = match fall {
                    Some(_) => FallBy::PaceAndFall,
                    None => FallBy::Pace,
                };
                by_pace += too_soon(&windows).filter(|(_, is)| *is == by).count();
            }
            texts.push((format!("{}, {blow:?} {fall:?}", kind.id), text));
        }
    }
    let (ends, apart) = told_apart(&python, &texts);
    println!("{ends} ends, {by_pace} windows by the pace");
    assert!(by_pace >= 5, "only {by_pace} windows are bounded by it");
    assert!(apart.is_empty(), "{}", apart.join("\n"));
}

/// What of a window hangs on the pace is as much as small steps find it to move with a pace that is a spread quicker.
#[test]
fn how_surely_a_pace_is_known_goes_into_the_window() {
    let Some(python) = python("how far ends move with a pace, in Python") else {
        return;
    };
    let mut questions = Vec::new();
    let mut ours = Vec::new();
    let falls = ["0.06", "0.11", "0.14", "0.18"];
    for (kind, fall) in Kind::all()
        .iter()
        .flat_map(|kind| falls.map(|fall| (kind, fall)))
    {
        let made = made(kind, None).expect("made");
        let measured: String = made
            .lines()
            .filter(|line| !line.starts_with("usual"))
            .map(|line| format!("{line}\n"))
            .collect();
        let with = |blow: &str| paced(&measured, [blow, "0.05"], Some([fall, "0"]));
        let text = with("1.25");
        let movement = sheet::read(text.as_bytes()).expect("a sheet").movement;
        let Ok(worked_out) = windows(&movement) else {
            continue;
        };
        let exact = paced(&measured, ["1.25", "0"], Some([fall, "0"]));
        let exact = sheet::read(exact.as_bytes()).expect("a sheet").movement;
        let exact = windows(&exact).expect("windows");
        let by_pace = |(nth, by): (usize, FallBy)| (by == FallBy::PaceAndFall).then_some(nth);
        for nth in too_soon(&worked_out).filter_map(by_pace) {
            assert_eq!(exact.windows[nth].spread, Degrees::zero(), "{}", kind.id);
            let window = &worked_out.windows[nth];
            let id = movement.unjudged()[window.witness].id.clone();
            ours.push((kind.id.clone(), id, window.spread.to_f64()));
            questions.extend([json!({ "text": text }), json!({ "text": with("1.20") })]);
        }
    }
    let answers = ask(&python, &["windows.py"], &questions);
    let mut hang = 0;
    for ((name, id, spread), pair) in ours.iter().zip(answers.chunks(2)) {
        let moved = ["from", "to"].map(|end| {
            let at = |answer: &Value| answer["witnesses"][id][end].as_f64().expect("an end");
            (at(&pair[1]) - at(&pair[0])).abs()
        });
        let most = moved[0].max(moved[1]);
        // However quick the pace, no more is asked: then nothing hangs on it.
        if most == 0.0 {
            assert!(*spread == 0.0, "{name}, {id}: {spread}");
            continue;
        }
        hang += 1;
        // A part of 1.25 is not quite the same part of 1.20, and ends are told to a thousandth.
        assert!(
            *spread > 0.0 && (most / spread - 1.0).abs() < 0.06,
            "{name}, {id}: {spread}, outside {moved:?}"
        );
    }
    assert!(hang >= 2, "only {hang} of {}", ours.len());
}
