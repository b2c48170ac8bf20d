"""The frame of every action: options, reading, profile, writing back, words, exit codes.

In the editor (no `--output`) the host passes a file and takes the drawing from standard output;
any byte on standard error opens a box, so that is where the closing message goes, last, where the
host runs us or `--tell true` asks for it. From a shell `--output` names a file: a short summary
on standard output, nothing on standard error. A fault of the run is one sentence on standard
error, exit code 1, and no file is touched.
"""

from __future__ import annotations

import io
import os
import sys
import warnings
from contextlib import suppress
from typing import TYPE_CHECKING, NoReturn, Protocol

import inkex
import shapely
from lxml import etree

from underlit import __version__
from underlit.errors import UnderlitError, UnknownChoice, UnreadableDrawing, UnwritableTarget
from underlit.language import begun, say
from underlit.profiles import load_profile, shipped_names

from .files import check_distinct, no_drawing, read_bytes, reason, where_saved, write_all
from .first_look import check_bytes
from .layers import is_shown
from .names import UNDERLIT, is_numbered
from .read_drawing import read_drawing
from .selecting import in_editor, select_later

if TYPE_CHECKING:
    from argparse import ArgumentParser
    from collections.abc import Callable, Collection, Mapping, Sequence

    from underlit.model.drawing import Drawing
    from underlit.profiles import Profile

warnings.simplefilter("ignore")  # importing inkex turns them on, and each would open a box

etree.register_namespace("underlit", UNDERLIT[1:-1])

#: The libraries whose older versions can be imported and silently mean something else.
OLDEST = ((shapely, (2, 1)), (inkex, (1, 4)))

for _module, _needed in OLDEST:
    if tuple(int(part) for part in _module.__version__.split(".")[:2]) < _needed:
        raise ImportError(  # said by the launcher
            f"its Python environment has {_module.__name__} {_module.__version__}, which is too old"
        )


class Outcome(Protocol):
    """What the workflow of an action gives back."""

    @property
    def report(self) -> Mapping[str, object]:
        """The report, ready for JSON."""

    @property
    def summary(self) -> str:
        """Plain text for a shell."""

    @property
    def message(self) -> str:
        """Closing words in the editor."""

    @property
    def select(self) -> Sequence[str]:
        """Ids of what the editor shall select afterwards, where it can."""


class Action(inkex.EffectExtension):
    """Base of the action scripts: `work` decides, `draw` puts the outcome on the drawing.

    `over_glow`: what it draws lies over the picture of the glow, or is that picture.
    """

    over_glow = False

    def add_arguments(self, pars: ArgumentParser) -> None:
        """Options that every action has."""
        pars.allow_abbrev = False
        pars.error = _refuse
        pars.add_argument("--report", default="", help="write the report to this JSON file")
        pars.add_argument("--profile", default="", help="name or file of a profile")
        pars.add_argument("--profile-file", default="", help="file of a profile (goes first)")
        pars.add_argument("--tell", type=yes_or_no("--tell"), default=None, help="say so when done")
        pars.add_argument("--tab", default="", help="page of the dialog (no meaning)")
        self.add_options(pars)

    def parse_arguments(self, args: list[str]) -> None:
        """Options of a shell or the dialog; unknown ones are told before any file is looked for."""
        super().parse_arguments(_readable(self.arg_parser, args))

    def add_options(self, pars: ArgumentParser) -> None:
        """Further options of one action."""

    def arrange(self) -> None:
        """Change roles on `self.svg` as the options say, before the drawing is read."""

    def work(self, drawing: Drawing, profile: Profile) -> Outcome:
        """The workflow of the action."""
        raise NotImplementedError

    def extra_files(self, outcome: Outcome) -> Mapping[str, bytes]:
        """Further files to write (path -> bytes), all or none together with the drawing."""
        return {}

    def draw(self, root: etree._Element, drawing: Drawing, outcome: Outcome) -> None:
        """Put the outcome on the drawing."""
        raise NotImplementedError

    def main(self) -> NoReturn:
        """Run as a script. Ends at once: taking Python apart costs a tenth of a short run."""
        code = self.run()
        for stream in (sys.stdout, sys.stderr):
            if stream is not None:  # closed by whoever started us
                with suppress(OSError):
                    stream.flush()
        os._exit(code)

    def run(  # type: ignore[override]
        self, args: Sequence[str] | None = None, output: object = None
    ) -> int:
        """Run the action; returns the exit code. `output` is there for the host's signature."""
        try:
            self.parse_arguments(sys.argv[1:] if args is None else list(args))
            self._run()
        except (UnderlitError, inkex.AbortExtension) as fault:
            return _complain(" ".join(str(fault).split()))
        except KeyboardInterrupt:
            return _complain(say("Stopped. No file was changed."))
        except Exception as fault:  # noqa: BLE001 - no traceback may reach a maker
            return _complain(unexpected(fault, type(self).__name__))
        return 0

    def _run(self) -> None:
        options = self.options
        if options.report and options.input_file:
            check_distinct(options.input_file, options.report)
        if options.report and options.output:
            check_distinct(options.output, options.report)
        self.data = _read(options.input_file)
        check_bytes(self.data)
        self.document = parse(self.data)
        self.svg = self.document.getroot()
        _check_ids(self.svg, options.ids)
        self.arrange()
        path = drawing_path(options.input_file, options.output)
        drawing = read_drawing(self.document, os.path.basename(path))
        outcome = self.work(drawing, self._profile(drawing, os.path.dirname(path)))
        self.draw(self.svg, drawing, outcome)
        self._hand_back(outcome)

    def _below_glow(self) -> str:
        """What hides the work that was done, where something does."""
        if self.over_glow or not is_shown(self.svg, "glow"):
            return ""
        return say(
            "The picture on the layer Glow lies over it: click the eye of that layer to see what "
            "was drawn."
        )

    def _profile(self, drawing: Drawing, folder: str) -> Profile:
        """The profile asked for, else the drawing's own; what was asked for is stored."""
        asked = self.asked_profile()
        output = self.options.output
        target = os.path.dirname(os.path.abspath(output)) if output else folder
        if not asked:
            profile = load_profile(drawing.profile, drawing.settings, folder or None)
            if target != folder and drawing.profile and drawing.profile not in shipped_names():
                own = os.path.abspath(os.path.join(folder, os.path.expanduser(drawing.profile)))
                self.svg.set(UNDERLIT + "profile", _to_store(own, target))
            return profile
        profile = load_profile(asked, drawing.settings, folder or None)
        self.svg.set(UNDERLIT + "profile", _to_store(asked, target))
        return profile

    def asked_profile(self) -> str:
        """The profile of the options: a name, the whole path of a file, or "" for the drawing's."""
        asked: str = self.options.profile_file or self.options.profile
        if asked and asked not in shipped_names() and os.path.isfile(os.path.expanduser(asked)):
            return os.path.abspath(os.path.expanduser(asked))
        return asked

    def _hand_back(self, outcome: Outcome) -> None:
        options = self.options
        drawn = _as_bytes(self.document)
        files = dict(self.extra_files(outcome))
        saved = where_saved(list(files))
        for path in files:
            for other in (options.input_file, options.report, options.output):
                if other:
                    check_distinct(other, path)
        if options.report:
            files[options.report] = _to_json(outcome.report)
        if options.output is None:
            write_all(files)
            unchanged = in_editor() and drawn == _as_bytes(parse(self.data))
            if not unchanged:
                _hand_over(drawn)  # where nothing comes, the host changes nothing: no undo step
            select_later(options.input_file, outcome.select)
            tell = in_editor() if options.tell is None else options.tell
            if tell:
                below = "" if unchanged else self._below_glow()
                inkex.errormsg("\n".join(filter(None, (outcome.message, saved, below))))
            return
        write_all({**files, options.output: drawn})
        words = outcome.summary.splitlines()
        if options.tell:
            words += [line for line in outcome.message.splitlines() if line not in words]
        if sys.stdout is None:  # closed by whoever started us
            return
        with suppress(OSError):  # a pipe that nobody reads any more: the files are written
            sys.stdout.reconfigure(errors="replace")  # type: ignore[union-attr]
            print(*words, sep="\n", flush=True)


def parse(data: bytes) -> etree._ElementTree:
    """The document with inkex's element classes. No recovery, no network, no external files."""
    parser = etree.XMLParser(huge_tree=True, strip_cdata=False, no_network=True, load_dtd=False)
    parser.set_element_class_lookup(inkex.elements._parser.NodeBasedLookup())
    try:
        return etree.parse(io.BytesIO(data), parser)
    except etree.XMLSyntaxError:
        raise UnreadableDrawing(say("This file is no drawing that I can read.")) from None


def _as_bytes(document: etree._ElementTree) -> bytes:
    return etree.tostring(document, encoding="UTF-8", xml_declaration=True)


def _hand_over(drawn: bytes) -> None:
    if sys.stdout is None:
        raise UnwritableTarget(say("There is nowhere to hand the drawing to; use --output FILE."))
    try:
        sys.stdout.buffer.write(drawn)
        sys.stdout.flush()
    except OSError as fault:
        words = say("The drawing could not be handed over: {reason}.", reason=reason(fault))
        raise UnwritableTarget(words) from None


def drawing_path(source: str | None, output: str | None) -> str:
    """Where the drawing lies: in the editor the host says so, since it passes a copy."""
    if output is None:
        return os.environ.get("DOCUMENT_PATH", "") or ""
    return os.path.abspath(source) if source else ""


def unexpected(fault: BaseException, action: str) -> str:
    """What to send in after a fault of our own: no path of the maker's folders in it."""
    return say(
        "Something went wrong inside Underlit; your drawing is unchanged. Please send us this "
        "line and, if you can, the drawing: {fault} at {place}, {action}, version {version}.",
        fault=type(fault).__name__,
        place=_place(fault),
        action=action,
        version=__version__,
    )


def _place(fault: BaseException) -> str:
    """File and line of the last step inside our own code."""
    ours = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
    place = "start"
    trace = fault.__traceback__
    while trace is not None:
        path = os.path.abspath(trace.tb_frame.f_code.co_filename)
        if path.startswith(ours + os.sep):
            place = f"{os.path.relpath(path, ours).replace(os.sep, '/')}:{trace.tb_lineno}"
        trace = trace.tb_next
    return place


def _read(path: str | None) -> bytes:
    if path is not None:
        return read_bytes(path)
    if sys.stdin is None or sys.stdin.isatty():
        raise UnreadableDrawing(say("Name a drawing: the SVG file of a card."))
    return sys.stdin.buffer.read()


def _check_ids(root: etree._Element, asked: Sequence[str]) -> None:
    """Raise UnknownChoice for an id that the drawing lacks and that is no name given by us."""
    known = set(root.xpath("//@id")) if asked else set()
    for name in asked:
        if not name.strip():
            raise UnknownChoice(say("--id is empty: name the id of an object or leave it out."))
        if name not in known and not _is_ours(name, known):
            raise UnknownChoice(say("Nothing in this drawing has the id {name}.", name=name))


def _is_ours(name: str, known: Collection[str]) -> bool:
    """Whether it may name a part of an object, or an object without an id."""
    whole = name.rpartition("#")[0]
    return whole in known or is_numbered(name) or is_numbered(whole)


def _to_store(asked: str, folder: str) -> str:
    """A profile as the drawing remembers it: relative where it lies beside or below."""
    if not (folder and os.path.isabs(asked)):
        return asked
    try:
        relative = os.path.relpath(asked, folder)
    except ValueError:  # another drive
        return asked
    return asked if relative.startswith("..") else relative.replace(os.sep, "/")


def _to_json(report: Mapping[str, object]) -> bytes:
    import json  # late: only a run with --report needs it

    return (json.dumps(report, indent=2, ensure_ascii=False, allow_nan=False) + "\n").encode()


def yes_or_no(name: str) -> Callable[[str], bool | None]:
    """Reader of an option that is true | false in a shell or the dialog; empty: not given."""

    def read(text: str) -> bool | None:
        words = {"true": True, "false": False, "": None}
        if text.lower() not in words:
            raise UnknownChoice(say("{name} is true or false, not {text}.", name=name, text=text))
        return words[text.lower()]

    return read


#: How the host's library begins its own words about a path that leads to no file.
NO_FILE = "File not found: "


def _readable(pars: ArgumentParser, args: Sequence[str]) -> list[str]:
    """The arguments with `--at -5,20` as `--at=-5,20`. Raises UnknownChoice for a wrong option."""
    known = {text for action in pars._actions for text in action.option_strings}
    found: list[str] = []
    for text in args:
        name = text.partition("=")[0]
        if name.startswith("--") and name not in known and name != "--":
            raise UnknownChoice(
                say("There is no option {name}. --help lists every option.", name=name)
            )
        if found and found[-1] in known and _is_negative(text):
            found[-1] += f"={text}"
        else:
            found.append(text)
    return found


def _is_negative(text: str) -> bool:
    """Whether it is a value that begins with minus: -5 or -5,20."""
    return text[:1] == "-" and text[1:2] in set("0123456789.,")


def _refuse(message: str) -> NoReturn:
    """Instead of argparse's own usage text and exit code 2."""
    message = message.removeprefix("argument INPUT_FILE: ")
    _, missing, path = message.partition(NO_FILE)
    if missing:
        raise no_drawing(path)
    raise UnknownChoice(say("{fault}. --help lists every option.", fault=begun(message)))


def _complain(sentence: str) -> int:
    if sys.stderr is not None:
        inkex.errormsg(sentence)
    return 1
