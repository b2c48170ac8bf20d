"""Cards from several colours of paper: what is cut out of one front fills another.

Glossary. A *place* is where one piece goes: a loose piece, or a window that is filled. A *round* is
one front of every colour with all pieces that come out of them. A *shift* moves colours on along
their list: with shift 1 a red front gets what follows red. A *plan* names the colour of every
front and of every piece in it.

One round is a Latin rectangle: a row for the fronts and one for every place, a column for every
card; each colour stands once in every row (no piece is used twice), and the colour of the front
never again in its own column (a piece in a front of its own colour cannot be seen). K colours make
K cards, and no more, since every card takes a front. Shifts are enough: see `plan`.
"""
