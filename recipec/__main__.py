"""`python -m recipec`."""

from recipec.cli.main import main

main()
