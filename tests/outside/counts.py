"""Missing counts by other means: every set tried with NumPy, and a constraint solver.

One puzzle a line: how many counts are unknown, from how many teeth to how many, and the rules in whole numbers. Answers
with every set by each of the two, in rising order, and how long each took.
"""

import json
import sys
import time

import numpy
from ortools.sat.python import cp_model

# What the solver takes: numbers of 63 bits, with room for the sums it makes of them.
LONGEST = 1 << 61


def every(puzzle):
    """All sets as columns, those that keep every rule left over; Python's own whole numbers where 63 bits are too few."""
    span = numpy.arange(puzzle["least"], puzzle["most"] + 1, dtype=numpy.int64)
    grids = numpy.meshgrid(*[span] * puzzle["unknown"], indexing="ij")
    columns = [grid.reshape(-1) for grid in grids]
    # What is told apart one by one comes last, when few are left.
    for rule in sorted(puzzle["rules"], key=lambda rule: "whole" in rule):
        if rule.get("never"):
            return []
        if "weights" in rule:
            kept = sum(w * c for w, c in zip(rule["weights"], columns)) + rule["plus"] >= 0
            columns = [column[kept] for column in columns]
            continue
        over, under = numpy.ones_like(columns[0]), numpy.ones_like(columns[0])
        for power, column in zip(rule["powers"], columns):
            if power > 0:
                over = over * column**power
            elif power < 0:
                under = under * column**-power
        if "whole" in rule:
            n, d = rule["whole"]
            kept = [(int(o) * n) % (int(u) * d) == 0 for o, u in zip(over, under)]
        else:
            # A first look in floating point, a hair wide, and then exactly.
            ratio = over / under
            low, high = rule["least"][0] / rule["least"][1], rule["most"][0] / rule["most"][1]
            near = (ratio >= low * (1 - 1e-9)) & (ratio <= high * (1 + 1e-9))
            columns = [column[near] for column in columns]
            over, under = over[near], under[near]
            kept = [
                int(o) * rule["least"][1] >= rule["least"][0] * int(u)
                and int(o) * rule["most"][1] <= rule["most"][0] * int(u)
                for o, u in zip(over, under)
            ]
        kept = numpy.array(kept, dtype=bool)
        columns = [column[kept] for column in columns]
    return sorted([int(c) for c in counts] for counts in zip(*columns))


class All(cp_model.CpSolverSolutionCallback):
    def __init__(self, counts):
        super().__init__()
        self.counts = counts
        self.found = []

    def on_solution_callback(self):
        self.found.append([self.value(count) for count in self.counts])


def solver(puzzle):
    model = cp_model.CpModel()
    least, most = puzzle["least"], puzzle["most"]
    counts = [model.new_int_var(least, most, f"count {i}") for i in range(puzzle["unknown"])]

    def product(powers, sign, name):
        factors = [c for c, power in zip(counts, powers) for _ in range(max(0, sign * power))]
        if not factors:
            return 1, 1
        made, bound = factors[0], most
        for i, factor in enumerate(factors[1:]):
            bound *= most
            longer = model.new_int_var(1, bound, f"{name} {i}")
            model.add_multiplication_equality(longer, [made, factor])
            made = longer
        return made, bound

    for r, rule in enumerate(puzzle["rules"]):
        if rule.get("never"):
            return []
        if "weights" in rule:
            model.add(sum(w * c for w, c in zip(rule["weights"], counts)) + rule["plus"] >= 0)
            continue
        over, over_most = product(rule["powers"], 1, f"over {r}")
        under, under_most = product(rule["powers"], -1, f"under {r}")
        if "whole" in rule:
            n, d = rule["whole"]
            places = model.new_int_var(0, over_most * n // d + 1, f"places {r}")
            below, below_most = places, over_most * n // d + 1
            if not isinstance(under, int):
                below = model.new_int_var(0, below_most * under_most, f"below {r}")
                model.add_multiplication_equality(below, [places, under])
                below_most *= under_most
            assert below_most * d < LONGEST and over_most * n < LONGEST
            model.add(below * d == over * n)
        else:
            for (n, d), sign in ((rule["least"], 1), (rule["most"], -1)):
                assert over_most * d < LONGEST and under_most * n < LONGEST, "too long for the solver"
                model.add(sign * d * over >= sign * n * under)
    found = All(counts)
    cp = cp_model.CpSolver()
    cp.parameters.enumerate_all_solutions = True
    cp.parameters.num_workers = 1
    status = cp.solve(model, found)
    assert status in (cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.INFEASIBLE), cp.status_name(status)
    return sorted(found.found)


def timed(what, puzzle):
    started = time.perf_counter()
    return what(puzzle), round(time.perf_counter() - started, 4)


for line in sys.stdin:
    puzzle = json.loads(line)
    tried, tried_s = timed(every, puzzle)
    solved, solver_s = timed(solver, puzzle)
    print(json.dumps({"tried": tried, "tried_s": tried_s, "solver": solved, "solver_s": solver_s}), flush=True)
