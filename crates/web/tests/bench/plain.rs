//! Without its script: a browser that runs none opens the page, types, chooses pictures, asks, and tells what happened, all by
//! plain forms and links.

use crate::browser::{
    SIZES, goto, read, resize, shot, source, touch, with_browser, without_script,
};
use crate::served::serve;
use thirtyfour::prelude::*;

#[test]
fn the_round_is_gone_without_the_script() {
    with_browser(async |driver| {
        let size = SIZES[0];
        let served = serve(&[]);
        resize(driver, size).await;
        without_script(driver).await;
        goto(driver, served.address()).await;
        let page = source(driver, "data-step=\"look\"").await;
        // What the script would have made of it is not there.
        assert!(
            !page.contains("role=\"slider\"") && !page.contains("class=\"lively"),
            "no script ran"
        );
        for (witness, picture) in [("slot", 2), ("star", 2)] {
            touch(
                driver,
                &format!("#read-{witness} .picture:nth-child({picture}) input"),
            )
            .await;
        }
        touch(driver, "#read-pin .in-degrees summary").await;
        let field = driver.find(By::Name("pin.deg")).await.expect("a field");
        field.send_keys("−75,0").await.expect("typed");
        touch(driver, "#read-pin .sure label:first-child input").await;
        shot(driver, &format!("plain-{}-read", size.name)).await;
        touch(driver, ".primary[data-next]").await;
        let page = source(driver, "data-step=\"answer\"").await;
        assert!(
            page.contains("Two teeth <b class=\"moved\">counterclockwise</b>"),
            "the answer"
        );
        assert!(page.contains("pin in, at its best"), "as it was typed");
        touch(driver, "form[action$='/other-way'] button").await;
        // Each page knows how many entries there were when it was drawn: the next is touched once it is there.
        source(driver, "Number 2 went the other way.").await;
        let entries: usize = served.entries("/job/1").parse().expect("a number");
        for n in 1..=2 {
            touch(driver, "form[action$='/undo'] button").await;
            source(
                driver,
                &format!("name=\"entries\" value=\"{}\"", entries + n),
            )
            .await;
        }
        source(driver, "data-step=\"answer\"").await;
        touch(driver, ".touches a[href$=jumped]").await;
        source(driver, "data-step=\"jumped\"").await;
        touch(driver, "#which button[value=fourth]").await;
        source(driver, "The fourth arbor jumped out and was put back.").await;
        touch(driver, "form[action$='/undo'] button").await;
        source(driver, "data-step=\"answer\"").await;
        touch(driver, ".lies [value=plate]").await;
        source(driver, "from the front plate").await;
        touch(driver, ".lies [value=plate]").await;
        source(driver, "from the back plate").await;
        touch(driver, "form[action$='/done'] button").await;
        source(driver, "Done: second, two teeth counterclockwise.").await;
        touch(driver, ".primary[data-next]").await;
        source(driver, "Nothing is read yet").await;
        touch(driver, "#read-slot .how").await;
        shot(driver, &format!("plain-{}-how", size.name)).await;
        touch(driver, "#how-slot > button").await;
        for (witness, degrees) in [("slot", "0"), ("star", "0.4"), ("pin", "-74")] {
            read(driver, witness, degrees).await;
            touch(
                driver,
                &format!("#read-{witness} .sure label:first-child input"),
            )
            .await;
        }
        touch(driver, ".primary[data-next]").await;
        source(driver, "All is in its window").await;
        touch(driver, ".top a[href='/settings']").await;
        source(driver, "Words and units").await;
        touch(driver, "input[name=language][value=de]").await;
        touch(driver, ".settings .primary").await;
        source(driver, "Alles steht in seinem Fenster").await;
        shot(driver, &format!("plain-{}-german", size.name)).await;
        touch(driver, ".top a[href='/settings']").await;
        source(driver, "Wörter und Maße").await;
        touch(driver, "input[name=language][value=en]").await;
        touch(driver, ".settings .primary").await;
        source(driver, "All is in its window").await;
    });
}
