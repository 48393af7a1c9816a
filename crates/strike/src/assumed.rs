//! The figures that windows are worked out by and nobody measured: a row each, told with their reasons by `trundle assumptions`.

quantity::assumed! {
    USUAL_WINDOW = "usual-window", 0.2, HalfWindow, Both;
    LEVER_FALL = "lever-fall", 0.06 +- 0.02, Second, Both;
}
