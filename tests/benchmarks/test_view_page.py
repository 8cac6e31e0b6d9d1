"""The 3-D view of an example: size of its page, time to its first picture against a bare mesh; printed, never judged.

Not collected by default: `python -m pytest tests/benchmarks/test_view_page.py -o addopts="" -s
--import-mode=importlib`. Aim: under 5 MB. The peer is a page with nothing but one mesh of as many facets as the
first scene, drawn without a library, in the same browser; software draws both.
"""

import json
from pathlib import Path

import pytest

from fixturegen import pipeline
from tests.viewer.browser import DRAWING, Page, browser

ROOT = Path(__file__).parents[2]
RUNS = 5

PEER = """<!doctype html><meta charset="utf-8"><canvas id="c" width="1280" height="800"></canvas><script>
const count = COUNT, gl = document.getElementById("c").getContext("webgl");
const points = new Float32Array(9 * count);
for (let k = 0; k < 3 * count; k++) {  // small facets along a spiral round a ball
  const facet = Math.floor(k / 3), corner = k % 3;
  const turn = facet * 2.399963 + 0.02 * corner, off = corner === 2 ? 0.02 : 0;
  const high = Math.max(-1, 1 - (2 * facet) / count - off);
  const wide = Math.sqrt(1 - high * high);
  points.set([0.9 * wide * Math.cos(turn), 0.9 * wide * Math.sin(turn), 0.9 * high], 3 * k);
}
function shader(kind, text) {
  const made = gl.createShader(kind);
  gl.shaderSource(made, text); gl.compileShader(made);
  return made;
}
const program = gl.createProgram();
gl.attachShader(program, shader(gl.VERTEX_SHADER, "attribute vec3 p; void main() { gl_Position = vec4(p, 1.0); }"));
gl.attachShader(program, shader(gl.FRAGMENT_SHADER, "void main() { gl_FragColor = vec4(0.3, 0.4, 0.6, 1.0); }"));
gl.linkProgram(program); gl.useProgram(program);
gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
gl.bufferData(gl.ARRAY_BUFFER, points, gl.STATIC_DRAW);
gl.enableVertexAttribArray(0); gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 0, 0);
gl.enable(gl.DEPTH_TEST); gl.drawArrays(gl.TRIANGLES, 0, 3 * count); gl.finish();
performance.mark("view drawn"); document.documentElement.dataset.view = "drawn";
</script>"""


def first_picture(tab: Page, file: Path) -> float:
    """Milliseconds from opening a page to its first picture: the quickest of several runs."""
    times = []
    for _ in range(RUNS):
        tab.call("Page.navigate", url="about:blank")
        tab.open(file, "document.documentElement?.dataset.view === 'drawn'")
        times.append(tab.run("performance.getEntriesByName('view drawn')[0].startTime"))
    return float(min(times))


@pytest.mark.timeout(1200)
def test_page_of_an_example_against_a_bare_mesh(tmp_path: Path) -> None:
    out = tmp_path / "job"
    pipeline.build(ROOT / "examples" / "front-dropout-kingpin.toml", out)
    page = out / "report.html"
    with browser(*DRAWING) as tab:
        tab.size(1280, 800)
        ours = first_picture(tab, page)
        facets = tab.run(
            "fixturegenView.stage.now.bodies.reduce((n, o) => n + o.shape.geometry.attributes.position.count / 3, 0)"
        )
        peer = tmp_path / "peer.html"
        peer.write_text(PEER.replace("COUNT", json.dumps(round(facets))), "utf-8")
        bare = first_picture(tab, peer)
    print(
        f"\n{page.stat().st_size / 1e6:.2f} MB page, {page.stat().st_size / peer.stat().st_size:.0f} times a bare one"
    )
    print(f"{facets:.0f} facets: first picture {ours:.0f} ms, bare mesh {bare:.0f} ms, ratio {ours / bare:.1f}")
