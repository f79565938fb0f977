"""The desk: the whole job in the browser, on the computer that it runs on.

Pages read forms, call one deed each, and show its result; all rules are below. What holds for every
page (who may ask, how forms are read, what goes wrong) stands in one place each: ``guard``,
``asking``, ``app``.
"""
