//! How far a long sum has come, on the command line.

/// How far the search for a shift has come, with so many times the usual work before it.
pub fn remesh_so_far(steps: u64, times: u32) -> String {
    let all = timing::MOST_WORK * u64::from(times.max(1));
    let part = 100 * steps / all.max(1);
    format!(
        "So far: {part} in 100 of the steps that the search may take; control-C tells the best that was found"
    )
}

/// That the search was stopped by whoever waited.
pub fn remesh_stopped() -> String {
    "Stopped: this is the best that was found until then.".to_owned()
}

/// That a log is gone over still, after so many seconds.
pub fn still_at_it(seconds: u64) -> String {
    format!("So far: {seconds} seconds, and the log is gone over still")
}

/// That an order is sought still, after so many seconds.
pub fn order_still(seconds: u64) -> String {
    format!("So far: {seconds} seconds; orders in which the arbors may go in are compared still")
}
