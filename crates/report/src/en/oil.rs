//! Where oil goes and where none, in words.

use super::list;
use super::measures::{System, spread, time};
use crate::page::cautions::Danger;
use crate::page::named;
use movement::{ArborId, Movement};
use workshop::oil::{Dry, Kind, Much, Plan, Stage, State, Step, Where};

/// The whole plan.
pub fn oil_text(movement: &Movement, plan: &Plan, state: State, system: System) -> String {
    let mut text = vec![movement.name().to_owned()];
    if plan.clean_first {
        text.push(String::new());
        text.push(
            "Take it down and clean it first: new oil on old carries grit into every hole. Then:"
                .to_owned(),
        );
    }
    if state == State::Running {
        text.push(String::new());
        text.push(
            "Only what is come to without opening the plates, and only where the oil that is there is clear; if it is green, brown or thick, take it down and clean it."
                .to_owned(),
        );
    }
    for worn in &plan.bush {
        text.push(String::new());
        text.push(format!(
            "Bush before you oil: the {} arbor's side shake is {} on a pivot of {}, which is half of it or more (The Modern Clock, Chicago 1905, p. 203).",
            name(movement, worn.arbor),
            system.length(&worn.shake),
            system.length(&worn.pivot)
        ));
    }
    let mut stage_told = None;
    for (i, step) in plan.steps.iter().enumerate() {
        if stage_told != Some(step.stage) {
            stage_told = Some(step.stage);
            text.push(String::new());
            text.push(stage(step.stage).to_owned());
        }
        text.push(format!("  {}. {}", i + 1, one(movement, step, system)));
    }
    text.push(String::new());
    text.push("Dry:".to_owned());
    text.extend(plan.dry.iter().map(|d| format!("  {}", dry(movement, *d))));
    text.push(String::new());
    text.push("What is meant:".to_owned());
    text.extend(kinds(plan).map(|kind| format!("  {}", meant(kind))));
    text.push(String::new());
    text.push(back(plan));
    text.push(
        "All of this is common practice, no source, but where one is named; sinks are filled to a third, so that oil stands about the pivot and does not run."
            .to_owned(),
    );
    for danger in dangers(state) {
        text.push(format!(
            "Caution. {}",
            crate::page::cautions::danger(&crate::Words::default(), &danger)
        ));
    }
    text.push(String::new());
    text.join("\n")
}

/// What to mind, in this state.
pub fn dangers(state: State) -> Vec<Danger> {
    let mut dangers = vec![Danger::LetDown, Danger::Luminous];
    if state != State::Running {
        dangers.extend([Danger::Solvents, Danger::Ammonia]);
    }
    dangers
}

fn name(movement: &Movement, arbor: ArborId) -> String {
    named(&movement.arbor(arbor).id)
}

fn stage(stage: Stage) -> &'static str {
    match stage {
        Stage::Before => "Before it goes together:",
        Stage::Between => "While it goes together, where the plates will hide it:",
        Stage::Closed => {
            "With the plates closed: these in the order told from the back plate, then turned over once and the same from the front:"
        }
        Stage::Last => "Last:",
    }
}

/// One thing to do.
pub fn one(movement: &Movement, step: &Step, system: System) -> String {
    let place = match step.place {
        Where::Coils(a) => format!(
            "the {} arbor's spring, between its coils",
            name(movement, a)
        ),
        Where::Barrel(a) => format!(
            "the {} arbor where it turns in its barrel",
            name(movement, a)
        ),
        Where::Click(a) => format!(
            "the {} arbor's click, its rivet and ratchet",
            name(movement, a)
        ),
        Where::Pulley(a) => format!("the pin of the {} arbor's pulley", name(movement, a)),
        Where::Friction(a) => format!(
            "the {} arbor where the hands slip to be set",
            name(movement, a)
        ),
        Where::Levers => "the posts of the levers".to_owned(),
        Where::Pivots(a) => format!("the {} arbor's pivots", name(movement, a)),
        Where::Pallets(part) => format!(
            "the pallets, by way of every fifth tooth of {}",
            movement.part_name(part)
        ),
        Where::Lifting(a) => format!("what lifts the hammer, on the {} arbor", name(movement, a)),
        Where::Tips => "where levers rub: the locking face, the pins that unlock".to_owned(),
    };
    let much = match step.much {
        Much::Bead { across, measured } => format!(
            "a bead {} across in each sink{}",
            system.length(&across),
            if measured {
                ""
            } else {
                " (pivot not measured)"
            }
        ),
        Much::Film => "a film, wiped nearly off".to_owned(),
        Much::Trace => "a trace".to_owned(),
    };
    let worn = if step.worn {
        "; its hole is worn: oil is no cure, bush it"
    } else {
        ""
    };
    format!("{place}: {}, {much}{worn}", kind(step.kind))
}

fn kind(kind: Kind) -> &'static str {
    match kind {
        Kind::Grease => "grease",
        Kind::Thick => "thick oil",
        Kind::Middle => "middling oil",
        Kind::Thin => "thin oil",
    }
}

fn meant(of: Kind) -> String {
    let v = of.viscosity();
    let thick = spread(v.value.as_plain(), v.spread.as_plain(), "mm²/s at 40 °C");
    let duty = match of {
        Kind::Grease => "one that clings between sliding metal; its oil",
        Kind::Thick => "slow pivots under load",
        Kind::Middle => "pivots between",
        Kind::Thin => "fast pivots that bear little, and pallets",
    };
    format!("{}: {duty}, {thick}", kind(of))
}

fn kinds(plan: &Plan) -> impl Iterator<Item = Kind> {
    let mut kinds: Vec<Kind> = plan.steps.iter().map(|step| step.kind).collect();
    kinds.sort_unstable();
    kinds.dedup();
    kinds.into_iter()
}

/// What stays dry.
pub fn dry(movement: &Movement, dry: Dry) -> String {
    match dry {
        Dry::Teeth(meshes) => format!("all teeth, leaves and trundles, in all {meshes} meshes"),
        Dry::Suspension => "the suspension spring".to_owned(),
        Dry::Fly(a) => format!(
            "the fly on the {} arbor, and the spring that lets it slip",
            name(movement, a)
        ),
        Dry::Rack => "rack and snail".to_owned(),
        Dry::CountWheel(a) => format!("rim and slots of the {} wheel", name(movement, a)),
        Dry::Bell => "hammer head, bell and gong".to_owned(),
    }
}

fn back(plan: &Plan) -> String {
    format!(
        "Look at it again after {}; clean and oil it again after {}, sooner where what you see in a sink is no longer clear.",
        years(&plan.look),
        years(&plan.again)
    )
}

fn years(x: &quantity::Known<quantity::Duration>) -> String {
    let year = |d: quantity::Duration| d.as_days() / 365.25;
    if year(x.value) < 0.2 {
        time(x)
    } else {
        spread(year(x.value), year(x.spread), "years")
    }
}

/// A short line at an arbor of the drawing: the number of its step and what goes there.
pub fn on_the_drawing(number: usize, step: &Step) -> String {
    format!("{number} {}", kind(step.kind))
}

/// The lines under the drawing.
pub fn under_the_drawing(movement: &Movement, plan: &Plan, system: System) -> Vec<String> {
    let mut lines: Vec<String> = plan
        .steps
        .iter()
        .enumerate()
        .map(|(i, step)| format!("{}. {}", i + 1, one(movement, step, system)))
        .collect();
    let stay: Vec<String> = plan.dry.iter().map(|d| dry(movement, *d)).collect();
    lines.push(format!("Dry: {}.", list(&stay)));
    lines.extend(kinds(plan).map(meant));
    lines.push(back(plan));
    lines
}

/// Over the drawing.
pub fn heading(movement: &Movement) -> String {
    format!("{}: oil", movement.name())
}
