//! What people type for a measurement, and what it is taken for.

use proptest::prelude::*;
use quantity::{
    Duration, Exact, Length, Mass, Pace, Rate, Slant, SpreadFrom, Unwritten, Warmth, Writable,
    fraction, parse_known, typed, typed_in, whole,
};

fn mean<Q: Writable>(text: &str, unit: &str) -> Result<Exact, Unwritten> {
    typed_in::<Q>(text, unit).map(|typed| typed.mean)
}

fn exact(text: &str) -> Exact {
    quantity::parse_decimal(text).expect("a decimal")
}

/// The units are held to what is published: inch and pound by the agreement of 1959 (Federal Register 24 FR 5348: 1 yard =
/// 0.9144 metre, 1 pound = 0.45359237 kilogram), the ounce by NIST Special Publication 811 (2008), B.8: 28.34952 g.
#[test]
fn units_are_as_published() {
    let yard = mean::<Length>("36 in", "mm").expect("a yard");
    assert_eq!(yard, exact("914.4"));
    assert_eq!(mean::<Length>("1\"", "mm"), Ok(exact("25.4")));
    assert_eq!(mean::<Mass>("1 lb", "g"), Ok(exact("453.59237")));
    let ounce = mean::<Mass>("1 oz", "g").expect("an ounce");
    assert_eq!((ounce * whole(100_000)).round(), whole(2_834_952));
    assert_eq!(mean::<Mass>("16oz", "g"), mean::<Mass>("1lb", "g"));
}

#[test]
fn a_length_is_typed_in_many_ways() {
    for (text, unit, mm) in [
        ("2.51", "mm", fraction(251, 100)),
        ("2,51", "mm", fraction(251, 100)),
        (" 2,51 mm ", "in", fraction(251, 100)),
        ("2,51 MM", "in", fraction(251, 100)),
        ("3.2cm", "mm", whole(32)),
        ("1.2 m", "mm", whole(1200)),
        ("0,500", "mm", fraction(1, 2)),
        (",5", "mm", fraction(1, 2)),
        ("5.", "mm", whole(5)),
        ("+5", "mm", whole(5)),
        // A true minus, and the strokes that stand for one.
        ("−5", "mm", whole(-5)),
        ("–5", "mm", whole(-5)),
        ("-8 1/4", "mm", fraction(-33, 4)),
        // Thin blanks, between thousands and before the unit.
        ("1\u{202f}400", "mm", whole(1400)),
        ("1\u{2009}400,5\u{2009}mm", "mm", fraction(2801, 2)),
        ("12\u{a0}mm", "in", whole(12)),
        // Which of the two parts thousands is plain where both stand there, or one does twice.
        ("1,400.5", "mm", fraction(2801, 2)),
        ("1.400,5", "mm", fraction(2801, 2)),
        ("1,400,000", "mm", whole(1_400_000)),
        // Inches and their fractions, by 25.4 exactly.
        ("8 1/4", "in", fraction(33 * 127, 20)),
        ("8-1/4", "in", fraction(33 * 127, 20)),
        ("8¼", "in", fraction(33 * 127, 20)),
        ("8 ¼ in", "mm", fraction(33 * 127, 20)),
        ("3/8\"", "mm", fraction(381, 40)),
        ("3/8″", "mm", fraction(381, 40)),
        ("⅜”", "mm", fraction(381, 40)),
        ("3⁄8 in.", "mm", fraction(381, 40)),
        ("2 3/16 in", "mm", fraction(889, 16)),
        ("2 3/16 inches", "mm", fraction(889, 16)),
        ("¼", "in", fraction(127, 20)),
        ("1/4", "mm", fraction(1, 4)),
        ("5/4", "mm", fraction(5, 4)),
    ] {
        assert_eq!(mean::<Length>(text, unit), Ok(mm), "{text} in {unit}");
    }
}

#[test]
fn pounds_and_ounces_degrees_and_minutes_go_together() {
    let ounces = fraction(45_359_237, 1_600_000);
    assert_eq!(mean::<Mass>("2 lb 3 oz", "g"), Ok(whole(35) * &ounces));
    assert_eq!(
        mean::<Mass>("2lb 3 1/2oz", "g"),
        Ok(fraction(71, 2) * &ounces)
    );
    for (text, deg) in [
        ("2°", whole(2)),
        ("2° 30'", fraction(5, 2)),
        ("2°30′", fraction(5, 2)),
        ("2 deg 30 min", fraction(5, 2)),
        ("51° 28' 40\"", fraction(51 * 3600 + 28 * 60 + 40, 3600)),
        ("−0° 30'", fraction(-1, 2)),
        ("-2°30'", fraction(-5, 2)),
        ("30'", fraction(1, 2)),
        ("1,5", fraction(3, 2)),
    ] {
        assert_eq!(mean::<Slant>(text, "deg"), Ok(deg), "{text}");
    }
    assert_eq!(mean::<Warmth>("9 °F", "C"), Ok(whole(5)));
    assert_eq!(mean::<Rate>("7 s/week", "s/day"), Ok(whole(1)));
    assert_eq!(mean::<Pace>("120/min", "/h"), Ok(whole(7200)));
    assert_eq!(mean::<Duration>("1 1/2 days", "days"), Ok(whole(129_600)));
    // 70' is no part of a degree, nor 20 oz of a pound.
    for text in ["2° 70'", "2° -30'"] {
        assert!(mean::<Slant>(text, "deg").is_err(), "{text}");
    }
    assert!(mean::<Mass>("2 lb 20 oz", "g").is_err());
}

#[test]
fn a_comma_before_three_figures_is_asked_about() {
    for text in ["1,000", "12,345", "999,999mm"] {
        let asked = typed::<Length>(text);
        assert!(matches!(asked, Err(Unwritten::Thousands { .. })), "{text}");
    }
    let Err(Unwritten::Thousands { point, whole }) = typed::<Length>("1,250 mm") else {
        panic!("asked about");
    };
    assert_eq!((&*point, &*whole), ("1.250", "1250"));
    // A calliper shows three figures behind its point, and no fourth figure stands before a comma of thousands.
    for text in ["1.000", "0,250", "1250,125", "1,2500"] {
        assert!(typed::<Length>(text).is_ok(), "{text}");
    }
}

#[test]
fn what_is_no_measure_says_so_and_is_never_half_read() {
    for text in [
        "",
        " ",
        "-",
        ".",
        ",",
        "1.2.3",
        "1..2",
        "--1",
        "1_000",
        "one",
        "1e3",
        "1e",
        "٣",
        "nan",
        "inf",
        "1/0",
        "1/",
        "/2",
        "1/2/3",
        "2x3",
        "5 mm,",
        "(5)",
        "2,51,2,53",
        "~1",
        "⅟",
        "1 400.5.5",
    ] {
        assert!(typed::<Length>(text).is_err(), "{text}");
    }
    for (text, unit) in [
        ("2°", "°"),
        ("2 kg", "kg"),
        ("3ell", "ell"),
        ("5'", "'"),
        ("5 %", "%"),
    ] {
        let Err(Unwritten::Unit { got, .. }) = typed::<Length>(text) else {
            panic!("{text} is no length");
        };
        assert_eq!(got, unit, "{text}");
    }
    assert!(typed::<Length>(&"1 ".repeat(500)).is_err());
    assert!(typed::<Length>(&"9".repeat(99)).is_err());
    assert!(matches!(
        typed::<Length>("99999999 m"),
        Err(Unwritten::TooMuch)
    ));
    assert!(matches!(
        typed::<Duration>("8"),
        Err(Unwritten::NoUnit { .. })
    ));
}

#[test]
fn several_measures_of_one_thing_have_a_mean_and_a_spread() {
    for text in [
        "2.51 2.53 2.50",
        "2,51 2,53 2,50",
        "2.51, 2.53, 2.50",
        "2,51; 2,53; 2,50",
        "2.51\n2.53\t2.50",
        "2.51mm 2.53mm 2.50mm",
        "2.51 2.53 2.50 mm",
    ] {
        let strip = typed::<Length>(text).expect(text);
        assert_eq!(strip.mean, fraction(754, 300), "{text}");
        assert_eq!(strip.spread_from, SpreadFrom::Several);
        // The working stands beside the function that has it.
        assert!((strip.known.spread.as_mm() - 0.0120).abs() < 5e-5, "{text}");
    }
    let inches = typed::<Length>("2 1/16 2 1/8 in").expect("two");
    assert_eq!(inches.mean, fraction(67, 32) * fraction(127, 5));
    let said = typed::<Length>("2.51 2.53~0.02").expect("with its spread");
    assert_eq!(said.spread_from, SpreadFrom::Said);
    assert!((said.known.spread.as_mm() - 0.02).abs() < 1e-12);
    let one = typed::<Length>("2.51").expect("one");
    assert_eq!(one.spread_from, SpreadFrom::Usual);
    // A thousand with a blank in it, or a slip of the point, is no second measure.
    for text in ["1 000", "2.51 25.3", "5 -5"] {
        assert_eq!(typed::<Length>(text), Err(Unwritten::Apart), "{text}");
    }
}

#[test]
fn a_command_line_reads_the_same() {
    let known = parse_known::<Length>("2 3/16 in~0.01").expect("a length");
    assert!((known.value.as_mm() - 55.5625).abs() < 1e-12);
    assert!((known.spread.as_mm() - 0.254).abs() < 1e-12);
}

proptest! {
    /// Whatever is written in figures is read as what it is, with a point or a comma, in any unit.
    #[test]
    fn what_is_written_is_read_again(over in 1i64..10_000_000, places in 0usize..5, unit in 0usize..4) {
        let number = fraction(over, 10_i64.pow(u32::try_from(places).unwrap()));
        let digits = format!("{over:0>width$}", width = places + 1);
        let (before, after) = digits.split_at(digits.len() - places);
        let unit = &Length::UNITS[unit];
        let wanted = number * unit.times();
        for point in [".", ","] {
            let text = match places {
                0 => before.to_owned(),
                _ => format!("{before}{point}{after}"),
            };
            let read = typed::<Length>(&format!("{text} {}", unit.word)).map(|typed| typed.mean);
            match read {
                Ok(mean) => prop_assert_eq!(mean, wanted.clone()),
                Err(Unwritten::Thousands { .. }) => {
                    prop_assert!(point == "," && places == 3 && before.len() <= 3 && !before.starts_with('0'));
                }
                Err(Unwritten::TooMuch) => prop_assert!(wanted > whole(10_000_000)),
                Err(other) => prop_assert!(false, "{text}: {other}"),
            }
        }
    }

    /// A fraction of an inch is so many parts of 25.4 mm, however it is typed.
    #[test]
    fn fractions_are_exact(n in 0i64..40, over in 1i64..64, power in 1u32..7) {
        let under = 2_i64.pow(power);
        prop_assume!(over < under);
        let wanted = (whole(n) + fraction(over, under)) * fraction(127, 5);
        for text in [format!("{n} {over}/{under}\""), format!("{n}-{over}/{under} in")] {
            prop_assert_eq!(typed::<Length>(&text).map(|typed| typed.mean), Ok(wanted.clone()));
        }
    }

    /// The order in which measures were taken does not matter, and the mean lies among them.
    #[test]
    fn the_mean_lies_among_the_measures(mut each in prop::collection::vec(1000i64..1200, 1..9)) {
        let text = |each: &[i64]| {
            let typed: Vec<String> = each.iter().map(|n| format!("{}.{:0>2}", n / 100, n % 100)).collect();
            typed.join(" ")
        };
        let read = |text: &str| typed::<Length>(text);
        let one = read(&text(&each)).expect("measures");
        each.reverse();
        prop_assert_eq!(&one.mean, &read(&text(&each)).expect("measures").mean);
        prop_assert!(each.iter().any(|n| fraction(*n, 100) <= one.mean));
        prop_assert!(each.iter().any(|n| fraction(*n, 100) >= one.mean));
        prop_assert!(one.known.spread.as_mm() > 0.0);
    }

    /// Nothing that is typed stops the program.
    #[test]
    fn anything_may_be_typed(text in "[0-9., /°'\"~¼⅞\u{2009}a-z+−-]{0,24}") {
        let _ = typed::<Length>(&text);
        let _ = typed::<Slant>(&text);
        let _ = typed::<Mass>(&text);
    }
}
