//! The rule of closing up, and what is advised until then, held against a table of facts.

use movement::{ArborId, Movement, WitnessId};
use quantity::Chance;
use timing::{Act, Newest, RuleFacts, Shift, ShiftWay, WorkLeft, act};

fn movement() -> Movement {
    let path = format!(
        "{}/../../movements/schoolroom.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    let text = std::fs::read(path).expect("sample sheet");
    sheet::read(&text).expect("good sheet").movement
}

struct Ids {
    slot: WitnessId,
    star: WitnessId,
    pin: WitnessId,
    fourth: ArborId,
    shift: Shift,
}

fn ids() -> Ids {
    let movement = movement();
    let witness = |id: &str| movement.find_witness(id).expect("a witness");
    let mesh = movement.find_mesh("second.wheel>third.pinion");
    Ids {
        slot: witness("slot"),
        star: witness("star"),
        pin: witness("pin"),
        fourth: movement.find_arbor("fourth").expect("an arbor"),
        shift: Shift {
            mesh: mesh.expect("a mesh"),
            teeth: 2,
            way: ShiftWay::Ahead,
        },
    }
}

/// All was read and is in, nothing is out or off, and it is just as sure as it must be.
fn good(ids: &Ids) -> RuleFacts {
    RuleFacts {
        newest: [ids.slot, ids.star, ids.pin]
            .map(|id| (id, Newest::In))
            .to_vec(),
        out: Vec::new(),
        bent: vec![
            (ids.slot, Chance::of(0.3)),
            (ids.star, Chance::of(0.15)),
            (ids.pin, Chance::of(0.05)),
        ],
        in_window: Chance::of(0.95),
        usual: Vec::new(),
        inferred: Vec::new(),
    }
}

/// Work that could be done all the same: a shift that pays, and looks that pay.
fn works(ids: &Ids) -> Vec<WorkLeft> {
    let mut works = Vec::new();
    for reachable in [true, false] {
        for shift in [vec![], vec![ids.shift]] {
            for looks in [vec![], vec![ids.pin]] {
                for settles in [true, false] {
                    works.push(WorkLeft {
                        reachable,
                        shift: shift.clone(),
                        looks: looks.clone(),
                        doubtful: vec![ids.star, ids.slot, ids.pin],
                        settles,
                        turn: Vec::new(),
                        stuck: Vec::new(),
                        another_drop: Vec::new(),
                        turned_unseen: false,
                    });
                }
            }
        }
    }
    works
}

type Change = fn(&mut RuleFacts, &Ids);

/// Each clause of the rule, broken by itself.
const CLAUSES: [(&str, Change); 10] = [
    ("one is unread", |facts, _| {
        facts.newest[1].1 = Newest::Unread;
    }),
    ("all are unread", |facts, _| {
        for (_, newest) in &mut facts.newest {
            *newest = Newest::Unread;
        }
    }),
    ("one stands outside", |facts, _| {
        facts.newest[2].1 = Newest::Out;
    }),
    ("an arbor is out", |facts, ids| facts.out.push(ids.fourth)),
    ("a lever is likelier bent than not", |facts, _| {
        facts.bent[0].1 = Chance::of(0.31);
    }),
    ("a window is only usual", |facts, ids| {
        facts.usual.push(ids.star);
    }),
    ("it is less sure", |facts, _| {
        facts.in_window = Chance::of(0.9499);
    }),
    ("it is not sure at all", |facts, _| {
        facts.in_window = Chance::of(0.01);
    }),
    ("nothing shows how it stands", |facts, _| {
        facts.newest.clear();
    }),
    ("one was said far off", |facts, _| {
        facts.newest[1].1 = Newest::FarOff;
    }),
];

#[test]
fn it_is_done_where_nothing_stands_against_it_whatever_work_would_pay() {
    let ids = ids();
    for work in works(&ids) {
        assert_eq!(act(&good(&ids), &work), Act::Done, "{work:?}");
    }
}

#[test]
fn each_clause_by_itself_keeps_it_from_being_done() {
    let ids = ids();
    for (says, change) in CLAUSES {
        let mut facts = good(&ids);
        change(&mut facts, &ids);
        assert!(!facts.lacks().nothing(), "{says}");
        for work in works(&ids) {
            assert_ne!(act(&facts, &work), Act::Done, "{says}: {work:?}");
        }
    }
}

#[test]
fn what_is_said_instead_is_what_would_settle_it() {
    let ids = ids();
    let work = |shift: bool, looks: bool, settles: bool| WorkLeft {
        reachable: true,
        shift: if shift { vec![ids.shift] } else { Vec::new() },
        looks: if looks { vec![ids.pin] } else { Vec::new() },
        doubtful: vec![ids.star, ids.slot, ids.pin],
        settles,
        turn: Vec::new(),
        stuck: Vec::new(),
        another_drop: Vec::new(),
        turned_unseen: false,
    };
    let stuck = |looks: bool| WorkLeft {
        stuck: vec![ids.slot],
        ..work(false, looks, true)
    };
    let (unread, outside, out, bent, usual, unsure) = (
        CLAUSES[0].1,
        CLAUSES[2].1,
        CLAUSES[3].1,
        CLAUSES[4].1,
        CLAUSES[5].1,
        CLAUSES[6].1,
    );
    let all = vec![ids.star, ids.slot, ids.pin];
    let outside_first = vec![ids.pin, ids.star, ids.slot];
    let shift = Act::Shift(vec![ids.shift]);
    let put_in = Act::PutIn(vec![ids.fourth]);
    let part = Act::Part(vec![ids.slot]);
    let table: Vec<(Vec<Change>, WorkLeft, Act)> = vec![
        // What stands where nothing puts it is not looked at again first, whether another look would pay or not.
        (vec![outside, unsure], stuck(true), part.clone()),
        (vec![outside, unsure], stuck(false), part.clone()),
        // Nothing was read of the star: it is looked at, with whatever else pays.
        (
            vec![unread],
            work(false, false, false),
            Act::Look(vec![ids.star]),
        ),
        (
            vec![unread],
            work(true, true, false),
            Act::Look(vec![ids.pin, ids.star]),
        ),
        // What may be a slip of the figure is looked at again before anything rests on it: a shift, or that a part is off.
        (
            vec![CLAUSES[9].1, outside, bent],
            work(true, false, false),
            Act::Look(vec![ids.star]),
        ),
        // What was read of the others shows that a shift pays all the same.
        (vec![unread], work(true, false, false), shift.clone()),
        // What strays from what all looks show is read again by itself.
        (
            vec![outside],
            work(false, false, false),
            Act::Look(vec![ids.pin]),
        ),
        // A doubtful reading is looked at again with the others, if that may settle it.
        (
            vec![outside, unsure],
            work(false, false, true),
            Act::Look(outside_first),
        ),
        (vec![outside, unsure], work(false, false, false), Act::Prove),
        (vec![outside], work(true, false, false), shift.clone()),
        // An arbor that is out goes in; what is wrong among the others is moved while the plates are apart.
        (vec![out], work(false, false, false), put_in.clone()),
        (vec![out], work(false, true, false), put_in.clone()),
        (vec![out, unread], work(true, true, true), put_in.clone()),
        (vec![out, unread], work(true, false, true), shift),
        // A part that is off comes before all that.
        (vec![bent], work(true, true, true), part.clone()),
        (
            vec![bent, out, unread, unsure],
            work(true, false, true),
            part,
        ),
        // Only usual windows: nothing that is read or moved makes them better known.
        (vec![usual], work(false, false, false), Act::Prove),
        (vec![usual], work(false, false, true), Act::Prove),
        (
            vec![usual, unsure],
            work(false, false, true),
            Act::Look(all.clone()),
        ),
        // Less sure than it must be.
        (vec![unsure], work(false, false, true), Act::Look(all)),
        (vec![unsure], work(false, false, false), Act::Prove),
        (vec![unsure], WorkLeft::default(), Act::NoMesh),
        (vec![bent, out], WorkLeft::default(), Act::NoMesh),
    ];
    for (i, (changes, work, expected)) in table.into_iter().enumerate() {
        let mut facts = good(&ids);
        for change in changes {
            change(&mut facts, &ids);
        }
        assert_eq!(act(&facts, &work), expected, "row {i}: {facts:?} {work:?}");
    }
}

#[test]
fn trains_thought_over_each_by_itself_must_be_good_together() {
    let ids = ids();
    let one = |id: WitnessId, in_window: f64, bent: f64| RuleFacts {
        newest: vec![(id, Newest::In)],
        out: Vec::new(),
        bent: vec![(id, Chance::of(bent))],
        in_window: Chance::of(in_window),
        usual: Vec::new(),
        inferred: Vec::new(),
    };
    let both = |a: RuleFacts, b: RuleFacts| RuleFacts::together(&[a, b]).lacks();
    let (slot, pin) = (ids.slot, ids.pin);
    assert!(both(one(slot, 0.98, 0.1), one(pin, 0.98, 0.1)).nothing());
    assert!(both(one(slot, 0.97, 0.1), one(pin, 0.97, 0.1)).unsure);
    let parts = both(one(slot, 0.99, 0.4), one(pin, 0.99, 0.3)).parts;
    assert_eq!(parts, [slot, pin]);
    let mut unread = one(pin, 0.99, 0.0);
    unread.newest[0].1 = Newest::Unread;
    assert_eq!(both(one(slot, 0.99, 0.0), unread).unread, [pin]);
}
