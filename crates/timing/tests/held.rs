//! Parts turned on their arbors by what holds them: what that moves, and what comes first. Places are worked out by hand beside each case.

use kinematics::{Turnable, turnables};
use movement::{MeshAccess, Movement};
use quantity::{Exact, fraction, to_f64, whole};
use timing::{Act, Answer, Bench, Cure, Hands, Priors, ShiftWay, TurnBy, answer, parse, read};

const SCHOOLROOM: &str = include_str!("../../../movements/schoolroom.toml");
const QUAY: &str = include_str!("../../../movements/quay.toml");

/// A sample with lines put in after others.
fn with(text: &str, put_in: &[(&str, &str)]) -> Movement {
    let mut text = text.to_owned();
    for (after, more) in put_in {
        assert_eq!(text.matches(after).count(), 1, "{after}");
        text = text.replace(after, &format!("{after}\n{more}"));
    }
    sheet::read(text.as_bytes()).expect("a good sheet").movement
}

fn ask(movement: &Movement, saw: &str) -> Answer {
    let readings: Vec<_> = (saw.split(' '))
        .map(|saw| {
            let (id, said) = parse(movement, movement.seen_from(), saw).expect(saw);
            read(movement, id, &said).expect(saw)
        })
        .collect();
    answer(movement, &readings, Hands::default())
}

/// Turns and shifts as they are told, then where all stands.
fn told(movement: &Movement, answer: &Answer) -> String {
    let way = |way: ShiftWay| match way {
        ShiftWay::Ahead => "ahead",
        ShiftWay::Back => "back",
        ShiftWay::Either => "either",
    };
    let (turns, shifts) = match &answer.cure {
        Cure::Turn(turns, shifts) => (&turns[..], &shifts[..]),
        Cure::Shift(shifts) => (&[][..], &shifts[..]),
        Cure::NoneNeeded => return "none needed".to_owned(),
        Cure::NoMesh(_) | Cure::NotFound(_) => return "no mesh".to_owned(),
    };
    let turns = turns.iter().map(|turn| {
        let by = match &turn.by {
            TurnBy::Quarters(quarters) => format!("{quarters}q"),
            TurnBy::Angle(by) => format!("{:.3}", by.to_f64()),
        };
        format!("{} {by} {}", turn.thing.name(movement), way(turn.way))
    });
    let shifts = shifts.iter().map(|shift| {
        let mesh = movement.mesh_name(shift.mesh);
        format!("{mesh} {} {}", shift.teeth, way(shift.way))
    });
    let after = answer.after.witnesses.iter().map(|standing| {
        let id = &movement.witness(standing.witness).id;
        format!("{id}={:.3}", standing.stands.to_f64())
    });
    turns
        .chain(shifts)
        .chain(after)
        .collect::<Vec<_>>()
        .join("; ")
}

/// What each part that can be turned moves, for one degree.
fn moves(movement: &Movement) -> Vec<String> {
    let one = |part: &Turnable| {
        let moved = part.moved(movement).map(|id| {
            let by: &Exact = part.moves(id);
            format!("{} {by}", movement.witness(id).id)
        });
        let stays = if part.teeth_stay { "teeth" } else { "arbor" };
        let moved = moved.collect::<Vec<_>>().join(", ");
        format!("{}: {stays} stays; {moved}", part.thing.name(movement))
    };
    turnables(movement).iter().map(one).collect()
}

#[test]
fn a_quarter_on_the_square_is_the_half_place_that_needs_no_plates() {
    // 78 places: a quarter is 19 1/2 of them.
    let square = with(SCHOOLROOM, &[("[arbor.count]", "held_by = \"square\"")]);
    let answer = ask(&square, "slot=2.31 star=0 pin=-75");
    assert_eq!(
        told(&square, &answer),
        "count.wheel 1q either; slot=0.002; star=0.000; pin=-75.000"
    );
    assert!(answer.sound, "it was put on a quarter off");
    // Where it can only be pressed off, the tooth that does it through the plates is told as before.
    let pressed = with(SCHOOLROOM, &[("[arbor.count]", "held_by = \"pressed\"")]);
    assert_eq!(
        told(&pressed, &ask(&pressed, "slot=2.31 star=0 pin=-75")),
        "second.count_pinion>count.wheel 1 either; slot=0.002; star=0.000; pin=-75.000"
    );
}

#[test]
fn what_friction_holds_is_set_to_its_best() {
    let friction = with(SCHOOLROOM, &[("[arbor.count]", "held_by = \"friction\"")]);
    assert_eq!(
        told(&friction, &ask(&friction, "slot=-1.2 star=0 pin=-75")),
        "count.wheel 1.200 ahead; slot=0.000; star=0.000; pin=-75.000"
    );
    // The star takes an opening; the part makes good what that does to the slot, and spares another.
    let answer = ask(&friction, "slot=1.1 star=-10 pin=-75");
    assert_eq!(
        told(&friction, &answer),
        "count.wheel 2.254 back; second.wheel>third.pinion 2 ahead; slot=0.000; star=0.000; pin=-75.000"
    );
    // Two that need openings of their own are not helped by it.
    let answer = ask(&friction, "slot=-1.2 star=-10 pin=-30");
    assert!(matches!(answer.cure, Cure::Shift(shifts) if shifts.len() == 2));
}

#[test]
fn on_an_arbor_between_two_meshes_what_lies_beyond_goes() {
    // Pins sit on the second arbor; its wheel hangs with the third, which is held.
    let wheel = with(
        SCHOOLROOM,
        &[("count_pinion = 6", "held_by = { wheel = \"screw\" }")],
    );
    // The slot by six fifty-seconds of it.
    assert_eq!(
        moves(&wheel),
        ["second.wheel: teeth stays; slot 3/26, star 1"]
    );
    let pinion = with(
        SCHOOLROOM,
        &[(
            "count_pinion = 6",
            "held_by = { count_pinion = \"collet\" }",
        )],
    );
    assert_eq!(
        moves(&pinion),
        ["second.count_pinion: arbor stays; slot 3/26"]
    );
    // Pressed on, or driving nothing that is read: nothing.
    let great = with(
        SCHOOLROOM,
        &[(
            "count_pinion = 6",
            "held_by = { pinion = \"square\", wheel = \"pressed\" }",
        )],
    );
    assert!(moves(&great).is_empty());
    // One word for all of it: the pins by themselves as well, and then the pinion of the great wheel is one of what can be turned, but moves
    // nothing.
    let all = with(
        SCHOOLROOM,
        &[("count_pinion = 6", "held_by = \"friction\"")],
    );
    assert_eq!(
        moves(&all),
        [
            "second.wheel: teeth stays; slot 3/26, star 1",
            "second.count_pinion: arbor stays; slot 3/26",
            "second.pins: arbor stays; star 1",
        ]
    );
    // Slot and star both off by one slip of the wheel: it alone.
    assert_eq!(
        told(&wheel, &ask(&wheel, "slot=-1.2 star=-10.4 pin=-75")),
        "second.wheel 10.400 ahead; slot=0.000; star=0.000; pin=-75.000"
    );
}

#[test]
fn a_ring_and_another_moment() {
    // The locking arbor is held; the barrel's ring lies beyond the lifting pinion, the count wheel beyond the barrel.
    let ring = with(
        QUAY,
        &[("count_drive = 32", "held_by = { ring = \"screw\" }")],
    );
    // 32 into 45: 32/45 of the barrel.
    assert_eq!(moves(&ring), ["barrel.ring: teeth stays; slot 32/45"]);
    // What is judged when the warning wheel is stopped: that wheel's pinion moves its pin, and its wheel the fly.
    let warned = with(
        QUAY,
        &[(
            "wheel = 50",
            "held_by = { pinion = \"square\", wheel = \"square\" }",
        )],
    );
    assert_eq!(
        moves(&warned),
        [
            "warning.pinion: teeth stays; stop 1",
            "warning.wheel: arbor stays; vane 25/4",
        ]
    );
    // A quarter back, of -270 or 90 from its place: -180 is its best.
    assert_eq!(
        told(&warned, &ask(&warned, "slot=0 lifts=0 stop=-90 vane=0")),
        "warning.pinion 1q back; slot=0.000; lifts=0.000; stop=-180.000; vane=0.000"
    );
}

#[test]
fn a_count_wheel_in_no_mesh_carries_its_slots() {
    let loose = QUAY.replace(
        "[arbor.count]\nwheel = 45",
        "[arbor.count]\ngear = 45\nplate = 90\nheld_by = { plate = \"square\", gear = \"pressed\" }",
    );
    let loose = loose.replace("driven = \"count.wheel\"", "driven = \"count.gear\"");
    let movement = with(&loose, &[]);
    assert_eq!(moves(&movement), ["count.plate: arbor stays; slot 1"]);
    // 90 places: a quarter is 22 1/2 of them.
    assert_eq!(
        told(
            &movement,
            &ask(&movement, "slot=2 lifts=0 stop=-180 vane=0")
        ),
        "count.plate 1q either; slot=0.000; lifts=0.000; stop=-180.000; vane=0.000"
    );
}

#[test]
fn a_small_cock_comes_before_the_plates() {
    // Slot and star are both moved by one mesh, or the star alone with another through the count wheel; the fourth has a cock.
    let cock = with(SCHOOLROOM, &[("wheel = 48", "cock = true")]);
    let access = |name: &str| cock.opened(cock.find_mesh(name).expect("a mesh"));
    assert_eq!(access("third.wheel>fourth.pinion"), MeshAccess::Cock);
    assert_eq!(access("fourth.wheel>fly.pinion"), MeshAccess::Cock);
    assert_eq!(access("second.wheel>third.pinion"), MeshAccess::Plates);
    // Two wheels that a cock lets out come before one that spreads plates.
    let two = "sheet = 1\nname = \"Two ways\"\nseen_from = \"back\"\n\
        [arbor.a]\nruns = \"clockwise\"\nwheel = 40\n[arbor.b]\npinion = 10\nwheel = 30\n[arbor.c]\npinion = 10\n\
        [[mesh]]\ndriver = \"a.wheel\"\ndriven = \"b.pinion\"\n[[mesh]]\ndriver = \"b.wheel\"\ndriven = \"c.pinion\"\n\
        [strike]\ncounted_by = \"count wheel\"\nblows = \"hours\"\nread_at = \"a\"\nblows_per_turn = 1\n\
        [[witness]]\nid = \"pin\"\nsays = \"the pin\"\non = \"c\"\nrepeats = 1\nwindow_deg = [-20, 20]\nbest_deg = 0\n";
    let plain = with(two, &[]);
    assert_eq!(
        told(&plain, &ask(&plain, "pin=108")),
        "a.wheel>b.pinion 1 back; pin=0.000"
    );
    let cock = with(two, &[("[arbor.c]", "cock = true")]);
    assert_eq!(
        told(&cock, &ask(&cock, "pin=108")),
        "b.wheel>c.pinion 3 back; pin=0.000"
    );
    // A count under that name is a part.
    let part = with(two, &[("[arbor.c]", "cock = 12")]);
    assert!(part.find_part("c.cock").is_some());
}

#[test]
fn the_log_has_it_turned_and_looked_at_again() {
    let movement = with(SCHOOLROOM, &[("[arbor.count]", "held_by = \"friction\"")]);
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    let header = entries::LogHeader {
        sheet: movement.name().to_owned(),
        hash: "0123456789abcdef0123456789abcdef".to_owned(),
    };
    let mut log = entries::Log::start(header);
    let look = |saw: &[(&str, &str)]| entries::EntryKind::Look {
        tension: entries::LoggedTension::Tensioned,
        readings: (saw.iter())
            .map(|(id, deg)| entries::LoggedReading {
                witness: (*id).to_owned(),
                seen: entries::LoggedSight::Number {
                    deg: entries::Decimal::parse(deg).expect("a decimal"),
                    spread: None,
                },
            })
            .collect(),
    };
    let turned = |deg: &str| {
        entries::EntryKind::Turned(entries::Moved {
            witness: "slot".to_owned(),
            deg: entries::Decimal::parse(deg).expect("a decimal"),
            spread: None,
        })
    };
    let out = [("slot", "-1.8"), ("star", "0"), ("pin", "-75")];
    log.append(&look(&out), None).expect("room");
    log.append(&look(&out), None).expect("room");
    let advice = |log: &entries::Log| bench.advise_on(&bench.recall(log).expect("a good log")).act;
    let Act::Turn(turns) = advice(&log) else {
        panic!("{:?}", advice(&log));
    };
    assert_eq!(*turns[0].moves[0].1.exact(), fraction(18, 10));
    // Turned the wrong way, and seen to be: as far again and back.
    let mut wrong = log.clone();
    wrong.append(&turned("1.8"), None).expect("room");
    assert!(matches!(advice(&wrong), Act::Look(_)));
    // Said to have gone the other way: which is soon seen, and no plates are spread on account of it.
    let mut other_way = log.clone();
    other_way.append(&turned("-1.8"), None).expect("room");
    assert!(matches!(advice(&other_way), Act::Look(_)));
    let mut as_said = wrong.clone();
    wrong
        .append(
            &look(&[("slot", "-3.6"), ("star", "0"), ("pin", "-75")]),
            None,
        )
        .expect("room");
    let slot = movement.find_witness("slot").expect("a witness");
    let stands = |log: &entries::Log| {
        let recalled = bench.recall(log).expect("a good log");
        let mut stands = bench.stands_of(&recalled.belief, slot);
        stands.sort_by(|a, b| b.1.get().total_cmp(&a.1.get()));
        to_f64(stands[0].0.exact())
    };
    // -3.6 is 1.015 ahead of the place before.
    assert!((stands(&wrong) - to_f64(&(whole(360) / whole(78) - fraction(36, 10)))).abs() < 0.2);
    as_said
        .append(&look(&[("slot", "0"), ("star", "0"), ("pin", "-75")]), None)
        .expect("room");
    assert!(stands(&as_said).abs() < 0.2);
    assert!(!matches!(advice(&as_said), Act::Turn(_) | Act::Shift(_)));
}

/// Where a count wheel is held by friction its slot may have been put on anywhere: a wheel one tooth out beside it is a sound movement.
/// So it is where the count wheel was pulled round, and no lever is suspected.
#[test]
fn what_friction_may_have_left_anywhere_accuses_no_lever() {
    let sheet = "sheet = 1\nname = \"Anywhere\"\nseen_from = \"back\"\n\
        [arbor.pins]\nruns = \"clockwise\"\nwheel = 140\ncount_pinion = 36\n[arbor.locking]\npinion = 7\n\
        [arbor.count]\nwheel = 72\nheld_by = { wheel = \"friction\" }\n\
        [[mesh]]\ndriver = \"pins.wheel\"\ndriven = \"locking.pinion\"\n\
        [[mesh]]\ndriver = \"pins.count_pinion\"\ndriven = \"count.wheel\"\n\
        [strike]\ncounted_by = \"count wheel\"\nblows = \"hours\"\nread_at = \"locking\"\nblows_per_turn = 1\n\
        [[witness]]\nid = \"slot\"\nsays = \"the slot\"\non = \"count\"\nrepeats = 1\nbest_deg = 0\nwindow_deg = [-1.5, 1.5]\n\
        [[witness]]\nid = \"eight\"\nsays = \"the pair\"\non = \"pins\"\nrepeats = 1\nbest_deg = 0\nwindow_deg = [-1, 1]\n";
    let movement = with(sheet, &[]);
    // One tooth of 140 at the pins, and the slot at no place that teeth lead to.
    let answer = ask(&movement, "slot=-8.76 eight=-2.5714~0.1");
    assert!(answer.sound, "{:?}", answer.cure);
    assert!(matches!(answer.cure, Cure::Turn(..)), "{:?}", answer.cure);
    // What no tooth and no turning explains is told as ever: half a tooth, read finely.
    let answer = ask(&movement, "slot=-8.76 eight=-1.2857~0.1");
    assert!(!answer.sound, "{:?}", answer.cure);
}
