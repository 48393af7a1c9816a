//! What follows from the counts so far, and where they cannot be right, the miscounts that would mend it.

use crate::angles::{Angles, Counts};
use crate::kind::Comes;
use crate::places::known;
use crate::role::{first, places};
use crate::train::PartName;
use crate::{Kind, PlaceId, WorkRole};
use num_traits::{One, Zero};
use quantity::{Exact, Teeth, whole};
use sheet::edit::{CountWritten, SheetText, SheetValue, TableAt};

/// A count that takes part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountedPart {
    /// The part.
    pub id: PlaceId,
    /// Its count.
    pub teeth: Teeth,
}

/// What it must come to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wanted {
    /// One place a blow.
    One,
    /// A whole number of places a blow.
    Whole,
    /// A turn for so many blows.
    Blows(u16),
}

/// One thing counted wrongly that would explain it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LikelyMiscount {
    /// A part: what it should have.
    Part {
        /// The part.
        id: PlaceId,
        /// What was counted.
        counted: Teeth,
        /// What it has then.
        perhaps: Teeth,
    },
    /// What lifts the hammer.
    Lifters {
        /// What was counted.
        counted: u16,
        /// What there are then.
        perhaps: u16,
    },
}

/// What follows from the counts for one thing of the works.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Follow {
    /// Of what.
    pub of: WorkRole,
    /// The arbor that it is on.
    pub arbor: String,
    /// By what the train goes on: pins that lift the hammer or, where places are unlike or in a chime, the count wheel.
    pub by: WorkRole,
    /// The arbor with that, and how many places it has.
    pub lifters: (String, u16),
    /// The counts between them, two a mesh: that by which one is left, and that by which the next is come to.
    pub between: Vec<CountedPart>,
    /// Turns of the arbor in a blow.
    pub turns_a_blow: Exact,
    /// Places of this on its arbor.
    pub places: u16,
    /// What it must come to.
    pub wanted: Wanted,
    /// Whether it does.
    pub right: bool,
    /// Where it does not: each single miscount that would mend it, by one tooth before two, and each that mends most of what is
    /// wrong before the rest.
    pub miscounts: Vec<LikelyMiscount>,
}

/// By so many teeth a count is thought wrong.
const SLIPS: [i64; 4] = [-1, 1, -2, 2];

/// Everything that follows; what needs a count that is not there is left out.
pub(crate) fn follows(text: &SheetText, kind: &Kind) -> Vec<Follow> {
    let mut follows = each(text, kind);
    let wrong = follows.iter().filter(|follow| !follow.right).count();
    if wrong == 0 {
        return follows;
    }
    let mut mended = mended(text, kind, &follows);
    // What mends one thing and spoils another is no miscount of a train that came out.
    let stays: Vec<WorkRole> = (follows.iter())
        .filter(|follow| follow.right)
        .map(|follow| follow.of)
        .collect();
    mended.retain(|(_, right)| stays.iter().all(|role| right.contains(role)));
    let most = mended.iter().map(|(_, right)| right.len()).max();
    if most == Some(follows.len()) {
        mended.retain(|(_, right)| right.len() == follows.len());
    }
    for follow in follows.iter_mut().filter(|follow| !follow.right) {
        let mine = mended
            .iter()
            .filter(|(_, right)| right.contains(&follow.of));
        let mut mine: Vec<_> = mine.collect();
        // Sorting keeps the order of the slips among those that mend as much.
        mine.sort_by_key(|(_, right)| std::cmp::Reverse(right.len()));
        follow.miscounts = mine.iter().map(|(slip, _)| slip.clone()).collect();
    }
    follows
}

/// Each slip with all that is right when it is mended.
fn mended(
    text: &SheetText,
    kind: &Kind,
    follows: &[Follow],
) -> Vec<(LikelyMiscount, Vec<WorkRole>)> {
    let mut all: Vec<(LikelyMiscount, Vec<WorkRole>)> = Vec::new();
    let mut parts: Vec<&CountedPart> = Vec::new();
    for part in follows.iter().flat_map(|follow| &follow.between) {
        if !parts.contains(&part) {
            parts.push(part);
        }
    }
    let angles = Angles::of(text, kind);
    let right = |text: &SheetText| -> Vec<WorkRole> {
        let follows = each_of(text, &angles, kind);
        let right = follows.iter().filter(|follow| follow.right);
        right.map(|follow| follow.of).collect()
    };
    for slip in SLIPS {
        for part in &parts {
            let Some(perhaps) = Teeth::new(i64::from(part.teeth.get()) + slip) else {
                continue;
            };
            let mut other = text.clone();
            let PlaceId { arbor, part: name } = &part.id;
            if other
                .set_count(arbor, name, CountWritten::Known(perhaps))
                .is_ok()
            {
                let miscount = LikelyMiscount::Part {
                    id: part.id.clone(),
                    counted: part.teeth,
                    perhaps,
                };
                all.push((miscount, right(&other)));
            }
        }
        all.extend(other_lifters(text, slip).map(|(miscount, text)| (miscount, right(&text))));
    }
    all
}

/// The text with so many more pins that lift the hammer, where they stand as a number.
fn other_lifters(text: &SheetText, slip: i64) -> Option<(LikelyMiscount, SheetText)> {
    let all = crate::works::works(text);
    let at: TableAt = first(&all, WorkRole::Lifters)?.at.clone();
    let Some(SheetValue::Whole(pins)) = text.get(&at, "pins") else {
        return None;
    };
    let perhaps = u16::try_from(pins + slip).ok().filter(|pins| *pins > 0)?;
    let mut other = text.clone();
    other
        .set(&at, "pins", &SheetValue::Whole(perhaps.into()))
        .ok()?;
    let counted = u16::try_from(pins).ok()?;
    Some((LikelyMiscount::Lifters { counted, perhaps }, other))
}

fn small(number: &Exact) -> Option<u16> {
    u16::try_from(number.to_integer()).ok()
}

/// What follows for all checks of a kind, without what would mend it.
fn each(text: &SheetText, kind: &Kind) -> Vec<Follow> {
    each_of(text, &Angles::of(text, kind), kind)
}

/// Whether all that follows is right.
pub(crate) fn all_right(text: &SheetText, kind: &Kind) -> bool {
    each(text, kind).iter().all(|follow| follow.right)
}

fn each_of(text: &SheetText, angles: &Angles, kind: &Kind) -> Vec<Follow> {
    let checks = kind.checks.iter();
    let follow = |check| plain(text, angles, check);
    checks.filter_map(follow).collect()
}

/// What follows for one check, without what would mend it; nothing where a count is wanting.
pub(crate) fn plain(
    text: &SheetText,
    angles: &Angles,
    check: &crate::kind::Check,
) -> Option<Follow> {
    let counts = Counts {
        text,
        usual: &|_| None,
    };
    let work = first(&angles.works, check.of)?;
    let arbor = work.on.clone()?;
    let by = angles.stepped_by(&arbor)?.clone();
    let from = by.on.clone()?;
    let turns_a_blow = angles
        .blow(counts, &arbor)
        .filter(|turns| !turns.is_zero())?;
    let places = places(text, work)?;
    let mut a_blow = &turns_a_blow * &places;
    let (wanted, right) = match check.comes {
        Comes::One => (Wanted::One, a_blow.is_one()),
        Comes::Whole => (Wanted::Whole, a_blow.is_integer() && a_blow >= whole(1)),
        Comes::Places => (Wanted::Blows(small(&places)?), a_blow.is_one()),
        Comes::Cycle => {
            let steps = crate::role::places(text, &by)?;
            a_blow = &turns_a_blow * &steps;
            (Wanted::Blows(small(&steps)?), a_blow.is_one())
        }
    };
    let counted = |part: &PartName| {
        let teeth = known(text.count(&part.0, &part.1))?;
        let (arbor, part) = part.clone();
        let id = PlaceId { arbor, part };
        Some(CountedPart { id, teeth })
    };
    let steps = angles.trains.way(&from, &arbor)?;
    let parts = steps.iter().flat_map(|(near, far)| [near, far]);
    Some(Follow {
        of: check.of,
        by: by.role,
        between: parts.map(counted).collect::<Option<_>>()?,
        lifters: (from, small(&crate::role::places(text, &by)?)?),
        arbor,
        turns_a_blow,
        places: small(&places)?,
        wanted,
        right,
        miscounts: Vec::new(),
    })
}
