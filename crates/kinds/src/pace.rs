//! How fast it strikes, as it was measured, and how a sheet has it.

use crate::DescribeFault;
use quantity::{Duration, Exact, Known, parse_number};
use sheet::SheetTable;
use sheet::edit::{EditFault, SheetText, SheetValue, TableAt};

/// How fast it strikes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredPace {
    /// From blow to blow.
    pub blow: Known<Duration>,
    /// How long the lever that locks the train falls; nothing where nobody measured it.
    pub fall: Option<Known<Duration>>,
}

const STRIKE: TableAt = TableAt::One(SheetTable::Strike);

/// The keys in `[strike]`, each with that of its spread.
const BLOW: [&str; 2] = ["pace_s", "pace_spread_s"];
const FALL: [&str; 2] = ["fall_s", "fall_spread_s"];

/// Longer than anything here takes, in seconds.
const MOST_S: f64 = 60.0;

/// Writes a pace, to the thousandth of a second.
pub(crate) fn set_pace(text: &mut SheetText, pace: &MeasuredPace) -> Result<(), DescribeFault> {
    let blow = seconds(&pace.blow).ok_or(DescribeFault::Pace)?;
    let fall = match &pace.fall {
        Some(fall) => Some(seconds(fall).ok_or(DescribeFault::Pace)?),
        None => None,
    };
    forget_pace(text)?;
    for ([key, spread], seconds) in [(BLOW, Some(blow)), (FALL, fall)] {
        if let Some([is, by]) = seconds {
            text.set(&STRIKE, key, &SheetValue::Decimal(is))?;
            text.set(&STRIKE, spread, &SheetValue::Decimal(by))?;
        }
    }
    Ok(())
}

/// Takes away what is written of it.
pub(crate) fn forget_pace(text: &mut SheetText) -> Result<(), EditFault> {
    for key in BLOW.into_iter().chain(FALL) {
        text.unset(&STRIKE, key)?;
    }
    Ok(())
}

/// Whether one is written.
pub(crate) fn is_paced(text: &SheetText) -> bool {
    text.get(&STRIKE, BLOW[0]).is_some()
}

/// Seconds and their spread, to the thousandth; nothing where it is none, or takes too long.
fn seconds(known: &Known<Duration>) -> Option<[Exact; 2]> {
    let (is, spread) = (known.value.as_s(), known.spread.as_s());
    if !(0.001..=MOST_S).contains(&is) || !(0.0..=MOST_S).contains(&spread) {
        return None;
    }
    let thousandths = |x: f64| parse_number(&format!("{x:.3}")).ok();
    Some([thousandths(is)?, thousandths(spread)?])
}
