"""Timescale: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    # 0.6 h of a session of 3 h
    ("session_share", {"session_hours": "3 h", "session_loss": "0.6 h"}, 80),
    ("session_share", {"session_hours": "0.5 h", "session_loss": "0.6 h"}, 10),
    # 20 h promised by each of two, three quarters kept, a tenth lost to talk, a fifth to setting up
    (
        "build_hours_can",
        {
            "hours_can": "20 h/month",
            "builders": "2",
            "hours_kept": "0.75",
            "talk_loss": "0.1",
            "session_share": "0.8",
            "moving_hours": "0 h",
        },
        21.6,
    ),
    # 72 h of moving in ten years are 0.6 h a month; moves never take more than nine tenths
    (
        "build_hours_can",
        {
            "hours_can": "20 h/month",
            "builders": "2",
            "hours_kept": "0.75",
            "talk_loss": "0.1",
            "session_share": "0.8",
            "moving_hours": "72 h",
        },
        21,
    ),
    (
        "build_hours_can",
        {
            "hours_can": "20 h/month",
            "builders": "2",
            "hours_kept": "0.75",
            "talk_loss": "0.1",
            "session_share": "0.8",
            "moving_hours": "6000 h",
        },
        2.16,
    ),
    (
        "build_hours_should",
        {
            "hours_should": "10 h/month",
            "builders": "1",
            "hours_kept": "0.75",
            "talk_loss": "0.1",
            "session_share": "0.8",
            "moving_hours": "0 h",
        },
        6,
    ),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"months_to_first_chips": "12", "share_before_first_chips": "12"}
