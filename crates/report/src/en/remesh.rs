//! Which wheel, how many teeth, which way, as a repairer would say it.

use super::numbers::{breaking, decimal};
use super::{degrees, list, odds, plate, teeth, turning};
use crate::page::{self, named};
use crate::{Locale, near_arbor, others, say, turn_seen, way_seen};
use movement::{ArborId, HeldBy, MeshAccess, MeshId, Movement, Plate, Reached, WitnessId};
use quantity::{Chance, Degrees};
use timing::{Answer, Cure, Nearest, Shift, Stands, Turn, TurnBy, Untried};

/// What to mind before the plates are spread. Common practice, no source; local rules and licensed practice come first.
pub fn caution() -> &'static str {
    "Before the plates are spread, let every spring of every train down with a proper key, or clamp it, and take weights off: \
     a wound spring can break fingers and throw parts, and one that is let down still pushes. Where local rules or a \
     licensed practice say more, follow them."
}

/// What to mind before a part is pulled off, slackened or turned on its arbor.
pub fn turning_caution() -> String {
    let locale = Locale::default();
    let (mind, local) = (
        say!(&locale, "caution-turning"),
        say!(&locale, "caution-local"),
    );
    breaking(&format!("{mind} {local}"))
}

fn arbor(movement: &Movement, id: ArborId) -> String {
    format!("the {} arbor", named(&movement.arbor(id).id))
}

/// One shift: "lift the second arbor and turn it two teeth counterclockwise".
fn shift_words(movement: &Movement, shift: &Shift, from: Plate) -> String {
    let Some(far) = movement.far_arbor(shift.mesh) else {
        return String::new();
    };
    let way = way_seen(movement, shift, from)
        .map_or_else(|| "either way".to_owned(), |way| turning(way).to_owned());
    let lift = match movement.mesh(shift.mesh).reached {
        Reached::Plates => "lift",
        Reached::Outside => "free",
    };
    format!(
        "{lift} {} and turn it {} {way}",
        arbor(movement, far),
        teeth(shift.teeth)
    )
}

/// One of several, with its number.
pub(crate) fn numbered(movement: &Movement, shift: &Shift, from: Plate, nth: usize) -> String {
    format!("{nth}. {}", capital(&shift_words(movement, shift, from)))
}

pub(crate) fn shifts_words(movement: &Movement, shifts: &[Shift], from: Plate) -> String {
    let each: Vec<String> = shifts
        .iter()
        .map(|shift| shift_words(movement, shift, from))
        .collect();
    list(&each)
}

/// One turn: "pull the count wheel off its square and put it back a quarter of a turn clockwise".
fn turn_words(movement: &Movement, turn: &Turn, from: Plate) -> String {
    let part = page::part_called(movement, turn.thing);
    let way = turn_seen(movement, turn, from).map_or("either way", turning);
    match (&turn.by, turn.held_by) {
        (TurnBy::Quarters(quarters), _) => {
            let by = match quarters {
                1 => "a quarter of a turn",
                2 => "half a turn",
                _ => "three quarters of a turn",
            };
            format!("pull the {part} off its square and put it back {by} {way}")
        }
        (TurnBy::Angle(by), HeldBy::Friction) => {
            format!(
                "turn the {part} on its arbor against its friction, {} {way}",
                degrees(by)
            )
        }
        (TurnBy::Angle(by), _) => format!(
            "slacken the {part}, turn it on its arbor {} {way} and make it fast",
            degrees(by)
        ),
    }
}

/// Turns, and the shifts that go with them.
pub(crate) fn turned_words(
    movement: &Movement,
    turns: &[Turn],
    shifts: &[Shift],
    from: Plate,
) -> String {
    let each: Vec<String> = (turns.iter().map(|turn| turn_words(movement, turn, from)))
        .chain(
            shifts
                .iter()
                .map(|shift| shift_words(movement, shift, from)),
        )
        .collect();
    list(&each)
}

/// That the plates stay together, as far as they do.
fn plates_words(movement: &Movement, shifts: &[Shift]) -> &'static str {
    match shifts.iter().map(|shift| movement.opened(shift.mesh)).max() {
        None | Some(MeshAccess::Outside) => "; no plates are spread for it",
        Some(MeshAccess::Cock) => {
            "; a small cock lets one wheel out alone, and no plates are spread for it"
        }
        Some(MeshAccess::Plates) => "",
    }
}

/// A shift that no hand can count off, with what of it is told of the counts: "the second arbor, 20 teeth counterclockwise, which is
/// two turns of it and four teeth".
fn beyond_words(movement: &Movement, shifts: &[Shift], from: Plate) -> String {
    let each: Vec<String> = shifts
        .iter()
        .map(|shift| {
            let (whole, rest) = shift.turns(movement);
            let turns = match (whole, rest) {
                (0 | 1, 0) | (0, _) => String::new(),
                (1, rest) => format!(", which is one turn of it and {}", teeth(rest)),
                (whole, 0) => format!(", which is {whole} turns of it"),
                (whole, rest) => format!(", which is {whole} turns of it and {}", teeth(rest)),
            };
            let far = movement.far_arbor(shift.mesh);
            let far = far.map_or_else(String::new, |far| arbor(movement, far));
            let way = way_seen(movement, shift, from).map_or("either way", turning);
            format!("{far}, {} {way}{turns}", teeth(shift.teeth))
        })
        .collect();
    each.join("; ")
}

/// Whether any of them is more than a hand can count off.
fn beyond(movement: &Movement, shifts: &[Shift]) -> bool {
    shifts.iter().any(|shift| shift.beyond_a_turn(movement))
}

/// What to do where only such a shift does.
const COUNT_AND_LOOK: &str = "nobody counts off more than a turn, so count the wheels on the sheet again, and look again, before anything is opened";

/// "at its best", "0.05° short of its best".
fn off(angle: &Degrees) -> String {
    let x = angle.to_f64();
    if x.abs() < 0.0005 {
        "at its best".to_owned()
    } else {
        let side = if x < 0.0 { "short of" } else { "ahead of" };
        format!("{}° {side} its best", decimal(x.abs(), 3))
    }
}

/// The likeliest places of a witness, with odds.
pub(crate) fn stands_of(
    movement: &Movement,
    id: WitnessId,
    places: &[(Degrees, Chance)],
    readable: bool,
) -> String {
    const MOST: usize = 4;
    let witness = movement.witness(id);
    let mut likely: Vec<&(Degrees, Chance)> = places.iter().collect();
    likely.sort_by(|a, b| b.1.get().total_cmp(&a.1.get()));
    let told: Vec<String> = likely
        .iter()
        .take(MOST)
        .filter(|(_, chance)| chance.get() >= 0.005)
        .map(|(place, chance)| {
            let mark = if witness.admits(place) { "in" } else { "out" };
            format!("{} ({mark}) {}", degrees(place), odds(*chance))
        })
        .collect();
    let more = if likely.len() > MOST && likely[MOST].1.get() >= 0.005 {
        ", …"
    } else {
        ""
    };
    let unread = if readable { "" } else { "; cannot be read now" };
    format!("  {:12} {}{more}{unread}", witness.id, told.join(", "))
}

/// Where each witness stands against its best.
fn stands_words(movement: &Movement, stands: &Stands) -> String {
    let each: Vec<String> = stands
        .witnesses
        .iter()
        .map(|standing| {
            let witness = movement.witness(standing.witness);
            format!(
                "{} {}",
                witness.id,
                off(&(&standing.stands - &witness.best))
            )
        })
        .collect();
    list(&each)
}

/// The answer in one sentence a repairer would say, and what may be a slip of the figure.
pub fn why(movement: &Movement, answer: &Answer, from: Plate) -> String {
    let taken = page::taken(&Locale::default(), movement, &answer.far_off);
    std::iter::once(cure(movement, answer, from))
        .chain(besides(movement, answer))
        .chain(taken.iter().map(|said| breaking(said)))
        .collect::<Vec<_>>()
        .join(" ")
}

/// What else is known where a lever or a slipped part comes first: which levers are soft, and what pins move on.
fn besides(movement: &Movement, answer: &Answer) -> Vec<String> {
    let parts = match &answer.cure {
        Cure::NoMesh(_) => true,
        Cure::Shift(_) | Cure::Turn(..) => !answer.sound,
        Cure::NoneNeeded => !answer.lacks.parts.is_empty(),
        Cure::NotFound(_) => false,
    };
    if !parts {
        return Vec::new();
    }
    let locale = Locale::default();
    let out = |stands: &&timing::Standing| !movement.witness(stands.witness).admits(&stands.stands);
    let out: Vec<WitnessId> = (answer.now.witnesses.iter().filter(out))
        .map(|stands| stands.witness)
        .collect();
    (page::moved_by_pins(&locale, movement, &out).into_iter())
        .chain(page::levers_made(&locale, movement, &out))
        .map(|said| breaking(&said))
        .collect()
}

fn cure(movement: &Movement, answer: &Answer, from: Plate) -> String {
    match &answer.cure {
        Cure::NoneNeeded => none_needed(movement, answer),
        Cure::Shift(shifts) if beyond(movement, shifts) => format!(
            "By the counts on the sheet all of it comes in only by more than a whole turn (as you look at it from the {}: {}): \
             {COUNT_AND_LOOK}.",
            plate(from),
            beyond_words(movement, shifts, from)
        ),
        Cure::Shift(shifts) => {
            let what = format!(
                "{}, as you look at it from the {}, then {}{}",
                shifts_words(movement, shifts, from),
                plate(from),
                stands_words(movement, &answer.after),
                match shifts.iter().map(|shift| movement.opened(shift.mesh)).max() {
                    Some(MeshAccess::Cock) => plates_words(movement, shifts),
                    _ => "",
                }
            );
            if answer.sound {
                format!("{}.", capital(&what))
            } else {
                format!(
                    "No sound movement shows this, however it is meshed: look for a bent lever or a part slipped on its \
                     arbor first; as a makeshift only, {what}."
                )
            }
        }
        Cure::Turn(turns, shifts) => {
            let what = format!(
                "{}, as you look at it from the {}, then {}{}",
                turned_words(movement, turns, shifts, from),
                plate(from),
                stands_words(movement, &answer.after),
                plates_words(movement, shifts)
            );
            if answer.sound {
                format!("{}.", capital(&what))
            } else {
                format!(
                    "No sound movement shows this, however it is meshed and its parts are put on: look for a bent lever first; as \
                     a makeshift only, {what}."
                )
            }
        }
        Cure::NoMesh(nearest) => {
            let turned = match answer.turnable && !answer.untried.turns {
                true => {
                    ", for no part that the sheet says can be turned on its arbor brings it in either".to_owned()
                }
                false => turned(movement, nearest.worst.witness),
            };
            format!(
                "No re-mesh brings all of it into its windows: {}; look for a bent lever or a slipped part{turned}; bend only a \
                 soft lever, and last.",
                nearest_words(movement, nearest, from, !answer.untried.nearer)
            )
        }
        Cure::NotFound(nearest) => format!(
            "No re-mesh that was tried brings all of it into its windows, but not all could be tried, so there may be one: {}; \
             look again at what you are least sure of, or ask with fewer readings.",
            nearest_words(movement, nearest, from, false)
        ),
    }
}

/// Whether the part that carries a witness may be turned on its arbor instead, by what the sheet says holds it.
fn turned(movement: &Movement, witness: WitnessId) -> String {
    let (id, on) = (&movement.witness(witness).id, movement.witness(witness).on);
    let mut held: Vec<Option<HeldBy>> = movement.parts(on).map(|(_, part)| part.held_by).collect();
    held.dedup();
    match held[..] {
        [Some(HeldBy::Pressed)] => String::new(),
        [Some(HeldBy::Square)] => format!(
            ", then whether the part that carries {id}, turned by a quarter on its square, brings it in"
        ),
        [Some(HeldBy::Friction)] => format!(
            ", then whether the part that carries {id}, held by friction, turned on its arbor brings it in"
        ),
        [Some(HeldBy::Screw | HeldBy::Collet)] => format!(
            ", then whether the part that carries {id}, slackened and turned on its arbor, brings it in"
        ),
        _ => format!(
            ", then whether the part that carries {id} is held by friction and can be turned on its arbor"
        ),
    }
}

/// All that were read are in: whether that is all there is to read, and how surely.
fn none_needed(movement: &Movement, answer: &Answer) -> String {
    let lacks = &answer.lacks;
    let names = |ids: &[WitnessId]| {
        let ids: Vec<String> = ids
            .iter()
            .map(|id| movement.witness(*id).id.clone())
            .collect();
        list(&ids)
    };
    let mut said = "All that you read stand in their windows".to_owned();
    if !movement.comes_out() {
        return said
            + ", but with the counts on the sheet the train cannot come out: count again before anything else.";
    }
    if lacks.nothing() {
        return said + ": close up and leave the train as it is.";
    }
    if lacks.unsure {
        said += &format!(", but only just so, {}", odds(answer.now.in_window));
    }
    let then = match (&lacks.parts[..], &lacks.unread[..]) {
        ([], []) if !lacks.unsure && !lacks.usual.is_empty() => {
            "the windows are known from usual proportions alone, so close up finger-tight, and prove the hours before any nut is tightened".to_owned()
        }
        ([], []) => "look again before anything is opened or closed".to_owned(),
        ([], unread) => format!(
            "before anything is opened or closed look at {} too, not read yet",
            names(unread)
        ),
        (parts, unread) => {
            let unread = match unread {
                [] => String::new(),
                unread => format!("; not read yet: {}", names(unread)),
            };
            format!(
                "yet no sound movement shows this, however it is meshed: look for a bent lever or a slipped part first, at {}{unread}",
                names(parts)
            )
        }
    };
    format!("{said}: {then}.")
}

/// How near the nearest comes; of all there are, or of those that were tried.
fn nearest_words(movement: &Movement, nearest: &Nearest, from: Plate, of_all: bool) -> String {
    let id = &movement.witness(nearest.worst.witness).id;
    let miss = format!("{id} misses its window by {}", degrees(&nearest.worst.by));
    let tried = if of_all { "" } else { " that was tried" };
    if nearest.shifts.is_empty() {
        format!("as it stands {miss}, and every shift{tried} leaves something farther out")
    } else if beyond(movement, &nearest.shifts) {
        format!(
            "what comes nearest{tried} takes more than a whole turn (as you look at it from the {}: {}), and then {miss}; \
             {COUNT_AND_LOOK}",
            plate(from),
            beyond_words(movement, &nearest.shifts, from)
        )
    } else {
        let found = if of_all { "" } else { " of those tried" };
        format!(
            "the nearest{found} is to {}, as you look at it from the {}, and then {miss}",
            shifts_words(movement, &nearest.shifts, from),
            plate(from)
        )
    }
}

/// What a search that was cut short left untried.
fn untried_words(untried: &Untried) -> Option<String> {
    let sets = |number: usize, more: &str, might: &str| match number {
        0 => None,
        1 => Some(format!("one set of {more} meshes, which might do {might}")),
        _ => Some(format!(
            "{number} sets of {more} meshes, which might do {might}"
        )),
    };
    let told: Vec<String> = [
        sets(untried.fewer, "fewer", "as well"),
        sets(untried.as_many, "as many", "better"),
        (untried.teeth).then(|| "fewer teeth that might do as well".to_owned()),
        (untried.nearer).then(|| "shifts that might come nearer".to_owned()),
        (untried.turns).then(|| "parts turned on their arbors that might do".to_owned()),
        (untried.beyond_count)
            .then(|| "shifts of more teeth than anything has, which alone would do".to_owned()),
    ]
    .into_iter()
    .flatten()
    .collect();
    (!told.is_empty()).then(|| {
        format!(
            "There was more to try than is worth waiting for. Not tried to the end: {}.",
            list(&told)
        )
    })
}

/// Said above everything where the counts cannot be those of the movement.
pub(crate) fn count_first(movement: &Movement) -> Option<String> {
    (!movement.comes_out()).then(|| {
        "With the counts on the sheet the train cannot come out: count again before anything is moved.".to_owned()
    })
}

pub(crate) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars
        .next()
        .map(|first| first.to_uppercase().chain(chars).collect())
        .unwrap_or_default()
}

fn mesh_words(movement: &Movement, mesh: MeshId) -> String {
    let mesh = movement.mesh(mesh);
    format!(
        "{} with {}",
        movement.part_name(mesh.driver),
        movement.part_name(mesh.driven)
    )
}

/// What to hold, and the same shift said for the other arbor.
pub(crate) fn handling(movement: &Movement, shift: &Shift, from: Plate, text: &mut Vec<String>) {
    let (Some(far), Some(near)) = (
        movement.far_arbor(shift.mesh),
        near_arbor(movement, shift.mesh),
    ) else {
        return;
    };
    let mesh = movement.mesh(shift.mesh);
    text.push(format!(
        "  open {}; hold {} still",
        mesh_words(movement, shift.mesh),
        arbor(movement, near)
    ));
    let (keep, free) = others(movement, far, shift.mesh);
    let words = |meshes: Vec<MeshId>| -> String {
        list(
            &meshes
                .into_iter()
                .map(|mesh| mesh_words(movement, mesh))
                .collect::<Vec<_>>(),
        )
    };
    if !keep.is_empty() {
        text.push(format!("  keep together: {}", words(keep)));
    }
    if !free.is_empty() {
        text.push(format!(
            "  may come apart, no witness lies beyond: {}",
            words(free)
        ));
    }
    let way = way_seen(movement, shift, from).map(|way| {
        if mesh.internal {
            turning(way.reversed())
        } else {
            turning(way)
        }
    });
    text.push(format!(
        "  or hold {} and turn {} {} {}: the same shift",
        arbor(movement, far),
        arbor(movement, near),
        teeth(shift.teeth),
        way.unwrap_or("either way")
    ));
    match movement.opened(shift.mesh) {
        MeshAccess::Outside => {
            text.push("  it sits outside: no plates are spread for it".to_owned());
        }
        MeshAccess::Cock => {
            text.push(
                "  a small cock lets one wheel out alone: the plates stay together".to_owned(),
            );
        }
        MeshAccess::Plates => {}
    }
}

/// How readings at rest were brought to the drop; `usual` is what locks and was not looked at.
pub fn read_at_rest(movement: &Movement, usual: &[WitnessId]) -> String {
    let named: Vec<String> = (usual.iter())
        .map(|id| page::named(&movement.witness(*id).id))
        .collect();
    match named.is_empty() {
        true => {
            "Read at rest, and brought to the drop by how far the train ran from there to the lock."
                .to_owned()
        }
        false => format!(
            "Read at rest, and brought to the drop as if the {0} had had as far to go as usual: nobody said how far the lever's tip \
             went into its notch, so all of it is the less sure. Say that too, or read the {0} as the lever drops.",
            list(&named)
        ),
    }
}

/// One part to be turned, with what goes and what stays.
pub(crate) fn turning_text(movement: &Movement, turn: &Turn, from: Plate, text: &mut Vec<String>) {
    text.push(capital(&turn_words(movement, turn, from)));
    let beneath = page::turn_beneath(&Locale::default(), movement, turn);
    text.extend(beneath.iter().map(|said| format!("  {}", breaking(said))));
}

/// The whole answer as text for people.
pub fn remesh_text(movement: &Movement, answer: &Answer, from: Plate) -> String {
    let mut text = vec![
        format!("{}, seen from the {}", movement.name(), plate(from)),
        String::new(),
    ];
    text.extend(count_first(movement));
    let stands: Vec<(WitnessId, Degrees)> = (answer.now.witnesses.iter())
        .map(|standing| (standing.witness, standing.stands.clone()))
        .collect();
    if let Some(another) = timing::another_drop(movement, &stands) {
        text.push(page::run_on(&Locale::default(), movement, &another));
    }
    text.push(why(movement, answer, from));
    text.extend(page::as_usual(
        &Locale::default(),
        movement,
        &answer.lacks.usual,
    ));
    text.extend(untried_words(&answer.untried));
    if let Cure::Shift(shifts) = &answer.cure
        && !beyond(movement, shifts)
    {
        for (shift, nth) in shifts.iter().zip(1..) {
            text.push(String::new());
            text.push(match shifts[..] {
                [_] => capital(&shift_words(movement, shift, from)),
                _ => numbered(movement, shift, from, nth),
            });
            handling(movement, shift, from, &mut text);
        }
        if shifts
            .iter()
            .any(|shift| movement.mesh(shift.mesh).reached == Reached::Plates)
        {
            text.push(String::new());
            text.push(format!("Caution. {}", caution()));
        }
    }
    if let Cure::Turn(turns, shifts) = &answer.cure {
        for turn in turns {
            text.push(String::new());
            turning_text(movement, turn, from, &mut text);
        }
        for shift in shifts {
            text.push(String::new());
            text.push(capital(&shift_words(movement, shift, from)));
            handling(movement, shift, from, &mut text);
        }
        text.push(String::new());
        text.push(format!("Caution. {}", turning_caution()));
        let spread = |shift: &Shift| movement.mesh(shift.mesh).reached == Reached::Plates;
        if shifts.iter().any(spread) {
            text.push(format!("Caution. {}", caution()));
        }
    }
    text.push(String::new());
    text.push(format!(
        "  {:12} {:>10} {:>10}   window",
        "", "now", "after"
    ));
    for (now, after) in answer.now.witnesses.iter().zip(&answer.after.witnesses) {
        let witness = movement.witness(now.witness);
        let mark = |stands: &Degrees| if witness.admits(stands) { "in" } else { "out" };
        text.push(format!(
            "  {:12} {:>10} {:>10}   {} to {}; {} now, {} after",
            witness.id,
            degrees(&now.stands),
            degrees(&after.stands),
            degrees(&witness.from),
            degrees(&witness.to),
            mark(&now.stands),
            mark(&after.stands)
        ));
    }
    for &id in &answer.unread {
        text.push(format!("  {:12} {:>10}", movement.witness(id).id, "unread"));
    }
    text.push(String::new());
    // Nothing is known here of what was not read.
    let all = if answer.unread.is_empty() {
        "All"
    } else {
        "All that was read"
    };
    text.push(format!(
        "{all} in window now: {}.",
        odds(answer.now.in_window)
    ));
    let done = match &answer.cure {
        Cure::Shift(shifts) => !beyond(movement, shifts),
        Cure::Turn(..) => true,
        Cure::NoneNeeded | Cure::NoMesh(_) | Cure::NotFound(_) => false,
    };
    if done {
        text.push(format!(
            "After it is done as said: {}; allowing for a hand that goes the wrong way or slips a tooth: {}.",
            odds(answer.after.in_window),
            odds(answer.after_handled)
        ));
    }
    text.push(String::new());
    text.join("\n")
}
