"""The time-expanded contact graph of one case, and the shortest paths of the hazard in it.

A node is a surface from one change to the next, as planned or after so many slips. Staying costs nothing, a touch 1, a
brush 2; cleaning costs what it is worth. The hazard starts wherever it lands. A step that can slip is told twice: as
planned, and with what a slip brings together, on a track that comes from one slip fewer.
"""

import networkx

MOST_SLIPS = 2
HAZARD = 0


class ContactGraph:
    def __init__(self):
        self.graph = networkx.DiGraph()
        self.graph.add_node(HAZARD)
        self.surfaces = {}
        self.last = 0

    def node(self, surface, slips):
        self.last += 1
        self.surfaces.setdefault((surface, slips), []).append(self.last)
        self.graph.add_node(self.last)
        return self.last

    def follow(self, now, moments, slips, slipping):
        """Goes through moments; `now` maps each surface to its node at the time, and is changed."""
        for moment in moments:
            kind, surface, *more = moment
            if kind == "meets" or (kind == "slips" and slipping):
                self.meet(now, surface, *more, slips)
            elif kind == "lands":
                before, now[surface] = now.get(surface), self.node(surface, slips)
                self.graph.add_edge(HAZARD, now[surface], weight=0)
            elif kind == "fresh":
                now.pop(surface, None)
            elif kind == "cleaned" and surface in now:
                before, now[surface] = now[surface], self.node(surface, slips)
                self.graph.add_edge(before, now[surface], weight=more[0])

    def meet(self, now, one, other, weight, slips):
        before = [now.get(one), now.get(other)]
        if before == [None, None]:
            return
        after = [self.node(one, slips), self.node(other, slips)]
        for at, came in enumerate(before):
            if came is not None:
                self.graph.add_edge(came, after[at], weight=0)
                self.graph.add_edge(came, after[1 - at], weight=weight)
        now[one], now[other] = after

    def join(self, now, slipped, slips):
        """Either way, whichever is nearer."""
        for surface in set(now) | set(slipped):
            ways = {node for node in (now.get(surface), slipped.get(surface)) if node is not None}
            if len(ways) > 1:
                now[surface] = self.node(surface, slips)
                for way in ways:
                    self.graph.add_edge(way, now[surface], weight=0)
            else:
                now[surface] = ways.pop()


def nearest(stretches):
    """The least number of touches for each surface, after at most 0, 1 and 2 slips: lists of moments, one list a step."""
    contacts = ContactGraph()
    now = [{} for _ in range(MOST_SLIPS + 1)]
    for moments in stretches:
        can_slip = any(moment[0] == "slips" for moment in moments)
        before = [dict(at) for at in now]
        for slips in range(MOST_SLIPS + 1):
            contacts.follow(now[slips], moments, slips, False)
            if can_slip and slips > 0:
                slipped = before[slips - 1]
                contacts.follow(slipped, moments, slips, True)
                contacts.join(now[slips], slipped, slips)
    lengths = networkx.single_source_dijkstra_path_length(contacts.graph, HAZARD)
    found = {}
    for (surface, slips), nodes in contacts.surfaces.items():
        reached = [lengths[node] for node in nodes if node in lengths]
        if reached:
            for most in range(slips, MOST_SLIPS + 1):
                found[surface, most] = min(min(reached), found.get((surface, most), 10**9))
    return found
