"""How a card glows: light on the panel's plane, through its openings, as figures and a picture.

    sources    lights of a card -> points of light: place, intensity, depth, beam, colour
    field      illuminance on the panel's plane (lux), vectorised over points and lights
    panes      what an opening is made of: areas of one transmission each
    figures    per opening: brightest, darkest, mean, hot spot
    unevenness which lit openings have a bright spot
    cures      what would even one: more foam, more lights
    coverage   areas -> share of each pixel that they cover
    display    the display curve and its inverse
    picture    the lit card as an RGBA array; `png` writes it as bytes

Only direct light is counted. Light scattered between back sheet and panel, and light that foam or
parts keep away, are left out: a real card is a little more even, and its far windows darker.
"""
