"""A bracket of two tabs across a tube, as the tests of its strength take it; sizes in inches, loads in pounds-force."""

from dataclasses import replace

from fixturegen.studies.bracket_case import BracketCase
from fixturegen.studies.strength_records import bolt_of, steel_of
from fixturegen.studies.weld_lines import WeldLine

INCH = 25.4
LBF = 4.4482216152605
KIP = 1000 * LBF
KSI = 6.894757293168


def tab_welds(z, thickness=0.25, root=3.0, height=2.5, leg=0.25, wall=0.25):
    """Both sides of one tab's root, straight, in the bracket's frame."""
    half, y = root / 2, -height
    return tuple(
        WeldLine(
            (-half * INCH, y * INCH, (z + s * thickness / 2) * INCH),
            (half * INCH, y * INCH, (z + s * thickness / 2) * INCH),
            leg * INCH,
            thickness * INCH,
            wall * INCH,
            name=f"root, side {s:+d} of tab at {z:+.2f} in",
        )
        for s in (-1, 1)
    )


def bracket(force=(0.0, 0.0, 0.0), joint=2.625, gap=0.02, bolt="3/4-10", **changes):
    """An invented lower link bracket: 1/4 in tabs, 2.5 in tall, on a 3.5 x 0.25 tube; force in lbf."""
    thickness = changes.pop("thickness_in", 0.25)
    z = (joint + gap + thickness) / 2
    given = {
        "force": tuple(f * LBF for f in force),
        "joint_width": joint * INCH,
        "gap": gap * INCH,
        "bolt": bolt_of(bolt, "grade-8"),
        "tab": steel_of("a36"),
        "thickness": thickness * INCH,
        "hole": (float(bolt_of(bolt, "grade-8").diameter) / INCH + 1 / 32) * INCH,
        "edge": 1.25 * INCH,
        "width": 2.5 * INCH,
        "root_width": 3.0 * INCH,
        "height": 2.5 * INCH,
        "welds": (*tab_welds(z, thickness), *tab_welds(-z, thickness)),
        "tube": steel_of("dom-1020"),
        "tube_radius": 1.75 * INCH,
        "tube_wall": 0.25 * INCH,
    }
    return BracketCase(**{**given, **changes})


def changed(case, **changes):
    """The same bracket with other values."""
    return replace(case, **changes)
