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
        self.ways = []  # from, to, weight
        self.nodes = [None]  # by node, the surface and the number of slips; the hazard itself is the first

    def node(self, surface, slips):
        self.nodes.append((surface, slips))
        return len(self.nodes) - 1

    def follow(self, now, moments, slips, slipping):
        """Goes through moments; `now` maps each surface to its node at the time, and is changed."""
        for moment in moments:
            kind, surface, *more = moment
            if kind == "meets" or (kind == "slips" and slipping):
                self.meet(now, surface, *more, slips)
            elif kind == "lands":
                now[surface] = self.node(surface, slips)
                self.ways.append((HAZARD, now[surface], 0))
            elif kind == "fresh":
                now.pop(surface, None)
            elif kind == "cleaned" and surface in now:
                before, now[surface] = now[surface], self.node(surface, slips)
                self.ways.append((before, now[surface], more[0]))

    def meet(self, now, one, other, weight, slips):
        before = now.get(one), now.get(other)
        if before == (None, None):
            return
        now[one], now[other] = after = self.node(one, slips), self.node(other, slips)
        for came, stays, goes in zip(before, after, reversed(after)):
            if came is not None:
                self.ways += (came, stays, 0), (came, goes, weight)

    def join(self, now, slipped, slips):
        """Either way, whichever is nearer."""
        for surface, node in slipped.items():
            other = now.get(surface)
            now[surface] = node
            if other is not None and other != node:
                now[surface] = self.node(surface, slips)
                self.ways += (node, now[surface], 0), (other, now[surface], 0)

    def nearest(self):
        graph = networkx.DiGraph()
        graph.add_node(HAZARD)
        graph.add_weighted_edges_from(self.ways)
        found = {}
        for node, far in networkx.single_source_dijkstra_path_length(graph, HAZARD).items():
            if node != HAZARD:
                surface, slips = self.nodes[node]
                for most in range(slips, MOST_SLIPS + 1):
                    found[surface, most] = min(far, found.get((surface, most), far))
        return found


def nearest(stretches):
    """The least number of touches for each surface, after at most 0, 1 and 2 slips: lists of moments, one list a step."""
    contacts = ContactGraph()
    now = [{} for _ in range(MOST_SLIPS + 1)]
    has_slipped = False
    for moments in stretches:
        can_slip = any(moment[0] == "slips" for moment in moments)
        if can_slip and not has_slipped:
            # Until then all is as planned.
            now, has_slipped = [dict(now[0]) for _ in now], True
        before = [dict(at) for at in now] if can_slip else None
        for slips in range(MOST_SLIPS + 1 if has_slipped else 1):
            contacts.follow(now[slips], moments, slips, False)
            if can_slip and slips > 0:
                slipped = before[slips - 1]
                contacts.follow(slipped, moments, slips, True)
                contacts.join(now[slips], slipped, slips)
    return contacts.nearest()
