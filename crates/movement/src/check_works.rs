//! The works of the strike under examination: every name resolved, every form possible. Whether they strike is not asked
//! here.

use crate::check::Checker;
use crate::*;
use quantity::{Degrees, Exact, whole};

/// Names already met, with their index.
type Known = Vec<(String, usize)>;

fn find(known: &[(String, usize)], id: &str) -> Option<usize> {
    known.iter().find(|(name, _)| name == id).map(|(_, i)| *i)
}

impl Checker<'_> {
    /// The works, where nothing of them is missing.
    pub(crate) fn works(&mut self) -> Option<Works> {
        let draft = &self.draft.works;
        let tracks =
            self.names_of_kind(NamedWork::Track, draft.tracks.iter().map(|t| t.id.as_ref()));
        let pins = self.names_of_kind(NamedWork::Pin, draft.pins.iter().map(|p| p.id.as_ref()));
        self.names_of_kind(NamedWork::Lever, draft.levers.iter().map(|l| l.id.as_ref()));
        let mut lever_arbors: Vec<String> = Vec::new();
        let on = (draft.levers.iter()).filter_map(|lever| lever.on.clone());
        for name in on.chain(draft.rack.as_ref().map(|_| RACK.to_owned())) {
            if !lever_arbors.contains(&name) {
                lever_arbors.push(name);
            }
        }
        let made_tracks: Vec<_> = (draft.tracks.iter().enumerate())
            .map(|(t, track)| self.track(t, track))
            .collect();
        let made_pins: Vec<_> = (draft.pins.iter().enumerate())
            .map(|(p, pin)| {
                let on = pin.on.as_ref();
                let on = on.and_then(|on| self.arbor(DraftPlace::Pin(p, "on"), on));
                Some(Pin {
                    id: pin.id.clone()?,
                    on: ArborId(on?),
                    places: pin.places.clone()?,
                    held_by: pin.held_by,
                })
            })
            .collect();
        let names = Names {
            tracks: &tracks,
            pins: &pins,
            lever_arbors: &lever_arbors,
        };
        let levers: Vec<_> = (draft.levers.iter().enumerate())
            .map(|(l, lever)| self.lever(l, lever, &names))
            .collect();
        let rack = draft.rack.as_ref().map(|rack| self.rack(rack, &names));
        let works = Works {
            tracks: made_tracks.into_iter().collect::<Option<_>>()?,
            pins: made_pins.into_iter().collect::<Option<_>>()?,
            lever_arbors,
            levers: levers.into_iter().collect::<Option<_>>()?,
            rack: match rack {
                Some(rack) => Some(rack?),
                None => None,
            },
            chime: draft.chime.clone(),
            usual: usual_of(draft),
            measured: measured_of(draft),
        };
        self.lifted(&works);
        Some(works)
    }

    /// The names of one kind, doubled ones told.
    fn names_of_kind<'d>(
        &mut self,
        kind: NamedWork,
        ids: impl Iterator<Item = Option<&'d String>>,
    ) -> Known {
        let place = |i| match kind {
            NamedWork::Track => DraftPlace::Track(i, "id"),
            NamedWork::Pin => DraftPlace::Pin(i, "id"),
            NamedWork::Pillar => DraftPlace::Pillar(i),
            NamedWork::Pivot => DraftPlace::Pivot(i),
            NamedWork::Fixture => DraftPlace::Fixture(i),
            NamedWork::Lever | NamedWork::LeverArbor => DraftPlace::Lever(i, "id"),
        };
        let mut known = Known::new();
        for (i, id) in ids.enumerate() {
            let Some(id) = id else { continue };
            match find(&known, id) {
                Some(first) => {
                    let id = id.clone();
                    let first = place(first);
                    self.flaw(place(i), FlawKind::DoubledId { kind, id, first });
                }
                None => known.push((id.clone(), i)),
            }
        }
        known
    }

    /// The index of what is meant by `id`.
    fn named<'n>(
        &mut self,
        place: DraftPlace,
        kind: NamedWork,
        id: &str,
        names: &(impl Iterator<Item = &'n str> + Clone),
    ) -> Option<usize> {
        let unknown = |got, near| FlawKind::UnknownId { kind, got, near };
        self.meant(place, id, names, unknown)
    }

    fn track(&mut self, t: usize, track: &DraftTrack) -> Option<Track> {
        let carrier = match track.carrier.as_ref() {
            Some(Carrier::Arbor(on)) => {
                let on = self.arbor(DraftPlace::Track(t, "on"), on);
                on.map(|on| Carrier::Arbor(ArborId(on)))
            }
            Some(Carrier::Hours(hours)) => Some(Carrier::Hours(hours.clone())),
            None => None,
        };
        if let Some(shape) = &track.shape {
            self.shape(t, shape);
        }
        Some(Track {
            id: track.id.clone()?,
            carrier: carrier?,
            shape: track.shape.clone()?,
            held_by: track.held_by,
        })
    }

    /// Whether a form leaves room for all that is on it.
    fn shape(&mut self, t: usize, shape: &Shape) {
        let turn = Degrees::turns(&whole(1));
        match shape {
            Shape::Counts { counts, cut } => {
                let places: i64 = counts.iter().map(|&c| i64::from(c)).sum();
                let room = &turn * &quantity::fraction(1, places.max(1));
                self.cut(t, cut, room);
            }
            Shape::Notches { middles, cut } => {
                let room = least_gap(middles);
                self.cut(t, cut, room);
            }
            Shape::Lobes {
                places,
                rise,
                hold,
                heights,
            } => {
                let takes = rise + hold;
                let room = least_gap(places);
                if takes >= room {
                    self.flaw(
                        DraftPlace::Track(t, "rise_deg"),
                        FlawKind::NoRoom { takes, room },
                    );
                }
                if !heights.is_empty() && heights.len() != places.len() {
                    let (got, places) = (heights.len(), places.len());
                    let what = FlawKind::HeightsMiscounted { got, places };
                    self.flaw(DraftPlace::Track(t, "heights"), what);
                }
            }
            Shape::Steps { .. } => {}
            Shape::Outline(points) => {
                let mut last = Degrees::zero();
                for (at, _) in points {
                    if *at < last || *at >= turn {
                        let what = FlawKind::OutlineBack { at: at.clone() };
                        self.flaw(DraftPlace::Track(t, "outline"), what);
                        break;
                    }
                    last = at.clone();
                }
            }
        }
    }

    fn cut(&mut self, t: usize, cut: &Cut, room: Degrees) {
        let takes = &cut.width + &cut.ramp;
        if takes >= room {
            self.flaw(
                DraftPlace::Track(t, "slot_deg"),
                FlawKind::NoRoom { takes, room },
            );
        }
    }

    fn lever(&mut self, l: usize, lever: &DraftLever, names: &Names<'_>) -> Option<Lever> {
        let place = |key| DraftPlace::Lever(l, key);
        let rack = self.draft.works.rack.is_some();
        let on_rack = lever.on.as_deref() == Some(RACK);
        if on_rack && !rack {
            self.flaw(place("on"), FlawKind::NoRack);
        }
        let does = match lever.does.as_ref()? {
            DraftDoes::Feels {
                felt,
                tip,
                lift,
                locks,
                strikes,
            } => {
                if on_rack && rack {
                    self.flaw(place("on"), FlawKind::RackDriven);
                }
                let felt = felt.as_deref().and_then(|felt| {
                    if felt == RACK {
                        if !rack {
                            self.flaw(place("feels"), FlawKind::NoRack);
                        }
                        return Some(Felt::Rack);
                    }
                    let t = self.named(place("feels"), NamedWork::Track, felt, &names.tracks())?;
                    self.snail_or_not(place("feels"), names.tracks[t].1, false);
                    Some(Felt::Track(TrackId(names.tracks[t].1)))
                });
                Does::Feels(Feels {
                    felt: felt?,
                    tip: tip.clone(),
                    lift: lift.clone()?,
                    locks: *locks,
                    strikes: strikes.clone(),
                })
            }
            DraftDoes::Stops {
                pin,
                reach,
                further,
            } => {
                let pin = pin.as_deref();
                let pin = pin
                    .and_then(|pin| self.named(place("stops"), NamedWork::Pin, pin, &names.pins()));
                Does::Stops(Stops {
                    pin: PinId(names.pins[pin?].1),
                    reach: reach.clone()?,
                    further: further.clone(),
                })
            }
            DraftDoes::Lifts { arbor, from } => {
                let arbor = arbor.as_deref().and_then(|arbor| {
                    if arbor == RACK && rack {
                        self.flaw(place("lifts"), FlawKind::RackDriven);
                    }
                    self.named(
                        place("lifts"),
                        NamedWork::LeverArbor,
                        arbor,
                        &names.arbors(),
                    )
                });
                Does::Lifts(Lifts {
                    arbor: LeverArborId(arbor?),
                    from: from.clone(),
                })
            }
        };
        let on = lever.on.as_ref()?;
        let on = names.lever_arbors.iter().position(|name| name == on)?;
        Some(Lever {
            id: lever.id.clone()?,
            on: LeverArborId(on),
            kind: lever.kind,
            made: lever.made,
            does,
        })
    }

    /// That a track is a snail where one belongs, and none where not.
    fn snail_or_not(&mut self, place: DraftPlace, track: usize, snail: bool) {
        let draft = &self.draft.works.tracks[track];
        let is = draft.shape.as_ref();
        if is.is_some_and(|shape| matches!(shape, Shape::Steps { .. }) != snail) {
            let track = draft.id.clone().unwrap_or_default();
            self.flaw(place, FlawKind::NotASnail { track });
        }
    }

    fn rack(&mut self, rack: &DraftRack, names: &Names<'_>) -> Option<Rack> {
        let snail = rack.snail.as_deref().and_then(|snail| {
            let t = self.named(
                DraftPlace::Rack("snail"),
                NamedWork::Track,
                snail,
                &names.tracks(),
            )?;
            self.snail_or_not(DraftPlace::Rack("snail"), names.tracks[t].1, true);
            Some(names.tracks[t].1)
        });
        let pallet = rack.pallet.as_deref().and_then(|pin| {
            self.named(
                DraftPlace::Rack("pallet"),
                NamedWork::Pin,
                pin,
                &names.pins(),
            )
        });
        let hook = rack.hook.as_deref().and_then(|hook| {
            self.named(
                DraftPlace::Rack("hook"),
                NamedWork::LeverArbor,
                hook,
                &names.arbors(),
            )
        });
        let on = names.lever_arbors.iter().position(|name| name == RACK)?;
        Some(Rack {
            on: LeverArborId(on),
            snail: TrackId(snail?),
            tip: rack.tip.clone(),
            teeth: rack.teeth?,
            tooth: rack.tooth.clone()?,
            pallet: PinId(names.pins[pallet?].1),
            hook: LeverArborId(hook?),
            free: rack.free.clone()?,
            enters: rack.enters.clone(),
        })
    }

    /// That no lever arbor lifts itself by way of others.
    fn lifted(&mut self, works: &Works) {
        let mut lifts: Vec<Vec<usize>> = vec![Vec::new(); works.lever_arbors.len()];
        for lever in &works.levers {
            if let Some(lifted) = lever.lifts() {
                lifts[lever.on.index()].push(lifted.arbor.index());
            }
        }
        for (l, lever) in works.levers.iter().enumerate() {
            let Some(lifted) = lever.lifts() else {
                continue;
            };
            let mut reached = vec![lifted.arbor.index()];
            let mut next = 0;
            while next < reached.len() {
                for &above in &lifts[reached[next]] {
                    if !reached.contains(&above) {
                        reached.push(above);
                    }
                }
                next += 1;
            }
            if reached.contains(&lever.on.index()) {
                let arbor = works.lever_arbors[lever.on.index()].clone();
                self.flaw(
                    DraftPlace::Lever(l, "lifts"),
                    FlawKind::LiftsRound { arbor },
                );
                return;
            }
        }
    }
}

/// What levers can name.
struct Names<'a> {
    tracks: &'a [(String, usize)],
    pins: &'a [(String, usize)],
    lever_arbors: &'a [String],
}

impl Names<'_> {
    fn tracks(&self) -> impl Iterator<Item = &str> + Clone {
        self.tracks.iter().map(|(name, _)| name.as_str())
    }

    fn pins(&self) -> impl Iterator<Item = &str> + Clone {
        self.pins.iter().map(|(name, _)| name.as_str())
    }

    fn arbors(&self) -> impl Iterator<Item = &str> + Clone {
        self.lever_arbors.iter().map(String::as_str)
    }
}

/// The least way from one place of a turn to the next.
fn least_gap(places: &[Degrees]) -> Degrees {
    let turn = Degrees::turns(&whole(1));
    let mut round: Vec<Exact> = places
        .iter()
        .map(|place| {
            let turns = place.exact() / whole(360);
            (&turns - turns.floor()) * whole(360)
        })
        .collect();
    round.sort();
    let Some(first) = round.first().cloned() else {
        return turn;
    };
    let next = round.iter().skip(1).cloned();
    let gaps = round.iter().zip(next.chain([first + whole(360)]));
    gaps.map(|(here, next)| Degrees::deg(next - here))
        .min()
        .unwrap_or(turn)
}

/// How well each part of the works is known, with its id, in sheet order.
fn known_of(draft: &DraftWorks) -> impl Iterator<Item = (&str, &DraftKnown)> {
    let tracks = draft.tracks.iter().map(|t| (t.id.as_deref(), &t.known));
    let pins = draft.pins.iter().map(|p| (p.id.as_deref(), &p.known));
    let levers = draft.levers.iter().map(|l| (l.id.as_deref(), &l.known));
    let rack = draft.rack.iter().map(|rack| (Some(RACK), &rack.known));
    (tracks.chain(pins).chain(levers).chain(rack)).filter_map(|(of, known)| Some((of?, known)))
}

/// A figure of the works by its names.
fn figure(of: &str, key: &str) -> WorksFigure {
    let (of, key) = (of.to_owned(), key.to_owned());
    WorksFigure { of, key }
}

/// What of the works stands as is usual.
fn usual_of(draft: &DraftWorks) -> Vec<WorksFigure> {
    let each = known_of(draft);
    each.flat_map(|(of, known)| known.usual.iter().map(move |key| figure(of, key)))
        .collect()
}

/// What of the works was measured so surely.
fn measured_of(draft: &DraftWorks) -> Vec<(WorksFigure, Degrees)> {
    let each = known_of(draft);
    let measured = |(of, known): (&str, &DraftKnown)| -> Vec<_> {
        let spread = known.spread.iter();
        spread
            .map(|(key, spread)| (figure(of, key), spread.clone()))
            .collect()
    };
    each.flat_map(measured).collect()
}
