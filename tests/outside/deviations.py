"""Deviations of frequency statistics by a library: questions {phase, step, m, which} in, values out, as JSON."""

import json
import sys
import warnings

import allantools
import numpy as np

warnings.filterwarnings("ignore")

NAMES = {
    "allan": allantools.adev,
    "overlapping_allan": allantools.oadev,
    "modified_allan": allantools.mdev,
    "time": allantools.tdev,
    "hadamard": allantools.hdev,
    "overlapping_hadamard": allantools.ohdev,
    "total": allantools.totdev,
}


def main():
    answers = []
    for q in json.loads(sys.stdin.readline()):
        phase = np.array(q["phase"])
        tau = q["m"] * q["step"]
        _, values, _, _ = NAMES[q["which"]](phase, rate=1.0 / q["step"], data_type="phase", taus=[tau])
        answers.append(float(values[0]) if len(values) else None)
    json.dump(answers, sys.stdout)


main()
