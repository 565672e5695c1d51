"""What is looked at and mended in the years after the building stands? Common practice, no source."""

from typing import Final

KEEPING: Final = (
    ("First heating", "Small fires, the room no warmer than 15 °C in the first week; then a little more each week."),
    ("First winter", "Air the damp out every day. Write down humidity, the ten marked log ends and the crack card."),
    ("First spring", "After one whole heating season: seal the rings, inside first. Not before, they open again."),
    ("First summer", "Look behind gutters and under sills after heavy rain. Earth and plants off the plinth."),
    ("Second autumn", "Go over the sealed rings; touch up. Compare the crack card with last year's."),
    ("Third year", "Point again where a joint has opened wider than a thumbnail. Head gap still free?"),
)
"""When, and what."""

YEARLY: Final = (
    "The same ten photographs from the same ten places.",
    "Screwdriver in the bottom row, every second log end: soft wood is cut out and replaced.",
    "The crack-width card at the marked cracks; last year's number beside this year's.",
    "Rain side first: joints, checks, sills, drips, the head gap, ivy and splashed earth.",
    "Gutter, downpipe and drain run free; the drip line digs nothing away.",
    "Chimney swept, flue joints, hearth, and the carbon monoxide alarm's battery.",
    "Borate bloomed out or washed off: brush, and renew as the label says.",
)
EVERY: Final = (
    ("2 to 3 years", "Oil or paint on frames, sills and doors; seals of windows."),
    ("5 years", "End grain on the rain side: treat again where it takes up water at once."),
    ("10 years", "Whole walk with somebody who builds: posts' feet, ring beam, rafters, cover and its screws."),
)
"""How often, and what."""
