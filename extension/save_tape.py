"""Save a Copy: the tape of a card as a DXF for an electronic cutter."""

from __future__ import annotations

import launch

with launch.environment():
    from underlit.workflows.export import tape_copy
    from underlit_host.exporting import SavedCopy


class SaveTape(SavedCopy):
    """The tape as it lies on the card, each sheet on a layer of its own."""

    def work(self, drawing, profile):
        """Judge the card, then outline its tape."""
        return tape_copy(drawing, profile)


if __name__ == "__main__":
    SaveTape().main()
