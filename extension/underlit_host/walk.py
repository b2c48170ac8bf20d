"""The walk through a drawing: layers, groups, clones and shapes, in drawing order.

It keeps its own stack, so that depth costs no more than memory.
"""

from __future__ import annotations

from collections.abc import Mapping

from lxml import etree
from shapely.geometry.base import BaseGeometry

from underlit.errors import UnreadableDrawing
from underlit.language import say
from underlit.model.drawing import LABELS, TOOL_ROLES, Layer

from .clones import Viewport, clone_matrix, open_viewport, own_matrix
from .context import Context, handed_down, merged, own_attributes
from .found import FoundShape, Painter, paint_counts
from .lengths import Unreadable
from .names import CONTAINERS, LABEL, PICTURES, ROLE, SHAPES, SVG, TEXTS, UNDERLIT
from .paths import Outline
from .references import DEEPEST_CLONE, Census, References, href
from .register import Register
from .roles import IGNORE, is_layer, role_by_attribute, role_by_label
from .shapes import read_outline
from .styles import Cascade, Style, reference
from .transforms import Matrix, is_flat

_SYMBOL = SVG + "symbol"


class _Entered:
    """What an element adds to its context."""

    __slots__ = ("clip", "matrix", "own", "style")

    def __init__(
        self,
        own: Mapping[str, str],
        style: Style,
        matrix: Matrix,
        clip: BaseGeometry | None,
    ) -> None:
        self.own = own
        self.style = style
        self.matrix = matrix
        self.clip = clip


class Walk:
    """Collects what a drawing holds in its `register`, in drawing order."""

    def __init__(self, references: References, cascade: Cascade) -> None:
        self.register = Register(references)
        self.layers: list[Layer] = []
        self.remembered = ""
        self._references = references
        self._cascade = cascade
        self._painter = Painter(references)
        self._census = Census(references)
        self._clips: object = None
        self._cloned: dict[tuple[etree._Element, Viewport], Outline] = {}

    def read(self, root: etree._Element, context: Context) -> None:
        """Walk through everything below the root."""
        stack = [(child, context) for child in root.iterchildren(reversed=True)]
        while stack:
            element, context = stack.pop()
            tag = element.tag
            if not isinstance(tag, str) or not tag.startswith(SVG):
                continue
            name = tag[len(SVG) :]
            inside: Context | None = None
            if name in CONTAINERS or (name == "symbol" and context.frame is not None):
                inside = self._container(element, name, context)
            elif context.role is None and ROLE not in element.attrib:
                continue
            elif name in SHAPES:
                self._object(element, name, context)
            elif name == "use":
                stack += self._clone(element, context)
            elif name in TEXTS or name in PICTURES:
                self._skip(element, name, context)
            if inside is not None:
                stack += [(child, inside) for child in element.iterchildren(reversed=True)]

    # ---- what every element has ------------------------------------------------------------

    def _role(self, attributes: Mapping[str, str], context: Context) -> Context | None:
        """The context with the object's own role; None: not to be read."""
        if attributes.get("requiredExtensions", "").strip():
            return None  # a `switch` passes it over
        if ROLE in attributes:
            role = role_by_attribute(attributes)
            if role == IGNORE:
                return None
            if role is not None and not context.chain:
                context = context._replace(role=role, label=LABELS[role])
        return context if context.role not in {None, *TOOL_ROLES} else None

    def _enter(
        self,
        element: etree._Element,
        attributes: Mapping[str, str],
        context: Context,
        layer: bool = False,
    ) -> _Entered | None:
        """Style, map and clip of an element; None where it is not drawn (and says why)."""
        own = own_attributes(attributes, bool(context.chain))
        style = self._cascade.style(context.style, element, attributes)
        if layer:
            style = self._cascade.unhidden(style)
        elif context.role is not None and not style.displayed and element.tag != _SYMBOL:
            self.register.remark("hidden", element, context, own)
            return None
        if context.role is None:
            try:
                return _Entered(own, style, own_matrix(context.matrix, attributes), None)
            except Unreadable:
                return None
        if style.masked and self._is_mask(style):
            self.register.remark("masked", element, context, own)
            return None
        try:
            matrix = own_matrix(context.matrix, attributes)
            if is_flat(matrix):
                self.register.remark("flat", element, context, own, say("it is scaled to nothing"))
                return None
            clip = context.clip
            if style.clip is not None:
                clip = self._clip(style.clip, element, matrix, context)
        except Unreadable as fault:
            self.register.remark("unreadable", element, context, own, str(fault))
            return None
        return _Entered(own, style, matrix, clip)

    def _is_mask(self, style: Style) -> bool:
        return self._references.find(reference(style.own["mask"])) is not None

    def _clip(
        self, ident: str, element: etree._Element, matrix: Matrix, context: Context
    ) -> BaseGeometry | None:
        from .clips import Clips  # late: few drawings clip

        if not isinstance(self._clips, Clips):
            self._clips = Clips(self._references, self._cascade, self._census)
        area = self._clips.area(ident, element, matrix, context.viewport)
        if area is None or context.clip is None:
            return context.clip if area is None else area
        return context.clip.intersection(area)

    # ---- groups ----------------------------------------------------------------------------

    def _container(self, element: etree._Element, name: str, context: Context) -> Context | None:
        """The context of a group's children, None where they are not read."""
        attributes = dict(element.attrib.items())
        layer = False
        if ROLE in attributes or is_layer(attributes):
            if role_by_attribute(attributes) == IGNORE:
                return None
            if not context.chain:
                layer, context = self._layer(attributes, context)
        if attributes.get("requiredExtensions", "").strip():
            return None
        entered = self._enter(element, attributes, context, layer)
        if entered is None:
            return None
        matrix, viewport = entered.matrix, context.viewport
        if name in {"svg", "symbol"}:
            try:
                matrix, viewport = open_viewport(matrix, attributes, viewport, context.frame)
            except Unreadable as fault:
                self.register.remark("unreadable", element, context, entered.own, str(fault))
                return None
        part, opens = self.register.part(element, context, entered.own, matrix)
        own_name = self.register.parts[part].name if opens and part is not None else None
        return context._replace(
            matrix=matrix,
            style=entered.style,
            viewport=viewport,
            attributes=handed_down(context, entered.own, opens),
            clip=entered.clip,
            shown=context.shown and (layer or not entered.style.transparent),
            name=own_name or context.name,
            frame=None,
            part=part,
        )

    def _layer(self, attributes: Mapping[str, str], context: Context) -> tuple[bool, Context]:
        """Whether a group is a layer, and the context with its role and label."""
        by_attribute = role_by_attribute(attributes)
        if by_attribute is None and not is_layer(attributes):
            return False, context
        own = by_attribute or (role_by_label(attributes) if is_layer(attributes) else None)
        role = own or context.role
        label = attributes.get(LABEL, "")
        ident = attributes.get("id", "")
        self.layers.append(Layer(role, label, ident, by_attribute is not None))
        if role == "findings":
            self.remembered = attributes.get(UNDERLIT + "remembered", self.remembered)
        if role in TOOL_ROLES:
            role = None
        return True, context._replace(role=role, label=label.strip() or LABELS.get(role or "", ""))

    # ---- clones ----------------------------------------------------------------------------

    def _clone(
        self, element: etree._Element, context: Context
    ) -> list[tuple[etree._Element, Context]]:
        """What a clone draws, with its context."""
        attributes = dict(element.attrib.items())
        inner = self._role(attributes, context)
        entered = self._enter(element, attributes, inner) if inner else None
        if inner is None or entered is None:
            return []
        own, target = entered.own, self._references.find(href(element))
        if target is None:
            self.register.remark("clone-missing", element, inner, own)
            return []
        if target is element or target in inner.chain or target in set(element.iterancestors()):
            self.register.remark("clone-cycle", element, inner, own)
            return []
        if len(inner.chain) > 2 * DEEPEST_CLONE:
            raise UnreadableDrawing(
                say(
                    "This drawing has clones of clones more than {most} deep. Unlink some.",
                    most=DEEPEST_CLONE,
                )
            )
        if not inner.chain:
            self._census.add(target)
        try:
            matrix = clone_matrix(entered.matrix, attributes, inner.viewport)
        except Unreadable as fault:
            self.register.remark("unreadable", element, inner, own, str(fault))
            return []
        part, opens = inner.part, False
        if not inner.part_is_clone:
            part, opens = self.register.part(element, inner, own, matrix)
        name = self.register.name_of(part if opens else None, element, inner)
        self.register.check_id(name, element, inner, own)
        given = {key: value for key, value in own.items() if key != "role"}
        return [
            (
                target,
                inner._replace(
                    matrix=matrix,
                    style=entered.style,
                    override={**given, **inner.override},
                    clip=entered.clip,
                    shown=inner.shown and not entered.style.transparent,
                    name=name,
                    chain=(target, element, *inner.chain),
                    around=inner.around or inner.matrix,
                    frame=(attributes.get("width"), attributes.get("height")),
                    part=part,
                    part_is_clone=inner.part_is_clone or opens,
                ),
            )
        ]

    # ---- shapes ----------------------------------------------------------------------------

    def _object(self, element: etree._Element, tag: str, context: Context) -> None:
        attributes = dict(element.attrib.items())
        inner = self._role(attributes, context)
        entered = self._enter(element, attributes, inner) if inner else None
        if inner is None or entered is None or inner.role is None:
            return
        own, style = entered.own, entered.style
        if not style.visible:
            self.register.remark("hidden", element, inner, own)
            return
        try:
            outline = self._outline(element, tag, attributes, inner)
            paint = self._painter.paint(style, inner.viewport, inner.role == "tape")
        except Unreadable as fault:
            self.register.remark("unreadable", element, inner, own, str(fault))
            return
        if not outline:
            self.register.remark("no-size", element, inner, own)
            return
        part, opens = self.register.part(element, inner, own, entered.matrix)
        seen = inner.shown and not style.transparent
        painted = seen and (paint.filled or paint.width > 0.0)
        if paint_counts(inner.role, part) and not painted:
            self.register.remark("unpainted", element, inner, own)
            return
        name = self.register.name_of(part if opens else None, element, inner)
        self.register.check_id(name, element, inner, own)
        self.register.found.append(
            FoundShape(
                name,
                inner.role,
                tag,
                outline,
                entered.matrix,
                paint,
                entered.clip,
                merged(inner, own),
                part,
            )
        )

    def _outline(
        self, element: etree._Element, tag: str, attributes: Mapping[str, str], context: Context
    ) -> Outline:
        """What a shape draws; what is cloned is read once. Raises Unreadable."""
        if not context.chain:
            return read_outline(tag, attributes, context.viewport)
        key = (element, context.viewport)
        if key not in self._cloned:
            self._cloned[key] = read_outline(tag, attributes, context.viewport)
        return self._cloned[key]

    def _skip(self, element: etree._Element, tag: str, context: Context) -> None:
        """Text and pictures are never guessed at."""
        attributes = dict(element.attrib.items())
        inner = self._role(attributes, context)
        entered = self._enter(element, attributes, inner) if inner else None
        if inner is not None and entered is not None:
            kind = "text" if tag in TEXTS else "picture"
            self.register.remark(kind, element, inner, entered.own)
