"""What is kept: one SQLite file. The only room that speaks SQL."""
