//! The addresses of where the arbors lie: each letting-go is entered; what is touched on a photograph is minded beside the job.

use super::page::{Shown, page};
use super::photograph::TouchedPicture;
use super::picture::LyingPicture;
use super::said::{AskedPlaces, SentPlate, distance, fixing, new_standing, touched, typed_place};
use crate::asked::{Answer, PageRequest, on_to, read, sent, write};
use crate::desk::{Desk, Refused, Whole};
use crate::form::said::{lenient, number, yes};
use crate::form::{FieldFault, Fields};
use crate::pages::timing;
use crate::underlay::{Drawn, Under};
use axum::Router;
use axum::http::StatusCode;
use draw::OnPlate;
use movement::Plate;
use report::page::{placing, plate_key};
use serde::Deserialize;
use std::sync::Arc;
use tasks::{
    FixedPillar, Lying, NotPlaced, Photograph, PlaceFault, Placeable, PlatePicture, PutPlace,
};

pub(crate) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/job/{id}/places", read(show))
        .route("/job/{id}/places/put", write(put))
        .route("/job/{id}/places/stand", write(stand))
        .route("/job/{id}/places/fix", write(fix))
        .route("/job/{id}/places/size", write(size))
        .route("/job/{id}/places/away", write(away))
        .route("/job/{id}/places/undo", write(undo))
        .route("/job/{id}/places/touch", write(touch))
        .route("/job/{id}/places/unseen", write(unseen))
        .route("/job/{id}/places/distance", write(ruled))
        .route("/job/{id}/places/take", write(take))
        .route("/job/{id}/places/shown", write(fade))
}

/// Why something is not placed, in words.
fn worded(asked: &PageRequest, fault: NotPlaced) -> Refused {
    match fault {
        NotPlaced::Desk(fault) => fault.into(),
        NotPlaced::Place(fault) => Refused::Told(placing::fault(&asked.locale, &fault)),
    }
}

/// The page, with why something was refused.
fn shown(asked: &PageRequest, fields: &Fields, why: Option<&Refused>) -> Answer {
    let job = asked.whole()?;
    let Some(lying) = asked.desk.lying(job.id)? else {
        // What is not described yet has nothing to be placed.
        return Ok(on_to(&format!("/job/{}/movement", job.id)));
    };
    let status = why.map_or(StatusCode::OK, Refused::status);
    let wanted: AskedPlaces = fields.read()?;
    let pictures = asked.desk.job_pictures(&job.state.log)?;
    let plate = wanted.photographed.map(Plate::from);
    if let (Some(n), Some(plate)) = (wanted.picture, plate)
        && let Some(shows) = pictures.iter().find(|own| own.entry == n)
    {
        let all = asked.desk.photographs(job.id)?;
        let known = all.into_iter().find(|own| own.entry == n);
        let photograph = known.unwrap_or_else(|| Photograph::new(n, plate, shows.high));
        let touched = TouchedPicture {
            lying: &lying,
            shows,
            photograph: &photograph,
            plate,
            asked: wanted.touch.as_deref(),
            typed: fields,
        };
        return Ok(sent(status, touched.page(&job, why)));
    }
    let drawn = Drawn {
        movement: lying.movement(),
        layout: &lying.layout,
        view: job.view(),
    };
    let under = Under::of(&asked.desk, job.id, &job.state.log, &drawn)?;
    let shows = Shown {
        lying: &lying,
        pictures: &pictures,
        under: under.as_ref(),
        asked: &wanted,
        typed: fields,
    };
    Ok(sent(status, page(&job, &shows, why)))
}

fn show(asked: &PageRequest) -> Answer {
    shown(asked, &Fields::of(only_asked(&asked.fields)), None)
}

/// What an address asks for, and nothing that would look as if it had been typed.
fn only_asked(fields: &Fields) -> Vec<(String, String)> {
    let names = ["what", "new", "picture", "photographed", "touch"];
    (fields.all())
        .filter(|(name, _)| names.contains(name))
        .map(|(name, value)| (name.to_owned(), value.to_owned()))
        .collect()
}

/// On to the page at an address, or the same page again with why not, and what was typed.
fn next(asked: &PageRequest, done: Result<String, Refused>) -> Answer {
    match done {
        Ok(question) => Ok(on_to(&format!("/job/{}/places{question}", asked.id()?))),
        Err(why) => shown(asked, &asked.fields, Some(&why)),
    }
}

/// How a place is sent.
#[derive(Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum By {
    Touch,
    Figures,
}

#[derive(Deserialize)]
struct SentPlace {
    what: Option<String>,
    #[serde(deserialize_with = "lenient")]
    by: Option<By>,
    #[serde(deserialize_with = "lenient")]
    plate: Option<SentPlate>,
    #[serde(deserialize_with = "yes")]
    over: bool,
}

/// The place that was sent, and whether it was touched: on the drawing by the browser itself, or told in figures.
fn place(asked: &PageRequest, job: &Whole, lying: &Lying) -> Result<(OnPlate, bool), Refused> {
    let sent: SentPlace = asked.fields.read()?;
    let touch = touched(&asked.fields, "at")?;
    let Some(touch) = touch.filter(|_| sent.by.is_none()) else {
        let at = typed_place(&asked.locale, &asked.fields)?;
        return Ok((at, sent.by == Some(By::Touch)));
    };
    // The drawing that was touched is the one of the plate that was towards whoever touched it.
    let mut view = job.view();
    view.plate = sent.plate.map_or(view.plate, Plate::from);
    view.upside_down = sent.over;
    let spot = LyingPicture::of(job, lying).spot(touch);
    let at = lying.of_drawing(view, spot);
    let off = || Refused::Told(placing::fault(&asked.locale, &PlaceFault::OffPlate));
    Ok((at.ok_or_else(off)?, true))
}

fn lying_of(asked: &PageRequest) -> Result<(Whole, Lying), Refused> {
    let job = asked.whole()?;
    let lying = asked.desk.lying(job.id)?.ok_or(Refused::Nothing)?;
    Ok((job, lying))
}

fn put(asked: &PageRequest) -> Answer {
    let done = || {
        let (job, lying) = lying_of(asked)?;
        let entries = asked.entries()?;
        if entries != job.entries() {
            return Err(Refused::Behind);
        }
        let sent: SentPlace = asked.fields.read()?;
        let what = sent.what.as_deref().and_then(Placeable::of_word);
        let what = what.ok_or(Refused::Nothing)?;
        let (at, by_eye) = place(asked, &job, &lying)?;
        let put = PutPlace { what, at, by_eye };
        let entered = asked.desk.put_place(job.id, entries, &put);
        entered.map_err(|fault| worded(asked, fault))?;
        Ok(String::new())
    };
    next(asked, done())
}

fn stand(asked: &PageRequest) -> Answer {
    let done = || {
        let (job, lying) = lying_of(asked)?;
        let entries = asked.entries()?;
        if entries != job.entries() {
            return Err(Refused::Behind);
        }
        let new = new_standing(&asked.locale, &asked.fields)?;
        let (at, _) = place(asked, &job, &lying)?;
        let entered = asked.desk.stand(job.id, entries, &new, at);
        entered.map_err(|fault| worded(asked, fault))?;
        Ok(String::new())
    };
    next(asked, done())
}

/// What fixes the plate on a pillar is told otherwise.
fn fix(asked: &PageRequest) -> Answer {
    let done = || {
        let what = asked.fields.get("what").and_then(Placeable::of_word);
        let what = what.ok_or(Refused::Nothing)?;
        let word = what.word();
        let (fixing, pitch) = fixing(&asked.locale, &asked.fields)?;
        let pillar = FixedPillar {
            what,
            fixing,
            pitch,
        };
        let fixed = (asked.desk).fix_pillar(asked.id()?, asked.entries()?, &pillar);
        fixed.map_err(|fault| worded(asked, fault))?;
        Ok(format!("?what={word}"))
    };
    next(asked, done())
}

/// Places that are about are brought to what was measured since.
fn size(asked: &PageRequest) -> Answer {
    let done = || {
        let sized = (asked.desk).size_places(asked.id()?, asked.entries()?);
        sized.map_err(|fault| worded(asked, fault))?;
        Ok(String::new())
    };
    next(asked, done())
}

fn away(asked: &PageRequest) -> Answer {
    let done = || {
        let what = asked.fields.get("what").and_then(Placeable::of_word);
        let what = what.ok_or(Refused::Nothing)?;
        let gone = (asked.desk).take_off(asked.id()?, asked.entries()?, &what);
        gone.map_err(|fault| worded(asked, fault))?;
        Ok(String::new())
    };
    next(asked, done())
}

fn undo(asked: &PageRequest) -> Answer {
    let done = || {
        asked.desk.untouch(asked.id()?, asked.entries()?)?;
        Ok(String::new())
    };
    next(asked, done())
}

/// A picture that is touched.
#[derive(Deserialize)]
struct OnPicture {
    #[serde(deserialize_with = "number")]
    picture: Option<usize>,
    #[serde(deserialize_with = "lenient")]
    photographed: Option<SentPlate>,
    touch: Option<String>,
}

impl OnPicture {
    fn of(asked: &PageRequest) -> Result<(OnPicture, PlatePicture), Refused> {
        let sent: OnPicture = asked.fields.read()?;
        let picture = PlatePicture {
            entry: sent.picture.ok_or(Refused::Nothing)?,
            plate: sent.photographed.ok_or(Refused::Nothing)?.into(),
        };
        Ok((sent, picture))
    }
}

/// Back to a picture that is touched.
fn back(picture: PlatePicture) -> String {
    format!(
        "?picture={}&photographed={}",
        picture.entry,
        plate_key(picture.plate)
    )
}

/// Minds something of a photograph.
fn minded(
    asked: &PageRequest,
    mind: impl FnOnce(&mut Photograph, Option<&str>) -> Result<(), NotPlaced>,
) -> Result<PlatePicture, Refused> {
    let (sent, picture) = OnPicture::of(asked)?;
    let mut other = None;
    let done =
        (asked.desk).photograph(
            asked.id()?,
            asked.entries()?,
            picture,
            |photograph| match mind(photograph, sent.touch.as_deref()) {
                Err(NotPlaced::Place(fault)) => Err(fault),
                Err(fault) => {
                    other = Some(fault);
                    Ok(())
                }
                Ok(()) => Ok(()),
            },
        );
    done.map_err(|fault| worded(asked, fault))?;
    match other {
        Some(fault) => Err(worded(asked, fault)),
        None => Ok(picture),
    }
}

fn touch(asked: &PageRequest) -> Answer {
    let done = || {
        let at = touched(&asked.fields, "on")?;
        let at = at.ok_or_else(|| FieldFault::of("left", ""))?;
        let picture = minded(asked, |photograph, what| {
            let what = what.ok_or(PlaceFault::NoPicture)?;
            Ok(photograph.touch(what, at)?)
        })?;
        Ok(back(picture))
    };
    next(asked, done())
}

fn unseen(asked: &PageRequest) -> Answer {
    let done = || {
        let picture = minded(asked, |photograph, what| {
            photograph.skip(what.unwrap_or_default());
            Ok(())
        })?;
        Ok(back(picture))
    };
    next(asked, done())
}

fn ruled(asked: &PageRequest) -> Answer {
    let done = || {
        let mm = distance(&asked.locale, &asked.fields)?;
        let picture = minded(asked, |photograph, _| {
            photograph.rule_mm = Some(mm);
            Ok(())
        })?;
        Ok(back(picture))
    };
    next(asked, done())
}

#[derive(Deserialize)]
struct Anew {
    #[serde(deserialize_with = "yes")]
    anew: bool,
}

fn take(asked: &PageRequest) -> Answer {
    let done = || {
        let (_, picture) = OnPicture::of(asked)?;
        let Anew { anew } = asked.fields.read()?;
        let id = asked.id()?;
        let taken = (asked.desk).take_places(id, asked.entries()?, picture.entry, anew);
        taken.map_err(|fault| worded(asked, fault))?;
        Ok(String::new())
    };
    next(asked, done())
}

#[derive(Deserialize)]
struct Faded {
    #[serde(deserialize_with = "number")]
    shown: Option<u8>,
    #[serde(deserialize_with = "yes")]
    bench: bool,
}

/// How much of a picture is seen. It stays where it was asked: on the bench, with what is being read there.
fn fade(asked: &PageRequest) -> Answer {
    let done = || {
        let Faded { shown, .. } = asked.fields.read()?;
        let shown = shown
            .filter(|shown| *shown <= 100)
            .ok_or(Refused::Nothing)?;
        minded(asked, |photograph, _| {
            photograph.shown = shown;
            Ok(())
        })?;
        Ok(String::new())
    };
    let Faded { bench, .. } = asked.fields.read()?;
    match (done(), bench) {
        (Ok(_), true) => Ok(on_to(&timing::carried_on(asked)?)),
        (done, _) => next(asked, done),
    }
}
