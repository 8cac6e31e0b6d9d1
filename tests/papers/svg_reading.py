"""Pictures read back as a person reads them: by ticks, scale bars and names, without the code that drew them."""

import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass

import numpy as np


def elements(svg, tag):
    return [e for e in ET.fromstring(svg).iter() if e.tag.rpartition("}")[2] == tag]


def texts(svg):
    return [e.text or "" for e in elements(svg, "text")]


def paths(svg, kind):
    """The `d` of every path of a class, in order."""
    return [e.get("d") for e in elements(svg, "path") if (e.get("class") or "") == kind]


def corners(d):
    """Points of a path of straight lines between absolute places, shape (k, 2)."""
    return np.array([[float(v) for v in p.split()] for p in re.split("[ML]", d) if p])


def _number(text):
    return float(text.split(" ")[0])


@dataclass
class Graph:
    """Curves in the values of the ticks: name to points of shape (k, 2), pieces in a row; marks as (x, y).

    `ride` is where the upright line stands, `frame` the left, right, lower and upper edge.
    """

    curves: dict
    stops: list
    xs: list
    ys: list
    ride: float
    frame: tuple


def graph(svg):
    """A plot read by a straight edge from two of its ticks on each axis."""
    words = elements(svg, "text")
    # numbers left of the frame end at one x; numbers under it stand on the highest row of middle anchors below
    left = [e for e in words if e.get("text-anchor") == "end" and re.match(r"^-?[0-9.]+( \(|$)", e.text)]
    under = [e for e in words if e.get("text-anchor") == "middle" and re.match(r"^-?[0-9.]+$", e.text)]
    grid = sorted(
        float(re.match(r"M[0-9.]+ ([0-9.]+)H", e.get("d")).group(1))
        for e in elements(svg, "path")
        if e.get("class") in ("grid", "zero")
    )
    rows = sorted((float(e.get("y")), _number(e.text)) for e in left)
    assert len(grid) == len(rows) >= 3
    y = np.polyfit(grid, [v for _, v in rows], 1)
    x = np.polyfit([float(e.get("x")) for e in under], [_number(e.text) for e in under], 1)
    assert y[0] < 0.0 < x[0], "up and right are not more"
    curves: dict = {}
    for path in elements(svg, "path"):
        if path.get("class") == "curve":
            name = path[0].text
            p = corners(path.get("d"))
            curves.setdefault(name, []).append(np.stack([np.polyval(x, p[:, 0]), np.polyval(y, p[:, 1])], axis=1))
    stops = [
        (np.polyval(x, a + 6.0), np.polyval(y, b + 6.0))
        for a, b in (tuple(map(float, re.match(r"M([0-9.-]+) ([0-9.-]+)", d).groups())) for d in paths(svg, "stop"))
    ]
    (upright,) = (float(re.match(r"M([0-9.]+) ", d).group(1)) for d in paths(svg, "ride"))
    rims = (re.fullmatch(r"M([0-9.]+) ([0-9.]+)H([0-9.]+)V([0-9.]+)H\1Z", e.get("d")) for e in elements(svg, "path"))
    left_rim, top, right_rim, low = (float(v) for v in next(m for m in rims if m).groups())
    frame = (np.polyval(x, left_rim), np.polyval(x, right_rim), np.polyval(y, low), np.polyval(y, top))
    ticks = sorted(_number(e.text) for e in under)
    return Graph(curves, stops, ticks, [v for _, v in rows], float(np.polyval(x, upright)), frame)


def scale(svg):
    """Millimetres of the truck in a picture point, from the scale bar alone."""
    (bar,) = paths(svg, "bar")
    wide = float(re.search(r"h([0-9.]+)", bar).group(1))
    return 304.8 / wide if any(t == "12 in (304.8 mm)" for t in texts(svg)) else 300.0 / wide


def boxes(svg, letter=0.5):
    """Left, top, right, bottom of each word; `letter`: width of a letter over its height."""
    found = []
    for e in elements(svg, "text"):
        size, x, y = (float(e.get(k)) for k in ("font-size", "x", "y"))
        wide = letter * size * len(e.text)
        left = x - {"start": 0.0, "middle": wide / 2.0, "end": wide}[e.get("text-anchor") or "start"]
        found.append((left, y - 0.72 * size, left + wide, y, e.text))
    return found
