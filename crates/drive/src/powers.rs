//! What drives each train, as the measurements on its arbors tell it.

use crate::assumed::{
    FALL_LEAST, FALL_PART, FREE_TURNS, RULE_LEAST, RULE_PART, THICK_LEAST, THICK_PART, WEIGHT_PART,
};
use crate::{BarrelRoom, Spring, Strip, Weight};
use movement::{Arbor, ArborId, Movement};
use quantity::{Known, Length, Mass, Number, Tool, Writable, to_f64};

/// What is on an arbor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PowerSource {
    /// A spring, in a barrel or open.
    Spring(Spring),
    /// A barrel whose spring is lost, and the turns it must give where they are known.
    Lost(BarrelRoom),
    /// A weight.
    Weight(Weight),
}

/// What is missing, or cannot be.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PowerFault {
    /// No arbor has a measurement of a spring or a weight.
    #[error("no spring or weight is measured")]
    Nothing,
    /// Something is measured, and something that belongs to it is not.
    #[error("arbor `{arbor}` lacks {}", keys.join(", "))]
    Missing {
        /// The arbor.
        arbor: String,
        /// The keys that are not there.
        keys: Vec<&'static str>,
    },
    /// A measurement that must be more than nothing.
    #[error("`{key}` of arbor `{arbor}` is not above 0")]
    NotPositive {
        /// The arbor.
        arbor: String,
        /// Its key.
        key: &'static str,
    },
}

/// What springs are measured with.
const THICKNESS: Tool = Tool {
    least: THICK_LEAST.value,
    part: THICK_PART.value,
};
const CALLIPER: Tool = Length::USUAL;
const RULE: Tool = Tool {
    least: RULE_LEAST.value,
    part: RULE_PART.value,
};
/// And weights.
const FALL: Tool = Tool {
    least: FALL_LEAST.value,
    part: FALL_PART.value,
};
const SCALES: Tool = Tool {
    least: 1.0,
    part: WEIGHT_PART.value,
};

/// Reads what drives each train: a weight where anything of one is measured, else a spring, else a barrel without one.
///
/// # Errors
/// What is missing.
pub fn on_sheet(movement: &Movement) -> Result<Vec<(ArborId, PowerSource)>, PowerFault> {
    let mut powers = Vec::new();
    for (id, arbor) in movement.arbors() {
        let has = |keys: &[&str]| keys.iter().any(|key| arbor.measured(key).is_some());
        let reader = Reader { arbor };
        if has(&[
            "weight_g",
            "drum_mm",
            "cord_mm",
            "double_cord_mm",
            "fall_mm",
        ]) {
            powers.push((id, PowerSource::Weight(reader.weight()?)));
        } else if has(&["spring_width_mm", "spring_thick_mm", "spring_long_mm"]) {
            powers.push((id, PowerSource::Spring(reader.spring()?)));
        } else if has(&["barrel_inside_mm", "spring_arbor_mm"]) {
            powers.push((id, PowerSource::Lost(reader.lost()?)));
        }
    }
    if powers.is_empty() {
        return Err(PowerFault::Nothing);
    }
    Ok(powers)
}

struct Reader<'a> {
    arbor: &'a Arbor,
}

impl Reader<'_> {
    /// The lengths of some keys; all that are missing are told at once.
    fn need<const N: usize>(
        &self,
        keys: [(&'static str, Tool); N],
    ) -> Result<[Known<Length>; N], PowerFault> {
        let missing: Vec<&'static str> = keys
            .iter()
            .map(|(key, _)| *key)
            .filter(|key| self.arbor.measured(key).is_none())
            .collect();
        if !missing.is_empty() {
            return Err(PowerFault::Missing {
                arbor: self.arbor.id.clone(),
                keys: missing,
            });
        }
        let mut lengths = [Known::sure(Length::mm(0.0)); N];
        for (length, (key, tool)) in lengths.iter_mut().zip(keys) {
            *length = self.length(key, tool)?.unwrap_or(*length);
        }
        Ok(lengths)
    }

    fn length(&self, key: &'static str, tool: Tool) -> Result<Option<Known<Length>>, PowerFault> {
        self.positive(key)?;
        Ok(self.arbor.known(key, Length::mm, tool))
    }

    fn positive(&self, key: &'static str) -> Result<Option<f64>, PowerFault> {
        match self.arbor.measured(key).map(to_f64) {
            Some(x) if x <= 0.0 => Err(PowerFault::NotPositive {
                arbor: self.arbor.id.clone(),
                key,
            }),
            other => Ok(other),
        }
    }

    fn spring(&self) -> Result<Spring, PowerFault> {
        let open = self.arbor.measured("barrel_inside_mm").is_none()
            && self.arbor.measured("spring_opens_mm").is_some();
        let outside = if open {
            "spring_opens_mm"
        } else {
            "barrel_inside_mm"
        };
        let [width, thick, long, arbor, outside] = self.need([
            ("spring_width_mm", CALLIPER),
            ("spring_thick_mm", THICKNESS),
            ("spring_long_mm", RULE),
            ("spring_arbor_mm", CALLIPER),
            (outside, if open { RULE } else { CALLIPER }),
        ])?;
        let free = self
            .positive("spring_free_turns")?
            .map(|turns| Known::new(Number::plain(turns), Number::plain(FREE_TURNS.value)));
        Ok(Spring {
            strip: Strip { width, thick, long },
            arbor,
            outside,
            barrel: !open,
            free,
        })
    }

    fn lost(&self) -> Result<BarrelRoom, PowerFault> {
        let [barrel, arbor] = self.need([
            ("barrel_inside_mm", CALLIPER),
            ("spring_arbor_mm", CALLIPER),
        ])?;
        let Some(turns) = self.positive("winding_turns")? else {
            return Err(PowerFault::Missing {
                arbor: self.arbor.id.clone(),
                keys: vec!["winding_turns"],
            });
        };
        Ok(BarrelRoom {
            barrel,
            arbor,
            high: self.length("barrel_high_mm", CALLIPER)?,
            turns: Known::sure(Number::plain(turns)),
        })
    }

    fn weight(&self) -> Result<Weight, PowerFault> {
        let double = self.positive("double_cord_mm")?;
        let cord = if double.is_some() {
            "double_cord_mm"
        } else {
            "cord_mm"
        };
        let [drum, cord] = self.need([("drum_mm", CALLIPER), (cord, CALLIPER)])?;
        self.positive("weight_g")?;
        let Some(mass) = self.arbor.known("weight_g", Mass::g, SCALES) else {
            return Err(PowerFault::Missing {
                arbor: self.arbor.id.clone(),
                keys: vec!["weight_g"],
            });
        };
        Ok(Weight {
            mass,
            drum,
            cord,
            pulley: double.is_some(),
            fall: self.length("fall_mm", FALL)?,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_missing_is_named() {
        let arbor = || "second".to_owned();
        for (fault, says) in [
            (PowerFault::Nothing, "no spring or weight is measured"),
            (
                PowerFault::Missing {
                    arbor: arbor(),
                    keys: vec!["drum_mm", "cord_mm"],
                },
                "arbor `second` lacks drum_mm, cord_mm",
            ),
            (
                PowerFault::NotPositive {
                    arbor: arbor(),
                    key: "drum_mm",
                },
                "`drum_mm` of arbor `second` is not above 0",
            ),
        ] {
            let fault: Box<dyn std::error::Error> = Box::new(fault);
            assert_eq!(fault.to_string(), says);
        }
    }
}
