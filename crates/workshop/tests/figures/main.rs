//! Published figures of pendulums, worked by this project's own sums: each row of `outside/pendulum.toml` a test of its own
//! name, and the lengths of the table of trains in `outside/beats.toml`.

mod row;

use libtest_mimic::{Arguments, Failed, Trial};
use quantity::{Density, Gravity, Known, Length, Mass, Measure, Number, Pace, Rate, Slant, Warmth};
use row::Row;
use serde::Deserialize;
use std::process::ExitCode;
use workshop::pendulum::{
    Air, Lump, Nut, Rod, air, beats, buoyed, by_length, change_for, elliptic_k, gravity, laid_on,
    length, nut_turn, somigliana, swing, thinner, warmer, wider,
};

fn main() -> ExitCode {
    let mut trials = Vec::new();
    for row in row::rows("pendulum.toml") {
        let name = format!("pendulum: {}", row.name);
        trials.push(Trial::test(name, move || {
            row.check(worked(&row)).map_err(Failed::from)
        }));
    }
    let table: Table = toml::from_str(&row::text("beats.toml")).expect("the table of trains");
    for train in table.train {
        let name = format!("beats: length of {}", train.name);
        trials.push(Trial::test(name, move || {
            train.check().map_err(Failed::from)
        }));
    }
    libtest_mimic::run(&Arguments::from_args(), trials).exit_code()
}

fn sure<Q: Measure>(x: Q) -> Known<Q> {
    Known::sure(x)
}

fn g(row: &Row) -> Known<Gravity> {
    sure(Gravity::m_per_s2(row.num("g")))
}

fn worked(row: &Row) -> f64 {
    let n = |key: &str| row.num(key);
    let deg = |key: &str| sure(Slant::deg(n(key)));
    let inch = |key: &str| sure(Length::inch(n(key)));
    let sea = sure(Length::mm(0.0));
    let s = |rate: Known<Rate>| rate.value.as_s_per_day();
    let long = |g| {
        length(
            sure(Pace::per_hour(n("beats"))),
            g,
            sure(Number::plain(1.0)),
        )
        .value
    };
    let bob = || sure(Density::kg_per_m3(n("bob")));
    match row.sum() {
        "length_in" => long(g(row)).as_inch(),
        "length_mm" => long(g(row)).as_mm(),
        "length_at_in" => long(gravity(deg("deg"), sea)).as_inch(),
        "beat_s" => 3600.0 / beats(inch("inch"), g(row)).value.as_per_hour(),
        "change_mm" => {
            let gains = sure(Rate::s_per_day(n("gains")));
            change_for(sure(Length::mm(n("mm"))), gains).value.as_mm()
        }
        "somigliana" => somigliana(Slant::deg(n("deg"))).as_m_per_s2(),
        "gravity" => {
            let height = sure(Length::metres(n("m")));
            gravity(deg("deg"), height).value.as_m_per_s2()
        }
        "moved" => {
            let [from, to] = ["deg", "to"].map(|key| gravity(deg(key), sea).value.as_m_per_s2());
            // As a clock that goes there does.
            let asked = workshop::pendulum::Asked {
                train: Some(sure(Pace::per_hour(3600.0))),
                gravity: Some(sure(Gravity::m_per_s2(from))),
                moved: Some(sure(Gravity::m_per_s2(to))),
                ..Default::default()
            };
            let (said, _) = workshop::pendulum::answer(&asked).expect("an answer");
            said.iter()
                .find_map(|said| match said {
                    workshop::pendulum::PendulumResult::Moved(rate) => Some(s(*rate)),
                    _ => None,
                })
                .expect("moved")
        }
        "arc" => {
            let from = row.ask.get("from").map_or(0.0, |_| n("from"));
            s(wider(sure(Slant::deg(from)), deg("deg")))
        }
        "elliptic" => elliptic_k(n("m")),
        "warmer" => {
            let word = row.ask["rod"].as_str().expect("a word");
            let rod = Rod::ALL.iter().find(|r| r.0 == word).expect("a rod").1;
            n("days") * s(warmer(rod, sure(Warmth::fahrenheit(n("f")))))
        }
        "by_length" => s(by_length(inch("inch"), inch("by"))),
        "nut_turn" | "nut_division" => {
            let nut = Nut {
                pitch: sure(Length::inch(1.0 / n("threads"))),
                divisions: None,
            };
            let turn = s(nut_turn(inch("inch"), nut));
            if row.sum() == "nut_turn" {
                turn
            } else {
                turn / n("divisions")
            }
        }
        "laid_on" => {
            let mass = |kg: f64| sure(Mass::kg(kg));
            let long = |mm: f64| sure(Length::mm(mm));
            s(laid_on(
                mass(n("part")),
                mass(1.0),
                long(n("at")),
                long(1.0),
            ))
        }
        "rod" => {
            let rod = Lump::Rod {
                mass: sure(Mass::kg(1.0)),
                from: sea,
                to: sure(Length::mm(n("mm"))),
            };
            swing(&[rod]).expect("it hangs").length.value.as_mm()
        }
        "pressure" => {
            let then = Air {
                hectopascals: Air::USUAL.hectopascals + n("hpa"),
                ..Air::USUAL
            };
            s(thinner(bob(), air(Air::USUAL), air(then)))
        }
        "buoyed" => s(buoyed(bob(), air(Air::USUAL))),
        other => panic!("{}: no sum `{other}`", row.name),
    }
}

#[derive(Deserialize)]
struct Table {
    train: Vec<Train>,
}

#[derive(Deserialize)]
struct Train {
    name: String,
    beats_per_hour: String,
    beats_per_minute: Print,
    length_in: Print,
}

/// As printed, or as printed wrongly.
#[derive(Deserialize)]
#[serde(untagged)]
enum Print {
    Right(String),
    Wrong { printed: String, right: String },
}

/// A printed length agrees with its own printed beats to this: the table carries two figures after the point, and was
/// worked from beats to a tenth.
const PRINTED_IN: f64 = 0.02;

impl Train {
    /// The length of the train's beats by the book's own seconds pendulum, 39.14 in.
    fn check(&self) -> Result<(), String> {
        let gravity = Gravity::m_per_s2(std::f64::consts::PI.powi(2) * 39.14 * 0.0254);
        let long = |per_hour: f64| {
            length(
                sure(Pace::per_hour(per_hour)),
                sure(gravity),
                sure(Number::plain(1.0)),
            )
            .value
            .as_inch()
        };
        let exact = match self.beats_per_hour.split_once('/') {
            Some((n, d)) => number(n)? / number(d)?,
            None => number(&self.beats_per_hour)?,
        };
        let by_the_train = long(exact);
        let (printed_beats, _) = self.beats_per_minute.both();
        let by_its_beats = long(60.0 * number(printed_beats)?);
        let (printed, right) = self.length_in.both();
        match right {
            None => {
                let off = (by_its_beats - number(printed)?).abs();
                if off > PRINTED_IN {
                    return Err(format!("{by_its_beats} in, and printed {printed}"));
                }
            }
            Some(right) => {
                let off = (by_the_train - number(right)?).abs();
                if off > 1e-3 {
                    return Err(format!("{by_the_train} in, and not {right}"));
                }
                if (by_its_beats - number(printed)?).abs() <= PRINTED_IN {
                    return Err(format!("{printed} is no misprint: {by_its_beats}"));
                }
            }
        }
        // And the train's own beats ask for nearly that.
        let off = (by_the_train - by_its_beats).abs();
        if off > PRINTED_IN {
            return Err(format!(
                "{by_the_train} in by the train, {by_its_beats} by its beats"
            ));
        }
        Ok(())
    }
}

impl Print {
    fn both(&self) -> (&str, Option<&str>) {
        match self {
            Print::Right(printed) => (printed, None),
            Print::Wrong { printed, right } => (printed, Some(right)),
        }
    }
}

fn number(text: &str) -> Result<f64, String> {
    text.parse().map_err(|_| text.to_owned())
}
