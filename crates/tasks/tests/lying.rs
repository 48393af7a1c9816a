//! Where arbors lie: put there, told of, and read off photographs, of movements of several kinds and of a sheet with other names.

#[path = "../../fleet/tests/outside/mod.rs"]
mod outside;

use draw::{OnPlate, SamePoint, Similarity, View};
use entries::{Log, LogHeader};
use kinds::{CountState, Described};
use movement::{Fixing, FixtureKind, Plate};
use outside::{ask, python};
use serde_json::json;
use tasks::{
    Lying, NewStanding, Photograph, PlaceFault, PlaceRemark, Placeable, PlacingFault, RULE_FROM,
    RULE_TO, ScaleFrom, WAY_UP, lying,
};

/// Numbers without chance: a linear congruence (the constants are those of Numerical Recipes, from memory).
struct Dice(u32);

impl Dice {
    fn part(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(self.0 >> 8) / f64::from(1_u32 << 24)
    }

    fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.part()
    }
}

fn log() -> Log {
    Log::start(LogHeader {
        sheet: "Wren Street test".to_owned(),
        hash: String::new(),
    })
}

fn counted(kind: &str) -> Described {
    let mut sheet = Described::begin(kind, "Wren Street test", &[]).expect("begun");
    for place in sheet.places() {
        let usual = CountState::Counted(place.usual.expect("usual"));
        sheet.count(&place.id, usual).expect("there");
    }
    sheet
}

/// A train of other names, with a wheel that drives two pinions.
fn attic() -> Described {
    let sheet = "sheet = 1\nname = \"Wren Street loft clock\"\nseen_from = \"front\"\n\
        [arbor.low]\nrim = 90\nruns = \"clockwise\"\n\
        [arbor.mid_1]\nleaves = 9\nrim = 72\n[arbor.aside]\nleaves = 15\n\
        [arbor.top]\nleaves = 8\n\
        [[mesh]]\ndriver = \"low.rim\"\ndriven = \"mid_1.leaves\"\n\
        [[mesh]]\ndriver = \"low.rim\"\ndriven = \"aside.leaves\"\n\
        [[mesh]]\ndriver = \"mid_1.rim\"\ndriven = \"top.leaves\"\n";
    Described::read(sheet).expect("read")
}

fn of(sheet: &Described) -> Lying {
    lying(sheet, &log()).expect("it lies")
}

fn arbor(id: &str) -> Placeable {
    Placeable::Arbor(id.to_owned())
}

fn at(right: f64, up: f64) -> OnPlate {
    OnPlate::of(right, up).expect("a place")
}

fn put(sheet: &mut Described, what: &Placeable, place: OnPlate) -> Result<(), PlacingFault> {
    of(sheet).put(sheet, what, place, false)
}

fn is_near(one: OnPlate, other: OnPlate, off: f64) -> bool {
    (one.right.mm() - other.right.mm()).hypot(one.up.mm() - other.up.mm()) <= off
}

#[test]
fn a_similarity_is_what_a_library_makes_it() {
    let Some(python) = python("similarities") else {
        return;
    };
    let mut dice = Dice(11);
    let mut questions = Vec::new();
    let mut ours = Vec::new();
    for n in 0..60 {
        let scale = 10_f64.powf(dice.between(-1.0, 3.0));
        let pinned = SamePoint {
            from: [dice.part(), dice.part()],
            to: [dice.between(-200.0, 200.0), dice.between(-200.0, 200.0)],
        };
        let true_one = Similarity::turning(scale, dice.between(-3.1, 3.1), pinned);
        let points: Vec<SamePoint> = (0..2 + n % 7)
            .map(|_| {
                let from = [dice.part(), dice.part()];
                let [x, y] = true_one.of(from);
                let off = scale * 0.05;
                SamePoint {
                    from,
                    to: [x + dice.between(-off, off), y + dice.between(-off, off)],
                }
            })
            .collect();
        questions.push(json!(
            (points.iter())
                .map(|p| [p.from[0], p.from[1], p.to[0], p.to[1]])
                .collect::<Vec<_>>()
        ));
        ours.push((Similarity::fit(&points).expect("two points"), scale));
    }
    for ((fit, scale), theirs) in ours.iter().zip(ask(&python, &["similar.py"], &questions)) {
        let theirs: Vec<f64> = serde_json::from_value(theirs).expect("numbers");
        let [a, b, c, d] = theirs[..] else {
            panic!("{theirs:?}");
        };
        for [x, y] in [[0.0, 0.0], [1.0, 0.3]] {
            let [u, v] = fit.of([x, y]);
            let near = 1e-7 * (scale + c.abs() + d.abs());
            assert!((u - (a * x - b * y + c)).abs() < near, "{theirs:?} {fit:?}");
            assert!((v - (b * x + a * y + d)).abs() < near, "{theirs:?} {fit:?}");
        }
    }
}

#[test]
fn fewer_than_two_points_apart_tell_no_similarity() {
    let same = SamePoint {
        from: [0.4, 0.4],
        to: [3.0, 4.0],
    };
    assert_eq!(Similarity::fit(&[]), None);
    assert_eq!(Similarity::fit(&[same]), None);
    assert_eq!(Similarity::fit(&[same, same, same]), None);
}

#[test]
fn what_is_put_somewhere_is_drawn_there_from_either_plate() {
    for mut sheet in [counted("count wheel and cam"), counted("rack"), attic()] {
        let arbors: Vec<Placeable> = of(&sheet).things.iter().map(|t| t.what.clone()).collect();
        let first = arbors[0].clone();
        // The first that is put tells from where the others are told.
        put(&mut sheet, &arbors[1], at(-12.0, 40.5)).expect("put");
        let lies = of(&sheet);
        assert!(is_near(
            lies.find(&first).expect("there").at,
            at(0.0, 0.0),
            1e-9
        ));
        assert_eq!(lies.things.iter().filter(|thing| thing.said).count(), 2);
        for (n, what) in arbors.iter().enumerate() {
            let n = f64::from(u32::try_from(n).expect("few"));
            put(&mut sheet, what, at(20.0 - 31.0 * (n % 3.0), 27.0 * n)).expect("put");
        }
        let lies = of(&sheet);
        let movement = lies.movement();
        for (n, what) in arbors.iter().enumerate() {
            let n = f64::from(u32::try_from(n).expect("few"));
            let place = at(20.0 - 31.0 * (n % 3.0), 27.0 * n);
            assert!(is_near(lies.find(what).expect("there").at, place, 1e-9));
            let id = movement.find_arbor(what.id()).expect("there");
            let (right, down) = lies.layout.centre(id);
            assert!(is_near(at(right.mm(), -down.mm()), place, 1e-6));
        }
        let views = [Plate::Front, Plate::Back]
            .into_iter()
            .flat_map(|plate| [false, true].map(|upside_down| View { plate, upside_down }));
        for view in views {
            for thing in &lies.things {
                let drawn = lies.in_drawing(view, thing.at);
                let back = lies.of_drawing(view, drawn).expect("a place");
                assert!(is_near(back, thing.at, 1e-6), "{view:?}");
            }
            let x = |n: usize| lies.in_drawing(view, lies.things[n].at)[0];
            let right = |n: usize| lies.things[n].at.right.mm();
            let mirrored = (view.plate == movement.seen_from()) == view.upside_down;
            assert_eq!(
                (x(1) > x(0)) == (right(1) > right(0)),
                !mirrored,
                "{view:?}"
            );
        }
        // Taken away again, and nothing else with it.
        let before = sheet.text();
        let gone = &arbors[1];
        of(&sheet).away(&mut sheet, gone).expect("gone");
        assert!(!of(&sheet).find(gone).expect("there").said);
        put(&mut sheet, gone, lies.find(gone).expect("there").at).expect("put");
        assert_eq!(of(&sheet).things, lies.things, "{before}");
    }
}

/// A sheet on which every arbor stands where it meshes, and no distance is measured.
fn laid() -> Described {
    let mut sheet = attic();
    let lies = of(&sheet);
    for thing in &lies.things {
        put(&mut sheet, &thing.what, thing.at).expect("put");
    }
    sheet
}

#[test]
fn what_cannot_be_is_told_and_what_can_is_not() {
    let mut sheet = laid();
    assert_eq!(of(&sheet).remarks, []);
    let top = of(&sheet).find(&arbor("aside")).expect("there").at;
    // The wheel that drives two pinions has one module: one of its arbors a fifth too far off is told by name.
    let low = of(&sheet).find(&arbor("low")).expect("there").at;
    let far = |part: f64| {
        at(
            low.right.mm() + part * (top.right.mm() - low.right.mm()),
            low.up.mm() + part * (top.up.mm() - low.up.mm()),
        )
    };
    for (part, told) in [(1.2, true), (0.8, true), (1.02, false), (0.98, false)] {
        put(&mut sheet, &arbor("aside"), far(part)).expect("put");
        let remarks = of(&sheet).remarks;
        let names = remarks.iter().any(|remark| {
            matches!(remark, PlaceRemark::Unreached { arbors, .. } if arbors.contains(&"low".to_owned()))
        });
        assert_eq!(names, told, "{part}: {remarks:?}");
    }
    put(&mut sheet, &arbor("aside"), top).expect("put");
    // Two that do not mesh on one spot are told, two that do are refused.
    let mid = of(&sheet).find(&arbor("mid_1")).expect("there").at;
    put(&mut sheet, &arbor("aside"), mid).expect("put");
    assert!(
        of(&sheet)
            .remarks
            .iter()
            .any(|r| matches!(r, PlaceRemark::OneSpot(_)))
    );
    let before = sheet.text();
    let refused = put(&mut sheet, &arbor("mid_1"), low);
    assert!(matches!(
        refused,
        Err(PlacingFault::Place(PlaceFault::OneSpot(..)))
    ));
    let refused = put(&mut sheet, &arbor("mid_1"), at(3000.0, 0.0));
    assert!(matches!(
        refused,
        Err(PlacingFault::Place(PlaceFault::OffPlate))
    ));
    let refused = put(&mut sheet, &arbor("none"), mid);
    assert!(matches!(
        refused,
        Err(PlacingFault::Place(PlaceFault::NoSuch(_)))
    ));
    assert_eq!(sheet.text(), before);
}

#[test]
fn a_measured_distance_tells_a_place_that_does_not_fit_it() {
    let mut sheet = laid();
    let lies = of(&sheet);
    let [low, mid] = ["low", "mid_1"].map(|id| lies.find(&arbor(id)).expect("there").at);
    let apart = (low.right.mm() - mid.right.mm()).hypot(low.up.mm() - mid.up.mm());
    for (measured, told) in [(apart, false), (1.15 * apart, true)] {
        let text = sheet.text().replacen(
            "driven = \"mid_1.leaves\"\n",
            &format!("driven = \"mid_1.leaves\"\ncentre_mm = {measured:.2}\n"),
            1,
        );
        let remarks = of(&Described::read(&text).expect("read")).remarks;
        assert_eq!(!remarks.is_empty(), told, "{remarks:?}");
    }
    sheet = Described::read(&sheet.text()).expect("read");
    assert!(!of(&sheet).is_about());
}

#[test]
fn pillars_squares_and_bells_stand_there_and_go() {
    let mut sheet = laid();
    let half = quantity::fraction(1, 2);
    let news = [
        NewStanding::Pillar(Fixing::Nut, Some(half.clone())),
        NewStanding::Pillar(Fixing::Pin, Some(half)),
        NewStanding::Fixture(FixtureKind::WindingSquare, None),
        NewStanding::Fixture(FixtureKind::Bell, Some(quantity::whole(90))),
    ];
    let mut stood = Vec::new();
    for (n, new) in (0_u32..).zip(&news) {
        let place = at(60.0, 10.0 * f64::from(n));
        let what = of(&sheet).stand(&mut sheet, new, place).expect("stands");
        assert!(is_near(
            of(&sheet).find(&what).expect("there").at,
            place,
            1e-9
        ));
        stood.push(what);
    }
    let ids: Vec<&str> = stood.iter().map(Placeable::id).collect();
    assert_eq!(ids, ["pillar_1", "pillar_2", "square_1", "bell_1"]);
    let text = sheet.text();
    assert_eq!(
        text.matches("pitch_mm").count(),
        1,
        "a pin has no pitch\n{text}"
    );
    let read = sheet::read(text.as_bytes()).expect("it reads").movement;
    assert_eq!(read.frame().pillars.len(), 2);
    assert_eq!(read.frame().fixtures.len(), 2);
    let drawing = draw::scene(
        &read,
        &draw::layout(&read, &[]),
        View::of_sheet(&read),
        &draw::Pose::default(),
        &draw::Marks::default(),
    );
    let svg = drawing.svg();
    for id in ids {
        assert!(svg.contains(&format!("data-standing=\"{id}\"")), "{id}");
    }
    for what in &stood {
        of(&sheet).away(&mut sheet, what).expect("gone");
    }
    let gone = sheet.text();
    assert!(
        !gone.contains("pillar") && !gone.contains("fixture"),
        "{gone}"
    );
}

/// A photograph of a plate, and where its camera had each centre.
fn photographed(lies: &Lying, plate: Plate, turn: f64) -> Photograph {
    let mirrored = plate != lies.movement().seen_from();
    let mut photograph = Photograph::new(4, plate, 0.75);
    // A width of 160 mm, the movement's middle a little off that of the picture.
    let lens = Similarity::turning(
        1.0 / 160.0,
        turn,
        SamePoint {
            from: [3.0, -40.0],
            to: [0.52, 0.4],
        },
    );
    for thing in &lies.things {
        let right = thing.at.right.mm();
        let seen = [if mirrored { -right } else { right }, -thing.at.up.mm()];
        let spot = lens.of(seen);
        photograph.touched.insert(thing.what.word(), spot);
    }
    photograph
}

/// Every arbor at its place, but for what all places share: where they are told from, and how they are turned and scaled.
fn alike(lies: &Lying, truth: &Lying) -> Similarity {
    let points: Vec<SamePoint> = (lies.things.iter())
        .map(|thing| {
            let there = truth.find(&thing.what).expect("there").at;
            SamePoint {
                from: [thing.at.right.mm(), -thing.at.up.mm()],
                to: [there.right.mm(), -there.up.mm()],
            }
        })
        .collect();
    let fit = Similarity::fit(&points).expect("several");
    for point in &points {
        let [x, y] = fit.of(point.from);
        let off = (x - point.to[0]).hypot(y - point.to[1]);
        assert!(off < 0.15 * fit.scale().max(1.0), "off by {off}");
    }
    fit
}

#[test]
fn places_follow_from_a_photograph_of_either_plate_as_its_size_is_known() {
    let truth = of(&laid());
    for plate in [Plate::Front, Plate::Back] {
        for turn in [0.0, 0.4, -1.3] {
            // Nothing is known: as the drawing has it, about.
            let mut photograph = photographed(&truth, plate, turn);
            let mut sheet = attic();
            let found = photograph.worked_out(&of(&sheet), false).expect("found");
            assert_eq!(found.scale, ScaleFrom::Drawn);
            photograph
                .taken(&of(&sheet), &mut sheet, false)
                .expect("taken");
            let lies = of(&sheet);
            assert!(lies.is_about());
            assert!(lies.things.iter().all(|thing| thing.said));
            let fit = alike(&lies, &truth);
            assert!((fit.scale() - 1.0).abs() < 0.01, "{}", fit.scale());
            let turned = if plate == Plate::Front { -turn } else { turn };
            assert!(
                (fit.turn() - turned).abs() < 0.01,
                "{} {turned}",
                fit.turn()
            );
            // Where up was touched, it is turned upright.
            let up = [0.5 - (-turn).sin() * 0.3, 0.375 - turn.cos() * 0.3];
            photograph.touched.insert(WAY_UP.to_owned(), up);
            let mut upright = attic();
            photograph
                .taken(&of(&upright), &mut upright, false)
                .expect("taken");
            assert!(alike(&of(&upright), &truth).turn().abs() < 0.01);
            // Two ends and their distance: twice what it was makes everything twice as large.
            photograph.touched.insert(RULE_FROM.to_owned(), [0.1, 0.1]);
            photograph.touched.insert(RULE_TO.to_owned(), [0.1, 0.6]);
            photograph.rule_mm = Some(160.0);
            let mut ruled = attic();
            photograph
                .taken(&of(&ruled), &mut ruled, false)
                .expect("taken");
            assert!(!of(&ruled).is_about());
            assert!((alike(&of(&ruled), &truth).scale() - 0.5).abs() < 0.01);
        }
    }
}

#[test]
fn a_second_photograph_is_laid_on_the_places_that_are_known() {
    let truth = of(&laid());
    let mut sheet = laid();
    let away = arbor("top");
    of(&sheet).away(&mut sheet, &away).expect("gone");
    let mut photograph = photographed(&truth, Plate::Back, 2.0);
    let found = photograph.worked_out(&of(&sheet), false).expect("found");
    assert_eq!(found.scale, ScaleFrom::Places);
    let [(what, place)] = &found.places[..] else {
        panic!("{:?}", found.places);
    };
    assert_eq!(*what, away);
    assert!(is_near(*place, truth.find(&away).expect("there").at, 0.2));
    let (_, off) = found.worst.expect("three were known");
    assert!(off.mm() < 0.2);
    // One touched 8 mm beside its centre: three are known, and it is told that something is off.
    let spot = photograph.touched.get_mut("arbor.aside").expect("touched");
    spot[0] += 8.0 / 160.0;
    let found = photograph.worked_out(&of(&sheet), false).expect("found");
    assert!(found.worst.expect("three").1.mm() > 1.5);
}

#[test]
fn a_photograph_that_tells_too_little_is_refused() {
    let lies = of(&attic());
    let mut photograph = Photograph::new(4, Plate::Front, 0.75);
    let refused =
        |photograph: &Photograph| photograph.worked_out(&lies, false).expect_err("too little");
    assert_eq!(refused(&photograph), PlaceFault::TooFew(0));
    photograph.touch("arbor.low", [0.5, 0.6]).expect("touched");
    assert_eq!(refused(&photograph), PlaceFault::TooFew(1));
    assert_eq!(
        photograph.touch("arbor.mid_1", [0.5, 0.76]),
        Err(PlaceFault::OffPlate)
    );
    assert_eq!(
        photograph.touch("arbor.mid_1", [-0.01, 0.2]),
        Err(PlaceFault::OffPlate)
    );
    assert!(matches!(
        photograph.touch("arbor.mid_1", [0.501, 0.6]),
        Err(PlaceFault::OneSpot(..))
    ));
    // Two that do not mesh tell no size.
    photograph.touch("arbor.top", [0.5, 0.2]).expect("touched");
    assert_eq!(refused(&photograph), PlaceFault::TooFew(2));
    photograph.skip("arbor.top");
    assert_eq!(photograph.touched.len(), 1);
    photograph
        .touch("arbor.mid_1", [0.5, 0.4])
        .expect("touched");
    assert!(photograph.worked_out(&lies, false).is_ok());
}

/// Every drawing of a movement, from either plate.
fn all_drawn(sheet: &Described) -> String {
    let lies = of(sheet);
    let movement = lies.movement();
    let mut all = String::new();
    for plate in [Plate::Front, Plate::Back] {
        let view = View {
            plate,
            upside_down: false,
        };
        let (pose, marks) = (draw::Pose::default(), draw::Marks::default());
        all += &draw::scene(movement, &lies.layout, view, &pose, &marks).svg();
        all += &draw::running(movement, &lies.layout, view, &pose).svg();
        all += &draw::counting(movement, &lies.layout, view, &draw::CountMarks::default()).svg();
    }
    all
}

#[test]
fn odd_places_are_drawn_all_the_same() {
    let mut dice = Dice(5);
    for kind in ["count wheel and cam", "rack"] {
        for odd in 0..12 {
            let mut text = counted(kind).text();
            for thing in &of(&counted(kind)).things {
                // All on one spot, all in a line, at the ends of the plate, or anywhere; some have no place.
                let [right, up] = match odd {
                    0 => [0.0, 0.0],
                    1 => [7.0, dice.between(0.0, 90.0).round()],
                    2 => [[-2000.0, 2000.0][usize::from(dice.part() < 0.5)], 2000.0],
                    _ => [dice.between(-90.0, 90.0), dice.between(-90.0, 90.0)],
                };
                if odd > 6 && dice.part() < 0.4 {
                    continue;
                }
                let table = format!("[arbor.{}]\n", thing.what.id());
                let placed = format!("{table}at_mm = [{right:.1}, {up:.1}]\n");
                assert!(text.contains(&table), "{table}");
                text = text.replacen(&table, &placed, 1);
            }
            let sheet = Described::read(&text).expect("read");
            let drawn = all_drawn(&sheet);
            for wrong in ["NaN", "inf"] {
                assert!(!drawn.contains(wrong), "{kind}, {odd}");
            }
        }
    }
}

/// A movement placed by eye, twice as large as it is, with a pillar.
fn too_large() -> (Described, f64) {
    let mut sheet = attic();
    let drawn = of(&sheet);
    let [low, mid] = ["low", "mid_1"].map(|id| drawn.find(&arbor(id)).expect("there").at);
    let apart = (low.right.mm() - mid.right.mm()).hypot(low.up.mm() - mid.up.mm());
    drawn
        .put(&mut sheet, &arbor("low"), at(0.0, 0.0), true)
        .expect("put");
    of(&sheet)
        .put(&mut sheet, &arbor("mid_1"), at(0.0, 2.0 * apart), true)
        .expect("put");
    let pillar = NewStanding::Pillar(Fixing::Pin, None);
    of(&sheet)
        .stand(&mut sheet, &pillar, at(40.0, -30.0))
        .expect("it stands");
    (sheet, apart)
}

#[test]
fn places_that_are_about_come_to_a_distance_that_is_measured_later() {
    let (mut sheet, apart) = too_large();
    assert!(of(&sheet).is_about());
    assert_eq!(of(&sheet).sizes(), None, "nothing is measured");
    let measured = quantity::parse_number(&format!("{apart:.1}")).expect("a number");
    sheet
        .edit(|text| {
            let mesh = sheet::edit::TableAt::Nth(sheet::SheetTable::Mesh, 0);
            text.set(
                &mesh,
                "centre_mm",
                &sheet::edit::SheetValue::Decimal(measured),
            )
        })
        .expect("measured");
    let by = of(&sheet).sizes().expect("it sizes them");
    assert!((by - 0.5).abs() < 0.01, "{by}");
    of(&sheet).size(&mut sheet).expect("sized");
    let sized = of(&sheet);
    assert!(!sized.is_about() && sized.sizes().is_none());
    let there = |what: &Placeable| sized.find(what).expect("there").at;
    assert!(is_near(there(&arbor("mid_1")), at(0.0, apart), 0.1));
    let pillar = Placeable::Pillar("pillar_1".to_owned());
    assert!(is_near(there(&pillar), at(40.0 * by, -30.0 * by), 0.1));
}

#[test]
fn what_fixes_a_pillar_is_told_otherwise() {
    let (mut sheet, _) = too_large();
    let pillar = Placeable::Pillar("pillar_1".to_owned());
    let pitch = quantity::fraction(1, 2);
    for (fixing, given, stands) in [
        (Fixing::Nut, Some(&pitch), Some(&pitch)),
        (Fixing::Screw, None, None),
        // A pin has no turns.
        (Fixing::Pin, Some(&pitch), None),
    ] {
        let lying = of(&sheet);
        lying.fix(&mut sheet, &pillar, fixing, given).expect("told");
        let lying = of(&sheet);
        assert_eq!(lying.fixed(&pillar), Some((fixing, stands)));
        assert!(is_near(
            lying.find(&pillar).expect("there").at,
            at(40.0, -30.0),
            0.1
        ));
    }
    let none = of(&sheet).fix(&mut sheet, &arbor("low"), Fixing::Nut, None);
    assert!(matches!(
        none,
        Err(PlacingFault::Place(PlaceFault::NoSuch(_)))
    ));
}
