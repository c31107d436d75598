"""One case, acted out: who wears what over what, what meets what, and what cannot be done.

Out: the moments at which surfaces meet, are cleaned, are new or have the hazard land on them, a list for each step; notes
of what is out of order; the steps that happen. No distance is known here.
"""

import copy
from collections import namedtuple

from .script import split, whose
from .trade import AREAS, BACK, FRONT, GARMENT, HEAD, INSIDE, lies, soil_when, worth

TOUCH, BRUSH = 1, 2

# One copy of an item: of two pairs of gloves, each is one.
Layer = namedtuple("Layer", "who item copy")

# What meets in one step, in order; no step where the hazard is met unsent, and at the beginning.
Stretch = namedtuple("Stretch", "at moments")


class Person:
    def __init__(self):
        self.place = self.seat = self.mat = None
        self.worn = []  # in the order in which it went on
        self.stacks = {area: [] for area in AREAS}  # from the skin outwards
        self.half = set()
        self.joined = set()
        self.been_off = set()
        self.bare = set()
        self.in_hand = set()  # what this person took off and has not put down
        self.soiled = False
        self.exposed = False  # has been where the hazard is
        self.torn = []
        self.gone = False  # lies unconscious, or has been called away

    def copy(self):
        other = copy.copy(self)
        other.worn, other.torn = list(self.worn), list(self.torn)
        other.stacks = {area: list(stack) for area, stack in self.stacks.items()}
        other.half, other.joined, other.been_off = set(self.half), set(self.joined), set(self.been_off)
        other.bare, other.in_hand = set(self.bare), set(self.in_hand)
        return other


class Scene:
    def __init__(self, script, answers, failing):
        self.script, self.policy, self.items = script, script.policy, script.policy["items"]
        self.answers, self.failing = answers, failing
        self.people = {who: Person() for who in script.people}
        self.stretches, self.notes, self.happened = [Stretch(None, [])], set(), set()
        self.asked, self.put_on_steps = set(), {}
        self.every_outside = script.level["assume"] == "everyoutside"
        self.parts = parts_of(script)
        self.at, self.again, self.resting = None, False, set()
        self.is_over = False
        self.after_each = None

    # ---- the play

    def play(self, after_each=None):
        """Goes the main way; `after_each` is told of the scene after each step, and where the hazard is met unsent: which
        step it was, with which moment of the main way it goes on, and the hold for which it was played, if any."""
        self.after_each = after_each
        for who, person in self.people.items():
            person.place = self.script.start_of(who)
            for item in self.script.dressed(who):
                self.lay(Layer(who, item, self.copies(who, item)), None)
        for number, surface in enumerate(self.policy["surfaces"]):
            if surface["starts_contaminated"] or self.script.kind(surface["place"]) == "contaminated":
                self.moment("lands", ("fixture", number))
        for at, moment in enumerate(self.script.moments):
            if not self.go_through(moment, again=False):
                return self
            if moment[0] in ("step", "meet"):
                self.tell(moment[1:] if moment[0] == "step" else None, at, None)
        self.still_on()
        return self

    def go_through(self, moment, again):
        """One moment of the main way; false where a hold ends it."""
        what, sequence, number = moment
        if what == "meet":
            self.meet_the_hazard()
        elif what == "begin":
            self.come_together(sequence)
            self.lie_on_those_with_it()
        elif what == "step":
            self.step(sequence, number, again)
            return again or not self.is_led_away(sequence, number)
        return True

    def tell(self, after, at, hold):
        if self.after_each is not None:
            self.after_each(self, after, at, hold)

    def moment(self, *what):
        self.stretches[-1].moments.append(what)

    def meet(self, one, other, weight=TOUCH):
        if one is not None and other is not None and one != other:
            self.moment("meets", one, other, weight)

    def copy(self):
        """The same scene, to go on otherwise; what has been noted and has met so far is left behind."""
        other = copy.copy(self)
        other.people = {who: person.copy() for who, person in self.people.items()}
        other.stretches, other.notes, other.happened = [Stretch(None, [])], set(), set()
        other.asked, other.put_on_steps = set(self.asked), dict(self.put_on_steps)
        other.after_each = None
        return other

    def note(self, what, *more):
        self.notes.add((what, self.at, *more))

    def come_together(self, sequence):
        for who, person in self.people.items():
            if self.script.stays(who):
                person.place = self.script.place_of(sequence)

    def is_led_away(self, sequence, number):
        """What follows where a hold is not confirmed: true where the main way ends with it."""
        step = self.script.steps_of(sequence)[number]
        verb, said = split(step["act"])
        if verb != "hold" or (sequence, number) not in self.failing or not self.happens(step):
            return False
        hold = sequence, number
        way_out, to = next(iter(said["if_not"].items()))
        if way_out == "go_back":
            for earlier in range(to["step"], number):
                self.step(sequence, earlier, again=True)
                self.tell((sequence, earlier), self.script.moments.index(("step", sequence, earlier)), hold)
            self.look(sequence, number)
            return False
        self.play_aside(to["sequence"], hold)
        return True

    def play_aside(self, sequence, hold=None):
        """`hold`: the one that was not confirmed, where that is why."""
        self.come_together(sequence)
        self.lie_on_those_with_it()
        for number in range(len(self.script.steps_of(sequence))):
            self.step(sequence, number, again=True)
            if hold is not None:
                self.tell((sequence, number), None, hold)

    def look(self, sequence, number):
        """A hold touches nothing, but those who are to confirm must be there."""
        self.at = (sequence, number)
        _, said = split(self.script.steps_of(sequence)[number]["act"])
        for who, _ in said["confirms"]:
            self.note_gone(who)

    def note_gone(self, who):
        if who in self.people and self.people[who].gone:
            self.note("cannot_act", who)

    def happens(self, step):
        """Whether a step's conditions hold. They are asked one by one, and no more once it is decided."""
        alternatives = step["guard"]["any"]
        facts = sorted({literal["fact"] for some in alternatives for literal in some})
        for fact in facts:
            open_still = [some for some in alternatives if not self.fails(some, self.asked)]
            if not open_still or any({literal["fact"] for literal in some} <= self.asked for some in open_still):
                break
            if fact not in self.asked:
                self.asked.add(fact)
                self.learn_of_soil(fact, step["actor"])
        return any(not self.fails(some, facts) for some in alternatives)

    def fails(self, some, asked):
        return any(self.answers[literal["fact"]] != literal["holds"] for literal in some if literal["fact"] in asked)

    def learn_of_soil(self, fact, actor):
        """From when it is asked about until they are washed; who only watches asks about those who wear."""
        fact_itself = self.policy["facts"][fact]
        soil = soil_when(fact_itself)
        if soil is None:
            return
        found = fact_itself["kind"]["found"]
        roles = self.policy["roles"]
        for who, person in self.people.items():
            wears = not roles[who]["helps"] and not roles[who]["watches"]
            if not (wears if roles[actor]["watches"] else who == actor):
                continue
            hands = person.stacks["hands"]
            on_item = bool(hands) and hands[-1].item == found["item"]
            if found["subject"].endswith("hands") if found["item"] is None else on_item:
                person.soiled = self.answers[fact] == soil

    def step(self, sequence, number, again):
        step = self.script.steps_of(sequence)[number]
        if not self.happens(step):
            return
        self.at, self.again = (sequence, number), again
        self.happened.add(self.at)
        verb, said = split(step["act"])
        if verb == "hold":
            return self.look(sequence, number)
        if not (again and self.is_done(step["actor"], verb, said)):
            self.note_gone(step["actor"])
        self.stretches.append(Stretch(self.at, []))
        self.resting = {meeting for who in self.people for meeting in self.rests(who)}
        getattr(self, "does_" + verb)(step["actor"], said)
        for who in self.people:
            self.settle(who)

    def is_done(self, actor, verb, said):
        """Played again: nobody has to do it any more."""
        if verb == "put_on":
            return self.is_on_already(said["wearer"], said["item"])
        if verb == "put":
            return self.is_put_already(said["what"]) and not self.holds(actor, said["what"])
        if whose(verb, said) is None:
            return False
        layer, person = self.on(said["wearer"], said["item"]), self.people[said["wearer"]]
        if layer is None:
            return said["item"] in person.been_off
        return verb == "pull_up" and layer not in person.half

    # ---- the hazard

    def settle(self, who):
        """After every step: seat and mat meet what they meet, and the hazard of the place lands."""
        person = self.people[who]
        for meeting in self.rests(who):
            # What only goes on touching comes no nearer by this step.
            self.moment("rests" if meeting in self.resting else "meets", *meeting)
        if self.script.kind(person.place) == "contaminated":
            person.exposed = True
            self.land(who)
        else:
            person.bare = set()
        self.seep(who)

    def rests(self, who):
        """What a seat and a mat touch."""
        person, met = self.people[who], []
        if person.seat is not None:
            met += [(self.outermost(who, area, BACK), ("fixture", person.seat), TOUCH) for area in ("trunk", "legs")]
        if person.mat is not None:
            met.append((self.outermost(who, "feet"), ("fixture", person.mat), TOUCH))
        return met

    def seep(self, who):
        """As long as something torn is outermost, its outside reaches through to what lies beneath."""
        for layer in self.people[who].torn:
            for area in self.lies_on(layer):
                if self.people[who].stacks[area][-1] == layer:
                    self.moment("through", (FRONT, *layer), self.beneath(layer, area))

    def meet_the_hazard(self):
        self.at = None
        self.stretches.append(Stretch(None, []))
        for who, person in self.people.items():
            if self.script.is_met_unsent(who):
                person.exposed = True
                if person.worn:
                    self.land(who)
                    self.seep(who)

    def land(self, who):
        person, kept = self.people[who], self.script.kept(who)
        beneath = lambda area: all(self.items[layer.item]["worn_beneath"] for layer in person.stacks[area][-1:])
        bare = {(area, bool(person.stacks[area])) for area in kept if beneath(area)}
        for area, clothes in bare - person.bare:
            self.note("bare", who, area, clothes)
        person.bare = bare
        self.lie_on(who)

    def lie_on_those_with_it(self):
        """Before anybody does anything in a sequence."""
        self.stretches.append(Stretch(None, []))
        for who, person in self.people.items():
            if self.script.kind(person.place) == "contaminated":
                person.exposed = True
                self.lie_on(who)
                self.seep(who)

    def lie_on(self, who):
        person = self.people[who]
        for area in self.script.kept(who):
            self.moment("lands", self.outermost(who, area))
            if self.every_outside and person.stacks[area]:
                self.moment("lands", self.outermost(who, area, BACK))
        if self.every_outside:
            for at, layer in enumerate(person.worn):
                over = [other for other in person.worn[at + 1:] if other not in person.half]
                for part, area in self.parts[layer.item].items():
                    if not any(area in self.items[other.item]["covers"] for other in over):
                        self.moment("lands", ("part", *layer, part))

    # ---- bodies

    def on(self, who, item):
        worn = self.people[who].worn if who in self.people else []
        return next((layer for layer in reversed(worn) if layer.item == item), None)

    def copies(self, who, item):
        return sum(layer.item == item for layer in self.people[who].worn)

    def outermost(self, who, area, side=FRONT):
        stack = self.people[who].stacks[area]
        return (side, *stack[-1]) if stack else ("skin", who, area)

    def hand(self, who):
        return self.outermost(who, "hands")

    def beneath(self, layer, area):
        stack = self.people[layer.who].stacks[area]
        below = stack[: stack.index(layer)]
        return (FRONT, *below[-1]) if below else ("skin", layer.who, area)

    def lies_on(self, layer):
        return [area for area in AREAS if layer in self.people[layer.who].stacks[area]]

    def lay(self, layer, as_far_as):
        person = self.people[layer.who]
        person.worn.append(layer)
        if as_far_as is not None:
            person.half.add(layer)
        for area in self.reached(layer.item, as_far_as):
            person.stacks[area].append(layer)

    def reached(self, item, as_far_as):
        lowest = 0 if as_far_as is None else AREAS.index(as_far_as)
        return [area for area in AREAS[lowest:] if area in self.items[item]["covers"]]

    def lift(self, layer):
        person = self.people[layer.who]
        if layer not in person.worn:
            return
        person.worn.remove(layer)
        person.half.discard(layer)
        if layer in person.torn:
            person.torn.remove(layer)
        for area in self.lies_on(layer):
            person.stacks[area].remove(layer)
        if self.on(layer.who, layer.item) is None:
            person.joined = {pair for pair in person.joined if layer.item not in pair}
        person.been_off.add(layer.item)

    def blockers(self, layer, coming):
        """Whatever keeps a layer from coming off with those that come with it."""
        person, item = self.people[layer.who], self.items[layer.item]
        for other in person.worn:
            if other == layer or other.item in coming:
                continue
            upper = self.items[other.item]
            later = person.worn.index(other) > person.worn.index(layer)
            above = any(person.stacks[area].index(other) > person.stacks[area].index(layer)
                        for area in set(self.lies_on(layer)) & set(self.lies_on(other)))
            if (
                frozenset((layer.item, other.item)) in person.joined
                or (later and other.item in item["tucks_into"])
                or layer.item in upper["holds_down"]
                or above
                or (later and layer.item in upper["goes_over"] and self.comes_up_to(layer, upper))
            ):
                yield other

    def comes_up_to(self, layer, upper):
        """What is on only half meets an edge only where it lies: at the waist, the boots but neither gloves nor hood."""
        if layer not in self.people[layer.who].half:
            return True
        missing = set(self.items[layer.item]["covers"]) - set(self.lies_on(layer))
        return bool(set(upper["covers"]) - HEAD - {"hands"} - missing)

    def part(self, layer, part):
        if part is None:
            return (FRONT, *layer)
        where = lies(part, self.items[layer.item])
        return (where, *layer) if where in (FRONT, BACK, INSIDE) else ("part", *layer, part)

    # ---- what steps do

    def does_put_on(self, actor, said):
        self.put_on(actor, said["wearer"], said["item"], said["fresh"], said["as_far_as"])

    def put_on(self, actor, who, item, fresh, as_far_as):
        on = self.copies(who, item)
        done = self.again and not self.is_change() and self.is_on_already(who, item)
        steps = self.put_on_steps.get((who, item), ())
        if self.at not in steps and not self.is_change():
            self.put_on_steps[who, item] = (*steps, self.at)
        if done or on >= self.script.pairs(who, item):
            if not self.again:
                self.note("on_twice", who, item)
            return
        layer = Layer(who, item, on)
        if fresh or self.items[item]["reused_after"] is None:
            for surface in self.all_of(layer) + [(INSIDE, *layer)]:
                self.moment("fresh", surface)
        self.draw_over(actor, layer, self.reached(item, as_far_as))
        self.lay(layer, as_far_as)
        for person in self.people.values():
            person.in_hand.discard((who, item))

    def is_on_already(self, who, item):
        """Of several steps that put this on, the second is for the second pair."""
        steps = (*self.put_on_steps.get((who, item), ()), self.at)
        on = self.copies(who, item)
        return on >= steps.index(self.at) + 1 or on >= self.script.pairs(who, item)

    def is_change(self):
        sequence, number = self.at
        return split(self.script.steps_of(sequence)[number]["act"])[0] == "change"

    def all_of(self, layer):
        return [(FRONT, *layer), (BACK, *layer)] + [("part", *layer, part) for part in self.parts[layer.item]]

    def draw_over(self, actor, layer, areas):
        who, inside, hand = layer.who, (INSIDE, *layer), self.hand(actor)
        self.meet(hand, (FRONT, *layer))
        self.meet(hand, inside)
        for area in areas:
            self.meet(inside, self.outermost(who, area))
        self.sleeve(layer, areas)
        for lower in self.people[who].worn:
            if lower.item in self.items[layer.item]["goes_over"]:
                self.meet(inside, (FRONT, *lower), BRUSH)

    def sleeve(self, layer, areas):
        if "arms" in areas and "hands" not in areas:
            self.meet((INSIDE, *layer), self.hand(layer.who))
            self.meet((FRONT, *layer), self.hand(layer.who), BRUSH)

    def does_pull_up(self, actor, said):
        who, item = said["wearer"], said["item"]
        layer = self.on(who, item)
        person = self.people[who]
        if layer is None:
            self.not_on(who, item)
        elif layer in person.half:
            areas = [area for area in self.reached(item, None) if layer not in person.stacks[area]]
            self.draw_over(actor, layer, areas)
            person.half.discard(layer)
            for area in areas:
                person.stacks[area].append(layer)
            person.worn.remove(layer)
            person.worn.append(layer)

    def not_on(self, who, item):
        if not (self.again and item in self.people[who].been_off):
            self.note("not_on", who, item)

    def does_take_off(self, actor, said):
        layer = self.take_off(actor, said["wearer"], said["item"], said["grip"], said["inside_out"],
                              said["together_with"])
        if layer is None:
            return
        if said["into"]:
            self.meet((FRONT, *layer), self.thing(said["into"]))
        else:
            self.people[actor].in_hand.add((layer.who, layer.item))

    def take_off(self, actor, who, item, grip, rolled, together):
        layer = self.on(who, item)
        if layer is None:
            return self.not_on(who, item)
        also = []
        for other in together:
            if self.on(who, other) is None:
                self.not_on(who, other)
            else:
                also.append(self.on(who, other))
        coming = {each.item for each in [layer, *also]}
        for each in [layer, *also]:
            for by in self.blockers(each, coming):
                self.note("blocked", who, each.item, by.item)
        self.slip(self.hand(actor), layer)
        self.peel(self.hand(actor), layer, grip, rolled)
        for other in also:
            for area in self.lies_on(other):
                self.meet((INSIDE, *other), self.beneath(other, area))
                self.meet((FRONT, *other), self.beneath(other, area), BRUSH)
        for each in [layer, *also]:
            self.lift(each)
        return layer

    def slip(self, hand, layer):
        front = (FRONT, *layer)
        if hand != front:
            self.moment("slips", hand, front, TOUCH)
            self.moment("slips", hand, (BACK, *layer), TOUCH)
        if "hands" in self.lies_on(layer):
            self.moment("slips", front, self.beneath(layer, "hands"), TOUCH)

    def peel(self, hand, layer, grip, rolled):
        front, inside, areas = (FRONT, *layer), (INSIDE, *layer), self.lies_on(layer)
        garment = bool(set(self.items[layer.item]["covers"]) & GARMENT)
        if hand != front:
            self.meet(hand, self.part(layer, grip))
        if rolled and garment:
            self.meet(hand, inside)
        for area in areas:
            self.meet(inside, self.beneath(layer, area))
        if "hands" in areas:
            self.meet(front, self.beneath(layer, "hands"), BRUSH)
        self.sleeve(layer, areas)
        for area in areas:
            if area in HEAD:
                self.meet(hand, self.beneath(layer, area), BRUSH)
            elif garment and not rolled and area != "hands":
                self.meet(front, self.beneath(layer, area), BRUSH)

    def does_change(self, actor, said):
        who, item = said["wearer"], said["item"]
        grip = "cuff" if "hands" in self.items[item]["covers"] else None
        if self.take_off(actor, who, item, grip, False, []) is not None:
            self.put_on(actor, who, item, True, None)

    def does_clean_hands(self, actor, said):
        person = self.people[actor]
        touches = worth(self.policy["cleaners"][said["cleaner"]], True, person.soiled, said["time"])
        self.moment("cleaned", self.hand(actor), touches)
        if touches > 0:
            person.soiled = False

    def thing(self, target, part=None):
        kind, said = next(iter(target.items()))
        if kind == "item":
            who, item = said["wearer"], said["item"]
            return self.part(self.on(who, item) or Layer(who, item, 0), part)
        return {"surface": ("fixture", said), "container": ("container", said)}.get(kind)

    def handle(self, actor, target, part=None):
        self.meet(self.hand(actor), self.thing(target, part))

    def does_wipe(self, actor, said):
        self.handle(actor, said["target"])
        self.does_spray(actor, said)

    def does_spray(self, actor, said):
        target = said["target"]
        touches = worth(self.policy["cleaners"][said["with"]["cleaner"]], False, False, said["with"]["time"])
        surfaces = [self.thing(target)]
        if "item" in target:
            who, item = target["item"]["wearer"], target["item"]["item"]
            surfaces = self.all_of(self.on(who, item) or Layer(who, item, 0))
        for surface in surfaces:
            if surface is not None:
                self.moment("cleaned", surface, touches)

    def does_go(self, actor, place):
        person = self.people[actor]
        person.seat = person.mat = None
        person.place = place
        person.exposed |= self.script.kind(place) == "contaminated"

    def does_put(self, actor, said):
        what = said["what"]
        held = self.holds(actor, what)
        if self.again and not held and self.is_put_already(what):
            return
        if held:
            self.people[actor].in_hand.discard((what["item"]["wearer"], what["item"]["item"]))
        if not held:
            self.handle(actor, what)
        self.meet(self.thing(what), self.thing(said["into"]))

    def holds(self, who, what):
        return "item" in what and (what["item"]["wearer"], what["item"]["item"]) in self.people[who].in_hand

    def is_put_already(self, what):
        if "item" not in what:
            return False
        who, item = what["item"]["wearer"], what["item"]["item"]
        return who in self.people and self.on(who, item) is None and item in self.people[who].been_off

    def does_connect(self, actor, said):
        self.handle(actor, said["item"])
        self.handle(actor, said["to"])
        one, other = said["item"].get("item"), said["to"].get("item")
        if one and other and one["wearer"] in self.people:
            self.people[one["wearer"]].joined.add(frozenset((one["item"], other["item"])))

    def does_disconnect(self, actor, said):
        self.handle(actor, said["item"])
        if said["from"]:
            self.handle(actor, said["from"])
        one = said["item"].get("item")
        other = said["from"] and said["from"].get("item")
        if one and one["wearer"] in self.people:
            person = self.people[one["wearer"]]
            parted = lambda pair: one["item"] in pair and (not other or other["item"] in pair)
            person.joined = {pair for pair in person.joined if not parted(pair)}

    def does_cut(self, actor, said):
        self.handle(actor, said["item"], said["part"])
        if said["tool"] is not None:
            tool = (FRONT, *Layer(actor, said["tool"], 0))
            self.meet(self.hand(actor), tool)
            self.meet(tool, self.thing(said["item"], said["part"]))

    def does_break(self, actor, said):
        self.handle(actor, said["item"], said["part"])

    def does_untie(self, actor, target):
        self.handle(actor, target, "ties")

    def does_switch_on(self, actor, target):
        self.handle(actor, target)

    does_switch_off = does_open = does_close = does_switch_on

    def does_fold(self, actor, surface):
        self.meet(self.hand(actor), ("fixture", surface))

    def does_step_onto(self, actor, surface):
        self.people[actor].mat = surface

    def does_step_off(self, actor, _):
        self.people[actor].mat = None

    def does_sit_on(self, actor, surface):
        self.people[actor].seat = surface

    def does_stand_up(self, actor, _):
        self.people[actor].seat = None

    def does_check(self, actor, _):
        """Looking and talking touch nothing."""

    does_other = does_check

    def still_on(self):
        self.at = None
        if self.script.taking_off:
            for who, person in self.people.items():
                for layer in person.worn:
                    if not self.items[layer.item]["worn_beneath"]:
                        self.note("left_on", who, layer.item)


def parts_of(script):
    """By item: each part that lies off its front, and on which area."""
    named = {item: [grip["part"] for grip in said["grips"]] for item, said in enumerate(script.policy["items"])}
    for step in script.with_drills:
        verb, said = split(step["act"])
        if verb == "take_off" and said["grip"]:
            named[said["item"]].append(said["grip"])
        elif verb in ("cut", "break") and said["part"] and "item" in said["item"]:
            named[said["item"]["item"]["item"]].append(said["part"])
        elif verb == "untie" and "item" in said:
            named[said["item"]["item"]].append("ties")
    place = lambda item, part: lies(part, script.policy["items"][item])
    return {item: {part: place(item, part) for part in parts if place(item, part) in AREAS}
            for item, parts in named.items()}
