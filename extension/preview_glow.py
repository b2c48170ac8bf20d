"""Show the glow: draw the lit card, as in a dim room, over its panel."""

from __future__ import annotations

import launch

with launch.environment():
    from underlit.workflows.preview import Wish, preview
    from underlit_host.action import Action, yes_or_no
    from underlit_host.glowing import draw_glow, picture_file, place, positive


class PreviewGlow(Action):
    """Compute how the openings glow and draw them."""

    over_glow = True

    def add_options(self, pars):
        """Depth, current, places to measure, a file for the picture."""
        add = pars.add_argument
        add("--png", default="", type=picture_file, help="write the picture to this PNG file too")
        add("--depth", type=positive("--depth", "mm"), help="mm from the lights to the panel")
        add("--current-ma", type=positive("--current-ma", "mA"), help="current of all lights")
        add("--probe", type=place("--probe"), action="append", help="X,Y in mm: light there")
        add("--all-lit", type=yes_or_no("--all-lit"), help="true: as if every light burned")

    def work(self, drawing, profile):
        """Compute the glow."""
        own = self.options
        probes = tuple(own.probe or ())
        return preview(drawing, profile, Wish(own.depth, own.current_ma, probes, bool(own.all_lit)))

    def draw(self, root, drawing, outcome):
        """Replace the Glow layer; nothing where there is no picture."""
        draw_glow(root, outcome)

    def extra_files(self, outcome):
        """The picture as a file of its own."""
        wanted = self.options.png and outcome.png is not None
        return {self.options.png: outcome.png} if wanted else {}


if __name__ == "__main__":
    PreviewGlow().main()
