"""The gauges of the job as tools of a reading: what is made for it is named, with its part."""

from __future__ import annotations

from fixturegen.gauges.registry import STORE, GaugeSet
from fixturegen.pages.documents import Contents
from fixturegen.studies.gauge_records import Gauge

SHORT = {
    "hole-bar": "hole-to-hole bar",
    "clock": "clock template",
    "saddle": "scribing saddle",
    "sine": "sine gauge",
    "toe-bars": "toe bars",
    "end-disc": "end disc",
    "spread": "pivot spread gauge",
    "plugs": "go and no-go plug",
    "widths": "width gauge",
    "fillets": "fillet leaf",
    "pucks": "puck",
    "depth": "pinion depth gauge",
}


def made(contents: Contents, kind: str, name: str = "") -> tuple[Gauge, ...]:
    """The gauges of a kind whose parts are cut or turned; none of them is held.

    Args:
        contents: Of the papers.
        kind: Of the gauge.
        name: What its name begins with; any when empty.
    """
    store = contents.job.store.get(STORE)
    if not isinstance(store, GaugeSet):
        return ()
    parts = dict(store.parts_of)
    return tuple(
        g
        for g in store.plan.of_kind(kind)
        if g.name.startswith(name) and not any(p in contents.held for p in parts.get(g.name, ()))
    )


def tool(contents: Contents, kind: str, name: str = "") -> str:
    """A kind of gauge with the parts that carry its name, "hole-to-hole bar (part hole-bar-lower)"; empty when none."""
    store = contents.job.store.get(STORE)
    gauges = made(contents, kind, name)
    if not gauges or not isinstance(store, GaugeSet):
        return ""
    parts = dict(store.parts_of)
    # the first part is the gauge, the others go with it; leaves are one gauge in many parts
    names = [p for g in gauges for p in (parts[g.name] if kind == "fillets" else parts[g.name][:1])]
    return f"{SHORT[kind]} (part{'s' if len(names) > 1 else ''} {', '.join(names)})"


def tool_or(contents: Contents, kind: str, other: str, name: str = "") -> str:
    """The gauge, or what does when it is not at hand."""
    found = tool(contents, kind, name)
    return f"{found}, or {other}" if found else other
