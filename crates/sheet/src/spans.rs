//! Where everything of a sheet stood, by byte offset: so that what is wrong with a movement can be shown in the text.

use movement::{DraftPlace, MeshSide};

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
    pub(crate) fixtures: Vec<KeySpans>,
    /// By arbor, where the count of each part stood.
    pub(crate) counts: Vec<Vec<usize>>,
}

impl Spans {
    /// The offset of a place of the draft.
    pub(crate) fn of(&self, place: DraftPlace) -> usize {
        let strike = |key| self.strike.as_ref().map_or(0, |s| s.key(key));
        match place {
            DraftPlace::Sheet => 0,
            DraftPlace::Arbor(a) => self.arbors[a].whole,
            DraftPlace::Runs(a) => self.arbors[a].key("runs"),
            DraftPlace::Mesh(m) => self.meshes[m].whole,
            DraftPlace::MeshSide(m, MeshSide::Driver) => self.meshes[m].driver,
            DraftPlace::MeshSide(m, MeshSide::Driven) => self.meshes[m].driven,
            DraftPlace::HeldBy(a) => self.arbors[a].key("held_by"),
            DraftPlace::Pillar(p) => self.pillars[p].key("id"),
            DraftPlace::Pivot(p) => self.pivots[p].key("id"),
            DraftPlace::Fixture(f) => self.fixtures[f].key("id"),
            DraftPlace::Strike => strike(""),
            DraftPlace::ReadAt => strike("read_at"),
            DraftPlace::MomentId(m) => self.moments[m].key("id"),
            DraftPlace::MomentArbor(m) => self.moments[m].key("arbor"),
            DraftPlace::WitnessId(w) => self.witnesses[w].key("id"),
            DraftPlace::WitnessOn(w) => self.witnesses[w].key("on"),
            DraftPlace::WitnessAt(w) => self.witnesses[w].key("at"),
            DraftPlace::Window(w) => self.witnesses[w].key("window_deg"),
            DraftPlace::Count(a, p) => self.counts[a][p],
            DraftPlace::Best(w) => self.witnesses[w].key("best_deg"),
            DraftPlace::Track(t, key) => self.tracks[t].key(key),
            DraftPlace::Pin(p, key) => self.pins[p].key(key),
            DraftPlace::Lever(l, key) => self.levers[l].key(key),
            DraftPlace::Rack(key) => self.rack.as_ref().map_or(0, |rack| rack.key(key)),
            DraftPlace::Slot(w) => {
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
