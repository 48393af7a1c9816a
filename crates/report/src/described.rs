//! Kinds of strike in words: what they are called, what is asked of them, and why a touch of a sheet is refused.

use crate::faults::table_name;
use crate::{Locale, args, key, say};
use sheet::edit::EditFault;
use tasks::{AskedFor, Choice, DescribeFault, Kind, Question};

/// A word of the data as messages choose by it.
fn chosen(word: &str) -> String {
    word.replace(' ', "-")
}

/// What a kind of strike is.
pub fn strike_kind(locale: &Locale, kind: &Kind) -> String {
    locale.say(key!("kind-name"), args![kind = chosen(&kind.id)])
}

/// What a question asks.
pub fn kind_asks(locale: &Locale, question: &Question) -> String {
    locale.say(key!("kind-asks"), args![question = question.id.as_str()])
}

/// What a choice of a question says.
pub fn kind_choice(locale: &Locale, question: &Question, choice: &str) -> String {
    let choice = format!("{}-{choice}", question.id);
    locale.say(key!("kind-choice"), args![choice = choice])
}

fn ticked(name: &str) -> String {
    format!("`{name}`")
}

/// Why a touch of a sheet is refused.
pub fn not_described(locale: &Locale, fault: &DescribeFault) -> String {
    match fault {
        DescribeFault::Edit(fault) => not_edited(locale, fault),
        DescribeFault::NoKind { got } => say!(locale, "not-described-kind", got = ticked(got)),
        DescribeFault::NoQuestion { got } => {
            say!(locale, "not-described-question", got = ticked(got))
        }
        DescribeFault::NoAnswer { question } => {
            say!(locale, "not-described-answer", question = ticked(question))
        }
        DescribeFault::DoesNotGo { question } => {
            say!(
                locale,
                "not-described-does-not-go",
                question = ticked(question)
            )
        }
        DescribeFault::NoWork(_) => say!(locale, "not-described-work"),
        DescribeFault::Width => say!(locale, "not-described-width"),
        DescribeFault::Pace => say!(locale, "describe-no-pace"),
    }
}

fn not_edited(locale: &Locale, fault: &EditFault) -> String {
    let list = || say!(locale, "not-described-list");
    let meant = |near: Option<&str>| match near {
        Some(near) => say!(locale, "hint-meant", near = ticked(near)),
        None => list(),
    };
    match fault {
        EditFault::Unreadable(faults) => {
            let first = faults
                .told
                .first()
                .map(|fault| crate::faults::fault(locale, fault).line);
            first.unwrap_or_default()
        }
        EditFault::NoArbor { got, near } => say!(
            locale,
            "not-described-arbor",
            got = ticked(got),
            hint = meant(near.as_deref())
        ),
        EditFault::NoPart { arbor, got, near } => say!(
            locale,
            "not-described-part",
            got = ticked(got),
            arbor = arbor.as_str(),
            hint = meant(near.as_deref())
        ),
        EditFault::NoMesh { driver, driven } => say!(
            locale,
            "not-described-mesh",
            driver = ticked(driver),
            driven = ticked(driven)
        ),
        EditFault::NoTable { table, id } => {
            let id = match id.is_empty() {
                true => table_name(locale, *table),
                false => ticked(id),
            };
            say!(locale, "not-described-table", id = id)
        }
        EditFault::Taken { name } => say!(locale, "not-described-taken", name = ticked(name)),
        EditFault::NotAName { got } => say!(locale, "not-described-name", got = ticked(got)),
        EditFault::NoKey { got, near, .. } => say!(
            locale,
            "not-described-key",
            got = ticked(got),
            hint = meant(*near)
        ),
        EditFault::Carries { name, carries } => say!(
            locale,
            "not-described-carries",
            name = ticked(name),
            carries = ticked(carries)
        ),
    }
}

/// The choices of a question; none where it takes something else.
pub(crate) fn choices(question: &Question) -> &[Choice] {
    match &question.asks {
        AskedFor::Choice { choices, .. } => choices,
        _ => &[],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Lang, Usage};

    #[test]
    fn every_kind_question_and_choice_has_its_words() {
        for lang in [Lang::English, Lang::German] {
            let locale = Locale::of(lang, Usage::British);
            for kind in Kind::all() {
                assert_ne!(strike_kind(&locale, kind), "", "{}", kind.id);
                for question in &kind.questions {
                    assert_ne!(kind_asks(&locale, question), "", "{}", question.id);
                    for choice in choices(question) {
                        let said = kind_choice(&locale, question, &choice.id);
                        assert_ne!(said, "", "{} {}", question.id, choice.id);
                    }
                }
            }
        }
    }
}
