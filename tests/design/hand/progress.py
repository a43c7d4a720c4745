"""The build: results worked by hand, and what moves nothing or is only shown.  What needs a log is in tests/design/test_progress.py."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = [
    ("share_done", {"hours_earned": "120 h", "hours_budget": "400 h"}, 30),
    ("earned_over_worked", {"hours_earned": "72 h", "hours_worked": "90 h"}, 0.8),
    ("earned_over_worked", {"hours_earned": "0 h", "hours_worked": "0 h"}, 0),
    ("pace", {"hours_earned": "40 h", "hours_due": "50 h"}, 0.8),
    ("pace", {"hours_earned": "40 h", "hours_due": "0 h"}, 1),
    # 72 earned and 48 of experience over 100 worked and 60 of experience
    ("hours_rate", {"hours_earned": "72 h", "hours_worked": "100 h", "first_rate_here": "0.8", "experience_hours": "60 h"}, 0.75),
    # a list of 340 likely hours that is planned with 408
    ("first_rate_here", {"first_build_rate": "0.8", "hours_budget": "408 h", "likely_hours": "340 h"}, 0.96),
    ("hours_to_come", {"hours_budget": "400 h", "hours_earned": "100 h", "hours_rate": "0.75"}, 400),
    # 300 put by and 14 months of 100, less 1200
    ("purse", {"savings": "300 EUR", "money_can": "100 EUR/month", "log_months": "14 months", "money_spent": "1200 EUR"}, 500),
    ("purse", {"savings": "300 EUR", "money_can": "100 EUR/month", "log_months": "1 months", "money_spent": "1200 EUR"}, 0),
]
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {"earned_over_worked": "16", "hours_due": "16", "pace": "16", "hours_to_come": "16"}
