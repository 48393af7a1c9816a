//! Emptying what a person has a right to have emptied. The entries stay; what stood in the fields is gone.

use crate::line::{Line, Object};
use crate::{Emptied, EntryKind, Log, LogFault, LogFaultKind, LogPlace, Work};

/// What a removal changes in a log's text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Removed {
    /// The lines that were rewritten, by number of entry, without their ends.
    pub emptied: Vec<(usize, String)>,
    /// The line that tells of it, with its end.
    pub added: String,
}

impl Log {
    /// Empties fields of entries, and adds the entry that says so. Of this log's text nothing else changes; what else
    /// holds the fields is for whoever holds that.
    ///
    /// # Errors
    /// A field is not there, or is none that can be emptied; the log is then as it was.
    pub fn remove(&mut self, fields: &[Emptied], at: Option<&str>) -> Result<Removed, LogFault> {
        let mut lines: Vec<String> = self.text().split('\n').map(str::to_owned).collect();
        let mut emptied: Vec<(usize, String)> = Vec::new();
        for Emptied { of, fields } in fields {
            let missing = |field: &String| LogFault {
                place: LogPlace::Line { line: of + 1 },
                what: LogFaultKind::NotEmptied {
                    of: *of,
                    field: field.clone(),
                },
            };
            if *of == 0 || *of > self.entries().len() {
                let n = self.entries().len() + 1;
                let of = u64::try_from(*of).unwrap_or(u64::MAX);
                let what = LogFaultKind::PointsNowhere { of, n };
                let place = LogPlace::Text;
                return Err(LogFault { place, what });
            }
            for field in fields {
                let line = &mut lines[*of];
                *line = without(line, *of + 1, field)?.ok_or_else(|| missing(field))?;
            }
            emptied.retain(|(n, _)| n != of);
            emptied.push((*of, lines[*of].clone()));
        }
        let (mut log, _) = Log::read(lines.join("\n").as_bytes())?;
        let removal = Work::Removal {
            emptied: fields.to_vec(),
        };
        let added = log.append(&EntryKind::Work(removal), at)?;
        *self = log;
        for (_, line) in &mut emptied {
            *line = line.trim_end_matches('\r').to_owned();
        }
        Ok(Removed { emptied, added })
    }

    /// Of these fields, those that this log has and that are not empty yet.
    pub fn holding(&self, fields: &[Emptied]) -> Vec<Emptied> {
        let of_entry = |asked: &Emptied| {
            let line = self.text().split('\n').nth(asked.of)?;
            let object = Line::new(line.as_bytes(), asked.of + 1)
                .ok()?
                .object()
                .ok()?;
            let here = |field: &&String| {
                let place = within(&object, field).ok().flatten();
                place.is_some_and(|place| &line[place] != "null")
            };
            let fields: Vec<String> = asked.fields.iter().filter(here).cloned().collect();
            let of = asked.of;
            (of > 0 && !fields.is_empty()).then_some(Emptied { of, fields })
        };
        fields.iter().filter_map(of_entry).collect()
    }

    /// Every field that names a person, and every picture, that is still in the log, whether or not the entry counts.
    pub fn personal(&self) -> Vec<Emptied> {
        let of_entry = |entry: &crate::Entry| {
            let work = entry.work()?;
            let mut fields: Vec<String> = work.personal().iter().map(|&f| f.to_owned()).collect();
            fields.extend(work.picture().map(|_| "picture".to_owned()));
            (!fields.is_empty()).then_some(Emptied {
                of: entry.n,
                fields,
            })
        };
        self.entries().iter().filter_map(of_entry).collect()
    }
}

/// The line with this field emptied; nothing where it has none.
fn without(line: &str, number: usize, field: &str) -> Result<Option<String>, LogFault> {
    let object = Line::new(line.as_bytes(), number)?.object()?;
    let Some(place) = within(&object, field)? else {
        return Ok(None);
    };
    let (before, after) = (&line[..place.start], &line[place.end..]);
    Ok(Some(format!("{before}null{after}")))
}

/// Where the field's value stands: in the entry itself, or in what it says should have been said.
fn within(object: &Object<'_>, field: &str) -> Result<Option<std::ops::Range<usize>>, LogFault> {
    if object.kind_is("correction") {
        return match object.inner("to")? {
            Some(inner) => Ok(inner.place(field)),
            None => Ok(None),
        };
    }
    Ok(object.place(field))
}
