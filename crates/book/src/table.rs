//! Tables as CSV. Source of the form: RFC 4180.

use std::borrow::Cow;
use std::io::{self, Write};

/// What a reader of tables would take a cell for a formula by. Source: OWASP, "CSV Injection".
const FORMULA: [char; 11] = ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

/// A table that is being written, row by row.
pub struct TableWriter<W: Write>(csv::Writer<W>);

impl<W: Write> TableWriter<W> {
    /// A table that goes to `out`; what is held back is written at its end.
    pub fn to(out: W) -> TableWriter<W> {
        TableWriter(
            csv::WriterBuilder::new()
                .terminator(csv::Terminator::CRLF)
                .from_writer(out),
        )
    }

    /// Writes a row: as many cells as in the first one. A cell that could be taken for a formula has `'` before it, as the same source
    /// advises; a number is none.
    ///
    /// # Errors
    /// That it cannot be written there, or has another number of cells.
    pub fn row<'c>(&mut self, cells: impl IntoIterator<Item = &'c str>) -> io::Result<()> {
        for cell in cells {
            self.0.write_field(guarded(cell).as_bytes())?;
        }
        Ok(self.0.write_record(None::<&[u8]>)?)
    }

    /// Writes what was held back, and hands back where it went.
    ///
    /// # Errors
    /// That it cannot be written there.
    pub fn end(self) -> io::Result<W> {
        self.0.into_inner().map_err(csv::IntoInnerError::into_error)
    }
}

fn guarded(cell: &str) -> Cow<'_, str> {
    if cell.starts_with(FORMULA) && cell.parse::<f64>().is_err() {
        Cow::Owned(format!("'{cell}"))
    } else {
        Cow::Borrowed(cell)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cell_is_taken_for_a_formula() {
        let told = |field: &str| {
            let mut table = TableWriter::to(Vec::new());
            table.row([field, "x"]).expect("a row");
            String::from_utf8(table.end().expect("all of it")).expect("UTF-8")
        };
        for (field, cell) in [
            ("=1+2", "'=1+2,x\r\n"),
            ("@SUM(A1)", "'@SUM(A1),x\r\n"),
            ("-2 teeth, back", "\"'-2 teeth, back\",x\r\n"),
            ("+44 20", "'+44 20,x\r\n"),
            ("\t=1", "'\t=1,x\r\n"),
            ("＝1", "'＝1,x\r\n"),
            ("-1.2", "-1.2,x\r\n"),
            ("struck 3=3", "struck 3=3,x\r\n"),
        ] {
            assert_eq!(told(field), cell);
        }
    }
}
