//! What the typesetter makes, seen by programs that this project did not write.

use anteroom::aids::plan::{Body, Layout};
use anteroom::policy::PaperSize;
use anteroom::typeset::typeset;

use crate::typeset_fixtures as fixtures;

#[test]
fn the_same_aid_has_the_same_bytes() {
    let aid = fixtures::aid(Layout::Card, PaperSize::A6, "Taking off", Body::Steps(fixtures::taking_off(true)));
    let (one, other) = (typeset(&aid).expect("it can be set"), typeset(&aid).expect("it can be set"));
    assert_eq!(one.pdf, other.pdf);
}
