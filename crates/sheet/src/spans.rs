//! Where everything of a sheet stood, by byte offset: so that what is wrong with a movement can be shown in the text.

use movement::{Place, Side};

/// Where a mesh stood.
pub(crate) struct MeshSpans {
    pub(crate) whole: usize,
    pub(crate) driver: usize,
    pub(crate) driven: usize,
}

/// Where a moment or a witness stood: each key that was there.
pub(crate) struct KeySpans {
    pub(crate) whole: usize,
    pub(crate) keys: Vec<(String, usize)>,
}

impl KeySpans {
    /// Where a key stood, or the whole table where it was not written.
    pub(crate) fn key(&self, key: &str) -> usize {
        self.keys
            .iter()
            .find(|(k, _)| k == key)
            .map_or(self.whole, |(_, at)| *at)
    }
}

/// Where everything stood, by byte offset.
#[derive(Default)]
pub(crate) struct Spans {
    pub(crate) arbors: Vec<KeySpans>,
    pub(crate) meshes: Vec<MeshSpans>,
    pub(crate) moments: Vec<KeySpans>,
    pub(crate) witnesses: Vec<KeySpans>,
    pub(crate) strike: Option<KeySpans>,
    pub(crate) tracks: Vec<KeySpans>,
    pub(crate) pins: Vec<KeySpans>,
    pub(crate) levers: Vec<KeySpans>,
    pub(crate) rack: Option<KeySpans>,
    pub(crate) pillars: Vec<KeySpans>,
    pub(crate) pivots: Vec<KeySpans>,
    /// By arbor, where the count of each part stood.
    pub(crate) counts: Vec<Vec<usize>>,
}

impl Spans {
    /// The offset of a place of the draft.
    pub(crate) fn of(&self, place: Place) -> usize {
        let strike = |key| self.strike.as_ref().map_or(0, |s| s.key(key));
        match place {
            Place::Sheet => 0,
            Place::Arbor(a) => self.arbors[a].whole,
            Place::Runs(a) => self.arbors[a].key("runs"),
            Place::Mesh(m) => self.meshes[m].whole,
            Place::MeshSide(m, Side::Driver) => self.meshes[m].driver,
            Place::MeshSide(m, Side::Driven) => self.meshes[m].driven,
            Place::HeldBy(a) => self.arbors[a].key("held_by"),
            Place::Pillar(p) => self.pillars[p].key("id"),
            Place::Pivot(p) => self.pivots[p].key("id"),
            Place::Strike => strike(""),
            Place::ReadAt => strike("read_at"),
            Place::MomentId(m) => self.moments[m].key("id"),
            Place::MomentArbor(m) => self.moments[m].key("arbor"),
            Place::WitnessId(w) => self.witnesses[w].key("id"),
            Place::WitnessOn(w) => self.witnesses[w].key("on"),
            Place::WitnessAt(w) => self.witnesses[w].key("at"),
            Place::Window(w) => self.witnesses[w].key("window_deg"),
            Place::Count(a, p) => self.counts[a][p],
            Place::Best(w) => self.witnesses[w].key("best_deg"),
            Place::Track(t, key) => self.tracks[t].key(key),
            Place::Pin(p, key) => self.pins[p].key(key),
            Place::Lever(l, key) => self.levers[l].key(key),
            Place::Rack(key) => self.rack.as_ref().map_or(0, |rack| rack.key(key)),
            Place::Slot(w) => {
                let spans = &self.witnesses[w];
                let slot = spans.key("slot_deg");
                if slot == spans.whole {
                    spans.key("tip_deg")
                } else {
                    slot
                }
            }
        }
    }
}
