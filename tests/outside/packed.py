"""Packs a WAV file with a general-purpose library: a path and a list of [name, form, subform, channels] in, the paths of what was
written beside it out, as JSON."""

import json
import sys
from pathlib import Path

import numpy as np
import soundfile


def main():
    asked = json.loads(sys.stdin.readline())
    path = Path(asked["wav"])
    sound, rate = soundfile.read(path, dtype="float32")
    written = []
    for name, form, subform, channels in asked["forms"]:
        # On the second of two channels it is half as loud.
        sides = [sound, 0.5 * sound][:channels]
        to = path.with_name(name)
        soundfile.write(to, np.stack(sides, axis=1), rate, format=form, subtype=subform)
        written.append(str(to))
    json.dump(written, sys.stdout)


main()
