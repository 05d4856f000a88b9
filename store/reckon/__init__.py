"""What is worked out: pure functions over plain values."""
