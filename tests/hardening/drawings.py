"""Odd drawings: cards of ours after random blows, and pages drawn from nothing.

Every choice comes from one `random.Random`, so that a seed names a drawing, and so that hypothesis
can shrink one that fails.
"""

from __future__ import annotations

import copy
import functools
import random
from collections.abc import Callable
from pathlib import Path

from lxml import etree

from kit.encode import STYLES, encode
from properties.layouts import good_layout

from .oddities import ATTRIBUTES, LAYERS, PARTS, a_number, a_path, a_transform, an_id

SAMPLES = Path(__file__).resolve().parents[2] / "sample_svgs"
SVG = "{http://www.w3.org/2000/svg}"
INKSCAPE = "{http://www.inkscape.org/namespaces/inkscape}"
UNDERLIT = "{urn:underlit:card:1}"
XLINK = "{http://www.w3.org/1999/xlink}"

HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
    'xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" '
    'xmlns:underlit="urn:underlit:card:1"/>'
)

#: Layers that belong to the tool alone.
REWRITTEN = {"Findings", "Glow", "Openings", "Marks"}


def odd_drawing(rng: random.Random) -> bytes:
    """One drawing: a sample or a seeded layout after blows, or a page of random things."""
    kind = rng.choice(("sample", "layout", "page", "page"))
    if kind == "page":
        root = _page(rng)
    else:
        root = _sample(rng) if kind == "sample" else _layout(rng)
        for _ in range(rng.randint(0, 6)):
            rng.choice(_BLOWS)(rng, root)
    return etree.tostring(root, encoding="UTF-8", xml_declaration=True)


@functools.cache
def _texts() -> tuple[bytes, ...]:
    files = [*SAMPLES.glob("*.svg"), *(SAMPLES / "faulty").glob("*.svg")]
    return tuple(path.read_bytes() for path in sorted(files))


def _sample(rng: random.Random) -> etree._Element:
    return etree.fromstring(rng.choice(_texts()))


def _layout(rng: random.Random) -> etree._Element:
    seed = rng.randint(0, 5000)
    text, _ = encode(good_layout(seed).card, rng.choice(sorted(STYLES)), seed)
    return etree.fromstring(text.encode())


def _page(rng: random.Random) -> etree._Element:
    """A page of random layers with random things on them."""
    root = etree.fromstring(HEAD)
    root.set("width", rng.choice(("140mm", "140mm", "5.5in", "500", "100%", "0", "-3mm", "1e9mm")))
    root.set("height", rng.choice(("200mm", "200mm", "8in", "700", "auto", "nan")))
    if rng.random() < 0.8:
        root.set("viewBox", rng.choice(("0 0 140 200", "-20 5 140 200", "0,0,500,700", "0 0 0 0")))
    for _ in range(rng.randint(0, 6)):
        layer = etree.SubElement(root, SVG + "g")
        layer.set(INKSCAPE + "groupmode", "layer")
        label, role = rng.choice(LAYERS)
        layer.set(INKSCAPE + "label", label)
        if role and rng.random() < 0.6:
            layer.set(UNDERLIT + "role", role)
        for _ in range(rng.randint(0, 7)):
            _add_thing(rng, layer)
        if label in REWRITTEN:  # a clone of what the tool throws away changes with it
            for element in layer.iter():
                element.attrib.pop("id", None)
    for _ in range(rng.randint(0, 3)):
        _add_thing(rng, root)
    return root


def _add_thing(rng: random.Random, parent: etree._Element) -> None:
    """A shape, a part, a clone, a text or a group with more in it."""
    draw = rng.choice(_THINGS)
    element = draw(rng, parent)
    if rng.random() < 0.85:
        element.set("id", an_id(rng))
    if rng.random() < 0.3:
        element.set("transform", a_transform(rng))
    for _ in range(rng.choice((0, 0, 0, 1, 2))):
        _odd_attribute(rng, element)


def _rect(rng: random.Random, parent: etree._Element) -> etree._Element:
    keys = ("x", "y", "width", "height")
    return _shape(parent, "rect", {key: a_number(rng) for key in keys})


def _circle(rng: random.Random, parent: etree._Element) -> etree._Element:
    return _shape(parent, "circle", {key: a_number(rng) for key in ("cx", "cy", "r")})


def _path(rng: random.Random, parent: etree._Element) -> etree._Element:
    return _shape(parent, "path", {"d": a_path(rng)})


def _line(rng: random.Random, parent: etree._Element) -> etree._Element:
    element = _path(rng, parent)
    width = rng.choice(("5", "5", "1", "0.2", "40", "0", "-1", "x"))
    element.set("style", f"fill:none;stroke:#555;stroke-width:{width}")
    return element


def _use(rng: random.Random, parent: etree._Element) -> etree._Element:
    return _shape(parent, "use", {XLINK + "href": f"#{an_id(rng)}"})


def _text(rng: random.Random, parent: etree._Element) -> etree._Element:
    element = _shape(parent, "text", {"x": a_number(rng), "y": a_number(rng)})
    element.text = rng.choice(("Happy", "", "光", "a & b"))
    return element


def _part(rng: random.Random, parent: etree._Element) -> etree._Element:
    attributes, features = rng.choice(PARTS)
    group = _shape(parent, "g", {UNDERLIT + key: value for key, value in attributes.items()})
    for feature, (x, y, width, height) in features.items():
        if rng.random() < 0.05:
            continue
        box = {"x": str(x), "y": str(y), "width": str(width), "height": str(height)}
        _shape(group, "rect", {**box, UNDERLIT + "feature": feature})
    group.set("transform", f"translate({rng.uniform(0, 140):.2f},{rng.uniform(0, 200):.2f})")
    return group


def _group(rng: random.Random, parent: etree._Element) -> etree._Element:
    group = _shape(parent, rng.choice(("g", "g", "a", "switch", "defs", "symbol", "svg")), {})
    if sum(1 for _ in group.iterancestors()) < 5:
        for _ in range(rng.randint(0, 3)):
            _add_thing(rng, group)
    return group


_THINGS: tuple[Callable[[random.Random, etree._Element], etree._Element], ...] = (
    _rect, _rect, _circle, _path, _path, _line, _line, _line, _use, _text, _part, _part, _group,
)  # fmt: skip


def _shape(parent: etree._Element, name: str, attributes: dict[str, str]) -> etree._Element:
    return etree.SubElement(parent, SVG + name, attributes)


def _odd_attribute(rng: random.Random, element: etree._Element) -> None:
    name, values = rng.choice(ATTRIBUTES)
    element.set(name, rng.choice(values))


def _any(rng: random.Random, root: etree._Element) -> etree._Element:
    return rng.choice(list(root.iter(SVG + "*")))


def _blow_attribute(rng: random.Random, root: etree._Element) -> None:
    _odd_attribute(rng, _any(rng, root))


def _blow_gone(rng: random.Random, root: etree._Element) -> None:
    element = _any(rng, root)
    if element is not root:
        element.getparent().remove(element)


def _blow_twice(rng: random.Random, root: etree._Element) -> None:
    element = _any(rng, root)
    if element is not root:
        element.addnext(copy.deepcopy(element))


def _blow_moved(rng: random.Random, root: etree._Element) -> None:
    element, target = _any(rng, root), _any(rng, root)
    if element is not root and element not in (*target.iterancestors(), target):
        target.append(element)


def _blow_turned(rng: random.Random, root: etree._Element) -> None:
    _any(rng, root).set("transform", a_transform(rng))


def _blow_value(rng: random.Random, root: etree._Element) -> None:
    """Another value for an attribute that is there."""
    element = _any(rng, root)
    if element.attrib:
        key = rng.choice(sorted(map(str, element.attrib)))
        element.set(key, rng.choice((a_number(rng), a_path(rng), an_id(rng), "", "nan", "#0")))


def _blow_no_id(rng: random.Random, root: etree._Element) -> None:
    for element in root.iter(SVG + "*"):
        if rng.random() < 0.3:
            element.attrib.pop("id", None)


def _blow_page(rng: random.Random, root: etree._Element) -> None:
    key = rng.choice(("width", "height", "viewBox", "preserveAspectRatio"))
    root.set(key, rng.choice(("90mm", "300", "0 0 300 300", "none", "xMaxYMin slice", "-1")))


def _blow_thing(rng: random.Random, root: etree._Element) -> None:
    _add_thing(rng, _any(rng, root))


_BLOWS: tuple[Callable[[random.Random, etree._Element], None], ...] = (
    _blow_attribute, _blow_attribute, _blow_gone, _blow_twice, _blow_moved, _blow_turned,
    _blow_value, _blow_no_id, _blow_page, _blow_thing, _blow_thing,
)  # fmt: skip
