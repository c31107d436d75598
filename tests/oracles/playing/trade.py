"""What the model's documentation says of parts, of cleaning and of answers: its tables, set down anew.

The source of each figure stands beside the checker's own table; here only the model's documentation counts.
"""

AREAS = ("hair", "face", "eyes", "nose", "mouth", "neck", "trunk", "arms", "hands", "legs", "feet")
FACE = {"face", "eyes", "nose", "mouth"}
HEAD = FACE | {"hair", "neck"}
GARMENT = {"trunk", "arms", "legs"}

FRONT, BACK, INSIDE = "front", "back", "inside"

# A word in a part's name: where it lies on what covers the head, on a garment, on anything else. In this order.
PARTS = [(word, (side, side, side)) for word, side in [("inside", INSIDE), ("front", FRONT), ("outside", FRONT),
                                                      ("zip", FRONT), ("flap", FRONT)]]
PARTS += [("neck", ("neck", "neck", "legs")), ("strap", ("hair", "neck", "legs")), ("headband", ("hair",) * 3)]
PARTS += [(word, ("hair", "neck", "legs")) for word in ("band", "loop", "elastic")]
PARTS += [("crown", ("hair",) * 3), ("rear", (BACK,) * 3)]
PARTS += [(word, ("hair", FRONT, FRONT)) for word in ("ear", "arms", "side")]
PARTS += [(word, ("hair", "neck", "legs")) for word in ("tie", "string")]
PARTS += [("shoulder", (FRONT, "neck", FRONT)), ("back", (BACK,) * 3), ("cuff", (FRONT, "arms", "legs"))]
PARTS += [("sleeve", (FRONT,) * 3), ("heel", (FRONT,) * 3)]


def lies(part, item):
    """`front`, `back`, `inside`, or the area that the part lies on."""
    named = next((grip for grip in item["grips"] if grip["part"] == part), None)
    if named and isinstance(named["lies"], dict):
        return named["lies"]["on"]
    covers = set(item["covers"])
    if "hands" in covers and "cuff" in part:
        return FRONT
    column = 0 if covers & HEAD else 1 if covers & GARMENT else 2
    return next((row[column] for word, row in PARTS if word in part), FRONT)


def words(text):
    return "".join(letter if letter.isalnum() else " " for letter in text.lower()).split()


def is_of(cleaner, *substances):
    said = (cleaner["name"] if cleaner["substance"] is None else cleaner["substance"]).lower()
    without = {"free", "non", "no"} & set(words(said))
    return not without and any(name in said for name in substances)


def worth(cleaner, on_hands, soiled, seconds):
    """The touches by which one cleaning sets the hazard back."""
    chlorine = is_of(cleaner, "chlorine", "hypochlorite", "bleach")
    alcohol = is_of(cleaner, "alcohol", "ethanol", "propanol")
    soap = not chlorine and any({"soap", "wash"} & set(words(cleaner[name])) for name in ("name", "printed"))
    own, wet, ppm = cleaner["worth"], cleaner["wet_for"], cleaner["strength_ppm"]
    if not cleaner["for_hands" if on_hands else "for_surfaces"]:
        return 0
    if on_hands and soiled and (cleaner["not_on_visible_soil"] or not soap):
        return 0
    if on_hands:
        asked = 500 if chlorine else 0 if soap else 600_000
    else:
        asked = 1000 if chlorine else 0
    if own is None and ppm is not None and (chlorine or alcohol) and ppm < asked:
        return 0
    own = None if own is None else min(own, 100)
    if not on_hands:
        if wet is not None and seconds is not None and seconds < wet:
            return 0
        return 3 if own is None else own
    whole, least, touches = (40, 20, 2) if soap or chlorine else (20, 10, 3)
    if wet is not None:
        whole, least = wet, (wet + 1) // 2
    touches = touches if own is None else own
    if seconds is None or seconds >= whole:
        return touches
    return min(touches, 1) if seconds >= least else 0


def soil_when(fact):
    """The answer that tells of visible soil; none where the fact is about something else."""
    found = fact["kind"].get("found") if isinstance(fact["kind"], dict) else None
    if found is None:
        return None
    if found["state"] in ("soiled", "visibly soiled", "dirty", "visibly dirty"):
        return True
    return False if found["state"] in ("clean", "clean to see", "visibly clean") else None


def ordinary(fact):
    """The answer of an ordinary day: all supplied, nothing torn or soiled, every question answered with no."""
    kind = fact["kind"]
    if "supplied" in kind:
        return True
    if "asked" in kind:
        return False
    return soil_when(fact) is False or kind["found"]["state"] in ("whole", "intact", "dry", "closed", "ready")


# What the event of a contingency is, by the first word of what it says of its subject.
TORN = set("torn tears ripped rips split splits punctured holed hole holes damaged cut leaking breached".split())
SOILED = set("soiled splashed wet soaked contaminated sprayed dirty".split())
PIERCED = set("pierced stuck pricked punctured cut scratched broken wounded".split())
FAILING = set("fails failing failed stops stopped flat empty alarms dead".split())
LOST = set("lost gone absent missing called leaves collapses collapsed unconscious away falls".split())


def happening(policy, event):
    """What happens, and to what: an item, areas or a role."""
    item, area, role = event["item"], event["area"], event["role"]
    state = event["state"].lower().split(" ")[0]
    splashed = FACE if area == "face" or area is None else {area}
    if item is not None:
        runs = policy["items"][item]["runs_for"] is not None
        if state in FAILING:
            return "fails", item
        if state in TORN | SOILED:
            return ("torn" if state in TORN else "soiled"), item
        return ("fails" if runs else "mishap"), item
    if area is not None:
        return ("pierced", {area}) if state in PIERCED else ("splashed", splashed)
    if role is not None:
        if state in LOST:
            return "lost", role
        return ("splashed", FACE) if state in SOILED else ("unwell", role)
    said = event["words"].lower()
    if "needle" in said or "sharps injury" in said or state in PIERCED:
        return "pierced", {"hands"}
    return ("splashed", FACE) if "splash" in said or "spray" in said else ("other", None)
