"""Striking clocks by where everything stands, from the sheet as KINDS.md reads it: no account of what happened before is kept
but where each train stands and how many teeth of the rack are left. Heights of levers are worked out anew for every place;
a train goes from one place at which something could happen to the next, the hand by small steps, and where something comes
free between two of them the instant is found by halving.

    strikes.py TRUNDLE MOVEMENTS    for each line {"count": …, "seed": …} compares `TRUNDLE strike … --json` over so many variations of
    the sheets and of what is put in wrong: blows and notes of each hour, the points that do not hold, how it ends

Nothing of it is shared with the program."""

import json
import random
import subprocess
import sys
import tempfile
import tomllib
from bisect import bisect_left
from math import ceil, floor
from pathlib import Path

NEAR = 1e-10  # turns of a train's first arbor: two places so near are one instant
EDGE = 1e-6  # degrees of height: lower is level
STEP = 1 / 120  # hours of the hand


def deg(n):
    return n % 360.0


class Track:
    """The height of an edge, in parts of its lift, under a tip; `bent` in the same parts."""

    def __init__(self, raw, worn, missing, bent, tip):
        self.tip, self.bent = tip / 2, bent
        self.lobes, self.points, self.cuts = [], [], []
        if "rise_deg" in raw:
            if "places_deg" in raw:
                places = list(raw["places_deg"])
            elif "pins" in raw:
                n = raw["pins"]
                places = [raw.get("first_deg", 0) + 360 * i / n for i in range(n)]
            else:
                n = raw["divisions"]
                places = [raw.get("first_deg", 0) + 360 * i / n for i in raw["at"]]
            whole = raw.get("heights") or [1] * len(places)
            self.rise, self.hold = raw["rise_deg"], raw.get("hold_deg", 0)
            self.lobes = [
                (deg(p), h) for i, (p, h) in enumerate(zip(places, whole)) if i not in missing and h > max(bent, 0)
            ]
        elif "outline" in raw:
            self.points = [(a, h - bent) for a, h in raw["outline"]]
        else:
            self.slots(raw, worn)
        # Three turns, so that no tip looks past the end.
        self.points.sort(key=lambda p: p[0])
        self.long = [(a + 360 * k, h) for k in (-1, 0, 1, 2) for a, h in self.points]
        self.at = [a for a, _ in self.long]
        self.jumps = sorted(deg(c) for c in self.corners())
        self.walls = any(self.felt(c + 1e-6) - max(self.felt(c - 1e-6), 0) > 1e-4 for c in self.jumps)

    def slots(self, raw, worn):
        """Where each slot begins and ends, in the order they come, what runs into one another joined."""
        if "counts" in raw:
            counts = raw["counts"]
            unit, most = 360 / sum(counts), max(counts)
            last = max(i for i, c in enumerate(counts) if c == most)
            place, cuts, takes_ones = sum(counts[:last]), [], False
            for c in counts[last:] + counts[:last]:
                place += c
                if takes_ones and c == 1 != most:
                    cuts[-1][1] = place
                else:
                    cuts.append([place, place])
                    takes_ones = c == most
            cuts = [(a * unit, b * unit) for a, b in cuts]
        else:
            cuts = [(m, m) for m in raw["notches_deg"]]
        half, self.ramp = raw["slot_deg"] / 2, raw.get("ramp_deg", 0)
        cuts.sort(key=lambda c: deg((c[0] + c[1]) / 2))
        made = []
        for i, (a, b) in enumerate(cuts):
            w = worn.get(None, 0) + worn.get(i, 0)
            start = deg(a - half - w)
            made.append((start, start + b - a + 2 * (half + w)))
        made.sort()
        joined = []
        for start, end in made:
            if joined and start <= joined[-1][1] + self.ramp:
                joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
            else:
                joined.append((start, end))
        if len(joined) > 1 and joined[0][0] <= joined[-1][1] + self.ramp - 360:
            start, end = joined.pop()
            joined[0] = (start, max(end, joined[0][1] + 360))
        self.cuts = joined

    def under(self, a):
        """How high pins hold what is at one place."""
        best = 0.0
        for place, whole in self.lobes:
            to_go = deg(place - a) - self.hold
            if to_go <= 0:
                best = max(best, whole - self.bent)
            elif self.rise:
                best = max(best, whole * (1 - to_go / self.rise) - self.bent)
        return best

    def felt(self, a):
        if self.cuts:
            return self.in_cuts(a)
        if self.points:
            return self.outline(a)
        if not self.lobes:
            return 0.0
        if not self.tip:
            return self.under(a)
        best = self.under(a + self.tip)
        for place, whole in self.lobes:
            if deg(place - (a - self.tip)) <= 2 * self.tip:
                best = max(best, whole - self.bent)
        return best

    def in_cuts(self, a):
        lowest = 1.0
        for start, end in self.cuts:
            back = deg(a - self.tip - start)  # from the slot's first edge to the tip's hind end
            front = back + 2 * self.tip
            width = end - start
            if back > 360 - 1e-12 or back == 0:
                continue
            if width >= 360:
                return -self.bent
            if front < width:
                lowest = 0.0
            elif self.ramp and front < width + self.ramp:
                lowest = min(lowest, max(0.0, (front - width) / self.ramp))
            elif front <= width:
                lowest = 0.0
        return lowest - self.bent

    def outline(self, a):
        a = deg(a)
        lo, hi = a - self.tip, a + self.tip
        best = max(self.line(lo), self.line(hi))
        i = bisect_left(self.at, lo)
        while i < len(self.at) and self.at[i] <= hi:
            best = max(best, self.long[i][1])
            i += 1
        return best

    def line(self, a):
        i = bisect_left(self.at, a)
        (x0, h0), (x1, h1) = self.long[i - 1], self.long[i]
        return h1 if x1 == x0 else h0 + (h1 - h0) * (a - x0) / (x1 - x0)

    def corners(self):
        """Where the middle of the tip stands as something jumps under it."""
        if self.lobes:
            return [p + self.tip for p, _ in self.lobes] + (
                [p - self.hold - self.tip for p, _ in self.lobes] if not self.rise else []
            )
        if self.cuts:
            return [s + self.tip for s, _ in self.cuts] + [e - self.tip for _, e in self.cuts]
        jumps = [a for (a, h), (b, k) in zip(self.points, self.points[1:]) if a == b and h != k]
        return [a + s * self.tip for a in jumps for s in (-1, 1)]

    def lowest(self):
        if self.lobes or not (self.points or self.cuts):
            return 0.0
        if self.points:
            return min(self.outline(i / 4) for i in range(1440))
        widest = max((e - s for s, e in self.cuts), default=0)
        if widest > 2 * self.tip:
            return -self.bent
        return min(self.in_cuts(s + self.tip + 1e-7) for s, _ in self.cuts)


class Snail:
    def __init__(self, raw, tail, bent):
        self.steps, self.tip, self.bent = raw["steps"], tail / 2, bent
        n = len(self.steps)
        self.start = raw.get("from_deg", 0)
        if "star_minute" in raw:
            self.start += 360 / n * raw["star_minute"] / 60

    def one(self, a):
        n = len(self.steps)
        return self.steps[floor(deg(a - self.start) / 360 * n + 1e-12) % n]

    def fall(self, a):
        n, unit = len(self.steps), 360 / len(self.steps)
        least = min(self.one(a - self.tip), self.one(a + self.tip))
        k = ceil((a - self.tip - self.start) / unit)
        while k * unit + self.start <= a + self.tip:
            least = min(least, self.steps[k % n], self.steps[(k - 1) % n])
            k += 1
        return max(0.0, least + self.bent)


class Stop(Exception):
    """The run ends here."""


class Works:
    def __init__(self, sheet, wrong):
        self.sheet = sheet
        self.train_of, self.speed, self.ahead = {}, {}, {}
        self.trains(sheet, wrong)
        bends = {}
        for name, by in wrong.get("bend", []):
            bends[name] = bends.get(name, 0) + by
        slips = {}
        for name, by in wrong.get("slip", []):
            slips[name] = slips.get(name, 0) + by
        missing = wrong.get("missing", [])
        worn = wrong.get("worn", [])
        tracks = {t["id"]: t for t in sheet.get("track", [])}
        pins = {p["id"]: p for p in sheet.get("pin", [])}
        # A name that a track has is the track's.
        pin_slip = {k: v for k, v in slips.items() if k not in tracks}
        self.levers = sheet.get("lever", [])
        self.feel, self.hooks, self.arms, self.lifts = [], [], [], []
        rack = sheet.get("rack")
        self.rack = None

        def carry(of, slip):
            if "hours" in of:
                return (None, 1 / of["hours"], slip / 360)
            train = self.train_of[of["on"]]
            speed = self.speed[of["on"]]
            ahead = self.ahead[of["on"]] + slip / 360
            if self.timed[train]:
                arbor, seconds = self.timed[train]
                per = speed / self.speed[arbor]
                return (None, per * 3600 / seconds, ahead - per * self.ahead[arbor])
            return (train, speed, ahead)

        for lever in self.levers:
            b = bends.get(lever["id"], 0)
            if lever.get("feels") == "rack":
                self.hooks.append(dict(on=lever["on"], lift=lever["lift_deg"], bent=b, id=lever["id"]))
            elif "feels" in lever:
                raw = tracks[lever["feels"]]
                gone = {n - 1 for name, n in missing if name == raw["id"]}
                rub = {}
                for name, n, by in worn:
                    if name == raw["id"]:
                        slot = n if n is None else n - 1
                        rub[slot] = rub.get(slot, 0) + by
                lift = lever["lift_deg"]
                track = Track(raw, rub, gone, b / lift, lever.get("tip_deg", 0))
                places = raw.get("pins") or len(raw.get("at", raw.get("places_deg", [])))
                self.feel.append(
                    dict(
                        id=lever["id"], on=lever["on"], lift=lift, track=track, name=raw["id"],
                        carry=carry(raw, slips.get(raw["id"], 0)), lobes=places if "rise_deg" in raw else 0,
                        hammer="strikes" in lever, locks=lever.get("locks", False),
                    )
                )
            elif "stops" in lever:
                pin = pins[lever["stops"]]
                at = pin["at_deg"] if isinstance(pin["at_deg"], list) else [pin["at_deg"]]
                gone = {n - 1 for name, n in missing if name == pin["id"] and name not in tracks}
                self.arms.append(
                    dict(
                        id=lever["id"], on=lever["on"], pin=pin["id"], carry=carry(pin, pin_slip.get(pin["id"], 0)),
                        places=sorted(deg(a + lever.get("further_deg", 0)) for i, a in enumerate(at) if i not in gone),
                        below=lever["below_deg"] - b if "below_deg" in lever else None,
                        above=lever["above_deg"] - b if "above_deg" in lever else None,
                    )
                )
            else:
                self.lifts.append(dict(on=lever["on"], lifted=lever["lifts"], start=lever.get("from_deg", 0) - b))
        if rack:
            raw = tracks[rack["snail"]]
            pin = pins[rack["pallet"]]
            at = pin["at_deg"] if isinstance(pin["at_deg"], list) else [pin["at_deg"]]
            gone = {n - 1 for name, n in missing if name == pin["id"] and name not in tracks}
            self.rack = dict(
                snail=Snail(raw, rack.get("tail_deg", 0), bends.get("rack", 0) / rack["tooth_deg"]),
                carry=carry(raw, slips.get(raw["id"], 0)), tooth=rack["tooth_deg"], teeth=rack["teeth"],
                hook=rack["hook"], free=rack["free_deg"], enters=rack.get("enters_teeth", 0.5), pin=pin["id"],
                places=sorted(deg(a) for i, a in enumerate(at) if i not in gone), turns=carry(pin, pin_slip.get(pin["id"], 0)),
            )
        names = [lever["on"] for lever in self.levers] + (["rack"] if rack else [])
        self.order = []
        left = list(dict.fromkeys(names))
        while left:
            for arbor in left:
                if all(lift["on"] in self.order for lift in self.lifts if lift["lifted"] == arbor):
                    self.order.append(arbor)
                    left.remove(arbor)
                    break

        # What stops or frees something; the rest, hammers mostly, is only looked at as a train stands.
        self.moving = {arm["on"] for arm in self.arms} | {f["on"] for f in self.feel if f["track"].walls}
        if rack:
            self.moving |= {rack["hook"], "rack"}
        for arbor in reversed(self.order):
            if any(lift["on"] == arbor and lift["lifted"] in self.moving for lift in self.lifts):
                self.moving.add(arbor)
        self.moving = [arbor for arbor in self.order if arbor in self.moving]

    def trains(self, sheet, wrong):
        links = {}
        for mesh in sheet.get("mesh", []):
            a, b = mesh["driver"], mesh["driven"]
            x, y = a.split("."), b.split(".")
            teeth = [self.teeth(sheet["arbor"][p][q]) for p, q in (x, y)]
            name = f"{a}:{b}"
            links.setdefault(x[0], []).append((y[0], teeth[0] / teeth[1], name, teeth[1]))
            links.setdefault(y[0], []).append((x[0], teeth[1] / teeth[0], name, teeth[0]))
        driven = {mesh["driven"].split(".")[0] for mesh in sheet.get("mesh", [])}
        strike = sheet["strike"]
        roots = [strike["read_at"]] + [m["arbor"] for m in sheet.get("moment", [])]
        roots += [a for a in sheet["arbor"] if a not in driven] + list(sheet["arbor"])
        shifts = {}
        for name, teeth in wrong.get("shift", []):
            shifts[name] = shifts.get(name, 0) + teeth
        self.timed = []
        for root in roots:
            if root in self.train_of:
                continue
            train = len(self.timed)
            self.timed.append(None)
            self.train_of[root], self.speed[root], self.ahead[root] = train, 1.0, 0.0
            queue = [root]
            for near in queue:
                for far, ratio, name, far_teeth in links.get(near, []):
                    if far in self.train_of:
                        continue
                    self.train_of[far] = train
                    self.speed[far] = self.speed[near] * ratio
                    self.ahead[far] = self.ahead[near] * ratio + shifts.get(name, 0) / far_teeth
                    queue.append(far)
            for arbor in queue:
                if "turn_s" in sheet["arbor"][arbor]:
                    self.timed[train] = (arbor, sheet["arbor"][arbor]["turn_s"])

    @staticmethod
    def teeth(part):
        return part["teeth"] if isinstance(part, dict) else part


class Run:
    def __init__(self, sheet, wrong):
        self.w = Works(sheet, wrong)
        self.sheet, strike = sheet, sheet["strike"]
        self.H = 1e-9
        self.x = [0.0] * len(self.w.timed)
        self.left = 0.0
        self.cycle = strike.get("cycle_hours", 12)
        self.own = self.w.train_of[strike["read_at"]]
        chime = sheet.get("chime", {}).get("notes")
        kind = strike["blows"]
        self.step = 15 if chime else 60 if kind == "hours" else 30
        self.hours = []
        for n in range(1, self.cycle * 60 // self.step + 1):
            m = n * self.step
            hour = (m // 60 + 11) % 12 + 1
            owed = hour if m % 60 == 0 else 0
            if m % 60 == 30 and (
                kind in ("hours and halves", "hours and passing halves")
                or kind == "hours and ten halves" and hour not in (12, 1)
            ):
                owed = 1
            if kind == "ship's bells":
                owed = (m // 30 + 7) % 8 + 1 if m % 30 == 0 else 0
            notes = chime[(m // 15 + 3) % 4] if chime else None
            self.hours.append(
                dict(m=m, owed=owed, blows=0, early=0, notes=0, notes_owed=notes, points=[], warned=set(), locked=set())
            )
        self.voices()
        self.since = [[] for _ in self.x]  # hammers heard in the blow under way
        self.warned = [None] * len(self.x)
        self.began = [0.0] * len(self.x)
        self.moving = [False] * len(self.x)
        self.drop = {}
        self.home = None
        self.heard = {}
        self.coupled = any(
            f["carry"][0] is not None and self.drives_other(f) for f in self.w.feel
        )
        self.slowest = [1.0] * len(self.x)
        for part in self.w.feel + self.w.arms:
            train, speed, _ = part["carry"]
            if train is not None:
                self.slowest[train] = max(self.slowest[train], 1 / speed)

    def drives_other(self, f):
        """Whether a tip on one train's track moves what stops another."""
        reached, more = {f["on"]}, True
        while more:
            more = False
            for lift in self.w.lifts:
                if lift["on"] in reached and lift["lifted"] not in reached:
                    reached.add(lift["lifted"])
                    more = True
        trains = {a["carry"][0] for a in self.w.arms if a["on"] in reached}
        if self.w.rack and self.w.rack["hook"] in reached:
            trains.add(self.w.rack["turns"][0])
        return bool(trains - {f["carry"][0], None})

    def voices(self):
        strike = self.sheet["strike"]
        every = set()
        for f in self.w.feel:
            train, speed, _ = f["carry"]
            if f["lobes"] and train == self.own:
                per = f["lobes"] * speed / self.w.speed[strike["read_at"]]
                if abs(per - strike["blows_per_turn"]) < 1e-9:
                    every.add(f["name"])
        self.group = {}
        for f in self.w.feel:
            if f["hammer"]:
                self.group[f["id"]] = "every" if f["name"] in every else f["name"]

    # Where things stand.

    def angle(self, carry, H, x):
        train, speed, ahead = carry
        return 360 * (speed * (H if train is None else x[train]) + ahead)

    def heights(self, H, x, left, every=False):
        """How high each lever arbor stands; of those that move something, or of every one."""
        return self.lifted(lambda f: f["track"].felt(self.angle(f["carry"], H, x)), left, every)

    def lifted(self, felt, left, every=False):
        """The same, by what each tip feels."""
        h = {}
        for arbor in self.w.order if every else self.w.moving:
            h[arbor] = 0.0
            for f in self.w.feel:
                if f["on"] == arbor:
                    h[arbor] = max(h[arbor], f["lift"] * felt(f))
            for hook in self.w.hooks:
                if hook["on"] == arbor:
                    h[arbor] = max(h[arbor], (hook["lift"] if left > 1e-9 else 0) - hook["bent"])
            for lift in self.w.lifts:
                if lift["lifted"] == arbor:
                    h[arbor] = max(h[arbor], h[lift["on"]] - lift["start"])
            if arbor == "rack":
                h[arbor] = left * self.w.rack["tooth"]
        return h

    def about(self, train, H, x, left):
        """Heights just before and just after an instant of a train, or of the hand."""
        if train is None:
            return self.heights(H - 1e-9, x, left), self.heights(H + 1e-9, x, left)
        here = []
        for off in (-NEAR, NEAR):
            moved = list(x)
            moved[train] += off
            here.append(self.heights(H, moved, left))
        return here

    def to_next(self, carry, places, H, x):
        """Turns of its driver until the next of some places in order comes, 0 at one."""
        _, speed, _ = carry
        if not places:
            return float("inf")
        a = deg(self.angle(carry, H, x) - 180 * speed * NEAR)
        i = bisect_left(places, a)
        to_go = (places[i] if i < len(places) else places[0] + 360) - a
        return max(0.0, to_go / 360 / speed - NEAR / 2)

    def after(self, carry, places, H, x):
        """The same, past what stands here."""
        _, speed, _ = carry
        if not places:
            return float("inf")
        a = deg(self.angle(carry, H, x) + 360 * speed * NEAR)
        i = bisect_left(places, a)
        to_go = (places[i] if i < len(places) else places[0] + 360) - a
        return to_go / 360 / speed + NEAR

    def met(self, train, H, x):
        for arm in self.w.arms:
            if arm["carry"][0] == train and self.to_next(arm["carry"], arm["places"], H, x) <= NEAR / 2:
                yield arm

    @staticmethod
    def in_path(arm, h):
        return h[arm["on"]] < arm["below"] - 1e-9 if arm["above"] is None else h[arm["on"]] >= arm["above"] - 1e-9

    def stopped(self, train, H, x, left):
        """What stops a train where it stands: an arm, a wall that is to lock, or a jam."""
        met = list(self.met(train, H, x))
        walls = self.walls(train, H, x)
        if not met and not walls:
            return None
        before, after = self.about(train, H, x, left)
        h = self.risen(train, H, x, left, before, after)
        for arm in met:
            if self.in_path(arm, h):
                return ("arm", arm)
        for f, top in walls:
            if h[f["on"]] < top - EDGE:
                return ("lock", f) if f["locks"] else ("jam", f)
        return None

    def risen(self, train, H, x, left, before, after):
        """Heights at an instant: what rises has risen, nothing has fallen, no wall has lifted anything."""
        walls = {id(f) for f, _ in self.walls(train, H, x)}
        if not walls:
            return {k: max(before[k], after[k]) for k in before}
        def felt(f):
            both = self.both(f, train, H, x)
            return both[0] if id(f) in walls else max(both)

        return self.lifted(felt, left)

    def both(self, f, train, H, x):
        if f["carry"][0] != train:
            return (f["track"].felt(self.angle(f["carry"], H, x)),) * 2
        a = self.angle(f["carry"], H, x)
        off = 360 * f["carry"][1] * (NEAR if train is not None else 1e-9)
        return f["track"].felt(a - off), f["track"].felt(a + off)

    def walls(self, train, H, x):
        """Tips under which the edge jumps up, and how high."""
        found = []
        for f in self.w.feel:
            if f["track"].walls and f["carry"][0] == train and self.jumps(f, H, x):
                before, after = self.both(f, train, H, x)
                if after - max(before, 0) > 1e-4:
                    found.append((f, f["lift"] * after))
        return found

    def jumps(self, f, H, x):
        return self.to_next(f["carry"], f["track"].jumps, H, x) <= NEAR / 2

    # What happens.

    def index(self):
        return floor(self.H * 60 / self.step + 0.5 + 1e-6)

    def hour(self):
        n = self.index()
        return self.hours[n - 1] if 0 < n <= len(self.hours) else None

    def blow(self, f):
        group = self.group[f["id"]]
        train, speed, _ = f["carry"]
        at = self.H if train is None else self.x[train]
        alike = [g for g in self.w.feel if g["hammer"] and self.group[g["id"]] == group]
        pitch = min(self.pitch(g) for g in alike)
        began, heard = self.heard.get(group, (-1e9, []))
        if at - began < pitch / 2 - 1e-12 and f["id"] not in heard:
            heard.append(f["id"])
            return
        self.heard[group] = (at, [f["id"]])
        hour = self.hour()
        if hour is None:
            return
        if train in (None, self.own):
            hour["blows"] += 1
            if self.H * 60 < hour["m"] - 1e-4:
                hour["early"] += 1
        else:
            hour["notes"] += 1

    def pitch(self, f):
        places = sorted(p for p, _ in f["track"].lobes)
        speed = f["carry"][1]
        if len(places) < 2:
            return 1 / speed
        gaps = [b - a for a, b in zip(places, places[1:])] + [places[0] + 360 - places[-1]]
        return min(gaps) / 360 / speed

    def passes(self, train):
        """Lets the instant at which a train (or the hand) stands go by."""
        rack = self.w.rack
        H, x = self.H, self.x
        before, after = self.about(train, H, x, self.left)
        if rack and rack["turns"][0] == train and self.left > 1e-9:
            if self.to_next(rack["turns"], rack["places"], H, x) <= NEAR / 2:
                h = self.risen(train, H, x, self.left, before, after)
                if h[rack["hook"]] < rack["free"] - 1e-9:
                    strokes = max(1, ceil(self.left - rack["enters"] - 1e-9))
                    self.left = float(strokes - 1)
                    if self.left == 0:
                        self.home = x[train]
        for f in self.w.feel:
            if f["carry"][0] != train or not self.jumps(f, H, x):
                continue
            high, low = self.both(f, train, H, x)
            if max(high, 0) - max(low, 0) > 1e-4:
                if f["hammer"]:
                    self.blow(f)
                elif train is not None:
                    self.drop[f["on"]] = (train, x[train], f["lift"] * high)
        self.let_rack_fall()

    def let_rack_fall(self):
        rack = self.w.rack
        if not rack:
            return
        fall = rack["snail"].fall(self.angle(rack["carry"], self.H, self.x))
        h = self.heights(self.H, self.x, self.left)
        if h[rack["hook"]] >= rack["free"] - 1e-9 and self.left < fall - 1e-9:
            self.left = fall
            if self.left > rack["teeth"] + 1e-9:
                raise Stop("jam")

    def next(self, train):
        """The next place at which something of a train comes."""
        parts = [(f["carry"], f["track"].jumps) for f in self.w.feel]
        parts += [(arm["carry"], arm["places"]) for arm in self.w.arms]
        if self.w.rack:
            parts.append((self.w.rack["turns"], self.w.rack["places"]))
        return min(
            (self.after(carry, places, self.H, self.x) for carry, places in parts if carry[0] == train),
            default=float("inf"),
        )

    def ready(self, H, x):
        """Whether something is free that stood: a train, or the rack to fall further."""
        for train in range(len(x)):
            if not self.moving[train] and self.lives[train] and self.stopped(train, H, x, self.left) is None:
                return True
        rack = self.w.rack
        if rack:
            fall = rack["snail"].fall(self.angle(rack["carry"], H, x))
            if self.left < fall - 1e-9:
                return self.heights(H, x, self.left)[rack["hook"]] >= rack["free"] - 1e-9
        return False

    def settle(self):
        while True:
            moved = False
            for train in range(len(self.x)):
                moved |= self.go(train)
            if not moved:
                return

    def go(self, train):
        if not self.lives[train]:
            return False
        x = self.x
        if not self.moving[train]:
            stop = self.stopped(train, self.H, x, self.left)
            if stop:
                if stop[0] == "jam":
                    raise Stop("jam")
                return False
            self.moving[train] = True
            self.began[train] = x[train]
            if self.warned[train] is None:
                self.let_go(train)
            self.passes(train)
        to_go = self.next(train)
        if x[train] + to_go - self.began[train] > 2.5 * self.slowest[train] + 20:
            raise Stop("runaway")
        if self.coupled:
            to_go = self.careful(train, to_go)
        x[train] += to_go
        stop = self.stopped(train, self.H, x, self.left)
        if stop is None:
            self.passes(train)
            return True
        if stop[0] == "jam":
            raise Stop("jam")
        self.moving[train] = False
        self.stands(train, stop)
        return True

    def careful(self, train, to_go):
        """Less than that, where something of another train comes free before."""
        gone = 0.0
        while gone < to_go:
            step = min(to_go - gone, 0.02)
            here = list(self.x)
            here[train] += gone + step
            if self.ready(self.H, here):
                low, high = gone, gone + step
                for _ in range(40):
                    middle = (low + high) / 2
                    here[train] = self.x[train] + middle
                    low, high = (low, middle) if self.ready(self.H, here) else (middle, high)
                return high
            gone += step
        return to_go

    # What is judged.

    def let_go(self, train):
        for arm in self.w.arms:
            if arm["carry"][0] == train and arm["above"] is not None:
                h = self.heights(self.H, self.x, self.left)
                hour = self.hour()
                if hour and h[arm["on"]] < arm["above"] - 1e-9:
                    hour["points"].append((4, "unwarned", arm["id"]))
                return

    def hammers(self, train, h):
        for f in self.w.feel:
            if f["hammer"] and f["carry"][0] == train:
                a = self.angle(f["carry"], self.H, self.x)
                touched = f["track"].felt(a + 1e-5) > 1e-9
                yield f["id"], h[f["on"]] > EDGE, touched

    def pallet_in(self, train):
        rack = self.w.rack
        if not rack or rack["turns"][0] != train or not rack["places"]:
            return None
        to_go = self.to_next(rack["turns"], rack["places"], self.H, self.x)
        return to_go * rack["turns"][1] < 0.25 - 1e-9

    def stands(self, train, stop):
        kind, part = stop
        # As it comes to stand: what is at this very place has not gone by.
        here = list(self.x)
        here[train] -= NEAR
        h = self.heights(self.H, here, self.left, every=True)
        points = []
        key = "strike" if train == self.own else "chime"
        if kind == "arm" and part["above"] is not None:
            run = (self.x[train] - self.began[train]) * part["carry"][1]
            if not 0.25 - 1e-9 <= run <= 0.75 + 1e-9:
                points.append((4, "warning run", part["id"]))
            for hammer, up, _ in self.hammers(train, h):
                if up:
                    points.append((3, "lifting", hammer))
            for arm in self.w.arms:
                if arm["carry"][0] == train and arm["below"] is not None and arm["places"]:
                    if h[arm["on"]] < arm["below"] - 1e-9:
                        points.append((6, "in path", arm["id"]))
                    elif self.to_next(arm["carry"], arm["places"], self.H, self.x) <= NEAR / 2:
                        points.append((6, "over pin", arm["id"]))
            if self.pallet_in(train):
                points.append((7, "pallet in", self.w.rack["pin"]))
            self.warned[train] = points
            hour = self.hour()
            if hour:
                hour.setdefault("w-" + key, None)
                hour["w-" + key] = points
            return
        arbor = part["on"]
        if arbor not in self.drop:
            late = [(at, a) for a, (t, at, _) in self.drop.items() if t == train]
            arbor = max(late)[1] if late else None
        pin = kind == "arm"
        since = self.drop[arbor][1] if arbor else None
        if since is None and self.w.rack and self.w.rack["turns"][0] == train and part["on"] == self.w.rack["hook"]:
            since = self.home
        if arbor:
            lying = [f["lift"] * f["track"].lowest() for f in self.w.feel if f["on"] == arbor]
            deepest = max(0.0, *lying)
            if self.drop[arbor][2] > deepest + 1e-9 and h[arbor] > deepest + 1e-5:
                points.append((5, "not down", part["id"]))
        if pin and since is not None:
            lead = (self.x[train] - since) * part["carry"][1]
            if lead < 0.125 - 1e-9:
                points.append((5, "lead", part["pin"]))
        for hammer, up, touched in self.hammers(train, h):
            if up or touched:
                points.append((2, "held up", hammer))
        rack = self.w.rack
        if rack and rack["turns"][0] == train:
            lowest = max([0.0] + [-hook["bent"] for hook in self.w.hooks if hook["on"] == rack["hook"]])
            if self.pallet_in(train):
                points.append((7, "pallet in", rack["pin"]))
            if self.left > 1e-9 or h[rack["hook"]] > lowest + EDGE:
                points.append((7, "hook up", None))
        warned = self.warned[train]
        hour = self.hour()
        if hour is not None and hour.get("w-" + key) is not None:
            warned = hour["w-" + key]
        for arm in self.w.arms:
            if arm["carry"][0] == train and arm["above"] is not None:
                sounded = hour and hour["blows" if train == self.own else "notes"]
                if warned is None and sounded and not hour["points"]:
                    points.append((4, "unwarned", arm["id"]))
                break
        if hour is not None:
            if hour.get("w-" + key) is None and warned is not None:
                hour["w-" + key] = warned
            hour["l-" + key] = points
        self.warned[train] = None
        self.home = None
        for f in self.w.feel:
            if f["carry"][0] == train:
                self.drop.pop(f["on"], None)

    # The whole of it.

    def through(self):
        self.lives = [self.next(train) < float("inf") for train in range(len(self.x))]
        end = "done"
        try:
            self.settle()
            start = list(self.x)
            while self.H < self.cycle - 1e-12:
                self.hand(min(self.H + STEP, self.cycle))
            # What the hand lets go at the very end.
            self.let_hand(self.cycle, self.cycle + 1e-9)
            self.H = self.cycle + 1e-9
            self.let_rack_fall()
            self.settle()
            end = "same place" if self.same(start) else "another place"
        except Stop as stop:
            end = str(stop)
        hours = self.hours
        if end in ("jam", "runaway"):
            hours = hours[: max(0, self.index())]
        return dict(end=end, hours=[self.told(hour) for hour in hours])

    def hand(self, to):
        """The hand goes on, as far as something comes free."""
        old = self.H
        if self.ready(to, self.x):
            low, high = old, to
            for _ in range(45):
                middle = (low + high) / 2
                low, high = (low, middle) if self.ready(middle, self.x) else (middle, high)
            to = high
        self.let_hand(old, to)
        self.H = to
        rack = self.w.rack
        if rack:
            fall = rack["snail"].fall(self.angle(rack["carry"], self.H, self.x))
            was = rack["snail"].fall(self.angle(rack["carry"], old, self.x))
            if self.left > fall + 1e-9 and was > fall + 1e-9:
                raise Stop("jam")
        self.let_rack_fall()
        self.settle()

    def let_hand(self, old, to):
        """What the hand meets and lets go on its way: arms, walls, hammers of its own."""
        for arm in self.w.arms:
            if arm["carry"][0] is None:
                for p in arm["places"]:
                    n = 360 * arm["carry"][1]
                    if floor((n * old + 360 * arm["carry"][2] - p) / 360) < floor((n * to + 360 * arm["carry"][2] - p) / 360):
                        if self.in_path(arm, self.heights(to, self.x, self.left)):
                            raise Stop("jam")
        for f in self.w.feel:
            train, speed, ahead = f["carry"]
            if train is None:
                for c in f["track"].corners():
                    a, b = (floor(speed * h + ahead - c / 360 + 1e-11) for h in (old, to))
                    if a < b:
                        at = (b + c / 360 - ahead) / speed
                        off = 360 * speed * 1e-9
                        place = 360 * (speed * at + ahead)
                        high, low = f["track"].felt(place - off), f["track"].felt(place + off)
                        if f["hammer"] and max(high, 0) - max(low, 0) > 1e-4:
                            was, self.H = self.H, at
                            self.blow(f)
                            self.H = was
                        if low - max(high, 0) > 1e-4:
                            h = self.heights(at - 1e-9, self.x, self.left)
                            if h[f["on"]] < f["lift"] * low - EDGE:
                                raise Stop("jam")

    def same(self, start):
        if self.left > 1e-9:
            return False
        for f in self.w.feel:
            train, speed, _ = f["carry"]
            if train is None:
                continue
            by = 360 * speed * (self.x[train] - start[train])
            marks = f["track"].corners()
            if not marks:
                continue
            for i in range(181):
                a = marks[0] + 1.9973 * i + 0.00137
                # Below where its arbor comes to rest a tip touches nothing.
                if abs(max(f["track"].felt(a), 0) - max(f["track"].felt(a + by), 0)) > 1e-5:
                    return False
        for arm in self.w.arms:
            train, speed, _ = arm["carry"]
            if train is None:
                continue
            by = 360 * speed * (self.x[train] - start[train])
            if not all(any(min(deg(p + by - q), deg(q - p - by)) < 1e-5 for q in arm["places"]) for p in arm["places"]):
                return False
        return True

    def told(self, hour):
        points = list(hour["points"])
        if hour["blows"] != hour["owed"]:
            points.append((1, "number", None))
        if hour["early"]:
            points.append((1, "early", None))
        if hour["notes_owed"] is not None and hour["notes"] != hour["notes_owed"]:
            points.append((1, "notes", None))
        for key in ("w-strike", "l-strike", "w-chime", "l-chime"):
            points += hour.get(key) or []
        points = sorted(set(points), key=str)
        return dict(m=hour["m"], blows=hour["blows"], notes=hour["notes"], points=points)


def simulate(text, wrong):
    ran = Run(tomllib.loads(text), wrong).through()
    for hour in ran["hours"]:
        m = hour.pop("m")
        hour["at"] = ((m // 60 + 11) % 12 + 1, m % 60)
    return ran


# Variations, and the program's own answer to each.

NUMBERS = (
    "slot_deg ramp_deg tip_deg lift_deg rise_deg hold_deg below_deg above_deg from_deg first_deg further_deg at_deg free_deg"
    " tail_deg tooth_deg enters_teeth"
).split()


def off(rng, most):
    """A number up to so much either way, of three figures, so that no two things fall on one place."""
    return round(rng.uniform(-most, most), 3) + 0.0003


def alter(rng, text):
    """A few of the sheet's numbers otherwise."""
    lines = text.split("\n")
    found = [i for i, line in enumerate(lines) if line.split(" = ")[0] in NUMBERS and "[" not in line]
    for i in rng.sample(found, min(len(found), rng.randint(1, 3))):
        key, rest = lines[i].split(" = ", 1)
        was = float(rest.split("#")[0])
        now = was + off(rng, 60) if key in ("at_deg", "further_deg", "first_deg") else abs(was * (1 + off(rng, 0.3)))
        lines[i] = f"{key} = {now:.4f}"
    return "\n".join(lines)


def put_in(rng, sheet, n):
    levers, tracks, pins = sheet["lever"], sheet["track"], sheet.get("pin", [])
    wrong = {}
    many = 0 if n % 8 == 0 else rng.choice((1, 1, 1, 2))
    for k in range(many):
        what = "bend" if k == 0 and n % 2 else rng.choice(("shift", "worn", "missing", "slip", "bend"))
        if what == "bend":
            every = levers + ([{"id": "rack"}] if "rack" in sheet else [])
            lever = every[n // 2 % len(every)]
            most = 1.5 * sheet["rack"]["tooth_deg"] if lever["id"] == "rack" else lever.get("lift_deg", 5)
            wrong.setdefault(what, []).append((lever["id"], off(rng, min(90, 1.1 * most))))
        elif what == "shift":
            mesh = rng.choice(sheet["mesh"])
            wrong.setdefault(what, []).append((f"{mesh['driver']}:{mesh['driven']}", rng.choice((-3, -2, -1, 1, 2, 3))))
        elif what == "worn":
            slotted = [t for t in tracks if "counts" in t or "notches_deg" in t]
            if slotted:
                track = rng.choice(slotted)
                most = len(track["notches_deg"]) if "notches_deg" in track else 4
                n_th = rng.choice([None] + list(range(1, most + 1)))
                wrong.setdefault(what, []).append((track["id"], n_th, abs(off(rng, track["slot_deg"]))))
        elif what == "missing":
            lifts = [t for t in tracks if "rise_deg" in t] + pins
            it = rng.choice(lifts)
            count = it.get("pins") or len(it.get("at", it.get("places_deg", [0])))
            wrong.setdefault(what, []).append((it["id"], rng.randint(1, count)))
        else:
            wrong.setdefault(what, []).append((rng.choice(tracks + pins)["id"], off(rng, rng.choice((2, 20, 150)))))
    return wrong


def as_options(wrong):
    for name, by in wrong.get("shift", []):
        yield f"--shift={name}={by}"
    for name, by in wrong.get("bend", []):
        yield f"--bend={name}={by:.4f}"
    for name, n, by in wrong.get("worn", []):
        yield f"--worn={name}{'' if n is None else f':{n}'}={by:.4f}"
    for name, n in wrong.get("missing", []):
        yield f"--missing={name}:{n}"
    for name, by in wrong.get("slip", []):
        yield f"--slip={name}={by:.4f}"


def answered(trundle, text, wrong):
    """The program's answer, told as ours; nothing where it refuses the sheet."""
    with tempfile.NamedTemporaryFile("w", suffix=".toml") as file:
        file.write(text)
        file.flush()
        ran = subprocess.run([trundle, "strike", file.name, "--json", *as_options(wrong)], capture_output=True, check=False)
    if ran.returncode:
        return None
    answer = json.loads(ran.stdout)
    hours = []
    for hour in answer["hours"]:
        points = sorted({(p["point"], p["kind"], p["of"]) for p in hour["points"]}, key=str)
        hours.append(dict(at=(hour["hour"], hour["minute"]), blows=hour["blows"], notes=hour.get("notes", 0), points=points))
    return dict(end=answer["end"], hours=hours)


def differs(ours, theirs):
    if ours["end"] != theirs["end"]:
        return f"ends: {ours['end']}, the program {theirs['end']}"
    if len(ours["hours"]) != len(theirs["hours"]):
        return f"hours: {len(ours['hours'])}, the program {len(theirs['hours'])}"
    if ours["end"] == "runaway" and ours["hours"]:
        # Where it is given up is no fact of the clock.
        for hours in (ours["hours"], theirs["hours"]):
            hours[-1]["blows"] = hours[-1]["notes"] = None
    for one, other in zip(ours["hours"], theirs["hours"]):
        if one != other:
            return f"{one}\n    the program {other}"
    return None


def variations(movements, count, seed):
    sheets = [path for path in sorted(movements.glob("*.toml")) if "[[lever]]" in path.read_text()]
    rng = random.Random(seed)
    for n in range(count * 2):
        path = sheets[n % len(sheets)]
        text = path.read_text()
        if n % 3:
            text = alter(rng, text)
        yield path.stem, text, put_in(rng, tomllib.loads(text), n // len(sheets) * 7 + n)


def study(trundle, movements, count, seed, planted=False):
    """So many variations: how each kind of end came up, and every one that is told otherwise. Planted: every bend the other way
    here, so that they must differ."""
    kinds, bent, told, done = {}, set(), [], 0
    for name, text, wrong in variations(movements, count, seed):
        theirs = answered(trundle, text, wrong)
        if theirs is None:
            continue
        if done == count:
            break
        done += 1
        ways = {"bend": [(lever, -by) for lever, by in wrong.get("bend", [])]} if planted else {}
        ours = simulate(text, {**wrong, **ways})
        good = all(not hour["points"] for hour in theirs["hours"])
        kind = theirs["end"] + (", good" if good and "place" in theirs["end"] else "")
        kinds[kind] = kinds.get(kind, 0) + 1
        bent |= {f"{name}.{lever}" for lever, _ in wrong.get("bend", [])}
        otherwise = differs(ours, theirs)
        if otherwise:
            told.append(dict(sheet=name, text=text, options=" ".join(as_options(wrong)), says=otherwise))
    return dict(done=done, kinds=kinds, bent=sorted(bent), otherwise=told)


def main():
    trundle, movements = sys.argv[1], Path(sys.argv[2])
    for line in sys.stdin:
        asked = json.loads(line)
        print(json.dumps(study(trundle, movements, **asked)), flush=True)


if __name__ == "__main__":
    main()
