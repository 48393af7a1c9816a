//! What was measured of parts that mesh, in modules: they are of one module.

use super::puzzle::{Demand, Demanded, Maker, SPREADS, Size, Sized};
use super::rules::{LinearConstraint, Rule};
use movement::{Blank, Mesh, Movement, PartId, ToothForm};
use quantity::{Exact, Known, Length, Measure, Writable, to_f64};

impl Maker<'_> {
    /// Every measured size of parts that mesh, by the set of parts that share a module.
    pub(super) fn sizes(&self) -> Vec<Size> {
        let movement = self.movement;
        let mut group: Vec<(PartId, usize)> = movement
            .arbors()
            .flat_map(|(a, _)| movement.parts(a))
            .enumerate()
            .map(|(i, (id, _))| (id, i))
            .collect();
        let of = |group: &[(PartId, usize)], part| {
            group
                .iter()
                .find(|g| g.0 == part)
                .map_or(usize::MAX, |g| g.1)
        };
        for (_, mesh) in movement.meshes() {
            let (keep, drop) = (of(&group, mesh.driver), of(&group, mesh.driven));
            for g in group.iter_mut().filter(|g| g.1 == drop) {
                g.1 = keep;
            }
        }
        let mut sizes = Vec::new();
        for &(part, in_group) in &group {
            let key = format!("{}_outside_mm", movement.part(part).name);
            let arbor = movement.arbor(part.arbor);
            if let Some(size) = arbor.measured(&key) {
                let mut weights = vec![0.0; self.blanks.len()];
                let plus = self.add(&mut weights, part, 1.0);
                sizes.push(Size {
                    of: Sized::Outside(part),
                    group: in_group,
                    measured: calliper(size, arbor.spread(&key)),
                    weights,
                    plus,
                    tips: Some(part),
                });
            }
        }
        for (id, mesh) in movement.meshes() {
            if let Some(size) = mesh.measured("centre_mm") {
                let mut weights = vec![0.0; self.blanks.len()];
                let [ring, pinion] = larger_first(movement, self.blanks, mesh);
                let far = if mesh.internal { -0.5 } else { 0.5 };
                let plus = self.add(&mut weights, ring, 0.5) + self.add(&mut weights, pinion, far);
                sizes.push(Size {
                    of: Sized::Centre(id),
                    group: of(&group, mesh.driver),
                    measured: calliper(size, mesh.spread("centre_mm")),
                    weights,
                    plus,
                    tips: None,
                });
            }
        }
        sizes
    }

    /// Adds a part's count: to the weights where it is a blank, else it is given back.
    fn add(&self, weights: &mut [f64], part: PartId, times: f64) -> f64 {
        match self.blanks.iter().position(|blank| blank.part == part) {
            Some(i) => {
                weights[i] += times;
                0.0
            }
            None => times * f64::from(self.movement.part(part).teeth.get()),
        }
    }

    /// Two sizes of one module are to each other as their numbers of modules: two sums that must not be less than nothing.
    pub(super) fn pairs(&mut self, sizes: &[Size]) {
        for (i, a) in sizes.iter().enumerate() {
            for b in sizes[..i].iter().filter(|b| b.group == a.group) {
                let blank = |s: &Size| s.weights.iter().any(|w| *w != 0.0);
                if !blank(a) && !blank(b) {
                    continue;
                }
                let part = |s: &Size| s.measured.spread.base() / s.measured.value.base();
                let ratio = a.measured.value.base() / b.measured.value.base();
                let off = SPREADS * part(a).hypot(part(b));
                let tips = |s: &Size| self.tips(s);
                let (a_tips, b_tips) = (tips(a), tips(b));
                let rules = vec![
                    line(a, a_tips.1, ratio * (1.0 - off), b, b_tips.0),
                    minus(line(a, a_tips.0, ratio * (1.0 + off), b, b_tips.1)),
                ];
                let what = Demanded::Sizes(a.of, b.of);
                self.demands.push(Demand {
                    what,
                    rules,
                    aim: None,
                });
            }
        }
    }

    /// How many modules the tips of a part may stand out, both sides together.
    fn tips(&self, size: &Size) -> (f64, f64) {
        let Some(part) = size.tips else {
            return (0.0, 0.0);
        };
        let blank = self.blanks.iter().any(|b| b.part == part);
        let teeth = self.movement.part(part).teeth.get();
        let lantern = self.movement.part(part).form == ToothForm::Lantern;
        tips(lantern, (!blank).then_some(teeth)).span
    }
}

/// How far the tips of a part stand out over its pitch circle, both sides together, in modules.
pub(crate) struct Tips {
    /// At least and at most.
    pub(crate) span: (f64, f64),
    /// In the middle, and one standard deviation.
    pub(crate) usual: (f64, f64),
}

/// Wheels of clocks 1 to 1.6 modules on each side, leaves 0.5 to 1.1, a lantern half a trundle (ours, from the forms in
/// The Modern Clock, pp. 212-240; outside = (N + 2) / pitch on p. 216 is the least of a wheel).
pub(crate) fn tips(lantern: bool, teeth: Option<u16>) -> Tips {
    const LEAVES: u16 = 16;
    match teeth {
        _ if lantern => Tips {
            span: (0.8, 1.6),
            usual: (1.2, 0.2),
        },
        Some(teeth) if teeth <= LEAVES => Tips {
            span: (1.0, 2.2),
            usual: (1.6, 0.25),
        },
        Some(_) => Tips {
            span: (1.9, 3.3),
            usual: (2.6, 0.35),
        },
        None => Tips {
            span: (1.0, 3.3),
            usual: (2.3, 0.5),
        },
    }
}

/// A size in millimetres on a sheet, and how surely it is known, where that stands there too.
fn calliper(size: &Exact, spread: Option<&Exact>) -> Known<Length> {
    let [size, spread] = [Some(size), spread].map(|mm| mm.map(|mm| Length::mm(to_f64(mm))));
    let size = size.unwrap_or(Length::mm(0.0));
    match spread {
        Some(spread) => Known::new(size, spread),
        None => Known::measured(size, Length::USUAL),
    }
}

/// The ring first, where a mesh is internal.
fn larger_first(movement: &Movement, blanks: &[Blank], mesh: &Mesh) -> [PartId; 2] {
    let teeth = |part| movement.part(part).teeth;
    let blank = |part| blanks.iter().any(|b| b.part == part);
    let known = !blank(mesh.driver) && !blank(mesh.driven);
    if mesh.internal && known && teeth(mesh.driven) > teeth(mesh.driver) {
        [mesh.driven, mesh.driver]
    } else {
        [mesh.driver, mesh.driven]
    }
}

/// Sums are kept to a millionth of a module.
const FINE: f64 = 1e6;

/// `a + tips ≥ ratio · (b + tips)`, in millionths.
fn line(a: &Size, a_tips: f64, ratio: f64, b: &Size, b_tips: f64) -> Rule {
    let fine = |x: f64| {
        let millionths = Exact::from_float((x * FINE).round());
        // Sizes of clocks are a few hundred modules.
        millionths
            .and_then(|n| i64::try_from(n.to_integer()).ok())
            .unwrap_or(0)
    };
    Rule::Line(LinearConstraint {
        weights: (a.weights.iter().zip(&b.weights))
            .map(|(a, b)| fine(a - ratio * b))
            .collect(),
        plus: fine(a.plus + a_tips - ratio * (b.plus + b_tips)),
    })
}

/// The other way round: what had to be at least nothing must be at most that.
fn minus(rule: Rule) -> Rule {
    match rule {
        Rule::Line(line) => Rule::Line(LinearConstraint {
            weights: line.weights.iter().map(|w| -w).collect(),
            plus: -line.plus,
        }),
        other => other,
    }
}
