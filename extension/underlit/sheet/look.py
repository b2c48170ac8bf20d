"""Colours and sizes of the making sheet. Plus is dark, minus light with a dark edge."""

from __future__ import annotations

#: As in `markup.signs` (a test holds them together); contrast 4.9:1, told apart in grey.
PLUS, MINUS = "#003f66", "#e69f00"
ON_PLUS, ON_MINUS = "#ffffff", "#3a2800"

INK = "#1c2230"
GREY = "#6a7180"
PALE = "#b9bfca"
BASE, BASE_EDGE = "#fbf6e6", "#a89a72"
PANEL, PANEL_EDGE = "#dfe7f6", "#4d5c80"
PAPER, PAPER_EDGE = "#ffffff", "#6a6a62"
BODY, BODY_EDGE = "#ffffff", "#3d3a33"
FOOT = "#d9c48a"
LENS = "#ffd24a"
METAL = "#e2e6ea"
FOAM, FOAM_EDGE = "#cfc9e0", "#5d5583"
COVER, COVER_EDGE = "#eadfc4", "#857a58"
VELLUM, VELLUM_EDGE = "#dff0ee", "#4f8580"
#: Marks of faults and cautions, as in `markup.marks`.
FAULT, ON_FAULT = "#7a0a14", "#ffffff"
CAUTION, ON_CAUTION = "#ffd23f", "#2a2100"
ALARM = "#a3200d"
BOX = "#f4f5f8"

#: Sizes of letters (mm) and of the room between things.
TITLE, HEADING, BODY_SIZE, SMALL = 5.4, 3.7, 3.0, 2.6
