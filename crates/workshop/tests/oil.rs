//! The plan of the oil: each arbor once, thin where it is fast, nothing on teeth, and a hole at its limit told.

use quantity::{Known, Length};
use workshop::oil::{Dry, Lubricant, Much, OilStage, State, Surroundings, Where, bead, plan};

fn movement(text: &str) -> movement::Movement {
    sheet::read(text.as_bytes()).expect("good").movement
}

const MANTEL: &str = include_str!("../../../movements/mantel.toml");

#[test]
fn every_arbor_is_oiled_once_and_faster_ones_never_thicker() {
    for text in [
        MANTEL,
        include_str!("../../../movements/schoolroom.toml"),
        include_str!("../../../movements/parlour.toml"),
        include_str!("../../../movements/quay.toml"),
    ] {
        let movement = movement(text);
        let plan = plan(&movement, State::Clean, Surroundings::Lived, &[]);
        let mut last: Option<(usize, Lubricant)> = None;
        let mut oiled = Vec::new();
        for step in &plan.steps {
            if let Where::Stud(arbor) = step.place {
                oiled.push(arbor);
            }
            let Where::Pivots(arbor) = step.place else {
                continue;
            };
            oiled.push(arbor);
            let train = movement.train_of(arbor);
            if let Some((before, kind)) = last
                && before == train
            {
                assert!(
                    step.kind >= kind,
                    "{} {:?}",
                    movement.arbor(arbor).id,
                    step.kind
                );
            }
            last = Some((train, step.kind));
        }
        oiled.sort_unstable();
        let all: Vec<_> = movement.arbors().map(|(id, _)| id).collect();
        assert_eq!(oiled, all);
        assert!(plan.steps.is_sorted_by_key(|step| step.stage));
        assert_eq!(plan.dry[0], Dry::Teeth(movement.meshes().len()));
        assert!(plan.look.value.as_days() < plan.again.value.as_days());
    }
}

#[test]
fn a_rack_and_a_count_wheel_stay_dry() {
    let parlour = movement(include_str!("../../../movements/parlour.toml"));
    assert!(
        plan(&parlour, State::Clean, Surroundings::Lived, &[])
            .dry
            .contains(&Dry::Rack)
    );
    let mantel = movement(MANTEL);
    let count = mantel.find_arbor("count").expect("there");
    let fly = mantel.find_arbor("fly").expect("there");
    let dry = plan(&mantel, State::Clean, Surroundings::Lived, &[]).dry;
    assert!(
        dry.contains(&Dry::CountWheel(count)) && dry.contains(&Dry::Fly(fly)),
        "{dry:?}"
    );
}

#[test]
fn a_state_changes_the_plan() {
    let movement = movement(MANTEL);
    let clean = plan(&movement, State::Clean, Surroundings::Lived, &[]);
    let running = plan(&movement, State::Running, Surroundings::Lived, &[]);
    let gummed = plan(&movement, State::Gummed, Surroundings::Lived, &[]);
    assert!(!clean.clean_first && !running.clean_first && gummed.clean_first);
    assert!(
        running
            .steps
            .iter()
            .all(|step| step.stage >= OilStage::Closed)
    );
    assert!(
        clean
            .steps
            .iter()
            .any(|step| step.stage == OilStage::Before)
    );
    let dusty = plan(&movement, State::Clean, Surroundings::Dusty, &[]);
    assert!(dusty.again.value.as_days() < clean.again.value.as_days());
    let escape = movement.find_arbor("escape").expect("there");
    let worn = plan(&movement, State::Clean, Surroundings::Lived, &[escape]);
    let step = (worn.steps.iter())
        .find(|step| step.place == Where::Pivots(escape))
        .expect("oiled");
    assert!(step.worn && step.kind == Lubricant::Middle);
}

/// A fifth of the pivot asks for a look (ours); whether it is bushed no figure says.
#[test]
fn a_hole_is_looked_at_long_before_half_the_pivot() {
    for (hole, looked) in [("1.07", false), ("1.09", true), ("1.5", true)] {
        let text = MANTEL.replace(
            "pivot_mm = 0.9",
            &format!("pivot_mm = 0.9\nhole_mm = {hole}"),
        );
        let plan = plan(&movement(&text), State::Clean, Surroundings::Lived, &[]);
        assert_eq!(!plan.shaky.is_empty(), looked, "{hole}");
    }
}

/// A bead of a third of its sink: a cap of 2.5 pivots across and half a pivot deep.
#[test]
fn a_bead_fills_a_third_of_its_sink() {
    let pivot = Length::mm(1.0);
    let across = bead(Known::sure(pivot)).value.as_mm();
    let volume = std::f64::consts::PI / 6.0 * across.powi(3);
    let cap = std::f64::consts::PI * 0.5 / 6.0 * (3.0 * 1.25_f64.powi(2) + 0.25);
    assert!(
        (volume / cap - 1.0 / 3.0).abs() < 1e-12,
        "{volume} of {cap}"
    );
    let measured = plan(&movement(MANTEL), State::Clean, Surroundings::Lived, &[]);
    let told = measured
        .steps
        .iter()
        .filter(|step| matches!(step.much, Much::Bead { measured: true, .. }));
    assert_eq!(told.count(), 3);
}

/// Chime hammers, the crutch, the quarters' own count wheel, a wheel on a stud: each has its line.
#[test]
fn what_hangs_outside_the_trains_is_not_forgotten() {
    let quarters = movement(include_str!("../../../movements/quarters.toml"));
    let at = |id: &str| quarters.find_arbor(id).expect("there");
    let told = plan(&quarters, State::Clean, Surroundings::Lived, &[]);
    let places: Vec<Where> = told.steps.iter().map(|step| step.place).collect();
    // Four of the quarters and one of the hours.
    assert!(places.contains(&Where::Hammers(5)), "{places:?}");
    for lifts in ["cylinder", "second"] {
        assert!(
            places.contains(&Where::Lifting(at(lifts))),
            "{lifts}: {places:?}"
        );
    }
    assert!(
        told.dry.contains(&Dry::CountWheel(at("quarter"))),
        "{:?}",
        told.dry
    );
    assert!(told.dry.contains(&Dry::Rack));
    let mantel = movement(MANTEL);
    let told = plan(&mantel, State::Clean, Surroundings::Lived, &[]);
    let count = mantel.find_arbor("count").expect("there");
    let places: Vec<Where> = told.steps.iter().map(|step| step.place).collect();
    assert!(places.contains(&Where::Stud(count)) && !places.contains(&Where::Pivots(count)));
    assert!(places.contains(&Where::Crutch));
}

#[test]
fn what_runs_is_topped_up() {
    let running = plan(&movement(MANTEL), State::Running, Surroundings::Lived, &[]);
    let beads = running
        .steps
        .iter()
        .filter(|step| matches!(step.place, Where::Pivots(_)));
    let mut some = 0;
    for step in beads {
        some += 1;
        assert!(matches!(step.much, Much::TopUp { .. }), "{step:?}");
    }
    assert!(some > 8, "{some}");
}

/// A tower's pivots take drops, and its oil is looked at sooner; a mantel clock stays one wherever it stands.
#[test]
fn a_tower_is_no_mantel_clock() {
    let parlour = include_str!("../../../movements/schoolroom.toml");
    let tower = plan(&movement(parlour), State::Clean, Surroundings::Cold, &[]);
    assert!(tower.tower);
    let pivots = tower
        .steps
        .iter()
        .filter(|step| matches!(step.place, Where::Pivots(_)));
    for step in pivots {
        assert!(
            step.much == Much::Drops && step.kind != Lubricant::Thin,
            "{step:?}"
        );
    }
    let mantel = plan(&movement(MANTEL), State::Clean, Surroundings::Cold, &[]);
    assert!(!mantel.tower && tower.again.value.as_days() < mantel.again.value.as_days());
    let thick = MANTEL.replace("pivot_mm = 0.9", "pivot_mm = 9");
    assert!(plan(&movement(&thick), State::Clean, Surroundings::Lived, &[]).tower);
}
