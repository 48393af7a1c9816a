//! Kinds of strike on the command line: what `trundle sheet` lists.

use crate::Locale;
use crate::described::{choices, kind_asks, kind_choice, strike_kind};
use tasks::{AskedFor, Kind, Question};

/// Every kind of strike, with what is asked of it.
pub fn strike_kinds() -> String {
    let locale = Locale::default();
    let mut text = "Kinds of strike. `trundle sheet KIND` prints a sheet of it, nothing counted yet; `_` may stand for a blank.\n".to_owned();
    for kind in Kind::all() {
        text += &format!("\n{}: {}\n", kind.id, strike_kind(&locale, kind));
        for question in &kind.questions {
            text += &format!("  {}: {}\n", question.id, kind_asks(&locale, question));
            for choice in choices(question) {
                let said = kind_choice(&locale, question, &choice.id);
                let usual = usual(question, &choice.id);
                text += &format!("    {}={}: {said}{usual}\n", question.id, choice.id);
            }
            if let Some(takes) = takes(question) {
                text += &format!("    {}={takes}\n", question.id);
            }
        }
    }
    text + "\nEach takes `?`, not known, and `usual` too.\n"
}

fn usual(question: &Question, choice: &str) -> &'static str {
    match &question.asks {
        AskedFor::Choice { usual, .. } if usual == choice => " (usual)",
        _ => "",
    }
}

/// What a question takes that is not asked by choices.
fn takes(question: &Question) -> Option<&'static str> {
    match &question.asks {
        AskedFor::Choice { .. } => None,
        AskedFor::Arbor { .. } => Some("ARBOR"),
        AskedFor::Count { .. } => Some("NUMBER"),
        AskedFor::Way { .. } => Some("clockwise or counterclockwise"),
        AskedFor::Width { .. } => {
            Some("WIDE/ACROSS, the width and the wheel across where it was measured")
        }
        AskedFor::Pace => {
            Some("SECONDS from blow to blow, or SECONDS/SECONDS with those of the lever's fall")
        }
    }
}
