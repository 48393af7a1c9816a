//! What is held to be so of trains whose counts are lost, of pendulums and of oil: a row each, told with their reasons by
//! `trundle assumptions`.

quantity::assumed! {
    FITS = "fits", 3.0, Spread, NoLog;
    WHEEL_TO_PINION = "wheel-to-pinion", 9.6, Ratio, NoLog;
    WHEEL_TO_PINION_LOG = "wheel-to-pinion-log", 0.35, Ratio, NoLog;
    ANY_RATIO = "any-ratio", 0.142_857_142_857_142_86, Part, NoLog;
    DOUBTFUL_COUNT = "doubtful-count", 0.7, Part, NoLog;
    BY_THE_NUT = "by-the-nut", 0.025, Part, NoLog;
    BY_THE_BOB = "by-the-bob", 0.02, Part, NoLog;
    TAKEN_ALONG = "taken-along", 1.0 +- 0.05, Ratio, NoLog;
    STRIP_STIFFER = "strip-stiffer", 1.05 +- 0.03, Ratio, NoLog;
    SIDE_SHAKE = "side-shake", 0.2, Part, NoLog;
    SINK_FILLED = "sink-filled", 0.333_333_333_333_333_3 +- 0.1, Part, NoLog;
    LOOK_AGAIN = "look-again", 1.0 +- 0.3, Year, NoLog;
    CLEAN_AGAIN = "clean-again", 4.0 +- 1.0, Year, NoLog;
    ROUGH_ROOM = "rough-room", 0.5, Ratio, NoLog;
    TOWER_PIVOT = "tower-pivot", 4.0, Mm, NoLog;
    TOWER_LOOK = "tower-look", 0.25 +- 0.1, Year, NoLog;
    TOWER_CLEAN = "tower-clean", 1.0 +- 0.3, Year, NoLog;
}
