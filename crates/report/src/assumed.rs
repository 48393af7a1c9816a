//! The figures that are held to be so, told: as text, and as the page `docs/assumptions.md`.

use crate::en::{breaking, decimal};
use crate::{Locale, say};
use quantity::{Assumed, AssumedUnit, Holds};
use tasks::Topic;

/// Each topic with its rows.
pub type AssumedByTopic<'a> = [(Topic, &'a [Assumed])];

pub(crate) fn topic(locale: &Locale, topic: Topic) -> String {
    let topic = match topic {
        Topic::Timing => "timing",
        Topic::Windows => "windows",
        Topic::Power => "power",
        Topic::Workshop => "workshop",
        Topic::Places => "places",
        Topic::Sound => "sound",
        Topic::Tools => "tools",
    };
    say!(locale, "assumed-topic", topic = topic)
}

/// What a row is for.
pub fn what(locale: &Locale, row: &Assumed) -> String {
    say!(locale, "assumed-what", row = row.id)
}

/// Why it is so.
pub fn why(locale: &Locale, row: &Assumed) -> String {
    say!(locale, "assumed-why", row = row.id)
}

pub(crate) fn holds_key(row: &Assumed) -> &'static str {
    match row.holds {
        Holds::WithLog => "with-log",
        Holds::WithoutLog => "without-log",
        Holds::Both => "both",
        Holds::NoLog => "no-log",
    }
}

pub(crate) fn unit_key(row: &Assumed) -> &'static str {
    match row.unit {
        AssumedUnit::Part => "part",
        AssumedUnit::HalfWindow => "half-window",
        AssumedUnit::Window => "window",
        AssumedUnit::Deg => "deg",
        AssumedUnit::Opening => "opening",
        AssumedUnit::Tooth => "tooth",
        AssumedUnit::Turn => "turn",
        AssumedUnit::Mm => "mm",
        AssumedUnit::Gram => "g",
        AssumedUnit::Stress => "n-per-mm2",
        AssumedUnit::Second => "s",
        AssumedUnit::SecondADay => "s-a-day",
        AssumedUnit::Year => "year",
        AssumedUnit::Celsius => "celsius",
        AssumedUnit::Ppm => "ppm",
        AssumedUnit::Spread => "spread",
        AssumedUnit::Ratio => "ratio",
    }
}

/// The figure with its spread and unit.
fn figure(locale: &Locale, row: &Assumed) -> String {
    // Parts are told in hundredths, as they are spoken of.
    let times = if row.unit == AssumedUnit::Part {
        100.0
    } else {
        1.0
    };
    let number = |x: f64| decimal(x * times, 3);
    let mut both = number(row.value);
    if row.spread > 0.0 {
        both = format!("{both} ± {}", number(row.spread));
    }
    say!(
        locale,
        "assumed-figure",
        unit = unit_key(row),
        number = both
    )
}

/// All of it, to be read in a terminal.
pub fn text(locale: &Locale, table: &AssumedByTopic<'_>) -> String {
    let mut text = vec![say!(locale, "assumed-about")];
    for (of, rows) in table {
        text.extend([String::new(), topic(locale, *of)]);
        for row in *rows {
            let figure = figure(locale, row);
            let holds = say!(locale, "assumed-holds", holds = holds_key(row));
            text.push(format!("  {}: {figure} ({holds})", what(locale, row)));
            text.push(format!("    {}", why(locale, row)));
        }
    }
    text.push(String::new());
    breaking(&text.join("\n"))
}

/// All of it, as the page of the documents.
pub fn page(locale: &Locale, table: &AssumedByTopic<'_>) -> String {
    let mut text = vec![
        say!(locale, "assumed-title"),
        String::new(),
        say!(locale, "assumed-about"),
        String::new(),
        say!(locale, "assumed-made"),
    ];
    for (of, rows) in table {
        text.extend([
            String::new(),
            format!("## {}", topic(locale, *of)),
            String::new(),
        ]);
        text.push(say!(locale, "assumed-columns"));
        text.push("|---|---|---|---|---|".to_owned());
        for row in *rows {
            let cells = [
                format!("`{}`", row.id),
                figure(locale, row),
                what(locale, row),
                why(locale, row),
                say!(locale, "assumed-holds", holds = holds_key(row)),
            ];
            text.push(format!("| {} |", cells.join(" | ")));
        }
    }
    text.push(String::new());
    breaking(&text.join("\n"))
}
