"""What the trade knows: tables with their sources, and the types every other room shares."""
