//! Sound as it was recorded, in rows like the lines of a page: how loud it was stands on each row, under it a stroke for every beat
//! that was made out, a long one for a tick and a short one for a tock, over it a wedge for every blow. What a beat or a blow is, is not known here.

use crate::ink::{Drawing, Ink, Tag, number};
use kurbo::{BezPath, Point, Rect};

/// A recording, and what was found in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sounded<'a> {
    /// How long it is, seconds.
    pub seconds: f64,
    /// The loudest in each of equal steps, 1 being all a recording can hold.
    pub loud: &'a [f32],
    /// Seconds of one step.
    pub step_s: f64,
    /// Beats, seconds from the beginning, and whether each is a tick.
    pub beats: &'a [(f64, bool)],
    /// Blows that belong together, seconds from the beginning.
    pub blows: &'a [&'a [f64]],
}

const WIDTH: f64 = 132.0;
const LEFT: f64 = 13.0;
const LETTERS: f64 = 3.4;
/// Height of the sound on a row, of what stands over it where there is any, and of what stands under it.
const SOUND: f64 = 8.4;
const OVER: f64 = 6.4;
const UNDER: f64 = 4.0;
/// The sound is drawn in so many columns a row.
const COLUMNS: usize = 480;
/// Strokes and wedges nearer to each other than this are not told apart.
const NEAREST: f64 = 0.75;
/// Lengths of a row, seconds, and the most rows there should be; an hour is a row where there are hours.
const LENGTHS: [f64; 9] = [
    10.0, 20.0, 30.0, 60.0, 120.0, 300.0, 600.0, 1_200.0, 3_600.0,
];
const MOST_ROWS: f64 = 6.0;

/// Draws a recording. Each row is a group `g.row` with `data-from` and `data-to` in seconds, `data-left` and `data-wide` along it,
/// and `data-top` and `data-high`; a line `line.now` is there to be moved to where it is being played.
pub fn strip(sound: &Sounded<'_>) -> Drawing {
    let long = (LENGTHS.into_iter())
        .find(|long| sound.seconds <= MOST_ROWS * long)
        .unwrap_or(3_600.0);
    // A recording shorter than a row fills it.
    let long = long.min(sound.seconds.max(1.0));
    let most = sound.loud.iter().copied().fold(1e-4, f32::max);
    let over = if sound.blows.is_empty() { 0.6 } else { OVER };
    let high = over + SOUND + UNDER;
    let mut ink = Ink::default();
    let mut rows = 0.0;
    while rows == 0.0 || rows * long < sound.seconds - 0.005 * long {
        let row = Row {
            from: rows * long,
            to: (rows + 1.0) * long,
            top: rows * high,
            foot: rows * high + over + SOUND,
        };
        row.draw(&mut ink, sound, most);
        rows += 1.0;
    }
    ink.line("now", Point::new(LEFT, 0.0), Point::new(LEFT, high));
    Drawing {
        class: "strip-of-sound",
        frame: Rect::new(0.0, 0.0, WIDTH, rows * high),
        letters: LETTERS,
        body: ink.out,
        arrows: Vec::new(),
        anchors: Vec::new(),
    }
}

struct Row {
    from: f64,
    to: f64,
    top: f64,
    foot: f64,
}

impl Row {
    fn x(&self, at: f64) -> f64 {
        LEFT + (at - self.from) / (self.to - self.from) * (WIDTH - LEFT - 1.0)
    }

    fn has(&self, at: f64) -> bool {
        (self.from..self.to).contains(&at)
    }

    fn draw(&self, ink: &mut Ink, sound: &Sounded<'_>, most: f32) {
        let ends = sound.seconds.min(self.to);
        let tag = Tag::new("g", "row")
            .num("data-from", self.from)
            .num("data-to", ends)
            .num("data-left", LEFT)
            .num("data-wide", self.x(ends) - LEFT)
            .num("data-top", self.top)
            .num("data-high", self.foot + UNDER - self.top);
        ink.open(&tag);
        let hours = sound.seconds >= 3_600.0;
        let at = Point::new(LEFT - 1.5, self.foot - 1.2);
        let time = Tag::new("text", "up").point(["x", "y"], at);
        ink.text(&time, &clock(self.from, hours));
        ink.path("loud", &self.hill(sound, ends, most));
        let (left, right) = (
            Point::new(LEFT, self.foot),
            Point::new(self.x(ends), self.foot),
        );
        ink.line("line", left, right);
        self.strokes(ink, sound.beats);
        for blows in sound.blows {
            self.wedges(ink, blows);
        }
        ink.close("g");
    }

    /// How loud it was, on the row's line; the root of it, so that a tick is seen beside a bell.
    fn hill(&self, sound: &Sounded<'_>, ends: f64, most: f32) -> BezPath {
        let mut hill = BezPath::new();
        hill.move_to((LEFT, self.foot));
        let column = (self.to - self.from) / COLUMNS as f64;
        let begins = |(k, loud): (usize, &f32)| (k as f64 * sound.step_s, *loud);
        let mut steps = (sound.loud.iter().enumerate().map(begins))
            .skip_while(|(begins, _)| begins + sound.step_s <= self.from)
            .peekable();
        let (mut at, mut last) = (self.from, 0.0);
        // Where it is as loud as before, nothing is drawn anew.
        let mut drawn = 0.0;
        while at < ends {
            let mut loudest: Option<f32> = None;
            while let Some((_, loud)) = steps.next_if(|(begins, _)| *begins < at + column) {
                loudest = Some(loudest.map_or(loud, |most| most.max(loud)));
                last = loud;
            }
            let high = f64::from((loudest.unwrap_or(last) / most).sqrt()) * SOUND;
            if (high - drawn).abs() > 0.04 {
                hill.line_to((self.x(at), self.foot - drawn));
                hill.line_to((self.x(at), self.foot - high));
                drawn = high;
            }
            at += column;
        }
        hill.line_to((self.x(ends), self.foot - drawn));
        hill.line_to((self.x(ends), self.foot));
        hill.close_path();
        hill
    }

    /// A stroke for each beat; where they stand too close, one bar from the first to the last of them.
    fn strokes(&self, ink: &mut Ink, beats: &[(f64, bool)]) {
        let here: Vec<(f64, bool)> = (beats.iter())
            .filter(|(at, _)| self.has(*at))
            .map(|(at, tick)| (self.x(*at), *tick))
            .collect();
        let mut gaps: Vec<f64> = here.windows(2).map(|two| two[1].0 - two[0].0).collect();
        gaps.sort_by(f64::total_cmp);
        let usual = gaps.get(gaps.len() / 2).copied().unwrap_or(NEAREST);
        if usual >= NEAREST {
            let (mut ticks, mut tocks) = (BezPath::new(), BezPath::new());
            for (x, tick) in here {
                let (strokes, long) = if tick {
                    (&mut ticks, 2.6)
                } else {
                    (&mut tocks, 1.5)
                };
                strokes.move_to((x, self.foot + 0.6));
                strokes.line_to((x, self.foot + long));
            }
            for (class, strokes) in [("ticks", ticks), ("tocks", tocks)] {
                if !strokes.is_empty() {
                    ink.path(class, &strokes);
                }
            }
            return;
        }
        let mut bars: Vec<(f64, f64)> = Vec::new();
        for (x, _) in here {
            match bars.last_mut() {
                Some((_, to)) if x - *to < NEAREST + 4.0 * usual => *to = x,
                _ => bars.push((x, x)),
            }
        }
        let mut path = BezPath::new();
        for (from, to) in bars {
            path.move_to((from, self.foot + 1.3));
            path.line_to((to.max(from + 0.3), self.foot + 1.3));
        }
        ink.path("ticks", &path);
    }

    /// A wedge over each blow, and their number beside the first; one for all where they stand too close.
    fn wedges(&self, ink: &mut Ink, blows: &[f64]) {
        let (Some(&first), top) = (blows.first(), self.foot - SOUND) else {
            return;
        };
        let mut wedges = BezPath::new();
        let mut before = f64::MIN;
        for x in blows
            .iter()
            .filter(|at| self.has(**at))
            .map(|at| self.x(*at))
        {
            if x - before < 2.0 * NEAREST {
                continue;
            }
            before = x;
            wedges.move_to((x - 0.6, top - 1.9));
            wedges.line_to((x + 0.6, top - 1.9));
            wedges.line_to((x, top - 0.3));
            wedges.close_path();
        }
        if !wedges.is_empty() {
            ink.path("ink", &wedges);
        }
        if self.has(first) {
            let at = Point::new(self.x(first).max(LEFT + 2.0), top - 4.3);
            let count = Tag::new("text", "blows").point(["x", "y"], at);
            ink.text(&count, &blows.len().to_string());
        }
    }
}

/// A time as a row begins with it.
fn clock(seconds: f64, hours: bool) -> String {
    let minutes = (seconds / 60.0 + 1e-9).floor();
    if hours {
        let hour = (minutes / 60.0).floor();
        format!("{}:{:02.0}", number(hour), minutes - 60.0 * hour)
    } else {
        format!(
            "{}:{:02.0}",
            number(minutes),
            (seconds - 60.0 * minutes).floor()
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count(svg: &str, what: &str) -> usize {
        svg.matches(what).count()
    }

    #[test]
    fn a_row_has_the_sound_its_beats_and_its_blows() {
        let loud = vec![0.2; 2_500];
        let beats: Vec<(f64, bool)> = (0..24).map(|n| (f64::from(n), n % 2 == 0)).collect();
        let svg = strip(&Sounded {
            seconds: 25.0,
            loud: &loud,
            step_s: 0.01,
            beats: &beats,
            blows: &[&[12.0, 13.5, 15.0]],
        })
        .svg();
        // Three rows of ten seconds, the last half as long; each ends where the next begins.
        assert_eq!(count(&svg, "class=\"row\""), 3);
        assert!(svg.contains("data-from=\"20\" data-to=\"25\""), "{svg}");
        assert_eq!(count(&svg, "class=\"ticks\""), 3);
        assert_eq!(count(&svg, "class=\"tocks\""), 3);
        assert_eq!(count(&svg, "class=\"ink\""), 1);
        assert!(svg.contains(">3</text>"), "{svg}");
    }

    #[test]
    fn half_a_day_is_as_many_rows_as_hours_and_no_larger_than_a_page() {
        let loud: Vec<f32> = (0..16_000_u32)
            .map(|k| if k % 3 == 0 { 0.9 } else { 0.1 })
            .collect();
        let beats: Vec<(f64, bool)> = (0..80_000)
            .map(|n| (0.54 * f64::from(n), n % 2 == 0))
            .collect();
        let svg = strip(&Sounded {
            seconds: 43_200.0,
            loud: &loud,
            step_s: 2.7,
            beats: &beats,
            blows: &[],
        })
        .svg();
        assert_eq!(count(&svg, "class=\"row\""), 12);
        // So many beats are one bar a row.
        assert_eq!(count(&svg, "class=\"tocks\""), 0);
        assert!(svg.len() < 200_000, "{}", svg.len());
    }
}
