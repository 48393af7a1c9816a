"""What a locked train tells of how it stood at the drop, by brute force: every way the meshes can stand, run on until the pin meets its arm.

One problem a line on standard input, one answer a line on standard output. Nothing is shared with the house. From counts alone it works
out speeds, what one tooth does and after how many teeth all is as it was. For each way, and for each amount that the pin's arm or pin may be
off, on a fine grid, the train is run on from the drop: every arbor turns by its speed until some pin is at its arm, and what a witness
then reads is laid beside what was read. How far each other witness is off is integrated over a grid of its own; places alike are summed.
A shift goes as said, the other way, or a tooth too far or too little: each is followed through all looks.

Problem: {"meshes": [[driver arbor, driven arbor, driver teeth, driven teeth]], "held": arbor, "witnesses": [{"on", "repeats", "best",
"off": one standard deviation}], "pin": index of the witness that locks or null, "on": the arbor that is stopped, "arms": [degrees from
the first pin to each on its arbor], "lead": degrees from the drop where the pin sits on the held arbor itself, "hands": [wrong way, slip],
"eyes": [[times as rough, chance]], "events": [{"look": "drop" | "rest", "readings": [[witness, degrees, spread]]} | {"shift": [mesh, teeth]}]}.
What is read of the pin itself at rest is where it stood at the drop. Answer: {"chances": [...]} over offsets of the meshes that move a
witness, in the order they are listed, the last counting fastest.
"""

import itertools
import json
import sys
from fractions import Fraction
from math import lcm

import numpy as np


def speeds(problem):
    """Turns of each arbor for one of the held one, without direction."""
    turns = {problem["held"]: Fraction(1)}
    while True:
        before = len(turns)
        for a, b, n, m in problem["meshes"]:
            if a in turns and b not in turns:
                turns[b] = turns[a] * Fraction(n, m)
            elif b in turns and a not in turns:
                turns[a] = turns[b] * Fraction(m, n)
        if len(turns) == before:
            return turns


def beyond(problem, without):
    """The arbors that one comes to from the held one when a mesh is taken away are on its near side; the others are beyond it."""
    near = {problem["held"]}
    while True:
        before = len(near)
        for i, (a, b, _, _) in enumerate(problem["meshes"]):
            if i != without and (a in near) != (b in near):
                near |= {a, b}
        if len(near) == before:
            return lambda arbor: arbor not in near


def steps(problem, turns):
    """Degrees that one tooth at each mesh moves each witness."""
    rows = []
    for i, (a, b, n, m) in enumerate(problem["meshes"]):
        far = beyond(problem, i)
        arbor, teeth = (a, n) if far(a) else (b, m)
        rows.append(
            [
                Fraction(360, teeth) * turns[w["on"]] / turns[arbor] if far(w["on"]) else Fraction(0)
                for w in problem["witnesses"]
            ]
        )
    return rows


def alike(apart, spread, period):
    """Normal density, summed over places alike."""
    apart = (apart + period / 2) % period - period / 2
    reach = int(np.ceil(9 * spread / period)) + 1
    return sum(np.exp(-0.5 * ((apart + k * period) / spread) ** 2) for k in range(-reach, reach + 1)) / spread


def grid(sd, sharpest):
    if sd == 0:
        return np.array([0.0]), np.array([1.0])
    many = 1 + int(np.ceil(16 / 0.35 * max(1.0, sd / sharpest)))
    at = np.linspace(-8 * sd, 8 * sd, many)
    weight = np.exp(-0.5 * (at / sd) ** 2)
    return at, weight / weight.sum()


def solve(problem):
    witnesses = problem["witnesses"]
    turns = speeds(problem)
    rows = steps(problem, turns)
    period = [Fraction(360, w["repeats"]) for w in witnesses]
    cycles = [lcm(*[(step / p).denominator for step, p in zip(row, period)]) for row in rows]
    moving = [i for i, cycle in enumerate(cycles) if cycle > 1]
    ways = list(itertools.product(*[range(cycles[i]) for i in moving]))
    index = {way: i for i, way in enumerate(ways)}
    step = np.array([[float(s) for s in rows[i]] for i in moving]).reshape(len(moving), len(witnesses))
    places = np.array([w["best"] for w in witnesses]) + np.array(ways, dtype=float).reshape(len(ways), -1) @ step
    pin, stopped = problem["pin"], problem["on"]
    beside = [float(turns[w["on"]] / turns[stopped]) for w in witnesses]
    looks = [event for event in problem["events"] if "look" in event]
    read = [reading for event in looks for reading in event["readings"]]
    finest = min(times for times, _ in problem["eyes"])

    def sharpest(w):
        own = [spread for witness, _, spread in read if witness == w]
        # What is read of others shows the pin too, as much finer as they turn faster.
        others = [s / beside[v] for v, _, s in read if w == pin and v != pin and beside[v] > 0]
        return finest * min(own + others, default=np.inf)

    offs, prior = grid(witnesses[pin]["off"], sharpest(pin)) if pin is not None else (np.array([0.0]), np.array([1.0]))

    def run_on(way_places):
        """Degrees of the stopped arbor from the drop to the lock: ways by amounts off."""
        if pin is None:
            return np.full((len(way_places), 1), problem["lead"])
        at = way_places[:, pin, None] + offs[None, :]
        each = [np.where((left := (arm - at) % 360.0) <= 0, 360.0, left) for arm in problem["arms"]]
        return np.min(each, axis=0)

    wrong, slip = problem["hands"]
    kinds = lambda t: [(t, (1 - wrong) * (1 - slip)), (-t, wrong * (1 - slip)), (t + 1, slip / 2), (t - 1, slip / 2)]
    shifts = [event["shift"] for event in problem["events"] if "shift" in event]
    chances = np.zeros(len(ways))
    for times, share in problem["eyes"]:
        for chosen in itertools.product(*[kinds(teeth) for _, teeth in shifts]):
            likely, at, nth = share, np.arange(len(ways)), 0
            fits = []
            for event in problem["events"]:
                if "shift" in event:
                    mesh, _ = event["shift"]
                    teeth, chance = chosen[nth]
                    nth, likely = nth + 1, likely * chance
                    if mesh in moving:
                        m = moving.index(mesh)
                        moved = [list(ways[i]) for i in at]
                        for way in moved:
                            way[m] = (way[m] + teeth) % cycles[mesh]
                        at = np.array([index[tuple(way)] for way in moved])
                else:
                    fits.append((event, places[at]))
            # One factor for the pin itself, over its grid; one for each other witness, integrated over how far that is off.
            whole = np.ones((len(ways), len(offs)))
            for w, witness in enumerate(witnesses):
                p = float(period[w])
                mine = [
                    (event["look"], at_places, degrees, min(times * spread, 0.5 * p))
                    for event, at_places in fits
                    for v, degrees, spread in event["readings"]
                    if v == w
                ]
                if not mine:
                    continue
                if w == pin:
                    for _, at_places, degrees, spread in mine:
                        whole *= alike(degrees - at_places[:, w, None] - offs[None, :], spread, p)
                    continue
                # Read once, how far it is off and how far it was misread are one normal spread.
                own, weight = grid(witness["off"], sharpest(w))
                if len(mine) == 1:
                    look, at_places, degrees, spread = mine[0]
                    own, weight = np.array([0.0]), np.array([1.0])
                    mine = [(look, at_places, degrees, float(np.hypot(spread, witness["off"])))]
                sum_ = np.zeros_like(whole)
                for off, part in zip(own, weight):
                    fit = np.full_like(whole, part)
                    for look, at_places, degrees, spread in mine:
                        expected = at_places[:, w, None] + off
                        if look == "rest":
                            expected = expected + run_on(at_places) * beside[w]
                        fit *= alike(degrees - expected, spread, p)
                    sum_ += fit
                whole *= sum_
            np.add.at(chances, at, likely * (whole @ prior))
    return {"chances": list(chances / chances.sum())}


if __name__ == "__main__":
    for line in sys.stdin:
        print(json.dumps(solve(json.loads(line))), flush=True)
