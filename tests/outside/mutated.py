"""Makes the samples that `crates/cli/tests/mutated` spoils: `python mutated.py FOLDER`, with what `requirements.txt` names.
A drawn gradient in the picture forms that the tests cannot write themselves, and six seconds of a made-up clock packed."""

import sys
from pathlib import Path

import numpy
import soundfile
from PIL import Image

folder = Path(sys.argv[1])

wide, high = 40, 24
drawn = Image.new("RGB", (wide, high))
drawn.putdata([(255 * x // wide, 255 * y // high, (x * y) % 97) for y in range(high) for x in range(wide)])
clear = drawn.convert("RGBA")
clear.putalpha(Image.linear_gradient("L").resize((wide, high)))
drawn.save(folder / "progressive.jpg", progressive=True, quality=80)
drawn.convert("CMYK").save(folder / "four_colours.jpg", quality=80)
drawn.save(folder / "planes.webp", quality=60)
clear.save(folder / "clear_planes.webp", quality=60)
drawn.save(folder / "moving.webp", save_all=True, append_images=[drawn.rotate(180)], duration=100, quality=60)
drawn.convert("P").save(folder / "palette.png")

rate, seconds = 16_000, 6
dice = numpy.random.default_rng(7)
sound = 0.002 * dice.standard_normal(rate * seconds)
ringing = numpy.arange(400) / rate
tick = numpy.exp(-ringing / 0.0025) * numpy.sin(2 * numpy.pi * 2300 * ringing)
for n in range(2 * seconds - 1):
    at = int((0.3 + 0.5 * n + 0.006 * (n % 2)) * rate)
    sound[at : at + 400] += 0.5 * tick
for name, form, coding in [("ticking.flac", "FLAC", "PCM_16"), ("ticking.ogg", "OGG", "VORBIS"), ("ticking.mp3", "MP3", "MPEG_LAYER_III")]:
    soundfile.write(folder / name, sound, rate, coding, format=form)
soundfile.write(folder / "two.mp3", numpy.stack([sound, -sound], axis=1)[: 2 * rate], 44_100, "MPEG_LAYER_III", format="MP3")
