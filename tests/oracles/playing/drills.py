"""What happens, to whom and when, and how everybody goes on from there.

In: a scene just after a moment of the main way, or after a step that a hold which was not confirmed has played again or
starts instead. Out: a scene for each event that can happen there, played to its end.
"""

from .acting import FRONT, Stretch
from .script import split


def strikes(scene, after):
    """What can happen now: the drill and the person. `after`: the step just gone, none where the hazard is met unsent."""
    script, people = scene.script, scene.people
    anyone_exposed = any(person.exposed for person in people.values())
    for drill in script.drills:
        for who, person in people.items():
            inside = script.kind(person.place) == "contaminated" or after is None and script.is_met_unsent(who)
            if script.kind(person.place) != "clean" and concerns(script, drill, who) \
                    and can_happen(scene, drill, who, anyone_exposed, inside):
                yield drill, who


def concerns(script, drill, who):
    """Whether a drill is this person's: of what befalls anybody, theirs who act in it or in what it starts; anybody's,
    where only those who watch do."""
    if drill.kind in ("unwell", "lost"):
        return drill.of == who
    if drill.kind == "other":
        return not drill.steps or drill.steps[0]["actor"] == who
    theirs = {each for each in script.people
              for sequence in [drill.sequence, *drill.starts] if script.takes_part(each, sequence)}
    return who in theirs or all(script.policy["roles"][each]["watches"] for each in theirs)


def can_happen(scene, drill, who, anyone_exposed, inside):
    """Before anybody has met the hazard nobody needs a drill; nor does who is out of kit, unless they are lost to others."""
    person = scene.people[who]
    in_kit = any(not scene.items[layer.item]["worn_beneath"] for layer in person.worn)
    if drill.kind in ("torn", "soiled"):
        return anyone_exposed and to_be_seen(scene, who, drill.of) is not None
    if drill.kind in ("fails", "mishap"):
        return anyone_exposed and scene.on(who, drill.of) is not None
    if drill.kind in ("splashed", "pierced"):
        return inside and person.exposed
    if drill.kind == "unwell":
        return in_kit and anyone_exposed
    return anyone_exposed if drill.kind == "lost" else in_kit and person.exposed


def to_be_seen(scene, who, item):
    """The piece of it that is outermost somewhere."""
    layer = scene.on(who, item)
    stacks = scene.people[who].stacks.values()
    return layer if layer is not None and any(stack[-1:] == [layer] for stack in stacks) else None


def struck(scene, drill, who, moment, after, hold):
    """Plays the scene on from the event; gives itself back, with all that is noted from then on."""
    Struck(scene, drill, who, moment, after, hold).play()
    return scene


class Struck:
    def __init__(self, scene, drill, who, moment, after, hold):
        """`moment`: the last of the main way; none where a hold has ended it."""
        self.scene, self.script, self.drill, self.who = scene, scene.script, drill, who
        self.moment, self.after = moment, after
        # The hold for which something is played, which is the last moment that is played again.
        self.hold = None if hold is None else self.script.moments.index(("step", *hold))
        self.left_behind = {each: person.place for each, person in scene.people.items()
                            if self.script.kind(person.place) == "contaminated"}

    def play(self):
        self.happen()
        for number in range(len(self.drill.steps)):
            self.scene.step(self.drill.sequence, number, again=False)
        if self.drill.endings[:1] == ["carry_on"]:
            self.back_to_the_hazard()
        self.without_air()
        if self.moment is None:
            self.go_on_aside()
        elif self.go_on():
            self.the_end()

    def happen(self):
        scene, who, of = self.scene, self.who, self.drill.of
        person = scene.people[who]
        hit = []
        if self.drill.kind == "torn":
            person.torn.append(to_be_seen(scene, who, of))
            scene.seep(who)
        elif self.drill.kind == "soiled":
            hit = [(FRONT, *to_be_seen(scene, who, of))]
        elif self.drill.kind == "splashed":
            hit = [scene.outermost(who, area) for area in of if area in self.script.kept(who)]
        elif self.drill.kind == "pierced":
            hit = [("skin", who, area) for area in of]
        elif self.drill.kind == "lost":
            person.gone = True
        for surface in hit:
            scene.moment("happens", surface)

    def back_to_the_hazard(self):
        """Who was with the hazard meets it again, in whatever they wear now."""
        scene = self.scene
        scene.at = None
        scene.stretches.append(Stretch(None, []))
        for who, place in self.left_behind.items():
            if scene.people[who].place != place:
                scene.people[who].place = place
                scene.land(who)
                scene.seep(who)
        if self.after is None:
            scene.meet_the_hazard()

    def without_air(self):
        """Whoever carries on beneath what gives no more air, where the hazard is."""
        scene, item = self.scene, self.drill.of
        if self.drill.kind != "fails" or scene.items[item]["runs_for"] is None or self.drill.starts:
            return
        acts = [split(step["act"]) for step in self.drill.steps]
        is_replaced = any(verb in ("change", "put_on") and said["item"] == item for verb, said in acts)
        if self.script.kind(scene.people[self.who].place) == "contaminated" and not is_replaced:
            scene.at = None
            scene.note("without_air", self.who, item)

    # ---- what comes after the drill's own steps

    def go_on(self):
        """The rest of the main way, as the endings say; false where nobody knows what comes, or a hold ends it."""
        endings = list(self.drill.endings)
        begun, again, apart = None, True, None
        at = self.moment
        moments = self.script.moments
        if not any(sequence in self.script.main for sequence in self.drill.starts) and endings:
            apart = self.who
        while True:
            # Whatever is to begin now; what starts aside is played at once.
            while begun is None and endings:
                ending = endings.pop(0)
                if ending == "nowhere":
                    return False
                if ending == "carry_on":
                    endings, again, apart = [], False, None
                elif ending["start"] not in self.script.main:
                    self.aside(ending["start"])
                elif moments.index(("over", ending["start"], None)) > at:
                    begun = ending["start"]
            at += 1
            if at == len(moments):
                return True
            what, sequence, number = moments[at]
            waits = begun is not None and at < moments.index(("begin", begun, None))
            if (waits or apart is not None) and what != "meet" and self.script.takes_part(self.who, sequence):
                continue
            is_played_again = again or self.hold is not None and at <= self.hold
            if not self.scene.go_through(moments[at], is_played_again):
                return False
            if (what, sequence) == ("over", begun):
                begun = None

    def go_on_aside(self):
        """The rest of what a hold has started, at its turn; all else that the endings start is played at once."""
        sequence, number = self.after
        is_begun = False
        for ending in [*self.drill.endings, "carry_on"]:
            if ending == "nowhere":
                return
            if not is_begun and ending in ("carry_on", {"start": sequence}):
                is_begun = True
                for later in range(number + 1, len(self.script.steps_of(sequence))):
                    self.scene.step(sequence, later, again=True)
            elif ending != "carry_on":
                self.start_aside(ending["start"])
            if ending == "carry_on":
                return

    def start_aside(self, sequence):
        """Of what is on the main way, only what is left of it."""
        if sequence not in self.script.main:
            return self.aside(sequence)
        for at in range(self.hold + 1, len(self.script.moments)):
            if self.script.moments[at][1] == sequence:
                self.scene.go_through(self.script.moments[at], again=True)

    def aside(self, sequence):
        """Whoever starts what is not on the main way goes to where it happens."""
        place = self.script.place_of(sequence)
        for who, person in self.scene.people.items():
            if place is not None and person.place is not None and self.script.takes_part(who, sequence):
                person.place = place
        self.scene.play_aside(sequence)

    def the_end(self):
        self.scene.still_on()
        self.scene.at = None
        for who, person in self.scene.people.items():
            takes_off = any(split(step["act"])[0] == "take_off" and split(step["act"])[1]["wearer"] == who
                            for step in self.script.steps(self.script.taking_off))
            if takes_off and self.script.kind(person.place) == "contaminated":
                self.scene.note("ends_inside", who)
        self.scene.is_over = True
