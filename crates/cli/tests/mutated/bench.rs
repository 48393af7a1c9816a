//! A bench that is open as its own process, and a plain client.

#[path = "../opened/mod.rs"]
mod opened;

use crate::tally::{MOST_HELD, holds, most_held};
use opened::{Open, served};
use percent_encoding::{NON_ALPHANUMERIC, utf8_percent_encode};
use std::fs::File;
use std::io::{Read, Write};
use std::net::{Shutdown, TcpStream};
use std::path::Path;
use std::process::Command;
use std::time::Duration;

/// The binary.
pub(crate) fn trundle() -> Command {
    Command::new(assert_cmd::cargo::cargo_bin!("trundle"))
}

/// A bench, what it says to its terminal, and where.
pub(crate) struct Bench {
    /// In what language it is asked.
    pub(crate) tongue: &'static str,
    open: Open,
    said: std::path::PathBuf,
}

/// What was answered.
#[derive(Debug)]
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) head: String,
    pub(crate) body: Vec<u8>,
}

impl Answer {
    pub(crate) fn header(&self, name: &str) -> Option<&str> {
        self.head.lines().find_map(|line| {
            let (key, value) = line.split_once(": ")?;
            key.eq_ignore_ascii_case(name).then_some(value)
        })
    }

    pub(crate) fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }
}

impl Bench {
    /// Opens a bench on a book in a folder.
    pub(crate) fn open(book: &Path) -> Bench {
        let said = book.with_extension("said");
        let file = File::create(&said).expect("a file");
        let mut command = trundle();
        command
            .args(["bench", "--no-open", "--port", "0", "--book"])
            .arg(book)
            .stderr(file);
        Bench {
            tongue: "en",
            open: served(&mut command),
            said,
        }
    }

    /// Sends bytes word for word, and whether no more are to come; nothing where no answer came.
    fn ask(&self, request: &[u8], ends: bool) -> Option<Answer> {
        let mut stream = TcpStream::connect(("127.0.0.1", self.open.port)).expect("it listens");
        stream
            .set_read_timeout(Some(Duration::from_secs(90)))
            .expect("set");
        // Whoever is answered before all was sent may be cut off while sending the rest.
        let mut sent = stream.write_all(request);
        if ends {
            sent = sent.and_then(|()| stream.shutdown(Shutdown::Write));
        }
        let mut bytes = Vec::new();
        let read = stream.read_to_end(&mut bytes);
        let timed_out = |kind| {
            matches!(
                kind,
                std::io::ErrorKind::WouldBlock | std::io::ErrorKind::TimedOut
            )
        };
        assert!(
            !read.as_ref().is_err_and(|error| timed_out(error.kind())),
            "it hangs"
        );
        drop((sent, read));
        let gap = bytes.windows(4).position(|four| four == b"\r\n\r\n")?;
        let head = String::from_utf8_lossy(&bytes[..gap]).into_owned();
        let status = head.split(' ').nth(1)?.parse().ok()?;
        let body = bytes.split_off(gap + 4);
        Some(Answer { status, head, body })
    }

    fn head(&self, ask: &str, more: &str) -> String {
        let (port, tongue) = (self.open.port, self.tongue);
        format!(
            "{ask} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nOrigin: http://127.0.0.1:{port}\r\nAccept-Language: {tongue}\r\n\
             Connection: close\r\n{more}\r\n"
        )
    }

    pub(crate) fn get(&self, path: &str) -> Option<Answer> {
        self.ask(self.head(&format!("GET {path}"), "").as_bytes(), false)
    }

    /// Sends a body of a kind, said to be so long.
    pub(crate) fn post_as(
        &self,
        path: &str,
        kind: &str,
        body: &[u8],
        said: usize,
    ) -> Option<Answer> {
        let more = format!("Content-Type: {kind}\r\nContent-Length: {said}\r\n");
        let head = self.head(&format!("POST {path}"), &more);
        self.ask(&[head.as_bytes(), body].concat(), said > body.len())
    }

    pub(crate) fn post(&self, path: &str, body: &str) -> Option<Answer> {
        self.post_as(
            path,
            "application/x-www-form-urlencoded",
            body.as_bytes(),
            body.len(),
        )
    }

    /// Sends a form with a file, as the page itself would.
    pub(crate) fn upload(
        &self,
        path: &str,
        fields: &[(&str, &str)],
        (field, name): (&str, &str),
        file: &[u8],
    ) -> Option<Answer> {
        let body = parts(fields, Some((field, name, file)));
        let kind = format!("multipart/form-data; boundary={MARK}");
        self.post_as(path, &kind, &body, body.len())
    }

    /// Entries of a job's log, as its page has them.
    pub(crate) fn entries(&self, job: u32) -> String {
        let body = self
            .get(&format!("/job/{job}/way"))
            .expect("an answer")
            .text();
        let mark = "name=\"entries\" value=\"";
        let from = body.find(mark).map_or(0, |at| at + mark.len());
        body[from..]
            .chars()
            .take_while(char::is_ascii_digit)
            .collect()
    }

    /// The most memory it held so far, megabytes.
    pub(crate) fn held(&self) -> u64 {
        most_held(self.open.child.id()).unwrap_or(0)
    }

    /// The memory it holds now, megabytes.
    pub(crate) fn holds(&self) -> u64 {
        holds(self.open.child.id()).unwrap_or(0)
    }

    /// Sees that it goes on, did not panic, and held no more than there is room for; how much that was, megabytes.
    pub(crate) fn sound(&mut self) -> u64 {
        let page = self.get("/jobs").expect("it goes on");
        assert_eq!(page.status, 200);
        assert!(
            self.open.child.try_wait().expect("asked").is_none(),
            "it ended"
        );
        let said = std::fs::read_to_string(&self.said).unwrap_or_default();
        assert!(!said.contains("panicked"), "{said}");
        let held = self.held();
        assert!(held < MOST_HELD, "it held {held} MB");
        held
    }
}

/// Between the parts of a form.
pub(crate) const MARK: &str = "a-line-that-no-picture-has";

/// A form of parts.
pub(crate) fn parts(fields: &[(&str, &str)], file: Option<(&str, &str, &[u8])>) -> Vec<u8> {
    let mut body = Vec::new();
    for (name, value) in fields {
        body.extend(
            format!(
                "--{MARK}\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n"
            )
            .bytes(),
        );
    }
    if let Some((field, name, bytes)) = file {
        let head = format!(
            "--{MARK}\r\nContent-Disposition: form-data; name=\"{field}\"; filename=\"{name}\"\r\nContent-Type: application/octet-stream\r\n\r\n"
        );
        body.extend(head.bytes());
        body.extend(bytes);
        body.extend(b"\r\n");
    }
    body.extend(format!("--{MARK}--\r\n").bytes());
    body
}

/// Percent encoding of all but letters and figures.
pub(crate) fn coded(text: &str) -> String {
    utf8_percent_encode(text, NON_ALPHANUMERIC).to_string()
}
