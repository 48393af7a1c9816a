//! Missing counts, in words.

use crate::en::{decimal, quoted, ratio};
use crate::measures::{length, spread, time};
use crate::page::named;
use crate::{Locale, Voice, say};
use draw::{Drawing, Note, View, layout, scene_with_notes};
use movement::{Blank, Movement, PartId};
use quantity::{Chance, Exact, Repeats};
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
    /// Counts in doubt that were taken as they are written.
    believed: &'a [Blank],
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
            believed: &counted.believed,
        }
    }

    /// What is not known.
    pub fn missing(&self, locale: &Locale) -> String {
        let missing = missing(locale, self.movement, &self.puzzle.blanks);
        if self.believed.is_empty() {
            return missing;
        }
        let believed: Vec<String> = (self.believed.iter())
            .map(|blank| self.movement.part_name(blank.part))
            .collect();
        let believed = locale.list(&believed);
        say!(
            locale,
            "count-believed",
            missing = missing,
            believed = believed
        )
    }

    /// What must come out, and what was measured.
    pub fn demands(&self, locale: &Locale) -> Vec<String> {
        let demands = self.puzzle.demands.iter();
        demands
            .map(|demand| self.demanded(locale, demand))
            .collect()
    }

    /// How many sets fit, and what stands in the way where none does.
    pub fn how_many(&self, locale: &Locale) -> Vec<String> {
        let bounds = self.puzzle.bounds;
        let (least, most, count) = (bounds.least, bounds.most, self.found.fits.len());
        let unlisted = matches!(self.found.ended, SearchEnd::Steps | SearchEnd::Stopped);
        let mut told = vec![if unlisted {
            say!(
                locale,
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
                locale,
                "count-cut",
                likeliest = if self.found.likeliest { "yes" } else { "no" },
                least = least,
                most = most,
                count = count
            )
        } else {
            say!(
                locale,
                "count-found",
                least = least,
                most = most,
                count = count
            )
        }];
        told.extend(self.found.broken.iter().map(|broken| {
            let nearest = broken.nearest.map(|is| locale.decimal(is, 2));
            say!(
                locale,
                "count-broken",
                demand = self.demanded(locale, &self.puzzle.demands[broken.demand]),
                known = if nearest.is_some() { "yes" } else { "no" },
                nearest = nearest.unwrap_or_default()
            )
        }));
        if !self.found.told_all {
            told.push(say!(locale, "count-broken-untried"));
        }
        told
    }

    /// What was asked for, and stands against the sheet as it is.
    pub fn clashes(&self, locale: &Locale) -> Vec<String> {
        let clashes = self.puzzle.clashes.iter().map(|clash| {
            say!(
                locale,
                "count-clash",
                arbor = named(&self.movement.arbor(clash.arbor).id),
                sheet = time(locale, &clash.sheet),
                asked = time(locale, &clash.asked)
            )
        });
        clashes.collect()
    }

    /// The sets that fit, the likeliest first: all, or the first few.
    pub fn sets(&self, locale: &Locale, all: bool) -> Vec<Set> {
        let told = if all { usize::MAX } else { TOLD };
        let fits = self.found.fits.iter().take(told);
        fits.map(|fit| Set {
            says: say!(
                locale,
                "count-set",
                counts = counts(locale, self.movement, &self.puzzle.blanks, fit),
                odds = locale.odds(fit.chance)
            ),
            gives: outcomes(locale, self.movement, fit),
        })
        .collect()
    }

    /// How many more there are than are told, and how likely it is one of them.
    pub fn rest(&self, voice: &Voice) -> Option<String> {
        let rest = self.found.fits.get(TOLD..).filter(|r| !r.is_empty())?;
        let chance: f64 = rest.iter().map(|fit| fit.chance.get()).sum();
        let locale = voice.locale();
        Some(say!(
            locale,
            "count-rest",
            count = rest.len(),
            odds = locale.odds(Chance::of(chance)),
            asked = voice.selector()
        ))
    }

    fn demanded(&self, locale: &Locale, demand: &Demand) -> String {
        demanded(locale, self.movement, self.must, demand)
    }
}

/// What is not known, what must come out, and what fits, the likeliest first.
pub fn count_text(sets: &Sets<'_>, all: bool, voice: &Voice) -> String {
    let locale = voice.locale();
    let mut text = vec![sets.missing(locale), String::new()];
    for clash in sets.clashes(locale) {
        text.extend([clash, String::new()]);
    }
    text.push(say!(locale, "count-demands"));
    text.extend(sets.demands(locale).iter().map(|d| format!("  {d}")));
    text.push(String::new());
    for (i, line) in sets.how_many(locale).into_iter().enumerate() {
        text.push(if i == 0 { line } else { format!("  {line}") });
    }
    for set in sets.sets(locale, all) {
        text.push(String::new());
        text.push(format!("  {}", set.says));
        text.extend(set.gives.iter().map(|line| format!("      {line}")));
    }
    if !all && let Some(rest) = sets.rest(voice) {
        text.extend([String::new(), rest]);
    }
    if !sets.found.fits.is_empty() {
        text.extend([String::new(), say!(locale, "count-sure")]);
    }
    text.push(String::new());
    crate::en::breaking(&text.join("\n"))
}

fn missing(locale: &Locale, movement: &Movement, blanks: &[Blank]) -> String {
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
                locale,
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
        locale,
        "count-missing",
        name = movement.name(),
        kind = kind,
        lost = locale.list(&lost),
        doubted = locale.list(&doubted)
    )
}

/// That a sheet is good but for counts that are missing.
pub fn open_sheet(locale: &Locale, movement: &Movement, blanks: &[Blank]) -> String {
    let missing = missing(locale, movement, blanks);
    say!(locale, "count-open", missing = missing) + "\n"
}

/// How far a search has come: the sets that fit so far, and the last of them.
pub fn so_far(locale: &Locale, searched: &Searched<'_>) -> String {
    let so_far = &searched.so_far;
    let last = so_far.last.unwrap_or_default();
    let last = each_count(locale, searched.movement, searched.blanks, last);
    say!(
        locale,
        "count-so-far",
        tried = locale.decimal(so_far.steps as f64 / 1e6, 1),
        count = so_far.fits,
        last = last
    )
}

/// The counts of one set.
pub fn counts(locale: &Locale, movement: &Movement, blanks: &[Blank], fit: &Fit) -> String {
    each_count(locale, movement, blanks, &fit.counts)
}

fn each_count(locale: &Locale, movement: &Movement, blanks: &[Blank], counts: &[u16]) -> String {
    let each: Vec<String> = (blanks.iter().zip(counts))
        .map(|(blank, count)| {
            let part = movement.part_name(blank.part);
            say!(locale, "count-of", part = part, count = *count)
        })
        .collect();
    each.join(", ")
}

/// The movement drawn with the likeliest counts, the blanks in blue and what they may be beside them.
pub fn drawing(locale: &Locale, counted: &Counted) -> Drawing {
    let movement = counted.likeliest();
    let mut notes: Vec<Note> = Vec::new();
    for (part, counts) in counted.of_each() {
        let line = on_the_drawing(locale, &movement, part, &counts);
        Note::add(&mut notes, part.arbor, line, true);
    }
    let laid = layout(&movement, &tasks::centres(&movement, None));
    scene_with_notes(&movement, &laid, View::of_sheet(&movement), &notes)
}

/// The likeliest counts of a part, for a drawing: at most three.
fn on_the_drawing(locale: &Locale, movement: &Movement, part: PartId, counts: &[u16]) -> String {
    let counts: Vec<String> = counts.iter().map(u16::to_string).collect();
    let what = if counts.is_empty() {
        "?".to_owned()
    } else {
        locale.either(&counts)
    };
    let name = &movement.part(part).name;
    say!(locale, "about", name = name, what = what)
}

fn demanded(locale: &Locale, movement: &Movement, must: &[Must], demand: &Demand) -> String {
    let arbor = |id| movement.arbor(id).id.clone();
    let aim = || {
        let aimed = demand.aimed();
        aimed.map_or_else(String::new, |(aim, wide)| {
            format!(", {}", spread(locale, aim, wide))
        })
    };
    match demand.what {
        Demanded::Hours(of, per) => {
            let [a, b] = [of, per].map(|id| movement.arbor(id).measured("turn_s").cloned());
            let (of, per) = (arbor(of), arbor(per));
            match (a, b) {
                (Some(a), Some(b)) => {
                    let turns = turns(locale, &(a / b));
                    say!(
                        locale,
                        "count-once-round",
                        of = of,
                        turns = turns,
                        per = per
                    )
                }
                _ => say!(locale, "count-against", of = of, per = per),
            }
        }
        Demanded::Must(i) => must.get(i).map_or_else(String::new, |must| {
            let (of, per) = (arbor(must.of), arbor(must.per));
            if must.spread == quantity::whole(0) {
                let turns = turns(locale, &must.turns);
                say!(locale, "count-turns-of", turns = turns, of = of, per = per)
            } else {
                say!(locale, "count-turns-aim", of = of, per = per, aim = aim())
            }
        }),
        Demanded::Loop(mesh) => say!(locale, "count-loop", mesh = movement.mesh_name(mesh)),
        Demanded::Blow(witness) => {
            let w = movement.witness(witness);
            blow(locale, &w.id, w.repeats)
        }
        Demanded::BlowUnjudged(n) => {
            let w = &movement.unjudged()[n];
            blow(locale, &w.id, w.repeats)
        }
        Demanded::Beats => say!(locale, "count-beats", aim = aim()),
        Demanded::Run(wound) => say!(locale, "count-run", arbor = arbor(wound), aim = aim()),
        Demanded::Sizes(a, b) => say!(
            locale,
            "count-sizes",
            one = sized(locale, movement, a),
            other = sized(locale, movement, b)
        ),
    }
}

fn turns(locale: &Locale, turns: &Exact) -> String {
    let one = *turns == quantity::whole(1);
    let kind = if one { "one" } else { "more" };
    let number = locale.pointed(ratio(turns));
    say!(locale, "count-turns", kind = kind, number = number)
}

fn sized(locale: &Locale, movement: &Movement, sized: Sized) -> String {
    match sized {
        Sized::Outside(part) => say!(locale, "count-over-teeth", part = movement.part_name(part)),
        Sized::Centre(mesh) => {
            let mesh = movement.mesh(mesh);
            let arbor = |part: PartId| movement.arbor(part.arbor).id.as_str();
            let (one, other) = (arbor(mesh.driver), arbor(mesh.driven));
            say!(locale, "count-centre", one = one, other = other)
        }
    }
}

/// What comes out of one set.
fn outcomes(locale: &Locale, movement: &Movement, fit: &Fit) -> Vec<String> {
    let off = |o: &Outcome| {
        if o.spread > 0.0 {
            let number = locale.decimal(((o.is - o.aim) / o.spread).abs(), 1);
            say!(locale, "count-off", number = number)
        } else {
            String::new()
        }
    };
    let gives = |o: &Outcome, unit: &'static str, places: usize| {
        let number = locale.decimal(o.is, places);
        say!(
            locale,
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
        _ => locale.pointed(decimal(o.is, 4)),
    });
    let modules = fit.modules.iter().map(|(by, module)| {
        let by = sized(locale, movement, *by);
        say!(
            locale,
            "count-module",
            module = length(locale, module),
            by = by
        )
    });
    said.chain(modules).collect()
}

/// Why there is nothing to solve.
pub(crate) fn puzzle_fault(voice: &Voice, fault: &PuzzleFault) -> String {
    let locale = voice.locale();
    match fault {
        PuzzleFault::NothingMissing => {
            say!(locale, "count-nothing-missing", asked = voice.selector())
        }
        PuzzleFault::TooMany { got, most } => {
            say!(locale, "count-too-many", got = *got, most = *most)
        }
        PuzzleFault::Unbound { arbor, part } => say!(
            locale,
            "count-unbound",
            part = format!("{arbor}.{part}"),
            name = part,
            beats = voice.field("beats"),
            runs = voice.field("runs"),
            must = voice.field("must"),
            asked = voice.selector()
        ),
        PuzzleFault::NotJoined(a, b) => {
            say!(
                locale,
                "count-not-joined",
                one = quoted(a),
                other = quoted(b)
            )
        }
        PuzzleFault::NoEscape => say!(
            locale,
            "count-no-escape",
            escape = voice.field("escape"),
            asked = voice.selector()
        ),
        PuzzleFault::NoTime(arbor) => say!(
            locale,
            "count-no-time",
            arbor = quoted(arbor),
            asked = voice.selector()
        ),
        PuzzleFault::NoWinding => say!(
            locale,
            "count-no-winding",
            runs = voice.field("runs"),
            asked = voice.selector()
        ),
    }
}

/// That a witness with so many places moves on by one at each blow, or by whole ones.
fn blow(locale: &Locale, witness: &str, repeats: Repeats) -> String {
    let count = repeats.get();
    let kind = if count >= 4 { "many" } else { "few" };
    say!(
        locale,
        "count-blow",
        kind = kind,
        witness = witness,
        count = count
    )
}
