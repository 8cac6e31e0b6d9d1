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
