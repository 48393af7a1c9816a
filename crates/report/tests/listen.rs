//! What is said of a recording, for findings that are made up here.

use listen::{
    Due, Findings, Heard, HeardStrike, HeardWarning, Levels, NotSound, SoundEnd, UnfitSound, Within,
};
use report::{Locale, Voice, listen as said, unanswered};
use tasks::QuestionFault;

fn struck(at_s: f64, blows: usize) -> HeardStrike {
    let times = std::iter::successors(Some(at_s), |at| Some(at + 1.5));
    HeardStrike {
        blow_times_s: times.take(blows).collect(),
        spread_s: 0.01,
        pitch_hz: 700.0,
    }
}

fn due(hour: u8, half: bool, blows: usize, heard: &[usize]) -> Due {
    Due {
        hour,
        half,
        bells: None,
        due_s: 0.0,
        blows,
        heard: heard.to_vec(),
        late_s: Some(0.0),
    }
}

fn found(strikes: Vec<HeardStrike>, due: Vec<Due>, warnings: Vec<HeardWarning>) -> Findings {
    Findings {
        heard: Heard {
            seconds: 7_300.0,
            beats: Vec::new(),
            foretold: 0,
            strikes,
            chimes: Vec::new(),
            levels: Levels::default(),
            full: false,
            between: listen::Between::default(),
        },
        unfit: None,
        pace: None,
        rate: None,
        rate_recorded: None,
        crutch: None,
        crutch_deg: None,
        nut_turns: None,
        comes_round: Vec::new(),
        due: Some(due),
        cycle: None,
        warnings,
    }
}

#[test]
fn each_strike_is_told_with_its_warning_and_each_wrong_hour_by_name() {
    let locale = Locale::default();
    let strikes = vec![struck(60.0, 3), struck(3_660.0, 4), struck(7_200.0, 6)];
    let warnings = vec![
        HeardWarning::CannotTell,
        HeardWarning::Heard(366.0),
        HeardWarning::NotHeard,
    ];
    let dues = vec![
        due(3, false, 3, &[0]),
        due(3, true, 1, &[]),
        due(4, false, 4, &[1]),
        due(5, false, 5, &[2]),
    ];
    let found = found(strikes, dues, warnings);
    assert_eq!(
        said::strikes(&locale, &found, true),
        [
            "at 1:00.0  3 o'clock: 3 blows, 1.5 s from blow to blow",
            "at 1:01:00.0  4 o'clock: 4 blows, 1.5 s from blow to blow; warned 6.1 minutes before",
            "at 2:00:00.0  5 o'clock: 6 blows, 1.5 s from blow to blow; no warning heard",
        ]
    );
    assert_eq!(
        said::answer(&locale, &found),
        "Struck 3 times; 2 of the hours due are wrong or missing."
    );
    let text = said::listen_text(&Voice::Command(locale), &found, SoundEnd::Short);
    for line in [
        "  half past 3 is missing.",
        "  5 o'clock struck 6 for 5.",
        "The recording breaks off after 2:01:40.0; what is before that was heard.",
    ] {
        assert!(text.lines().any(|l| l == line), "{line}: {text}");
    }
}

#[test]
fn bells_of_a_ship_are_called_by_their_number() {
    let locale = Locale::default();
    let mut one = due(12, true, 1, &[0]);
    one.bells = Some(1);
    let mut two = due(1, false, 2, &[]);
    two.bells = Some(2);
    let found = found(vec![struck(0.0, 1)], vec![one, two], Vec::new());
    let dues = found.due.as_ref().expect("two");
    let names: Vec<String> = dues
        .iter()
        .map(|due| said::due_name(&locale, due))
        .collect();
    assert_eq!(names, ["one bell", "2 bells"]);
}

/// At a glance there are two figures; the whole sentence has as many as its bounds bear.
#[test]
fn a_rate_has_no_more_figures_than_it_bears() {
    let locale = Locale::default();
    let mut found = found(Vec::new(), Vec::new(), Vec::new());
    found.rate = Some(Within {
        value: 40.123,
        low: 40.103,
        high: 40.143,
    });
    assert_eq!(
        said::bounds(&locale, &found).as_deref(),
        Some(
            "Seconds a day: gains 40.10 to gains 40.14, 95 times in 100, the recorder's own clock included."
        )
    );
}

#[test]
fn a_page_is_told_nothing_in_ticks_nor_of_options() {
    let voice = Voice::Page(Locale::default());
    let all = [
        unanswered(&voice, &QuestionFault::NoClock("good".to_owned())),
        unanswered(&voice, &QuestionFault::NoNumber("arc")),
        said::not_sound(
            &voice,
            "“a.wav”",
            &NotSound::Unsupported("a codec".to_owned()),
        ),
        said::not_sound(&voice, "“a.wav”", &NotSound::Rate(100)),
        said::unfit_said(voice.locale(), &UnfitSound::Clipped(0.2)),
    ];
    for told in all {
        assert!(!told.contains('`') && !told.contains("--"), "{told}");
    }
}
