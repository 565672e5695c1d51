"""How does a name of the owner's become part of a figure's key?"""

import re
from collections.abc import Collection


def free_slug(name: str, taken: Collection[str], instead: str) -> str:
    """Give a name in small letters and underscores; one that is taken gets a number.

    Args:
        name: the owner's words.
        taken: slugs that stand already.
        instead: the slug of a name without a letter.
    """
    slug = re.sub(r"[\W_]+", "_", name.lower()).strip("_") or instead
    if slug not in taken:
        return slug
    return next(f"{slug}_{n}" for n in range(2, len(taken) + 3) if f"{slug}_{n}" not in taken)
