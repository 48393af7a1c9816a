//! From what is there and what is wanted to all that follows of a pendulum, and to what is lacking for the rest.

use super::{
    Air, Bend, Load, Lump, Nut, OtherSuspension, Ribbon, Rod, Suspension, SuspensionStrip, Swing,
    SwingFault, Wheel, air, anywhere, beats, bend, buoyed, change_for, laid_on, length, nut_turn,
    on_the_shoulder, other_suspension, slower, swing, thickness_for, thinner, torsion, turns_for,
    warmer, wider,
};
use quantity::{
    Density, Gravity, Known, Length, Mass, Number, Pace, Rate, Slant, Stress, Warmth, propagate,
};

/// What is there.
#[derive(Debug, Clone, Default)]
pub struct Asked {
    /// What falls at the place, where that is known.
    pub gravity: Option<Known<Gravity>>,
    /// Beats an hour that the train asks for, or that are wanted.
    pub train: Option<Known<Pace>>,
    /// The pendulum's length, where it was measured.
    pub length: Option<Known<Length>>,
    /// What falls where it goes.
    pub moved: Option<Known<Gravity>>,
    /// Half its arc.
    pub half_arc: Option<Known<Slant>>,
    /// Half the arc it will have.
    pub arc_to: Option<Known<Slant>>,
    /// What the rod is of.
    pub rod: Option<Rod>,
    /// How much warmer it gets.
    pub warmer: Option<Known<Warmth>>,
    /// What the clock gains.
    pub gains: Option<Known<Rate>>,
    /// The spring that it hangs on.
    pub suspension: Option<Suspension>,
    /// A strip to be put in that one's place; one a tenth thicker where that is not said.
    pub suspension_to: Option<SuspensionStrip>,
    /// The rating nut.
    pub nut: Option<Nut>,
    /// The mass of bob and rod.
    pub mass: Option<Known<Mass>>,
    /// A small weight to be laid on.
    pub small: Option<Known<Mass>>,
    /// Where it is laid, below the suspension; half way where that is not said.
    pub below: Option<Known<Length>>,
    /// How dense the bob is.
    pub bob: Option<Known<Density>>,
    /// The air now and then.
    pub airs: Option<[Air; 2]>,
    /// What the pendulum is made up of.
    pub lumps: Vec<Lump>,
    /// What a torsion pendulum hangs on.
    pub ribbon: Option<Ribbon>,
    /// What turns on it.
    pub wheel: Option<Wheel>,
}

/// Turns of the nut downward, and divisions where it has any.
pub type NutTurned = (Known<Number>, Option<Known<Number>>);

/// Something that follows.
#[derive(Debug, Clone, PartialEq)]
pub enum PendulumResult {
    /// What falls here, and whether the place was given.
    Falls(Known<Gravity>, bool),
    /// The length that beats so often.
    LengthFor(Known<Pace>, Known<Length>),
    /// How often a pendulum of this length beats.
    BeatsOf(Known<Length>, Known<Pace>),
    /// What the clock gains with the pendulum it has, as long as it is, in its train.
    Against(Known<Rate>, Known<Length>),
    /// How a pendulum made up of pieces swings.
    Compound(Swing),
    /// What the swing's width costs: it loses.
    Arc(Known<Slant>, Known<Rate>),
    /// What a wider or narrower swing does.
    Wider(Known<Slant>, Known<Rate>),
    /// What warmth does.
    Warmer(Rod, Known<Warmth>, Known<Rate>),
    /// What the air costs.
    Buoyed(Known<Rate>),
    /// What a change of the air does.
    Thinner(Known<Rate>),
    /// What another place does.
    Moved(Known<Rate>),
    /// What one turn of the nut upward gains, and one division of it.
    NutTurn(Known<Rate>, Option<Known<Rate>>),
    /// How much longer for what it gains, in turns of the nut downward and divisions.
    NutFor(Known<Rate>, Known<Length>, Option<NutTurned>),
    /// How the suspension spring bends, and how stiff it was taken to be.
    Suspended(Bend, Known<Stress>),
    /// What another strip does, how much longer the pendulum must be for it, and the nut.
    Resuspended(OtherSuspension, Known<Length>, Option<NutTurned>),
    /// What a small weight laid on gains, and how far below the suspension it lies.
    LaidOn(Known<Mass>, Known<Length>, Known<Rate>),
    /// The weight to lay on half way down, or to take off, for what it loses or gains.
    Shoulder(Known<Rate>, Known<Mass>),
    /// Swings an hour of a torsion pendulum, and how stiff against shearing its ribbon was taken to be.
    Torsion(Known<Pace>, Known<Stress>),
    /// How thick its ribbon must be.
    Thickness(Known<Pace>, Known<Length>),
}

impl PendulumResult {
    /// Whether all of it are numbers, none of them without end.
    fn is_finite(&self) -> bool {
        let turned = |turns: Option<NutTurned>| {
            turns.is_none_or(|(turns, divisions)| {
                turns.is_finite() && divisions.is_none_or(|divisions| divisions.is_finite())
            })
        };
        match self {
            PendulumResult::Falls(fall, _) => fall.is_finite(),
            PendulumResult::LengthFor(pace, length)
            | PendulumResult::BeatsOf(length, pace)
            | PendulumResult::Thickness(pace, length) => pace.is_finite() && length.is_finite(),
            PendulumResult::Against(rate, length) => rate.is_finite() && length.is_finite(),
            PendulumResult::Compound(swing) => {
                swing.length.is_finite() && swing.centre.is_finite() && swing.mass.is_finite()
            }
            PendulumResult::Arc(half, rate) | PendulumResult::Wider(half, rate) => {
                half.is_finite() && rate.is_finite()
            }
            PendulumResult::Warmer(_, by, rate) => by.is_finite() && rate.is_finite(),
            PendulumResult::Buoyed(rate)
            | PendulumResult::Thinner(rate)
            | PendulumResult::Moved(rate) => rate.is_finite(),
            PendulumResult::NutTurn(turn, division) => {
                turn.is_finite() && division.is_none_or(|division| division.is_finite())
            }
            PendulumResult::NutFor(gains, longer, turns) => {
                gains.is_finite() && longer.is_finite() && turned(*turns)
            }
            PendulumResult::Suspended(bend, stiff) => {
                bend.turns.is_finite() && bend.shorter.is_finite() && stiff.is_finite()
            }
            PendulumResult::Resuspended(other, longer, turns) => {
                let hung = other.lower.is_finite() && other.gains.is_finite();
                hung && longer.is_finite() && turned(*turns)
            }
            PendulumResult::LaidOn(small, below, rate) => {
                small.is_finite() && below.is_finite() && rate.is_finite()
            }
            PendulumResult::Shoulder(rate, small) => rate.is_finite() && small.is_finite(),
            PendulumResult::Torsion(pace, stress) => pace.is_finite() && stress.is_finite(),
        }
    }
}

/// Something that cannot be told for want of something else.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Want {
    /// A length: neither a train nor a length is given.
    Length,
    /// The place: gravity of anywhere was taken.
    Place,
    /// The nut.
    Nut,
    /// What the clock gains.
    Error,
    /// The rod and a change of temperature.
    Warmth,
    /// Half the arc.
    Arc,
    /// The mass of the pendulum.
    Mass,
    /// The suspension spring.
    Suspension,
    /// What a torsion pendulum's ribbon carries, or its ribbon.
    Torsion,
}

/// Why it cannot be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NoPendulum {
    /// A pendulum that no nut brings to the beats of its train.
    #[error("{} mm beat {} an hour where the train has {}, which ask for {} mm", length.value.as_mm(), beats.value.as_per_hour(), train.value.as_per_hour(), wanted.value.as_mm())]
    ForNoTrain {
        /// The pendulum.
        length: Known<Length>,
        /// Its beats.
        beats: Known<Pace>,
        /// Those of the train.
        train: Known<Pace>,
        /// The length they ask for.
        wanted: Known<Length>,
    },
    /// A made-up pendulum that does not hang.
    #[error("the made-up pendulum does not swing")]
    Swing(#[source] SwingFault),
    /// A torsion ribbon too stiff, however thin: the beats that are wanted.
    #[error("no ribbon is so weak that it beats {} an hour", .0.value.as_per_hour())]
    TooStiff(Known<Pace>),
    /// A small weight that lies above the suspension, or far below the pendulum.
    #[error("a small weight {} mm below the suspension of a pendulum of {} mm", below.value.as_mm(), length.value.as_mm())]
    Below {
        /// Where it is laid, below the suspension.
        below: Known<Length>,
        /// The pendulum.
        length: Known<Length>,
    },
    /// A nut that moves the bob past the suspension within one turn.
    #[error("a nut of {} mm a turn on a pendulum of {} mm", pitch.value.as_mm(), length.value.as_mm())]
    Nut {
        /// What one turn moves.
        pitch: Known<Length>,
        /// The pendulum.
        length: Known<Length>,
    },
    /// A suspension spring that reaches to the bob.
    #[error("a suspension spring of {} mm on a pendulum of {} mm", long.value.as_mm(), length.value.as_mm())]
    Suspension {
        /// Its free length between the chops.
        long: Known<Length>,
        /// The pendulum.
        length: Known<Length>,
    },
    /// A length, a mass or beats that are nothing or less.
    #[error("a length, a mass or beats not above 0")]
    NotPositive,
    /// Figures so far from any that hang that no number follows from them.
    #[error("no number follows from figures so large or so small")]
    Boundless,
}

/// What a nut can bring in: a fortieth of the length, which is an inch of a seconds pendulum (common practice, no source).
/// Beyond it, and beyond three spreads, the pendulum is not this clock's.
const BY_THE_NUT: f64 = crate::assumed::BY_THE_NUT.value;

/// The middle of the bob is not the centre of swing: within a fiftieth (common practice, no source).
pub const BY_THE_BOB: f64 = crate::assumed::BY_THE_BOB.value;

/// All that follows from what is there, and what is lacking.
///
/// # Errors
/// What cannot be, with the figures that stand against each other.
pub fn answer(asked: &Asked) -> Result<(Vec<PendulumResult>, Vec<Want>), NoPendulum> {
    let positive = |x: f64| x > 0.0 && x.is_finite();
    let sound = asked.train.is_none_or(|t| positive(t.value.as_per_hour()))
        && asked.length.is_none_or(|l| positive(l.value.as_mm()))
        && asked.mass.is_none_or(|m| positive(m.value.as_g()))
        && asked.bob.is_none_or(|d| positive(d.value.as_kg_per_m3()))
        && asked.nut.is_none_or(|n| positive(n.pitch.value.as_mm()))
        && (asked
            .suspension
            .map(|s| s.strip)
            .iter()
            .chain(&asked.suspension_to))
        .flat_map(|strip| [strip.long, strip.width, strip.thick])
        .all(|of| positive(of.value.as_mm()));
    if !sound {
        return Err(NoPendulum::NotPositive);
    }
    let mut answer = Answer {
        asked,
        said: Vec::new(),
        wants: Vec::new(),
    };
    if asked.ribbon.is_some() || asked.wheel.is_some() {
        answer.torsion()?;
    } else if let Some((length, mass)) = answer.length()? {
        answer.moved();
        answer.nut(length)?;
        answer.weights(length, mass)?;
        answer.suspension(length, mass)?;
    } else {
        answer.wants.push(Want::Length);
    }
    answer.around();
    if !answer.said.iter().all(PendulumResult::is_finite) {
        return Err(NoPendulum::Boundless);
    }
    answer.wants.sort_unstable();
    answer.wants.dedup();
    Ok((answer.said, answer.wants))
}

/// A pendulum's length, and its mass where that is known.
type Hung = (Known<Length>, Option<Known<Mass>>);

struct Answer<'a> {
    asked: &'a Asked,
    said: Vec<PendulumResult>,
    wants: Vec<Want>,
}

impl Answer<'_> {
    /// The length that is worked with: as it was measured, made up, or asked for by the train; and the mass.
    fn length(&mut self) -> Result<Option<Hung>, NoPendulum> {
        let asked = self.asked;
        let gravity = asked.gravity.unwrap_or_else(anywhere);
        if asked.gravity.is_none() {
            self.wants.push(Want::Place);
        }
        let one = Known::sure(Number::plain(1.0));
        let wide = asked.half_arc.map_or(one, slower);
        let mut mass = asked.mass;
        let made_up = if asked.lumps.is_empty() {
            None
        } else {
            let swing = swing(&asked.lumps).map_err(NoPendulum::Swing)?;
            mass = mass.or(Some(swing.mass));
            self.said.push(PendulumResult::Compound(swing));
            Some(swing.length)
        };
        let wanted = asked
            .train
            .map(|train| (train, length(train, gravity, wide)));
        // What was made up is not rated by where its bob was measured.
        let there = made_up.or(asked.length);
        let is = match (there, wanted) {
            (None, None) => return Ok(None),
            (Some(is), _) => is,
            (None, Some((_, wanted))) => wanted,
        };
        self.said
            .push(PendulumResult::Falls(gravity, asked.gravity.is_some()));
        if let Some((train, wanted)) = wanted {
            self.said.push(PendulumResult::LengthFor(train, wanted));
        }
        if let Some(there) = there {
            let pace = beats(there, gravity);
            let pace: Known<Pace> =
                propagate([pace.given(), wide.given()], |[pace, wide]| pace / wide);
            self.said.push(PendulumResult::BeatsOf(there, pace));
            if let Some((train, wanted)) = wanted {
                let off = (there.value.as_mm() - wanted.value.as_mm()).abs();
                let spread = there.spread.as_mm().hypot(wanted.spread.as_mm());
                if off > BY_THE_NUT * wanted.value.as_mm() && off > 3.0 * spread {
                    return Err(NoPendulum::ForNoTrain {
                        length: there,
                        beats: pace,
                        train,
                        wanted,
                    });
                }
                let rate = propagate([pace.given(), train.given()], |[pace, train]| {
                    super::DAY * (pace / train - 1.0)
                });
                self.said.push(PendulumResult::Against(rate, there));
            }
        }
        Ok(Some((is, mass)))
    }

    fn moved(&mut self) {
        let asked = self.asked;
        if let Some(to) = asked.moved {
            let from = asked.gravity.unwrap_or_else(anywhere);
            let rate = propagate([from.given(), to.given()], |[from, to]| {
                super::DAY * ((to / from).sqrt() - 1.0)
            });
            self.said.push(PendulumResult::Moved(rate));
        }
    }

    fn nut(&mut self, length: Known<Length>) -> Result<(), NoPendulum> {
        let asked = self.asked;
        if let Some(nut) = asked.nut {
            let pitch = nut.pitch;
            if pitch.value.as_mm() + pitch.spread.as_mm() >= length.value.as_mm() {
                return Err(NoPendulum::Nut { pitch, length });
            }
            let turn = nut_turn(length, nut);
            let division = nut
                .divisions
                .map(|n| propagate([turn.given()], |[turn]| turn / f64::from(n)));
            self.said.push(PendulumResult::NutTurn(turn, division));
        } else {
            self.wants.push(Want::Nut);
        }
        if let Some(gains) = asked.gains {
            let longer = change_for(length, gains);
            let turns = self.turned(length, gains);
            self.said.push(PendulumResult::NutFor(gains, longer, turns));
        } else {
            self.wants.push(Want::Error);
        }
        Ok(())
    }

    fn turned(&self, length: Known<Length>, gains: Known<Rate>) -> Option<NutTurned> {
        let nut = self.asked.nut?;
        let turns = turns_for(length, nut, gains);
        let divisions = nut
            .divisions
            .map(|n| propagate([turns.given()], |[turns]| turns * f64::from(n)));
        Some((turns, divisions))
    }

    fn suspension(
        &mut self,
        length: Known<Length>,
        mass: Option<Known<Mass>>,
    ) -> Result<(), NoPendulum> {
        let asked = self.asked;
        let Some(suspension) = asked.suspension else {
            self.wants.push(Want::Suspension);
            return Ok(());
        };
        let long = suspension.strip.long;
        if long.value.as_mm() + long.spread.as_mm() >= length.value.as_mm() {
            return Err(NoPendulum::Suspension { long, length });
        }
        // What it bends under is not known: the want of the mass was told.
        let Some(mass) = mass else {
            return Ok(());
        };
        let load = Load {
            mass,
            gravity: asked.gravity.unwrap_or_else(anywhere),
            length,
        };
        let other = other_suspension(suspension, load, asked.suspension_to);
        let longer = change_for(other.length, other.gains);
        let turns = self.turned(other.length, other.gains);
        self.said.extend([
            PendulumResult::Suspended(bend(suspension, load), suspension.stiff),
            PendulumResult::Resuspended(other, longer, turns),
        ]);
        Ok(())
    }

    fn weights(
        &mut self,
        length: Known<Length>,
        mass: Option<Known<Mass>>,
    ) -> Result<(), NoPendulum> {
        let asked = self.asked;
        let Some(mass) = mass else {
            self.wants.push(Want::Mass);
            return Ok(());
        };
        if let Some(small) = asked.small {
            let half = propagate([length.given()], |[length]| length / 2.0);
            let below = asked.below.unwrap_or(half);
            let part = below.value.as_mm() / length.value.as_mm();
            if !(0.0..=1.5).contains(&part) {
                return Err(NoPendulum::Below { below, length });
            }
            let rate = laid_on(small, mass, below, length);
            self.said.push(PendulumResult::LaidOn(small, below, rate));
        }
        if let Some(gains) = asked.gains {
            let loses = Known::new(Rate::s_per_day(-gains.value.as_s_per_day()), gains.spread);
            self.said.push(PendulumResult::Shoulder(
                gains,
                on_the_shoulder(mass, loses),
            ));
        }
        Ok(())
    }

    /// Arc, warmth and air, which ask for no length.
    fn around(&mut self) {
        let asked = self.asked;
        let hangs = asked.ribbon.is_none() && asked.wheel.is_none();
        if let Some(half) = asked.half_arc {
            let none = Known::sure(Slant::deg(0.0));
            self.said.push(PendulumResult::Arc(half, wider(none, half)));
            if let Some(to) = asked.arc_to {
                self.said.push(PendulumResult::Wider(to, wider(half, to)));
            }
        } else if hangs {
            self.wants.push(Want::Arc);
        }
        match (asked.rod, asked.warmer) {
            (Some(rod), Some(by)) => {
                self.said
                    .push(PendulumResult::Warmer(rod, by, warmer(rod, by)));
            }
            (Some(rod), None) => {
                let by = Known::sure(Warmth::celsius(1.0));
                self.said
                    .push(PendulumResult::Warmer(rod, by, warmer(rod, by)));
            }
            _ if hangs => self.wants.push(Want::Warmth),
            _ => {}
        }
        if let Some(bob) = asked.bob {
            let [now, then] = asked.airs.unwrap_or([Air::USUAL; 2]);
            self.said
                .push(PendulumResult::Buoyed(buoyed(bob, air(now))));
            if now != then {
                let rate = thinner(bob, air(now), air(then));
                self.said.push(PendulumResult::Thinner(rate));
            }
        }
    }

    fn torsion(&mut self) -> Result<(), NoPendulum> {
        let asked = self.asked;
        let (Some(ribbon), Some(wheel)) = (asked.ribbon, asked.wheel) else {
            self.wants.push(Want::Torsion);
            return Ok(());
        };
        self.said.push(PendulumResult::Torsion(
            torsion(wheel, ribbon),
            ribbon.shear,
        ));
        if let Some(train) = asked.train {
            let thick = thickness_for(wheel, ribbon, train).ok_or(NoPendulum::TooStiff(train))?;
            self.said.push(PendulumResult::Thickness(train, thick));
        }
        Ok(())
    }
}

/// A length as it was measured to the middle of the bob.
pub fn by_the_bob(length: Known<Length>) -> Known<Length> {
    let mm = length.value.as_mm();
    let spread = length.spread.as_mm().hypot(BY_THE_BOB * mm);
    Known::new(length.value, Length::mm(spread))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::error::Error;

    /// A fault with all that lies behind it, as whoever builds on this crate sees it.
    fn chain(fault: &dyn Error) -> String {
        let behind = fault.source().map(chain);
        behind.map_or_else(|| fault.to_string(), |behind| format!("{fault}: {behind}"))
    }

    #[test]
    fn what_has_no_end_is_not_said() {
        let mm = |mm| Some(Known::new(Length::mm(mm), Length::mm(1.0)));
        let nut = |pitch| {
            mm(pitch).map(|pitch| Nut {
                pitch,
                divisions: None,
            })
        };
        let hung = |nut| Asked {
            length: mm(230.0),
            nut,
            ..Asked::default()
        };
        assert!(matches!(
            answer(&hung(nut(9999.0))),
            Err(NoPendulum::Nut { .. })
        ));
        assert!(answer(&hung(nut(0.75))).is_ok());
        let light = Known::sure(Density::kg_per_m3(0.5));
        let lighter_than_air = Asked {
            bob: Some(light),
            ..hung(None)
        };
        assert_eq!(answer(&lighter_than_air), Err(NoPendulum::Boundless));
    }

    #[test]
    fn what_cannot_be_says_its_figures() {
        let mm = |mm| Known::new(Length::mm(mm), Length::mm(1.0));
        let fault = NoPendulum::Below {
            below: mm(400.0),
            length: mm(250.5),
        };
        assert_eq!(
            chain(&fault),
            "a small weight 400 mm below the suspension of a pendulum of 250.5 mm"
        );
        let fault = NoPendulum::Swing(SwingFault::TopHeavy);
        assert_eq!(
            chain(&fault),
            "the made-up pendulum does not swing: the weight lies in the suspension or above"
        );
        let fault = crate::counts::PuzzleFault::TooMany { got: 9, most: 6 };
        assert_eq!(chain(&fault), "9 blanks, of which 6 can be tried");
    }
}
