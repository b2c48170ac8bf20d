"""Every menu entry: valid, named as the host wants it, paired with its script."""

from __future__ import annotations

import argparse
import importlib.util
from pathlib import Path

import inkex.tester
import pytest
from lxml import etree

import underlit_host
from underlit.profiles import shipped_names
from underlit_host.action import Action

EXTENSION = Path(underlit_host.__file__).parent.parent
EVERY = sorted(EXTENSION.glob("*.inx"))
ENTRIES = [path for path in EVERY if "<effect" in path.read_text(encoding="utf-8")]
COPIES = [path for path in EVERY if path not in ENTRIES]
SCHEMA = Path(inkex.tester.__file__).parent / "inkscape.extension.rng"

INX = {"x": "http://www.inkscape.org/namespace/inkscape/extension"}


def texts(entry: Path, path: str) -> list[str]:
    return [str(text) for text in etree.parse(str(entry)).xpath(path, namespaces=INX)]


def action_of(entry: Path) -> type[Action]:
    """The action class that an entry's script defines."""
    spec = importlib.util.spec_from_file_location(entry.stem, entry.with_suffix(".py"))
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    (kind,) = (
        thing
        for thing in vars(module).values()
        if isinstance(thing, type) and issubclass(thing, Action) and thing is not Action
    )
    return kind


def test_there_is_an_entry() -> None:
    assert ENTRIES


@pytest.mark.parametrize("entry", COPIES, ids=lambda path: path.name)
def test_kinds_of_save_a_copy_are_valid_and_have_no_dialog(entry: Path) -> None:
    schema = etree.RelaxNG(etree.parse(str(SCHEMA)))
    assert schema.validate(etree.parse(str(entry))), schema.error_log
    assert texts(entry, "/*/x:id/text()") == [f"org.underlit.{entry.stem.replace('_', '-')}"]
    (ending,) = texts(entry, "//x:output/x:extension/text()")
    assert ending.count(".") == 2  # not the host's own kind: that stays the default for it
    assert texts(entry, "//x:param/@name") == []  # a dialog hangs the command line
    assert texts(entry, "//x:command/text()") == [f"{entry.stem}.py"]


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda path: path.name)
class TestEntry:
    def test_follows_the_hosts_schema(self, entry: Path) -> None:
        schema = etree.RelaxNG(etree.parse(str(SCHEMA)))
        assert schema.validate(etree.parse(str(entry))), schema.error_log

    def test_id_becomes_the_name_of_an_action(self, entry: Path) -> None:
        (name,) = texts(entry, "/*/x:id/text()")
        assert name == f"org.underlit.{entry.stem.replace('_', '-')}"

    def test_stands_in_our_submenu(self, entry: Path) -> None:
        assert texts(entry, "//x:submenu/@name") == ["Underlit"]
        assert texts(entry, "/*/@translationdomain") == ["underlit"]
        assert texts(entry, "//x:effect/@needs-live-preview") == ["false"]

    def test_starts_the_script_of_its_own_name(self, entry: Path) -> None:
        (command,) = etree.parse(str(entry)).xpath("//x:command", namespaces=INX)
        assert command.text == f"{entry.stem}.py"
        assert dict(command.attrib) == {"location": "inx", "interpreter": "python"}
        lines = entry.with_suffix(".py").read_text(encoding="utf-8").splitlines()
        assert len(lines) < 60

    def test_every_option_of_the_dialog_is_known_and_explained(self, entry: Path) -> None:
        parser = argparse.ArgumentParser()
        kind = action_of(entry)
        kind.add_arguments(kind.__new__(kind), parser)
        known = {text for action in parser._actions for text in action.option_strings}
        params = etree.parse(str(entry)).xpath("//x:param", namespaces=INX)
        assert {f"--{param.get('name')}" for param in params} <= known
        for param in params:
            if param.get("type") != "notebook" and param.get("gui-hidden") != "true":
                assert param.get("gui-text")
                assert param.get("gui-description")

    def test_numbers_have_limits_and_a_unit(self, entry: Path) -> None:
        params = etree.parse(str(entry)).xpath("//x:param", namespaces=INX)
        for param in params:
            if param.get("type") in ("int", "float"):
                assert float(param.get("min")) < float(param.get("max"))
                words = param.get("gui-text")
                assert "(" in words or words.startswith("How many"), words

    def test_offers_every_shipped_profile(self, entry: Path) -> None:
        offered = texts(entry, "//x:param[@name='profile']/x:option/@value")
        assert offered in ([], ["", *shipped_names()])

    def test_help_page(self, entry: Path) -> None:
        """Every dialog has one; an entry that asks nothing opens no dialog."""
        asks = texts(entry, "//x:param[not(@gui-hidden='true')]/@name")
        assert texts(entry, "//x:page/@name") == (["options", "help"] if asks else [])
        assert bool(asks) == (entry.name != "make_it_light.inx")
