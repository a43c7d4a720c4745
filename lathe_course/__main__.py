"""``python -m lathe_course`` does what ``lathe-course`` does."""

import sys

if __name__ == "__main__":
    if not sys.flags.safe_path:
        del sys.path[0]  # the folder one stands in: what lies there is not the course's to import
    from lathe_course.command import main

    sys.exit(main())
