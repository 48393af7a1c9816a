//! How numbers, fractions and units stand together.

use crate::written::Unwritten;
use crate::{DecimalError, Exact, fraction, parse_decimal, whole};
use num_traits::{One, pow};
use winnow::ascii::{digit1, space0, space1};
use winnow::combinator::{alt, eof, opt, preceded, repeat, terminated};
use winnow::prelude::*;
use winnow::token::{one_of, take_while};

/// A number with its unit, where one is typed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Amount {
    /// With its sign.
    pub(super) number: Exact,
    /// Whether a minus stands before it; nought may be negative too.
    pub(super) negative: bool,
    /// One of its last figure.
    pub(super) step: Exact,
    pub(super) unit: Option<String>,
}

/// One measure: an amount, and smaller ones that belong to it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Measure {
    pub(super) first: Amount,
    pub(super) then: Vec<Amount>,
}

/// A number as it is typed, before its separators are looked at.
#[derive(Debug, Clone)]
enum Figures<'t> {
    /// Figures with points and commas.
    Decimal(&'t str),
    /// A whole number, and a fraction behind it.
    Mixed(&'t str, Exact),
    /// A fraction by itself.
    Fraction(Exact),
}

/// An amount as it is typed: whether less than nothing, its figures, its unit.
struct Raw<'t> {
    negative: bool,
    figures: Figures<'t>,
    unit: Option<&'t str>,
}

/// Fractions that have a sign of their own (Unicode, Latin-1 Supplement and Number Forms).
const SIGNS: [(char, i64, i64); 18] = [
    ('¼', 1, 4),
    ('½', 1, 2),
    ('¾', 3, 4),
    ('⅐', 1, 7),
    ('⅑', 1, 9),
    ('⅒', 1, 10),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
];

/// Measures of one thing, one or several.
pub(super) fn measures(text: &str) -> Result<Vec<Measure>, Unwritten> {
    let others = repeat(0.., preceded(between, amount));
    let mut all = (amount, terminated(others, (space0, eof)));
    let (first, others): (Raw<'_>, Vec<Raw<'_>>) = all
        .parse(text.trim())
        .map_err(|_| Unwritten::Number(DecimalError::NotANumber))?;
    let amounts = std::iter::once(first).chain(others);
    let mut measures: Vec<Measure> = Vec::new();
    for raw in amounts {
        let amount = raw.amount()?;
        // Minutes go with the degrees before them, ounces with the pounds; measures of one thing have one unit.
        match measures.last_mut() {
            Some(measure) if goes_with(measure, &amount) => measure.then.push(amount),
            _ => measures.push(Measure {
                first: amount,
                then: Vec::new(),
            }),
        }
    }
    Ok(measures)
}

/// Units that a smaller one may follow.
const FOLLOWED: [(&str, &[&str]); 5] = [
    ("°", &["'", "min"]),
    ("deg", &["'", "min"]),
    ("'", &["\""]),
    ("min", &["\"", "s"]),
    ("lb", &["oz"]),
];

fn goes_with(measure: &Measure, amount: &Amount) -> bool {
    let before = measure.then.last().unwrap_or(&measure.first);
    let (Some(before), Some(unit)) = (before.unit.as_deref(), amount.unit.as_deref()) else {
        return false;
    };
    let followed = (FOLLOWED.iter()).find(|(word, _)| *word == before);
    followed.is_some_and(|(_, by)| by.contains(&unit))
}

/// What stands between two amounts.
fn between<'t>(input: &mut &'t str) -> ModalResult<&'t str> {
    alt((
        (space0, one_of(';'), space0).take(),
        (one_of(','), space1).take(),
        space0,
    ))
    .parse_next(input)
}

fn amount<'t>(input: &mut &'t str) -> ModalResult<Raw<'t>> {
    (
        opt(terminated(one_of(['-', '+']), space0)),
        figures,
        opt(preceded(space0, unit)),
    )
        .map(|(sign, figures, unit): (Option<char>, _, _)| Raw {
            negative: sign == Some('-'),
            figures,
            unit,
        })
        .parse_next(input)
}

fn figures<'t>(input: &mut &'t str) -> ModalResult<Figures<'t>> {
    alt((
        (digit1, preceded(alt((space1, "-", "")), proper)).map(|(n, part)| Figures::Mixed(n, part)),
        alt((over, sign)).map(Figures::Fraction),
        (opt(digit1), parts, opt("."))
            .take()
            .verify(|figures: &str| figures.bytes().any(|b| b.is_ascii_digit()))
            .map(Figures::Decimal),
    ))
    .parse_next(input)
}

/// Figures behind points and commas; a comma with none behind it parts two measures.
fn parts(input: &mut &str) -> ModalResult<()> {
    repeat(0.., (one_of(['.', ',']), digit1)).parse_next(input)
}

/// A fraction less than one.
fn proper(input: &mut &str) -> ModalResult<Exact> {
    alt((over, sign))
        .verify(|part: &Exact| *part < Exact::one())
        .parse_next(input)
}

/// `3/8`.
fn over(input: &mut &str) -> ModalResult<Exact> {
    (digit1, preceded("/", digit1))
        .verify_map(|(over, under): (&str, &str)| {
            let (over, under) = (parse_decimal(over).ok()?, parse_decimal(under).ok()?);
            (under > whole(0)).then(|| over / under)
        })
        .parse_next(input)
}

/// `⅜`.
fn sign(input: &mut &str) -> ModalResult<Exact> {
    one_of(|c: char| SIGNS.iter().any(|(sign, ..)| *sign == c))
        .verify_map(|c| {
            let found = SIGNS.iter().find(|(sign, ..)| *sign == c)?;
            Some(fraction(found.1, found.2))
        })
        .parse_next(input)
}

/// A unit: letters, or a sign; with a point behind it where it is shortened.
fn unit<'t>(input: &mut &'t str) -> ModalResult<&'t str> {
    alt((
        terminated(
            (
                opt(one_of(['/', '°'])),
                take_while(1.., |c: char| c.is_alphabetic()),
                repeat::<_, _, (), _, _>(0.., ("/", take_while(1.., |c: char| c.is_alphabetic()))),
            )
                .take(),
            opt("."),
        ),
        one_of(['°', '\'', '"', '%']).take(),
    ))
    .parse_next(input)
}

impl Raw<'_> {
    fn amount(self) -> Result<Amount, Unwritten> {
        let (number, step) = match self.figures {
            Figures::Decimal(figures) => decimal(figures)?,
            Figures::Fraction(part) => {
                let step = one_of_last(&part);
                (part, step)
            }
            Figures::Mixed(n, part) => {
                let n = parse_decimal(n).map_err(Unwritten::Number)?;
                let step = one_of_last(&part);
                (n + part, step)
            }
        };
        Ok(Amount {
            number: if self.negative { -number } else { number },
            negative: self.negative,
            step,
            unit: self.unit.map(str::to_owned),
        })
    }
}

/// A sixteenth, of so many sixteenths.
fn one_of_last(part: &Exact) -> Exact {
    Exact::new(1.into(), part.denom().clone())
}

/// A decimal whose point may be a comma, its thousands parted by the other of the two.
fn decimal(figures: &str) -> Result<(Exact, Exact), Unwritten> {
    let plain = plain(figures)?;
    let number = parse_decimal(&plain).map_err(Unwritten::Number)?;
    let places = plain.split_once('.').map_or(0, |(_, after)| after.len());
    Ok((number, Exact::new(1.into(), pow(10.into(), places))))
}

fn plain(figures: &str) -> Result<String, Unwritten> {
    let bad = || Unwritten::Number(DecimalError::NotANumber);
    let last = figures.rfind(['.', ',']);
    let Some(last) = last else {
        return Ok(figures.to_owned());
    };
    let (before, after) = (&figures[..last], &figures[last + 1..]);
    let point = &figures[last..=last];
    let parted = |by: &str| {
        let mut threes = before.split(by);
        let first = threes.next().unwrap_or_default();
        (1..=3).contains(&first.len()) && threes.all(|three| three.len() == 3)
    };
    if before.contains(point) {
        // 1,000,000: no number has two points.
        return match parted(point) && after.len() == 3 && !before.contains(other(point)) {
            true => Ok(figures.replace(point, "")),
            false => Err(bad()),
        };
    }
    if before.contains(other(point)) {
        return match parted(other(point)) && !after.is_empty() {
            true => Ok(format!("{}.{after}", before.replace(other(point), ""))),
            false => Err(bad()),
        };
    }
    let may_be_thousands = point == ","
        && after.len() == 3
        && (1..=3).contains(&before.len())
        && !before.starts_with('0');
    if may_be_thousands {
        return Err(Unwritten::Thousands {
            point: format!("{before}.{after}"),
            whole: format!("{before}{after}"),
        });
    }
    Ok(format!("{before}.{after}"))
}

fn other(point: &str) -> &'static str {
    if point == "," { "." } else { "," }
}
