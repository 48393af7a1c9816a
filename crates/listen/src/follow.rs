//! Follows one clock from stretch to stretch of a recording: finds its pulse, learns its tick and tock, measures each beat, and
//! keeps count through noise. One clock: a second one that ticks beside it is let pass. What the beats say of the clock is not
//! said here.

use crate::bands::{count, whole, whole_number};
use crate::contour::{Heights, Weights, starts};
use crate::line::{Line, Point, number};
use crate::pulse::{self, Pulse};
use crate::shape::{Fit, Shape};
use crate::warning::{Between, Ticked};

/// A beat that was heard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beat {
    /// Its number; a clock that is lost and found again without knowing how many were missed goes on in a new run.
    pub n: i64,
    /// Seconds from the beginning of the recording.
    pub at_s: f64,
    /// One standard deviation of that, seconds, as far as this beat's own sound tells.
    pub sd_s: f32,
    /// The run it belongs to.
    pub run: u32,
}

/// A shape must be so much like, and so large beside, the learned one to be a beat heard.
const ALIKE: f64 = 0.45;
const SIZE: f64 = 0.25;
/// The part of the foretold beats that must be heard for a pulse to be believed.
const HEARD: f64 = 0.6;
/// Scatter of the beats about an even pulse beyond which it is no clock, in parts of half the period.
const UNEVEN: f64 = 0.06;
/// A run that is heard in one stretch only is believed where so much of it was heard, and so many beats; one in few where so much was.
const ALL_BUT: f64 = 0.85;
const MANY: usize = 10;
const MOST_OF: f64 = 0.72;
const FEW: usize = 3;
/// In a recording as short as this, seconds, there is one stretch.
const SHORT_S: f64 = 45.0;
/// Beats nearest to where they are expected: seconds either way, once the clock is known.
const REACH_S: f64 = 0.018;

#[derive(Debug, Clone)]
struct Known {
    weights: Weights,
    shapes: [Shape; 2],
    /// In seconds of the whole recording.
    line: Line,
    /// Stretches in a row in which it was not heard.
    lost: u32,
    run: u32,
}

/// What was made of a clock from when it was found to when it was lost.
#[derive(Debug, Clone, Copy, Default)]
struct Run {
    stretches: usize,
    heard: usize,
    foretold: usize,
}

impl Run {
    /// Whether it is a clock: talk, too, keeps time for a while, but not from one stretch to the next, and never quite.
    fn is_one(&self) -> bool {
        let part = whole(self.heard) / whole(self.foretold.max(1));
        match self.stretches {
            0 | 1 => self.heard >= MANY && part > ALL_BUT,
            2..=FEW => part > MOST_OF,
            _ => true,
        }
    }
}

/// What came of following a clock.
pub(crate) struct Followed {
    /// The beats of what is one.
    pub(crate) beats: Vec<Beat>,
    /// How many were foretold where it was heard.
    pub(crate) foretold: usize,
    pub(crate) between: Between,
}

/// The clock as followed so far.
#[derive(Debug, Clone, Default)]
pub(crate) struct Follower {
    known: Option<Known>,
    runs: Vec<Run>,
    /// All beats heard.
    beats: Vec<Beat>,
    /// What sounded between them.
    between: Between,
}

/// A stretch of the octaves.
pub(crate) struct Stretch<'a> {
    /// Mean powers of the octaves.
    pub(crate) power: &'a [Vec<f32>],
    /// Frames a second.
    pub(crate) rate: f64,
    /// Seconds of the recording at which it begins.
    pub(crate) begins_s: f64,
    /// Seconds of the stretch from which on, and up to which, beats are to be told: the rest belongs to the neighbours.
    pub(crate) told_s: (f64, f64),
    /// Stretches of time, in the recording's seconds, in which something else was struck.
    pub(crate) struck: &'a [(f64, f64)],
}

impl Stretch<'_> {
    fn is_struck(&self, at_s: f64) -> bool {
        let at = at_s + self.begins_s;
        self.struck
            .iter()
            .any(|(from, to)| (*from..*to).contains(&at))
    }
}

/// Seconds within which a sound falls on a beat.
const ON_BEAT_S: f64 = 0.02;

/// Whether a sound falls where the clock ticks, by the beats before and after it, of either kind.
pub(crate) fn is_on_beat(beats: &[Beat], at_s: f64) -> bool {
    const NEAR: usize = 12;
    let place = beats.partition_point(|beat| beat.at_s < at_s);
    let near = &beats[place.saturating_sub(NEAR)..(place + NEAR).min(beats.len())];
    [0, 1].into_iter().any(|odd| {
        let mut mine = near.iter().filter(|beat| beat.n.rem_euclid(2) == odd);
        let (Some(first), Some(last)) = (mine.next(), mine.next_back()) else {
            return false;
        };
        if first.run != last.run {
            return false;
        }
        let full = 2.0 * (last.at_s - first.at_s) / number(last.n - first.n);
        let turns = (at_s - first.at_s) / full;
        // Far beyond the beats at hand the period is not known well enough.
        turns.abs() < 400.0 && (turns - turns.round()).abs() * full < ON_BEAT_S
    })
}

/// What was made of one stretch.
struct Made {
    weights: Weights,
    shapes: [Shape; 2],
    line: Line,
    points: Vec<Point>,
    foretold: usize,
}

impl Follower {
    /// Hears a further stretch.
    pub(crate) fn hear(&mut self, stretch: &Stretch<'_>) {
        let heights = Heights::new(stretch.power, stretch.rate);
        let length_s = whole(stretch.power.first().map_or(0, Vec::len)) / stretch.rate;
        if let Some(known) = &self.known
            && let Some(made) = again(known, &heights, stretch, length_s)
        {
            let run = known.run;
            self.tell(made, stretch, &heights, run);
            return;
        }
        let found = afresh(&heights, stretch, length_s);
        match (found, self.known.as_mut()) {
            (Some(made), None) => self.begin(made, stretch, &heights),
            (Some(mut made), Some(known)) => {
                known.lost += 1;
                if let Some(shift) = same_clock(&known.line, &made, stretch) {
                    for point in &mut made.points {
                        point.n += shift;
                    }
                    made.line.start_s -= made.line.half_s * number(shift);
                    let run = known.run;
                    self.tell(made, stretch, &heights, run);
                } else if known.lost >= 2 {
                    self.begin(made, stretch, &heights);
                }
            }
            (None, Some(known)) => known.lost += 1,
            (None, None) => {}
        }
    }

    /// Begins another run.
    fn begin(&mut self, made: Made, stretch: &Stretch<'_>, heights: &Heights) {
        let run = u32::try_from(self.runs.len()).unwrap_or(u32::MAX);
        self.runs.push(Run::default());
        self.tell(made, stretch, heights, run);
    }

    /// All beats so far, of whatever was taken for a clock.
    pub(crate) fn beats(&self) -> &[Beat] {
        &self.beats
    }

    /// What is a clock. A recording so short that nothing could be heard again is believed as it is.
    pub(crate) fn finish(self, seconds: f64) -> Followed {
        let is_one = |run: &Run| run.is_one() || seconds < SHORT_S;
        let kept: Vec<bool> = self.runs.iter().map(is_one).collect();
        let runs = self.runs.iter().zip(&kept).filter(|(_, kept)| **kept);
        let foretold = runs.map(|(run, _)| run.foretold).sum();
        let mut beats = self.beats;
        beats.retain(|beat| usize::try_from(beat.run).is_ok_and(|run| kept[run]));
        Followed {
            beats,
            foretold,
            between: self.between,
        }
    }

    fn tell(&mut self, made: Made, stretch: &Stretch<'_>, heights: &Heights, run: u32) {
        let (from, to) = stretch.told_s;
        self.between.hear(&Ticked {
            contour: &heights.join(&made.weights),
            line: &made.line,
            begins_s: stretch.begins_s,
            told_s: stretch.told_s,
            struck: stretch.struck,
        });
        if let Some(run) = self.runs.last_mut() {
            run.stretches += 1;
            run.heard += made.points.len();
            run.foretold += made.foretold;
        }
        for point in made.points.iter().filter(|p| (from..to).contains(&p.at_s)) {
            #[expect(
                clippy::cast_possible_truncation,
                reason = "a deviation needs no more digits"
            )]
            let sd_s = point.sd_s as f32;
            let beat = Beat {
                n: point.n,
                at_s: point.at_s + stretch.begins_s,
                sd_s,
                run,
            };
            if self
                .beats
                .last()
                .is_none_or(|last| last.run != run || beat.n > last.n)
            {
                self.beats.push(beat);
            }
        }
        self.known = Some(Known {
            weights: made.weights,
            shapes: made.shapes,
            line: Line {
                start_s: made.line.start_s + stretch.begins_s,
                ..made.line
            },
            lost: 0,
            run,
        });
    }
}

/// By how many beats a pulse found afresh goes on where the known one left off; nothing if it is another.
fn same_clock(line: &Line, made: &Made, stretch: &Stretch<'_>) -> Option<i64> {
    let alike = (made.line.half_s / line.half_s - 1.0).abs() < 0.004;
    let first = made.points.first()?;
    let at = first.at_s + stretch.begins_s;
    let n = (at - line.start_s) / line.half_s;
    [n.floor(), n.ceil()]
        .into_iter()
        .map(whole_number)
        .filter(|n| (n - first.n).rem_euclid(2) == 0)
        .find(|&n| (line.at(n) - at).abs() < 0.2 * line.half_s)
        .filter(|_| alike)
        .map(|n| n - first.n)
}

/// The known clock in a further stretch.
fn again(known: &Known, heights: &Heights, stretch: &Stretch<'_>, length_s: f64) -> Option<Made> {
    let contour = heights.join(&known.weights);
    let mut line = Line {
        start_s: known.line.start_s - stretch.begins_s,
        ..known.line
    };
    let mut kept = None;
    for _ in 0..2 {
        let fits = fits(&contour, &known.shapes, &line, length_s, REACH_S);
        let (points, foretold) = heard(&fits, stretch);
        if whole(points.len()) < HEARD * 0.8 * whole(foretold).max(1.0) || points.len() < 4 {
            return None;
        }
        let fitted = Line::through(&points)?;
        // A few beats alone know the period less well than all before them did.
        if points.len() >= 8 {
            line = fitted;
        }
        kept = Some((points, foretold));
    }
    let (points, foretold) = kept?;
    if line.jitter_s > UNEVEN * line.half_s {
        return None;
    }
    Some(Made {
        weights: known.weights.clone(),
        shapes: known.shapes.clone(),
        line,
        points,
        foretold,
    })
}

/// Lays the shapes on where beats are foretold.
fn fits(
    contour: &crate::contour::Contour,
    shapes: &[Shape; 2],
    line: &Line,
    length_s: f64,
    reach_s: f64,
) -> Vec<(i64, Fit)> {
    let first = whole_number(((0.0 - line.start_s) / line.half_s).floor()) - 1;
    let last = whole_number(((length_s - line.start_s) / line.half_s).ceil()) + 1;
    let reach = reach_s.min(0.2 * line.half_s);
    (first..=last)
        .filter_map(|n| {
            let shape = &shapes[usize::from(n.rem_euclid(2) == 1)];
            let expected = line.at(n) - shape.begins_s;
            if line.at(n) < -reach || line.at(n) > length_s + reach {
                return None;
            }
            let fit = shape.lay(contour, expected, reach)?;
            let at_s = fit.at_s + shape.begins_s;
            (at_s >= 0.0 && at_s <= length_s).then_some((n, Fit { at_s, ..fit }))
        })
        .collect()
}

/// The beats that were heard among those laid on, and of how many.
fn heard(fits: &[(i64, Fit)], stretch: &Stretch<'_>) -> (Vec<Point>, usize) {
    let open: Vec<&(i64, Fit)> = fits
        .iter()
        .filter(|(_, fit)| !stretch.is_struck(fit.at_s))
        .collect();
    let points = open
        .iter()
        .filter(|(_, fit)| fit.alike > ALIKE && fit.size > SIZE)
        .map(|&&(n, fit)| Point {
            n,
            at_s: fit.at_s,
            sd_s: fit.sd_s,
        })
        .collect();
    (points, open.len())
}

/// A clock in a stretch, nothing being known.
fn afresh(heights: &Heights, stretch: &Stretch<'_>, length_s: f64) -> Option<Made> {
    let weights = heights.weigh();
    let contour = heights.join(&weights);
    let sounds: Vec<_> = starts(&contour)
        .into_iter()
        .filter(|start| !stretch.is_struck(start.at_s))
        .collect();
    let struck: Vec<(f64, f64)> = (stretch.struck.iter())
        .map(|(from, to)| (from - stretch.begins_s, to - stretch.begins_s))
        .collect();
    let pulse = pulse::find(
        &sounds,
        pulse::Span {
            length_s,
            struck: &struck,
        },
    )?;
    let mut line = first_line(&sounds, &pulse, length_s)?;
    let mut made: Option<(Vec<Point>, usize)> = None;
    let mut shapes = learn(&contour, &places(&line, length_s, stretch), line.half_s)?;
    for round in 0..4 {
        let reach = if round == 0 { 0.03 } else { REACH_S };
        let laid = fits(&contour, &shapes, &line, length_s, reach);
        let (points, foretold) = heard(&laid, stretch);
        line = Line::through(&points)?;
        if round < 3 {
            // Learned again where the beats were found; where too few were, where they are foretold.
            let measured: Vec<(i64, f64)> = points.iter().map(|p| (p.n, p.at_s)).collect();
            shapes = learn(&contour, &measured, line.half_s)?;
        }
        made = Some((points, foretold));
    }
    let (points, foretold) = made?;
    let enough = whole(points.len()) >= HEARD * whole(foretold) && points.len() >= 4;
    (enough && line.jitter_s < UNEVEN * line.half_s).then_some(Made {
        weights,
        shapes,
        line,
        points,
        foretold,
    })
}

/// The line through the sounds nearest to a pulse.
fn first_line(sounds: &[crate::contour::Start], pulse: &Pulse, length_s: f64) -> Option<Line> {
    let mut points = Vec::new();
    let half = 0.5 * pulse.full_s;
    let first = whole_number(-(pulse.tick_s / pulse.full_s).ceil());
    let last = whole_number((length_s / pulse.full_s).ceil());
    let reach = 0.035_f64.min(0.12 * half);
    for cycle in first..=last {
        for odd in [0, 1] {
            let at = pulse.tick_s + pulse.full_s * number(cycle) + pulse.tock_s * number(odd);
            let best = sounds
                .iter()
                .filter(|s| (s.at_s - at).abs() < reach)
                .max_by(|a, b| a.height.total_cmp(&b.height));
            if let Some(sound) = best {
                points.push(Point {
                    n: 2 * cycle + odd,
                    at_s: sound.at_s,
                    sd_s: 0.003,
                });
            }
        }
    }
    Line::through(&points)
}

fn places(line: &Line, length_s: f64, stretch: &Stretch<'_>) -> Vec<(i64, f64)> {
    let first = whole_number((-line.start_s / line.half_s).floor()) - 1;
    let beats = count(length_s / line.half_s) + 4;
    (first..)
        .take(beats)
        .map(|n| (n, line.at(n)))
        .filter(|(_, at)| (0.0..length_s).contains(at) && !stretch.is_struck(*at))
        .collect()
}

/// Tick and tock; where one of them has no whole example, it is taken to be like the other.
fn learn(
    contour: &crate::contour::Contour,
    places: &[(i64, f64)],
    half_s: f64,
) -> Option<[Shape; 2]> {
    let of = |odd: i64| {
        let some: Vec<f64> = (places.iter())
            .filter(|(n, _)| n.rem_euclid(2) == odd)
            .map(|(_, at)| *at)
            .collect();
        Shape::learn(contour, &some, half_s)
    };
    match (of(0), of(1)) {
        (Some(tick), Some(tock)) => Some([tick, tock]),
        (Some(one), None) | (None, Some(one)) => Some([one.clone(), one]),
        (None, None) => None,
    }
}
