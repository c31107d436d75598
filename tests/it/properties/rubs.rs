//! A longer hand rub never brings the hazard nearer.

use anteroom::policy::{Act, Policy, Seconds, SequenceId};

use super::{nearest, random, written};

/// The rubs of hands whose length is written.
fn rubs(policy: &Policy) -> Vec<(SequenceId, usize)> {
    let sequences = policy.sequences.iter().enumerate();
    let steps = sequences.flat_map(|(at, sequence)| {
        sequence.steps.iter().enumerate().map(move |(step, done)| (SequenceId::new(at), step, done))
    });
    let timed = steps.filter(|(_, _, step)| matches!(&step.act, Act::CleanHands(with) if with.time.is_some()));
    timed.map(|(sequence, step, _)| (sequence, step)).collect()
}

fn with_time(policy: &Policy, (sequence, step): (SequenceId, usize), change: impl Fn(Seconds) -> Seconds) -> Policy {
    let mut policy = policy.clone();
    let Act::CleanHands(with) = &mut policy.sequences[sequence.index()].steps[step].act else { panic!("no rub") };
    with.time = with.time.map(change);
    policy
}

#[test]
fn a_longer_rub_never_brings_the_hazard_nearer() {
    let (mut longer, mut farther) = (0, 0);
    for policy in written().iter().chain(&random(80)) {
        let reading = policy.read(&policy.text);
        let rubs = rubs(&reading.policy);
        // Each rub of a random policy, the middle ones of those that are written: their procedures are long and much alike.
        let some = if policy.name.starts_with("random") { 0 } else { rubs.len() / 2 };
        for &rub in rubs.iter().skip(some).take(4) {
            let mut shorter = nearest(&with_time(&reading.policy, rub, |_| Seconds(5)));
            for seconds in [16, 25, 40] {
                let long = nearest(&with_time(&reading.policy, rub, |_| Seconds(seconds)));
                for (surface, &distance) in &long {
                    let was = shorter.get(surface).copied().unwrap_or(u16::MAX);
                    assert!(
                        distance >= was,
                        "{}, step {rub:?} for {seconds} seconds: {surface:?} at {distance}, for less at {was}",
                        policy.name
                    );
                }
                longer += 1;
                farther += usize::from(long != shorter);
                shorter = long;
            }
        }
    }
    assert!(longer > 150 && farther > 30, "{longer} rubs were made longer, {farther} of them matter");
}
