"""How far each witness of a striking clock may be turned: the works of a sheet, as KINDS.md reads it, followed through their cycle.

A follower of edges: a train is let run; at each place where a pin comes to its arm, an edge falls away or stands up under a tip, or
the pallet gathers, it is asked what stands how high just before and just after. Between two such places heights go straight, and
where one lever or another comes free the instant is found by halving. Nothing of it is shared with the program.

    windows.py SHEET.toml […]           a line of JSON for each: {"sheet": …, "witnesses": {id: {"from", "to", "from_point", "to_point"} | "any"}}
    windows.py < LINES                  the same for sheets told as {"text": …} a line, with "good": {id: degrees} if one place is asked
    windows.py --good SHEET id=deg …    whether the place with all these turned at once is good, and what is not

An end is in degrees that everything fixed on the witness's arbor is turned on from where the sheet has it, the last good place;
its points are those that fail just beyond it. A reference that is not good itself is {"fault": …}."""

import json
import sys
import tomllib
from bisect import bisect_right
from math import ceil, floor
from typing import NamedTuple

NEAR = 1e-9  # turns of a train's fastest arbor, or hours: two places so near are one instant
EDGE = 1e-6  # degrees of height: lower is level
JUMP = 1e-4  # parts of a lift: less is no step
FINE = 0.001  # degrees: how closely an end is sought
SHARES = 60  # places looked at in one period, at least
FALL = 0.06  # seconds in which a lever falls, where nobody timed it
ALL_POINTS = range(1, 8)


# Edges.


class Edge:
    """A rim told by corners, each with its height before and after; between two of them it goes straight."""

    def __init__(self, corners):
        self.corners = sorted(corners)
        if not self.corners:
            self.corners = [(0.0, 0.0, 0.0)]
        long = [(a + 360 * k, before, after) for k in (-2, -1, 0, 1, 2) for a, before, after in self.corners]
        self.at = [a for a, _, _ in long]
        self.before = [b for _, b, _ in long]
        self.after = [b for _, _, b in long]

    def felt(self, a, half):
        """The highest under a tip whose middle is at one place."""
        at, lo = self.at, a % 360.0 - half
        hi = lo + 2 * half
        i = bisect_right(at, lo)
        best = self.line(i, lo)
        if half:
            while at[i] < hi:
                best = max(best, self.before[i], self.after[i])
                i += 1
            best = max(best, self.line(i, hi))
        return best

    def line(self, i, a):
        here, far = self.after[i - 1], self.before[i]
        return here if here == far else here + (far - here) * (a - self.at[i - 1]) / (self.at[i] - self.at[i - 1])

    def lowest(self, half):
        places = [a + s * half + e for a, _, _ in self.corners for s in (-1, 1) for e in (-1e-6, 1e-6)]
        return min(self.felt(a, half) for a in places)

    def alike(self):
        """Into how many parts that are the same it can be cut."""
        return alike([(a, round(b, 6), round(c, 6)) for a, b, c in self.corners])


def alike(marks):
    for n in range(len(marks), 1, -1):
        if len(marks) % n == 0:
            by = len(marks) // n
            turned = marks[by:] + [(a + 360, *rest) for a, *rest in marks[:by]]
            if all(abs(b[0] - a[0] - 360 / n) < 1e-6 and a[1:] == b[1:] for a, b in zip(marks, turned)):
                return n
    return 1


def envelope(pieces, base, pick):
    """Corners of what is highest, or lowest, of straight pieces (from, long, height there, height at its end) and a level."""
    marks = sorted({round(a % 360, 9) % 360 for start, long, *_ in pieces for a in (start, start + long)})
    runs = []
    for u, v in zip(marks, marks[1:] + [marks[0] + 360]):
        middle, lines = (u + v) / 2, [(base, base)]
        for start, long, low, high in pieces:
            gone = (middle - start) % 360
            if gone < long:
                rise = (high - low) / long
                lines.append((low + rise * (gone - (v - u) / 2), low + rise * (gone + (v - u) / 2)))
        cuts = {0.0, 1.0}
        for a, b in lines:
            for c, d in lines:
                if (a - c) * (b - d) < -1e-12:
                    cuts.add((a - c) / ((a - c) - (b - d)))
        cuts = sorted(cuts)
        for s, t in zip(cuts, cuts[1:]):
            low, high = (pick(a + (b - a) * w for a, b in lines) for w in (s, t))
            runs.append((u + (v - u) * s, low, high))
    return [(a, last[2], low) for (a, low, _), last in zip(runs, runs[-1:] + runs[:-1])]


def slots_of(track):
    """First and last middle of each slot, in degrees."""
    if "notches_deg" in track:
        return [(m, m) for m in track["notches_deg"]]
    counts = track["counts"]
    unit, most = 360 / sum(counts), max(counts)
    last = len(counts) - 1 - counts[::-1].index(most)
    place = sum(counts[: last + 1])
    slots, shared = [[place, place]], most > 1
    # Once round, from the slot of the last greatest count back to it.
    for c in counts[last + 1 :] + counts[:last]:
        place += c
        shared = most > 1 and (c == most or shared and c == 1)
        if shared and c == 1:
            slots[-1][1] = place
        else:
            slots.append([place, place])
    return [(a * unit, b * unit) for a, b in slots]


def lifts_of(track):
    """Where each lets go, with its height."""
    if "places_deg" in track:
        places = track["places_deg"]
    elif "pins" in track:
        places = [track.get("first_deg", 0) + 360 * i / track["pins"] for i in range(track["pins"])]
    else:
        places = [track.get("first_deg", 0) + 360 * i / track["divisions"] for i in track["at"]]
    return list(zip(places, track.get("heights") or [1] * len(places)))


def edge_of(track, rate):
    if "counts" in track or "notches_deg" in track:
        half, ramp, pieces = track["slot_deg"] / 2, track.get("ramp_deg", 0), []
        for a, b in slots_of(track):
            pieces.append((a - half, b - a + 2 * half, 0.0, 0.0))
            if ramp:
                pieces.append((b + half, ramp, 0.0, 1.0))
        return Edge(envelope(pieces, 1.0, min))
    if "rise_deg" in track:
        rise, hold, pieces = track["rise_deg"], track.get("hold_deg", 0), []
        for place, high in lifts_of(track):
            pieces.append((place - hold - rise, rise, 0.0, high))
            if hold:
                pieces.append((place - hold, hold, high, high))
        return Edge(envelope(pieces, 0.0, max))
    if "steps" in track:
        # A snail, by how little it lets fall. A star's next step comes at its minute.
        steps, start = track["steps"], track.get("from_deg", 0)
        if "star_minute" in track:
            start += 360 * rate * track["star_minute"] / 60
        n = len(steps)
        return Edge([((start + 360 * i / n) % 360, -steps[i - 1], -steps[i]) for i in range(n)])
    corners = []
    for a, high in track["outline"]:
        if corners and corners[-1][0] == a % 360:
            corners[-1][2] = high
        else:
            corners.append([a % 360, high, high])
    return Edge([tuple(c) for c in corners])


# The works.


def teeth_of(part):
    part = part["teeth"] if isinstance(part, dict) else part
    return int(str(part).rstrip("?"))


class Part:
    """Something on an arbor that a lever or the rack meets: what train carries it and how fast, and its own marks."""

    def __init__(self, kind, arbor, works, **more):
        self.kind, self.arbor = kind, arbor
        self.train, self.rate = works.carried(more.pop("hours", None), arbor)
        self.unit = 360 * self.rate
        self.__dict__.update(more)


class Works:
    def __init__(self, sheet):
        self.sheet, self.strike = sheet, sheet["strike"]
        self.tracks = {t["id"]: t for t in sheet.get("track", [])}
        self.pins = {p["id"]: p for p in sheet.get("pin", [])}
        self.levers, self.rack = sheet.get("lever", []), sheet.get("rack")
        self.lay_trains()
        self.lay_levers()
        self.cycle = self.strike.get("cycle_hours", 12)
        self.chime = sheet.get("chime", {}).get("notes")
        kind = self.strike["blows"]
        self.step = 60 // len(self.chime) if self.chime else 60 if kind == "hours" else 30
        self.owed = [self.owes(n * self.step, kind) for n in range(self.cycle * 60 // self.step)]

    def owes(self, minute, kind):
        hour, past = (minute // 60 + 11) % 12 + 1, minute % 60
        if kind == "ship's bells":
            blows = 0 if minute % 30 else (minute // 30 - 1) % 8 + 1
        elif past == 0:
            blows = hour
        elif past == 30 and kind != "hours":
            blows = 0 if kind == "hours and ten halves" and hour in (12, 1) else 1
        else:
            blows = 0
        return blows, self.chime[(minute // self.step - 1) % len(self.chime)] if self.chime else None

    def lay_trains(self):
        """The speed of each arbor within its train, by that of the first; arbors that go with the hand by turns an hour."""
        links = {}
        for mesh in self.sheet.get("mesh", []):
            (a, p), (b, q) = (mesh[side].split(".") for side in ("driver", "driven"))
            ratio = teeth_of(self.sheet["arbor"][a][p]) / teeth_of(self.sheet["arbor"][b][q])
            links.setdefault(a, []).append((b, ratio))
            links.setdefault(b, []).append((a, 1 / ratio))
        with_parts = {t["on"] for t in [*self.tracks.values(), *self.pins.values()] if "on" in t}
        self.where, trains = {}, []
        for root in [self.strike["read_at"], *self.sheet["arbor"]]:
            if root in self.where:
                continue
            speed, queue = {root: 1.0}, [root]
            for near in queue:
                for far, ratio in links.get(near, []):
                    if far not in speed:
                        speed[far] = speed[near] * ratio
                        queue.append(far)
            timed = [a for a in queue if "turn_s" in self.sheet["arbor"][a]]
            if timed:
                unit = 3600 / self.sheet["arbor"][timed[0]]["turn_s"] / speed[timed[0]]
                self.where.update({a: (None, v * unit) for a, v in speed.items()})
            else:
                unit = 1 / max([v for a, v in speed.items() if a in with_parts], default=1.0)
                self.where.update({a: (len(trains), v * unit) for a, v in speed.items()})
                trains.append(root)
        # The hand is the last of the trains, in hours.
        self.hand = len(trains)
        self.where = {a: (self.hand if t is None else t, v) for a, (t, v) in self.where.items()}
        self.own = self.where[self.strike["read_at"]][0]

    def least_lead(self, arm):
        """Turns that a pin should have to go as a lever begins to fall: those it makes in that time, where a pace was measured."""
        if "pace_s" not in self.strike or arm.train != self.own:
            return 0.125
        a_blow = arm.rate / self.where[self.strike["read_at"]][1] / self.strike["blows_per_turn"]
        # Never more than a sixth, so that the usual fifth stays inside.
        return min(1 / 6, a_blow * self.strike.get("fall_s", FALL) / self.strike["pace_s"])

    def carried(self, hours, arbor):
        return (self.hand, 1 / hours) if hours else self.where[arbor]

    def lay_levers(self):
        self.feels, self.arms, self.hooks, self.raised = [], [], {}, {}
        self.arbors = list(dict.fromkeys([lever["on"] for lever in self.levers] + (["rack"] if self.rack else [])))
        for lever in self.levers:
            on = lever["on"]
            if lever.get("feels") == "rack":
                self.hooks[on] = max(self.hooks.get(on, 0), lever["lift_deg"])
            elif "feels" in lever:
                track = self.tracks[lever["feels"]]
                self.feels.append(self.feel(track, on, lever))
            elif "stops" in lever:
                pin = self.pins[lever["stops"]]
                at = pin["at_deg"] if isinstance(pin["at_deg"], list) else [pin["at_deg"]]
                further = lever.get("further_deg", 0)
                self.arms.append(
                    Part("arm", pin["on"], self, on=on, places=sorted((a + further) % 360 for a in at), lever=lever,
                         below=lever.get("below_deg"), above=lever.get("above_deg"))
                )
            elif "lifts" in lever:
                self.raised.setdefault(lever["lifts"], []).append((on, lever.get("from_deg", 0)))
        self.felt_on = {on: [f for f in self.feels if f.on == on] for on in self.arbors}
        self.pallet = self.snail = None
        if self.rack:
            pin, track = self.pins[self.rack["pallet"]], self.tracks[self.rack["snail"]]
            at = pin["at_deg"] if isinstance(pin["at_deg"], list) else [pin["at_deg"]]
            self.pallet = Part("pallet", pin["on"], self, on=self.rack["hook"], places=sorted(a % 360 for a in at))
            tail = 0 if "star_minute" in track else self.rack.get("tail_deg", 0) / 2
            self.snail = self.feel(track, "rack", {"tip_deg": 2 * tail, "lift_deg": 1}, kind="snail")
        self.moving = [*self.feels, *self.arms, *([self.pallet, self.snail] if self.rack else [])]
        self.of_train = [[p for p in self.moving if p.train == train] for train in range(self.hand + 1)]
        # What a train lifts of another's, or of the rack's: there what happens between two places counts too.
        hook = {self.rack["hook"]} if self.rack else set()
        self.reached = {on: self.reaches(on) for on in self.arbors}
        locking = {a.on for a in self.arms if a.above is None} | {f.on for f in self.feels if f.locks}
        for n, part in enumerate(self.moving):
            part.n = n
            # Which of the arbors that lock fall where this does.
            part.drops = [] if part.kind == "arm" or part.kind == "feel" and part.hammer else sorted(self.reached[part.on] & locking)
            part.stirred = any(part.on in self.reached[f.on] for f in self.feels if f.train == part.train)
        for part in self.moving:
            others = {a.on for a in self.arms if a.train != part.train} | {f.on for f in self.feels if f.locks and f.train != part.train}
            part.watched = part.train == self.hand or part.kind == "snail"
            part.watched |= part.kind == "feel" and bool(self.reached[part.on] & (others | hook))
        self.watched = [[p for p in parts if p.watched and p.kind != "arm"] for parts in self.of_train]
        self.hammers = [[f for f in self.feels if f.hammer and f.train == train] for train in range(self.hand + 1)]
        self.warners = [[a for a in self.arms if a.above is not None and a.train == train] for train in range(self.hand + 1)]

    def feel(self, track, on, lever, kind="feel"):
        half = lever.get("tip_deg", 0) / 2
        rate = self.carried(track.get("hours"), track.get("on"))[1]
        edge = edge_of(track, rate)
        hind = [(a + half) % 360 for a, before, after in edge.corners if before - after > 1e-9]
        front = [(a - half) % 360 for a, before, after in edge.corners if after - before > 1e-9]
        other = [(a + s * half) % 360 for a, _, _ in edge.corners for s in (-1, 1)]
        marks = {a: "bend" for a in other} | {a: "falls" for a in hind} | {a: "stands" for a in front if kind == "feel"}
        part = Part(
            kind, track.get("on"), self, hours=track.get("hours"), on=on, edge=edge, half=half, lift=lever["lift_deg"], lever=lever,
            track=track, hammer="strikes" in lever, locks=lever.get("locks", False), marks=marks, lowest=0.0,
            lobes=len(lifts_of(track)) if "rise_deg" in track else 0,
        )
        part.lowest = part.lift * edge.lowest(half)
        part.group = track.get("id")
        if part.hammer and part.lobes and part.train == self.own:
            per = part.lobes * rate / self.where[self.strike["read_at"]][1]
            if abs(per - self.strike["blows_per_turn"]) < 1e-9:
                part.group = None  # once for every blow
        return part

    def reaches(self, on):
        found, queue = {on}, [on]
        for near in queue:
            for far, by in self.raised.items():
                if far not in found and any(a == near for a, _ in by):
                    found.add(far)
                    queue.append(far)
        return found


# A run.


class Stuck(Exception):
    """It jams or runs on."""


class Bad(Exception):
    """A point does not hold, and that is all that was asked."""


class Lock(NamedTuple):
    """How all stood as a train locked last in an hour: where the trains are, were let go, and what locks them began to fall."""

    at: list
    segment: list
    drop: list
    left: float
    gathered: float | None


class Run:
    """From a drop on, hour by hour. `turned` says how far arbors are turned, in degrees."""

    def __init__(self, works, turned, begun, asked):
        self.w, self.asked = works, asked
        w, (self.first, drops) = works, begun
        self.off = [turned.get(p.arbor, 0.0) for p in w.moving]
        self.pos = [x + NEAR for x in drops] + [self.first * w.step / 60 + NEAR]
        self.left = 0.0
        self.points, self.blows, self.notes = {}, {}, {}
        self.next = [[] for _ in self.pos]
        self.stopped, self.state = [None] * w.hand, [None] * w.hand
        self.since = list(self.pos)  # let go from the lock
        self.segment = list(self.pos)  # let go from the lock or the warning
        self.was_warned, self.sounded = [False] * w.hand, [0] * w.hand
        self.voices, self.fell, self.gathered = {}, {}, None
        self.seen, self.drop = {}, list(drops)
        self.quiet, self.running = True, set()
        self.hand_lies()
        # Thirty blows, or three turns of what turns slowest, and it never stops.
        thirty = 30 / w.where[w.strike["read_at"]][1] / w.strike["blows_per_turn"]
        slowest = [max([1 / p.rate for p in parts], default=0) for parts in w.of_train]
        self.longest = [1.1 * x + thirty if train == w.own else 3 * x for train, x in enumerate(slowest)]
        for train, parts in enumerate(w.of_train):
            for part in parts:
                coming = Coming(part, self.off[part.n], self.pos[train], part.watched)
                if coming.places:
                    self.next[train].append(coming)

    def hand_lies(self):
        """The hand goes on until what it lifts at the hour has come down, half the way to the next at most."""
        w, began = self.w, self.pos[-1]
        lifting = [f for f in w.feels if f.train == w.hand]
        while any(self.feel(f, self.pos) > EDGE for f in lifting):
            self.pos[-1] += 1 / 120
            if self.pos[-1] > began + w.step / 120:
                self.pos[-1] = began
                return

    # Where things stand.

    def feel(self, f, pos):
        return f.lift * f.edge.felt(f.unit * pos[f.train] + self.off[f.n], f.half)

    def high(self, on, pos):
        """How high a lever arbor stands."""
        w = self.w
        if on == "rack" and w.rack:
            return self.left * w.rack["tooth_deg"]
        best = w.hooks[on] if self.left > EDGE and on in w.hooks else 0.0
        for f in w.felt_on.get(on, ()):
            high = f.lift * f.edge.felt(f.unit * pos[f.train] + self.off[f.n], f.half)
            if high > best:
                best = high
        for by, start in w.raised.get(on, ()):
            high = self.high(by, pos) - start
            if high > best:
                best = high
        return best

    def near(self, train, x):
        before, after = list(self.pos), list(self.pos)
        before[train], after[train] = x - NEAR, x + NEAR
        return before, after

    @staticmethod
    def in_path(arm, high):
        return high < arm.below - EDGE / 1000 if arm.above is None else high >= arm.above - EDGE / 1000

    def holds(self, part, pos):
        """Whether an arm, or a wall, that the train stands at holds it."""
        high = self.high(part.on, pos)
        if part.kind == "arm":
            return self.in_path(part, high)
        after = list(pos)
        after[part.train] += 2 * NEAR
        return high < self.feel(part, after) - EDGE

    def fall(self, pos):
        return -self.feel(self.w.snail, pos)

    def ready(self, but, pos):
        """Whether anything has come free: a train that stood, or the rack."""
        if any(train != but and at and not any(self.holds(p, pos) for p in at) for train, at in enumerate(self.stopped)):
            return True
        return bool(self.w.rack) and self.rack_free(pos)

    def rack_free(self, pos):
        return self.left < self.fall(pos) - 1e-9 and self.high(self.w.rack["hook"], pos) >= self.w.rack["free_deg"] - 1e-9

    # What happens.

    def hour(self):
        return floor(self.pos[-1] * 60 / self.w.step + 0.5 + 1e-6)

    def fails(self, point):
        if self.quiet:
            return
        self.points.setdefault(self.hour(), set()).add(point)
        if not self.asked:
            raise Bad

    def settle(self, but=None):
        again = True
        while again:
            again = self.rack_falls()
            for train in range(self.w.hand):
                if train != but and train not in self.running:
                    again |= self.go(train)

    def rack_falls(self):
        if not self.w.rack or not self.rack_free(self.pos):
            return False
        self.left = self.fall(self.pos)
        if self.left > self.w.rack["teeth"] + 1e-9:
            raise Stuck("the rack falls past its teeth")
        return True

    def go(self, train):
        """A train runs until it is stopped, if it is free."""
        if not self.next[train]:
            return False
        if self.stopped[train] is not None:
            if any(self.holds(p, self.pos) for p in self.stopped[train]):
                return False
            self.let_go(train)
        self.running.add(train)
        while True:
            x = min(c.x for c in self.next[train])
            if x - self.segment[train] > self.longest[train]:
                raise Stuck("it runs on")
            touched = False
            if self.w.watched[train]:
                self.glide(train, x - NEAR)
                touched = any(c.x <= x + NEAR and (c.part.watched or c.what == "pallet") for c in self.next[train])
                if touched:
                    self.warned_still()
            if self.meets(train, x):
                break
            if touched:
                self.settle(train)
        self.running.discard(train)
        return True

    def glide(self, train, x):
        """Goes straight on to a place, as others come free on the way."""
        while True:
            pos = list(self.pos)
            pos[train] = x
            level = all(self.feel(f, pos) == self.feel(f, self.pos) for f in self.w.watched[train])
            if x <= self.pos[train] or level or not self.ready(train, pos):
                self.pos[train] = max(x, self.pos[train])
                return
            low, high = self.pos[train], x
            for _ in range(40):
                if high - low < 1e-10:
                    break
                pos[train] = (low + high) / 2
                low, high = (low, pos[train]) if self.ready(train, pos) else (pos[train], high)
            self.pos[train] = high
            self.settle(train)

    def meets(self, train, x):
        """What comes at one place: it stops the train, or goes by."""
        here = [c for c in self.next[train] if c.x <= x + NEAR]
        before, after = self.near(train, x)
        walls = [c.part for c in here if c.what == "stands" and self.steps(c.part, before, after) > JUMP]
        arms = [c.part for c in here if c.part.kind == "arm"]
        held = [p for p in walls if self.high(p.on, before) < self.feel(p, after) - EDGE]
        for arm in arms:
            high = self.high(arm.on, before)
            if arm.stirred and not walls and (arm.below is None or high < arm.below):
                high = max(high, self.high(arm.on, after))
            if self.in_path(arm, high):
                held.append(arm)
        if held:
            self.pos[train] = x - NEAR
            if train == self.w.hand or any(p.kind == "feel" and not p.locks for p in held):
                raise Stuck("it jams")
            self.stopped[train] = walls + arms
            self.stands(train, held, arms)
            return True
        self.goes_by(train, here, x)
        return False

    def steps(self, f, before, after):
        return (self.feel(f, after) - self.feel(f, before)) / f.lift

    def goes_by(self, train, here, x):
        w = self.w
        before, after = self.near(train, x)
        was = {on: self.high(on, before) for c in here if c.what in ("falls", "pallet") for on in c.part.drops}
        struck = [c.part for c in here if c.what == "falls" and c.part.hammer]
        dropped = [self.high(f.on, before) - self.high(f.on, after) > JUMP * f.lift for f in struck]
        for c in here:
            if c.what == "pallet" and self.left > EDGE:
                if max(self.high(w.rack["hook"], before), self.high(w.rack["hook"], after)) < w.rack["free_deg"] - 1e-9:
                    self.left = max(1, ceil(self.left - w.rack.get("enters_teeth", 0.5) - 1e-9)) - 1.0
                    self.gathered = x
            elif c.part.kind == "snail" and self.left > self.fall(after) + 1e-9:
                raise Stuck("the rack's tail is caught")
        self.pos[train] = x + NEAR
        for on, high in was.items():
            if high - self.high(on, self.pos) > EDGE:
                self.fell[on] = list(self.pos)
        for f, fell in zip(struck, dropped):
            if fell:
                self.blow(f)
        for c in here:
            c.step()
        self.rack_falls()

    def blow(self, f):
        heard = self.voices.setdefault((f.train, f.group), set())
        if heard and f.lever["id"] not in heard:
            heard.add(f.lever["id"])
            return
        self.voices[f.train, f.group] = {f.lever["id"]}
        if self.quiet:
            return
        told = self.blows if f.train in (self.w.own, self.w.hand) else self.notes
        told[self.hour()] = told.get(self.hour(), 0) + 1
        if f.train != self.w.hand:
            self.sounded[f.train] += 1
        owed = self.w.owed[self.hour() % len(self.w.owed)][told is self.notes]
        if not self.asked and owed is not None and told[self.hour()] > owed:
            raise Bad

    def let_go(self, train):
        self.segment[train] = self.pos[train]
        here = [c for c in self.next[train] if c.x <= self.pos[train] + 3 * NEAR]
        if self.state[train] == "locked":
            self.since[train] = self.pos[train]
            self.was_warned[train], self.sounded[train] = False, 0
            self.voices = {k: v for k, v in self.voices.items() if k[0] != train}
            self.fell = {on: at for on, at in self.fell.items() if at[train] > self.pos[train] + NEAR}
            warners = self.w.warners[train]
            if warners and not any(self.in_path(a, self.high(a.on, self.pos)) for a in warners):
                self.fails(4)
        self.stopped[train] = self.state[train] = None
        self.goes_by(train, here, self.pos[train] + NEAR)

    # What is judged.

    def stands(self, train, held, arms):
        warner = next((p for p in held if p.kind == "arm" and p.above is not None), None)
        if warner:
            self.state[train], self.was_warned[train] = "warned", True
            run = (self.pos[train] - self.since[train]) * warner.rate
            if not 0.25 - 1e-7 <= run <= 0.75 + 1e-7:
                self.fails(4)
            if self.sounded[train]:
                self.fails(1)
            if any(self.high(f.on, self.pos) > EDGE for f in self.w.hammers[train]):
                self.fails(3)
            if any(a.above is None for a in arms):
                self.fails(6)
            if self.pallet_in(train):
                self.fails(7)
            self.warned_still()
            return
        self.state[train] = "locked"
        self.locks(train, held[0])
        self.drop[train] = self.began(train, held[0])
        self.seen[self.hour()] = Lock(self.pos[:-1], self.segment[:-1], self.drop[:], self.left, self.gathered)

    def began(self, train, part):
        """Where what locks a train began to fall."""
        if part.on in self.fell:
            return self.fell[part.on][train]
        return self.gathered if part.on == "rack" and self.gathered is not None else self.pos[train]

    def warned_still(self):
        """No locking arm comes into the path while a train is warned."""
        for arm in self.w.arms:
            if arm.train < self.w.hand and self.state[arm.train] == "warned" and arm.above is None and arm.places:
                if self.in_path(arm, self.high(arm.on, self.pos)):
                    self.fails(6)

    def pallet_in(self, train):
        """Whether the pallet is in the last quarter of its turn before it gathers."""
        coming = [c for c in self.next[train] if c.what == "pallet"]
        return any((c.x - self.pos[train]) * c.part.rate < 0.25 - 1e-7 for c in coming)

    def locks(self, train, part):
        w = self.w
        after = list(self.pos)
        for f in w.hammers[train]:
            after[train] = self.pos[train] + 1e-5 / 360 / f.rate
            if self.high(f.on, self.pos) > EDGE or self.feel(f, after) > 1e-9:
                self.fails(2)
        if part.on != "rack":
            for on in w.arbors:
                lies = [f.lowest for f in w.felt_on.get(on, ()) if f.train == train and not f.hammer]
                if lies and part.on in w.reached[on] and self.high(on, self.pos) > max(0.0, *lies) + 1e-5:
                    self.fails(5)
            fell = self.fell.get(part.on)
            if part.kind == "arm" and fell and (self.pos[train] - fell[train]) * part.rate < w.least_lead(part) - 1e-7:
                self.fails(5)
        if w.pallet and w.pallet.train == train:
            if self.pallet_in(train) or self.left > EDGE or self.high(w.rack["hook"], self.pos) > EDGE:
                self.fails(7)
        if w.warners[train] and self.sounded[train] and not self.was_warned[train]:
            self.fails(4)

    # The whole of it.

    def through(self):
        """One cycle, and a second where the first does not end as it began; the points that fail, by hour."""
        try:
            self.settle()
            self.quiet, start = False, list(self.pos)
            self.until(start[-1] + self.w.cycle)
            if not self.same(start):
                self.until(start[-1] + 2 * self.w.cycle)
        except Stuck as stuck:
            self.stuck = str(stuck)
            self.quiet = False
            self.fails(1)
        return self.points

    def until(self, end):
        """Lets the hand go on, and tells the numbers of the hours gone by."""
        hand, first = self.w.hand, self.hour()
        while self.pos[-1] < end - 2 * NEAR:
            x = min([c.x for c in self.next[hand]] + [self.pos[-1] + 1 / 12, end])
            self.glide(hand, x - NEAR)
            self.warned_still()
            if any(c.x <= x + NEAR for c in self.next[hand]):
                self.meets(hand, x)
            else:
                self.pos[-1] = x
            self.settle()
            if not self.asked:
                # An hour that is over has its number.
                self.numbers(first, self.hour() - 1)
        self.numbers(first, self.hour())

    def numbers(self, first, last):
        for n in range(first + 1, last + 1):
            blows, notes = self.w.owed[n % len(self.w.owed)]
            if self.blows.get(n, 0) != blows or notes is not None and self.notes.get(n, 0) != notes:
                self.points.setdefault(n, set()).add(1)
                if not self.asked:
                    raise Bad

    def same(self, start):
        """Whether all stands as it did there, each part at its own place or one that is like it."""
        if self.left > EDGE:
            return False
        for parts in self.w.of_train[: self.w.hand]:
            for p in parts:
                n = alike([(a,) for a in p.places]) if p.kind in ("arm", "pallet") else p.edge.alike()
                gone = (p.rate * (self.pos[p.train] - start[p.train]) * n) % 1
                if min(gone, 1 - gone) > 1e-6:
                    return False
        return True


class Coming:
    """The places of one part as they come, one after the other."""

    def __init__(self, part, off, x, every):
        if part.kind in ("feel", "snail"):
            marks = sorted((a, what) for a, what in part.marks.items() if every or what != "bend")
            self.places, self.whats = [a for a, _ in marks], [what for _, what in marks]
        else:
            self.places, self.whats = part.places, [part.kind] * len(part.places)
        self.part, self.off, self.unit = part, off, part.unit
        if self.places:
            a = self.unit * (x + NEAR) + off
            self.turns = floor(a / 360)
            self.i = bisect_right(self.places, a - 360 * self.turns) - 1
            self.step()

    def step(self):
        self.i += 1
        if self.i == len(self.places):
            self.i, self.turns = 0, self.turns + 1
        self.what = self.whats[self.i]
        self.x = (self.places[self.i] + 360 * self.turns - self.off) / self.unit


# Windows.


class Judge:
    """Places of a sheet, good or not."""

    def __init__(self, sheet):
        self.sheet, self.w = sheet, Works(sheet)
        self.drops = [(0, [0.0] * self.w.hand)]
        run = Run(self.w, {}, self.drops[0], asked=True)
        self.reference = run.through()
        self.stuck = getattr(run, "stuck", None)
        self.drops += [(n, lock.drop) for n, lock in sorted(run.seen.items()) if 0 < n < len(self.w.owed)]

    def points(self, turned, asked=True):
        """By the hour, the points that do not hold at one place, of the first drop from which some do not; where no more is asked
        than whether there are any, of the first instant."""
        try:
            run = Run(self.w, turned, self.drops[0], asked)
            told = run.through()
            for begun in self.drops[1:]:
                if told:
                    break
                if not self.runs_into(run, begun, turned):
                    told = Run(self.w, turned, begun, asked).through()
        except Bad:
            return {None: set(ALL_POINTS)}
        return told

    def runs_into(self, run, begun, turned):
        """Whether a clock begun at this drop goes on as the one begun at the first did after the same hour."""
        n, drops = begun
        if n not in run.seen:
            return bool(run.points)
        lock, own = run.seen[n], self.w.pallet.train if self.w.pallet else None
        if all(
            lock.segment[t] - NEAR <= x <= lock.at[t] + 2 * NEAR and (t != own or lock.gathered is None or lock.gathered <= x + 1e-7)
            for t, x in enumerate(drops)
        ):
            return True
        other = Run(self.w, turned, begun, asked=False)
        try:
            other.settle()
        except Stuck:
            return False
        return lock.left < EDGE and other.same(lock.at)

    def good(self, turned):
        return not self.points(turned, asked=False)

    def on(self, witness):
        return next(w for w in self.sheet["witness"] if w["id"] == witness)

    def turned(self, places):
        """How far each arbor is turned where witnesses stand so far on. One that is read at another moment goes along with what
        that moment's arbor is turned."""
        moments = {m["id"]: m["arbor"] for m in self.sheet.get("moment", [])} | {"drop": self.w.strike["read_at"]}
        asked, turned = {}, {}
        for name, by in places.items():
            witness = self.on(name)
            if witness["on"] in asked and asked[witness["on"]][0] != by:
                raise ValueError(f"{name}: its arbor cannot stand in two places")
            asked[witness["on"]] = (by, moments[witness.get("at", "drop")])

        def far(arbor, on_the_way=()):
            if arbor not in asked or arbor in on_the_way:
                return 0.0
            by, held = asked[arbor]
            (train, rate), (other, its) = self.w.where[arbor], self.w.where[held]
            along = far(held, (*on_the_way, arbor)) * rate / its if other == train and held != arbor else 0.0
            return by + along

        for arbor in asked:
            turned[arbor] = far(arbor)
        return turned

    def window(self, witness):
        arbor, period = witness["on"], 360 / witness["repeats"]
        parts = [p for parts in self.w.of_train for p in parts if p.arbor == arbor]
        if not parts:
            return "any"
        step = period / SHARES
        for p in parts:
            if p.kind in ("feel", "snail"):
                widths = [p.track.get("rise_deg"), p.track.get("slot_deg", 0) - 2 * p.half]
                step = min([step] + [w / 2 for w in widths if w and w > 0.01])
        ends = {}
        for way in (1, -1):
            near = 0.0
            while True:
                far = min(near + step, period)
                if not self.good({arbor: way * far}):
                    break
                near = far
                if near + abs(ends.get(1, (0.0,))[0]) >= period:
                    return "any"
            while far - near > FINE:
                middle = (near + far) / 2
                near, far = (middle, far) if self.good({arbor: way * middle}) else (near, middle)
            failing = set().union(*self.points({arbor: way * far}).values())
            ends[way] = (way * near, sorted(failing))
        (to, to_points), (start, from_points) = ends[1], ends[-1]
        return {"from": round(start, 3), "to": round(to, 3), "from_point": said(from_points), "to_point": said(to_points)}


def said(points):
    return points[0] if len(points) == 1 else points


def windows(text, good=None):
    sheet = tomllib.loads(text)
    if "lever" not in sheet or "strike" not in sheet:
        return {"fault": "no levers"}
    judge = Judge(sheet)
    if judge.reference and good is None:
        return {"fault": "as the sheet has it, it does not strike right", **told(judge.reference), "end": judge.stuck}
    if good is not None:
        try:
            points = judge.points(judge.turned(good))
        except ValueError as fault:
            return {"fault": str(fault)}
        return {"good": not points, **told(points)}
    return {"witnesses": {w["id"]: judge.window(w) for w in sheet.get("witness", [])}}


def told(points):
    return {"points": sorted(set().union(*points.values())), "hours": {n: sorted(of) for n, of in sorted(points.items())}}


def main():
    given = sys.argv[1:]
    if given[:1] == ["--good"]:
        with open(given[1], encoding="utf-8") as file:
            text = file.read()
        places = {name: float(by) for name, by in (place.split("=") for place in given[2:])}
        print(json.dumps(windows(text, places)))
    elif given:
        for path in given:
            with open(path, encoding="utf-8") as file:
                print(json.dumps({"sheet": path, **windows(file.read())}), flush=True)
    else:
        for line in sys.stdin:
            asked = json.loads(line)
            print(json.dumps(windows(asked["text"], asked.get("good"))), flush=True)


if __name__ == "__main__":
    main()
