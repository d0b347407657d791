"""Read an emitted drawing back: elements, paths, text boxes, view box."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from itertools import pairwise
from xml.etree import ElementTree

from witnessmark.calc.drawing.letters import text_size
from witnessmark.calc.drawing.plane import Box, Point, polar

SVG = "{http://www.w3.org/2000/svg}"


@dataclass(frozen=True)
class Written:
    """A text as it stands: its lines, the box its letters may take, its anchor."""

    text: str
    box: Box


def tree(svg: str) -> ElementTree.Element:
    """Return the drawing as XML, which must parse."""
    return ElementTree.fromstring(svg)


def group(svg: str, name: str) -> list[ElementTree.Element]:
    """Return the shapes of the groups that carry a class."""
    return [
        shape
        for found in tree(svg).iter(f"{SVG}g")
        if name in found.get("class", "").split()
        for shape in found
    ]


def view_box(svg: str) -> tuple[float, float, float, float]:
    """Return left, top, right, bottom of the view box."""
    left, top, width, height = (float(v) for v in tree(svg).get("viewBox", "").split())
    return left, top, left + width, top + height


def path_runs(data: str) -> list[list[Point]]:
    """Return the end points of each run of a path (arcs by their ends)."""
    runs: list[list[Point]] = []
    for command, body in re.findall(r"([MLAZ])([^MLAZ]*)", data):
        numbers = [float(v) for v in body.split()]
        if command == "M":
            runs.append([(numbers[0], numbers[1])])
        elif command in "LA":
            runs[-1].append((numbers[-2], numbers[-1]))
    return runs


def texts(svg: str) -> list[Written]:
    """Return every text with the box its letters take by the table of widths."""
    found: list[Written] = []
    for element in tree(svg).iter(f"{SVG}text"):
        lines = ["".join(span.itertext()) for span in element.findall(f"{SVG}tspan")]
        text = "\n".join(lines) or (element.text or "")
        size = float(element.get("font-size", "12"))
        width, height = text_size(text, size, strong=element.get("font-weight") == "600")
        x, y = float(element.get("x", "")), float(element.get("y", "")) - 0.36 * size
        y += (height - size) / 2
        x += {"start": width / 2, "end": -width / 2}.get(element.get("text-anchor", ""), 0.0)
        turned = re.fullmatch(r"rotate\((\S+) (\S+) (\S+)\)", element.get("transform", ""))
        found.append(Written(text, Box(x, y, width, height, float(turned[1]) if turned else 0.0)))
    return found


def drawn_points(svg: str) -> list[Point]:
    """Return points that bound every shape and text of the drawing."""
    points: list[Point] = []
    for element in tree(svg).iter():
        if element.tag == f"{SVG}path":
            points += [p for run in path_runs(element.get("d", "")) for p in run]
        elif element.tag == f"{SVG}circle":
            centre = float(element.get("cx", "")), float(element.get("cy", ""))
            points += [
                polar(centre, float(element.get("r", "")), turn) for turn in (0, 90, 180, 270)
            ]
    for written in texts(svg):
        points += written.box.corners()
    return points


def overlapping(svg: str) -> list[tuple[str, str]]:
    """Return the pairs of texts whose boxes lie over each other."""
    found = texts(svg)
    return [
        (a.text, b.text)
        for number, a in enumerate(found)
        for b in found[number + 1 :]
        if a.box.overlaps(b.box)
    ]


def longest_stretch(points: list[Point]) -> float:
    """Return the greatest distance between neighbouring points of a run."""
    return max(math.dist(a, b) for a, b in pairwise(points))
