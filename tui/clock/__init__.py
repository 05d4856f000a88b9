"""Live time, cues and sound."""
