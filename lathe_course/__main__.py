"""``python -m lathe_course`` does what ``lathe-course`` does."""
import sys

from lathe_course.command import main

if __name__ == "__main__":
    sys.exit(main())
