//! Boxes for what is measured, in words: what each is for, what stands there, and what is wrong with what was typed.

use crate::measures;
use crate::page::named;
use crate::{Locale, Units, say};
use draw::{Drawing, Gauged, gauged};
use quantity::{Exact, Unwritten, fraction, to_f64, whole};
use tasks::{BoxAt, BoxFaultKind, BoxHolds, MeasureBox, MeasuredThing as M, UsualRange};

/// What a box is for.
pub fn thing(locale: &Locale, of: &MeasureBox) -> String {
    let part = of.part.as_deref().map(named).unwrap_or_default();
    say!(locale, "box-thing", thing = of.thing.word(), part = part)
}

/// What the boxes of one arbor or mesh stand under.
pub fn group(locale: &Locale, at: &BoxAt) -> String {
    match at {
        BoxAt::Arbor(arbor) => say!(locale, "box-arbor", arbor = named(arbor)),
        BoxAt::Mesh { driver, driven } => {
            let plain = |part: &str| named(&part.replace('.', " "));
            say!(
                locale,
                "box-mesh",
                driver = plain(driver),
                driven = plain(driven)
            )
        }
    }
}

/// From where to where it is measured.
pub fn drawn(thing: M) -> Drawing {
    gauged(match thing {
        M::SpringWidth => Gauged::StripWidth,
        M::SpringThick => Gauged::StripThick,
        M::SpringLong => Gauged::StripLong,
        M::SpringArbor => Gauged::CoilArbor,
        M::SpringOpens => Gauged::CoilOpen,
        M::BarrelInside => Gauged::BarrelAcross,
        M::BarrelHigh => Gauged::BarrelHigh,
        M::WindingTurns => Gauged::Turns,
        M::Weight => Gauged::Weight,
        M::Drum => Gauged::Drum,
        M::Cord | M::DoubleCord => Gauged::Cord,
        M::Fall => Gauged::Fall,
        M::Pendulum => Gauged::Pendulum,
        M::HalfArc => Gauged::Swing,
        M::Bob => Gauged::Bob,
        M::NutPitch => Gauged::Thread,
        M::Suspension => Gauged::SuspensionLong,
        M::SuspensionWide => Gauged::SuspensionWidth,
        M::SuspensionThick => Gauged::SuspensionThick,
        M::Pivot => Gauged::Pivot,
        M::Hole => Gauged::Hole,
        M::Centres => Gauged::Centres,
        M::Outside => Gauged::Outside,
        M::Lash => Gauged::Lash,
    })
}

/// The unit that stands beside a box, by its word; nothing for a plain number.
pub fn unit(locale: &Locale, holds: BoxHolds) -> &'static str {
    match (holds, locale.units()) {
        (BoxHolds::Length, Units::Millimetre) => "mm",
        (BoxHolds::Length, Units::Inch) => "in",
        (BoxHolds::Mass, Units::Millimetre) => "g",
        (BoxHolds::Mass, Units::Inch) => "oz",
        (BoxHolds::Angle, _) => "deg",
        (BoxHolds::Number, _) => "",
    }
}

/// So much, in the unit beside the box; it is told in the unit of the sheet.
pub fn amount(locale: &Locale, holds: BoxHolds, on_sheet: &Exact) -> String {
    let (one, shown) = beside(locale, holds);
    let number = to_f64(&(on_sheet / one));
    format!("{}{shown}", locale.decimal(number, 4))
}

/// The same with how surely it is known, where that is told.
pub fn amount_known(
    locale: &Locale,
    holds: BoxHolds,
    on_sheet: &Exact,
    spread: Option<&Exact>,
) -> String {
    let Some(spread) = spread else {
        return amount(locale, holds, on_sheet);
    };
    let (one, shown) = beside(locale, holds);
    let [number, spread] = [on_sheet, spread].map(|of| to_f64(&(of / &one)));
    format!("{}{shown}", measures::spread(locale, number, spread))
}

/// The unit beside a box: how many of the sheet's one of it is, and how it is shown.
fn beside(locale: &Locale, holds: BoxHolds) -> (Exact, &'static str) {
    match (holds, unit(locale, holds)) {
        (BoxHolds::Length, "in") => (fraction(254, 10), "\u{a0}in"),
        (BoxHolds::Length, _) => (whole(1), "\u{a0}mm"),
        (BoxHolds::Mass, "oz") => (fraction(45_359_237, 1_600_000), "\u{a0}oz"),
        (BoxHolds::Mass, _) => (whole(1), "\u{a0}g"),
        (BoxHolds::Angle, _) => (whole(1), "°"),
        (BoxHolds::Number, _) => (whole(1), ""),
    }
}

/// What is wrong with what was typed.
pub fn box_fault(locale: &Locale, of: &MeasureBox, why: &BoxFaultKind) -> String {
    let range = |usual: &UsualRange| {
        let told = |one: &Exact| amount(locale, of.thing.holds(), one);
        (told(&usual.least), told(&usual.most))
    };
    match why {
        BoxFaultKind::Unwritten(why) => unwritten(locale, of.thing.holds(), why),
        BoxFaultKind::NotPositive => say!(locale, "box-not-positive"),
        BoxFaultKind::Absurd(usual) => {
            let (least, most) = range(usual);
            say!(locale, "box-absurd", least = least, most = most)
        }
        BoxFaultKind::Unusual(usual) => {
            let (least, most) = range(usual);
            say!(locale, "box-unusual", least = least, most = most)
        }
    }
}

fn unwritten(locale: &Locale, holds: BoxHolds, why: &Unwritten) -> String {
    let wanted = match holds {
        BoxHolds::Length => "length",
        BoxHolds::Mass => "mass",
        BoxHolds::Angle => "angle",
        BoxHolds::Number => "number",
    };
    match why {
        Unwritten::Unit { got, .. } => {
            say!(locale, "box-unit", got = got.as_str(), wanted = wanted)
        }
        Unwritten::Thousands { point, whole } => say!(
            locale,
            "box-thousands",
            point = point.as_str(),
            whole = whole.as_str()
        ),
        Unwritten::Apart => say!(locale, "box-apart"),
        Unwritten::TooMuch => say!(locale, "box-too-much"),
        Unwritten::Spread => say!(locale, "box-spread"),
        Unwritten::Number(_) | Unwritten::NoUnit { .. } => {
            say!(locale, "box-unread", wanted = wanted)
        }
    }
}
