"""What the tests in a browser share: the rendering library, installed once."""

import os
from functools import partial
from pathlib import Path

import pytest
from browser import Renderer, installed, lacking, rendered


@pytest.fixture(scope="session")
def modules() -> Path:
    """The node modules; skips where items cannot be shown, but never with CI=true."""
    if lacking() and os.environ.get("CI") == "true":
        pytest.fail(f"{lacking()}: install it, CI must show items in a browser")
    if lacking():
        pytest.skip(lacking())
    return installed()


@pytest.fixture
def renderer(modules: Path, tmp_path: Path) -> Renderer:
    """Does a job in the browser, see `browser.rendered`."""
    return partial(rendered, modules, tmp_path / "job.json")
