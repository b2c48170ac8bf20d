"""Builder of test cards: plain millimetre data, written as SVG in many styles."""
