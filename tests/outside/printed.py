"""Measures printed pages: a question is a line of JSON that names a file with a PDF in base64, an answer the sizes of all
that is drawn in it, in millimetres, by pdfplumber. <https://github.com/jsvine/pdfplumber>"""

import base64
import io
import json
import sys

import pdfplumber

MM = 25.4 / 72

for line in sys.stdin:
    with open(json.loads(line)["file"], encoding="ascii") as file:
        pdf = pdfplumber.open(io.BytesIO(base64.b64decode(file.read())))
    pages = []
    for page in pdf.pages:
        drawn = [
            {
                "kind": thing["object_type"],
                "left": thing["x0"] * MM,
                "top": thing["top"] * MM,
                "right": thing["x1"] * MM,
                "bottom": thing["bottom"] * MM,
            }
            for thing in page.rects + page.curves + page.lines + page.images + page.chars
        ]
        pages.append({"wide": float(page.width) * MM, "high": float(page.height) * MM, "drawn": drawn, "text": page.extract_text()})
    print(json.dumps({"pages": pages}), flush=True)
