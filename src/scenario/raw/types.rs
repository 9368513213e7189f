//! Building blocks of the raw mirror: values with their place, lenient in type, exact in schema.
//!
//! Types and texts are checked by the walk over the file, which marks what it refused; here a refused or
//! misplaced value simply reads as absent, so that one pass can go on to find everything else.

use crate::units::{Kind, parse};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Deserialize;
use serde::de::{Deserializer, IgnoredAny, MapAccess, SeqAccess, Visitor};
use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;
use std::ops::Range;
use toml::Spanned;

/// A value and where it stands in the source.
#[derive(Debug, Clone)]
pub struct At<T> {
    pub span: Range<usize>,
    pub value: T,
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for At<T> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let s = Spanned::<T>::deserialize(d)?;
        Ok(At {
            span: s.span(),
            value: s.into_inner(),
        })
    }
}

impl<T: JsonSchema> JsonSchema for At<T> {
    fn inline_schema() -> bool {
        T::inline_schema()
    }
    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }
    fn schema_id() -> Cow<'static, str> {
        T::schema_id()
    }
    fn json_schema(g: &mut SchemaGenerator) -> Schema {
        T::json_schema(g)
    }
}

/// A scalar as it stands in the file.
#[derive(Debug, Clone)]
enum Scalar {
    Text(String),
    Number(f64),
    Bool(bool),
    /// A list, a group, or something refused.
    Other,
}

struct ScalarVisitor;

impl<'de> Visitor<'de> for ScalarVisitor {
    type Value = Scalar;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }
    fn visit_str<E>(self, v: &str) -> Result<Scalar, E> {
        Ok(Scalar::Text(v.to_owned()))
    }
    fn visit_i64<E>(self, v: i64) -> Result<Scalar, E> {
        Ok(Scalar::Number(v as f64))
    }
    fn visit_u64<E>(self, v: u64) -> Result<Scalar, E> {
        Ok(Scalar::Number(v as f64))
    }
    fn visit_f64<E>(self, v: f64) -> Result<Scalar, E> {
        Ok(Scalar::Number(v))
    }
    fn visit_bool<E>(self, v: bool) -> Result<Scalar, E> {
        Ok(Scalar::Bool(v))
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut a: A) -> Result<Scalar, A::Error> {
        while a.next_element::<IgnoredAny>()?.is_some() {}
        Ok(Scalar::Other)
    }
    fn visit_map<A: MapAccess<'de>>(self, mut a: A) -> Result<Scalar, A::Error> {
        while a.next_entry::<IgnoredAny, IgnoredAny>()?.is_some() {}
        Ok(Scalar::Other)
    }
}

/// Marker of a quantity's kind.
pub trait OfKind {
    const KIND: Kind;
}

macro_rules! kinds {
    ($($name:ident),* $(,)?) => {
        $(
            #[doc = concat!("Marker of [`Kind::", stringify!($name), "`].")]
            #[derive(Debug, Clone, Copy)]
            pub struct $name;
            impl OfKind for $name {
                const KIND: Kind = Kind::$name;
            }
        )*
    };
}

kinds!(
    Length,
    Area,
    Volume,
    Mass,
    Temperature,
    Time,
    VolumeFlow,
    Power,
    Energy,
    Pressure,
    Speed,
    Density,
    SpecificHeat,
    HeatCapacity,
    HeatCapacityPerLength,
    Conductivity,
    Conductance,
    ConductancePerLength,
    ConductancePerArea,
    ThermalResistance,
    HeatingValue,
    PerLength,
    Fraction,
    Number,
);

/// A quantity as written, with its unit.
#[derive(Debug, Clone)]
pub struct Q<K> {
    text: Option<String>,
    kind: PhantomData<K>,
}

impl<K: OfKind> Q<K> {
    /// SI value; `None` where the text was refused.
    pub fn si(&self) -> Option<f64> {
        parse(K::KIND, self.text.as_deref()?).ok().map(|p| p.si)
    }
}

impl<'de, K: OfKind> Deserialize<'de> for Q<K> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let text = match d.deserialize_any(ScalarVisitor)? {
            Scalar::Text(t) => Some(t),
            Scalar::Number(v) if matches!(K::KIND, Kind::Fraction | Kind::Number) => {
                Some(v.to_string())
            }
            _ => None,
        };
        Ok(Q {
            text,
            kind: PhantomData,
        })
    }
}

impl<K: OfKind> JsonSchema for Q<K> {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        K::KIND.word().into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        match K::KIND {
            Kind::Fraction | Kind::Number => {
                json_schema!({ "type": ["string", "number"], "x-quantity": K::KIND.word() })
            }
            kind => json_schema!({ "type": "string", "x-quantity": kind.word() }),
        }
    }
}

/// A quantity, or one of a few words in its place.
pub trait WordsOrKind {
    const KIND: Kind;
    const WORDS: &'static [&'static str];
}

/// A text that is either a word of `W` or a quantity.
#[derive(Debug, Clone)]
pub struct WordOr<W> {
    text: Option<String>,
    words: PhantomData<W>,
}

/// What a [`WordOr`] turned out to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WordOrSi {
    Word(&'static str),
    Si(f64),
}

impl<W: WordsOrKind> WordOr<W> {
    pub fn read(&self) -> Option<WordOrSi> {
        let text = self.text.as_deref()?;
        match W::WORDS.iter().find(|w| **w == text) {
            Some(w) => Some(WordOrSi::Word(w)),
            None => parse(W::KIND, text).ok().map(|p| WordOrSi::Si(p.si)),
        }
    }
}

impl<'de, W> Deserialize<'de> for WordOr<W> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let text = match d.deserialize_any(ScalarVisitor)? {
            Scalar::Text(t) => Some(t),
            _ => None,
        };
        Ok(WordOr {
            text,
            words: PhantomData,
        })
    }
}

impl<W: WordsOrKind> JsonSchema for WordOr<W> {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        format!("{}_or_{}", W::KIND.word(), W::WORDS.join("_")).into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "x-quantity": W::KIND.word(), "x-words": W::WORDS })
    }
}

macro_rules! word_or {
    ($(#[$doc:meta])* $name:ident, $kind:ident, [$($word:literal),*]) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy)]
        pub struct $name;
        impl WordsOrKind for $name {
            const KIND: Kind = Kind::$kind;
            const WORDS: &'static [&'static str] = &[$($word),*];
        }
    };
}

word_or!(
    /// When feeding ends.
    UntilWords, Time, ["target", "end"]
);
word_or!(
    /// When a draw begins.
    DrawWords, Time, ["target"]
);

/// A closed list of words.
pub trait Words: Sized + Copy {
    const WORDS: &'static [&'static str];
    fn from_word(word: &str) -> Option<Self>;
}

/// One word of a closed list.
#[derive(Debug, Clone)]
pub struct Word<E> {
    pub read: Option<E>,
}

impl<'de, E: Words> Deserialize<'de> for Word<E> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        Ok(Word {
            read: match d.deserialize_any(ScalarVisitor)? {
                Scalar::Text(t) => E::from_word(&t),
                _ => None,
            },
        })
    }
}

impl<E: Words> JsonSchema for Word<E> {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        E::WORDS.join("_").into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "enum": E::WORDS })
    }
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($variant:ident = $word:literal),* $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum $name { $($variant),* }
        impl $crate::scenario::raw::types::Words for $name {
            const WORDS: &'static [&'static str] = &[$($word),*];
            fn from_word(word: &str) -> Option<Self> {
                match word {
                    $($word => Some(Self::$variant),)*
                    _ => None,
                }
            }
        }
    };
}
pub(crate) use words;

/// Free text (a name).
#[derive(Debug, Clone)]
pub struct Text {
    pub read: Option<String>,
}

impl<'de> Deserialize<'de> for Text {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        Ok(Text {
            read: match d.deserialize_any(ScalarVisitor)? {
                Scalar::Text(t) => Some(t),
                _ => None,
            },
        })
    }
}

impl JsonSchema for Text {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        "text".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string" })
    }
}

/// A switch.
#[derive(Debug, Clone)]
pub struct Flag {
    pub read: Option<bool>,
}

impl<'de> Deserialize<'de> for Flag {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        Ok(Flag {
            read: match d.deserialize_any(ScalarVisitor)? {
                Scalar::Bool(b) => Some(b),
                _ => None,
            },
        })
    }
}

impl JsonSchema for Flag {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        "switch".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "boolean" })
    }
}

/// A count.
#[derive(Debug, Clone)]
pub struct Count {
    pub read: Option<usize>,
}

impl<'de> Deserialize<'de> for Count {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        Ok(Count {
            read: match d.deserialize_any(ScalarVisitor)? {
                Scalar::Number(v) if v >= 0.0 && v.fract() == 0.0 && v < 1e9 => Some(v as usize),
                _ => None,
            },
        })
    }
}

impl JsonSchema for Count {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        "count".into()
    }
    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "integer" })
    }
}

/// A list; anything else reads as an empty one.
#[derive(Debug, Clone)]
pub struct List<T>(pub Vec<T>);

impl<'de, T: Deserialize<'de>> Deserialize<'de> for List<T> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        Vec::<T>::deserialize(d).map(List)
    }
}

impl<T: JsonSchema> JsonSchema for List<T> {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        format!("list_of_{}", T::schema_name()).into()
    }
    fn json_schema(g: &mut SchemaGenerator) -> Schema {
        Vec::<T>::json_schema(g)
    }
}

/// Points of a curve, each with its place.
pub type Curve<A, B> = At<List<At<(At<Q<A>>, At<Q<B>>)>>>;

/// One value, or a list of `T`.
#[derive(Debug, Clone)]
pub enum OneOrList<A, T> {
    One(A),
    List(Vec<T>),
}

struct OneOrListVisitor<A, T>(PhantomData<(A, T)>);

impl<'de, A: From<String>, T: Deserialize<'de>> Visitor<'de> for OneOrListVisitor<A, T> {
    type Value = OneOrList<A, T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a text or a list")
    }
    fn visit_str<E>(self, v: &str) -> Result<Self::Value, E> {
        Ok(OneOrList::One(A::from(v.to_owned())))
    }
    fn visit_seq<S: SeqAccess<'de>>(self, mut a: S) -> Result<Self::Value, S::Error> {
        let mut all = Vec::new();
        while let Some(x) = a.next_element()? {
            all.push(x);
        }
        Ok(OneOrList::List(all))
    }
}

impl<'de, A: From<String>, T: Deserialize<'de>> Deserialize<'de> for OneOrList<A, T> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        d.deserialize_any(OneOrListVisitor(PhantomData))
    }
}

impl<K> From<String> for Q<K> {
    fn from(text: String) -> Self {
        Q {
            text: Some(text),
            kind: PhantomData,
        }
    }
}

impl<A: JsonSchema, T: JsonSchema> JsonSchema for OneOrList<A, T> {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        format!("{}_or_list", A::schema_name()).into()
    }
    fn json_schema(g: &mut SchemaGenerator) -> Schema {
        let one = A::json_schema(g);
        let mut list = Vec::<T>::json_schema(g);
        list.insert("minItems".into(), 1.into());
        json_schema!({ "anyOf": [one, list] })
    }
}

/// A name of a table, or a group of keys.
#[derive(Debug, Clone)]
pub enum NameOr<T> {
    Name(String),
    Group(Box<T>),
    /// Refused.
    Neither,
}

struct NameOrVisitor<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for NameOrVisitor<T> {
    type Value = NameOr<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a name or a group of keys")
    }
    fn visit_str<E>(self, v: &str) -> Result<Self::Value, E> {
        Ok(NameOr::Name(v.to_owned()))
    }
    fn visit_map<A: MapAccess<'de>>(self, a: A) -> Result<Self::Value, A::Error> {
        T::deserialize(serde::de::value::MapAccessDeserializer::new(a))
            .map(|t| NameOr::Group(Box::new(t)))
    }
    fn visit_seq<A: SeqAccess<'de>>(self, mut a: A) -> Result<Self::Value, A::Error> {
        while a.next_element::<IgnoredAny>()?.is_some() {}
        Ok(NameOr::Neither)
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for NameOr<T> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        d.deserialize_any(NameOrVisitor(PhantomData))
    }
}

impl<T: JsonSchema> JsonSchema for NameOr<T> {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> Cow<'static, str> {
        format!("name_or_{}", T::schema_name()).into()
    }
    fn json_schema(g: &mut SchemaGenerator) -> Schema {
        let group = T::json_schema(g);
        json_schema!({ "anyOf": [{ "type": "string" }, group] })
    }
}
