//! Fields put together so that none can run into the next, and their sum.

use rusqlite::Row;
use sha2::{Digest as _, Sha256};

/// A digest as it is kept.
pub(crate) type Sum = [u8; 32];

/// Takes in one field after another: each with its count of bytes before it, so that none can run into the next.
#[derive(Clone)]
pub(crate) struct Fields(Sha256);

impl Fields {
    pub(crate) fn over(before: &[u8]) -> Fields {
        Fields(Sha256::new_with_prefix(before))
    }

    /// What is there as `BYTES:` and the bytes, what is not there as `-`; a comma ends both.
    pub(crate) fn put(&mut self, field: Option<&[u8]>) {
        match field {
            Some(bytes) => {
                self.0.update(format!("{}:", bytes.len()));
                self.0.update(bytes);
                self.0.update(",");
            }
            None => self.0.update("-,"),
        }
    }

    pub(crate) fn sum(self) -> Sum {
        self.0.finalize().into()
    }
}

/// A column as it is put into a sum: numbers in figures.
pub(crate) fn column(row: &Row<'_>, at: usize) -> rusqlite::Result<Option<Vec<u8>>> {
    use rusqlite::types::ValueRef;
    Ok(match row.get_ref(at)? {
        ValueRef::Null => None,
        ValueRef::Integer(number) => Some(number.to_string().into_bytes()),
        ValueRef::Real(number) => Some(number.to_string().into_bytes()),
        ValueRef::Text(bytes) | ValueRef::Blob(bytes) => Some(bytes.to_vec()),
    })
}
