//! `trundle sheet`: a sheet begun from a kind of strike, or one altered.

use crate::carets;
use crate::streams::{Failure, print, read, shown_name, tell, wrong};
use report::{Locale, machine};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use tasks::SheetAsk;

/// Begin a sheet from a kind of strike, or alter one: remarks, order and blanks of the rest stay
#[derive(clap::Args)]
#[command(after_help = HOW)]
pub(crate) struct SheetLine {
    /// A kind of strike, or a sheet, a TOML file; - for standard input [default: list the kinds]
    #[arg(value_name = "KIND|SHEET")]
    of: Option<PathBuf>,
    /// What the clock is called
    #[arg(long, requires = "of")]
    name: Option<String>,
    /// How a question of its kind is answered; once for each
    #[arg(long, value_name = "QUESTION=ANSWER", requires = "of")]
    answer: Vec<String>,
    /// Set a count or a key; once for each
    #[arg(long, value_name = "PLACE=VALUE", requires = "of")]
    set: Vec<String>,
    /// The count of this part is lost; once for each
    #[arg(long, value_name = "ARBOR.PART", requires = "of")]
    lost: Vec<String>,
    /// Write it back into the file, not to standard output
    #[arg(long, requires = "of")]
    in_place: bool,
}

const HOW: &str = "\
Places, as a sheet has them:
  --set second.wheel=72             a count; 72? is in doubt, ? is not known
  --set third.pinion=lantern        how it is made: cut, lantern, pins
  --set count.held_by=square        a key of an arbor; arbor.count.held_by is the same
  --set track.slots.slot_deg=2.8    a key of a track, pin, lever, witness, moment, pillar or pivot, by its id
  --set strike.blows='hours and halves'   of strike, rack, chime, plates; seen_from=back of the sheet
  --set mesh.second.wheel:third.pinion.lash_teeth=0.2   of a mesh

Without a count a sheet says \"?\". What it lists as usual was not measured: it is worked out anew from the counts whenever it is altered here.";

impl SheetLine {
    pub(crate) fn run(&self) -> Result<ExitCode, Failure> {
        let Some(of) = &self.of else {
            print(&report::en::strike_kinds())?;
            return Ok(ExitCode::SUCCESS);
        };
        let ask = SheetAsk {
            name: self.name.as_deref(),
            answers: &self.answer,
            set: &self.set,
            lost: &self.lost,
        };
        let name = shown_name(of);
        let kind = of.to_str().and_then(tasks::kind_called);
        let made = match kind {
            Some(kind) if self.in_place => {
                let no_file = report::en::no_file(&kind.id);
                return Err(Failure::Wrong(format!("trundle: {no_file}")));
            }
            Some(kind) => {
                let named = SheetAsk {
                    name: ask.name.or(Some(&kind.id)),
                    ..ask
                };
                tasks::begin_sheet(kind, &named).map_err(|refusal| wrong(&name, &[], refusal))?
            }
            None => {
                let text = read(of)?;
                tasks::alter_sheet(&text, &ask).map_err(|refusal| wrong(&name, &text, refusal))?
            }
        };
        // What was made is told as any sheet is; a faulty one is not written.
        if let Err(faults) = tasks::check_open(made.as_bytes()) {
            return Err(wrong(&name, made.as_bytes(), faults.into()));
        }
        for odd in tasks::odd_open(made.as_bytes()) {
            tell(&carets::warning(&name, made.as_bytes(), &odd));
        }
        match self.in_place && of != Path::new("-") {
            true => written(of, &made)?,
            false => print(&made)?,
        }
        Ok(ExitCode::SUCCESS)
    }
}

/// Puts a text into a file that is there: whole, or not at all.
fn written(path: &Path, text: &str) -> Result<(), Failure> {
    let put = || -> std::io::Result<()> {
        let path = path.canonicalize()?;
        let folder = path.parent().unwrap_or(Path::new("."));
        let mut half = tempfile::NamedTempFile::new_in(folder)?;
        half.write_all(text.as_bytes())?;
        half.as_file()
            .set_permissions(path.metadata()?.permissions())?;
        half.as_file().sync_all()?;
        half.persist(&path)?;
        Ok(())
    };
    put().map_err(|error| {
        let why = machine(&Locale::default(), &error);
        Failure::Outside(report::en::cannot_use(&shown_name(path), &why))
    })
}
