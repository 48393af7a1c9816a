//! Words for one thing on the two sides of the water: whoever looks for one finds the other. Common practice, no source.

/// Each row is one thing, British first.
const KIN: [&[&str]; 15] = [
    &["locking plate", "count wheel"],
    &["detent", "count lever", "drop lever"],
    &["lifting piece", "lift lever", "lifting lever"],
    &["strip", "tear down"],
    &["anticlockwise", "counterclockwise"],
    &["centre", "center"],
    &["colour", "color"],
    &["grey", "gray"],
    &["millimetre", "millimeter"],
    &["calliper", "caliper"],
    &["mould", "mold"],
    &["spanner", "wrench"],
    &["paraffin", "kerosene"],
    &["petrol", "gasoline"],
    &["longcase", "tall case"],
];

/// What was asked, taken apart into what must all be found: each a word, or what one of the rows above calls a thing, with
/// all else that it is called.
pub(crate) fn sought(mut asked: &[String]) -> Vec<Vec<String>> {
    let mut sought = Vec::new();
    while let Some(first) = asked.first() {
        let (long, called) = named(asked).unwrap_or((1, &[]));
        let all = called.iter().map(|name| (*name).to_owned());
        let all = if called.is_empty() {
            vec![first.clone()]
        } else {
            all.collect()
        };
        sought.push(all);
        asked = &asked[long..];
    }
    sought
}

/// The row that names what these words begin with, and how many of them do; capitals make no difference.
fn named(words: &[String]) -> Option<(usize, &'static [&'static str])> {
    let begins = |name: &&str| {
        let parts: Vec<&str> = name.split(' ').collect();
        let there = parts.len() <= words.len()
            && (parts.iter().zip(words)).all(|(part, word)| word.to_lowercase() == *part);
        there.then_some(parts.len())
    };
    (KIN.iter()).find_map(|row| Some((row.iter().find_map(begins)?, *row)))
}

#[cfg(test)]
mod tests {
    use super::sought;

    fn of(asked: &str) -> Vec<Vec<String>> {
        let words: Vec<String> = asked.split(' ').map(str::to_owned).collect();
        sought(&words)
    }

    #[test]
    fn a_thing_is_looked_for_by_all_its_names() {
        assert_eq!(
            of("worn Count Wheel 1920"),
            [
                vec!["worn"],
                vec!["locking plate", "count wheel"],
                vec!["1920"]
            ]
        );
        assert_eq!(of("count leaves"), [["count"], ["leaves"]]);
        assert_eq!(of("color"), [["colour", "color"]]);
    }
}
