"""The page to share: one self-contained HTML file, made from the validated card.

`words` and `asking` hold what the page says, `style` and `script` how it looks and moves; the other
modules make its parts from the model.
"""
