"""What the learner sees: chapters, controls, pictures, questions, brief and working folder."""


def __getattr__(name: str):
    # the command needs the working folder without paying for widgets and plots
    if name == "open_chapter":
        from .chapter import open_chapter

        return open_chapter
    if name == "what_vouches":
        from .shown.vouching import what_vouches

        return what_vouches
    raise AttributeError(name)
