"""Why no tape was laid, in a maker's words: findings and the report's necks."""

from __future__ import annotations

from collections.abc import Sequence

from ..language import begun, mm, say
from ..markup.narrow import Foot, Narrow
from ..model.case import Case
from ..model.finding import Finding
from ..model.naming import by_program
from ..records import record
from ..routing import Cure, NoRoom, Reason, Refusal
from ..rules import in_order, no_room
from ..rules.wording import against
from .board import bare_rims
from .report import rounded


@record
class Told:
    """Findings, what the report says of every foot that was cut off, what is drawn of that."""

    findings: tuple[Finding, ...]
    necks: tuple[dict[str, object], ...] = ()
    narrow: tuple[Narrow, ...] = ()


def refused(case: Case, refusal: Refusal) -> Told:
    """One finding per foot, or per thing that is wrong at all."""
    wrong = [_reason(case, one) for one in refusal.reasons]
    if not wrong and bare_rims(case):
        wrong = [_rim(case)]
    necks = tuple(_neck(case, pad) for pad in refusal.pads)
    if wrong:
        short = [one for one in refusal.reasons if one.ends is not None]
        lines = [Narrow(one.ends, _figures(one.have, one.needed), ()) for one in short]
        return Told(in_order(wrong), necks, tuple(lines))
    told = [_foot(case, pad) for pad in refusal.pads]
    findings = in_order(told)
    return Told(findings, necks, narrow_places(case, refusal.pads, told, findings))


def spoilt(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """The only layout found would bring these findings: each is told at its place."""
    return in_order(
        [
            no_room.reason(
                say("I found no way that passes the check: {fault}", fault=f.message),
                f.remedy,
                f.at,
                f.objects,
            )
            for f in findings
        ]
    )


def _foot(case: Case, pad: NoRoom) -> Finding:
    between = _between(case, pad.between)
    cures = _cures(case, pad)
    return no_room.finding(
        case, pad.light, pad.pad, pad.at, between, pad.needed, pad.available, cures
    )


def narrow_places(
    case: Case, pads: Sequence[NoRoom], told: Sequence[Finding], findings: Sequence[Finding]
) -> tuple[Narrow, ...]:
    """Each narrow place once, with all feet behind it; `told` are the findings of the pads, in
    their order, `findings` the same in the order of their numbers."""
    found: dict[object, tuple[NoRoom, list[Foot]]] = {}
    for pad, finding in zip(pads, told, strict=True):
        number = 1 + next(k for k, other in enumerate(findings) if other is finding)
        ends = (pad.at,) if pad.ends is None else pad.ends
        where = tuple((round(x, 1), round(y, 1)) for x, y in ends)
        found.setdefault(where, (pad, []))[1].append(_cut_off(case, pad, number))
    return tuple(
        Narrow(
            _line(pad),
            _figures(pad.available, pad.needed),
            tuple(sorted(feet, key=lambda foot: foot.number)),
        )
        for pad, feet in found.values()
    )


def _line(pad: NoRoom) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """The line across a narrow place, where that is short of room."""
    return pad.ends if pad.available < pad.needed else None


def _cut_off(case: Case, pad: NoRoom, number: int) -> Foot:
    part = next(part for part in case.card.parts if part.id == pad.light)
    middle = part.features[no_room.FEET[pad.pad]].centroid
    return Foot((middle.x, middle.y), part.at, number)


def _figures(have: float, needed: float) -> tuple[str, str]:
    """The two lines beside a narrow place (mm)."""
    needed = no_room.rounded_up(needed)
    return (
        say("needs {needed}", needed=mm(needed)),
        say("has {room} mm", room=against(have, needed)),
    )


def _between(case: Case, names: tuple[str, str] | None) -> tuple[str, str] | None:
    return None if names is None else (_called(case, names[0]), _called(case, names[1]))


def _called(case: Case, name: str) -> str:
    """A thing as it is told: parts and her own strips are known by their ids."""
    part = next((part for part in case.card.parts if part.id == name), None)
    if part is not None:
        return case.inner(part)
    if any(strip.name == name for strip in case.card.strips):
        return say("your own strip") if by_program(name) else say("your strip {name}", name=name)
    return name


def _of(case: Case, light: str) -> str:
    return case.of(next(part for part in case.card.lights if part.id == light))


def _cures(case: Case, pad: NoRoom) -> list[str]:
    return [_cure(case, cure) for cure in pad.cures]


def _cure(case: Case, cure: Cure) -> str:
    light = "" if cure.light is None else _called(case, cure.light)
    if cure.kind == "wider" and cure.between is not None:
        first, second = (_called(case, name) for name in cure.between)
        return no_room.wider((first, second), cure.amount)
    if cure.kind == "turn":
        return no_room.turned(light, cure.amount)
    if cure.kind == "move" and cure.way is not None:
        return no_room.shifted(light, cure.way)
    if cure.kind == "narrower":
        return no_room.narrower(cure.amount)
    return no_room.over_paper(int(cure.amount))


def _neck(case: Case, pad: NoRoom) -> dict[str, object]:
    return {
        "light": pad.light,
        "pad": pad.pad,
        "at": [rounded(pad.at[0]), rounded(pad.at[1])],
        "between": list(_between(case, pad.between) or ()),
        "needed": rounded(pad.needed),
        "available": rounded(pad.available),
        "cures": _cures(case, pad),
        "across": [[rounded(x), rounded(y)] for x, y in pad.ends or ()],
    }


def _rim(case: Case) -> Finding:
    cell = case.card.cells[0]
    return no_room.reason(
        say(
            "The rim of the bare battery is plus, and no paper lies over it where minus tape has "
            "to pass."
        ),
        say("Let step 3 draw the paper ring, or drag a paper ring from the symbols."),
        cell.at,
        (cell.id,),
    )


def _reason(case: Case, reason: Reason) -> Finding:
    message, remedy = _words(case, reason)
    return no_room.reason(message, remedy, reason.at, reason.about)


def _words(case: Case, reason: Reason) -> tuple[str, str]:
    """What is wrong, and what to do."""
    about = [_called(case, name) for name in reason.about]
    first = begun(about[0]) if about else ""
    if reason.kind == "light-off-base":
        return (
            say("{part} does not lie on the back sheet.", part=first),
            say("Move it, or make the sheet larger."),
        )
    if reason.kind == "feet-too-close":
        return (
            say(
                "The feet {of_light} are {distance} mm apart; plus and minus tape need {needed} "
                "there.",
                of_light=_of(case, reason.about[0]),
                distance=against(reason.have, reason.needed),
                needed=mm(reason.needed),
            ),
            say("Take a light with feet farther apart."),
        )
    if reason.kind == "lights-too-close":
        return (
            say(
                "A plus foot and a minus foot of {one} and {other} are {distance} mm apart; they "
                "need {needed}.",
                one=about[0],
                other=about[1],
                distance=against(reason.have, reason.needed),
                needed=mm(reason.needed),
            ),
            say(
                "Move one of them by {by}, or let it turn.",
                by=mm(no_room.rounded_up(reason.needed - reason.have)),
            ),
        )
    if reason.kind == "pins-touch":
        return (
            say(
                "{first} is plus, {second} is minus, and they touch.", first=first, second=about[1]
            ),
            say("Move one of them, or stick paper tape between."),
        )
    return (
        say("There is no back sheet to lay tape on."),
        say("Draw one on the layer Base (step 1)."),
    )
