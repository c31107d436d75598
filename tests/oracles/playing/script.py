"""In which order a level's sequences are played, who takes part, and from where."""


def split(act):
    """The verb of a step and what it says besides."""
    return (act, None) if isinstance(act, str) else next(iter(act.items()))


def whose(verb, said):
    """On whom something goes on or off."""
    return said["wearer"] if verb in ("put_on", "pull_up", "change", "take_off") else None


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
        self.people = sorted(
            {kit["role"] for kit in self.level["kits"]}
            | {step["actor"] for step in self.all_steps}
            | {whose(*split(step["act"])) for step in self.all_steps} - {None}
        )

    def steps(self, sequences):
        return [step for at in sequences for step in self.sequences[at]["steps"]]

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
        """Whatever any step asks."""
        asked = {literal["fact"] for step in self.all_steps for some in step["guard"]["any"] for literal in some}
        return sorted(asked)

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
