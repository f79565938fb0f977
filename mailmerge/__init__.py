"""From a party's guest list to a matched set of ready-to-engrave artwork and client proofs."""

__version__ = "0.1.0"
