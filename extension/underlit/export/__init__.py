"""Outlines for an electronic cutter: from a card's tape and sheets to files as bytes.

Glossary
    outline     one closed contour with the holes inside it, in the order of cutting
    piece       what falls out of the sheet when an outline is cut
    cut         all outlines of one sheet of one material: one file of each format
    frame       the rectangle that every sheet of an arrangement in place shares
    overcut     how far the knife runs on past the place where it began

All in mm, y downwards. Nothing is written here: the writers give back bytes.
"""
