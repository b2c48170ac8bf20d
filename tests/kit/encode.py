"""Writes one card as SVG in many styles; each style draws the same thing."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from xml.sax.saxutils import quoteattr

from .card import Card, Outline, Part, Tape
from .draw import element, path_data
from .shapes import (
    IDENTITY,
    Affine,
    Line,
    Poly,
    compose,
    gentle,
    inverse,
    moved,
    scale_of,
    shift,
    stretch,
    stroke_outline,
    turn,
)

LABELS = {
    "die-cut": "Die cut",
    "base": "Base",
    "folds": "Folds",
    "lights": "Lights",
    "power": "Power",
    "tape": "Tape",
    "foam": "Foam",
    "cover": "Cover",
    "diffuser": "Diffuser",
}
UNITS = {"mm": 1.0, "px": 96 / 25.4, "tenth": 10.0, "inch": 1 / 25.4}


@dataclass(frozen=True)
class Style:
    """How the same drawing is written down."""

    unit: str = "mm"  # user unit: mm, px, tenth (of a millimetre), inch
    origin: tuple[float, float] = (0.0, 0.0)  # of the viewBox, in mm
    viewbox: bool = True  # False: only for px
    paths: str = "basic"  # basic, abs, rel, hv, compact
    strokes: str = "stroke"  # stroke, outline
    paint: str = "attributes"  # attributes, style, class, inherit
    layers: str = "role"  # role, label, split
    nest: str = "flat"  # flat, groups, nested
    parts: str = "groups"  # groups, baked, clones, clone-chain, symbols
    die: str = "objects"  # objects, compound
    ids: str = "plain"  # plain, shuffled
    noise: bool = False  # layers and objects that must not be read


STYLES: dict[str, Style] = {
    "plain": Style(),
    "px": Style(unit="px", viewbox=False, paint="style"),
    "px-viewbox": Style(unit="px", paths="abs", paint="class"),
    "tenths": Style(unit="tenth", paths="rel", layers="label"),
    "inches": Style(unit="inch", paths="abs", paint="inherit"),
    "offset": Style(origin=(13.7, -42.1), paths="hv", layers="label"),
    "nested": Style(nest="nested", paint="style", parts="groups"),
    "nested-px": Style(unit="px", nest="nested", paths="rel", parts="baked"),
    "groups": Style(nest="groups", paint="inherit", layers="split"),
    "clones": Style(parts="clones", paths="abs"),
    "clone-chain": Style(parts="clone-chain", nest="nested", unit="px"),
    "symbols": Style(parts="symbols", paint="class", layers="label"),
    "outlines": Style(strokes="outline", paths="abs", die="compound"),
    "outlines-nested": Style(strokes="outline", paths="hv", nest="nested", parts="clones"),
    "compact": Style(paths="compact", parts="baked", die="compound"),
    "shuffled": Style(ids="shuffled", layers="split", parts="baked"),
    "noise": Style(noise=True, layers="label", nest="groups"),
    "all-at-once": Style(
        unit="px",
        origin=(-7.0, 3.5),
        paths="compact",
        strokes="outline",
        paint="class",
        layers="label",
        nest="nested",
        parts="symbols",
        die="compound",
        ids="shuffled",
        noise=True,
    ),
}


class _Writer:
    """Collects the text of one drawing."""

    def __init__(self, card: Card, style: Style, seed: int) -> None:
        self.card, self.style = card, style
        self.rng = random.Random(seed)
        self.unit = UNITS[style.unit]
        page = compose(stretch(self.unit, self.unit), shift(*style.origin))
        self.user: Affine = compose(page, card.motion)
        self.defs: list[str] = []
        self.classes: dict[str, str] = {}
        self.names = self._names()

    def _names(self) -> dict[str, str]:
        c = self.card
        outlines = c.die_cut + c.base + c.foam + c.cover + c.diffuser
        ids = [o.id for o in (*outlines, *c.folds, *c.parts, *c.tape)]
        if len(set(ids)) != len(ids):
            raise ValueError("ids of a card must differ")
        new = [f"n{k}" for k in range(len(ids))]
        self.rng.shuffle(new)
        return dict(zip(ids, new if self.style.ids == "shuffled" else ids, strict=True))

    def tag(self, name: str, attrs: dict[str, str], inner: str = "") -> str:
        text = "".join(f" {k}={quoteattr(v)}" for k, v in attrs.items())
        return f"<{name}{text}>{inner}</{name}>" if inner else f"<{name}{text}/>"

    def painted(self, name: str, attrs: dict[str, str], paint: dict[str, str]) -> str:
        """An element with its paint as attributes, style, CSS class or inherited."""
        match self.style.paint:
            case "attributes":
                return self.tag(name, attrs | paint)
            case "inherit":
                return self.tag("g", paint, self.tag(name, attrs))
        css = ";".join(f"{k}:{v}" for k, v in paint.items())
        if self.style.paint == "style":
            return self.tag(name, attrs | {"style": css})
        return self.tag(name, attrs | {"class": self.classes.setdefault(css, self.fresh("c"))})

    def fresh(self, letter: str) -> str:
        return f"{letter}{len(self.classes)}-{len(self.defs)}"

    def referring(self, attrs: tuple[tuple[str, str], ...]) -> tuple[tuple[str, str], ...]:
        """A fold's attributes with the cell's name in the file."""
        return tuple((k, self.names[v] if k == "folds" else v) for k, v in attrs)

    # -- objects ---------------------------------------------------------------------------

    def outline(self, item: Outline, local: Affine) -> str:
        name, attrs = element(moved(item.shape, local), self.style.paths)
        own = {f"underlit:{k}": v for k, v in item.attrs}
        paint = {"fill": "none", "stroke": "#888", "stroke-width": "0.1"}
        return self.painted(name, {"id": self.names[item.id]} | attrs | own, paint)

    def compound(self, items: tuple[Outline, ...], local: Affine) -> str:
        d = " ".join(path_data(moved(i.shape, local), self.style.paths) for i in items)
        paint = {"fill": "#eee", "fill-rule": "evenodd"}
        return self.painted("path", {"id": self.names[items[0].id], "d": d}, paint)

    def tape(self, item: Tape, local: Affine) -> str:
        name, attrs, paint = self.tape_geometry(item, local)
        own = {f"underlit:{k}": v for k, v in item.attrs}
        if item.patch:
            own["underlit:part"] = "patch"
        if item.clip is not None:
            clip = f"clip-{self.names[item.id]}"
            inner = self.tag("path", {"d": path_data(moved(item.clip, local), "abs")})
            self.defs.append(self.tag("clipPath", {"id": clip}, inner))
            own["clip-path"] = f"url(#{clip})"
        id_ = self.names[item.id]
        if not item.cloned:
            return self.painted(name, {"id": id_} | attrs | own, paint)
        return self.cloned_tape(item, name, attrs | own, paint)

    def cloned_tape(
        self, item: Tape, name: str, attrs: dict[str, str], paint: dict[str, str]
    ) -> str:
        """The object in the defs and `item.cloned` clones in a row, the last one in the layer."""
        id_, back = self.names[item.id], IDENTITY
        source = f"{id_}-original"
        self.defs.append(self.tag(name, {"id": source} | attrs | paint))
        for k in range(item.cloned):
            last = k + 1 == item.cloned
            step = compose(shift(3.0 + k, -2.0), turn(20.0 + 10 * k))
            use = {"id": id_ if last else f"{id_}-clone-{k}", "xlink:href": f"#{source}"}
            if last:
                use["transform"] = matrix(inverse(back))
                return self.tag("use", use)
            self.defs.append(self.tag("use", use | {"transform": matrix(step)}))
            back, source = compose(step, back), use["id"]
        raise AssertionError("unreachable")

    def tape_geometry(
        self, item: Tape, local: Affine
    ) -> tuple[str, dict[str, str], dict[str, str]]:
        shapes = item.shapes
        lines = [s for s in shapes if isinstance(s, Line)]
        alike = len(lines) == len(shapes) and len({(s.width, s.cap) for s in lines}) == 1
        outlined = self.style.strokes == "outline" and all(
            s.cap == "butt" and gentle(s) for s in lines
        )
        if not alike or outlined:
            shapes = tuple(Poly(stroke_outline(s)) if isinstance(s, Line) else s for s in shapes)
            paint = {"fill": "#b87333", "stroke": "none"}
        else:
            width = number(lines[0].width * scale_of(local))
            paint = {"fill": "none", "stroke": "#b87333", "stroke-width": width}
            if lines[0].cap != "butt":
                paint["stroke-linecap"] = lines[0].cap
        placed = [moved(s, local) for s in shapes]
        if len(placed) == 1:
            name, attrs = element(placed[0], self.style.paths)
        else:
            name, attrs = "path", {"d": " ".join(path_data(s, self.style.paths) for s in placed)}
        return name, attrs, paint

    # -- parts -----------------------------------------------------------------------------

    def features(self, part: Part, local: Affine, prefix: str | None) -> str:
        out = []
        for name, shape in part.features:
            tag, attrs = element(moved(shape, local), self.style.paths)
            own = {"underlit:feature": name}
            if prefix:
                own["id"] = f"{prefix}-{name}"
            colour = {"fill": "#ddd" if name == "body" else "#c80", "stroke": "none"}
            out.append(self.painted(tag, own | attrs, colour))
        return "".join(out)

    def part_attrs(self, part: Part) -> dict[str, str]:
        return {"underlit:part": part.kind} | {f"underlit:{k}": v for k, v in part.attrs}

    def part(self, part: Part, local: Affine) -> str:
        """A group with its own frame, or one with all coordinates written out."""
        id_ = self.names[part.id]
        frame = compose(local, part.frame)
        if self.style.parts == "baked":
            own = {"id": id_} | self.part_attrs(part)
            return self.tag("g", own, self.features(part, frame, None))
        unit = scale_of(local)
        own = {"id": id_, "transform": matrix(compose(frame, stretch(1 / unit, 1 / unit)))}
        inner = self.features(part, stretch(unit, unit), id_)
        return self.tag("g", own | self.part_attrs(part), inner)

    def parts(self, items: tuple[Part, ...], local: Affine) -> list[str]:
        if self.style.parts in ("groups", "baked"):
            return [self.part(p, local) for p in items]
        if self.style.parts == "symbols":
            return [self.symbol_use(p, local) for p in items]
        return self.clones(items, local)

    def clones(self, items: tuple[Part, ...], local: Affine) -> list[str]:
        out: list[str] = []
        first: dict[object, Part] = {}
        for p in items:
            key = (p.kind, p.features, p.attrs)
            source = first.get(key)
            if source is None:
                out.append(self.part(p, local))
                first[key] = p
                continue
            frames = compose(local, p.frame), compose(local, source.frame)
            step = compose(compose(frames[0], inverse(frames[1])), shift(-1.5, 2.0))
            attrs = {"id": self.names[p.id], "xlink:href": f"#{self.names[source.id]}"}
            out.append(self.tag("use", attrs | {"x": "1.5", "y": "-2", "transform": matrix(step)}))
            if self.style.parts == "clone-chain":
                first[key] = p
        return out

    def symbol_use(self, part: Part, local: Affine) -> str:
        key = repr((part.kind, part.features, part.attrs))
        name = self.classes.get(f"symbol {key}")
        unit = scale_of(local)
        if name is None:
            name = f"symbol-{len(self.classes)}"
            self.classes[f"symbol {key}"] = name
            inner = self.features(
                part, compose(shift(30 * unit, 30 * unit), stretch(unit, unit)), None
            )
            group = self.tag("g", self.part_attrs(part), inner)
            self.defs.append(self.tag("symbol", {"id": name, "style": "overflow:visible"}, group))
        frame = compose(compose(local, part.frame), stretch(1 / unit, 1 / unit))
        frame = compose(frame, shift(-30 * unit, -30 * unit))
        use = {"id": self.names[part.id], "xlink:href": f"#{name}", "transform": matrix(frame)}
        return self.tag("use", use)

    # -- layers ----------------------------------------------------------------------------

    def layer(self, role: str, draw: object) -> str:
        """One layer; `draw` is called with the map from card to the innermost group's frame."""
        outer, inner = IDENTITY, IDENTITY
        if self.style.nest == "nested":
            r = self.rng
            outer = compose(shift(r.uniform(-9, 9), r.uniform(-9, 9)), turn(r.uniform(-180, 180)))
            size = r.choice((0.5, 2.0, 3.7))
            inner = compose(turn(r.uniform(-90, 90)), stretch(size, size))
        local = compose(inverse(compose(outer, inner)), self.user)
        items: list[str] = draw(local)  # type: ignore[operator]
        if self.style.layers == "split" and len(items) > 2:
            half = len(items) // 2
            return self.layer_group(role, outer, inner, items[:half], "") + self.layer_group(
                role, outer, inner, items[half:], "-2"
            )
        return self.layer_group(role, outer, inner, items, "")

    def layer_group(
        self, role: str, outer: Affine, inner: Affine, items: list[str], suffix: str
    ) -> str:
        attrs = {"id": f"layer-{role}{suffix}"}
        if self.style.layers == "label":
            attrs |= {"inkscape:groupmode": "layer", "inkscape:label": f" {LABELS[role].upper()} "}
        else:
            attrs |= {"underlit:role": role, "inkscape:label": "Ebene 4"}
        text = "\n".join(items)
        if self.style.nest == "groups":
            text = "".join(self.tag("g", {}, self.tag("g", {}, i)) for i in items)
        elif self.style.nest == "nested":
            attrs["transform"] = matrix(outer)
            text = self.tag("g", {"transform": matrix(inner)}, text)
        if self.style.noise and role == "tape":
            text = noise_in_tape(self) + text
        return self.tag("g", attrs, text)

    def document(self) -> str:
        c, style = self.card, self.style
        layers = []
        for role in ("die-cut", "base", "folds", "foam", "cover", "diffuser"):
            items = getattr(c, role.replace("-", "_"))
            if not items:
                continue
            layers.append(self.layer(role, lambda m, r=role, i=items: self.sheet(r, i, m)))
        for role in ("power", "tape", "lights"):
            items = getattr(c, role)
            if role == "tape":
                layers.append(self.layer(role, lambda m, i=items: [self.tape(t, m) for t in i]))
            elif items:
                layers.append(self.layer(role, lambda m, i=items: self.parts(i, m)))
        if style.noise:
            layers.insert(0, noise_layer(self))
        return self.page("\n".join(layers))

    def sheet(self, role: str, items: tuple, local: Affine) -> list[str]:  # type: ignore[type-arg]
        if role == "folds":
            return [
                self.outline(
                    Outline(f.id, Line((f.start, f.end), 0.2), self.referring(f.attrs)), local
                )
                for f in items
            ]
        if role == "die-cut" and self.style.die == "compound" and len(items) > 1:
            return [self.compound(items, local)]
        return [self.outline(o, local) for o in items]

    def page(self, inner: str) -> str:
        w, h = self.card.page
        k = self.unit
        x, y = self.style.origin
        size = {"width": f"{number(w)}mm", "height": f"{number(h)}mm"}
        if not self.style.viewbox:
            size = {"width": number(w * k), "height": number(h * k)}
        else:
            size["viewBox"] = " ".join(number(v * k) for v in (x, y, w, h))
        rules = [f".{n}{{{t}}}" for t, n in self.classes.items() if not t.startswith("symbol ")]
        sheet = self.tag("style", {}, "\n".join(rules)) if rules else ""
        defs = self.tag("defs", {}, "\n".join(self.defs)) if self.defs else ""
        root = {
            "xmlns": "http://www.w3.org/2000/svg",
            "xmlns:xlink": "http://www.w3.org/1999/xlink",
            "xmlns:inkscape": "http://www.inkscape.org/namespaces/inkscape",
            "xmlns:underlit": "urn:underlit:card:1",
            "version": "1.1",
        } | {f"underlit:{k}": v for k, v in self.card.attrs}
        return self.tag("svg", root | size, f"\n{sheet}{defs}{inner}\n") + "\n"


def noise_layer(writer: _Writer) -> str:
    """A picture layer over the whole page that must not be read."""
    w, h = (v * writer.unit for v in writer.card.page)
    shapes = writer.tag("rect", {"width": number(w), "height": number(h), "fill": "#fe8"})
    words = writer.tag("text", {"x": "5", "y": "9"}, "Harbour Lane")
    attrs = {"inkscape:groupmode": "layer", "inkscape:label": "Background picture"}
    return writer.tag("g", attrs, shapes + words)


def noise_in_tape(writer: _Writer) -> str:
    """A big filled shape in the tape layer, marked to be ignored."""
    w, h = (v * writer.unit for v in writer.card.page)
    shape = writer.tag("rect", {"width": number(w), "height": number(h), "fill": "#123"})
    return writer.tag("g", {"underlit:role": "ignore"}, shape)


def number(v: float) -> str:
    return f"{v:.7f}".rstrip("0").rstrip(".") if v % 1 else f"{v:.0f}"


def matrix(m: Affine) -> str:
    return "matrix({})".format(",".join(f"{v:.10g}" for v in m))


def encode(card: Card, style: Style | str = "plain", seed: int = 0) -> tuple[str, dict[str, str]]:
    """The SVG text and the map from the card's ids to the ids in the file."""
    writer = _Writer(card, STYLES[style] if isinstance(style, str) else style, seed)
    return writer.document(), writer.names


def svg(card: Card, style: Style | str = "plain", seed: int = 0) -> str:
    return encode(card, style, seed)[0]


def styled(base: str, **changes: object) -> Style:
    return replace(STYLES[base], **changes)  # type: ignore[arg-type]
