//! A photograph of a movement: its centres as they were touched, how it lies on the plate by them, and the places that follow.

use crate::lying::{on_plate, set_about, set_place};
use crate::{Lying, PlaceFault, Placeable, PlacedThing, PlacingFault};
use draw::{Layout, Mm, OnPlate, SamePoint, Similarity};
use kinds::Described;
use movement::{Movement, Plate};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What is touched on a photograph beside centres.
pub const RULE_FROM: &str = "rule.from";
/// The other end of a distance that is known.
pub const RULE_TO: &str = "rule.to";
/// Where up is.
pub const WAY_UP: &str = "way.up";

/// Nearer to each other than this, in parts of the picture's width, two touches are one.
const SAME_TOUCH: f64 = 0.004;

/// What is minded of a photograph of a job. Places on it are parts of its width, from its upper left corner to the right and down.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Photograph {
    /// The number of the entry that shows it.
    pub entry: usize,
    /// Whether it is of the front plate; else of the back.
    pub front: bool,
    /// Its height, as a part of its width.
    pub high: f64,
    /// What was touched, by [`Placeable::word`] and the words of this file.
    pub touched: BTreeMap<String, [f64; 2]>,
    /// What cannot be seen on it.
    pub unseen: Vec<String>,
    /// The distance of the two ends that were touched, in millimetres.
    pub rule_mm: Option<f64>,
    /// How much of it is seen under the drawing, in hundredths.
    pub shown: u8,
}

/// What the size of a photograph is known from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ScaleFrom {
    /// Places that are on the sheet.
    Places,
    /// Distances of arbors that were measured.
    Measured,
    /// Two ends that were touched, and their distance.
    Rule,
    /// The drawing, which nobody measured: about.
    Drawn,
}

/// What a photograph comes to.
#[derive(Debug, Clone, PartialEq)]
pub struct Photographed {
    /// What its size is known from.
    pub scale: ScaleFrom,
    /// The places that follow, of what was touched and has none yet; of all that was touched, where it is taken anew.
    pub places: Vec<(Placeable, OnPlate)>,
    /// Of more than two that were touched and have a place already: which is farthest from it, and how far.
    pub worst: Option<(Placeable, Mm)>,
}

impl Photograph {
    /// One of which nothing was touched yet.
    pub fn new(entry: usize, plate: Plate, high: f64) -> Photograph {
        Photograph {
            entry,
            front: plate == Plate::Front,
            high,
            touched: BTreeMap::new(),
            unseen: Vec::new(),
            rule_mm: None,
            shown: 60,
        }
    }

    /// The plate that it is of.
    pub fn plate(&self) -> Plate {
        match self.front {
            true => Plate::Front,
            false => Plate::Back,
        }
    }

    /// Minds a touch.
    ///
    /// # Errors
    /// It is off the picture, or on the very spot of another centre with whose wheel it meshes.
    pub fn touch(&mut self, what: &str, at: [f64; 2]) -> Result<(), PlaceFault> {
        let on_it = (0.0..=1.0).contains(&at[0]) && (0.0..=self.high).contains(&at[1]);
        if !on_it {
            return Err(PlaceFault::OffPlate);
        }
        let near = |other: &[f64; 2]| (other[0] - at[0]).hypot(other[1] - at[1]) < SAME_TOUCH;
        let arbor = |word: &str| matches!(Placeable::of_word(word), Some(Placeable::Arbor(_)));
        let mut others = (self.touched.iter()).filter(|(word, _)| *word != what && arbor(word));
        if arbor(what)
            && let Some((other, _)) = others.find(|(_, other)| near(other))
        {
            let id = |word: &str| word.trim_start_matches("arbor.").to_owned();
            return Err(PlaceFault::OneSpot(id(what), id(other)));
        }
        self.touched.insert(what.to_owned(), at);
        self.unseen.retain(|unseen| unseen != what);
        Ok(())
    }

    /// Minds that something cannot be seen on it.
    pub fn skip(&mut self, what: &str) {
        self.touched.remove(what);
        if !self.unseen.iter().any(|unseen| unseen == what) {
            self.unseen.push(what.to_owned());
        }
    }

    /// A place on the plate as it is seen on this photograph: to the right and downward.
    fn seen(&self, movement: &Movement, at: OnPlate) -> [f64; 2] {
        let mirrored = self.plate() != movement.seen_from();
        let right = at.right.mm();
        [if mirrored { -right } else { right }, -at.up.mm()]
    }

    fn unseen_again(&self, movement: &Movement, [right, down]: [f64; 2]) -> Option<OnPlate> {
        let mirrored = self.plate() != movement.seen_from();
        OnPlate::of(if mirrored { -right } else { right }, -down)
    }

    /// Those of some things that were touched, with where they are on the picture and on the plate.
    fn same<'t>(
        &self,
        movement: &Movement,
        things: impl Iterator<Item = &'t PlacedThing>,
    ) -> Vec<(&'t PlacedThing, SamePoint)> {
        things
            .filter_map(|thing| {
                let from = *self.touched.get(&thing.what.word())?;
                let to = self.seen(movement, thing.at);
                Some((thing, SamePoint { from, to }))
            })
            .collect()
    }

    /// What it comes to; `anew`, as if nothing that was touched on it had a place yet.
    ///
    /// # Errors
    /// Too few were touched to know how large it is, or they hang by nothing that has a place.
    pub fn worked_out(&self, lying: &Lying, anew: bool) -> Result<Photographed, PlaceFault> {
        let movement = lying.movement();
        let touched = self.same(movement, lying.things.iter());
        let said: Vec<_> = touched
            .iter()
            .filter(|(thing, _)| thing.said)
            .copied()
            .collect();
        let points = |of: &[(&PlacedThing, SamePoint)]| -> Vec<SamePoint> {
            of.iter().map(|(_, point)| *point).collect()
        };
        let by_places = match anew {
            true => None,
            false => Similarity::fit(&points(&said)),
        };
        let (lies, scale) = match by_places {
            Some(lies) => (lies, ScaleFrom::Places),
            None => {
                let (scale, from) = (self.scale(lying)).ok_or(PlaceFault::TooFew(touched.len()))?;
                let pinned = match (said.first(), touched.first()) {
                    (Some((_, pinned)), _) => *pinned,
                    (None, Some((_, first))) if !lying.is_placed() => SamePoint {
                        from: first.from,
                        to: [0.0, 0.0],
                    },
                    (None, Some(_)) => return Err(PlaceFault::Adrift),
                    (None, None) => return Err(PlaceFault::TooFew(0)),
                };
                (Similarity::turning(scale, self.way_up(), pinned), from)
            }
        };
        let worst = match (scale, said.len()) {
            (ScaleFrom::Places, 3..) => said
                .iter()
                .map(|(thing, point)| {
                    let [x, y] = lies.of(point.from);
                    (thing, (x - point.to[0]).hypot(y - point.to[1]))
                })
                .max_by(|a, b| a.1.total_cmp(&b.1))
                .and_then(|(thing, off)| Some((thing.what.clone(), Mm::of(off)?))),
            _ => None,
        };
        let places = touched
            .iter()
            .filter(|(thing, _)| anew || !thing.said)
            .filter_map(|(thing, point)| {
                let at = self.unseen_again(movement, lies.of(point.from))?;
                Some((thing.what.clone(), at))
            })
            .collect();
        Ok(Photographed {
            scale,
            places,
            worst,
        })
    }

    /// By how many radians it is turned clockwise so that up is up: as it is, where nobody said.
    fn way_up(&self) -> f64 {
        let Some([x, y]) = self.touched.get(WAY_UP) else {
            return 0.0;
        };
        let (right, up) = (x - 0.5, self.high / 2.0 - y);
        -right.atan2(up)
    }

    /// Millimetres to the width of the picture, and what they are known from.
    fn scale(&self, lying: &Lying) -> Option<(f64, ScaleFrom)> {
        let movement = lying.movement();
        let between = |a: &[f64; 2], b: &[f64; 2]| (a[0] - b[0]).hypot(a[1] - b[1]);
        let on_picture = |mesh: &movement::Mesh| {
            let [a, b] = [mesh.driver, mesh.driven].map(|part| {
                let id = movement.arbor(part.arbor).id.clone();
                self.touched.get(&Placeable::Arbor(id).word())
            });
            Some(between(a?, b?)).filter(|apart| *apart > SAME_TOUCH)
        };
        // By all of them together, in least squares.
        let by = |of: Vec<(f64, f64)>| {
            let square: f64 = of.iter().map(|(picture, _)| picture * picture).sum();
            let both: f64 = of.iter().map(|(picture, mm)| picture * mm).sum();
            (square > 0.0 && both > 0.0).then(|| both / square)
        };
        let measured = (lying.centres.iter())
            .filter_map(|(id, mm)| Some((on_picture(movement.mesh(*id))?, mm.mm())));
        if let Some(scale) = by(measured.collect()) {
            return Some((scale, ScaleFrom::Measured));
        }
        if let (Some(from), Some(to), Some(mm)) = (
            self.touched.get(RULE_FROM),
            self.touched.get(RULE_TO),
            self.rule_mm,
        ) && between(from, to) > SAME_TOUCH
        {
            return Some((mm / between(from, to), ScaleFrom::Rule));
        }
        let drawn = movement.meshes().filter_map(|(_, mesh)| {
            let [a, b] = [mesh.driver, mesh.driven].map(|part| lying.layout.centre(part.arbor));
            let apart = (a.0.mm() - b.0.mm()).hypot(a.1.mm() - b.1.mm());
            Some((on_picture(mesh)?, apart))
        });
        by(drawn.collect()).map(|scale| (scale, ScaleFrom::Drawn))
    }

    /// How it lies under a drawing of the movement: brought onto the centres that were touched, as they are drawn. Nothing where fewer
    /// than two were.
    pub fn lies(&self, movement: &Movement, layout: &Layout) -> Option<Similarity> {
        let touched = |word: Placeable| self.touched.get(&word.word()).copied();
        let arbors = movement.arbors().filter_map(|(id, arbor)| {
            let (right, down) = layout.centre(id);
            let at = OnPlate::of(right.mm(), -down.mm())?;
            let from = touched(Placeable::Arbor(arbor.id.clone()))?;
            Some((arbor.at.is_some(), from, at))
        });
        let frame = movement.frame();
        let pillars = frame.pillars.iter().filter_map(|pillar| {
            let from = touched(Placeable::Pillar(pillar.id.clone()))?;
            Some((true, from, on_plate(&pillar.at)?))
        });
        let fixtures = frame.fixtures.iter().filter_map(|fixture| {
            let from = touched(Placeable::Fixture(fixture.id.clone()))?;
            Some((true, from, on_plate(&fixture.at)?))
        });
        let all: Vec<_> = arbors.chain(pillars).chain(fixtures).collect();
        let fit = |said: bool| {
            let points = all.iter().filter(|(own, _, _)| *own || !said);
            let points: Vec<SamePoint> = points
                .map(|(_, from, at)| SamePoint {
                    from: *from,
                    to: self.seen(movement, *at),
                })
                .collect();
            Similarity::fit(&points)
        };
        fit(true).or_else(|| fit(false))
    }

    /// Puts the places that follow from it on the sheet.
    ///
    /// # Errors
    /// As [`worked_out`](Photograph::worked_out), or nothing follows.
    pub fn taken(
        &self,
        lying: &Lying,
        described: &mut Described,
        anew: bool,
    ) -> Result<(), PlacingFault> {
        let found = self.worked_out(lying, anew)?;
        if found.places.is_empty() {
            return Err(PlaceFault::TooFew(self.touched.len()).into());
        }
        for (what, at) in &found.places {
            set_place(described, what, *at)?;
        }
        match found.scale {
            ScaleFrom::Places => {}
            ScaleFrom::Drawn => set_about(described, true)?,
            ScaleFrom::Measured | ScaleFrom::Rule => set_about(described, false)?,
        }
        Ok(())
    }
}
