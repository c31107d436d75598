//! How near the hazard comes to each person, as planned and after slips, as the report gives it.

use anteroom::session::{Approach, Part};

use crate::calibration::published;

fn of(approaches: &[Approach], part: Part) -> Vec<&Approach> {
    approaches.iter().filter(|approach| approach.part == part).collect()
}

/// D1 (CDC, single gloves, gown, eye protection, mask; fronts contaminated). By hand from the contact table: the peeled glove
/// brushes the hand (2 touches); if it snaps, it touches it (1).
#[test]
fn single_gloves_leave_one_touch_after_a_slip() {
    let checked = published("d1");
    let hands = of(&checked.examined.approaches, Part::Hands);
    assert_eq!(hands.iter().map(|hand| hand.touches).collect::<Vec<_>>(), [[Some(2), Some(1), Some(1)]]);
}

/// D22 (WHO including coverall, from memory; every outside contaminated): inner gloves and a cleaning after every item keep the
/// bare hands further away after any one slip than the single gloves of D1 are as planned. Casanova 2012, AJIC 40:369: more
/// transfer to hands with single gloves than with double.
#[test]
fn double_gloves_forgive_a_slip() {
    let checked = published("d22");
    let hands = of(&checked.examined.approaches, Part::Hands);
    assert!(hands.iter().all(|hand| hand.touches[1] > Some(2)), "{hands:?}");
}

/// What can happen without a slip can happen with one.
#[test]
fn a_slip_never_brings_the_hazard_further_away() {
    for file in ["d1", "d2", "d3", "d4", "d5", "d9", "d11", "d12", "d13", "d15", "d21", "d22"] {
        for approach in &published(file).examined.approaches {
            let [planned, one, two] = approach.touches.map(|touches| touches.unwrap_or(u16::MAX));
            assert!(planned >= one && one >= two, "{file}: {approach:?}");
            assert_eq!(approach.step.is_none(), two == u16::MAX, "{file}: {approach:?}");
        }
    }
}

/// The nearest that the walk tells of is somewhere on the way, after a step or within it.
#[test]
fn the_nearest_approach_is_that_of_some_step() {
    for file in ["d1", "d4", "d5", "d13", "d21", "d22"] {
        for run in &published(file).walk.runs {
            let told = run.nearest.iter().filter(|nearest| nearest.slips == 0 && nearest.step.is_some());
            let mut count = 0;
            for nearest in told {
                let at = run.profile.guarded.iter().position(|surface| *surface == nearest.surface).unwrap();
                let least = run.profile.moments.values().map(|moment| moment.near[at][0]).min();
                assert_eq!(least, Some(nearest.distance), "{file}: {:?}", nearest.surface);
                count += 1;
            }
            assert!(count > 0, "{file}");
        }
    }
}
