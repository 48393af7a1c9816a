//! What can hurt a hand or a part, said where it arises. Figures for mercury, radium, ammonia and solvents are those of
//! `outside/hazards.toml`, with their sources; the rest is common practice, no source. Local rules and licensed practice
//! come first.

use super::bench::named;
use super::list;

/// A danger, and the part it lies in where it is not in all.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Danger {
    /// Springs under power as the plates are spread.
    Springs,
    /// Fingers between what may move.
    Fingers,
    /// Nuts and keys near the escape wheel's teeth.
    EscapeTeeth,
    /// Lever springs that bend or fly as the plate lifts.
    LeverSprings,
    /// Power in the train while these arbors are out.
    Runaway(Vec<String>),
    /// A spring turned off the hook of its arbor.
    Hook,
    /// The click and its rivet.
    Click,
    /// Bending what is hard.
    Bending,
    /// A spring that is wound, as strong as is said.
    LetDown,
    /// A weight on its cord.
    Weight,
    /// Mercury in a pendulum's jar.
    Mercury,
    /// Luminous dials and hands.
    Luminous,
    /// Ammonia in cleaning baths.
    Ammonia,
    /// Solvents that burn.
    Solvents,
}

/// What to mind.
pub fn danger(danger: &Danger) -> String {
    match danger {
        Danger::Springs => "Before plates are spread: every spring of every train let down with a proper key, or clamped; weights off. \
             A spring that is let down still pushes."
            .to_owned(),
        Danger::LeverSprings => "Lever springs off before the plate lifts.".to_owned(),
        Danger::EscapeTeeth => "Nuts and key clear of the escape wheel's teeth.".to_owned(),
        Danger::Fingers => "Fingers clear of wheel and pinion, and of the fly.".to_owned(),
        Danger::Runaway(arbors) => {
            let names: Vec<String> = arbors.iter().map(|a| format!("the {}", named(a))).collect();
            format!(
                "No power in the train while {} is out: nothing else stops it.",
                list(&names).replace(" and ", " or ")
            )
        }
        Danger::Hook => "Press with a finger only. Never try the train by turning a spring back: it comes off its arbor's hook."
            .to_owned(),
        Danger::Click => "Before you wind, look at the click, its spring and its rivet: if it lets go, the key spins in your hand."
            .to_owned(),
        Danger::LetDown => "Let the spring down with a key that fits, click held off, a quarter turn at a time, before any \
             pillar is undone. It is pulled out and put in with a winder, in gloves and glasses, never by hand."
            .to_owned(),
        Danger::Weight => "Take the weight off before the movement is touched: let it down on a hook or in the hand, and never cut a \
             cord under load."
            .to_owned(),
        Danger::Mercury => "Mercury: never vacuum or sweep a spill, never pour it away; more than two tablespoons, about 1 lb, is for \
             professionals. The air over it at 20 °C holds over a hundred times the 0.1 mg/m³ that is allowed at work in the United \
             States (0.025 mg/m³ is recommended by its hygienists). Leave a jar shut."
            .to_owned(),
        Danger::Luminous => "Luminous dials and hands of old clocks may hold radium, half of it still there after 1600 years: do not \
             scrape, brush or wash them; loose hands and dials fall under licensing in many places."
            .to_owned(),
        Danger::Ammonia => "Ammonia in a bath: 50 ppm in the air is the limit at work in the United States, 25 ppm in its \
             recommendations, 300 ppm a danger to life. It can crack brass of more than 15 parts of zinc that is under stress; keep dips \
             short and rinse well."
            .to_owned(),
        Danger::Solvents => "Solvents burn: petrol gives off what burns at -45 °F (-43 °C), white spirit from 102 to 110 °F (39 to 43 °C). \
             No petrol or benzine in a bath, whatever old books say; a window open, no flame, no spark."
            .to_owned(),
        Danger::Bending => "Bend only a soft lever, and last.".to_owned(),
    }
}

/// Under all cautions.
pub fn local_rules() -> &'static str {
    "Local rules and licensed practice come first."
}

/// Above all cautions that can be called up.
pub fn all_cautions() -> &'static str {
    "Cautions"
}

/// Above those that arise now.
pub fn mind_first() -> &'static str {
    "First"
}
