//! One value of each kind: what stands there if it is what the table of keys wants, or a fault and nothing.

use crate::fault::{ExpectedValue, Got, SheetFaultKind};
use crate::keys;
use crate::odd::Odd;
use crate::raw::{Fields, Key, Reader, Value};
use crate::spelling;
use crate::written::{decimal, got, integer, is_name};
use movement::DraftPartName;
use quantity::{Bounds, Degrees, Exact, to_f64};

/// What was to be read of a list, and which of it could not be; nothing where it is no list, or too short or long.
type Listed<T> = Result<Vec<T>, Option<usize>>;

impl Reader {
    /// What the table of keys wants of `key`.
    fn holds(fields: &Fields<'_, '_>, key: &str) -> ExpectedValue {
        keys::find(fields.table, key).map_or(ExpectedValue::Number, |row| row.holds)
    }

    pub(crate) fn text(&mut self, fields: &Fields<'_, '_>, key: &'static str) -> Option<String> {
        let value = self.need(fields, key)?;
        let words: Vec<String> = value
            .get_ref()
            .as_str()
            .unwrap_or("")
            .split(|c: char| c.is_control() || c.is_whitespace())
            .filter(|word| !word.is_empty())
            .map(str::to_owned)
            .collect();
        if words.is_empty() {
            self.value(key, value, ExpectedValue::Text);
            return None;
        }
        Some(words.join(" "))
    }

    pub(crate) fn id(&mut self, fields: &Fields<'_, '_>, key: &'static str) -> Option<String> {
        let value = self.need(fields, key)?;
        self.id_value(key, value)
    }

    pub(crate) fn id_value(&mut self, key: &str, value: &Value<'_>) -> Option<String> {
        match value.get_ref().as_str() {
            Some(id) if is_name(id) => Some(id.to_owned()),
            _ => {
                self.value(key, value, ExpectedValue::Name);
                None
            }
        }
    }

    /// A key that is a name of the writer's own, an arbor's id or a part's; `near` is a key that may have been meant.
    pub(crate) fn name(&mut self, key: &Key<'_>, near: impl Fn() -> Option<&'static str>) {
        if !is_name(key.get_ref()) {
            let what = SheetFaultKind::Value {
                key: String::new(),
                got: Got::Text(key.get_ref().to_string()),
                expected: ExpectedValue::Name,
                near: near().map(str::to_owned),
            };
            self.fault(key.span(), what);
        }
    }

    pub(crate) fn arbor_part(&mut self, key: &str, value: &Value<'_>) -> Option<DraftPartName> {
        let read = value.get_ref().as_str().and_then(|text| {
            let (arbor, part) = text.split_once('.')?;
            (is_name(arbor) && is_name(part)).then(|| DraftPartName {
                arbor: arbor.to_owned(),
                part: part.to_owned(),
            })
        });
        if read.is_none() {
            self.value(key, value, ExpectedValue::ArborPart);
        }
        read
    }

    pub(crate) fn yes_no(&mut self, fields: &Fields<'_, '_>, key: &str) -> Option<bool> {
        let value = fields.get(key)?;
        let read = value.get_ref().as_bool();
        if read.is_none() {
            self.value(key, value, ExpectedValue::YesNo);
        }
        read
    }

    /// A list of names, each of which is one.
    pub(crate) fn names(&mut self, key: &str, value: &Value<'_>) {
        let one = |x: &Value<'_>| {
            x.get_ref()
                .as_str()
                .filter(|text| is_name(text))
                .map(|_| ())
        };
        let read = list(value, 0..=crate::MOST_KEYS, one);
        self.listed(key, value, ExpectedValue::Names, read);
    }

    /// The keys of a table that stand as is usual, not measured; each of them stands in it.
    pub(crate) fn usual_keys(&mut self, fields: &Fields<'_, '_>) -> Vec<String> {
        const USUAL: &str = "usual";
        let Some(value) = fields.get(USUAL) else {
            return Vec::new();
        };
        let beside = |x: &Value<'_>| {
            let key = x.get_ref().as_str()?;
            let stands = key != USUAL && fields.get(key).is_some();
            stands.then(|| key.to_owned())
        };
        let read = list(value, 0..=crate::MOST_KEYS, beside);
        (self.listed(USUAL, value, ExpectedValue::KeysBeside, read)).unwrap_or_default()
    }

    /// How surely keys in degrees of a table were measured; each of them stands in it, and none of them as is usual.
    pub(crate) fn spreads(
        &mut self,
        fields: &Fields<'_, '_>,
        usual: &[String],
    ) -> Vec<(String, Degrees)> {
        const SPREAD: &str = "spread_deg";
        let Some(value) = fields.get(SPREAD) else {
            return Vec::new();
        };
        let Some(table) = value.get_ref().as_table() else {
            self.value(SPREAD, value, ExpectedValue::Spreads);
            return Vec::new();
        };
        let mut keys: Vec<_> = table.iter().collect();
        keys.sort_by_key(|(key, _)| key.span().start);
        let mut spreads = Vec::new();
        for (key, by) in keys {
            let name = key.get_ref().to_string();
            let beside = name.ends_with("_deg") && name != SPREAD && fields.get(&name).is_some();
            let number = decimal(by.get_ref()).filter(|by| ExpectedValue::Positive.admits(by));
            match number {
                _ if !beside || usual.contains(&name) => {
                    self.value(SPREAD, value, ExpectedValue::Spreads);
                }
                None => self.value(&name, by, ExpectedValue::Positive),
                Some(number) => spreads.push((name, Degrees::deg(number))),
            }
        }
        spreads
    }

    /// How surely measurements of a table are known; each of them stands in it.
    pub(crate) fn measure_spreads(&mut self, fields: &Fields<'_, '_>) -> Vec<(String, Exact)> {
        const SPREAD: &str = "spread";
        let Some(value) = fields.get(SPREAD) else {
            return Vec::new();
        };
        let Some(table) = value.get_ref().as_table() else {
            self.value(SPREAD, value, ExpectedValue::MeasureSpreads);
            return Vec::new();
        };
        let mut spreads = Vec::new();
        for (key, by) in table.iter() {
            let name = key.get_ref().to_string();
            let measured = keys::KeyUnit::of(&name).is_some() && fields.get(&name).is_some();
            let number = decimal(by.get_ref()).filter(|by| ExpectedValue::Positive.admits(by));
            match number {
                _ if !measured => self.value(SPREAD, value, ExpectedValue::MeasureSpreads),
                None => self.value(&name, by, ExpectedValue::Positive),
                Some(number) => spreads.push((name, number)),
            }
        }
        spreads
    }

    /// How questions were answered: a text by each.
    pub(crate) fn answers(&mut self, value: &Value<'_>) {
        let Some(table) = value.get_ref().as_table() else {
            return self.value("asked", value, ExpectedValue::Table);
        };
        for (question, how) in table.iter() {
            if how.get_ref().as_str().is_none() {
                self.value(question.get_ref(), how, ExpectedValue::Text);
            }
        }
    }

    /// The meaning of a word, in the order in which the table of keys has its words.
    pub(crate) fn word<T: Copy>(
        &mut self,
        fields: &Fields<'_, '_>,
        key: &str,
        meanings: &[T],
    ) -> Option<T> {
        let value = fields.get(key)?;
        let expected = Reader::holds(fields, key);
        let ExpectedValue::OneOf(words) = expected else {
            return None;
        };
        self.one_of(key, value, words, meanings)
    }

    pub(crate) fn one_of<T: Copy>(
        &mut self,
        key: &str,
        value: &Value<'_>,
        words: &'static [&'static str],
        meanings: &[T],
    ) -> Option<T> {
        let text = value.get_ref().as_str();
        let at = text.and_then(|text| words.iter().position(|word| *word == text));
        let read = at.and_then(|at| meanings.get(at).copied());
        if read.is_none() {
            self.value(key, value, ExpectedValue::OneOf(words));
        }
        read
    }

    /// A kind, by any of the words that are taken for it.
    pub(crate) fn kind<T>(
        &mut self,
        fields: &Fields<'_, '_>,
        called: impl FnOnce(&str) -> Option<T>,
    ) -> Option<T> {
        let value = fields.get("kind")?;
        let read = value.get_ref().as_str().and_then(called);
        if read.is_none() {
            self.value("kind", value, Reader::holds(fields, "kind"));
        }
        read
    }

    /// A whole number in the range that the table of keys has for it.
    pub(crate) fn count(&mut self, fields: &Fields<'_, '_>, key: &str) -> Option<u16> {
        let value = fields.get(key)?;
        let expected = Reader::holds(fields, key);
        let ExpectedValue::Count(bounds) = expected else {
            return None;
        };
        let read = integer(value.get_ref()).and_then(|n| bounds.admit(n));
        if read.is_none() {
            self.value(key, value, expected);
        }
        read
    }

    /// A number, where it lies as the table of keys wants it; one beyond what is usual is taken, and told.
    pub(crate) fn number(&mut self, fields: &Fields<'_, '_>, key: &str) -> Option<Exact> {
        let value = fields.get(key)?;
        let expected = Reader::holds(fields, key);
        let read = decimal(value.get_ref()).filter(|x| expected.admits(x));
        match &read {
            None => self.value(key, value, expected),
            Some(number) => self.usual(fields, key, value, number),
        }
        read
    }

    /// A number that must be there.
    pub(crate) fn need_number(
        &mut self,
        fields: &Fields<'_, '_>,
        key: &'static str,
    ) -> Option<Exact> {
        self.need(fields, key)?;
        self.number(fields, key)
    }

    /// Tells a number that is beyond what is usual for its key.
    fn usual(&mut self, fields: &Fields<'_, '_>, key: &str, value: &Value<'_>, number: &Exact) {
        let usual = keys::find(fields.table, key).and_then(|row| row.usual);
        if let Some((least, most)) = usual
            && !(least..=most).contains(&to_f64(number))
        {
            let odd = Odd::Unusual {
                key: key.to_owned(),
                got: number.clone(),
                least,
                most,
            };
            self.odd(value.span().start, odd);
        }
    }

    /// Two numbers.
    pub(crate) fn two(&mut self, fields: &Fields<'_, '_>, key: &str) -> Option<(Exact, Exact)> {
        let value = fields.get(key)?;
        let expected = Reader::holds(fields, key);
        let read = list(value, 2..=2, |x| decimal(x.get_ref()));
        let mut read = self.listed(key, value, expected, read)?.into_iter();
        let (first, second) = (read.next()?, read.next()?);
        for number in [&first, &second] {
            self.usual(fields, key, value, number);
        }
        Some((first, second))
    }

    /// Numbers, as many as places there can be.
    pub(crate) fn numbers(&mut self, key: &str, value: &Value<'_>) -> Option<Vec<Exact>> {
        let read = list(value, 1..=movement::MOST_PLACES, |x| decimal(x.get_ref()));
        self.listed(key, value, ExpectedValue::Numbers, read)
    }

    /// One angle, or a list of them.
    pub(crate) fn places(&mut self, key: &str, value: &Value<'_>) -> Option<Vec<Degrees>> {
        if let Some(one) = decimal(value.get_ref()) {
            return Some(vec![Degrees::deg(one)]);
        }
        let read = self.numbers(key, value)?;
        Some(read.into_iter().map(Degrees::deg).collect())
    }

    /// Whole numbers that come to no more than a turn's places in all.
    pub(crate) fn counts(&mut self, fields: &Fields<'_, '_>, key: &str) -> Option<Vec<u16>> {
        let value = fields.get(key)?;
        let expected = Reader::holds(fields, key);
        let ExpectedValue::Counts(Bounds { most, .. }) = expected else {
            return None;
        };
        let one = |x: &Value<'_>| {
            let n = u16::try_from(integer(x.get_ref())?).ok()?;
            (n >= 1).then_some(n)
        };
        let read = list(value, 1..=movement::MOST_PLACES, one).and_then(|counts| {
            let sum: i64 = counts.iter().map(|&n| i64::from(n)).sum();
            (sum <= i64::from(most)).then_some(counts).ok_or(None)
        });
        self.listed(key, value, expected, read)
    }

    /// What was read of a list; else what is wrong with it, or with one of it.
    pub(crate) fn listed<T>(
        &mut self,
        key: &str,
        value: &Value<'_>,
        expected: ExpectedValue,
        read: Listed<T>,
    ) -> Option<Vec<T>> {
        let bad = match read {
            Ok(read) => return Some(read),
            Err(bad) => bad,
        };
        let list = value.get_ref().as_array();
        let one = list.and_then(|list| Some((list.len(), list.get(bad?)?)));
        let (Some(at), Some((of, item))) = (bad, one) else {
            self.value(key, value, expected);
            return None;
        };
        let what = SheetFaultKind::Value {
            key: key.to_owned(),
            near: spelling::number_in(item.get_ref()),
            got: Got::Nth {
                nth: at + 1,
                of,
                got: Box::new(got(item.get_ref())),
            },
            expected,
        };
        self.fault(item.span(), what);
        None
    }

    /// What stands at `key` is not what was expected.
    pub(crate) fn value(&mut self, key: &str, value: &Value<'_>, expected: ExpectedValue) {
        let near = match (&expected, value.get_ref().as_str()) {
            (ExpectedValue::OneOf(words) | ExpectedValue::Kind(words), Some(text)) => {
                spelling::near_word(text, words)
            }
            (ExpectedValue::Pair | ExpectedValue::Point, _) => spelling::pair_in(value.get_ref()),
            (expected, _) if expected.is_of_numbers() => spelling::number_in(value.get_ref()),
            (ExpectedValue::Name, Some(text)) => spelling::name_in(text),
            _ => None,
        };
        self.value_near(key, value, expected, near);
    }

    /// The same, where what may have been meant is known.
    pub(crate) fn value_near(
        &mut self,
        key: &str,
        value: &Value<'_>,
        expected: ExpectedValue,
        near: Option<String>,
    ) {
        let what = SheetFaultKind::Value {
            key: key.to_owned(),
            got: got(value.get_ref()),
            expected,
            near,
        };
        self.fault(value.span(), what);
    }
}

/// A list of so many, each of which is good.
pub(crate) fn list<T>(
    value: &Value<'_>,
    many: std::ops::RangeInclusive<usize>,
    one: impl Fn(&Value<'_>) -> Option<T>,
) -> Listed<T> {
    let list = value.get_ref().as_array().ok_or(None)?;
    if !many.contains(&list.len()) {
        return Err(None);
    }
    (list.iter().enumerate())
        .map(|(i, item)| one(item).ok_or(Some(i)))
        .collect()
}
