"""Tools for a bolt or a plug: socket, ratchet, wrench, and the room each wants."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from fixturegen.axle.frames import Array, as_point
from fixturegen.axle.model import Point
from fixturegen.calc.socket_room import socket_room
from fixturegen.sheet.specs import Access
from fixturegen.sheet.threads import thread_diameter
from fixturegen.stock import Head, Ratchet, Socket, entry, table
from fixturegen.studies.access_records import Rod, Swing, Try

INCH = 25.4
HEX = 1.5
"""[1] width across flats over the thread, where the table has no such thread; common practice."""
CORNERS = 2.0 / 3.0**0.5
"""[1] width across corners over width across flats of a hexagon (geometry)."""
NUT = 0.875
"""[1] height of a full nut over its thread; Source: ASME B18.2.2 from memory, 7/8 of the nominal size."""
HEAD = 0.67
"""[1] height of a bolt head over its thread; Source: ASME B18.2.1 from memory, some 2/3."""
CLICK = 30.0  # deg, a swing that turns a bolt without tearing at it: several clicks of any ratchet [cp]
FLIP = 30.0  # deg, an open-end wrench of 15 deg turned over each time (geometry)
WRENCH_HEAD = (2.1, 7.0)
"""Width of an open end [mm] = 2.1 s + 7; Source: ISO 3318 from memory, its largest widths of heads."""
WRENCH_THICK = (0.4, 3.0)  # thickness of an open end [mm] over its width across flats [cp]
WRENCH_LONG = 11.0  # [1] length of a wrench over its width across flats [cp]
OFF = 0.5  # mm over what is clamped where the room of a tool begins, so that it does not touch that


@dataclass(frozen=True)
class Tool:
    """A socket with its ratchet.

    Attributes:
        socket: Outside [mm].
        length: Of the socket [mm].
        ratchet: Head, handle and extension bar of its square.
        source: Where the sizes come from, in words.
    """

    socket: float
    length: float
    ratchet: Ratchet
    source: str


def across_flats(thread: str) -> float:
    """Width across the flats of a bolt or nut [mm]: by the table of heads, else 1 1/2 times its thread."""
    found = table("heads").entries.get(thread.replace(" ", ""))
    return float(found.across_flats) if isinstance(found, Head) else HEX * thread_diameter(thread)


def tool_for(flats: float, given: Access | None = None) -> Tool:
    """The smallest socket on file that takes a hex, and its ratchet; what the sheet measured goes before.

    Args:
        flats: Width across flats [mm].
        given: [access] of the sheet.
    """
    sockets = sorted((s for s in table("sockets").entries.values() if isinstance(s, Socket)), key=_flats)
    # a hex and its socket are named alike: a hair of rounding between inch and mm is no other size
    fitting = next((s for s in sockets if s.across_flats > flats - 0.1), sockets[-1])
    outside, length, source = float(fitting.outside), float(fitting.length), "table sockets, common practice, no source"
    if given is not None and given.socket is not None:
        outside, source = float(given.socket), "measured"
    if given is not None and given.socket_length is not None:
        length = float(given.socket_length)
    return Tool(outside, length, entry("ratchets", fitting.square, Ratchet), source)


def tool_of_outside(outside: float) -> Tool:
    """The socket on file nearest to an outside diameter [mm], with that diameter."""
    sockets = [s for s in table("sockets").entries.values() if isinstance(s, Socket)]
    near = min(sockets, key=lambda s: (abs(s.outside - outside), s.across_flats))
    return Tool(outside, float(near.length), entry("ratchets", near.square, Ratchet), "the sheet's")


def flats_of_outside(outside: float) -> float:
    """Width across flats of what a socket of an outside diameter fits [mm], by the table."""
    sockets = [s for s in table("sockets").entries.values() if isinstance(s, Socket)]
    return float(min(sockets, key=lambda s: (abs(s.outside - outside), s.across_flats)).across_flats)


def _flats(socket: Socket) -> float:
    return float(socket.across_flats)


def socket_try(foot: Array, way: Array, head: float, tool: Tool, extension: float = 0.0, words: str = "") -> Try:
    """Room of a socket on a hex that comes off over it, its ratchet, and the swing of the handle.

    Args:
        foot: Middle of the bolt on what it clamps (3,) [mm].
        way: Unit direction away from it (3,).
        head: What the socket comes off over: head, or nut and stud [mm].
        tool: Socket and ratchet.
        extension: Bar between the two [mm]; 0 for none.
        words: How the sheet has the bar.
    """
    r = tool.ratchet
    room = socket_room(tool.socket, tool.length, max(head, 1.0), float(r.head))
    low = tool.length + extension
    rods = [Rod(_at(foot, way, OFF), _at(foot, way, head + tool.length), tool.socket)]
    if extension > 0.0:
        rods.append(Rod(_at(foot, way, tool.length), _at(foot, way, head + low), float(r.extension)))
    rods.append(Rod(_at(foot, way, low), _at(foot, way, room.height + extension), float(r.width)))
    swing = Swing(_at(foot, way, low), as_point(way), float(r.thickness), float(r.handle), CLICK, float(r.thickness))
    with_what = f"with socket, extension of {words} and ratchet" if extension else "with socket and ratchet"
    return Try(with_what, tuple(rods), swing)


def wrench_try(foot: Array, way: Array, head: float, flats: float) -> Try:
    """Room of an open-end wrench on a hex, and its swing, turned over each time.

    Args:
        foot: Middle of the hex on what it stands on (3,) [mm].
        way: Unit direction away from it (3,).
        head: Height of the hex [mm].
        flats: Its width across flats [mm].
    """
    wide = WRENCH_HEAD[0] * flats + WRENCH_HEAD[1]
    thick = min(head, WRENCH_THICK[0] * flats + WRENCH_THICK[1])
    low = max(OFF, head - thick)
    rods = (Rod(_at(foot, way, low), _at(foot, way, low + thick), wide),)
    swing = Swing(_at(foot, way, low), as_point(way), thick, WRENCH_LONG * flats, FLIP, 0.5 * wide)
    return Try("no socket goes on, an open-end wrench does", rods, swing, second=True)


def _at(foot: Array, way: Array, height: float) -> Point:
    return as_point(np.asarray(foot) + np.asarray(way) * height)
