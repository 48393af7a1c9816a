//! The records printed by a real browser on both papers, and measured by another program: the size of a page, the bar, and
//! every drawing whole and to its scale. Paper: ISO 216 (A4, 210 by 297 mm); ANSI/ASME Y14.1 (Letter, 8.5 by 11 in).

use crate::browser::{goto, root, value, with_browser};
use crate::outside::ask;
use crate::pages::work;
use crate::served::{Served, serve_on};
use entries::Day;
use serde_json::{Value, json};
use thirtyfour::prelude::*;

const PAPERS: [(&str, f64, f64); 2] = [("a4", 210.0, 297.0), ("letter", 215.9, 279.4)];

/// What the record promises, and a printer's dots allow: 0.2 mm.
const TRUE_TO: f64 = 0.2;

/// The margin on every side, less what the browser may round.
const MARGIN: f64 = 14.0 - 0.3;

/// Prints a page on a paper, keeps it to be looked at, and has it measured; nothing where there is nobody to measure it.
async fn printed(driver: &WebDriver, (name, wide, high): (&str, f64, f64)) -> Option<Value> {
    let paper =
        json!({ "paperWidth": wide / 25.4, "paperHeight": high / 25.4, "printBackground": true });
    let pdf = driver
        .cdp()
        .send_raw("Page.printToPDF", paper)
        .await
        .expect("printed");
    let folder = root().join("target/bench-shots");
    std::fs::create_dir_all(&folder).expect("a folder");
    let file = folder.join(format!("{name}.pdf.base64"));
    std::fs::write(&file, pdf["data"].as_str().expect("a file")).expect("kept");
    ask("printed.py", &json!({ "file": file }))
}

/// Width and height of all that is drawn of a kind.
fn sizes(measured: &Value, kinds: &[&str]) -> Vec<(f64, f64)> {
    let number = |thing: &Value, key: &str| thing[key].as_f64().expect("a number");
    (measured["pages"].as_array().expect("pages").iter())
        .flat_map(|page| page["drawn"].as_array().expect("drawn"))
        .filter(|thing| kinds.contains(&thing["kind"].as_str().unwrap_or_default()))
        .map(|t| {
            (
                number(t, "right") - number(t, "left"),
                number(t, "bottom") - number(t, "top"),
            )
        })
        .collect()
}

/// Every page has the paper's size, and all that is on it lies within the margins.
fn assert_whole(measured: &Value, (name, wide, high): (&str, f64, f64)) {
    for page in measured["pages"].as_array().expect("pages") {
        let number = |thing: &Value, key: &str| thing[key].as_f64().expect("a number");
        assert!(
            (number(page, "wide") - wide).abs() < 0.5 && (number(page, "high") - high).abs() < 0.5,
            "{name}"
        );
        let drawn = page["drawn"].as_array().expect("drawn");
        assert!(!drawn.is_empty(), "{name}: an empty page");
        for thing in drawn {
            // A letter's box is taller than the line it stands on.
            let letter = thing["kind"] == "char";
            let margin = MARGIN - if letter { 2.0 } else { 0.0 };
            let within = number(thing, "left") >= margin
                && number(thing, "right") <= wide - margin
                && number(thing, "top") >= margin
                && number(thing, "bottom") <= high - margin;
            // The ground of the page goes to its edges.
            let ground = number(thing, "right") - number(thing, "left") >= wide - 2.0 * 14.5;
            assert!(within || ground, "{name}: {thing}");
        }
    }
}

/// The plates' edges as the page has them, in millimetres on paper: width and height.
async fn edges(driver: &WebDriver) -> Vec<(f64, f64)> {
    let script = "return [...document.querySelectorAll('.plate svg.drawing')].map(s => { \
        const e = s.querySelector('rect.plate'), times = parseFloat(s.getAttribute('width')) / s.viewBox.baseVal.width; \
        return [e.getAttribute('width') * times, e.getAttribute('height') * times] })";
    let all = value(driver, script).await;
    let number = |v: &Value| v.as_f64().expect("a number");
    (all.as_array().expect("a list").iter())
        .map(|e| (number(&e[0]), number(&e[1])))
        .collect()
}

/// The distances of every mesh, so that drawings are to scale: each pinion's and wheel's teeth at a module of 0.8 mm or so.
pub(crate) const CENTRES: [(&str, &str); 5] = [
    ("great.wheel:second.pinion", "40.0"),
    ("second.wheel:third.pinion", "30.0"),
    ("third.wheel:fourth.pinion", "22.0"),
    ("fourth.wheel:fly.pinion", "18.0"),
    ("second.count_pinion:count.wheel", "27.0"),
];

fn measured_job() -> Served {
    let served = serve_on(&[], || Day::parse("2026-11-26"));
    served.post(
        "/jobs",
        &[
            ("clock", "Mill Lane bracket clock"),
            ("complaint", "strikes two at one"),
        ],
    );
    work(&served);
    for (mesh, mm) in CENTRES {
        let entries = served.entries("/job/2/way");
        let fields = [
            ("entries", entries.as_str()),
            ("kind", "measurement"),
            ("what", mesh),
            ("value", mm),
            ("unit", "mm"),
        ];
        assert_eq!(served.post("/job/2/enter", &fields).status, 303);
    }
    served
}

#[test]
fn on_both_papers_the_bar_is_50_mm_and_every_drawing_whole_and_to_scale() {
    with_browser(async |driver| {
        let served = measured_job();
        for (page, most) in [("record", 2), ("record/whole", 12)] {
            goto(driver, format!("{}/job/2/{page}", served.address())).await;
            for paper in PAPERS {
                let name = format!("{}-{}", page.replace('/', "-"), paper.0);
                let Some(measured) = printed(driver, (&name, paper.1, paper.2)).await else {
                    return;
                };
                let pages = measured["pages"].as_array().expect("pages").len();
                println!("{name}: {pages} pages");
                assert!(pages <= most, "{name}: {pages} pages");
                assert_whole(&measured, (&name, paper.1, paper.2));
                if page == "record" {
                    continue;
                }
                let bars = sizes(&measured, &["rect"]);
                let bars: Vec<_> = bars
                    .iter()
                    .filter(|(_, high)| (high - 1.2).abs() < 0.1)
                    .collect();
                assert_eq!(bars.len(), 2, "a bar under each drawing");
                for (wide, _) in bars {
                    println!("{name}: the bar is {wide:.2} mm");
                    assert!((wide - 50.0).abs() <= TRUE_TO, "{name}: {wide}");
                }
                let drawn = sizes(&measured, &["rect", "curve"]);
                let edges = edges(driver).await;
                assert_eq!(edges.len(), 2, "from both plates");
                for (wide, high) in edges {
                    let there = drawn
                        .iter()
                        .any(|d| (d.0 - wide).abs() <= TRUE_TO && (d.1 - high).abs() <= TRUE_TO);
                    assert!(there, "{name}: no plate of {wide} by {high}");
                }
                let text = measured.to_string();
                assert!(
                    text.contains("Scale ") && !text.contains("Schematic"),
                    "to scale"
                );
            }
        }
    });
}
