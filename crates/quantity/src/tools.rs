//! How surely the usual tools of a bench measure, where nothing else is said: at least so much, and at least such a part.

crate::assumed! {
    LENGTH_LEAST = "length-least", 0.05, Mm, NoLog;
    LENGTH_PART = "length-part", 0.002, Part, NoLog;
    MASS_LEAST = "mass-least", 0.02, Gram, NoLog;
    MASS_PART = "mass-part", 0.005, Part, NoLog;
    RUN_PART = "run-part", 0.05, Part, NoLog;
    RATE_LEAST = "rate-least", 1.0, SecondADay, NoLog;
    ARC_LEAST = "arc-least", 0.1, Deg, NoLog;
    WARMTH_LEAST = "warmth-least", 0.5, Celsius, NoLog;
    KEY_TURNS = "key-turns", 0.2, Turn, NoLog;
}
