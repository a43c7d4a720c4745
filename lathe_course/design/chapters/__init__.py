"""The lathe chapter by chapter: what is decided, what is known roughly, what follows, what it is held against."""
