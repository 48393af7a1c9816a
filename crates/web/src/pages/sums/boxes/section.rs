//! How boxes look: what each is for with its drawing, its unit beside it, what was typed, what is wrong, and *don't know*.

use super::told::{ASKED, BoxesTold, DRIVES, Offered};
use crate::fields::Question;
use crate::form::{along, query};
use crate::pages::sums::page::Sum;
use crate::speech::UNITS;
use maud::{Markup, PreEscaped, html};
use report::{boxes, say};
use tasks::{BoxFaultKind, BoxesFor, DriveChosen, MeasureBox};

/// All boxes of a page, those that lack something first.
pub(super) fn section(
    sum: &Sum,
    asked: &Question<'_>,
    offered: &Offered,
    told: &BoxesTold,
) -> Markup {
    let locale = asked.locale();
    if offered.boxes.is_empty() && offered.undriven.is_empty() {
        return html! {};
    }
    let unknown = |of: &MeasureBox| {
        let name = of.name();
        (asked.fields.all()).any(|(field, value)| field == "unknown" && value == name)
    };
    let (lacking, others): (Vec<&MeasureBox>, Vec<&MeasureBox>) =
        (offered.boxes.iter()).partition(|of| of.stands.is_none() && !unknown(of));
    // Where a page needs none of them they wait to be unfolded.
    let folded = matches!(sum.boxes, BoxesFor::Counts | BoxesFor::Oil) && told.typed.is_none();
    let action = format!("/job/{}/{}/put#boxes", asked.job.id, sum.word);
    let carried: Vec<(String, String)> = (asked.fields.all())
        .map(|(name, value)| (format!("{ASKED}{name}"), value.to_owned()))
        .collect();
    let carried = carried.iter().map(|(name, value)| (&**name, &**value));
    html! {
        section.boxes #boxes aria-labelledby="boxes-heading" {
            h2 #boxes-heading { (say!(locale, "box-heading")) }
            @if let Some(says) = &told.says { p.refused role="alert" { (says) } }
            @for undriven in &offered.undriven { (chooser(asked, &undriven.0)) }
            @if !offered.boxes.is_empty() {
                form method="post" action=(action) data-boxes novalidate {
                    input type="hidden" name="entries" value=(asked.job.entries());
                    (along(carried))
                    p.quiet { (say!(locale, "box-how")) }
                    @if folded {
                        details { summary { (say!(locale, "sum-lacking")) } (groups(asked, &lacking, told)) }
                    } @else { (groups(asked, &lacking, told)) }
                    @if !others.is_empty() {
                        details open[others.iter().any(|of| is_typed(of, told))] {
                            summary { (say!(locale, "box-measured")) }
                            (groups(asked, &others, told))
                        }
                    }
                    div.ends {
                        button.primary { (say!(locale, "box-put-in")) }
                        @for (word, units) in UNITS {
                            @if units != locale.units() {
                                button.plain name="units" value=(word) {
                                    @if word == "in" { (say!(locale, "box-unit-in")) } @else { (say!(locale, "box-unit-mm")) }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// What drives an arbor of which nothing is measured yet: a touch each.
fn chooser(asked: &Question<'_>, arbor: &str) -> Markup {
    let locale = asked.locale();
    let name = report::page::named(arbor);
    html! {
        div.drives role="group" aria-label=(say!(locale, "box-drives", arbor = name.clone())) {
            p { (say!(locale, "box-drives", arbor = name)) }
            @for (word, _) in DriveChosen::ALL {
                @let field = format!("{DRIVES}{arbor}");
                @let onward = query(asked.fields.all().chain([(&*field, word)]));
                a.button href=(format!("?{onward}#boxes")) { (say!(locale, "box-drive", drive = word)) }
            }
        }
    }
}

fn is_typed(of: &MeasureBox, told: &BoxesTold) -> bool {
    let name = of.name();
    (told.typed.as_ref()).is_some_and(|typed| typed.get(&name).is_some())
}

/// Boxes by the arbor or mesh that they are of.
fn groups(asked: &Question<'_>, boxes: &[&MeasureBox], told: &BoxesTold) -> Markup {
    html! {
        @for group in boxes.chunk_by(|one, other| one.at == other.at) {
            @if let Some(first) = group.first() {
                fieldset {
                    legend { (boxes::group(asked.locale(), &first.at)) }
                    div.measures { @for of in group { (measure(asked, of, told)) } }
                }
            }
        }
    }
}

fn measure(asked: &Question<'_>, of: &MeasureBox, told: &BoxesTold) -> Markup {
    let locale = asked.locale();
    let (name, thing) = (of.name(), boxes::thing(locale, of));
    let holds = of.thing.holds();
    let unit = match boxes::unit(locale, holds) {
        "deg" => "°",
        unit => unit,
    };
    let typed = told.typed.as_ref().and_then(|typed| typed.get(&name));
    let fault = told.faults.iter().find(|fault| fault.name == name);
    let asks = fault.is_some_and(|fault| matches!(fault.why, BoxFaultKind::Unusual(_)));
    let (fault_id, unit_id) = (format!("{name}.fault"), format!("{name}.unit"));
    let described = match fault {
        Some(_) => format!("{unit_id} {fault_id}"),
        None => unit_id.clone(),
    };
    html! {
        div.measure {
            div.gauge role="img" aria-label=(say!(locale, "box-drawing", thing = thing.clone())) {
                (PreEscaped(boxes::drawn(of.thing).svg()))
            }
            label for=(name) { (thing) }
            div.typed {
                input id=(name) type="text" name=(name) value=[typed] maxlength=(quantity::MOST_TYPED) autocomplete="off"
                    autocapitalize="off" spellcheck="false" aria-invalid=[fault.map(|_| "true")] aria-describedby=(described);
                span id=(unit_id) { (unit) }
            }
            @if let Some(fault) = fault {
                p.refused id=(fault_id) { (boxes::box_fault(locale, of, &fault.why)) }
            }
            @if asks {
                label.check { input type="checkbox" name=(format!("{name}.sure")) value="yes"; span { (say!(locale, "box-sure")) } }
            }
            @if let Some(stands) = &of.stands {
                p.quiet { (say!(locale, "box-stands", amount = boxes::amount_known(locale, holds, stands, of.spread.as_ref()))) }
            } @else {
                label.check { input type="checkbox" name=(format!("{name}.unknown")) value="yes"; span { (say!(locale, "box-unknown")) } }
            }
        }
    }
}
