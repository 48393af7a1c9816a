//! The addresses of listening: a recording that is sent, a microphone that is listened to live, the sound to be played, and what is
//! noted of it. A recording is listened to as it comes in, and never held in memory.

use super::page::{Heard, listening};
use super::said::{Beside, FIELDS, address};
use crate::asked::{Answer, PageRequest, answered, on_to, read, refused, sent, write};
use crate::bounds::STALLED_FOR;
use crate::desk::{Desk, Refused, Whole};
use crate::form::Fields;
use crate::form::said::number;
use crate::recordings::live::{Live, anew, heard};
use crate::recordings::{MOST_BYTES, Poured, Recording, locked};
use crate::speech::Speech;
use axum::Router;
use axum::body::{Body, Bytes};
use axum::extract::multipart::{Field, Multipart};
use axum::extract::{DefaultBodyLimit, Path, Query, State};
use axum::http::{HeaderMap, Method, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use book::JobId;
use futures_util::stream;
use report::{Locale, Voice, say};
use serde::Deserialize;
use serde_json::json;
use std::fs::File;
use std::io::{Read, Seek, SeekFrom};
use std::sync::{Arc, Mutex};
use tasks::listening::{ExpectedClock, Findings, Hearing, NotSound, Recorder, heard_pace};
use tokio::sync::mpsc;
use tokio::time::timeout;

/// Bytes of a field of the form that is no recording.
const MOST_FIELD: usize = 400;
/// Sound of a microphone that comes at once: some seconds.
const MOST_PART: usize = 8 << 20;
/// Pieces of a recording that wait to be listened to.
const WAITING: usize = 16;
/// Sound that is sent at once to be played.
const PIECE: u64 = 1 << 18;

pub(crate) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route(
            "/job/{id}/listen",
            read(show).merge(post(hear).layer(DefaultBodyLimit::disable())),
        )
        .route("/job/{id}/listen/note", write(note))
        .route("/job/{id}/listen/pace", write(pace))
        .route("/job/{id}/listen/live", write(begin))
        .route(
            "/job/{id}/listen/live/{live}",
            post(more).layer(DefaultBodyLimit::max(MOST_PART)),
        )
        .route("/job/{id}/listen/live/{live}/end", write(end))
        .route("/job/{id}/listen/sound/{sound}", get(play))
}

/// Which recording is asked for, and by which entry it was noted.
#[derive(Deserialize)]
struct AskedFor {
    sound: Option<String>,
    #[serde(deserialize_with = "number")]
    noted: Option<usize>,
}

impl AskedFor {
    /// That recording, if it still lies there.
    fn recording(&self, desk: &Desk, job: JobId) -> Option<Arc<Recording>> {
        desk.recordings
            .of(job, self.sound.as_deref()?.parse().ok()?)
    }
}

/// What is to be expected of the clock, by its sheet and what was typed; and what is known of the recorder.
fn expectations(asked: &PageRequest, job: &Whole) -> Result<(ExpectedClock, Recorder), Refused> {
    let beside = Beside::of(&asked.locale, &asked.fields)?;
    let known = tasks::listening::expectations(job.state.movement(), &beside.lent());
    known.map_err(|why| Refused::Wrong(why.into()))
}

/// What was heard in a recording, beside that.
fn findings(recording: &Recording, expected: &ExpectedClock, recorder: Recorder) -> Findings {
    tasks::listening::find(recording.hearing.heard.clone(), expected, recorder)
}

/// The page, with a recording where one is asked for that still lies there.
fn page(asked: &PageRequest, why: Option<&Refused>) -> Answer {
    let job = asked.whole()?;
    let asked_for: AskedFor = asked.fields.read()?;
    let recording = asked_for.recording(&asked.desk, job.id);
    let gone = asked_for.sound.is_some() && recording.is_none();
    let (known, odd) = match expectations(asked, &job) {
        Ok(known) => (Some(known), gone.then_some(Refused::NoRecording)),
        Err(why) => (None, Some(why)),
    };
    let why = why.or(odd.as_ref());
    let heard = recording
        .zip(known)
        .map(|(recording, (expected, recorder))| Heard {
            noted: asked_for.noted,
            found: findings(&recording, &expected, recorder),
            expected,
            recording,
        });
    let status = why.map_or(StatusCode::OK, Refused::status);
    let page = listening(&job, &asked.fields, heard.as_ref(), why);
    Ok(sent(status, page))
}

fn show(asked: &PageRequest) -> Answer {
    page(asked, None)
}

/// Notes in the job's log what was heard.
fn note(asked: &PageRequest) -> Answer {
    let noted = || -> Result<(u64, usize), Refused> {
        let job = asked.whole()?;
        let entries = asked.entries()?;
        let asked_for: AskedFor = asked.fields.read()?;
        let recording = asked_for.recording(&asked.desk, job.id);
        let recording = recording.ok_or(Refused::NoRecording)?;
        let (expected, recorder) = expectations(asked, &job)?;
        let found = findings(&recording, &expected, recorder);
        let says = tasks::kept_text(Some(&report::listen::note_of_findings(
            &asked.locale,
            &found,
        )));
        let entry = tasks::listening::entry(&found, says).ok_or(Refused::NoRecording)?;
        asked.desk.enter(job.id, entries, &entry)?;
        Ok((recording.id, entries + 1))
    };
    match noted() {
        Ok((sound, number)) => {
            let (sound, number) = (sound.to_string(), number.to_string());
            let noted = [("noted", &*number)];
            Ok(on_to(&address(asked.id()?, &asked.fields, &sound, &noted)))
        }
        Err(why) => page(asked, Some(&why)),
    }
}

/// Puts the pace that was heard on the job's sheet.
fn pace(asked: &PageRequest) -> Answer {
    let put_down = || -> Result<u64, Refused> {
        let job = asked.id()?;
        let asked_for: AskedFor = asked.fields.read()?;
        let recording = asked_for.recording(&asked.desk, job);
        let recording = recording.ok_or(Refused::NoRecording)?;
        let heard = heard_pace(&recording.hearing.heard).ok_or(Refused::NoRecording)?;
        let entries = asked.entries()?;
        asked
            .desk
            .touch(job, entries, |described| described.pace(&heard))?;
        Ok(recording.id)
    };
    match put_down() {
        Ok(sound) => {
            let sound = sound.to_string();
            Ok(on_to(&address(asked.id()?, &asked.fields, &sound, &[])))
        }
        Err(why) => page(asked, Some(&why)),
    }
}

/// What comes with a recording: the fields beside it, and how listening to it went; nothing where none came.
struct Came {
    fields: Fields,
    heard: Option<Result<u64, Refused>>,
}

/// Listens to a recording as it comes in.
async fn hear(
    State(desk): State<Arc<Desk>>,
    Speech(locale): Speech,
    Path(id): Path<String>,
    headers: HeaderMap,
    mut form: Multipart,
) -> Response {
    let told = headers.get(header::CONTENT_LENGTH);
    let told = told.and_then(|n| n.to_str().ok()?.parse::<u64>().ok());
    let Ok(job) = id.parse::<JobId>() else {
        return refused(&locale, &Refused::Nothing);
    };
    let room = desk.recordings.coming.try_acquire();
    let none = if told.is_some_and(|bytes| bytes > MOST_BYTES) {
        Some(Refused::TooLong)
    } else if room.is_err() {
        Some(Refused::Told(say!(locale, "listen-too-many-coming")))
    } else {
        None
    };
    let came = if let Some(why) = none {
        Ok(Came {
            fields: Fields::default(),
            heard: Some(Err(why)),
        })
    } else {
        came(&desk, job, locale, &mut form).await
    };
    drop(room);
    // What still comes is let past for a while, so that the browser hears the answer.
    tokio::spawn(timeout(STALLED_FOR, async move {
        while let Ok(Some(_)) = form.next_field().await {}
    }));
    let (fields, heard) = match came {
        Ok(came) => (came.fields, came.heard),
        Err(_) => return refused(&locale, &Refused::BrokeOff),
    };
    let asked = PageRequest::of_job(desk, locale, id, fields);
    answered(asked, move |asked| match heard {
        Some(Ok(number)) => {
            let sound = number.to_string();
            Ok(on_to(&address(job, &asked.fields, &sound, &[])))
        }
        Some(Err(why)) => page(asked, Some(&why)),
        None => page(
            asked,
            Some(&Refused::Told(say!(asked.locale, "listen-none-chosen"))),
        ),
    })
    .await
}

async fn came(
    desk: &Arc<Desk>,
    job: JobId,
    locale: Locale,
    form: &mut Multipart,
) -> Result<Came, axum::extract::multipart::MultipartError> {
    let mut came = Came {
        fields: Fields::default(),
        heard: None,
    };
    while let Some(mut field) = form.next_field().await? {
        let name = field.name().unwrap_or_default().to_owned();
        if name != "recording" {
            let mut text = Vec::new();
            while let Some(part) = field.chunk().await? {
                text.extend(part.iter().take(MOST_FIELD - text.len().min(MOST_FIELD)));
            }
            let text = String::from_utf8_lossy(&text).into_owned();
            if FIELDS.contains(&name.as_str()) {
                came.fields = came.fields.with(&name, &text);
            }
        } else if field.file_name().is_some_and(|name| !name.is_empty()) {
            came.heard = Some(recording(desk, job, locale, field).await?);
            if matches!(came.heard, Some(Err(Refused::TooLong))) {
                return Ok(came);
            }
        }
    }
    Ok(came)
}

/// Pours a recording into the ear, and into a file to be played.
async fn recording(
    desk: &Arc<Desk>,
    job: JobId,
    locale: Locale,
    mut field: Field<'_>,
) -> Result<Result<u64, Refused>, axum::extract::multipart::MultipartError> {
    let named: String = (field.file_name().unwrap_or_default().chars())
        .filter(|c| !c.is_control())
        .take(80)
        .collect();
    let keeping = Arc::new(Mutex::new(desk.recordings.receive()));
    let (pour, from) = mpsc::channel(WAITING);
    let poured = Poured {
        from,
        now: Bytes::new(),
        keeping: Arc::clone(&keeping),
    };
    let hearing = tokio::task::spawn_blocking(move || heard(poured));
    let mut bytes = 0_u64;
    let mut wanted = true;
    let mut broken = None;
    loop {
        match field.chunk().await {
            Ok(Some(part)) => {
                bytes += u64::try_from(part.len()).unwrap_or(u64::MAX);
                if bytes > MOST_BYTES {
                    break;
                }
                // What is heard no more, its end or its fault being known, is let past.
                wanted = wanted && pour.send(part).await.is_ok();
            }
            Ok(None) => break,
            Err(error) => {
                broken = Some(error);
                break;
            }
        }
    }
    drop(pour);
    let hearing = hearing.await;
    if let Some(error) = broken {
        return Err(error);
    }
    if bytes > MOST_BYTES {
        return Ok(Err(Refused::TooLong));
    }
    Ok(match hearing {
        Ok(hearing) => listened_to(&locale, &named, hearing).and_then(|hearing| {
            kept(desk, job, locale, hearing, || {
                std::mem::take(&mut *locked(&keeping)).done()
            })
        }),
        Err(error) => Err(Refused::Outside(error.to_string())),
    })
}

/// What was listened to, or why it was no sound, of a recording by its name.
fn listened_to(
    locale: &Locale,
    named: &str,
    hearing: Result<Hearing, NotSound>,
) -> Result<Hearing, Refused> {
    hearing.map_err(|why| {
        let told = report::listen::not_sound(&Voice::Page(*locale), &format!("“{named}”"), &why);
        Refused::Told(told)
    })
}

/// Keeps what was heard, if anything was.
fn kept(
    desk: &Desk,
    job: JobId,
    locale: Locale,
    hearing: Hearing,
    sound: impl FnOnce() -> Option<crate::recordings::Sound>,
) -> Result<u64, Refused> {
    if let Some(unfit) = tasks::listening::unfit(&hearing.heard) {
        let told = report::listen::unfit_said(&locale, &unfit);
        return Err(Refused::Told(told));
    }
    Ok(desk.recordings.keep(job, hearing, sound()))
}

fn json_reply(status: StatusCode, what: &serde_json::Value) -> Response {
    let kind = [(header::CONTENT_TYPE, "application/json")];
    (status, kind, what.to_string()).into_response()
}

fn told_refused(locale: &Locale, why: &Refused) -> Response {
    json_reply(why.status(), &json!({ "refused": why.say(locale) }))
}

/// How many samples of sound a second a microphone gives.
#[derive(Deserialize)]
struct Microphone {
    #[serde(deserialize_with = "number")]
    rate: Option<u32>,
}

/// Begins to listen to a microphone.
fn begin(asked: &PageRequest) -> Answer {
    let job = asked.whole()?;
    let movement = job.state.movement();
    let expected = movement.map_or_else(ExpectedClock::default, tasks::listening::expected);
    let Microphone { rate } = asked.fields.read()?;
    let begun = rate.and_then(|rate| asked.desk.recordings.begin(job.id, rate, expected));
    Ok(match begun {
        Some(live) => {
            let at = format!("/job/{}/listen/live/{live}", job.id);
            json_reply(StatusCode::OK, &json!({ "at": at }))
        }
        None => told_refused(
            &asked.locale,
            &Refused::Told(say!(asked.locale, "listen-too-many")),
        ),
    })
}

/// From which sample on more sound follows.
#[derive(Deserialize)]
struct More {
    #[serde(deserialize_with = "number")]
    from: Option<u64>,
}

/// More sound of a microphone; how far it has come, and the sentence so far.
async fn more(
    State(desk): State<Arc<Desk>>,
    Speech(locale): Speech,
    Path((job, live)): Path<(String, u64)>,
    Query(from): Query<Vec<(String, String)>>,
    sound: Bytes,
) -> Response {
    // A lock may be held while sound is written: it is waited for on a thread that may wait.
    let looked = tokio::task::spawn_blocking(move || {
        let job = job.parse().ok()?;
        desk.recordings.live(job, live)
    });
    let live = looked.await.ok().flatten();
    let from = Fields::of(from).read();
    let (Some(live), Ok(More { from: Some(from) })) = (live, from) else {
        return told_refused(&locale, &Refused::NoRecording);
    };
    let stands = tokio::task::spawn_blocking({
        let live: Arc<Mutex<Live>> = Arc::clone(&live);
        move || locked(&live).hear(from, &sound)
    });
    let Ok(stands) = stands.await else {
        return told_refused(&locale, &Refused::NoRecording);
    };
    if stands.due {
        tokio::task::spawn_blocking(move || anew(&live, locale));
    }
    let heard = report::listen::listened(&locale, stands.seconds);
    let standing = json!({
        "heard": heard,
        "samples": stands.samples,
        "so_far": stands.so_far,
        "full": stands.full,
    });
    json_reply(StatusCode::OK, &standing)
}

/// Ends listening to a microphone: where its answer is, or why there is none.
fn end(asked: &PageRequest) -> Answer {
    let job = asked.id()?;
    let number = asked.named("live")?.parse().map_err(|_| Refused::Nothing)?;
    let Some(live) = asked.desk.recordings.end(job, number) else {
        return Ok(told_refused(&asked.locale, &Refused::NoRecording));
    };
    let keeping = locked(&live).finish();
    if keeping.is_lost() {
        let why = Refused::Told(say!(asked.locale, "listen-no-room"));
        return Ok(told_refused(&asked.locale, &why));
    }
    let hearing = keeping.so_far().map_or(Err(NotSound::NoSamples), heard);
    let name = say!(asked.locale, "listen-microphone");
    let number = listened_to(&asked.locale, &name, hearing)
        .and_then(|hearing| kept(&asked.desk, job, asked.locale, hearing, || keeping.done()));
    Ok(match number {
        Ok(number) => {
            let on = address(job, &asked.fields, &number.to_string(), &[]);
            json_reply(StatusCode::OK, &json!({ "on": on }))
        }
        Err(why) => told_refused(&asked.locale, &why),
    })
}

/// What of some bytes is sent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    All,
    /// From a first byte to a last one, both with it.
    Of(u64, u64),
    /// None of those that were asked for is there.
    None,
}

impl Part {
    /// What is sent to who asks so. All of it where it is asked for in another unit, or in several parts, or only if it is what was sent
    /// before, which nothing told here. Source: RFC 9110, sections 13.1.5, 14.1.2 and 14.2.
    fn of(headers: &HeaderMap, bytes: u64) -> Part {
        let range = headers.get(header::RANGE).and_then(|r| r.to_str().ok());
        let in_bytes = |range: &&str| {
            let unit = range.split('=').next().unwrap_or_default();
            unit.trim().eq_ignore_ascii_case("bytes")
        };
        let Some(range) = range.filter(in_bytes) else {
            return Part::All;
        };
        if headers.contains_key(header::IF_RANGE) {
            return Part::All;
        }
        match http_range_header::parse_range_header(range) {
            Ok(asked) if asked.len() > 1 => Part::All,
            Ok(asked) => match asked.validate(bytes).as_deref() {
                Ok([one]) => Part::Of(*one.start(), *one.end()),
                _ => Part::None,
            },
            Err(_) => Part::None,
        }
    }
}

/// The sound of a recording, or a part of it.
async fn play(
    State(desk): State<Arc<Desk>>,
    Speech(locale): Speech,
    Path((job, sound)): Path<(String, u64)>,
    method: Method,
    headers: HeaderMap,
) -> Response {
    let opened = tokio::task::spawn_blocking(move || {
        let recording = desk.recordings.of(job.parse().ok()?, sound)?;
        let sound = recording.sound.as_ref()?;
        Some((sound.open().ok()?, sound.bytes, sound.kind))
    });
    let Some((mut file, bytes, kind)) = opened.await.ok().flatten() else {
        return refused(&locale, &Refused::Nothing);
    };
    let part = match method {
        Method::GET => Part::of(&headers, bytes),
        _ => Part::All,
    };
    let (first, last) = match part {
        Part::All => (0, bytes.saturating_sub(1)),
        Part::Of(first, last) => (first, last),
        Part::None => {
            let all = [(header::CONTENT_RANGE, format!("bytes */{bytes}"))];
            return (StatusCode::RANGE_NOT_SATISFIABLE, all).into_response();
        }
    };
    if file.seek(SeekFrom::Start(first)).is_err() {
        return refused(&locale, &Refused::Nothing);
    }
    let long = bytes.min(last + 1 - first);
    let mut response = Body::from_stream(stream::unfold((file, long), pieces)).into_response();
    let headers = response.headers_mut();
    let mut say = |name, value: String| {
        if let Ok(value) = value.try_into() {
            headers.insert(name, value);
        }
    };
    say(header::CONTENT_TYPE, kind.to_owned());
    say(header::ACCEPT_RANGES, "bytes".to_owned());
    say(header::CONTENT_LENGTH, long.to_string());
    if part != Part::All {
        say(
            header::CONTENT_RANGE,
            format!("bytes {first}-{last}/{bytes}"),
        );
        *response.status_mut() = StatusCode::PARTIAL_CONTENT;
    }
    response
}

/// The next piece of a file of which so much is still to be sent.
async fn pieces((mut file, left): (File, u64)) -> Option<(std::io::Result<Bytes>, (File, u64))> {
    if left == 0 {
        return None;
    }
    let read = tokio::task::spawn_blocking(move || {
        let mut piece = Vec::new();
        let read = (&mut file).take(left.min(PIECE)).read_to_end(&mut piece);
        (file, read.map(|_| piece))
    });
    let (file, piece) = read.await.ok()?;
    let got = piece
        .as_ref()
        .map_or(0, |piece| u64::try_from(piece.len()).unwrap_or(left));
    // What has become shorter ends there.
    let left = if got == 0 { 0 } else { left - got };
    Some((piece.map(Bytes::from), (file, left)))
}

#[cfg(test)]
mod tests {
    use super::Part;
    use axum::http::{HeaderMap, header};

    fn part(range: &str, bytes: u64) -> Part {
        let range = range.parse().expect("a value");
        Part::of(&HeaderMap::from_iter([(header::RANGE, range)]), bytes)
    }

    #[test]
    fn a_part_of_the_sound_is_what_was_asked_for() {
        assert_eq!(part("bytes=0-", 100), Part::Of(0, 99));
        assert_eq!(part("bytes=10-19", 100), Part::Of(10, 19));
        assert_eq!(part("bytes=10-1000", 100), Part::Of(10, 99));
        assert_eq!(part("bytes=-5", 100), Part::Of(95, 99));
        assert_eq!(part("bytes=-500", 100), Part::Of(0, 99));
        for all in [
            "lines=0-",
            "5-",
            "bytes=0-4,10-19",
            "bytes=0-0,-1",
            "bytes=0-4,200-",
        ] {
            assert_eq!(part(all, 100), Part::All, "{all}");
        }
        let mut headers =
            HeaderMap::from_iter([(header::RANGE, "bytes=0-4".parse().expect("a value"))]);
        headers.insert(header::IF_RANGE, "\"that\"".parse().expect("a value"));
        assert_eq!(Part::of(&headers, 100), Part::All);
        for none in [
            "bytes=100-",
            "bytes=20-10",
            "bytes=-0",
            "bytes=-",
            "bytes=--5",
            "bytes=a-b",
        ] {
            assert_eq!(part(none, 100), Part::None, "{none}");
        }
        for of_nothing in ["bytes=0-", "bytes=-5"] {
            assert_eq!(part(of_nothing, 0), Part::None, "{of_nothing}");
        }
    }
}
