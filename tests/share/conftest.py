"""One browser for all tests of the page."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from kit.german import in_german
from sheet.made import CARDS, sample

from .made import write

if TYPE_CHECKING:
    from .browser import Browser, Tab


#: Cards whose pages are tried in German.
GERMAN = ("lantern", "street")


@pytest.fixture(scope="session")
def browser(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    from .browser import CHROMIUM, Browser  # late: its library is there for tests of pages alone

    if CHROMIUM is None:
        pytest.skip("chromium is not installed")
    one = Browser(tmp_path_factory.mktemp("browser"))
    yield one
    one.close()


@pytest.fixture(scope="session")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The pages of all sample cards."""
    folder = tmp_path_factory.mktemp("pages")
    return {name: write(sample(name), folder, f"{name}.svg") for name in CARDS}


@pytest.fixture(scope="session")
def german_pages(tmp_path_factory: pytest.TempPathFactory, catalogs: Path) -> dict[str, Path]:
    """Some of them in German."""
    folder = tmp_path_factory.mktemp("german")
    with in_german(catalogs):
        return {name: write(sample(name), folder, f"{name}.svg") for name in GERMAN}


@pytest.fixture
def tabs(browser: Browser) -> Iterator[list[Tab]]:
    """Tabs that a test opens; each must have stayed quiet, and have asked for nothing."""
    opened: list[Tab] = []
    yield opened
    for tab in opened:
        complaints, requests = tab.complaints(), tab.requests()
        tab.close()
        assert complaints == []
        assert requests == []


@pytest.fixture
def opened(browser: Browser, pages: dict[str, Path], tabs: list[Tab]) -> Callable[..., Tab]:
    """Opens a page in a tab that is watched for complaints and requests."""
    from .browser import PHONE, Tab  # late, as above

    def open_page(page: str | Path, size: tuple[int, int] = PHONE, *, calm: bool = False) -> Tab:
        tab = Tab(browser, size, calm=calm)
        tabs.append(tab)
        tab.open(pages[page] if isinstance(page, str) else page)
        return tab

    return open_page
