"""The command line: one file per command, each loaded when it is called."""
