//! Writes a page with some pictures, to be looked at: `pictures OUT.html NAME …`.

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let mut page = String::from(
        "<meta charset=utf-8><style>body{display:grid;grid-template-columns:repeat(6,160px)}svg{width:150px}</style>",
    );
    for name in &args[1..] {
        let drawing = draw::pictured(name).unwrap_or_else(|| panic!("no picture {name}"));
        page += &format!("<figure>{}{name}</figure>", drawing.file());
    }
    std::fs::write(&args[0], page).expect("written");
}
