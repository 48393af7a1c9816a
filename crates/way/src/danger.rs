//! What can hurt at each stage of a job, and whose rules to follow. The timing of the train has cautions of its own, said
//! where a thing is to be done; these are said with the stage.

use crate::{Power, sources};
use entries::Stage;
use movement::Movement;

/// A danger of a stage. What each says, and whose rules it names, is with the words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Danger {
    /// Weights that fall or are heavy.
    Weights,
    /// A tower clock: heights, heavy weights, a train that starts by itself.
    Tower,
    /// Springs under power.
    Springs,
    /// A fusee's set-up and its chain or gut.
    Fusee,
    /// Edges of plates, glass and strips.
    Edges,
    /// Mercury in a pendulum.
    Mercury,
    /// Radium on hands and dial.
    Radium,
    /// Cleaning chemicals and the air over them.
    Chemicals,
    /// Ammonia on strained brass.
    Ammonia,
    /// Lathes and what turns in them.
    Lathe,
    /// A click that lets go as it is wound.
    Click,
    /// A train that runs, and its fly.
    Running,
}

/// The dangers of a stage, for this movement. What the sheet does not rule out is said.
pub fn dangers(stage: Stage, movement: Option<&Movement>) -> Vec<Danger> {
    let sources = movement.map(sources).unwrap_or_default();
    let may = |power: Power| {
        sources.is_empty()
            || (sources.iter()).any(|s| s.power == power || s.power == Power::Unknown)
    };
    let fusee = movement.is_some_and(|movement| {
        (movement.arbors()).any(|(_, arbor)| {
            arbor.id.contains("fusee") || arbor.parts.iter().any(|part| part.name.contains("fusee"))
        })
    });
    let mut dangers = match stage {
        Stage::In => vec![
            Danger::Weights,
            Danger::Click,
            Danger::Running,
            Danger::Mercury,
            Danger::Radium,
            Danger::Edges,
            Danger::Tower,
        ],
        Stage::Down => vec![
            Danger::Weights,
            Danger::Tower,
            Danger::Springs,
            Danger::Edges,
            Danger::Radium,
        ],
        Stage::Look => vec![
            Danger::Springs,
            Danger::Edges,
            Danger::Chemicals,
            Danger::Ammonia,
            Danger::Radium,
            Danger::Lathe,
        ],
        Stage::Together => vec![Danger::Springs],
        Stage::Prove => vec![
            Danger::Click,
            Danger::Running,
            Danger::Weights,
            Danger::Tower,
        ],
        Stage::Rate => vec![Danger::Weights, Danger::Click, Danger::Mercury],
        Stage::Out => vec![Danger::Weights, Danger::Tower, Danger::Click],
    };
    dangers.retain(|danger| match danger {
        Danger::Weights | Danger::Tower => may(Power::Weight),
        Danger::Springs | Danger::Click => may(Power::Spring),
        _ => true,
    });
    if fusee && matches!(stage, Stage::Down | Stage::Together) {
        dangers.push(Danger::Fusee);
    }
    dangers
}
