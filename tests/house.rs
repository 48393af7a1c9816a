//! The map is held against the manifests, what comes in from outside against the list of licences. A public name serves one type,
//! and no crate has files that name each other in a large circle.

mod circles;

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Component, Path, PathBuf};
use std::process::Command;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn metadata(more: &[&str]) -> Value {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--format-version", "1", "--locked"])
        .args(more)
        .current_dir(root())
        .output()
        .expect("cargo runs");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    serde_json::from_slice(&output.stdout).expect("cargo prints JSON")
}

/// The machine this runs on; what other machines would need may not have been fetched.
fn host() -> String {
    let output = Command::new("rustc")
        .arg("-vV")
        .output()
        .expect("rustc runs");
    let told = String::from_utf8_lossy(&output.stdout).into_owned();
    let host = told.lines().find_map(|line| line.strip_prefix("host: "));
    host.expect("rustc names its host").to_owned()
}

/// Names in a cell of the table, separated by commas.
fn names(cell: &str) -> BTreeSet<String> {
    cell.split(',')
        .map(|name| name.trim().trim_matches('`').to_owned())
        .filter(|name| !name.is_empty())
        .collect()
}

/// Each crate's allowed edges: normal ones, and those that only its tests may have.
fn table() -> BTreeMap<String, (BTreeSet<String>, BTreeSet<String>)> {
    let page = std::fs::read_to_string(root().join("ARCHITECTURE.md")).expect("the map");
    page.lines()
        .filter(|line| line.starts_with("| `"))
        .map(|line| {
            let cells: Vec<&str> = line.trim_matches('|').split('|').collect();
            let [name, _, may, tests] = cells[..] else {
                panic!("a row of four cells: {line}");
            };
            let name = name.trim().trim_matches('`').to_owned();
            (name, (names(may), names(tests)))
        })
        .collect()
}

#[test]
fn the_map_and_the_manifests_agree() {
    let table = table();
    let metadata = metadata(&["--no-deps"]);
    let packages = metadata["packages"].as_array().expect("packages");
    let ours: BTreeSet<String> = packages
        .iter()
        .filter_map(|package| package["name"].as_str().map(str::to_owned))
        .collect();
    assert_eq!(
        ours,
        table.keys().cloned().collect::<BTreeSet<_>>(),
        "every crate has its row, and every row its crate"
    );
    let mut unused: BTreeSet<(String, String)> = table
        .iter()
        .flat_map(|(name, (may, _))| may.iter().map(|to| (name.clone(), to.clone())))
        .collect();
    for package in packages {
        let name = package["name"].as_str().expect("name");
        let (may, tests) = &table[name];
        for dependency in package["dependencies"].as_array().expect("dependencies") {
            let to = dependency["name"].as_str().expect("name");
            if !ours.contains(to) {
                continue;
            }
            match dependency["kind"].as_str() {
                None => {
                    assert!(may.contains(to), "{name} may not name {to}");
                    assert_ne!(to, "fleet", "made-up movements are for tests only");
                    unused.remove(&(name.to_owned(), to.to_owned()));
                }
                Some("dev") => assert!(
                    may.contains(to) || tests.contains(to),
                    "tests of {name} may not name {to}"
                ),
                Some(kind) => panic!("{name} names {to} as a {kind} dependency"),
            }
        }
    }
    assert!(
        unused.is_empty(),
        "edges on the map that no manifest has: {unused:?}"
    );
}

#[test]
fn nothing_comes_in_under_a_licence_that_is_not_on_the_list() {
    let deny: toml::Table = std::fs::read_to_string(root().join("deny.toml"))
        .expect("deny.toml")
        .parse()
        .expect("TOML");
    let allowed: BTreeSet<&str> = deny["licenses"]["allow"]
        .as_array()
        .expect("a list")
        .iter()
        .filter_map(|licence| licence.as_str())
        .collect();
    let metadata = metadata(&["--filter-platform", &host()]);
    let mut seen = 0;
    for package in metadata["packages"].as_array().expect("packages") {
        if package["source"].is_null() {
            continue;
        }
        seen += 1;
        let (name, licence) = (&package["name"], package["license"].as_str().unwrap_or(""));
        let expression = spdx::Expression::parse_mode(licence, spdx::ParseMode::LAX)
            .unwrap_or_else(|error| panic!("{name}: `{licence}`: {error}"));
        let fits = expression.evaluate(|requirement| {
            requirement
                .license
                .id()
                .is_some_and(|id| allowed.contains(id.name))
        });
        assert!(
            fits,
            "{name} comes under `{licence}`, which is not on the list"
        );
    }
    assert!(seen > 20, "only {seen} packages looked at");
}

#[test]
fn the_samples_are_what_the_documents_say() {
    let page = std::fs::read_to_string(root().join("README.md")).expect("README");
    for word in page.split(|c: char| c.is_whitespace() || c == '`') {
        if word.starts_with("movements/") && word.ends_with(".toml") {
            assert!(root().join(word).exists(), "README names {word}");
        }
    }
}

/// Every file below a folder, by its place in it.
fn files(folder: &Path, below: &Path, found: &mut BTreeMap<PathBuf, Vec<u8>>) {
    for entry in std::fs::read_dir(folder.join(below)).expect("a folder") {
        let name = below.join(entry.expect("a file").file_name());
        let path = folder.join(&name);
        if path.is_dir() {
            files(folder, &name, found);
        } else {
            found.insert(name, std::fs::read(path).expect("a file"));
        }
    }
}

/// Where the contract is handed down beside the house, or one folder further up, the copy in it is the same.
#[test]
fn the_contract_in_the_house_is_the_one_that_holds() {
    let beside = ["..", "../.."].map(|up| root().join(up).join("shared/contract"));
    let Some(handed) = beside.iter().find(|folder| folder.is_dir()) else {
        println!("not tried: the contract is nowhere but in the house");
        return;
    };
    let all = |folder: &Path| {
        let mut found = BTreeMap::new();
        files(folder, Path::new(""), &mut found);
        found
    };
    let (holds, copied) = (all(handed), all(&root().join("docs/contract")));
    assert!(holds.len() > 1);
    let names = |of: &BTreeMap<PathBuf, Vec<u8>>| of.keys().cloned().collect::<Vec<_>>();
    assert_eq!(names(&copied), names(&holds));
    for (name, bytes) in &holds {
        assert!(copied[name] == *bytes, "docs/contract/{}", name.display());
    }
}

/// Two files may name each other: a type and what it is made of. More than two are one knot.
const MOST_IN_A_CIRCLE: usize = 2;

#[test]
fn no_files_of_a_crate_name_each_other_in_a_large_circle() {
    let crates = std::fs::read_dir(root().join("crates")).expect("crates");
    let mut looked_at = 0;
    for there in crates.flatten() {
        let files = circles::files(&there.path().join("src"));
        let found = circles::circles(&files, MOST_IN_A_CIRCLE);
        assert!(found.is_empty(), "{:?}: {found:?}", there.file_name());
        looked_at += files.len();
    }
    assert!(looked_at > 200, "only {looked_at} files looked at");
}

/// The public types of a crate's text: what `pub struct`, `enum`, `trait` or `type` gives a name; not those that a macro names.
fn public_types(text: &str) -> impl Iterator<Item = &str> {
    text.lines().filter_map(|line| {
        let line = line.trim_start().strip_prefix("pub ")?;
        let named = (["struct ", "enum ", "trait ", "type "].iter())
            .find_map(|keyword| line.strip_prefix(keyword))?;
        let mut words = named.split(|c: char| !c.is_alphanumeric() && c != '_');
        words.next().filter(|name| !name.is_empty())
    })
}

#[test]
fn a_name_of_a_public_type_serves_one_type() {
    assert_eq!(
        public_types(
            "pub struct Fly<'a> {\n    pub enum Cam(u8);\npub(crate) struct Pin;\npub fn fall() {}"
        )
        .collect::<Vec<_>>(),
        ["Fly", "Cam"]
    );
    let mut texts = BTreeMap::new();
    files(&root().join("crates"), Path::new(""), &mut texts);
    let mut where_it_stands: BTreeMap<String, BTreeSet<PathBuf>> = BTreeMap::new();
    for (path, text) in &texts {
        let in_src = path.components().nth(1) == Some(Component::Normal("src".as_ref()));
        if in_src && path.extension().is_some_and(|e| e == "rs") {
            for name in public_types(&String::from_utf8_lossy(text)) {
                let there = where_it_stands.entry(name.to_owned()).or_default();
                assert!(there.insert(path.clone()), "{name} twice in {path:?}");
            }
        }
    }
    assert!(where_it_stands.len() > 300, "{}", where_it_stands.len());
    where_it_stands.retain(|_, there| there.len() > 1);
    assert!(where_it_stands.is_empty(), "{where_it_stands:#?}");
}

#[test]
fn a_planted_circle_is_found() {
    let place =
        |path: &str| -> Vec<String> { path.split_whitespace().map(str::to_owned).collect() };
    let house = |texts: &[(&str, &str)]| -> circles::Files {
        let texts = texts.iter();
        texts
            .map(|(path, text)| (place(path), circles::code(text)))
            .collect()
    };
    // By a tree, through the crate's face, and by a path alone; from the fourth no way leads back.
    let root = ("", "\nmod wheel;\npub use pinion::{Leaf, fly as fan};\n");
    let wheel = (
        "wheel",
        "\nuse crate::{Leaf as Leaves,\n    plate::{self}};\n",
    );
    let pinion = (
        "pinion",
        "\nuse std::fmt;\nuse super::arbor::pivot::{Depth};\n",
    );
    let pivot = ("arbor pivot", "\nfn turn() { crate::wheel::turn(); }\n");
    let plate = (
        "plate",
        "\n//! use crate::wheel;\n#[cfg(test)]\nmod tests { use crate::wheel; }\n",
    );
    let arbor = ("arbor", "\nmod pivot;\n");
    let found = circles::circles(&house(&[root, wheel, pinion, pivot, plate, arbor]), 2);
    let knot = ["wheel", "pinion", "arbor pivot"].map(place);
    assert_eq!(found, [knot.into()].into());
    // All that the face hands on, where it is named.
    let all = ("arbor pivot", "\nuse crate::*;\nfn turn(_: Leaf) {}\n");
    let found = circles::circles(&house(&[root, pinion, all, arbor]), 1);
    assert_eq!(found, [["pinion", "arbor pivot"].map(place).into()].into());
    // Opened at any place it is none.
    let open = ("arbor pivot", "\nfn turn() {}\n");
    let found = circles::circles(&house(&[root, wheel, pinion, open, plate, arbor]), 1);
    assert!(found.is_empty(), "{found:?}");
}
