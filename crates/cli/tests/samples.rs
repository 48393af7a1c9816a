//! The sample sheets check clean, and what is odd about a sheet that is spoiled a little is warned of.

#[test]
fn every_sample_checks_clean() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../movements");
    let mut names = Vec::new();
    for entry in std::fs::read_dir(folder).expect("samples") {
        let path = entry.expect("a file").path();
        if path.ends_with("attic.toml") {
            // Counts are missing on it.
            let open = sheet::read_open(&std::fs::read(&path).expect("read")).expect("good");
            assert_eq!(open.blanks().len(), 3);
            continue;
        }
        let sheet = sheet::read(&std::fs::read(&path).expect("read")).expect("good");
        let name = path
            .file_stem()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        let expected = usize::from(name == "lattice");
        assert_eq!(
            sheet.warnings.len(),
            expected,
            "{name}: {:?}",
            sheet.warnings
        );
        names.push(name);
    }
    names.sort();
    assert_eq!(
        names,
        [
            "cutter",
            "four_nuts",
            "gallery",
            "halfpast",
            "lattice",
            "loft",
            "mantel",
            "parlour",
            "pin_at_the_top",
            "porter",
            "quarters",
            "quay",
            "schoolroom",
            "vestry",
            "wharf"
        ]
    );
}

/// The counts a blow must go with: 78, 88 or 90 divisions, a wheel that turns once a day, pins, pin wheels. Published
/// divisions: Encyclopaedia Britannica, 9th ed., vol. 6, "Clocks"; E. Beckett, A Rudimentary Treatise on Clocks, 8th ed., p. 188.
#[test]
fn a_blow_that_is_no_whole_number_of_places_is_warned_of() {
    let schoolroom = include_str!("../../../movements/schoolroom.toml");
    for (divisions, wheel, pinion, warned) in [
        (78, 52, 6, false),
        (90, 60, 6, false),
        (88, 66, 30, true),
        (88, 88, 9, false),
        (156, 104, 6, false),
        (78, 54, 6, true),
        (78, 52, 7, true),
    ] {
        let text = schoolroom
            .replace("wheel = 52", &format!("wheel = {wheel}"))
            .replace("count_pinion = 6", &format!("count_pinion = {pinion}"))
            .replace("repeats = 78", &format!("repeats = {divisions}"))
            .replace("[-1.0, 1.0]", "[-0.5, 0.5]");
        let sheet = sheet::read(text.as_bytes()).expect("good");
        assert_eq!(
            !sheet.warnings.is_empty(),
            warned,
            "{divisions} {wheel} {pinion}"
        );
        if warned {
            let told = report::en::misgiving(&sheet.warnings[0].what);
            assert!(told.contains("of its places of"), "{told}");
        }
    }
    let text = schoolroom.replace("repeats = 9\n", "repeats = 8\n");
    assert_eq!(
        sheet::read(text.as_bytes()).expect("good").warnings.len(),
        1
    );
}

#[test]
fn a_window_wider_than_slot_and_tip_is_warned_of() {
    let text =
        include_str!("../../../movements/halfpast.toml").replace("[-0.7, 0.7]", "[-0.8, 0.7]");
    let sheet = sheet::read(text.as_bytes()).expect("good");
    assert_eq!(sheet.warnings.len(), 1);
    insta::assert_snapshot!(
        report::en::misgiving(&sheet.warnings[0].what),
        @"the window of `slot` is -0.8° to 0.7°, but slot and tip allow only -0.7° to 0.7°: 1.4° of play in all"
    );
}
