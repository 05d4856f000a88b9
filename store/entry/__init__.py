"""The one-line grammar: text in, readings or a clear error out."""
