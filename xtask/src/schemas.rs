//! The schemas of what the commands print, written where they are published.

use std::io;
use std::path::Path;

/// Where they are published, from the root of the house.
pub const FOLDER: &str = "docs/schemas";

/// Writes a file for each command into a folder, and takes away those of commands that are no more. Gives how many were written.
///
/// # Errors
/// That one cannot be written, or taken away.
pub fn write(folder: &Path) -> io::Result<usize> {
    std::fs::create_dir_all(folder)?;
    let schemas = report::json::schemas();
    for file in std::fs::read_dir(folder)? {
        let path = file?.path();
        let stays =
            |(command, _): &(&str, _)| path.file_stem().is_some_and(|stem| stem == *command);
        if !schemas.iter().any(stays) {
            std::fs::remove_file(path)?;
        }
    }
    for (command, schema) in &schemas {
        let path = folder.join(command).with_extension("json");
        std::fs::write(path, report::json::text(schema))?;
    }
    Ok(schemas.len())
}
