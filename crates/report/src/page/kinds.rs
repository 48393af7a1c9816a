//! What witnesses and levers are called by the trade, and how a witness is read.

use super::named;
use crate::{Locale, args, key, say};
use movement::{LeverId, LeverKind, Movement, WitnessId, WitnessKind};

/// A kind as messages choose by it.
fn chosen(word: &str) -> String {
    word.replace(' ', "-")
}

/// What a kind of witness is called; nothing for one of which nothing is known.
pub fn witness_kind(locale: &Locale, kind: WitnessKind) -> Option<String> {
    let said = locale.say(key!("witness-kind"), args![kind = chosen(kind.word())]);
    Some(said).filter(|said| !said.is_empty())
}

/// What a kind of lever is called; nothing for one of which nothing is known.
pub fn lever_kind(locale: &Locale, kind: LeverKind) -> Option<String> {
    let said = locale.say(key!("lever-kind"), args![kind = chosen(kind.word())]);
    Some(said).filter(|said| !said.is_empty())
}

/// How a witness is read as it creeps to its moment; nothing of one of which nothing is known.
pub(super) fn reads(locale: &Locale, movement: &Movement, id: WitnessId) -> Option<String> {
    let witness = movement.witness(id);
    let kind = chosen(witness.kind.word());
    let creeping = say!(locale, "witness-creeping", kind = kind);
    Some(creeping).filter(|line| !line.is_empty())
}

/// How a witness is read once the train has locked; nothing of one of which nothing is known.
pub(super) fn reads_at_rest(locale: &Locale, movement: &Movement, id: WitnessId) -> Option<String> {
    let kind = chosen(movement.witness(id).kind.word());
    let at_rest = say!(locale, "witness-at-rest", kind = kind);
    Some(at_rest).filter(|line| !line.is_empty())
}

/// A witness by its id, and by its kind where the sheet says it.
pub fn witness_called(locale: &Locale, movement: &Movement, id: WitnessId) -> String {
    let witness = movement.witness(id);
    let kind = (witness.kind_told).then(|| witness_kind(locale, witness.kind));
    by_kind(locale, movement, id).unwrap_or_else(|| called(locale, &witness.id, kind.flatten()))
}

/// A witness as it is named within a sentence: by its kind alone where its id says no more, else by its id.
pub fn witness_named(locale: &Locale, movement: &Movement, id: WitnessId) -> String {
    by_kind(locale, movement, id).unwrap_or_else(|| named(&movement.witness(id).id))
}

/// The kind of a witness whose id says nothing that its kind does not say too, as `tail` of a hammer tail; nothing where there are
/// several of that kind.
fn by_kind(locale: &Locale, movement: &Movement, id: WitnessId) -> Option<String> {
    let witness = movement.witness(id);
    let of_kind = movement.witnesses();
    let of_kind = of_kind.filter(|(_, other)| other.kind_told && other.kind == witness.kind);
    let own = named(&witness.id);
    let mut words = own.split_whitespace();
    let kind = witness.kind.word();
    let says_no_more = words.all(|word| kind.split_whitespace().any(|of_it| of_it == word));
    (witness.kind_told && says_no_more && of_kind.count() == 1)
        .then(|| witness_kind(locale, witness.kind))
        .flatten()
}

/// A lever by its id, and by its kind where the sheet says it.
pub fn lever_called(locale: &Locale, movement: &Movement, id: LeverId) -> String {
    let lever = movement.works().map(|works| works.lever(id));
    let kind = lever.and_then(|lever| lever_kind(locale, lever.kind?));
    called(locale, lever.map_or("", |lever| &lever.id), kind)
}

/// An id that says its kind itself is not told it twice.
fn called(locale: &Locale, id: &str, kind: Option<String>) -> String {
    let name = named(id);
    match kind.filter(|kind| *kind != name) {
        Some(kind) => say!(locale, "named-kind", name = name, kind = kind),
        None => name,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Lang, Usage};
    use movement::{LEVER_KINDS, WITNESS_KINDS};

    /// The last kind of each is the plain one, which has no name.
    #[test]
    fn every_kind_has_its_name() {
        for (lang, usage) in [
            (Lang::English, Usage::British),
            (Lang::English, Usage::American),
            (Lang::German, Usage::British),
        ] {
            let locale = Locale::of(lang, usage);
            for kind in WITNESS_KINDS {
                let plain = kind == WitnessKind::PLAIN;
                assert_eq!(witness_kind(&locale, kind).is_none(), plain, "{kind:?}");
                let read = say!(locale, "witness-creeping", kind = chosen(kind.word()));
                assert_eq!(read.is_empty(), plain, "{kind:?}");
            }
            for kind in LEVER_KINDS {
                let plain = kind.word() == "plain";
                assert_eq!(lever_kind(&locale, kind).is_none(), plain, "{kind:?}");
            }
        }
    }

    const SHEET: &str = include_str!("../../../../movements/parlour.toml");

    #[test]
    fn a_kind_on_the_sheet_is_told_with_the_name() {
        let text = SHEET.replacen("id = \"pin\"", "id = \"pin\"\nkind = \"locking pin\"", 1);
        let text = text.replacen(
            "id = \"warning_arm\"",
            "id = \"arm\"\nkind = \"warning arm\"",
            1,
        );
        let movement = sheet::read(text.as_bytes()).expect("good").movement;
        let (british, american) = (
            Locale::default(),
            Locale::of(Lang::English, Usage::American),
        );
        let pin = movement.find_witness("pin").expect("there");
        // The id says no more than the kind does.
        assert_eq!(witness_called(&british, &movement, pin), "locking pin");
        assert_eq!(witness_named(&american, &movement, pin), "stop pin");
        let text = text.replacen("id = \"pin\"", "id = \"third\"", 1);
        let movement = sheet::read(text.as_bytes()).expect("good").movement;
        let third = movement.find_witness("third").expect("there");
        assert_eq!(
            witness_called(&british, &movement, third),
            "third (locking pin)"
        );
        assert_eq!(witness_named(&british, &movement, third), "third");
        let works = movement.works().expect("levers");
        let arm = works.find_lever("arm").expect("there");
        assert_eq!(
            lever_called(&british, &movement, arm),
            "arm (warning piece)"
        );
        let hook = works.find_lever("rack_hook").expect("there");
        assert_eq!(lever_called(&british, &movement, hook), "rack hook");
    }
}
