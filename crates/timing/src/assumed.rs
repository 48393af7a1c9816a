//! The figures that timing holds to be so before anything is seen: a row each, told with their reasons by `trundle assumptions`.

quantity::assumed! {
    WRONG_WAY = "wrong-way", 0.10, Part, Both;
    SLIP = "slip", 0.03, Part, Both;
    READING_SPREAD = "reading-spread", 0.05, Window, Both;
    EVEN_RANGE = "even-range", 0.288_675_134_594_812_9, Part, Both;
    OCLOCK = "oclock", 15.0, Deg, Both;
    NOTCH = "notch", 2.0, Deg, Both;
    LEAST_TELLING = "least-telling", 0.96, Part, Both;
    HOLD = "hold", 0.5, Deg, WithLog;
    BUILD = "build", 0.166_666_666_666_666_66, HalfWindow, WithLog;
    USUAL_WINDOW = "usual-window", 0.2, HalfWindow, WithLog;
    BENT = "bent", 0.02, Part, WithLog;
    UNNOTICED = "unnoticed", 1e-4, Part, WithLog;
    USUAL_LASH = "usual-lash", 0.2, Tooth, WithLog;
    EYE = "eye", 1.0, Ratio, WithLog;
    EYE_HANDED_ON = "eye-handed-on", 0.8, Part, WithLog;
    LOOK = "look", 0.03, Opening, WithLog;
    MESH = "mesh", 0.1, Opening, WithLog;
    COCK = "cock", 0.3, Opening, WithLog;
}
