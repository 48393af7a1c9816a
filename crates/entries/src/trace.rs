//! Where what names a person may stand besides the fields that are there for it: in other texts, typed alike or in part. It is
//! found for whoever decides; nothing is emptied here.

use crate::alike::{in_row, is, numbers, same_figures, together, words};
use crate::{Entry, Log, Work};

/// How much of what is looked for stands in a text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Likeness {
    /// A part, which may be somebody or something else: a surname, a street, the end of a number.
    Part,
    /// The whole name, number or address.
    Whole,
}

/// What names a person in a log, to be looked for elsewhere.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Traces {
    names: Vec<Vec<String>>,
    /// Those without forms of address, and addresses: whichever word comes first.
    bags: Vec<Vec<String>>,
    /// Words and addresses without their numbers, which may be somebody else's.
    parts: Vec<Vec<String>>,
    mails: Vec<String>,
    numbers: Vec<Vec<String>>,
}

/// Words that stand before a name or between its parts. Common practice, no source.
const BESIDE_A_NAME: [&str; 24] = [
    "mr",
    "mrs",
    "ms",
    "miss",
    "mx",
    "dr",
    "prof",
    "rev",
    "sir",
    "lady",
    "herr",
    "frau",
    "fraeulein",
    "familie",
    "family",
    "the",
    "and",
    "der",
    "die",
    "das",
    "und",
    "von",
    "van",
    "for",
];

/// A word of a name from this many letters on is looked for by itself.
const SURNAME: usize = 3;

/// So many figures in common may be the end of a number, and so many are the number.
const FIGURES: (usize, usize) = (6, 8);

impl Traces {
    /// Of what stands in these fields of entries.
    pub fn of<'a>(said: impl IntoIterator<Item = (&'a str, &'a str)>) -> Traces {
        let mut traces = Traces::default();
        for (field, text) in said {
            match field {
                "owner" | "to" => traces.name(text),
                "reach" => traces.reach(text),
                _ => {}
            }
        }
        traces
    }

    /// Whether there is nothing to look for.
    pub fn is_empty(&self) -> bool {
        *self == Traces::default()
    }

    fn name(&mut self, text: &str) {
        let all = words(text);
        let core: Vec<_> = (all.iter())
            .filter(|(_, word)| !BESIDE_A_NAME.contains(&word.as_str()))
            .collect();
        // A name of one word may be any word.
        if all.len() > 1 {
            let all = all.iter().map(|(_, word)| word.clone()).collect();
            self.names.push(all);
        }
        if core.len() > 1 {
            let core = core.iter().map(|(_, word)| word.clone()).collect();
            self.bags.push(core);
        }
        let capital = |typed: &str| typed.chars().next().is_some_and(char::is_uppercase);
        let any_capital = core.iter().any(|(typed, _)| capital(typed));
        let surnames = core.iter().filter(|(typed, word)| {
            word.chars().count() >= SURNAME && (capital(typed) || !any_capital)
        });
        self.parts
            .extend(surnames.map(|(_, word)| vec![word.clone()]));
    }

    fn reach(&mut self, text: &str) {
        let mut left = text.to_owned();
        for mail in mails(text) {
            left = left.replace(mail, ",");
            self.mails.push(mail.to_lowercase());
        }
        for piece in left.split([',', ';', ':', '\n', '\r', '|']) {
            for number in numbers(piece) {
                if number.concat().len() >= FIGURES.0 {
                    let groups = number.iter().map(|&group| group.to_owned());
                    self.numbers.push(groups.collect());
                }
            }
            let all: Vec<String> = words(piece).into_iter().map(|(_, word)| word).collect();
            let numbered = |word: &String| word.chars().any(|c| c.is_ascii_digit());
            let (houses, streets): (Vec<_>, Vec<_>) = all.iter().cloned().partition(numbered);
            let names_a_place = streets.iter().any(|word| word.chars().count() >= SURNAME);
            if !houses.is_empty() && names_a_place {
                self.bags.push(all);
            }
            if streets.len() > 1 && names_a_place {
                self.parts.push(streets);
            }
        }
    }

    /// How much of it stands in a text; nothing where none of it does.
    pub fn in_text(&self, text: &str) -> Option<Likeness> {
        let typed: Vec<String> = words(text).into_iter().map(|(_, word)| word).collect();
        let lower = text.to_lowercase();
        let mut figures = 0;
        if !self.numbers.is_empty() {
            for there in numbers(text) {
                for number in &self.numbers {
                    let number: Vec<&str> = number.iter().map(String::as_str).collect();
                    let same = same_figures(&number, &there).unwrap_or(0);
                    let all =
                        same >= FIGURES.0 && same >= number.concat().trim_start_matches('0').len();
                    figures = figures.max(if all { FIGURES.1 } else { same });
                }
            }
        }
        let whole = self.names.iter().any(|name| in_row(&typed, name))
            || self.bags.iter().any(|bag| together(&typed, bag))
            || self
                .mails
                .iter()
                .any(|mail| mails(&lower).any(|there| there == mail))
            || figures >= FIGURES.1;
        if whole {
            return Some(Likeness::Whole);
        }
        let part = figures >= FIGURES.0
            || (self.parts.iter()).any(|part| match &part[..] {
                [one] => typed.iter().any(|word| is(word, one)),
                several => together(&typed, several),
            });
        part.then_some(Likeness::Part)
    }

    /// The fields of an entry in whose texts some of it stands, and how much.
    pub fn in_entry(&self, entry: &Entry) -> Vec<(&'static str, Likeness)> {
        let texts = entry.work().map(Work::texts).unwrap_or_default();
        (texts.into_iter())
            .filter_map(|(field, text)| Some((field, self.in_text(text)?)))
            .collect()
    }
}

impl Log {
    /// What names a person in its fields that are there for it.
    pub fn traces(&self) -> Traces {
        let works = self.entries().iter().filter_map(Entry::work);
        Traces::of(works.flat_map(|work| {
            let personal = work.personal();
            let texts = work.texts().into_iter();
            texts.filter(move |(field, _)| personal.contains(field))
        }))
    }
}

/// Addresses of mail in a text. Source of what may stand around the sign: none but that no blank does (RFC 5322, section 3.4.1).
fn mails(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| c.is_whitespace() || ",;<>()\"".contains(c))
        .map(|mail| mail.trim_matches(|c: char| !c.is_alphanumeric()))
        .filter(|mail| {
            mail.split_once('@')
                .is_some_and(|(who, at)| !who.is_empty() && !at.is_empty())
        })
}

#[cfg(test)]
mod tests {
    use super::{Likeness, Traces};

    #[track_caller]
    fn assert_found(traces: &Traces, rows: &[(&str, Option<Likeness>)]) {
        for (text, likeness) in rows {
            assert_eq!(traces.in_text(text), *likeness, "{text}");
        }
    }

    const WHOLE: Option<Likeness> = Some(Likeness::Whole);
    const PART: Option<Likeness> = Some(Likeness::Part);

    #[test]
    fn a_name_is_found_whole_and_by_its_words() {
        let traces = Traces::of([("owner", "Mrs Ada Quimbleworth")]);
        assert_found(
            &traces,
            &[
                ("Ada Quimbleworth rang", WHOLE),
                ("QUIMBLEWORTH, ADA", WHOLE),
                ("for Mrs. Ada Quimbleworth's sake", WHOLE),
                ("Mr Quimbleworth rang", PART),
                ("ada rang", PART),
                ("Mrs Ottershaw rang", None),
                ("quimble", None),
            ],
        );
        // One word may be any word, and what has no capital is looked for as it is.
        let traces = Traces::of([("owner", "Bell"), ("to", "her daughter")]);
        assert_found(
            &traces,
            &[
                ("the bell is cracked", PART),
                ("to her daughter", WHOLE),
                ("his daughter", PART),
                ("bells", PART),
            ],
        );
        assert!(Traces::of([("owner", "?"), ("complaint", "Ada")]).is_empty());
    }

    #[test]
    fn how_somebody_is_reached_is_found_by_figures_and_letters() {
        let reach = "12 Wren Street, 01234 567890; ada.q@example.org";
        let traces = Traces::of([("reach", reach)]);
        assert_found(
            &traces,
            &[
                ("rang +44 1234 567 890", WHOLE),
                ("rang 01234/567890.", WHOLE),
                ("rang 567890", PART),
                ("wrote to ADA.Q@Example.org.", WHOLE),
                ("wrote to bo@example.org", None),
                ("fetched from Wren Street 12", WHOLE),
                ("the Wren Street schoolroom clock", PART),
                ("12 teeth", None),
                ("the street", None),
                ("2026-03-01, 18.5 mm, 1234", None),
            ],
        );
        let traces = Traces::of([("reach", "Wren Street 12 01234 567890")]);
        assert_found(
            &traces,
            &[("12 Wren Street", PART), ("(01234) 567890", WHOLE)],
        );
        // What is no number and no place is only a part of what may be said.
        assert_found(
            &Traces::of([("reach", "at the green door")]),
            &[("at the green door", PART), ("the door", None)],
        );
    }
}
