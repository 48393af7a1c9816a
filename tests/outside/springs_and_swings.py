"""Pendulums and springs by a general-purpose solver of differential equations and a library of special functions.

One question a line, one answer a line:

    {"ask": "elliptic", "m": 0.5}                                      {"k": ...}
    {"ask": "swing", "half_arc_deg": 30, "g": 9.81, "mm": 994}         {"slower": ..., "beat_s": ...}   by solve_ivp
    {"ask": "coils", "long": 1396, "thick": 0.4, "inner": 13.3}        {"coils": ...}                   strip wound outward
    {"ask": "coils", ..., "outer": 40}                                 {"coils": ...}                   laid at a wall, inward
    {"ask": "bend", "width", "thick", "long", "mpa", "turns"}          {"n_mm": ..., "joules": ...}     a strip turned, by its curvature
    {"ask": "unwind", "curve": [[turns, n_mm], ...]}                   {"joules": ...}                  work as it runs down
    {"ask": "torsion", "kg_m2": ..., "n_m": ...}                       {"beat_s": ...}
"""

import json
import sys

import numpy
from scipy.integrate import solve_ivp
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


ANSWERS = {
    "elliptic": lambda q: {"k": ellipk(q["m"])},
    "swing": swing,
    "coils": coils,
    "bend": bend,
    "unwind": unwind,
    "torsion": lambda q: {"beat_s": 2 * quarter(lambda a: -q["n_m"] / q["kg_m2"] * a, 1.0)},
}

for line in sys.stdin:
    question = json.loads(line)
    print(json.dumps(ANSWERS[question["ask"]](question)), flush=True)
