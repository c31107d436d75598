"""In which order a level's sequences are played, who takes part, and from where."""

from .trade import FACE, happening


def split(act):
    """The verb of a step and what it says besides."""
    return (act, None) if isinstance(act, str) else next(iter(act.items()))


def whose(verb, said):
    """On whom something goes on or off."""
    return said["wearer"] if verb in ("put_on", "pull_up", "change", "take_off") else None


class Drill:
    """A contingency that belongs to the level: its steps are one more sequence, numbered on after those of the policy."""

    def __init__(self, policy, number):
        said = policy["contingencies"][number]
        self.number, self.sequence, self.steps = number, len(policy["sequences"]) + number, said["steps"]
        self.kind, self.of = happening(policy, said["event"])
        self.endings = said["endings"]
        self.starts = [end["start"] for end in self.endings if isinstance(end, dict)]


class Script:
    def __init__(self, policy, level):
        self.policy, self.level = policy, policy["levels"][level]
        self.sequences = policy["sequences"]
        on, between, off = [], [], []
        for at, sequence in enumerate(self.sequences):
            if sequence["level"] != level:
                continue
            verbs = [split(step["act"])[0] for step in sequence["steps"]]
            goes_on, comes_off = verbs.count("put_on"), verbs.count("take_off")
            if goes_on + comes_off > 0:
                (on if goes_on > comes_off else off).append(at)
            elif at not in self.started_by_anything():
                between.append(at)
        self.putting_on, self.taking_off = on, off
        self.main = on + between + off
        aside = [at for step in self.steps(self.main) for at in self.started(step)]
        self.all_steps = self.steps(self.main) + self.steps(sorted(set(aside) - set(self.main)))
        self.moments = self.in_order()
        self.drills = [Drill(policy, at) for at in range(len(policy["contingencies"])) if self.owns(at, level)]
        only_drills = {at for drill in self.drills for at in [drill.sequence, *drill.starts]} - set(self.main)
        self.with_drills = self.all_steps + self.steps(sorted(only_drills))
        self.people = sorted({kit["role"] for kit in self.level["kits"]} | self.handlers(self.with_drills))

    @staticmethod
    def handlers(steps):
        """Who acts, and on whom something goes on or off."""
        return {step["actor"] for step in steps} | {whose(*split(step["act"])) for step in steps} - {None}

    def in_order(self):
        """The main way: where sequences begin and end, each step, and where whoever was sent nowhere meets the hazard."""
        moments = []
        for at in self.main:
            if at in self.taking_off[:1]:
                moments.append(("meet", None, None))
            steps = [("step", at, number) for number in range(len(self.sequences[at]["steps"]))]
            moments += [("begin", at, None), *steps, ("over", at, None)]
        return moments

    def owns(self, number, level):
        """A contingency belongs where all that it starts does, and all who handle kit in it take part."""
        said = self.policy["contingencies"][number]
        starts = [end["start"] for end in said["endings"] if isinstance(end, dict)]
        here = {kit["role"] for kit in self.level["kits"]} | self.handlers(self.steps(self.main))
        kit = [step for step in said["steps"] if whose(*split(step["act"])) is not None]
        return all(self.sequences[at]["level"] == level for at in starts) and self.handlers(kit) <= here

    def steps_of(self, sequence):
        """Of a sequence or a drill."""
        known = len(self.sequences)
        at = self.sequences[sequence] if sequence < known else self.policy["contingencies"][sequence - known]
        return at["steps"]

    def place_of(self, sequence):
        """A drill happens wherever its event does."""
        return self.sequences[sequence]["place"] if sequence < len(self.sequences) else None

    def takes_part(self, who, sequence):
        return who in self.handlers(self.steps_of(sequence))

    def steps(self, sequences):
        return [step for at in sequences for step in self.steps_of(at)]

    @staticmethod
    def started(step):
        """The sequence that a hold starts where it is not confirmed."""
        verb, said = split(step["act"])
        if_not = said["if_not"] if verb == "hold" else None
        return [if_not["start"]["sequence"]] if isinstance(if_not, dict) and "start" in if_not else []

    def started_by_anything(self):
        by_holds = {at for sequence in self.sequences for step in sequence["steps"] for at in self.started(step)}
        endings = [end for drill in self.policy["contingencies"] for end in drill["endings"]]
        return by_holds | {end["start"] for end in endings if isinstance(end, dict)}

    def forks(self):
        """Holds that lead elsewhere where they are not confirmed."""
        found = []
        for at in self.main:
            for number, step in enumerate(self.sequences[at]["steps"]):
                verb, said = split(step["act"])
                if verb == "hold" and isinstance(said["if_not"], dict):
                    found.append((at, number))
        return found

    def facts(self):
        """Whatever any step of the main way asks."""
        return self.asked_in(self.all_steps)

    def drill_facts(self):
        """What is asked besides where something happens."""
        return sorted(set(self.asked_in(self.with_drills)) - set(self.facts()))

    @staticmethod
    def asked_in(steps):
        return sorted({literal["fact"] for step in steps for some in step["guard"]["any"] for literal in some})

    def kind(self, place):
        return None if place is None else self.policy["places"][place]["kind"]

    def goes(self, who, steps):
        moves = [split(step["act"]) for step in steps if step["actor"] == who]
        return [place for verb, place in moves if verb == "go"]

    def start_of(self, who):
        """Where somebody is before anything happens; none for somebody who goes nowhere.

        The place of the sequence in which they first act. Where that is to go there, the place before it: clean, if kit is
        to be put on or they only help or watch; otherwise where the hazard is.
        """
        role = self.policy["roles"][who]
        from_outside = bool(role["helps"]) or role["watches"]
        if not self.goes(who, self.steps(self.main)):
            return None
        for at in self.main:
            for step in self.sequences[at]["steps"]:
                verb, said = split(step["act"])
                if who not in (step["actor"], whose(verb, said)):
                    continue
                if verb != "go":
                    return self.sequences[at]["place"]
                wanted = "clean" if at in self.putting_on or from_outside else "contaminated"
                before = [place for place in range(len(self.policy["places"]))
                          if self.kind(place) == wanted and self.leads(place, said)]
                return before[0] if before else said

    def leads(self, here, there):
        ways = [way["places"] for way in self.policy["ways"]]
        return any((here, there) in zip(way, way[1:]) for way in ways)

    def stays(self, who):
        """Never sent anywhere: is where each sequence happens."""
        return not self.policy["roles"][who]["watches"] and not self.goes(who, self.all_steps)

    def is_met_unsent(self, who):
        """Faces the hazard by the time of taking off, though no step sends them to it."""
        role = self.policy["roles"][who]
        sent = any(self.kind(place) == "contaminated" for place in self.goes(who, self.all_steps))
        return not role["helps"] and not role["watches"] and not sent

    def kit(self, who):
        return next((kit["items"] for kit in self.level["kits"] if kit["role"] == who), [])

    def pairs(self, who, item):
        return next((min(max(worn["pairs"], 1), 4) for worn in self.kit(who) if worn["item"] == item), 1)

    def dressed(self, who):
        """Worn from the beginning: own clothes; all of the kit, where the policy tells only how it comes off."""
        items = self.policy["items"]
        beneath = [worn for worn in self.kit(who) if items[worn["item"]]["worn_beneath"]]
        over = [worn for worn in self.kit(who) if worn not in beneath]
        puts_on = any(split(step["act"])[0] == "put_on" and whose(*split(step["act"])) == who
                      for step in self.all_steps)
        if not puts_on and self.taking_off:
            beneath += over
        return [worn["item"] for worn in beneath for _ in range(self.pairs(who, worn["item"]))]

    def kept(self, who):
        """Where the hazard can land."""
        if self.level["keep_covered"]:
            return self.level["keep_covered"]
        items = [self.policy["items"][worn["item"]] for worn in self.kit(who)]
        return sorted({area for item in items if not item["worn_beneath"] for area in item["covers"]})

    def margin(self, surface):
        """How many touches away the level keeps skin and own clothes; none where it asks nothing."""
        asked = {margin["shield"]: margin["touches"] for margin in self.level["margins"] if margin["slips"] == 0}
        of = "clothes" if surface[0] != "skin" else "face" if surface[2] in FACE else "skin"
        return asked.get(of, asked.get("skin"))
