//! A clock from its coming in to its going home, by plain forms in a browser that runs no script: without a sheet at first,
//! with pictures, points, corrections, a look back at an earlier evening, the search, and the removal of who it belongs to.

use crate::browser::{SIZES, goto, resize, shot, source, touch, with_browser, without_script};
use crate::served::{Served, serve_on};
use entries::Day;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;
use thirtyfour::prelude::*;

pub(crate) const SHEET: &str = include_str!("../../../../movements/schoolroom.toml");

static NEXT_DAY: AtomicBool = AtomicBool::new(false);

fn today() -> Option<Day> {
    Day::parse(if NEXT_DAY.load(Ordering::SeqCst) {
        "2026-11-27"
    } else {
        "2026-11-26"
    })
}

/// A picture of a dial, as nobody ever took it: a ring on a tinted ground.
pub(crate) fn dial(tint: u8) -> image::RgbImage {
    image::RgbImage::from_fn(320, 240, |x, y| {
        let (x, y) = (f64::from(x) - 160.0, f64::from(y) - 120.0);
        let ring = (x.hypot(y) - 90.0).abs() < 6.0;
        if ring {
            image::Rgb([40, 40, 50])
        } else {
            image::Rgb([230, 220, tint])
        }
    })
}

fn picture_file(folder: &Path, name: &str) -> PathBuf {
    let path = folder.join(name);
    let tint = if name == "before.png" { 120 } else { 200 };
    dial(tint).save(&path).expect("a picture");
    path
}

/// Waits until the page has it no more.
async fn without(driver: &WebDriver, what: &str) {
    for _ in 0..100 {
        let source = driver.source().await.expect("a page");
        if source.contains("<main") && !source.contains(what) {
            return;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    panic!("{what} never went");
}

async fn typed(driver: &WebDriver, selector: &str, text: &str) {
    let field = driver.find(By::Css(selector)).await;
    let field = field.unwrap_or_else(|error| panic!("{selector}: {error}"));
    field.clear().await.expect("cleared");
    field.send_keys(text).await.expect("typed");
}

/// The fold with the form for a kind of entry.
fn fold(kind: &str) -> String {
    format!("details:has([name=kind][value={kind}])")
}

/// Opens the fold of a kind of entry, fills fields in, and sends them.
async fn enter(driver: &WebDriver, kind: &str, fields: &[(&str, &str)]) {
    // A fold opens by its own summary, script or none; where something was just entered it stands open.
    let open = By::Css(format!("{}[open]", fold(kind)));
    if driver.find(open).await.is_err() {
        touch(driver, &format!("{} > summary", fold(kind))).await;
    }
    for (name, text) in fields {
        typed(driver, &format!("{} [name={name}]", fold(kind)), text).await;
    }
    touch(driver, &format!("{} button", fold(kind))).await;
}

async fn open(driver: &WebDriver, served: &Served, path: &str) {
    let address = format!("{}{path}", served.address());
    goto(driver, address).await;
}

#[test]
fn a_clock_comes_in_and_goes_home_without_the_script() {
    let files = tempfile::tempdir().expect("a folder");
    with_browser(async |driver| {
        let served = serve_on(&[], today);
        resize(driver, SIZES[0]).await;
        without_script(driver).await;
        comes_in(driver, &served, files.path()).await;
        is_counted(driver).await;
        is_looked_over(driver).await;
        goes_home(driver, files.path()).await;
        as_it_stood(driver, &served).await;
        is_found(driver, &served).await;
        is_removed(driver, &served).await;
    });
}

/// Without a sheet, with a picture of how it came.
async fn comes_in(driver: &WebDriver, served: &Served, files: &Path) {
    open(driver, served, "/jobs").await;
    touch(driver, "details:has(form[action='/jobs']) > summary").await;
    for (name, text) in [
        ("clock", "Mill Lane bracket clock"),
        ("complaint", "Strikes two at one"),
        ("owner", "Ada Invented"),
        ("reach", "Invented Lane 7"),
    ] {
        typed(driver, &format!("form[action='/jobs'] [name={name}]"), text).await;
    }
    touch(driver, "form[action='/jobs'] .primary").await;
    // How it strikes is asked first, and may wait.
    source(driver, "How does it strike?").await;
    touch(driver, "p.whole a").await;
    let page = source(driver, "Photograph it as it came.").await;
    assert!(
        page.contains("There is no sheet yet: what follows from counts and measures is not known.")
    );
    assert!(page.contains("data-stage=\"in\""));
    // Home is where work goes on, and that is no train to be timed.
    open(driver, served, "/").await;
    source(driver, "Mill Lane bracket clock").await;
    touch(driver, "details:has([name=picture]) > summary").await;
    let file = picture_file(files, "before.png");
    let field = driver.find(By::Name("picture")).await.expect("a field");
    let path = file.to_str().expect("a path");
    field.send_keys(path).await.expect("chosen");
    touch(driver, "form:has([name=picture]) button").await;
    let page = source(driver, "A picture, as it came.").await;
    assert!(page.contains("/small\""), "its preview");
    shot(driver, "whole-1-came-in").await;
}

/// Points are ticked, a wrong sheet is refused as it was typed, the right one is taken.
async fn is_counted(driver: &WebDriver) {
    touch(driver, "li:has([value='kept together']) button").await;
    source(driver, "Not done after all").await;
    source(driver, "Done, Received: kept together").await;
    touch(driver, "li[data-done=yes] form[action$='take-back'] button").await;
    source(driver, "taken back").await;
    touch(driver, "li:has([value='kept together']) button").await;
    source(driver, "Not done after all").await;
    // No sheet yet: its fold stands open.
    typed(driver, "[name=sheet]", "sheet = 1\nnmae = 3\n").await;
    touch(driver, "form[action$='/sheet'] button").await;
    let page = source(driver, "class=\"refused\"").await;
    assert!(page.contains("nmae = 3"), "what was typed is there still");
    typed(driver, "[name=sheet]", SHEET).await;
    touch(driver, "form[action$='/sheet'] button").await;
    source(driver, "On the sheet: 1 train, 6 arbors, 5 meshes.").await;
    // A figure that is none is refused, and stands there again; a length is told in the other unit where that was chosen.
    let length = [("what", "second.wheel:third.pinion"), ("value", "about 24")];
    enter(driver, "measurement", &length).await;
    let page = source(driver, "“about 24” cannot be entered there").await;
    assert!(page.contains("value=\"second.wheel:third.pinion\""));
    typed(
        driver,
        &format!("{} [name=value]", fold("measurement")),
        "24.50",
    )
    .await;
    touch(driver, &format!("{} button", fold("measurement"))).await;
    source(driver, "second.wheel:third.pinion: 24.50 mm.").await;
    source(driver, "measured at 1 of 5 meshes").await;
}

/// On to the next stages; a point of the shop's own; what was found and fitted, and put right.
async fn is_looked_over(driver: &WebDriver) {
    touch(driver, ".forward [name=to][value=down] + button").await;
    let page = source(driver, "data-stage=\"down\"").await;
    for says in [
        "Let the power of the great arbor down",
        "How many turns and how much energy are still in a spring is not known.",
        "NIOSH",
        "HSE",
        "OSHA",
        "Local codes and licensed practice come first.",
    ] {
        assert!(page.contains(says), "{says}");
    }
    typed(driver, ".own [name=says]", "Weigh the bob").await;
    touch(driver, ".own button").await;
    source(driver, "Drop it from the list: Weigh the bob").await;
    touch(driver, "li:has([name=drop]) [value=check] ~ button").await;
    source(driver, "own: Weigh the bob").await;
    touch(driver, "li form:has([name=drop]) button").await;
    without(driver, "Drop it from the list").await;
    shot(driver, "whole-2-down").await;
    touch(driver, ".stages a[href*='stage=look']").await;
    source(driver, "data-stage=\"look\"").await;
    let found = [("part", "third.pinion"), ("says", "two trundles worn")];
    enter(driver, "found", &found).await;
    let page = source(driver, "Found at third.pinion: two trundles worn.").await;
    assert!(page.contains("data-stage=\"look\""), "still where it was");
    let fitted = [
        ("part", "third.pinion"),
        ("says", "two trundles of hard wire"),
    ];
    enter(driver, "fitted", &fitted).await;
    source(driver, "Fitted: third.pinion. two trundles of hard wire").await;
    touch(
        driver,
        ".log li:has(a[href*='right=']):nth-last-child(2) a[href*='right=']",
    )
    .await;
    source(driver, "id=\"right\"").await;
    typed(driver, ".right [name=says]", "three trundles worn").await;
    touch(driver, ".right button").await;
    let page = source(driver, "put right since").await;
    assert!(page.contains("put right: Found at third.pinion: three trundles worn."));
}

/// Tested, oiled, photographed, handed back.
async fn goes_home(driver: &WebDriver, files: &Path) {
    touch(driver, ".stages a[href*='stage=prove']").await;
    source(driver, "78 blows, of 78.").await;
    for (hours, rate) in [("24", "30"), ("24", "-4")] {
        let trial = [("hours", hours), ("rate", rate)];
        enter(driver, "trial-run", &trial).await;
        let says = if rate == "30" {
            "Gains 30 seconds"
        } else {
            "Loses 4 seconds"
        };
        source(driver, says).await;
    }
    NEXT_DAY.store(true, Ordering::SeqCst);
    touch(driver, ".stages a[href*='stage=out']").await;
    source(driver, "data-stage=\"out\"").await;
    let oil = [("place", "all pivots"), ("oil", "clock oil")];
    enter(driver, "oil", &oil).await;
    source(driver, "Oiled: all pivots, clock oil.").await;
    touch(driver, "details:has([name=picture]) > summary").await;
    let file = picture_file(files, "after.jpg");
    let field = driver.find(By::Name("picture")).await.expect("a field");
    let path = file.to_str().expect("a path");
    field.send_keys(path).await.expect("chosen");
    touch(driver, "form:has([name=picture]) button").await;
    source(driver, "A picture, as it went.").await;
    // Its fold stands open; what is left open is named, and asked about once.
    typed(driver, "#handed-back [name=to]", "Ada Invented").await;
    touch(driver, "#handed-back button").await;
    let page = source(driver, "Left open").await;
    assert!(page.contains("Bring it to time.") && !page.contains("Handed back to"));
    shot(driver, "whole-3-left-open").await;
    touch(driver, ".left-open button").await;
    source(driver, "Handed back to Ada Invented.").await;
    shot(driver, "whole-3-gone-home").await;
    touch(driver, "a[href$='/record']").await;
    let page = source(driver, "How it ran").await;
    for says in [
        "Strikes two at one",
        "Found at third.pinion: three trundles worn.",
        "two trundles of hard wire",
        "Loses 4 seconds a day.",
        "polyline",
        "push the hour hand alone",
        "Oiled by 2026-11-27.",
    ] {
        assert!(page.contains(says), "{says}");
    }
    assert!(
        !page.contains("two trundles worn"),
        "put right is put right"
    );
    assert_eq!(page.matches("<img").count(), 2, "before and after");
    shot(driver, "whole-4-record").await;
    driver.back().await.expect("back");
    source(driver, "Handed back to").await;
}

/// On the evening of the day before it was neither oiled nor handed back, and nothing can be entered there.
async fn as_it_stood(driver: &WebDriver, served: &Served) {
    open(driver, served, "/job/2/way?stage=out&by=2026-11-26").await;
    let page = source(driver, "As it stood on the evening of 2026-11-26.").await;
    assert!(page.contains("Loses 4 seconds a day.") && !page.contains("Oiled:"));
    for form in [
        "/enter\"",
        "/take-back\"",
        "/remove\"",
        "/own\"",
        "/sheet\"",
    ] {
        assert!(!page.contains(form), "{form}");
    }
    shot(driver, "whole-5-the-evening-before").await;
    touch(driver, "a[href*='/record?by=2026-11-26']").await;
    let page = source(driver, "No oiling is written down").await;
    assert_eq!(page.matches("<img").count(), 1, "only how it came");
    // Before it came in there was nothing, not even the sheet.
    open(driver, served, "/job/2/way?by=2026-11-25").await;
    let page = source(driver, "There is no sheet yet").await;
    assert!(page.contains("Nothing yet."));
    open(driver, served, "/job/2/way?by=yesterday").await;
    source(driver, "“yesterday” cannot be entered there").await;
}

async fn is_found(driver: &WebDriver, served: &Served) {
    open(driver, served, "/jobs").await;
    typed(driver, "[name=for]", "trundles wire").await;
    touch(driver, ".search button").await;
    let page = source(driver, "Found once.").await;
    assert!(page.contains("hard wire"), "{page}");
    typed(driver, "[name=for]", "ada").await;
    touch(driver, ".search button").await;
    source(driver, "Found 2 times.").await;
    typed(driver, "[name=for]", "grandmother").await;
    touch(driver, ".search button").await;
    source(driver, "Nothing was found.").await;
}

/// Who it belongs to, and every picture, is gone from every page.
async fn is_removed(driver: &WebDriver, served: &Served) {
    let page = served.get("/job/2/way").body;
    let mark = "/picture/";
    let at = page.find(mark).expect("a picture");
    let picture = page[at..].split('"').next().expect("an end").to_owned();
    assert_eq!(served.get(&picture).status, 200);
    open(driver, served, "/job/2/way").await;
    source(driver, "Remove what names a person").await;
    touch(driver, ".removal a").await;
    let page = source(driver, "for good").await;
    assert!(page.contains("Ada Invented") && page.contains("Invented Lane 7"));
    touch(driver, ".removal [name=sure]").await;
    touch(driver, ".removal button").await;
    let page = source(driver, "Removed for good from").await;
    assert!(page.contains("A picture, as it came; removed."));
    shot(driver, "whole-6-removed").await;
    for path in [
        "/job/2/way",
        "/job/2/way?by=2026-11-26",
        "/job/2/record",
        "/job/2/record/whole",
        "/jobs?home",
        "/search?for=ada",
        "/search?for=invented",
    ] {
        let page = served.get(path).body;
        let main = &page[page.find("<main").expect("a page")..];
        let asked = main
            .replace("value=\"ada\"", "")
            .replace("value=\"invented\"", "");
        for gone in ["Ada", "Invented", "<img"] {
            assert!(!asked.contains(gone), "{gone} in {path}");
        }
    }
    assert_eq!(served.get(&picture).status, 404, "nor is its picture");
    assert!(
        served
            .get("/job/2/record")
            .body
            .contains("three trundles worn")
    );
}
