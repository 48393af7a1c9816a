//! A sentence in which some stretches name what is to be moved.

/// A stretch of a sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextRun {
    /// Its words.
    pub text: String,
    /// Whether it names what is to be moved, or which way.
    pub moved: bool,
}

/// A sentence of stretches.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sentence(pub Vec<TextRun>);

impl Sentence {
    /// A text whose stretches between `<m>` and `</m>` are marked.
    pub(super) fn marked(text: &str) -> Sentence {
        let mut runs = Vec::new();
        let mut push = |text: &str, moved| {
            if !text.is_empty() {
                let text = text.to_owned();
                runs.push(TextRun { text, moved });
            }
        };
        let mut rest = text;
        while let Some((plain, after)) = rest.split_once("<m>") {
            push(plain, false);
            let (moved, after) = after.split_once("</m>").unwrap_or((after, ""));
            push(moved, true);
            rest = after;
        }
        push(rest, false);
        Sentence(runs)
    }

    /// With another sentence after it, a space between.
    #[must_use]
    pub fn then(mut self, other: Sentence) -> Sentence {
        if !self.0.is_empty() && !other.0.is_empty() {
            self.0.push(TextRun {
                text: " ".to_owned(),
                moved: false,
            });
        }
        self.0.extend(other.0);
        self
    }

    /// All of it as one text.
    pub fn text(&self) -> String {
        self.0.iter().map(|run| run.text.as_str()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::{Sentence, TextRun};

    #[test]
    fn marks_become_stretches() {
        let run = |text: &str, moved| TextRun {
            text: text.to_owned(),
            moved,
        };
        let sentence = Sentence::marked("Lift the <m>second</m> arbor, <m>clockwise</m>.");
        assert_eq!(
            sentence.0,
            [
                run("Lift the ", false),
                run("second", true),
                run(" arbor, ", false),
                run("clockwise", true),
                run(".", false)
            ]
        );
        assert_eq!(sentence.text(), "Lift the second arbor, clockwise.");
        assert_eq!(Sentence::marked("").0, []);
    }
}
