//! What is written under a key: typed, and put into the text so that the remark beside it stays.

use quantity::{Exact, to_f64};
use toml_edit::{Array, InlineTable, Item, TableLike, Value};

/// What is to stand under a key.
#[derive(Debug, Clone, PartialEq)]
pub enum SheetValue {
    /// A text.
    Text(String),
    /// A whole number.
    Whole(i64),
    /// A decimal number, written to the thousandth.
    Decimal(Exact),
    /// `true` or `false`.
    YesNo(bool),
    /// A list.
    List(Vec<SheetValue>),
    /// A table in one line.
    Table(Vec<(String, SheetValue)>),
}

impl SheetValue {
    /// What stands there; nothing where it is a date, or a table of its own.
    pub(crate) fn of(item: &Item) -> Option<SheetValue> {
        SheetValue::of_value(item.as_value()?)
    }

    fn of_value(value: &Value) -> Option<SheetValue> {
        Some(match value {
            Value::String(text) => SheetValue::Text(text.value().clone()),
            Value::Integer(number) => SheetValue::Whole(*number.value()),
            Value::Float(_) => {
                let written = value.to_string();
                SheetValue::Decimal(quantity::parse_number(written.trim()).ok()?)
            }
            Value::Boolean(yes) => SheetValue::YesNo(*yes.value()),
            Value::Datetime(_) => return None,
            Value::Array(list) => SheetValue::List(
                list.iter()
                    .map(SheetValue::of_value)
                    .collect::<Option<_>>()?,
            ),
            Value::InlineTable(table) => SheetValue::Table(
                (table.iter())
                    .map(|(key, value)| Some((key.to_owned(), SheetValue::of_value(value)?)))
                    .collect::<Option<_>>()?,
            ),
        })
    }

    /// The text, where it is one.
    pub fn text(&self) -> Option<&str> {
        match self {
            SheetValue::Text(text) => Some(text),
            _ => None,
        }
    }

    /// The number, where it is one.
    pub fn number(&self) -> Option<Exact> {
        match self {
            SheetValue::Whole(n) => Some(quantity::whole(*n)),
            SheetValue::Decimal(number) => Some(number.clone()),
            _ => None,
        }
    }

    /// What is in a list; a value by itself is a list of one.
    pub fn list(&self) -> &[SheetValue] {
        match self {
            SheetValue::List(list) => list,
            one => std::slice::from_ref(one),
        }
    }

    fn written(&self) -> Value {
        match self {
            SheetValue::Text(text) => text.as_str().into(),
            SheetValue::Whole(n) => (*n).into(),
            SheetValue::Decimal(number) => decimal(number),
            SheetValue::YesNo(yes) => (*yes).into(),
            SheetValue::List(list) => {
                Value::Array(list.iter().map(SheetValue::written).collect::<Array>())
            }
            SheetValue::Table(pairs) => {
                let mut table = InlineTable::new();
                for (key, value) in pairs {
                    table.insert(key, value.written());
                }
                Value::InlineTable(table)
            }
        }
    }
}

/// A decimal to the thousandth, without noughts at its end; a whole number without a point.
fn decimal(number: &Exact) -> Value {
    let thousandths = (number * quantity::whole(1000)).round();
    let rounded = &thousandths / quantity::whole(1000);
    if rounded.is_integer()
        && let Ok(n) = i64::try_from(rounded.to_integer())
    {
        return n.into();
    }
    to_f64(&rounded).into()
}

/// Writes a value under a key: beside what stood there its remark and its blanks stay.
pub(crate) fn put(table: &mut dyn TableLike, key: &str, value: &SheetValue) {
    let mut written = value.written();
    match table.get_mut(key) {
        Some(item) => {
            if let Some(old) = item.as_value() {
                *written.decor_mut() = old.decor().clone();
            }
            *item = Item::Value(written);
        }
        None => {
            table.insert(key, Item::Value(written));
        }
    }
}
