"""What is done: the use-cases that screens, verbs and papers call, and nothing under them."""
