"""All that is seen, heard and pressed."""

VERSION = "0.1.0"
"""The program's version; the package takes its own from here."""
