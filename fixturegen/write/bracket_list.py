"""lists/brackets.csv: where each bracket's hole and each line to scribe lie."""

from __future__ import annotations

from collections.abc import Iterable

from fixturegen.studies.bracket_places import BracketPlace
from fixturegen.write.lists import Row, csv_bytes, inch


def bracket_list(places: Iterable[BracketPlace]) -> bytes:
    """A row for each hole and for each point of a line to scribe; inches and millimetres side by side."""
    head = (
        "bracket",
        "hand",
        "welded_to",
        "what",
        "point",
        "from_centreline_in",
        "from_centreline_mm",
        "side",
        "from_left_wms_in",
        "from_left_wms_mm",
        "from_right_wms_in",
        "from_right_wms_mm",
        "clock_deg",
        "arc_in",
        "arc_mm",
        "chord_in",
        "chord_mm",
        "ahead_in",
        "ahead_mm",
        "above_in",
        "above_mm",
        "frame",
    )  # fmt: skip - the columns in reading order
    rows: list[Row] = []
    for p in places:
        first = (p.mount.name, p.mount.hand or "", p.mount.base.words)
        wms = (*_both(p.from_left), *_both(p.from_right))
        clock = "" if p.clock is None else round(p.clock, 2)
        where = "axle" if p.on_axle else "vehicle"
        station = (*_both(abs(p.station)), _side(p.station))
        blank = ("", "", "", "")
        rows.append((*first, "hole", "middle", *station, *wms, clock, *blank, *_both(p.forward), *_both(p.up), where))
        for line in p.lines:
            for q in line.points:
                turn = q.round
                on = blank if turn is None else (*_both(turn.arc), *_both(turn.chord))
                rows.append(
                    (
                        *first,
                        f"scribe {line.part}",
                        q.name,
                        *_both(abs(q.station)),
                        _side(q.station),
                        *_both(q.from_left),
                        *_both(q.from_right),
                        "" if turn is None else round(turn.clock, 2),
                        *on,
                        *_both(q.forward),
                        *_both(q.point[2]),
                        "axle",
                    )
                )  # fmt: skip - the columns in reading order
    return csv_bytes(head, rows)


def _both(value: float | None) -> tuple[float | str, float | str]:
    return ("", "") if value is None else (inch(value), round(value, 2))


def _side(station: float) -> str:
    return "left" if station > 0.0 else "right" if station < 0.0 else "middle"
