//! What the bench says on the terminal it is opened from.

/// Where the page is, for the terminal.
pub fn open_at(address: &str, book: &str) -> String {
    format!(
        "The bench is open at {address} — the book is {book}. Ctrl-C closes it; nothing is lost."
    )
}

/// The page of an earlier start.
pub fn open_already(address: &str) -> String {
    format!("The bench is open already, at {address}.")
}

/// The port cannot be had.
pub fn port_taken(port: u16, error: &str) -> String {
    format!(
        "port {port} of this machine cannot be had ({error}); choose another with `--port`, or `--port 0` for any that is free"
    )
}

/// Another start holds the book and does not say where.
pub fn held_elsewhere(book: &str) -> String {
    format!(
        "the book {book} is open in another start of this program that does not answer; close that one first"
    )
}

/// No place for a book is known.
pub fn no_place_for_book() -> &'static str {
    "this machine does not say where a user's data belongs; say where the book is to be with `--book PATH`"
}
