//! The short words on buttons, captions and fields of the bench page, and why a book or a port cannot be had.

use movement::Plate;

/// Words that never vary.
#[derive(Debug, Clone, Copy)]
pub struct Labels {
    /// The program.
    pub program: &'static str,
    /// To the list of jobs.
    pub bench: &'static str,
    /// Upside down, and back.
    pub upside: [&'static str; 2],
    /// After readings: what to do.
    pub ask: &'static str,
    /// Done as said.
    pub done: &'static str,
    /// It went the other way.
    pub other_way: &'static str,
    /// Something jumped out.
    pub jumped: &'static str,
    /// Look again.
    pub look_again: &'static str,
    /// Take the last entry back.
    pub undo: &'static str,
    /// Which arbor jumped out.
    pub which: &'static str,
    /// With the shift that was advised made as well.
    pub which_done: &'static str,
    /// Back without entering anything.
    pub never_mind: &'static str,
    /// How sure: sure, fairly, rough.
    pub sure: [&'static str; 3],
    /// Above those three.
    pub how_sure: &'static str,
    /// How to take a reading.
    pub how: &'static str,
    /// Back from there.
    pub close: &'static str,
    /// Under the drawing of it.
    pub how_drawing: &'static str,
    /// The field for a number.
    pub number: &'static str,
    /// The unit after it.
    pub unit: &'static str,
    /// Above the five pictures.
    pub pictures: &'static str,
    /// A witness that is not read.
    pub unread: &'static str,
    /// Leave it unread.
    pub clear: &'static str,
    /// The train hung loose.
    pub slack: &'static str,
    /// The log.
    pub log: &'static str,
    /// Nothing in it.
    pub log_empty: &'static str,
    /// Read aloud.
    pub aloud: &'static str,
    /// Light and dark.
    pub slate: [&'static str; 2],
    /// The big key that goes on.
    pub next: &'static str,
    /// What the keys do.
    pub keys: &'static str,
    /// Things that are rarely told.
    pub more: &'static str,
    /// Arbors in and out.
    pub arbors: &'static str,
    /// Take out, put in.
    pub out_in: [&'static str; 2],
    /// The hour last struck.
    pub hour: &'static str,
    /// Enter it.
    pub enter: &'static str,
    /// Another shift was made.
    pub did: &'static str,
    /// Teeth of it.
    pub did_teeth: &'static str,
    /// At which mesh.
    pub did_mesh: &'static str,
    /// All jobs.
    pub jobs: &'static str,
    /// Another sheet.
    pub another: &'static str,
    /// Its text.
    pub sheet: &'static str,
    /// Put it on the bench.
    pub put_on: &'static str,
    /// Word beside the held arbor.
    pub hold: &'static str,
    /// What was seen.
    pub seen: &'static str,
    /// How arbors go in.
    pub order: &'static str,
    /// No reading was given.
    pub nothing_read: &'static str,
    /// The log moved on.
    pub behind: &'static str,
    /// Refused: not from this page.
    pub foreign: &'static str,
    /// Nothing here.
    pub nothing_here: &'static str,
    /// The program does not answer.
    pub silent: &'static str,
    /// Go to the content.
    pub skip: &'static str,
}

/// Those words.
pub const LABELS: Labels = Labels {
    program: "Trundle",
    bench: "All jobs on the bench",
    upside: ["Turn it upside down", "Turn it upright"],
    ask: "What do I do?",
    done: "Done as said",
    other_way: "It went the other way",
    jumped: "Something jumped out",
    look_again: "Look again",
    undo: "Undo",
    which: "Which arbor jumped out? Touch it.",
    which_done: "The shift was made as said before it jumped",
    never_mind: "None did",
    sure: ["sure", "fairly", "rough"],
    how_sure: "How sure",
    how: "How to look",
    close: "Back to the bench",
    how_drawing: "The drop: the lever's tip at the edge of its notch",
    number: "Degrees, ahead +, short −",
    unit: "°",
    pictures: "It looks like",
    unread: "not read yet",
    clear: "Leave it unread",
    slack: "The train hung loose",
    log: "So far",
    log_empty: "Nothing yet.",
    aloud: "Read aloud",
    slate: ["Slate", "Paper"],
    next: "Next",
    keys: "Space, Enter or Page Down goes on, from a pedal too. Arrow keys move what is under the glass.",
    more: "Something else happened",
    arbors: "Which arbors are in",
    out_in: ["take it out", "put it in"],
    hour: "The hour it struck last",
    enter: "Enter",
    did: "I made another shift",
    did_teeth: "Teeth, ahead +, back −",
    did_mesh: "At the mesh",
    jobs: "On the bench",
    another: "Put another clock on the bench",
    sheet: "Its sheet, as text",
    put_on: "Put it on the bench",
    hold: "hold",
    seen: "As you saw it",
    order: "How they go in",
    nothing_read: "Nothing is read yet: make at least one close-up look like what you see, or choose a picture.",
    behind: "The log has moved on since this page was drawn, from another window perhaps. This is how it stands; nothing was entered.",
    foreign: "Refused: this page answers only to itself.",
    nothing_here: "There is nothing here.",
    silent: "No answer from the program. Is it still running? What was entered before is kept.",
    skip: "To the answer",
};

/// See it from a plate.
pub fn see_from(plate: Plate) -> &'static str {
    match plate {
        Plate::Front => "See it from the front",
        Plate::Back => "See it from the back",
    }
}

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

pub use super::book::{BookTrouble, book_trouble};
