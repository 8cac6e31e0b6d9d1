"""Tests keep what they build in a cache of their own, shared by the workers of one run."""

import os
import shutil
import tempfile

import pytest

_FOLDER = "FIXTUREGEN_TEST_CACHE"


def pytest_configure(config: pytest.Config) -> None:
    if _FOLDER not in os.environ:  # the workers inherit it
        os.environ[_FOLDER] = tempfile.mkdtemp(prefix="fixturegen-tests-")
        config.add_cleanup(lambda: shutil.rmtree(os.environ[_FOLDER], ignore_errors=True))
    os.environ["XDG_CACHE_HOME"] = os.environ[_FOLDER]


# files whose tests build whole jobs; begun first, so that no worker is left with one at the end
LONG = ("test_examples.py", "test_keeping.py", "test_aside.py", "test_wheel.py", "test_readme.py")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=lambda item: LONG.index(item.path.name) if item.path.name in LONG else len(LONG))


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> object:
    """A scheduler that keeps each file to one worker: what a module builds for its tests is built once."""
    from xdist.scheduler import LoadFileScheduling

    config.option.loadscopereorder = False
    return LoadFileScheduling(config, log)
