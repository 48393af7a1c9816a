//! The way of a job in words: its stages, what is to be done, and what can hurt.

use crate::page::named;
use crate::{Locale, args, key, say};
use entries::Stage;
use way::{Item, StageDanger, Way};

/// A stage as a word.
pub fn stage(locale: &Locale, stage: Stage) -> String {
    say!(locale, "stage", stage = stage.word())
}

/// What a stage is for.
pub fn stage_about(locale: &Locale, stage: Stage) -> String {
    say!(locale, "stage-about", stage = stage.word())
}

/// What is to be done, as a sentence.
pub fn item(locale: &Locale, item: &Item) -> String {
    match item {
        Item::PictureBefore => say!(locale, "do-picture-before"),
        Item::Complaint => say!(locale, "do-complaint"),
        Item::Together => say!(locale, "do-together"),
        Item::Counted => say!(locale, "do-counted"),
        Item::Tried => say!(locale, "do-tried"),
        Item::Agreed => say!(locale, "do-agreed"),
        Item::Power(of) if of.is_empty() => say!(locale, "do-power"),
        Item::Power(of) => say!(locale, "do-power-of", arbor = named(of)),
        Item::LetDown(of) => say!(locale, "do-let-down", arbor = named(of)),
        Item::WeightOff(of) => say!(locale, "do-weight-off", arbor = named(of)),
        Item::AsItStood => say!(locale, "do-as-it-stood"),
        Item::Apart => say!(locale, "do-apart"),
        Item::Clean => say!(locale, "do-clean"),
        Item::Pivots => say!(locale, "do-pivots"),
        Item::Teeth => say!(locale, "do-teeth"),
        Item::SpringLooked(of) => say!(locale, "do-spring-looked", arbor = named(of)),
        Item::LineLooked(of) => say!(locale, "do-line-looked", arbor = named(of)),
        Item::Levers => say!(locale, "do-levers"),
        Item::Repaired => say!(locale, "do-repaired"),
        Item::Oiled => say!(locale, "do-oiled"),
        Item::Timed => say!(locale, "do-timed"),
        Item::EndShake => say!(locale, "do-end-shake"),
        Item::Spun => say!(locale, "do-spun"),
        Item::HammerAtRest => say!(locale, "do-hammer-at-rest"),
        Item::ByFinger => say!(locale, "do-by-finger"),
        Item::PoweredUp => say!(locale, "do-powered-up"),
        Item::Hours => say!(locale, "do-hours"),
        Item::Cased => say!(locale, "do-cased"),
        Item::Beat => say!(locale, "do-beat"),
        Item::Rate => say!(locale, "do-rate"),
        Item::LastHours => say!(locale, "do-last-hours"),
        Item::PictureAfter => say!(locale, "do-picture-after"),
        Item::HandedBack => say!(locale, "do-handed-back"),
        Item::Own(says) => says.clone(),
    }
}

/// The next step of a job, as a sentence; where it went home, that, and whether anything was left open.
pub fn next(locale: &Locale, way: &Way) -> String {
    match way.next() {
        Some(next) => item(locale, next),
        None if way.home => {
            let open = way.open().iter().map(|(_, left)| left.len()).sum();
            match open {
                0usize => say!(locale, "do-home"),
                open => say!(locale, "do-home-open", count = open),
            }
        }
        None => say!(locale, "do-go-on"),
    }
}

/// What can hurt at a stage, and whose rules to follow.
pub fn danger(locale: &Locale, danger: StageDanger) -> String {
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
    locale.say(key, args![])
}

/// Under all that can hurt.
pub fn danger_local(locale: &Locale) -> String {
    say!(locale, "danger-local")
}
