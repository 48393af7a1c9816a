//! A pendulum, from what is there to what is wanted, as it is written on a command line or in a form.

use crate::{Out, QuestionFault, Refusal, WrittenForm, within, written};
use movement::{Arbor, Movement};
use quantity::{
    Density, Known, Length, Mass, Number, Pace, Slant, Tool, Unwritten, Writable, parse_known,
    to_f64,
};
use workshop::pendulum::{
    Air, Asked, Lump, Nut, PendulumResult, Ribbon, Rod, Suspension, SuspensionStrip, Want, Wheel,
    answer, by_the_bob, escapement, gravity, length_on_sheet, train_beats,
};

/// What is there and what is wanted, each as it is written; a measurement has its unit and may have its spread.
#[derive(Debug, Clone, Default)]
pub struct PendulumAsk {
    /// Beats an hour.
    pub beats: Option<String>,
    /// From the bend of the suspension to the middle of the bob.
    pub length: Option<String>,
    /// Degrees from the equator.
    pub latitude: Option<String>,
    /// Above the sea.
    pub height: Option<String>,
    /// The latitude it goes to.
    pub moved_to: Option<String>,
    /// The height it goes to.
    pub moved_up: Option<String>,
    /// Degrees to one side.
    pub half_arc: Option<String>,
    /// Degrees to one side that it will have.
    pub arc_to: Option<String>,
    /// What the rod is of.
    pub rod: Option<String>,
    /// How much warmer it gets.
    pub warmer: Option<String>,
    /// What the clock gains.
    pub gains: Option<String>,
    /// How far the nut goes in one turn.
    pub nut_pitch: Option<String>,
    /// Threads of the nut in one inch.
    pub nut_threads: Option<String>,
    /// Divisions on its edge.
    pub nut_divisions: Option<u16>,
    /// Mass of bob and rod.
    pub mass: Option<String>,
    /// A small weight.
    pub small: Option<String>,
    /// The suspension spring: `WIDTHxTHICKxLONG`.
    pub suspension: Option<String>,
    /// A strip in its place: `WIDTHxTHICKxLONG`.
    pub suspension_to: Option<String>,
    /// Where it lies below the suspension.
    pub below: Option<String>,
    /// What the bob is of.
    pub bob: Option<String>,
    /// The air: `FROM..TO` in hectopascals.
    pub pressure: Option<String>,
    /// Pieces: `MASS@PLACE`, `MASS@FROM..TO`, `MASS@PLACE:disc=DIAMETER`.
    pub parts: Vec<String>,
    /// A ribbon: `WIDTHxTHICKxLONG`.
    pub ribbon: Option<String>,
    /// A disc on it: `MASS@DIAMETER`.
    pub disc: Option<String>,
    /// Balls or a ring on it: `MASS@RADIUS`.
    pub balls: Option<String>,
}

/// What follows.
#[derive(Debug)]
pub struct Pendulum {
    /// The movement on the sheet, where there is one.
    pub movement: Option<Movement>,
    /// What can be said.
    pub said: Vec<PendulumResult>,
    /// What is lacking for the rest.
    pub wants: Vec<Want>,
    /// Whether its bob is of mercury.
    pub mercury: bool,
}

/// What a bob may be of, and its density (E. Beckett, A Rudimentary Treatise on Clocks, 8th ed., p. 53, from pounds in a
/// cubic inch).
const BOBS: [(&str, f64); 5] = [
    ("lead", 0.41),
    ("brass", 0.30),
    ("iron", 0.26),
    ("zinc", 0.253),
    ("mercury", 0.49),
];

/// What a bob may be of, as it is asked for.
pub const BOB_WORDS: [&str; 5] = {
    let mut words = [""; 5];
    let mut i = 0;
    while i < words.len() {
        words[i] = BOBS[i].0;
        i += 1;
    }
    words
};

/// What a rod may be of, as it is asked for.
pub const RODS: [&str; 8] = {
    let mut words = [""; 8];
    let mut i = 0;
    while i < words.len() {
        words[i] = Rod::ALL[i].0;
        i += 1;
    }
    words
};

/// Pounds in a cubic inch to kilograms in a cubic metre.
const POUND_INCH: f64 = 27_679.904_7;

/// Tells all that follows of a pendulum.
///
/// # Errors
/// The sheet's faults, what was written wrongly, or what cannot be, with the figures that stand against each other.
pub fn pendulum(sheet: Option<&[u8]>, ask: &PendulumAsk) -> Result<Pendulum, Refusal> {
    let movement = sheet
        .map(|sheet| Ok::<_, Refusal>(crate::check(sheet)?.movement))
        .transpose()?;
    let mut asked = parsed(ask)?;
    if let Some(movement) = &movement
        && let Some(escape) = escapement(movement)
    {
        if asked.train.is_none() {
            let beats = train_beats(movement, &escape);
            asked.train = beats.map(|beats| Known::sure(Pace::per_hour(to_f64(&beats))));
        }
        if asked.length.is_none() {
            asked.length = length_on_sheet(movement, escape.arbor).map(by_the_bob);
        }
        let arbor = movement.arbor(escape.arbor);
        let least = |least: f64| Tool { least, part: 0.0 };
        let part = |part: f64| Tool { least: 0.0, part };
        if asked.half_arc.is_none() {
            let arc = least(Slant::USUAL.least);
            asked.half_arc = arbor.known("pendulum_half_arc_deg", Slant::deg, arc);
        }
        if asked.mass.is_none() {
            asked.mass = arbor.known("pendulum_g", Mass::g, part(0.01));
        }
        if asked.suspension.is_none() {
            asked.suspension = strip_on_sheet(arbor).map(hung_on);
        }
        if asked.nut.is_none() {
            let pitch = arbor.known("pendulum_nut_mm", Length::mm, part(0.01));
            asked.nut = pitch.map(|pitch| Nut {
                pitch,
                divisions: ask.nut_divisions,
            });
        }
    }
    let (said, wants) = answer(&asked).map_err(QuestionFault::NoPendulum)?;
    Ok(Pendulum {
        movement,
        said,
        wants,
        mercury: ask.bob.as_deref() == Some("mercury"),
    })
}

/// The suspension spring on the sheet, where all of it was measured.
fn strip_on_sheet(arbor: &Arbor) -> Option<SuspensionStrip> {
    let thick = to_f64(arbor.measured("suspension_thick_mm")?);
    let [width, thin, rule] = strip_tools(thick);
    Some(SuspensionStrip {
        long: arbor.known("suspension_mm", Length::mm, rule)?,
        width: arbor.known("suspension_wide_mm", Length::mm, width)?,
        thick: arbor.known("suspension_thick_mm", Length::mm, thin)?,
    })
}

/// Of spring steel, as mainsprings are.
fn hung_on(strip: SuspensionStrip) -> Suspension {
    Suspension {
        strip,
        stiff: drive::assumed::STEEL.with_spread(),
    }
}

fn suspension(
    name: &'static str,
    text: Option<&str>,
) -> Result<Option<SuspensionStrip>, QuestionFault> {
    let of = |[width, thick, long]: [Known<Length>; 3]| SuspensionStrip { long, width, thick };
    text.map(|text| strip(name, text).map(of)).transpose()
}

fn parsed(ask: &PendulumAsk) -> Result<Asked, QuestionFault> {
    // From a hand's breadth less to a church's nave.
    let length: Option<Known<Length>> =
        within("length", ask.length.as_deref(), 5.0..=100e3, Out::Length)?;
    // Said with a spread, it is meant as it is said; else it ends at the middle of the bob.
    let said = ask.length.as_deref().is_some_and(|text| text.contains('~'));
    let latitude = latitude("latitude", ask.latitude.as_deref())?;
    let height = height("height", ask.height.as_deref())?;
    let to_latitude = self::latitude("moved-to", ask.moved_to.as_deref())?.or(latitude);
    let to_height = self::height("moved-up", ask.moved_up.as_deref())?.or(height);
    let place = |latitude: Option<Known<Slant>>, height: Option<Known<Length>>| {
        let sea = Known::sure(Length::mm(0.0));
        latitude.map(|latitude| gravity(latitude, height.unwrap_or(sea)))
    };
    let moves = ask.moved_to.is_some() || ask.moved_up.is_some();
    Ok(Asked {
        gravity: place(latitude, height),
        train: beats(ask.beats.as_deref())?,
        length: if said { length } else { length.map(by_the_bob) },
        moved: if moves {
            place(to_latitude, to_height)
        } else {
            None
        },
        half_arc: swing("half-arc", ask.half_arc.as_deref())?,
        arc_to: swing("arc-to", ask.arc_to.as_deref())?,
        rod: word("rod", ask.rod.as_deref(), &Rod::ALL)?,
        warmer: written("warmer", ask.warmer.as_deref())?,
        gains: written("gains", ask.gains.as_deref())?,
        suspension: suspension("suspension", ask.suspension.as_deref())?.map(hung_on),
        suspension_to: suspension("suspension-to", ask.suspension_to.as_deref())?,
        nut: nut(ask)?,
        mass: written("mass", ask.mass.as_deref())?,
        small: written("small", ask.small.as_deref())?,
        below: written("below", ask.below.as_deref())?,
        bob: word("bob", ask.bob.as_deref(), &BOBS)?
            .map(|pounds| Known::within(Density::kg_per_m3(pounds * POUND_INCH), 0.02)),
        airs: airs(ask)?,
        lumps: ask
            .parts
            .iter()
            .map(|part| lump(part))
            .collect::<Result<_, _>>()?,
        ribbon: ribbon(ask)?,
        wheel: wheel(ask)?,
    })
}

fn latitude(name: &'static str, text: Option<&str>) -> Result<Option<Known<Slant>>, QuestionFault> {
    within(name, text, -90.0..=90.0, Out::Latitude)
}

/// A height above the sea: from the shore of the lowest lake to the highest mountain, and never without its unit, as a
/// length at the bench that has none is in millimetres.
fn height(name: &'static str, text: Option<&str>) -> Result<Option<Known<Length>>, QuestionFault> {
    let bare = |text: &str| !text.contains(|c: char| c.is_alphabetic());
    if let Some(text) = text.filter(|text| bare(text)) {
        let why = Unwritten::NoUnit {
            units: vec!["m", "in"],
        };
        return Err(QuestionFault::Unwritten {
            name,
            written: text.to_owned(),
            why,
        });
    }
    within(name, text, -500e3..=9000e3, Out::Height)
}

/// A swing to one side: more than nothing, and less than level.
fn swing(name: &'static str, text: Option<&str>) -> Result<Option<Known<Slant>>, QuestionFault> {
    within(name, text, 0.01..=89.0, Out::Swing)
}

/// From one a minute, slower than any clock's, to a hundred a second.
pub(crate) fn beats(text: Option<&str>) -> Result<Option<Known<Pace>>, QuestionFault> {
    within("beats", text, 60.0..=360e3, Out::Beats)
}

fn nut(ask: &PendulumAsk) -> Result<Option<Nut>, QuestionFault> {
    let pitch: Option<Known<Length>> = written("nut-pitch", ask.nut_pitch.as_deref())?;
    let threads: Option<Known<Number>> = written("nut-threads", ask.nut_threads.as_deref())?;
    // The pitch of a thread is cut, not measured: what is said of it is exact but where a spread is written.
    let cut = |pitch: Known<Length>| {
        let said = ask
            .nut_pitch
            .as_deref()
            .is_some_and(|text| text.contains('~'));
        if said {
            pitch
        } else {
            Known::sure(pitch.value)
        }
    };
    let pitch = pitch.map(cut).or_else(|| {
        threads.map(|threads| Known::sure(Length::inch(1.0 / threads.value.as_plain())))
    });
    Ok(pitch.map(|pitch| Nut {
        pitch,
        divisions: ask.nut_divisions.filter(|n| *n > 0),
    }))
}

fn airs(ask: &PendulumAsk) -> Result<Option<[Air; 2]>, QuestionFault> {
    let Some(text) = ask.pressure.as_deref() else {
        return Ok(None);
    };
    let bad = || bad_form("pressure", text, WrittenForm::Airs);
    let (from, to) = text.split_once("..").ok_or_else(bad)?;
    let air = |text: &str| -> Result<Air, QuestionFault> {
        let at: Known<Number> = parse_known(text).map_err(|_| bad())?;
        let hectopascals = at.value.as_plain();
        // From a mountain's top to a high over the sea.
        if !(300.0..1200.0).contains(&hectopascals) {
            return Err(bad());
        }
        Ok(Air {
            hectopascals,
            ..Air::USUAL
        })
    };
    Ok(Some([air(from)?, air(to)?]))
}

fn bad_form(name: &'static str, text: &str, form: WrittenForm) -> QuestionFault {
    QuestionFault::NotInForm {
        name,
        written: text.to_owned(),
        form,
    }
}

fn word<T: Copy>(
    option: &'static str,
    text: Option<&str>,
    words: &[(&'static str, T)],
) -> Result<Option<T>, QuestionFault> {
    let Some(text) = text else {
        return Ok(None);
    };
    match words.iter().find(|(word, _)| *word == text) {
        Some((_, meaning)) => Ok(Some(*meaning)),
        None => {
            let words: Vec<&'static str> = words.iter().map(|(word, _)| *word).collect();
            Err(QuestionFault::NotKnown {
                name: option,
                written: text.to_owned(),
                known: words,
            })
        }
    }
}

/// A piece of a pendulum: `MASS@PLACE`, `MASS@FROM..TO`, `MASS@PLACE:disc=DIAMETER`.
fn lump(text: &str) -> Result<Lump, QuestionFault> {
    let bad = || bad_form("part", text, WrittenForm::Piece);
    let (mass, rest) = text.split_once('@').ok_or_else(bad)?;
    let mass: Known<Mass> = parse_known(mass).map_err(|_| bad())?;
    if mass.value.as_g() <= 0.0 {
        return Err(bad());
    }
    let long = |text: &str| parse_known::<Length>(text).map_err(|_| bad());
    if let Some((from, to)) = rest.split_once("..") {
        // A unit that is written once goes for both.
        let unit = to.trim_start_matches(|c: char| c.is_ascii_digit() || "+-.".contains(c));
        let from = if from.ends_with(|c: char| c.is_ascii_digit()) {
            format!("{from}{unit}")
        } else {
            from.to_owned()
        };
        return Ok(Lump::Rod {
            mass,
            from: long(&from)?,
            to: long(to)?,
        });
    }
    match rest.split_once(":disc=") {
        Some((place, across)) => Ok(Lump::Disc {
            mass,
            below: long(place)?,
            radius: half(
                long(across)
                    .ok()
                    .filter(|mm| mm.value.as_mm() > 0.0)
                    .ok_or_else(bad)?,
            ),
        }),
        None => Ok(Lump::Point {
            mass,
            below: long(rest)?,
        }),
    }
}

/// The radius of what was measured across.
fn half(across: Known<Length>) -> Known<Length> {
    let mm = |x: Length| Length::mm(x.as_mm() / 2.0);
    Known::new(mm(across.value), mm(across.spread))
}

fn ribbon(ask: &PendulumAsk) -> Result<Option<Ribbon>, QuestionFault> {
    let Some(text) = ask.ribbon.as_deref() else {
        return Ok(None);
    };
    let [width, thick, long] = strip("ribbon", text)?;
    Ok(Some(Ribbon {
        width,
        thick,
        long,
        shear: Ribbon::usual_shear(),
    }))
}

/// Three lengths with an `x` between: a unit at the end goes for those without.
pub(crate) fn strip(option: &'static str, text: &str) -> Result<[Known<Length>; 3], QuestionFault> {
    let bad = || bad_form(option, text, WrittenForm::Strip);
    let parts: Vec<&str> = text.split('x').collect();
    let [width, thick, long] = parts[..] else {
        return Err(bad());
    };
    let unit = long.trim_start_matches(|c: char| c.is_ascii_digit() || "+-.~".contains(c));
    let one = |text: &str| {
        let with_unit = if text.ends_with(|c: char| c.is_ascii_digit()) {
            format!("{text}{unit}")
        } else {
            text.to_owned()
        };
        let known: Known<Length> = parse_known(&with_unit).map_err(|_| bad())?;
        if known.value.as_mm() <= 0.0 {
            return Err(bad());
        }
        Ok((known, text.contains('~')))
    };
    let said = [one(width)?, one(thick)?, one(long)?];
    let tools = strip_tools(said[1].0.value.as_mm());
    Ok([0, 1, 2].map(|i| {
        let (known, with_spread) = said[i];
        if with_spread {
            known
        } else {
            Known::measured(known.value, tools[i])
        }
    }))
}

/// A calliper for the width of a strip, a micrometer for its thickness, a rule for its length (common practice, no source). What is
/// thinner than a hundredth of a millimetre's doubt allows is measured at several places.
fn strip_tools(thick_mm: f64) -> [Tool; 3] {
    let tool = |least, part| Tool { least, part };
    [
        tool(0.05, 0.002),
        tool(0.005_f64.min(0.03 * thick_mm.abs()), 0.01),
        tool(0.5, 0.005),
    ]
}

fn wheel(ask: &PendulumAsk) -> Result<Option<Wheel>, QuestionFault> {
    let both =
        |option: &'static str, text: &str| -> Result<(Known<Mass>, Known<Length>), QuestionFault> {
            let form = if option == "disc" {
                WrittenForm::Disc
            } else {
                WrittenForm::Turning
            };
            let bad = || bad_form(option, text, form);
            let (mass, radius) = text.split_once('@').ok_or_else(bad)?;
            let mass: Known<Mass> = parse_known(mass).map_err(|_| bad())?;
            let radius: Known<Length> = parse_known(radius).map_err(|_| bad())?;
            if mass.value.as_g() <= 0.0 || radius.value.as_mm() <= 0.0 {
                return Err(bad());
            }
            Ok((mass, radius))
        };
    Ok(match (ask.disc.as_deref(), ask.balls.as_deref()) {
        (Some(text), _) => {
            let (mass, across) = both("disc", text)?;
            let radius = half(across);
            Some(Wheel::Disc { mass, radius })
        }
        (None, Some(text)) => {
            let (mass, radius) = both("balls", text)?;
            Some(Wheel::Ring { mass, radius })
        }
        (None, None) => None,
    })
}
