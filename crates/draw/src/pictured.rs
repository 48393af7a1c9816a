//! Small pictures to choose by: how a clock strikes, what stops it, what holds and drives it, each by its name. They show what to
//! look for, and no one movement.

mod frame;
mod shapes;
mod strike;
mod works;

use crate::Drawing;
use crate::ink::Ink;
use kurbo::Rect;
use shapes::{MIDDLE, cam, struck};
use std::f64::consts::PI;

/// A picture by its name.
type Pictured = (&'static str, fn(&mut Ink));

/// Every picture that there is.
const PICTURES: &[Pictured] = &[
    ("count_wheel_and_cam", strike::count_wheel_and_cam),
    ("count_wheel_outside", strike::count_wheel_outside),
    ("rack", strike::rack),
    ("hours_only", |ink| struck(ink, &[(0.0, 4)])),
    ("hours_and_halves", |ink| struck(ink, &[(0.0, 4), (PI, 1)])),
    ("halves_in_passing", strike::halves_in_passing),
    ("cam_one_notch", |ink| cam(ink, MIDDLE, 32.0, 1)),
    ("cam_two_notches", |ink| cam(ink, MIDDLE, 32.0, 2)),
    ("pin_on_an_arm", strike::pin_on_an_arm),
    ("lever_in_the_notch", strike::lever_in_the_notch),
    ("warns_at_the_same_pin", strike::warns_at_the_same_pin),
    ("warns_at_another_pin", strike::warns_at_another_pin),
    ("one_pin", |ink| works::with_pins(ink, 1)),
    ("two_pins", |ink| works::with_pins(ink, 2)),
    ("snail_on_the_hour_wheel", |ink| {
        strike::snail_on(ink, false);
    }),
    ("snail_on_a_star", |ink| strike::snail_on(ink, true)),
    ("hours_and_ten_halves", |ink| {
        struck(ink, &[(0.0, 2), (PI, 1), (PI, 0)]);
    }),
    ("quarters", strike::quarters),
    ("ships_bell", strike::ships_bell),
    ("tower", strike::tower),
    ("chime_on_bells", strike::chime_on_bells),
    ("chime_corrects_itself", strike::chime_corrects_itself),
    ("lever_in_the_hoop", strike::lever_in_the_hoop),
    ("locked_by_the_tail", strike::locked_by_the_tail),
    ("locked_by_the_hook", strike::locked_by_the_hook),
    ("count_wheel_by_a_pinion", works::by_a_pinion),
    (
        "count_wheel_from_the_great_wheel",
        works::from_the_great_wheel,
    ),
    ("count_wheel_by_a_pin", works::by_a_pin),
    ("count_wheel_on_the_train", works::on_the_train),
    ("count_wheel_of_a_half_day", |ink| works::count_of(ink, 1)),
    ("count_wheel_of_a_day", |ink| works::count_of(ink, 2)),
    ("teeth_outside", works::teeth_outside),
    ("teeth_inside_a_ring", works::teeth_inside_a_ring),
    ("fly_clear_of_a_wire", works::fly_clear_of_a_wire),
    ("one_hammer", works::one_hammer),
    ("two_hammers", works::two_hammers),
    ("two_bellows", works::two_bellows),
    ("held_by_square", works::held_by_square),
    ("held_by_friction", works::held_by_friction),
    ("held_by_screw", works::held_by_screw),
    ("held_by_a_taper", works::held_by_a_taper),
    ("pillars_with_pins", frame::with_pins),
    ("pillars_with_nuts", frame::with_nuts),
    ("pillars_with_screws", frame::with_screws),
    ("a_small_cock", frame::a_small_cock),
    ("spring_in_a_barrel", frame::spring_in_a_barrel),
    ("open_spring", frame::open_spring),
    ("fusee", frame::fusee),
    ("weight", frame::weight),
];

/// The picture of that name, a hundred wide and high; nothing where there is none.
pub fn pictured(name: &str) -> Option<Drawing> {
    let (_, drawn) = PICTURES.iter().find(|(own, _)| *own == name)?;
    let mut ink = Ink::default();
    drawn(&mut ink);
    Some(Drawing {
        class: "pictured",
        frame: Rect::new(0.0, 0.0, 100.0, 100.0),
        letters: 15.0,
        body: ink.out,
        arrows: Vec::new(),
        anchors: Vec::new(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::{BezPath, Shape as _};

    #[test]
    fn every_picture_lies_in_its_frame_and_no_two_are_alike() {
        let mut seen: Vec<String> = Vec::new();
        for (name, _) in PICTURES {
            let body = pictured(name).expect("it is there").body;
            for d in body.split(" d=\"").skip(1) {
                let d = d.split('"').next().unwrap_or_default();
                let frame = BezPath::from_svg(d).expect("a path").bounding_box();
                let within = Rect::new(0.0, 0.0, 100.0, 100.0).union(frame);
                assert_eq!(
                    within,
                    Rect::new(0.0, 0.0, 100.0, 100.0),
                    "{name}: {frame:?}"
                );
            }
            assert!(!seen.contains(&body), "{name}");
            seen.push(body);
        }
        assert!(pictured("no such picture").is_none());
    }
}
