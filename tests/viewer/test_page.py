"""The page in a real browser: what a thumb, a mouse and keys do to it, and what is left without WebGL or a script.

One browser serves the whole file; it is Debian's `chromium`, and its absence is a failure.
"""

import io
import json
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from fixturegen import view_flow
from fixturegen.checks.registry import Job
from fixturegen.papers.report import Report, rendered
from fixturegen.viewer import page as view_page
from fixturegen.viewer.payload import ready
from fixturegen.write.summary import passed, summary_of
from tests.viewer.browser import DRAWING, Page, browser
from tests.viewer.toy import HOLES, RISE, toy_contents, toy_parts, toy_report, toy_scenes

VIEW = "fixturegenView"
DRAWN = "document.documentElement?.dataset.view"
SHIFT = 8
DESK = (900, 600)  # px; small, since software draws it


@dataclass
class Bare:
    """As much of a job as the flow asks for beside the scenes."""

    assemblies: dict[str, Any] = field(default_factory=dict)
    store: dict[str, Any] = field(default_factory=dict)


@pytest.fixture(scope="module")
def report() -> Iterator[Report]:
    """The toy's report with its view."""
    scenes = tuple(ready(s) for s in toy_scenes())
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(view_page, "scenes_of", lambda job: scenes)
        bare: Any = Bare()
        job: Job = bare
        yield view_flow.with_view(toy_report(), job, toy_contents())


@pytest.fixture(scope="module")
def file(report: Report, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page as a file."""
    path = tmp_path_factory.mktemp("job") / "report.html"
    path.write_bytes(rendered(report).encode("utf-8"))
    return path


@pytest.fixture(scope="module")
def tab() -> Iterator[Page]:
    """The one browser."""
    with browser(*DRAWING) as page:
        yield page


@pytest.fixture
def desk(tab: Page, file: Path) -> Page:
    """The page freshly opened on a desk's screen, the view on top."""
    return opened(tab, file)


def opened(tab: Page, file: Path, *, phone: bool = False) -> Page:
    tab.size(*((390, 844) if phone else DESK), phone=phone)
    tab.open(file, DRAWN)
    tab.run("document.getElementById('view').scrollIntoView()")
    return tab


def canvas_spot(tab: Page, x: float, y: float) -> tuple[float, float]:
    """A place of the picture [px] in the window."""
    left, top = tab.run("(b => [b.left, b.top])(document.getElementById('v-canvas').getBoundingClientRect())")
    return left + x, top + y


def spot_of(tab: Page, x: float, y: float, z: float) -> tuple[float, float]:
    """A point of the scene [mm] in the window [px]."""
    vector = f"new {VIEW}.stage.controls.target.constructor({x}, {y}, {z})"
    at = tab.run(f"(p => [p.x, p.y])({VIEW}.stage.onPicture({vector}))")
    return canvas_spot(tab, *at)


def settled(tab: Page) -> None:
    """Nothing, when what was asked for is drawn."""
    tab.run("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")


def pixels(tab: Page) -> np.ndarray:
    """The picture as numbers (h, w, 3)."""
    settled(tab)
    left, top = canvas_spot(tab, 0.0, 0.0)
    wide, tall = tab.run(f"[{VIEW}.stage.width, {VIEW}.stage.height]")
    shot = Image.open(io.BytesIO(tab.picture())).convert("RGB")
    return np.asarray(shot.crop((round(left), round(top), round(left + wide), round(top + tall))), dtype=np.int16)


def changed(before: np.ndarray, after: np.ndarray) -> float:
    """Share of the picture that differs."""
    return float((np.abs(before - after).max(axis=2) > 24).mean())


def text(tab: Page, selector: str) -> str:
    return str(tab.run(f"document.querySelector({json.dumps(selector)}).innerText"))


def chosen(tab: Page) -> list[str]:
    return list(tab.run(f"[...{VIEW}.stage.chosen]"))


def slide(tab: Page, selector: str, value: float) -> None:
    """Move a slider as a thumb does."""
    tab.run(
        f"(s => {{ s.value = {value}; ['input', 'change'].forEach(e => s.dispatchEvent(new Event(e))); }})"
        f"(document.querySelector({json.dumps(selector)}))"
    )


def test_it_opens_from_a_file_draws_logs_nothing_and_asks_for_nothing(desk: Page, file: Path) -> None:
    assert desk.run(DRAWN) == "drawn"
    assert pixels(desk).min() < 100
    assert desk.logged == []
    assert {url for url in desk.asked if not url.startswith(("data:", "blob:"))} == {file.as_uri()}


def test_every_part_of_the_summary_is_in_the_list_and_is_picked_from_list_and_picture(desk: Page) -> None:
    parts = [p["name"] for p in summary_of(toy_contents())["parts"]]
    assert set(desk.run("[...document.querySelectorAll('#v-parts .v-row')].map(r => r.dataset.part)")) >= set(parts)
    for part in toy_parts():
        desk.press(f'#v-parts .v-row[data-part="{part.name}"]')
        assert chosen(desk) == [part.name]
        card = text(desk, "#v-part")
        assert part.label in card and f"{part.name}.step" in card
        assert ("HELD" in card) == (part.name == "bar-held")
        # alone in the picture, its middle is steel; what is clicked there is this part
        desk.run(f"{VIEW}.panels.only({json.dumps(part.name)})")
        desk.run(f"{VIEW}.pick(null)")
        wide, tall = desk.run(f"[{VIEW}.stage.width / 2, {VIEW}.stage.height / 2]")
        desk.click(*canvas_spot(desk, wide, tall))
        assert chosen(desk) == [part.name]
        desk.press("#v-all")
    assert "</script><b>ream</b> & <!-- tap" in desk.run(
        f"{VIEW}.pick('plate-l'), document.querySelector('#v-part').textContent"
    )


def test_findings_are_those_of_the_summary_and_each_is_taken_to_its_place(desk: Page) -> None:
    contents = toy_contents()
    wanted = [*summary_of(contents)["findings"], passed(contents).as_json()]
    assert desk.run(f"{VIEW}.data.findings.map(f => f.code + f.level)") == [w["code"] + w["level"] for w in wanted]
    desk.press("#v-tab-findings")
    desk.press('#v-levels button[data-level="all"]')
    shown = "[...document.querySelectorAll('#v-findings li')].filter(l => !l.hidden).length"
    assert desk.run(shown) == len(wanted)
    desk.press('#v-levels button[data-level="fail"]')
    assert desk.run(shown) == 1
    places = {
        "FIT-02": ("jig", (160.0, 190.0, 10.0)),
        "CLR-02": ("travel", (0.0, 85.0, 400.0)),
        "BRK-01": ("jig", (0.0, 0.0, 230.0)),
    }
    for number, finding in enumerate(wanted):
        desk.run(f"{VIEW}.show('jig')")
        desk.press(f'#v-findings [data-finding="{number}"]')
        assert finding["words"] in text(desk, "#v-finding")
        if finding["code"] in places:
            scene, point = places[finding["code"]]
            assert desk.run(f"{VIEW}.stage.now.record.name") == scene
            assert np.allclose(desk.run(f"{VIEW}.overlay.marks[0].point().toArray()"), point, atol=1e-3)
            assert np.allclose(desk.run(f"{VIEW}.stage.controls.target.toArray()"), point, atol=1e-3)
        elif not finding["parts"]:
            assert "no place in the picture" in text(desk, "#v-finding")
    desk.press('#v-findings [data-finding="2"]')
    # its pose is full bump, where the sheet's axle stands higher
    assert desk.run(f"{VIEW}.stage.now.bodies.find(o => o.body.name === 'ear').true.elements[14]") == pytest.approx(
        RISE
    )


def test_section_exploded_view_hiding_and_travel_change_the_picture(desk: Page) -> None:
    whole = pixels(desk)
    desk.run(f"eye = {VIEW}.stage.camera.clone(false), aimed = {VIEW}.stage.controls.target.clone(), 0")
    desk.press("#v-tab-section")
    desk.press('#v-axes button[value="1"]')
    # looked at from where the whole was: what differs is steel that was cut away
    desk.run(f"(s => {{ s.camera.copy(eye, false); s.controls.target.copy(aimed); s.ask(); }})({VIEW}.stage)")
    assert changed(whole, pixels(desk)) > 0.01
    slide(desk, "#v-cut", 1000)
    assert "left of the middle" in text(desk, "#v-cut-at")
    desk.press('#v-axes button[value=""]')
    desk.press('#v-views button[value="corner"]')
    assert changed(whole, pixels(desk)) < 0.001
    desk.press("#v-tab-spread")
    slide(desk, "#v-apart", 100)
    assert changed(whole, pixels(desk)) > 0.01
    slide(desk, "#v-apart", 0)
    assert changed(whole, pixels(desk)) < 0.001
    desk.press("#v-tab-parts")
    desk.press('[data-eye="post"]')
    assert changed(whole, pixels(desk)) > 0.002
    desk.press("#v-all")
    assert changed(whole, pixels(desk)) < 0.001
    desk.press("#v-tab-travel")
    desk.press("#v-go-travel")
    ride = pixels(desk)
    slide(desk, "#v-along", 2)
    assert "bump" in text(desk, "#v-pose") and "3.94 in up" in text(desk, "#v-pose")
    assert changed(ride, pixels(desk)) > 0.01
    slide(desk, "#v-along", 0)
    desk.press("#v-play")
    desk.wait(f"{VIEW}.travel.at > 0.3")
    desk.press("#v-play")
    assert desk.run(f"{VIEW}.travel.playing") is False


def test_measuring_takes_the_middles_of_holes_and_stays_true_when_exploded(desk: Page) -> None:
    desk.run(f"{VIEW}.stage.fit([0, 0.0001, 1])")
    desk.press("#v-tab-measure")
    for x, y in HOLES:
        # beside the middle, as a thumb does
        u, v = spot_of(desk, x, y, 10.0)
        desk.click(u + 4, v - 3)
    words = text(desk, "#v-measured")
    assert words.count("middle of the hole or round (0.787 in (20.00 mm) across), plate-l") == 2
    apart = HOLES[1][0] - HOLES[0][0]  # 120 mm
    assert f"{apart / 25.4:.3f} in" in words and f"{apart:.1f} mm" in words
    desk.press("#v-measure-clear")
    slide(desk, "#v-apart", 100)
    for name, x in (("plate-l", 0.0), ("plate-r", 0.0)):
        corner = f"{VIEW}.stage.now.bodies.find(o => o.body.name === '{name}').holder.matrix"
        at = desk.run(f"new {VIEW}.stage.controls.target.constructor({x}, 0, 10).applyMatrix4({corner}).toArray()")
        desk.click(*spot_of(desk, *at))
    words = text(desk, "#v-measured")
    assert words.count("corner") == 2
    assert "160.0 mm" in words  # the second plate stands 160 mm to the left of the first


def test_keys_alone_do_it_and_focus_is_seen(desk: Page) -> None:
    reached = []
    desk.run("document.getElementById('v-scene').focus()")
    for _ in range(12):
        desk.key("Tab")
        reached.append(desk.run("document.activeElement.id || document.activeElement.textContent"))
    assert {"v-full", "Front", "v-canvas", "v-tab-parts"} <= set(reached)
    assert desk.run("[...document.querySelectorAll('#view button, #view select, #view input, #view canvas')]"
                    ".every(e => e.innerText || e.ariaLabel || e.labels?.length)")  # fmt: skip
    desk.run("document.getElementById('v-canvas').focus()")
    desk.key("Home")
    settled(desk)
    assert desk.run("getComputedStyle(document.activeElement).outlineStyle") == "solid"
    before = desk.run(f"{VIEW}.stage.camera.position.toArray()")
    for key, modifiers in (("ArrowLeft", 0), ("ArrowUp", 0), ("ArrowRight", SHIFT)):
        desk.key(key, modifiers)
        after = desk.run(f"{VIEW}.stage.camera.position.toArray()")
        assert not np.allclose(before, after)
        before = after
    zoom = desk.run(f"{VIEW}.stage.camera.zoom")
    desk.key("+")
    assert desk.run(f"{VIEW}.stage.camera.zoom") > zoom
    desk.key("n")
    desk.key("n")
    assert chosen(desk) == ["plate-r"]
    assert "plate-r" in text(desk, "#v-status")
    desk.key("h")
    assert desk.run(f"{VIEW}.stage.seen('plate-r').length") == 0
    desk.run("document.getElementById('v-tab-parts').focus()")
    desk.key("ArrowRight")
    assert desk.run("document.activeElement.id") == "v-tab-findings"
    assert desk.run("document.getElementById('v-panel-findings').hidden") is False


def test_fingers_turn_move_zoom_and_pick_on_a_telephone(tab: Page, file: Path) -> None:
    phone = opened(tab, file, phone=True)
    assert phone.run("document.documentElement.scrollWidth <= innerWidth")
    small = "[...document.querySelectorAll('#view button, #view select, #view summary')].filter(e => e.offsetParent)"
    assert phone.run(f"Math.min(...{small}.map(e => e.getBoundingClientRect().height))") >= 44
    at = canvas_spot(phone, 180.0, 160.0)
    before = phone.run(f"{VIEW}.stage.camera.position.toArray()")
    phone.touch([at], [(at[0] + 40, at[1])], [(at[0] + 80, at[1] + 10)])
    settled(phone)
    after = phone.run(f"{VIEW}.stage.camera.position.toArray()")
    assert not np.allclose(before, after, atol=1.0)
    assert chosen(phone) == []
    zoom = phone.run(f"{VIEW}.stage.camera.zoom")
    x, y = at
    phone.touch([(x - 20, y), (x + 20, y)], [(x - 40, y), (x + 40, y)], [(x - 70, y), (x + 70, y)])
    settled(phone)
    assert phone.run(f"{VIEW}.stage.camera.zoom") > 1.3 * zoom
    phone.run(f"{VIEW}.stage.fit([0, 0.0001, 1])")
    phone.touch([spot_of(phone, 100.0, 90.0, 10.0)])
    phone.wait(f"{VIEW}.stage.chosen.size")
    assert chosen(phone) == ["plate-l"]
    assert phone.logged == []


@pytest.mark.parametrize("without", ["webgl", "script"])
def test_without_webgl_or_script_the_page_is_whole_but_for_the_view(without: str, tab: Page, file: Path) -> None:
    lost = "HTMLCanvasElement.prototype.getContext = () => null"
    rule = tab.call("Page.addScriptToEvaluateOnNewDocument", source=lost)["identifier"] if without == "webgl" else ""
    tab.call("Emulation.setScriptExecutionDisabled", value=without == "script")
    try:
        tab.size(390, 844, phone=True)
        tab.open(file, "document.querySelector('main')?.nextElementSibling && document.readyState === 'complete'")
        seen = "(e => Boolean(e && e.getClientRects().length))"
        assert tab.run(f"{seen}(document.getElementById('view'))") is False
        told = text(tab, "body")
        assert "4 of 5 parts released" in told and "a hole is off" in told and "Numbers, sources" in told
        assert ("draws no 3-D" in told) == (without == "webgl")
        assert ("needs JavaScript" in told) == (without == "script")
    finally:
        tab.call("Emulation.setScriptExecutionDisabled", value=False)
        if rule:
            tab.call("Page.removeScriptToEvaluateOnNewDocument", identifier=rule)


def test_the_same_job_gives_the_same_bytes(report: Report) -> None:
    scenes = tuple(ready(s) for s in toy_scenes())
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(view_page, "scenes_of", lambda job: scenes)
        bare: Any = Bare()
        again = view_flow.with_view(toy_report(), bare, toy_contents())
    assert again == report
