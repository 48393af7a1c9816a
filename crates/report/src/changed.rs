//! What is otherwise on a sheet than on the one before it, in words.

use crate::page::named;
use crate::{Words, say};
use quantity::to_f64;
use way::{Change, SheetItem, Value};

/// So many changes are told one by one.
const MOST: usize = 12;

/// What is otherwise, as a sentence.
pub fn changed(words: &Words, changes: &[Change]) -> String {
    if changes.is_empty() {
        return say!(words, "changed-nothing");
    }
    let mut told: Vec<String> = (changes.iter().take(MOST))
        .map(|change| one(words, change))
        .collect();
    if changes.len() > MOST {
        told.push(say!(words, "changed-more", count = changes.len() - MOST));
    }
    say!(words, "changed", changes = told.join("; "))
}

fn one(words: &Words, change: &Change) -> String {
    let what = what(words, &change.of);
    let value = |v: &Value| value(words, v);
    match (&change.was, &change.now) {
        (Some(Value::Several(_)), Some(_)) => say!(words, "changed-otherwise", what = what),
        (Some(was), Some(now)) => {
            say!(
                words,
                "changed-value",
                what = what,
                now = value(now),
                was = value(was)
            )
        }
        (None, Some(Value::Several(_))) => say!(words, "changed-new", what = what),
        (None, Some(now)) => say!(words, "changed-new-value", what = what, now = value(now)),
        (_, None) => say!(words, "changed-gone", what = what),
    }
}

fn value(words: &Words, value: &Value) -> String {
    match value {
        Value::Teeth(Some(teeth)) => teeth.get().to_string(),
        Value::Teeth(None) => say!(words, "changed-uncounted"),
        Value::Text(text) => text.clone(),
        Value::Number(number) => words.decimal(to_f64(number), 4),
        Value::Window(from, to) => {
            say!(
                words,
                "changed-window",
                from = words.degrees(from),
                to = words.degrees(to)
            )
        }
        Value::Several(_) => String::new(),
    }
}

fn what(words: &Words, said: &SheetItem) -> String {
    let named = |id: &str| named(id).replace('.', " ");
    match said {
        SheetItem::Name => say!(words, "changed-name"),
        SheetItem::SeenFrom => say!(words, "changed-seen-from"),
        SheetItem::Count(part) => named(part),
        SheetItem::Runs(arbor) => say!(words, "changed-runs", arbor = named(arbor)),
        SheetItem::Measure(arbor, key) => format!("{} {}", named(arbor), named(key)),
        SheetItem::Mesh(mesh) => {
            let (driver, driven) = mesh.split_once('>').unwrap_or((mesh, ""));
            say!(
                words,
                "changed-mesh",
                driver = named(driver),
                driven = named(driven)
            )
        }
        SheetItem::Strike => say!(words, "changed-strike"),
        SheetItem::Moment(id)
        | SheetItem::Witness(id)
        | SheetItem::Track(id)
        | SheetItem::Pin(id)
        | SheetItem::Lever(id) => named(id),
        SheetItem::Window(id) => say!(words, "changed-window-of", witness = named(id)),
        SheetItem::Works => say!(words, "changed-works"),
    }
}

#[cfg(test)]
mod tests {
    use super::changed;
    use crate::Words;
    use way::{KnownSheet, changes};

    const SHEET: &str = include_str!("../../../movements/schoolroom.toml");

    fn changes_text(sheet: &str) -> String {
        let before = sheet::read(SHEET.as_bytes()).expect("it checks").movement;
        let words = Words::default();
        match sheet::read(sheet.as_bytes()) {
            Ok(after) => changed(
                &words,
                &changes(
                    KnownSheet::Counted(&before),
                    KnownSheet::Counted(&after.movement),
                ),
            ),
            Err(_) => {
                let open = sheet::read_open(sheet.as_bytes()).expect("open");
                changed(
                    &words,
                    &changes(KnownSheet::Counted(&before), KnownSheet::Open(&open)),
                )
            }
        }
    }

    #[test]
    fn counts_windows_and_names_are_told_with_what_they_were() {
        assert_eq!(
            changes_text(SHEET),
            "Nothing that turns or is read is otherwise than before."
        );
        let commented = format!("# counted again\n{SHEET}");
        assert_eq!(changes_text(&commented), changes_text(SHEET));
        let renamed = SHEET.replace("Wren Street schoolroom clock", "Quay Street clock");
        assert_eq!(
            changes_text(&renamed),
            "Otherwise than before: the name Quay Street clock, was Wren Street schoolroom clock."
        );
    }

    #[test]
    fn what_is_new_or_gone_is_told() {
        let movement = sheet::read(SHEET.as_bytes()).expect("it checks").movement;
        let (_, fly) = movement.meshes().last().expect("a mesh");
        let part = movement.part_name(fly.driven);
        let (arbor, name) = part.split_once('.').expect("arbor.part");
        let teeth = movement.part(fly.driven).teeth.get();
        let line = format!("{name} = {teeth}");
        let at = SHEET.find(&format!("[arbor.{arbor}]")).expect("the arbor");
        let counted = |to: &str| {
            let (head, tail) = SHEET.split_at(at);
            format!(
                "{head}{}",
                tail.replacen(&line, &format!("{name} = {to}"), 1)
            )
        };
        let called = part.replace(['.', '_'], " ");
        let doubled = counted(&(teeth + 1).to_string());
        assert!(
            changes_text(&doubled).contains(&format!("{called} {}, was {teeth}", teeth + 1)),
            "{}",
            changes_text(&doubled)
        );
        let open = counted("\"?\"");
        assert!(
            changes_text(&open).contains(&format!("{called} not counted, was {teeth}")),
            "{}",
            changes_text(&open)
        );
        let more = format!(
            "{SHEET}\n[arbor.spare]\npinion = 9\n[[mesh]]\ndriver = \"great.wheel\"\ndriven = \"spare.pinion\"\n"
        );
        let told = changes_text(&more);
        assert!(told.contains("spare pinion 9, new"), "{told}");
        assert!(
            told.contains("the mesh of great wheel with spare pinion new"),
            "{told}"
        );
    }
}
