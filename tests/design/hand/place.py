"""Place and people: results worked by hand, and what moves nothing or is only shown."""

#: name, inputs as text, the result in its workshop unit as a pocket calculator says it
HAND = []
#: decisions that move no figure, each with the reason why it is kept all the same
MOVES_NOTHING = {}
#: figures and results that reach no limit, and the chapter that shows them
ONLY_SHOWN = {}
