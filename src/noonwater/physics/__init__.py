"""The physics room: one file per phenomenon, scalar functions in SI.

Each function names its source, whether that was read or is from memory, its units and its range.
"""
