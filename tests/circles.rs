//! Files of one crate that name each other in a loop, read from what they `use` and from paths written out.
//!
//! A face that only hands a name on (`pub use`) is passed through to the file that the name comes from. Methods are not seen: they
//! are found by their types, wherever they are written.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// A module's place in its crate; the root has none.
type Place = Vec<String>;

/// A crate: what each of its modules' files says, without remarks, texts and tests.
pub(crate) type Files = BTreeMap<Place, String>;

fn words(path: &str) -> Vec<String> {
    let parts = path.split("::").map(str::trim);
    parts.filter(|p| !p.is_empty()).map(str::to_owned).collect()
}

/// The files below a crate's `src`.
pub(crate) fn files(src: &Path) -> Files {
    let mut files = Files::new();
    let mut folders = vec![(src.to_owned(), Vec::new())];
    while let Some((folder, place)) = folders.pop() {
        for there in std::fs::read_dir(&folder).expect("a folder").flatten() {
            let path = there.path();
            let stem = path.file_stem().expect("a name").to_string_lossy();
            let mut place = place.clone();
            if !["lib", "main", "mod"].contains(&&*stem) {
                place.push(stem.into_owned());
            }
            if path.is_dir() {
                folders.push((path, place));
            } else if path.extension().is_some_and(|end| end == "rs") {
                let text = std::fs::read_to_string(&path).expect("a text");
                files.insert(place, code(&text));
            }
        }
    }
    files
}

/// A file's text without remarks and without its tests, which stand last.
pub(crate) fn code(text: &str) -> String {
    let text = text.split("#[cfg(test)]\nmod ").next().unwrap_or_default();
    let told = |line: &&str| !line.trim_start().starts_with("//");
    text.lines().filter(told).collect::<Vec<_>>().join("\n")
}

/// Every path that a tree of `use` comes to, and the name that it has from then on.
fn branches(tree: &str, stem: &[String], into: &mut Vec<(Vec<String>, String)>) {
    let Some((head, rest)) = tree.split_once('{') else {
        let (path, name) = tree.split_once(" as ").unwrap_or((tree, ""));
        let mut path = [stem, &words(path)].concat();
        path.pop_if(|last| last == "self");
        let name = Some(name.trim().to_owned()).filter(|name| !name.is_empty());
        let name = name.or_else(|| path.last().cloned());
        return into.extend(name.map(|name| (path, name)));
    };
    let stem = [stem, &words(head)].concat();
    let (mut depth, mut from) = (0, 0);
    let rest = &rest[..rest.rfind('}').unwrap_or(rest.len())];
    for (at, c) in rest.char_indices().chain([(rest.len(), ',')]) {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 0 => {
                if !rest[from..at].trim().is_empty() {
                    branches(&rest[from..at], &stem, into);
                }
                from = at + 1;
            }
            _ => {}
        }
    }
}

/// A path from the crate's root, of one that is written in the module at `place`.
fn from_root(files: &Files, place: &[String], path: &[String]) -> Option<Place> {
    let above = path.iter().take_while(|part| *part == "super").count();
    match path.first()?.as_str() {
        "crate" => Some(path[1..].to_vec()),
        "super" => Some([place.get(..place.len() - above)?, &path[above..]].concat()),
        "self" => Some([place, &path[1..]].concat()),
        first => (files.contains_key(&[place, &[first.to_owned()]].concat()))
            .then(|| [place, path].concat()),
    }
}

/// For each module what it hands on by which name, and the paths that it names.
type Named = (BTreeMap<String, Place>, BTreeSet<Place>);

fn named(files: &Files, place: &Place) -> Named {
    let (mut handed_on, mut paths) = Named::default();
    let pieces = files[place].split(';');
    let mut rest = String::new();
    for piece in pieces {
        let line = piece.rfind("\nuse ").or_else(|| piece.rfind("\npub use "));
        let line = line.or_else(|| piece.rfind("\npub(crate) use "));
        let (before, using) = piece.split_at(line.unwrap_or(piece.len()));
        rest += before;
        let Some((public, tree)) = using.split_once("use ") else {
            continue;
        };
        let mut all = Vec::new();
        branches(tree, &[], &mut all);
        for (path, name) in all {
            let Some(path) = from_root(files, place, &path) else {
                continue;
            };
            if public.trim().is_empty() {
                paths.insert(path);
            } else {
                handed_on.insert(name, path);
            }
        }
    }
    let part = |c: char| c.is_alphanumeric() || c == '_' || c == ':';
    let written = rest.split(|c: char| !part(c)).filter(|w| w.contains("::"));
    paths.extend(written.filter_map(|w| from_root(files, place, &words(w))));
    (handed_on, paths)
}

/// The circles of more than `most` files.
pub(crate) fn circles(files: &Files, most: usize) -> BTreeSet<BTreeSet<Place>> {
    let named: BTreeMap<&Place, Named> = files.keys().map(|p| (p, named(files, p))).collect();
    let home = |path: &Place| -> Place {
        let mut path = path.clone();
        loop {
            let known = (0..=path.len())
                .rev()
                .find(|n| files.contains_key(&path[..*n]));
            let (module, rest) = path.split_at(known.unwrap_or(0));
            let further = named.get(&module.to_vec()).zip(rest.first());
            match further.and_then(|((handed_on, _), name)| handed_on.get(name)) {
                Some(to) if *to != path => path = [to, &rest[1..]].concat(),
                _ => return module.to_vec(),
            }
        }
    };
    let arrows = |from: &Place| -> BTreeSet<Place> {
        let word = |name: &&String| {
            let mut words = files[from].split(|c: char| !c.is_alphanumeric() && c != '_');
            words.any(|word| word == *name)
        };
        // All that a face hands on: what of it is named.
        let (all, plain): (Vec<_>, Vec<_>) =
            (named[from].1.iter()).partition(|path| path.last().is_some_and(|last| last == "*"));
        let faces = all
            .iter()
            .filter_map(|path| named.get(&path[..path.len() - 1].to_vec()));
        let through = faces.flat_map(|(handed_on, _)| handed_on.keys().filter(word));
        let through = through.map(|name| home(&vec![name.clone()]));
        plain
            .into_iter()
            .map(home)
            .chain(through)
            .filter(|to| to != from)
            .collect()
    };
    let arrows: BTreeMap<&Place, BTreeSet<Place>> = files.keys().map(|p| (p, arrows(p))).collect();
    let reached = |from: &Place| -> BTreeSet<Place> {
        let (mut seen, mut next) = (BTreeSet::new(), vec![from.clone()]);
        while let Some(at) = next.pop() {
            next.extend(
                arrows[&at]
                    .iter()
                    .filter(|to| seen.insert((*to).clone()))
                    .cloned(),
            );
        }
        seen
    };
    let reached: BTreeMap<&Place, BTreeSet<Place>> =
        files.keys().map(|p| (p, reached(p))).collect();
    let circle = |of: &Place| -> BTreeSet<Place> {
        let both = reached[of].iter().filter(|to| reached[*to].contains(of));
        both.cloned().collect()
    };
    files
        .keys()
        .map(circle)
        .filter(|circle| circle.len() > most)
        .collect()
}
