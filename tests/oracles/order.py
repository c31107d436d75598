"""Which orders of taking off hold nothing back: asked of z3.

On standard input a kit a line: the exported facts of its policy, what is worn in the order in which it went on, what comes
off together in one step, and the orders of those steps in which the checker saw nothing held back. On standard output a
line for each disagreement, and at the end one with what was asked.
"""

import json
import sys

import z3


def keeps_back(items, worn, upper, lower):
    """Whether `upper`, while it is on, keeps `lower` from coming off."""
    over, under = items[upper], items[lower]
    later = worn.index(upper) > worn.index(lower)
    lies_over = bool(set(over["covers"]) & set(under["covers"])) or lower in over["goes_over"]
    return lower in over["holds_down"] or later and (lies_over or upper in under["tucks_into"])


def ask(*claims):
    solver = z3.Solver()
    solver.add(*claims)
    answer = solver.check()
    if answer == z3.unknown:
        raise RuntimeError(f"z3 does not know: {solver.reason_unknown()}")
    return solver.model() if answer == z3.sat else None


def disagreements(kit):
    items, worn, steps, free = kit["policy"]["items"], kit["worn"], kit["steps"], kit["free"]
    at = [z3.Int(f"step{number}") for number in range(len(steps))]
    of = {item: at[number] for number, together in enumerate(steps) for item in together}
    is_order = [z3.Distinct(*at), *(z3.And(0 <= place, place < len(at)) for place in at)]
    nothing_held = z3.And([of[upper] < of[lower] for upper in worn for lower in worn
                           if not of[upper].eq(of[lower]) and keeps_back(items, worn, upper, lower)])
    said = z3.Or([z3.And([at[step] == place for place, step in enumerate(order)]) for order in free])
    in_order = lambda model: sorted(range(len(at)), key=lambda step: model[at[step]].as_long())
    if (missed := ask(*is_order, nothing_held, z3.Not(said))) is not None:
        yield f"{kit['name']}: {in_order(missed)} holds nothing back, and the checker says it does"
    if (wrong := ask(*is_order, said, z3.Not(nothing_held))) is not None:
        yield f"{kit['name']}: {in_order(wrong)} holds something back, and the checker does not say so"
    if (ask(*is_order, nothing_held) is not None) != bool(free):
        yield f"{kit['name']}: whether there is any order at all"


def main():
    kits, without, faults = 0, 0, 0
    for line in sys.stdin:
        kit = json.loads(line)
        kits, without = kits + 1, without + (not kit["free"])
        for fault in disagreements(kit):
            faults += 1
            print(fault)
    print(json.dumps({"kits": kits, "without_any_order": without, "disagreements": faults}))


if __name__ == "__main__":
    main()
