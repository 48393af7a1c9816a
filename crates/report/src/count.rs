//! Missing counts, in words.

use crate::en::{decimal, quoted, ratio};
use crate::measures::{length, spread, time};
use crate::page::named;
use crate::{Voice, Words, say};
use draw::{Drawing, Note, View, layout, noted};
use movement::{Blank, Movement, PartId};
use quantity::{Chance, Exact};
use tasks::{Counted, Searched};
use workshop::counts::{
    CountsFound, Demand, Demanded, Fit, Must, Outcome, Puzzle, PuzzleFault, SearchEnd, Sized,
};

/// So many are told where not all are asked for.
pub const TOLD: usize = 8;

/// A puzzle and what solves it, to be told.
#[derive(Debug, Clone, Copy)]
pub struct Sets<'a> {
    pub(crate) movement: &'a Movement,
    pub(crate) puzzle: &'a Puzzle,
    pub(crate) must: &'a [Must],
    pub(crate) found: &'a CountsFound,
}

/// A set that fits, and what comes out of it.
#[derive(Debug)]
pub struct Set {
    /// The counts, and how likely they are.
    pub says: String,
    /// What comes out.
    pub gives: Vec<String>,
}

impl<'a> Sets<'a> {
    /// Of what was counted.
    pub fn of(counted: &'a Counted) -> Sets<'a> {
        Sets {
            movement: counted.open.movement(),
            puzzle: &counted.puzzle,
            must: &counted.must,
            found: &counted.found,
        }
    }

    /// What is not known.
    pub fn missing(&self, words: &Words) -> String {
        missing(words, self.movement, &self.puzzle.blanks)
    }

    /// What must come out, and what was measured.
    pub fn demands(&self, words: &Words) -> Vec<String> {
        let demands = self.puzzle.demands.iter();
        demands.map(|demand| self.demanded(words, demand)).collect()
    }

    /// How many sets fit, and what stands in the way where none does.
    pub fn how_many(&self, words: &Words) -> Vec<String> {
        let bounds = self.puzzle.bounds;
        let (least, most, count) = (bounds.least, bounds.most, self.found.fits.len());
        let unlisted = matches!(self.found.ended, SearchEnd::Steps | SearchEnd::Stopped);
        let mut told = vec![if unlisted {
            say!(
                words,
                "count-left",
                stopped = if self.found.ended == SearchEnd::Stopped {
                    "yes"
                } else {
                    "no"
                },
                likeliest = if self.found.likeliest { "yes" } else { "no" },
                least = least,
                most = most,
                count = count
            )
        } else if self.found.is_cut_short() {
            say!(
                words,
                "count-cut",
                likeliest = if self.found.likeliest { "yes" } else { "no" },
                least = least,
                most = most,
                count = count
            )
        } else {
            say!(
                words,
                "count-found",
                least = least,
                most = most,
                count = count
            )
        }];
        told.extend(self.found.broken.iter().map(|broken| {
            let nearest = broken.nearest.map(|is| words.decimal(is, 2));
            say!(
                words,
                "count-broken",
                demand = self.demanded(words, &self.puzzle.demands[broken.demand]),
                known = if nearest.is_some() { "yes" } else { "no" },
                nearest = nearest.unwrap_or_default()
            )
        }));
        if !self.found.told_all {
            told.push(say!(words, "count-broken-untried"));
        }
        told
    }

    /// What was asked for, and stands against the sheet as it is.
    pub fn clashes(&self, words: &Words) -> Vec<String> {
        let clashes = self.puzzle.clashes.iter().map(|clash| {
            say!(
                words,
                "count-clash",
                arbor = named(&self.movement.arbor(clash.arbor).id),
                sheet = time(words, &clash.sheet),
                asked = time(words, &clash.asked)
            )
        });
        clashes.collect()
    }

    /// The sets that fit, the likeliest first: all, or the first few.
    pub fn sets(&self, words: &Words, all: bool) -> Vec<Set> {
        let told = if all { usize::MAX } else { TOLD };
        let fits = self.found.fits.iter().take(told);
        fits.map(|fit| Set {
            says: say!(
                words,
                "count-set",
                counts = counts(words, self.movement, &self.puzzle.blanks, fit),
                odds = words.odds(fit.chance)
            ),
            gives: outcomes(words, self.movement, fit),
        })
        .collect()
    }

    /// How many more there are than are told, and how likely it is one of them.
    pub fn rest(&self, voice: &Voice) -> Option<String> {
        let rest = self.found.fits.get(TOLD..).filter(|r| !r.is_empty())?;
        let chance: f64 = rest.iter().map(|fit| fit.chance.get()).sum();
        let words = voice.words();
        Some(say!(
            words,
            "count-rest",
            count = rest.len(),
            odds = words.odds(Chance::of(chance)),
            asked = voice.selector()
        ))
    }

    fn demanded(&self, words: &Words, demand: &Demand) -> String {
        demanded(words, self.movement, self.must, demand)
    }
}

/// What is not known, what must come out, and what fits, the likeliest first.
pub fn count_text(sets: &Sets<'_>, all: bool, voice: &Voice) -> String {
    let words = voice.words();
    let mut text = vec![sets.missing(words), String::new()];
    for clash in sets.clashes(words) {
        text.extend([clash, String::new()]);
    }
    text.push(say!(words, "count-demands"));
    text.extend(sets.demands(words).iter().map(|d| format!("  {d}")));
    text.push(String::new());
    for (i, line) in sets.how_many(words).into_iter().enumerate() {
        text.push(if i == 0 { line } else { format!("  {line}") });
    }
    for set in sets.sets(words, all) {
        text.push(String::new());
        text.push(format!("  {}", set.says));
        text.extend(set.gives.iter().map(|line| format!("      {line}")));
    }
    if !all && let Some(rest) = sets.rest(voice) {
        text.extend([String::new(), rest]);
    }
    if !sets.found.fits.is_empty() {
        text.extend([String::new(), say!(words, "count-sure")]);
    }
    text.push(String::new());
    crate::en::breaking(&text.join("\n"))
}

fn missing(words: &Words, movement: &Movement, blanks: &[Blank]) -> String {
    let name = |blank: &Blank| movement.part_name(blank.part);
    let lost: Vec<String> = blanks
        .iter()
        .filter(|b| b.written.is_none())
        .map(name)
        .collect();
    let doubted: Vec<String> = blanks
        .iter()
        .filter_map(|b| {
            let count = b.written?.get();
            Some(say!(
                words,
                "count-written-as",
                part = name(b),
                count = count
            ))
        })
        .collect();
    let kind = match (lost.is_empty(), doubted.is_empty()) {
        (false, true) => "lost",
        (true, _) => "doubted",
        (false, false) => "both",
    };
    say!(
        words,
        "count-missing",
        name = movement.name(),
        kind = kind,
        lost = words.list(&lost),
        doubted = words.list(&doubted)
    )
}

/// That a sheet is good but for counts that are missing.
pub fn open_sheet(words: &Words, movement: &Movement, blanks: &[Blank]) -> String {
    let missing = missing(words, movement, blanks);
    say!(words, "count-open", missing = missing) + "\n"
}

/// How far a search has come: the sets that fit so far, and the last of them.
pub fn so_far(words: &Words, searched: &Searched<'_>) -> String {
    let so_far = &searched.so_far;
    let last = so_far.last.unwrap_or_default();
    let last = each_count(words, searched.movement, searched.blanks, last);
    say!(
        words,
        "count-so-far",
        tried = words.decimal(so_far.steps as f64 / 1e6, 1),
        count = so_far.fits,
        last = last
    )
}

/// The counts of one set.
pub fn counts(words: &Words, movement: &Movement, blanks: &[Blank], fit: &Fit) -> String {
    each_count(words, movement, blanks, &fit.counts)
}

fn each_count(words: &Words, movement: &Movement, blanks: &[Blank], counts: &[u16]) -> String {
    let each: Vec<String> = (blanks.iter().zip(counts))
        .map(|(blank, count)| {
            let part = movement.part_name(blank.part);
            say!(words, "count-of", part = part, count = *count)
        })
        .collect();
    each.join(", ")
}

/// The movement drawn with the likeliest counts, the blanks in blue and what they may be beside them.
pub fn drawing(words: &Words, counted: &Counted) -> Drawing {
    let movement = counted.likeliest();
    let mut notes: Vec<Note> = Vec::new();
    for (part, counts) in counted.of_each() {
        let line = on_the_drawing(words, &movement, part, &counts);
        Note::add(&mut notes, part.arbor, line, true);
    }
    let laid = layout(&movement, &tasks::centres(&movement, None));
    noted(&movement, &laid, View::of_sheet(&movement), &notes)
}

/// The likeliest counts of a part, for a drawing: at most three.
fn on_the_drawing(words: &Words, movement: &Movement, part: PartId, counts: &[u16]) -> String {
    let counts: Vec<String> = counts.iter().map(u16::to_string).collect();
    let what = if counts.is_empty() {
        "?".to_owned()
    } else {
        words.either(&counts)
    };
    let name = &movement.part(part).name;
    say!(words, "about", name = name, what = what)
}

fn demanded(words: &Words, movement: &Movement, must: &[Must], demand: &Demand) -> String {
    let arbor = |id| movement.arbor(id).id.clone();
    let aim = || {
        let aimed = demand.aimed();
        aimed.map_or_else(String::new, |(aim, wide)| {
            format!(", {}", spread(words, aim, wide))
        })
    };
    match demand.what {
        Demanded::Hours(of, per) => {
            let [a, b] = [of, per].map(|id| movement.arbor(id).measured("turn_s").cloned());
            let (of, per) = (arbor(of), arbor(per));
            match (a, b) {
                (Some(a), Some(b)) => {
                    let turns = turns(words, &(a / b));
                    say!(words, "count-once-round", of = of, turns = turns, per = per)
                }
                _ => say!(words, "count-against", of = of, per = per),
            }
        }
        Demanded::Must(i) => must.get(i).map_or_else(String::new, |must| {
            let (of, per) = (arbor(must.of), arbor(must.per));
            if must.spread == quantity::whole(0) {
                let turns = turns(words, &must.turns);
                say!(words, "count-turns-of", turns = turns, of = of, per = per)
            } else {
                say!(words, "count-turns-aim", of = of, per = per, aim = aim())
            }
        }),
        Demanded::Loop(mesh) => say!(words, "count-loop", mesh = movement.mesh_name(mesh)),
        Demanded::Blow(witness) => {
            let w = movement.witness(witness);
            say!(
                words,
                "count-blow",
                kind = if w.repeats.get() >= 4 { "many" } else { "few" },
                witness = &w.id,
                count = w.repeats.get()
            )
        }
        Demanded::Beats => say!(words, "count-beats", aim = aim()),
        Demanded::Run(wound) => say!(words, "count-run", arbor = arbor(wound), aim = aim()),
        Demanded::Sizes(a, b) => say!(
            words,
            "count-sizes",
            one = sized(words, movement, a),
            other = sized(words, movement, b)
        ),
    }
}

fn turns(words: &Words, turns: &Exact) -> String {
    let one = *turns == quantity::whole(1);
    let kind = if one { "one" } else { "more" };
    let number = words.pointed(ratio(turns));
    say!(words, "count-turns", kind = kind, number = number)
}

fn sized(words: &Words, movement: &Movement, sized: Sized) -> String {
    match sized {
        Sized::Outside(part) => say!(words, "count-over-teeth", part = movement.part_name(part)),
        Sized::Centre(mesh) => {
            let mesh = movement.mesh(mesh);
            let arbor = |part: PartId| movement.arbor(part.arbor).id.as_str();
            let (one, other) = (arbor(mesh.driver), arbor(mesh.driven));
            say!(words, "count-centre", one = one, other = other)
        }
    }
}

/// What comes out of one set.
fn outcomes(words: &Words, movement: &Movement, fit: &Fit) -> Vec<String> {
    let off = |o: &Outcome| {
        if o.spread > 0.0 {
            let number = words.decimal(((o.is - o.aim) / o.spread).abs(), 1);
            say!(words, "count-off", number = number)
        } else {
            String::new()
        }
    };
    let gives = |o: &Outcome, unit: &'static str, places: usize| {
        let number = words.decimal(o.is, places);
        say!(
            words,
            "count-gives",
            unit = unit,
            number = number,
            off = off(o)
        )
    };
    let said = fit.outcomes.iter().map(|o| match o.what {
        Demanded::Beats => gives(o, "beats", 2),
        Demanded::Run(_) => gives(o, "hours", 1),
        Demanded::Must(_) => gives(o, "turns", 4),
        _ => words.pointed(decimal(o.is, 4)),
    });
    let modules = fit.modules.iter().map(|(by, module)| {
        let by = sized(words, movement, *by);
        say!(
            words,
            "count-module",
            module = length(words, module),
            by = by
        )
    });
    said.chain(modules).collect()
}

/// Why there is nothing to solve.
pub(crate) fn puzzle_fault(voice: &Voice, fault: &PuzzleFault) -> String {
    let words = voice.words();
    match fault {
        PuzzleFault::NothingMissing => say!(words, "count-nothing-missing"),
        PuzzleFault::TooMany { got, most } => {
            say!(words, "count-too-many", got = *got, most = *most)
        }
        PuzzleFault::Unbound { arbor, part } => say!(
            words,
            "count-unbound",
            part = format!("{arbor}.{part}"),
            name = part,
            beats = voice.field("beats"),
            runs = voice.field("runs"),
            must = voice.field("must")
        ),
        PuzzleFault::NotJoined(a, b) => {
            say!(
                words,
                "count-not-joined",
                one = quoted(a),
                other = quoted(b)
            )
        }
        PuzzleFault::NoEscape => say!(
            words,
            "count-no-escape",
            escape = voice.field("escape"),
            asked = voice.selector()
        ),
        PuzzleFault::NoTime(arbor) => say!(words, "count-no-time", arbor = quoted(arbor)),
        PuzzleFault::NoWinding => say!(words, "count-no-winding", runs = voice.field("runs")),
    }
}
