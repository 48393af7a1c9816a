//! Words and numbers as they are typed in many ways: without capitals, accents and what stands between, for whoever looks for
//! the same in another text.

/// What stands for letters with a mark on them, or two for one.
const PLAIN: [(&str, &str); 12] = [
    ("àáâãåā", "a"),
    ("äæ", "ae"),
    ("çčć", "c"),
    ("èéêëē", "e"),
    ("ìíîïī", "i"),
    ("ł", "l"),
    ("ñń", "n"),
    ("òóôõō", "o"),
    ("öøœ", "oe"),
    ("ùúûū", "u"),
    ("ü", "ue"),
    ("ß", "ss"),
];

/// Marks that stand by themselves behind the letter that they are put on. Source: Unicode Standard, chapter 7.9, the block
/// Combining Diacritical Marks.
const MARKS: std::ops::RangeInclusive<char> = '\u{300}'..='\u{36f}';

/// The umlaut among them, for which an `e` may stand.
const UMLAUT: char = '\u{308}';

/// The words of a text, each as it was typed and as it is compared.
pub(crate) fn words(text: &str) -> Vec<(&str, String)> {
    text.split(|c: char| !c.is_alphanumeric() && !MARKS.contains(&c))
        .filter(|word| !word.is_empty())
        .map(|word| (word, plain(word)))
        .collect()
}

fn plain(word: &str) -> String {
    let mut plain = String::new();
    for letter in word.chars().flat_map(char::to_lowercase) {
        match PLAIN.iter().find(|(marked, _)| marked.contains(letter)) {
            Some((_, instead)) => plain.push_str(instead),
            None if letter == UMLAUT => plain.push('e'),
            None if MARKS.contains(&letter) => {}
            None => plain.push(letter),
        }
    }
    plain
}

/// Whether a word is this one, or its genitive.
pub(crate) fn is(word: &str, sought: &str) -> bool {
    word.strip_prefix(sought)
        .is_some_and(|end| end.is_empty() || end == "s")
}

/// Whether these words stand one behind the other.
pub(crate) fn in_row(text: &[String], sought: &[String]) -> bool {
    let all = |row: &[String]| {
        row.iter()
            .zip(sought)
            .all(|(word, sought)| is(word, sought))
    };
    !sought.is_empty() && text.windows(sought.len()).any(all)
}

/// Whether these words stand beside each other, whichever comes first.
pub(crate) fn together(text: &[String], sought: &[String]) -> bool {
    let all = |row: &[String]| {
        let mut left: Vec<&String> = row.iter().collect();
        sought.iter().all(|sought| {
            let found = left.iter().position(|word| is(word, sought));
            found.map(|at| left.swap_remove(at)).is_some()
        })
    };
    !sought.is_empty() && text.windows(sought.len()).any(all)
}

/// What may stand between the figures of one number.
const WITHIN: &[char] = &[
    ' ', '-', '/', '.', '(', ')', '+', '\u{a0}', '\u{2011}', '\u{2013}',
];

/// The numbers of a text, each as its groups of figures: `01234 567-890` is one of three.
pub(crate) fn numbers(text: &str) -> Vec<Vec<&str>> {
    let mut numbers: Vec<Vec<&str>> = Vec::new();
    let mut goes_on = false;
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let figures = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        if figures == 0 {
            goes_on &= WITHIN.contains(&first);
            rest = &rest[first.len_utf8()..];
            continue;
        }
        match numbers.last_mut().filter(|_| goes_on) {
            Some(number) => number.push(&rest[..figures]),
            None => numbers.push(vec![&rest[..figures]]),
        }
        goes_on = true;
        rest = &rest[figures..];
    }
    numbers
}

/// A number has at most so many groups: one has fifteen figures at most (ITU-T E.164, section 6), and few stand alone.
const MOST_GROUPS: usize = 8;

/// How many figures two numbers have in common at their ends: all of one of them but what is dialled from elsewhere only (noughts,
/// a country). Nothing where they are others.
pub(crate) fn same_figures(one: &[&str], other: &[&str]) -> Option<usize> {
    let runs = |groups: &[&str]| -> Vec<String> {
        (0..groups.len())
            .flat_map(|from| (1..=MOST_GROUPS).map(move |more| (from, from + more)))
            .filter(|(_, to)| *to <= groups.len())
            .map(|(from, to)| groups[from..to].concat().trim_start_matches('0').to_owned())
            .collect()
    };
    let (ones, others) = (runs(one), runs(other));
    let pairs = ones.iter().flat_map(|a| others.iter().map(move |b| (a, b)));
    pairs
        .filter(|(a, b)| a.ends_with(b.as_str()) || b.ends_with(a.as_str()))
        .map(|(a, b)| a.len().min(b.len()))
        .max()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plainly(text: &str) -> Vec<String> {
        words(text).into_iter().map(|(_, plain)| plain).collect()
    }

    #[test]
    fn words_are_alike_however_they_are_typed() {
        assert_eq!(
            plainly("Mrs O\u{2019}Brien, née MÜLLER"),
            ["mrs", "o", "brien", "nee", "mueller"]
        );
        assert_eq!(plainly("Mu\u{308}ller Rene\u{301}"), ["mueller", "rene"]);
        let sought = plainly("Ada Invented");
        for text in ["rang ADA INVENTED", "ada-invented", "Ada Invented's clock"] {
            assert!(in_row(&plainly(text), &sought), "{text}");
        }
        assert!(together(&plainly("Invented, Ada: rang"), &sought));
        for text in ["Ada was invented", "invented", "Adam Invented"] {
            assert!(!together(&plainly(text), &sought), "{text}");
        }
    }

    #[test]
    fn numbers_are_alike_by_their_figures() {
        let one = numbers("tel 01234 567-890, after six");
        assert_eq!(one, [["01234", "567", "890"]]);
        for (text, figures) in [
            ("01234567890", Some(10)),
            ("+44 (0)1234 567890", Some(10)),
            ("567 890", Some(6)),
            ("on 2026-03-01", None),
        ] {
            let found = numbers(text);
            let same = same_figures(&one[0], &found[0]).filter(|same| *same > 5);
            assert_eq!(same, figures, "{text}");
        }
    }
}
