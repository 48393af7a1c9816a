//! As it stood while it struck right: where that is offered, what is asked and told there, and the page in a browser.

use crate::browser::{
    PHONE, SIZES, dark, goto, resize, shot_whole, source, touch, until, value, with_browser,
    without_script,
};
use crate::names::{axe, wrong};
use crate::served::{Served, serve};
use crate::tongues::{speak, unfit};
use crate::zoom::{HALVES, assert_fits};
use tasks::{CountState, Described, QuestionAnswer};

/// A count wheel with a cam, counted as usual, of which it is said how it struck as it came.
fn sheet(as_it_came: &str) -> String {
    let mut sheet = Described::begin("count wheel and cam", "Wren Street", &[]).expect("a kind");
    for place in sheet.places() {
        let counted = CountState::Counted(place.usual.expect("usual"));
        sheet.count(&place.id, counted).expect("there");
    }
    let answer = QuestionAnswer::Choice(as_it_came.to_owned());
    sheet.answer("as_it_came", &answer).expect("asked");
    sheet.text()
}

const LINK: &str = "href=\"/job/1/stood\"";

/// The places of the middle picture of each close-up, by its field, as the page has them.
fn as_meant(page: &str) -> Vec<(String, String)> {
    let mut fields = Vec::new();
    for witness in ["slot", "tail"] {
        let name = format!("name=\"{witness}.pick\" value=\"");
        let middle = page.split(&name).nth(3).expect("five pictures");
        let value = middle.split('"').next().expect("a value");
        fields.push((format!("{witness}.pick"), value.to_owned()));
    }
    let notch = page
        .split("name=\"pin.notch\" value=\"")
        .nth(3)
        .expect("five steps");
    let notch = notch.split('"').next().expect("a value");
    fields.push(("pin.notch".to_owned(), notch.to_owned()));
    fields
}

fn enter(served: &Served, fields: &[(String, String)], hours: &str) -> crate::served::Answer {
    let entries = served.entries("/job/1?look");
    let mut sent = vec![("entries", entries.as_str()), ("hours", hours)];
    sent.extend(
        fields
            .iter()
            .map(|(name, value)| (name.as_str(), value.as_str())),
    );
    served.post("/job/1/stood", &sent)
}

#[test]
fn it_is_read_as_it_stood_and_what_that_tells_is_said() {
    let served = serve(&[&sheet("yes")]);
    for page in ["/job/1", "/job/1/way?stage=in"] {
        assert!(served.get(page).body.contains(LINK), "{page}");
    }
    let page = served.get("/job/1/stood").body;
    for said in [
        "Let the power down with the strike locked",
        "Press the great wheel lightly on",
        "Photograph levers",
        "spring",
        "name=\"hours\"",
    ] {
        assert!(page.contains(said), "{said}\n{page}");
    }
    // Nothing was read: that is said, and nothing is entered.
    assert_eq!(enter(&served, &[], "").status, 422);
    let fields = as_meant(&page);
    assert_eq!(enter(&served, &fields, "12").status, 303);
    let page = served.get("/job/1/stood").body;
    for witness in ["locking plate slot", "hammer tail", "locking pin"] {
        assert!(
            page.contains(&format!("While it struck right {witness} stood")),
            "{witness}\n{page}"
        );
    }
    let log = served.get("/job/1").body;
    assert!(log.contains("12 hours watched"), "{log}");
    // It tells nothing of how it stands now, and the point of its way is done.
    assert!(log.contains("data-step=\"look\""));
    let way = served.get("/job/1/way?stage=in").body;
    assert!(!way.contains(LINK), "{way}");
    // Seen so as the lever drops, it may be closed up; with nothing read as it stood it would have to be proved.
    let look = [("slot.deg", "0"), ("tail.deg", "0"), ("pin.deg", "-72")];
    let looked = |served: &Served| {
        for _ in 0..2 {
            let entries = served.entries("/job/1");
            let mut sent = vec![("entries", entries.as_str())];
            sent.extend(look.iter().copied());
            for sure in ["slot.sure", "tail.sure", "pin.sure"] {
                sent.push((sure, "sure"));
            }
            assert_eq!(served.post("/job/1/saw", &sent).status, 303);
        }
        served.get("/job/1").body
    };
    let told = looked(&served);
    assert!(!told.contains("usual proportions alone"), "{told}");
    let alone = looked(&serve(&[&sheet("yes")]));
    assert!(alone.contains("usual proportions alone"), "{alone}");
}

#[test]
fn it_is_not_offered_where_it_came_in_pieces_struck_wrong_or_was_touched() {
    for said in ["no", "apart"] {
        let served = serve(&[&sheet(said)]);
        assert!(!served.get("/job/1").body.contains(LINK), "{said}");
        let page = served.get("/job/1/stood").body;
        assert!(
            page.contains("Nobody said that it struck every hour right"),
            "{page}"
        );
        assert!(!page.contains("name=\"hours\""), "{said}");
    }
    let served = serve(&[&sheet("yes")]);
    let fields = as_meant(&served.get("/job/1/stood").body);
    served.post("/job/1/out", &[("entries", "0"), ("arbor", "fly")]);
    assert!(!served.get("/job/1").body.contains(LINK));
    let page = served.get("/job/1/stood").body;
    assert!(
        page.contains("since entry 1 it does not stand as it came"),
        "{page}"
    );
    let refused = enter(&served, &fields, "");
    assert_eq!(refused.status, 422);
    assert_eq!(served.entries("/job/1"), "1", "nothing was entered");
    // A page that is behind changes nothing, and keeps what was typed.
    let served = serve(&[&sheet("yes")]);
    served.post("/job/1/struck", &[("entries", "0"), ("hour", "3")]);
    let mut sent = vec![("entries", "0"), ("hours", "7")];
    sent.extend(
        fields
            .iter()
            .map(|(name, value)| (name.as_str(), value.as_str())),
    );
    let behind = served.post("/job/1/stood", &sent);
    assert_eq!(behind.status, 409);
    assert!(
        behind
            .body
            .contains("name=\"hours\" size=\"4\" value=\"7\""),
        "{}",
        behind.body
    );
    assert_eq!(served.entries("/job/1"), "1");
}

#[test]
fn a_photograph_is_put_in_there() {
    let served = serve(&[&sheet("yes")]);
    let fields = [("entries", "0"), ("when", "before"), ("at", "stood")];
    let answer = served.upload("/job/1/picture", &fields, &crate::pages::png());
    assert_eq!(answer.status, 303, "{}", answer.body);
    assert_eq!(answer.header("location"), Some("/job/1/stood"));
    let page = served.get("/job/1/stood").body;
    assert!(page.contains("/small\""), "{page}");
}

#[test]
fn what_was_chosen_stays_while_a_photograph_is_put_in() {
    with_browser(async |driver| {
        let served = serve(&[&sheet("yes")]);
        let page = format!("{}/job/1/stood", served.address());
        goto(driver, &page).await;
        source(driver, "name=\"hours\"").await;
        touch(driver, "#read-slot .picture:nth-child(2) input").await;
        touch(driver, "#read-pin .check:nth-child(3) input").await;
        let hours = "document.querySelector('[name=hours]').value = '7'";
        value(driver, hours).await;
        // A photograph by the page's own form, as the hand sends it.
        let png = format!("{:?}", crate::pages::png());
        let send = format!(
            "const data = new DataTransfer(); data.items.add(new File([new Uint8Array({png})], 'a.png', {{ type: 'image/png' }})); \
             document.querySelector('[name=picture]').files = data.files; document.querySelector('[name=picture]').form.requestSubmit()"
        );
        value(driver, &send).await;
        source(driver, "/small\"").await;
        let kept = "return document.querySelector('#read-slot .picture:nth-child(2) input').checked \
            && document.querySelector('#read-pin .check:nth-child(3) input').checked && document.querySelector('[name=hours]').value === '7'";
        until(driver, kept).await;
        touch(driver, ".primary[data-next]").await;
        source(driver, "While it struck right").await;
        let empty = "return document.querySelectorAll('#reading :checked:not([name$=sure])').length === 0 && document.querySelector('[name=hours]').value === ''";
        until(driver, empty).await;
    });
}

#[test]
fn the_page_fits_is_named_and_goes_without_the_script() {
    with_browser(async |driver| {
        let served = serve(&[&sheet("yes")]);
        let page = format!("{}/job/1/stood", served.address());
        for (size, night) in SIZES
            .iter()
            .flat_map(|size| [(*size, false), (*size, true)])
        {
            resize(driver, size).await;
            dark(driver, night).await;
            goto(driver, &page).await;
            source(driver, "name=\"hours\"").await;
            let night = if night { "-night" } else { "" };
            shot_whole(driver, &format!("stood-{}{night}", size.name)).await;
            if let Some(axe) = axe() {
                assert_eq!(
                    wrong(driver, &axe).await,
                    Vec::<String>::new(),
                    "{}",
                    size.name
                );
            }
        }
        dark(driver, false).await;
        for size in HALVES {
            resize(driver, size).await;
            goto(driver, &page).await;
            source(driver, "name=\"hours\"").await;
            assert_fits(driver, size.name).await;
        }
        speak(driver, &served, "long.british.mm").await;
        goto(driver, &page).await;
        source(driver, "name=\"hours\"").await;
        assert_eq!(unfit(driver, "stood").await, Vec::<String>::new());
        speak(driver, &served, "en.british.mm").await;
        resize(driver, PHONE).await;
        without_script(driver).await;
        goto(driver, &page).await;
        source(driver, "name=\"hours\"").await;
        for witness in ["slot", "tail"] {
            touch(
                driver,
                &format!("#read-{witness} .picture:nth-child(3) input"),
            )
            .await;
        }
        touch(driver, "#read-pin .check:nth-child(3) input").await;
        touch(driver, ".primary[data-next]").await;
        source(driver, "While it struck right").await;
        shot_whole(driver, "stood-told").await;
    });
}
