//! The belief: what looks, shifts and accidents do to it, and what is advised.

use entries::{EntryKind, Log, LogHeader};
use movement::Movement;
use quantity::Degrees;
use std::collections::BTreeMap;
use timing::{Act, Bench, Eye, Priors, ShiftWay};

fn sheet(name: &str) -> Movement {
    let path = format!("{}/../../movements/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read(path).expect("sample sheet");
    sheet::read(&text).expect("good sheet").movement
}

fn log(lines: &[&str]) -> Log {
    let mut text = "{\"trundle_log\":1,\"sheet\":\"x\",\"hash\":\"0\"}\n".to_owned();
    for (n, line) in lines.iter().enumerate() {
        text += &format!("{{\"n\":{},{line}}}\n", n + 1);
    }
    Log::read(text.as_bytes()).expect("a good log").0
}

const SHORT: &str = r#""kind":"look","tension":"tensioned","readings":[{"witness":"slot","deg":"-1.2"},{"witness":"star","deg":"-10"},{"witness":"pin","deg":"-75"}]"#;
const BEST: &str = r#""kind":"look","tension":"tensioned","readings":[{"witness":"slot","deg":"0"},{"witness":"star","deg":"0"},{"witness":"pin","deg":"-75"}]"#;
const TWO: &str = r#""kind":"shift","mesh":"second.wheel>third.pinion","teeth":2"#;

#[test]
fn a_look_says_what_to_shift_and_a_shift_done_says_done() {
    let movement = sheet("schoolroom");
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    assert_eq!(bench.ways(), 8 * 2 * 7);
    let recalled = bench.recall(&log(&[SHORT])).expect("a belief");
    let advice = bench.advise_on(&recalled);
    let Act::Shift(shifts) = &advice.act else {
        panic!("{advice:?}");
    };
    assert_eq!(shifts.len(), 1);
    assert_eq!(
        movement.mesh_name(shifts[0].mesh),
        "second.wheel>third.pinion"
    );
    assert_eq!((shifts[0].teeth, shifts[0].way), (2, ShiftWay::Ahead));
    assert!(advice.in_window.get() < 0.01);
    // A slip of one tooth leaves all in as well; only the other way does not.
    assert!((0.89..0.91).contains(&advice.after.get()), "{advice:?}");
    let recalled = bench.recall(&log(&[SHORT, TWO, BEST])).expect("a belief");
    let advice = bench.advise_on(&recalled);
    assert_eq!(advice.act, Act::Done, "{advice:?}");
    assert!(advice.in_window.get() > 0.98);
    assert_eq!(recalled.openings, 1);
    assert!(recalled.handled[0].as_said.get() > 0.9);
}

#[test]
fn what_is_seen_after_a_shift_tells_that_it_went_the_other_way() {
    let movement = sheet("schoolroom");
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    // Two teeth short to begin with, four after.
    let worse = r#""kind":"look","tension":"tensioned","readings":[{"witness":"slot","deg":"-2.3"},{"witness":"star","deg":"-20"},{"witness":"pin","deg":"-75"}]"#;
    let recalled = bench.recall(&log(&[SHORT, TWO, worse])).expect("a belief");
    assert!(
        recalled.handled[0].other_way.get() > 0.9,
        "{:?}",
        recalled.handled
    );
    let Act::Shift(shifts) = bench.advise_on(&recalled).act else {
        panic!("a shift");
    };
    assert_eq!(shifts[0].teeth, 4);
    // Said by the one who did it, it needs no look.
    let told = bench
        .recall(&log(&[SHORT, TWO, r#""kind":"other_way","of":2"#]))
        .expect("a belief");
    let star = movement.find_witness("star").expect("star");
    let places = bench.places_of(&told.belief, star);
    let (likeliest, _) = places
        .iter()
        .max_by(|a, b| a.1.get().total_cmp(&b.1.get()))
        .expect("one");
    assert!(
        (likeliest.to_f64().abs() - 20.0).abs() < 1e-9,
        "{likeliest:?}"
    );
}

#[test]
fn beliefs_add_up_and_undo_is_exact() {
    let movement = sheet("quay");
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    let look = r#""kind":"look","tension":"slack","readings":[{"witness":"slot","deg":"0.4"},{"witness":"vane","deg":"30"}]"#;
    let shift = r#""kind":"shift","mesh":"lifting.wheel>locking.pinion","teeth":-1"#;
    let jumped = r#""kind":"jumped","arbor":"warning""#;
    let all = bench
        .recall(&log(&[look, shift, look, jumped]))
        .expect("a belief");
    for (id, _) in movement.witnesses() {
        let sum: f64 = bench
            .places_of(&all.belief, id)
            .iter()
            .map(|(_, c)| c.get())
            .sum();
        assert!((sum - 1.0).abs() < 1e-9, "{sum}");
    }
    let undone = bench
        .recall(&log(&[
            look,
            shift,
            look,
            jumped,
            r#""kind":"undo","of":4"#,
            r#""kind":"undo","of":2"#,
            r#""kind":"undo","of":3"#,
        ]))
        .expect("a belief");
    let plain = bench.recall(&log(&[look])).expect("a belief");
    assert_eq!(
        format!("{:?}", undone.belief),
        format!("{:?}", plain.belief)
    );
}

#[test]
fn a_wheel_that_jumped_out_is_anywhere_and_must_be_read() {
    let movement = sheet("schoolroom");
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    let recalled = bench
        .recall(&log(&[BEST, r#""kind":"jumped","arbor":"fourth""#]))
        .expect("a belief");
    let pin = movement.find_witness("pin").expect("pin");
    let places = bench.places_of(&recalled.belief, pin);
    assert_eq!(places.len(), 7);
    assert!(
        places
            .iter()
            .all(|(_, chance)| (chance.get() - 1.0 / 7.0).abs() < 1e-9)
    );
    let Act::Look(at) = bench.advise_on(&recalled).act else {
        panic!("a look");
    };
    assert_eq!(at.first(), Some(&pin));
}

#[test]
fn what_cannot_be_read_is_refused_with_its_reason() {
    let movement = sheet("schoolroom");
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    for (lines, expected) in [
        (
            vec![r#""kind":"struck","hour":12"#, SHORT],
            "LongSlot { n: 2, witness: \"slot\", hour: 12 }",
        ),
        (
            vec![r#""kind":"arbor_out","arbor":"count""#, SHORT],
            "ArborOut { n: 2, witness: \"slot\", arbor: \"count\" }",
        ),
        (
            vec![r#""kind":"jumped","arbor":"counter""#],
            "UnknownName { n: 1, name: \"counter\" }",
        ),
        (
            vec![r#""kind":"polished","arbor":"count""#],
            "UnknownKind { n: 1, kind: \"polished\" }",
        ),
    ] {
        let fault = bench.recall(&log(&lines)).expect_err(expected);
        assert_eq!(format!("{fault:?}"), expected);
    }
    let star = r#""kind":"look","tension":"tensioned","readings":[{"witness":"star","deg":"0"}]"#;
    let long = bench
        .recall(&log(&[r#""kind":"struck","hour":1"#, star]))
        .expect("a belief");
    assert_eq!(long.readable.len(), 2, "the slot is not asked for");
}

#[test]
fn a_bent_lever_shows_in_what_no_meshing_can_give() {
    let movement = sheet("schoolroom");
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    let odd = r#""kind":"look","tension":"tensioned","readings":[{"witness":"slot","deg":"1.15"},{"witness":"star","deg":"0"},{"witness":"pin","deg":"-75"}]"#;
    let recalled = bench.recall(&log(&[odd, odd])).expect("a belief");
    let slot = movement.find_witness("slot").expect("slot");
    let (_, chance) = recalled
        .bent
        .iter()
        .find(|(id, _)| *id == slot)
        .expect("slot");
    assert!(chance.get() > 0.5, "{:?}", recalled.bent);
    let sound = bench.recall(&log(&[SHORT, SHORT])).expect("a belief");
    assert!(
        sound.bent.iter().all(|(_, chance)| chance.get() < 0.05),
        "{:?}",
        sound.bent
    );
}

#[test]
fn arbors_go_in_from_the_power_up_the_pin_late_and_the_fly_last() {
    let movement = sheet("schoolroom");
    let all: Vec<_> = movement.arbors().map(|(id, _)| id).collect();
    let names = |steps: &[timing::OrderStep]| -> Vec<String> {
        steps
            .iter()
            .map(|s| movement.arbor(s.arbor).id.clone())
            .collect()
    };
    let steps = timing::order(&movement, &all).steps;
    assert_eq!(
        names(&steps),
        ["great", "second", "third", "count", "fourth", "fly"]
    );
    let settled: Vec<usize> = steps.iter().map(|s| s.settles.len()).collect();
    // The third settles the star, the count wheel its slot, the fourth its pin; for the others any tooth will do.
    assert_eq!(settled, [0, 0, 1, 1, 1, 0]);
    assert!(timing::order(&movement, &[]).steps.is_empty());
}

#[test]
fn the_same_log_gives_the_same_figures_to_the_last() {
    let movement = sheet("halfpast");
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    let _ = LogHeader {
        sheet: String::new(),
        hash: String::new(),
    };
    let mut book = log(&[]);
    for i in 0..10 {
        let line = format!(
            r#"{{"n":{},"kind":"look","tension":"tensioned","readings":[{{"witness":"pins","deg":"{}.5"}},{{"witness":"stop","deg":"-11{i}"}}]}}"#,
            2 * i + 1,
            i % 4
        );
        book = Log::read(format!("{}{line}\n", book.text()).as_bytes())
            .expect("good")
            .0;
        book.append(
            &EntryKind::Jumped {
                arbor: "fly".into(),
            },
            None,
        )
        .expect("good");
    }
    let once = bench.recall(&book).expect("a belief");
    let again = Bench::of(&movement, Priors::default())
        .expect("few")
        .recall(&book)
        .expect("a belief");
    assert_eq!(format!("{:?}", once.belief), format!("{:?}", again.belief));
}

/// The quarter clock without some of its witnesses: few enough ways that both trains can be thought of together.
fn two_trains() -> Movement {
    let path = format!(
        "{}/../../movements/quarters.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    let text = std::fs::read_to_string(path).expect("sample sheet");
    let (before, _) = text.split_once("# Levers and tracks").expect("levers");
    let blocks = before.split("[[witness]]");
    let left_out = ["id = \"notes\"", "id = \"hour\""];
    let kept = blocks.filter(|block| !left_out.iter().any(|id| block.contains(id)));
    let text = kept.collect::<Vec<_>>().join("[[witness]]");
    sheet::read(text.as_bytes()).expect("good sheet").movement
}

/// Looks and a shift of the chime's train, and of the other.
const CHIME: &[&str] = &[
    r#""kind":"look","tension":"tensioned","readings":[{"witness":"chime_pin","deg":"-45"}]"#,
    r#""kind":"shift","mesh":"chime_locking.wheel>chime_warning.pinion","teeth":-1"#,
    r#""kind":"look","tension":"tensioned","readings":[{"witness":"chime_pin","deg":"-90"}]"#,
];
const HOURS: &[&str] = &[
    r#""kind":"look","tension":"tensioned","readings":[{"witness":"tail","deg":"5.6"}]"#,
    r#""kind":"look","tension":"tensioned","readings":[{"witness":"pin","deg":"-180"}]"#,
];

/// Holds what is believed of witnesses of one train alone against what is believed of them beside the other.
fn alike_beside_the_other(
    movement: &Movement,
    priors: Priors,
    entries: &Log,
    witnesses: &[&str],
) -> usize {
    let both = Bench::of(movement, priors).expect("few places");
    let together = both.recall(entries).expect("a belief");
    let first = movement.find_witness(witnesses[0]).expect("a witness");
    let train = movement.train_of(movement.witness(first).on);
    let one = Bench::of_train(movement, train, priors).expect("few places");
    let alone = one.recall(entries).expect("a belief");
    assert_eq!(one.timed().len(), witnesses.len());
    for name in witnesses {
        let id = movement.find_witness(name).expect("a witness");
        let of = |bench: &Bench<'_>, recalled: &timing::Recalled| -> BTreeMap<Degrees, f64> {
            let places = bench.places_of(&recalled.belief, id).into_iter();
            places
                .map(|(place, chance)| (place, chance.get()))
                .collect()
        };
        let (a, b) = (of(&one, &alone), of(&both, &together));
        assert!(a.values().any(|chance| *chance > 0.9), "{name}: {a:?}");
        for place in a.keys().chain(b.keys()) {
            let at = |places: &BTreeMap<Degrees, f64>| places.get(place).copied().unwrap_or(0.0);
            // One in ten thousand is left open at each look, for both trains at once where they are together.
            let apart = (at(&a) - at(&b)).abs();
            assert!(apart < 2e-4, "{name} at {place:?}: {a:?} {b:?}");
        }
    }
    one.ways()
}

#[test]
fn a_train_by_itself_is_believed_as_beside_the_other() {
    let movement = two_trains();
    let chime = &["chime_pin"][..];
    let hours = &["tail", "pin"][..];
    // With the eye as it is learned, what is read of one train alone.
    let learned = Priors::default();
    let ways = alike_beside_the_other(&movement, learned, &log(CHIME), chime)
        * alike_beside_the_other(&movement, learned, &log(HOURS), hours);
    let both = Bench::of(&movement, learned).expect("few places");
    assert_eq!(ways, both.ways());
    // What one train shows of the eye holds for the other as well, and so it must: where both are read, only a known eye leaves
    // them apart.
    let known = Priors {
        eye: Eye::as_said(),
        ..learned
    };
    let look = r#""kind":"look","tension":"tensioned","readings":[{"witness":"chime_pin","deg":"-45"},{"witness":"tail","deg":"5.6"}]"#;
    let entries = log(&[look, CHIME[1], CHIME[2], HOURS[1]]);
    for witnesses in [chime, hours] {
        alike_beside_the_other(&movement, known, &entries, witnesses);
    }
}

/// A pin read again and again, at these places.
fn looks_at_the_pin(places: &[&str]) -> Log {
    let lines: Vec<String> = (places.iter())
        .map(|at| {
            format!(
                r#""kind":"look","tension":"tensioned","readings":[{{"witness":"pin","deg":"{at}","spread":"3"}}]"#
            )
        })
        .collect();
    log(&lines.iter().map(String::as_str).collect::<Vec<_>>())
}

#[test]
fn looks_that_repeat_each_other_show_a_fine_eye_and_looks_that_scatter_a_rough_one() {
    let movement = sheet("schoolroom");
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    let times = |places: &[&str]| {
        let recalled = bench.recall(&looks_at_the_pin(places)).expect("a belief");
        recalled.belief.eye().times()
    };
    let before = bench.start().eye().times();
    let fine = times(&["-75", "-74", "-76", "-75.5", "-74.5", "-75"]);
    let rough = times(&["-75", "-58", "-90", "-65", "-95", "-72"]);
    assert!(fine < 0.75 * before, "{fine} {before}");
    assert!(rough > 1.5 * before, "{rough} {before}");
    // So much surer is it of the same mean.
    let in_window = |places: &[&str]| {
        let recalled = bench.recall(&looks_at_the_pin(places)).expect("a belief");
        bench.in_window(&recalled.belief).get()
    };
    assert!(in_window(&["-95", "-96", "-94"]) > in_window(&["-95", "-118", "-72"]));
}

#[test]
fn a_rough_eye_is_no_bent_lever_nor_a_bent_lever_a_rough_eye() {
    let movement = sheet("schoolroom");
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    let pin = movement.find_witness("pin").expect("pin");
    let bent = |places: &[&str]| {
        let recalled = bench.recall(&looks_at_the_pin(places)).expect("a belief");
        let chance = recalled.bent.iter().find(|(id, _)| *id == pin);
        (chance.expect("pin").1.get(), recalled)
    };
    // Half way between two places, 51 degrees apart, six times alike; and about one place, but far off either way.
    let (alike, _) = bent(&["-49", "-50", "-48.5", "-49.5", "-50.5", "-49"]);
    let (scattered, recalled) = bent(&["-75", "-50", "-95", "-62", "-99", "-72"]);
    assert!(alike > 0.5, "{alike}");
    assert!(scattered < 0.1, "{scattered}");
    // The next job of the book begins with what this one showed, and with no more of it than a rough eye.
    let next = Eye::after(&[recalled.eye]);
    assert!(next.times() > 1.5 * Eye::default().times(), "{next:?}");
    let (_, recalled) = bent(&["-49", "-50", "-48.5", "-49.5", "-50.5", "-49"]);
    assert!(Eye::after(&[recalled.eye]).times() < Eye::default().times());
}

#[test]
fn a_log_that_grows_comes_to_the_same_gone_on_with_or_gone_over_anew() {
    let movement = sheet("schoolroom");
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    let short = r#""kind":"look","tension":"slack","readings":[{"witness":"slot","deg":"-1.1"},{"witness":"star","deg":"-9"}]"#;
    let lines = [
        SHORT,
        short,
        TWO,
        BEST,
        short,
        r#""kind":"other_way","of":3"#,
        SHORT,
        r#""kind":"slipped","mesh":"third.wheel>fourth.pinion","teeth":1"#,
        r#""kind":"shift","meshes":[{"mesh":"second.wheel>third.pinion","teeth":-1},{"mesh":"third.wheel>fourth.pinion","teeth":2}]"#,
        BEST,
        r#""kind":"note","says":"A cup of tea.""#,
        r#""kind":"jumped","arbor":"fourth""#,
        SHORT,
        r#""kind":"undo","of":13"#,
        BEST,
        r#""kind":"bent","witness":"pin","deg":"10","spread":"3""#,
        SHORT,
        r#""kind":"undo","of":16"#,
        BEST,
        r#""kind":"undo","of":18"#,
        r#""kind":"arbor_out","arbor":"fly""#,
        SHORT,
    ];
    let mut before = bench.recall(&log(&[])).expect("a belief");
    for n in 1..=lines.len() {
        let log = log(&lines[..n]);
        let further = bench.recall_further(&log, &before).expect("a belief");
        let anew = bench.recall(&log).expect("a belief");
        assert_eq!(
            format!("{further:?}"),
            format!("{anew:?}"),
            "{}",
            lines[n - 1]
        );
        before = further;
    }
}
