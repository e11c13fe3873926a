"""Run the command line as ``python -m noonwater``."""

from noonwater.cli.main import main

raise SystemExit(main())
