//! Rows for a reader of tables. Source of the form: RFC 4180.

use std::io::{self, Write};

/// What a reader of tables would take a cell for a formula by. Source: OWASP, "CSV Injection".
const FORMULA: [char; 11] = ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

/// Writes a row of a table. A cell that could be taken for a formula has `'` before it, as the same source advises; a number is none.
///
/// # Errors
/// That it cannot be written there.
pub fn row(out: &mut impl Write, fields: &[&str]) -> io::Result<()> {
    for (at, field) in fields.iter().enumerate() {
        if at > 0 {
            out.write_all(b",")?;
        }
        let mark = if field.starts_with(FORMULA) && field.parse::<f64>().is_err() {
            "'"
        } else {
            ""
        };
        if !mark.is_empty() || field.contains(['"', ',', '\r', '\n']) {
            write!(out, "\"{mark}{}\"", field.replace('"', "\"\""))?;
        } else {
            out.write_all(field.as_bytes())?;
        }
    }
    out.write_all(b"\r\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_cell_is_taken_for_a_formula() {
        let told = |field: &str| {
            let mut out = Vec::new();
            row(&mut out, &[field, "x"]).expect("a row");
            String::from_utf8(out).expect("UTF-8")
        };
        for (field, cell) in [
            ("=1+2", "\"'=1+2\",x\r\n"),
            ("@SUM(A1)", "\"'@SUM(A1)\",x\r\n"),
            ("-2 teeth, back", "\"'-2 teeth, back\",x\r\n"),
            ("+44 20", "\"'+44 20\",x\r\n"),
            ("\t=1", "\"'\t=1\",x\r\n"),
            ("＝1", "\"'＝1\",x\r\n"),
            ("-1.2", "-1.2,x\r\n"),
            ("struck 3=3", "struck 3=3,x\r\n"),
        ] {
            assert_eq!(told(field), cell);
        }
    }
}
