//! The repairer's record: the whole log, the drawings to scale, the sheet.

use crate::{Links, Record, page, put_right, ran};
use entries::{Entry, EntryContent, EntryKind, Work};
use maud::html;
use report::say;
use std::collections::BTreeSet;

/// Whether the sheet that an entry tells of is told in the same words by the next one, on the same day: questions answered one after
/// another say nothing each.
fn said_again(record: &Record<'_>, nth: usize) -> bool {
    let entries = record.log.entries();
    let is_sheet = |entry: &Entry| matches!(entry.work(), Some(Work::Sheet { .. }));
    let (Some(own), Some(next)) = (entries.get(nth), entries.get(nth + 1)) else {
        return false;
    };
    is_sheet(own) && is_sheet(next) && own.at == next.at && record.told[nth] == record.told[nth + 1]
}

/// The record that the next repairer wants.
pub fn repairers(record: &Record<'_>, links: Links<'_>) -> String {
    let locale = &record.locale;
    let counts: BTreeSet<usize> = record.log.standing().map(|entry| entry.n).collect();
    let mended = put_right(record.log);
    let pictures: Vec<_> = (record.log.standing())
        .filter_map(|entry| Some((entry.n, entry.work()?.picture()?)))
        .collect();
    let body = html! {
        section {
            h2 { (say!(locale, "record-log")) }
            ol.entries {
                @for (nth, (entry, told)) in record.log.entries().iter().zip(record.told).enumerate() {
                    @if !matches!(entry.told, EntryContent::Known(EntryKind::Undo { .. })) && !said_again(record, nth) {
                        li value=(entry.n) {
                            @if let Some(at) = &entry.at { time { (at) } " " }
                            @if counts.contains(&entry.n) { (told) } @else {
                                s { (told) } " "
                                @if mended.contains(&entry.n) { (say!(locale, "log-mended")) } @else { (say!(locale, "log-taken-back")) }
                            }
                        }
                    }
                }
            }
        }
        section { h2 { (say!(locale, "record-ran")) } (ran::plot(record)) }
        @if let Some(plan) = &record.oil.plan { p.on-screen { a href=(plan) { (say!(locale, "record-oil-plan")) } } }
        @for plate in record.plates { (plate.markup(locale)) }
        @if !pictures.is_empty() {
            section {
                h2 { (say!(locale, "record-pictures")) }
                div.pictures {
                    @for (n, digest) in pictures {
                        figure {
                            img src=((record.picture)(digest)) alt=(say!(locale, "record-picture-of", n = n));
                            figcaption { (n) }
                        }
                    }
                }
            }
        }
        @if !record.sheet.is_empty() {
            section.sheet { h2 { (say!(locale, "record-sheet")) } pre { (record.sheet) } }
        }
    };
    page(record, links, &say!(locale, "record-repairer"), &body)
}
