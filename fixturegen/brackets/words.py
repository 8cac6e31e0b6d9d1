"""What the weld list and the hardware list say of every bracket with a joint."""

from __future__ import annotations

from fixturegen.brackets.ears import needed_joint
from fixturegen.parts.holes import decimal, fraction
from fixturegen.sheet.threads import thread_diameter
from fixturegen.studies.bracket_records import Mount

WASHER = 4.5  # [mm] thickest hardened washer, under the head (ASTM F436: 0.177 in, from memory)

Hardware = tuple[tuple[str, str, int, str], ...]


def weld_words(mount: Mount) -> str:
    """How an ear is welded to what it stands on."""
    return (
        f"outside edge along the {mount.base.words}, turned round both feet; start and stop away from the corners, "
        f"root gap {decimal(float(mount.spec.gap))}, never over 1/16 in"
    )


def bolt_hardware(mount: Mount) -> Hardware:
    """The bolt of the joint, its nut and its washers."""
    joint = needed_joint(mount)
    grip = f"{bolt_length(joint.bolt, mount.inside + 2.0 * mount.thickness)} must reach through both ears"
    return (
        (f"bolt {joint.bolt}, {joint.grade}, shank {decimal(joint.shank)}", grip, 1, mount.label),
        (f"lock nut {joint.bolt}", "", 1, mount.label),
        (f"washer {joint.bolt}, hardened", "", 2, mount.label),
    )


def bolt_length(bolt: str, grip: float) -> str:
    """The bolt to buy in words: its grip [mm], and the least length whose plain shank comes through it.

    Args:
        bolt: Its thread, inch or metric.
        grip: What it holds together, washer under the head left out [mm].

    Source: length of thread of hexagon bolts, ASME B18.2.1 (2 D + 1/4 in, over 6 in long 2 D + 1/2 in) and ISO 4014
    (2 d + 6 mm, over 125 mm long 2 d + 12 mm), from memory.
    """
    metric, diameter = bolt.startswith("M"), thread_diameter(bolt)
    step, turn, short, long = (5.0, 125.0, 6.0, 12.0) if metric else (6.35, 152.4, 6.35, 12.7)
    length = step
    while length - 2.0 * diameter - (short if length <= turn else long) < grip + WASHER:
        length += step
    told = f"{length:.0f} mm" if metric else fraction(length)
    return f"grip {decimal(grip)}, so {told} under the head: the plain shank"


def ends_of(mount: Mount) -> tuple[str, str]:
    """What the ears at the bolt's beginning and at its end are called: right and left, or rear and front."""
    x, y, z = (abs(c) for c in mount.bolt)
    if z > max(x, y):
        return ("lower", "upper") if mount.bolt[2] > 0.0 else ("upper", "lower")
    if x > y:
        return ("rear", "front") if mount.bolt[0] > 0.0 else ("front", "rear")
    return "right", "left"
