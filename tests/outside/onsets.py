"""Onsets by two general-purpose libraries with their default settings: a list of paths in, for each library and path a list of
seconds out, as JSON."""

import json
import sys
import warnings

import aubio
import librosa
import numpy as np

warnings.filterwarnings("ignore")


def by_librosa(sound, rate):
    return librosa.onset.onset_detect(y=sound, sr=rate, units="time").tolist()


def by_aubio(sound, rate):
    hop = 512
    detector = aubio.onset("default", 1024, hop, rate)
    found = []
    for at in range(0, len(sound) - hop + 1, hop):
        if detector(sound[at : at + hop].astype(np.float32)):
            found.append(float(detector.get_last_s()))
    return found


def main():
    paths = json.loads(sys.stdin.readline())
    answers = {"librosa": {}, "aubio": {}}
    for path in paths:
        sound, rate = librosa.load(path, sr=None, mono=True)
        answers["librosa"][path] = by_librosa(sound, rate)
        answers["aubio"][path] = by_aubio(sound, rate)
    json.dump(answers, sys.stdout)


main()
