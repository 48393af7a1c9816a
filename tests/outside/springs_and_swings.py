"""Pendulums and springs by a general-purpose solver of differential equations and a library of special functions.

One question a line, one answer a line:

    {"ask": "elliptic", "m": 0.5}                                      {"k": ...}
    {"ask": "swing", "half_arc_deg": 30, "g": 9.81, "mm": 994}         {"slower": ..., "beat_s": ...}   by solve_ivp
    {"ask": "coils", "long": 1396, "thick": 0.4, "inner": 13.3}        {"coils": ...}                   strip wound outward
    {"ask": "coils", ..., "outer": 40}                                 {"coils": ...}                   laid at a wall, inward
    {"ask": "bend", "width", "thick", "long", "mpa", "turns"}          {"n_mm": ..., "joules": ...}     a strip turned, by its curvature
    {"ask": "unwind", "curve": [[turns, n_mm], ...]}                   {"joules": ...}                  work as it runs down
    {"ask": "scatter", "draws": 100000, "seed": 1, "barrel": true, "counted": false, "held": 0.1, "of": {"width": [19, 0.05], ...}}
                       {"left": {"mean", "spread", "mean_error", "spread_error", "below"}, "stored": ..., "up": ..., "half": ..., "down": ...}
                       a spring whose measurements scatter, by Monte Carlo; "below" is the part of all that holds no more than "held"
    {"ask": "strip", "bar": E I in N mm², "pull": N, "long": mm, "below": mm}  {"turns": mm, "hung": mm}      by solve_bvp
    {"ask": "torsion", "kg_m2": ..., "n_m": ...}                       {"beat_s": ...}
"""

import json
import sys

import numpy
from scipy.integrate import solve_bvp, solve_ivp
from scipy.special import ellipk

TIGHT = {"rtol": 1e-12, "atol": 1e-14, "method": "DOP853"}


def quarter(acceleration, start):
    """Seconds from rest at `start` to the middle."""

    def middle(_, state):
        return state[0]

    middle.terminal, middle.direction = True, -1
    slow = 2 * numpy.pi * numpy.sqrt(start / -acceleration(start))
    ran = solve_ivp(lambda _, s: [s[1], acceleration(s[0])], (0, 2 * slow), [start, 0.0], events=middle, **TIGHT)
    return ran.t_events[0][0]


def swing(q):
    rate = q["g"] / (q["mm"] / 1000)
    time = quarter(lambda a: -rate * numpy.sin(a), numpy.radians(q["half_arc_deg"]))
    return {"beat_s": 2 * time, "slower": 2 * time / (numpy.pi / numpy.sqrt(rate))}


def coils(q):
    """A spiral whose radius grows by its thickness in a turn: dr/ds = ± t/(2 pi r), dN/ds = 1/(2 pi r). Its middle line sets out
    from the arbor's surface, or the wall, so that its first turn lies half its thickness off on the mean."""
    thick, long = q["thick"], q["long"]
    sign = 1 if "inner" in q else -1
    start = (q["inner"] if sign > 0 else q["outer"]) / 2
    ran = solve_ivp(
        lambda _, y: [sign * thick / (2 * numpy.pi * y[0]), 1 / (2 * numpy.pi * y[0])], (0, long), [start, 0.0], **TIGHT
    )
    return {"coils": ran.y[1][-1]}


def bend(q):
    """A clamped strip bent by one moment: its angle grows by M/(E I) along it; which moment turns its end so far, and the work of it."""
    stiff = q["mpa"] * q["width"] * q["thick"] ** 3 / 12

    def turned(moment):
        return solve_ivp(lambda _, y: [moment / stiff], (0, q["long"]), [0.0], **TIGHT).y[0][-1]

    unit = turned(1.0)
    moment = 2 * numpy.pi * q["turns"] / unit
    work = solve_ivp(lambda angle, _: [angle / unit], (0, 2 * numpy.pi * q["turns"]), [0.0], **TIGHT).y[0][-1]
    return {"n_mm": moment, "joules": work / 1000}


def unwind(q):
    turns, torque = zip(*q["curve"])
    ran = solve_ivp(
        lambda n, _: [2 * numpy.pi * numpy.interp(n, turns, torque)], (turns[0], turns[-1]), [0.0], max_step=0.05
    )
    return {"joules": ran.y[0][-1] / 1000}


def scatter(q):
    """Draws every measurement from its normal distribution, drops what cannot be a spring, and works each one: the strip bent by
    one moment holds M² L / (2 E I), and it takes no moment the other way."""
    rng = numpy.random.default_rng(q["seed"])
    x = {name: rng.normal(mean, spread, q["draws"]) for name, (mean, spread) in q["of"].items()}
    with numpy.errstate(all="ignore"):
        width, thick, long, arbor, outside = (x[name] for name in ("width", "thick", "long", "arbor", "outside"))
        edge = thick * long
        # The ring that the strip's edge covers, outward from the arbor and inward from the wall.
        up = (numpy.sqrt(arbor**2 / 4 + edge / numpy.pi) - arbor / 2) / thick
        if q["barrel"]:
            down = (outside / 2 - numpy.sqrt(outside**2 / 4 - edge / numpy.pi)) / thick
        else:
            down = long / (numpy.pi * (arbor + outside) / 2)
        down = down * x["lies"]
        stiff = x["steel"] * width * thick**3 / 12
        if q["counted"]:
            free = numpy.clip(x["free"], 0, None)
        else:
            # Set until its stress is what its steel bears: the strip's curvature changed by 2 s / (E t), and never beyond straight.
            free = numpy.clip(up - 2 * x["bears"] / (x["steel"] * thick) * long / (2 * numpy.pi), 0, None)
        good = (width > 0) & (thick > 0) & (long > 0) & (outside > arbor) & (arbor > -outside) & (down > 0) & (up > down)
    up, down, free, stiff, long = (part[good] for part in (up, down, free, stiff, long))

    def moment(coils):
        return stiff * 2 * numpy.pi * numpy.clip(coils - free, 0, None) / long

    def held(coils):
        return moment(coils) ** 2 * long / (2 * stiff) / 1000

    def told(each):
        n, spread = len(each), each.std()
        off = each - each.mean()
        fourth = (off**4).mean()
        spread_error = numpy.sqrt(max(fourth - spread**4, 0) / n) / (2 * spread) if spread > 0 else 0
        return {"mean": each.mean(), "spread": spread, "mean_error": spread / numpy.sqrt(n), "spread_error": spread_error}

    left = held(down)
    return {
        "left": told(left) | {"below": (left <= q["held"]).mean()},
        "stored": told(held(up) - left),
        "up": told(moment(up)),
        "half": told(moment((up + down) / 2)),
        "down": told(moment(down)),
    }


def strip(q):
    """A strip upright in its upper chop, a weight on a rigid rod in the lower one, pushed aside by a small force: the moment at a section
    is that of the push and the weight beneath it, E I y'' = H (L - x) - P (Y - y), Y how far the weight goes. What pushes it back
    for each millimetre tells how often it beats, and so how long a thread would be; the rod in line meets x where y is nothing."""
    bar, pull, long, below = (q[name] for name in ("bar", "pull", "long", "below"))
    push = 1e-3 * pull

    def bends(x, y, aside):
        return numpy.vstack([y[1], (push * (long + below - x) - pull * (aside[0] - y[0])) / bar])

    def held(top, low, aside):
        return numpy.array([top[0], top[1], low[0] + below * low[1] - aside[0]])

    x = numpy.linspace(0, long, 200)
    aside = push / pull * (long + below)
    found = solve_bvp(bends, held, x, numpy.zeros((2, x.size)), p=[aside], tol=1e-10, max_nodes=200000)
    if found.status != 0:
        raise RuntimeError(found.message)
    y, slope = found.y[:, -1]
    return {"turns": long - y / slope, "hung": pull * found.p[0] / push}


ANSWERS = {
    "elliptic": lambda q: {"k": ellipk(q["m"])},
    "scatter": scatter,
    "swing": swing,
    "coils": coils,
    "bend": bend,
    "unwind": unwind,
    "strip": strip,
    "torsion": lambda q: {"beat_s": 2 * quarter(lambda a: -q["n_m"] / q["kg_m2"] * a, 1.0)},
}

for line in sys.stdin:
    question = json.loads(line)
    print(json.dumps(ANSWERS[question["ask"]](question)), flush=True)
