//! What is held to be so of places on a plate that nobody measured: a row each, told with their reasons by `trundle assumptions`.

quantity::assumed! {
    FAR_MODULE = "far-module", 2.5, Ratio, NoLog;
    PLACE_OFF = "place-off", 0.06, Part, NoLog;
    TOUCH_OFF = "touch-off", 1.0, Mm, NoLog;
}
