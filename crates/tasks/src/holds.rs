//! What was seen and done still holds after a job's sheet was altered, where nothing is otherwise on it that the timing hangs on: a
//! width was measured, an arbor put in its place on the plate, another train counted.

use crate::as_counted;
use crate::digest::TimedFacts;
use entries::Log;
use movement::Movement;

/// Has a log go back to the first of its sheets from which on nothing is otherwise that was timed.
pub(crate) fn hold(log: &mut Log, movement: &Movement) {
    let Some(last) = log.sheet().map(|sheet| sheet.n) else {
        return;
    };
    let now = TimedFacts::of(movement);
    let mut from = last;
    let before: Vec<_> = log.sheets().filter(|sheet| sheet.n < last).collect();
    for sheet in before.iter().rev() {
        let then = as_counted(sheet.text.as_bytes());
        if !then.is_ok_and(|then| TimedFacts::of(&then) == now && all_there(&then, movement)) {
            log.holds_after(from);
            return;
        }
        from = sheet.n;
    }
    if now.began_with(movement, &log.header().hash) {
        from = 0;
    }
    log.holds_after(from);
}

/// Whether every arbor and mesh that an entry may name is still there.
fn all_there(then: &Movement, now: &Movement) -> bool {
    let mut arbors = then.arbors();
    let mut meshes = then.meshes();
    arbors.all(|(_, arbor)| now.find_arbor(&arbor.id).is_some())
        && meshes.all(|(_, mesh)| {
            let name = |of: &Movement, mesh: &movement::Mesh| {
                [mesh.driver, mesh.driven].map(|part| of.part_name(part))
            };
            let was = name(then, mesh);
            now.meshes().any(|(_, mesh)| name(now, mesh) == was)
        })
}
