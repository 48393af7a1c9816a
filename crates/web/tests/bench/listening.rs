//! Listening at the bench: a made-up clock in a file that is sent, with the script and without, and by the microphone; what is bad
//! about a recording told in a sentence; the sound played; what was heard noted.

use crate::browser::{
    goto, root, shot, shot_whole, touch, until, value, with_browser, without_script,
};
use crate::keys::press;
use crate::made_up::{Clock, noise, room, strike, ticking, wav};
use crate::outside::{self, recordings};
use crate::served::{Answer, Served, ask, serve};
use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use std::time::Duration;
use thirtyfour::prelude::*;

pub(crate) const PAGE: &str = "/job/1/listen";
const RATE: u32 = 8_000;

pub(crate) fn mantel() -> String {
    std::fs::read_to_string(root().join("movements/mantel.toml")).expect("a sample")
}

/// The mantel clock as job 1.
pub(crate) fn served() -> Served {
    serve(&[&mantel()])
}

/// The mantel clock's train beats 7488 times an hour; this one gains 40 s a day, and is 6 ms out of beat.
const GAINS: Clock = Clock {
    half_s: 3_600.0 / 7_488.0 / (1.0 + 40.0 / 86_400.0),
    out_s: 0.006,
    round: (0.0, 1.0),
};

/// Five minutes of it.
pub(crate) static TICKING: LazyLock<Vec<u8>> =
    LazyLock::new(|| wav(&ticking(GAINS, 300.0, RATE), RATE, 16));

/// The same, late and early by 4 ms with each turn of the escape wheel: 56 beats.
pub(crate) static ECCENTRIC: LazyLock<Vec<u8>> = LazyLock::new(|| {
    let round = (0.004, 56.0 * GAINS.half_s);
    wav(&ticking(Clock { round, ..GAINS }, 300.0, RATE), RATE, 16)
});

/// A bell alone for so many seconds: how many blows, how many hours after the first.
pub(crate) fn struck(seconds: usize, strikes: &[(f64, u32)]) -> Vec<u8> {
    let rate = 6_000;
    let mut sound = room(seconds, rate);
    for (hour, blows) in strikes {
        strike(&mut sound, rate, 90.0 + 3_600.0 * hour, *blows);
    }
    wav(&sound, rate, 8)
}

fn send(served: &Served, fields: &[(&str, &str)], name: &str, bytes: &[u8]) -> Answer {
    served.upload_as(PAGE, fields, ("recording", name), bytes)
}

/// Where a recording that was sent is answered.
pub(crate) fn answered(served: &Served, fields: &[(&str, &str)], bytes: &[u8]) -> String {
    let answer = send(served, fields, "recording.wav", bytes);
    assert_eq!(answer.status, 303, "{}", answer.body);
    answer.header("location").expect("an address").to_owned()
}

pub(crate) fn kept(folder: &Path, name: &str, bytes: &[u8]) -> PathBuf {
    let path = folder.join(name);
    std::fs::write(&path, bytes).expect("written");
    path
}

/// What stands in the page, its entities and spaces plain, and its drawings left out but for their words.
fn plain(body: &str) -> String {
    let body: String = (body.split(" d=\"").enumerate())
        .map(|(k, part)| match part.split_once('"') {
            Some((_, after)) if k > 0 => after,
            _ => part,
        })
        .collect();
    (body.replace("&quot;", "\"").replace("&#39;", "'")).replace('\u{a0}', " ")
}

pub(crate) async fn open(driver: &WebDriver, served: &Served, path: &str) {
    let address = format!("{}{path}", served.address());
    goto(driver, address).await;
}

pub(crate) async fn says(driver: &WebDriver, selector: &str) -> String {
    let found = driver.find(By::Css(selector)).await;
    let found = found.unwrap_or_else(|error| panic!("{selector}: {error}"));
    found
        .text()
        .await
        .expect("its text")
        .replace(['\n', '\u{a0}'], " ")
}

async fn choose(driver: &WebDriver, file: &Path) {
    let field = driver.find(By::Name("recording")).await.expect("a field");
    field
        .send_keys(file.to_str().expect("a path"))
        .await
        .expect("chosen");
}

/// Waits for the page of an answer, script or none.
pub(crate) async fn at_answer(driver: &WebDriver) {
    for _ in 0..600 {
        let address = driver.current_url().await.expect("an address");
        if address
            .query()
            .is_some_and(|query| query.contains("sound="))
        {
            return;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    panic!("no answer came: {}", says(driver, "main").await);
}

const ANSWER: &str = "Gains 40 seconds a day. Out of beat by 6";

#[test]
fn a_recording_is_answered_without_the_script_and_noted_with_one_touch() {
    with_browser(async |driver| {
        let served = served();
        let folder = tempfile::tempdir().expect("a folder");
        let file = kept(folder.path(), "five-minutes.wav", &TICKING);
        without_script(driver).await;
        for stage in ["prove", "rate"] {
            open(driver, &served, &format!("/job/1/way?stage={stage}")).await;
            touch(driver, &format!("a[href='{PAGE}']")).await;
        }
        assert_eq!(says(driver, "h1").await, "Listen to it");
        let mind = says(driver, ".mind").await;
        let springs = mind.contains("out of its case") && !mind.contains("A weight that hangs");
        assert!(springs, "{mind}");
        choose(driver, &file).await;
        touch(driver, "#recording > button").await;
        at_answer(driver).await;
        let said = says(driver, "h1").await;
        assert!(
            said.starts_with(ANSWER) && said.ends_with("thousandths of a second."),
            "{said}"
        );
        // The nut is on the sheet: 0.5 mm a turn.
        let to_do = says(driver, ".to-do").await;
        assert!(to_do.contains("Turn the rating nut down by 0.4"), "{to_do}");
        let lines = says(driver, ".part .lines").await;
        assert!(
            lines.contains("95 times in 100") && lines.contains("7491"),
            "{lines}"
        );
        for shown in [
            ".plotted svg .run.first",
            ".plotted svg .run.second",
            "#strip svg .ticks",
            "#strip svg .tocks",
            "audio",
        ] {
            assert!(driver.find(By::Css(shown)).await.is_ok(), "{shown}");
        }
        touch(driver, ".noting button").await;
        until_shown(driver, ".noted").await;
        assert!(
            says(driver, ".noted")
                .await
                .contains("It stands in the log as number 1.")
        );
        shot(driver, "listen-noted").await;
        let record = plain(&served.get("/job/1/record/whole").body);
        assert!(
            record.contains("Ran 0.0833 hours. Gains 40 seconds a day. Out of beat by 6"),
            "{record}"
        );
        assert!(
            record.contains("Seconds a day: gains 32 to gains 48, 95 times in 100"),
            "{record}"
        );
        touch(driver, ".noted button").await;
        until_shown(driver, ".log s").await;
        let record = plain(&served.get("/job/1/record").body);
        assert!(!record.contains("Ran 0.0833 hours"), "{record}");
    });
}

async fn until_shown(driver: &WebDriver, selector: &str) {
    for _ in 0..200 {
        if driver.find(By::Css(selector)).await.is_ok() {
            return;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    panic!("{selector} never came");
}

/// The page with a recording of five minutes chosen; the file is there as long as its folder.
async fn five_minutes_chosen(driver: &WebDriver) -> (Served, tempfile::TempDir) {
    let served = served();
    let folder = tempfile::tempdir().expect("a folder");
    let file = kept(folder.path(), "five-minutes.wav", &TICKING);
    open(driver, &served, PAGE).await;
    choose(driver, &file).await;
    (served, folder)
}

#[test]
fn a_recording_that_is_sent_tells_how_far_it_is_and_is_played_from_any_place() {
    with_browser(async |driver| {
        let (_served, _folder) = five_minutes_chosen(driver).await;
        let watched = "window.far = []; new MutationObserver(() => far.push(document.querySelector('#sending p').textContent)) \
            .observe(document.querySelector('#sending p'), { childList: true }); \
            XMLHttpRequest.prototype.send = new Proxy(XMLHttpRequest.prototype.send, { apply(send, it, what) { \
            it.upload.addEventListener('load', () => sessionStorage.setItem('far', far.join('|'))); return Reflect.apply(send, it, what); } })";
        value(driver, watched).await;
        touch(driver, "#recording > button").await;
        at_answer(driver).await;
        assert!(says(driver, "h1").await.starts_with(ANSWER));
        let far = value(driver, "return sessionStorage.getItem('far')").await;
        assert!(
            far.as_str()
                .is_some_and(|far| far.contains("% listened to")),
            "{far}"
        );
        // It is played from where the sound is touched, and by keys.
        until(driver, "return document.querySelector('#played').readyState >= 1 && document.querySelector('#strip').getAttribute('role') === 'slider'").await;
        let long = value(driver, "return document.querySelector('#played').duration").await;
        assert!(
            long.as_f64().is_some_and(|s| (s - 300.0).abs() < 0.5),
            "{long}"
        );
        touch(driver, "#strip svg").await;
        let at = "return Math.abs(document.querySelector('#played').currentTime - 175) < 40 && !document.querySelector('#played').paused";
        until(driver, at).await;
        value(driver, "document.querySelector('#strip').focus()").await;
        press(driver, [Key::Space]).await;
        until(driver, "return document.querySelector('#played').paused").await;
        press(driver, [Key::Home, Key::Right, Key::Right]).await;
        until(
            driver,
            "return Math.abs(document.querySelector('#played').currentTime - 2) < 0.01",
        )
        .await;
        until(driver, "return document.querySelector('#strip').getAttribute('aria-valuetext') === '0:02 of 5:00.0'").await;
        let seen = "return getComputedStyle(document.querySelector('#strip .now')).visibility";
        assert_eq!(value(driver, seen).await, "visible");
        shot_whole(driver, "listen-played").await;
    });
}

#[test]
fn a_weight_is_warned_of_before_it_is_listened_to() {
    let hung = mantel().replace(
        "[arbor.strike_great]\n",
        "[arbor.strike_great]\nweight_g = 3000\n",
    );
    let body = serve(&[&hung]).get(PAGE).body;
    let weight = body.find("A weight that hangs while it runs");
    let now = body.find("id=\"listen-now\"");
    assert!(
        weight.is_some_and(|weight| now.is_some_and(|now| weight < now)),
        "{body}"
    );
}

#[test]
fn sending_may_be_stopped() {
    with_browser(async |driver| {
        let (_served, _folder) = five_minutes_chosen(driver).await;
        // As soon as it is on its way.
        let stop = "XMLHttpRequest.prototype.send = new Proxy(XMLHttpRequest.prototype.send, { apply(send, it, what) { \
            it.upload.addEventListener('loadstart', () => document.querySelector('#stop-sending').click()); return Reflect.apply(send, it, what); } })";
        value(driver, stop).await;
        touch(driver, "#recording > button").await;
        until(driver, "return document.querySelector('.refused') !== null").await;
        assert_eq!(
            says(driver, ".refused").await,
            "Stopped; nothing of this recording was kept."
        );
        assert_eq!(
            value(
                driver,
                "return document.querySelector('[name=recording]').files.length"
            )
            .await,
            1
        );
    });
}

#[test]
fn what_comes_round_is_marked_at_its_arbor_and_a_tap_tells_the_side() {
    let served = served();
    let address = answered(&served, &[("left-at", "0.3"), ("arc", "3")], &ECCENTRIC);
    assert!(address.contains("left-at=0.3&arc=3&"), "{address}");
    let page = plain(&served.get(&address).body);
    assert!(
        page.contains("Something comes round with the escape arbor"),
        "{page}"
    );
    assert!(page.contains("every 26.9 s</text>"), "{page}");
    assert!(
        page.contains("Move the foot of the crutch to the "),
        "{page}"
    );
    // The clock is asked about once more without sending it again.
    let again = page.contains("name=\"left-at\" value=\"0.3\"");
    assert!(again && page.contains("name=\"sound\""), "{page}");
    // Of another job it is none.
    let other = address.replace("/job/1/", "/job/2/");
    assert_eq!(
        served
            .post("/jobs", &[("clock", "Quay Street"), ("complaint", "stops")])
            .status,
        303
    );
    let answer = served.get(&other);
    assert_eq!(answer.status, 404);
    assert!(
        answer.body.contains("no longer on the bench"),
        "{}",
        answer.body
    );
    // A job without a sheet is listened to all the same.
    let file = ("recording", "a.wav");
    let sent = served.upload_as("/job/2/listen", &[], file, &TICKING);
    assert_eq!(sent.status, 303, "{}", sent.body);
    let page = plain(
        &served
            .get(sent.header("location").expect("an address"))
            .body,
    );
    let told = page.contains("7491.5 beats an hour. Out of beat by 6")
        && page.contains("known only with a sheet");
    assert!(told && !page.contains("--sheet"), "{page}");
}

/// Blows that were made 1.6 s apart: with a touch the pace stands on the sheet, and where it is asked for it is offered.
#[test]
fn the_pace_that_was_heard_is_put_on_the_sheet_with_one_touch() {
    let schoolroom = std::fs::read_to_string(root().join("movements/schoolroom.toml"));
    let served = serve(&[&schoolroom.expect("a sample")]);
    let strikes = struck(400, &[(0.0, 9)]);
    let address = answered(&served, &[], &strikes);
    let page = plain(&served.get(&address).body);
    let heard = "As it was heard: 1.6 s from blow to blow";
    assert!(page.contains(heard), "{page}");
    let sound = address.split("sound=").nth(1).expect("a number");
    let entries = [("entries", "0"), ("sound", sound)];
    assert_eq!(served.post("/job/1/listen/pace", &entries).status, 303);
    let sheet = served.get("/job/1/movement").body;
    let blow = crate::served::part(&sheet, "pace_s = ", "\n");
    let blow = blow.strip_prefix("pace_s = ").expect("it stands");
    let blow: f64 = blow.trim().parse().expect("a number");
    assert!((blow - 1.6).abs() < 0.02, "{blow}");
    let page = plain(&served.get(&address).body);
    assert!(page.contains("The sheet has 1.6 s."), "{page}");
    // From an old page; and of a recording that is not there.
    assert_eq!(served.post("/job/1/listen/pace", &entries).status, 409);
    let none = [("entries", "1"), ("sound", "7")];
    assert_eq!(served.post("/job/1/listen/pace", &none).status, 404);
    // A clock without levers has no use for it.
    let served = self::served();
    let address = answered(&served, &[], &strikes);
    let page = plain(&served.get(&address).body);
    assert!(!page.contains(heard), "{page}");
}

/// Three o'clock and four; half past three is missing, and half past four is struck twice for once.
#[test]
fn the_hours_as_struck_are_told_by_words_and_shape() {
    let served = serve(&[&mantel().replace("\"hours\"", "\"hours and halves\"")]);
    let strikes = struck(5_500, &[(0.0, 3), (1.0, 4), (1.5, 2)]);
    let address = answered(&served, &[], &strikes);
    let page = plain(&served.get(&address).body);
    for told in [
        "Struck 3 times; 2 of the hours due are wrong or missing.",
        "half past 3 is missing.",
        "half past 4 struck 2 for 1.",
        "at 1:30.0  3 blows, 1.6 s from blow to blow",
    ] {
        assert!(page.contains(told), "{told}: {page}");
    }
    assert_eq!(page.matches("data-state=\"wrong\"").count(), 2);
    // One was due and none was heard; of two for one, one was too many.
    assert_eq!(page.matches("<path class=\"open\"").count(), 1);
    assert_eq!(page.matches("<path class=\"over\"").count(), 1);
    let entries = [
        ("entries", "0"),
        ("sound", address.split("sound=").nth(1).expect("a number")),
    ];
    assert_eq!(served.post("/job/1/listen/note", &entries).status, 303);
    let log = plain(&served.get("/job/1/way?stage=prove").body);
    assert!(
        log.contains("It struck wrong.") && log.contains("half past 3 is missing."),
        "{log}"
    );
    // From an old page.
    assert_eq!(served.post("/job/1/listen/note", &entries).status, 409);
}

#[test]
fn what_is_no_good_recording_is_told_in_a_sentence_and_nothing_is_lost() {
    let served = served();
    let silent = wav(&vec![0.0; 20 * 8_000], RATE, 16);
    let mut noise = noise();
    let hiss: Vec<f64> = (0..20 * 8_000).map(|_| 0.2 * noise()).collect();
    let text = b"Wren Street, eight o'clock: it struck nine.\n".repeat(50_000);
    for (name, bytes, sentence) in [
        ("empty.wav", &b""[..], "“empty.wav” is empty: got no bytes"),
        (
            "header.wav",
            &TICKING[..44],
            "“header.wav” has a header and no sound after it",
        ),
        (
            "text.wav",
            &text,
            "“text.wav” is no recording that can be read",
        ),
        ("silent.wav", &silent, "Nothing is on this recording."),
        (
            "hiss.wav",
            &wav(&hiss, RATE, 16),
            "No clock can be made out.",
        ),
        (
            "short.wav",
            &TICKING[..8_044],
            "Only 0.5 seconds: too short",
        ),
    ] {
        let answer = send(&served, &[("arc", "2.5")], name, bytes);
        let body = plain(&answer.body);
        assert_eq!(answer.status, 422, "{name}: {body}");
        assert!(body.contains(sentence), "{name}: {body}");
        assert_eq!(body.matches("class=\"refused\"").count(), 1, "{name}");
        assert!(
            !body[body.find("<main").expect("a page")..].contains('`'),
            "{name}: {body}"
        );
        assert!(
            body.contains("name=\"arc\" value=\"2.5\""),
            "{name}: {body}"
        );
    }
    let none = send(&served, &[], "", b"");
    assert_eq!(none.status, 422);
    assert!(
        none.body.contains("No recording was chosen"),
        "{}",
        none.body
    );
    // Cut off, it is told as far as it goes.
    let cut = answered(&served, &[], &TICKING[..TICKING.len() / 2]);
    let cut = plain(&served.get(&cut).body);
    assert!(
        cut.contains("The recording breaks off after 2:30.0"),
        "{cut}"
    );
    // A number that is none.
    for (name, got) in [
        ("arc", "wide"),
        ("nut", "0"),
        ("left-at", "-1"),
        ("clock-ppm", "good"),
    ] {
        let answer = served.get(&format!("{PAGE}?{name}={got}"));
        assert_eq!(answer.status, 422, "{name}");
        assert!(
            answer
                .body
                .contains(&format!("name=\"{name}\" value=\"{got}\"")),
            "{name}: {}",
            answer.body
        );
    }
    assert_eq!(served.get("/job/9/listen").status, 404);
    assert_eq!(served.entries(PAGE_OF_WAY), "0");
}

const PAGE_OF_WAY: &str = "/job/1/way?stage=rate";

/// More than twelve hours of sound: told before it is sent.
#[test]
fn a_recording_that_is_too_long_is_told_at_once() {
    let served = served();
    let request = format!(
        "POST {PAGE} HTTP/1.1\r\nHost: 127.0.0.1:{0}\r\nOrigin: http://127.0.0.1:{0}\r\n\
         Content-Type: multipart/form-data; boundary=line\r\nContent-Length: 13000000000\r\nConnection: close\r\n\r\n\
         --line\r\nContent-Disposition: form-data; name=\"recording\"; filename=\"day.wav\"\r\n\r\nRIFF",
        served.port
    );
    let answer = ask_head(&served, &request);
    assert!(answer.starts_with("HTTP/1.1 413"), "{answer}");
    assert!(answer.contains("at most twelve hours"), "{answer}");
}

/// Sends the beginning of a request, and reads what is answered before the rest of it.
fn ask_head(served: &Served, request: &str) -> String {
    use std::io::{Read, Write};
    let mut stream = std::net::TcpStream::connect(served.v4()).expect("it listens");
    stream
        .set_read_timeout(Some(Duration::from_secs(10)))
        .expect("a limit");
    stream.write_all(request.as_bytes()).expect("sent");
    let mut text = String::new();
    let mut part = [0; 4096];
    while !text.contains("</html>") {
        let got = stream.read(&mut part).expect("answered");
        assert!(got > 0, "{text}");
        text += &String::from_utf8_lossy(&part[..got]);
    }
    text
}

#[test]
fn the_sound_is_sent_in_the_parts_that_are_asked_for() {
    let served = served();
    let address = answered(&served, &[], &TICKING);
    let number = address.split("sound=").nth(1).expect("a number");
    let of = |range: &str| {
        let request = format!(
            "GET /job/1/listen/sound/{number} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\n{range}Connection: close\r\n\r\n",
            served.port
        );
        ask(served.v4(), &request)
    };
    let whole = of("");
    assert_eq!(
        (whole.status, whole.header("content-type")),
        (200, Some("audio/wav"))
    );
    assert_eq!(
        whole.header("content-length"),
        Some(TICKING.len().to_string().as_str())
    );
    let part = of("Range: bytes=8-11\r\n");
    assert_eq!((part.status, part.body.as_str()), (206, "WAVE"));
    assert_eq!(
        part.header("content-range"),
        Some(format!("bytes 8-11/{}", TICKING.len()).as_str())
    );
    let end = of("Range: bytes=-500\r\n");
    let long = TICKING.len();
    assert_eq!(end.status, 206);
    assert_eq!(
        end.header("content-range"),
        Some(format!("bytes {}-{}/{long}", long - 500, long - 1).as_str())
    );
    assert_eq!(end.header("content-length"), Some("500"));
    for none in ["90000000-", "-0"] {
        assert_eq!(of(&format!("Range: bytes={none}\r\n")).status, 416);
    }
    // Of four recordings the first is gone, and its sound with it.
    for _ in 0..3 {
        answered(&served, &[], &TICKING[..400_000]);
    }
    assert_eq!(of("").status, 404);
    assert_eq!(served.get(&address).status, 404);
    let folder = served.book().with_file_name("bench.book.sounds");
    assert_eq!(std::fs::read_dir(folder).expect("a folder").count(), 3);
}

/// A real recording, where it is there: its clock beats 45 ms out of beat, in a full period of 1.8361 s (its own list of what is in it).
#[test]
fn a_real_recording_is_heard_through_the_page() {
    let Some(folder) = recordings("a real recording through the page") else {
        return;
    };
    let bytes = std::fs::read(folder.join("ticks-01.ogg")).expect("a recording");
    let served = served();
    let answer = send(&served, &[], "ticks-01.ogg", &bytes);
    assert_eq!(answer.status, 303, "{}", answer.body);
    let page = plain(
        &served
            .get(answer.header("location").expect("an address"))
            .body,
    );
    let after = page.split("from tick to tick ").nth(1).expect("a period");
    let period: f64 = after
        .split(' ')
        .next()
        .and_then(|s| s.parse().ok())
        .expect("a number");
    assert!((period - 1.8361).abs() < 0.01, "{period}");
}

/// The five minutes as plain sound, and packed by another library: the page says the same of each.
#[test]
fn flac_and_mp3_are_heard_through_the_page_as_the_wav_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = kept(folder.path(), "five-minutes.wav", &TICKING);
    let asked = serde_json::json!({ "wav": file, "forms": [
        ["five-minutes.flac", "FLAC", "PCM_16", 1],
        ["five-minutes.mp3", "MP3", "MPEG_LAYER_III", 2],
    ] });
    if outside::ask("packed.py", &asked).is_none() {
        return;
    }
    let served = served();
    for name in ["five-minutes.wav", "five-minutes.flac", "five-minutes.mp3"] {
        let bytes = std::fs::read(folder.path().join(name)).expect("packed");
        let answer = send(&served, &[], name, &bytes);
        assert_eq!(answer.status, 303, "{}", answer.body);
        let page = plain(
            &served
                .get(answer.header("location").expect("an address"))
                .body,
        );
        assert!(
            page.contains("Gains 40 seconds a day. Out of beat by 6 thousandths of a second."),
            "{name}: {page}"
        );
    }
}
