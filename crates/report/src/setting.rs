//! How a clock is wound and set, as its owner is told.

use crate::{Locale, say};
use way::{Setting, Waits};

/// A sentence or two of it.
pub fn setting(locale: &Locale, setting: Setting) -> String {
    match setting {
        Setting::Wind => say!(locale, "wind-all"),
        Setting::Set(Waits::Nowhere) => say!(locale, "wind-set-silent"),
        Setting::Set(waits) => say!(locale, "wind-set", waits = word(waits)),
        Setting::CountWheelApart(waits) => {
            let lever = say!(locale, "wind-lever");
            say!(
                locale,
                "wind-count-wheel",
                waits = word(waits),
                lever = lever
            )
        }
        Setting::HalfApart => say!(locale, "wind-half", lever = say!(locale, "wind-lever")),
        Setting::BellsApart => say!(locale, "wind-bells", lever = say!(locale, "wind-lever")),
        Setting::RackApart => say!(locale, "wind-rack"),
        Setting::ChimeRights => say!(locale, "wind-chime-rights"),
        Setting::ChimeApart => say!(locale, "wind-chime"),
        Setting::NeverBack => say!(locale, "wind-back"),
        Setting::Rate => say!(locale, "wind-rate"),
    }
}

fn word(waits: Waits) -> &'static str {
    match waits {
        Waits::Nowhere => "nowhere",
        Waits::Hours => "hours",
        Waits::Halves => "halves",
        Waits::Quarters => "quarters",
    }
}

#[cfg(test)]
mod tests {
    use super::setting;
    use crate::{Lang, Locale, Usage};
    use way::settings;

    /// What the owner of a sample clock is told, in one piece.
    fn setting_text(sample: &str, locale: Locale) -> String {
        let path = format!(
            "{}/../../movements/{sample}.toml",
            env!("CARGO_MANIFEST_DIR")
        );
        let text = std::fs::read(path).expect("the sample");
        let movement = sheet::read(&text).expect("it checks").movement;
        let each = settings(Some(&movement)).into_iter();
        each.map(|s| setting(&locale, s))
            .collect::<Vec<_>>()
            .join(" ")
    }

    #[test]
    fn every_kind_is_told_its_own_way_of_bringing_hands_and_strike_together() {
        let british = Locale::of(Lang::English, Usage::British);
        let (hand, half, leave) = (
            "push the hour hand alone",
            "at the half hour and one at the hour",
            "they right themselves",
        );
        for (sample, has, lacks) in [
            (
                "schoolroom",
                vec![hand, "locking plate", "each hour until"],
                vec![half, leave],
            ),
            ("gallery", vec![hand], vec![half]),
            (
                "quay",
                vec![hand, half, "each hour and half hour until"],
                vec![leave],
            ),
            ("wharf", vec![hand, half], vec![leave]),
            // The half is struck in passing, by the hands themselves.
            (
                "porter",
                vec![hand, "each hour and half hour until"],
                vec![half],
            ),
            ("cutter", vec!["bells that are due"], vec![hand, half]),
            (
                "parlour",
                vec!["the hour hand has slipped"],
                vec!["locking plate", half, leave],
            ),
            (
                "quarters",
                vec!["the hour hand has slipped", leave, "each quarter until"],
                vec!["locking plate", half],
            ),
        ] {
            let told = setting_text(sample, british);
            for has in has {
                assert!(told.contains(has), "{sample}: {has}: {told}");
            }
            for lacks in lacks {
                assert!(!told.contains(lacks), "{sample}: {lacks}: {told}");
            }
        }
    }

    /// Both step on by one at each hour, so moving the minute hand on never brings them together; and no owner turns it back.
    #[test]
    fn nobody_is_told_to_turn_the_hands_until_both_agree_or_back() {
        for (lang, usage) in [
            (Lang::English, Usage::British),
            (Lang::English, Usage::American),
            (Lang::German, Usage::British),
        ] {
            let locale = Locale::of(lang, usage);
            for sample in [
                "schoolroom",
                "quay",
                "parlour",
                "quarters",
                "cutter",
                "porter",
            ] {
                let told = setting_text(sample, locale);
                for never in [
                    "until both agree",
                    "move the hands on",
                    "hands back",
                    "rückwärts drehen, bis",
                ] {
                    assert!(!told.contains(never), "{sample}: {told}");
                }
            }
        }
        let american = setting_text("schoolroom", Locale::of(Lang::English, Usage::American));
        assert!(american.contains("count wheel") && !american.contains("locking plate"));
        let german = setting_text("quay", Locale::of(Lang::German, Usage::British));
        assert!(
            german.contains("Schlossscheibe") && german.contains("Stundenzeiger"),
            "{german}"
        );
    }
}
