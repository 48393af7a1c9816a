//! The loop at the bench: what was seen and done goes into a log, and the log says what to do next.

use crate::asks::{Ask, Which};
use crate::centres::Laid;
use crate::changed::since_before;
use crate::ground::{Ground, benches, recall, recalled};
use crate::holds::hold;
use crate::question::QuestionFault;
use crate::{LookAsk, Refusal, belongs, check_timed, digest, hidden_of};
use draw::Layout;
use entries::{
    AtMesh, Decimal, EntryContent, EntryKind, Log, LogHeader, LogWarning, LoggedSight,
    LoggedTension, Moved,
};
use movement::{Movement, Plate, WitnessId};
use quantity::{Chance, Degrees};
use sheet::Sheet;
use std::sync::Arc;
use timing::{Act, Advice, Bench, Eye, Order, Recalled, RuleFacts, Shift, Shown, StoodRight, Turn};

/// A log, gone over for the train that is timed: what it comes to, and what to do next.
#[derive(Debug)]
pub struct TimingState {
    /// The sheet it is about, its windows where the log has them.
    pub sheet: Arc<Sheet>,
    /// How all stood while it struck right, as the log tells.
    pub stood: StoodRight,
    /// The plate that ways round are told from.
    pub from: Plate,
    /// The log with everything in it.
    pub log: Log,
    /// A torn last line that was left out, if there was one.
    pub torn: Option<LogWarning>,
    /// The text to write at the end of the file; the whole log where there was none.
    pub added: String,
    /// What the log comes to for the train that is timed now; for all trains where they are timed together.
    pub recalled: Recalled,
    /// What to do next with that train. The chance that all is in its window as it stands, and what stands against closing up,
    /// are of all trains.
    pub advice: Advice,
    /// The chance of each place of each witness.
    pub places: Vec<(WitnessId, Vec<(Degrees, Chance)>)>,
    /// How arbors that are out go in.
    pub order: Order,
    /// Where what is seen is thought over, and what it comes to there.
    ground: Ground,
    each: Vec<Recalled>,
    /// How it is laid out for drawing.
    laid: Arc<Laid>,
}

impl TimingState {
    /// How its movement is laid out for drawing; sought when it is first asked for.
    pub fn layout(&self) -> &Layout {
        self.laid.layout(&self.sheet.movement)
    }

    /// Why the advice cannot be given: to close up would be said of witnesses whose windows nobody wrote.
    pub fn unfounded(&self) -> Option<QuestionFault> {
        let movement = &self.sheet.movement;
        let closes = self.advice.act == timing::Act::Done || movement.witnesses().len() == 0;
        (closes && !movement.unjudged().is_empty()).then(|| QuestionFault::no_windows(movement))
    }

    /// The shifts that are advised now.
    pub fn advised(&self) -> &[Shift] {
        match &self.advice.act {
            Act::Shift(shifts) => shifts,
            _ => &[],
        }
    }

    /// The parts that are to be turned on their arbors now.
    pub fn turns(&self) -> &[Turn] {
        match &self.advice.act {
            Act::Turn(turns) => turns,
            _ => &[],
        }
    }

    /// Whether it takes so little room that it may be kept for when it is asked for again: some megabytes.
    pub fn is_small(&self) -> bool {
        let hypotheses: usize = (self.each.iter())
            .map(|recalled| recalled.belief.hypotheses())
            .sum();
        hypotheses <= timing::MOST_HYPOTHESES
    }

    /// The same log after something more was told. Nothing is entered unless all of it is.
    ///
    /// # Errors
    /// What is wrong with what was asked.
    pub fn tell(&self, asks: &[Ask]) -> Result<TimingState, Refusal> {
        let begun = Begun {
            from: self.from,
            torn: None,
            added: String::new(),
            ground: self.ground.clone(),
            laid: Arc::clone(&self.laid),
        };
        begun.tell(self.log.clone(), self.each.clone(), asks)
    }
}

/// Goes over a log, or begins one, enters what was asked, and says what to do next. Nothing is entered unless all of it is.
///
/// `eye` is how rough the readings of a job are before any of its own are known: as a book's other jobs show it, see [`shown`],
/// or the usual. Where the log is of a lesson it is the usual one: whoever learns is no measure, nor measured by others.
///
/// # Errors
/// What is wrong with the sheet, the log or what was asked.
pub fn note(
    sheet: &[u8],
    log: Option<&[u8]>,
    asks: &[Ask],
    from: Option<Plate>,
    eye: Eye,
) -> Result<TimingState, Refusal> {
    note_of(Arc::new(check_timed(sheet)?), log, asks, from, eye)
}

/// The same of a sheet that was read to be timed ([`check_timed`]).
///
/// # Errors
/// As [`note`].
pub fn note_of(
    sheet: Arc<Sheet>,
    log: Option<&[u8]>,
    asks: &[Ask],
    from: Option<Plate>,
    eye: Eye,
) -> Result<TimingState, Refusal> {
    let movement = &sheet.movement;
    let from = from.unwrap_or(movement.seen_from());
    let (log, torn, added) = match log {
        Some(bytes) => {
            let (log, warnings) =
                Log::read(bytes).map_err(|f| Refusal::Question(QuestionFault::Log(f)))?;
            if !belongs(&log, movement) {
                return Err(Refusal::Question(QuestionFault::OtherSheet {
                    sheet: movement.name().to_owned(),
                    log: log.header().sheet.clone(),
                    changed: since_before(&log, movement),
                }));
            }
            let mut log = log;
            hold(&mut log, movement);
            (log, warnings.into_iter().next(), String::new())
        }
        None => {
            let log = Log::start(LogHeader {
                sheet: movement.name().to_owned(),
                hash: digest(movement),
            });
            let text = log.text().to_owned();
            (log, None, text)
        }
    };
    let eye = match hidden_of(&log) {
        Some(_) => Eye::default(),
        None => eye,
    };
    let laid = Arc::new(Laid::of(movement, &log));
    let ground = Ground::of(sheet, &log, eye)?;
    let each = recall(&ground.benches, &log)?;
    let begun = Begun {
        from,
        torn,
        added,
        ground,
        laid,
    };
    begun.tell(log, each, asks)
}

/// A log that was gone over so far.
struct Begun {
    from: Plate,
    torn: Option<LogWarning>,
    added: String,
    ground: Ground,
    laid: Arc<Laid>,
}

impl Begun {
    /// Enters what was asked into the log, and says what to do next; `each` is what it came to before, at each bench.
    fn tell(
        mut self,
        mut log: Log,
        mut each: Vec<Recalled>,
        asks: &[Ask],
    ) -> Result<TimingState, Refusal> {
        if !asks.is_empty() && log.handed_back() {
            return Err(QuestionFault::Home.into());
        }
        for ask in asks {
            let benches = &self.ground.benches;
            // Which train is meant is a question only where there are several.
            let now = match benches[..] {
                [_] => 0,
                _ => {
                    let order = order_of(benches, &each);
                    timed_now(benches, &each, &facts_of(benches, &each, &order)).0
                }
            };
            for kind in kinds(&benches[now], &log, &each[now], ask)? {
                self.added += &log
                    .append(&kind, None)
                    .map_err(QuestionFault::not_entered)?;
                tracing::debug!("an entry is thought over");
                each = match self.ground.then(&log)? {
                    Some(ground) => {
                        self.ground = ground;
                        recall(&self.ground.benches, &log)?
                    }
                    None => {
                        let before = self.ground.benches.iter().zip(&each);
                        recalled(before.map(|(bench, each)| bench.recall_further(&log, each)))?
                    }
                };
            }
        }
        let benches = &self.ground.benches;
        let order = order_of(benches, &each);
        let facts = facts_of(benches, &each, &order);
        let (now, mut advice) = timed_now(benches, &each, &facts);
        let mut places: Vec<(_, Vec<_>)> = (benches.iter().zip(&each))
            .flat_map(|(bench, recalled)| {
                let timed = bench.timed().iter();
                timed.map(|id| (*id, bench.stands_of(&recalled.belief, *id)))
            })
            .collect();
        places.sort_by_key(|(id, _)| *id);
        let all = RuleFacts::together(&facts);
        (advice.in_window, advice.lacks) = (all.in_window, all.lacks());
        let recalled = each[now].clone();
        let laid = self.laid.then(&self.ground.sheet.movement, &log);
        Ok(TimingState {
            from: self.from,
            laid,
            log,
            torn: self.torn,
            added: self.added,
            recalled,
            advice,
            places,
            order,
            sheet: Arc::clone(&self.ground.sheet),
            stood: self.ground.stood.clone(),
            ground: self.ground,
            each,
        })
    }
}

/// What all that was read in a job shows of the eye that read it, for the jobs after it: once, or for each train that is thought
/// over by itself. Nothing where nothing was read since its sheet is what it is, where it is a lesson, or where its log or sheet
/// cannot be summed up.
///
/// It is what the job's own entries show, whatever was expected of the eye before it.
pub fn shown(sheet: &[u8], log: &[u8]) -> Vec<Shown> {
    let Ok((mut log, _)) = Log::read(log) else {
        return Vec::new();
    };
    let looked = (log.standing())
        .any(|entry| matches!(&entry.told, EntryContent::Known(EntryKind::Look { .. })));
    if !looked || hidden_of(&log).is_some() {
        return Vec::new();
    }
    let Ok(sheet) = check_timed(sheet) else {
        return Vec::new();
    };
    if !belongs(&log, &sheet.movement) {
        return Vec::new();
    }
    hold(&mut log, &sheet.movement);
    let recalled = benches(&sheet.movement, Eye::default()).and_then(|each| recall(&each, &log));
    let each = recalled.unwrap_or_default().into_iter();
    each.map(|recalled| recalled.eye).collect()
}

/// Which train is timed now, and what to do with it: the one that was last at hand, until nothing is left to be read or moved in
/// it; then the next of which that cannot be said. What is left to prove is proved of all of them together.
fn timed_now(benches: &[Bench<'_>], recalled: &[Recalled], facts: &[RuleFacts]) -> (usize, Advice) {
    let at_hand = (0..recalled.len())
        .rev()
        .max_by_key(|&n| recalled[n].last)
        .unwrap_or_default();
    let others = (0..benches.len()).filter(|n| *n != at_hand);
    for n in std::iter::once(at_hand).chain(others) {
        let advice = benches[n].advise_with(&recalled[n], &facts[n]);
        let is_left_to_prove = matches!(advice.act, Act::Done | Act::Prove);
        if !is_left_to_prove || benches.len() == 1 {
            return (n, advice);
        }
    }
    let all = RuleFacts::together(facts);
    let chance = |n: &usize| facts[*n].in_window.get();
    let least_sure = (0..facts.len()).min_by(|a, b| chance(a).total_cmp(&chance(b)));
    let now = if all.lacks().nothing() {
        at_hand
    } else {
        least_sure.unwrap_or(at_hand)
    };
    (now, benches[now].advise_with(&recalled[now], &all))
}

/// The order in which the arbors go in that are out; at each bench the same are.
fn order_of(benches: &[Bench<'_>], recalled: &[Recalled]) -> Order {
    let first = benches.first().zip(recalled.first());
    first.map_or_else(Order::default, |(bench, recalled)| {
        timing::order(bench.movement(), &recalled.out)
    })
}

fn facts_of(benches: &[Bench<'_>], recalled: &[Recalled], order: &Order) -> Vec<RuleFacts> {
    let each = benches.iter().zip(recalled);
    each.map(|(bench, recalled)| bench.facts(recalled, order))
        .collect()
}

/// What a user asks, as entries.
fn kinds(
    bench: &Bench<'_>,
    log: &Log,
    recalled: &Recalled,
    ask: &Ask,
) -> Result<Vec<EntryKind>, Refusal> {
    let movement = bench.movement();
    let question = |why: QuestionFault| Err(Refusal::Question(why));
    Ok(vec![match ask {
        Ask::Saw { readings, tension } => look(movement, readings, *tension)?,
        Ask::Stood { readings, hours } => {
            if let Some(n) = way::touched(log) {
                return question(QuestionFault::NotAsItStood(n));
            }
            crate::readings(
                movement,
                LookAsk {
                    readings,
                    at_rest: true,
                },
            )
            .map_err(Refusal::Question)?;
            EntryKind::Stood {
                hours: *hours,
                readings: readings.clone(),
            }
        }
        Ask::Done(which) => {
            let advice = bench.advise_on(recalled);
            if let Act::Turn(turns) = &advice.act {
                let turned = which.of(turns)?;
                let turned = turned
                    .iter()
                    .flat_map(|turn| turned_by(movement, turn, false));
                return Ok(turned.map(EntryKind::Turned).collect());
            }
            let shifts = advice.shift_now;
            if shifts.is_empty() {
                return question(QuestionFault::NothingAdvised);
            }
            let meshes = which
                .of(&shifts)?
                .iter()
                .map(|shift| {
                    Some(AtMesh {
                        mesh: movement.mesh_name(shift.mesh),
                        teeth: i32::try_from(shift.signed()).ok()?,
                    })
                })
                .collect::<Option<Vec<_>>>();
            EntryKind::Shift(meshes.unwrap_or_default())
        }
        Ask::Did(meshes) => EntryKind::Shift(
            meshes
                .iter()
                .map(|at| at_mesh(movement, at))
                .collect::<Result<_, _>>()?,
        ),
        Ask::OtherWay(which) => {
            let last = (log.of_this_sheet().rev()).find_map(|entry| match &entry.told {
                EntryContent::Known(EntryKind::Shift(_)) => Some(entry.n),
                _ => None,
            });
            let Some(of) = last else {
                return question(QuestionFault::NoShift);
            };
            return Ok(match which {
                Which::These(_) => {
                    let round = timing::last_round(movement, log);
                    let alone = |n: usize| {
                        log.entries().iter().any(|entry| match &entry.told {
                            EntryContent::Known(EntryKind::Shift(meshes)) => {
                                entry.n == n && meshes.len() == 1
                            }
                            _ => false,
                        })
                    };
                    let meant = which.of(&round)?.into_iter();
                    meant
                        .map(|shifted| EntryKind::OtherWay {
                            of: shifted.entry,
                            mesh: (!alone(shifted.entry)).then(|| movement.mesh_name(shifted.mesh)),
                        })
                        .collect()
                }
                Which::All => vec![EntryKind::OtherWay { of, mesh: None }],
            });
        }
        Ask::Slipped(at) => EntryKind::Slipped(at_mesh(movement, at)?),
        Ask::Jumped(id) => EntryKind::Jumped {
            arbor: arbor(movement, id)?,
        },
        Ask::Bent(by) => EntryKind::Bent(moved(movement, by)?),
        Ask::Turned(by) => EntryKind::Turned(moved(movement, by)?),
        Ask::SetRight(id) => EntryKind::Bent(set_right(movement, id)?),
        Ask::Out(id) => EntryKind::ArborOut {
            arbor: arbor(movement, id)?,
        },
        Ask::In(id) => {
            let arbor = arbor(movement, id)?;
            if !recalled
                .out
                .iter()
                .any(|out| movement.arbor(*out).id == arbor)
            {
                return question(QuestionFault::NotOut(arbor));
            }
            EntryKind::ArborIn { arbor }
        }
        Ask::Struck(hour) => EntryKind::Struck { hour: *hour },
        Ask::Undo(Some(of)) => match log.entries().len() {
            all if (1..=all).contains(of) => EntryKind::Undo { of: *of },
            all => return question(QuestionFault::NoEntry(*of, all)),
        },
        // What concerns the job as a whole is taken back where it is shown.
        Ask::Undo(None) => match undone(log) {
            // One turn of a part, told of several witnesses, is taken back as one.
            Some(n) => {
                let turn = timing::last_turn(movement, log);
                let all = if turn.contains(&n) { turn } else { vec![n] };
                return Ok(all.into_iter().map(|of| EntryKind::Undo { of }).collect());
            }
            None => return question(QuestionFault::NothingToUndo),
        },
    }])
}

/// The entry that an undo takes back where no number is said: the last that counts and concerns the timing.
fn undone(log: &Log) -> Option<usize> {
    let last = log.of_this_sheet().rfind(|entry| entry.work().is_none());
    last.map(|entry| entry.n)
}

impl TimingState {
    /// Whether an undo without a number finds something to take back.
    pub fn can_undo(&self) -> bool {
        undone(&self.log).is_some()
    }
}

fn arbor(movement: &Movement, id: &str) -> Result<String, Refusal> {
    match movement.find_arbor(id) {
        Some(_) => Ok(id.to_owned()),
        None => Err(Refusal::Question(QuestionFault::unknown_arbor(
            movement, id,
        ))),
    }
}

/// Teeth at a mesh that there is.
fn at_mesh(movement: &Movement, at: &AtMesh) -> Result<AtMesh, Refusal> {
    let id = movement.find_mesh(&at.mesh).filter(|_| at.teeth != 0);
    let bad = || QuestionFault::bad_mesh(movement, &format!("{}={}", at.mesh, at.teeth));
    Ok(AtMesh {
        mesh: movement.mesh_name(id.ok_or_else(|| Refusal::Question(bad()))?),
        teeth: at.teeth,
    })
}

/// Moved by nobody knows how much: as far as a spread can tell.
fn set_right(movement: &Movement, id: &str) -> Result<Moved, Refusal> {
    let witness = movement.find_witness(id);
    let spread = witness.map_or(1.0, |witness| {
        timing::widest_spread(movement.witness(witness)).to_f64()
    });
    crate::written::moved(
        movement,
        movement.seen_from(),
        &format!("{id}=0~{spread:.3}"),
    )
}

/// How witnesses went with a part that was turned, as it was said or the other way: an entry each.
pub fn turned_by(movement: &Movement, turn: &Turn, other_way: bool) -> Vec<Moved> {
    let decimal = |degrees: f64| {
        let written = format!("{degrees:.6}");
        let written = written.trim_end_matches('0').trim_end_matches('.');
        Decimal::parse(written).ok()
    };
    let one = |(id, by): &(WitnessId, Degrees)| {
        let ahead = if other_way { -1.0 } else { 1.0 };
        Some(Moved {
            witness: movement.witness(*id).id.clone(),
            deg: decimal(ahead * by.to_f64())?,
            // No spread is nothing.
            spread: decimal(turn.spread(by).max(1e-3)),
        })
    };
    turn.moves.iter().filter_map(one).collect()
}

/// How a witness moved that there is.
fn moved(movement: &Movement, by: &Moved) -> Result<Moved, Refusal> {
    let reading = entries::LoggedReading {
        witness: by.witness.clone(),
        seen: LoggedSight::Number {
            deg: by.deg.clone(),
            spread: by.spread.clone(),
        },
    };
    match timing::of_witness(movement, &reading) {
        Ok(_) => Ok(by.clone()),
        Err(fault) => {
            let written = timing::written(&reading);
            Err(QuestionFault::said(movement, written, fault).into())
        }
    }
}

fn look(
    movement: &Movement,
    readings: &[entries::LoggedReading],
    tension: LoggedTension,
) -> Result<EntryKind, Refusal> {
    let look = LookAsk {
        readings,
        at_rest: tension == LoggedTension::AtRest,
    };
    crate::readings(movement, look).map_err(Refusal::Question)?;
    Ok(EntryKind::Look {
        tension,
        readings: readings.to_vec(),
    })
}
