//! What is held to be so of springs, weights and trains: a row each, told with their reasons by `trundle assumptions`.

quantity::assumed! {
    STEEL = "steel", 204e3 +- 4e3, Stress, NoLog;
    BEARS = "bears", 1600.0 +- 200.0, Stress, NoLog;
    COILS_IN_BARREL = "coils-in-barrel", 1.0 +- 0.02, Ratio, NoLog;
    COILS_OPEN = "coils-open", 1.0 +- 0.15, Ratio, NoLog;
    FREE_TURNS = "free-turns", 0.25, Turn, NoLog;
    ROOM_TO_WIND = "room-to-wind", 0.9, Part, NoLog;
    IN_HAND = "in-hand", 1.5 +- 0.5, Turn, NoLog;
    SHAKE = "shake", 0.6 +- 0.2, Mm, NoLog;
    THICK_LEAST = "thick-least", 0.005, Mm, NoLog;
    THICK_PART = "thick-part", 0.01, Part, NoLog;
    RULE_LEAST = "rule-least", 2.0, Mm, NoLog;
    RULE_PART = "rule-part", 0.005, Part, NoLog;
    WEIGHT_PART = "weight-part", 0.01, Part, NoLog;
    FALL_LEAST = "fall-least", 10.0, Mm, NoLog;
    FALL_PART = "fall-part", 0.01, Part, NoLog;
    THROUGH_A_MESH = "through-a-mesh", 0.8 +- 0.1, Part, NoLog;
    FELT = "felt", 0.2, Part, NoLog;
}
