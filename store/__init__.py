"""All that is known, kept and worked out. Never imports `tui`."""
