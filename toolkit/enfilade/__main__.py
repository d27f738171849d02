"""`python -m enfilade` is the command `enfilade`."""

from enfilade.cli import main

raise SystemExit(main())
