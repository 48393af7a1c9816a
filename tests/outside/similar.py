"""Similarities of two planes by a library: each question a list of [x, y, u, v] a line, and the answer the numbers a, b, c, d of
u = a x - b y + c, v = b x + a y + d, in least squares."""

import json
import sys

import numpy as np


def main():
    for line in sys.stdin:
        points = np.array(json.loads(line), dtype=float)
        x, y, u, v = points.T
        one, none = np.ones_like(x), np.zeros_like(x)
        rows = np.concatenate([np.stack([x, -y, one, none], axis=1), np.stack([y, x, none, one], axis=1)])
        numbers, *_ = np.linalg.lstsq(rows, np.concatenate([u, v]), rcond=None)
        print(json.dumps(numbers.tolist()), flush=True)


main()
