"""Job files, demo jobs and the verbs: all that command line, web and batch call."""
