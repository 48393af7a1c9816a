//! The catalogues against the sources and against each other: no key missing, none unused, the same variables and marks.

use fluent_syntax::ast::{Entry, Expression, InlineExpression, Message, Pattern, PatternElement};
use fluent_syntax::parser;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

const EN: &str = include_str!("../words/en.ftl");
const DE: &str = include_str!("../words/de.ftl");

/// A heading of `en.ftl` that ends so has messages that need not be translated: none of them is on the timing page.
const ENGLISH_ONLY: &str = "(English only)";

struct Catalogue {
    messages: BTreeMap<&'static str, Message<&'static str>>,
    english_only: BTreeSet<&'static str>,
}

/// A stretch of a message: what stands there, or a variable that is put in or chosen by.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Piece {
    Text(&'static str),
    Variable(&'static str),
}

impl Catalogue {
    fn read(text: &'static str) -> Catalogue {
        let read = parser::parse(text).unwrap_or_else(|(_, errors)| panic!("{errors:?}"));
        let mut messages = BTreeMap::new();
        let mut english_only = BTreeSet::new();
        let mut exempt = false;
        for entry in read.body {
            match entry {
                Entry::GroupComment(comment) => {
                    exempt = comment.content.iter().any(|l| l.ends_with(ENGLISH_ONLY));
                }
                Entry::Message(message) => {
                    let name = message.id.name;
                    if exempt {
                        english_only.insert(name);
                    }
                    assert!(messages.insert(name, message).is_none(), "{name} twice");
                }
                Entry::Comment(_) | Entry::ResourceComment(_) => {}
                other => panic!("only messages and comments are looked for: {other:?}"),
            }
        }
        Catalogue {
            messages,
            english_only,
        }
    }

    /// Every form a message can take, one for each choice of variants.
    fn forms(&self, name: &str) -> Vec<Vec<Piece>> {
        let message = self.messages.get(name);
        let message = message.unwrap_or_else(|| panic!("{name} is referred to and not there"));
        let value = message.value.as_ref();
        self.of_pattern(value.unwrap_or_else(|| panic!("{name} says nothing")))
    }

    fn of_pattern(&self, pattern: &Pattern<&'static str>) -> Vec<Vec<Piece>> {
        let mut forms = vec![Vec::new()];
        for element in &pattern.elements {
            let more = match element {
                PatternElement::TextElement { value } => vec![vec![Piece::Text(value)]],
                PatternElement::Placeable { expression } => self.of_expression(expression),
            };
            forms = (forms.iter())
                .flat_map(|form| more.iter().map(|m| [&form[..], &m[..]].concat()))
                .collect();
            assert!(forms.len() < 5000, "too many choices in one message");
        }
        forms
    }

    fn of_expression(&self, expression: &Expression<&'static str>) -> Vec<Vec<Piece>> {
        match expression {
            Expression::Inline(inline) => self.of_inline(inline),
            Expression::Select { selector, variants } => {
                let chosen = self.of_inline(selector);
                (variants.iter())
                    .flat_map(|variant| self.of_pattern(&variant.value))
                    .flat_map(|form| chosen.iter().map(move |c| [&c[..], &form[..]].concat()))
                    .collect()
            }
        }
    }

    fn of_inline(&self, inline: &InlineExpression<&'static str>) -> Vec<Vec<Piece>> {
        match inline {
            InlineExpression::StringLiteral { value } => vec![vec![Piece::Text(value)]],
            InlineExpression::VariableReference { id } => vec![vec![Piece::Variable(id.name)]],
            InlineExpression::MessageReference { id, .. } => self.forms(id.name),
            other => panic!("only variables and messages are put in: {other:?}"),
        }
    }

    /// The variables of a message, but for `$usage`, which every message is given.
    fn variables(&self, name: &str) -> BTreeSet<&'static str> {
        (self.forms(name).into_iter().flatten())
            .filter_map(|piece| match piece {
                Piece::Variable(name) => Some(name),
                Piece::Text(_) => None,
            })
            .filter(|name| *name != "usage")
            .collect()
    }

    /// For each form of a message, the variables in each of its marked stretches.
    fn marks(&self, name: &str) -> BTreeSet<Vec<Vec<&'static str>>> {
        (self.forms(name).iter())
            .map(|form| {
                let mut marked = Vec::new();
                let mut open = false;
                for piece in form {
                    match piece {
                        Piece::Variable(variable) if open => {
                            let last: &mut Vec<_> = marked.last_mut().expect("an open mark");
                            last.push(*variable);
                        }
                        Piece::Variable(_) => {}
                        Piece::Text(text) => {
                            for tag in text.split('<').skip(1) {
                                let opens = tag.starts_with("m>");
                                assert!(opens || tag.starts_with("/m>"), "{name}: {text}");
                                assert_ne!(open, opens, "{name}: marks within marks");
                                open = opens;
                                if open {
                                    marked.push(Vec::new());
                                }
                            }
                        }
                    }
                }
                assert!(!open, "{name}: a mark without end");
                marked.sort();
                marked
            })
            .collect()
    }

    /// Messages that other messages refer to.
    fn referred(&self) -> BTreeSet<&'static str> {
        fn inline(inline: &InlineExpression<&'static str>, to: &mut BTreeSet<&'static str>) {
            if let InlineExpression::MessageReference { id, .. } = inline {
                to.insert(id.name);
            }
        }
        fn pattern(of: &Pattern<&'static str>, to: &mut BTreeSet<&'static str>) {
            for element in &of.elements {
                match element {
                    PatternElement::Placeable {
                        expression: Expression::Inline(one),
                    } => inline(one, to),
                    PatternElement::Placeable {
                        expression: Expression::Select { selector, variants },
                    } => {
                        inline(selector, to);
                        variants.iter().for_each(|v| pattern(&v.value, to));
                    }
                    PatternElement::TextElement { .. } => {}
                }
            }
        }
        let mut to = BTreeSet::new();
        for message in self.messages.values() {
            message
                .value
                .iter()
                .for_each(|value| pattern(value, &mut to));
        }
        to
    }
}

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|end| end == "rs") {
            found.push(path);
        }
    }
}

/// The keys in a source: the first literal in each `say!(…)`, `runs!(…)` and `key!(…)`, comments and tests apart.
fn keys(text: &str) -> BTreeSet<String> {
    let text: String = (text.lines())
        .filter(|line| !line.trim_start().starts_with("//"))
        .fold(String::new(), |text, line| text + line + "\n");
    let text = text.split("#[cfg(test)]").next().unwrap_or_default();
    let mut keys = BTreeSet::new();
    for call in ["say!(", "runs!(", "key!("] {
        for after in text.split(call).skip(1) {
            let literal = after.split('"').nth(1).unwrap_or_default();
            if !literal.starts_with('$') {
                keys.insert(literal.to_owned());
            }
        }
    }
    keys
}

#[test]
fn every_key_is_said_and_every_key_that_is_said_is_there() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut files = Vec::new();
    for crate_folder in std::fs::read_dir(root.join("crates")).expect("crates") {
        let src = crate_folder.expect("a crate").path().join("src");
        if src.is_dir() {
            sources(&src, &mut files);
        }
    }
    assert!(files.len() > 50, "only {} sources looked at", files.len());
    let mut used = BTreeSet::new();
    for file in files {
        // The macros themselves name no key.
        if !file.ends_with("report/src/words/key.rs") {
            used.extend(keys(&std::fs::read_to_string(&file).expect("a source")));
        }
    }
    let english = Catalogue::read(EN);
    let there: BTreeSet<String> = english.messages.keys().map(|k| (*k).to_owned()).collect();
    let missing: Vec<_> = used.difference(&there).collect();
    assert!(missing.is_empty(), "said, and not in en.ftl: {missing:?}");
    used.extend(english.referred().into_iter().map(str::to_owned));
    let unused: Vec<_> = there.difference(&used).collect();
    assert!(unused.is_empty(), "in en.ftl, and never said: {unused:?}");
}

#[test]
fn a_key_is_found_where_it_stands() {
    let text = "let a = say!(words, \"one\", x = 1);\n// say!(words, \"not\")\nrun(runs!(\n    job.words,\n    \"two\",\n)); key!(\"three\");\n\
                #[cfg(test)]\nsay!(words, \"not-this\")";
    let found: Vec<String> = keys(text).into_iter().collect();
    assert_eq!(found, ["one", "three", "two"]);
}

#[test]
fn german_has_the_whole_timing_page_with_the_same_variables_and_marks() {
    let (english, german) = (Catalogue::read(EN), Catalogue::read(DE));
    let missing: Vec<_> = (english.messages.keys())
        .filter(|key| !english.english_only.contains(*key) && !german.messages.contains_key(*key))
        .collect();
    assert!(missing.is_empty(), "not in de.ftl: {missing:?}");
    let own = german.referred();
    for key in german.messages.keys() {
        if !english.messages.contains_key(key) {
            // What only this language needs, such as a case, is put into its own messages.
            assert!(own.contains(key), "{key} is not in en.ftl");
            continue;
        }
        assert_eq!(english.variables(key), german.variables(key), "{key}");
        assert_eq!(english.marks(key), german.marks(key), "{key}");
    }
}
