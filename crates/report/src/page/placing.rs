//! What is said of where the arbors lie, and of the photographs on which they are touched.

use super::named;
use crate::{Length, Locale, say};
use draw::{Mm, OnPlate};
use movement::{Fixing, FixtureKind};

use tasks::{
    Lying, PlaceFault, PlaceRemark, Placeable, PlacedThing, RULE_FROM, RULE_TO, ScaleFrom, WAY_UP,
};

/// A length with no more figures than a place bears: tenths of a millimetre.
fn length(locale: &Locale, mm: f64) -> String {
    let tenths = (mm.abs() * 10.0).round() / 10.0;
    locale.length(Length::mm(tenths).good_to(0.1))
}

/// What something is called in a sentence.
pub fn called(locale: &Locale, what: &Placeable) -> String {
    match what {
        Placeable::Arbor(id) => say!(locale, "lie-arbor", arbor = named(id)),
        Placeable::Pillar(id) | Placeable::Fixture(id) => named(id),
    }
}

/// What something is called on its own, and how it is fixed where it is a pillar.
pub fn listed(locale: &Locale, thing: &PlacedThing) -> String {
    let name = called(locale, &thing.what);
    match thing.fixing {
        Some(fixing) => say!(
            locale,
            "lie-fixed",
            what = name,
            fixing = fixing_key(fixing)
        ),
        None => name,
    }
}

/// A fixing, as messages choose by it.
pub fn fixing_key(fixing: Fixing) -> &'static str {
    tasks::fixing_word(fixing)
}

/// A winding square or a bell, as messages choose by it.
pub fn kind_key(kind: FixtureKind) -> &'static str {
    match kind {
        FixtureKind::WindingSquare => "square",
        FixtureKind::Bell => "bell",
    }
}

/// A place, from where places are told.
pub fn place(locale: &Locale, at: OnPlate) -> String {
    let side = |mm: Mm, more: &'static str, less: &'static str| match mm.mm() < 0.0 {
        true => less,
        false => more,
    };
    say!(
        locale,
        "lie-place",
        across = length(locale, at.right.mm()),
        way = side(at.right, "right", "left"),
        along = length(locale, at.up.mm()),
        up = side(at.up, "up", "down")
    )
}

/// What the page asks before anything is chosen, or that nothing is left.
pub fn sentence(locale: &Locale, lying: &Lying) -> String {
    let arbors = |said: Option<bool>| {
        let all = lying.things.iter();
        all.filter(|thing| matches!(thing.what, Placeable::Arbor(_)))
            .filter(|thing| said.is_none_or(|said| thing.said == said))
            .count()
    };
    match (arbors(Some(true)), arbors(Some(false))) {
        (_, 0) => say!(locale, "lie-all"),
        (0, _) => say!(locale, "lie-none"),
        (_, left) => say!(locale, "lie-some", left = left, all = arbors(None)),
    }
}

/// How far the drawing may be trusted.
pub fn beneath(locale: &Locale, lying: &Lying) -> Option<String> {
    if !lying.is_placed() {
        return Some(say!(locale, "lie-schematic"));
    }
    lying.is_about().then(|| say!(locale, "lie-about"))
}

/// What may not be true of places.
pub fn remark(locale: &Locale, remark: &PlaceRemark) -> String {
    match remark {
        PlaceRemark::OneSpot([one, other]) => say!(
            locale,
            "lie-one-spot",
            one = named(one),
            other = named(other)
        ),
        PlaceRemark::Unreached {
            arbors: [driver, driven],
            is,
            fits,
        } => say!(
            locale,
            "lie-unreached",
            driver = named(driver),
            driven = named(driven),
            is = length(locale, is.mm()),
            fits = length(locale, fits.mm()),
            far = if is.mm() > fits.mm() { "yes" } else { "no" }
        ),
    }
}

/// Why something is not put where it was to be.
pub fn fault(locale: &Locale, fault: &PlaceFault) -> String {
    match fault {
        PlaceFault::NoSuch(id) => say!(locale, "lie-no-such", what = named(id)),
        PlaceFault::OffPlate => say!(locale, "lie-off-plate"),
        PlaceFault::OneSpot(one, other) => say!(
            locale,
            "lie-meshing-spot",
            one = named(one),
            other = named(other)
        ),
        PlaceFault::TooFew(touched) => say!(locale, "lie-too-few", count = *touched),
        PlaceFault::Adrift => say!(locale, "lie-adrift"),
        PlaceFault::NoPicture => say!(locale, "lie-no-picture"),
    }
}

/// What is to be touched on a photograph: [`Placeable::word`], or one of the words beside them.
pub fn touch(locale: &Locale, word: &str) -> String {
    match (word, Placeable::of_word(word)) {
        (RULE_FROM, _) => say!(locale, "lie-touch-from"),
        (RULE_TO, _) => say!(locale, "lie-touch-to"),
        (WAY_UP, _) => say!(locale, "lie-touch-up"),
        (_, Some(what)) => say!(
            locale,
            "lie-touch",
            sort = match what {
                Placeable::Arbor(_) => "arbor",
                Placeable::Pillar(_) | Placeable::Fixture(_) => "other",
            },
            what = called(locale, &what)
        ),
        (_, None) => String::new(),
    }
}

/// What is touched, in a list.
pub fn touched(locale: &Locale, word: &str) -> String {
    match (word, Placeable::of_word(word)) {
        (RULE_FROM, _) => say!(locale, "lie-from"),
        (RULE_TO, _) => say!(locale, "lie-to"),
        (WAY_UP, _) => say!(locale, "lie-up"),
        (_, Some(what)) => called(locale, &what),
        (_, None) => String::new(),
    }
}

/// What the size of a photograph is known from.
pub fn scale(locale: &Locale, scale: ScaleFrom) -> String {
    let from = match scale {
        ScaleFrom::Places => "places",
        ScaleFrom::Measured => "measured",
        ScaleFrom::Rule => "rule",
        ScaleFrom::Drawn => "drawn",
    };
    say!(locale, "lie-scale", from = from)
}

/// How far the touches of a photograph are from the places on the sheet, at worst.
pub fn worst(locale: &Locale, (what, off): &(Placeable, Mm)) -> String {
    say!(
        locale,
        "lie-worst",
        what = called(locale, what),
        off = length(locale, off.mm())
    )
}
