//! What is otherwise on a sheet than on the one before it, in words.

use crate::page::named;
use crate::{Locale, say};
use quantity::to_f64;
use way::{Change, SheetItem, Value};

/// So many changes are told one by one.
const MOST: usize = 12;

/// What is otherwise, as a sentence.
pub fn changed(locale: &Locale, changes: &[Change]) -> String {
    if changes.is_empty() {
        return say!(locale, "changed-nothing");
    }
    let mut told: Vec<String> = (changes.iter().take(MOST))
        .map(|change| one(locale, change))
        .collect();
    if changes.len() > MOST {
        told.push(say!(locale, "changed-more", count = changes.len() - MOST));
    }
    say!(locale, "changed", changes = told.join("; "))
}

fn one(locale: &Locale, change: &Change) -> String {
    let what = what(locale, &change.of);
    let value = |v: &Value| value(locale, v);
    match (&change.was, &change.now) {
        (Some(Value::Several(_)), Some(_)) => say!(locale, "changed-otherwise", what = what),
        (Some(was), Some(now)) => {
            say!(
                locale,
                "changed-value",
                what = what,
                now = value(now),
                was = value(was)
            )
        }
        (None, Some(Value::Several(_))) => say!(locale, "changed-new", what = what),
        (None, Some(now)) => say!(locale, "changed-new-value", what = what, now = value(now)),
        (_, None) => say!(locale, "changed-gone", what = what),
    }
}

fn value(locale: &Locale, value: &Value) -> String {
    match value {
        Value::Teeth(Some(teeth)) => teeth.get().to_string(),
        Value::Teeth(None) => say!(locale, "changed-uncounted"),
        Value::Text(text) => text.clone(),
        Value::Number(number) => locale.decimal(to_f64(number), 4),
        Value::Window(from, to) => {
            say!(
                locale,
                "changed-window",
                from = locale.degrees(from),
                to = locale.degrees(to)
            )
        }
        Value::Several(_) => String::new(),
    }
}

fn what(locale: &Locale, said: &SheetItem) -> String {
    let named = |id: &str| named(id).replace('.', " ");
    match said {
        SheetItem::Name => say!(locale, "changed-name"),
        SheetItem::SeenFrom => say!(locale, "changed-seen-from"),
        SheetItem::Count(part) => named(part),
        SheetItem::Runs(arbor) => say!(locale, "changed-runs", arbor = named(arbor)),
        SheetItem::Measure(arbor, key) => format!("{} {}", named(arbor), named(key)),
        SheetItem::Mesh(mesh) => {
            let (driver, driven) = mesh.split_once('>').unwrap_or((mesh, ""));
            say!(
                locale,
                "changed-mesh",
                driver = named(driver),
                driven = named(driven)
            )
        }
        SheetItem::Strike => say!(locale, "changed-strike"),
        SheetItem::Moment(id)
        | SheetItem::Witness(id)
        | SheetItem::Track(id)
        | SheetItem::Pin(id)
        | SheetItem::Lever(id) => named(id),
        SheetItem::Window(id) => say!(locale, "changed-window-of", witness = named(id)),
        SheetItem::Works => say!(locale, "changed-works"),
    }
}

#[cfg(test)]
mod tests {
    use super::changed;
    use crate::Locale;
    use way::{KnownSheet, changes};

    const SHEET: &str = include_str!("../../../movements/schoolroom.toml");

    fn changes_text(sheet: &str) -> String {
        let before = sheet::read(SHEET.as_bytes()).expect("it checks").movement;
        let locale = Locale::default();
        match sheet::read(sheet.as_bytes()) {
            Ok(after) => changed(
                &locale,
                &changes(
                    KnownSheet::Counted(&before),
                    KnownSheet::Counted(&after.movement),
                ),
            ),
            Err(_) => {
                let open = sheet::read_open(sheet.as_bytes()).expect("open");
                changed(
                    &locale,
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
