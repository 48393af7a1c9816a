//! The page in other words: the test language, in which every string is in brackets and longer, and German.

use crate::browser::{SIZES, at_step, goto, read, resize, shot, touch, until, value, with_browser};
use crate::names::{axe, wrong};
use crate::served::{Served, serve};
use crate::zoom::HALVES;
use serde_json::json;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use thirtyfour::prelude::*;

/// Has the browser ask for other words, as the page of settings would.
pub(crate) async fn speak(driver: &WebDriver, served: &Served, words: &str) {
    let cookie = json!({ "name": "words", "value": words, "url": served.address() });
    let set = driver.cdp().send_raw("Network.setCookie", cookie).await;
    set.expect("kept");
}

/// All strings of the page in the order they stand: the texts of what is there, folded away or not; names, titles and
/// what is told by the script; each with the brackets that were open before it.
const STRINGS: &str = r"
const strings = [];
const walk = (root) => {
  let depth = 0;
  const texts = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  for (let n = texts.nextNode(); n; n = texts.nextNode()) {
    if (n.parentElement.closest('script, style, textarea')) continue;
    strings.push([n.data, depth]);
    for (const c of n.data) depth += c === '⟦' ? 1 : c === '⟧' ? -1 : 0;
  }
  strings.push([depth === 0 ? '' : 'brackets that do not close', 0]);
};
walk(document.body);
const told = ['aria-label', 'title', 'placeholder', 'alt', 'aria-valuetext', 'aria-roledescription', 'aria-description',
  'data-silent', 'data-late', 'data-asking', 'data-nothing', 'data-slate', 'data-paper', 'data-unread', 'data-reading'];
for (const e of document.querySelectorAll('*')) {
  for (const name of told) if (e.hasAttribute(name)) strings.push([e.getAttribute(name), 0]);
  for (const name of ['data-looks']) if (e.matches('.loupe-hold')) {
    for (const part of JSON.parse(e.getAttribute(name)).flat()) if (typeof part === 'string') strings.push([part, 0]);
  }
  if (e.matches('input[type=submit], input[type=button]')) strings.push([e.value, 0]);
}
strings.push([document.title, 0]);
return strings;
";

pub(crate) async fn strings(driver: &WebDriver) -> Vec<(String, i64)> {
    let all = value(driver, STRINGS).await;
    let all = all.as_array().expect("strings").iter();
    all.map(|pair| {
        let text = pair[0].as_str().expect("a text").trim().to_owned();
        (text, pair[1].as_i64().expect("a depth"))
    })
    .collect()
}

/// What people wrote on the sheet of the sample: never translated.
pub(crate) fn of_the_sheet() -> BTreeSet<String> {
    let sheet = sheet::read(include_bytes!("../../../../movements/schoolroom.toml"));
    of_movement(&sheet.expect("a good sheet").movement)
}

pub(crate) fn of_movement(movement: &movement::Movement) -> BTreeSet<String> {
    let mut own: BTreeSet<String> = BTreeSet::from([movement.name().to_owned()]);
    own.extend(
        movement
            .arbors()
            .map(|(_, arbor)| arbor.id.replace('_', " ")),
    );
    own.extend(movement.witnesses().map(|(_, w)| w.id.replace('_', " ")));
    own.extend(movement.witnesses().map(|(_, w)| w.says.clone()));
    if let Some(works) = movement.works() {
        own.extend(works.levers().map(|(_, lever)| lever.id.replace('_', " ")));
        own.extend(works.tracks().map(|(_, track)| track.id.replace('_', " ")));
        own.extend(works.pins().map(|(_, pin)| pin.id.replace('_', " ")));
    }
    let meshes = movement.meshes();
    own.extend(meshes.map(|(id, _)| movement.mesh_name(id).replace('>', " · ")));
    own
}

/// What of a string stands outside all brackets, and has letters.
pub(crate) fn outside(text: &str, mut depth: i64) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '⟦' => depth += 1,
            '⟧' => depth -= 1,
            _ if depth <= 0 => out.push(c),
            _ => {}
        }
    }
    if out.chars().any(char::is_alphabetic) {
        out.trim().to_owned()
    } else {
        String::new()
    }
}

/// Strings that are neither in brackets nor from the sheet.
pub(crate) async fn bare(driver: &WebDriver) -> Vec<String> {
    bare_but(driver, &of_the_sheet()).await
}

/// The same, for another sheet.
pub(crate) async fn bare_but(driver: &WebDriver, own: &BTreeSet<String>) -> Vec<String> {
    (strings(driver).await.iter())
        .map(|(text, depth)| outside(text, *depth))
        .filter(|text| !text.is_empty() && !own.contains(text))
        .collect()
}

/// What runs out of the page sideways, words that are cut off or run over what they stand in, and those that lie over
/// others: what is placed on its own against what stands beside it.
const UNFIT: &str = r"
const found = [];
const over = document.documentElement.scrollWidth - document.documentElement.clientWidth;
if (over > 0) found.push(`the page runs over by ${over}`);
for (const e of document.querySelectorAll('button, a.button, summary, legend, label, p, li, h1, h2, h3, figcaption, select'))
  if (e.checkVisibility() && e.clientWidth && !e.closest('.visually-hidden, nav') && e.scrollWidth > e.clientWidth + 1)
    found.push(`${e.outerHTML.slice(0, 120)} ${e.scrollWidth} in ${e.clientWidth}`);
for (const c of document.querySelectorAll('.close-up:has(.how)')) {
  const range = document.createRange();
  range.selectNodeContents(c.querySelector('legend'));
  const a = range.getBoundingClientRect(), b = c.querySelector('.how').getBoundingClientRect();
  if (a.right > b.left + 1 && a.left < b.right && a.bottom > b.top + 1 && a.top < b.bottom - 1) found.push(c.id);
}
return found;
";

/// What does not fit, on every size.
pub(crate) async fn unfit(driver: &WebDriver, state: &str) -> Vec<String> {
    let mut found = Vec::new();
    for size in SIZES.into_iter().chain(HALVES) {
        resize(driver, size).await;
        let unfit = value(driver, UNFIT).await;
        for one in unfit.as_array().expect("a list") {
            found.push(format!("{state}, {}: {one}", size.name));
        }
    }
    found
}

const SAW: [(&str, &str); 6] = [
    ("entries", "0"),
    ("slot.deg", "-1.2"),
    ("slot.sure", "sure"),
    ("star.deg", "-10"),
    ("star.sure", "sure"),
    ("pin.deg", "-75"),
];

/// Goes through every page and state there is, and has each looked at.
async fn every_state(driver: &WebDriver, served: &Served, look: impl AsyncFn(&str)) {
    let open = async |path: &str| {
        let address = format!("{}{path}", served.address());
        goto(driver, address).await;
        let unfold = "for (const d of document.querySelectorAll('details')) d.open = true";
        value(driver, unfold).await;
    };
    open("/").await;
    at_step(driver, "look").await;
    look("look").await;
    touch(driver, ".how").await;
    look("how to look").await;
    touch(driver, ".panel:popover-open > button").await;
    // Asked with nothing read.
    touch(driver, ".primary[data-next]").await;
    until(driver, "return document.querySelector('.refused') !== null").await;
    look("nothing read").await;
    // A number that is none, and one that cannot be used.
    for (name, deg) in [("no number", "high"), ("too coarse", "-1.2~40")] {
        let script = format!("document.querySelector('[name=\"slot.deg\"]').value = '{deg}'");
        value(driver, &script).await;
        value(driver, "document.querySelector('.refused')?.remove()").await;
        touch(driver, ".primary[data-next]").await;
        until(driver, "return document.querySelector('.refused') !== null").await;
        look(name).await;
    }
    open("/").await;
    touch(driver, "#read-slot .picture:nth-child(1)").await;
    touch(driver, "#read-pin .picture:nth-child(4)").await;
    let read = "return document.querySelector('#read-pin').dataset.state !== 'unread'";
    until(driver, read).await;
    look("pictures").await;
    served.post("/job/1/saw", &SAW);
    open("/").await;
    at_step(driver, "answer").await;
    look("answer").await;
    open("/job/1?jumped").await;
    look("jumped").await;
    served.post("/job/1/done", &[("entries", "1")]);
    open("/").await;
    look("done").await;
    // From an old page.
    let old = served.post("/job/1/done", &[("entries", "1")]);
    assert_eq!(old.status, 409);
    value(driver, "document.querySelector('[name=entries]').value = 0; document.querySelector('[name=\"pin.deg\"]').value = '-75'").await;
    touch(driver, ".primary[data-next]").await;
    until(driver, "return document.querySelector('.refused') !== null").await;
    look("behind").await;
    served.post("/job/1/other-way", &[("entries", "2")]);
    served.post("/job/1/out", &[("entries", "3"), ("arbor", "fly")]);
    served.post("/job/1/jumped", &[("entries", "4"), ("arbor", "fourth")]);
    served.post("/job/1/struck", &[("entries", "5"), ("hour", "3")]);
    let did = [
        ("entries", "6"),
        ("mesh", "third.wheel>fourth.pinion"),
        ("teeth", "-1"),
    ];
    served.post("/job/1/did", &did);
    let slack = [("entries", "7"), ("slot.deg", "0"), ("slack", "slack")];
    served.post("/job/1/saw", &slack);
    open("/job/1?look").await;
    look("an arbor out").await;
    open("/").await;
    look("after all that").await;
    served.post("/job/1/in", &[("entries", "8"), ("arbor", "fly")]);
    served.post("/job/1/undo", &[("entries", "9")]);
    open("/").await;
    look("undone").await;
    // A lever that is bent, all in its window, and a look at what was read too coarsely.
    for (name, saw) in [
        (
            "no sound movement",
            [("slot.deg", "1.15"), ("star.deg", "0"), ("pin.deg", "-75")],
        ),
        (
            "in its window",
            [("slot.deg", "0"), ("star.deg", "0"), ("pin.deg", "-75")],
        ),
        (
            "rough",
            [
                ("slot.pick", ""),
                ("star.deg", "-10"),
                ("star.sure", "rough"),
            ],
        ),
    ] {
        let again = serve(&[]);
        let mut fields = vec![("entries", "0")];
        fields.extend(saw);
        served_same(&again, &fields);
        goto(driver, again.address()).await;
        look(name).await;
    }
    open("/jobs").await;
    look("jobs").await;
    value(driver, "document.querySelector('textarea').value = 'sheet = 1\\nnmae = 3\\n[arbor.one]\\nwheel = 2'").await;
    touch(driver, ".primary").await;
    until(driver, "return document.querySelector('.refused') !== null").await;
    look("a wrong sheet").await;
    open("/settings").await;
    look("settings").await;
    open("/nowhere").await;
    look("nothing there").await;
    served.spoil();
    let trouble = served.get("/jobs");
    assert_eq!(trouble.status, 500, "{}", trouble.body);
    open("/jobs").await;
    look("trouble").await;
}

fn served_same(served: &Served, fields: &[(&str, &str)]) {
    assert_eq!(served.post("/job/1/saw", fields).status, 303);
}

#[test]
fn every_string_is_in_brackets() {
    with_browser(async |driver| {
        let served = serve(&[]);
        speak(driver, &served, "long.british.mm").await;
        every_state(driver, &served, async |state| {
            let bare = bare(driver).await;
            assert!(bare.is_empty(), "{state}: {bare:#?}");
        })
        .await;
        // What is planted is found.
        let plant = "const p = document.createElement('p'); p.textContent = 'Planted'; p.title = 'Too'; \
            document.querySelector('main').append(p)";
        value(driver, plant).await;
        assert_eq!(bare(driver).await, ["Planted", "Too"]);
    });
}

/// States that are laid out as no other before them is.
const LAID_OUT: [&str; 12] = [
    "look",
    "how to look",
    "too coarse",
    "answer",
    "jumped",
    "done",
    "an arbor out",
    "no sound movement",
    "jobs",
    "a wrong sheet",
    "settings",
    "trouble",
];

#[test]
fn longer_words_run_over_nothing() {
    with_browser(async |driver| {
        let served = serve(&[]);
        speak(driver, &served, "long.british.mm").await;
        let found = RefCell::new(Vec::new());
        let seen = RefCell::new(0);
        every_state(driver, &served, async |state| {
            if LAID_OUT.contains(&state) {
                let unfit = unfit(driver, state).await;
                found.borrow_mut().extend(unfit);
                *seen.borrow_mut() += 1;
                resize(driver, SIZES[0]).await;
                shot(driver, &format!("long-{}", state.replace(' ', "-"))).await;
            }
        })
        .await;
        assert_eq!(seen.into_inner(), LAID_OUT.len());
        let found = found.into_inner();
        assert!(found.is_empty(), "{}", found.join("\n"));
        // What is planted is found.
        let plant = "const p = document.createElement('p'); p.textContent = 'Planted'; p.style.width = '2000px'; \
            document.querySelector('main').append(p)";
        value(driver, plant).await;
        assert!(!unfit(driver, "planted").await.is_empty());
    });
}

/// Strings with letters, brackets aside.
async fn lettered(driver: &WebDriver) -> BTreeSet<String> {
    let lettered = |text: &String| text.chars().any(char::is_alphabetic);
    let all = strings(driver).await.into_iter().map(|(text, _)| text);
    all.filter(lettered).collect()
}

#[test]
fn german_says_nothing_in_english() {
    with_browser(async |driver| {
        let mut own = of_the_sheet();
        // The title of a job's page is its name and the program's.
        own.insert("Wren Street schoolroom clock — Trundle".to_owned());
        // Gaps alone.
        own.insert("{look}, {by}".to_owned());
        let mut said: Vec<BTreeMap<String, BTreeSet<String>>> = Vec::new();
        for words in ["en.british.mm", "de.british.mm"] {
            let served = serve(&[]);
            speak(driver, &served, words).await;
            let states = RefCell::new(BTreeMap::new());
            every_state(driver, &served, async |state| {
                let strings = lettered(driver).await;
                states.borrow_mut().insert(state.to_owned(), strings);
            })
            .await;
            said.push(states.into_inner());
        }
        let [english, german] = &said[..] else {
            panic!("two languages")
        };
        assert!(english.len() > 15);
        // What is wrong with a sheet, and the pages of a whole job, are told in English alone; a language is named in itself,
        // and the program's name is one.
        let same = ["Trundle", "English"];
        for (state, strings) in english
            .iter()
            .filter(|(state, _)| !matches!(state.as_str(), "a wrong sheet" | "jobs"))
        {
            let both: Vec<_> = (strings.intersection(&german[state]))
                .filter(|text| !own.contains(*text) && !same.contains(&text.as_str()))
                .collect();
            assert!(both.is_empty(), "{state}: {both:?}");
        }
    });
}

async fn text(driver: &WebDriver, selector: &str) -> String {
    let script = format!("return document.querySelector('{selector}').innerText");
    let text = value(driver, &script).await;
    text.as_str()
        .unwrap_or_default()
        .replace(['\n', '\u{a0}'], " ")
}

#[test]
fn the_round_is_gone_in_german() {
    let axe = axe();
    with_browser(async |driver| {
        for size in [SIZES[0], SIZES[2]] {
            let served = serve(&[]);
            resize(driver, size).await;
            let check = async |state: &str| {
                shot(driver, &format!("de-{}-{state}", size.name)).await;
                assert_eq!(unfit_here(driver).await, json!([]), "{state}");
                if let Some(axe) = &axe {
                    let wrong = wrong(driver, axe).await;
                    assert!(wrong.is_empty(), "{state}:\n{}", wrong.join("\n"));
                }
            };
            choose_german(driver, &served).await;
            at_step(driver, "look").await;
            let lang = value(driver, "return document.documentElement.lang").await;
            assert_eq!(lang, "de");
            check("1-look").await;
            for (witness, degrees) in [("slot", "-1,2"), ("star", "−10"), ("pin", "-75,0")] {
                read(driver, witness, degrees).await;
                touch(driver, &format!("#read-{witness} .sure label:first-child")).await;
            }
            let place =
                "return document.querySelector('#loupe-slot').getAttribute('aria-valuetext')";
            assert_eq!(value(driver, place).await, "zurück, auf der Kante");
            let now = "return document.querySelector('#loupe-slot').getAttribute('aria-valuenow')";
            assert_eq!(value(driver, now).await, "-1.2", "a number to machines");
            // One step on by a key is written as it is read.
            let key = "document.querySelector('#loupe-slot').dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight', bubbles: true }))";
            value(driver, key).await;
            let written = "return document.querySelector('[name=\"slot.deg\"]').value === '-1,1'";
            until(driver, written).await;
            check("2-read").await;
            touch(driver, "[data-next]").await;
            at_step(driver, "answer").await;
            let said = text(driver, "#sentence").await;
            assert_eq!(
                said,
                "Die Welle second ausheben. Zwei Zähne gegen den Uhrzeigersinn, so wie Sie jetzt darauf sehen."
            );
            let marked = value(
                driver,
                "return [...document.querySelectorAll('#sentence .moved')].map(b => b.textContent)",
            )
            .await;
            assert_eq!(marked, json!(["second", "gegen den Uhrzeigersinn"]));
            let log = text(driver, ".log").await;
            assert!(log.contains("slot zurück, auf der Kante"), "{log}");
            check("3-answer").await;
            touch(driver, "form[action$='/other-way'] button").await;
            at_step(driver, "look").await;
            let log = text(driver, ".log").await;
            assert!(
                log.contains("Getan: second, zwei Zähne gegen den Uhrzeigersinn."),
                "{log}"
            );
            assert!(log.contains("Nummer 2 ging andersherum."), "{log}");
            check("4-other-way").await;
            for back in [1, 2] {
                touch(driver, "form[action$='/undo'] button").await;
                let undone =
                    format!("return document.querySelectorAll('.log li.back').length === {back}");
                until(driver, &undone).await;
            }
            at_step(driver, "answer").await;
            touch(driver, ".touches a[href$=jumped]").await;
            at_step(driver, "jumped").await;
            check("5-jumped").await;
            touch(driver, "#which button[value=fourth]").await;
            at_step(driver, "look").await;
            let log = text(driver, ".log").await;
            assert!(log.contains("Die Welle fourth sprang heraus"), "{log}");
            touch(driver, "form[action$='/undo'] button").await;
            at_step(driver, "answer").await;
            touch(driver, "form[action$='/done'] button").await;
            at_step(driver, "look").await;
            check("6-done").await;
            touch(driver, ".primary[data-next]").await;
            until(driver, "return document.querySelector('.refused') !== null").await;
            let refused = text(driver, ".refused").await;
            assert!(
                refused.starts_with("Noch ist nichts abgelesen"),
                "{refused}"
            );
            for (witness, degrees) in [("slot", "0"), ("star", "0,4"), ("pin", "-74")] {
                read(driver, witness, degrees).await;
                touch(driver, &format!("#read-{witness} .sure label:first-child")).await;
            }
            touch(driver, "[data-next]").await;
            at_step(driver, "answer").await;
            let said = text(driver, "#sentence").await;
            assert!(
                said.starts_with("Alles steht in seinem Fenster, "),
                "{said}"
            );
            check("7-in-window").await;
        }
    });
}

async fn unfit_here(driver: &WebDriver) -> serde_json::Value {
    value(driver, UNFIT).await
}

/// Chooses German on the page of settings, which the header leads to.
async fn choose_german(driver: &WebDriver, served: &Served) {
    speak(driver, served, "en.british.mm").await;
    goto(driver, served.address()).await;
    at_step(driver, "look").await;
    touch(driver, ".top a[href='/settings']").await;
    until(
        driver,
        "return document.querySelector('.settings') !== null",
    )
    .await;
    touch(driver, "input[name=language][value=de]").await;
    touch(driver, ".settings .primary").await;
}
