"""A card drawn by hand in the real editor: parts dragged from the symbols panel, strips drawn.

Run by the system's Python inside `dbus-run-session`; the order is JSON in the first argument:
`svg` and `steps`, each a list of a word and its values. Places are page mm. The answer is one line
of JSON.

    ["layer", 1]                        layers up (down: negative) from the current one
    ["panel", "Underlit parts", titles] open the symbols panel with this set, of these symbols
    ["drag", title, [x, y]]             drag a symbol to a place
    ["drop", title, [x, y]]             drag it to a point of the screen
    ["find page"]                       learn where the page is on the screen, before any "drag"
    ["strip", [[x, y], ...], colour]    the pen from point to point, then 5 mm wide
    ["shoot", "a.png"]                  a picture of the screen
    ["keys", "ctrl+z", ...]             real keys
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import time
from xml.etree import ElementTree

import pyatspi
from menu import BUS, Host, click, press, shoot, until, walk

#: What the pen writes for a line from point to point.
NUMBER = r"-?[\d.]+(?:e-?\d+)?"
LINE = f"[mM] {NUMBER},{NUMBER} {NUMBER},{NUMBER}"

#: What opens the list of symbol sets: up to 1.2 a combo box (and symbols are sorted by title),
#: in 1.4 a button (and they stand as in their file).
SETS = ("combo box", "toggle button")

#: Where the drawing is on the screen before anything is known: two places that lie on it.
GUESSES = ((500, 300), (750, 700))


class Hand:
    """A hand on the mouse, who knows where the page is on the screen."""

    def __init__(self, host: Host, svg: str) -> None:
        self.host, self.svg = host, svg
        self.scale, self.corner = 1.0, (0.0, 0.0)
        self.pane, self.titles, self.selected, self.aside = None, [], [], {}

    def point(self, place):
        """Page mm to the screen."""
        return [round(c + self.scale * v) for c, v in zip(self.corner, place, strict=True)]

    def panel(self, name, titles):
        """Open the symbols panel and choose a set; its symbols as they stand in its file."""
        press("shift+ctrl+y")
        sets = until(lambda: self.host.find(SETS, "Current document"), "the sets")
        if sets.getRoleName() == "combo box":
            item = until(lambda: self.host.find("menu item", name, sets), name)
            item.queryAction().doAction(0)
            self.titles = sorted(titles)
        else:
            self._search_set(sets, name)
            self.titles = titles
        time.sleep(1.5)
        press("5")

    def _search_set(self, button, name):
        """Choose a set in a list whose rows tell no names: search, and take the last row."""
        click(button)
        box = until(lambda: self.host.find("label", "Symbol set"), "the list of sets").parent
        rows = next(node for node in walk(box) if node.getRoleName() == "layered pane")
        all_sets = until(lambda: rows.childCount, "the sets in their list")
        click(next(node for node in walk(box) if node.getRoleName() == "text"))
        subprocess.run(["xdotool", "type", name], check=True)
        # The current drawing and "all" are never left out.
        until(lambda: rows.clearCache() or rows.childCount == 3 < all_sets, f"only {name}")
        time.sleep(0.5)
        click(rows.getChildAtIndex(2))
        until(lambda: self.host.find("toggle button", name), f"{name} chosen")

    def drag(self, title, place):
        """Drag a symbol to a place on the page, aiming beside it if the host lets it fall beside.

        1.2 lets the middle of a part fall where the mouse is, 1.4 its lower left corner.
        """
        if title not in self.aside:
            before = places(self.svg)
            self.carry(title, self.point(place))
            self.save()
            (fallen,) = (there for there in places(self.svg) if there not in before)
            self.aside[title] = [a - b for a, b in zip(fallen, place, strict=True)]
            self._empty_layer()
        aside = self.aside[title]
        self.carry(title, self.point([v - by for v, by in zip(place, aside, strict=True)]))
        self.save()

    def _empty_layer(self):
        """Delete all on the current layer: the first thing on it was drawn only to learn from."""
        self.focus()
        press("ctrl+a")
        time.sleep(0.3)
        press("Delete")
        until(lambda: self.host.title().startswith("*"), "an empty layer")
        self.selected = []

    def carry(self, title, target):
        """Drag a symbol to a point of the screen."""
        self.pane = self.pane or until(self._pane, "the symbols")
        icon = self.pane.getChildAtIndex(self.titles.index(title))
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

    def _pane(self):
        self.host.app.clearCache()
        panes = (n for n in walk(self.host.app) if n.getRoleName() == "layered pane")
        return next((pane for pane in panes if pane.childCount == len(self.titles)), None)

    def find_page(self):
        """Learn where the page is: draw a line, see where it came to lie, delete it."""
        self._pen(GUESSES)
        press("s")
        time.sleep(0.3)
        self.save()
        (x, y), (_, end) = line(self.svg)
        self.scale = (GUESSES[1][1] - GUESSES[0][1]) / (end - y)
        self.corner = tuple(g - self.scale * v for g, v in zip(GUESSES[0], (x, y), strict=True))
        self._empty_layer()

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
        self._pen([self.point(place) for place in points])
        for word in ("fill,none", f"stroke,{colour}", "stroke-width,5"):
            act("object-set-property", f"[<'{word}'>]")
        press("s")
        time.sleep(0.3)

    def _pen(self, points):
        """A line through points of the screen; it is selected."""
        self.focus()
        press("b")
        time.sleep(0.3)
        for point in points:
            mouse("mousemove", *point)
            time.sleep(0.4)
            mouse("click", 1)
            time.sleep(0.4)
        press("Return")
        self._new_selection("the line")

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


def line(svg):
    """The ends of the last line that a hand drew, in a layer of a drawing in mm."""
    path = list(ElementTree.parse(svg).iter("{http://www.w3.org/2000/svg}path"))
    drawn = next(one.get("d") for one in reversed(path) if re.fullmatch(LINE, one.get("d", "")))
    x, y, to_x, to_y = (float(number) for number in re.findall(NUMBER, drawn))
    return ((x, y), (to_x, to_y)) if drawn[0] == "M" else ((x, y), (x + to_x, y + to_y))


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
