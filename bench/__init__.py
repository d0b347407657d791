"""How quick the handbook is, measured side by side with other ways to do the same.

``make bench`` runs it; nothing of the program imports it. All variants of a run are measured
in turn on the same machine and browser, because figures of different runs do not compare.
"""
