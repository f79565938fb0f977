"""The workshop: what comes before and after the artwork.

Settings and the test piece that finds them, how long a batch takes, the papers for the machine, how
many blanks to buy, and what to charge. Nothing here changes artwork or decides what is released.
"""
