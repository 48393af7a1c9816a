//! Where oil goes and where none, in words.

use crate::en::breaking;
use crate::measures::{count_of, length, number, years};
use crate::page::cautions::danger;
use crate::page::named;
use crate::{Locale, say};
use draw::{Drawing, Note, View, layout, scene_with_notes};
use movement::{ArborId, Movement};
use tasks::Oiled;
use workshop::oil::{Dry, Lubricant, Much, OilPlan, OilStage, State, Step, Where};

/// The whole plan.
pub fn oil_text(locale: &Locale, oiled: &Oiled) -> String {
    let (movement, plan) = (&oiled.movement, &oiled.plan);
    let mut text = vec![movement.name().to_owned()];
    let before = before(locale, movement, plan, oiled.state).into_iter();
    for line in before.chain(lost(locale, &oiled.lost)) {
        text.extend([String::new(), line]);
    }
    for (heading, steps) in stages(locale, movement, plan) {
        text.extend([String::new(), heading]);
        text.extend(steps.iter().map(|(i, says)| format!("  {i}. {says}")));
    }
    text.extend([String::new(), say!(locale, "oil-dry")]);
    text.extend(
        plan.dry
            .iter()
            .map(|d| format!("  {}", dry(locale, movement, *d))),
    );
    text.extend([String::new(), say!(locale, "oil-meant")]);
    text.extend(kinds(locale, plan).iter().map(|kind| format!("  {kind}")));
    text.extend([
        String::new(),
        back(locale, plan),
        say!(locale, "oil-source"),
    ]);
    for one in oiled.dangers() {
        text.push(say!(locale, "caution-line", says = danger(locale, &one)));
    }
    text.push(String::new());
    breaking(&text.join("\n"))
}

/// That counts are lost on the sheet.
pub fn lost(locale: &Locale, parts: &[String]) -> Option<String> {
    (!parts.is_empty()).then(|| say!(locale, "oil-lost", parts = locale.list(parts)))
}

/// How many places there are, in one sentence.
pub fn answer(locale: &Locale, plan: &OilPlan) -> String {
    say!(
        locale,
        "oil-says",
        first = if plan.clean_first { "clean" } else { "oil" },
        count = plan.steps.len(),
        dry = plan.dry.len()
    )
}

/// What comes before any oil.
pub fn before(locale: &Locale, movement: &Movement, plan: &OilPlan, state: State) -> Vec<String> {
    let mut told = Vec::new();
    if plan.clean_first {
        told.push(say!(locale, "oil-clean-first"));
    }
    told.push(if state == State::Running {
        say!(locale, "oil-running")
    } else {
        say!(locale, "oil-goes-in")
    });
    if plan.tower {
        told.push(say!(locale, "oil-tower"));
    }
    told.extend(plan.shaky.iter().map(|worn| {
        say!(
            locale,
            "oil-bush",
            arbor = name(movement, worn.arbor),
            shake = length(locale, &worn.shake),
            pivot = length(locale, &worn.pivot),
            part = number(locale, &worn.part)
        )
    }));
    told
}

/// The steps of each stage under its heading, numbered throughout.
pub fn stages(
    locale: &Locale,
    movement: &Movement,
    plan: &OilPlan,
) -> Vec<(String, Vec<(usize, String)>)> {
    let mut stages: Vec<(OilStage, Vec<(usize, String)>)> = Vec::new();
    for (i, step) in plan.steps.iter().enumerate() {
        let says = (i + 1, one(locale, movement, step));
        match stages.last_mut() {
            Some((stage, steps)) if *stage == step.stage => steps.push(says),
            _ => stages.push((step.stage, vec![says])),
        }
    }
    let headed = stages.into_iter();
    headed
        .map(|(at, steps)| (stage(locale, at), steps))
        .collect()
}

fn name(movement: &Movement, arbor: ArborId) -> String {
    named(&movement.arbor(arbor).id)
}

fn stage(locale: &Locale, stage: OilStage) -> String {
    let stage = match stage {
        OilStage::Before => "before",
        OilStage::Between => "between",
        OilStage::Closed => "closed",
        OilStage::Last => "last",
    };
    say!(locale, "oil-stage", stage = stage)
}

/// One thing to do.
pub fn one(locale: &Locale, movement: &Movement, step: &Step) -> String {
    let on = |place: &'static str, arbor: String| {
        say!(locale, "oil-place", place = place, arbor = arbor)
    };
    let place = match step.place {
        Where::Coils(a) => on("coils", name(movement, a)),
        Where::Barrel(a) => on("barrel", name(movement, a)),
        Where::Click(a) => on("click", name(movement, a)),
        Where::Pulley(a) => on("pulley", name(movement, a)),
        Where::Friction(a) => on("friction", name(movement, a)),
        Where::Levers => on("levers", String::new()),
        Where::Pivots(a) => on("pivots", name(movement, a)),
        Where::Stud(a) => on("stud", name(movement, a)),
        Where::Hammers(1) => on("hammer", String::new()),
        Where::Hammers(all) => on("hammers", all.to_string()),
        Where::Crutch => on("crutch", String::new()),
        Where::Pallets(part) => on("pallets", movement.part_name(part)),
        Where::Lifting(a) => on("lifting", name(movement, a)),
        Where::Tips => on("tips", String::new()),
    };
    let much = match step.much {
        Much::Bead { across, measured } => say!(
            locale,
            "oil-bead",
            across = length(locale, &across),
            measured = if measured { "yes" } else { "no" }
        ),
        Much::TopUp { across, measured } => say!(
            locale,
            "oil-top-up",
            across = length(locale, &across),
            measured = if measured { "yes" } else { "no" }
        ),
        Much::Drops => say!(locale, "oil-drops"),
        Much::Film => say!(locale, "oil-film"),
        Much::Trace => say!(locale, "oil-trace"),
    };
    say!(
        locale,
        "oil-step",
        worn = if step.worn { "yes" } else { "no" },
        place = place,
        kind = kind(locale, step.kind),
        much = much
    )
}

fn kind_key(kind: Lubricant) -> &'static str {
    match kind {
        Lubricant::Grease => "grease",
        Lubricant::Thick => "thick",
        Lubricant::Middle => "middling",
        Lubricant::Thin => "thin",
    }
}

fn kind(locale: &Locale, kind: Lubricant) -> String {
    say!(locale, "oil-kind", kind = kind_key(kind))
}

/// What is meant by each kind that the plan has.
pub fn kinds(locale: &Locale, plan: &OilPlan) -> Vec<String> {
    let mut kinds: Vec<Lubricant> = plan.steps.iter().map(|step| step.kind).collect();
    kinds.sort_unstable();
    kinds.dedup();
    let meant = kinds.into_iter().map(|of| {
        say!(
            locale,
            "oil-duty",
            kind = kind_key(of),
            thick = count_of(locale, &of.viscosity(), "mm2-per-s")
        )
    });
    meant.collect()
}

/// What stays dry.
pub fn dry(locale: &Locale, movement: &Movement, dry: Dry) -> String {
    let said = |what: &'static str, arbor: String, count: usize| {
        say!(
            locale,
            "oil-stays-dry",
            what = what,
            arbor = arbor,
            count = count
        )
    };
    match dry {
        Dry::Teeth(meshes) => said("teeth", String::new(), meshes),
        Dry::Suspension => said("suspension", String::new(), 0),
        Dry::Fly(a) => said("fly", name(movement, a), 0),
        Dry::Rack => said("rack", String::new(), 0),
        Dry::CountWheel(a) => said("count-wheel", name(movement, a), 0),
        Dry::Bell => said("bell", String::new(), 0),
    }
}

/// When to come back.
pub fn back(locale: &Locale, plan: &OilPlan) -> String {
    let [look, again] = [&plan.look, &plan.again].map(|x| years(locale, x));
    say!(locale, "oil-back", look = look, again = again)
}

/// A short line at an arbor of the drawing: the number of its step and what goes there.
fn on_the_drawing(locale: &Locale, number: usize, step: &Step) -> String {
    format!("{number} {}", kind(locale, step.kind))
}

/// The lines under the drawing.
fn under_the_drawing(locale: &Locale, movement: &Movement, plan: &OilPlan) -> Vec<String> {
    let mut lines: Vec<String> = plan
        .steps
        .iter()
        .enumerate()
        .map(|(i, step)| format!("{}. {}", i + 1, one(locale, movement, step)))
        .collect();
    let stay = plan.dry.iter().map(|d| dry(locale, movement, *d));
    let stay: Vec<String> = stay.collect();
    lines.push(say!(locale, "oil-dry-all", all = locale.list(&stay)));
    lines.extend(kinds(locale, plan));
    lines.push(back(locale, plan));
    lines
}

/// Over the drawing.
fn heading(locale: &Locale, movement: &Movement) -> String {
    say!(locale, "oil-heading", name = movement.name())
}

/// The drawing to hang by the bench, with what its numbers mean beneath.
pub fn poster(locale: &Locale, oiled: &Oiled) -> Drawing {
    let lines = under_the_drawing(locale, &oiled.movement, &oiled.plan);
    let heading = heading(locale, &oiled.movement);
    draw::poster(&drawing(locale, oiled), &heading, &lines)
}

/// The movement with the number of its step at each place.
pub fn drawing(locale: &Locale, oiled: &Oiled) -> Drawing {
    let movement = &oiled.movement;
    let mut notes: Vec<Note> = Vec::new();
    for (i, step) in oiled.plan.steps.iter().enumerate() {
        if let Some(at) = step.place.arbor() {
            Note::add(&mut notes, at, on_the_drawing(locale, i + 1, step), false);
        }
    }
    let laid = layout(movement, &tasks::centres(movement, None));
    scene_with_notes(movement, &laid, View::of_sheet(movement), &notes)
}
