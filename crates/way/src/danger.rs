//! What can hurt at each stage of a job, and whose rules to follow. The timing of the train has cautions of its own, said
//! where a thing is to be done; these are said with the stage.

use crate::{DrivenBy, sources};
use entries::Stage;
use movement::Movement;

/// A danger of a stage. What each says, and whose rules it names, is with the words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum StageDanger {
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

/// The dangers of a stage, for this movement, of which it was told what drives it where its sheet has no measure of that. What neither
/// rules out is said.
pub fn dangers(stage: Stage, movement: Option<&Movement>, told: DrivenBy) -> Vec<StageDanger> {
    let sources = movement.map(sources).unwrap_or_default();
    let may = |power: DrivenBy| {
        let by = |own: DrivenBy| match own {
            DrivenBy::Unknown => told,
            measured => measured,
        };
        let is = |own: DrivenBy| own == power || own == DrivenBy::Unknown;
        match sources.is_empty() {
            true => is(told),
            false => sources.iter().any(|source| is(by(source.power))),
        }
    };
    let fusee = movement.is_some_and(|movement| {
        (movement.arbors()).any(|(_, arbor)| {
            arbor.id.contains("fusee") || arbor.parts.iter().any(|part| part.name.contains("fusee"))
        })
    });
    let mut dangers = match stage {
        Stage::In => vec![
            StageDanger::Weights,
            StageDanger::Click,
            StageDanger::Running,
            StageDanger::Mercury,
            StageDanger::Radium,
            StageDanger::Edges,
            StageDanger::Tower,
        ],
        Stage::Down => vec![
            StageDanger::Weights,
            StageDanger::Tower,
            StageDanger::Springs,
            StageDanger::Edges,
            StageDanger::Radium,
        ],
        Stage::Look => vec![
            StageDanger::Springs,
            StageDanger::Edges,
            StageDanger::Chemicals,
            StageDanger::Ammonia,
            StageDanger::Radium,
            StageDanger::Lathe,
        ],
        Stage::Together => vec![StageDanger::Springs],
        Stage::Prove => vec![
            StageDanger::Click,
            StageDanger::Running,
            StageDanger::Weights,
            StageDanger::Tower,
        ],
        Stage::Rate => vec![
            StageDanger::Weights,
            StageDanger::Click,
            StageDanger::Mercury,
        ],
        Stage::Out => vec![StageDanger::Weights, StageDanger::Tower, StageDanger::Click],
    };
    dangers.retain(|danger| match danger {
        StageDanger::Weights | StageDanger::Tower => may(DrivenBy::Weight),
        StageDanger::Springs | StageDanger::Click => may(DrivenBy::Spring),
        _ => true,
    });
    if fusee && matches!(stage, Stage::Down | Stage::Together) {
        dangers.push(StageDanger::Fusee);
    }
    dangers
}
