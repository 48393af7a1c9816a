//! The points of a stage, as they follow from what is on the sheet. What each asks for is common practice, no source.

use crate::{DrivenBy, sources};
use entries::Stage;
use movement::Movement;

/// Something to do at a stage.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Item {
    /// Photograph it as it came.
    PictureBefore,
    /// Write down what is said to be wrong.
    Complaint,
    /// Keep weights, pendulum, key and hands together, with the clock's name on them.
    Together,
    /// Count and measure: a sheet with every count on it.
    Counted,
    /// Try it as it came.
    Tried,
    /// Agree with the owner what is to be done.
    Agreed,
    /// Let the power of this arbor down, whatever it is; of the movement where nothing names the arbor.
    Power(String),
    /// Let the spring on this arbor down.
    LetDown(String),
    /// Take the weight that hangs on this arbor off.
    WeightOff(String),
    /// Photograph levers and pins at rest, where it struck right as it came.
    AsItStood,
    /// Take lever springs off, and the plates apart.
    Apart,
    /// Clean and dry everything.
    Clean,
    /// Look pivots and their holes over.
    Pivots,
    /// Look wheels, pinions and pins over.
    Teeth,
    /// Look this arbor's spring, its click and the click's rivet over.
    SpringLooked(String),
    /// Look this arbor's line, its drum and click over.
    LineLooked(String),
    /// Look levers, hammer and their springs over.
    Levers,
    /// Put right what was found.
    Repaired,
    /// Oil it as it goes together.
    Oiled,
    /// Time the strike train.
    Timed,
    /// Feel the end shake of each arbor before any nut is tightened.
    EndShake,
    /// Spin each train.
    Spun,
    /// See the hammer at rest on its stop.
    HammerAtRest,
    /// Lead one hour through by finger.
    ByFinger,
    /// A little power first, then all of it.
    PoweredUp,
    /// Hear every hour struck right.
    Hours,
    /// Case it.
    Cased,
    /// Set it in beat.
    Beat,
    /// Bring it to time.
    Rate,
    /// Let it run and strike to the end of its winding.
    LastHours,
    /// Photograph it as it goes.
    PictureAfter,
    /// Hand it back.
    HandedBack,
    /// A point of the shop's own.
    Own(String),
}

impl Item {
    /// How a log names it.
    pub fn key(&self) -> String {
        let of = |what: &str, arbor: &String| format!("{what} {arbor}").trim_end().to_owned();
        match self {
            Item::PictureBefore => "picture before".to_owned(),
            Item::Complaint => "complaint".to_owned(),
            Item::Together => "kept together".to_owned(),
            Item::Counted => "counted".to_owned(),
            Item::Tried => "tried".to_owned(),
            Item::Agreed => "agreed".to_owned(),
            Item::Power(arbor) => of("power down", arbor),
            Item::LetDown(arbor) => of("let down", arbor),
            Item::WeightOff(arbor) => of("weight off", arbor),
            Item::AsItStood => "as it stood".to_owned(),
            Item::Apart => "apart".to_owned(),
            Item::Clean => "clean".to_owned(),
            Item::Pivots => "pivots".to_owned(),
            Item::Teeth => "teeth".to_owned(),
            Item::SpringLooked(arbor) => of("spring", arbor),
            Item::LineLooked(arbor) => of("line", arbor),
            Item::Levers => "levers".to_owned(),
            Item::Repaired => "repaired".to_owned(),
            Item::Oiled => "oiled".to_owned(),
            Item::Timed => "timed".to_owned(),
            Item::EndShake => "end shake".to_owned(),
            Item::Spun => "spun".to_owned(),
            Item::HammerAtRest => "hammer at rest".to_owned(),
            Item::ByFinger => "by finger".to_owned(),
            Item::PoweredUp => "powered up".to_owned(),
            Item::Hours => "hours".to_owned(),
            Item::Cased => "cased".to_owned(),
            Item::Beat => "in beat".to_owned(),
            Item::Rate => "to time".to_owned(),
            Item::LastHours => "last hours".to_owned(),
            Item::PictureAfter => "picture after".to_owned(),
            Item::HandedBack => "handed back".to_owned(),
            Item::Own(says) => format!("own: {says}"),
        }
    }

    /// Whether it is done anew each time the plates were closed.
    pub fn after_closing(&self) -> bool {
        matches!(
            self,
            Item::EndShake
                | Item::Spun
                | Item::HammerAtRest
                | Item::ByFinger
                | Item::PoweredUp
                | Item::Hours
        )
    }
}

/// The points of a stage for this movement, in order. Where there is no sheet, nothing rules a strike out.
pub(crate) fn items(stage: Stage, movement: Option<&Movement>) -> Vec<Item> {
    let strikes = movement.is_none_or(|movement| movement.strike().is_some());
    let sources = movement.map(sources).unwrap_or_default();
    let mut items = match stage {
        Stage::In => vec![
            Item::PictureBefore,
            Item::Complaint,
            Item::Together,
            Item::Tried,
            Item::Counted,
            Item::Agreed,
        ],
        Stage::Down => {
            let mut items: Vec<Item> = (sources.iter())
                .map(|source| match source.power {
                    DrivenBy::Spring => Item::LetDown(source.arbor.clone()),
                    DrivenBy::Weight => Item::WeightOff(source.arbor.clone()),
                    DrivenBy::Unknown => Item::Power(source.arbor.clone()),
                })
                .collect();
            if items.is_empty() {
                items.push(Item::Power(String::new()));
            }
            // A weight comes off before any spring is touched: it falls by itself.
            items.sort_by_key(|item| !matches!(item, Item::WeightOff(_)));
            items.extend([Item::AsItStood, Item::Apart]);
            items
        }
        Stage::Look => {
            let mut items = vec![Item::Clean, Item::Pivots, Item::Teeth];
            items.extend(sources.into_iter().map(|source| match source.power {
                DrivenBy::Weight => Item::LineLooked(source.arbor),
                DrivenBy::Spring | DrivenBy::Unknown => Item::SpringLooked(source.arbor),
            }));
            items.extend([Item::Levers, Item::Repaired]);
            items
        }
        Stage::Together => vec![
            Item::Oiled,
            Item::Timed,
            Item::EndShake,
            Item::Spun,
            Item::HammerAtRest,
        ],
        Stage::Prove => vec![Item::ByFinger, Item::PoweredUp, Item::Hours],
        Stage::Rate => vec![Item::Cased, Item::Beat, Item::Rate, Item::LastHours],
        Stage::Out => vec![Item::PictureAfter, Item::HandedBack],
    };
    items.retain(|item| strikes || !item.of_a_strike());
    items
}

impl Item {
    /// Whether only what strikes asks for it.
    fn of_a_strike(&self) -> bool {
        matches!(
            self,
            Item::AsItStood
                | Item::Levers
                | Item::Timed
                | Item::HammerAtRest
                | Item::ByFinger
                | Item::Hours
        )
    }
}
