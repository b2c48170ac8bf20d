"""Odd drawings through every action: nothing may break, hang, or touch what is the maker's."""
