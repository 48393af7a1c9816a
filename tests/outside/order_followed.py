"""An order of putting arbors in, followed as it is told, by hands that know nothing else.

Reads a sheet's text and the answer of `trundle order --json`, and nothing else of the program's. Every arbor has a phase, in turns of its
own, ahead of where it should stand; what meshes have joined turns together, each arbor at its own speed. Putting one in chooses a whole
tooth at each mesh that closes: the one that brings what is to be set nearest its best, read as the step says, or, where none is to be
set there, any. A second mesh with what is one already closes a ring: the arbor goes in only at teeth where both are whole. What is as good as
another, and at which of its places alike a witness is held, is left to the dice. JSON lines in, out:

    {"sheet": "…", "order": {…}, "seed": 1, "trials": 20}
    {"skipped": true}     more than MOST choices of teeth at one arbor
    {"out": {"slot": 7}, "checked": ["slot"], "rings": 1, "stuck": 0, "again": 0, "unsaid": false, "false_any": [], "not_last": []}

"out": witnesses that stood out of their windows at the end, and in how many trials; "checked": those that the answer told to look at;
"rings": how many rings were closed in all trials; "stuck": in how many trials an arbor went in nowhere, however often those before it came out
again; "again": how often they did; "unsaid": whether that happened where the answer does not say that it may; "false_any": meshes of which it is
said that any tooth will do, and a tooth moves a witness; "not_last": arbors said to go in with the plates closed that do not sit outside, or
have others after them.

    order_followed.py < questions.jsonl
"""

import itertools
import json
import math
import random
import sys
import tomllib
from fractions import Fraction

UNITS = ("_mm", "_um", "_deg", "_g", "_n", "_nm", "_turns", "_s", "_teeth")
MOST = 400_000  # choices of teeth at one arbor
ATTEMPTS = 1000  # times that everything comes out again, where a ring does not close


def exact(number):
    """A decimal of the sheet or the answer, as it was written."""
    return Fraction(str(number))


class Movement:
    def __init__(self, text):
        sheet = tomllib.loads(text)
        teeth = {}
        for arbor, parts in sheet["arbor"].items():
            for part, count in parts.items():
                if isinstance(count, dict) and "teeth" in count:
                    count = count["teeth"]
                if isinstance(count, int) and not part.endswith(UNITS):
                    teeth[f"{arbor}.{part}"] = count
        self.arbors = list(sheet["arbor"])
        self.meshes = {}
        for mesh in sheet["mesh"]:
            ends = {}
            for end in (mesh["driver"], mesh["driven"]):
                ends[end.split(".")[0]] = teeth[end]
            outside = mesh.get("reached", "plates") == "outside"
            self.meshes[f"{mesh['driver']}>{mesh['driven']}"] = (ends, outside)
        moments = {moment["id"]: moment["arbor"] for moment in sheet.get("moment", [])}
        if "strike" in sheet:
            moments["drop"] = sheet["strike"]["read_at"]
        self.witnesses = {}
        for w in sheet.get("witness", []):
            low, high = map(exact, w["window_deg"])
            best = exact(w["best_deg"])
            self.witnesses[w["id"]] = (w["on"], moments[w.get("at", "drop")], w["repeats"], low - best, high - best)
        self.speed = {}
        for first in self.arbors:
            if first in self.speed:
                continue
            self.speed[first] = Fraction(1)
            waiting = [first]
            while waiting:
                arbor = waiting.pop()
                for ends, _ in self.meshes.values():
                    if arbor in ends:
                        (other,) = (end for end in ends if end != arbor)
                        if other not in self.speed:
                            self.speed[other] = self.speed[arbor] * ends[arbor] / ends[other]
                            waiting.append(other)

    def joined(self, arbor, closed):
        reached, waiting = {arbor}, [arbor]
        while waiting:
            at = waiting.pop()
            for name in closed:
                ends = self.meshes[name][0]
                if at in ends:
                    new = set(ends) - reached
                    reached |= new
                    waiting += new
        return reached

    def across(self, name):
        """The two sides of a mesh, or nothing where it is in a ring."""
        rest = [other for other in self.meshes if other != name]
        one, other = self.meshes[name][0]
        side = self.joined(one, rest)
        return None if other in side else side


class TooMany(Exception):
    """More teeth to choose from than are gone through."""


class GoesInNowhere(Exception):
    """No tooth at which a ring closes."""


class Hands:
    """One trial: what is in, and how it stands."""

    def __init__(self, movement, order, dice):
        self.movement, self.dice, self.rings = movement, dice, 0
        out = {step["arbor"] for step in order["steps"]}
        self.present = {arbor for arbor in movement.arbors if arbor not in out}
        self.phase = {arbor: Fraction(0) for arbor in movement.arbors}
        self.closed = [name for name, (ends, _) in movement.meshes.items() if set(ends) <= self.present]
        for step in order["steps"]:
            self.put_in(step)

    def put_in(self, step):
        movement, arbor = self.movement, step["arbor"]
        self.present.add(arbor)
        closing = [n for n, (ends, _) in movement.meshes.items() if arbor in ends and set(ends) <= self.present]
        assert sorted(closing) == sorted(step["meshes"]), (arbor, closing, step["meshes"])
        sides, also = {}, {}
        for name in closing:
            (other,) = set(movement.meshes[name][0]) - {arbor}
            first = next((first for first, side in sides.items() if other in side), None)
            if first is None:
                sides[name], also[name] = movement.joined(other, self.closed), []
            else:
                also[first].append(name)
        self.closed += closing
        self.rings += len(closing) - len(sides)
        told = {name for s in step["settles"] for name in s["meshes"]}
        chosen = sorted(name for name in sides if name in told)
        for name in sides:
            if name not in chosen:
                self.close(arbor, name, sides[name], self.dice.randrange(10**4))
                if also[name]:
                    self.choose(arbor, sides, [(name, self.round(name, also[name]), 0)], self.fits(arbor, name, sides, also))
        if not chosen:
            return
        held = [self.dice.randrange(10**6) for _ in step["settles"]]
        for name in chosen:
            self.close(arbor, name, sides[name], 0)
        start = dict(self.phase)
        read = [self.read(s, n) for s, n in zip(step["settles"], held)]
        # What one tooth at each mesh does to each reading; a reading comes round again after so many.
        moved = []
        for name in chosen:
            self.close(arbor, name, sides[name], 1)
            moved.append([self.read(s, n) - r for s, n, r in zip(step["settles"], held, read)])
            self.phase = dict(start)
        repeats = [self.movement.witnesses[s["id"]][2] for s in step["settles"]]
        rounds = [
            math.lcm(self.round(name, also[name]), *((m * k).denominator for m, k in zip(by, repeats)))
            for name, by in zip(chosen, moved)
        ]
        scales = []
        for i, (settle, k) in enumerate(zip(step["settles"], repeats)):
            grain = math.lcm(read[i].denominator, k, *(by[i].denominator for by in moved))
            _, _, _, low, high = self.movement.witnesses[settle["id"]]
            half = float((high - low) / 720 * grain)
            scales.append((int(read[i] * grain), [int(by[i] * grain) for by in moved], grain // k, half))
        for m, name in enumerate(chosen):
            for at, steps, around, _ in self.fits(arbor, name, sides, also):
                scales.append((at, [steps[0] if n == m else 0 for n in range(len(chosen))], around, None))
        # Meshes that move no reading in common are gone through apart.
        left = set(range(len(chosen)))
        while left:
            group, moving = {left.pop()}, set()
            while more := {i for i in range(len(scales)) if any(scales[i][1][m] for m in group)} - moving:
                moving |= more
                group |= {m for m in left if any(scales[i][1][m] for i in moving)}
                left -= group
            self.choose(arbor, sides, sorted((chosen[m], rounds[m], m) for m in group), [scales[i] for i in moving])

    def passing(self, name):
        """Teeth that pass at a mesh in a turn of what its train is reckoned by."""
        arbor, teeth = next(iter(self.movement.meshes[name][0].items()))
        return teeth * self.movement.speed[arbor]

    def round(self, name, also):
        """Teeth at a mesh until others with the same side stand in their teeth again as they did."""
        return math.lcm(*((self.passing(other) / self.passing(name)).denominator for other in also))

    def fits(self, arbor, name, sides, also):
        """How the other meshes with a side stand, for teeth of this one from how it is closed now: off by 0 of a whole tooth they go in."""
        start, scales = dict(self.phase), []
        off = [self.off(other, arbor) for other in also[name]]
        self.close(arbor, name, sides[name], self.off(name, arbor) + 1)
        for was, other in zip(off, also[name]):
            by = self.off(other, arbor) - was
            grain = math.lcm(was.denominator, by.denominator)
            scales.append((int(was * grain), [int(by * grain)], grain, None))
        self.phase = start
        return scales

    def off(self, name, arbor):
        """By how many teeth a mesh is off, as an arbor sees it."""
        ends = self.movement.meshes[name][0]
        (other,) = set(ends) - {arbor}
        return ends[arbor] * self.phase[arbor] - ends[other] * self.phase[other]

    def choose(self, arbor, sides, meshes, scales):
        """Closes these meshes, from how they stand, at the teeth that put these readings nearest their best, of those as good at any;
        what has no window is a ring, and must come out whole."""
        rounds = [back for _, back, _ in meshes]
        if math.prod(rounds) > MOST:
            raise TooMany
        best, good = math.inf, []
        for teeth in itertools.product(*map(range, rounds)):
            worst = 0.0
            for at, steps, around, half in scales:
                place = (at + sum(t * steps[m] for t, (_, _, m) in zip(teeth, meshes))) % around
                if half is None:
                    worst = worst if place == 0 else math.inf
                else:
                    worst = max(worst, min(place, around - place) / half)
            if worst < best - 1e-9:
                best, good = worst, []
            if worst <= best + 1e-9 and worst < math.inf:
                good.append(teeth)
        if not good:
            raise GoesInNowhere
        stand = [self.off(name, arbor) for name, _, _ in meshes]
        for at, (name, back, _), tooth in zip(stand, meshes, self.dice.choice(good)):
            self.close(arbor, name, sides[name], at + tooth + back * self.dice.randrange(10**4))

    def close(self, arbor, name, side, tooth):
        """Turns a side until it meshes with the arbor, so many teeth off."""
        ends = self.movement.meshes[name][0]
        (other,) = set(ends) - {arbor}
        short = ends[arbor] * self.phase[arbor] - ends[other] * self.phase[other] - tooth
        run = short / (ends[other] * self.movement.speed[other])
        for turned in side:
            self.phase[turned] += run * self.movement.speed[turned]

    def stands(self, on, fixed, ahead):
        """Turns of an arbor from its place while another is held so far ahead of its own."""
        ratio = self.movement.speed[on] / self.movement.speed[fixed]
        return self.phase[on] - ratio * (self.phase[fixed] - ahead)

    def read(self, settle, place):
        """Turns from its best of what is to be set, with what is held at its moment, or at one of its places alike."""
        on, fixed, *_ = self.movement.witnesses[settle["id"]]
        ahead = Fraction(0)
        if settle["against"] is not None:
            fixed, _, of_other, _, _ = self.movement.witnesses[settle["against"]]
            ahead = Fraction(place, of_other)
        assert fixed == settle["hold"]
        return self.stands(on, fixed, ahead)

    def out(self):
        for name, (on, fixed, repeats, low, high) in self.movement.witnesses.items():
            stands = 360 * self.stands(on, fixed, Fraction(0))
            period = Fraction(360, repeats)
            if low + (stands - low) % period > high:
                yield name


def followed(question):
    movement, order = Movement(question["sheet"]), question["order"]
    dice = random.Random(question["seed"])
    bridges = {name: side for name in movement.meshes if (side := movement.across(name)) is not None}
    false_any = []
    for step in order["steps"]:
        for name in step["any_tooth"]:
            side = bridges[name]
            for on, fixed, repeats, *_ in movement.witnesses.values():
                if (on in side) != (fixed in side):
                    (near,) = set(movement.meshes[name][0]) & side if on in side else set(movement.meshes[name][0]) - side
                    moved = movement.speed[on] / movement.speed[near] / movement.meshes[name][0][near]
                    if (moved * repeats).denominator != 1:
                        false_any.append(name)
    not_last, closed = [], False
    for step in order["steps"]:
        outside = all(outside for ends, outside in movement.meshes.values() if step["arbor"] in ends)
        if (closed and not step["plates_closed"]) or (step["plates_closed"] and not outside):
            not_last.append(step["arbor"])
        closed |= step["plates_closed"]
    out, rings, stuck, again = {}, 0, 0, 0
    for _ in range(question["trials"]):
        for attempt in range(ATTEMPTS):
            try:
                hands = Hands(movement, order, dice)
            except GoesInNowhere:
                again += 1
                continue
            rings += hands.rings
            for name in hands.out():
                out[name] = out.get(name, 0) + 1
            break
        else:
            stuck += 1
    checked = sorted({name for step in order["steps"] for name in step["check"]})
    may = any(step["ring_later"] for step in order["steps"])
    return {
        "out": out, "checked": checked, "rings": rings, "stuck": stuck, "again": again, "unsaid": again > 0 and not may,
        "may": may, "false_any": false_any, "not_last": not_last,
    }


for line in sys.stdin:
    try:
        answer = followed(json.loads(line))
    except TooMany:
        answer = {"skipped": True}
    print(json.dumps(answer), flush=True)
