//! What is otherwise on a sheet than on the one before it.

use movement::{Carrier, Movement, Open, PartId, Plate, Turning};
use quantity::{Degrees, Exact, Teeth};

/// Something that a sheet says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SheetItem {
    /// What the clock is called.
    Name,
    /// The plate it is told from.
    SeenFrom,
    /// The count of a part, `arbor.part`.
    Count(String),
    /// The way an arbor runs.
    Runs(String),
    /// A measure of an arbor, with its key.
    Measure(String, String),
    /// A mesh, `driver>driven`.
    Mesh(String),
    /// How it strikes.
    Strike,
    /// A moment.
    Moment(String),
    /// A witness, but for its window.
    Witness(String),
    /// Where a witness may stand.
    Window(String),
    /// A track.
    Track(String),
    /// A pin.
    Pin(String),
    /// A lever.
    Lever(String),
    /// The rack, or what a chime owes.
    Works,
}

/// What it says of that.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// So many teeth; nothing where that is not known.
    Teeth(Option<Teeth>),
    /// A word or a name.
    Text(String),
    /// A number.
    Number(Exact),
    /// From one place to another.
    Window(Degrees, Degrees),
    /// Several things at once, written together only to be compared.
    Several(String),
}

/// What is otherwise.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// Of what.
    pub of: SheetItem,
    /// What the sheet before says; nothing where it is new.
    pub was: Option<Value>,
    /// What the sheet says; nothing where it is gone.
    pub now: Option<Value>,
}

/// A sheet, on which counts may be missing.
#[derive(Debug, Clone, Copy)]
pub enum KnownSheet<'a> {
    /// Every count stands on it.
    Counted(&'a Movement),
    /// Some are missing.
    Open(&'a Open),
}

impl<'a> KnownSheet<'a> {
    fn movement(self) -> &'a Movement {
        match self {
            KnownSheet::Counted(movement) => movement,
            KnownSheet::Open(open) => open.movement(),
        }
    }

    fn teeth(self, part: PartId) -> Option<Teeth> {
        match self {
            KnownSheet::Open(open) => match open.blanks().iter().find(|blank| blank.part == part) {
                Some(blank) => blank.written,
                None => Some(open.movement().part(part).teeth),
            },
            KnownSheet::Counted(movement) => Some(movement.part(part).teeth),
        }
    }
}

/// What is otherwise on a sheet, in its order; what is gone comes last. Comments and the order of writing are nothing.
pub fn changes(before: KnownSheet<'_>, after: KnownSheet<'_>) -> Vec<Change> {
    let from = after.movement().seen_from();
    let (was, now) = (says(before, from), says(after, from));
    let of = |all: &[(SheetItem, Value)], of: &SheetItem| {
        let found = all.iter().find(|(said, _)| said == of);
        found.map(|(_, value)| value.clone())
    };
    let gone = (was.iter()).filter(|(said, _)| of(&now, said).is_none());
    (now.iter().chain(gone))
        .map(|(said, _)| Change {
            of: said.clone(),
            was: of(&was, said),
            now: of(&now, said),
        })
        .filter(|change| change.was != change.now)
        .collect()
}

/// All that a sheet says, in its order; ways round as they are seen from a plate.
fn says(sheet: KnownSheet<'_>, from: Plate) -> Vec<(SheetItem, Value)> {
    let m = sheet.movement();
    let several = |what: &dyn std::fmt::Debug| Value::Several(format!("{what:?}"));
    let mut says = vec![
        (SheetItem::Name, Value::Text(m.name().to_owned())),
        (SheetItem::SeenFrom, several(&m.seen_from())),
    ];
    for (id, arbor) in m.arbors() {
        for (part, _) in m.parts(id) {
            says.push((
                SheetItem::Count(m.part_name(part)),
                Value::Teeth(sheet.teeth(part)),
            ));
        }
        // Which arbor of a train says so is nothing; the way that follows for each is.
        let runs = match (m.runs(id, from), from) {
            (Turning::Clockwise, Plate::Front) => "clockwise (seen from the front)",
            (Turning::Clockwise, Plate::Back) => "clockwise (seen from the back)",
            (Turning::Counterclockwise, Plate::Front) => "counterclockwise (seen from the front)",
            (Turning::Counterclockwise, Plate::Back) => "counterclockwise (seen from the back)",
        };
        says.push((
            SheetItem::Runs(arbor.id.clone()),
            Value::Text(runs.to_owned()),
        ));
        for (key, value) in &arbor.measured {
            let measure = SheetItem::Measure(arbor.id.clone(), key.clone());
            says.push((measure, Value::Number(value.clone())));
        }
    }
    for (id, mesh) in m.meshes() {
        let kind = (
            mesh.internal,
            &mesh.lash_teeth,
            mesh.reached,
            &mesh.measured,
        );
        says.push((SheetItem::Mesh(m.mesh_name(id)), several(&kind)));
    }
    if let Some(strike) = m.strike() {
        let read_at = &m.arbor(strike.read_at).id;
        let kind = (strike.counted_by, strike.blows, read_at, strike.cycle_hours);
        let turns = (&strike.blows_per_turn, &strike.hold, &strike.pace);
        says.push((SheetItem::Strike, several(&(kind, turns))));
    }
    for moment in m.moments() {
        let arbor = &m.arbor(moment.arbor).id;
        says.push((
            SheetItem::Moment(moment.id.clone()),
            several(&(arbor, &moment.says)),
        ));
    }
    for (_, w) in m.witnesses() {
        let on = (&m.arbor(w.on).id, &m.moment(w.at).id);
        let kind = w.kind_told.then(|| w.kind.word());
        let told = (&w.says, kind, w.repeats, &w.best, (&w.look, &w.arm_oclock));
        says.push((SheetItem::Witness(w.id.clone()), several(&(on, told))));
        says.push((
            SheetItem::Window(w.id.clone()),
            Value::Window(w.from.clone(), w.to.clone()),
        ));
    }
    for w in m.unjudged() {
        let on = (&m.arbor(w.on).id, &m.moment(w.at).id);
        let told = several(&(on, (&w.says, w.repeats, &w.best)));
        says.push((SheetItem::Witness(w.id.clone()), told));
    }
    says.extend(works(m));
    says
}

/// What it says of levers and tracks, by name: a place in a list is nothing.
fn works(m: &Movement) -> Vec<(SheetItem, Value)> {
    let Some(works) = m.works() else {
        return Vec::new();
    };
    let several = |what: &dyn std::fmt::Debug| Value::Several(format!("{what:?}"));
    let lever_arbor = |wanted| {
        works
            .lever_arbors()
            .find(|(id, _)| *id == wanted)
            .map(|(_, name)| name)
    };
    let mut says = Vec::new();
    for (_, track) in works.tracks() {
        let on = match &track.carrier {
            Carrier::Arbor(arbor) => m.arbor(*arbor).id.clone(),
            Carrier::Hours(hours) => hours.to_string(),
        };
        says.push((
            SheetItem::Track(track.id.clone()),
            several(&(on, &track.shape)),
        ));
    }
    for (_, pin) in works.pins() {
        let told = (&m.arbor(pin.on).id, &pin.places);
        says.push((SheetItem::Pin(pin.id.clone()), several(&told)));
    }
    for (_, lever) in works.levers() {
        let on = lever_arbor(lever.on);
        // Ids, as what has a number on one sheet may have another on the next.
        let feels = (lever.feels()).map(|f| (&f.tip, &f.lift, f.locks, &f.strikes));
        let track = lever.track().map(|track| &works.track(track).id);
        let stops = (lever.stops()).map(|s| (&works.pin(s.pin).id, &s.reach, &s.further));
        let lifts = (lever.lifts()).map(|l| (lever_arbor(l.arbor), &l.from));
        let kind = lever.kind.map(|kind| kind.word());
        let does = several(&(on, kind, (feels, track), stops, lifts));
        says.push((SheetItem::Lever(lever.id.clone()), does));
    }
    let rack = works.rack().map(|rack| {
        let names = (
            &works.track(rack.snail).id,
            &works.pin(rack.pallet).id,
            lever_arbor(rack.hook),
        );
        (
            names,
            &rack.tip,
            rack.teeth,
            &rack.tooth,
            (&rack.free, &rack.enters),
        )
    });
    says.push((SheetItem::Works, several(&(rack, works.chime()))));
    says
}
