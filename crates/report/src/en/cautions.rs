//! What can hurt a hand or a part, said where it arises. All of it is common practice, no source; local rules and
//! licensed practice come first.

use super::bench::named;
use super::{caution, list};

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
}

/// What to mind.
pub fn danger(danger: &Danger) -> String {
    match danger {
        Danger::Springs => caution().to_owned(),
        Danger::Fingers => "Keep fingers from between wheel and pinion, and from the fly: what is pressed on by one hand \
             closes on the other."
            .to_owned(),
        Danger::EscapeTeeth => "Look where the nut goes as it comes off, and where the key swings: the escape wheel's teeth \
             are near, and bend."
            .to_owned(),
        Danger::LeverSprings => "Take lever springs off, or lift them clear, before the plate lifts.".to_owned(),
        Danger::Runaway(arbors) => {
            let names: Vec<String> = arbors.iter().map(|a| format!("the {}", named(a))).collect();
            format!(
                "No power in the train while {} is out: nothing else stops it.",
                list(&names)
            )
        }
        Danger::Hook => "Press on with a finger only. Never turn a spring's arbor back to try the train: the spring comes off \
             its hook."
            .to_owned(),
        Danger::Click => "Before you wind: look at the click, its spring and its rivet. If the click lets go under the key, the \
             key goes round with your hand in it."
            .to_owned(),
        Danger::Bending => "Bend only a soft lever, and last. A hard one breaks.".to_owned(),
    }
}

/// Above all cautions that can be called up.
pub fn all_cautions() -> &'static str {
    "Cautions"
}

/// Above those that arise now.
pub fn mind_first() -> &'static str {
    "First"
}
