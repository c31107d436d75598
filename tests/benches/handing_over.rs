//! The finished faces of aids as folders that `tests/oracles/set_again.py` sets with the Python package `typst`.

use std::path::Path;

use anteroom::aids::plan::PrintPlan;
use anteroom::typeset::project::ready;

/// Writes each aid into a folder of its own, in the plan's order. Its file `begin` names the template and the standards.
pub fn hand_over(plan: &PrintPlan, folder: &Path) {
    for (at, aid) in plan.aids.iter().enumerate() {
        let project = ready(aid).unwrap_or_else(|fault| panic!("{fault}")).project();
        let own = folder.join(format!("{at:04}"));
        for (name, bytes) in &project.files {
            let path = own.join(name);
            std::fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
            std::fs::write(path, bytes).expect("a file");
        }
        let standards = if aid.control.date.is_some() { "a-3a ua-1" } else { "ua-1" };
        std::fs::write(own.join("begin"), format!("{} {standards}", project.main)).expect("a file");
    }
}
