"""What a single mistake in a good procedure does, by the independent player: who comes to harm by it, and what differs.

On standard input a good policy a line, with its faulty ones: their exported facts, and how many things at once may be
unlike an ordinary day. On standard output a line for each faulty one: the harm that the good one does not do (nearer than
a margin, bare in a contaminated place, held back, left on, not on), and the respects in which it differs.
"""

import functools
import itertools
import json
import multiprocessing
import os
import sys

from player import Alone
from playing.acting import Scene
from playing.nearness import Nearness
from playing.script import Script, split
from playing.trade import FACE, HEAD, ordinary, worth

HARM = {"bare": "is bare", "blocked": "is held back", "not_on": "is not on", "left_on": "is left on"}


class Watched(Scene):
    """A play that is watched for more than distances."""

    def __init__(self, script, answers, failing):
        super().__init__(script, answers, failing)
        self.layers = set()  # what lay beneath what came off
        self.debts = set()  # hands that should have been cleaned: of whom, after what, before what
        self.ends = set()  # where things end
        self.looks = set()  # what is looked at, confirmed or done in words
        self.places = set()  # who is where, when something goes on or off and at the end
        self.owed = {who: set() for who in self.people}
        self.cleaned = set()

    def lift(self, layer):
        for area in self.lies_on(layer):
            stack = self.people[layer.who].stacks[area]
            self.layers.add((layer.who, layer.item, area, tuple(each.item for each in stack[: stack.index(layer)])))
        super().lift(layer)

    def step(self, sequence, number, again):
        step = self.script.steps_of(sequence)[number]
        if self.happens(step):
            self.watch(step["actor"], *split(step["act"]))
        super().step(sequence, number, again)

    def watch(self, actor, verb, said):
        here = self.people[actor].place
        if verb == "clean_hands":
            self.cleans(actor, said)
        elif verb in ("check", "hold", "other"):
            self.looks.add((actor, verb, json.dumps(said, sort_keys=True)))
        elif verb in ("wipe", "cut", "break", "untie"):
            self.owed[actor].add(verb)
        elif verb == "go" and self.script.kind(said) == "clean":
            self.due(actor, "clean place")
        if verb in ("put_on", "change"):
            self.places.add((said["wearer"], said["item"], here))
            self.due(actor, "kit")
            if actor not in self.cleaned:
                self.debts.add((actor, "nothing", "kit"))
        if verb in ("take_off", "change"):
            item = self.items[said["item"]]
            self.places.add((said["wearer"], said["item"], here))
            if set(item["covers"]) & FACE:
                self.due(actor, "face")
            self.owed[actor].add("head" if set(item["covers"]) <= HEAD else "kit")
            into = said.get("into") or {"container": item["goes_to"]}
            self.ends.add((said["wearer"], said["item"], json.dumps(into)))

    def cleans(self, actor, said):
        cleaner = self.policy["cleaners"][said["cleaner"]]
        if worth(cleaner, True, self.people[actor].soiled, said["time"]) > 0:
            self.owed[actor] = set()
            self.cleaned.add(actor)

    def due(self, who, before):
        self.debts |= {(who, after, before) for after in self.owed[who]}

    def still_on(self):
        super().still_on()
        for who, person in self.people.items():
            self.due(who, "end")
            self.places.add((who, None, person.place))


RESPECTS = ("layers", "debts", "ends", "looks", "places")


class Verdict:
    """What the player sees over the cases of a policy in which at most so many things are unlike an ordinary day."""

    def __init__(self, policy, odd):
        self.policy = policy
        self.harm, self.near, self.noted = set(), {}, set()
        self.seen = {respect: set() for respect in RESPECTS}
        for level in sorted({sequence["level"] for sequence in policy["sequences"]}):
            script = Script(policy, level)
            for answers, failing in cases(script, odd):
                self.take(level, script, Watched(script, answers, failing).play())

    @functools.cached_property
    def after_events(self):
        """What is noted after the event of each contingency, on an otherwise ordinary day; where no longer counts."""
        noted = set()
        for level in sorted({sequence["level"] for sequence in self.policy["sequences"]}):
            found = Alone(self.policy, level).on_an_ordinary_day().found
            for strike in found.keys() - {None}:
                noted |= {(level, strike[0], note[0], *note[2:]) for note in found[strike]}
        return noted

    def take(self, level, script, scene):
        asked = margins(script.level)
        for note in scene.notes:
            (self.harm if note[0] in HARM else self.noted).add((level, note[0], *note[2:]))
        for (surface, slips), far in Nearness(scene.stretches, self.guards).nearest.items():
            self.near[level, surface, slips] = min(far, self.near.get((level, surface, slips), far))
            if far < margin(surface, slips, asked):
                self.harm.add((level, "near", slips, *surface[:3]))
        for respect in RESPECTS:
            self.seen[respect] |= {(level, *each) for each in getattr(scene, respect)}

    def guards(self, surface):
        """Skin, and own clothes."""
        kind = surface[0]
        return kind == "skin" or kind in ("front", "back") and self.policy["items"][surface[2]]["worn_beneath"]


def cases(script, odd):
    facts, forks = script.facts(), script.forks()
    unlike = [("fact", fact) for fact in facts] + [("hold", fork) for fork in forks]
    for count in range(min(odd, len(unlike)) + 1):
        for those in itertools.combinations(unlike, count):
            answers = {fact: ordinary(script.policy["facts"][fact]) != (("fact", fact) in those) for fact in facts}
            yield answers, {fork for fork in forks if ("hold", fork) in those}


def margins(level):
    return {(each["shield"], each["slips"]): each["touches"] for each in level["margins"]}


def margin(surface, slips, asked):
    """What the level asks for after so many slips; nothing where it does not say."""
    own = ["clothes"] if surface[0] != "skin" else ["face"] if surface[2] in FACE else []
    return next((asked[shield, slips] for shield in [*own, "skin"] if (shield, slips) in asked), 0)


def in_words(policy, harm):
    _, what, *more = harm
    if what == "near":
        slips, kind, who, where = more
        where = where if kind == "skin" else policy["items"][where]["name"]
        return f"{policy['roles'][who]['name']}: {where} nearer than the margin, slips: {slips}"
    who, *things = more
    things = [policy["items"][each]["name"] if type(each) is int else each for each in things if type(each) is not bool]
    return f"{policy['roles'][who]['name']}: {things[0]} {HARM[what]}"


def judge(asked):
    good, policy, odd = asked
    faulty = Verdict(policy, odd)
    far = lambda verdict, key: verdict.near.get(key, sys.maxsize)
    keys = good.near.keys() | faulty.near.keys()
    debts = faulty.seen["debts"] - good.seen["debts"]
    # Only where a drill is another one: a mistake elsewhere does its harm on the main way.
    in_drills = set()
    if policy["contingencies"] != good.policy["contingencies"]:
        in_drills = faulty.after_events - good.after_events
    return {
        "harm": sorted({in_words(policy, each) for each in faulty.harm - good.harm}),
        "noted": sorted(map(str, (faulty.noted - good.noted) | in_drills)),
        "nearer": sum(far(faulty, key) < far(good, key) for key in keys),
        "farther": sum(far(faulty, key) > far(good, key) for key in keys),
        "debts": sorted([policy["roles"][who]["name"], after, before] for _, who, after, before in debts),
        "differs": [respect for respect in RESPECTS if good.seen[respect] != faulty.seen[respect]],
    }


def main():
    with multiprocessing.Pool(os.cpu_count()) as pool:
        for line in sys.stdin:
            asked = json.loads(line)
            good, odd = Verdict(asked["good"], asked["odd"]), asked["odd"]
            for told in pool.imap(judge, ((good, faulty, odd) for faulty in asked["faulty"]), chunksize=8):
                print(json.dumps(told), flush=True)


if __name__ == "__main__":
    main()
