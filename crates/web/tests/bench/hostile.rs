//! What does not belong in a field, an address or a body: script in every text that is kept, ways out of a folder, more than is
//! taken. Each is shown to be caught where nothing stood in its way.

use crate::browser::root;
use crate::served::{Served, form, serve};

/// Script as people with bad intent type it, with a number to know it again by.
fn script(n: usize) -> String {
    format!("\"'></textarea></title><script>alert({n})</script><img src=x onerror=alert({n})>")
}

/// Whether some of it stands in a page as anything but text.
fn is_alive(page: &str) -> bool {
    page.contains("<script>alert") || page.contains("<img src=x") || page.contains("\"'>")
}

/// Whether it is told there as text.
fn is_told(page: &str, n: usize) -> bool {
    page.contains(&format!("&lt;script&gt;alert({n})&lt;/script&gt;"))
}

/// The kind of an entry, its texts, and its other fields with what stands in them.
type Form = (
    &'static str,
    &'static [&'static str],
    &'static [(&'static str, &'static str)],
);

/// Every form of an entry with script in all of its texts; numbers and choices as they must be.
const FORMS: [Form; 9] = [
    ("intake", &["clock", "complaint", "owner", "reach"], &[]),
    ("measurement", &["what"], &[("value", "1"), ("unit", "mm")]),
    ("found", &["part", "says"], &[]),
    ("fitted", &["part", "says"], &[]),
    ("oil", &["place", "oil"], &[]),
    ("trial-run", &["says"], &[("hours", "12")]),
    ("note", &["says"], &[]),
    ("check", &["item"], &[("stage", "down")]),
    ("handed-back", &["to", "says"], &[("sure", "yes")]),
];

/// Enters them all into a job; the numbers that were entered.
fn enter_all(served: &Served) -> Vec<usize> {
    let mut entered = Vec::new();
    for (kind, texts, others) in FORMS {
        let entries = served.entries("/job/1/way");
        let scripts: Vec<(&str, String)> = (texts.iter().enumerate())
            .map(|(k, name)| (*name, script(100 + 10 * entered.len() + k)))
            .collect();
        entered.extend(scripts.iter().map(|(_, text)| number(text)));
        let mut fields = vec![("entries", &*entries), ("kind", kind)];
        fields.extend(scripts.iter().map(|(name, text)| (*name, text.as_str())));
        fields.extend(others);
        let answer = served.post("/job/1/enter", &fields);
        assert_eq!(answer.status, 303, "{kind}: {}", answer.body);
    }
    entered
}

fn number(text: &str) -> usize {
    let (_, after) = text.split_once("alert(").expect("a number");
    let (number, _) = after.split_once(')').expect("its end");
    number.parse().expect("a number")
}

#[test]
fn script_in_any_text_stays_text_on_every_page() {
    // What is looked for is found where a text is put into a page as it is.
    assert!(is_alive(&format!("<p>{}</p>", script(1))));
    assert!(is_alive(&format!("<input value=\"{}\">", script(1))));
    let sheet = std::fs::read_to_string(root().join("movements/schoolroom.toml")).expect("a sheet");
    let written = |n| script(n).replace('\\', "\\\\").replace('"', "\\\"");
    let sheet = sheet.replace(
        "name = \"Wren Street schoolroom clock\"",
        &format!("name = \"{}\"", written(1)),
    );
    let (before, after) = sheet.split_once("says = \"").expect("a witness");
    let (_, after) = after.split_once('"').expect("its end");
    let sheet = format!("{before}says = \"{}\"{after}", written(2));
    let served = serve(&[&sheet]);
    let entries = served.entries("/job/1/way");
    let own = [
        ("entries", &*entries),
        ("stage", "down"),
        ("says", &script(3)),
    ];
    assert_eq!(served.post("/job/1/own", &own).status, 303);
    let entered = enter_all(&served);
    let mut told: Vec<usize> = Vec::new();
    let mut tried = 0;
    let asked = form(&[("for", &script(4))]);
    let stages = ["in", "down", "look", "together", "prove", "rate", "out"];
    let mut pages: Vec<String> = [
        "/jobs",
        "/jobs?home",
        "/job/1",
        "/job/1?look",
        "/job/1/strike",
    ]
    .map(str::to_owned)
    .to_vec();
    pages.extend(stages.map(|stage| format!("/job/1/way?stage={stage}")));
    pages.extend(
        ["record", "record/whole", "listen"]
            .into_iter()
            .chain(web::sums())
            .map(|page| format!("/job/1/{page}")),
    );
    pages.extend(["/search?for=alert".to_owned(), format!("/search?{asked}")]);
    // What is typed for a sum, an evening, or what is put in wrong, comes back with why it is refused.
    for (page, field) in [
        ("counts", "beats"),
        ("power", "strip"),
        ("pendulum", "length"),
        ("pendulum", "part"),
        ("listen", "arc"),
        ("listen", "clock-ppm"),
        ("way", "by"),
    ] {
        pages.push(format!("/job/1/{page}?{}", form(&[(field, &script(5))])));
    }
    let put_in = [("bend", "hammer"), ("bend-by", &*script(6))];
    pages.push(format!("/job/1/strike?{}", form(&put_in)));
    for address in &pages {
        let page = served.get(address);
        assert!(
            matches!(page.status, 200 | 422),
            "{address}: {}",
            page.status
        );
        assert!(!is_alive(&page.body), "{address}: {}", page.body);
        told.extend((1..400).filter(|n| is_told(&page.body, *n)));
        tried += 1;
    }
    assert!(tried > 28);
    // Each of them is told somewhere: none was left out of what was tried.
    for n in entered.into_iter().chain([1, 2, 3, 4, 5, 6]) {
        assert!(told.contains(&n), "{n} is told on no page");
    }
}

#[test]
fn no_address_leads_out_of_its_folder() {
    let served = serve(&[]);
    let entries = served.entries("/job/1/way");
    let fields = [("entries", &*entries), ("when", "before")];
    let picture = dot();
    assert_eq!(
        served.upload("/job/1/picture", &fields, &picture).status,
        303
    );
    let way = served.get("/job/1/way").body;
    let (_, after) = way.split_once("/picture/").expect("a picture");
    let digest: String = after
        .chars()
        .take_while(char::is_ascii_alphanumeric)
        .collect();
    assert_eq!(served.get(&format!("/picture/{digest}")).status, 200);
    // There is something to be led to, by the very way that is tried.
    let book = served.book();
    let mut pictures = book.file_name().expect("a name").to_owned();
    pictures.push(".pictures");
    let pictures = book.with_file_name(pictures);
    assert!(
        pictures
            .join("..")
            .join(book.file_name().expect("a name"))
            .exists()
    );
    let name = book
        .file_name()
        .expect("a name")
        .to_string_lossy()
        .into_owned();
    for out in [
        format!("/picture/../{name}"),
        format!("/picture/..%2f{name}"),
        format!("/picture/%2e%2e%2f{name}"),
        format!("/picture/..%5c{name}"),
        format!("/picture/{digest}%2f..%2f..%2f{name}"),
        "/picture/%2fetc%2fpasswd".to_owned(),
        "/picture//etc/passwd/small".to_owned(),
        format!("/job/1/listen/sound/..%2f..%2f{name}"),
        format!("/job/..%2f{name}/way"),
    ] {
        let answer = served.get(&out);
        assert!(
            matches!(answer.status, 400 | 404),
            "{out}: {}",
            answer.status
        );
        assert!(!answer.body.contains("SQLite format"), "{out}");
    }
}

/// A picture of one point.
fn dot() -> Vec<u8> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    image::RgbImage::new(1, 1)
        .write_to(&mut bytes, image::ImageFormat::Png)
        .expect("written");
    bytes.into_inner()
}

#[test]
fn more_than_is_taken_is_refused_and_what_just_fits_is_read() {
    const MOST: usize = 4 << 20;
    let served = serve(&[]);
    let entries = served.entries("/job/1/way");
    let send = |bytes: usize| {
        let fields = [
            ("entries", &*entries),
            ("kind", "note"),
            ("says", "short"),
            ("x", ""),
        ];
        let rest = "x".repeat(bytes - form(&fields).len());
        let fields = [&fields[..3], &[("x", rest.as_str())]].concat();
        served.post("/job/1/enter", &fields).status
    };
    assert_eq!(send(MOST + 1), 413);
    assert_eq!(served.entries("/job/1/way"), entries, "nothing was entered");
    assert_eq!(send(MOST), 303);
    assert_ne!(served.entries("/job/1/way"), entries);
}
