//! How long the belief takes: going over a log of thirty entries from its start, the advice on it, and making ready.
//!
//! `cargo bench -p timing`. Figures are of the machine they are run on; nothing is asserted.

use entries::Log;
use movement::Movement;
use timing::{Bench, Priors};

fn main() {
    divan::main();
}

fn schoolroom() -> Movement {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../movements/schoolroom.toml"
    );
    let text = std::fs::read(path).expect("sample");
    sheet::read(&text).expect("good").movement
}

/// Thirty entries: looks, shifts that may have gone any way, a wheel that jumped out.
fn thirty() -> Log {
    let mut text = "{\"trundle_log\":1,\"sheet\":\"x\",\"hash\":\"0\"}\n".to_owned();
    let kinds = [
        r#""kind":"look","tension":"tensioned","readings":[{"witness":"slot","deg":"-1.2"},{"witness":"star","deg":"-10"},{"witness":"pin","deg":"-75"}]"#,
        r#""kind":"shift","mesh":"second.wheel>third.pinion","teeth":1"#,
        r#""kind":"look","tension":"slack","readings":[{"witness":"slot","deg":"-0.6","spread":"0.3"},{"witness":"star","deg":"-5","spread":"2"}]"#,
        r#""kind":"jumped","arbor":"fourth""#,
        r#""kind":"look","tension":"tensioned","readings":[{"witness":"pin","deg":"-24","spread":"6"}]"#,
        r#""kind":"shift","mesh":"third.wheel>fourth.pinion","teeth":-1"#,
    ];
    for n in 1..=30 {
        text += &format!("{{\"n\":{n},{}}}\n", kinds[(n - 1) % kinds.len()]);
    }
    Log::read(text.as_bytes()).expect("good").0
}

#[divan::bench]
fn thirty_entries_gone_over(bencher: divan::Bencher<'_, '_>) {
    let movement = schoolroom();
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    let log = thirty();
    bencher.bench_local(|| bench.recall(&log).expect("a belief"));
}

#[divan::bench]
fn advice_after_thirty_entries(bencher: divan::Bencher<'_, '_>) {
    let movement = schoolroom();
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    let recalled = bench.recall(&thirty()).expect("a belief");
    bencher.bench_local(|| bench.advise_on(&recalled));
}

#[divan::bench]
fn made_ready_with_the_labour_from_every_way(bencher: divan::Bencher<'_, '_>) {
    let movement = schoolroom();
    let log = thirty();
    bencher.bench_local(|| {
        let bench = Bench::of(&movement, Priors::default()).expect("few places");
        let recalled = bench.recall(&log).expect("a belief");
        bench.advise_on(&recalled)
    });
}
