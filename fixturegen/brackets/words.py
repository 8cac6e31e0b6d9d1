"""What the weld list and the hardware list say of every bracket with a joint."""

from __future__ import annotations

from fixturegen.brackets.ears import needed_joint
from fixturegen.parts.holes import decimal
from fixturegen.studies.bracket_records import Mount

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
    grip = f"grip {decimal(mount.inside + 2.0 * mount.thickness)}: the shank must reach through both ears"
    return (
        (f"bolt {joint.bolt}, {joint.grade}, shank {decimal(joint.shank)}", grip, 1, mount.label),
        (f"lock nut {joint.bolt}", "", 1, mount.label),
        (f"washer {joint.bolt}, hardened", "", 2, mount.label),
    )


def ends_of(mount: Mount) -> tuple[str, str]:
    """What the ears at the bolt's beginning and at its end are called: right and left, or rear and front."""
    x, y, z = (abs(c) for c in mount.bolt)
    if z > max(x, y):
        return ("lower", "upper") if mount.bolt[2] > 0.0 else ("upper", "lower")
    if x > y:
        return ("rear", "front") if mount.bolt[0] > 0.0 else ("front", "rear")
    return "right", "left"
