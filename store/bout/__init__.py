"""The timed work: its events, and the pure fold that turns events into a state."""
