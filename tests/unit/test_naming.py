"""What parts are called, in each form that sentences need, in English and in German."""

from __future__ import annotations

import pytest

from underlit.model.naming import ALONE, AT, INNER, OF, Forms, named

ENGLISH = [
    ("light", ALONE, "Light 2", "Light 2"),
    ("light", INNER, "light 2", "light 2"),
    ("cell", ALONE, "Battery", "Battery 2"),
    ("cell", INNER, "the battery", "battery 2"),
    ("switch", OF, "of the switch", "of switch 2"),
    ("pull-tab", AT, "at the pull tab", "at pull tab 2"),
]

GERMAN = [
    ("light", OF, "von Licht 2", "von Licht 2"),
    ("cell", INNER, "die Batterie", "Batterie 2"),
    ("cell", OF, "der Batterie", "von Batterie 2"),
    ("switch", INNER, "der Schalter", "Schalter 2"),
    ("switch", OF, "des Schalters", "von Schalter 2"),
    ("resistor", AT, "beim Widerstand", "bei Widerstand 2"),
]


@pytest.mark.parametrize(("kind", "forms", "alone", "numbered"), ENGLISH)
def test_names(kind: str, forms: Forms, alone: str, numbered: str) -> None:
    assert named(kind, 2, True, forms) == alone
    assert named(kind, 2, False, forms) == numbered


@pytest.mark.usefixtures("german")
@pytest.mark.parametrize(("kind", "forms", "alone", "numbered"), GERMAN)
def test_german_bends_them(kind: str, forms: Forms, alone: str, numbered: str) -> None:
    assert named(kind, 2, True, forms) == alone
    assert named(kind, 2, False, forms) == numbered


def test_every_kind_has_every_form() -> None:
    assert len({frozenset(forms) for forms in (ALONE, INNER, OF, AT)}) == 1
