//! Draws a sheet to a file, to be looked at: `plate SHEET OUT.svg [front|back] [upside-down] [MESH:TEETH ...]`.

use draw::{Hold, Lift, LiftWay, Marks, Pose, View, layout, scene};
use movement::Plate;
use quantity::Degrees;

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let bytes = std::fs::read(&args[0]).expect("a sheet");
    let movement = sheet::read(&bytes).expect("a good sheet").movement;
    let mut view = View::of_sheet(&movement);
    let mut pose = Pose::default();
    let mut after = Pose::default();
    for (id, w) in movement.witnesses() {
        let off = Degrees::parse("-2").expect("a number");
        pose = pose.with(id, &w.best + &off);
        after = after.with(id, w.best.clone());
    }
    let mut lifts = Vec::new();
    for arg in &args[2..] {
        match arg.as_str() {
            "front" => view.plate = Plate::Front,
            "back" => view.plate = Plate::Back,
            "upside-down" => view.upside_down = true,
            _ => {
                let (mesh, teeth) = arg.rsplit_once(':').expect("MESH:TEETH");
                let teeth: i32 = teeth.parse().expect("a count");
                lifts.push(Lift {
                    mesh: movement.find_mesh(mesh).expect("a mesh"),
                    teeth: u16::try_from(teeth.unsigned_abs()).expect("few"),
                    way: if teeth < 0 {
                        LiftWay::Back
                    } else {
                        LiftWay::Ahead
                    },
                });
            }
        }
    }
    let started = std::time::Instant::now();
    let laid = layout(&movement, &[]);
    let holds: Vec<Hold> = (movement.strike().iter())
        .map(|s| Hold {
            at: s.read_at,
            says: "hold".to_owned(),
        })
        .collect();
    let marks = Marks {
        lifts: &lifts,
        turns: &[],
        holds: &holds,
        after: (!lifts.is_empty()).then_some(&after),
    };
    let drawing = scene(&movement, &laid, view, &pose, &marks);
    let file = drawing.file();
    println!("{} bytes, {:?}", file.len(), started.elapsed());
    std::fs::write(&args[1], file).expect("written");
}
