//! The works of the strike as written: tracks, pins, levers, the rack, what the chime owes.

use crate::fault::{ExpectedValue, SheetFaultKind, SheetTable};
use crate::frame::HOLDS;
use crate::raw::{Fields, Reader, Value};
use crate::value::list;
use crate::written::decimal;
use movement::{
    Carrier, Cut, DraftDoes, DraftKnown, DraftLever, DraftPin, DraftRack, DraftTrack, DraftWorks,
    LeverKind, LeverMade, MOST_PLACES, Reach, Shape,
};
use quantity::{Degrees, Exact, fraction, whole};

/// What a track goes round with.
const CARRIERS: &[&str] = &["on", "hours"];
/// The forms of a track, by the key that gives its places.
const SHAPES: &[&str] = &[
    "counts",
    "notches_deg",
    "places_deg",
    "pins",
    "divisions",
    "steps",
    "outline",
];
/// What a lever can do, by key.
const DEEDS: &[&str] = &["feels", "stops", "lifts"];
/// When an arm is in the path.
const REACHES: &[&str] = &["below_deg", "above_deg"];

/// Keys that belong to one form or deed only, and those they belong to.
const BELONGS: &[(&str, &[&str])] = &[
    ("slot_deg", &["counts", "notches_deg"]),
    ("ramp_deg", &["counts", "notches_deg"]),
    ("first_deg", &["pins", "divisions"]),
    ("at", &["divisions"]),
    ("rise_deg", &["places_deg", "pins", "divisions"]),
    ("hold_deg", &["places_deg", "pins", "divisions"]),
    ("heights", &["places_deg", "pins", "divisions"]),
    ("star_minute", &["steps"]),
    ("tip_deg", &["feels"]),
    ("lift_deg", &["feels"]),
    ("locks", &["feels"]),
    ("strikes", &["feels"]),
    ("below_deg", &["stops"]),
    ("above_deg", &["stops"]),
    ("further_deg", &["stops"]),
    ("from_deg", &["steps", "lifts"]),
];

impl Reader {
    pub(crate) fn works(&mut self, fields: &Fields<'_, '_>) -> DraftWorks {
        DraftWorks {
            tracks: self.tracks(fields),
            pins: self.pins(fields),
            levers: self.levers(fields),
            rack: self.rack(fields),
            chime: self.chime(fields),
        }
    }

    /// The one of some keys that is there; none or several are told.
    fn one<'a, 'i>(
        &mut self,
        fields: &Fields<'a, 'i>,
        keys: &'static [&'static str],
        table: SheetTable,
    ) -> Option<(&'static str, &'a Value<'i>)> {
        let got: Vec<&'static str> = (keys.iter().copied())
            .filter(|key| fields.get(key).is_some())
            .collect();
        if let [key] = got[..] {
            return fields.get(key).map(|value| (key, value));
        }
        // A slip of the pen is told where it stands, not again as a key that is missing.
        if !got.is_empty() || !fields.meant.iter().any(|key| keys.contains(key)) {
            self.fault(
                fields.span.clone(),
                SheetFaultKind::NotOne { keys, got, table },
            );
        }
        None
    }

    /// Keys that do not go with the one that gives form or deed.
    fn belong(&mut self, fields: &Fields<'_, '_>, form: &'static str) {
        for &(key, with) in BELONGS {
            if let Some(value) = fields.get(key)
                && !with.contains(&form)
            {
                let what = SheetFaultKind::OutOfPlace { key, beside: form };
                self.fault(value.span(), what);
            }
        }
    }

    fn angle(&mut self, fields: &Fields<'_, '_>, key: &str) -> Option<Degrees> {
        self.number(fields, key).map(Degrees::deg)
    }

    /// An angle that is nothing where it is not written.
    fn angle_or_none(&mut self, fields: &Fields<'_, '_>, key: &str) -> Option<Degrees> {
        match fields.get(key) {
            Some(_) => self.angle(fields, key),
            None => Some(Degrees::zero()),
        }
    }

    /// An angle that must be there.
    fn need_angle(&mut self, fields: &Fields<'_, '_>, key: &'static str) -> Option<Degrees> {
        self.need_number(fields, key).map(Degrees::deg)
    }

    /// How well the figures of a table are known.
    fn known(&mut self, fields: &Fields<'_, '_>) -> DraftKnown {
        let usual = self.usual_keys(fields);
        let spread = self.spreads(fields, &usual);
        DraftKnown { usual, spread }
    }

    fn tracks(&mut self, fields: &Fields<'_, '_>) -> Vec<DraftTrack> {
        let mut tracks = Vec::new();
        for track in self.tables(fields, "track", SheetTable::Track) {
            self.spans.tracks.push(track.spans());
            let id = self.id(&track, "id");
            let carrier = match self.one(&track, CARRIERS, SheetTable::Track) {
                Some(("on", value)) => self.id_value("on", value).map(Carrier::Arbor),
                Some((key, _)) => self.number(&track, key).map(Carrier::Hours),
                None => None,
            };
            let shape = match self.one(&track, SHAPES, SheetTable::Track) {
                Some((form, value)) => {
                    self.belong(&track, form);
                    self.shape(&track, form, value)
                }
                None => None,
            };
            let held_by = self.word(&track, "held_by", &HOLDS);
            let known = self.known(&track);
            tracks.push(DraftTrack {
                id,
                carrier,
                shape,
                held_by,
                known,
            });
        }
        tracks
    }

    fn shape(
        &mut self,
        track: &Fields<'_, '_>,
        form: &'static str,
        value: &Value<'_>,
    ) -> Option<Shape> {
        match form {
            "counts" => {
                let counts = self.counts(track, form);
                let cut = self.cut(track);
                Some(Shape::Counts {
                    counts: counts?,
                    cut: cut?,
                })
            }
            "notches_deg" => {
                let middles = self.places(form, value);
                let cut = self.cut(track);
                Some(Shape::Notches {
                    middles: middles?,
                    cut: cut?,
                })
            }
            "places_deg" | "pins" | "divisions" => {
                let places = match form {
                    "places_deg" => self.places(form, value),
                    _ => self.divided(track, form),
                };
                let rise = self.need_angle(track, "rise_deg");
                let hold = self.angle_or_none(track, "hold_deg");
                let heights = match track.get("heights") {
                    Some(value) => self.heights(value),
                    None => Some(Vec::new()),
                };
                Some(Shape::Lobes {
                    places: places?,
                    rise: rise?,
                    hold: hold?,
                    heights: heights?,
                })
            }
            "steps" => {
                let teeth = self.numbers(form, value);
                let from = self.angle_or_none(track, "from_deg");
                let star_minute = match track.get("star_minute") {
                    Some(_) => Some(self.number(track, "star_minute")?),
                    None => None,
                };
                Some(Shape::Steps {
                    teeth: teeth?,
                    from: from?,
                    star_minute,
                })
            }
            _ => self.outline(value).map(Shape::Outline),
        }
    }

    /// So many pins, alike all round, or pins at some of so many divisions; where the first division is.
    fn divided(&mut self, track: &Fields<'_, '_>, form: &str) -> Option<Vec<Degrees>> {
        let pins = self.count(track, form);
        let first = self.angle_or_none(track, "first_deg");
        let at = match form {
            "pins" => pins.map(|pins| (0..i64::from(pins)).map(whole).collect()),
            _ => {
                let at = self.need(track, "at");
                at.and_then(|at| self.numbers("at", at))
            }
        };
        let (pins, first, at): (_, _, Vec<Exact>) = (pins?, first?, at?);
        let place = |n: &Exact| &first + &Degrees::turns(&(n / whole(i64::from(pins))));
        Some(at.iter().map(place).collect())
    }

    fn cut(&mut self, track: &Fields<'_, '_>) -> Option<Cut> {
        let width = self.need_angle(track, "slot_deg");
        let ramp = self.angle_or_none(track, "ramp_deg");
        Some(Cut {
            width: width?,
            ramp: ramp?,
        })
    }

    fn heights(&mut self, value: &Value<'_>) -> Option<Vec<Exact>> {
        let one = |x: &Value<'_>| {
            let height = decimal(x.get_ref())?;
            (height > whole(0) && height <= whole(1)).then_some(height)
        };
        let read = list(value, 1..=MOST_PLACES, one);
        self.listed("heights", value, ExpectedValue::Heights, read)
    }

    fn outline(&mut self, value: &Value<'_>) -> Option<Vec<(Degrees, Exact)>> {
        let pair = |x: &Value<'_>| {
            let list = x.get_ref().as_array()?;
            let [at, height] = list.get(..)? else {
                return None;
            };
            let height = decimal(height.get_ref())?;
            let good = height >= whole(0) && height <= whole(1);
            good.then_some((Degrees::deg(decimal(at.get_ref())?), height))
        };
        let read = list(value, 2..=MOST_PLACES, pair);
        self.listed("outline", value, ExpectedValue::Outline, read)
    }

    fn pins(&mut self, fields: &Fields<'_, '_>) -> Vec<DraftPin> {
        let mut pins = Vec::new();
        for pin in self.tables(fields, "pin", SheetTable::Pin) {
            self.spans.pins.push(pin.spans());
            let at = self.need(&pin, "at_deg");
            pins.push(DraftPin {
                id: self.id(&pin, "id"),
                on: self.id(&pin, "on"),
                places: at.and_then(|at| self.places("at_deg", at)),
                held_by: self.word(&pin, "held_by", &HOLDS),
                known: self.known(&pin),
            });
        }
        pins
    }

    fn levers(&mut self, fields: &Fields<'_, '_>) -> Vec<DraftLever> {
        let mut levers = Vec::new();
        for lever in self.tables(fields, "lever", SheetTable::Lever) {
            self.spans.levers.push(lever.spans());
            let kind = self.kind(&lever, LeverKind::called);
            let made = self.word(&lever, "made", &[LeverMade::Soft, LeverMade::Hardened]);
            let does = match self.one(&lever, DEEDS, SheetTable::Lever) {
                Some((deed, value)) => {
                    self.belong(&lever, deed);
                    self.deed(&lever, deed, value)
                }
                None => None,
            };
            levers.push(DraftLever {
                id: self.id(&lever, "id"),
                on: self.id(&lever, "on"),
                kind,
                made,
                does,
                known: self.known(&lever),
            });
        }
        levers
    }

    fn deed(
        &mut self,
        lever: &Fields<'_, '_>,
        deed: &'static str,
        value: &Value<'_>,
    ) -> Option<DraftDoes> {
        let named = self.id_value(deed, value);
        Some(match deed {
            "feels" => DraftDoes::Feels {
                felt: named,
                tip: self.angle_or_none(lever, "tip_deg")?,
                lift: self.need_angle(lever, "lift_deg"),
                locks: match lever.get("locks") {
                    Some(_) => self.yes_no(lever, "locks")?,
                    None => false,
                },
                strikes: match lever.get("strikes") {
                    Some(_) => Some(self.text(lever, "strikes")?),
                    None => None,
                },
            },
            "stops" => DraftDoes::Stops {
                pin: named,
                reach: match self.one(lever, REACHES, SheetTable::Lever)? {
                    ("below_deg", _) => self.need_angle(lever, "below_deg").map(Reach::Below),
                    _ => self.need_angle(lever, "above_deg").map(Reach::Above),
                },
                further: self.angle_or_none(lever, "further_deg")?,
            },
            _ => DraftDoes::Lifts {
                arbor: named,
                from: self.angle_or_none(lever, "from_deg")?,
            },
        })
    }

    fn rack(&mut self, fields: &Fields<'_, '_>) -> Option<DraftRack> {
        let value = fields.get("rack")?;
        let rack = self.section("rack", value, SheetTable::Rack)?;
        self.spans.rack = Some(rack.spans());
        self.need(&rack, "teeth");
        let teeth = self.count(&rack, "teeth");
        // What is wrong with these is told; the rack is there all the same, and levers may name it.
        let enters = self.number(&rack, "enters_teeth");
        let tip = self.angle_or_none(&rack, "tail_deg");
        Some(DraftRack {
            snail: self.id(&rack, "snail"),
            tip: tip.unwrap_or_else(Degrees::zero),
            teeth,
            tooth: self.need_angle(&rack, "tooth_deg"),
            pallet: self.id(&rack, "pallet"),
            hook: self.id(&rack, "hook"),
            free: self.need_angle(&rack, "free_deg"),
            enters: enters.unwrap_or_else(|| fraction(1, 2)),
            known: self.known(&rack),
        })
    }

    fn chime(&mut self, fields: &Fields<'_, '_>) -> Option<Vec<u16>> {
        let value = fields.get("chime")?;
        let chime = self.section("chime", value, SheetTable::Chime)?;
        self.need(&chime, "notes")?;
        self.counts(&chime, "notes")
    }
}
