//! Movements entered through the form's own requests, as a browser without script sends them: every kind of the page of kinds, trains
//! that books print, and trains made up; and what then stands on the sheet.

use crate::served::{Served, serve};
use fleet::{Taste, dice, grow};
use movement::{Movement, PartId, ToothForm};
use quantity::{Exact, whole};
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use tasks::{CountState, Described, PlaceId, QuestionAnswer, Wrongs};

/// A clock that comes in, and the requests that describe its movement.
struct Form<'a> {
    served: &'a Served,
    job: usize,
}

fn between<'p>(page: &'p str, before: &str, end: &str) -> &'p str {
    let after = page.split(before).nth(1).unwrap_or_default();
    after.split(end).next().unwrap_or_default()
}

impl Form<'_> {
    fn begin(served: &Served, job: usize) -> Form<'_> {
        served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
        Form { served, job }
    }

    fn page(&self) -> String {
        let job = self.job;
        self.served.get(&format!("/job/{job}/movement")).body
    }

    fn post(&self, what: &str, fields: &[(&str, &str)]) {
        let entries = between(&self.page(), "data-entries=\"", "\"").to_owned();
        let mut sent = vec![("entries", &*entries)];
        sent.extend(fields);
        let job = self.job;
        let answer = self
            .served
            .post(&format!("/job/{job}/movement/{what}"), &sent);
        assert_eq!(answer.status, 303, "{what} {fields:?}: {}", answer.body);
    }

    /// The sheet that has come of it.
    fn text(&self) -> String {
        let page = self.page();
        let told = between(&page, "<textarea name=\"sheet\"", "</textarea>");
        let told = told.split_once('>').map_or("", |(_, text)| text);
        let told = told
            .replace("&quot;", "\"")
            .replace("&lt;", "<")
            .replace("&gt;", ">");
        told.replace("&amp;", "&")
    }

    fn movement(&self) -> Movement {
        tasks::check(self.text().as_bytes())
            .expect("a sheet")
            .movement
    }

    /// Adds something, and tells the part that came with it.
    fn added(&self, fields: &[(&str, &str)]) -> String {
        let parts = || -> BTreeSet<String> {
            let described = Described::read(&self.text()).expect("a description");
            let places = described.counts().into_iter();
            places
                .map(|place| format!("{}.{}", place.id.arbor, place.id.part))
                .collect()
        };
        let before = parts();
        self.post("add", fields);
        let new = parts().difference(&before).next().cloned();
        new.expect("a part that was not there")
    }

    /// Answers every question, from these or as usual, and counts every part as it is on the clock in hand, or as is usual, until all
    /// is told.
    fn finish(&self, answers: &[(&str, &str)], counted: &BTreeMap<String, String>) {
        for _ in 0..200 {
            let page = self.page();
            let question = between(&page, "name=\"question\" value=\"", "\"");
            let part = between(&page, "name=\"at\" value=\"", "\"");
            if !question.is_empty() {
                let told = answers.iter().find(|(asked, _)| *asked == question);
                let answer = told.map_or("usual", |(_, answer)| answer);
                self.post("answer", &[("question", question), ("answer", answer)]);
            } else if !part.is_empty() {
                let usual = || {
                    let described = Described::read(&self.text()).expect("a description");
                    let open = described.places();
                    let mut place = open.iter();
                    let place = place.find(|place| name(&place.id) == part);
                    let usual = place.and_then(|place| place.usual).expect("a usual count");
                    usual.get().to_string()
                };
                let count = counted.get(part).cloned().unwrap_or_else(usual);
                self.post("count", &[("at", part), ("how", "next"), ("count", &count)]);
            } else {
                return;
            }
        }
        panic!("it does not come to an end");
    }
}

/// The counts of a clock of a kind, as they come out with these answers.
fn of_a_clock(kind: &str, answers: &[(&str, &str)]) -> BTreeMap<String, String> {
    let answers: Vec<(&str, QuestionAnswer)> = (answers.iter())
        .map(|(id, choice)| (*id, QuestionAnswer::Choice((*choice).to_owned())))
        .collect();
    let mut made = Described::begin(kind, "a clock", &answers).expect("begun");
    for place in made.places() {
        let usual = place.usual.expect("usual");
        made.count(&place.id, CountState::Counted(usual))
            .expect("there");
    }
    let counts = made
        .places()
        .into_iter()
        .filter_map(|place| match place.state {
            CountState::Counted(teeth) => Some((name(&place.id), teeth.get().to_string())),
            _ => None,
        });
    counts.collect()
}

fn name(place: &PlaceId) -> String {
    format!("{}.{}", place.arbor, place.part)
}

/// A kind, what is answered otherwise than as usual, and the blows of a cycle.
type Row = (&'static str, &'static [(&'static str, &'static str)], u32);

/// Every row of `KINDS.md`: its kind, what is answered otherwise than as usual, and the blows of its cycle.
const ROWS: [Row; 11] = [
    ("count wheel and cam", &[("halves", "none")], 78),
    ("count wheel and cam", &[("halves", "halves")], 90),
    (
        "tower",
        &[("halves", "halves"), ("ring", "inside"), ("fly", "clear")],
        90,
    ),
    ("count wheel and cam", &[("halves", "ten")], 88),
    (
        "count wheel and cam",
        &[
            ("halves", "none"),
            ("count_moved", "train"),
            ("count_turns", "day"),
        ],
        156,
    ),
    (
        "count wheel and cam",
        &[("halves", "none"), ("stopped_by", "notch")],
        78,
    ),
    (
        "count wheel and cam",
        &[("halves", "none"), ("notches", "two")],
        78,
    ),
    ("rack", &[("going", "there")], 78),
    ("ships bell", &[], 36),
    ("count wheel and cam", &[("halves", "passing")], 90),
    ("quarters", &[], 78),
];

#[test]
fn each_kind_of_the_page_of_kinds_is_made_by_the_form_alone_and_strikes_what_its_row_says() {
    let page = include_str!("../../../../KINDS.md");
    let told: Vec<u32> = (page.lines())
        .filter(|line| line.starts_with('|') && line.contains(" h |"))
        .map(|line| {
            line.split('|')
                .nth(4)
                .expect("blows")
                .trim()
                .parse()
                .expect("a number")
        })
        .collect();
    let served = serve(&[]);
    for (n, (kind, answers, blows)) in ROWS.iter().enumerate() {
        let form = Form::begin(&served, n + 2);
        form.post("kind", &[("kind", kind)]);
        form.finish(answers, &of_a_clock(kind, answers));
        let struck = tasks::strike(form.text().as_bytes(), &Wrongs::default(), false)
            .expect("it strikes")
            .struck;
        assert!(struck.is_right(), "{kind} {answers:?}");
        assert_eq!(
            (struck.total(), told[n]),
            (*blows, *blows),
            "{kind} {answers:?}"
        );
    }
    assert_eq!(told.len(), ROWS.len());
}

/// A going train as a book prints it.
#[derive(Deserialize)]
struct Printed {
    name: String,
    wheels: Vec<u16>,
    pinions: Vec<u16>,
    escape: u16,
    beats_per_hour: String,
}

#[derive(Deserialize)]
struct AllPrinted {
    train: Vec<Printed>,
}

/// Every going train of `outside/beats.toml`, whose sources stand there.
#[test]
fn trains_that_books_print_come_out_as_printed() {
    let all: AllPrinted =
        toml::from_str(include_str!("../../../../outside/beats.toml")).expect("read");
    let served = serve(&[]);
    for (n, train) in all.train.iter().enumerate() {
        let form = Form::begin(&served, n + 2);
        form.post("bare", &[]);
        let names = ["great", "second", "third", "fourth", "fifth", "sixth"];
        // The centre arbor is the first; each wheel drives the pinion of the next.
        for (at, name) in names
            .iter()
            .enumerate()
            .take(train.wheels.len() + 1)
            .skip(1)
        {
            if at > 1 {
                let meshes = format!("{}.wheel", names[at - 1]);
                form.post(
                    "add",
                    &[
                        ("adding", "arbor"),
                        ("name", name),
                        ("has", "pinion"),
                        ("meshes", &meshes),
                    ],
                );
            }
            form.post(
                "add",
                &[
                    ("adding", "part"),
                    ("arbor", name),
                    ("has", "wheel"),
                    ("meshes", ""),
                ],
            );
        }
        let count = |arbor: &str, part: &str, teeth: u16| {
            let at = format!("{arbor}.{part}");
            form.post(
                "count",
                &[("at", &at), ("how", "next"), ("count", &teeth.to_string())],
            );
        };
        for (at, (wheel, pinion)) in train.wheels.iter().zip(&train.pinions).enumerate() {
            count(names[at], "wheel", *wheel);
            count(names[at + 1], "pinion", *pinion);
        }
        let last = names[train.wheels.len()];
        count(last, "wheel", train.escape);
        let movement = form.movement();
        let turns = |name: &str| {
            movement
                .turns(movement.find_arbor(name).expect("an arbor"))
                .clone()
        };
        let beats = turns(last) / turns("great") * whole(2 * i64::from(train.escape));
        let printed: Exact = train.beats_per_hour.parse().expect("a ratio");
        assert_eq!(beats, printed, "{}", train.name);
    }
    assert!(all.train.len() > 40, "only {}", all.train.len());
}

/// Trains of the fleet, taken arbor by arbor through the form; `TRUNDLE_ENTERED` says how many, 30 where it does not.
#[test]
fn made_up_trains_stand_on_the_sheet_as_they_were_entered() {
    let many = std::env::var("TRUNDLE_ENTERED").ok();
    let many: usize = many.map_or(30, |many| many.parse().expect("a number"));
    let served = serve(&[]);
    let mut dice = dice(6021);
    let (mut entered, mut arbors) = (0, 0);
    while entered < many {
        let plan = grow(&Taste::realistic(), &mut dice).sheet();
        let whole = tasks::check(plan.as_bytes()).expect("a sheet").movement;
        // A ring inside and a loop are told as text: the form has no touch for them.
        let plain = whole.trains() == 1 && whole.meshes().all(|(_, mesh)| !mesh.internal);
        if !plain || whole.meshes().len() + 1 != whole.arbors().len() {
            continue;
        }
        let form = Form::begin(&served, entered + 2);
        enter(&form, &whole);
        entered += 1;
        arbors += whole.arbors().len();
    }
    println!("{entered} movements, {arbors} arbors");
}

/// Enters a train from its first arbor, and holds what then stands on the sheet against it: every mesh, every count, how every part
/// is made.
fn enter(form: &Form<'_>, whole: &Movement) {
    form.post("bare", &[]);
    let mut mine: BTreeMap<String, String> = BTreeMap::new();
    let driven = |arbor| whole.meshes().any(|(_, mesh)| mesh.driven.arbor == arbor);
    let first = whole
        .arbors()
        .map(|(id, _)| id)
        .find(|id| !driven(*id))
        .expect("a first arbor");
    let mut at_hand = vec![first];
    let mut name_of = BTreeMap::from([(first, "great".to_owned())]);
    let has = |part: PartId, wheel: &'static str| match whole.part(part).form {
        ToothForm::Lantern => "lantern",
        _ => wheel,
    };
    while let Some(here) = at_hand.pop() {
        for (_, mesh) in whole.meshes().filter(|(_, mesh)| mesh.driver.arbor == here) {
            let arbor = name_of[&here].clone();
            let driver = whole.part_name(mesh.driver);
            if mine.is_empty() {
                mine.insert(driver.clone(), "great.wheel".to_owned());
            }
            if !mine.contains_key(&driver) {
                let new = form.added(&[
                    ("adding", "part"),
                    ("arbor", &arbor),
                    ("has", has(mesh.driver, "wheel")),
                    ("meshes", ""),
                ]);
                mine.insert(driver.clone(), new);
            }
            let name = whole.arbor(mesh.driven.arbor).id.clone() + "_too";
            let new = if name_of.len() == 1 {
                name_of.insert(mesh.driven.arbor, "second".to_owned());
                "second.pinion".to_owned()
            } else {
                name_of.insert(mesh.driven.arbor, name.clone());
                form.added(&[
                    ("adding", "arbor"),
                    ("name", &name),
                    ("has", has(mesh.driven, "pinion")),
                    ("meshes", &mine[&driver]),
                ])
            };
            mine.insert(whole.part_name(mesh.driven), new);
            at_hand.push(mesh.driven.arbor);
        }
    }
    for (theirs, own) in &mine {
        let teeth = whole.part(whole.find_part(theirs).expect("a part")).teeth;
        let count = teeth.get().to_string();
        form.post("count", &[("at", own), ("how", "next"), ("count", &count)]);
    }
    let entered = form.movement();
    let meshed = |movement: &Movement, name: &dyn Fn(&str) -> String| -> BTreeSet<[String; 2]> {
        let meshes = movement
            .meshes()
            .map(|(_, mesh)| [mesh.driver, mesh.driven]);
        meshes
            .map(|both| both.map(|part| name(&movement.part_name(part))))
            .collect()
    };
    let theirs = meshed(whole, &|name| mine[name].clone());
    assert_eq!(meshed(&entered, &str::to_owned), theirs);
    assert_eq!(entered.arbors().len(), whole.arbors().len());
    for (theirs, own) in &mine {
        let [theirs, own] = [(whole, theirs), (&entered, own)].map(|(movement, name)| {
            let part = movement.part(movement.find_part(name).expect("a part"));
            (part.teeth, part.form == ToothForm::Lantern)
        });
        assert_eq!(theirs.0, own.0);
        assert!(theirs.1 == own.1 || name_of.len() > 1, "{theirs:?} {own:?}");
    }
}

#[test]
fn one_pin_that_moves_the_count_wheel_on_is_counted_as_it_is() {
    let served = serve(&[]);
    let form = Form::begin(&served, 2);
    form.post("kind", &[("kind", "count wheel and cam")]);
    form.post(
        "count",
        &[
            ("at", "second.count_pinion"),
            ("how", "next"),
            ("count", "1"),
        ],
    );
    assert!(
        form.text()
            .contains("count_pinion = { teeth = 1, form = \"pins\" }"),
        "{}",
        form.text()
    );
    // One tooth of any other wheel is none.
    let entries = between(&form.page(), "data-entries=\"", "\"").to_owned();
    let sent = [
        ("entries", &*entries),
        ("at", "second.wheel"),
        ("how", "next"),
        ("count", "1"),
    ];
    let refused = served.post("/job/2/movement/count", &sent);
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("A wheel has from 4 teeth to 1000"));
}
