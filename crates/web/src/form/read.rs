//! How what was sent is read: into a struct with a field for each name, or an enum with such a struct for each kind of form.
//!
//! A struct is gone over in its own order, whatever the order on the page, so that of several faults that of its first field is
//! told. An `Option` is nothing where nothing was said under a name, and all else but these is a fault there: a `bool` says whether
//! the name was sent at all, and a `Vec` has all that was sent under it, in order, blank or not. Names that the struct does not have
//! are passed over. What is read out of a text is no matter of this file ([`super::said`]).
//!
//! General readers of forms tell neither which field was at fault nor what stood there, and go by the order in which things were sent;
//! that is why the pages have this one.

use super::{FieldFault, Fields};
use serde::Deserializer;
use serde::de::value::{SeqDeserializer, StrDeserializer};
use serde::de::{
    DeserializeOwned, DeserializeSeed, EnumAccess, Error, IntoDeserializer, MapAccess,
    VariantAccess, Visitor,
};
use serde::forward_to_deserialize_any;
use std::fmt::{self, Display};
use std::slice::Iter;

impl Fields {
    /// What they say.
    ///
    /// # Errors
    /// The first field of `T` that lacks what it needs, or that says what it cannot.
    pub(crate) fn read<T: DeserializeOwned>(&self) -> Result<T, FieldFault> {
        T::deserialize(Form(self)).map_err(|why| why.at("", ""))
    }

    /// What they say, the kind of form being told.
    ///
    /// # Errors
    /// There is no such kind, or as of [`read`](Fields::read).
    pub(crate) fn read_as<T: DeserializeOwned>(&self, kind: &str) -> Result<T, FieldFault> {
        let form = Form(self);
        T::deserialize(OfKind { kind, form }).map_err(|why| why.at("kind", kind))
    }
}

/// Why a form was not read, as soon as it is known of which field.
#[derive(Debug)]
struct Unread(Option<FieldFault>);

impl Unread {
    /// That it is of this field, where nothing within it is to blame.
    fn at(self, field: &str, got: &str) -> FieldFault {
        self.0.unwrap_or_else(|| FieldFault::of(field, got))
    }
}

impl Display for Unread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.0 {
            Some(fault) => write!(f, "“{}” cannot say “{}”", fault.field, fault.got),
            None => write!(f, "that cannot be said there"),
        }
    }
}

impl std::error::Error for Unread {}

impl Error for Unread {
    // What is told of it are the field and what was typed.
    fn custom<T: Display>(_: T) -> Unread {
        Unread(None)
    }
}

/// All of a form.
struct Form<'a>(&'a Fields);

impl<'de> Deserializer<'de> for Form<'_> {
    type Error = Unread;

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Unread> {
        Err(Unread::custom("a form is a struct"))
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        names: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Unread> {
        visitor.visit_map(Names {
            fields: self.0,
            left: names.iter(),
            now: "",
        })
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option unit unit_struct
        newtype_struct seq tuple tuple_struct map enum identifier ignored_any
    }
}

impl<'de> VariantAccess<'de> for Form<'_> {
    type Error = Unread;

    fn unit_variant(self) -> Result<(), Unread> {
        Ok(())
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, Unread> {
        seed.deserialize(self)
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Unread> {
        self.deserialize_any(visitor)
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        names: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Unread> {
        self.deserialize_struct("", names, visitor)
    }
}

/// A form of a kind.
struct OfKind<'a> {
    kind: &'a str,
    form: Form<'a>,
}

impl<'de> Deserializer<'de> for OfKind<'_> {
    type Error = Unread;

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Unread> {
        Err(Unread::custom("forms of several kinds are an enum"))
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Unread> {
        visitor.visit_enum(self)
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option unit unit_struct
        newtype_struct seq tuple tuple_struct map struct identifier ignored_any
    }
}

impl<'de, 'a> EnumAccess<'de> for OfKind<'a> {
    type Error = Unread;
    type Variant = Form<'a>;

    fn variant_seed<V: DeserializeSeed<'de>>(
        self,
        seed: V,
    ) -> Result<(V::Value, Form<'a>), Unread> {
        let kind: StrDeserializer<'_, Unread> = self.kind.into_deserializer();
        Ok((seed.deserialize(kind)?, self.form))
    }
}

/// The names of a struct one by one, each with what was said under it.
struct Names<'a> {
    fields: &'a Fields,
    left: Iter<'static, &'static str>,
    now: &'static str,
}

impl<'de> MapAccess<'de> for Names<'_> {
    type Error = Unread;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Unread> {
        let Some(name) = self.left.next() else {
            return Ok(None);
        };
        self.now = name;
        let name: StrDeserializer<'_, Unread> = name.into_deserializer();
        seed.deserialize(name).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Unread> {
        let said = Said {
            fields: self.fields,
            name: self.now,
        };
        let got = said.text().unwrap_or_default();
        seed.deserialize(said)
            .map_err(|why| Unread(Some(why.at(self.now, got))))
    }
}

/// What was said under a name.
#[derive(Clone, Copy)]
struct Said<'a> {
    fields: &'a Fields,
    name: &'static str,
}

impl<'a> Said<'a> {
    fn text(self) -> Option<&'a str> {
        self.fields.get(self.name)
    }
}

impl<'de> Deserializer<'de> for Said<'_> {
    type Error = Unread;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Unread> {
        match self.text() {
            Some(text) => visitor.visit_str(text),
            None => Err(Unread::custom("nothing was said")),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Unread> {
        match self.text() {
            Some(_) => visitor.visit_some(self),
            None => visitor.visit_none(),
        }
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Unread> {
        visitor.visit_bool(self.fields.all().any(|(name, _)| name == self.name))
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Unread> {
        let of_it = self.fields.all().filter(|(name, _)| *name == self.name);
        visitor.visit_seq(SeqDeserializer::new(of_it.map(|(_, value)| value.trim())))
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Unread> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        words: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Unread> {
        let word: StrDeserializer<'_, Unread> = self.text().unwrap_or_default().into_deserializer();
        word.deserialize_enum(name, words, visitor)
    }

    forward_to_deserialize_any! {
        i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit unit_struct tuple tuple_struct map
        struct identifier ignored_any
    }
}

#[cfg(test)]
mod tests {
    use super::super::said::{Figure, Lines, OnDay, Text, lenient, number, yes};
    use super::super::{FieldFault, Fields, LONGEST};
    use entries::{Decimal, Stage, Unit};
    use serde::Deserialize;

    fn sent(pairs: &[(&str, &str)]) -> Fields {
        (pairs.iter()).fold(Fields::default(), |sent, (name, value)| {
            sent.with(name, value)
        })
    }

    fn text(typed: &str) -> Option<Text> {
        Text::try_from(typed.to_owned()).ok()
    }

    #[derive(Debug, Default, PartialEq, Deserialize)]
    #[serde(rename_all = "kebab-case")]
    struct Oiled {
        place: Option<Text>,
        as_another: bool,
        worn: Vec<String>,
        #[serde(deserialize_with = "number")]
        of: Option<usize>,
        #[serde(deserialize_with = "lenient")]
        stage: Option<Stage>,
        #[serde(deserialize_with = "yes")]
        sure: bool,
    }

    #[test]
    fn what_is_blank_or_unknown_is_as_if_it_were_not_there() {
        for form in [
            &[][..],
            &[("place", ""), ("of", ""), ("stage", " "), ("sure", "")],
            &[("place", " \t\r\n")],
            &[("other", "x"), ("Place", "x"), ("place.1", "x"), ("", "x")],
            // A number that is none, a word that is none, a yes that is none.
            &[("of", "third"), ("of", "-1")],
            &[("stage", "up"), ("sure", "no")],
        ] {
            assert_eq!(sent(form).read(), Ok(Oiled::default()), "{form:?}");
        }
    }

    #[test]
    fn the_last_that_says_something_counts_and_of_a_list_all() {
        let form = [
            ("place", "third.front"),
            ("worn", "third"),
            ("of", "1"),
            ("as-another", ""),
            ("place", " fly.front "),
            ("worn", ""),
            ("sure", "yes"),
            ("worn", " fly "),
            ("place", "  "),
            ("of", "2"),
            ("stage", "together"),
        ];
        let read = Oiled {
            place: text("fly.front"),
            as_another: true,
            worn: ["third", "", "fly"].map(str::to_owned).to_vec(),
            of: Some(2),
            stage: Some(Stage::Together),
            sure: true,
        };
        assert_eq!(sent(&form).read(), Ok(read));
    }

    #[derive(Debug, PartialEq, Deserialize)]
    #[serde(rename_all = "kebab-case")]
    enum Told {
        Measured {
            what: Text,
            value: Figure,
            unit: Unit,
            spread: Option<Figure>,
        },
        CameIn(CameIn),
        GaveUp,
    }

    #[derive(Debug, PartialEq, Deserialize)]
    struct CameIn {
        promised: Option<OnDay>,
    }

    #[test]
    fn a_kind_of_form_has_its_own_fields() {
        let form = sent(&[
            ("what", "third.pinion outside"),
            ("value", " 4,20 "),
            ("unit", "s-per-day"),
            ("promised", "2026-12-24"),
        ]);
        let figure = |typed: &str| Figure::try_from(typed.to_owned()).expect("a figure");
        let measured = Told::Measured {
            what: text("third.pinion outside").expect("short"),
            value: figure("4.20"),
            unit: Unit::SPerDay,
            spread: None,
        };
        assert_eq!(form.read_as("measured"), Ok(measured));
        assert_eq!(Decimal::from(figure("−4,20")).text(), "-4.20");
        assert_eq!(Decimal::from(figure("2 3/16")).text(), "2.1875");
        assert_eq!(Decimal::from(figure("-¼")).text(), "-0.25");
        // A third is no decimal, and a comma before three figures may be two things.
        for none in ["1/3", "1,000", "2.5 2.6", "2 mm"] {
            assert!(Figure::try_from(none.to_owned()).is_err(), "{none}");
        }
        let promised = OnDay::try_from("2026-12-24".to_owned()).ok();
        assert_eq!(form.read(), Ok(CameIn { promised }));
        assert_eq!(
            form.read_as("came-in"),
            Ok(Told::CameIn(CameIn { promised }))
        );
        assert_eq!(form.read_as("gave-up"), Ok(Told::GaveUp));
        let odd = |kind: &str| form.read_as::<Told>(kind);
        for none in ["", "Measured", "came_in"] {
            assert_eq!(odd(none), Err(FieldFault::of("kind", none)));
        }
    }

    #[test]
    fn what_is_refused_is_told_with_its_field_in_the_order_of_the_form() {
        let long = "x".repeat(LONGEST + 1);
        for (form, field, got) in [
            (&[("what", " ")][..], "what", ""),
            // On the page they may stand in any order.
            (&[("unit", "ell"), ("value", "a")], "what", ""),
            (&[("unit", "ell"), ("what", "a")], "value", ""),
            (&[("value", "1.2.3"), ("what", "a")], "value", "1.2.3"),
            (&[("what", "a"), ("value", "1")], "unit", ""),
            (
                &[("what", "a"), ("value", "1"), ("unit", " ell ")],
                "unit",
                "ell",
            ),
            (
                &[
                    ("what", "a"),
                    ("value", "1"),
                    ("unit", "mm"),
                    ("spread", "~"),
                ],
                "spread",
                "~",
            ),
            (&[("what", &*long), ("value", "a")], "what", &long),
        ] {
            let refused = sent(form).read_as::<Told>("measured");
            assert_eq!(refused, Err(FieldFault::of(field, got)), "{form:?}");
        }
        let never = sent(&[("promised", "2026-02-30")]).read::<CameIn>();
        assert_eq!(never, Err(FieldFault::of("promised", "2026-02-30")));
        let fits = sent(&[("place", &long[1..])]).read::<Oiled>();
        assert_eq!(fits.map(|oiled| oiled.place), Ok(text(&long[1..])));
    }

    #[test]
    fn names_that_are_made_at_run_time_are_read_part_by_part() {
        let form = sent(&[
            ("third.place", "front"),
            ("fly.place", "back"),
            ("fly.of", "3"),
            ("place.2", "bridge"),
            ("place", "all"),
        ]);
        let place = |part: Fields| part.read::<Oiled>().map(|oiled| oiled.place);
        let of = |id: &str| form.part(|name| name.strip_prefix(id)?.strip_prefix('.'));
        assert_eq!(place(of("third")), Ok(text("front")));
        assert_eq!(place(of("fly")), Ok(text("back")));
        assert_eq!(of("fly").read::<Oiled>().map(|oiled| oiled.of), Ok(Some(3)));
        assert_eq!(place(of("escape")), Ok(None));
        let second = form.part(|name| name.strip_suffix(".2"));
        assert_eq!(place(second), Ok(text("bridge")));
        assert_eq!(place(form), Ok(text("all")));
    }

    #[derive(Debug, PartialEq, Deserialize)]
    struct Must {
        must: Option<Lines>,
    }

    #[test]
    fn lines_are_read_one_by_one() {
        let form = sent(&[("must", "fly:third=10\r\n\r\n  third:great=+7,5\n \n")]);
        let must = Some(Lines(
            ["fly:third=10", "third:great=+7.5"]
                .map(str::to_owned)
                .to_vec(),
        ));
        assert_eq!(form.read(), Ok(Must { must }));
        assert_eq!(sent(&[("must", "\n \n")]).read(), Ok(Must { must: None }));
    }
}
