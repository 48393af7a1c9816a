"""What the counts of a sheet must do, worked apart from the program: blows that move every witness and every row of pins by
whole places, times of turning that agree, beats that go with the pendulum. A question is a line of JSON with a sheet, an answer
what of it does not come out, and how far beats are from the pendulum's.

Standard library only; the sum of a pendulum is t = pi sqrt(L / g)."""

import json
import math
import sys
import tomllib
from fractions import Fraction


def turns(sheet):
    """Turns of every arbor for one of the first of its train, and which train it is of."""
    teeth = {}
    for arbor, keys in sheet["arbor"].items():
        for key, value in keys.items():
            if isinstance(value, dict) and "teeth" in value:
                value = value["teeth"]
            if isinstance(value, int):
                teeth[f"{arbor}.{key}"] = value
    joined = {}
    for mesh in sheet["mesh"]:
        a, b = mesh["driver"], mesh["driven"]
        ratio = Fraction(teeth[a], teeth[b])
        joined.setdefault(a.split(".")[0], []).append((b.split(".")[0], ratio))
        joined.setdefault(b.split(".")[0], []).append((a.split(".")[0], 1 / ratio))
    found = {}
    for first in sheet["arbor"]:
        if first in found:
            continue
        found[first] = (first, Fraction(1))
        todo = [first]
        while todo:
            here = todo.pop()
            for there, ratio in joined.get(here, []):
                told = found[here][1] * ratio
                if there not in found:
                    found[there] = (first, told)
                    todo.append(there)
                elif found[there][1] != told:
                    return None, teeth, {part for mesh in sheet["mesh"] for part in (mesh["driver"], mesh["driven"])}
    return found, teeth, {part for mesh in sheet["mesh"] for part in (mesh["driver"], mesh["driven"])}


def exact(number):
    return Fraction(str(number))


def amiss(sheet):
    told, teeth, meshed = turns(sheet)
    if told is None:
        return ["loop"], None
    wrong = []
    strike = sheet.get("strike")
    if strike and strike["blows"] != "ship's bells":
        train, read_at = told[strike["read_at"]]
        blow = 1 / read_at / exact(strike["blows_per_turn"])
        places = [(w["on"], w["repeats"]) for w in sheet.get("witness", [])]
        struck = {lever["feels"] for lever in sheet.get("lever", []) if "strikes" in lever}
        for track in sheet.get("track", []):
            if "on" not in track:
                continue
            if "counts" in track:
                places.append((track["on"], sum(track["counts"])))
            if "pins" in track and track["id"] in struck:
                places.append((track["on"], track["pins"]))
        for on, many in places:
            if told[on][0] == train and (blow * told[on][1] * many).denominator != 1:
                wrong.append(f"blow {on} {many}")
    timed = [(arbor, exact(keys["turn_s"])) for arbor, keys in sheet["arbor"].items() if "turn_s" in keys]
    for i, (arbor, seconds) in enumerate(timed):
        for other, others in timed[:i]:
            if told[arbor][0] == told[other][0]:
                if abs(math.log(seconds * told[arbor][1] / (others * told[other][1]))) > 0.002:
                    wrong.append(f"times {arbor} {other}")
                break
    off = None
    for arbor, keys in sheet["arbor"].items():
        if "pendulum_mm" in keys and timed and told[timed[0][0]][0] == told[arbor][0]:
            free = [part for part in teeth if part.split(".")[0] == arbor and part not in meshed]
            per_turn = exact(keys["beats_per_turn"]) if "beats_per_turn" in keys else 2 * teeth[free[0]]
            hour = 3600 / timed[0][1] * told[arbor][1] / told[timed[0][0]][1] * per_turn
            beats = 3600 / (math.pi * math.sqrt(keys["pendulum_mm"] / 1000 / 9.806))
            off = abs(math.log(float(hour) / beats))
    return wrong, off


for line in sys.stdin:
    wrong, off = amiss(tomllib.loads(json.loads(line)["sheet"]))
    print(json.dumps({"amiss": wrong, "beats_off": off}), flush=True)
