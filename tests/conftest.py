"""For every test: the products of small matrices in one thread, for several wait for one another longer than they work."""
import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
