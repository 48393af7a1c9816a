//! Nothing to run: the tests beside this file are what this crate is for.
