//! What listening holds to be so of a recorder that was never compared: told with its reason by `trundle assumptions`.

quantity::assumed! {
    CLOCK_PPM = "clock-ppm", 50.0, Ppm, NoLog;
}
