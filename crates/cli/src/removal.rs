//! What names a person, removed from a job of the bench book; and where else it stands, told first and emptied along where that is
//! said.

use crate::book::outside;
use crate::place::today;
use crate::streams::{Failure, print, wrong};
use book::{Book, BookFault, EntryPlace, JobId};
use clap::Args;
use report::Locale;
use report::en::removal as words;
use std::collections::BTreeSet;
use std::path::Path;
use std::process::ExitCode;
use tasks::{Desk, DeskFault, Removal};

#[derive(Args)]
pub(crate) struct Remove {
    /// The number of the job
    job: JobId,
    /// Empty this entry along, or with `whole` all in which the whole name, number or address stands, but for whose another clock is;
    /// once for each
    #[arg(long, value_name = "JOB:ENTRY", requires = "sure", value_parser = along)]
    along: Vec<Along>,
    /// Do it: it cannot be taken back
    #[arg(long)]
    sure: bool,
    /// Let what may still name somebody after a removal stay as it is
    #[arg(long, conflicts_with_all = ["sure", "along"])]
    stay: bool,
}

/// What is emptied along.
#[derive(Clone, Copy)]
enum Along {
    Whole,
    Entry(EntryPlace),
}

fn along(said: &str) -> Result<Along, String> {
    match said {
        "whole" => Ok(Along::Whole),
        _ => match said.parse() {
            Ok(entry) => Ok(Along::Entry(entry)),
            Err(_) => Err(words::not_a_place().to_owned()),
        },
    }
}

impl Remove {
    pub(crate) fn run(self, path: &Path) -> Result<ExitCode, Failure> {
        let book = Book::open_there(path).map_err(|fault| outside(&fault))?;
        let desk = Desk::of(book, today);
        let removal = desk.removal(self.job).map_err(failed)?;
        let job = self.job.to_string();
        if self.stay {
            if desk.left_standing(self.job).map_err(failed)? == 0 {
                print(&words::nothing_stays(&job))?;
                return Ok(ExitCode::SUCCESS);
            }
            (desk.book.let_stay(self.job)).map_err(|fault| outside(&fault))?;
            print(&words::stays(&job))?;
            return Ok(ExitCode::SUCCESS);
        }
        if !self.sure {
            print(&words::before(&job, &removal))?;
            return Ok(ExitCode::SUCCESS);
        }
        let along = self.chosen(&removal)?;
        let came = desk.remove(self.job, removal.entries, &removal, &along);
        let left = desk.left_standing(self.job).map_err(failed)?;
        match came {
            Ok(()) => {}
            // The book itself is emptied then.
            Err(DeskFault::Book(
                fault @ (BookFault::NotSwept(_) | BookFault::OtherLines { .. }),
            )) => {
                print(&words::after(&job, &removal, along.len(), left))?;
                return Err(outside(&fault));
            }
            Err(fault) => return Err(failed(fault)),
        }
        print(&words::after(&job, &removal, along.len(), left))?;
        Ok(ExitCode::SUCCESS)
    }

    /// The entries that are emptied along; each must be one of those that are told.
    fn chosen(&self, removal: &Removal) -> Result<BTreeSet<EntryPlace>, Failure> {
        let mut chosen = BTreeSet::new();
        for along in &self.along {
            match along {
                Along::Whole => {
                    let whole = (removal.elsewhere.iter()).filter(|it| it.along);
                    chosen.extend(whole.map(tasks::Elsewhere::place));
                }
                Along::Entry(place) => {
                    if !removal.elsewhere.iter().any(|it| it.place() == *place) {
                        let why = words::not_elsewhere(&place.job.to_string(), place.n);
                        return Err(Failure::Wrong(format!("trundle: {why}")));
                    }
                    chosen.insert(*place);
                }
            }
        }
        Ok(chosen)
    }
}

fn failed(fault: DeskFault) -> Failure {
    let locale = Locale::default();
    match fault {
        DeskFault::Book(fault) => outside(&fault),
        DeskFault::NoJob => Failure::Outside(report::say!(locale, "trouble-no-job")),
        DeskFault::Behind | DeskFault::LeftOpen => {
            Failure::Outside(report::en::removal::behind().to_owned())
        }
        DeskFault::Wrong(refusal) => wrong("", &[], refusal),
    }
}
