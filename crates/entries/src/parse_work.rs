//! From a line to an entry, for what concerns the job as a whole.

use crate::line::{Object, Value};
use crate::pointed::{pointed_at, shifted};
use crate::{
    Emptied, Entry, EntryKind, ExpectedField, KeptText, LogFault, LogFaultKind, Occasion, Stage,
    Striking, Unit, Work,
};
use quantity::whole;

const STRIKINGS: [(&str, Striking); 2] = [("right", Striking::Right), ("wrong", Striking::Wrong)];

/// What an entry of this kind says; nothing where there is no such kind.
pub(crate) fn work(
    name: &str,
    o: &mut Object<'_>,
    earlier: &[Entry],
) -> Result<Option<Work>, LogFault> {
    Ok(Some(match name {
        "correction" => correction(o, earlier)?,
        "sheet" => Work::Sheet {
            text: o.need("text")?.text()?,
            hash: o.need("hash")?.text()?,
        },
        "lesson" => Work::Lesson {
            hidden: shifted(o)?,
        },
        "removal" => Work::Removal {
            emptied: emptied(o.need("emptied")?, earlier)?,
        },
        name => return correctable(name, o),
    }))
}

/// The kinds that can be put right by a correction.
fn correctable(name: &str, o: &mut Object<'_>) -> Result<Option<Work>, LogFault> {
    Ok(Some(match name {
        "intake" => Work::Intake {
            clock: o.need("clock")?.words()?,
            owner: words(o, "owner")?,
            reach: words(o, "reach")?,
            complaint: words(o, "complaint")?,
            promised: o.take("promised").map(Value::day).transpose()?,
        },
        "picture" => Work::Picture {
            picture: o.need("picture")?.picture()?,
            when: o
                .need("when")?
                .one_of(&Occasion::ALL.map(|when| (when.word(), when)))?,
            says: words(o, "says")?,
        },
        "measurement" => Work::Measurement {
            what: o.need("what")?.words()?,
            value: o.need("value")?.decimal()?,
            unit: o
                .need("unit")?
                .one_of(&Unit::ALL.map(|unit| (unit.word(), unit)))?,
            spread: o.take("spread").map(Value::spread).transpose()?,
        },
        "found" => Work::Found {
            part: o.need("part")?.words()?,
            says: o.need("says")?.words()?,
        },
        "fitted" => Work::Fitted {
            part: o.need("part")?.words()?,
            says: words(o, "says")?,
        },
        "oil" => Work::Oil {
            place: o.need("place")?.words()?,
            oil: o.need("oil")?.words()?,
        },
        "trial_run" => trial_run(o)?,
        "note" => Work::Note {
            says: o.need("says")?.words()?,
        },
        "check" => Work::Check {
            stage: stage(o.need("stage")?)?,
            item: o.need("item")?.words()?,
        },
        "stage" => Work::Stage {
            to: stage(o.need("to")?)?,
        },
        "handed_back" => Work::HandedBack {
            to: words(o, "to")?,
            says: words(o, "says")?,
        },
        _ => return Ok(None),
    }))
}

fn stage(value: Value<'_>) -> Result<Stage, LogFault> {
    value.one_of(&Stage::ALL.map(|stage| (stage.word(), stage)))
}

fn words(o: &mut Object<'_>, field: &'static str) -> Result<Option<KeptText>, LogFault> {
    o.take(field).map(Value::words).transpose()
}

fn trial_run(o: &mut Object<'_>) -> Result<Work, LogFault> {
    let ran = o.need("hours")?;
    let hours = ran.decimal()?;
    if *hours.exact() <= whole(0) {
        let got = format!("\"{}\"", hours.text());
        let expected = ExpectedField::Spread;
        return Err(ran.fault(LogFaultKind::Wrong { got, expected }));
    }
    let mut decimal = |field| o.take(field).map(Value::decimal).transpose();
    let rate_s_per_day = decimal("rate_s_per_day")?;
    let beat_error_ms = decimal("beat_error_ms")?;
    let arc_deg = decimal("arc_deg")?;
    Ok(Work::TrialRun {
        hours,
        rate_s_per_day,
        beat_error_ms,
        arc_deg,
        struck: (o.take("struck").map(|struck| struck.one_of(&STRIKINGS))).transpose()?,
        says: words(o, "says")?,
    })
}

fn correction(o: &mut Object<'_>, earlier: &[Entry]) -> Result<Work, LogFault> {
    let value = o.need("of")?;
    let of = pointed_at(value, earlier)?;
    let field = o.need("to")?;
    let mut inner = field.object()?;
    let name = inner.need("kind")?.text()?;
    let refused = || field.fault(LogFaultKind::NotCorrected { of });
    let to = correctable(&name, &mut inner)?.ok_or_else(refused)?;
    inner.finish()?;
    let same = |told: &Work| std::mem::discriminant(told) == std::mem::discriminant(&to);
    if !earlier[of - 1].work().is_some_and(same) {
        return Err(refused());
    }
    let to = Box::new(to);
    Ok(Work::Correction { of, to })
}

/// What was emptied: it must be, or the removal would be no more than words.
fn emptied(list: Value<'_>, earlier: &[Entry]) -> Result<Vec<Emptied>, LogFault> {
    let one = |mut object: Object<'_>| {
        let of = pointed_at(object.need("of")?, earlier)?;
        let named = object.need("fields")?;
        let fields = named.names()?;
        for field in &fields {
            if !earlier[of - 1].lacks(field) {
                let field = field.clone();
                return Err(named.fault(LogFaultKind::NotEmptied { of, field }));
            }
        }
        object.finish()?;
        Ok(Emptied { of, fields })
    };
    list.list()?.into_iter().map(one).collect()
}

impl Entry {
    /// Whether a removal emptied this field of it.
    fn lacks(&self, field: &str) -> bool {
        let Some(EntryKind::Work(work)) = self.known_kind() else {
            return false;
        };
        // What is left out is not there at all, so only what was emptied is null.
        let plain = serde_json::to_value(work.as_corrected());
        plain.is_ok_and(|object| object.get(field).is_some_and(serde_json::Value::is_null))
    }
}
