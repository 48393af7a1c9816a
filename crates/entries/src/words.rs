//! All the words of an entry, for whoever looks for one.

use crate::{Entry, EntryContent};
use serde_json::Value;

/// Fields that hold no words: what kind it is, digests, and numbers of entries.
const NOT_WORDS: [&str; 3] = ["kind", "hash", "picture"];

impl Entry {
    /// Everything that is said in it, one thing after the other. When it was written down is no part of it.
    pub fn words(&self) -> String {
        let value = match &self.told {
            EntryContent::Known(kind) => serde_json::to_value(kind),
            EntryContent::Unknown { line, .. } => {
                serde_json::from_str(line).map(|mut value: Value| {
                    if let Value::Object(object) = &mut value {
                        object.remove("at");
                    }
                    value
                })
            }
        };
        let mut words = String::new();
        if let Ok(value) = value {
            gather(&value, &mut words);
        }
        words
    }
}

fn gather(value: &Value, words: &mut String) {
    match value {
        Value::String(text) => {
            if !words.is_empty() {
                words.push(' ');
            }
            words.push_str(text);
        }
        Value::Array(items) => items.iter().for_each(|item| gather(item, words)),
        Value::Object(fields) => (fields.iter())
            .filter(|(name, _)| !NOT_WORDS.contains(&name.as_str()))
            .for_each(|(_, value)| gather(value, words)),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}
