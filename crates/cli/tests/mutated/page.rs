//! Whether an answer is a page as it should be: its tags nest, and no message is missing.

use crate::bench::Answer;
use std::collections::BTreeSet;
use std::sync::LazyLock;

/// The names of all messages.
static KEYS: LazyLock<BTreeSet<&str>> = LazyLock::new(|| {
    let all = include_str!("../../../report/words/en.ftl");
    let keys = all
        .lines()
        .filter(|line| line.starts_with(|c: char| c.is_ascii_lowercase()));
    keys.filter_map(|line| line.split_once(" ="))
        .map(|(key, _)| key)
        .filter(|key| key.contains('-'))
        .collect()
});

/// Elements without an end, as HTML's standard has them (WHATWG, 13.1.2, from memory).
const VOID: [&str; 9] = [
    "area", "br", "col", "hr", "img", "input", "link", "meta", "source",
];

/// Checks an answer of any kind; what it is in short.
pub(crate) fn checked(answer: &Answer, asked: &str) -> String {
    let text = answer.text();
    let busy = answer.status == 503;
    assert!(
        answer.status < 500 || busy,
        "{asked}: {}: {text}",
        answer.status
    );
    assert!(
        text.len() < 64 << 20,
        "{asked}: a page of {} bytes",
        text.len()
    );
    match answer.header("content-type").unwrap_or_default() {
        kind if kind.starts_with("text/html") => {
            let wrong = html(&text);
            assert!(
                wrong.is_none(),
                "{asked}: {}\n{text}",
                wrong.unwrap_or_default()
            );
        }
        kind if kind.starts_with("application/json") => {
            let json: Result<serde_json::Value, _> = serde_json::from_slice(&answer.body);
            assert!(json.is_ok(), "{asked}: {text}");
        }
        _ => {}
    }
    answer.status.to_string()
}

/// What is wrong with a page, if anything is.
pub(crate) fn html(page: &str) -> Option<String> {
    let mut rest = page.strip_prefix("<!DOCTYPE html>").unwrap_or(page);
    let mut open: Vec<String> = Vec::new();
    while !rest.is_empty() {
        let Some(tag) = rest.find('<') else {
            return said(rest).or_else(|| left_open(&open));
        };
        if let Some(wrong) = said(&rest[..tag]) {
            return Some(wrong);
        }
        rest = &rest[tag + 1..];
        if let Some(after) = rest.strip_prefix('/') {
            let Some((name, after)) = after.split_once('>') else {
                return Some("an end without its end".to_owned());
            };
            let was = open.pop();
            if was.as_deref() != Some(name.trim()) {
                return Some(format!("</{name}> ends {was:?}"));
            }
            rest = after;
            continue;
        }
        let name: String = rest
            .chars()
            .take_while(|c| c.is_ascii_alphanumeric() || *c == '-')
            .collect();
        if name.is_empty() {
            return Some(format!(
                "a bare < before {:?}",
                rest.chars().take(40).collect::<String>()
            ));
        }
        rest = &rest[name.len()..];
        let mut ends_itself = VOID.contains(&&*name);
        loop {
            rest = rest.trim_start();
            if let Some(after) = rest.strip_prefix("/>") {
                ends_itself = true;
                rest = after;
                break;
            }
            if let Some(after) = rest.strip_prefix('>') {
                rest = after;
                break;
            }
            let name = rest
                .chars()
                .take_while(|c| c.is_ascii_alphanumeric() || "-:_".contains(*c))
                .count();
            if name == 0 {
                return Some(format!(
                    "within a tag: {:?}",
                    rest.chars().take(40).collect::<String>()
                ));
            }
            rest = &rest[name..];
            if let Some(after) = rest.strip_prefix("=\"") {
                let Some((_, after)) = after.split_once('"') else {
                    return Some("a value without its end".to_owned());
                };
                rest = after;
            }
        }
        if !ends_itself {
            open.push(name);
        }
    }
    left_open(&open)
}

fn left_open(open: &[String]) -> Option<String> {
    (!open.is_empty()).then(|| format!("not ended: {open:?}"))
}

/// What is wrong with what is said between tags: the name of a message, or one that lacks what is to be put into it.
fn said(text: &str) -> Option<String> {
    let text = text.trim();
    (KEYS.contains(text) || text.starts_with("refused-"))
        .then(|| format!("the name of a message: {text}"))
}

#[test]
fn a_page_that_is_not_as_it_should_be_is_found() {
    let good = "<!DOCTYPE html><html lang=\"en\"><body><p>a &lt; b<br></p><svg><path d=\"M0 0\"/></svg><input name=\"x\" disabled></body></html>";
    assert_eq!(html(good), None);
    for bad in [
        "<p>a<b</p>",
        "<p><b></p></b>",
        "<p>",
        "<a href=\"x>y</a>",
        "<p>refused-behind</p>",
        "<p>picture-cut-short</p>",
        "<p>1 < 2</p>",
    ] {
        assert!(html(bad).is_some(), "{bad}");
    }
}
