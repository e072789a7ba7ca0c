"""Times of what the owner waits for, against a floor. Run by `python -m tests.bench`."""
