"""The time-expanded contact graph of one case, and the shortest paths of the hazard in it.

A node is a surface from one change to the next, as planned or after so many slips. Staying costs nothing, a touch 1, a
brush 2; cleaning costs what it is worth. The hazard starts wherever it lands. A step that can slip is told twice: as
planned, and with what a slip brings together, on a track that comes from one slip fewer. Whatever can happen after a step
is told on a track of its own, from there to its end: as planned, and, apart from that, what the event itself has brought.
"""

import networkx

MOST_SLIPS = 2
HAZARD = 0


class ContactGraph:
    def __init__(self, guards):
        self.guards = guards
        self.ways = []  # from, to, weight
        self.nodes = [None]  # by node, the surface and the number of slips; the hazard itself is the first
        self.arrivals = []  # of touches as planned: on which track, in which step, at what, from which node, by what
        self.brought = []  # at the end of a track: at what, and the node

    def node(self, surface, slips):
        self.nodes.append((surface, slips))
        return len(self.nodes) - 1

    def follow(self, now, stretch, slips, slipping, track=None):
        """Goes through moments; `now` maps each surface to its node at the time, and is changed."""
        for moment in stretch.moments:
            kind, surface, *more = moment
            if kind in ("meets", "rests") or (kind == "slips" and slipping):
                is_told = kind == "meets" and slips in (0, None)
                self.meet(now, surface, *more, slips, (track, stretch.at) if is_told else None)
            elif kind in ("lands", "happens"):
                now[surface] = self.node(surface, slips)
                self.ways.append((HAZARD, now[surface], 0))
            elif kind == "through":
                self.reach(now, now, surface, more[0], slips)
            elif kind == "fresh":
                now.pop(surface, None)
            elif kind == "cleaned" and surface in now:
                before, now[surface] = now[surface], self.node(surface, slips)
                self.ways.append((before, now[surface], more[0]))

    def meet(self, now, one, other, weight, slips, told):
        before = now.get(one), now.get(other)
        if before == (None, None):
            return
        now[one], now[other] = after = self.node(one, slips), self.node(other, slips)
        for surface, came, stays, goes in zip((other, one), before, after, reversed(after)):
            if came is not None:
                self.ways += (came, stays, 0), (came, goes, weight)
                if told is not None and self.guards(surface):
                    self.arrivals.append((*told, surface, came, weight))

    def reach(self, now, to, outside, beneath, slips):
        """From an outside to what lies beneath its tear, and not back."""
        came, before = now.get(outside), to.get(beneath)
        if came is not None:
            to[beneath] = self.node(beneath, slips)
            self.ways.append((came, to[beneath], 1))
            if before is not None:
                self.ways.append((before, to[beneath], 0))

    def join(self, now, slipped, slips):
        """Either way, whichever is nearer."""
        for surface, node in slipped.items():
            other = now.get(surface)
            now[surface] = node
            if other is not None and other != node:
                now[surface] = self.node(surface, slips)
                self.ways += (node, now[surface], 0), (other, now[surface], 0)

    def strike(self, now, scene, track):
        """What happens, from where it does to the end."""
        now, brought = dict(now), {}
        for stretch in scene.stretches:
            for moment in stretch.moments:
                self.follow(now, stretch._replace(moments=[moment]), None, False, track)
                self.follow_event(now, brought, moment)
        if scene.is_over:
            self.brought += [(track, surface, node) for surface, node in brought.items() if self.guards(surface)]

    def follow_event(self, now, brought, moment):
        """What the event itself brought, and how far cleaning has set it back since; touches do not matter to that."""
        kind, surface, *more = moment
        if kind == "through":
            self.reach(now, brought, surface, more[0], None)
        elif kind == "happens" or kind in ("fresh", "cleaned") and surface in brought:
            self.follow(brought, Moments([moment]), None, False)

    def distances(self):
        graph = networkx.DiGraph()
        graph.add_node(HAZARD)
        graph.add_weighted_edges_from(self.ways)
        return networkx.single_source_dijkstra_path_length(graph, HAZARD)


class Moments:
    def __init__(self, moments):
        self.moments, self.at = moments, None


class Nearness:
    """The least number of touches, in one case: for each surface after at most 0, 1 and 2 slips, by surface and slips; of
    touches as planned, by track, step and surface; and of what an event brought and nobody cleaned, by track and surface."""

    def __init__(self, stretches, guards, struck=()):
        """`struck`: after how many stretches which scene goes on otherwise, and the name of its track."""
        contacts = ContactGraph(guards)
        now = [{} for _ in range(MOST_SLIPS + 1)]
        has_slipped = False
        for at, stretch in enumerate(stretches):
            can_slip = any(moment[0] == "slips" for moment in stretch.moments)
            if can_slip and not has_slipped:
                # Until then all is as planned.
                now, has_slipped = [dict(now[0]) for _ in now], True
            before = [dict(at) for at in now] if can_slip else None
            for slips in range(MOST_SLIPS + 1 if has_slipped else 1):
                contacts.follow(now[slips], stretch, slips, False)
                if can_slip and slips > 0:
                    slipped = before[slips - 1]
                    contacts.follow(slipped, stretch, slips, True)
                    contacts.join(now[slips], slipped, slips)
            for scene, track in (each for after, *each in struck if after == at + 1):
                contacts.strike(now[0], scene, track)
        self.gather(contacts)

    def gather(self, contacts):
        self.nearest, self.touches, self.left = {}, {}, {}
        far_from = contacts.distances()
        for node, far in far_from.items():
            surface, slips = contacts.nodes[node] if node != HAZARD else (None, None)
            if slips is not None and contacts.guards(surface):
                for most in range(slips, MOST_SLIPS + 1):
                    self.nearest[surface, most] = min(far, self.nearest.get((surface, most), far))
        for track, at, surface, came, weight in contacts.arrivals:
            if came in far_from:
                far = far_from[came] + weight
                self.touches[track, at, surface] = min(far, self.touches.get((track, at, surface), far))
        for track, surface, node in contacts.brought:
            if node in far_from:
                self.left[track, surface] = far_from[node]
