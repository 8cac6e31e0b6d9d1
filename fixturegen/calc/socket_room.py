"""Room a socket wants round and above a bolt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from fixturegen.calc._answer import Answer
from fixturegen.findings import Trust
from fixturegen.sources import cite
from fixturegen.units import Length


@dataclass(frozen=True, kw_only=True)
class SocketRoom(Answer):
    """Free radius round the bolt's middle, and free height above what it clamps."""

    radius: Annotated[float, Length("0 in", "5 in")]
    height: Annotated[float, Length("0 in", "30 in")]


def socket_room(
    socket: Annotated[float, Length("1/4 in", "6 in")],
    length: Annotated[float, Length("1/2 in", "12 in")],
    head: Annotated[float, Length("1/32 in", "4 in")],
    ratchet: Annotated[float, Length("1/4 in", "6 in")] = 31.75,
    play: Annotated[float, Length("0 in", "1/2 in")] = 1.0,
) -> SocketRoom:
    """Room round and above a bolt, to put a socket on its head and draw it out.

    Args:
        socket: Outside diameter of the socket, measured at its thickest within the height [mm].
        length: Of the socket [mm].
        head: Height of the bolt's head above what it clamps, washer included [mm].
        ratchet: Height of the ratchet's head above the socket; 1 1/4 in is usual, common practice [mm].
        play: All round the socket; 1 mm lets it go on by hand, common practice [mm].

    Returns:
        Least distance from the bolt's middle to steel [mm]; least height above what is clamped [mm].

    Formula: radius = socket / 2 + play, height = head + length + ratchet.
    Holds: for a straight pull off the head: the socket stands on what is clamped and comes off over the head.
    Source: geometry, a cylinder on a cylinder; practice, play and ratchet.
    Example: --socket "0.820 in" --length "1 1/8 in" --head "0.300 in" --ratchet "1 1/4 in" --play "0.040 in"
    """
    return SocketRoom(
        radius=socket / 2 + play,
        height=head + length + ratchet,
        formula="radius = socket / 2 + play; height = head + length + ratchet",
        source=f"{cite('geometry', 'a cylinder on a cylinder')}; {cite('practice')}",
        trust=Trust.PRACTICE,
        warnings=(
            "sockets differ by maker, impact sockets are thicker: measure yours",
            "the handle needs a swing of one click of the ratchet, some 5 deg, as well",
        ),
    )
