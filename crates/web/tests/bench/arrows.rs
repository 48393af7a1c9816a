//! The arrow as it is served, read by its own points, against a calculation from the sheet's text alone: turned that way by
//! so many teeth, what was read must come into its window. 200 movements made up here, both plates, upside down.

use crate::served::{Served, serve};
use std::fmt::Write;

/// Whole numbers that look like chance and are the same each time (the constants of Numerical Recipes' quick generator,
/// from memory).
struct Dice(u32);

impl Dice {
    fn upto(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        usize::try_from(self.0 >> 8).unwrap_or(0) % n
    }

    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.upto(all.len())]
    }
}

struct Mesh {
    driver: usize,
    driven: usize,
    wheel: f64,
    pinion: f64,
}

/// A movement that was made up, with one witness out of its window.
struct Made {
    sheet: String,
    /// As seen from the sheet's plate, whether each arbor runs clockwise; and its speed against the first.
    clockwise: Vec<bool>,
    speed: Vec<f64>,
    meshes: Vec<Mesh>,
    read_at: usize,
    on: usize,
    front: bool,
    read: f64,
    window: f64,
    period: f64,
}

fn made(dice: &mut Dice, name: usize) -> Made {
    let n = 3 + dice.upto(3);
    let (mut clockwise, mut speed, mut meshes) = (vec![dice.upto(2) == 0], vec![1.0], Vec::new());
    let mut parts = vec![String::new(); n];
    let mut text = String::new();
    for b in 1..n {
        let a = if dice.upto(3) == 0 {
            dice.upto(b)
        } else {
            b - 1
        };
        let internal = dice.upto(5) == 0;
        let (wheel, pinion) = (
            dice.of(&[96_u32, 80, 72, 60]),
            dice.of(&[6_u32, 7, 8, 10, 12]),
        );
        let _ = writeln!(parts[a], "wheel{b} = {wheel}");
        let _ = writeln!(parts[b], "pinion = {pinion}");
        let _ = writeln!(
            text,
            "[[mesh]]\ndriver = \"a{a}.wheel{b}\"\ndriven = \"a{b}.pinion\"\ninternal = {internal}"
        );
        clockwise.push(clockwise[a] == internal);
        speed.push(speed[a] * f64::from(wheel) / f64::from(pinion));
        meshes.push(Mesh {
            driver: a,
            driven: b,
            wheel: f64::from(wheel),
            pinion: f64::from(pinion),
        });
    }
    let (front, read_at) = (dice.upto(2) == 0, dice.upto(n));
    let on = (read_at + 1 + dice.upto(n - 1)) % n;
    let repeats = dice.of(&[1_u32, 2, 4, 9]);
    let period = 360.0 / f64::from(repeats);
    let mut sheet = format!(
        "sheet = 1\nname = \"Made {name}\"\nseen_from = \"{}\"\n",
        if front { "front" } else { "back" }
    );
    for (i, part) in parts.iter().enumerate() {
        let _ = writeln!(sheet, "[arbor.a{i}]");
        if i == 0 {
            let way = if clockwise[0] {
                "clockwise"
            } else {
                "counterclockwise"
            };
            let _ = writeln!(sheet, "runs = \"{way}\"");
        }
        sheet.push_str(part);
    }
    let mut made = Made {
        sheet,
        clockwise,
        speed,
        meshes,
        read_at,
        on,
        front,
        read: 0.0,
        window: 0.0,
        period,
    };
    // Out by a tooth or two, up to four, of a mesh between.
    let between: Vec<usize> = (0..n - 1).filter(|m| made.step(*m) > 0.0).collect();
    let step = made.step(dice.of(&between));
    let teeth = dice.of(&[-4.0, -3.0, -2.0, -1.0, 1.0, 2.0, 3.0, 4.0]);
    made.window = (0.35 * step).min(0.2 * period);
    made.read = -teeth * step;
    made.read -= period * (made.read / period).round();
    let _ = write!(
        made.sheet,
        "{text}[strike]\ncounted_by = \"count wheel\"\nblows = \"hours\"\nread_at = \"a{read_at}\"\nblows_per_turn = 1\n\
         [[witness]]\nid = \"w\"\nsays = \"a pin\"\non = \"a{on}\"\nrepeats = {repeats}\nwindow_deg = [{:.3}, {:.3}]\nbest_deg = 0.0\n",
        -made.window, made.window
    );
    made
}

impl Made {
    /// The arbors that are still joined to `read_at` with one mesh left out.
    fn near(&self, without: usize) -> Vec<usize> {
        let mut near = vec![self.read_at];
        let mut next = 0;
        while next < near.len() {
            for (m, mesh) in self.meshes.iter().enumerate() {
                for (from, to) in [(mesh.driver, mesh.driven), (mesh.driven, mesh.driver)] {
                    if m != without && near[next] == from && !near.contains(&to) {
                        near.push(to);
                    }
                }
            }
            next += 1;
        }
        near
    }

    /// The arbor beyond a mesh, and the teeth of its part there.
    fn far(&self, mesh: usize) -> (usize, f64) {
        let near = self.near(mesh);
        let mesh = &self.meshes[mesh];
        if near.contains(&mesh.driver) {
            (mesh.driven, mesh.pinion)
        } else {
            (mesh.driver, mesh.wheel)
        }
    }

    /// How far a tooth at a mesh moves the witness, in its own degrees.
    fn step(&self, mesh: usize) -> f64 {
        if self.near(mesh).contains(&self.on) {
            return 0.0;
        }
        let (far, teeth) = self.far(mesh);
        360.0 / teeth * self.speed[self.on] / self.speed[far]
    }
}

fn attribute(tag: &str, key: &str) -> String {
    let mark = format!(" {key}=\"");
    let from = tag.find(&mark).unwrap_or_else(|| panic!("{key} in {tag}")) + mark.len();
    tag[from..].split('"').next().unwrap_or_default().to_owned()
}

/// Where the arrows of a page say the witness comes to stand; nothing where one goes half a turn or more, as its points alone
/// do not show its way.
fn after(page: &str, made: &Made, from_front: bool) -> Option<f64> {
    let mut place = made.read;
    for piece in page.split("<g class=\"arrow\"").skip(1) {
        let number = |key: &str| attribute(piece, key).parse::<f64>().expect("a number");
        let name = attribute(piece, "data-mesh");
        let mesh = (made.meshes.iter())
            .position(|m| name == format!("a{0}.wheel{1}>a{1}.pinion", m.driver, m.driven))
            .expect("a mesh of the sheet");
        let (far, teeth_of) = made.far(mesh);
        assert_eq!(attribute(piece, "data-arbor"), format!("a{far}"));
        let (cx, cy) = (number("data-cx"), number("data-cy"));
        let angle = |x: &str, y: &str| (number(y) - cy).atan2(number(x) - cx).to_degrees();
        let drawn = angle("data-x1", "data-y1") - angle("data-x0", "data-y0");
        let turned = (drawn + 180.0).rem_euclid(360.0) - 180.0;
        let teeth = number("data-teeth");
        if teeth * 360.0 / teeth_of > 179.0 {
            return None;
        }
        let pitch = 360.0 / teeth_of;
        assert!(
            (turned.abs() / pitch - teeth).abs() < 0.1,
            "{turned} is {teeth} teeth of {teeth_of}"
        );
        // y grows downward, so angles grow clockwise; from the other plate an arbor runs the other way.
        let runs = made.clockwise[far] == (made.front == from_front);
        let ahead = (turned > 0.0) == runs;
        place += made.step(mesh) * if ahead { teeth } else { -teeth };
    }
    Some(place)
}

#[test]
fn turned_as_the_arrow_says_the_witness_comes_into_its_window() {
    let served = serve(&[]);
    let mut dice = Dice(7);
    let (mut answered, mut tried) = (0, 0);
    while answered < 200 {
        tried += 1;
        assert!(
            tried < 4000,
            "{answered} of {tried} were answered by a shift"
        );
        let made = made(&mut dice, tried);
        // Ways of standing that are few enough to be gone over quickly by a program built for tests.
        let ways: f64 = (0..made.meshes.len())
            .map(|mesh| made.step(mesh))
            .filter(|step| *step > 0.0)
            .map(|step| {
                // So many teeth bring the witness round to an alike place.
                let rest = |teeth: &u32| {
                    let periods = f64::from(*teeth) * step / made.period;
                    (periods - periods.round()).abs()
                };
                f64::from((1..5000).find(|teeth| rest(teeth) < 1e-7).unwrap_or(5000))
            })
            .product();
        if ways > 2000.0 {
            continue;
        }
        if looked_at(&served, &made) {
            answered += 1;
        }
    }
    println!(
        "{answered} of {tried} movements were answered by a shift, each looked at from four sides"
    );
}

/// Whether a movement was answered by a shift; if so, its arrows are right from every side.
fn looked_at(served: &Served, made: &Made) -> bool {
    let begun = served.post("/jobs", &[("sheet", &made.sheet)]);
    assert_eq!(begun.status, 303, "{}", begun.body);
    let job = begun.header("location").expect("a job").to_owned();
    let read = format!("{:.6}", made.read);
    let saw = served.post(
        &format!("{job}/saw"),
        &[("entries", "0"), ("w.deg", &read), ("w.sure", "sure")],
    );
    assert_eq!(saw.status, 303, "{}", saw.body);
    let mut front = made.front;
    for turn in ["", "over", "plate", "over"] {
        if !turn.is_empty() {
            assert_eq!(
                served
                    .post(
                        &format!("{job}/view"),
                        &[("turn", turn), ("step", "answer")]
                    )
                    .status,
                303
            );
            front ^= turn == "plate";
        }
        let page = served.get(&job).body;
        if !page.contains("<g class=\"arrow\"") {
            return false;
        }
        let Some(place) = after(&page, made, front) else {
            return false;
        };
        let off = place - made.period * (place / made.period).round();
        assert!(
            off.abs() <= made.window + 1e-3,
            "{turn}: {off} is not within {}\n{}",
            made.window,
            made.sheet
        );
    }
    true
}
