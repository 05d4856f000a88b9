"""What leaves: notes, home sheets, letters and data."""
