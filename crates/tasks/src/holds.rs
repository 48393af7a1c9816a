//! What was seen and done still holds after a job's sheet was altered, where nothing is otherwise on it that the timing hangs on: a
//! width was measured, an arbor put in its place on the plate, another train counted.

use crate::as_counted;
use crate::digest::TimedFacts;
use entries::Log;
use movement::Movement;

/// Has a log go back to the first of its sheets from which on nothing is otherwise that was timed.
pub(crate) fn hold(log: &mut Log, movement: &Movement) {
    if let Some(from) = holds_after(log, movement) {
        log.holds_after(from);
    }
}

/// The entry after which all holds; nothing where the sheet was never altered.
fn holds_after(log: &Log, movement: &Movement) -> Option<usize> {
    let mut sheets = log.sheets().rev();
    let mut from = sheets.next()?.n;
    let now = TimedFacts::of(movement);
    for sheet in sheets {
        let then = as_counted(sheet.text.as_bytes());
        if !then.is_ok_and(|then| TimedFacts::of(&then) == now && all_there(&then, movement)) {
            return Some(from);
        }
        from = sheet.n;
    }
    let began = now.began_with(movement, &log.header().hash);
    Some(if began { 0 } else { from })
}

/// Whether every arbor and mesh that an entry may name is still there.
fn all_there(then: &Movement, now: &Movement) -> bool {
    then.arbors()
        .all(|(_, arbor)| now.find_arbor(&arbor.id).is_some())
        && (then.meshes()).all(|(id, _)| now.find_mesh(&then.mesh_name(id)).is_some())
}
