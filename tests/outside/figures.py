"""Figures against the Nu checker, an XML parser, and svgpathtools.

Every figure of the catalog for every kind of body, each frame alone, and every instant of one movement in five:

* the Nu checker (the W3C's own, `vnu-jar`) finds nothing: elements, attributes and where they may stand, path data, roles;
* the standard library's XML parser finds only what a figure is made of: no script, style, identifier or reference to
  anything, no number that is none, colours as colours;
* svgpathtools works out where every curve runs, its bends included, and all of it is inside the viewBox.

Then each of these is given a figure with a fault, and must find it.
"""

import json
import math
import os
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET
from pathlib import Path

from svgpathtools import parse_path

ROOT = Path(__file__).resolve().parents[2]
LAYFIGURE = os.environ.get("LAYFIGURE", str(ROOT / "target/debug/layfigure"))
VNU = Path(__file__).parent / "node_modules/vnu-jar/build/dist/vnu.jar"
SVG = "{http://www.w3.org/2000/svg}"

PAINT = {"fill", "stroke", "stroke-width"}
BOX = {"x", "y", "width", "height"}
# What a figure is made of, and what each element may carry. `xmlns` is no attribute to the parser.
MAY = {
    "svg": {"viewBox", "role", "stroke-linejoin", "stroke-linecap", "paint-order"} | BOX | PAINT,
    "title": set(),
    "path": {"d"} | PAINT,
    "rect": {"rx"} | BOX | PAINT,
    "g": {"font-family", "font-weight", "text-anchor"} | PAINT,
    "text": {"x", "y", "font-size"} | PAINT,
}
NUMBERS = {"stroke-width", "x", "y", "width", "height", "rx", "font-size"}
# With four or eight digits the last say how much of it shows.
COLOUR = re.compile(r"none|#([0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})")
# Numbers are whole, so a bend may stand out by the half that rounding takes from either end.
SLACK = 1.0
# An instant is shown in a row of its own kind only; one movement in five is looked at.
EVERY = 5

passed = failed = 0


def check(what, good, detail=""):
    global passed, failed
    if good:
        passed += 1
    else:
        failed += 1
        print(f"FAILED: {what} {detail}")


def number(text):
    try:
        return float(text)
    except (TypeError, ValueError):
        return math.nan


def faults(svg):
    """What the parser and the curves say of one SVG; empty if all is well."""
    try:
        root = ET.fromstring(svg)
    except ET.ParseError as fault:
        return [f"no XML: {fault}"]
    said = []
    view = [number(n) for n in root.get("viewBox", "").split()]
    if len(view) != 4 or not all(map(math.isfinite, view)) or view[:2] != [0, 0] or min(view[2:]) <= 0:
        return [f"viewBox {root.get('viewBox')}"]
    width, height = view[2:]

    def inside(left, top, right, bottom, what):
        edges = [left, top, right, bottom]
        good = all(map(math.isfinite, edges))
        good = good and -SLACK <= min(left, top) and right <= width + SLACK and bottom <= height + SLACK
        if not good:
            said.append(f"{what} at {edges} is outside {width} x {height}")

    # A detail is an SVG within, which shows nothing beyond its own box.
    details = [element for element in root.iter(f"{SVG}svg") if element is not root]
    clipped = {path for detail in details for path in detail.iter(f"{SVG}path")}
    titles = 0
    for element in root.iter():
        name = element.tag.removeprefix(SVG) if isinstance(element.tag, str) else str(element.tag)
        if name not in MAY or not element.tag.startswith(SVG):
            said.append(f"element {name}")
            continue
        titles += name == "title"
        for key, value in element.attrib.items():
            if key not in MAY[name]:
                said.append(f"attribute {key} of {name}")
            elif key in NUMBERS and not math.isfinite(number(value)):
                said.append(f"{key} is {value}")
            elif key in ("fill", "stroke") and not COLOUR.fullmatch(value):
                said.append(f"{key} is {value}")
        if name == "path":
            try:
                left, right, top, bottom = parse_path(element.get("d", "")).bbox()
                if element in clipped:
                    left, right, top, bottom = max(left, 0), min(right, width), max(top, 0), min(bottom, height)
                inside(left, top, right, bottom, "a path")
            except Exception as fault:  # Whatever the parser stumbles over is a fault of ours.
                said.append(f"path data: {fault}")
        if name in ("rect", "svg") and element is not root:
            x, y, wide, high = (number(element.get(side)) for side in ("x", "y", "width", "height"))
            inside(x, y, x + wide, y + high, f"a {name}")
        if name == "text":
            x, y = number(element.get("x")), number(element.get("y"))
            inside(x, y, x, y, "a text")
    if titles != 1 or not (root.findtext(f"{SVG}title") or "").strip():
        said.append(f"{titles} titles, or an empty one")
    return said


def nu(folder):
    """What the Nu checker says of each file."""
    files = sorted(str(path) for path in folder.glob("*.svg"))
    words = ["java", "-jar", str(VNU), "--svg", "--format", "json", "--stdout", "--exit-zero-always", *files]
    answer = subprocess.run(words, capture_output=True, text=True, check=False)
    if answer.returncode != 0:
        sys.exit(f"The Nu checker did not run: {answer.stderr[:500]}")
    found = {Path(name).stem: [] for name in files}
    for message in json.loads(answer.stdout)["messages"]:
        found[Path(message["url"].removeprefix("file:")).stem].append(message["message"])
    return found


def planted(svg):
    """The same figure with one fault each, and who must find it."""
    return {
        "path-data": (svg.replace(' d="M', ' d="MM', 1), "nu"),
        "attribute": (svg.replace("<path ", '<path colour="red" ', 1), "nu"),
        "element": (svg.replace("</title>", "</title><limb/>", 1), "nu"),
        "role": (svg.replace('role="img"', 'role="picture"', 1), "nu"),
        "cut": (svg.replace("</svg>", ""), "nu"),
        "script": (svg.replace("</title>", "</title><script>1</script>", 1), "own"),
        "reference": (svg.replace("</title>", '</title><image href="a.png"/>', 1), "own"),
        "identifier": (svg.replace("<path ", '<path id="a" ', 1), "own"),
        "style": (svg.replace("<path ", '<path style="fill:red" ', 1), "own"),
        "number": (re.sub(r'stroke-width="\d+"', 'stroke-width="NaN"', svg, count=1), "own"),
        "colour": (re.sub(r'fill="#\w+"', 'fill="#23"', svg, count=1), "own"),
        "outside": (re.sub(r' d="M\d+', ' d="M-40', svg, count=1), "own"),
        "bend": (svg.replace("</svg>", '<path d="M9 9q-40 20 0 40"/></svg>'), "own"),
    }


def main():
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        words = [LAYFIGURE, "figures", "--out", str(folder), "--bodies", "--apart"]
        subprocess.run(words, check=True, capture_output=True)
        names = sorted({path.stem.split("-instant-")[0] for path in folder.glob("*-instant-*.svg")})
        for name in (name for i, name in enumerate(names) if i % EVERY):
            for path in folder.glob(f"{name}-instant-*.svg"):
                path.unlink()
        svgs = {path.stem: path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.svg"))}
        kinds = {kind: sum(kind in name for name in svgs) for kind in ("-instant-", "-frame-", "-child-")}
        print(f"{len(svgs)} figures, of these {kinds}")
        check("every sort of figure is there", 200 < len(svgs) and all(40 <= count for count in kinds.values()), kinds)
        for name, said in nu(folder).items():
            check(f"the Nu checker on {name}", not said, said[:3])
        for name, svg in svgs.items():
            said = faults(svg)
            check(f"parser and curves on {name}", not said, said[:3])

        faulty = Path(made) / "faulty"
        faulty.mkdir()
        plants = planted(next(iter(svgs.values())))
        for what, (svg, _) in plants.items():
            check(f"a fault was made: {what}", svg not in svgs.values())
            (faulty / f"{what}.svg").write_text(svg, encoding="utf-8")
        found = nu(faulty)
        for what, (svg, who) in plants.items():
            check(f"a fault is found: {what}", found[what] if who == "nu" else faults(svg))
    print(f"{passed} passed, {failed} failed")
    sys.exit(failed != 0)


main()
