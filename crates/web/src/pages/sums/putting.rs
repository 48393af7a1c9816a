//! What is typed into the boxes of a page is put on the job's sheet, or stands there again with what is wrong with it.

use super::boxes::{ASKED, BoxesTold, Offered};
use super::laid::with_boxes;
use super::page::Sum;
use crate::asked::{Answer, PageRequest, on_to};
use crate::desk::{Refused, Whole};
use crate::fields::with_unit;
use crate::form::{Fields, query};
use crate::speech::{UNITS, cookie, named};
use axum::http::HeaderValue;
use axum::http::header::SET_COOKIE;
use entries::Work;
use quantity::Teeth;
use report::{Locale, say};
use tasks::{BoxTyped, BoxesFault, CountFound, MeasureBox};

/// Puts what was typed on the sheet and goes back to the page; or shows it again.
pub(super) fn put(sum: &Sum, asked: &PageRequest) -> Answer {
    let fields = &asked.fields;
    let ask = fields.part(|name| name.strip_prefix(ASKED));
    let job = asked.whole()?;
    let offered = Offered::of(sum, &job, &ask);
    if let Some(units) = fields.get("units").and_then(|word| named(&UNITS, word)) {
        let before = asked.locale;
        let locale = Locale::of(before.lang(), before.usage()).with(units);
        let typed = with_their_units(fields, &offered.boxes, &before);
        let told = BoxesTold {
            typed: Some(typed),
            ..BoxesTold::default()
        };
        let job = asked.desk.whole(asked.id()?, locale, None)?;
        let mut page = with_boxes(sum, &job, &ask, &told);
        if let Ok(cookie) = HeaderValue::from_str(&cookie(&locale)) {
            page.headers_mut().insert(SET_COOKIE, cookie);
        }
        return Ok(page);
    }
    let typed = typed(fields, &offered.boxes, &asked.locale);
    let unknown = (offered.boxes.iter())
        .map(MeasureBox::name)
        .filter(|name| fields.get(&format!("{name}.unknown")).is_some());
    let unknown: Vec<String> = unknown.collect();
    let onward = (unknown.iter()).fold(ask.clone(), |ask, name| ask.with("unknown", name));
    let back = format!(
        "/job/{}/{}?{}#sentence",
        job.id,
        sum.word,
        query(onward.all())
    );
    if typed.is_empty() && !unknown.is_empty() {
        return Ok(on_to(&back));
    }
    match entered(asked, &job, tasks::put_in(&job.sheet, &typed)) {
        Ok(()) => Ok(on_to(&back)),
        Err(told) => {
            let told = BoxesTold {
                typed: Some(fields.clone()),
                ..told
            };
            Ok(with_boxes(sum, &asked.whole()?, &ask, &told))
        }
    }
}

fn typed(fields: &Fields, boxes: &[MeasureBox], locale: &Locale) -> Vec<BoxTyped> {
    let of_box = |of: &MeasureBox| {
        let name = of.name();
        Some(BoxTyped {
            text: fields.get(&name)?.to_owned(),
            unit: report::boxes::unit(locale, of.thing.holds()),
            sure: fields.get(&format!("{name}.sure")).is_some(),
            of: of.clone(),
        })
    };
    boxes.iter().filter_map(of_box).collect()
}

/// What was typed without a unit was meant in the one that stood beside its box.
fn with_their_units(fields: &Fields, boxes: &[MeasureBox], before: &Locale) -> Fields {
    boxes.iter().fold(fields.clone(), |all, of| {
        let name = of.name();
        let unit = report::boxes::unit(before, of.thing.holds());
        match all.get(&name).map(|typed| with_unit(typed, unit)) {
            Some(typed) => all.with(&name, &typed),
            None => all,
        }
    })
}

/// Enters a sheet in which something was put; nothing was entered where it says why.
fn entered(
    asked: &PageRequest,
    job: &Whole,
    put_in: Result<Work, BoxesFault>,
) -> Result<(), BoxesTold> {
    let says = |why: &Refused| BoxesTold {
        says: Some(why.say(&asked.locale)),
        status: Some(why.status()),
        ..BoxesTold::default()
    };
    let unfit = |words: String| says(&Refused::Told(words));
    let work = put_in.map_err(|why| match why {
        BoxesFault::Boxes(faults) => BoxesTold {
            faults,
            ..unfit(say!(&asked.locale, "box-wrong"))
        },
        BoxesFault::Nothing => unfit(say!(&asked.locale, "box-nothing")),
        BoxesFault::Wrong(why) => says(&Refused::Wrong(why)),
    })?;
    let entries = asked.entries().map_err(|why| says(&why))?;
    let entered = asked.desk.enter(job.id, entries, &work);
    entered.map(|_| ()).map_err(|why| says(&Refused::from(why)))
}

/// Puts counts that were found on the sheet, as one touch on them asks for.
pub(super) fn put_found(asked: &PageRequest) -> Answer {
    let job = asked.whole()?;
    let found: Option<Vec<CountFound>> = (asked.fields.all())
        .filter(|(name, _)| *name == "count")
        .map(|(_, value)| {
            let (part, teeth) = value.split_once('=')?;
            Some(CountFound {
                part: part.to_owned(),
                teeth: Teeth::new(teeth.parse().ok()?)?,
            })
        })
        .collect();
    let put_in = match found {
        Some(found) => tasks::put_counts(&job.sheet, &found),
        None => Err(BoxesFault::Nothing),
    };
    match entered(asked, &job, put_in) {
        // What is whole now goes on where it was counted; the rest is still to be found.
        Ok(()) => {
            let page = match asked.desk.described(job.id)? {
                Some(_) => "movement",
                None => "counts",
            };
            Ok(on_to(&format!("/job/{}/{page}", job.id)))
        }
        Err(told) => Err(Refused::Told(told.says.unwrap_or_default())),
    }
}
