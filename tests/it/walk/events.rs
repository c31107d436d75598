//! What the event of a contingency does, one by one. The rules are the model's own; no outside source.

use anteroom::walk::{What, walk};

use super::policy_of;
use super::procedures::{WARD, plain};

fn is_without_air(drill: &str) -> bool {
    let text = plain(&format!(
        "sequence \"Putting on\" for Full, in dressing room\n  WEARER puts on BLOWER\n  WEARER goes to room\nsequence \"Taking \
         off\" for Full, in lobby\n  WEARER goes to lobby\n  WEARER takes off BLOWER\ncontingency \"Air fails\" when BLOWER \
         fails\n{drill}"
    ));
    let text = text.replace("item BLOWER\n", "item BLOWER\n  runs for 4 hours\n");
    let walked = walk(&policy_of(&WARD.fill(&text)));
    walked.runs[0].events.iter().any(|event| matches!(event.what, What::WithoutAir { .. }))
}

#[test]
fn whoever_stays_or_goes_back_beneath_a_failed_blower_is_without_air() {
    assert!(is_without_air("  WEARER does \"Call the buddy\"\n  then carry on\n"));
    assert!(is_without_air("  WEARER goes to lobby\n  then carry on\n"));
    assert!(!is_without_air("  WEARER goes to lobby\n  then start \"Taking off\"\n"));
    assert!(!is_without_air("  WEARER changes BLOWER\n  then carry on\n"));
    let fresh = "  WEARER takes off BLOWER\n  WEARER puts on fresh BLOWER\n";
    assert!(!is_without_air(&format!("  WEARER goes to lobby\n{fresh}  then carry on\n")));
}
