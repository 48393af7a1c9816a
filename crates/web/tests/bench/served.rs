//! The page served from a book of its own, and a plain client that says of itself what it likes.

use entries::Day;
use percent_encoding::{NON_ALPHANUMERIC, utf8_percent_encode};
use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::PathBuf;
use std::sync::mpsc;
use std::time::Duration;

/// A bench served by a thread of this test, until the test ends.
pub(crate) struct Served {
    pub(crate) port: u16,
    folder: tempfile::TempDir,
}

pub(crate) fn serve(sheets: &[&str]) -> Served {
    serve_on(sheets, || None)
}

/// The same on a day.
pub(crate) fn serve_on(sheets: &[&str], today: fn() -> Option<Day>) -> Served {
    let folder = tempfile::tempdir().expect("a folder");
    let options = web::Options {
        book: folder.path().join("bench.book"),
        port: 0,
        open: false,
        sheets: sheets.iter().map(|sheet| (*sheet).to_owned()).collect(),
        today,
    };
    let (tell, told) = mpsc::channel();
    std::thread::spawn(move || {
        let mut say = |line: &str| {
            let _ = tell.send(line.to_owned());
        };
        web::run(&options, &mut say).expect("it is served");
    });
    let line = told
        .recv_timeout(Duration::from_secs(30))
        .expect("an address");
    let from = line.find("127.0.0.1:").expect("a loopback address") + "127.0.0.1:".len();
    let port: String = (line[from..].chars())
        .take_while(char::is_ascii_digit)
        .collect();
    Served {
        port: port.parse().expect("a port"),
        folder,
    }
}

/// What was answered.
#[derive(Debug)]
pub(crate) struct Answer {
    pub(crate) status: u16,
    pub(crate) head: String,
    pub(crate) body: String,
}

impl Answer {
    pub(crate) fn header(&self, name: &str) -> Option<&str> {
        (self.head.lines()).find_map(|line| {
            let (key, value) = line.split_once(": ")?;
            key.eq_ignore_ascii_case(name).then_some(value)
        })
    }
}

/// A request word for word, to one of the loopback addresses.
pub(crate) fn ask(to: SocketAddr, request: &str) -> Answer {
    ask_bytes(to, request.as_bytes())
}

fn ask_bytes(to: SocketAddr, request: &[u8]) -> Answer {
    let mut stream = TcpStream::connect(to).expect("it listens");
    stream.write_all(request).expect("sent");
    let mut bytes = Vec::new();
    stream.read_to_end(&mut bytes).expect("answered");
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let (head, body) = text.split_once("\r\n\r\n").expect("a head and a body");
    let status = head.split(' ').nth(1).and_then(|s| s.parse().ok());
    Answer {
        status: status.expect("a status"),
        head: head.to_owned(),
        body: body.to_owned(),
    }
}

impl Served {
    pub(crate) fn address(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }

    pub(crate) fn v4(&self) -> SocketAddr {
        SocketAddr::from(([127, 0, 0, 1], self.port))
    }

    pub(crate) fn get(&self, path: &str) -> Answer {
        let request = format!(
            "GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nConnection: close\r\n\r\n",
            self.port
        );
        ask(self.v4(), &request)
    }

    /// Sends a form as the page itself would without its script.
    pub(crate) fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        self.post_with("", path, fields)
    }

    /// The same as the page's script does, which puts what comes in place of what is shown.
    pub(crate) fn post_in_place(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        self.post_with("Trundle-In-Place: yes\r\n", path, fields)
    }

    fn post_with(&self, header: &str, path: &str, fields: &[(&str, &str)]) -> Answer {
        let body = form(fields);
        let request = format!(
            "POST {path} HTTP/1.1\r\nHost: 127.0.0.1:{0}\r\nOrigin: http://127.0.0.1:{0}\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {1}\r\nConnection: close\r\n{header}\r\n{body}",
            self.port,
            body.len()
        );
        ask(self.v4(), &request)
    }

    /// Where the book lies.
    pub(crate) fn book(&self) -> PathBuf {
        self.folder.path().join("bench.book")
    }

    /// Sends a form with a picture as the page itself would.
    pub(crate) fn upload(&self, path: &str, fields: &[(&str, &str)], picture: &[u8]) -> Answer {
        self.upload_as(path, fields, ("picture", "a.png"), picture)
    }

    /// The same with a file of another kind: the name of its field, and its own.
    pub(crate) fn upload_as(
        &self,
        path: &str,
        fields: &[(&str, &str)],
        (field, file): (&str, &str),
        picture: &[u8],
    ) -> Answer {
        let mark = "a-line-that-no-picture-has";
        let mut body = Vec::new();
        for (name, value) in fields {
            let part = format!(
                "--{mark}\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n"
            );
            body.extend(part.bytes());
        }
        let part = format!(
            "--{mark}\r\nContent-Disposition: form-data; name=\"{field}\"; filename=\"{file}\"\r\n\
             Content-Type: application/octet-stream\r\n\r\n"
        );
        body.extend(part.bytes());
        body.extend(picture);
        body.extend(format!("\r\n--{mark}--\r\n").bytes());
        let head = format!(
            "POST {path} HTTP/1.1\r\nHost: 127.0.0.1:{0}\r\nOrigin: http://127.0.0.1:{0}\r\n\
             Content-Type: multipart/form-data; boundary={mark}\r\nContent-Length: {1}\r\nConnection: close\r\n\r\n",
            self.port,
            body.len()
        );
        ask_bytes(self.v4(), &[head.as_bytes(), &body].concat())
    }

    /// Spoils the book where it lies, so that nothing more can be read from it.
    pub(crate) fn spoil(&self) {
        for file in std::fs::read_dir(self.folder.path()).expect("a folder") {
            let path = file.expect("a file").path();
            let long = std::fs::metadata(&path).expect("its size").len();
            let spoilt = vec![0x55; usize::try_from(long).expect("a size")];
            // In place: what another has mapped must not become shorter.
            let mut file = (std::fs::OpenOptions::new().write(true))
                .open(&path)
                .expect("it opens");
            file.write_all(&spoilt).expect("spoilt");
        }
    }

    /// Entries of a job's log, as its page has them.
    pub(crate) fn entries(&self, page: &str) -> String {
        let body = self.get(page).body;
        let mark = "name=\"entries\" value=\"";
        let from = body.find(mark).expect("a form") + mark.len();
        body[from..]
            .chars()
            .take_while(char::is_ascii_digit)
            .collect()
    }
}

pub(crate) fn form(fields: &[(&str, &str)]) -> String {
    let coded = |text| utf8_percent_encode(text, NON_ALPHANUMERIC);
    let each: Vec<String> = fields
        .iter()
        .map(|(name, value)| format!("{}={}", coded(name), coded(value)))
        .collect();
    each.join("&")
}

/// What stands in a page from a beginning to the next end.
pub(crate) fn part<'a>(page: &'a str, begins: &str, ends: &str) -> &'a str {
    let from = page
        .find(begins)
        .unwrap_or_else(|| panic!("{begins} in {page}"));
    page[from..].split(ends).next().unwrap_or_default()
}
