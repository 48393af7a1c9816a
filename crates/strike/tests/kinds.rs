//! try
use movement::Movement;
fn sample(name: &str) -> Movement {
    let path = format!("{}/../../movements/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read(&path).expect("sheet");
    sheet::read(&text)
        .unwrap_or_else(|f| panic!("{f:#?}"))
        .movement
}
#[test]
fn schoolroom() {
    let m = sample("schoolroom");
    let s = strike::strike(&m, &[], true).unwrap();
    for e in s.events.iter().take(60) {
        println!("{:?} {:?}", e.pose.hours.to_string(), e.seen);
    }
    println!(
        "{:?} {:?} {:?}",
        s.total(),
        s.end,
        s.hours.iter().map(|h| h.blows).collect::<Vec<_>>()
    );
    println!("{:#?}", s.hours[2]);
}
