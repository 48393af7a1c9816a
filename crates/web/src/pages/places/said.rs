//! What the forms of places say.

use super::picture::PLAIN_WIDE;
use crate::desk::Refused;
use crate::fields::with_unit;
use crate::form::said::lenient;
use crate::form::{FieldFault, Fields, plain};
use draw::OnPlate;
use movement::{Fixing, FixtureKind, Plate};
use quantity::{Exact, Length, typed_in};
use report::{Locale, Units};
use serde::Deserialize;
use tasks::{NewStanding, Placeable};

/// A plate, as pages send it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum SentPlate {
    Front,
    Back,
}

impl From<SentPlate> for Plate {
    fn from(sent: SentPlate) -> Plate {
        match sent {
            SentPlate::Front => Plate::Front,
            SentPlate::Back => Plate::Back,
        }
    }
}

/// What is to stand on the plates besides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum New {
    Pillar,
    Square,
    Bell,
}

impl New {
    pub(super) const ALL: [(&'static str, New); 3] = [
        ("pillar", New::Pillar),
        ("square", New::Square),
        ("bell", New::Bell),
    ];

    pub(super) fn word(self) -> &'static str {
        let own = New::ALL.iter().find(|(_, own)| *own == self);
        own.map_or("", |(word, _)| word)
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
enum SentFixing {
    Nut,
    Screw,
    Pin,
}

/// What the page is asked for.
#[derive(Deserialize)]
pub(super) struct AskedPlaces {
    /// What is to be put somewhere.
    pub(super) what: Option<String>,
    /// What is to stand there besides.
    #[serde(deserialize_with = "lenient")]
    pub(super) new: Option<New>,
    /// The picture to be touched, by the number of its entry.
    #[serde(deserialize_with = "crate::form::said::number")]
    pub(super) picture: Option<usize>,
    /// The plate that it is of.
    #[serde(deserialize_with = "lenient")]
    pub(super) photographed: Option<SentPlate>,
    /// What is to be touched on it.
    pub(super) touch: Option<String>,
}

impl AskedPlaces {
    /// What is to be put somewhere.
    pub(super) fn chosen(&self) -> Option<Placeable> {
        Placeable::of_word(self.what.as_deref()?)
    }
}

/// The unit of lengths that stands beside a field.
pub(super) fn unit(locale: &Locale) -> &'static str {
    match locale.units() {
        Units::Millimetre => "mm",
        Units::Inch => "in",
    }
}

/// Millimetres in that unit.
pub(super) fn in_unit(locale: &Locale) -> f64 {
    match locale.units() {
        Units::Millimetre => 1.0,
        Units::Inch => Length::MM_IN_INCH,
    }
}

/// A length that was typed, of any sign.
fn signed(locale: &Locale, name: &str, typed: &str) -> Result<f64, FieldFault> {
    let wrong = || FieldFault::of(name, typed);
    let straight = typed.trim().replace('−', "-");
    let (sign, size) = match straight.strip_prefix('-') {
        Some(size) => (-1.0, size.trim_start()),
        None => (1.0, straight.trim_start_matches('+')),
    };
    let length = typed_in::<Length>(size, unit(locale)).map_err(|_| wrong())?;
    Ok(sign * quantity::to_f64(&length.mean))
}

/// A length that may be left out; what is typed is more than nothing.
fn length(locale: &Locale, name: &str, typed: Option<&str>) -> Result<Option<Exact>, FieldFault> {
    let Some(typed) = typed.map(str::trim).filter(|typed| !typed.is_empty()) else {
        return Ok(None);
    };
    let wrong = || FieldFault::of(name, typed);
    let length = typed_in::<Length>(&with_unit(typed, unit(locale)), unit(locale));
    let mm = length.map_err(|_| wrong())?.mean;
    match quantity::to_f64(&mm) > 0.0 {
        true => Ok(Some(mm)),
        false => Err(wrong()),
    }
}

/// A place as it was typed.
pub(super) fn typed_place(locale: &Locale, fields: &Fields) -> Result<OnPlate, Refused> {
    let side = |name: &str| signed(locale, name, fields.get(name).unwrap_or_default());
    let place = OnPlate::of(side("right")?, side("up")?);
    Ok(place.ok_or_else(|| FieldFault::of("right", ""))?)
}

/// Where a picture was touched, in parts of its width: by the browser itself, or as it was typed in hundredths.
pub(super) fn touched(fields: &Fields, name: &str) -> Result<Option<[f64; 2]>, FieldFault> {
    let number = |name: &str| -> Result<Option<f64>, FieldFault> {
        let Some(typed) = fields.get(name) else {
            return Ok(None);
        };
        let number = plain(typed).parse::<f64>().ok().filter(|x| x.is_finite());
        number.map(Some).ok_or_else(|| FieldFault::of(name, typed))
    };
    if let (Some(left), Some(top)) = (number("left")?, number("top")?) {
        return Ok(Some([left / 100.0, top / 100.0]));
    }
    let wide = number("wide")?
        .filter(|wide| *wide > 0.0)
        .unwrap_or(PLAIN_WIDE);
    let touch = (number(&format!("{name}.x"))?, number(&format!("{name}.y"))?);
    Ok(match touch {
        // Pressed with a key a picture says its corner: nobody touched that.
        (Some(x), Some(y)) if x != 0.0 || y != 0.0 => Some([x / wide, y / wide]),
        _ => None,
    })
}

/// What is to stand there, as it was said.
pub(super) fn new_standing(locale: &Locale, fields: &Fields) -> Result<NewStanding, Refused> {
    #[derive(Deserialize)]
    struct Sent {
        #[serde(deserialize_with = "lenient")]
        new: Option<New>,
        across: Option<String>,
    }
    let sent: Sent = fields.read()?;
    let across = length(locale, "across", sent.across.as_deref())?;
    Ok(match sent.new.ok_or(Refused::Nothing)? {
        New::Pillar => {
            let (fixing, pitch) = fixing(locale, fields)?;
            NewStanding::Pillar(fixing, pitch)
        }
        New::Square => NewStanding::Fixture(FixtureKind::WindingSquare, across),
        New::Bell => NewStanding::Fixture(FixtureKind::Bell, across),
    })
}

/// What fixes the plate on a pillar, and what a turn of that gives, in millimetres.
pub(super) fn fixing(
    locale: &Locale,
    fields: &Fields,
) -> Result<(Fixing, Option<Exact>), FieldFault> {
    #[derive(Deserialize)]
    struct Sent {
        #[serde(deserialize_with = "lenient")]
        fixing: Option<SentFixing>,
        pitch: Option<String>,
    }
    let sent: Sent = fields.read()?;
    let fixing = match sent.fixing {
        Some(SentFixing::Nut) | None => Fixing::Nut,
        Some(SentFixing::Screw) => Fixing::Screw,
        Some(SentFixing::Pin) => Fixing::Pin,
    };
    Ok((fixing, length(locale, "pitch", sent.pitch.as_deref())?))
}

/// A distance that is known, in millimetres.
pub(super) fn distance(locale: &Locale, fields: &Fields) -> Result<f64, FieldFault> {
    let typed = fields.get("distance");
    let mm = length(locale, "distance", typed)?;
    let mm = mm.ok_or_else(|| FieldFault::of("distance", typed.unwrap_or_default()))?;
    Ok(quantity::to_f64(&mm))
}
