"""The least shift, found by an integer programme.

The part of the rule of `remesh` that is linear (fewest meshes that spread plates, then fewest outside, then the least lean; no chances),
solved by CP-SAT with one worker. JSON lines in, JSON lines out. All angles of a witness are whole numbers, as strings, in one unit of its own:

    {"id": ..., "witnesses": [{"period": p, "from": a, "to": b, "best": c, "stands": x, "half": b - a}],
                "meshes": [{"reached": "plates" | "outside", "steps": [degrees of each witness for one tooth]}]}
    {"id": ..., "feasible": true, "plates": 1, "outside": 0, "lean": "num/den", "solver_seconds": 0.003}

"half" is half the window, doubled so that it is whole: to - from. The lean is the largest |stands - best| / half the window, over the places
alike nearest best, with the numbers of meshes kept at their least. Where none brings all in, the three are null. What would pass 2^62, or takes
longer than MOST_SECONDS, is answered {"id": ..., "skipped": true, "why": ...}; a wrong line {"error": ...}.

With --meetings each line {"driver": teeth, "driven": teeth} is answered with the turns after which the same two teeth meet again,
{"driver_turns": ..., "driven_turns": ...}.

It does not say which shift it found: several may be as good, and the rule's chances are left out.

    optimum.py [--meetings] < questions.jsonl
"""

import json
import math
import sys
from fractions import Fraction

from ortools.sat.python import cp_model

LARGEST = 2**62  # beyond it the solver's 64-bit sums are not safe
MOST_SECONDS = 120.0  # for one of the two solves
SEED = 1


class Skip(Exception):
    """Not solved, and why."""


class Row:
    """One witness: everything measured from the near edge of its window, and reduced to one period."""

    def __init__(self, given, steps):
        self.period, low, high, best, stands = (int(given[k]) for k in ("period", "from", "to", "best", "stands"))
        self.width = high - low
        if self.period <= 0 or self.width <= 0 or int(given.get("half", self.width)) != self.width:
            raise ValueError(f"period, window or half: {given}")
        self.best = (best - low) % self.period
        self.stands = (stands - low) % self.period
        self.steps = [int(s) % self.period for s in steps]

    def cycle(self, mesh):
        return self.period // math.gcd(self.period, self.steps[mesh])


def whole_sum(start, terms):
    """start + sum of factor * variable in [0, most], refused where any part of it would pass LARGEST."""
    reach = abs(start) + sum(abs(factor) * most for factor, _, most in terms)
    if reach >= LARGEST:
        raise Skip(f"a sum reaches {reach}")
    return start + sum(factor * variable for factor, variable, _ in terms)


class Programme:
    def __init__(self, rows, reached):
        self.model, self.rows, self.seconds = cp_model.CpModel(), rows, 0.0
        self.teeth, self.used = [], []
        for j in range(len(reached)):
            most = math.lcm(*(r.cycle(j) for r in rows)) - 1
            if most >= LARGEST:
                raise Skip(f"mesh {j} comes round after {most + 1} teeth")
            teeth, used = self.model.new_int_var(0, most, f"teeth{j}"), self.model.new_bool_var(f"used{j}")
            self.model.add(teeth == 0).only_enforce_if(~used)
            self.teeth.append((teeth, most))
            self.used.append(used)
        self.opened = {
            kind: sum(u for u, r in zip(self.used, reached) if r == kind) for kind in ("plates", "outside")
        }
        for row in rows:
            place, most = self._place(row, row.stands)
            self._wrapped(row, place, most, 0, row.width)

    def _place(self, row, start):
        terms = [(s, t, most) for s, (t, most) in zip(row.steps, self.teeth)]
        return whole_sum(start, terms), start + sum(s * most for s, _, most in terms)

    def _wrapped(self, row, place, most, low, high):
        """The place less some whole periods, a new variable in [low, high]."""
        turns = self.model.new_int_var(-(high // row.period) - 1, max(0, most - low) // row.period + 1, "")
        alike = self.model.new_int_var(low, high, "")
        if most + (most - low + 2 * row.period) + high + abs(low) >= LARGEST:
            raise Skip(f"a place reaches {most}")
        self.model.add(alike == place - row.period * turns)
        return alike

    def open_fewest(self):
        """(meshes that spread plates, meshes outside), or None where no shift brings all in."""
        self.model.minimize(self.opened["plates"] * (len(self.used) + 1) + self.opened["outside"])
        solver = self._solved()
        if solver is None:
            return None
        fewest = tuple(int(solver.value(self.opened[kind])) for kind in ("plates", "outside"))
        for kind, number in zip(("plates", "outside"), fewest):
            self.model.add(self.opened[kind] == number)
        for j, (teeth, _) in enumerate(self.teeth):  # a first guess for what comes next
            self.model.add_hint(teeth, solver.value(teeth))
        return fewest

    def lean_least(self):
        """The least of the largest |place - best| / half the window, with the numbers of meshes as found."""
        common = math.lcm(*(r.width for r in self.rows))  # lean = 2 * worst / common
        farthest = max(r.period // 2 * (common // r.width) for r in self.rows)
        if 2 * farthest >= LARGEST:
            raise Skip(f"a lean reaches {farthest}/{common}")
        worst = self.model.new_int_var(0, farthest, "worst")
        for row in self.rows:
            start = (row.stands - row.best) % row.period
            place, most = self._place(row, start)
            off = self._wrapped(row, place, most, -(row.period // 2), row.period // 2)
            self.model.add(worst >= off * (common // row.width))
            self.model.add(worst >= -off * (common // row.width))
        self.model.minimize(worst)
        solver = self._solved()
        lean = Fraction(2 * solver.value(worst), common)
        if lean != self._lean([solver.value(t) for t, _ in self.teeth]):
            raise AssertionError("the solver's teeth do not give the solver's lean")
        return lean

    def _lean(self, teeth):
        """The lean of these teeth, and that all are in: reckoned again without the solver."""
        leans = []
        for row in self.rows:
            moved = sum(s * t for s, t in zip(row.steps, teeth))
            assert (row.stands + moved) % row.period <= row.width
            off = (row.stands + moved - row.best) % row.period
            leans.append(Fraction(2 * min(off, row.period - off), row.width))
        return max(leans)

    def _solved(self):
        fault = self.model.validate()
        if fault:
            raise Skip(fault)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers, solver.parameters.random_seed = 1, SEED
        solver.parameters.max_time_in_seconds = MOST_SECONDS
        status = solver.solve(self.model)
        self.seconds += solver.wall_time
        if status == cp_model.INFEASIBLE:
            return None
        if status != cp_model.OPTIMAL:
            raise Skip(f"{solver.status_name(status)} after {solver.wall_time:.0f} s")
        return solver


def optimum(question):
    meshes = question["meshes"]
    rows = [Row(w, [m["steps"][i] for m in meshes]) for i, w in enumerate(question["witnesses"])]
    if not rows or any(m["reached"] not in ("plates", "outside") for m in meshes):
        raise ValueError("no witness, or a mesh reached neither by the plates nor outside")
    programme = Programme(rows, [m["reached"] for m in meshes])
    plates, outside = programme.open_fewest() or (None, None)
    lean = None if plates is None else programme.lean_least()
    return {
        "feasible": plates is not None,
        "plates": plates,
        "outside": outside,
        "lean": None if lean is None else f"{lean.numerator}/{lean.denominator}",
        "solver_seconds": programme.seconds,
    }


def meeting(question):
    again = math.lcm(question["driver"], question["driven"])
    return {"driver_turns": again // question["driver"], "driven_turns": again // question["driven"]}


def answer_line(line, answer):
    name = {}
    try:
        question = json.loads(line)
        name = {"id": question["id"]} if "id" in question else {}
        return name | answer(question)
    except Skip as why:
        return name | {"skipped": True, "why": str(why)}
    except (ValueError, KeyError, TypeError, IndexError) as wrong:
        return name | {"error": f"{type(wrong).__name__}: {wrong}"}


if __name__ == "__main__":
    if sys.argv[1:] not in ([], ["--meetings"]):
        sys.exit(__doc__)
    for line in sys.stdin:
        print(json.dumps(answer_line(line, meeting if sys.argv[1:] else optimum)), flush=True)
