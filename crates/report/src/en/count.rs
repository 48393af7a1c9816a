//! Missing counts, in words.

use super::measures::{System, spread};
use super::numbers::{decimal, odds, ratio};
use super::{list, quoted};
use movement::{Blank, Movement, PartId};
use quantity::{Chance, Exact};
use workshop::counts::{Demand, Fit, Found, Must, Outcome, Puzzle, PuzzleFault, Sized, What};

/// So many are told where not all are asked for.
pub const TOLD: usize = 8;

/// What is not known, what must come out, and what fits, the likeliest first.
pub fn count_text(
    movement: &Movement,
    puzzle: &Puzzle,
    must: &[Must],
    (found, all): (&Found, bool),
    system: System,
) -> String {
    let mut text = vec![headline(movement, &puzzle.blanks), String::new()];
    text.push("What must come out, and what was measured:".to_owned());
    for demand in &puzzle.demands {
        text.push(format!("  {}", demanded(movement, must, demand)));
    }
    text.push(String::new());
    let range = format!(
        "from {} to {} teeth",
        puzzle.bounds.least, puzzle.bounds.most
    );
    let fits = &found.fits;
    text.push(match (fits.len(), found.cut_short) {
        (n, true) => format!(
            "More fit than can be listed: the search {range} was cut short at {n}, so these need not be the best. Measure more."
        ),
        (0, false) => format!("Nothing fits, of all counts {range}."),
        (1, false) => format!("One set fits, of all {range}, each held against every demand."),
        (n, false) => format!("{n} sets fit, of all {range}, each held against every demand."),
    });
    for broken in &found.broken {
        let nearest = broken.nearest.map_or_else(String::new, |is| {
            format!("; the nearest that the rest allows is {}", decimal(is, 2))
        });
        text.push(format!(
            "  But for this, something would: {}{nearest}. Count or measure that again.",
            demanded(movement, must, &puzzle.demands[broken.demand])
        ));
    }
    let told = if all {
        fits.len()
    } else {
        fits.len().min(TOLD)
    };
    for fit in &fits[..told] {
        text.push(String::new());
        text.push(format!(
            "  {}: {}",
            counts(movement, &puzzle.blanks, fit),
            odds(fit.chance)
        ));
        text.extend(outcomes(movement, fit, system).map(|line| format!("      {line}")));
    }
    if told < fits.len() {
        let rest: f64 = fits[told..].iter().map(|fit| fit.chance.get()).sum();
        text.push(String::new());
        text.push(format!(
            "{} more, less likely: {} that it is one of them; `--all` tells them.",
            fits.len() - told,
            odds(Chance::of(rest))
        ));
    }
    if !fits.is_empty() {
        text.push(String::new());
        text.push(
            "How likely follows from the measurements and from what trains commonly have (The Modern Clock, Chicago 1905, p. 258). Cut no wheel on it before a size of the old one, or of its mate, agrees."
                .to_owned(),
        );
    }
    text.push(String::new());
    text.join("\n")
}

fn headline(movement: &Movement, blanks: &[Blank]) -> String {
    let name = |blank: &Blank| movement.part_name(blank.part);
    let lost: Vec<String> = blanks
        .iter()
        .filter(|b| b.written.is_none())
        .map(name)
        .collect();
    let doubted: Vec<String> = blanks
        .iter()
        .filter_map(|b| Some(format!("{} (written as {})", name(b), b.written?)))
        .collect();
    let mut said = Vec::new();
    if !lost.is_empty() {
        said.push(format!("no count for {}", list(&lost)));
    }
    if !doubted.is_empty() {
        said.push(format!("in doubt: {}", list(&doubted)));
    }
    format!("{}: {}", movement.name(), said.join("; "))
}

/// That a sheet is good but for counts that are missing.
pub fn open_sheet(movement: &Movement, blanks: &[Blank]) -> String {
    format!(
        "{}; good as far as it goes. `trundle count` finds the counts that fit\n",
        headline(movement, blanks)
    )
}

/// The counts of one set.
pub fn counts(movement: &Movement, blanks: &[Blank], fit: &Fit) -> String {
    let each: Vec<String> = (blanks.iter().zip(&fit.counts))
        .map(|(blank, count)| format!("{} {count}", movement.part_name(blank.part)))
        .collect();
    each.join(", ")
}

/// The likeliest counts of a part, for a drawing: at most three.
pub fn on_the_drawing(movement: &Movement, part: PartId, counts: &[u16]) -> String {
    let counts: Vec<String> = counts.iter().map(u16::to_string).collect();
    let name = &movement.part(part).name;
    if counts.is_empty() {
        format!("{name}: ?")
    } else {
        format!("{name}: {}", list(&counts).replace(" and ", " or "))
    }
}

fn demanded(movement: &Movement, must: &[Must], demand: &Demand) -> String {
    let arbor = |id| movement.arbor(id).id.clone();
    let aim = || {
        let aimed = demand.aimed();
        aimed.map_or_else(String::new, |(aim, wide)| {
            format!(", {}", spread(aim, wide, ""))
        })
    };
    match demand.what {
        What::Hours(of, per) => {
            let [a, b] = [of, per].map(|id| movement.arbor(id).measured("turn_s").cloned());
            match (a, b) {
                (Some(a), Some(b)) => format!(
                    "{} once round in {} of {}",
                    arbor(of),
                    turns(&(a / b)),
                    arbor(per)
                ),
                _ => format!("{} against {}", arbor(of), arbor(per)),
            }
        }
        What::Must(i) => match must.get(i) {
            Some(must) if must.spread == quantity::whole(0) => format!(
                "{} of {} in one of {}",
                turns(&must.turns),
                arbor(must.of),
                arbor(must.per)
            ),
            Some(must) => format!(
                "turns of {} in one of {}{}",
                arbor(must.of),
                arbor(must.per),
                aim()
            ),
            None => String::new(),
        },
        What::Loop(mesh) => format!("the loop at {} closes", movement.mesh_name(mesh)),
        What::Blow(witness) => {
            let w = movement.witness(witness);
            if w.repeats.get() >= 4 {
                format!(
                    "{} goes on by one of its {} places at each blow",
                    w.id, w.repeats
                )
            } else {
                format!("{} comes back to its place at each blow", w.id)
            }
        }
        What::Beats => format!("beats an hour{}", aim()),
        What::Run(wound) => format!("hours of one winding of {}{}", arbor(wound), aim()),
        What::Sizes(a, b) => format!(
            "{} and {} are of one module",
            sized(movement, a),
            sized(movement, b)
        ),
    }
}

fn turns(turns: &Exact) -> String {
    if *turns == quantity::whole(1) {
        "1 turn".to_owned()
    } else {
        format!("{} turns", ratio(turns))
    }
}

fn sized(movement: &Movement, sized: Sized) -> String {
    match sized {
        Sized::Outside(part) => format!("{} over its teeth", movement.part_name(part)),
        Sized::Centre(mesh) => {
            let mesh = movement.mesh(mesh);
            let arbor = |part: PartId| movement.arbor(part.arbor).id.as_str();
            format!("{} to {}", arbor(mesh.driver), arbor(mesh.driven))
        }
    }
}

/// What comes out of one set.
fn outcomes<'a>(
    movement: &'a Movement,
    fit: &'a Fit,
    system: System,
) -> impl Iterator<Item = String> + 'a {
    let off = |o: &Outcome| {
        if o.spread > 0.0 {
            format!(
                ", {} of its spreads off",
                decimal(((o.is - o.aim) / o.spread).abs(), 1)
            )
        } else {
            String::new()
        }
    };
    let said = fit.outcomes.iter().map(move |o| match o.what {
        What::Beats => format!("{} beats an hour{}", decimal(o.is, 2), off(o)),
        What::Run(_) => format!("{} hours of a winding{}", decimal(o.is, 1), off(o)),
        What::Must(_) => format!("{} turns{}", decimal(o.is, 4), off(o)),
        _ => decimal(o.is, 4),
    });
    let modules = fit.modules.iter().map(move |(by, module)| {
        format!(
            "module {}, by {}",
            system.length(module),
            sized(movement, *by)
        )
    });
    said.chain(modules)
}

/// Why there is nothing to solve.
pub fn puzzle_fault(movement: &Movement, fault: &PuzzleFault) -> String {
    let arbor = |id| quoted(&movement.arbor(id).id);
    match fault {
        PuzzleFault::NothingMissing => {
            "every count is on the sheet; write `\"?\"` for one that is lost, `\"72?\"` for one that is in doubt".to_owned()
        }
        PuzzleFault::TooMany { got, most } => {
            format!("{got} counts are not known; at most {most} can be worked at once")
        }
        PuzzleFault::Unbound(part) => format!(
            "nothing that was counted or measured bears on `{}`; measure `{}_outside_mm` on its arbor or `centre_mm` in its mesh, or say `--beats`, `--runs` or `--must`",
            movement.part_name(*part),
            movement.part(*part).name
        ),
        PuzzleFault::NotJoined(a, b) => {
            format!("no path of meshes joins {} to {}", arbor(*a), arbor(*b))
        }
        PuzzleFault::NoEscape => {
            "beats are given, but it is not plain which part is the escape wheel; say `--escape ARBOR.PART`".to_owned()
        }
        PuzzleFault::NoTime(id) => format!(
            "nothing in the train of {} says how long a turn takes; write `turn_s` on an arbor, such as 3600 on the centre arbor",
            arbor(*id)
        ),
        PuzzleFault::NoWinding => {
            "`--runs` is given, but no arbor has `winding_turns`".to_owned()
        }
    }
}

/// A ratio that cannot be taken apart.
pub fn bad_must(written: &str) -> String {
    format!(
        "{} is no ratio; expected ARBOR:ARBOR=TURNS, such as `hour:centre=1/12` or `fly:warning=7.5~0.1`: turns of the first in one turn of the second",
        quoted(written)
    )
}

/// A part that is not there.
pub fn unknown_part(written: &str) -> String {
    format!(
        "{} is no part of this sheet; expected ARBOR.PART",
        quoted(written)
    )
}

/// A range of counts that holds none.
pub fn bad_range(least: u16, most: u16) -> String {
    format!("counts from {least} to {most}; expected the smaller number first, from 4 to 1000")
}
