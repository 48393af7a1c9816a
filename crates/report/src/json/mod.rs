//! Answers as JSON: a shape for each command, and the schemas that are published in `docs/schemas`. The keys that scripts hold on
//! to are those of the contract (`docs/contract`); more stand beside them.

mod assumptions;
mod check;
mod count;
mod listen;
mod log;
mod oil;
mod order;
mod pendulum;
mod power;
mod remesh;
mod running;
mod strike;
mod train;
mod windows;

pub use assumptions::AssumptionsAnswer;
pub use check::CheckAnswer;
pub use count::CountAnswer;
pub use listen::ListenAnswer;
pub use log::{LoggedAnswer, StoodAnswer};
pub use oil::OilAnswer;
pub use order::OrderAnswer;
pub use pendulum::PendulumAnswer;
pub use power::PowerAnswer;
pub use remesh::{AtRestAnswer, LookAnswer};
pub use running::RunningAnswer;
pub use strike::StrikeAnswer;
pub(crate) use strike::what;
pub use train::TrainAnswer;

use movement::{Plate, Turning};
use quantity::{Exact, Known, Measure, to_f64};
use schemars::generate::SchemaSettings;
use schemars::transform::RecursiveTransform;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Serialize, Serializer};
use serde_json::Value;
use std::borrow::Cow;

/// An answer as it is printed: over several lines, with an end to the last.
pub fn text(answer: &impl Serialize) -> String {
    // Plain data with text for keys always goes into JSON.
    serde_json::to_string_pretty(answer).unwrap_or_default() + "\n"
}

/// An answer on one line, without its end.
pub fn line(answer: &impl Serialize) -> String {
    serde_json::to_string(answer).unwrap_or_default()
}

/// Each command that answers in JSON, in the order of the alphabet, with the schema of the object it prints (JSON Schema,
/// draft 2020-12).
pub fn schemas() -> Vec<(&'static str, Value)> {
    vec![
        ("assumptions", schema::<AssumptionsAnswer>()),
        ("check", schema::<CheckAnswer>()),
        ("count", schema::<CountAnswer>()),
        ("listen", schema::<ListenAnswer>()),
        ("oil", schema::<OilAnswer>()),
        ("order", schema::<OrderAnswer>()),
        ("pendulum", schema::<PendulumAnswer>()),
        ("power", schema::<PowerAnswer>()),
        ("remesh", schema::<RemeshAnswer>()),
        ("strike", schema::<StrikeAnswer>()),
        ("train", schema::<TrainAnswer>()),
    ]
}

fn schema<T: JsonSchema>() -> Value {
    // How wide a number is in the program is no business of whoever reads it.
    let plain = RecursiveTransform(|schema: &mut Schema| {
        schema.remove("format");
    });
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let generator = settings.with_transform(plain).into_generator();
    let Value::Object(mut all) = generator.into_root_schema_for::<T>().to_value() else {
        return Value::Null;
    };
    // What it is stands before what is in it.
    let first = ["$schema", "title", "description"];
    let first = first.map(|key| (key.to_owned(), all.shift_remove(key).unwrap_or_default()));
    Value::Object(first.into_iter().chain(all).collect())
}

/// What `trundle remesh` answers: to one look, or with a log to all that is in it.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum RemeshAnswer {
    /// Without a log.
    Look(LookAnswer),
    /// With a log.
    Logged(LoggedAnswer),
}

/// The version of an answer's form: so far there is one.
#[derive(Debug, Clone, Copy)]
pub struct First;

impl Serialize for First {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_u8(1)
    }
}

impl JsonSchema for First {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "First".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "const": 1 })
    }
}

/// The version of the program that answers.
#[derive(Debug, Clone, Copy)]
pub struct Version;

impl Serialize for Version {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_str(env!("CARGO_PKG_VERSION"))
    }
}

impl JsonSchema for Version {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "Version".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "pattern": r"^\d+\.\d+\.\d+" })
    }
}

/// Values by their names, in the order that the sheet has them in.
#[derive(Debug)]
pub struct ByName<T>(Vec<(String, T)>);

impl<T> FromIterator<(String, T)> for ByName<T> {
    fn from_iter<I: IntoIterator<Item = (String, T)>>(values: I) -> ByName<T> {
        ByName(values.into_iter().collect())
    }
}

impl<T: Serialize> Serialize for ByName<T> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_map(self.0.iter().map(|(name, value)| (name, value)))
    }
}

impl<T: JsonSchema> JsonSchema for ByName<T> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        format!("Named_{}", T::schema_name()).into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "object", "additionalProperties": generator.subschema_for::<T>() })
    }
}

/// A measured quantity, in the unit that its key ends in.
#[derive(Debug, Serialize, JsonSchema)]
pub struct MeasuredValue {
    /// The value.
    value: f64,
    /// Its spread, one standard deviation; 0 where it is meant exactly.
    spread: f64,
}

fn measured_value<Q: Measure>(x: &Known<Q>, of: impl Fn(Q) -> f64) -> MeasuredValue {
    let (value, spread) = (of(x.value), of(x.spread));
    MeasuredValue { value, spread }
}

/// An exact ratio.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Ratio {
    /// As a whole number or a fraction, `-7/72`.
    exact: String,
    /// As a decimal number, as near as one comes to it.
    number: f64,
}

impl Ratio {
    fn of(x: &Exact) -> Ratio {
        Ratio {
            exact: x.to_string(),
            number: to_f64(x),
        }
    }
}

/// A plate that is looked at.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum SeenFrom {
    /// The dial side.
    Front,
    /// The other side.
    Back,
}

impl From<Plate> for SeenFrom {
    fn from(plate: Plate) -> SeenFrom {
        match plate {
            Plate::Front => SeenFrom::Front,
            Plate::Back => SeenFrom::Back,
        }
    }
}

/// A way round.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Round {
    /// As the hands of a clock go, seen from the front.
    Clockwise,
    /// Against them.
    Counterclockwise,
    /// Both ways come to the same places.
    Either,
}

impl From<Option<Turning>> for Round {
    fn from(way: Option<Turning>) -> Round {
        match way {
            Some(Turning::Clockwise) => Round::Clockwise,
            Some(Turning::Counterclockwise) => Round::Counterclockwise,
            None => Round::Either,
        }
    }
}

/// How a mesh is opened.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum MeshOpenedBy {
    /// The plates are spread for it.
    Plates,
    /// It sits outside the plates.
    Outside,
}

impl From<movement::Reached> for MeshOpenedBy {
    fn from(reached: movement::Reached) -> MeshOpenedBy {
        match reached {
            movement::Reached::Plates => MeshOpenedBy::Plates,
            movement::Reached::Outside => MeshOpenedBy::Outside,
        }
    }
}
