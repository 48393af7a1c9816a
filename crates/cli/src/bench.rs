//! The bench, and the sheets that are put on it.

use crate::place::{place_of_book, today};
use crate::streams::{Failure, print, read, shown_name, wrong};
use clap::Args;
use std::path::PathBuf;
use std::process::ExitCode;
use tracing_subscriber::filter::LevelFilter;

#[derive(Args)]
pub(crate) struct Bench {
    /// Sheets to put on the bench; at the very first start a sample lies there
    sheets: Vec<PathBuf>,
    /// The bench book, one file that keeps all jobs [default: with this user's data]
    #[arg(long, value_name = "PATH")]
    book: Option<PathBuf>,
    /// The port of the page; 0 for any that is free
    #[arg(long, value_name = "N", default_value_t = web::PORT)]
    port: u16,
    /// Do not call the browser, only print the address
    #[arg(long)]
    no_open: bool,
    /// Tell each request on standard error: which kind of page, what was worked out for it, how it was answered, how long that took; no
    /// names, no words
    #[arg(long)]
    requests: bool,
}

impl Bench {
    pub(crate) fn run(self) -> Result<ExitCode, Failure> {
        with_memory_given_back();
        if self.requests {
            let told = tracing_subscriber::fmt().with_writer(std::io::stderr);
            let told = told.with_max_level(LevelFilter::DEBUG);
            told.with_ansi(false).with_target(false).init();
        }
        let mut sheets = Vec::new();
        for path in &self.sheets {
            let text = read(path)?;
            let name = shown_name(path);
            tasks::as_counted(&text).map_err(|faults| wrong(&name, &text, faults.into()))?;
            // A good sheet is UTF-8.
            sheets.push(String::from_utf8_lossy(&text).into_owned());
        }
        let book = place_of_book(self.book)?;
        let options = web::Options {
            book,
            port: self.port,
            open: !self.no_open,
            sheets,
            today,
        };
        let mut say = |line: &str| {
            // The page is there whether or not anyone reads this.
            let _ = print(&format!("{line}\n"));
        };
        web::run(&options, &mut say).map_err(|trouble| Failure::Outside(trouble.0))?;
        Ok(ExitCode::SUCCESS)
    }
}

/// Begins this very program anew with its allocator told to give large pieces back to the machine (`mallopt(3)`,
/// `M_MMAP_THRESHOLD`): by itself it keeps what pictures left behind, more with each kind, and a bench that is open all day held
/// 155 MB at rest (measured; 16 when it is told). Where that cannot be done, or it was told already, it goes on as it is.
/// Whatever it calls is told the same.
#[cfg(all(target_os = "linux", target_env = "gnu"))]
fn with_memory_given_back() {
    use std::os::unix::process::CommandExt;
    const TOLD: &str = "MALLOC_MMAP_THRESHOLD_";
    let mut words = std::env::args_os();
    if let (None, Some(name), Ok(own)) = (
        std::env::var_os(TOLD),
        words.next(),
        std::env::current_exe(),
    ) {
        let mut anew = std::process::Command::new(own);
        // It comes back only where it failed.
        let _ = anew
            .arg0(name)
            .args(words)
            .env(TOLD, (1 << 20).to_string())
            .exec();
    }
}

/// Other allocators do so by themselves, or cannot be told.
#[cfg(not(all(target_os = "linux", target_env = "gnu")))]
fn with_memory_given_back() {}
