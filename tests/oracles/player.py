"""An independent player of the barrier model: plays every case of a policy alone and compares with what the checker said.

On standard input a policy a line: its exported facts and, for each level, what the checker's walk said. On standard
output a line for each disagreement, and at the end one with what was played. It shares no code with the checker.
"""

import itertools
import json
import multiprocessing
import os
import sys

from playing.acting import Scene
from playing.nearness import MOST_SLIPS, nearest
from playing.script import Script
from playing.trade import ordinary

# Two to this many cases are played alone, and no more.
MOST_BRANCHES = 14


class Alone:
    """Every case of one level, each played once."""

    def __init__(self, policy, level):
        self.policy, self.script = policy, Script(policy, level)
        self.facts, self.forks = self.script.facts(), self.script.forks()
        self.ordinary = {fact: ordinary(policy["facts"][fact]) for fact in self.facts}
        self.played = {}

    def cases(self):
        for answers in itertools.product((True, False), repeat=len(self.facts)):
            for fails in itertools.product((False, True), repeat=len(self.forks)):
                yield dict(zip(self.facts, answers)), [at for at, fails in zip(self.forks, fails) if fails]

    def named(self, case):
        """The case that the checker names: what it does not say is as on an ordinary day."""
        answers = self.ordinary | {fact: holds for fact, holds in case["facts"]}
        return answers, [tuple(at) for at in case["failing"]]

    def play(self, answers, failing):
        name = (tuple(sorted(answers.items())), tuple(sorted(failing)))
        if name not in self.played:
            scene = Scene(self.script, answers, set(failing)).play()
            self.played[name] = scene, {key: far for key, far in nearest(scene.stretches).items() if self.guards(key[0])}
        return self.played[name]

    def guards(self, surface):
        """Skin, and own clothes: what the margins are about."""
        kind = surface[0]
        return kind == "skin" or kind in ("front", "back") and self.policy["items"][surface[2]]["worn_beneath"]


def frozen(value):
    return tuple(frozen(each) for each in value) if isinstance(value, list) else value


def compare(policy, said):
    """Each disagreement about one level, as words; and the cases and steps that were played."""
    alone = Alone(policy, said["level"])
    if len(alone.facts) + len(alone.forks) > MOST_BRANCHES:
        return [f"too many cases: {len(alone.facts)} facts, {len(alone.forks)} holds"], 0, 0
    near, notes, happened, steps = {}, set(), set(), 0
    for answers, failing in alone.cases():
        scene, distances = alone.play(answers, failing)
        notes |= scene.notes
        happened |= scene.happened
        steps += len(scene.stretches)
        for key, far in distances.items():
            near[key] = min(far, near.get(key, far))
    faults = list(compare_near(alone, near, said["nearest"]))
    faults += compare_notes(alone, notes, said["events"])
    faults += differences("step", happened, {frozen(at) for at in said["played"]})
    if said["cases"] != len(alone.played):
        faults.append(f"cases: played {len(alone.played)}, the walk says {said['cases']}")
    if said["gave_up"]:
        faults.append("the walk gave up")
    return faults, len(alone.played), steps


def differences(what, mine, walked):
    for each in sorted(mine ^ walked, key=str):
        yield f"{what} {each}: only {'played' if each in mine else 'walked'}"


def compare_near(alone, near, walked):
    """As planned, and after at most so many slips; the walk tells the latter only where it is nearer."""
    told = {}
    for entry in walked:
        for slips in range(entry["slips"], MOST_SLIPS + 1):
            key = frozen(entry["surface"]), slips
            told[key] = min(entry["distance"], told.get(key, entry["distance"]))
    for key in sorted(near.keys() | told.keys(), key=str):
        if near.get(key) != told.get(key):
            yield f"distance of {key[0]} after {key[1]} slips: played {near.get(key)}, walked {told.get(key)}"
    for entry in walked:
        key = frozen(entry["surface"]), entry["slips"]
        if entry["distance"] == near.get(key):
            _, distances = alone.play(*alone.named(entry["case"]))
            if distances.get(key) != entry["distance"]:
                yield f"distance of {key} in its case {entry['case']}: {distances.get(key)}, walked {entry['distance']}"


def compare_notes(alone, notes, events):
    """Of what keeps a removal back, the walk names one thing; all else is told in full."""
    walked = {frozen(event["note"]) for event in events}
    short = lambda note: note[:3] if note[0] == "blocked" else note
    yield from differences("note", {short(note) for note in notes}, {short(note) for note in walked})
    for note in sorted(walked - notes, key=str):
        yield f"note {note}: only walked"
    for event in events:
        scene, _ = alone.play(*alone.named(event["case"]))
        if frozen(event["note"]) not in scene.notes:
            yield f"note {event['note']}: not in its case {event['case']}"


def examine(line):
    asked = json.loads(line)
    faults, cases, steps = [], 0, 0
    for run in asked["runs"]:
        found, played, stepped = compare(asked["policy"], run)
        faults += [f"{asked['name']}, level {run['level']}: {fault}" for fault in found]
        cases, steps = cases + played, steps + stepped
    return faults, cases, steps


def main():
    policies, disagreements, cases, steps = 0, 0, 0, 0
    with multiprocessing.Pool(os.cpu_count()) as pool:
        for faults, played, stepped in pool.imap(examine, sys.stdin, chunksize=4):
            policies, disagreements = policies + 1, disagreements + len(faults)
            cases, steps = cases + played, steps + stepped
            for fault in faults:
                print(fault, flush=True)
    summary = {"policies": policies, "disagreements": disagreements, "cases": cases, "steps": steps}
    print(json.dumps(summary))


if __name__ == "__main__":
    main()
