//! What fails outside, on the command line.

/// A file that cannot be read.
pub fn cannot_read(name: &str, error: &str) -> String {
    format!("cannot read {name}: {error}")
}

/// Output that cannot be written.
pub fn cannot_write(error: &str) -> String {
    format!("cannot write the answer: {error}")
}

/// A file that cannot be used.
pub fn cannot_use(name: &str, error: &str) -> String {
    format!("cannot use {name}: {error}")
}

/// A log that another program has open.
pub fn log_in_use(name: &str) -> String {
    format!(
        "{name} is in use by another trundle; nothing was written; try again when that one is done"
    )
}
