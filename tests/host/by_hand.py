"""A card drawn by hand in the real editor: parts dragged from the symbols panel, strips drawn.

Run by the system's Python inside `dbus-run-session`; the order is JSON in the first argument:
`svg` and `steps`, each a list of a word and its values. Places are page mm. The answer is one line
of JSON.

    ["layer", 1]                        layers up (down: negative) from the current one
    ["panel", "Underlit parts"]         open the symbols panel with this set
    ["drag", n, of, [x, y]]             drag the n-th of that many symbols to a place
    ["drop", n, of, [x, y]]             drag it to a point of the screen
    ["find page", n, of]                learn where the page is on the screen, before any "drag"
    ["strip", [[x, y], ...], colour]    the pen from point to point, then 5 mm wide
    ["shoot", "a.png"]                  a picture of the screen
    ["keys", "ctrl+z", ...]             real keys
"""

from __future__ import annotations

import json
import subprocess
import sys
import time
from xml.etree import ElementTree

import pyatspi
from menu import BUS, Host, press, shoot, until, walk

#: Where the drawing is on the screen before anything is known: two places that lie on it.
GUESSES = ((500, 300), (750, 700))


class Hand:
    """A hand on the mouse, who knows where the page is on the screen."""

    def __init__(self, host: Host, svg: str) -> None:
        self.host, self.svg = host, svg
        self.scale, self.corner = 1.0, (0.0, 0.0)
        self.pane, self.selected = None, []

    def point(self, place):
        """Page mm to the screen."""
        return [round(c + self.scale * v) for c, v in zip(self.corner, place, strict=True)]

    def panel(self, name):
        """Open the symbols panel and choose a set."""
        press("shift+ctrl+y")
        combo = until(lambda: self.host.find("combo box", "Current document"), "the sets")
        item = until(lambda: self.host.find("menu item", name, combo), name)
        item.queryAction().doAction(0)
        time.sleep(1.5)
        press("5")

    def drag(self, number, count, place):
        """Drag a symbol to a place on the page."""
        self.carry(number, count, self.point(place))

    def carry(self, number, count, target):
        """Drag a symbol to a point of the screen."""
        self.pane = self.pane or until(lambda: self._pane(count), "the symbols")
        icon = self.pane.getChildAtIndex(number)
        box = icon.queryComponent().getExtents(pyatspi.DESKTOP_COORDS)
        x, y = box.x + box.width // 2, box.y + box.height // 2
        mouse("mousemove", x, y)
        time.sleep(0.3)
        mouse("mousedown", 1)
        for step in range(1, 11):
            time.sleep(0.04)
            mouse("mousemove", x + (target[0] - x) * step // 10, y + (target[1] - y) * step // 10)
        time.sleep(0.3)
        mouse("mouseup", 1)
        self._new_selection("the part on the page")

    def _new_selection(self, what):
        """What was just made is selected; wait until it is there."""
        until(lambda: (now := self.host.selected()) and now != self.selected, what)
        self.selected = self.host.selected()

    def _pane(self, count):
        self.host.app.clearCache()
        panes = (n for n in walk(self.host.app) if n.getRoleName() == "layered pane")
        return next((pane for pane in panes if pane.childCount == count), None)

    def find_page(self, number, count):
        """Learn where the page is: drop a part twice, see where it came to lie, delete both."""
        for guess in GUESSES:
            self.carry(number, count, guess)
        self.save()
        first, second = places(self.svg)[-2:]
        self.scale = (GUESSES[1][1] - GUESSES[0][1]) / (second[1] - first[1])
        self.corner = tuple(g - self.scale * v for g, v in zip(GUESSES[0], first, strict=True))
        self.focus()
        press("ctrl+a")
        time.sleep(0.3)
        press("Delete")
        time.sleep(0.5)

    def focus(self):
        """The canvas gets the keys."""
        mouse("mousemove", 100, 900)
        mouse("click", 1)
        time.sleep(0.3)

    def layer(self, up):
        """Another layer becomes the current one."""
        self.focus()
        for _ in range(abs(up)):
            press("ctrl+Prior" if up > 0 else "ctrl+Next")
            time.sleep(0.3)

    def strip(self, points, colour):
        """A strip of tape by the pen, as a plain line 5 mm wide."""
        self.focus()
        press("b")
        time.sleep(0.3)
        for place in points:
            mouse("mousemove", *self.point(place))
            time.sleep(0.4)
            mouse("click", 1)
            time.sleep(0.4)
        press("Return")
        self._new_selection("the strip")
        for word in ("fill,none", f"stroke,{colour}", "stroke-width,5"):
            act("object-set-property", f"[<'{word}'>]")
        press("s")
        time.sleep(0.3)

    def save(self):
        """Ctrl+S, until the title says so."""
        self.focus()
        until(lambda: self.host.title().startswith("*"), "a change")
        press("ctrl+s")
        until(lambda: not self.host.title().startswith("*"), "the drawing saved")


def mouse(*words):
    """What a hand does with a mouse."""
    subprocess.run(["xdotool", *map(str, words)], check=True)


def act(name, values="[]"):
    """An action of the host on what is selected."""
    subprocess.run([*BUS, name, values, "{}"], check=True, capture_output=True)


def places(svg):
    """Where the clones of a drawing in mm lie."""
    found = []
    for use in ElementTree.parse(svg).iter("{http://www.w3.org/2000/svg}use"):
        numbers = use.get("transform", "translate(0,0)").partition("(")[2].strip(")").split(",")
        found.append([float(number) for number in numbers[-2:]])
    return found


def main(order):
    """Do all the steps, save, tell."""
    host = Host(order["svg"])
    hand = Hand(host, order["svg"])
    steps = {
        "layer": hand.layer,
        "panel": hand.panel,
        "find page": hand.find_page,
        "drag": hand.drag,
        "drop": hand.carry,
        "strip": hand.strip,
        "focus": hand.focus,
        "keys": press,
        "shoot": shoot,
    }
    for word, *values in order["steps"]:
        steps[word](*values)
    hand.save()
    print(json.dumps({"title": host.title(), "scale": hand.scale}), flush=True)
    host.process.kill()


if __name__ == "__main__":
    main(json.loads(sys.argv[1]))
