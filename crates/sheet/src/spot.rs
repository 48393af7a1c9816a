//! From a byte's offset to the line and column a person counts.

/// A point in a text: line and column from 1, the column in characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spot {
    /// The line, from 1.
    pub line: usize,
    /// The column in characters, from 1.
    pub column: usize,
}

/// A text with the places where its lines begin.
pub(crate) struct Lines {
    text: String,
    starts: Vec<usize>,
}

impl Lines {
    pub(crate) fn of(text: String) -> Lines {
        let starts = std::iter::once(0)
            .chain(text.match_indices('\n').map(|(i, _)| i + 1))
            .collect();
        Lines { text, starts }
    }

    /// The spot of a byte offset; past the end, the end.
    pub(crate) fn at(&self, offset: usize) -> Spot {
        let mut offset = offset.min(self.text.len());
        while !self.text.is_char_boundary(offset) {
            offset -= 1;
        }
        let line = self.starts.partition_point(|start| *start <= offset);
        let start = self.starts[line - 1];
        Spot {
            line,
            column: self.text[start..offset].chars().count() + 1,
        }
    }
}
