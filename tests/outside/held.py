"""What parts turned on their arbors do, by turning them: an independent check of `remesh` on sheets with `held_by`.

Every arbor and every part that can be turned on one is a piece with an angle of its own. A mesh ties two pieces by their teeth, a part and
its arbor go together but for the angle that one was turned against the other; what the moment fixes is at nought, and the rest follows by going
from piece to piece. Squares are turned by quarters, every choice of up to three parts with every shift of outside meshes is tried; what may
be turned to any angle is tried on a fine grid, alone. JSON lines in, JSON lines out:

    {"sheet": "<TOML>", "saw": {"slot": "-1.2"}, "answer": <the object of remesh --json>}

The answer is {"faults": [...], "found": [together, outside] or null}, or {"skipped": true}.

    held.py < questions.jsonl
"""

import json
import math
import sys
import tomllib
from fractions import Fraction
from itertools import combinations, product

MOST_TRIED = 6_000
GRID = 360
EQUAL_CHANCE = 1e-9


class TooMuch(Exception):
    """More to try than is sensible."""


class Sheet:
    def __init__(self, text):
        doc = tomllib.loads(text, parse_float=Fraction)
        self.arbors = doc["arbor"]
        self.meshes = doc.get("mesh", [])
        self.read_at = doc["strike"]["read_at"]
        self.moments = {"drop": self.read_at} | {m["id"]: m["arbor"] for m in doc.get("moment", [])}
        self.anchors = [self.read_at] + [m["arbor"] for m in doc.get("moment", [])]
        self.witnesses = doc.get("witness", [])
        self.hold = doc["strike"].get("hold_deg", 0)
        self.doc = doc
        in_mesh = {end for m in self.meshes for end in (m["driver"], m["driven"])}
        self.joints = {}  # name -> (arbor, how)
        self.marks = {a: a for a in self.arbors}
        for arbor, table in self.arbors.items():
            held = table.get("held_by", {})
            parts = [k for k, v in table.items() if self.is_part(k, v)]
            meshed = [p for p in parts if f"{arbor}.{p}" in in_mesh]
            for part in parts:
                how = held if isinstance(held, str) else held.get(part)
                if how and how != "pressed":
                    self.joints[f"{arbor}.{part}"] = (arbor, how)
                    if part not in meshed and self.marks[arbor] == arbor:
                        self.marks[arbor] = f"{arbor}.{part}"
            if self.marks[arbor] == arbor and isinstance(held, str) and held != "pressed" and len(meshed) > 1:
                self.joints[f"{arbor}. marks"] = (arbor, held)
                self.marks[arbor] = f"{arbor}. marks"
        self.speed = self.speeds()

    @staticmethod
    def is_part(key, value):
        ends = ("_mm", "_um", "_deg", "_g", "_n", "_nm", "_turns", "_s", "_teeth")
        if key in ("runs", "held_by", "at_mm", "beats_per_turn") or key.endswith(ends):
            return False
        return isinstance(value, (int, dict)) and not isinstance(value, bool)

    def teeth(self, end):
        arbor, part = end.split(".")
        count = self.arbors[arbor][part]
        return Fraction(count["teeth"] if isinstance(count, dict) else count)

    def piece(self, end):
        return end if end in self.joints else end.split(".")[0]

    def ties(self, turned, shifted, without=None):
        """(piece, piece, factor, more): the second's angle is the first's times factor, plus more; angles in turns, one way round."""
        for m in self.meshes:
            a, b, n, k = self.piece(m["driver"]), self.piece(m["driven"]), self.teeth(m["driver"]), self.teeth(m["driven"])
            factor = n / k if m.get("internal", False) else -n / k
            yield a, b, factor, shifted.get(m["driver"] + ">" + m["driven"], Fraction(0)) / k
        for name, (arbor, _) in self.joints.items():
            if name != without:
                yield arbor, name, Fraction(1), turned.get(name, Fraction(0))

    def angles(self, start, turned, shifted, without=None):
        ties = list(self.ties(turned, shifted, without))
        angle, edge = {start: Fraction(0)}, [start]
        for here in edge:
            for a, b, factor, more in ties:
                if here == a:
                    there, value = b, angle[a] * factor + more
                elif here == b:
                    there, value = a, (angle[b] - more) / factor
                else:
                    continue
                if there not in angle:
                    angle[there] = value
                    edge.append(there)
        return angle

    def speeds(self):
        speed = {}
        for first in self.arbors:
            if first in speed:
                continue
            speed[first], edge = Fraction(1), [first]
            for here in edge:
                for m in self.meshes:
                    ends = [m["driver"], m["driven"]]
                    arbors = [e.split(".")[0] for e in ends]
                    if here in arbors:
                        at = arbors.index(here)
                        there = arbors[1 - at]
                        value = speed[here] * self.teeth(ends[at]) / self.teeth(ends[1 - at])
                        value = value if m.get("internal", False) else -value
                        if there not in speed:
                            speed[there] = value
                            edge.append(there)
        return speed

    def train(self, arbor):
        """The arbors that meshes join to one, all parts as they sit."""
        return {piece.split(".")[0] for piece in self.angles(arbor, {}, {})}

    def anchor(self, arbor):
        train = self.train(arbor)
        inside = [a for a in self.anchors if a in train]
        if inside:
            return inside[0]
        driven = {m["driven"].split(".")[0] for m in self.meshes}
        return next(a for a in self.arbors if a in train and a not in driven)

    def stays(self, name):
        """Whether the part itself hangs with the anchor, so that its arbor goes; nothing where it cannot be turned alone."""
        arbor, _ = self.joints[name]
        near = self.angles(self.anchor(arbor), {}, {}, without=name)
        if (name in near) == (arbor in near):
            return None
        return name in near

    def moved(self, turned, shifted):
        """How far each witness goes ahead, in degrees of its own arbor; `turned` in degrees of what goes, ahead positive."""
        pieces = {}
        for name, by in turned.items():
            arbor, _ = self.joints[name]
            way = 1 if self.speed[arbor] > 0 else -1
            pieces[name] = Fraction(by) / 360 * way * (-1 if self.stays(name) else 1)
        far = {}
        for m in self.meshes:
            name = m["driver"] + ">" + m["driven"]
            if shifted.get(name):
                far[name] = self.shift(m, shifted[name])
        all_moved = {}
        for w in self.witnesses:
            fixed = self.marks[self.moments[w.get("at", "drop")]]
            angle = self.angles(fixed, pieces, far)[self.marks[w["on"]]]
            all_moved[w["id"]] = angle * 360 * (1 if self.speed[w["on"]] > 0 else -1)
        return all_moved

    def shift(self, mesh, teeth):
        """Teeth ahead of the far side as an offset of the driven part against the driver, in teeth, one way round."""
        far, near = mesh["driven"].split(".")[0], mesh["driver"].split(".")[0]
        # Whichever side still hangs with the anchor when the mesh is open is the near one.
        rest = Sheet.__new__(Sheet)
        rest.__dict__ = dict(self.__dict__, meshes=[m for m in self.meshes if m is not mesh])
        together = {piece.split(".")[0] for piece in rest.angles(self.anchor(near), {}, {})}
        if far in together and near in together:
            raise TooMuch("a loop")
        if near in together:
            return Fraction(teeth) * (1 if self.speed[far] > 0 else -1)
        # The driver goes: n teeth on of the driver push the driven part's offset the other way, or along in a ring.
        way = 1 if self.speed[near] > 0 else -1
        return Fraction(teeth) * way * (-1 if mesh.get("internal", False) else 1)


def places(sheet, saw, moved):
    out = {}
    for w in sheet.witnesses:
        if w["id"] in saw:
            period = Fraction(360, w["repeats"])
            best = Fraction(w["best_deg"])
            at = saw[w["id"]][0] + moved.get(w["id"], 0)
            turns = (at - best) / period
            out[w["id"]] = at - period * math.floor(turns + Fraction(1, 2))
    return out


def rate(sheet, saw, moved):
    """Whether all are in, the chance of it, and the lean."""
    chance, lean = 1.0, Fraction(0)
    for w in sheet.witnesses:
        if w["id"] in saw:
            low, high = map(Fraction, w["window_deg"])
            if (saw[w["id"]][0] + moved.get(w["id"], 0) - low) % Fraction(360, w["repeats"]) > high - low:
                return False, 0.0, None
    for w in sheet.witnesses:
        if w["id"] not in saw:
            continue
        low, high = map(Fraction, w["window_deg"])
        period, best = Fraction(360, w["repeats"]), Fraction(w["best_deg"])
        at, spread = places(sheet, saw, moved)[w["id"]], float(saw[w["id"]][1])
        each = 0.0
        for n in range(-3, 4):
            a, b = (float(x - at + n * period) / spread / math.sqrt(2) for x in (low, high))
            each += 0.5 * (math.erf(b) - math.erf(a))
        chance *= min(each, 1.0)
        lean = max(lean, abs(at - best) / ((high - low) / 2))
    return True, chance, lean


def readings(sheet, saw):
    read = {}
    for w in sheet.witnesses:
        if w["id"] in saw:
            said, _, spread = saw[w["id"]].partition("~")
            low, high = map(Fraction, w["window_deg"])
            read[w["id"]] = (Fraction(said), Fraction(spread) if spread else (high - low) / 20)
    return read


def check(question):
    sheet = Sheet(question["sheet"])
    saw, answer = readings(sheet, question["saw"]), question["answer"]
    faults, names = [], {}
    turns = {t["part"]: t for t in answer.get("turns", [])}
    # What is told to be turned does what is told.
    if answer["cure"] == "turn":
        turned = {}
        for name, t in turns.items():
            joint = name if name in sheet.joints else name.split(".")[0] + ". marks"
            by = Fraction(90 * t["quarters"]) if "quarters" in t else Fraction(t["deg"])
            names[joint], turned[joint] = t, by
        signs = []
        for joint, t in names.items():
            moves = {m["id"]: m["deg"] for m in t["moves"]}
            ahead = {k: v for k, v in sheet.moved({joint: turned[joint]}, {}).items() if v}
            if set(moves) != set(ahead):
                faults.append(f"{joint} moves {sorted(ahead)}, not {sorted(moves)}")
                return {"faults": faults, "found": None}
            sign = 1 if all(abs(moves[k] - float(ahead[k])) < 1e-6 * (1 + abs(moves[k])) for k in moves) else -1
            if any(abs(moves[k] - sign * float(ahead[k])) > 1e-6 * (1 + abs(moves[k])) for k in moves):
                faults.append(f"{joint} moves {ahead}, not {moves}")
            signs.append((joint, sign))
            if t["teeth_stay"] != bool(sheet.stays(joint)):
                faults.append(f"{joint}: teeth_stay")
        turned = {joint: sign * turned[joint] for joint, sign in signs}
        shifted = {s["mesh"]: s["teeth"] for s in answer["shifts"]}
        after = {w["id"]: w["stands_deg"] for w in answer["after"]["witnesses"] if w["stands_deg"] is not None}
        ends = [places(sheet, saw, sheet.moved(turned, dict(zip(shifted, (s * t for s, t in zip(way, shifted.values()))))))
                for way in product((1, -1), repeat=len(shifted))]
        periods = {w["id"]: 360 / w["repeats"] for w in sheet.witnesses}
        def near(a, b, p):
            return abs((a - b + p / 2) % p - p / 2) < 1e-6
        if not any(all(near(float(end[k]), after[k], periods[k]) for k in after) for end in ends):
            faults.append(f"after {after}, expected one of {[{k: float(v) for k, v in end.items()} for end in ends]}")
    # Every choice of quarters and outside shifts.
    square = [n for n, (_, how) in sheet.joints.items() if how == "square" and sheet.stays(n) is not None]
    other = [n for n, (_, how) in sheet.joints.items() if how != "square" and sheet.stays(n) is not None]
    unit = {n: sheet.moved({n: 90}, {}) for n in square}
    square = [n for n in square if any(unit[n][w] for w in saw)]
    outside = [m for m in sheet.meshes if m.get("reached") == "outside"]
    meshed = [m["driver"] + ">" + m["driven"] for m in outside]
    steps, cycles = {}, {}
    for name in list(meshed):
        try:
            steps[name] = sheet.moved({}, {name: 1})
        except TooMuch:
            meshed.remove(name)
            continue
        cycle = 1
        for w in sheet.witnesses:
            if w["id"] in saw:
                cycle = math.lcm(cycle, (steps[name][w["id"]] / Fraction(360, w["repeats"])).denominator)
        cycles[name] = cycle
    meshed = [n for n in meshed if cycles[n] > 1]
    best, tried = None, 0
    if all(rate(sheet, saw, {})[:1]):
        return {"faults": faults, "found": [0, 0]}
    for total in range(1, 4):
        for beside in range(0, total + 1):
            many = total - beside
            good = []
            for parts in combinations(square, many):
                for quarters in product((1, -1, 2, -2, 3, -3), repeat=many):
                    for meshes in combinations(meshed, beside):
                        count = math.prod(cycles[m] - 1 for m in meshes)
                        tried += count
                        if tried > MOST_TRIED:
                            return {"skipped": True}
                        for teeth in product(*(range(1, cycles[m]) for m in meshes)):
                            moved = {w: sum(q * unit[p][w] for p, q in zip(parts, quarters)) +
                                     sum(t * steps[m][w] for m, t in zip(meshes, teeth)) for w in saw}
                            ok, chance, lean = rate(sheet, saw, moved)
                            if ok:
                                good.append((chance, lean))
            if good:
                best = (total, beside, good)
                break
        if best:
            break
    any_angle, leans_of = None, {}
    for n in other:
        one = sheet.moved({n: 1}, {})
        if not any(one[w] for w in saw):
            continue
        of_part = []
        for k in range(-GRID, GRID + 1):
            by = Fraction(180 * k, GRID)
            ok, _, lean = rate(sheet, saw, {w: by * one[w] for w in saw})
            if ok:
                of_part.append(lean)
        if of_part:
            leans_of[n] = min(of_part)
            any_angle = min(leans_of.values())
    spread = [s for s in answer["shifts"] if s["reached"] == "plates"]
    told = (len(spread), len(turns) + len(answer["shifts"]) - len(spread), len(answer["shifts"]) - len(spread))
    cured = answer["cure"] in ("turn", "shift")
    if best and not (cured and told <= (0, best[0], best[1])):
        faults.append(f"{best[0]} together do, {best[1]} of them outside; told {answer['cure']} {told}")
    if any_angle is not None and not (cured and told <= (0, 1, 0)):
        faults.append(f"one part turned by eye does; told {answer['cure']} {told}")
    squares = all("quarters" in t for t in turns.values())
    if cured and squares and not spread and not answer["cut_short"]:
        if not best or told[1:] != best[:2]:
            faults.append(f"told {told}, found {best and best[:2]}")
        elif not sheet.hold:
            top = max(chance for chance, _ in best[2])
            lean = min(lean for chance, lean in best[2] if chance >= top - EQUAL_CHANCE)
            close = any(abs(chance - top + EQUAL_CHANCE) < 1e-11 for chance, _ in best[2])
            after = {w["id"]: w["stands_deg"] for w in answer["after"]["witnesses"] if w["stands_deg"] is not None}
            leans = [abs(after[w["id"]] - float(w["best_deg"])) / (float(w["window_deg"][1] - w["window_deg"][0]) / 2)
                     for w in sheet.witnesses if w["id"] in after]
            if not close and not any(how != "square" for _, how in sheet.joints.values()) and abs(max(leans) - float(lean)) > 1e-6:
                faults.append(f"leans {max(leans)}, {float(lean)} is to be had")
    if cured and not squares and told == (0, 1, 0) and any_angle is not None:
        moved = {m["id"]: Fraction(m["deg"]) for t in turns.values() for m in t["moves"]}
        ok, _, lean = rate(sheet, saw, moved)
        # Between one part and another chance comes first; of one part's angles the one with the least lean is told.
        joint = next(iter(names))
        if not ok or lean > leans_of.get(joint, lean) + Fraction(1, 10**6):
            faults.append(f"{joint} leans {float(lean)}, {float(leans_of.get(joint, lean))} is to be had")
    return {"faults": faults, "found": best and best[:2], "by_eye": any_angle is not None}


if __name__ == "__main__":
    for line in sys.stdin:
        try:
            said = check(json.loads(line))
        except TooMuch as why:
            said = {"skipped": True, "why": str(why)}
        except Exception as why:  # noqa: BLE001: a wrong line is answered, and the next one too
            said = {"error": f"{type(why).__name__}: {why}"}
        print(json.dumps(said), flush=True)
