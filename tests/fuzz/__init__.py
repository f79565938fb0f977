"""Fuzzers of what comes from outside, and of orders on disks that fail; see ``__main__``."""
