//! Where the page's script has things stand: its module of places alone, run by Node, against figures worked by hand, against the
//! drawings and against sums written here anew.

use crate::browser::installed;
use crate::served::serve;
use draw::{View, loupe};
use fleet::dice;
use movement::Plate;
use quantity::Degrees;
use rand::RngExt;
use serde_json::{Value, json};
use std::f64::consts::{PI, TAU};
use std::io::Write;
use std::process::{Command, Stdio};

const MODULE: &str = include_str!("../../assets/script/places.js");

/// Imports the module from its own text, and calls its functions by name; what is no number is told by its name.
const RUN: &str = "let text = ''; for await (const piece of process.stdin) text += piece;
const { module, calls } = JSON.parse(text);
const places = await import('data:text/javascript,' + encodeURIComponent(module));
const told = calls.map(([name, ...given]) => places[name](...given)).map((x) => Number.isNaN(x) ? 'no number' : x);
process.stdout.write(JSON.stringify(told));";

/// What each call gives; nothing where there is no Node.
fn called(calls: &[Value]) -> Option<Vec<Value>> {
    let Some(node) = installed("node") else {
        assert!(
            std::env::var_os("TRUNDLE_PROVE").is_none(),
            "node is needed: it comes with npm"
        );
        println!("no node: not tried");
        return None;
    };
    let mut run = Command::new(node)
        .args(["--input-type=module", "--eval", RUN])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("it starts");
    let asked = json!({ "module": MODULE, "calls": calls }).to_string();
    let mut stdin = run.stdin.take().expect("its input");
    stdin.write_all(asked.as_bytes()).expect("asked");
    drop(stdin);
    let told = run.wait_with_output().expect("it ends");
    assert!(told.status.success(), "{}", told.status);
    Some(serde_json::from_slice(&told.stdout).expect("JSON"))
}

/// Whether two values are the same, numbers to a billionth of themselves or of one.
fn alike(one: &Value, other: &Value) -> bool {
    match (one, other) {
        (Value::Array(one), Value::Array(other)) => {
            one.len() == other.len() && one.iter().zip(other).all(|(a, b)| alike(a, b))
        }
        _ => match (one.as_f64(), other.as_f64()) {
            (Some(a), Some(b)) => (a - b).abs() <= 1e-9 * a.abs().max(1.0),
            _ => one == other,
        },
    }
}

fn holds(cases: &[(Value, Value)]) {
    let calls: Vec<Value> = cases.iter().map(|(call, _)| call.clone()).collect();
    let Some(told) = called(&calls) else { return };
    assert_eq!(told.len(), cases.len());
    for (told, (call, worked)) in told.iter().zip(cases) {
        assert!(alike(told, worked), "{call}: {told}, and not {worked}");
    }
}

/// Worked by hand. A quarter turn on a drawing, whose y grows downward, is clockwise from right to below.
#[test]
fn places_are_those_worked_by_hand() {
    let slides = json!({ "dx": 2, "dy": 0 });
    let turns = |turn: i32| json!({ "turn": turn, "cx": 10, "cy": 10 });
    let frame = json!({ "left": 100, "top": 50, "width": 200, "height": 100 });
    let own = json!({ "x": -10, "y": -10, "width": 20, "height": 10 });
    let rows = json!([
        { "from": 0, "to": 60, "left": 10, "top": 0, "wide": 600, "high": 20 },
        { "from": 60, "to": 90, "left": 10, "top": 30, "wide": 300, "high": 20 },
    ]);
    let looks = json!([[-1, "short"], [0.5, "in"], [null, "ahead"]]);
    // A tenth of the way round a triangle of ten and one, on either side of where angles begin anew: 2 atan(1/10).
    let over_the_cut = -11.421_186_274_999_286;
    holds(&[
        (json!(["clamped", 5, 0, 3]), json!(3)),
        (json!(["clamped", -1, 0, 3]), json!(0)),
        (json!(["clamped", 2, 0, 3]), json!(2)),
        (json!(["within", 190, -180, 360]), json!(-170)),
        (json!(["within", 180, -180, 360]), json!(-180)),
        (json!(["within", -180, -180, 360]), json!(-180)),
        (json!(["within", -0.5, 0, 30]), json!(29.5)),
        (json!(["within", 725, 0, 360]), json!(5)),
        (json!(["written", 12.30, 2]), json!("12.3")),
        (json!(["written", -0.04, 1]), json!("0")),
        (json!(["written", 2.5, 0]), json!("3")),
        (json!(["written", -1.25, 1]), json!("-1.3")),
        (json!(["written", 7, 0]), json!("7")),
        (json!(["typed", "−1,2°"]), json!(-1.2)),
        (json!(["typed", " 75.0 "]), json!(75)),
        (json!(["typed", "  "]), json!(null)),
        (json!(["typed", "about here"]), json!("no number")),
        (json!(["reaching", looks, -1]), json!([-1, "short"])),
        (json!(["reaching", looks, -0.9]), json!([0.5, "in"])),
        (json!(["reaching", looks, 4]), json!([null, "ahead"])),
        (json!(["shortest", 3, -3]), json!(2.0 * PI - 6.0)),
        (json!(["shortest", 0, PI / 2.0]), json!(PI / 2.0)),
        (json!(["carried", slides, [0, 0], [4, 7]]), json!(2)),
        (
            json!(["carried", { "dx": 0.6, "dy": -0.8 }, [1, 1], [1, 0]]),
            json!(0.8),
        ),
        (json!(["carried", turns(1), [20, 10], [10, 20]]), json!(90)),
        (
            json!(["carried", turns(-1), [20, 10], [10, 20]]),
            json!(-90),
        ),
        (
            json!(["carried", turns(1), [0, 11], [0, 9]]),
            json!(-over_the_cut),
        ),
        (
            json!(["carried", turns(1), [0, 9], [0, 11]]),
            json!(over_the_cut),
        ),
        (
            json!(["transform", turns(-1), 4]),
            json!("rotate(-4 10 10)"),
        ),
        (
            json!(["transform", { "dx": 2, "dy": -1 }, 1.5]),
            json!("translate(3 -1.5)"),
        ),
        (json!(["inDrawing", [150, 60], frame, own]), json!([-5, -9])),
        (json!(["poseAt", [0, 1, 1, 3], 0.25]), json!([0, 0.25])),
        (json!(["poseAt", [0, 1, 1, 3], 1]), json!([2, 0])),
        (json!(["poseAt", [0, 1, 1, 3], 2.5, 3]), json!([2, 0.75])),
        (json!(["poseAt", [0, 1, 1, 3], 3]), json!([3, 0])),
        (
            json!(["between", [0, 10], 0, 0.25, { "at": 5, "sense": -1 }]),
            json!(2.5),
        ),
        (
            json!(["between", [0, 10], 1, 0, { "at": 0, "sense": 1 }]),
            json!(10),
        ),
        (
            json!(["between", [0, 1], 0, 0.333_3, { "at": 0, "sense": 1 }]),
            json!(0.33),
        ),
        (json!(["sectionOf", [0, 5, 9], 8]), json!(1)),
        (json!(["sectionOf", [0, 5, 9], 9]), json!(2)),
        (json!(["sectionOf", [3, 5, 9], 0]), json!(0)),
        (json!(["onStrip", rows, 75]), json!([rows[1], 160])),
        (json!(["onStrip", rows, 90]), json!([rows[1], 310])),
        (json!(["heardAt", rows, [310, 5]]), json!(30)),
        (json!(["heardAt", rows, [310, 40]]), json!(90)),
        (json!(["heardAt", rows, [2, 99]]), json!(60)),
        (json!(["minutes", 59.9]), json!("0:59")),
        (json!(["minutes", 605]), json!("10:05")),
    ]);
}

/// The numbers of a tag's attribute, in their order.
fn numbers(text: &str) -> Vec<f64> {
    text.split(|c: char| !(c.is_ascii_digit() || ".-".contains(c)))
        .filter_map(|number| number.parse().ok())
        .collect()
}

/// What is drawn at a place, and what the script makes of what is drawn at nought, are the same, but for the figures that a drawing
/// has: a hundredth for a place, a thousandth for what a degree does.
#[test]
fn what_is_moved_stands_where_it_is_drawn() {
    let (mut moves, mut drawn) = (Vec::new(), Vec::new());
    for sheet in [
        &include_bytes!("../../../../movements/schoolroom.toml")[..],
        include_bytes!("../../../../movements/parlour.toml"),
    ] {
        let sheet = sheet::read(sheet).expect("a good sheet");
        let movement = &sheet.movement;
        for (id, _) in movement.witnesses() {
            for (plate, place) in [
                (Plate::Front, "-3.5"),
                (Plate::Back, "12.25"),
                (Plate::Back, "0"),
            ] {
                let view = View {
                    plate,
                    upside_down: false,
                };
                let place = Degrees::parse(place).expect("degrees");
                let svg = loupe(movement, id, &place, None, view).svg();
                let from = svg.find("class=\"moving").expect("what moves");
                let tag = svg[from..].split('>').next().expect("a tag");
                let of = |name: &str| -> Option<&str> {
                    tag.split_once(&format!(" {name}=\""))?.1.split('"').next()
                };
                let data = ["dx", "dy", "turn", "cx", "cy"]
                    .map(|name| (name, of(&format!("data-{name}"))));
                let data: serde_json::Map<String, Value> = (data.into_iter())
                    .filter_map(|(name, text)| Some((name.to_owned(), json!(text?))))
                    .collect();
                moves.push((data, place.to_f64()));
                drawn.push((
                    movement.witness(id).id.clone(),
                    of("transform").expect("its place").to_owned(),
                ));
            }
        }
    }
    assert!(drawn.len() >= 12, "{}", drawn.len());
    assert!(
        moves.iter().any(|(data, _)| data.contains_key("dx")),
        "one slides"
    );
    assert!(
        moves.iter().any(|(data, _)| data.contains_key("turn")),
        "one turns"
    );
    let calls: Vec<Value> = moves
        .iter()
        .map(|(data, _)| json!(["motion", data]))
        .collect();
    let Some(motions) = called(&calls) else {
        return;
    };
    let calls: Vec<Value> = (motions.iter().zip(&moves))
        .map(|(motion, (_, place))| json!(["transform", motion, place]))
        .collect();
    let moved = called(&calls).expect("it ran");
    for ((moved, (name, drawn)), (_, place)) in moved.iter().zip(&drawn).zip(&moves) {
        let moved = moved.as_str().expect("a text");
        assert_eq!(moved.split('(').next(), drawn.split('(').next(), "{name}");
        let (moved, drawn) = (numbers(moved), numbers(drawn));
        assert_eq!(moved.len(), drawn.len(), "{name}");
        for (a, b) in moved.iter().zip(&drawn) {
            let fine = 0.005 + 0.0005 * place.abs() + 1e-9;
            assert!((a - b).abs() <= fine, "{name}: {moved:?}, drawn {drawn:?}");
        }
    }
}

/// By chance, against sums written another way: the remainder of a division, and a search by halves.
#[test]
fn any_place_is_found_as_by_another_sum() {
    let mut chance = dice(41);
    let mut cases = Vec::new();
    for _ in 0..500 {
        let (x, least, period) = (
            chance.random_range(-2e3..2e3),
            chance.random_range(-200.0..0.0),
            chance.random_range(1.0..400.0),
        );
        let rest: f64 = x - least;
        cases.push((
            json!(["within", x, least, period]),
            json!(least + rest.rem_euclid(period)),
        ));
        let (from, to): (f64, f64) = (
            chance.random_range(-9.0..9.0),
            chance.random_range(-9.0..9.0),
        );
        let round = (to - from + PI).rem_euclid(TAU) - PI;
        cases.push((json!(["shortest", from, to]), json!(round)));
    }
    holds(&cases);
}

/// The table of a run: at any time each arbor stands straight between what it was at the poses around it.
#[test]
fn a_run_goes_straight_between_its_poses() {
    let served = serve(&[]);
    let table: Value = serde_json::from_str(&served.get("/job/1/strike/table").body).expect("JSON");
    let of = |column: &Value| -> Vec<f64> {
        let column = column.as_array().expect("a column").iter();
        column.map(|x| x.as_f64().expect("a number")).collect()
    };
    let seconds = of(&table["seconds"]);
    let arbors = table["arbors"].as_object().expect("arbors");
    let last = *seconds.last().expect("a run");
    let mut chance = dice(42);
    let times: Vec<f64> = (0..50).map(|_| chance.random_range(0.0..last)).collect();
    let calls: Vec<Value> = times
        .iter()
        .map(|at| json!(["poseAt", seconds, at, chance.random_range(0..seconds.len())]))
        .collect();
    let Some(poses) = called(&calls) else { return };
    let (mut calls, mut worked) = (Vec::new(), Vec::new());
    for (at, pose) in times.iter().zip(&poses) {
        let after = seconds.partition_point(|second| second <= at);
        let (before, after) = (after - 1, after);
        for column in arbors.values() {
            let column = of(column);
            let part = (at - seconds[before]) / (seconds[after] - seconds[before]);
            worked.push(100.0 - (column[before] * (1.0 - part) + column[after] * part));
            calls.push(json!(["between", column, pose[0], pose[1], { "at": 100, "sense": -1 }]));
        }
    }
    for (told, worked) in called(&calls).expect("it ran").iter().zip(&worked) {
        let told = told.as_f64().expect("a number");
        // Told to a hundredth.
        assert!(
            (told - worked).abs() <= 0.005 + 1e-9,
            "{told}, and not {worked}"
        );
    }
}
