//! Draws a sheet as it is while it is counted: `counting SHEET OUT.svg N [TYPED]`, its first N parts counted, the next one asked for.

use draw::{CountMarks, CountShown, DrawnAs, View, counting, layout};

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let bytes = std::fs::read(&args[0]).expect("a sheet");
    let movement = sheet::read(&bytes).expect("a good sheet").movement;
    let counted: usize = args[2].parse().expect("how many are counted");
    let typed = args.get(3);
    let parts: Vec<CountShown> = (movement.arbors())
        .flat_map(|(arbor, _)| movement.parts(arbor))
        .enumerate()
        .map(|(n, (part, has))| CountShown {
            part,
            drawn: match n == counted && typed.is_some() || n < counted {
                true => DrawnAs::Toothed,
                false => DrawnAs::Dotted,
            },
            figure: match (n == counted, typed) {
                (true, Some(typed)) => typed.clone(),
                (false, _) if n < counted => has.teeth.get().to_string(),
                _ => String::new(),
            },
        })
        .collect();
    let marks = CountMarks {
        parts: &parts,
        asked: parts.get(counted).map(|shown| shown.part),
    };
    let started = std::time::Instant::now();
    let laid = layout(&movement, &[]);
    let drawing = counting(&movement, &laid, View::of_sheet(&movement), &marks);
    let file = drawing.file();
    println!("{} bytes, {:?}", file.len(), started.elapsed());
    std::fs::write(&args[1], file).expect("written");
}
