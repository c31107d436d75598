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
from playing.drills import strikes, struck
from playing.nearness import MOST_SLIPS, Nearness
from playing.script import Script
from playing.trade import ordinary

# Two to this many cases are played alone, and no more.
MOST_BRANCHES = 14
# So many events are let happen in one level. Where all of them in all cases are more, some cases are left out, evenly.
MOST_STRUCK = 1500


class Alone:
    """The cases of one level, each played once."""

    def __init__(self, policy, level):
        self.policy, self.script = policy, Script(policy, level)
        self.facts, self.forks = self.script.facts(), self.script.forks()
        self.drill_facts = self.script.drill_facts()
        self.ordinary = {fact: ordinary(policy["facts"][fact]) for fact in self.facts + self.drill_facts}
        self.played = {}

    def cases(self):
        for answers in itertools.product((True, False), repeat=len(self.facts)):
            for fails in itertools.product((False, True), repeat=len(self.forks)):
                yield dict(zip(self.facts, answers)), [at for at, fails in zip(self.forks, fails) if fails]

    def drill_answers(self):
        """What is asked only where something has happened."""
        for answers in itertools.product((True, False), repeat=len(self.drill_facts)):
            yield dict(zip(self.drill_facts, answers))

    def on_an_ordinary_day(self):
        """With all that can happen on it."""
        return self.play({fact: self.ordinary[fact] for fact in self.facts}, [], (self.ordinary,))

    def named(self, case):
        """The case that the checker names: what it does not say is as on an ordinary day."""
        answers = self.ordinary | {fact: holds for fact, holds in case["facts"]}
        main = {fact: answers[fact] for fact in self.facts}
        further = {fact: answers[fact] for fact in self.drill_facts}
        failing, strike = [tuple(at) for at in case["failing"]], frozen(case["strike"])
        return self.play(main, failing, () if strike is None else (further,), strike)

    def play(self, answers, failing, further=(), strike=None):
        """`further`: in which answers more whatever can happen does; all of it, or one strike."""
        name = str((answers, failing, further, strike))
        if name not in self.played:
            self.played[name] = Played(self, answers, failing, further, strike)
        return self.played[name]

    def guards(self, surface):
        """Skin, and own clothes: what the margins are about."""
        kind = surface[0]
        return kind == "skin" or kind in ("front", "back") and self.policy["items"][surface[2]]["worn_beneath"]


class Played:
    """One case: what is noted on the main way, and after each strike."""

    def __init__(self, alone, answers, failing, further, strike):
        self.alone, self.further, self.strike = alone, further, strike
        self.struck = []  # after how many stretches, the scene, its name: the strike and what is answered besides
        scene = Scene(alone.script, answers, set(failing)).play(self.let_happen if further else None)
        near = Nearness(scene.stretches, alone.guards, self.struck)
        self.nearest, self.happened = near.nearest, scene.happened
        self.steps = len(scene.stretches) + sum(len(scene.stretches) for _, scene, _ in self.struck)
        # By strike; none for the main way.
        self.found = {None: dict.fromkeys(scene.notes)}
        for _, struck, (strike, _) in self.struck:
            self.found.setdefault(strike, {}).update(dict.fromkeys(struck.notes))
        self.add_distances(near)

    def let_happen(self, scene, after, at, hold):
        for drill, who in strikes(scene, after):
            strike = (drill.number, who, after, hold)
            if self.strike in (None, strike):
                for which, more in enumerate(self.further):
                    goes_on = scene.copy()
                    goes_on.answers = scene.answers | more
                    self.struck.append((len(scene.stretches), struck(goes_on, drill, who, at, after, hold), (strike, which)))

    def add_distances(self, near):
        told = [(track, ("near", at, surface), surface, far) for (track, at, surface), far in near.touches.items()]
        told += [(track, ("still_near", None, surface), surface, far) for (track, surface), far in near.left.items()]
        for track, note, surface, far in told:
            margin = self.alone.script.margin(surface)
            if margin is not None and far < margin:
                found = self.found[track and track[0]]
                found[note] = min(far, found.get(note, far))


def frozen(value):
    return tuple(frozen(each) for each in value) if isinstance(value, list) else value


def compare(policy, said):
    """Each disagreement about one level, as words; and the cases, strikes and steps that were played."""
    alone = Alone(policy, said["level"])
    if len(alone.facts) + len(alone.forks) > MOST_BRANCHES:
        return [f"too many cases: {len(alone.facts)} facts, {len(alone.forks)} holds"], 0, 0, 0
    near, happened, struck, all_struck = {}, set(), set(), True
    found = {}  # by contingency, none for the main way, what is noted, and how near at the least
    cases = list(alone.cases())
    asked = [(case, more) for case in range(len(cases)) for more in alone.drill_answers()]
    every = 1
    if alone.script.drills:
        count = len(alone.on_an_ordinary_day().struck)
        every = max(1, -(-count * len(asked) // MOST_STRUCK))
    chosen = {}
    for case, more in asked[::every]:
        chosen.setdefault(case, []).append(more)
    plays = []
    for at, (answers, failing) in enumerate(cases):
        plays.append(alone.play(answers, failing, tuple(chosen.get(at, ())) if alone.script.drills else ()))
    for played in plays:
        happened |= played.happened
        struck |= set(played.found) - {None}
        add_found(found, played)
        for key, far in played.nearest.items():
            near[key] = min(far, near.get(key, far))
    faults = list(compare_near(alone, near, said["nearest"]))
    named = [(event, alone.named(event["case"])) for event in said["events"]]
    for event, played in named:
        add_found(found, played)
        faults += compare_named(event, played)
    faults += compare_found(found, said["events"])
    faults += differences("step", happened, {frozen(at) for at in said["played"]})
    walked = {frozen(strike) for strike in said["strikes"]}
    faults += differences("strike", struck | (walked if every > 1 else set()), walked)
    if said["cases"] != len(cases):
        faults.append(f"cases: played {len(cases)}, the walk says {said['cases']}")
    if said["gave_up"]:
        faults.append("the walk gave up")
    return faults, len(cases), sum(len(each.struck) for each in plays), sum(each.steps for each in plays)


def add_found(found, played):
    for strike, notes in played.found.items():
        known = found.setdefault(strike and strike[0], {})
        for note, far in notes.items():
            known[note] = least(far, known.get(note, far))


def least(one, other):
    return None if one is None else min(one, other)


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
            distances = alone.named(entry["case"]).nearest
            if distances.get(key) != entry["distance"]:
                yield f"distance of {key} in its case {entry['case']}: {distances.get(key)}, walked {entry['distance']}"


def short(note):
    """Of what keeps a removal back, the walk names one thing; all else is told in full."""
    return note[:3] if note[0] == "blocked" else note


def compare_found(found, events):
    """What is noted on the main way is not noted again of what happens on it."""
    walked = {}
    for event in events:
        contingency = event["case"]["strike"] and event["case"]["strike"][0]
        walked.setdefault(contingency, {})[short(frozen(event["note"]))] = event["distance"]
    on_the_way = {short(note) for note in found[None]}
    for contingency in sorted(found.keys() | walked.keys(), key=str):
        told = walked.get(contingency, {})
        mine = {short(note): far for note, far in found.get(contingency, {}).items()
                if contingency is None or short(note) not in on_the_way}
        told = {note: far for note, far in told.items() if contingency is None or note not in on_the_way}
        where = "" if contingency is None else f" in contingency {contingency}"
        yield from differences("note" + where, set(mine), set(told))
        for note in sorted(mine.keys() & told.keys(), key=str):
            if mine[note] != told[note]:
                yield f"note {note}{where}: played at {mine[note]}, walked at {told[note]}"


def compare_named(event, played):
    """Everything comes out the same in the case that is named with it."""
    note, found = frozen(event["note"]), played.found.get(frozen(event["case"]["strike"]), {})
    if note not in found or found[note] != event["distance"]:
        yield f"note {note} at {event['distance']}: in its case {event['case']}, {found.get(note, 'none')}"


def examine(line):
    asked = json.loads(line)
    faults, counts = [], [0, 0, 0]
    for run in asked["runs"]:
        found, *counted = compare(asked["policy"], run)
        faults += [f"{asked['name']}, level {run['level']}: {fault}" for fault in found]
        counts = [sum(both) for both in zip(counts, counted)]
    return faults, counts


def main():
    policies, disagreements, counts = 0, 0, [0, 0, 0]
    with multiprocessing.Pool(os.cpu_count()) as pool:
        for faults, counted in pool.imap(examine, sys.stdin, chunksize=4):
            policies, disagreements = policies + 1, disagreements + len(faults)
            counts = [sum(both) for both in zip(counts, counted)]
            for fault in faults:
                print(fault, flush=True)
    summary = {"policies": policies, "disagreements": disagreements}
    print(json.dumps(summary | dict(zip(("cases", "strikes", "steps"), counts))))


if __name__ == "__main__":
    main()
