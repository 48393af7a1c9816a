//! Usual counts: those of the pattern, altered as little as makes all come out with what is counted already.

use crate::Kind;
use crate::angles::Angles;
use crate::drive::usual_drive;
use crate::follows::plain;
use crate::kind::{Check, Comes};
use crate::places::{PartLook, known, look};
use crate::train::{PartName, Trains};
use num_traits::{One, Zero};
use quantity::{Exact, Teeth, fraction, whole};
use sheet::edit::{CountWritten, SheetText};

/// What is usual where the pattern has nothing: from memory.
fn plainly(look: PartLook) -> i64 {
    match look {
        PartLook::Wheel => 64,
        PartLook::Pinion | PartLook::Lantern => 8,
        PartLook::Pins => 1,
    }
}

/// Counts that may be usual for a part with such a count: from memory.
fn range(part: &FilledPart) -> std::ops::RangeInclusive<i64> {
    const FEW: u16 = 18;
    match (part.look, part.usual) {
        (PartLook::Pins, _) => 1..=3,
        (PartLook::Pinion | PartLook::Lantern, _) => 6..=32,
        (PartLook::Wheel, Some(usual)) if usual.get() < FEW => 6..=40,
        (PartLook::Wheel, _) => 20..=160,
    }
}

/// The usual count of every part of a text.
pub(crate) fn hints(
    text: &SheetText,
    kind: &Kind,
    printed: &dyn Fn(&PartName) -> Option<Teeth>,
) -> Vec<(PartName, Teeth)> {
    let trains = Trains::of(text);
    let mut filled = Filled {
        text: text.clone(),
        parts: Vec::new(),
    };
    for arbor in &trains.arbors {
        for part in trains.counted(text, arbor) {
            let look = look(text, &trains, &part);
            let usual = printed(&part)
                .or_else(|| usual_drive(text, kind, &part))
                .or_else(|| Teeth::pins(plainly(look)));
            let counted = known(text.count(&part.0, &part.1));
            if let Some(teeth) = counted.or(usual) {
                filled.set(&part, teeth);
            }
            filled.parts.push(FilledPart {
                free: counted.is_none(),
                counted: counted.is_some(),
                look,
                usual,
                part,
            });
        }
    }
    let angles = Angles::of(&filled.text, kind);
    for check in &kind.checks {
        filled.bring_out(&angles, check);
    }
    let usual = filled.parts.iter().filter_map(|part| {
        let own = (!part.counted).then(|| filled.count(&part.part)).flatten();
        Some((part.part.clone(), own.or(part.usual)?))
    });
    usual.collect()
}

struct FilledPart {
    part: PartName,
    look: PartLook,
    /// Whether it is neither counted nor needed as it is by what comes out already.
    free: bool,
    usual: Option<Teeth>,
    counted: bool,
}

struct Filled {
    text: SheetText,
    parts: Vec<FilledPart>,
}

/// A count to be altered, by which power of itself it takes part, and what it is.
struct Lever<'p> {
    part: &'p FilledPart,
    upward: bool,
    is: i64,
}

impl Lever<'_> {
    /// What so many teeth instead multiply a ratio by.
    fn by(&self, teeth: i64) -> Exact {
        match self.upward {
            true => fraction(teeth, self.is),
            false => fraction(self.is, teeth),
        }
    }

    /// The teeth by which a ratio is multiplied so, where that is a usual count.
    fn for_ratio(&self, by: &Exact) -> Option<i64> {
        let teeth = match self.upward {
            true => whole(self.is) * by,
            false => whole(self.is) / by,
        };
        let teeth = teeth
            .is_integer()
            .then(|| i64::try_from(teeth.to_integer()).ok())??;
        range(self.part).contains(&teeth).then_some(teeth)
    }

    /// How much such a count is otherwise than this one, as a part of it.
    fn otherwise(&self, teeth: i64) -> Exact {
        fraction((teeth - self.is).abs(), self.is)
    }
}

impl Filled {
    fn set(&mut self, (arbor, part): &PartName, teeth: Teeth) {
        // A part that was just found there is there.
        let _ = self.text.set_count(arbor, part, CountWritten::Known(teeth));
    }

    fn count(&self, (arbor, part): &PartName) -> Option<Teeth> {
        known(self.text.count(arbor, part))
    }

    /// Alters one free count, or two, so that a check of the kind comes out; what is needed for it is then free no longer.
    fn bring_out(&mut self, angles: &Angles, check: &Check) {
        let Some(follow) = plain(&self.text, angles, check) else {
            return;
        };
        let between: Vec<(PartName, bool)> = (follow.between.iter().enumerate())
            .map(|(n, part)| ((part.id.arbor.clone(), part.id.part.clone()), n % 2 == 0))
            .collect();
        if !follow.right {
            let places = match check.comes {
                Comes::Cycle => follow.lifters.1,
                _ => follow.places,
            };
            let comes = &follow.turns_a_blow * whole(places.into());
            for (part, teeth) in self.altered(&comes, check.comes, &between) {
                self.set(&part, teeth);
            }
        }
        let right = plain(&self.text, angles, check).is_some_and(|follow| follow.right);
        for part in self.parts.iter_mut().filter(|_| right) {
            part.free &= !between.iter().any(|(needed, _)| *needed == part.part);
        }
    }

    /// The counts that make a ratio come out which comes to so much now: the nearest to what they are.
    fn altered(
        &self,
        comes: &Exact,
        wanted: Comes,
        between: &[(PartName, bool)],
    ) -> Vec<(PartName, Teeth)> {
        let levers: Vec<Lever<'_>> = (between.iter().rev())
            .filter_map(|(part, upward)| {
                let own = self
                    .parts
                    .iter()
                    .find(|own| own.part == *part && own.free)?;
                Some(Lever {
                    part: own,
                    upward: *upward,
                    is: self.count(part)?.get().into(),
                })
            })
            .collect();
        let goals = goals(comes, wanted);
        let mut best: Option<(Exact, Vec<(usize, i64)>)> = None;
        let mut take = |cost: Exact, counts: Vec<(usize, i64)>| {
            if best.as_ref().is_none_or(|(least, _)| cost < *least) {
                best = Some((cost, counts));
            }
        };
        for goal in &goals {
            for (n, lever) in levers.iter().enumerate() {
                if let Some(teeth) = lever.for_ratio(goal) {
                    take(lever.otherwise(teeth), vec![(n, teeth)]);
                }
            }
        }
        for goal in &goals {
            for (n, one) in levers.iter().enumerate() {
                for (m, other) in levers.iter().enumerate().skip(n + 1) {
                    for teeth in range(one.part) {
                        let left = goal / one.by(teeth);
                        if let Some(second) = other.for_ratio(&left) {
                            // Two counts that are otherwise are a little worse than one that is as much.
                            let cost = one.otherwise(teeth) + other.otherwise(second);
                            take(cost + fraction(1, 10), vec![(n, teeth), (m, second)]);
                        }
                    }
                }
            }
        }
        let counts = best.map_or_else(Vec::new, |(_, counts)| counts);
        let named = counts
            .into_iter()
            .filter_map(|(n, teeth)| Some((levers[n].part.part.clone(), Teeth::pins(teeth)?)));
        named.collect()
    }
}

/// What a ratio may be multiplied by so that it comes out.
fn goals(comes: &Exact, wanted: Comes) -> Vec<Exact> {
    if comes.is_zero() {
        return Vec::new();
    }
    match wanted {
        Comes::Whole => {
            let near = comes.round().max(Exact::one());
            let goals = [0, 1, -1, 2, -2].map(|off| &near + whole(off));
            let goals = goals.into_iter().filter(|goal| *goal >= Exact::one());
            goals.map(|goal| goal / comes).collect()
        }
        _ => vec![Exact::one() / comes],
    }
}
