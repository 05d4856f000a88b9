"""All that is seen, heard and pressed."""
