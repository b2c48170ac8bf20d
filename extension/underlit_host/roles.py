"""Which layer an element opens: by `underlit:role`, otherwise by the label of a layer."""

from __future__ import annotations

import re
from collections.abc import Mapping

from underlit.model.drawing import LABELS, ROLES

from .names import GROUPMODE, LABEL, ROLE

IGNORE = "ignore"

#: Role words and default labels, without case.
_WORDS = {label.casefold(): role for role, label in LABELS.items()} | {role: role for role in ROLES}

#: The editor ends the label of a second layer of one name so.
_SECOND = re.compile(r"\s+#\d+$")


def is_layer(attributes: Mapping[str, str]) -> bool:
    """Whether a group is a layer of the editor."""
    return attributes.get(GROUPMODE) == "layer"


def role_by_attribute(attributes: Mapping[str, str]) -> str | None:
    """The element's own role word (`ignore` included), None without a known one."""
    word = attributes.get(ROLE)
    if word is None:
        return None
    word = word.strip().lower()
    return word if word in LABELS or word == IGNORE else None


def role_by_label(attributes: Mapping[str, str]) -> str | None:
    """The role that a layer's label names, None without one."""
    label = attributes.get(LABEL, "").strip()
    return _WORDS.get(_SECOND.sub("", label).casefold())
