//! A hundred thousand sheets, grown and damaged: each is read or refused, and what is read is answered.

use fleet::{Dice, Saw, Taste, arbitrary, dice, flip_byte, grow, mismeshed, mutate};
use movement::Movement;
use rand::RngExt;
use report::Voice;
use serde_json::json;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};
use tasks::QuestionFault;
use tasks::Refusal;
use timing::{Cure, ReadingFault, SaidFault, Stands};

/// How many.
const SHEETS: u32 = 100_000;

/// One sheet in so many is grown; the others are damaged copies of the last one grown.
const COPIES: u32 = 10;

/// No sheet may take so long: more than a thousand times what one takes, on a machine that does other things as well.
const HANGS: Duration = Duration::from_secs(60);

/// A sheet that takes longer than this is told of.
const SLOW: Duration = Duration::from_millis(200);

#[derive(Default)]
struct Tally {
    past_toml: u32,
    accepted: u32,
    answered: u32,
    refused: u32,
    cures: [u32; 3],
    slow: u32,
    slowest: Duration,
    /// What was read of the last sheet that was answered.
    saw: Saw,
}

#[test]
fn each_is_read_or_refused_and_what_is_read_is_answered() {
    let mut dice = dice(1);
    let mut grown = String::new();
    let mut tally = Tally::default();
    let started = Instant::now();
    for n in 0..SHEETS {
        let sheet = if n % COPIES == 0 {
            let taste = if dice.random_bool(0.6) {
                Taste::realistic()
            } else {
                Taste::wild()
            };
            grown = grow(&taste, &mut dice).sheet();
            grown.clone().into_bytes()
        } else if dice.random_bool(0.02) {
            flip_byte(&grown, &mut dice)
        } else {
            mutate(&grown, &mut dice).into_bytes()
        };
        let began = Instant::now();
        let tried = catch_unwind(AssertUnwindSafe(|| {
            try_sheet(&sheet, &mut dice, &mut tally);
        }));
        let took = began.elapsed();
        let text = String::from_utf8_lossy(&sheet);
        assert!(tried.is_ok(), "sheet {n} made it panic:\n{text}");
        assert!(took < HANGS, "sheet {n} took {took:?}:\n{text}");
        tally.slowest = tally.slowest.max(took);
        if took > SLOW {
            tally.slow += 1;
            keep(n, took, &text, &tally.saw);
        }
    }
    let Tally {
        past_toml,
        accepted,
        answered,
        refused,
        cures: [none, shift, no_mesh],
        slow,
        slowest,
        ..
    } = tally;
    println!(
        "{SHEETS} sheets in {:.0?}: {past_toml} past the TOML, {accepted} accepted, {refused} refused what was read, {answered} answered: {none} none \
         needed, {shift} shift, {no_mesh} no mesh; {slow} took over {SLOW:?}, the slowest {slowest:.0?}",
        started.elapsed()
    );
    assert!(past_toml >= SHEETS / 4, "{past_toml} got past the TOML");
    assert!(accepted >= SHEETS / 10, "{accepted} were accepted");
    assert!(answered >= accepted / 2, "{answered} had a witness to read");
    assert!(refused <= answered / 10, "{refused} were refused");
    assert!(
        none.min(shift).min(no_mesh) > 100,
        "each of the three answers is given often"
    );
}

/// Puts a slow sheet where `TRUNDLE_SLOW` says, to be looked at.
fn keep(n: u32, took: Duration, text: &str, saw: &Saw) {
    if let Some(folder) = std::env::var_os("TRUNDLE_SLOW") {
        let path = std::path::Path::new(&folder).join(format!("{n}-{}ms.toml", took.as_millis()));
        let saw: Vec<String> = saw
            .iter()
            .map(|(id, said)| format!("{id}={said}"))
            .collect();
        std::fs::write(&path, format!("# {}\n{text}", saw.join(" ")))
            .expect("the folder that TRUNDLE_SLOW names");
    }
}

fn try_sheet(sheet: &[u8], dice: &mut Dice, tally: &mut Tally) {
    let movement = match sheet::read(sheet) {
        Ok(sheet) => sheet.movement,
        Err(faults) => {
            assert!(!faults.told.is_empty(), "refused without a fault");
            for fault in &faults.told {
                assert!(!report::en::fault(fault).line.is_empty());
            }
            let spots: Vec<_> = faults.told.iter().map(|fault| fault.spot).collect();
            assert!(spots.is_sorted(), "faults in order of place");
            let broken = faults.told.iter().any(|fault| {
                matches!(
                    fault.what,
                    sheet::SheetFaultKind::Toml { .. }
                        | sheet::SheetFaultKind::NotUtf8 { .. }
                        | sheet::SheetFaultKind::Doubled { .. }
                )
            });
            tally.past_toml += u32::from(!broken);
            return;
        }
    };
    tally.past_toml += 1;
    tally.accepted += 1;
    train(sheet, &movement);
    if movement.witnesses().len() == 0 {
        return;
    }
    tally.saw = if dice.random_bool(0.7) {
        let meshes = dice.random_range(0..=3);
        mismeshed(&movement, meshes, dice)
    } else {
        arbitrary(&movement, dice)
    };
    remesh(sheet, &movement, tally);
}

/// All that is said of a movement's motion.
fn train(sheet: &[u8], movement: &Movement) {
    let (again, per) = tasks::train(sheet, None).expect("a sheet that was accepted");
    assert_eq!(again.arbors().len(), movement.arbors().len());
    let json = json!(report::json::TrainAnswer::of(&again, per));
    assert_eq!(
        json["arbors"].as_array().map(Vec::len),
        Some(movement.arbors().len())
    );
    assert!(report::en::train_text(&again, per).contains(movement.name()));
    let idle = kinematics::no_witness_beyond(movement);
    for (mesh, _) in movement.meshes() {
        let moves = movement.witnesses().any(|(witness, _)| {
            kinematics::step(movement, mesh, witness).is_some_and(|step| !step.is_zero())
        });
        assert!(!(moves && idle.contains(&mesh)));
    }
}

/// What was read may be refused for two reasons, and each must be so: where places lie close, a spread that was said is too
/// wide for them; and where damage took the window of a witness, all that was read may be in, and not all of it can be.
fn refused(why: &QuestionFault, movement: &Movement) {
    let said = report::unanswered(&Voice::Command(report::Locale::default()), why);
    match why {
        QuestionFault::Reading(written, ReadingFault::Spread { got, most }) => {
            assert!(written.contains('~') && *got >= most.to_f64(), "{said}");
        }
        QuestionFault::NoWindows { of: ids, .. } => {
            let without: Vec<&str> = (movement.unjudged().iter())
                .map(|witness| witness.id.as_str())
                .collect();
            assert!(!without.is_empty() && without == *ids, "{said}");
        }
        QuestionFault::Said(_, SaidFault::NoWindow { id }) => {
            let without = movement.unjudged().iter().any(|witness| witness.id == *id);
            assert!(without, "{said}");
        }
        _ => panic!("{said}"),
    }
}

fn remesh(sheet: &[u8], movement: &Movement, tally: &mut Tally) {
    let saw: Vec<String> = (tally.saw.iter())
        .map(|(id, said)| format!("{id}={said}"))
        .collect();
    let read = tasks::check(sheet).map_err(Refusal::from);
    let answered = read.and_then(|sheet| {
        let saw = tasks::written::readings(movement, movement.seen_from(), &saw)?;
        tasks::remesh(sheet, &saw, None)
    });
    let answered = match answered {
        Ok(answered) => answered,
        Err(Refusal::Sheet(faults)) => panic!("accepted, and then refused: {faults:?}"),
        Err(Refusal::Question(why)) => {
            refused(&why, movement);
            tally.refused += 1;
            return;
        }
    };
    tally.answered += 1;
    let (movement, answer) = (&answered.sheet.movement, answered.answer);
    let json = json!(report::json::LookAnswer::of(
        movement,
        &answer,
        answered.from
    ));
    assert_eq!(json["answer"], 1);
    assert!(!report::en::remesh_text(movement, &answer, answered.from).is_empty());
    let all_in = |stands: &Stands| {
        (stands.witnesses.iter())
            .all(|standing| movement.witness(standing.witness).admits(&standing.stands))
    };
    for stands in [&answer.now, &answer.after] {
        assert_eq!(stands.witnesses.len(), saw.len());
        for chance in (stands.witnesses.iter().map(|s| s.in_window)).chain([stands.in_window]) {
            assert!((0.0..=1.0).contains(&chance.get()));
        }
    }
    assert!((0.0..=1.0).contains(&answer.after_handled.get()));
    assert_eq!(answer.unread.len() + saw.len(), movement.witnesses().len());
    let which = match answer.cure {
        Cure::NoneNeeded => {
            assert!(all_in(&answer.now) && movement.unjudged().is_empty());
            0
        }
        Cure::Shift(shifts) => {
            assert!(!all_in(&answer.now) && all_in(&answer.after));
            assert!(!shifts.is_empty() && shifts.iter().all(|shift| shift.teeth >= 1));
            1
        }
        Cure::Turn(turns, _) => {
            assert!(!all_in(&answer.now) && all_in(&answer.after));
            assert!(!turns.is_empty());
            1
        }
        Cure::NoMesh(nearest) | Cure::NotFound(nearest) => {
            assert!(!all_in(&answer.now) && !all_in(&nearest.after));
            assert!(nearest.worst.part > 0.0 && nearest.worst.part.is_finite());
            2
        }
    };
    tally.cures[which] += 1;
}
