//! A draft looked through: every name resolved, every contradiction found, or every flaw told at once.

use crate::remarks::remarks;
use crate::train::{Forest, Link, Loop, grow};
use crate::*;
use quantity::{Degrees, Exact};

/// The name nearest to what was written, if it is near enough to be a slip of the pen: a third of the letters, as spell
/// checkers commonly allow (common practice, no source).
pub fn near<'a>(got: &str, names: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    // Anything much longer than a name is no slip of one, and comparing it would take long.
    if got.len() > LONGEST_NAME {
        return None;
    }
    let letters = got.chars().count();
    let allowed = letters.max(3) / 3;
    names
        .filter(|name| name.chars().count().abs_diff(letters) <= allowed)
        .map(|name| (strsim::damerau_levenshtein(got, name), name))
        .filter(|(distance, _)| *distance <= allowed)
        .min()
        .map(|(_, name)| name)
}

/// A draft under examination.
pub(crate) struct Checker<'a> {
    pub(crate) draft: &'a Draft,
    pub(crate) flaws: Vec<Flaw>,
    /// Meshes whose two parts were found, by index in the draft.
    pub(crate) links: Vec<(usize, Link, [PartId; 2])>,
    /// Whether some mesh could not be resolved, so that what hangs together is not known.
    torn: bool,
}

impl Movement {
    /// Checks a draft against itself.
    ///
    /// # Errors
    /// Every flaw found, in no particular order. A movement comes back only where the draft was read whole: a part
    /// or a place that is missing because it was written wrongly is a flaw already told, and gives an empty list.
    pub fn check(draft: &Draft) -> Result<(Movement, Vec<Remark>), Vec<Flaw>> {
        let mut checker = Checker::of(draft);
        let found = checker.look();
        checker.uncounted();
        if !checker.flaws.is_empty() {
            return Err(checker.flaws);
        }
        let movement = found
            .and_then(|found| checker.build(found))
            .ok_or(Vec::new())?;
        let mut remarks = remarks(&movement, draft);
        remarks.extend(checker.doubtful());
        Ok((movement, remarks))
    }
}

/// What is found of a draft beside its flaws.
pub(crate) struct Found {
    pub(crate) forest: Forest,
    pub(crate) runs: Vec<Turning>,
    pub(crate) moments: Vec<(String, Option<usize>)>,
    pub(crate) on: Vec<Option<usize>>,
    pub(crate) at: Vec<Option<usize>>,
    pub(crate) works: Option<Works>,
    pub(crate) frame: Option<Frame>,
    pub(crate) held: Vec<Vec<Option<HeldBy>>>,
}

impl<'a> Checker<'a> {
    pub(crate) fn of(draft: &'a Draft) -> Checker<'a> {
        Checker {
            draft,
            flaws: Vec::new(),
            links: Vec::new(),
            torn: false,
        }
    }

    /// Looks the whole draft through; nothing where it is too long for that.
    pub(crate) fn look(&mut self) -> Option<Found> {
        self.sizes();
        if !self.flaws.is_empty() {
            return None;
        }
        self.meshes();
        let read_at = self.read_at();
        let moments = self.moments(read_at);
        let on = self.witnesses();
        let works = self.works();
        let frame = self.frame();
        let held = self.held();
        let forest = self.forest(&moments);
        self.trains(&forest);
        let at = self.joined(&forest, &moments, &on);
        let runs = self.runs(&forest);
        Some(Found {
            forest,
            runs,
            moments,
            on,
            at,
            works,
            frame,
            held,
        })
    }
}

impl Checker<'_> {
    pub(crate) fn flaw(&mut self, place: DraftPlace, what: FlawKind) {
        self.flaws.push(Flaw { place, what });
    }

    fn sizes(&mut self) {
        let draft = self.draft;
        for (kind, got, most) in [
            (Plural::Arbors, draft.arbors.len(), MOST_ARBORS),
            (Plural::Meshes, draft.meshes.len(), MOST_MESHES),
            (Plural::Moments, draft.moments.len(), MOST_WITNESSES),
            (Plural::Witnesses, draft.witnesses.len(), MOST_WITNESSES),
            (Plural::Tracks, draft.works.tracks.len(), MOST_LEVERS),
            (Plural::Pins, draft.works.pins.len(), MOST_LEVERS),
            (Plural::Levers, draft.works.levers.len(), MOST_LEVERS),
            (Plural::Pillars, draft.frame.pillars.len(), MOST_LEVERS),
            (Plural::Pivots, draft.frame.pivots.len(), MOST_LEVERS),
            (Plural::Fixtures, draft.frame.fixtures.len(), MOST_LEVERS),
        ] {
            if got > most {
                self.flaw(DraftPlace::Sheet, FlawKind::TooMany { kind, got, most });
            }
        }
    }

    /// Which of some names is meant by `id`. A slip of the pen is told, and then read as what was meant, so that one slip is
    /// one flaw.
    pub(crate) fn meant<'n>(
        &mut self,
        place: DraftPlace,
        id: &str,
        names: &(impl Iterator<Item = &'n str> + Clone),
        unknown: impl FnOnce(String, Option<String>) -> FlawKind,
    ) -> Option<usize> {
        let find = |id: &str| names.clone().position(|name| name == id);
        if let Some(found) = find(id) {
            return Some(found);
        }
        let near = near(id, names.clone()).map(str::to_owned);
        let meant = near.as_deref().and_then(find);
        self.flaw(place, unknown(id.to_owned(), near));
        meant
    }

    /// The arbor meant by `id`.
    pub(crate) fn arbor(&mut self, place: DraftPlace, id: &str) -> Option<usize> {
        let arbors = &self.draft.arbors;
        let names = arbors.iter().map(|a| a.id.as_str());
        let unknown = |got, near| FlawKind::UnknownArbor { got, near };
        self.meant(place, id, &names, unknown)
    }

    fn part(&mut self, place: DraftPlace, name: &DraftPartName) -> Option<PartId> {
        let arbor = self.arbor(place, &name.arbor)?;
        if let Some(part) = self.misspelt(arbor, &name.part) {
            let what = FlawKind::MisspeltPart {
                arbor: self.draft.arbors[arbor].id.clone(),
                got: self.draft.arbors[arbor].parts[part].name.clone(),
                meant: name.part.clone(),
            };
            self.flaw(DraftPlace::Count(arbor, part), what);
            return Some(PartId {
                arbor: ArborId(arbor),
                part,
            });
        }
        let draft = &self.draft.arbors[arbor];
        let names = draft.parts.iter().map(|p| p.name.as_str());
        let unknown = |got, near| FlawKind::UnknownPart {
            arbor: draft.id.clone(),
            got,
            near,
        };
        let part = self.meant(place, &name.part, &names, unknown)?;
        Some(PartId {
            arbor: ArborId(arbor),
            part,
        })
    }

    /// The part of an arbor that is likelier misspelt than the mesh that names it: of the two spellings the mesh's stands oftener on the
    /// rest of the sheet. Nothing where the arbor has such a part, or none that is like it.
    fn misspelt(&self, arbor: usize, named: &str) -> Option<usize> {
        let parts = &self.draft.arbors[arbor].parts;
        let names = parts.iter().map(|part| part.name.as_str());
        if names.clone().any(|name| name == named) {
            return None;
        }
        let written = near(named, names.clone())?;
        let sides = (self.draft.meshes.iter()).flat_map(|mesh| [&mesh.driver, &mesh.driven]);
        let in_meshes = sides.flatten().map(|side| side.part.as_str());
        let on_arbors = self.draft.arbors.iter().flat_map(|arbor| &arbor.parts);
        let all = in_meshes.chain(on_arbors.map(|part| part.name.as_str()));
        let often = |spelling: &str| all.clone().filter(|name| *name == spelling).count();
        // Each stands there once by itself.
        (often(named) > often(written)).then(|| names.clone().position(|name| name == written))?
    }

    fn meshes(&mut self) {
        for (m, mesh) in self.draft.meshes.iter().enumerate() {
            let mut side = |side, name: &Option<DraftPartName>| {
                name.as_ref()
                    .and_then(|name| self.part(DraftPlace::MeshSide(m, side), name))
            };
            let driver = side(MeshSide::Driver, &mesh.driver);
            let driven = side(MeshSide::Driven, &mesh.driven);
            let (Some(driver), Some(driven)) = (driver, driven) else {
                self.torn = true;
                continue;
            };
            if driver.arbor == driven.arbor {
                let arbor = self.draft.arbors[driver.arbor.0].id.clone();
                self.flaw(DraftPlace::Mesh(m), FlawKind::OneArbor { arbor });
                self.torn = true;
                continue;
            }
            let parts = [driver, driven];
            let twin = self
                .links
                .iter()
                .find(|(_, _, p)| *p == parts || *p == [driven, driver]);
            if let Some(&(first, ..)) = twin {
                let first = DraftPlace::Mesh(first);
                self.flaw(DraftPlace::Mesh(m), FlawKind::MeshedTwice { first });
                continue;
            }
            if let Some(&(first, ..)) = self.links.iter().find(|(_, _, p)| p[1] == driven) {
                let what = FlawKind::DrivenTwice {
                    part: self.part_name(driven),
                    first: DraftPlace::MeshSide(first, MeshSide::Driven),
                };
                self.flaw(DraftPlace::MeshSide(m, MeshSide::Driven), what);
            }
            let teeth = |id: PartId| self.draft.arbors[id.arbor.0].parts[id.part].teeth;
            let link = Link {
                arbors: [driver.arbor.0, driven.arbor.0],
                teeth: [teeth(driver), teeth(driven)],
                internal: mesh.internal,
            };
            self.links.push((m, link, parts));
        }
    }

    pub(crate) fn part_name(&self, id: PartId) -> String {
        let arbor = &self.draft.arbors[id.arbor.0];
        format!("{}.{}", arbor.id, arbor.parts[id.part].name)
    }

    fn read_at(&mut self) -> Option<usize> {
        let id = self.draft.strike.as_ref()?.read_at.clone()?;
        self.arbor(DraftPlace::ReadAt, &id)
    }

    /// The arbor of each moment, the drop first where there is a strike; nothing where it is not known.
    fn moments(&mut self, read_at: Option<usize>) -> Vec<(String, Option<usize>)> {
        let mut moments = Vec::new();
        if self.draft.strike.is_some() || self.draft.strike_unread {
            moments.push((DROP.to_owned(), read_at));
        }
        let mut seen: Vec<(&str, usize)> = Vec::new();
        for (m, moment) in self.draft.moments.iter().enumerate() {
            let arbor = moment
                .arbor
                .as_ref()
                .and_then(|id| self.arbor(DraftPlace::MomentArbor(m), id));
            let Some(id) = moment.id.as_deref() else {
                continue;
            };
            if id == DROP {
                self.flaw(DraftPlace::MomentId(m), FlawKind::DropIsGiven);
            } else if let Some(&(_, first)) = seen.iter().find(|(other, _)| *other == id) {
                let what = FlawKind::DoubledMoment {
                    id: id.to_owned(),
                    first: DraftPlace::MomentId(first),
                };
                self.flaw(DraftPlace::MomentId(m), what);
            } else {
                moments.push((id.to_owned(), arbor));
            }
            seen.push((id, m));
        }
        moments
    }

    /// The arbor each witness is on, and all that a witness can get wrong by itself.
    fn witnesses(&mut self) -> Vec<Option<usize>> {
        let mut on = Vec::new();
        let mut seen: Vec<(&str, usize)> = Vec::new();
        for (w, witness) in self.draft.witnesses.iter().enumerate() {
            if let Some(id) = witness.id.as_deref() {
                match seen.iter().find(|(other, _)| *other == id) {
                    Some(&(_, first)) => {
                        let what = FlawKind::DoubledWitness {
                            id: id.to_owned(),
                            first: DraftPlace::WitnessId(first),
                        };
                        self.flaw(DraftPlace::WitnessId(w), what);
                    }
                    None => seen.push((id, w)),
                }
            }
            on.push(
                witness
                    .on
                    .as_ref()
                    .and_then(|id| self.arbor(DraftPlace::WitnessOn(w), id)),
            );
            self.window(w, witness);
        }
        on
    }

    fn window(&mut self, w: usize, witness: &DraftWitness) {
        let period = witness
            .repeats
            .map(|k| Degrees::deg(Exact::new(360.into(), k.get().into())));
        if let Some((from, to)) = &witness.window {
            let (from, to) = (from.clone(), to.clone());
            let width = &to - &from;
            if from >= to {
                self.flaw(DraftPlace::Window(w), FlawKind::UpsideDown { from, to });
            } else {
                if let Some(period) = period.clone().filter(|period| width > *period) {
                    self.flaw(DraftPlace::Window(w), FlawKind::TooWide { width, period });
                }
                if let Some(best) = witness.best.clone()
                    && !(from <= best && best <= to)
                {
                    self.flaw(
                        DraftPlace::Best(w),
                        FlawKind::BestOutside { best, from, to },
                    );
                }
            }
        }
        match (&witness.slot, &witness.tip) {
            (Some(slot), Some(tip)) => {
                if let Some(period) = period
                    && (tip >= slot || slot + tip >= period)
                {
                    let (slot, tip) = (slot.clone(), tip.clone());
                    self.flaw(
                        DraftPlace::Slot(w),
                        FlawKind::SlotMisfit { slot, tip, period },
                    );
                }
            }
            (None, None) => {}
            _ => self.flaw(DraftPlace::Slot(w), FlawKind::SlotWithoutTip),
        }
    }

    fn forest(&self, moments: &[(String, Option<usize>)]) -> Forest {
        let links = self.plain_links();
        let mut roots: Vec<usize> = moments.iter().filter_map(|(_, arbor)| *arbor).collect();
        roots.extend(self.undriven());
        grow(self.draft.arbors.len(), &links, &roots)
    }

    pub(crate) fn plain_links(&self) -> Vec<Link> {
        self.links.iter().map(|(_, link, _)| *link).collect()
    }

    /// Arbors that no mesh drives.
    fn undriven(&self) -> Vec<usize> {
        (0..self.draft.arbors.len())
            .filter(|a| !self.links.iter().any(|(_, link, _)| link.arbors[1] == *a))
            .collect()
    }

    fn trains(&mut self, forest: &Forest) {
        let draft = self.draft;
        if self.torn {
            return;
        }
        for (a, arbor) in draft.arbors.iter().enumerate() {
            if !self.links.iter().any(|(_, l, _)| l.arbors.contains(&a)) {
                let arbor = arbor.id.clone();
                self.flaw(DraftPlace::Arbor(a), FlawKind::InNoMesh { arbor });
            }
        }
        let undriven = self.undriven();
        for train in 0..forest.trains {
            let members: Vec<usize> = (0..draft.arbors.len())
                .filter(|a| forest.train[*a] == train)
                .collect();
            if members.len() < 2 {
                continue;
            }
            let mut roots = members.iter().filter(|a| undriven.contains(a));
            let Some(&first) = roots.next() else {
                let arbor = draft.arbors[members[0]].id.clone();
                self.flaw(
                    DraftPlace::Arbor(members[0]),
                    FlawKind::NoneUndriven { arbor },
                );
                continue;
            };
            for &other in roots {
                let what = FlawKind::TwoUndriven {
                    one: draft.arbors[first].id.clone(),
                    other: draft.arbors[other].id.clone(),
                    first: DraftPlace::Arbor(first),
                };
                self.flaw(DraftPlace::Arbor(other), what);
            }
        }
        let links = self.plain_links();
        for &l in &forest.closing {
            let Some(Loop { start, end, ways }) = forest.loop_of(&links, l) else {
                continue;
            };
            if ways[0].turns != ways[1].turns {
                let what = FlawKind::LoopOpen {
                    start: draft.arbors[start].id.clone(),
                    end: draft.arbors[end].id.clone(),
                    ways: Box::new(ways),
                };
                self.flaw(DraftPlace::Mesh(self.links[l].0), what);
            }
        }
    }

    /// The moment of each witness, by index; checks that a path of meshes joins them.
    fn joined(
        &mut self,
        forest: &Forest,
        moments: &[(String, Option<usize>)],
        on: &[Option<usize>],
    ) -> Vec<Option<usize>> {
        let mut all = Vec::new();
        for (w, witness) in self.draft.witnesses.iter().enumerate() {
            let id = witness.at.as_deref().unwrap_or(DROP);
            let at = moments.iter().position(|(m, _)| m == id);
            all.push(at);
            let Some(at) = at else {
                if id == DROP {
                    self.flaw(DraftPlace::WitnessAt(w), FlawKind::NoStrike);
                } else {
                    let near = near(id, moments.iter().map(|(m, _)| m.as_str())).map(str::to_owned);
                    let got = id.to_owned();
                    self.flaw(
                        DraftPlace::WitnessAt(w),
                        FlawKind::UnknownMoment { got, near },
                    );
                }
                continue;
            };
            if let (Some(on), Some(arbor), false) = (on[w], moments[at].1, self.torn)
                && forest.train[on] != forest.train[arbor]
            {
                let what = FlawKind::NotJoined {
                    on: self.draft.arbors[on].id.clone(),
                    moment: id.to_owned(),
                    arbor: self.draft.arbors[arbor].id.clone(),
                };
                self.flaw(DraftPlace::WitnessOn(w), what);
            }
        }
        all
    }

    /// Which way each arbor runs, from what the sheet says of at least one in each train.
    fn runs(&mut self, forest: &Forest) -> Vec<Turning> {
        let draft = self.draft;
        let mut runs = vec![Turning::Clockwise; draft.arbors.len()];
        if self.torn {
            return runs;
        }
        let with_root = forest.with_root(&self.plain_links());
        let as_root = |a: usize, turning: Turning| {
            if with_root[a] {
                turning
            } else {
                turning.reversed()
            }
        };
        for train in 0..forest.trains {
            let members = || (0..draft.arbors.len()).filter(|a| forest.train[*a] == train);
            if members().count() < 2 {
                continue;
            }
            let said: Vec<(usize, Turning)> = members()
                .filter_map(|a| draft.arbors[a].runs.map(|turning| (a, turning)))
                .collect();
            let Some(&(first, turning)) = said.first() else {
                if !members().any(|a| draft.arbors[a].runs_unread) {
                    let arbors: Vec<String> =
                        members().map(|a| draft.arbors[a].id.clone()).collect();
                    let place = members()
                        .next()
                        .map_or(DraftPlace::Sheet, DraftPlace::Arbor);
                    self.flaw(place, FlawKind::NoRuns { arbors });
                }
                continue;
            };
            let root = as_root(first, turning);
            for &(other, turning) in &said[1..] {
                if as_root(other, turning) != root {
                    let what = FlawKind::RunsContradict {
                        one: draft.arbors[first].id.clone(),
                        other: draft.arbors[other].id.clone(),
                        first: DraftPlace::Runs(first),
                    };
                    self.flaw(DraftPlace::Runs(other), what);
                }
            }
            for a in members() {
                runs[a] = as_root(a, root);
            }
        }
        runs
    }
}
