//! In what words a request is answered: as was chosen on the page of settings, or as the browser asks for.

use axum::extract::FromRequestParts;
use axum::http::HeaderMap;
use axum::http::header::{ACCEPT_LANGUAGE, COOKIE};
use axum::http::request::Parts;
use report::{Lang, Locale, Units, Usage};
use std::convert::Infallible;

/// What was chosen is kept by the browser, under this name.
const COOKIE_NAME: &str = "words";

/// A year: as long as browsers keep one that is used (at most 400 days by RFC 6265bis, from memory).
const KEPT_S: u32 = 365 * 24 * 60 * 60;

/// The words of a request.
pub(crate) struct Speech(pub(crate) Locale);

impl<S: Sync> FromRequestParts<S> for Speech {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Speech, Infallible> {
        Ok(Speech(locale_of(&parts.headers)))
    }
}

/// Names of what can be chosen, as forms and the cookie have them.
pub(crate) const LANGS: [(&str, Lang); 3] = [
    ("en", Lang::English),
    ("de", Lang::German),
    ("long", Lang::Stretched),
];
pub(crate) const USAGES: [(&str, Usage); 2] =
    [("british", Usage::British), ("american", Usage::American)];
pub(crate) const UNITS: [(&str, Units); 2] = [("mm", Units::Millimetre), ("in", Units::Inch)];

/// What a name stands for.
pub(crate) fn named<T: Copy>(all: &[(&str, T)], name: &str) -> Option<T> {
    all.iter().find(|(n, _)| *n == name).map(|(_, it)| *it)
}

fn name_of<T: Copy + PartialEq>(all: &[(&'static str, T)], it: T) -> &'static str {
    all.iter().find(|(_, i)| *i == it).map_or("", |(n, _)| n)
}

/// The words of a request with these headers.
pub(crate) fn locale_of(headers: &HeaderMap) -> Locale {
    let text = |name| headers.get(name).and_then(|value| value.to_str().ok());
    (text(COOKIE).and_then(kept)).unwrap_or_else(|| preferred(text(ACCEPT_LANGUAGE).unwrap_or("")))
}

/// What a cookie keeps: `words=de.british.mm`.
fn kept(cookies: &str) -> Option<Locale> {
    let ours = (cookies.split(';')).find_map(|cookie| {
        let (name, value) = cookie.trim().split_once('=')?;
        (name == COOKIE_NAME).then_some(value)
    })?;
    let mut names = ours.split('.');
    let lang = named(&LANGS, names.next()?)?;
    let usage = named(&USAGES, names.next()?)?;
    let units = named(&UNITS, names.next()?)?;
    Some(Locale::of(lang, usage).with(units))
}

/// The cookie that keeps what was chosen.
pub(crate) fn cookie(locale: &Locale) -> String {
    format!(
        "{COOKIE_NAME}={}.{}.{}; Path=/; Max-Age={KEPT_S}; SameSite=Strict; HttpOnly",
        name_of(&LANGS, locale.lang()),
        name_of(&USAGES, locale.usage()),
        name_of(&UNITS, locale.units())
    )
}

/// The likeliest of the languages a browser asks for (RFC 9110, 12.5.4): the first of those it wants most that is spoken
/// here; English where none is. Inches with American usage are a choice, not a guess: workshops there measure in both.
fn preferred(accepted: &str) -> Locale {
    let mut best: Option<(f64, Locale)> = None;
    for range in accepted.split(',') {
        let mut parts = range.split(';').map(str::trim);
        let tag = parts.next().unwrap_or_default().to_ascii_lowercase();
        let weight = parts
            .find_map(|part| part.strip_prefix("q="))
            .map_or(1.0, |q| q.parse().unwrap_or(0.0));
        let (lang, usage) = match tag.split('-').collect::<Vec<_>>()[..] {
            ["de", ..] => (Lang::German, Usage::British),
            ["en", "us", ..] => (Lang::English, Usage::American),
            ["en", ..] => (Lang::English, Usage::British),
            _ => continue,
        };
        if weight > best.map_or(0.0, |(most, _)| most) {
            best = Some((weight, Locale::of(lang, usage)));
        }
    }
    best.map_or_else(Locale::default, |(_, locale)| locale)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_language_that_is_wanted_most_is_spoken() {
        for (accepted, tag) in [
            ("", "en-GB"),
            ("en-US,en;q=0.9", "en-US"),
            ("en", "en-GB"),
            ("en-GB,en-US;q=0.9", "en-GB"),
            ("de-AT, de;q=0.9, en-US;q=0.8", "de"),
            ("fr, de;q=0.3, en-US;q=0.8", "en-US"),
            ("fr;q=1, ja", "en-GB"),
            ("de;q=0, en", "en-GB"),
            ("de;q=high, en-US;q=0.1", "en-US"),
        ] {
            assert_eq!(preferred(accepted).tag(), tag, "{accepted}");
        }
    }

    #[test]
    fn what_was_chosen_is_kept() {
        for (_, lang) in LANGS {
            for (_, usage) in USAGES {
                for (_, units) in UNITS {
                    let locale = Locale::of(lang, usage).with(units);
                    let set = cookie(&locale);
                    let sent = set.split(';').next().expect("a value");
                    assert_eq!(kept(&format!("other=1; {sent}")), Some(locale));
                }
            }
        }
        for other in [
            "",
            "words=",
            "words=xx.british.mm",
            "words=de",
            "sword=de.british.mm",
        ] {
            assert_eq!(kept(other), None, "{other}");
        }
    }
}
