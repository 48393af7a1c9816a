//! What was seen and done to a clock as a whole, an entry a line.

use super::quoted;
use entries::{Emptied, Occasion, Stage, Striking, Unit, Words, Work};

/// What an entry tells.
pub fn work(work: &Work) -> String {
    match work {
        Work::Intake {
            clock,
            owner,
            complaint,
            ..
        } => {
            let owner = also(", of ", owner.as_ref());
            let complaint = also(": ", complaint.as_ref());
            format!("Came in: {}{owner}{complaint}.", said(clock))
        }
        Work::Picture {
            picture,
            when,
            says,
        } => {
            let when = match when {
                Occasion::Before => "before",
                Occasion::During => "meanwhile",
                Occasion::After => "after",
            };
            let says = also(": ", says.as_ref());
            match picture.here() {
                Some(_) => format!("A picture, {when}{says}."),
                None => format!("A picture, {when}, removed{says}."),
            }
        }
        Work::Measurement {
            what,
            value,
            unit,
            spread,
        } => {
            let spread = spread.as_ref();
            let spread = spread.map_or_else(String::new, |s| format!(" ± {}", s.text()));
            let (value, unit) = (value.text(), unit_words(*unit));
            format!("{}: {value}{spread} {unit}.", said(what))
        }
        Work::Found { part, says } => format!("Found at {}: {}.", said(part), said(says)),
        Work::Fitted { part, says } => {
            format!("Fitted: {}{}.", said(part), also(", ", says.as_ref()))
        }
        Work::Oil { place, oil } => format!("Oiled: {} with {}.", said(place), said(oil)),
        Work::TrialRun { .. } => trial_run(work),
        Work::Note { says } => said(says),
        Work::Correction { of, to } => {
            format!("Number {of} put right: {}", self::work(to))
        }
        Work::Check { stage, item } => format!("Done, {}: {}.", stage_word(*stage), said(item)),
        Work::Stage { to } => format!("Now: {}.", stage_word(*to)),
        Work::Sheet { .. } => "The sheet as it is known from here on.".to_owned(),
        Work::HandedBack { to, says } => {
            let to = also(" to ", to.as_ref());
            format!("Handed back{to}{}.", also(": ", says.as_ref()))
        }
        Work::Removal { emptied } => {
            let numbers: Vec<String> = (emptied.iter())
                .map(|Emptied { of, fields }| format!("{of} ({})", fields.join(", ")))
                .collect();
            format!("Removed for good: {}.", numbers.join("; "))
        }
    }
}

/// A stage as a word.
pub fn stage_word(stage: Stage) -> &'static str {
    match stage {
        Stage::In => "in",
        Stage::Down => "down",
        Stage::Look => "look",
        Stage::Together => "together",
        Stage::Prove => "prove",
        Stage::Rate => "rate",
        Stage::Out => "out",
    }
}

/// A unit behind a figure.
pub fn unit_words(unit: Unit) -> &'static str {
    match unit {
        Unit::Teeth => "teeth",
        Unit::Turns => "turns",
        Unit::Deg => "°",
        Unit::Mm => "mm",
        Unit::In => "in",
        Unit::Um => "µm",
        Unit::G => "g",
        Unit::N => "N",
        Unit::Nmm => "N mm",
        Unit::S => "s",
        Unit::SPerDay => "s a day",
    }
}

/// What was said, or that it was removed.
pub fn said(words: &Words) -> String {
    words.here().map_or_else(removed, Clone::clone)
}

/// In place of what was removed.
pub fn removed() -> String {
    "(removed)".to_owned()
}

fn also(before: &str, words: Option<&Words>) -> String {
    words.map_or_else(String::new, |words| format!("{before}{}", said(words)))
}

fn trial_run(run: &Work) -> String {
    let Work::TrialRun {
        hours,
        rate_s_per_day,
        beat_error_ms,
        arc_deg,
        struck,
        says,
    } = run
    else {
        return String::new();
    };
    let mut told = vec![format!("Ran {} hours", hours.text())];
    let figures = [
        (rate_s_per_day, "gaining", "s a day"),
        (beat_error_ms, "beat error", "ms"),
        (arc_deg, "swing", "°"),
    ];
    for (figure, what, unit) in figures {
        told.extend((figure.as_ref()).map(|f| format!("{what} {} {unit}", f.text())));
    }
    told.extend(struck.map(|struck| match struck {
        Striking::Right => "struck right".to_owned(),
        Striking::Wrong => "struck wrong".to_owned(),
    }));
    format!("{}{}.", told.join(", "), also(": ", says.as_ref()))
}

/// A removal that named something that is not there.
pub fn nothing_to_remove(field: &str) -> String {
    format!("there is no {} in that entry to be removed", quoted(field))
}
