"""The symbols file and the tests of it."""
