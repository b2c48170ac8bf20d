"""Small changes that keep a layout legal and make it cheaper: an always valid layout."""

from __future__ import annotations

from .bench import Bench
from .junctions import branch, contract, mitre
from .price import cost_of
from .reseat import reseat
from .resettle import resettle
from .sliding import reach_pads, slide
from .swinging import swing
from .turning import turn_lights


class Polisher(Bench):
    """Local search on one board; `out` is asked between moves."""

    def settle(self, rounds: int, turning: bool = True, seating: bool = True) -> None:
        """All kinds of moves until none helps, or the rounds are over; `seating`: dear ones too."""
        for net in range(len(self.board.nets)):
            reach_pads(self, net)
        for _ in range(rounds):
            before = cost_of(self.board, self.prices)
            for net in range(len(self.board.nets)):
                contract(self, net)
                slide(self, net)
                branch(self, net)
                slide(self, net)
                swing(self, net)
                mitre(self, net)
                if seating:
                    _resettle(self, net)
                contract(self, net)
                if self.out():
                    return
            if turning:
                turn_lights(self)
            if turning and seating:
                _reseat_lights(self)
            if self.out() or cost_of(self.board, self.prices) > before - 0.05:
                return


def _resettle(polisher: Polisher, net: int) -> None:
    """Move bends and junctions to where fewer runs do."""
    tree = polisher.tree(net)
    for node in sorted(tree.at):
        if node in tree.at and node not in polisher.pad_at[net] and node not in tree.fixed:
            resettle(polisher, net, node)


def _reseat_lights(polisher: Polisher) -> None:
    """Turn lights and land their tape anew so that bends beside them go away."""
    for i in range(len(polisher.board.task.lights)):
        if polisher.out():
            return
        reseat(polisher, i)
