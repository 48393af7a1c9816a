//! What a sheet says of a part, a mesh or a strike in one word.

/// One of the two plates. The front is the dial side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Plate {
    /// The dial side.
    Front,
    /// The other one.
    Back,
}

impl Plate {
    /// The plate across the movement.
    pub fn other(self) -> Plate {
        match self {
            Plate::Front => Plate::Back,
            Plate::Back => Plate::Front,
        }
    }
}

/// A way round, meaningful only beside the plate it is seen from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Turning {
    /// As the hands go.
    Clockwise,
    /// Against the hands.
    Counterclockwise,
}

impl Turning {
    /// The other way round.
    pub fn reversed(self) -> Turning {
        match self {
            Turning::Clockwise => Turning::Counterclockwise,
            Turning::Counterclockwise => Turning::Clockwise,
        }
    }
}

/// What must be opened to reach a mesh.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reached {
    /// The plates are spread for it.
    Plates,
    /// It sits outside the plates.
    Outside,
}

/// What counts the blows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CountedBy {
    /// A count wheel.
    CountWheel,
    /// A rack that falls on a snail.
    Rack,
}

/// What is struck.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Blows {
    /// One to twelve.
    Hours,
    /// One to twelve, and one at each half.
    HoursAndHalves,
    /// One to twelve, and one at each half but half past twelve and half past one.
    HoursAndTenHalves,
    /// One to twelve by the train, and one at each half let go in passing by the motion work.
    HoursAndPassingHalves,
    /// One to eight, one more at each half hour, four hours long; in pairs.
    ShipsBells,
}

impl Blows {
    /// Blows of the strike train in twelve hours: 78, 90 with a single blow at each half, 88 without those about one, 108 of ship's bells.
    pub fn in_twelve_hours(self) -> u16 {
        match self {
            Blows::Hours | Blows::HoursAndPassingHalves => 78,
            Blows::HoursAndHalves => 90,
            Blows::HoursAndTenHalves => 88,
            Blows::ShipsBells => 108,
        }
    }
}

/// One side of a mesh.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum MeshSide {
    /// The part that drives.
    Driver,
    /// The part that is driven.
    Driven,
}

/// How the teeth of a part are made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ToothForm {
    /// Cut teeth or leaves.
    Cut,
    /// A lantern: round trundles between two discs.
    Lantern,
    /// One or more pins that move another part on, a place each.
    Pins,
}
