//! A real browser without a window, by its own driver. Where there is none, tests that need it say so.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use thirtyfour::error::{WebDriverErrorInner, WebDriverResult};
use thirtyfour::prelude::*;

const FLAGS: [&str; 9] = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
];

/// A way of holding the page.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Size {
    pub(crate) name: &'static str,
    pub(crate) wide: u32,
    pub(crate) high: u32,
}

/// Held in one hand.
pub(crate) const PHONE: Size = Size {
    name: "phone",
    wide: 390,
    high: 844,
};

pub(crate) const SIZES: [Size; 3] = [
    PHONE,
    Size {
        name: "tablet",
        wide: 820,
        high: 1180,
    },
    Size {
        name: "laptop",
        wide: 1280,
        high: 960,
    },
];

/// The driver's process, ended when it is dropped.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// A program by its name, where it is.
pub(crate) fn installed(name: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH")?;
    std::env::split_paths(&path)
        .map(|folder| folder.join(name))
        .find(|file| file.is_file())
}

/// Runs a test in a browser of its own.
pub(crate) fn with_browser<T>(test: impl AsyncFnOnce(&WebDriver) -> T) -> Option<T> {
    with_flags(&[], test)
}

/// The same, the browser told more.
pub(crate) fn with_flags<T>(flags: &[&str], test: impl AsyncFnOnce(&WebDriver) -> T) -> Option<T> {
    let (Some(driver), Some(browser)) = (installed("chromedriver"), installed("chromium")) else {
        assert!(
            std::env::var_os("TRUNDLE_PROVE").is_none(),
            "chromium and chromedriver are needed"
        );
        println!("no chromium and chromedriver: not tried");
        return None;
    };
    let profile = tempfile::tempdir().expect("a folder");
    let mut running = Running(
        Command::new(driver)
            .arg("--port=0")
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the driver starts"),
    );
    let mut lines = BufReader::new(running.0.stdout.take().expect("its output")).lines();
    let port = lines
        .by_ref()
        .map_while(Result::ok)
        .find_map(|line| {
            let told = line.split("started successfully on port ").nth(1)?;
            told.trim_end_matches('.').parse::<u16>().ok()
        })
        .expect("the driver says its port");
    std::thread::spawn(move || lines.for_each(drop));
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .worker_threads(1)
        .build()
        .expect("a runtime");
    Some(runtime.block_on(async {
        let mut asked = DesiredCapabilities::chrome();
        for flag in FLAGS.iter().chain(flags) {
            asked.add_arg(flag).expect("a flag");
        }
        asked
            .add_arg(&format!("--user-data-dir={}", profile.path().display()))
            .expect("a profile");
        asked
            .set_binary(browser.to_str().expect("a path"))
            .expect("a browser");
        let driver = WebDriver::new(format!("http://127.0.0.1:{port}"), asked)
            .await
            .expect("the browser opens");
        driver
            .set_script_timeout(Duration::from_secs(120))
            .await
            .expect("a timeout");
        let got = test(&driver).await;
        driver.quit().await.expect("it closes");
        got
    }))
}

pub(crate) async fn resize(driver: &WebDriver, size: Size) {
    let asked = json!({ "width": size.wide, "height": size.high, "deviceScaleFactor": 1, "mobile": size.wide < 600 });
    driver
        .cdp()
        .send_raw("Emulation.setDeviceMetricsOverride", asked)
        .await
        .expect("resized");
}

pub(crate) async fn dark(driver: &WebDriver, dark: bool) {
    let scheme = if dark { "dark" } else { "light" };
    let asked = json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
    driver
        .cdp()
        .send_raw("Emulation.setEmulatedMedia", asked)
        .await
        .expect("set");
}

/// The value of a piece of script.
pub(crate) async fn value(driver: &WebDriver, script: &str) -> Value {
    let got = driver.execute(script, Vec::<Value>::new()).await;
    got.unwrap_or_else(|error| panic!("{script}: {error}"))
        .json()
        .clone()
}

/// Waits until a piece of script gives true; ten seconds at most.
pub(crate) async fn until(driver: &WebDriver, script: &str) {
    until_within(driver, script, Duration::from_secs(10)).await;
}

/// The same where it may take so long.
pub(crate) async fn until_within(driver: &WebDriver, script: &str, patience: Duration) {
    let began = Instant::now();
    while began.elapsed() < patience {
        if value(driver, script).await == Value::Bool(true) {
            return;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    let main = value(
        driver,
        "return document.querySelector('main')?.innerText ?? ''",
    )
    .await;
    panic!("it never came to pass: {script}\n{main}");
}

/// Opens a page. The driver may be back before the page it left is gone, and on a busy machine what is done next would be done to
/// that one: it is waited for until another page stands there whole.
pub(crate) async fn goto(driver: &WebDriver, address: impl AsRef<str>) {
    value(driver, "window.left = true").await;
    driver.goto(address.as_ref()).await.expect("opened");
    until(
        driver,
        "return !window.left && document.readyState === 'complete'",
    )
    .await;
}

/// Touches what a selector finds, in its middle, once it is in sight. Where the page is just being replaced by the next, what
/// was found may be gone before it is touched, or not be there or not laid out yet: it is looked for again, for some seconds.
pub(crate) async fn touch(driver: &WebDriver, selector: &str) {
    let mut last = None;
    for _ in 0..200 {
        match touched(driver, selector).await {
            Ok(()) => return,
            Err(error)
                if matches!(
                    error.as_inner(),
                    WebDriverErrorInner::StaleElementReference(_)
                        | WebDriverErrorInner::NoSuchElement(_)
                        | WebDriverErrorInner::ElementNotInteractable(_)
                ) =>
            {
                last = Some(error);
                tokio::time::sleep(Duration::from_millis(50)).await;
            }
            Err(error) => panic!("{selector}: {error}"),
        }
    }
    let page =
        "return location.pathname + '\\n' + (document.querySelector('main')?.innerText ?? '')";
    let page = value(driver, page).await;
    panic!("{selector}: it never came, or never stayed: {last:?}\n{page}");
}

async fn touched(driver: &WebDriver, selector: &str) -> WebDriverResult<()> {
    let found = driver.find(By::Css(selector)).await?;
    found.scroll_into_view().await?;
    found.click().await
}

/// Waits until the page is at a step.
pub(crate) async fn at_step(driver: &WebDriver, step: &str) {
    until(
        driver,
        &format!("return document.readyState === 'complete' && document.querySelector('main')?.dataset.step === '{step}' && !document.documentElement.hasAttribute('aria-busy')"),
    )
    .await;
}

/// The page as it is, once it has what is looked for.
pub(crate) async fn source(driver: &WebDriver, what: &str) -> String {
    let mut source = String::new();
    for _ in 0..100 {
        source = driver.source().await.expect("a page");
        if source.contains(what) {
            return source;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    panic!("{what} never came:\n{source}");
}

/// From now on the browser runs no script of any page.
pub(crate) async fn without_script(driver: &WebDriver) {
    let off = json!({ "value": true });
    driver
        .cdp()
        .send_raw("Emulation.setScriptExecutionDisabled", off)
        .await
        .expect("no script");
}

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Keeps a picture of the page, to be looked at. Where the page is just being replaced by the next there is none: it is taken again, for
/// some seconds.
pub(crate) async fn shot(driver: &WebDriver, name: &str) {
    let folder = root().join("target/bench-shots");
    std::fs::create_dir_all(&folder).expect("a folder");
    let mut png = driver.screenshot_as_png().await;
    for _ in 0..40 {
        if png.is_ok() {
            break;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
        png = driver.screenshot_as_png().await;
    }
    let png = png.expect("a picture");
    std::fs::write(folder.join(format!("{name}.png")), png).expect("kept");
}

/// A picture of all of the page, not only of what is in sight.
pub(crate) async fn shot_whole(driver: &WebDriver, name: &str) {
    let high = value(driver, "return document.documentElement.scrollHeight").await;
    let wide = value(driver, "return innerWidth").await;
    let asked = json!({ "format": "png", "captureBeyondViewport": true,
        "clip": { "x": 0, "y": 0, "width": wide, "height": high, "scale": 1 } });
    let got = driver
        .cdp()
        .send_raw("Page.captureScreenshot", asked)
        .await
        .expect("a picture");
    let folder = root().join("target/bench-shots");
    std::fs::create_dir_all(&folder).expect("a folder");
    let bytes = base64(got["data"].as_str().expect("its bytes"));
    std::fs::write(folder.join(format!("{name}.png")), bytes).expect("kept");
}

/// RFC 4648, section 4.
fn base64(text: &str) -> Vec<u8> {
    let value = |c: u8| -> u32 {
        let place = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/"
            .iter()
            .position(|x| *x == c);
        u32::try_from(place.unwrap_or(0)).expect("six bits")
    };
    let (mut bytes, mut held, mut bits) = (Vec::new(), 0_u32, 0);
    for c in text.bytes().filter(|c| *c != b'=') {
        held = (held << 6) | value(c);
        bits += 6;
        if bits >= 8 {
            bits -= 8;
            bytes.push(u8::try_from((held >> bits) & 0xff).expect("eight bits"));
        }
    }
    bytes
}

/// Unfolds where degrees are typed.
pub(crate) async fn in_degrees(driver: &WebDriver, witness: &str) {
    let open = format!("document.querySelector('#read-{witness} .in-degrees').open = true");
    value(driver, &open).await;
}

/// Types how far off a witness is read.
pub(crate) async fn read(driver: &WebDriver, witness: &str, degrees: &str) {
    in_degrees(driver, witness).await;
    let field = driver.find(By::Name(format!("{witness}.deg"))).await;
    let field = field.expect("a field");
    field.send_keys(degrees).await.expect("typed");
}
