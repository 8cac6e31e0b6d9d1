"""How long commands take, as ratios to what they cannot do without; printed, never judged.

Not collected by default: `pytest tests/benchmarks -o addopts="" -s`. Aims: a quick command at most
3 times `import numpy` (4 tolerated); `check` and `build` at most 1.3 times `import cadquery` and
their kernel calls; a rebuild with one value changed at most a third of a cold one.
"""

import os
import re
import shutil
import statistics
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "examples" / "front-dropout-kingpin.toml"
RUNS = 5
PROGRAM = (sys.executable, "-m", "fixturegen.cli.main")


def seconds(arguments: list[str], cwd: Path, runs: int = RUNS, cache: Path | None = None) -> float:
    """Median wall time of a command in fresh processes [s]; the first run only warms the disk."""
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    env.pop("PYTHONDONTWRITEBYTECODE", None)  # a user's Python keeps what it compiled
    if cache is not None:
        env["XDG_CACHE_HOME"] = str(cache)
    taken = []
    for _ in range(runs + (runs > 1)):
        start = time.perf_counter()
        done = subprocess.run(arguments, cwd=cwd, env=env, capture_output=True)
        taken.append(time.perf_counter() - start)
        assert done.returncode in (0, 1), done.stderr.decode()
    return statistics.median(taken[1:] or taken)


def tell(what: str, ratio: float, aim: float) -> None:
    print(f"\n{what}: {ratio:.2f} (aim at most {aim:g})")


@pytest.fixture(scope="module")
def numpy_time(tmp_path_factory: pytest.TempPathFactory) -> float:
    return seconds([sys.executable, "-c", "import numpy"], tmp_path_factory.mktemp("n"))


@pytest.mark.parametrize(
    "arguments",
    [
        ["--help"],
        ["calc", "bench-caster", "--caster", "7 deg", "--pinion", "10 deg", "--axle", "front"],
        ["calc", "tube", "--diameter", "3 in", "--wall", "1/4 in"],
        ["check", "--sheet", str(EXAMPLE)],
    ],
    ids=lambda a: " ".join(a[:2]),
)
def test_start_up_against_numpy(arguments: list[str], numpy_time: float, tmp_path: Path) -> None:
    tell(" ".join(arguments[:2]), seconds([*PROGRAM, *arguments], tmp_path) / numpy_time, 3.0)


KERNEL = """
import importlib, pkgutil, sys, time
started = time.perf_counter()
import cadquery, OCP, trimesh, fcl
from fixturegen.shapes import {modules}
imported = time.perf_counter() - started
inside, depth = 0.0, 0

def counted(function):
    def call(*a, **k):
        global inside, depth
        depth += 1
        start = time.perf_counter()
        try:
            return function(*a, **k)
        finally:
            depth -= 1
            if depth == 0:
                inside += time.perf_counter() - start
    return call

def uncounted(function):
    # what the cache of results does for itself is no work of the kernel
    def call(*a, **k):
        global inside
        start = time.perf_counter()
        try:
            return function(*a, **k)
        finally:
            if depth:
                inside -= time.perf_counter() - start
    return call

import fixturegen, fixturegen.aside
# all in one process: calls are counted wherever a build would have them done
fixturegen.aside.cores = lambda: 1
for found in pkgutil.walk_packages(fixturegen.__path__, "fixturegen."):
    importlib.import_module(found.name)
wrapped = {{}}
for room in ({modules},):
    for name, value in vars(room).items():
        if callable(value) and not isinstance(value, type) and getattr(value, "__module__", "") == room.__name__:
            wrapped[value] = counted(value)
from fixturegen import keeping
for name in ("_read", "_write", "key_of"):
    wrapped[getattr(keeping, name)] = uncounted(getattr(keeping, name))
for module in [m for n, m in sys.modules.items() if n.startswith("fixturegen")]:
    for name, value in list(vars(module).items()):
        if getattr(value, "__hash__", None) and callable(value) and value in wrapped:
            setattr(module, name, wrapped[value])
from fixturegen.cli.main import main
main({arguments!r})
print(imported + inside, file=sys.stderr)
"""
LIBRARIES = re.compile(r"^(?:from|import) (?:cadquery|OCP|trimesh|fcl|vtk)", re.MULTILINE)
# every module that calls the kernel or a library for meshes and pictures; what only keeps its results is none
MODULES = ", ".join(
    p.stem
    for p in sorted((ROOT / "fixturegen" / "shapes").glob("*.py"))
    if LIBRARIES.search(p.read_text("utf-8")) and p.stem != "cache"
)


@pytest.mark.parametrize("command", ["check", "build"])
def test_a_command_against_its_kernel_calls(command: str, tmp_path: Path) -> None:
    sheet = shutil.copy(EXAMPLE, tmp_path)
    arguments = [command, str(sheet), *(["--out", "job"] if command == "build" else [])]
    script = KERNEL.format(modules=MODULES, arguments=arguments)
    env = {**os.environ, "PYTHONPATH": str(ROOT), "XDG_CACHE_HOME": str(tmp_path / "counted")}
    done = subprocess.run([sys.executable, "-c", script], cwd=tmp_path, env=env, capture_output=True, text=True)
    floor = float(done.stderr.strip().rsplit("\n", 1)[-1])
    whole = seconds([*PROGRAM, *arguments], tmp_path, 1, tmp_path / "cold")
    tell(f"{command} against the kernel ({whole:.1f} s, floor {floor:.1f} s)", whole / floor, 1.3)


@pytest.mark.parametrize(
    ("key", "values"), [("level_repeatability", ("0.03", "0.035", "0.04")), ("caster", ("6.5", "6.7", "6.2"))]
)
def test_a_rebuild_with_one_value_changed_against_a_cold_one(key: str, values: tuple[str, ...], tmp_path: Path) -> None:
    """A value no part hangs on, and one that turns both knuckles and shapes both clock plates.

    Three cold builds and three rebuilds, each with a value not seen before; medians, since one run differs
    from the next by a tenth.
    """
    sheet = Path(shutil.copy(EXAMPLE, tmp_path))
    arguments = [*PROGRAM, "build", str(sheet), "--out", "job"]
    text = sheet.read_text("utf-8")
    old = next(line for line in text.splitlines() if line.startswith(f"{key} ="))
    cold = statistics.median(seconds(arguments, tmp_path, 1, tmp_path / f"cache-{v}") for v in values)
    again = []
    for value in values:
        sheet.write_text(text.replace(old, f'{key} = "{value} deg"'), encoding="utf-8")
        again.append(seconds(arguments, tmp_path, 1, tmp_path / f"cache-{values[0]}"))
    warm = statistics.median(again)
    tell(f"rebuild with {key} changed ({warm:.1f} s, cold {cold:.1f} s)", warm / cold, 1.0 / 3.0)
