//! What may be entered at each stage: plain forms, each with what was typed where it was refused. What they tell is [`told`]'s.

pub(super) mod told;

use crate::desk::Whole;
use crate::form::said::{lenient, number};
use crate::form::{FieldFault, Fields, LONGEST, label};
use entries::{Decimal, Entry, EntryContent, EntryKind, Occasion, Stage, Striking, Unit, Work};
use maud::{Markup, html};
use report::work::{occasion, unit_words};
use report::{Locale, say};
use serde::Deserialize;

/// What was just entered stands under this name.
pub(crate) const ENTERED: &str = "entered";

/// The fold in which it is handed back stands under this name.
pub(crate) const HANDED_BACK: &str = "handed-back";

/// A form for one kind of entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Form {
    Intake,
    Measurement,
    Found,
    Fitted,
    Oil,
    TrialRun,
    Note,
    HandedBack,
}

impl Form {
    fn kind(self) -> &'static str {
        match self {
            Form::Intake => "intake",
            Form::Measurement => "measurement",
            Form::Found => "found",
            Form::Fitted => "fitted",
            Form::Oil => "oil",
            Form::TrialRun => "trial-run",
            Form::Note => "note",
            Form::HandedBack => "handed-back",
        }
    }

    fn name(self, locale: &Locale) -> String {
        match self {
            Form::Intake => say!(locale, "enter-intake"),
            Form::Measurement => say!(locale, "enter-measurement"),
            Form::Found => say!(locale, "enter-found"),
            Form::Fitted => say!(locale, "enter-fitted"),
            Form::Oil => say!(locale, "enter-oil"),
            Form::TrialRun => say!(locale, "enter-trial-run"),
            Form::Note => say!(locale, "enter-note"),
            Form::HandedBack => say!(locale, "enter-handed-back"),
        }
    }

    /// The form that an entry is put right with.
    pub(crate) fn of(work: Option<&Work>) -> Option<Form> {
        Some(match work? {
            Work::Intake { .. } => Form::Intake,
            Work::Measurement { .. } => Form::Measurement,
            Work::Found { .. } => Form::Found,
            Work::Fitted { .. } => Form::Fitted,
            Work::Oil { .. } => Form::Oil,
            Work::TrialRun { .. } => Form::TrialRun,
            Work::Note { .. } => Form::Note,
            Work::HandedBack { .. } => Form::HandedBack,
            _ => return None,
        })
    }

    /// What is entered at a stage, what is most wanted there first.
    fn at(stage: Stage) -> &'static [Form] {
        match stage {
            Stage::In => &[
                Form::Measurement,
                Form::Found,
                Form::TrialRun,
                Form::Intake,
                Form::Note,
            ],
            Stage::Down => &[Form::Found, Form::Note],
            Stage::Look => &[Form::Found, Form::Fitted, Form::Measurement, Form::Note],
            Stage::Together => &[Form::Oil, Form::Fitted, Form::Note],
            Stage::Prove => &[Form::TrialRun, Form::Fitted, Form::Note],
            Stage::Rate => &[Form::TrialRun, Form::Measurement, Form::Oil, Form::Note],
            Stage::Out => &[Form::HandedBack, Form::TrialRun, Form::Oil, Form::Note],
        }
    }
}

/// Whether an entry cannot be taken back, or is taken back where it was made.
pub(crate) fn lasting(entry: &Entry) -> bool {
    matches!(
        entry.work(),
        Some(Work::Removal { .. } | Work::Lesson { .. })
    )
}

/// What the forms have in them: one that was refused, an entry that is put right, one that was just made.
#[derive(Deserialize)]
struct Asked {
    #[serde(deserialize_with = "lenient")]
    kind: Option<Form>,
    #[serde(deserialize_with = "number")]
    of: Option<usize>,
    #[serde(deserialize_with = "number")]
    right: Option<usize>,
    #[serde(deserialize_with = "number")]
    entered: Option<usize>,
}

/// The forms of a stage: pictures, and one for each kind of entry. One that is put right stands first, filled in.
pub(crate) fn forms(job: &Whole, stage: Stage, fields: &Fields) -> Result<Markup, FieldFault> {
    let locale = &job.locale;
    let asked: Asked = fields.read()?;
    // What was refused stands there again as it was typed.
    let again = asked.kind;
    let wrong = again.and(asked.of);
    let right = asked.right.or(wrong).and_then(|n| {
        let entry = job.state.log.entries().get(n.checked_sub(1)?)?;
        Some((n, Form::of(entry.work())?, entry.work()?))
    });
    let typed = again.map(|_| fields);
    let fresh = again.filter(|_| wrong.is_none());
    let at = At { job, stage };
    let wants_sheet = stage == Stage::In || job.state.sheet.is_none();
    let entered = asked.entered.and_then(|n| Entered::of(job, n));
    let mut offered = Form::at(stage).to_vec();
    if job.state.way.home {
        // It can come in again, and not go home twice.
        offered.retain(|form| !matches!(form, Form::HandedBack | Form::Intake));
        offered.insert(0, Form::Intake);
    }
    // What was put right, or has no form of its own here, is confirmed above them all.
    let below = |beside: Beside| match beside {
        Beside::Picture => true,
        Beside::Form(form) => offered.contains(&form),
        Beside::Sheet => wants_sheet,
        Beside::None => false,
    };
    let hands_back = |form: Form| form == Form::HandedBack;
    let confirmed = |beside| entered.as_ref().filter(|entered| entered.beside == beside);
    Ok(html! {
        section.enter aria-labelledby="enter" {
            h2 #enter { (say!(locale, "enter")) }
            @if let Some(entered) = entered.as_ref().filter(|entered| !below(entered.beside)) { (entered.markup(job, stage)) }
            @if let Some((n, form, work)) = right {
                div #right.right { h3 { (say!(locale, "enter-right", n = n)) } (at.form(form, Filled { right: Some((n, work)), typed })) }
            }
            @if let Some(entered) = confirmed(Beside::Picture) { (entered.markup(job, stage)) }
            (at.pictures())
            @for form in &offered {
                @let typed = typed.filter(|_| fresh == Some(*form));
                @let entered = confirmed(Beside::Form(*form));
                @if let Some(entered) = entered { (entered.markup(job, stage)) }
                details id=[hands_back(*form).then_some(HANDED_BACK)] open[typed.is_some() || entered.is_some() || hands_back(*form)] {
                    summary { (form.name(locale)) } (at.form(*form, Filled { right: None, typed }))
                }
            }
            @if let Some(entered) = confirmed(Beside::Sheet) { (entered.markup(job, stage)) }
            @if wants_sheet { (at.sheet(fields.get("sheet"))) }
        }
    })
}

/// The form beside which an entry was made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Beside {
    Picture,
    Form(Form),
    Sheet,
    None,
}

/// An entry that was just made.
struct Entered {
    n: usize,
    says: String,
    beside: Beside,
}

impl Entered {
    /// The entry of a number, where there is one that counts.
    fn of(job: &Whole, n: usize) -> Option<Entered> {
        let entry = job.state.log.standing().find(|entry| entry.n == n)?;
        let beside = match (&entry.told, entry.work()?) {
            (EntryContent::Known(EntryKind::Work(Work::Correction { .. })), _) => Beside::None,
            (_, Work::Picture { .. }) => Beside::Picture,
            (_, Work::Sheet { .. }) => Beside::Sheet,
            (_, work) => Form::of(Some(work)).map_or(Beside::None, Beside::Form),
        };
        let says = job.entry_texts().into_iter().nth(n.checked_sub(1)?)?;
        Some(Entered { n, says, beside })
    }

    /// What was entered, and that it can be taken back.
    fn markup(&self, job: &Whole, stage: Stage) -> Markup {
        let locale = &job.locale;
        html! {
            form #(ENTERED).entered role="status" method="post" action=(format!("/job/{}/take-back", job.id)) data-whole {
                input type="hidden" name="entries" value=(job.entries());
                input type="hidden" name="stage" value=(stage.word());
                input type="hidden" name="of" value=(self.n);
                p { (say!(locale, "entered", n = self.n, says = self.says.as_str())) }
                button.plain aria-label=(say!(locale, "way-number", what = say!(locale, "way-take-back"), n = self.n)) { (say!(locale, "way-take-back")) }
            }
        }
    }
}

/// What a form stands filled with: an entry that is put right, or what was typed and refused.
#[derive(Clone, Copy)]
struct Filled<'a> {
    right: Option<(usize, &'a Work)>,
    typed: Option<&'a Fields>,
}

impl Filled<'_> {
    fn value(&self, name: &str) -> Option<String> {
        match (self.typed, self.right) {
            (Some(typed), _) => typed.get(name).map(str::to_owned),
            (None, Some((_, work))) => value(work, name),
            (None, None) => None,
        }
    }
}

/// The job and the stage at which its page is looked at.
struct At<'a> {
    job: &'a Whole,
    stage: Stage,
}

impl At<'_> {
    /// What every form sends along.
    fn hidden(&self) -> Markup {
        html! {
            input type="hidden" name="entries" value=(self.job.entries());
            input type="hidden" name="stage" value=(self.stage.word());
        }
    }

    /// Pictures are carried off as they are, and read by the program.
    fn pictures(&self) -> Markup {
        let locale = &self.job.locale;
        let usual = match self.stage {
            Stage::In => Occasion::Before,
            Stage::Out => Occasion::After,
            _ => Occasion::During,
        };
        html! {
            details {
                summary { (say!(locale, "enter-picture")) }
                form.row method="post" action=(format!("/job/{}/picture", self.job.id)) enctype="multipart/form-data" data-whole {
                    (self.hidden())
                    label { span { (label(locale, "picture")) } input type="file" name="picture" accept="image/jpeg,image/png,image/webp" required; }
                    label { span { (label(locale, "when")) }
                        select name="when" {
                            @for when in Occasion::ALL {
                                option value=(when.word()) selected[when == usual] { (occasion(locale, when)) }
                            }
                        }
                    }
                    (text("says", &say!(locale, "enter-picture-says"), None, false))
                    button { (say!(locale, "enter")) }
                }
            }
        }
    }

    /// The sheet as it is known now, to be mended; or as it was typed.
    fn sheet(&self, typed: Option<&str>) -> Markup {
        let locale = &self.job.locale;
        html! {
            details #sheet open[typed.is_some() || self.job.state.sheet.is_none()] {
                summary { (say!(locale, "enter-sheet")) }
                form.whole-sheet method="post" action=(format!("/job/{}/sheet", self.job.id)) data-whole {
                    (self.hidden())
                    label { span { (say!(locale, "sheet")) } textarea name="sheet" rows="14" spellcheck="false" required { (typed.unwrap_or(&self.job.sheet)) } }
                    button { (say!(locale, "enter")) }
                }
            }
        }
    }

    fn form(&self, form: Form, filled: Filled<'_>) -> Markup {
        html! {
            form.row method="post" action=(format!("/job/{}/enter", self.job.id)) data-whole {
                (self.hidden())
                input type="hidden" name="kind" value=(form.kind());
                @if let Some((n, _)) = filled.right { input type="hidden" name="of" value=(n); }
                (form.fields(&self.job.locale, filled))
                button { (say!(self.job.locale, "enter")) }
            }
        }
    }
}

/// A line of text.
fn text(name: &str, label: &str, value: Option<&str>, needed: bool) -> Markup {
    html! {
        label { span { (label) } input type="text" name=(name) value=[value] maxlength=(LONGEST) required[needed]; }
    }
}

impl Form {
    fn fields(self, locale: &Locale, filled: Filled<'_>) -> Markup {
        let line = |name: &str, needed: bool| {
            let value = filled.value(name);
            text(name, &label(locale, name), value.as_deref(), needed)
        };
        let says = |label: String, needed: bool| {
            text("says", &label, filled.value("says").as_deref(), needed)
        };
        html! {
            @match self {
                Form::Intake => (intake(locale, filled, true)),
                Form::Measurement => {
                    (line("what", true))
                    (line("value", true))
                    label { span { (label(locale, "unit")) }
                        @let chosen = filled.value("unit").unwrap_or_else(|| usual_unit(locale).word().to_owned());
                        select name="unit" {
                            @for unit in Unit::ALL { option value=(unit.word()) selected[chosen == unit.word()] { (unit_words(locale, unit)) } }
                        }
                    }
                    (line("spread", false))
                }
                Form::Found => {
                    (line("part", true))
                    (says(say!(locale, "enter-found-says"), true))
                }
                Form::Fitted => {
                    (line("part", true))
                    (says(say!(locale, "enter-fitted-says"), false))
                }
                Form::Oil => {
                    (line("place", true))
                    (line("oil", true))
                }
                Form::TrialRun => {
                    (line("hours", true))
                    (line("rate", false))
                    (line("beat", false))
                    (line("arc", false))
                    label { span { (say!(locale, "enter-struck")) }
                        @let struck = filled.value("struck");
                        select name="struck" {
                            option value="" { (say!(locale, "enter-struck-unheard")) }
                            option value="right" selected[struck.as_deref() == Some("right")] { (say!(locale, "enter-struck-right")) }
                            option value="wrong" selected[struck.as_deref() == Some("wrong")] { (say!(locale, "enter-struck-wrong")) }
                        }
                    }
                    (line("says", false))
                }
                Form::Note => (line("says", true)),
                Form::HandedBack => {
                    (line("to", false))
                    (line("says", false))
                }
            }
        }
    }
}

/// What is asked of a clock that comes in. Where its sheet may name it, it needs no name.
fn intake(locale: &Locale, filled: Filled<'_>, needs_name: bool) -> Markup {
    let line = |name: &str, needed: bool| {
        let value = filled.value(name);
        text(name, &label(locale, name), value.as_deref(), needed)
    };
    html! {
        (line("clock", needs_name))
        (line("complaint", false))
        (line("owner", false))
        (line("reach", false))
        label { span { (label(locale, "promised")) } input type="date" name="promised" value=[filled.value("promised")]; }
    }
}

/// The same for another clock, with what was typed of it before.
pub(crate) fn another(locale: &Locale, typed: &Fields) -> Markup {
    let filled = Filled {
        right: None,
        typed: Some(typed),
    };
    intake(locale, filled, false)
}

fn usual_unit(locale: &Locale) -> Unit {
    match locale.units() {
        report::Units::Inch => Unit::In,
        report::Units::Millimetre => Unit::Mm,
    }
}

/// What an entry has in a field of its form.
fn value(work: &Work, name: &str) -> Option<String> {
    let said = |text: &entries::KeptText| text.here().cloned();
    let also = |text: &Option<entries::KeptText>| text.as_ref().and_then(said);
    let figure = |figure: &Option<Decimal>| figure.as_ref().map(|f| f.text().to_owned());
    match (work, name) {
        (Work::Intake { clock, .. }, "clock") => said(clock),
        (Work::Intake { complaint, .. }, "complaint") => also(complaint),
        (Work::Intake { owner, .. }, "owner") => also(owner),
        (Work::Intake { reach, .. }, "reach") => also(reach),
        (Work::Intake { promised, .. }, "promised") => promised.map(|day| day.to_string()),
        (Work::Measurement { what, .. }, "what") => said(what),
        (Work::Measurement { value, .. }, "value") => Some(value.text().to_owned()),
        (Work::Measurement { unit, .. }, "unit") => Some(unit.word().to_owned()),
        (Work::Measurement { spread, .. }, "spread") => figure(spread),
        (Work::Found { part, .. } | Work::Fitted { part, .. }, "part") => said(part),
        (Work::Found { says, .. } | Work::Note { says }, "says") => said(says),
        (
            Work::Fitted { says, .. } | Work::TrialRun { says, .. } | Work::HandedBack { says, .. },
            "says",
        ) => also(says),
        (Work::Oil { place, .. }, "place") => said(place),
        (Work::Oil { oil, .. }, "oil") => said(oil),
        (Work::TrialRun { hours, .. }, "hours") => Some(hours.text().to_owned()),
        (Work::TrialRun { rate_s_per_day, .. }, "rate") => figure(rate_s_per_day),
        (Work::TrialRun { beat_error_ms, .. }, "beat") => figure(beat_error_ms),
        (Work::TrialRun { arc_deg, .. }, "arc") => figure(arc_deg),
        (Work::TrialRun { struck, .. }, "struck") => struck.map(|s| struck_word(s).to_owned()),
        (Work::HandedBack { to, .. }, "to") => also(to),
        _ => None,
    }
}

fn struck_word(struck: Striking) -> &'static str {
    match struck {
        Striking::Right => "right",
        Striking::Wrong => "wrong",
    }
}

#[cfg(test)]
mod tests {
    use super::{Asked, Form, told};
    use crate::form::Fields;
    use entries::Stage;

    #[test]
    fn a_form_tells_the_entry_that_it_is_put_right_with() {
        let texts = ["clock", "what", "part", "says", "place", "oil"];
        let filled = (texts.into_iter()).fold(Fields::default(), |all, name| all.with(name, "x"));
        let figures = [("value", "1"), ("unit", "mm"), ("hours", "12")];
        let filled = (figures.into_iter()).fold(filled, |all, (name, typed)| all.with(name, typed));
        for form in Stage::ALL.into_iter().flat_map(Form::at) {
            let sent = filled.clone().with("kind", form.kind());
            let asked: Asked = sent.read().expect("nothing of it is refused");
            assert_eq!(asked.kind, Some(*form), "it is known again");
            let work = told::work(&sent).expect("nothing of it is refused");
            assert_eq!(Form::of(Some(&work)), Some(*form));
        }
    }
}
