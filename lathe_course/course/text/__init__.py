"""What is said to a reader, as plain values, and how it is set out: ``markup`` for notebook and paper, ``plain`` for terminal and twin."""
