"""Style sheets of a drawing: which declarations match which element.

Imported only where a drawing has a `style` element. A wrong rule is skipped, as CSS has it;
nothing is fetched (`@import` is not followed), and only rules for a screen or all media count.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import cssselect
import tinycss2
from lxml import etree

from .names import SVG
from .styles import PROPERTIES, Declarations

#: specificity, order, element's matches come by these
Ranked = tuple[tuple[int, int, int], int, Declarations]


class _Translator(cssselect.GenericTranslator):
    """Names of elements are those of SVG."""

    def xpath_element(self, selector: Any) -> Any:
        path = super().xpath_element(selector)
        if selector.element and path.element.isidentifier():
            path.element = f"svg:{path.element}"
        return path


def match_rules(root: etree._Element, sheets: Sequence[etree._Element]) -> dict[Any, list[Any]]:
    """Declarations by element, the strongest last. `!important` ones end in `!`."""
    ranked: dict[Any, list[Ranked]] = {}
    translator = _Translator()
    order = 0
    for sheet in sheets:
        if not _is_for_screen(sheet.get("media", "")):
            continue
        if sheet.get("type", "text/css").strip() not in {"", "text/css"}:
            continue
        for selector, declarations in _rules("".join(sheet.itertext())):
            order += 1
            for specificity, path in _paths(translator, selector):
                for element in root.xpath(path, namespaces={"svg": SVG[1:-1]}):
                    ranked.setdefault(element, []).append((specificity, order, declarations))
    return {
        element: [match[2] for match in sorted(matches, key=lambda match: match[:2])]
        for element, matches in ranked.items()
    }


def _is_for_screen(media: str) -> bool:
    words = {word.strip().lower() for word in media.split(",")}
    return bool(words & {"", "all", "screen"})


def _rules(text: str) -> Iterator[tuple[str, Declarations]]:
    """Selector and declarations of every rule that counts, in order."""
    waiting = list(tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True))
    while waiting:
        rule = waiting.pop(0)
        if rule.type == "at-rule" and rule.lower_at_keyword == "media" and rule.content:
            if _is_for_screen(tinycss2.serialize(rule.prelude)):
                inner = tinycss2.parse_rule_list(
                    rule.content, skip_comments=True, skip_whitespace=True
                )
                waiting = [*inner, *waiting]
        elif rule.type == "qualified-rule":
            declarations = _declarations(rule.content)
            if declarations:
                yield tinycss2.serialize(rule.prelude), declarations


def _declarations(content: Any) -> Declarations:
    found: dict[str, str] = {}
    for item in tinycss2.parse_blocks_contents(content, skip_comments=True, skip_whitespace=True):
        if item.type == "declaration" and item.lower_name in PROPERTIES:
            name = item.lower_name + ("!" if item.important else "")
            found[name] = tinycss2.serialize(item.value).strip()
    return found


def _paths(translator: _Translator, text: str) -> Iterator[tuple[tuple[int, int, int], str]]:
    """Specificity and XPath of each selector of a list; none where one of them is wrong."""
    try:
        selectors = cssselect.parse(text)
        found = [
            (selector.specificity(), translator.selector_to_xpath(selector))
            for selector in selectors
            if selector.pseudo_element is None
        ]
    except cssselect.SelectorError:
        return
    yield from found
