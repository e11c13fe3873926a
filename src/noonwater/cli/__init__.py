"""The command line: parse, call a verb, show."""
