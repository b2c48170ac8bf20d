"""The page in a real browser: touched, clicked, typed at, and looked at."""

from __future__ import annotations

import io
import time
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from sheet.made import CARDS, sample

from .made import write

pytest.importorskip("websocket", reason="websocket-client is not installed")

from .browser import DARK, DESKTOP, LIT, OVERFLOW, PHONE, Browser, Tab


def seen(tab: Tab) -> np.ndarray:
    """(h, w, 3) what the card looks like in the window."""
    return np.asarray(Image.open(io.BytesIO(tab.picture())).convert("RGB")).astype(int)


def pressed(tab: Tab) -> str:
    found: str = tab.ask("document.querySelector('#press').getAttribute('aria-pressed')")
    return found


@pytest.mark.parametrize("name", CARDS)
def test_a_finger_lights_it_and_letting_go_darkens_it(opened, name: str) -> None:
    tab = opened(name, PHONE)
    at = tab.middle("#press")
    before = seen(tab)
    assert tab.ask(DARK)
    tab.touch("touchStart", at)
    tab.until(LIT)
    assert pressed(tab) == "true"
    assert "shine" in tab.ask("document.querySelector('#state').textContent")
    lit = seen(tab)
    tab.touch("touchEnd")
    tab.until(DARK)
    assert pressed(tab) == "false"
    assert tab.ask("document.querySelector('#state').textContent") == "It is dark."
    bright = (lit.min(axis=2) > 140) & (before.max(axis=2) < 60)
    assert bright.sum() > 60  # windows that were black are bright now


def test_a_lost_finger_leaves_no_light_on(opened) -> None:
    tab = opened("lantern")
    tab.touch("touchStart", tab.middle("#press"))
    tab.until(LIT)
    tab.touch("touchCancel")
    tab.until(DARK)


@pytest.mark.parametrize("size", [PHONE, DESKTOP])
def test_the_mouse_lights_it(opened, size: tuple[int, int]) -> None:
    tab = opened("street", size)
    at = tab.middle("#press")
    tab.mouse("mouseMoved", at)
    tab.mouse("mousePressed", at)
    tab.until(LIT)
    tab.mouse("mouseMoved", (at[0] + 40.0, at[1] + 40.0))
    time.sleep(0.1)
    assert pressed(tab) == "true"  # a hand that trembles holds it still
    tab.mouse("mouseReleased", (at[0] + 40.0, at[1] + 40.0))
    tab.until(DARK)


@pytest.mark.parametrize("key", [" ", "Enter"])
def test_keys_light_it(opened, key: str) -> None:
    tab = opened("firefly-jar", DESKTOP)
    tab.type("Tab")
    assert tab.ask("document.activeElement.id") == "press"
    assert tab.ask("getComputedStyle(document.activeElement).outlineStyle") == "solid"
    tab.key("keyDown", key)
    tab.until(LIT)
    tab.key("keyUp", key)
    tab.until(DARK)


def test_leaving_the_button_darkens_it(opened) -> None:
    tab = opened("firefly-jar", DESKTOP)
    tab.type("Tab")
    tab.key("keyDown", " ")
    tab.until(LIT)
    tab.ask("document.activeElement.blur()")
    tab.until(DARK)


def test_keep_it_lit(opened) -> None:
    tab = opened("night-garden", DESKTOP)
    tab.type("Tab")
    tab.type("Tab")
    assert tab.ask("document.activeElement.id") == "keep"
    tab.type(" ")
    tab.until(LIT)
    tab.touch("touchStart", tab.middle("#press"))
    tab.touch("touchEnd")
    time.sleep(0.2)
    assert tab.ask(LIT)
    tab.type(" ")


def test_software_that_reads_aloud_lights_it_by_a_click(opened) -> None:
    tab = opened("lantern")
    tab.ask("document.querySelector('#press').click()")
    tab.until(LIT)
    tab.ask("document.querySelector('#press').click()")
    tab.until(DARK)


def test_a_slider_stays_where_it_was_pushed(opened, tmp_path: Path) -> None:
    text = sample("firefly-jar").replace('closes="press"', 'closes="slide"')
    tab = opened(write(text, tmp_path))
    at = tab.middle("#press")
    tab.touch("touchStart", at)
    tab.touch("touchEnd")
    tab.until(LIT)
    tab.touch("touchStart", at)
    tab.touch("touchEnd")
    tab.until(DARK)


def test_what_always_shines_stays_lit_when_it_is_touched(opened, tmp_path: Path) -> None:
    text = sample("firefly-jar").replace('closes="press"', 'closes="always"')
    tab = opened(write(text, tmp_path))
    tab.until(LIT)
    tab.touch("touchStart", tab.middle("#card"))
    tab.touch("touchEnd")
    time.sleep(0.8)  # longer than it takes to fade
    assert tab.ask(LIT)
    assert tab.ask("document.querySelector('#state').textContent").startswith("It shines: ")


CLASSES = (
    "Object.fromEntries([...document.querySelectorAll('#circuit .thing')]"
    ".map((g) => [g.id, g.getAttribute('class').split(' ')[1]]))"
)
NEW = "document.querySelector('#steps > li:not([hidden])').dataset.new.split(' ').filter(Boolean)"


@pytest.mark.parametrize("name", CARDS)
def test_the_slider_reaches_every_step(opened, name: str) -> None:
    tab = opened(name, DESKTOP)
    count = int(tab.ask("document.querySelector('#slider').max"))
    tab.ask("document.querySelector('#slider').focus()")
    was: set[str] = set()
    for n in range(1, count + 1):
        title = tab.ask("document.querySelector('#slider').getAttribute('aria-valuetext')")
        assert title.startswith(f"Step {n} of {count}")
        shown = tab.ask("[...document.querySelectorAll('#steps > li')].filter("
                        "(li) => li.getBoundingClientRect().height > 0)"
                        ".map((li) => li.querySelector('h3').textContent)")  # fmt: skip
        assert shown == [title]
        classes = tab.ask(CLASSES)
        new = set(tab.ask(NEW))
        assert {one for one, kind in classes.items() if kind == "new"} == new
        assert {one for one, kind in classes.items() if kind == "done"} == was - new
        was |= new
        tab.type("ArrowRight")
    assert was == set(classes)
    tab.type("Home")
    assert tab.ask("document.querySelector('#slider').value") == "1"


def test_next_and_back(opened) -> None:
    tab = opened("street")
    at = tab.middle("#after")
    for _ in range(2):
        tab.touch("touchStart", at)
        tab.touch("touchEnd")
    tab.until("document.querySelector('#slider').value === '3'")
    at = tab.middle("#before")
    tab.touch("touchStart", at)
    tab.touch("touchEnd")
    tab.until("document.querySelector('#slider').value === '2'")


def test_new_things_are_strong_and_old_ones_pale(opened) -> None:
    tab = opened("street", DESKTOP)
    tab.ask("walk(4)")
    time.sleep(0.5)
    found = {
        kind: tab.ask(f"+getComputedStyle(document.querySelector('#circuit .{kind}')).opacity")
        for kind in ("new", "done", "later")
    }
    assert found["new"] == 1
    assert 0.2 < found["done"] < 0.5
    assert found["later"] == 0


FRAMES = "[...document.querySelectorAll('.frame')].map((f) => +getComputedStyle(f).opacity)"
RUNNING = "document.getAnimations().filter((a) => a.playState === 'running').length"


def test_little_motion_for_those_who_want_little(opened, tmp_path: Path) -> None:
    text = sample("firefly-jar").replace("warm-white", "colour-change")
    page = write(text, tmp_path)
    lively = opened(page, DESKTOP)
    lively.until(f"{RUNNING} === 1")  # once the first step has faded in, only the mark calls
    lively.mouse("mousePressed", lively.middle("#press"))
    lively.until(LIT)
    assert lively.ask(RUNNING) >= 5
    first = lively.ask(FRAMES)
    time.sleep(1.0)
    later = lively.ask(FRAMES)
    assert first != later
    assert sum(later) == pytest.approx(1.0, abs=0.02)
    calm = opened(page, DESKTOP, calm=True)
    assert calm.ask(RUNNING) == 0
    calm.mouse("mousePressed", calm.middle("#press"))
    assert calm.ask(LIT)  # at once
    assert calm.ask(RUNNING) == 0
    assert calm.ask(FRAMES) == [1, 0, 0, 0, 0]
    calm.mouse("mouseReleased", calm.middle("#press"))
    assert calm.ask(DARK)


def test_colours_rest_while_it_is_dark(opened, tmp_path: Path) -> None:
    text = sample("firefly-jar").replace("warm-white", "colour-change")
    tab = opened(write(text, tmp_path), DESKTOP)
    turning = "document.getAnimations().filter((a) => a.animationName === 'turn')"
    assert tab.ask(f"{turning}.map((a) => a.playState)") == ["paused"] * 5


@pytest.mark.parametrize("name", CARDS)
@pytest.mark.parametrize("size", [PHONE, DESKTOP, (320, 640)])
def test_fits_its_window(opened, name: str, size: tuple[int, int]) -> None:
    tab = opened(name, size)
    assert tab.ask("document.documentElement.scrollWidth") <= size[0]
    wide, high = tab.ask("(() => { const b = document.querySelector('#press')"
                         ".getBoundingClientRect(); return [b.width, b.height]; })()")  # fmt: skip
    assert min(wide, high) >= 44
    assert tab.ask(OVERFLOW) < 0


def test_the_mark_lies_over_the_battery(opened) -> None:
    """On the screen, where the drawing has it: (62.5, 128) of a front from (10, 10)."""
    tab = opened("firefly-jar")
    place = tab.ask(
        "(() => { const svg = document.querySelector('.card svg'), m = svg.getScreenCTM(),"
        "b = document.querySelector('#press').getBoundingClientRect();"
        "return [(b.left + b.width / 2 - m.e) / m.a, (b.top + b.height / 2 - m.f) / m.d]; })()"
    )
    px = 25.4 / 96.0
    assert place == pytest.approx([236.22 * px, 483.78 * px], abs=0.1)


def test_its_own_policy_keeps_it_off_the_network(browser: Browser, pages: dict[str, Path]) -> None:
    """Even a script that found its way in could ask for nothing."""
    tab = Tab(browser)
    tab.open(pages["lantern"])
    asked = tab.ask("fetch('http://127.0.0.1:9/').then(() => 'sent', () => 'refused')")
    assert asked == "refused"
    assert any("Content Security Policy" in one for one in tab.complaints())
    assert tab.requests() == []
    tab.ask("(() => { const s = document.createElement('script'); s.textContent = 'window.in = 1';"
            "document.body.append(s); })()")  # fmt: skip
    assert tab.ask("window.in === undefined")
    tab.close()


def test_nasty_names_do_nothing(opened, tmp_path: Path) -> None:
    text = sample("lantern").replace(
        'underlit:type="warm-white"', 'underlit:type="&lt;img src=x onerror=alert(1)&gt;"'
    )
    tab = opened(write(text, tmp_path, "a'\"><script>window.got=1</script>.svg"))
    assert tab.ask("window.got === undefined")
    assert tab.ask("document.querySelectorAll('img').length") == 0
    assert "<script>" in tab.ask("document.title")


def test_without_scripts_it_still_lights_and_reads(
    pages: dict[str, Path], browser: Browser
) -> None:
    tab = Tab(browser)
    tab.send("Emulation.setScriptExecutionDisabled", value=True)
    tab.open(pages["street"])
    shown = tab.ask("[...document.querySelectorAll('#steps > li')].filter("
                    "(li) => li.getBoundingClientRect().height > 0).length")  # fmt: skip
    assert shown == tab.ask("document.querySelectorAll('#steps > li').length")
    for idle in (".controls", ".keep", "#state"):
        assert tab.ask(f"document.querySelector('{idle}').getBoundingClientRect().height") == 0
    tab.mouse("mousePressed", tab.middle("#press"))
    tab.until(LIT)
    tab.mouse("mouseReleased", tab.middle("#press"))
    tab.until(DARK)
    tab.close()


def test_words_stand_out_from_their_ground(opened) -> None:
    """WCAG 2.2 AA, 4.5:1, of all text on the page's own grounds."""
    tab = opened("street", DESKTOP)
    pairs = tab.ask(
        """[...document.querySelectorAll('h1,h2,h3,p,li,td,th,.count,.controls button,footer')]
        .map((e) => { let g = e, ground = 'rgba(0, 0, 0, 0)';
          while (g && ground === 'rgba(0, 0, 0, 0)') {
            ground = getComputedStyle(g).backgroundColor; g = g.parentElement; }
          return [getComputedStyle(e).color, ground]; })"""
    )
    assert pairs
    for ink, ground in {tuple(pair) for pair in pairs}:
        assert contrast(ink, ground) >= 4.5, (ink, ground)


def contrast(ink: str, ground: str) -> float:
    def light(colour: str) -> float:
        coded = np.array([float(v) for v in colour[colour.index("(") + 1 : -1].split(",")[:3]])
        coded /= 255.0
        linear = np.where(coded <= 0.04045, coded / 12.92, ((coded + 0.055) / 1.055) ** 2.4)
        return float(linear @ (0.2126, 0.7152, 0.0722))

    a, b = sorted((light(ink), light(ground)))
    return (b + 0.05) / (a + 0.05)
