//! What can hurt a hand or a part, said where it arises. All of it is common practice, no source; local rules and
//! licensed practice come first.

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
