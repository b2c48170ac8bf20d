"""What parts are called, in each form that sentences need, in English and in German."""

from __future__ import annotations

import pytest

from underlit.model.naming import ALONE, AT, INNER, OF, Forms, by_program, named

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


@pytest.mark.parametrize(
    "name",
    ["circle42", "path1234", "rect5-3", "path123-4-5", "g12", "use3", "Layer_1", "XMLID_12_",
     "Vector", "Rectangle 7", "path", "1234", "polygon1-9", "path-effect12", "Ellipse_2"],
)  # fmt: skip
def test_ids_of_drawing_programs_mean_nothing(name: str) -> None:
    assert by_program(name)


@pytest.mark.parametrize(
    "name",
    ["moon", "Moon 2", "window-3", "heart1", "pathway", "star of hope", "circle", "line up 3"],
)
def test_names_of_makers_are_kept(name: str) -> None:
    assert not by_program(name)
