//! How long it takes on a slow telephone until a figure that was typed stands on the drawing, and until the drawing is made anew once
//! the count is entered: median and longest over every count of a movement with three trains, the browser's processor slowed four
//! times. Printed, held against nothing. What the browser paints is waited for; the bench itself runs beside it, at full speed.

#[expect(dead_code, reason = "the browser's tests need more of it")]
#[path = "../tests/bench/browser.rs"]
mod browser;
#[expect(dead_code, reason = "the tests of the pages need more of it")]
#[path = "../tests/bench/served.rs"]
mod served;

use browser::{PHONE, at_step, resize, until, value, with_browser};
use serde_json::{Value, json};

/// How many times slower the browser's processor is.
const SLOWED: u32 = 4;
/// In milliseconds: longer is felt as waiting.
const FELT: f64 = 100.0;

/// Types a count, figure by figure, and enters it; gives the milliseconds of each figure, those of the entering, and what of these
/// the bench took to answer.
const TYPED: &str = "
    const [count, done] = [arguments[0], arguments[arguments.length - 1]];
    const painted = () => new Promise((then) => requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = then;
      port2.postMessage(0);
    }));
    const since = (begun) => performance.now() - begun;
    (async () => {
      const figures = [];
      for (const figure of count) {
        const begun = performance.now();
        document.querySelector(`[data-digit='${figure}']`).click();
        await painted();
        figures.push(since(begun));
      }
      const stood = () => document.querySelector('#main').dataset.entries;
      const [before, begun] = [stood(), performance.now()];
      document.querySelector('[data-next]').click();
      while (stood() === before || document.documentElement.hasAttribute('aria-busy')) await painted();
      await painted();
      const all = since(begun);
      const asked = performance.getEntriesByType('resource').filter((one) => one.startTime >= begun);
      const answered = asked.reduce((sum, one) => sum + one.duration, 0);
      performance.clearResourceTimings();
      done([figures, all, answered]);
    })();";

fn main() {
    let mut begun = tasks::Described::begin("quarters", "Wren Street", &[]).expect("a kind");
    let asked: Vec<String> = begun
        .questions()
        .iter()
        .map(|q| q.question.id.clone())
        .collect();
    for question in &asked {
        let usual = tasks::QuestionAnswer::Usual;
        begun.answer(question, &usual).expect("asked");
    }
    let usual = |place: tasks::CountPlace| place.usual.expect("usual").get();
    let counts: Vec<u16> = begun.places().into_iter().map(usual).collect();
    let served = served::serve(&[&begun.text()]);
    let measured = with_browser(async |driver| {
        resize(driver, PHONE).await;
        let slowed = json!({ "rate": SLOWED });
        driver
            .cdp()
            .send_raw("Emulation.setCPUThrottlingRate", slowed)
            .await
            .expect("slowed");
        let page = format!("{}/job/1/movement", served.address());
        driver.goto(&page).await.expect("opened");
        at_step(driver, "count").await;
        until(
            driver,
            "return !!document.querySelector('[data-digit]')?.offsetParent",
        )
        .await;
        let (mut figures, mut entered, mut answers) = (Vec::new(), Vec::new(), Vec::new());
        for count in &counts {
            if value(
                driver,
                "return document.querySelector('#main').dataset.step",
            )
            .await
                != "count"
            {
                break;
            }
            let args = vec![Value::String(count.to_string())];
            let told = driver.execute_async(TYPED, args).await.expect("typed");
            let (each, all, answer): (Vec<f64>, f64, f64) =
                serde_json::from_value(told.json().clone()).expect("times");
            figures.extend(each);
            entered.push(all);
            answers.push(answer);
        }
        (figures, entered, answers)
    });
    let Some((figures, entered, answers)) = measured else {
        return;
    };
    tell("a figure stands on the drawing", figures);
    tell("the drawing is made anew", entered);
    tell("of that the bench answers in", answers);
}

fn tell(what: &str, mut times: Vec<f64>) {
    times.sort_by(f64::total_cmp);
    let (Some(most), Some(middle)) = (times.last(), times.get(times.len() / 2)) else {
        println!("{what}: nothing was typed");
        return;
    };
    let over = times.iter().filter(|ms| **ms > FELT).count();
    println!(
        "{what}: {middle:.0} ms, {most:.0} ms at most, {over} of {} over {FELT:.0} ms; the processor slowed {SLOWED} times",
        times.len()
    );
}
