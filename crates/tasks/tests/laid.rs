//! How a movement is laid out for drawing: sought once, and anew where a distance that was measured makes it another.

use entries::{Decimal, Kept, Unit, Work};
use movement::MeshId;
use tasks::{Ask, TimingState, begin, enter, note};
use timing::Eye;

fn sheet() -> Vec<u8> {
    let path = format!(
        "{}/../../movements/schoolroom.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    std::fs::read(path).expect("a sample")
}

fn look(noted: &TimingState) -> Ask {
    let movement = &noted.sheet.movement;
    let readings = tasks::written::readings(movement, movement.seen_from(), &["pin=-75~4"]);
    Ask::Saw {
        readings: readings.expect("readings"),
        tension: entries::LoggedTension::Tensioned,
    }
}

/// How far apart the arbors of the first mesh are drawn.
fn apart(noted: &TimingState) -> f64 {
    let movement = &noted.sheet.movement;
    let (_, mesh) = movement.meshes().next().expect("a mesh");
    let [a, b] = [mesh.driver, mesh.driven].map(|part| noted.layout().centre(part.arbor));
    (a.0.mm() - b.0.mm()).hypot(a.1.mm() - b.1.mm())
}

fn first_mesh(noted: &TimingState) -> String {
    let (id, _): (MeshId, _) = noted.sheet.movement.meshes().next().expect("a mesh");
    noted.sheet.movement.mesh_name(id)
}

#[test]
fn a_movement_is_laid_out_once_until_a_distance_in_its_log_is_another() {
    let begun = begin(&sheet()).expect("a log").text().to_owned();
    let noted = |log: &str| note(&sheet(), Some(log.as_bytes()), &[], None, Eye::default());
    let fresh = noted(&begun).expect("gone over");
    let looked = fresh.tell(&[look(&fresh)]).expect("told");
    assert!(std::ptr::eq(fresh.layout(), looked.layout()));

    let measured = Work::Measurement {
        what: Kept::Here(first_mesh(&fresh)),
        value: Decimal::parse("31.25").expect("a figure"),
        unit: Unit::Mm,
        spread: None,
    };
    let added = enter(begun.as_bytes(), &measured, None).expect("entered");
    let measured = noted(&(begun + &added)).expect("gone over");
    assert!((apart(&measured) - 31.25).abs() < 1e-6);
    assert!((apart(&fresh) - 31.25).abs() > 0.1);
    let taken_back = measured.tell(&[Ask::Undo(Some(1))]).expect("told");
    assert!((apart(&taken_back) - apart(&fresh)).abs() < 1e-9);
}
