"""`python -m tui` is `bothfeet`."""

from tui.command import main

raise SystemExit(main())
