//! Draws the loupes of a sheet to files, to be looked at: `loupes SHEET OUT_FOLDER [front|back] [upside-down]`.

use draw::{View, choices, loupe};
use movement::Plate;

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let bytes = std::fs::read(&args[0]).expect("a sheet");
    let movement = sheet::read(&bytes).expect("a good sheet").movement;
    let mut view = View::of_sheet(&movement);
    for arg in &args[2..] {
        match arg.as_str() {
            "front" => view.plate = Plate::Front,
            "back" => view.plate = Plate::Back,
            _ => view.upside_down = true,
        }
    }
    for (id, w) in movement.witnesses() {
        for (i, place) in choices(&movement, id).iter().enumerate() {
            let drawing = loupe(&movement, id, place, Some(&w.best), view);
            let file = drawing.file();
            println!("{} {i}: {} bytes", w.id, file.len());
            std::fs::write(format!("{}/{}-{i}.svg", args[1], w.id), file).expect("written");
        }
    }
}
