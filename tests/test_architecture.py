"""Who may import whom, and what a command loads in a fresh process.

The rooms and their order stand in DEVELOPERS.md; import-linter reads them from pyproject.toml.
"""

import ast
import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "fixturegen"
KERNEL = ("cadquery", "OCP", "trimesh", "fcl", "vtkmodules")
EXAMPLE = ROOT / "examples" / "front-dropout-kingpin.toml"

LOADED = """
import sys
from fixturegen.cli.main import main
code = main({arguments!r})
print(code, *sorted({{name.partition(".")[0] for name in sys.modules}}), file=sys.stderr)
"""


def loaded_by(arguments: list[str], cwd: Path) -> tuple[int, set[str]]:
    """Exit code of a command in a fresh process and the top names of what it loaded."""
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [sys.executable, "-c", LOADED.format(arguments=arguments)],
        cwd=cwd, env=env, capture_output=True, text=True, encoding="utf-8", check=True,
    )  # fmt: skip
    code, *names = done.stderr.strip().rsplit("\n", 1)[-1].split()
    return int(code), set(names)


@pytest.mark.parametrize(
    ("arguments", "refused"),
    [
        (["--help"], (*KERNEL, "numpy", "scipy", "pint", "pydantic")),
        (["--version"], (*KERNEL, "numpy", "scipy", "pint", "pydantic")),
        (["build", "--help"], (*KERNEL, "numpy", "scipy", "pint")),
        (["check", "--help"], (*KERNEL, "numpy", "scipy", "pint")),
        (["calc"], (*KERNEL, "scipy", "pint")),
        (["calc", "bench-caster", "--caster", "7 deg", "--pinion", "10 deg", "--axle", "front"], KERNEL),
        (["calc", "tube", "--diameter", "3 in", "--wall", "1/4 in", "--json"], KERNEL),
        (["tables"], KERNEL),
        (["tables", "tubes"], KERNEL),
        (["new", "starter.toml"], KERNEL),
        (["check", "--sheet", str(EXAMPLE)], KERNEL),
        (["check", "--sheet", "--json", str(EXAMPLE)], KERNEL),
    ],
    ids=lambda value: " ".join(map(str, value))[:40] if isinstance(value, list) else "",
)
def test_a_quick_command_loads_no_heavy_library(arguments: list[str], refused: tuple[str, ...], tmp_path: Path) -> None:
    code, names = loaded_by(arguments, tmp_path)
    assert code in (0, 1)
    assert names.isdisjoint(refused), sorted(names.intersection(refused))


def test_importing_the_package_loads_nothing_else() -> None:
    script = "import sys; before = set(sys.modules); import fixturegen; print(*set(sys.modules) - before)"
    done = subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, check=True)
    assert set(done.stdout.split()) == {"fixturegen"}


def test_the_rooms_import_only_the_rows_above_them() -> None:
    done = subprocess.run(
        [str(Path(sys.executable).with_name("lint-imports")), "--no-cache"],
        cwd=ROOT, capture_output=True, text=True,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr


def test_every_room_has_its_row() -> None:
    contract = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    layers = contract["tool"]["importlinter"]["contracts"][0]["layers"]
    listed = {room.strip().removeprefix("fixturegen.") for row in layers for room in row.split("|")}
    there = {p.stem for p in PACKAGE.glob("*.py")} | {p.parent.name for p in PACKAGE.glob("*/__init__.py")}
    # `schema` holds one JSON file and no code
    assert there - {"__init__", "__main__"} <= listed


def sources() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def test_no_module_is_longer_than_four_hundred_lines() -> None:
    long = {p.relative_to(ROOT).as_posix(): n for p in sources() if (n := len(p.read_text("utf-8").split("\n"))) > 401}
    assert long == {}


def test_only_the_command_line_prints() -> None:
    printing = []
    for path in sources():
        if "cli" in path.parts:
            continue
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "print":
                printing.append(f"{path.name}:{node.lineno}")
    assert printing == []


def test_nothing_is_left_to_be_done_later() -> None:
    words = ("TO" + "DO", "FIX" + "ME", "NotImplemented" + "Error")
    # a file-lock library raises one of them on odd disks, and it is caught there
    allowed = {"folder.py"}
    left = [f"{p.name}: {w}" for p in sources() for w in words if w in p.read_text("utf-8") and p.name not in allowed]
    assert left == []


def test_there_is_no_assert_in_the_package() -> None:
    found = [
        f"{p.name}:{n.lineno}"
        for p in sources()
        for n in ast.walk(ast.parse(p.read_text("utf-8")))
        if isinstance(n, ast.Assert)
    ]
    assert found == []
