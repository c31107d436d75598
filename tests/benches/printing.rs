//! Figures: one A3 poster set, and all aids of a policy on one and on two threads. `cargo bench --bench printing`.

use anteroom::policy::Day;
use anteroom::session;
use anteroom::{aids, typeset};

mod alone;

use alone::NoShelf;

const SIDE_ROOM: &str = include_str!("../samples/side-room.ppe");
const SUITE: &str = include_str!("../samples/isolation-suite.ppe");

fn main() {
    divan::main();
}

fn plan(text: &str) -> aids::plan::PrintPlan {
    let reading = session::read("policy.ppe", text, &NoShelf);
    aids::plan(&session::check(reading, Day::new(2026, 12, 1)))
}

/// The poster of the side rooms, check included.
#[divan::bench]
fn one_a3_poster(bencher: divan::Bencher) {
    bencher.bench(|| {
        let mut plan = plan(divan::black_box(SIDE_ROOM));
        plan.aids.truncate(1);
        typeset::typeset_all(&plan, 1, &|_, set| set)
    });
}

#[divan::bench(args = [1, 2])]
fn all_aids_of_the_isolation_suite(bencher: divan::Bencher, threads: usize) {
    bencher.bench(|| typeset::typeset_all(&plan(divan::black_box(SUITE)), threads, &|_, set| set));
}

/// A picture of the poster and its PDF in a process that has set it before, from the changed text: another word each time.
#[divan::bench]
fn a_picture_after_one_word(bencher: divan::Bencher) {
    let words = std::cell::Cell::new(0);
    let picture = || {
        words.set(words.get() + 1);
        let text = SIDE_ROOM.replacen("\"alcohol hand rub\"", &format!("\"alcohol rub {}\"", words.get()), 1);
        let mut plan = plan(&text);
        plan.aids.truncate(1);
        plan.aids.iter_mut().for_each(|aid| aid.pictured = true);
        typeset::typeset_all(&plan, 1, &|_, set| set.ok().and_then(|set| set.picture))
    };
    picture();
    bencher.bench_local(picture);
}
