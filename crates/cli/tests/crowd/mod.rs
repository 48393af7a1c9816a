//! A train so crowded that not all of it is tried.

/// A made-up train of fourteen arbors and as many marks: a shift for them is searched for some minutes.
pub(crate) const FOURTEEN_MARKS: &str = include_str!("../opened/fourteen_marks.toml");

/// What was seen of them.
pub(crate) const SEEN: [&str; 14] = [
    "m00=-162.42~0.1",
    "m10=11.68~1",
    "m20=157.04~1",
    "m40=-62.23~0.1",
    "m60=70.41~0.1",
    "m70=-8.88~1",
    "m80=-3.73~0.1",
    "m81=151.99~5",
    "m90=-26.62~0.1",
    "m100=75.70~0.1",
    "m110=-117.96~5",
    "m120=-57.68~1",
    "m121=-102.09~5",
    "m130=-4.43~0.1",
];
