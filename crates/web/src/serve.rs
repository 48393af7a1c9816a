//! From the command to the page: the book opened, the port taken, the browser called.

use crate::backing::each_day;
use crate::bounds::MOST_THREADS;
use crate::connections::Connections;
use crate::desk::{Desk, Refused, in_hand};
use crate::guard::Names;
use crate::heavy::Room;
use crate::holding::HeldChoices;
use crate::pages::routes;
use crate::recordings::Recordings;
use crate::searches::Searches;
use crate::start::{Start, start};
use crate::trouble::Trouble;
use book::Book;
use entries::Day;
use report::en::opening::{open_already, open_at, port_taken};
use report::{Locale, machine};
use std::io::ErrorKind;
use std::net::{Ipv4Addr, Ipv6Addr, SocketAddr};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::Duration;
use tokio::net::TcpListener;

/// The sheet that lies on the bench at the very first start.
const SAMPLE: &str = include_str!("../../../movements/schoolroom.toml");

/// Ports that are tried where any free one will do, until one is free under both names of this machine.
const MOST_TRIES: usize = 50;

/// What the bench is opened with.
#[derive(Debug, Clone)]
pub struct Options {
    /// The book's file.
    pub book: PathBuf,
    /// The port; 0 for any that is free.
    pub port: u16,
    /// Whether to call the browser.
    pub open: bool,
    /// Sheets to put on the bench, as text that was found good.
    pub sheets: Vec<String>,
    /// What day it is, for the backup of each day; nothing where that cannot be told.
    pub today: fn() -> Option<Day>,
}

/// Opens the bench, and serves its page until the process ends. If another start serves this book already, puts the sheets
/// on that bench, opens its page and comes back.
///
/// `say` is given a line with the address, once the page is there, and a line for each sheet that a job has already.
///
/// # Errors
/// The book cannot be opened or written, the port cannot be had, or the server fails: in words.
pub fn run(options: &Options, say: &mut dyn FnMut(&str)) -> Result<(), Trouble> {
    let book = Book::open(&options.book)?;
    let desk = Desk {
        recordings: Recordings::beside(book.path()),
        jobs: tasks::Desk::of(book, options.today),
        not_made: Mutex::default(),
        room: Room::default(),
        held: HeldChoices::default(),
        searches: Searches::default(),
    };
    let held = match start(desk.book.path())? {
        Start::First(held) => held,
        Start::Second(address) => {
            let in_hand = put_on(&desk, &options.sheets)?;
            say(&open_already(&address));
            in_hand.iter().for_each(|line| say(line));
            if options.open {
                call_browser(&address);
            }
            return Ok(());
        }
    };
    desk.recordings.sweep();
    let in_hand = put_on(&desk, &options.sheets)?;
    if desk.book.jobs()?.is_empty() {
        let put_on = desk.put_on(SAMPLE).map_err(Refused::from);
        put_on.map_err(|refused| Trouble(refused.say(&Locale::default())))?;
    }
    let runtime = (tokio::runtime::Builder::new_multi_thread().enable_all())
        .worker_threads(2)
        .max_blocking_threads(MOST_THREADS)
        .build()
        .map_err(|error| Trouble(machine(&Locale::default(), &error)))?;
    runtime.block_on(async {
        let (listeners, port) = listen(options.port).await?;
        let address = format!("http://127.0.0.1:{port}/");
        held.announce(&address)?;
        let desk = Arc::new(desk);
        let keeper = Arc::clone(&desk);
        let today = options.today;
        std::thread::spawn(move || each_day(&keeper, today));
        let keeper = Arc::clone(&desk);
        std::thread::spawn(move || now_and_then(&keeper.book));
        let at_the_end = Arc::clone(&desk);
        let app = routes(desk, Names::at(port));
        let mut serving = tokio::task::JoinSet::new();
        // Both names of this machine have one room together.
        let connections = Connections::default();
        for listener in listeners {
            serving.spawn(connections.clone().serve(listener, app.clone()));
        }
        say(&open_at(&address, &shown(&options.book)));
        in_hand.iter().for_each(|line| say(line));
        if options.open {
            call_browser(&address);
        }
        tokio::select! {
            served = serving.join_next() => match served {
                Some(Err(error)) => Err(Trouble(error.to_string())),
                Some(Ok(())) | None => Ok(()),
            },
            () = told_to_close() => {
                // What is being answered may still write: it is given its turn, then the book is one file.
                serving.abort_all();
                at_the_end.book.rest()?;
                Ok(())
            }
        }
    })
}

/// Waits until this machine, or whoever sits before it, has the bench closed.
async fn told_to_close() {
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        let mut kinds = [
            SignalKind::interrupt(),
            SignalKind::terminate(),
            SignalKind::hangup(),
        ]
        .into_iter()
        .filter_map(|kind| signal(kind).ok())
        .collect::<Vec<_>>();
        if kinds.is_empty() {
            std::future::pending::<()>().await;
        }
        let each = kinds.iter_mut().map(|kind| Box::pin(kind.recv()));
        futures_util::future::select_all(each).await;
    }
    #[cfg(not(unix))]
    if tokio::signal::ctrl_c().await.is_err() {
        std::future::pending::<()>().await;
    }
}

/// Has the book be one file in quiet moments, so that whoever copies it has all of it.
fn now_and_then(book: &Book) {
    const QUIET: Duration = Duration::from_secs(2);
    loop {
        std::thread::sleep(QUIET);
        // What is the matter with it is told to whoever writes next.
        let _ = book.rest();
    }
}

/// Puts sheets on the bench; of each that a job has already, that job is taken up, and a line says so.
fn put_on(desk: &Desk, sheets: &[String]) -> Result<Vec<String>, Trouble> {
    let locale = Locale::default();
    let mut lines = Vec::new();
    let mut put_on = |sheet: &str| -> Result<(), Refused> {
        match desk.in_hand(sheet)? {
            Some(job) => {
                desk.book.set_current(job.id)?;
                lines.push(in_hand(&locale, &job));
            }
            None => {
                desk.put_on(sheet)?;
            }
        }
        Ok(())
    };
    for sheet in sheets {
        put_on(sheet).map_err(|refused| Trouble(refused.say(&locale)))?;
    }
    Ok(lines)
}

fn shown(path: &Path) -> String {
    path.display().to_string()
}

/// Listens at a port of this machine, under both its own addresses where it has both.
async fn listen(port: u16) -> Result<(Vec<TcpListener>, u16), Trouble> {
    let taken = |port: u16, error: std::io::Error| {
        Trouble(port_taken(port, &machine(&Locale::default(), &error)))
    };
    for attempt in 0..MOST_TRIES {
        let first = TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port)))
            .await
            .map_err(|error| taken(port, error))?;
        let got = (first.local_addr().map(|address| address.port()))
            .map_err(|error| taken(port, error))?;
        match TcpListener::bind(SocketAddr::from((Ipv6Addr::LOCALHOST, got))).await {
            Ok(second) => return Ok((vec![first, second], got)),
            // Somebody else has it there: another free one, unless this very one was asked for.
            Err(error) if error.kind() == ErrorKind::AddrInUse => {
                if port != 0 || attempt + 1 == MOST_TRIES {
                    return Err(taken(got, error));
                }
            }
            // No such address on this machine: the one is enough.
            Err(_) => return Ok((vec![first], got)),
        }
    }
    Ok((Vec::new(), port))
}

/// Calls the browser on an address; where there is none to call, the address was said.
fn call_browser(address: &str) {
    let program = if cfg!(target_os = "macos") {
        "open"
    } else if cfg!(target_os = "windows") {
        "explorer"
    } else {
        "xdg-open"
    };
    let called = (Command::new(program).arg(address))
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    // That it is not there is no fault of ours: the address stands on the terminal.
    if let Ok(mut child) = called {
        std::thread::spawn(move || child.wait());
    }
}
