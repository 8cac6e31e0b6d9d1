"""The 3-D view as a piece of the report: markup that works without it, data, style and script."""

from __future__ import annotations

import base64
import zlib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fixturegen import keeping
from fixturegen.checks.registry import Job
from fixturegen.errors import GeometryFault, InputFault
from fixturegen.keeping import key_of
from fixturegen.viewer.bundle import FOLDER, bundled
from fixturegen.viewer.packing import LEVEL
from fixturegen.viewer.payload import Told, payload, ready
from fixturegen.viewer.scenes import standing_scenes
from fixturegen.viewer.travel import travel_scene


def scenes_of(job: Job) -> tuple[dict[str, Any], ...]:
    """Every scene of a job as `payload.ready` gives it, in the order in which they are offered."""

    def travelled() -> dict[str, Any] | None:
        try:
            scene = travel_scene(job)
            return None if scene is None else ready(scene)
        except (GeometryFault, InputFault):
            # a body nobody checks cannot be drawn, or has no place: the page says that there is no travel to show
            return None

    # links, brackets and axle all follow from the sheet; what the person brings as files is not in this scene
    travel = keeping.kept_json("travel", key_of(("travel", job.sheet)), travelled)
    return (*(ready(scene) for scene in standing_scenes(job)), *(() if travel is None else (travel,)))


@dataclass(frozen=True)
class View:
    """The view as HTML: what stands on top of the page, and the data and script at its end."""

    markup: str
    code: str


def view_of(scenes: tuple[dict[str, Any], ...], told: Told, folder: Path = FOLDER) -> View | None:
    """The view; None where nothing can be drawn, or the script was not bundled.

    Args:
        scenes: What is shown, ready for the page.
        told: What is said beside it.
        folder: That the bundle lies in.
    """
    bundle = bundled(folder)
    if bundle is None or not scenes:
        return None
    import jinja2

    environment = jinja2.Environment(
        loader=jinja2.FileSystemLoader(Path(__file__).parent),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=jinja2.StrictUndefined,
    )
    text, data = payload(scenes, told)
    # packed: the page is to fit a telephone
    pieces = {"data": _packed(text), "bytes": _text(data), "code": _packed(bundle.script)}
    code = "".join(f'<script type="text/plain" id="view-{name}">{text}</script>\n' for name, text in pieces.items())
    code += f"<script>{bundle.loader}</script>"
    return View(environment.get_template("view.html.j2").render(style=bundle.style), code)


def _packed(text: str) -> str:
    return _text(zlib.compress(text.encode("utf-8"), LEVEL))


def _text(data: bytes) -> str:
    return base64.b64encode(data).decode("ascii")
