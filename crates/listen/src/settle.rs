//! What was struck, once the whole recording is heard: of all the voices the clock's own is the one most was struck with, and what
//! is like it is a strike, the rest of what rings evenly a chime.

use crate::chime::{Bells, Chime, chime, is_interleaved};
use crate::contour::quantile;
use crate::follow::{Beat, is_on_beat};
use crate::ringing::{Kept, Ringing, cosine_similarity, higher};
use crate::steps::Pace;
use crate::strike::{HeardStrike, Run, all_runs, ring};
use crate::voice::{RINGS, Voice, add};

/// Sounds that ring in one stretch.
#[derive(Debug)]
pub(crate) struct Rung {
    pub(crate) sounds: Vec<Kept>,
    pub(crate) run: Option<Run>,
}

impl Rung {
    fn sounds(&self) -> Vec<Ringing> {
        self.sounds.iter().map(Kept::sound).collect()
    }
}

/// Whether most of a run's sounds fall where the clock ticks, and do not ring as only a bell does.
pub(crate) fn ticks(members: &[usize], sounds: &[Ringing], beats: &[Beat]) -> bool {
    let on = members
        .iter()
        .filter(|&&i| is_on_beat(beats, sounds[i].at_s))
        .count();
    let (lasting, share) = ring(sounds, members);
    10 * on >= 7 * members.len() && !(lasting > 0.8 && share > 0.7)
}

/// Decides, all voices being known, what was struck: most blows are the clock's own bell, and a single blow is one of it.
pub(crate) fn settle(rungs: &[Rung], beats: &[Beat]) -> (Vec<HeardStrike>, Vec<Chime>) {
    let runs = rungs
        .iter()
        .filter_map(|rung| Some((rung, rung.run.as_ref()?)));
    let runs = runs.filter(|(rung, run)| !ticks(&run.members, &rung.sounds(), beats));
    let runs: Vec<&Run> = runs.map(|(_, run)| run).collect();
    let mut voices: Vec<Voice> = Vec::new();
    for run in &runs {
        add(&mut voices, &run.voice);
    }
    let sounds = rungs.iter().flat_map(|rung| &rung.sounds);
    let ring = sounds.filter(|sound| sound.rings() > RINGS).count();
    let mut own = voices.into_iter().find(|voice| voice.is_bell(ring));
    if let Some(own) = &mut own {
        let its = runs.into_iter().filter(|run| own.is_of(&run.voice));
        own.pace = Pace::of(its.map(|run| (run.members.len(), run.pace_s)));
        hold_against_others(own, rungs);
    }
    let own = own.as_ref();
    let (mut strikes, mut chimes) = (Vec::new(), Vec::new());
    let bells = Bells::of(rungs.iter().flat_map(Rung::sounds));
    for rung in rungs {
        let all = rung.sounds();
        let mut open: Vec<bool> = vec![true; all.len()];
        // A stretch that was cut goes on in the next, which hears its last seconds again.
        let heard = strikes
            .last()
            .and_then(|s: &HeardStrike| s.blow_times_s.last().copied());
        for (open, sound) in open.iter_mut().zip(&all) {
            *open = heard.is_none_or(|heard| sound.at_s > heard + 0.2);
        }
        let places: Vec<usize> = (0..open.len()).filter(|&i| open[i]).collect();
        let rest: Vec<Ringing> = places.iter().map(|&i| all[i].clone()).collect();
        let bell: Vec<bool> = rest.iter().map(|sound| bells.is_one(sound)).collect();
        for members in own.map_or(Vec::new(), |voice| all_runs(&rest, voice)) {
            let mut pitches: Vec<f32> = members.iter().map(|&i| rest[i].pitch_hz).collect();
            let strike = HeardStrike {
                blow_times_s: members.iter().map(|&i| rest[i].at_s).collect(),
                spread_s: 0.006,
                pitch_hz: f64::from(quantile(&mut pitches, 0.5)),
            };
            let goes_on = strikes.last().is_some_and(|last| last.goes_on_in(&strike));
            // A single blow of a bell that is well known may fall where the clock ticks.
            let known = members.len() == 1 && own.is_some_and(|voice| voice.pace.is_some());
            if !goes_on
                && (!known && ticks(&members, &rest, beats)
                    || own.is_some_and(|voice| is_interleaved(&rest, &members, &bell, voice)))
            {
                continue;
            }
            for &i in &members {
                open[places[i]] = false;
            }
            match strikes.last_mut().filter(|_| goes_on) {
                Some(last) => last.blow_times_s.extend(&strike.blow_times_s),
                None => strikes.push(strike),
            }
        }
        let notes: Vec<Ringing> = (places.iter().zip(&rest))
            .filter(|(i, _)| open[**i])
            .map(|(_, sound)| sound.clone())
            .collect();
        let bell: Vec<bool> = (places.iter().zip(&bell))
            .filter(|(i, _)| open[**i])
            .map(|(_, b)| *b)
            .collect();
        if let Some(row) = chime(&notes, &bell) {
            chimes.push(Chime {
                notes: pitched(&notes, &row),
            });
        }
    }
    (strikes, chimes)
}

/// Holds a voice against all sounds but those of its own runs and about them.
fn hold_against_others(own: &mut Voice, rungs: &[Rung]) {
    let Some(pace) = own.pace.map(|pace| pace.usual_s) else {
        return;
    };
    let (mut blows, mut others, mut runs, mut heard_s) = (Vec::new(), Vec::new(), 0.0, 0.0);
    for rung in rungs {
        let sounds = rung.sounds();
        let its = rung.run.as_ref().filter(|run| own.is_of(&run.voice));
        let about = its.map_or(0.0..0.0, |run| {
            let (first, last) = (run.members[0], run.members[run.members.len() - 1]);
            sounds[first].at_s - 2.0 * pace..sounds[last].at_s + 2.0 * pace
        });
        runs += if its.is_some() { 1.0 } else { 0.0 };
        if let (Some(first), Some(last)) = (sounds.first(), sounds.last()) {
            heard_s += last.at_s - first.at_s - (about.end - about.start);
        }
        let blow = its.iter().flat_map(|run| &run.members);
        blows.extend(blow.map(|&i| own.is_like(&sounds[i])));
        let far = sounds.iter().filter(|s| !about.contains(&s.at_s));
        others.extend(far.map(|s| own.is_like(s)));
    }
    // Two ends to each, and a tenth of the pace to either side.
    own.hold_against(
        &mut blows,
        &mut others,
        (0.4 * pace * runs / heard_s.max(1.0)).min(1.0),
    );
}

/// When each note of a chime fell and its pitch; notes of one bell have the pitch of its first, whichever partial was strongest.
fn pitched(sounds: &[Ringing], row: &[usize]) -> Vec<(f64, f64)> {
    const ONE_BELL: f32 = 0.7;
    let mut told: Vec<(f64, f64)> = Vec::new();
    for (k, &i) in row.iter().enumerate() {
        let alike = |j: usize| cosine_similarity(&sounds[row[j]].rise, &sounds[i].rise);
        let same = (0..k).max_by(|&a, &b| alike(a).total_cmp(&alike(b)));
        let pitch = match same.filter(|&j| alike(j) > ONE_BELL) {
            Some(j) => told[j].1,
            // Bells of one chime are alike but for their pitch: by how much their partials lie apart says it best.
            None if k > 0 => told[0].1 * higher(&sounds[row[0]].rise, &sounds[i].rise),
            None => f64::from(sounds[i].pitch_hz),
        };
        told.push((sounds[i].at_s, pitch));
    }
    told
}
