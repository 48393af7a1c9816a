//! The way of a job in words: its stages, what is to be done, and what can hurt.

use crate::page::named;
use crate::{Words, args, key, say};
use entries::Stage;
use way::{Item, StageDanger, Way};

/// A stage as a word.
pub fn stage(words: &Words, stage: Stage) -> String {
    say!(words, "stage", stage = stage.word())
}

/// What a stage is for.
pub fn stage_about(words: &Words, stage: Stage) -> String {
    say!(words, "stage-about", stage = stage.word())
}

/// What is to be done, as a sentence.
pub fn item(words: &Words, item: &Item) -> String {
    match item {
        Item::PictureBefore => say!(words, "do-picture-before"),
        Item::Complaint => say!(words, "do-complaint"),
        Item::Together => say!(words, "do-together"),
        Item::Counted => say!(words, "do-counted"),
        Item::Tried => say!(words, "do-tried"),
        Item::Agreed => say!(words, "do-agreed"),
        Item::Power(of) if of.is_empty() => say!(words, "do-power"),
        Item::Power(of) => say!(words, "do-power-of", arbor = named(of)),
        Item::LetDown(of) => say!(words, "do-let-down", arbor = named(of)),
        Item::WeightOff(of) => say!(words, "do-weight-off", arbor = named(of)),
        Item::AsItStood => say!(words, "do-as-it-stood"),
        Item::Apart => say!(words, "do-apart"),
        Item::Clean => say!(words, "do-clean"),
        Item::Pivots => say!(words, "do-pivots"),
        Item::Teeth => say!(words, "do-teeth"),
        Item::SpringLooked(of) => say!(words, "do-spring-looked", arbor = named(of)),
        Item::LineLooked(of) => say!(words, "do-line-looked", arbor = named(of)),
        Item::Levers => say!(words, "do-levers"),
        Item::Repaired => say!(words, "do-repaired"),
        Item::Oiled => say!(words, "do-oiled"),
        Item::Timed => say!(words, "do-timed"),
        Item::EndShake => say!(words, "do-end-shake"),
        Item::Spun => say!(words, "do-spun"),
        Item::HammerAtRest => say!(words, "do-hammer-at-rest"),
        Item::ByFinger => say!(words, "do-by-finger"),
        Item::PoweredUp => say!(words, "do-powered-up"),
        Item::Hours => say!(words, "do-hours"),
        Item::Cased => say!(words, "do-cased"),
        Item::Beat => say!(words, "do-beat"),
        Item::Rate => say!(words, "do-rate"),
        Item::LastHours => say!(words, "do-last-hours"),
        Item::PictureAfter => say!(words, "do-picture-after"),
        Item::HandedBack => say!(words, "do-handed-back"),
        Item::Own(says) => says.clone(),
    }
}

/// The next step of a job, as a sentence; where it went home, that, and whether anything was left open.
pub fn next(words: &Words, way: &Way) -> String {
    match way.next() {
        Some(next) => item(words, next),
        None if way.home => {
            let open = way.open().iter().map(|(_, left)| left.len()).sum();
            match open {
                0usize => say!(words, "do-home"),
                open => say!(words, "do-home-open", count = open),
            }
        }
        None => say!(words, "do-go-on"),
    }
}

/// What can hurt at a stage, and whose rules to follow.
pub fn danger(words: &Words, danger: StageDanger) -> String {
    let key = match danger {
        StageDanger::Weights => key!("danger-weights"),
        StageDanger::Tower => key!("danger-tower"),
        StageDanger::Springs => key!("danger-springs"),
        StageDanger::Fusee => key!("danger-fusee"),
        StageDanger::Edges => key!("danger-edges"),
        StageDanger::Mercury => key!("danger-mercury"),
        StageDanger::Radium => key!("danger-radium"),
        StageDanger::Chemicals => key!("danger-chemicals"),
        StageDanger::Ammonia => key!("danger-ammonia"),
        StageDanger::Lathe => key!("danger-lathe"),
        StageDanger::Click => key!("danger-click"),
        StageDanger::Running => key!("danger-running"),
    };
    words.say(key, args![])
}

/// Under all that can hurt.
pub fn danger_local(words: &Words) -> String {
    say!(words, "danger-local")
}
