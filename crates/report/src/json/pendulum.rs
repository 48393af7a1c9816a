//! Pendulums and rating.

use super::{First, MeasuredValue, Version, measured_value};
use crate::{Locale, en, pendulum};
use quantity::{Gravity, Known, Length, Mass, Number, Pace, Rate, Slant, Stress, Warmth};
use schemars::JsonSchema;
use serde::Serialize;
use workshop::pendulum::{PendulumResult, Want};

/// What `trundle pendulum` answers: all that follows from what is there to what is wanted.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PendulumAnswer {
    /// The version of this answer's form.
    answer: First,
    /// The version of the program that answers.
    trundle: Version,
    /// The name on the sheet; null without one.
    sheet: Option<String>,
    /// What follows, one after another.
    said: Vec<Line>,
    /// How many things could not be told for want of something else.
    lacking: usize,
}

/// Something that follows.
#[derive(Debug, Serialize, JsonSchema)]
struct Line {
    /// Its figures.
    #[serde(flatten)]
    figures: Figures,
    /// The same in a sentence.
    says: String,
}

/// What follows, with its figures. `gains_s_per_day` is what the clock gains in a day, in seconds; less than nothing where it loses.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(tag = "what")]
enum Figures {
    /// What falls here.
    #[serde(rename = "gravity")]
    Gravity {
        /// How fast what falls gains, in metres a second for each second.
        m_per_s2: MeasuredValue,
        /// Whether the place was given; else it is that of anywhere.
        place_given: bool,
    },
    /// The length that beats so often.
    #[serde(rename = "length for beats")]
    LengthForBeats {
        /// Beats an hour.
        per_hour: MeasuredValue,
        /// The length, in millimetres.
        mm: MeasuredValue,
    },
    /// How often a pendulum of this length beats.
    #[serde(rename = "beats of length")]
    BeatsOfLength {
        /// The length, in millimetres.
        mm: MeasuredValue,
        /// Beats an hour.
        per_hour: MeasuredValue,
    },
    /// What the clock gains with the pendulum it has, as long as it is, in its train.
    #[serde(rename = "rate as it hangs")]
    RateAsItHangs {
        /// What it gains.
        gains_s_per_day: MeasuredValue,
        /// The length it hangs at, in millimetres.
        mm: MeasuredValue,
    },
    /// How a pendulum made up of pieces swings.
    #[serde(rename = "compound")]
    Compound {
        /// The length of a plain pendulum that beats alike, in millimetres.
        mm: MeasuredValue,
        /// How far below the suspension its mass lies on the mean, in millimetres.
        centre_mm: MeasuredValue,
        /// Its mass, in grams.
        g: MeasuredValue,
    },
    /// What the width of the swing costs.
    #[serde(rename = "arc")]
    Arc {
        /// How far it swings to one side, in degrees.
        half_arc_deg: MeasuredValue,
        /// What it gains by it.
        gains_s_per_day: MeasuredValue,
    },
    /// What a wider or narrower swing does.
    #[serde(rename = "other arc")]
    OtherArc {
        /// How far it is to swing to one side, in degrees.
        half_arc_deg: MeasuredValue,
        /// What it gains by it.
        gains_s_per_day: MeasuredValue,
    },
    /// What warmth does.
    #[serde(rename = "warmth")]
    Warmth {
        /// By how many degrees Celsius it gets warmer.
        warmer_c: MeasuredValue,
        /// What it gains by it.
        gains_s_per_day: MeasuredValue,
    },
    /// What the air costs.
    #[serde(rename = "air")]
    Air {
        /// What it gains by it.
        gains_s_per_day: MeasuredValue,
    },
    /// What a change of the air does.
    #[serde(rename = "change of air")]
    ChangeOfAir {
        /// What it gains by it.
        gains_s_per_day: MeasuredValue,
    },
    /// What another place does.
    #[serde(rename = "other place")]
    OtherPlace {
        /// What it gains by it.
        gains_s_per_day: MeasuredValue,
    },
    /// What one turn of the nut upward does.
    #[serde(rename = "nut, one turn up")]
    NutTurn {
        /// What it gains by a turn.
        gains_s_per_day: MeasuredValue,
        /// What it gains by a division of the nut, in seconds a day; null where it has none.
        division_gains_s_per_day: Option<MeasuredValue>,
    },
    /// How far to turn the nut for what it gains.
    #[serde(rename = "nut for what it gains")]
    NutFor {
        /// What it gains now.
        gains_s_per_day: MeasuredValue,
        /// How much longer it must be, in millimetres.
        longer_mm: MeasuredValue,
        /// Turns of the nut downward; null where the nut is not known.
        turns_down: Option<MeasuredValue>,
        /// Divisions of the nut downward; null where it has none.
        divisions_down: Option<MeasuredValue>,
    },
    /// How the suspension spring bends under the bob.
    #[serde(rename = "suspension")]
    Suspension {
        /// How far below the upper chop the pendulum turns, in millimetres.
        turns_below_mm: MeasuredValue,
        /// How much shorter a pendulum is that turns there freely and beats alike, in millimetres.
        shorter_mm: MeasuredValue,
        /// How stiff the strip was taken to be, in newtons to the square millimetre.
        stiff_n_per_mm2: MeasuredValue,
    },
    /// What another strip in its place does.
    #[serde(rename = "other suspension")]
    OtherSuspension {
        /// How wide it is, in millimetres; null for one a tenth thicker than the one that is there.
        wide_mm: Option<MeasuredValue>,
        /// How thick, in millimetres; null for one a tenth thicker.
        thick_mm: Option<MeasuredValue>,
        /// How long between its chops, in millimetres; null for one a tenth thicker.
        long_mm: Option<MeasuredValue>,
        /// How much lower the pendulum turns, in millimetres.
        turns_lower_mm: MeasuredValue,
        /// What it gains by it.
        gains_s_per_day: MeasuredValue,
        /// How much longer it must be, in millimetres, to keep the rate it has.
        longer_mm: MeasuredValue,
        /// Turns of the nut downward for that; null where the nut is not known.
        turns_down: Option<MeasuredValue>,
        /// Divisions of the nut downward; null where it has none.
        divisions_down: Option<MeasuredValue>,
    },
    /// What a small weight laid on does.
    #[serde(rename = "small weight")]
    SmallWeight {
        /// The weight, in grams.
        g: MeasuredValue,
        /// How far below the suspension it lies, in millimetres.
        below_mm: MeasuredValue,
        /// What it gains by it.
        gains_s_per_day: MeasuredValue,
    },
    /// The weight to lay on half way down for what it loses; less than nothing is to be taken off.
    #[serde(rename = "weight for what it gains")]
    WeightFor {
        /// What it gains now.
        gains_s_per_day: MeasuredValue,
        /// The weight to lay on, in grams.
        lay_on_g: MeasuredValue,
    },
    /// How a torsion pendulum swings.
    #[serde(rename = "torsion")]
    Torsion {
        /// Beats an hour.
        per_hour: MeasuredValue,
        /// How stiff against shearing its ribbon was taken to be, in newtons to the square millimetre.
        ribbon_shear_n_per_mm2: MeasuredValue,
    },
    /// How thick the ribbon of a torsion pendulum must be.
    #[serde(rename = "ribbon for beats")]
    RibbonFor {
        /// Beats an hour.
        per_hour: MeasuredValue,
        /// How thick, in millimetres.
        thick_mm: MeasuredValue,
    },
}

impl PendulumAnswer {
    /// All that follows.
    pub fn of(name: Option<&str>, said: &[PendulumResult], wants: &[Want]) -> PendulumAnswer {
        let locale = Locale::default();
        let said = said.iter().map(|said| Line {
            figures: figures(said),
            says: en::breaking(&pendulum::one(&locale, said)),
        });
        PendulumAnswer {
            answer: First,
            trundle: Version,
            sheet: name.map(str::to_owned),
            said: said.collect(),
            lacking: wants.len(),
        }
    }
}

fn figures(said: &PendulumResult) -> Figures {
    let mm = |x: &Known<Length>| measured_value(x, Length::as_mm);
    let gains = |x: &Known<Rate>| measured_value(x, Rate::as_s_per_day);
    let pace = |x: &Known<Pace>| measured_value(x, Pace::as_per_hour);
    let grams = |x: &Known<Mass>| measured_value(x, Mass::as_g);
    let deg = |x: &Known<Slant>| measured_value(x, Slant::as_deg);
    let plain = |x: &Known<Number>| measured_value(x, Number::as_plain);
    match said {
        PendulumResult::Falls(x, given) => Figures::Gravity {
            m_per_s2: measured_value(x, Gravity::as_m_per_s2),
            place_given: *given,
        },
        PendulumResult::LengthFor(x, l) => Figures::LengthForBeats {
            per_hour: pace(x),
            mm: mm(l),
        },
        PendulumResult::BeatsOf(l, x) => Figures::BeatsOfLength {
            mm: mm(l),
            per_hour: pace(x),
        },
        PendulumResult::Against(x, l) => Figures::RateAsItHangs {
            gains_s_per_day: gains(x),
            mm: mm(l),
        },
        PendulumResult::Compound(swing) => Figures::Compound {
            mm: mm(&swing.length),
            centre_mm: mm(&swing.centre),
            g: grams(&swing.mass),
        },
        PendulumResult::Arc(a, x) => Figures::Arc {
            half_arc_deg: deg(a),
            gains_s_per_day: gains(x),
        },
        PendulumResult::Wider(a, x) => Figures::OtherArc {
            half_arc_deg: deg(a),
            gains_s_per_day: gains(x),
        },
        PendulumResult::Warmer(_, by, x) => Figures::Warmth {
            warmer_c: measured_value(by, Warmth::as_celsius),
            gains_s_per_day: gains(x),
        },
        PendulumResult::Buoyed(x) => Figures::Air {
            gains_s_per_day: gains(x),
        },
        PendulumResult::Thinner(x) => Figures::ChangeOfAir {
            gains_s_per_day: gains(x),
        },
        PendulumResult::Moved(x) => Figures::OtherPlace {
            gains_s_per_day: gains(x),
        },
        PendulumResult::NutTurn(x, division) => Figures::NutTurn {
            gains_s_per_day: gains(x),
            division_gains_s_per_day: division.as_ref().map(gains),
        },
        PendulumResult::NutFor(x, l, turns) => Figures::NutFor {
            gains_s_per_day: gains(x),
            longer_mm: mm(l),
            turns_down: turns.as_ref().map(|(turns, _)| plain(turns)),
            divisions_down: turns.as_ref().and_then(|t| t.1.as_ref()).map(plain),
        },
        PendulumResult::Suspended(bend, stiff) => Figures::Suspension {
            turns_below_mm: mm(&bend.turns),
            shorter_mm: mm(&bend.shorter),
            stiff_n_per_mm2: measured_value(stiff, Stress::as_mpa),
        },
        PendulumResult::Resuspended(other, longer, turns) => Figures::OtherSuspension {
            wide_mm: other.strip.as_ref().map(|strip| mm(&strip.width)),
            thick_mm: other.strip.as_ref().map(|strip| mm(&strip.thick)),
            long_mm: other.strip.as_ref().map(|strip| mm(&strip.long)),
            turns_lower_mm: mm(&other.lower),
            gains_s_per_day: gains(&other.gains),
            longer_mm: mm(longer),
            turns_down: turns.as_ref().map(|(turns, _)| plain(turns)),
            divisions_down: turns.as_ref().and_then(|t| t.1.as_ref()).map(plain),
        },
        PendulumResult::LaidOn(m, at, x) => Figures::SmallWeight {
            g: grams(m),
            below_mm: mm(at),
            gains_s_per_day: gains(x),
        },
        PendulumResult::Shoulder(x, m) => Figures::WeightFor {
            gains_s_per_day: gains(x),
            lay_on_g: grams(m),
        },
        PendulumResult::Torsion(x, shear) => Figures::Torsion {
            per_hour: pace(x),
            ribbon_shear_n_per_mm2: measured_value(shear, Stress::as_mpa),
        },
        PendulumResult::Thickness(x, l) => Figures::RibbonFor {
            per_hour: pace(x),
            thick_mm: mm(l),
        },
    }
}
