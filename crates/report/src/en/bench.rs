//! What the bench page says: the answer in one sentence, what to hold, what will be seen after, and how a witness looks.

use super::numbers::decimal;
use super::remesh::capital;
use super::{degrees, list, plate, teeth, turning};
use crate::{near_arbor, others, way_seen};
use movement::{ArborId, MeshId, Movement, Plate, Reached, WitnessId};
use quantity::{Chance, Degrees, nearest_alike};
use timing::{Act, Advice, Recalled, Shift, Way, is_slot};

/// A stretch of a sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// Its words.
    pub text: String,
    /// Whether it names what is to be moved, or which way.
    pub moved: bool,
}

/// A sentence of stretches.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sentence(pub Vec<Run>);

impl Sentence {
    fn plain(mut self, text: &str) -> Sentence {
        self.0.push(Run {
            text: text.to_owned(),
            moved: false,
        });
        self
    }

    fn moved(mut self, text: &str) -> Sentence {
        self.0.push(Run {
            text: text.to_owned(),
            moved: true,
        });
        self
    }

    /// All of it as one text.
    pub fn text(&self) -> String {
        self.0.iter().map(|run| run.text.as_str()).collect()
    }
}

/// A chance as odds that no line breaks.
fn odds(chance: Chance) -> String {
    super::odds(chance).replace(' ', "\u{a0}")
}

/// An id of the sheet as a word.
pub fn named(id: &str) -> String {
    id.replace('_', " ")
}

fn arbor_name(movement: &Movement, arbor: ArborId) -> String {
    named(&movement.arbor(arbor).id)
}

/// What to do, in one sentence.
pub fn answer(movement: &Movement, recalled: &Recalled, advice: &Advice, from: Plate) -> Sentence {
    match &advice.act {
        Act::Done => Sentence::default().plain(&format!(
            "All is in its window, {}. Close up, and prove it through the hours.",
            odds(advice.in_window)
        )),
        Act::Look(at) => {
            let again = if recalled.last_look.is_empty() {
                "Look"
            } else {
                "Look again"
            };
            let names: Vec<String> = (at.iter())
                .map(|id| named(&movement.witness(*id).id))
                .collect();
            Sentence::default().plain(&format!(
                "{again} at {}, closer, before anything is opened.",
                list(&names)
            ))
        }
        Act::Shift(shifts) => shift_sentence(movement, shifts, from),
        Act::NoMesh => Sentence::default()
            .plain("No re-mesh cures this. Look for a bent lever or a slipped part."),
    }
}

fn shift_sentence(movement: &Movement, shifts: &[Shift], from: Plate) -> Sentence {
    let mut sentence = Sentence::default();
    for (i, shift) in shifts.iter().enumerate() {
        let Some(far) = movement.far_arbor(shift.mesh) else {
            continue;
        };
        let verb = match movement.mesh(shift.mesh).reached {
            Reached::Plates => "Lift",
            Reached::Outside => "Free",
        };
        let verb = if i == 0 {
            format!("{verb} the ")
        } else {
            format!(" Then {} the ", verb.to_lowercase())
        };
        let way = way_seen(movement, shift, from).map_or("either way", turning);
        sentence = (sentence.plain(&verb))
            .moved(&arbor_name(movement, far))
            .plain(" arbor. ")
            .plain(&format!("{} ", capital(&teeth(shift.teeth))))
            .moved(way)
            .plain(if i == 0 {
                ", as you look at it now."
            } else {
                "."
            });
    }
    sentence
}

/// The question before anything is read: after a shift, after an arbor that jumped out, or at first.
pub fn question(recalled: &Recalled, after_shift: bool) -> String {
    if after_shift {
        "Press it on to the drop again. What do you see now?".to_owned()
    } else if recalled.readable.is_empty() {
        "Nothing can be read yet. Put the arbors in.".to_owned()
    } else {
        "Press the train on to the drop. What do you see?".to_owned()
    }
}

/// What to hold, and what stays together: a sentence each.
pub fn hold(movement: &Movement, shift: &Shift) -> Vec<String> {
    let (Some(far), Some(near)) = (
        movement.far_arbor(shift.mesh),
        near_arbor(movement, shift.mesh),
    ) else {
        return Vec::new();
    };
    let mut said = vec![format!(
        "Hold the {} arbor still.",
        arbor_name(movement, near)
    )];
    let (keep, _) = others(movement, far, shift.mesh);
    if !keep.is_empty() {
        said.push(format!(
            "Keep {} in mesh with the {}.",
            across(movement, far, &keep),
            arbor_name(movement, far)
        ));
    }
    said
}

/// What may come apart freely, and whether no plate need be spread: a sentence each.
pub fn loose(movement: &Movement, shift: &Shift) -> Vec<String> {
    let Some(far) = movement.far_arbor(shift.mesh) else {
        return Vec::new();
    };
    let mut said = Vec::new();
    let (_, free) = others(movement, far, shift.mesh);
    if !free.is_empty() {
        said.push(format!(
            "{} may come out of mesh: nothing is read beyond.",
            capital(&across(movement, far, &free))
        ));
    }
    if movement.mesh(shift.mesh).reached == Reached::Outside {
        said.push("It sits outside: no plate is spread for it.".to_owned());
    }
    said
}

/// The arbors that meshes join to one.
fn across(movement: &Movement, to: ArborId, meshes: &[MeshId]) -> String {
    let names: Vec<String> = (meshes.iter())
        .map(|mesh| {
            let mesh = movement.mesh(*mesh);
            let other = if mesh.driver.arbor == to {
                mesh.driven.arbor
            } else {
                mesh.driver.arbor
            };
            format!("the {} arbor", arbor_name(movement, other))
        })
        .collect();
    list(&names)
}

/// The same shift said for the other arbor.
pub fn other_hand(movement: &Movement, shift: &Shift, from: Plate) -> Option<String> {
    let near = near_arbor(movement, shift.mesh)?;
    let far = movement.far_arbor(shift.mesh)?;
    let way = way_seen(movement, shift, from).map_or("either way", |way| {
        turning(if movement.mesh(shift.mesh).internal {
            way.reversed()
        } else {
            way
        })
    });
    Some(format!(
        "Or hold the {} and turn the {} {} {way}: the same shift.",
        arbor_name(movement, far),
        arbor_name(movement, near),
        teeth(shift.teeth)
    ))
}

/// What will be seen after, and how surely.
pub fn after(movement: &Movement, stands: &[(WitnessId, Degrees)], chance: Chance) -> String {
    match stand(movement, stands) {
        None => format!("Then all should be in its window: {}.", odds(chance)),
        Some(words) => format!("Then {words}: {}.", odds(chance)),
    }
}

/// What should be seen now if a shift went as said.
pub fn expected(movement: &Movement, stands: &[(WitnessId, Degrees)]) -> Option<String> {
    let words = stand(movement, stands)?;
    Some(format!("If it went as said, {words}: dotted."))
}

/// "slot and star stand at their best; pin stands in, short of its best".
fn stand(movement: &Movement, stands: &[(WitnessId, Degrees)]) -> Option<String> {
    let (mut best, mut rest) = (Vec::new(), Vec::new());
    for (id, place) in stands {
        let name = named(&movement.witness(*id).id);
        let look = look_of(movement, *id, place).words;
        if look == AT_BEST {
            best.push(name);
        } else {
            rest.push(format!("{name} stands {look}"));
        }
    }
    match best.len() {
        0 => {}
        1 => rest.insert(0, format!("{} stands at its best", best[0])),
        _ => rest.insert(0, format!("{} stand at their best", list(&best))),
    }
    (!rest.is_empty()).then(|| rest.join("; "))
}

/// The chance that all is in its window, as it stands.
pub fn in_window_now(chance: Chance) -> String {
    format!("All in its window as it stands: {}.", odds(chance))
}

/// How a witness looks up to a place: from the place of the look before it.
#[derive(Debug, Clone, PartialEq)]
pub struct Looks {
    /// The place, in degrees, up to which it looks so; without end for the last.
    pub upto: f64,
    /// In words.
    pub words: String,
    /// Whether it is in its window.
    pub inside: bool,
}

const AT_BEST: &str = "in, at its best";

/// Nearer its best than this part of its window it is at its best, as far as an eye tells: as fine as a close look.
const BEST_PART: f64 = 0.05;
/// Of the land between two slots, so much is under the tip while it lies on the edge; the drawing has the same.
const EDGE_PART: f64 = 0.3;
/// So much of its window beyond it is a little beyond it.
const LITTLE_PART: f64 = 0.15;

/// How a witness looks, from half a period short of its best to half a period ahead.
pub fn looks(movement: &Movement, id: WitnessId) -> Vec<Looks> {
    let w = movement.witness(id);
    let [from, to, best] = [&w.from, &w.to, &w.best].map(Degrees::to_f64);
    let (width, period) = (to - from, w.period().to_f64());
    let slot = is_slot(movement, w);
    let beyond = match (&w.look, slot) {
        (Some(look), true) => look.tip.to_f64(),
        (None, true) => EDGE_PART * (period - width),
        _ => LITTLE_PART * width,
    };
    let [far_short, little_short, little_ahead, far_ahead] = if slot {
        [
            "short, on the rim",
            "short, on the edge",
            "ahead, on the edge",
            "ahead, on the rim",
        ]
    } else {
        ["short", "a little short", "a little ahead", "ahead"]
    };
    let near = BEST_PART * width;
    [
        (from - beyond, far_short, false),
        (from, little_short, false),
        (best - near, "in, short of its best", true),
        (best + near, AT_BEST, true),
        (to, "in, ahead of its best", true),
        (to + beyond, little_ahead, false),
        (f64::INFINITY, far_ahead, false),
    ]
    .into_iter()
    .map(|(upto, words, inside)| Looks {
        upto,
        words: words.to_owned(),
        inside,
    })
    .collect()
}

/// How a witness looks at a place.
pub fn look_of(movement: &Movement, id: WitnessId, place: &Degrees) -> Looks {
    let witness = movement.witness(id);
    let near = nearest_alike(place, &witness.period(), &witness.best);
    let inside = witness.admits(&near);
    // At the window's very end a place counts as in; what looks alike beside it need not.
    let fits = |look: &&Looks| near.to_f64() <= look.upto + 1e-9 && look.inside == inside;
    let all = looks(movement, id);
    all.iter()
        .find(fits)
        .or(all.last())
        .cloned()
        .unwrap_or(Looks {
            upto: f64::INFINITY,
            words: String::new(),
            inside,
        })
}

/// Degrees short or ahead, with a gap `{}` for the number: short, ahead, and none at all.
pub fn degree_words() -> [&'static str; 3] {
    ["{} degrees short", "{} degrees ahead", "at 0 degrees"]
}

/// How a witness looks at a place, and by how much: "short, on the edge, 1.2 degrees short".
pub fn reading(movement: &Movement, id: WitnessId, place: &Degrees) -> String {
    let look = look_of(movement, id, place);
    let x = place.to_f64();
    let number = decimal(x.abs(), 2);
    let [short, ahead, none] = degree_words();
    let by = match number.as_str() {
        "0" => none,
        _ if x < 0.0 => short,
        _ => ahead,
    };
    format!("{}, {}", look.words, by.replace("{}", &number))
}

/// The movement as it lies there, for those who cannot see the drawing.
pub fn drawing(movement: &Movement, from: Plate, upside_down: bool, advice: &Advice) -> String {
    let way_up = if upside_down { ", upside down" } else { "" };
    let mut said = format!("The movement, seen from the {} plate{way_up}.", plate(from));
    if let Act::Shift(shifts) = &advice.act {
        said.push(' ');
        said += &shift_sentence(movement, shifts, from).text();
    }
    said
}

/// From which plate, and which way up, it is looked at.
pub fn seen_from(from: Plate, upside_down: bool) -> String {
    let way_up = if upside_down { ", upside down" } else { "" };
    format!("from the {} plate{way_up}", plate(from))
}

/// How to take a reading, in three lines.
pub fn how_to_read(movement: &Movement, id: WitnessId) -> [String; 3] {
    let witness = movement.witness(id);
    let moment = movement.moment(witness.at);
    let held = arbor_name(movement, moment.arbor);
    let first = "Levers free and hooked up, no power in the spring. Press the train on with a finger, the way it runs.".to_owned();
    let second = if moment.id == "drop" {
        format!(
            "Let it creep until the drop lever's tip just leaves the edge of its notch, and hold the {held} arbor there by holding back the last arbor that is in."
        )
    } else {
        format!(
            "Let it creep on: {}. The {held} arbor is what is held then.",
            moment.says
        )
    };
    let third = format!("Look at {}. A second look costs nothing.", witness.says);
    [first, second, third]
}

/// A shift in a few words, for the log: "second, two teeth counterclockwise".
pub(crate) fn shift_short(movement: &Movement, mesh: MeshId, signed: i64, from: Plate) -> String {
    let shift = Shift {
        mesh,
        teeth: signed.abs(),
        way: if signed < 0 { Way::Back } else { Way::Ahead },
    };
    let way = way_seen(movement, &shift, from).map_or("", turning);
    let lifted = movement
        .far_arbor(mesh)
        .map(|far| arbor_name(movement, far));
    format!(
        "{}, {} {way}",
        lifted.unwrap_or_default(),
        teeth(shift.teeth)
    )
}

/// How a witness looks at a place, for the log: "short, on the edge (−1.2°)".
pub(crate) fn reading_short(movement: &Movement, id: WitnessId, place: &Degrees) -> String {
    let look = look_of(movement, id, place);
    format!("{} ({})", look.words, degrees(place).replace('-', "−"))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SHEET: &str = include_str!("../../../../movements/schoolroom.toml");

    /// The worked places of the sample: windows -1 to 1, -8 to 6 and -110 to -55, their ends included.
    #[test]
    fn a_place_looks_as_it_lies_in_its_window() {
        let movement = sheet::read(SHEET.as_bytes())
            .expect("a good sheet")
            .movement;
        for (witness, place, said) in [
            ("slot", "-1.2", "short, on the edge, 1.2 degrees short"),
            ("slot", "-1", "in, short of its best, 1 degrees short"),
            ("slot", "1", "in, ahead of its best, 1 degrees ahead"),
            ("slot", "0", "in, at its best, at 0 degrees"),
            ("slot", "2.3", "ahead, on the rim, 2.3 degrees ahead"),
            ("star", "-10", "a little short, 10 degrees short"),
            ("pin", "-110", "in, short of its best, 110 degrees short"),
            ("pin", "-75", "in, at its best, 75 degrees short"),
            ("pin", "-30", "ahead, 30 degrees short"),
        ] {
            let id = movement.find_witness(witness).expect("a witness");
            let place = Degrees::parse(place).expect("a number");
            assert_eq!(reading(&movement, id, &place), said);
        }
    }

    #[test]
    fn looks_follow_one_another_without_a_gap() {
        let movement = sheet::read(SHEET.as_bytes())
            .expect("a good sheet")
            .movement;
        for (id, _) in movement.witnesses() {
            let looks = looks(&movement, id);
            assert!(looks.windows(2).all(|two| two[0].upto < two[1].upto));
            assert!(looks.last().is_some_and(|last| last.upto.is_infinite()));
        }
    }
}
