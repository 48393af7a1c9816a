//! Keys of messages and values of their variables, written so that a test can read them from the sources.

use fluent_bundle::{FluentArgs, FluentValue};

/// The name of a message of the catalogue. Made by [`key!`](crate::key), so that a test finds it in the sources.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Key(&'static str);

impl Key {
    /// For the macros.
    #[doc(hidden)]
    pub const fn of(key: &'static str) -> Key {
        Key(key)
    }

    pub(super) fn name(self) -> &'static str {
        self.0
    }
}

/// The values of a message's variables. Made by [`args!`](crate::args).
#[derive(Debug, Default)]
pub struct Args<'a>(FluentArgs<'a>);

impl<'a> Args<'a> {
    /// With another value.
    #[doc(hidden)]
    pub fn with(mut self, name: &'static str, value: impl Into<FluentValue<'a>>) -> Args<'a> {
        self.0.set(name, value);
        self
    }

    pub(super) fn into_values(self) -> FluentArgs<'a> {
        self.0
    }
}

/// The key of a message, written where it can be found.
#[macro_export]
macro_rules! key {
    ($key:literal) => {
        $crate::Key::of($key)
    };
}

/// The variables of a message: `args![name = value, …]`.
#[macro_export]
macro_rules! args {
    ($($name:ident = $value:expr),* $(,)?) => {
        $crate::Args::default()$(.with(stringify!($name), $value))*
    };
}

/// A message as text: `say!(words, "key", name = value, …)`.
#[macro_export]
macro_rules! say {
    ($words:expr, $key:literal $(, $name:ident = $value:expr)* $(,)?) => {
        $words.say($crate::key!($key), $crate::args![$($name = $value),*])
    };
}

/// A message as a [`Sentence`](crate::Sentence) with its stretches: `runs!(words, "key", name = value, …)`.
#[macro_export]
macro_rules! runs {
    ($words:expr, $key:literal $(, $name:ident = $value:expr)* $(,)?) => {
        $words.runs($crate::key!($key), $crate::args![$($name = $value),*])
    };
}
